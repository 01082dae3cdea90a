//! What stands inside the axes: zones, bands, curves, points and their labels.

use plotters::prelude::DrawingBackend;

use super::DrawError;
use super::labels::{Place, Placer, spread};
use super::layout::Layout;
use super::path::{Point, Rect, clip, dashes, hatch, length, step, thin};
use super::pen::{Anchor, Pen};
use crate::chart::{Band, Chart, Marker, MarkerKind, Role, Series};
use crate::palette::{Hatch, Palette, Rgb, curve, material};
use crate::style::{Style, Theme};
use crate::text_width::text_width;

pub(super) fn draw<DB: DrawingBackend>(
    pen: &Pen<'_, DB>,
    chart: &Chart,
    ghost: Option<&Chart>,
    layout: &Layout,
    style: &Style,
) -> Result<(), DrawError> {
    let palette = Palette::of(style.theme);
    let zones: Vec<(Rect, &str, &str)> = chart
        .zones
        .iter()
        .filter_map(|z| {
            let (left, right) = (layout.across(z.from)?, layout.across(z.to)?);
            let rect = Rect {
                left: left.max(layout.plot.left),
                right: right.min(layout.plot.right),
                ..layout.plot
            };
            (rect.left < rect.right).then_some((
                rect,
                z.material.as_str(),
                z.meaning.as_str(),
            ))
        })
        .collect();
    for (rect, word, _) in &zones {
        zone(pen, rect, word, &palette)?;
    }
    for one in &chart.bands {
        band(pen, one, layout, style.theme)?;
    }

    let mut placer = Placer::new(layout.plot.grown(-3.0));
    let mut lines: Vec<Vec<Vec<Point>>> = Vec::new();
    let pinned = ghost.and_then(|g| g.series.first());
    for series in chart.series.iter().chain(pinned) {
        let pieces = visible(series, layout);
        for piece in &pieces {
            placer.avoid(piece);
        }
        lines.push(pieces);
    }
    let drawn: Vec<&Series> = chart.series.iter().chain(pinned).collect();
    for (i, series) in drawn.into_iter().enumerate().rev() {
        let role = if i < chart.series.len() { series.role } else { Role::Ghost };
        let look = curve(role, style.theme);
        for piece in &lines[i] {
            for dash in dashes(piece, look.dashes) {
                pen.line(&dash, look.width, look.stroke, 1.0)?;
            }
        }
    }
    let marked: Vec<Point> =
        chart.markers.iter().filter_map(|m| layout.point(m.x, m.y)).collect();
    for point in &chart.published {
        let Some(at) = layout.point(point.x, point.y) else { continue };
        if layout.plot.grown(1.0).contains(at) {
            let limit = |factor: f64| {
                layout
                    .down(point.y * factor)
                    .map(|y| y.clamp(layout.plot.top, layout.plot.bottom))
            };
            let bars = limit(1.0 + point.tolerance).zip(limit(1.0 - point.tolerance));
            // A point under a marker is drawn around it.
            let covered = marked.iter().any(|&m| step(m, at) < 8.0);
            let radius = if covered { 10.0 } else { 5.0 };
            check_point(pen, at, bars, radius, &palette)?;
            let spot = Rect { left: at[0], right: at[0], top: at[1], bottom: at[1] };
            placer.take(spot.grown(radius + 1.0));
        }
    }
    markers(pen, &chart.markers, layout, &mut placer, style.theme)?;
    margin_labels(pen, chart, layout, style.theme)?;
    inner_labels(pen, chart, pinned, &lines, layout, &mut placer, style.theme)?;
    for (rect, word, meaning) in &zones {
        if !word.is_empty() {
            let middle = [(rect.left + rect.right) / 2.0, rect.top + 4.0];
            let size = [text_width(meaning, layout.small), layout.small * 1.2];
            let place = placer.beside(middle, size);
            put_label(pen, meaning, &place, middle, layout.small, palette.ink, &palette)?;
        }
    }
    Ok(())
}

/// The pieces of a curve inside the plot, thinned so that rounding does not show.
fn visible(series: &Series, layout: &Layout) -> Vec<Vec<Point>> {
    let line: Vec<Option<Point>> =
        series.x.iter().zip(&series.y).map(|(&x, &y)| layout.point(x, y)).collect();
    clip(&line, &layout.plot).iter().map(|piece| thin(piece, 0.12)).collect()
}

fn band<DB: DrawingBackend>(
    pen: &Pen<'_, DB>,
    band: &Band,
    layout: &Layout,
    theme: Theme,
) -> Result<(), DrawError> {
    let look = curve(Role::Main, theme);
    let edge = |ys: &[f64]| -> Vec<Point> {
        band.x
            .iter()
            .zip(ys)
            .filter_map(|(&x, &y)| {
                let x = layout.across(x)?;
                let y = layout.down(y).unwrap_or(layout.plot.bottom);
                (layout.plot.left <= x && x <= layout.plot.right)
                    .then(|| [x, y.clamp(layout.plot.top, layout.plot.bottom)])
            })
            .collect()
    };
    let (low, high) = (thin(&edge(&band.low), 0.12), thin(&edge(&band.high), 0.12));
    let outline: Vec<Point> = low.iter().chain(high.iter().rev()).copied().collect();
    pen.fill(&outline, look.stroke, 0.2)?;
    pen.line(&low, 1.0, look.stroke, 0.7)?;
    pen.line(&high, 1.0, look.stroke, 0.7)
}

/// Hatches a range: a layer in its material, or soft strokes outside a model.
pub(super) fn zone<DB: DrawingBackend>(
    pen: &Pen<'_, DB>,
    rect: &Rect,
    word: &str,
    palette: &Palette,
) -> Result<(), DrawError> {
    if word.is_empty() {
        for stroke in hatch(rect, Hatch::Wide45) {
            pen.line(&stroke, 1.0, palette.rule, 0.7)?;
        }
        return Ok(());
    }
    let look = material(word);
    pen.fill_rect(rect, look.fill, 0.45)?;
    for stroke in hatch(rect, look.hatch) {
        match stroke.as_slice() {
            [dot] => pen.disc(*dot, 1.0, look.outline)?,
            stroke => pen.line(stroke, 1.0, look.outline, 0.45)?,
        }
    }
    pen.line(&[[rect.right, rect.top], [rect.right, rect.bottom]], 1.5, look.outline, 1.0)
}

/// A hollow diamond with its error bar.
pub(super) fn check_point<DB: DrawingBackend>(
    pen: &Pen<'_, DB>,
    [x, y]: Point,
    bars: Option<(f64, f64)>,
    r: f64,
    palette: &Palette,
) -> Result<(), DrawError> {
    if let Some((high, low)) = bars {
        pen.line(&[[x, high], [x, low]], 1.5, palette.ink, 1.0)?;
        for end in [high, low] {
            pen.line(&[[x - 4.0, end], [x + 4.0, end]], 1.5, palette.ink, 1.0)?;
        }
    }
    let diamond = [[x, y - r], [x + r, y], [x, y + r], [x - r, y], [x, y - r]];
    pen.fill(&diamond, palette.sheet, 1.0)?;
    pen.line(&diamond, 1.5, palette.ink, 1.0)
}

fn markers<DB: DrawingBackend>(
    pen: &Pen<'_, DB>,
    markers: &[Marker],
    layout: &Layout,
    placer: &mut Placer,
    theme: Theme,
) -> Result<(), DrawError> {
    let palette = Palette::of(theme);
    let seen: Vec<(&Marker, Point)> = markers
        .iter()
        .filter_map(|m| Some((m, layout.point(m.x, m.y)?)))
        .filter(|(_, at)| layout.plot.grown(1.0).contains(*at))
        .collect();
    for (_, at) in &seen {
        placer.take(
            Rect { left: at[0], right: at[0], top: at[1], bottom: at[1] }.grown(6.0),
        );
    }
    for (marker, at) in seen {
        let lines: Vec<&str> = marker.label.split('\n').collect();
        let width = lines.iter().map(|l| text_width(l, layout.text)).fold(0.0, f64::max);
        let tall: f64 = lines.iter().map(|_| 1.25 * layout.text).sum();
        if !marker.label.is_empty() {
            let place = placer.beside(at, [width, tall]);
            put_label(
                pen,
                &marker.label,
                &place,
                at,
                layout.text,
                palette.ink,
                &palette,
            )?;
        }
        sign(pen, marker.kind, at, &palette)?;
    }
    Ok(())
}

/// The sign of a marker; shapes differ, not only colors.
fn sign<DB: DrawingBackend>(
    pen: &Pen<'_, DB>,
    kind: MarkerKind,
    [x, y]: Point,
    palette: &Palette,
) -> Result<(), DrawError> {
    match kind {
        MarkerKind::Present => {
            pen.disc([x, y], 6.5, palette.sheet)?;
            pen.disc([x, y], 5.0, palette.ink)
        }
        MarkerKind::Junction => {
            pen.disc([x, y], 5.5, palette.ink)?;
            pen.disc([x, y], 3.5, palette.sheet)
        }
        MarkerKind::Peak => {
            let r = 6.0;
            let up = [[x, y - r], [x + r, y + 0.7 * r], [x - r, y + 0.7 * r]];
            pen.fill(&up, palette.ink, 1.0)
        }
        MarkerKind::Event => {
            let r = 4.5;
            let square = Rect { left: x - r, right: x + r, top: y - r, bottom: y + r };
            pen.fill_rect(&square.grown(1.5), palette.sheet, 1.0)?;
            pen.fill_rect(&square, palette.ink, 1.0)
        }
    }
}

fn margin_labels<DB: DrawingBackend>(
    pen: &Pen<'_, DB>,
    chart: &Chart,
    layout: &Layout,
    theme: Theme,
) -> Result<(), DrawError> {
    let size = layout.text;
    let tall = 1.25 * size;
    let wanted: Vec<f64> = layout.margin_labels.iter().map(|l| l.end[1]).collect();
    let heights: Vec<f64> = layout
        .margin_labels
        .iter()
        .map(|l| super::layout::lines_high(l.lines.len(), tall / 1.4) + 3.0)
        .collect();
    let centers =
        spread(&wanted, &heights, layout.plot.top - 0.5 * tall, layout.plot.bottom);
    for ((label, center), height) in layout.margin_labels.iter().zip(centers).zip(heights)
    {
        let role = chart.series.get(label.series).map_or(Role::Ghost, |s| s.role);
        let look = curve(role, theme);
        let left = layout.plot.right + 12.0;
        if 3.0 < (center - label.end[1]).abs() {
            let leader = [[label.end[0] + 1.0, label.end[1]], [left - 2.0, center]];
            pen.line(&leader, 1.0, look.stroke, 1.0)?;
        }
        let mut y = center - 0.5 * (height - 3.0) + 0.5 * tall;
        for line in &label.lines {
            pen.text(
                line,
                [left, y],
                size,
                look.text,
                Anchor::Start,
                role == Role::Main,
            )?;
            y += tall;
        }
    }
    Ok(())
}

fn inner_labels<DB: DrawingBackend>(
    pen: &Pen<'_, DB>,
    chart: &Chart,
    pinned: Option<&Series>,
    lines: &[Vec<Vec<Point>>],
    layout: &Layout,
    placer: &mut Placer,
    theme: Theme,
) -> Result<(), DrawError> {
    let palette = Palette::of(theme);
    for (i, series) in chart.series.iter().chain(pinned).enumerate() {
        let is_ghost = chart.series.len() <= i;
        let label = if is_ghost { "pinned" } else { series.label.as_str() };
        let in_margin = layout.margin_labels.iter().any(|l| l.series == i);
        if label.is_empty() || in_margin || series.role == Role::Past {
            continue;
        }
        let longest = lines
            .get(i)
            .and_then(|p| p.iter().max_by(|a, b| length(a).total_cmp(&length(b))));
        let Some(line) = longest else { continue };
        let size = [text_width(label, layout.text), 1.2 * layout.text];
        let place = placer.along(line, size);
        let role = if is_ghost { Role::Ghost } else { series.role };
        let look = curve(role, theme);
        put_label(pen, label, &place, [0.0, 0.0], layout.text, look.text, &palette)?;
    }
    Ok(())
}

/// Writes a label on a patch of the sheet, with a leader line if it stands far off.
fn put_label<DB: DrawingBackend>(
    pen: &Pen<'_, DB>,
    label: &str,
    place: &Place,
    from: Point,
    size: f64,
    color: Rgb,
    palette: &Palette,
) -> Result<(), DrawError> {
    let rect = place.rect;
    if place.far {
        let nearest =
            [from[0].clamp(rect.left, rect.right), from[1].clamp(rect.top, rect.bottom)];
        pen.line(&[from, nearest], 1.0, palette.soft, 1.0)?;
    }
    pen.fill_rect(&rect.grown(1.0), palette.sheet, 0.8)?;
    let lines: Vec<&str> = label.split('\n').collect();
    let tall = rect.height() / lines.iter().map(|_| 1.0).sum::<f64>();
    let mut y = rect.top + 0.5 * tall;
    for line in lines {
        pen.text(line, [rect.left, y], size, color, Anchor::Start, false)?;
        y += tall;
    }
    Ok(())
}

//! Grid, frame, ticks, titles and notes.

use plotters::prelude::DrawingBackend;

use super::DrawError;
use super::layout::{Layout, Sample, TICK, lines_high};
use super::path::Rect;
use super::pen::{Anchor, Pen};
use crate::chart::{Chart, Role};
use crate::palette::{Palette, curve};
use crate::style::Style;

pub(super) fn draw_grid<DB: DrawingBackend>(
    pen: &Pen<'_, DB>,
    layout: &Layout,
    palette: &Palette,
) -> Result<(), DrawError> {
    let plot = &layout.plot;
    for tick in layout.x_ticks.iter().filter(|t| !t.label.is_empty()) {
        if let Some(x) = layout.across(tick.value) {
            pen.line(&[[x, plot.top], [x, plot.bottom]], 1.0, palette.hairline, 1.0)?;
        }
    }
    for tick in layout.y_ticks.iter().filter(|t| !t.label.is_empty()) {
        if let Some(y) = layout.down(tick.value) {
            pen.line(&[[plot.left, y], [plot.right, y]], 1.0, palette.hairline, 1.0)?;
        }
    }
    Ok(())
}

pub(super) fn draw_frame<DB: DrawingBackend>(
    pen: &Pen<'_, DB>,
    chart: &Chart,
    layout: &Layout,
    style: &Style,
) -> Result<(), DrawError> {
    let palette = Palette::of(style.theme);
    let (plot, text) = (&layout.plot, layout.text);
    let corner =
        [[plot.left, plot.top], [plot.left, plot.bottom], [plot.right, plot.bottom]];
    pen.line(&corner, 1.5, palette.ink, 1.0)?;
    for tick in &layout.x_ticks {
        let Some(x) = layout.across(tick.value) else { continue };
        let reach = if tick.label.is_empty() { 0.5 * TICK } else { TICK };
        pen.line(&[[x, plot.bottom], [x, plot.bottom + reach]], 1.0, palette.ink, 1.0)?;
        if !tick.label.is_empty() {
            let at = [x, plot.bottom + TICK + 4.0 + 0.5 * text];
            pen.text(&tick.label, at, text, palette.ink, Anchor::Middle, false)?;
        }
    }
    for tick in &layout.y_ticks {
        let Some(y) = layout.down(tick.value) else { continue };
        let reach = if tick.label.is_empty() { 0.5 * TICK } else { TICK };
        pen.line(&[[plot.left - reach, y], [plot.left, y]], 1.0, palette.ink, 1.0)?;
        if !tick.label.is_empty() {
            let at = [plot.left - TICK - 4.0, y];
            pen.text(&tick.label, at, text, palette.ink, Anchor::End, false)?;
        }
    }
    let mut head = plot.top - 10.0 - 0.5 * text;
    pen.text(&layout.y.title(), [8.0, head], text, palette.soft, Anchor::Start, true)?;
    if style.title {
        head -= 8.0 + 1.2 * text;
        pen.text(
            &chart.title,
            [8.0, head],
            1.15 * text,
            palette.ink,
            Anchor::Start,
            true,
        )?;
    }
    let foot = plot.bottom + TICK + 4.0 + text + 4.0 + 0.5 * text;
    let at = [plot.right, foot];
    pen.text(&layout.x.title(), at, text, palette.soft, Anchor::End, true)?;
    draw_notes(pen, layout, style)
}

fn draw_notes<DB: DrawingBackend>(
    pen: &Pen<'_, DB>,
    layout: &Layout,
    style: &Style,
) -> Result<(), DrawError> {
    let palette = Palette::of(style.theme);
    let main = curve(Role::Main, style.theme);
    let size = layout.small;
    let count: usize = layout.notes.iter().map(|n| n.lines.len()).sum();
    let mut y = style.height - 8.0 - lines_high(count, size) + 0.8 * size;
    for note in &layout.notes {
        let sample = Rect {
            left: 8.0,
            right: 28.0,
            top: y - 0.45 * size,
            bottom: y + 0.45 * size,
        };
        match note.sample {
            Sample::Band => {
                pen.fill_rect(&sample, main.stroke, 0.2)?;
                for edge in [sample.top, sample.bottom] {
                    pen.line(
                        &[[sample.left, edge], [sample.right, edge]],
                        1.0,
                        main.stroke,
                        0.7,
                    )?;
                }
            }
            Sample::CheckPoint => {
                super::content::check_point(
                    pen,
                    [18.0, y],
                    Some((y - 0.55 * size, y + 0.55 * size)),
                    4.0,
                    &palette,
                )?;
            }
            Sample::Zone => super::content::zone(pen, &sample, "", &palette)?,
        }
        for line in &note.lines {
            pen.text(line, [36.0, y], size, palette.soft, Anchor::Start, false)?;
            y += 1.4 * size;
        }
    }
    Ok(())
}

//! Where the parts of a chart stand.

use serde::Serialize;

use super::DrawError;
use super::path::{Point, Rect};
use crate::axis::Tick;
use crate::chart::{Axis, Chart, Role, Series};
use crate::style::Style;
use crate::text_width::{text_width, wrap};

/// Where the axes lie in the drawing, so that a page can put a cursor on it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Frame {
    /// Left edge of the plot in CSS pixels.
    pub left: f64,
    /// Top edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Bottom edge.
    pub bottom: f64,
    /// The horizontal axis as drawn (it may be wider than the chart's, for the pinned curve).
    pub x: Axis,
    /// The vertical axis as drawn.
    pub y: Axis,
}

/// A note under the chart with its sample.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Note {
    pub(crate) sample: Sample,
    pub(crate) lines: Vec<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sample {
    Band,
    CheckPoint,
    Zone,
}

/// A curve label in the right margin.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct MarginLabel {
    /// Index of the series; the one after the last is the ghost.
    pub(crate) series: usize,
    pub(crate) end: Point,
    pub(crate) lines: Vec<String>,
}

pub(crate) struct Layout {
    pub(crate) plot: Rect,
    pub(crate) x: Axis,
    pub(crate) y: Axis,
    pub(crate) x_ticks: Vec<Tick>,
    pub(crate) y_ticks: Vec<Tick>,
    pub(crate) text: f64,
    pub(crate) small: f64,
    pub(crate) margin_labels: Vec<MarginLabel>,
    pub(crate) notes: Vec<Note>,
}

const PAD: f64 = 8.0;
pub(crate) const TICK: f64 = 6.0;

impl Layout {
    pub(crate) fn of(
        chart: &Chart,
        ghost: Option<&Chart>,
        style: &Style,
    ) -> Result<Self, DrawError> {
        let (x, y) = match ghost {
            Some(ghost) => (chart.x.joined(&ghost.x), chart.y.joined(&ghost.y)),
            None => (chart.x.clone(), chart.y.clone()),
        };
        if !x.is_sound() || !y.is_sound() {
            return Err(DrawError(format!("the axes of {} have no length", chart.id)));
        }
        let text = style.text_size;
        let small = (0.9 * text).max(12.0);
        let wide = 560.0 <= style.width;

        let note_width = style.width - 2.0 * PAD - 28.0;
        let notes = notes(chart, small, note_width);
        let note_lines: usize = notes.iter().map(|n| n.lines.len()).sum();
        let title = if style.title { 1.2 * text + 8.0 } else { 0.0 };
        let top = PAD + title + text + 10.0;
        let bottom = style.height
            - (TICK + 4.0 + text + 4.0 + text + PAD + lines_high(note_lines, small));
        let bottom = bottom.max(top + 40.0);

        let y_ticks = y.ticks((bottom - top) / (2.6 * text));
        let widest = |ticks: &[Tick]| {
            ticks.iter().map(|t| text_width(&t.label, text)).fold(0.0, f64::max)
        };
        let left = PAD + widest(&y_ticks) + TICK + 4.0;

        let mut ends = if wide { margin_ends(chart, ghost, &x, &y) } else { Vec::new() };
        for label in &mut ends {
            label.lines =
                wrap(&label.lines.concat(), text, (0.22 * style.width).min(170.0));
        }
        let label_width = ends
            .iter()
            .flat_map(|l| l.lines.iter())
            .map(|line| text_width(line, text))
            .fold(0.0, f64::max);
        let right_room = if ends.is_empty() { 0.0 } else { label_width + 14.0 };
        // The last tick label is centered on the corner of the plot.
        let right = style.width - PAD - right_room.max(1.6 * text);
        let right = right.max(left + 60.0);

        let x_widest = widest(&x.ticks(6.0)).max(2.0 * text);
        let x_ticks = x.ticks((right - left) / (x_widest + 1.8 * text));
        let plot = Rect { left, top, right, bottom };
        let mut layout = Self {
            plot,
            x,
            y,
            x_ticks,
            y_ticks,
            text,
            small,
            margin_labels: Vec::new(),
            notes,
        };
        for label in &mut ends {
            label.end[1] = layout.down(label.end[1]).unwrap_or(bottom).clamp(top, bottom);
            label.end[0] = right;
        }
        layout.margin_labels = ends;
        Ok(layout)
    }

    pub(crate) fn frame(&self) -> Frame {
        Frame {
            left: self.plot.left,
            top: self.plot.top,
            right: self.plot.right,
            bottom: self.plot.bottom,
            x: self.x.clone(),
            y: self.y.clone(),
        }
    }

    /// Pixels of an abscissa.
    pub(crate) fn across(&self, value: f64) -> Option<f64> {
        let place = self.x.place(value)?;
        Some(self.plot.left + place.clamp(-50.0, 50.0) * self.plot.width())
    }

    /// Pixels of an ordinate.
    pub(crate) fn down(&self, value: f64) -> Option<f64> {
        let place = self.y.place(value)?;
        Some(self.plot.bottom - place.clamp(-50.0, 50.0) * self.plot.height())
    }

    pub(crate) fn point(&self, x: f64, y: f64) -> Option<Point> {
        Some([self.across(x)?, self.down(y)?])
    }
}

pub(crate) fn lines_high(count: usize, size: f64) -> f64 {
    let lines = u16::try_from(count).unwrap_or(0);
    f64::from(lines) * size * 1.4
}

fn notes(chart: &Chart, size: f64, width: f64) -> Vec<Note> {
    let mut notes = Vec::new();
    let mut add = |sample, text: &str| {
        if !text.is_empty() {
            notes.push(Note { sample, lines: wrap(text, size, width) });
        }
    };
    for band in &chart.bands {
        add(Sample::Band, &band.meaning);
    }
    if let Some(point) = chart.published.first() {
        let more = chart.published.iter().any(|p| p.source != point.source);
        let from = if more { "several sources" } else { point.source.as_str() };
        let percent = crate::numbers::digits(100.0 * point.tolerance, 2);
        let same =
            chart.published.iter().all(|p| (p.tolerance - point.tolerance).abs() < 1e-9);
        let bars = if same {
            format!("bars: ±{percent} %")
        } else {
            "bars: stated tolerance".to_owned()
        };
        add(Sample::CheckPoint, &format!("Published: {from}; {bars}"));
    }
    for zone in chart.zones.iter().filter(|z| z.material.is_empty()) {
        add(Sample::Zone, &zone.meaning);
    }
    notes
}

/// The curves that run out of the plot on the right: their labels stand in the margin.
fn margin_ends(
    chart: &Chart,
    ghost: Option<&Chart>,
    x: &Axis,
    y: &Axis,
) -> Vec<MarginLabel> {
    let pinned = ghost.and_then(|g| g.series.first());
    let ends = chart.series.iter().chain(pinned).enumerate();
    ends.filter_map(|(series, curve)| {
        let (last_x, last_y) = end_of(curve)?;
        let name = if series < chart.series.len() {
            curve.label.clone()
        } else {
            "pinned".to_owned()
        };
        // On a log axis a curve may leave through the floor before its last point.
        let inside = y.place(last_y).is_some_and(|place| (0.0..=1.0).contains(&place));
        let named = !name.is_empty() && curve.role != Role::Past;
        (inside && 0.985 <= x.place(last_x)? && named).then(|| MarginLabel {
            series,
            end: [last_x, last_y],
            lines: vec![name],
        })
    })
    .collect()
}

fn end_of(curve: &Series) -> Option<(f64, f64)> {
    curve.x.iter().copied().zip(curve.y.iter().copied()).next_back()
}

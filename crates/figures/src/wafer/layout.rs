//! The layout from above: an outline per figure in the manner of its level, the section line,
//! names of places.

use barewafer_process::flow::{Layout, Line, Mask, Polygon};
use barewafer_process::wafer::EdgeKind;

use super::outline::thinned;
use crate::axis::nice_below;
use crate::pictures::sketch::{Sketch, length_words};
use crate::scene::Scene;
use crate::text_width::text_width;

/// Room around the drawing in px.
const MARGIN: f64 = 14.0;

/// Room below it for the scale bar and the key in px.
const BELOW: f64 = 30.0;

/// Names keep this far from the section line, in px.
const CLEAR: f64 = 14.0;

/// Size of a line of the key in px.
const KEY: f64 = 13.0;

/// What of a layout is shown.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LayoutView {
    /// Width of the picture in px.
    pub width: f64,
    /// Levels that have been printed on the wafer so far, with the overlay error of each print
    /// in um. Others are drawn faintly, as the drawing has them.
    pub printed: Vec<(String, [f64; 2])>,
    /// Levels that will be printed, with the overlay error that they will have, in um.
    pub planned: Vec<(String, [f64; 2])>,
    /// Levels that are not drawn at all.
    pub hidden: Vec<String>,
    /// A place on the section line to be marked, in um from its beginning.
    pub plumb_um: Option<f64>,
}

/// From um to px, y up.
#[derive(Clone, Copy)]
struct Above {
    extent_um: [f64; 4],
    px_per_um: f64,
}

impl Above {
    fn at(self, [x, y]: [f64; 2]) -> [f64; 2] {
        let [x0, _, _, y1] = self.extent_um;
        [MARGIN + (x - x0) * self.px_per_um, MARGIN + (y1 - y) * self.px_per_um]
            .map(|v| (100.0 * v).round() / 100.0)
    }
}

/// Where in a picture of some width the extent of a layout lies: left, top, right, bottom.
#[must_use]
pub fn layout_frame(layout: &Layout, width: f64) -> [f64; 4] {
    let [x0, y0, x1, y1] = layout.extent_um;
    let px_per_um = (width - 2.0 * MARGIN) / (x1 - x0).max(1e-6);
    [MARGIN, MARGIN, width - MARGIN, MARGIN + (y1 - y0) * px_per_um]
}

/// The layout from above.
#[must_use]
pub fn layout(layout: &Layout, line: &Line, view: &LayoutView) -> Scene {
    let [x0, y0, x1, y1] = layout.extent_um;
    let px_per_um = (view.width - 2.0 * MARGIN) / (x1 - x0).max(1e-6);
    let above = Above { extent_um: layout.extent_um, px_per_um };
    let bottom = MARGIN + (y1 - y0) * px_per_um;
    let mut sketch = Sketch::sized(view.width, bottom + BELOW);
    sketch.line(
        &[[x0, y0], [x1, y0], [x1, y1], [x0, y1], [x0, y0]].map(|p| above.at(p)),
        "grid",
    );
    let shown = |mask: &&Mask| !view.hidden.contains(&mask.level);
    for mask in layout.masks.iter().filter(shown) {
        let print = view.printed.iter().find(|(level, _)| *level == mask.level);
        let style = if print.is_some() { level_style(mask) } else { "hairline" };
        let planned = || view.planned.iter().find(|(level, _)| *level == mask.level);
        let shift_um =
            print.or_else(planned).map_or([0.0; 2], |(_, overlay_um)| *overlay_um);
        let figures =
            mask.figures.iter().filter_map(|figure| figure.biased(mask.bias_um));
        figure_lines(&mut sketch, mask, figures, above, shift_um, style);
    }
    section_line(&mut sketch, above, line, view.plumb_um);
    for label in &layout.labels {
        let [x, y] = above.at(label.at_um);
        let half = 0.5 * text_width(&label.name, KEY);
        let x = x.clamp(MARGIN + half, view.width - MARGIN - half);
        // Beside the section line, not on it.
        let y = if distance(above, line, [x, y]) < CLEAR { y - CLEAR } else { y };
        sketch.text([x, y], &label.name, "middle", "strong");
    }
    key(&mut sketch, layout, view, bottom + 18.0, px_per_um);
    let description = describe(layout, line, view);
    sketch.finish(description)
}

/// The outlines of a level's figures.
fn figure_lines(
    sketch: &mut Sketch,
    mask: &Mask,
    figures: impl Iterator<Item = Polygon>,
    above: Above,
    [dx, dy]: [f64; 2],
    style: &str,
) {
    let mut lines = Vec::new();
    let mut second = Vec::new();
    let mut corners = Vec::new();
    for figure in figures {
        let mut points: Vec<[f64; 2]> = figure
            .corners_um()
            .iter()
            .map(|&[x, y]| above.at([x + dx, y + dy]))
            .collect();
        points.extend(points.first().copied());
        let points = thinned(&points, 0.05);
        match kind(mask) {
            Kind::Metal => {
                let inner = figure.biased(-3.0 / above.px_per_um);
                second.extend(inner.map(|inner| {
                    let mut ring: Vec<[f64; 2]> = inner
                        .corners_um()
                        .iter()
                        .map(|&[x, y]| above.at([x + dx, y + dy]))
                        .collect();
                    ring.extend(ring.first().copied());
                    ring
                }));
            }
            Kind::Contact => {
                let [x, _, _, y] = figure.bounds_um();
                let corner = above.at([x + dx, y + dy]);
                let size = 5.0;
                corners.push(vec![
                    corner,
                    [corner[0] + size, corner[1]],
                    [corner[0], corner[1] + size],
                    corner,
                ]);
            }
            Kind::Other => {}
        }
        lines.push(points);
    }
    sketch.strokes(lines, style);
    if style != "hairline" {
        sketch.strokes(second, style);
        sketch.strokes(corners, style);
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Metal,
    Contact,
    Other,
}

fn kind(mask: &Mask) -> Kind {
    match level_style(mask) {
        "level_metal" => Kind::Metal,
        "level_contact" => Kind::Contact,
        _ => Kind::Other,
    }
}

/// The style word of a level: the line says what the level shapes.
fn level_style(mask: &Mask) -> &'static str {
    let level = mask.level.to_ascii_uppercase();
    match level.as_str() {
        "METAL" => "level_metal",
        "NPLUS" => "level_donors",
        "PPLUS" => "level_acceptors",
        level if level.starts_with("CONT") => "level_contact",
        _ => match mask.edge_kind() {
            EdgeKind::Well => "level_well",
            EdgeKind::Gate => "level_gate",
            EdgeKind::Active => "level_active",
            EdgeKind::Contact => "level_other",
        },
    }
}

/// Distance of a point in px from the section line.
fn distance(above: Above, line: &Line, [x, y]: [f64; 2]) -> f64 {
    let ([x0, y0], [x1, y1]) = (above.at(line.from_um), above.at(line.to_um));
    let [dx, dy] = [x1 - x0, y1 - y0];
    ((x - x0) * dy - (y - y0) * dx).abs() / (dx * dx + dy * dy).sqrt().max(1e-9)
}

/// The line along which the wafer is cut, with its letters.
fn section_line(sketch: &mut Sketch, above: Above, line: &Line, plumb_um: Option<f64>) {
    let [from, to] = [above.at(line.from_um), above.at(line.to_um)];
    sketch.line(&[from, to], "halo");
    sketch.line(&[from, to], "section_dashed");
    let [dx, dy] = [to[0] - from[0], to[1] - from[1]];
    let length = (dx * dx + dy * dy).sqrt().max(1e-9);
    let [ux, uy] = [dx / length, dy / length];
    for (end, letter, side) in [(from, "A", 1.0), (to, "A′", -1.0)] {
        // Beside the line, inside the frame.
        let at = [
            end[0] + side * 12.0 * ux - 10.0 * uy,
            end[1] + side * 12.0 * uy - 11.0 * ux,
        ];
        sketch.text(at, letter, "middle", "strong");
    }
    if let Some(x_um) = plumb_um {
        let at = above.at(line.place_um(x_um));
        sketch.ellipse(at, [4.5, 4.5], "#ffb224", "mark");
    }
}

/// Scale bar and the key of the levels.
fn key(sketch: &mut Sketch, layout: &Layout, view: &LayoutView, y: f64, px_per_um: f64) {
    let bar_um = nice_below(90.0 / px_per_um);
    let length = bar_um * px_per_um;
    sketch.line(&[[MARGIN, y - 4.0], [MARGIN, y + 4.0]], "outline");
    sketch.line(&[[MARGIN, y], [MARGIN + length, y]], "outline");
    sketch.line(&[[MARGIN + length, y - 4.0], [MARGIN + length, y + 4.0]], "outline");
    let words = length_words(1000.0 * bar_um);
    sketch.text([MARGIN + length + 6.0, y], &words, "start", "soft");
    let mut x = MARGIN + length + 24.0 + text_width(&words, KEY);
    let mut y = y;
    for mask in layout.masks.iter().filter(|mask| !view.hidden.contains(&mask.level)) {
        let printed = view.printed.iter().any(|(level, _)| *level == mask.level);
        let wide = 30.0 + text_width(&mask.name, KEY) + 14.0;
        if view.width - MARGIN < x + wide && MARGIN < x {
            x = MARGIN;
            y += 18.0;
        }
        let style = if printed { level_style(mask) } else { "hairline" };
        sketch.line(&[[x, y], [x + 24.0, y]], style);
        sketch.text(
            [x + 30.0, y],
            &mask.name,
            "start",
            if printed { "label" } else { "soft" },
        );
        x += wide;
    }
    sketch.height = sketch.height.max(y + 14.0);
}

fn describe(layout: &Layout, line: &Line, view: &LayoutView) -> String {
    let [x0, y0, x1, y1] = layout.extent_um;
    let size = format!(
        "Layout of {} by {} from above with {} masks.",
        length_words(1000.0 * (x1 - x0)),
        length_words(1000.0 * (y1 - y0)),
        layout.masks.len()
    );
    let printed: Vec<&str> = layout
        .masks
        .iter()
        .filter(|mask| view.printed.iter().any(|(level, _)| *level == mask.level))
        .map(|mask| mask.name.as_str())
        .collect();
    let printed = if printed.is_empty() {
        " None has been printed yet.".to_owned()
    } else {
        format!(" Printed so far: {}.", printed.join(", "))
    };
    format!(
        "{size}{printed} The section line runs from x {} µm, y {} µm to x {} µm, y {} µm.",
        line.from_um[0], line.from_um[1], line.to_um[0], line.to_um[1]
    )
}

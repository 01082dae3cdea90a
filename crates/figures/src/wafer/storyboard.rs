//! The storyboard of a flow: a small section per step, with its name and parameters.

use crate::pictures::sketch::Sketch;
use crate::scene::{Scene, Shape};
use crate::text_width::{text_width, wrap};

/// One step of a storyboard.
#[derive(Clone, Debug)]
pub struct Frame {
    /// Number, name and purpose.
    pub title: String,
    /// Its parameters in words.
    pub parameters: String,
    /// Words of its caution; empty if nothing can hurt.
    pub caution: String,
    /// The section after it.
    pub thumbnail: Scene,
}

/// Width of a frame in px; two stand beside each other.
pub const FRAME_WIDTH: f64 = 420.0;

/// Height of its picture in px.
pub const PICTURE_HEIGHT: f64 = 140.0;

/// Height of a frame in px.
const FRAME_HEIGHT: f64 = 226.0;

/// Room between and around frames in px.
const GAP: f64 = 24.0;

/// Size of its texts in px.
const TEXT: f64 = 12.0;

/// The frames, two in a row, under a heading.
#[must_use]
pub fn storyboard(heading: &str, frames: &[Frame]) -> Scene {
    let rows = frames.len().div_ceil(2);
    #[expect(
        clippy::cast_precision_loss,
        reason = "a flow has at most a few hundred steps"
    )]
    let height = 2.0 * GAP + 16.0 + rows as f64 * (FRAME_HEIGHT + GAP);
    let mut sketch = Sketch::sized(2.0 * FRAME_WIDTH + 3.0 * GAP, height);
    sketch.text([GAP, GAP], heading, "start", "strong");
    let mut shapes = Vec::new();
    for (k, frame) in frames.iter().enumerate() {
        #[expect(clippy::cast_precision_loss, reason = "a few hundred steps")]
        let (column, row) = ((k % 2) as f64, (k / 2) as f64);
        let left = GAP + column * (FRAME_WIDTH + GAP);
        let top = GAP + 24.0 + row * (FRAME_HEIGHT + GAP);
        let mut y = top + 8.0;
        for (words, style, lines) in
            [(&frame.title, "strong", 2), (&frame.parameters, "label", 2)]
        {
            let room = if style == "strong" { 0.86 * FRAME_WIDTH } else { FRAME_WIDTH };
            for line in wrap(words, TEXT, room).into_iter().take(lines) {
                shapes.push(text([left, y], line, style));
                y += 1.3 * TEXT;
            }
        }
        let picture_top = top + FRAME_HEIGHT - PICTURE_HEIGHT - 30.0;
        shapes.extend(
            frame.thumbnail.shapes.iter().cloned().map(|s| moved(s, [left, picture_top])),
        );
        if !frame.caution.is_empty() {
            let mut y = picture_top + PICTURE_HEIGHT + 14.0;
            for line in wrap(&frame.caution, TEXT, FRAME_WIDTH).into_iter().take(2) {
                shapes.push(text([left, y], line, "strong"));
                y += 1.25 * TEXT;
            }
        }
    }
    let mut scene = sketch.finish(format!("{heading}: {} steps.", frames.len()));
    scene.shapes.extend(shapes);
    debug_assert!(0.0 < text_width(heading, TEXT), "a storyboard has a heading");
    scene
}

fn text(at: [f64; 2], text: String, style: &str) -> Shape {
    Shape::Text {
        at,
        text,
        anchor: "start".to_owned(),
        size: TEXT,
        style: style.to_owned(),
    }
}

/// A shape moved by a vector.
fn moved(shape: Shape, [dx, dy]: [f64; 2]) -> Shape {
    let shift = |points: Vec<[f64; 2]>| -> Vec<[f64; 2]> {
        points.into_iter().map(|[x, y]| [x + dx, y + dy]).collect()
    };
    match shape {
        Shape::Area { points, material } => {
            Shape::Area { points: shift(points), material }
        }
        Shape::Ground { points, material } => {
            Shape::Ground { points: shift(points), material }
        }
        Shape::Tint { points, color, opacity } => {
            Shape::Tint { points: shift(points), color, opacity }
        }
        Shape::Line { points, style } => Shape::Line { points: shift(points), style },
        Shape::Strokes { lines, style } => {
            Shape::Strokes { lines: lines.into_iter().map(shift).collect(), style }
        }
        Shape::Ellipse { center: [x, y], radii, color, style } => {
            Shape::Ellipse { center: [x + dx, y + dy], radii, color, style }
        }
        Shape::Text { at: [x, y], text, anchor, size, style } => {
            Shape::Text { at: [x + dx, y + dy], text, anchor, size, style }
        }
    }
}

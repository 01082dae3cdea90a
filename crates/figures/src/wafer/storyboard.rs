//! The storyboard of a flow: a small section per step, with its name and parameters.

use crate::pictures::sketch::Sketch;
use crate::scene::{Scene, Shape};
use crate::text_width::wrap;

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

/// Room between and around frames in px.
const GAP: f64 = 24.0;

/// Size of its texts in px.
const TEXT: f64 = 12.0;

/// Height of a line of text in px.
const LINE: f64 = 1.3 * TEXT;

/// The frames, two in a row, under a heading. Rows are as high as their words need: no caution
/// is cut.
#[must_use]
pub fn storyboard(heading: &str, frames: &[Frame]) -> Scene {
    let width = 2.0 * FRAME_WIDTH + 3.0 * GAP;
    let mut shapes = Vec::new();
    let mut top = GAP + 24.0;
    for row in frames.chunks(2) {
        let words: Vec<Words> = row.iter().map(Words::of).collect();
        let most =
            |lines: fn(&Words) -> usize| words.iter().map(lines).max().unwrap_or(0);
        let picture_top = top + height_of(most(|words| words.above.len())) + 4.0;
        let caution_top = picture_top + PICTURE_HEIGHT + 16.0;
        for (k, (frame, words)) in row.iter().zip(&words).enumerate() {
            let left = if k == 0 { GAP } else { 2.0 * GAP + FRAME_WIDTH };
            for (line, (words, style)) in words.above.iter().enumerate() {
                let y = top + 8.0 + height_of(line);
                shapes.push(text([left, y], words.clone(), style));
            }
            let at = [left, picture_top];
            shapes.extend(frame.thumbnail.shapes.iter().cloned().map(|s| moved(s, at)));
            for (line, words) in words.below.iter().enumerate() {
                let y = caution_top + height_of(line);
                shapes.push(text([left, y], words.clone(), "strong"));
            }
        }
        top = caution_top + height_of(most(|words| words.below.len())) + GAP;
    }
    let mut sketch = Sketch::sized(width, top);
    sketch.text([GAP, GAP], heading, "start", "strong");
    let mut scene = sketch.finish(format!("{heading}: {} steps.", frames.len()));
    scene.shapes.extend(shapes);
    scene
}

/// The words of a frame, line by line.
struct Words {
    /// Title and parameters, each line with its style.
    above: Vec<(String, &'static str)>,
    /// The caution.
    below: Vec<String>,
}

impl Words {
    fn of(frame: &Frame) -> Self {
        // Strong letters are wider.
        let strong = 0.86 * FRAME_WIDTH;
        let lines = |words: &str, room: f64| {
            if words.is_empty() { Vec::new() } else { wrap(words, TEXT, room) }
        };
        let mut above: Vec<(String, &'static str)> = lines(&frame.title, strong)
            .into_iter()
            .map(|line| (line, "strong"))
            .collect();
        let parameters = lines(&frame.parameters, FRAME_WIDTH);
        above.extend(parameters.into_iter().map(|line| (line, "label")));
        Self { above, below: lines(&frame.caution, strong) }
    }
}

/// Height of so many lines of text in px.
#[expect(clippy::cast_precision_loss, reason = "a few lines")]
fn height_of(lines: usize) -> f64 {
    lines as f64 * LINE
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_caution_is_shown_whole_and_moves_what_follows() {
        let frame = |caution: &str| Frame {
            title: "1 Clean (c1)".to_owned(),
            parameters: "piranha".to_owned(),
            caution: caution.to_owned(),
            thumbnail: Scene::default(),
        };
        let long = "Danger: ".to_owned() + &"piranha; dilute HF; ".repeat(12);
        let frames = [frame(&long), frame(""), frame("Warning: heat")];
        let short = storyboard("flow", &frames[1..]);
        let scene = storyboard("flow", &frames);
        let all: String = scene
            .shapes
            .iter()
            .filter_map(|shape| match shape {
                Shape::Text { text, .. } => Some(format!("{text} ")),
                _ => None,
            })
            .collect();
        assert_eq!(all.matches("dilute HF").count(), 12, "{all}");
        assert!(short.height + 100.0 < scene.height);
    }
}

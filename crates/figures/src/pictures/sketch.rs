//! The pencil of the pictures: shapes, dimension lines, leader labels, scale bars.

use barewafer_process::num::{cos, linspace, sin};

use super::Frame;
use crate::axis::nice_below;
use crate::draw::spread;
use crate::numbers::short;
use crate::scene::{Scene, Shape};
use crate::text_width::wrap;

/// Height of a wide picture, and of a narrow one above its key.
pub(crate) const HEIGHT: f64 = 360.0;
/// Size of its texts.
pub(crate) const TEXT: f64 = 13.0;

/// A label with a leader line to a height on a section.
pub(crate) struct Leader {
    /// The point the leader starts from.
    pub(crate) from: [f64; 2],
    /// Words.
    pub(crate) text: String,
    /// Style word: the main result is `strong`.
    pub(crate) style: &'static str,
}

pub(crate) fn leader(from: [f64; 2], text: impl Into<String>) -> Leader {
    Leader { from, text: text.into(), style: "label" }
}

pub(crate) fn strong(from: [f64; 2], text: impl Into<String>) -> Leader {
    Leader { from, text: text.into(), style: "strong" }
}

/// A picture being drawn.
pub(crate) struct Sketch {
    /// The frame it is drawn for.
    pub(crate) frame: Frame,
    /// Width of the picture.
    width: f64,
    /// Height of what is drawn so far; a key goes below.
    pub(crate) height: f64,
    shapes: Vec<Shape>,
    /// Words of the numbers that stand in a narrow picture.
    key: Vec<(String, &'static str)>,
}

impl Sketch {
    pub(crate) fn new(frame: Frame) -> Self {
        let width = frame.pick(640.0, 312.0);
        Self { frame, width, height: HEIGHT, shapes: Vec::new(), key: Vec::new() }
    }

    /// Width of the picture.
    pub(crate) const fn width(&self) -> f64 {
        self.width
    }

    /// A picture of any size with its labels beside it.
    pub(crate) fn sized(width: f64, height: f64) -> Self {
        let frame = Frame::Wide;
        Self { frame, width, height, shapes: Vec::new(), key: Vec::new() }
    }

    pub(crate) fn finish(mut self, description: String) -> Scene {
        let key = std::mem::take(&mut self.key);
        for (k, (words, style)) in key.iter().enumerate() {
            let y = self.height + 4.0;
            self.text([6.0, y], &(k + 1).to_string(), "start", "strong");
            let below = self.paragraph([24.0, y], words, 282.0, "start", style);
            self.height = below;
        }
        Scene { width: self.width, height: self.height, shapes: self.shapes, description }
    }

    /// The words themselves where there is room for them, otherwise their number in the key.
    pub(crate) fn keyed(&mut self, words: &str, style: &'static str) -> String {
        if self.frame == Frame::Wide {
            return words.to_owned();
        }
        self.key.push((words.to_owned(), style));
        self.key.len().to_string()
    }

    /// A remark below the drawing.
    pub(crate) fn remark(&mut self, left: f64, words: &str) {
        let at = [self.frame.pick(left, 6.0), self.height - 18.0];
        let room = self.width - 6.0 - at[0];
        let below = self.paragraph(at, words, room, "start", "soft");
        self.height = self.height.max(below);
    }

    pub(crate) fn area(&mut self, points: Vec<[f64; 2]>, material: &str) {
        self.shapes.push(Shape::Area { points, material: material.to_owned() });
    }

    /// A closed shape of a material without an outline: what lies beside it is of the same piece.
    pub(crate) fn ground(&mut self, points: Vec<[f64; 2]>, material: &str) {
        self.shapes.push(Shape::Ground { points, material: material.to_owned() });
    }

    /// An upright rectangle of a material; nothing if it is too thin to be seen.
    pub(crate) fn block(&mut self, x: [f64; 2], y: [f64; 2], material: &str) {
        if 0.2 < y[1] - y[0] && 0.2 < x[1] - x[0] {
            self.area(corners(x, y), material);
        }
    }

    pub(crate) fn tint(&mut self, x: [f64; 2], y: [f64; 2], color: &str, opacity: f64) {
        self.shapes.push(Shape::Tint {
            points: corners(x, y),
            color: color.to_owned(),
            opacity,
        });
    }

    /// A closed shape covered by a given color, as strong as `opacity`.
    pub(crate) fn shade(&mut self, points: Vec<[f64; 2]>, color: &str, opacity: f64) {
        self.shapes.push(Shape::Tint { points, color: color.to_owned(), opacity });
    }

    /// A closed shape in a given color.
    pub(crate) fn gap(&mut self, points: Vec<[f64; 2]>, color: &str) {
        self.shapes.push(Shape::Tint { points, color: color.to_owned(), opacity: 1.0 });
    }

    pub(crate) fn line(&mut self, points: &[[f64; 2]], style: &str) {
        self.shapes
            .push(Shape::Line { points: points.to_vec(), style: style.to_owned() });
    }

    /// Many lines of one style.
    pub(crate) fn strokes(&mut self, lines: Vec<Vec<[f64; 2]>>, style: &str) {
        if !lines.is_empty() {
            self.shapes.push(Shape::Strokes { lines, style: style.to_owned() });
        }
    }

    pub(crate) fn ellipse(
        &mut self,
        center: [f64; 2],
        radii: [f64; 2],
        color: &str,
        style: &str,
    ) {
        self.shapes.push(Shape::Ellipse {
            center,
            radii,
            color: color.to_owned(),
            style: style.to_owned(),
        });
    }

    pub(crate) fn text(&mut self, at: [f64; 2], text: &str, anchor: &str, style: &str) {
        self.shapes.push(Shape::Text {
            at,
            text: text.to_owned(),
            anchor: anchor.to_owned(),
            size: TEXT,
            style: style.to_owned(),
        });
    }

    /// An arrow with a head of two strokes.
    pub(crate) fn arrow(&mut self, from: [f64; 2], to: [f64; 2], style: &str) {
        self.line(&[from, to], style);
        self.head(from, to, style);
    }

    /// The head of an arrow that comes from one point and ends at another.
    pub(crate) fn head(&mut self, from: [f64; 2], to: [f64; 2], style: &str) {
        let [dx, dy] = [to[0] - from[0], to[1] - from[1]];
        let length = (dx * dx + dy * dy).sqrt();
        if length < 1e-9 {
            return;
        }
        let size = 6.0_f64.min(0.45 * length.max(3.0));
        let [ux, uy] = [dx / length * size, dy / length * size];
        let left = [to[0] - ux - 0.5 * uy, to[1] - uy + 0.5 * ux];
        let right = [to[0] - ux + 0.5 * uy, to[1] - uy - 0.5 * ux];
        self.line(&[left, to, right], style);
    }

    /// A dimension line with a head at each end.
    pub(crate) fn dimension(&mut self, from: [f64; 2], to: [f64; 2]) {
        self.line(&[from, to], "hairline");
        self.head(from, to, "hairline");
        self.head(to, from, "hairline");
    }

    /// Labels in a column at `x`, each with a leader line to its point, moved apart between
    /// `top` and `bottom` so that none covers another.
    pub(crate) fn leaders(
        &mut self,
        mut labels: Vec<Leader>,
        x: f64,
        top: f64,
        bottom: f64,
    ) {
        labels.sort_by(|a, b| a.from[1].total_cmp(&b.from[1]));
        let room = self.width - 6.0 - x;
        let wrapped: Vec<Vec<String>> = labels
            .iter()
            .map(|l| wrap(&self.keyed(&l.text, l.style), TEXT, for_style(room, l.style)))
            .collect();
        let tall = 1.25 * TEXT;
        let heights: Vec<f64> =
            wrapped.iter().map(|l| l.iter().map(|_| tall).sum::<f64>() + 5.0).collect();
        let wanted: Vec<f64> = labels.iter().map(|l| l.from[1]).collect();
        let centers = spread(&wanted, &heights, top, bottom);
        for ((label, lines), (center, height)) in
            labels.iter().zip(wrapped).zip(centers.into_iter().zip(heights))
        {
            self.line(&[label.from, [x - 16.0, center], [x - 5.0, center]], "hairline");
            let mut y = center - 0.5 * (height - 5.0) + 0.5 * tall;
            for line in lines {
                self.text([x, y], &line, "start", label.style);
                y += tall;
            }
        }
    }

    /// Lines of text from a point down; gives back the height below the last line.
    pub(crate) fn paragraph(
        &mut self,
        at: [f64; 2],
        text: &str,
        width: f64,
        anchor: &str,
        style: &str,
    ) -> f64 {
        let mut y = at[1];
        for line in wrap(text, TEXT, for_style(width, style)) {
            self.text([at[0], y], &line, anchor, style);
            y += 1.25 * TEXT;
        }
        y
    }

    /// A scale bar below the drawing, of 1, 2 or 5 at most `longest` px long, with its length
    /// in words.
    pub(crate) fn scale_bar(&mut self, left: f64, px_per_nm: f64, longest: f64) {
        let at = [self.frame.pick(left, 6.0), self.height - 18.0];
        let longest = self.frame.pick(longest, longest.min(90.0));
        if !(px_per_nm.is_finite() && 0.0 < px_per_nm) {
            return;
        }
        let nm = nice_below(longest / px_per_nm);
        let end = at[0] + nm * px_per_nm;
        self.line(&[[at[0], at[1] - 4.0], [at[0], at[1] + 4.0]], "outline");
        self.line(&[at, [end, at[1]]], "outline");
        self.line(&[[end, at[1] - 4.0], [end, at[1] + 4.0]], "outline");
        let words = format!("{}, same scale both ways", length_words(nm));
        self.text([end + 8.0, at[1]], &words, "start", "soft");
    }
}

/// The width to wrap at: bold letters are wider than those that are reckoned with.
fn for_style(width: f64, style: &str) -> f64 {
    if style == "strong" { 0.86 * width } else { width }
}

/// A length in nm or um, whichever reads better.
pub(crate) fn length_words(nm: f64) -> String {
    if nm < 1000.0 {
        format!("{} nm", short(nm))
    } else {
        format!("{} µm", short(nm / 1000.0))
    }
}

/// Points on an ellipse from one angle to another in degrees (0 = right, 90 = down).
pub(crate) fn arc(
    center: [f64; 2],
    radii: [f64; 2],
    from: f64,
    to: f64,
) -> Vec<[f64; 2]> {
    linspace(from, to, 40)
        .into_iter()
        .map(|degrees| {
            let angle = degrees.to_radians();
            [center[0] + radii[0] * cos(angle), center[1] + radii[1] * sin(angle)]
        })
        .collect()
}

fn corners([left, right]: [f64; 2], [top, bottom]: [f64; 2]) -> Vec<[f64; 2]> {
    vec![[left, top], [right, top], [right, bottom], [left, bottom]]
}

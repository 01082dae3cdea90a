//! The process window as a table: a cell for every dose and focus.

use barewafer_process::lithography::ProcessWindowResults;

use super::sketch::{HEIGHT, Sketch, TEXT};
use crate::charts::process_window::{focus_name, summary};
use crate::numbers::{digits, short};
use crate::scene::Scene;
use crate::text_width::text_width;

pub(super) fn picture(results: &ProcessWindowResults, mut sketch: Sketch) -> Scene {
    let [left, right] = sketch.frame.pick([86.0, 632.0], [58.0, 306.0]);
    let (top, bottom) = (34.0, HEIGHT - 62.0);
    let columns = results.focus_um.len().max(1);
    let rows = results.dose_mj_cm2.len().max(1);
    let (wide, tall) = ((right - left) / float(columns), (bottom - top) / float(rows));
    let [low, high] = results.good_um;
    let mut good = Vec::new();
    for (row, widths) in results.width_um.iter().enumerate() {
        // The highest dose stands on top.
        let y = bottom - tall * (float(row) + 1.0);
        for (column, width) in widths.iter().enumerate() {
            let x = left + wide * float(column);
            let pending =
                float(column * rows + row) + 0.5 > f64::from(results.points_done);
            let is_good = width.is_some_and(|um| low <= um && um <= high);
            let mark = match width {
                Some(um) if high < *um => "+",
                Some(um) if *um < low => "−",
                Some(_) => "○",
                None if pending => "",
                None => "×",
            };
            let words = width.map_or_else(|| mark.to_owned(), |um| digits(um, 3));
            let fits = text_width(&words, TEXT) + 6.0 < wide && 1.1 * TEXT < tall;
            let words = if fits { words } else { mark.to_owned() };
            if is_good {
                let (a, b) = (x + 1.5, x + wide - 1.5);
                let (c, d) = (y + 1.5, y + tall - 1.5);
                good.push(vec![[a, c], [b, c], [b, d], [a, d], [a, c]]);
            }
            let style = if is_good { "strong" } else { "soft" };
            let middle = [x + 0.5 * wide, y + 0.5 * tall];
            if !words.is_empty() {
                sketch.text(middle, &words, "middle", style);
            }
        }
    }
    let across = |y: f64| vec![[left, y], [right, y]];
    let down = |x: f64| vec![[x, top], [x, bottom]];
    let mut lines: Vec<Vec<[f64; 2]>> =
        (0..=rows).map(|row| across(top + tall * float(row))).collect();
    lines.extend((0..=columns).map(|column| down(left + wide * float(column))));
    sketch.strokes(lines, "grid");
    sketch.strokes(good, "amber");
    let every = if 1.3 * TEXT < tall { 1 } else { 2 };
    for (row, dose) in results.dose_mj_cm2.iter().enumerate().step_by(every) {
        let y = bottom - tall * (float(row) + 0.5);
        sketch.text([left - 8.0, y], &digits(*dose, 3), "end", "label");
    }
    let room = wide / 36.0;
    let every = if room < 1.0 { 2 } else { 1 };
    for (column, focus) in results.focus_um.iter().enumerate().step_by(every) {
        let x = left + wide * (float(column) + 0.5);
        sketch.text([x, bottom + 14.0], &short(rounded(*focus)), "middle", "label");
    }
    sketch.text([sketch.frame.pick(24.0, 6.0), 16.0], "Dose, mJ/cm²", "start", "soft");
    let name = format!("{}, µm", focus_name(results));
    sketch.text([right, bottom + 32.0], &name, "end", "soft");
    let words = format!(
        "Width at half height in µm. Framed: {} to {}. + too wide, − too narrow, × not open or gone.",
        digits(low, 3),
        digits(high, 3)
    );
    let from = sketch.frame.pick(24.0, 6.0);
    let room = sketch.frame.pick(608.0, 300.0);
    let at = sketch.frame.pick(HEIGHT - 10.0, HEIGHT - 8.0);
    let below = sketch.paragraph([from, at], &words, room, "start", "soft");
    sketch.height = sketch.height.max(below);
    sketch.finish(format!("Widths for every dose and focus. {}", summary(results)))
}

/// Without the dust of binary fractions.
fn rounded(value: f64) -> f64 {
    (value * 1e4).round() * 1e-4
}

#[expect(clippy::cast_precision_loss, reason = "a small count")]
fn float(count: usize) -> f64 {
    count as f64
}

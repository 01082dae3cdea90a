//! Polisher: the topography before and after, over high and low places.

use barewafer_process::polishing::PlanarizationResults;

use super::material_word;
use super::sketch::{HEIGHT, Sketch, leader, length_words, strong};
use crate::axis::nice_above;
use crate::numbers::short;
use crate::scene::Scene;

/// The low ground.
const GROUND: f64 = 286.0;
const BOTTOM: f64 = 318.0;
/// Height that the round number above film and step takes.
const TALL: f64 = 210.0;

pub(super) fn picture(results: &PlanarizationResults, mut sketch: Sketch) -> Scene {
    let [left, right] = sketch.frame.pick([24.0, 440.0], [6.0, 278.0]);
    let (d, h) = (results.thickness_nm, results.initial_step_height_nm);
    let px = TALL / nice_above(d + h);
    let film = material_word(results.material);
    sketch.block([left, right], [GROUND, BOTTOM], "silicon");
    // Three periods of high and low ground, with the share of the area that is high.
    let period = (right - left) / 3.0;
    let high: Vec<[f64; 2]> = if 0.0 < h {
        [0.0, 1.0, 2.0]
            .map(|k| {
                let start =
                    left + k * period + 0.5 * (1.0 - results.dense_fraction) * period;
                [start, start + results.dense_fraction * period]
            })
            .to_vec()
    } else {
        Vec::new()
    };
    let loss = results.stop_layer_loss_nm.unwrap_or(0.0);
    let stop_px = if results.stop.is_some() { (12.0_f64).min(0.5 * h * px) } else { 0.0 };
    let high_top = GROUND - (h - loss).max(0.0) * px;
    // How thick the stop layer is nobody said: some of it is drawn, wherever its top is.
    let bare_top = (high_top + stop_px).min(GROUND);
    for &x in &high {
        sketch.block(x, [bare_top, GROUND], "silicon");
        if let Some(stop) = results.stop {
            sketch.block(x, [high_top, bare_top], material_word(stop));
        }
    }
    // The film as it is now: over the high places and between them.
    let low_top = GROUND - results.low_remaining_nm * px;
    let over_high = high_top - results.remaining_nm * px;
    // A level film is one piece with one top.
    let mut between = left;
    for x in high.iter().copied().chain([[right, right]]) {
        sketch.block([between, x[0]], [low_top, GROUND], film);
        sketch.block(x, [over_high, high_top], film);
        between = x[1];
    }
    // The topography before: the film as thick everywhere, its edges over those below.
    let mut before = vec![[left, GROUND - d * px]];
    for x in &high {
        let (low, top) = (GROUND - d * px, GROUND - (d + h) * px);
        before.extend([[x[0], low], [x[0], top], [x[1], top], [x[1], low]]);
    }
    before.push([right, GROUND - d * px]);
    sketch.line(&before, "dashed");
    let top = before.iter().map(|p| p[1]).fold(GROUND, f64::min);
    // The pad.
    let pad = top - 16.0;
    sketch.line(&[[left, pad], [right, pad]], "amber");
    sketch.arrow(
        [0.5 * (left + right) - 24.0, pad - 10.0],
        [0.5 * (left + right) + 24.0, pad - 10.0],
        "hairline",
    );
    let mut labels = vec![
        leader([right, pad], "pad, moving"),
        leader([right, GROUND - d * px], "surface before"),
        leader(
            [right, 0.5 * (GROUND + low_top)],
            format!(
                "{}: {} in the low places",
                results.material.label(),
                length_words(results.low_remaining_nm)
            ),
        ),
        leader([right, 0.5 * (GROUND + BOTTOM)], "silicon"),
    ];
    if let Some(last) = high.last() {
        let words = match results.stop {
            Some(stop) if 0.0 < loss => {
                format!("{} on top: {} lost", stop.label(), length_words(loss))
            }
            Some(stop) if results.remaining_nm <= 0.0 => {
                format!("{} on top: bare", stop.label())
            }
            _ => format!(
                "high places: {} of film left",
                length_words(results.remaining_nm)
            ),
        };
        labels.push(leader([last[1], high_top + 3.0], words));
        labels.push(strong(
            [last[1], low_top.min(over_high)],
            if 0.0 < results.step_height_nm {
                format!("step left: {}", length_words(results.step_height_nm))
            } else {
                "level".to_owned()
            },
        ));
    } else {
        labels.push(strong(
            [right, low_top],
            format!("{} taken off", length_words(results.removed_nm)),
        ));
    }
    let column = sketch.frame.pick(462.0, 298.0);
    sketch.leaders(labels, column, 40.0, HEIGHT - 12.0);
    upright_bar(&mut sketch, left, px);
    sketch.finish(format!(
        "Section after {} s on the pad: {} of film were taken from the high places, {} are left there and {} in the low places; of a step of {} there are {} left.",
        short(results.time_s),
        length_words(results.removed_nm),
        length_words(results.remaining_nm),
        length_words(results.low_remaining_nm),
        length_words(h),
        length_words(results.step_height_nm),
    ))
}

/// Heights are to scale, widths are not: high places may be micrometers or millimeters wide.
fn upright_bar(sketch: &mut Sketch, left: f64, px_per_nm: f64) {
    let nm = crate::axis::nice_below(22.0 / px_per_nm);
    let x = sketch.frame.pick(left, 8.0);
    let [low, top] = [HEIGHT - 8.0, HEIGHT - 8.0 - nm * px_per_nm];
    sketch.line(&[[x, low], [x, top]], "outline");
    for y in [low, top] {
        sketch.line(&[[x - 4.0, y], [x + 4.0, y]], "outline");
    }
    let words = format!("{} upright; widths not to scale", length_words(nm));
    sketch.text([x + 12.0, 0.5 * (low + top)], &words, "start", "soft");
}

//! Bake: the wafer on a hot plate, and its film magnified before and after.

use barewafer_process::lithography::BakeResults;
use barewafer_process::lithography::bake::BakeKind;

use super::sketch::{HEIGHT, Sketch, arc, leader, length_words, strong};
use crate::axis::nice_above;
use crate::numbers::{digits, short, three};
use crate::scene::Scene;

/// The plate: left and right end, upper side.
const PLATE: [f64; 3] = [18.0, 262.0, 236.0];

pub(super) fn picture(results: &BakeResults, mut sketch: Sketch) -> Scene {
    plate(&mut sketch, results);
    film(&mut sketch, results);
    sketch.finish(description(results))
}

fn plate(sketch: &mut Sketch, results: &BakeResults) {
    let [left, right, top] = PLATE;
    sketch.block([left, right], [top, top + 44.0], "metal");
    sketch.block([left + 30.0, right - 30.0], [top - 9.0, top], "silicon");
    sketch.block([left + 30.0, right - 30.0], [top - 14.0, top - 9.0], "resist");
    // Heat from below, solvent leaving above.
    let places = [0.2, 0.4, 0.6, 0.8].map(|share| left + share * (right - left));
    for x in places {
        sketch.arrow([x, top + 76.0], [x, top + 50.0], "amber");
    }
    let leaves = results.start_solvent_percent - results.solvent_percent;
    if 0.05 < leaves {
        for x in places {
            let up: Vec<[f64; 2]> = arc([x, top - 44.0], [5.0, 22.0], 90.0, 270.0);
            sketch.line(&up, "hairline");
            sketch.head([x - 5.0, top - 60.0], [x, top - 67.0], "hairline");
        }
        let words = format!("{} % of solvent leave", three(leaves));
        sketch.text([0.5 * (left + right), top - 86.0], &words, "middle", "label");
    }
    let words = format!(
        "{} °C for {} s",
        digits(results.temperature_c, 3),
        short(results.time_s)
    );
    sketch.text([0.5 * (left + right), top - 116.0], &words, "middle", "strong");
    let name = results.kind.label();
    sketch.text([0.5 * (left + right), top - 140.0], name, "middle", "soft");
}

fn film(sketch: &mut Sketch, results: &BakeResults) {
    let ([left, right], tall, lower) =
        sketch.frame.pick(([352.0, 478.0], 214.0, 0.0), ([130.0, 270.0], 130.0, 234.0));
    let (surface, bottom) = (262.0 + lower, 322.0 + lower);
    sketch.height = HEIGHT + lower;
    let before = results.initial_thickness_nm.max(1.0);
    let px_per_nm = tall / nice_above(before);
    sketch.scale_bar(left, px_per_nm, 60.0);
    let top = surface - results.thickness_nm * px_per_nm;
    let old_top = surface - before * px_per_nm;
    let eye = [PLATE[1] - 60.0, PLATE[2] - 11.0];
    sketch.ellipse(eye, [9.0, 6.0], "", "section");
    let (first, second) =
        sketch.frame.pick(([7.0, -4.0], [left, bottom]), ([-7.0, 4.0], [right, old_top]));
    sketch.line(&[[eye[0] + first[0], eye[1] + first[1]], [left, old_top]], "hairline");
    sketch.line(&[[eye[0] + 7.0, eye[1] + 4.0], second], "hairline");
    sketch.block([left, right], [surface, bottom], "silicon");
    sketch.block([left, right], [top, surface], "resist");
    let mut labels = vec![
        strong(
            [right, 0.5 * (top + surface)],
            format!("resist {} nm after the bake", three(results.thickness_nm)),
        ),
        leader([right, 0.5 * (surface + bottom)], "silicon"),
    ];
    if 1.0 < top - old_top {
        let outline = [[left, top], [left, old_top], [right, old_top], [right, top]];
        sketch.line(&outline, "dashed");
        labels.insert(
            0,
            leader([right, old_top], format!("{} before", length_words(before))),
        );
    }
    if results.kind == BakeKind::PostExposure {
        // The spread as a bar in the film, to the same scale.
        let x = 0.5 * (left + right);
        let half = results.diffusion_length_nm * px_per_nm;
        let y = 0.5 * (top + surface);
        let ends = [(y - half).max(top), (y + half).min(surface)];
        sketch.line(&[[x, ends[0]], [x, ends[1]]], "section");
        for end in ends {
            sketch.line(&[[x - 6.0, end], [x + 6.0, end]], "section");
        }
        labels.push(leader(
            [right, ends[1]],
            format!("compound spreads ± {} nm", three(results.diffusion_length_nm)),
        ));
    }
    sketch.leaders(labels, right + 20.0, surface - tall - 28.0, bottom + 8.0);
}

fn description(results: &BakeResults) -> String {
    format!(
        "A wafer lies on a hot plate of {} °C for {} s. Its film of resist goes from {} nm to {} nm and from {} % to {} % of solvent; it is drawn magnified.",
        digits(results.temperature_c, 3),
        short(results.time_s),
        three(results.initial_thickness_nm),
        three(results.thickness_nm),
        three(results.start_solvent_percent),
        three(results.solvent_percent),
    )
}

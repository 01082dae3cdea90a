//! Furnace: the oxide on the silicon it was made of, and the wafer in its color.

use barewafer_process::oxidation::OxidationResults;

use super::Frame;
use super::sketch::{HEIGHT, Sketch, leader, strong};
use crate::axis::nice_above;
use crate::numbers::{digits, three};
use crate::scene::Scene;

const BOTTOM: f64 = 322.0;
/// Height of the silicon surface before the step.
const ORIGINAL: f64 = 206.0;
/// Height that the round number above the oxide thickness takes.
const TALL: f64 = 176.0;

pub(super) fn picture(results: &OxidationResults, mut sketch: Sketch) -> Scene {
    let across @ [left, right] = sketch.frame.pick([152.0, 390.0], [112.0, 276.0]);
    let px_per_nm = TALL / nice_above(results.oxide_nm.max(1.0));
    let interface = ORIGINAL + results.silicon_consumed_nm * px_per_nm;
    let top = interface - results.oxide_nm * px_per_nm;
    // The oxidant passes the old oxide and reacts at the silicon: the old oxide rides on top.
    let old_bottom = top + results.initial_oxide_nm * px_per_nm;

    sketch.block(across, [interface, BOTTOM], "silicon");
    sketch.block(across, [top, interface], "thermal_oxide");
    let shows_old = 3.0 < old_bottom - top && old_bottom + 0.5 < interface;
    if shows_old {
        sketch.line(&[[left, old_bottom], [right, old_bottom]], "section_dashed");
    }
    sketch.line(&[[left, ORIGINAL], [right, ORIGINAL]], "section_dashed");
    for x in [[left - 34.0, left], [right, right + 8.0]] {
        sketch.line(&[[x[0], ORIGINAL], [x[1], ORIGINAL]], "dashed");
    }

    let new_top = ORIGINAL - (results.grown_nm - results.silicon_consumed_nm) * px_per_nm;
    shares(&mut sketch, results, [left, new_top, interface]);

    let mut labels = vec![
        strong(
            [right, 0.5 * (top.max(old_bottom) + interface)],
            format!("oxide {} nm", three(results.oxide_nm)),
        ),
        leader([right + 8.0, ORIGINAL], "silicon surface before the step"),
        leader([right, 0.5 * (interface + BOTTOM)], "silicon"),
    ];
    if shows_old {
        let text = format!("oxide from before, {} nm", three(results.initial_oxide_nm));
        labels.insert(0, leader([right, 0.5 * (top + old_bottom)], text));
    }
    sketch.scale_bar(left, px_per_nm, 120.0);
    let below = wafer_disc(&mut sketch, results);
    let x = sketch.frame.pick(412.0, 298.0);
    sketch.leaders(labels, x, below, HEIGHT - 12.0);
    sketch.finish(description(results))
}

/// How much of the new oxide stands above the original surface and how much below.
fn shares(
    sketch: &mut Sketch,
    results: &OxidationResults,
    [left, top, interface]: [f64; 3],
) {
    if results.grown_nm <= 0.0 {
        return;
    }
    let x = left - 14.0;
    for y in [top, interface] {
        sketch.line(&[[x - 6.0, y], [left, y]], "hairline");
    }
    let above_nm = results.grown_nm - results.silicon_consumed_nm;
    let rows = [
        (top, ORIGINAL, above_nm, "above", 0.5 * (top + ORIGINAL) - 8.0, ORIGINAL - 25.0),
        (
            ORIGINAL,
            interface,
            results.silicon_consumed_nm,
            "below",
            0.5 * (interface + ORIGINAL) - 8.0,
            ORIGINAL + 9.0,
        ),
    ];
    for (from, to, nm, word, wanted, limit) in rows {
        if 8.0 < to - from {
            sketch.dimension([x, from], [x, to]);
        }
        let y = if word == "above" { wanted.min(limit) } else { wanted.max(limit) };
        let percent = digits(100.0 * nm / results.grown_nm, 2);
        sketch.text([x - 10.0, y], &format!("{percent} % {word}"), "end", "label");
        sketch.text([x - 10.0, y + 16.0], &format!("{} nm", three(nm)), "end", "soft");
    }
}

/// The wafer lying on a table, in its interference color; gives back where labels may begin.
fn wafer_disc(sketch: &mut Sketch, results: &OxidationResults) -> f64 {
    let center = sketch.frame.pick([524.0, 50.0], [156.0, HEIGHT + 36.0]);
    let radii = [86.0, 30.0];
    sketch.ellipse([center[0], center[1] + 5.0], radii, "#cfcac0", "outline");
    sketch.ellipse(center, radii, &results.color.srgb_hex, "outline");
    let words = format!("color: {}", results.color.name);
    let room = sketch.frame.pick(214.0, 300.0);
    let at = [center[0], center[1] + 53.0];
    let below = sketch.paragraph(at, &words, room, "middle", "label");
    if sketch.frame == Frame::Wide {
        return below + 12.0;
    }
    sketch.height = below + 8.0;
    12.0
}

fn description(results: &OxidationResults) -> String {
    let above = results.grown_nm - results.silicon_consumed_nm;
    let old = if 0.5 <= results.initial_oxide_nm {
        format!(" It started from {} nm of oxide.", three(results.initial_oxide_nm))
    } else {
        String::new()
    };
    format!(
        "Section of the wafer: {} nm of oxide on silicon.{old} Of the {} nm grown, {} nm stand above the original silicon surface and {} nm below it, where silicon was consumed. In the light chosen the wafer looks {}.",
        three(results.oxide_nm),
        three(results.grown_nm),
        three(above),
        three(results.silicon_consumed_nm),
        results.color.name,
    )
}

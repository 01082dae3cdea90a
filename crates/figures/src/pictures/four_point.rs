//! Four-point bench: four probes on the section, the layers below them with their sheet
//! resistance.

use barewafer_process::electrical::SheetResults;
use barewafer_process::electrical::sheet_resistance::SheetLayer;
use barewafer_process::num::{cos, linspace};

use super::doped::{DepthScale, depth_axis, marks, tint_silicon};
use super::sketch::{HEIGHT, Leader, Sketch, leader, strong};
use crate::charts::doping::{concentration_axis, depth_axis as axis_to, depth_of};
use crate::numbers::{short, three};
use crate::scene::Scene;

const TOP: f64 = 74.0;
const BOTTOM: f64 = 322.0;
/// Places of the probes, as shares of the width.
const PROBES: [f64; 4] = [0.14, 0.38, 0.62, 0.86];
/// Layers that get a label; more would not find room.
const LABELED: usize = 4;

pub(super) fn picture(results: &SheetResults, mut sketch: Sketch) -> Option<Scene> {
    let across @ [left, right] = sketch.frame.pick([80.0, 400.0], [60.0, 276.0]);
    let column = sketch.frame.pick(424.0, 298.0);
    let probed = results.layers.get(results.layer.checked_sub(1)?)?;
    let axis = axis_to(shown_depth(results, probed), "Depth");
    let scale = DepthScale { top: TOP, px_per_um: (BOTTOM - TOP) / axis.max };

    let junctions = &results.junctions_um;
    tint_silicon(&mut sketch, &results.profile, junctions, scale, 0.0, across, BOTTOM);
    marks(&mut sketch, &results.profile, junctions, scale, across, BOTTOM);
    let x = PROBES.map(|share| left + share * (right - left));
    let rows = [scale.down(probed.top_um), scale.down(probed.bottom_um).min(BOTTOM)];
    if results.layer == 1 {
        current(&mut sketch, x, rows);
        for x in x {
            sketch.area(
                vec![[x - 5.0, 34.0], [x + 5.0, 34.0], [x + 0.8, TOP], [x - 0.8, TOP]],
                "metal",
            );
        }
        probe_words(&mut sketch, results, x);
    } else {
        // Contacts of its own feed a buried layer.
        let middle = 0.5 * (rows[0] + rows[1]);
        sketch.line(&[[left, middle], [right, middle]], "section_dashed");
    }
    let mut labels = Vec::new();
    layer_labels(results, scale, axis.max, right, &mut labels);
    for depletion in results.depletion.iter().take(LABELED) {
        let y = scale.down(depletion.junction_um);
        if y < BOTTOM {
            sketch.line(&[[left, y], [right, y]], "section");
            let text = format!("junction {} µm", three(depletion.junction_um));
            labels.push(leader([right, y], text));
        }
    }
    depth_axis(&mut sketch, &axis, scale, left);
    sketch.leaders(labels, column, 50.0, HEIGHT - 26.0);
    // Spacing of the probes on paper against the depth scale.
    let across_px_per_um = (x[1] - x[0]) / (1000.0 * results.probes.spacing_mm);
    let words = format!(
        "Probes {} mm apart; depth is drawn {} times larger than across.",
        short(results.probes.spacing_mm),
        short(exaggeration(scale.px_per_um / across_px_per_um)),
    );
    sketch.remark(left, &words);
    Some(sketch.finish(description(results, probed)))
}

/// Two digits are enough for an exaggeration.
fn exaggeration(value: f64) -> f64 {
    crate::numbers::round_to(value, 2)
}

/// The depth that the section shows in um: the layers and a part of the wafer below them.
fn shown_depth(results: &SheetResults, probed: &SheetLayer) -> f64 {
    let profile = &results.profile;
    let floor = concentration_axis(1e20, Some(results.substrate.concentration_cm3)).min;
    let doped = profile
        .dopants
        .iter()
        .filter_map(|(_, c)| depth_of(&profile.depth_um, c, 2.0 * floor))
        .fold(0.0, f64::max);
    match results.junction_depth_um {
        Some(junction) => 1.35 * junction,
        None if 0.0 < doped => doped,
        None => probed.bottom_um,
    }
}

/// Lines from the first probe through the layer to the last one.
fn current(sketch: &mut Sketch, x: [f64; 4], [top, bottom]: [f64; 2]) {
    for share in [0.25, 0.5, 0.75] {
        let deep = top + share * (bottom - top);
        let half = 0.5 * (x[3] - x[0]);
        let middle = 0.5 * (x[3] + x[0]);
        // Down under the first probe, along the layer, up under the last one.
        let points: Vec<[f64; 2]> = linspace(-1.0, 1.0, 41)
            .into_iter()
            .map(|u| {
                let edge = (4.0 * (1.0 - u.abs())).min(1.0);
                let rise = 0.5 * (1.0 - cos(core::f64::consts::PI * edge));
                [middle + u * half, top + (deep - top) * rise]
            })
            .collect();
        sketch.line(&points, "section_dashed");
    }
}

/// Current at the outer probes, voltage between the inner ones.
fn probe_words(sketch: &mut Sketch, results: &SheetResults, x: [f64; 4]) {
    let current = format!("{} mA", short(results.probes.current_ma));
    sketch.line(&[[x[1], 34.0], [x[1], 27.0], [x[2], 27.0], [x[2], 34.0]], "hairline");
    if let Some(mv) = results.voltage_mv {
        let words = if mv < 1000.0 {
            format!("{} mV", three(mv))
        } else {
            format!("{} V", three(mv / 1000.0))
        };
        sketch.text([0.5 * (x[1] + x[2]), 14.0], &words, "middle", "strong");
    }
    sketch.arrow([x[0], 20.0], [x[0], 33.0], "amber");
    sketch.arrow([x[3], 33.0], [x[3], 20.0], "amber");
    sketch.text([x[0], 10.0], &current, "middle", "soft");
    sketch.text([x[3], 10.0], &current, "middle", "soft");
}

/// Type and sheet resistance of the layers in view.
fn layer_labels(
    results: &SheetResults,
    scale: DepthScale,
    deepest_um: f64,
    right: f64,
    labels: &mut Vec<Leader>,
) {
    for (k, layer) in results.layers.iter().enumerate().take(LABELED) {
        if deepest_um <= layer.top_um {
            continue;
        }
        let middle = 0.5 * (layer.top_um + layer.bottom_um.min(deepest_um));
        let kind = layer.doping_type.label();
        let wafer = if k + 1 == results.layers.len() { "wafer, " } else { "" };
        let text = layer.sheet_resistance_ohm_sq.map_or_else(
            || format!("{wafer}{kind}"),
            |ohm| format!("{wafer}{kind}, {} Ω/□", three(ohm)),
        );
        let at = [right, scale.down(middle)];
        labels.push(if k + 1 == results.layer {
            strong(at, text)
        } else {
            leader(at, text)
        });
    }
}

fn description(results: &SheetResults, probed: &SheetLayer) -> String {
    let sheet = probed.sheet_resistance_ohm_sq.map_or_else(
        || "does not conduct".to_owned(),
        |ohm| format!("has a sheet resistance of {} ohm per square", three(ohm)),
    );
    let reading = results.voltage_mv.map_or_else(String::new, |mv| {
        format!(
            " With {} mA through the outer probes the inner ones read {} mV.",
            short(results.probes.current_ma),
            three(mv)
        )
    });
    format!(
        "Section of the silicon with four probes in line, {} mm apart. Layer {} of {}, {}, down to {} µm, {sheet}.{reading}",
        short(results.probes.spacing_mm),
        results.layer,
        results.layers.len(),
        probed.doping_type.label(),
        three(probed.bottom_um),
    )
}

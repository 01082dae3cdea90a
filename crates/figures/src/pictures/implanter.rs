//! Implanter: the wafer lying flat, the beam from above, and the log profile beside it on the
//! same depth axis.

use barewafer_process::implantation::ImplantationResults;
use barewafer_process::num::log10;

use super::doped::{DepthScale, depth_axis, tint_silicon};
use super::material_word;
use super::sketch::{HEIGHT, Sketch, leader, strong};
use crate::chart::Axis;
use crate::charts::doping::{
    concentration_axis, depth_axis as axis_to, depth_of, substrate,
};
use crate::numbers::{digits, exponent_of, power_of_ten, short, three};
use crate::scene::Scene;

const TOP: f64 = 66.0;
const BOTTOM: f64 = 322.0;
/// Lines drawn for the dose: each stands for an equal share of the ions.
const IONS: u16 = 24;

/// Where the section and the profile beside it lie across.
#[derive(Clone, Copy)]
struct Across {
    section: [f64; 2],
    panel: [f64; 2],
}

pub(super) fn picture(
    results: &ImplantationResults,
    mut sketch: Sketch,
) -> Option<Scene> {
    let places = sketch.frame.pick(
        Across { section: [80.0, 300.0], panel: [316.0, 460.0] },
        Across { section: [60.0, 164.0], panel: [178.0, 270.0] },
    );
    let (across @ [left, right], panel) = (places.section, places.panel);
    let (dopant, in_silicon) = results.profile.dopants.first()?;
    let above_um: f64 = results.layers.iter().map(|l| l.thickness_nm / 1000.0).sum();
    let stack = &results.stack_profile;
    let (depth, values) = if stack.depth_um.is_empty() || results.layers.is_empty() {
        (&results.profile.depth_um, in_silicon)
    } else {
        (&stack.depth_um, &stack.concentration_cm3)
    };
    let wafer = substrate(&results.profile, &results.junctions_um);
    let level = wafer.map(|(level, _)| level);
    let highest = values.iter().copied().fold(results.peak_cm3, f64::max);
    let concentration = concentration_axis(highest, level);
    let deepest = depth_of(depth, values, 1.5 * concentration.min)
        .into_iter()
        .chain([1.15 * above_um])
        .fold(0.01, f64::max);
    let axis = axis_to(deepest, "Depth");
    let scale = DepthScale { top: TOP, px_per_um: (BOTTOM - TOP) / axis.max };

    let junctions = &results.junctions_um;
    tint_silicon(
        &mut sketch,
        &results.profile,
        junctions,
        scale,
        above_um,
        across,
        BOTTOM,
    );
    let mut labels = Vec::new();
    let mut top_um = 0.0;
    for layer in &results.layers {
        let bottom_um = top_um + layer.thickness_nm / 1000.0;
        let rows = [scale.down(top_um), scale.down(bottom_um).min(BOTTOM)];
        sketch.block(across, rows, material_word(layer.material));
        let text = format!("{} {} nm", layer.material.label(), short(layer.thickness_nm));
        labels.push(leader([right, 0.5 * (rows[0] + rows[1])], text));
        top_um = bottom_um;
    }
    beam(&mut sketch, depth, values, scale, across);
    profile_panel(&mut sketch, depth, values, &concentration, scale, panel);

    let peak = scale.down(above_um + results.peak_depth_nm / 1000.0);
    if results.layers.is_empty() {
        let text = format!("mean depth {} nm", digits(results.range_depth_nm, 3));
        let [y, below] = range_mark(&mut sketch, results, scale, places);
        labels.push(strong([panel[1] + 10.0, y], text));
        let text = format!("straggle ±{} nm", digits(results.depth_straggle_nm, 2));
        labels.push(leader([panel[1] + 10.0, below], text));
    }
    if concentration.min <= results.peak_cm3 {
        let text = format!("peak {} cm⁻³", three(results.peak_cm3));
        labels.push(leader([panel[1], peak], text));
    }
    for &junction in junctions {
        let y = scale.down(above_um + junction);
        if y < BOTTOM {
            sketch.line(&[[left, y], [right, y]], "section");
            labels.push(strong([right, y], format!("junction {} µm", three(junction))));
        }
    }
    let implanted = junctions.first().map(|j| scale.down(above_um + 0.85 * j));
    if let Some(y) = implanted.filter(|&y| y < BOTTOM) {
        labels.push(leader([right, y], dopant.doping_type().label()));
    }
    let bulk = wafer
        .map_or("silicon".to_owned(), |(_, kind)| format!("wafer, {}", kind.label()));
    labels.push(leader([right, BOTTOM - 8.0], bulk));
    depth_axis(&mut sketch, &axis, scale, left);
    let column = sketch.frame.pick(492.0, 298.0);
    sketch.leaders(labels, column, 70.0, HEIGHT - 24.0);
    let words = format!("{} beam; each line is 1/{IONS} of the ions", dopant.label());
    sketch.remark(left, &words);
    Some(sketch.finish(description(results, dopant.label())))
}

/// Arrows of the beam, and lines that end where equal shares of the dose come to rest.
fn beam(
    sketch: &mut Sketch,
    depth: &[f64],
    values: &[f64],
    scale: DepthScale,
    [left, right]: [f64; 2],
) {
    for share in [0.1, 0.3, 0.5, 0.7, 0.9] {
        let x = left + share * (right - left);
        sketch.arrow([x, 14.0], [x, 48.0], "beam");
    }
    let mut paths = Vec::new();
    for (i, stop_um) in resting_depths(depth, values).into_iter().enumerate() {
        let y = scale.down(stop_um);
        if BOTTOM - 3.0 < y {
            continue;
        }
        // Steps of 7 in 24 places: neighbors stop at unlike depths.
        let place = (i * 7 + 3) % usize::from(IONS);
        let x = left + (right - left) * (index(place) + 0.5) / f64::from(IONS);
        paths.push(vec![[x, TOP], [x, y - 2.5]]);
        sketch.ellipse([x, y], [2.5, 2.5], "", "mark");
    }
    sketch.strokes(paths, "mark");
}

/// Depths above which the dose of the profile is (i + 1/2)/n of the whole.
fn resting_depths(depth: &[f64], values: &[f64]) -> Vec<f64> {
    let mut sums = vec![0.0];
    for (d, v) in depth.windows(2).zip(values.windows(2)) {
        let sum = sums.last().copied().unwrap_or(0.0);
        sums.push(sum + 0.5 * (v[0] + v[1]) * (d[1] - d[0]));
    }
    let total = sums.last().copied().unwrap_or(0.0);
    if total <= 0.0 {
        return Vec::new();
    }
    (0..IONS)
        .map(|i| {
            let wanted = total * (f64::from(i) + 0.5) / f64::from(IONS);
            super::doped::between(&sums, depth, wanted)
        })
        .collect()
}

#[expect(clippy::cast_precision_loss, reason = "an index below 24")]
fn index(i: usize) -> f64 {
    i as f64
}

/// The profile on a logarithmic axis across, depth downward.
fn profile_panel(
    sketch: &mut Sketch,
    depth: &[f64],
    values: &[f64],
    concentration: &Axis,
    scale: DepthScale,
    panel: [f64; 2],
) {
    let across = |c: f64| {
        let place = concentration.place(c.max(1e-300)).unwrap_or(0.0).clamp(0.0, 1.0);
        panel[0] + place * (panel[1] - panel[0])
    };
    let (first, last) = (exponent_of(concentration.min), exponent_of(concentration.max));
    let every = 1 + (last - first) / sketch.frame.pick(4, 2);
    for exponent in first..=last {
        let place = f64::from(exponent - first) / f64::from((last - first).max(1));
        let x = panel[0] + place * (panel[1] - panel[0]);
        sketch.line(&[[x, TOP], [x, BOTTOM]], "grid");
        if (exponent - first) % every == 0 {
            sketch.text([x, TOP - 10.0], &power_of_ten(exponent), "middle", "soft");
        }
    }
    sketch.text([0.5 * (panel[0] + panel[1]), TOP - 32.0], "cm⁻³", "middle", "soft");
    let mut curve: Vec<[f64; 2]> = Vec::new();
    for (&d, &c) in depth.iter().zip(values) {
        let y = scale.down(d);
        if BOTTOM < y {
            break;
        }
        let below = log10(c.max(1e-300)) < log10(concentration.min);
        // A picture needs no more points than pixels.
        if !below && curve.last().is_none_or(|last| 1.0 <= y - last[1]) {
            curve.push([across(c), y]);
        }
    }
    sketch.line(&curve, "amber");
}

/// The mean depth of the ions (the tilt makes it less than the range along the beam), with
/// one straggle to each side; gives back its height and the middle of the lower straggle.
fn range_mark(
    sketch: &mut Sketch,
    results: &ImplantationResults,
    scale: DepthScale,
    Across { section: [left, right], panel }: Across,
) -> [f64; 2] {
    let (range, straggle) =
        (results.range_depth_nm / 1000.0, results.depth_straggle_nm / 1000.0);
    let y = scale.down(range).min(BOTTOM);
    let rows = [
        scale.down((range - straggle).max(0.0)),
        scale.down(range + straggle).min(BOTTOM),
    ];
    sketch.line(&[[left, y], [right, y]], "section_dashed");
    sketch.line(&[[right, y], [panel[1] + 10.0, y]], "dashed");
    sketch.dimension([panel[1] + 8.0, rows[0]], [panel[1] + 8.0, rows[1]]);
    [y, 0.5 * (y + rows[1])]
}

fn description(results: &ImplantationResults, dopant: &str) -> String {
    let layers: Vec<String> = results
        .layers
        .iter()
        .map(|l| format!("{} nm of {}", short(l.thickness_nm), l.material.label()))
        .collect();
    let through = if layers.is_empty() {
        String::new()
    } else {
        format!(
            " It passes {}; {} % of the dose reach the silicon.",
            layers.join(" and "),
            three(100.0 * results.transmitted_fraction)
        )
    };
    let junction = results.junction_depth_um.map_or_else(
        || "There is no junction.".to_owned(),
        |depth| {
            format!("The junction lies {} µm below the silicon surface.", three(depth))
        },
    );
    format!(
        "A {dopant} beam comes from above onto the wafer lying flat.{through} The range in silicon is {} nm with a straggle of {} nm; the concentration peaks at {} per cm³, {} nm below the silicon surface. {junction}",
        three(results.projected_range_nm),
        three(results.straggle_nm),
        three(results.peak_cm3),
        three(results.peak_depth_nm),
    )
}

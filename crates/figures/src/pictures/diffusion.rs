//! Diffusion tube: the silicon section with its doping as tint, junctions as lines.

use barewafer_process::diffusion::DiffusionResults;

use super::doped::{DepthScale, depth_axis, marks, tint_silicon};
use super::sketch::{HEIGHT, Leader, Sketch, leader, strong};
use crate::charts::doping::{
    concentration_axis, depth_axis as axis_to, depth_of, substrate,
};
use crate::numbers::three;
use crate::scene::Scene;

const TOP: f64 = 60.0;
const BOTTOM: f64 = 322.0;

pub(super) fn picture(
    operation: &str,
    results: &DiffusionResults,
    mut sketch: Sketch,
) -> Option<Scene> {
    let across @ [left, right] = sketch.frame.pick([80.0, 400.0], [60.0, 276.0]);
    let column = sketch.frame.pick(424.0, 298.0);
    let profile = &results.profile;
    let (dopant, values) = profile.dopants.first()?;
    let wafer = substrate(profile, &results.junctions_um);
    let level = wafer.map(|(level, _)| level);
    let floor = concentration_axis(results.surface_concentration_cm3, level).min;
    let deepest = results
        .junction_depth_um
        .map(|j| 1.25 * j)
        .or_else(|| depth_of(&profile.depth_um, values, 2.0 * floor))
        .or_else(|| profile.depth_um.last().copied())?;
    let axis = axis_to(deepest, "Depth");
    let scale = DepthScale { top: TOP, px_per_um: (BOTTOM - TOP) / axis.max };

    let junctions = &results.junctions_um;
    tint_silicon(&mut sketch, profile, junctions, scale, 0.0, across, BOTTOM);
    marks(&mut sketch, profile, junctions, scale, across, BOTTOM);
    let oxide_px = (results.oxide_nm / 1000.0 * scale.px_per_um).min(TOP - 30.0);
    sketch.block(across, [TOP - oxide_px, TOP], "thermal_oxide");

    let mut labels = vec![strong(
        [right, TOP + 2.0],
        format!(
            "{}: {} cm⁻³ at the surface",
            dopant.label(),
            three(results.surface_concentration_cm3)
        ),
    )];
    if 1.0 <= oxide_px {
        let text = format!("oxide {} nm", three(results.oxide_nm));
        labels.insert(0, leader([right, TOP - 0.5 * oxide_px], text));
    }
    original_surface(&mut sketch, results, oxide_px, across, &mut labels);
    start_line(&mut sketch, results, scale, across, &mut labels);
    for &junction in junctions.iter().filter(|&&j| j <= axis.max) {
        let y = scale.down(junction);
        sketch.line(&[[left, y], [right, y]], "section");
        labels.push(strong([right, y], format!("junction {} µm", three(junction))));
    }
    let layer = junctions.first().map_or(0.5 * axis.max, |j| 0.5 * j);
    let layer = scale.down(layer.min(0.5 * axis.max));
    labels.push(leader([right, layer], dopant.doping_type().label()));
    if let Some((level, kind)) = wafer {
        let text = format!("wafer, {}, {} cm⁻³", kind.label(), three(level));
        labels.push(leader([right, BOTTOM - 12.0], text));
    }
    if operation == "predeposition" {
        for share in [0.12, 0.31, 0.5, 0.69, 0.88] {
            let x = left + share * (right - left);
            sketch.arrow([x, 20.0], [x, TOP - oxide_px - 5.0], "beam");
        }
        let words = format!("{} from the source", dopant.label());
        let at = sketch.frame.pick([column, 22.0], [left, 9.0]);
        sketch.text(at, &words, "start", "soft");
    }
    depth_axis(&mut sketch, &axis, scale, left);
    sketch.leaders(labels, column, 38.0, HEIGHT - 26.0);
    let words = "Tint and marks grow with the logarithm of the net doping.";
    sketch.remark(left, words);
    Some(sketch.finish(description(results, dopant.label())))
}

/// The surface before the oxide ate silicon, dashed in the oxide.
fn original_surface(
    sketch: &mut Sketch,
    results: &DiffusionResults,
    oxide_px: f64,
    [left, right]: [f64; 2],
    labels: &mut Vec<Leader>,
) {
    if results.silicon_consumed_nm <= 0.0 || results.oxide_nm <= 0.0 {
        return;
    }
    let y = TOP - oxide_px * results.silicon_consumed_nm / results.oxide_nm;
    if TOP - y < 2.0 {
        return;
    }
    sketch.line(&[[left, y], [right, y]], "section_dashed");
    let text = format!("surface before, {} nm up", three(results.silicon_consumed_nm));
    labels.insert(1, leader([right, y], text));
}

/// The junction of the start profile, dashed.
fn start_line(
    sketch: &mut Sketch,
    results: &DiffusionResults,
    scale: DepthScale,
    [left, right]: [f64; 2],
    labels: &mut Vec<Leader>,
) {
    let start = &results.start_profile;
    let Some(depth) = last_sign_change(&start.depth_um, &start.net_cm3) else { return };
    let y = scale.down(depth);
    if y < BOTTOM {
        sketch.line(&[[left, y], [right, y]], "section_dashed");
        let text = format!("junction before, {} µm", three(depth));
        labels.push(leader([right, y], text));
    }
}

fn last_sign_change(depth: &[f64], net: &[f64]) -> Option<f64> {
    depth
        .windows(2)
        .zip(net.windows(2))
        .filter(|(_, n)| n[0] * n[1] < 0.0)
        .map(|(d, n)| d[0] + (d[1] - d[0]) * n[0] / (n[0] - n[1]))
        .next_back()
}

fn description(results: &DiffusionResults, dopant: &str) -> String {
    let junction = results.junction_depth_um.map_or_else(
        || "There is no junction.".to_owned(),
        |depth| format!("The junction lies {} µm below the surface.", three(depth)),
    );
    let oxide = if 0.5 <= results.oxide_nm {
        format!(" {} nm of oxide cover the silicon.", three(results.oxide_nm))
    } else {
        String::new()
    };
    format!(
        "Section of the silicon from the surface down, tinted by its net doping: {} per cm³ of {dopant} at the surface, a dose of {} per cm². {junction}{oxide}",
        three(results.surface_concentration_cm3),
        three(results.dose_cm2),
    )
}

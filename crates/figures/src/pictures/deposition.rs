//! Deposition: the film over a trench or on flat silicon, and the wafer in its color.

use barewafer_process::deposition::{DepositionResults, Method};

use super::sketch::{HEIGHT, Leader, Sketch, leader, length_words, strong};
use super::{Frame, material_word};
use crate::axis::nice_above;
use crate::numbers::{digits, short, three};
use crate::scene::Scene;

/// Height of the silicon's lower edge.
const BOTTOM: f64 = 322.0;
/// Highest point of a film.
const TOP: f64 = 28.0;
/// Silicon below a trench.
const BELOW: f64 = 34.0;
/// Height of the silicon surface without a trench.
const FLAT: f64 = 236.0;
/// Color of a gap in a film; materials keep their color whatever the theme.
const GAP: &str = "#ffffff";

pub(super) fn picture(results: &DepositionResults, mut sketch: Sketch) -> Scene {
    let across = sketch.frame.pick([24.0, 436.0], [6.0, 278.0]);
    let labels = match (results.trench_width_um, results.trench_depth_um) {
        (Some(width_um), Some(depth_um)) => {
            trench(&mut sketch, results, across, [width_um, depth_um])
        }
        _ => flat(&mut sketch, results, across),
    };
    let below = wafer_disc(&mut sketch, results);
    let x = sketch.frame.pick(458.0, 298.0);
    sketch.leaders(labels, x, below, HEIGHT - 12.0);
    sketch.finish(description(results))
}

fn flat(
    sketch: &mut Sketch,
    results: &DepositionResults,
    across: [f64; 2],
) -> Vec<Leader> {
    let oxide_nm = results.oxide_below_nm;
    let px_per_nm = 180.0 / nice_above((results.thickness_nm + oxide_nm).max(1.0));
    let oxide_top = FLAT - oxide_nm * px_per_nm;
    let top = oxide_top - results.thickness_nm * px_per_nm;
    let right = across[1];
    sketch.block(across, [FLAT, BOTTOM], "silicon");
    sketch.block(across, [oxide_top, FLAT], "thermal_oxide");
    sketch.block(across, [top, oxide_top], material_word(results.film.material()));
    sketch.scale_bar(across[0], px_per_nm, 110.0);
    let mut labels = vec![strong(
        [right, 0.5 * (top + oxide_top)],
        format!("{} {} nm", results.film.label(), three(results.thickness_nm)),
    )];
    if 0.0 < oxide_nm {
        let words = format!("thermal oxide {} nm", three(oxide_nm));
        labels.push(leader([right, 0.5 * (oxide_top + FLAT)], words));
    }
    labels.push(leader([right, 0.5 * (FLAT + BOTTOM)], "silicon"));
    labels
}

fn trench(
    sketch: &mut Sketch,
    results: &DepositionResults,
    [left, right]: [f64; 2],
    [width_um, depth_um]: [f64; 2],
) -> Vec<Leader> {
    let (Some(outline), Some(film)) = (&results.outline, &results.step_coverage) else {
        return Vec::new();
    };
    let middle = 0.5 * (left + right);
    let top_um = 1e-3 * film.top_nm;
    // A film that is thin beside the trench does not move the scale.
    let reach_um = outline.x_um.iter().copied().fold(0.5 * width_um, f64::max);
    let tall_um = depth_um + top_um.max(0.3 * width_um);
    let px_per_um =
        (0.5 * (right - left) / reach_um).min((BOTTOM - BELOW - TOP) / tall_um);
    let surface = BOTTOM - BELOW - depth_um * px_per_um;
    let place = |x_um: f64, z_um: f64| {
        [(middle + x_um * px_per_um).clamp(left, right), surface - z_um * px_per_um]
    };
    let half_um = 0.5 * width_um;
    let walls = [
        place(-half_um, 0.0),
        place(-half_um, -depth_um),
        place(half_um, -depth_um),
        place(half_um, 0.0),
    ];
    let mut silicon = vec![[left, BOTTOM], [left, surface]];
    silicon.extend(walls);
    silicon.extend([[right, surface], [right, BOTTOM]]);
    sketch.area(silicon, "silicon");
    let flat_top = place(0.0, top_um)[1];
    let mut covered = vec![[left, surface], [left, flat_top]];
    covered.extend(outline.x_um.iter().zip(&outline.z_um).map(|(&x, &z)| place(x, z)));
    covered.extend([[right, flat_top], [right, surface]]);
    covered.extend(walls.iter().rev());
    sketch.area(covered, material_word(results.film.material()));
    for void in &results.voids {
        let mut edge: Vec<[f64; 2]> =
            void.x_um.iter().zip(&void.z_um).map(|(&x, &z)| place(x, z)).collect();
        sketch.gap(edge.clone(), GAP);
        edge.extend(edge.first().copied());
        sketch.line(&edge, "mark");
    }
    if let Some([low, high]) = results.seam_um {
        sketch.line(&[place(0.0, low), place(0.0, high)], "section_dashed");
    }
    sketch.scale_bar(left, 1e-3 * px_per_um, 110.0);

    let percent = |ratio: f64| digits(100.0 * ratio, 2);
    let flat = format!("{} {} nm on top", results.film.label(), three(film.top_nm));
    let bottom =
        format!("bottom {} nm ({} %)", three(film.bottom_nm), percent(film.bottom_ratio));
    let mut labels = vec![strong([right, 0.5 * (flat_top + surface)], flat)];
    if let (Some(side_nm), Some(ratio)) = (film.side_nm, film.side_ratio) {
        let wall = format!("wall {} nm ({} %)", three(side_nm), percent(ratio));
        labels.push(leader(place(half_um - 0.5e-3 * side_nm, -0.5 * depth_um), wall));
    }
    if film.closed {
        let words =
            if results.voids.is_empty() { "closed: a seam" } else { "a void is shut in" };
        let at = results.voids.first().map_or_else(
            || results.seam_um.map_or(0.0, |s| 0.5 * (s[0] + s[1])),
            |void| void.z_um.iter().sum::<f64>() / count(&void.z_um),
        );
        labels.push(leader(place(0.0, at), words));
    } else {
        let z = 0.5e-3 * film.bottom_nm - depth_um;
        labels.push(leader(place(0.25 * half_um, z), bottom));
    }
    labels.push(leader([right, BOTTOM - 14.0], "silicon"));
    labels
}

#[expect(clippy::cast_precision_loss, reason = "a small count")]
fn count(list: &[f64]) -> f64 {
    list.len().max(1) as f64
}

/// The wafer lying on a table, in its color; gives back where labels may begin.
fn wafer_disc(sketch: &mut Sketch, results: &DepositionResults) -> f64 {
    let center = sketch.frame.pick([536.0, 44.0], [156.0, HEIGHT + 32.0]);
    let radii = [78.0, 27.0];
    sketch.ellipse([center[0], center[1] + 5.0], radii, "#cfcac0", "outline");
    sketch.ellipse(center, radii, &results.color.srgb_hex, "outline");
    let mut words = format!("in white light: {}", results.color.name);
    if let Some(ratio) = results.rim_to_center {
        words.push_str(&format!("; rim {} % of the center", digits(100.0 * ratio, 3)));
    }
    let room = sketch.frame.pick(190.0, 300.0);
    let at = [center[0], center[1] + 48.0];
    let below = sketch.paragraph(at, &words, room, "middle", "label");
    if sketch.frame == Frame::Wide {
        return below + 12.0;
    }
    sketch.height = below + 8.0;
    12.0
}

fn description(results: &DepositionResults) -> String {
    let film = results.film.label();
    let how = match results.time_min {
        Some(min) if results.method != Method::Evaporation => {
            format!(" after {} min", short(min))
        }
        _ => String::new(),
    };
    let covered = match (&results.step_coverage, results.trench_width_um) {
        (Some(c), Some(width_um)) => format!(
            " Over a trench of {} by {} (width by depth) it measures {} on top{} and {} at the bottom.{}",
            length_words(1000.0 * width_um),
            length_words(1000.0 * results.trench_depth_um.unwrap_or_default()),
            length_words(c.top_nm),
            c.side_nm.map_or_else(String::new, |side_nm| format!(
                ", {} on the wall at half depth",
                length_words(side_nm)
            )),
            length_words(c.bottom_nm),
            if !results.voids.is_empty() {
                " A void is shut in."
            } else if c.closed {
                " The trench has closed and keeps a seam."
            } else {
                ""
            }
        ),
        _ => String::new(),
    };
    let rim = results.rim_to_center.map_or_else(String::new, |ratio| {
        format!(
            " At the rim it is {} % as thick as at the center.",
            digits(100.0 * ratio, 3)
        )
    });
    format!(
        "Section of the wafer: {} of {film}{how}.{covered}{rim} Seen from above in white light the wafer looks {}.",
        length_words(results.thickness_nm),
        results.color.name,
    )
}

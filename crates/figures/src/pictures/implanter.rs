//! Implanter: the wafer lying flat, the beam from above, and the log profile beside it on the
//! same depth axis.

use barewafer_process::implantation::{ImplantationResults, StackProfile};
use barewafer_process::num::log10;

use super::doped::{DepthScale, depth_axis, tint_silicon};
use super::material_word;
use super::sketch::{HEIGHT, Leader, Sketch, leader, strong};
use super::tracks;
use crate::chart::Axis;
use crate::charts::doping::{
    concentration_axis, depth_axis as axis_to, depth_of, substrate,
};
use crate::charts::implantation::{spread_sentence, table_word};
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
    let single = results.single_ions.as_deref();
    let bare = results.layers.is_empty() && single.is_none();
    let (depth, values) = if stack.depth_um.is_empty() || bare {
        (&results.profile.depth_um, in_silicon)
    } else {
        (&stack.depth_um, &stack.concentration_cm3)
    };
    let wafer = substrate(&results.profile, &results.junctions_um);
    let level = wafer.map(|(level, _)| level);
    let (highest, shown_um) = single.map_or_else(
        || (values.iter().copied().fold(results.peak_cm3, f64::max), 0.0),
        |ions| (tracks::highest_by_table(ions), tracks::depth_shown_um(ions)),
    );
    let concentration = concentration_axis(highest, level);
    let deepest = depth_of(depth, values, 1.5 * concentration.min)
        .filter(|_| single.is_none())
        .into_iter()
        .chain([shown_um, 1.15 * above_um])
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
    if let Some(text) = amorphous(&mut sketch, results, scale, above_um, across) {
        labels.push(text);
    }
    match single {
        Some(ions) => {
            let slope = results.shadow_per_height;
            tracks::draw(&mut sketch, ions, scale, across, BOTTOM, slope);
            let table = &ions.table_profile;
            let place = Panel { concentration: &concentration, scale, across: panel };
            place.grid(&mut sketch);
            let by_table = place.curve(&table.depth_um, &table.concentration_cm3, 1.0);
            sketch.line(&by_table, "dashed");
            sketch.line(&place.curve(depth, values, 0.0), "amber");
        }
        None => {
            beam(&mut sketch, depth, values, scale, across);
            let place = Panel { concentration: &concentration, scale, across: panel };
            place.grid(&mut sketch);
            if let Some(other) = &results.spread {
                let StackProfile { depth_um, concentration_cm3 } = &other.profile;
                let curve = place.curve(depth_um, concentration_cm3, 1.0);
                sketch.line(&curve, "dashed");
            }
            sketch.line(&place.curve(depth, values, 1.0), "amber");
        }
    }

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
    let words = match (single, &results.spread) {
        (Some(ions), _) => tracks::words(results, ions),
        _ if results.illustrative => "channeling tail: illustrative".to_owned(),
        (None, Some(other)) => format!(
            "each line is 1/{IONS} of the ions; dashed profile: {}",
            table_word(other)
        ),
        _ => format!("{} beam; each line is 1/{IONS} of the ions", dopant.label()),
    };
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
        paths.push(tracks::ring([x, y]));
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
struct Panel<'a> {
    concentration: &'a Axis,
    scale: DepthScale,
    across: [f64; 2],
}

impl Panel<'_> {
    fn grid(&self, sketch: &mut Sketch) {
        let (concentration, panel) = (self.concentration, self.across);
        let (first, last) =
            (exponent_of(concentration.min), exponent_of(concentration.max));
        let every = 1 + (last - first) / sketch.frame.pick(4, 2);
        for exponent in first..=last {
            let place = f64::from(exponent - first) / f64::from((last - first).max(1));
            let x = panel[0] + place * (panel[1] - panel[0]);
            sketch.line(&[[x, TOP], [x, BOTTOM]], "grid");
            if (exponent - first) % every == 0 {
                sketch.text([x, TOP - 10.0], &power_of_ten(exponent), "middle", "soft");
            }
        }
        let middle = 0.5 * (panel[0] + panel[1]);
        sketch.text([middle, TOP - 32.0], "cm⁻³", "middle", "soft");
    }

    /// A curve with points at least `apart` px below each other: a picture needs no more than
    /// its pixels. Steps keep all points, and their ends on the edge of the panel.
    fn curve(&self, depth: &[f64], values: &[f64], apart: f64) -> Vec<[f64; 2]> {
        let steps = apart <= 0.0;
        let mut curve: Vec<[f64; 2]> = Vec::new();
        for (&d, &c) in depth.iter().zip(values) {
            let y = self.scale.down(d);
            if BOTTOM < y {
                break;
            }
            let place = self.concentration.place(c.max(1e-300)).unwrap_or(0.0);
            let below = log10(c.max(1e-300)) < log10(self.concentration.min);
            let far = curve.last().is_none_or(|last| apart <= y - last[1]);
            if steps || (!below && far) {
                let [left, right] = self.across;
                curve.push([left + place.clamp(0.0, 1.0) * (right - left), y]);
            }
        }
        curve
    }
}

/// A row of small crosses through the amorphous layer's faces, with its label; none where the
/// silicon is a crystal.
fn amorphous(
    sketch: &mut Sketch,
    results: &ImplantationResults,
    scale: DepthScale,
    above_um: f64,
    [left, right]: [f64; 2],
) -> Option<Leader> {
    let damage = results.damage.as_ref()?;
    let at = |nm: f64| scale.down(above_um + nm / 1000.0).min(BOTTOM);
    let (from, to) = (at(damage.amorphous_from_nm?), at(damage.amorphous_to_nm?));
    if to - from < 2.0 {
        return None;
    }
    sketch.line(&[[left, to], [right, to]], "section_dashed");
    if 0.0 < damage.amorphous_from_nm? {
        sketch.line(&[[left, from], [right, from]], "section_dashed");
    }
    // Disorder: short strokes that point everywhere, in a fixed pattern.
    let mut y = from + 6.0;
    let mut row = 0_u32;
    let mut strokes = Vec::new();
    while y < to - 3.0 && row < 30 {
        let mut x = left + if row.is_multiple_of(2) { 7.0 } else { 16.0 };
        let mut column = row;
        while x < right - 5.0 {
            let (dx, dy) = [(2.5, 1.0), (-1.0, 2.5), (1.8, -1.8)][(column % 3) as usize];
            strokes.push(vec![[x - dx, y - dy], [x + dx, y + dy]]);
            x += 18.0;
            column += 2;
        }
        y += 13.0;
        row += 1;
    }
    sketch.strokes(strokes, "mark");
    let text = format!("amorphous to {} nm", digits(damage.amorphous_to_nm?, 2));
    Some(leader([right, 0.5 * (from + to)], text))
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
    let counted = results.single_ions.as_deref().map_or_else(String::new, |ions| {
        format!(
            " The ways of {} ions are drawn, a ring where one rests; {} of {} ions have flown.",
            ions.tracks.len(),
            ions.ions_done,
            ions.ions
        )
    });
    let junction = results.junction_depth_um.map_or_else(
        || no_junction(results).to_owned(),
        |depth| {
            format!("The junction lies {} µm below the silicon surface.", three(depth))
        },
    );
    format!(
        "A {dopant} beam comes from above onto the wafer lying flat.{through} The range in silicon is {} nm with a straggle of {} nm; the concentration peaks at {} per cm³, {} nm below the silicon surface. {junction}{counted}{}{}{}",
        three(results.projected_range_nm),
        three(results.straggle_nm),
        three(results.peak_cm3),
        three(results.peak_depth_nm),
        spread_sentence(results),
        results.amorphous_depth_nm.map_or_else(String::new, |nm| {
            format!(" The crystal is amorphous down to {} nm.", three(nm))
        }),
        if results.illustrative {
            " The tail of channeled ions is illustrative."
        } else {
            ""
        },
    )
}

/// Counted ions do not reach down to the wafer's doping: they cannot tell.
fn no_junction(results: &ImplantationResults) -> &'static str {
    match results.single_ions {
        Some(_) => "The counts do not tell a junction.",
        None => "There is no junction.",
    }
}

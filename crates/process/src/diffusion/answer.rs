//! From concentrations to the results of the report.

use super::drive_in::DriveIn;
use super::layer::Layer;
use super::simulated::Simulated;
use super::solubility::solubility;
use super::{DiffusionResults, DopantDose};
use crate::constants::SILICON_PER_OXIDE;
use crate::electrical::junction::junctions_um;
use crate::electrical::sheet_resistance::ActiveDoping;
use crate::num::ln;
use crate::profile::Profile;
use crate::report::Accuracy;
use crate::vocabulary::{Dopant, MobilityModel};

/// The band of every depth.
pub(super) const ACCURACY: Accuracy = Accuracy {
    relative: 0.3,
    meaning: "junction depths between the published diffusivities",
    source: "spread of the three sets (boron at 1000 °C: 0.9 to 2.6e-14 cm²/s); Fuller and Ditzenberger 1956 state ±40 % for their diffusivities",
};

/// The band of gallium and aluminum.
const ACCURACY_OF_OPTIONAL: Accuracy = Accuracy {
    relative: 0.41,
    meaning: "junction depth for a factor of 2 in the diffusivity",
    source: "gallium and aluminum are seldom used and known to a factor of 2",
};

/// The band of a dopant's depths.
pub(super) const fn accuracy(dopant: Dopant) -> Accuracy {
    if dopant.is_diffusion_only() { ACCURACY_OF_OPTIONAL } else { ACCURACY }
}

/// Points that a profile of a report has at the most, about.
const POINTS: usize = 150;

/// What is read off the full profile.
#[derive(Clone, Debug)]
pub(super) struct Answered {
    pub(super) profile: Profile,
    pub(super) closed_form: Profile,
    pub(super) junctions_um: Vec<f64>,
    pub(super) sheet_resistance_ohm_sq: Option<f64>,
}

/// Reads junctions and sheet resistance off and thins the profile out.
pub(super) fn answer(
    simulated: &Simulated,
    closed_form_cm3: impl Fn(f64) -> Option<f64>,
) -> Answered {
    let background = simulated.substrate.net_donors_cm3();
    let active = simulated.active();
    let mut profile = Profile {
        depth_um: simulated.depth_um.clone(),
        dopants: simulated.dopants.clone(),
        net_cm3: net(&simulated.dopants, background, simulated.depth_um.len()),
        active_net_cm3: net(&active, background, simulated.depth_um.len()),
    };
    let junctions = junctions_um(&profile, background);
    let layer_um = junctions.first().copied().or_else(|| doped_depth_um(simulated));
    let doping =
        ActiveDoping::new(simulated.depth_um.clone(), &active, simulated.substrate);
    let sheet = layer_um.and_then(|bottom| {
        doping.sheet_resistance_ohm_sq(0.0, bottom, MobilityModel::Masetti1983)
    });
    thin(&mut profile, shown_depth_um(simulated, &junctions), &junctions, POINTS);
    let closed_form = closed_form_profile(&profile, simulated, closed_form_cm3);
    Answered {
        profile,
        closed_form,
        junctions_um: junctions,
        sheet_resistance_ohm_sq: sheet,
    }
}

/// Fills the record of results.
pub(super) fn results(
    simulated: &Simulated,
    answered: &Answered,
    start_profile: Profile,
    oxide_nm: f64,
) -> DiffusionResults {
    let surface = simulated.dopants.first().and_then(|(_, c)| c.first());
    DiffusionResults {
        dose_cm2: simulated.layers.first().map_or(0.0, Layer::dose_cm2),
        surface_concentration_cm3: surface.copied().unwrap_or(0.0),
        junction_depth_um: answered.junctions_um.last().copied(),
        junctions_um: answered.junctions_um.clone(),
        sheet_resistance_ohm_sq: answered.sheet_resistance_ohm_sq,
        profile: answered.profile.clone(),
        start_profile,
        closed_form_profile: answered.closed_form.clone(),
        doses: doses(simulated),
        oxide_nm,
        silicon_consumed_nm: 0.0,
        oxide_profile: Profile::default(),
        dose_balance: simulated.dose_balance(),
        root_dt_um: simulated.root_dt_um,
        snapshots: simulated
            .snapshots
            .iter()
            .filter_map(|at| at.drawn(simulated, &answered.profile))
            .collect(),
        mask_oxide_min_nm: None,
        comparison: None,
    }
}

/// Adds what a drive-in knows about its oxide.
pub(super) fn add_oxide(results: &mut DiffusionResults, done: &DriveIn) {
    for dose in &mut results.doses {
        // No oxide at all sums up to -0.
        dose.oxide_cm2 = done.film.dose_cm2(dose.dopant) + 0.0;
    }
    if let Some(furnace) = &done.furnace {
        let [start, end] = furnace.oxide();
        results.silicon_consumed_nm = SILICON_PER_OXIDE * (end - start).to_nm();
    }
    results.oxide_profile = done.film.profile.clone();
    // A little more, so that the last point is not lost in rounding.
    let deepest_um = 1.000_001 * done.film.thickness.to_um();
    thin(&mut results.oxide_profile, deepest_um, &[], POINTS);
}

/// Where the atoms of each dopant are, and how many of them are active.
fn doses(simulated: &Simulated) -> Vec<DopantDose> {
    let conditions = &simulated.conditions;
    let x = &simulated.depth_um;
    let integral = |c: &[f64]| {
        let parts = x.windows(2).zip(c.windows(2));
        parts.map(|(x, c)| 0.5 * (x[1] - x[0]) * (c[0] + c[1])).sum::<f64>()
    };
    let active = simulated.active();
    let each = simulated.dopants.iter().zip(&active).zip(&simulated.ledgers);
    each.map(|(((dopant, all), (_, active)), ledger)| {
        let (all, active) = (integral(all), integral(active));
        DopantDose {
            dopant: *dopant,
            silicon_cm2: ledger.after_cm2,
            oxide_cm2: ledger.oxide_cm2,
            // Which zero the larger of 0 and -0 is differs between targets; the sum is 0.
            lost_cm2: (-ledger.gained_cm2).max(0.0) + 0.0,
            active_fraction: if 0.0 < all { active / all } else { 1.0 },
            active_limit_cm3: conditions.limit_cm3(*dopant).unwrap_or(None),
            solubility_cm3: solubility(*dopant, conditions.temperature)
                .map(|limit| limit.concentration_cm3),
        }
    })
    .collect()
}

/// The start as a profile of the report.
pub(super) fn start_profile(layers: &[(Dopant, Layer)]) -> Profile {
    let mut depth_um: Vec<f64> = layers
        .iter()
        .flat_map(|(_, layer)| layer.points().0.iter().map(|x| x * 1e4))
        .collect();
    crate::num::sort_increasing(&mut depth_um);
    depth_um.dedup_by(|a, b| *a - *b < 1e-9);
    let dopants = layers
        .iter()
        .map(|(dopant, layer)| {
            let c = depth_um.iter().map(|x| layer.concentration_cm3(x * 1e-4)).collect();
            (*dopant, c)
        })
        .collect::<Vec<_>>();
    let deepest = layers
        .iter()
        .map(|(_, layer)| layer.depth_where_below(1e-8 * layer.largest_cm3()) * 1e4)
        .fold(0.0, f64::max);
    let mut profile = Profile { depth_um, dopants, ..Profile::default() };
    thin(&mut profile, deepest, &[], POINTS);
    profile
}

fn net(dopants: &[(Dopant, Vec<f64>)], background_cm3: f64, points: usize) -> Vec<f64> {
    let mut net = vec![background_cm3; points];
    for (dopant, c) in dopants {
        for (net, c) in net.iter_mut().zip(c) {
            *net += dopant.charge() * c;
        }
    }
    net
}

/// Depth in um down to which the dopants outweigh the substrate; `None` if nowhere.
fn doped_depth_um(simulated: &Simulated) -> Option<f64> {
    let limit = simulated.substrate.concentration_cm3;
    let last = deepest_above(simulated, |_| limit)?;
    simulated.depth_um.get((last + 1).min(simulated.depth_um.len() - 1)).copied()
}

/// The last point at which a dopant lies above its limit.
fn deepest_above(simulated: &Simulated, limit: impl Fn(f64) -> f64) -> Option<usize> {
    simulated
        .dopants
        .iter()
        .filter_map(|(_, c)| {
            let largest = c.iter().copied().fold(0.0, f64::max);
            c.iter().rposition(|&c| limit(largest) < c)
        })
        .max()
}

/// Depth in um that is worth drawing.
fn shown_depth_um(simulated: &Simulated, junctions_um: &[f64]) -> f64 {
    let floor = 0.01 * simulated.substrate.concentration_cm3;
    let last = deepest_above(simulated, |largest| floor.max(1e-9 * largest));
    let deep = last.and_then(|i| simulated.depth_um.get(i + 1)).copied().unwrap_or(0.0);
    let junction = junctions_um.last().copied().unwrap_or(0.0);
    let least = simulated.depth_um.get(10).copied().unwrap_or(0.0);
    deep.max(1.25 * junction).max(least)
}

/// Thins a profile to about `points` points, evenly along the curves as they are drawn on a
/// logarithmic scale, and drops what lies below `deepest_um`. The points around a junction stay.
pub(super) fn thin(
    profile: &mut Profile,
    deepest_um: f64,
    junctions_um: &[f64],
    points: usize,
) {
    let x = &profile.depth_um;
    let end = x.partition_point(|&x| x <= deepest_um).clamp(2.min(x.len()), x.len());
    let chosen = if end <= points {
        (0..end).collect()
    } else {
        let mut length = Vec::with_capacity(end);
        let mut sum = 0.0;
        length.push(0.0);
        let logs: Vec<Vec<f64>> = profile
            .dopants
            .iter()
            .map(|(_, c)| {
                let floor = 1e-9 * c.iter().copied().fold(0.0, f64::max);
                c[..end].iter().map(|&c| ln(c.max(floor).max(1e-300))).collect()
            })
            .collect();
        for i in 1..end {
            let mut step = 3.0 * (x[i] - x[i - 1]) / x[end - 1];
            for log in &logs {
                step += (log[i] - log[i - 1]).abs() / 20.0;
            }
            sum += step;
            length.push(sum);
        }
        let mut chosen: Vec<usize> = Vec::with_capacity(points + 20);
        for k in 0..points {
            let want = sum * k as f64 / (points - 1) as f64;
            chosen.push(length.partition_point(|&l| l < want).min(end - 1));
        }
        for junction in junctions_um {
            let at = x.partition_point(|x| x < junction);
            chosen.extend(at.saturating_sub(3)..(at + 3).min(end));
        }
        chosen.sort_unstable();
        chosen.dedup();
        chosen
    };
    let pick = |list: &mut Vec<f64>| {
        if !list.is_empty() {
            *list = chosen.iter().map(|&i| list[i]).collect();
        }
    };
    pick(&mut profile.depth_um);
    pick(&mut profile.net_cm3);
    pick(&mut profile.active_net_cm3);
    for (_, c) in &mut profile.dopants {
        pick(c);
    }
}

/// The closed form at the depths of the profile; empty if there is none.
fn closed_form_profile(
    profile: &Profile,
    simulated: &Simulated,
    closed_form_cm3: impl Fn(f64) -> Option<f64>,
) -> Profile {
    let c: Option<Vec<f64>> =
        profile.depth_um.iter().map(|&x| closed_form_cm3(x)).collect();
    match (c, simulated.dopants.first()) {
        (Some(c), Some((dopant, _))) => Profile {
            depth_um: profile.depth_um.clone(),
            dopants: vec![(*dopant, c)],
            ..Profile::default()
        },
        _ => Profile::default(),
    }
}

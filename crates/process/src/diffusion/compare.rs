//! The same recipe with other diffusivities or other dopants, side by side.
//!
//! Cheap enough to be asked at every move of a slider: a predeposition is compared by its exact
//! profile, a drive-in by the spreading of its start with the intrinsic diffusivity under a
//! closed surface, which is exact where the doping stays below the intrinsic density.

use serde::Serialize;

use super::answer;
use super::drive_in::DriveIn;
use super::layer::Layer;
use super::predeposition::{Predeposition, simulate};
use super::request::PredepositionFields;
use super::simulated::Conditions;
use crate::error::RequestError;
use crate::num::{erf, linspace, ln};
use crate::profile::Profile;
use crate::vocabulary::{Comparison, DiffusivitySet, Dopant, DopantSource, Substrate};

/// A diffusion beside others.
#[derive(Clone, Debug, Serialize)]
pub struct ComparisonResults {
    /// What differs between the rows.
    pub compare: Comparison,
    /// How the rows were computed.
    pub method: &'static str,
    /// One row for each set or dopant; the first is the one that was asked for.
    pub rows: Vec<Compared>,
    /// What could not be computed, with the reason.
    pub left_out: Vec<LeftOut>,
    /// The deepest junction over the shallowest; null without two junctions.
    pub junction_spread: Option<f64>,
}

/// One row of a comparison.
#[derive(Clone, Debug, Serialize)]
pub struct Compared {
    /// The dopant.
    pub dopant: Dopant,
    /// The set of diffusivities.
    pub diffusivity: DiffusivitySet,
    /// Diffusivity in intrinsic silicon in cm2/s.
    pub intrinsic_d_cm2_s: f64,
    /// sqrt(D t) with it in um.
    pub root_dt_um: f64,
    /// Concentration at the surface per cm3.
    pub surface_concentration_cm3: f64,
    /// Dose in the silicon per cm2.
    pub dose_cm2: f64,
    /// The deepest junction in um; null = none.
    pub junction_depth_um: Option<f64>,
    /// The profile.
    pub profile: Profile,
}

/// A dopant or set that is missing in a comparison.
#[derive(Clone, Debug, Serialize)]
pub struct LeftOut {
    /// The dopant.
    pub dopant: Dopant,
    /// The set of diffusivities.
    pub diffusivity: DiffusivitySet,
    /// Why.
    pub reason: String,
}

/// Points of a compared profile, about.
const POINTS: usize = 60;
/// Pieces of the start that are spread.
const PIECES: usize = 120;

/// Compares a predeposition; `None` if nothing is asked.
pub(super) fn of_predeposition(
    fields: &PredepositionFields,
    done: &Predeposition,
) -> Option<ComparisonResults> {
    let compare = fields.compare?;
    let set = done.simulated.conditions.set;
    collect(
        compare,
        "the exact profile of a constant source",
        done.dopant,
        set,
        |dopant, set| {
            let mut other = fields.clone();
            other.compare = None;
            other.substrate = Some(done.simulated.substrate);
            other.diffusivity = Some(set);
            if dopant != fields.dopant {
                other.dopant = dopant;
                other.glass = None;
                other.phosphorus_tail = None;
                // Each dopant from its usual source, at the same surface concentration if one is
                // given.
                other.source = other.source.filter(|s| *s == DopantSource::DopedGlass);
            }
            let simulated = simulate(&other)?.simulated;
            let answered = answer::answer(&simulated, |_| None);
            let junction = answered.junctions_um.last().copied();
            let mut profile = answered.profile;
            profile.net_cm3.clear();
            profile.active_net_cm3.clear();
            let deepest = profile.depth_um.last().copied().unwrap_or(0.0);
            answer::thin(&mut profile, deepest, &[], POINTS);
            let (_, c) = &simulated.dopants[0];
            Ok(Compared {
                dopant,
                diffusivity: set,
                intrinsic_d_cm2_s: intrinsic(&simulated.conditions, set, dopant)?,
                root_dt_um: simulated.root_dt_um,
                surface_concentration_cm3: c.first().copied().unwrap_or(0.0),
                dose_cm2: simulated.layers.first().map_or(0.0, Layer::dose_cm2),
                junction_depth_um: junction,
                profile,
            })
        },
    )
}

/// Compares a drive-in; `None` if nothing is asked.
pub(super) fn of_drive_in(done: &DriveIn) -> Option<ComparisonResults> {
    let (first, layer) = done.start.layers.first()?;
    let conditions = done.simulated.conditions;
    let pieces = layer.pieces(PIECES);
    let start_um = layer.depth_where_below(1e-4 * layer.largest_cm3()) * 1e4;
    let method =
        "the start spread with the intrinsic diffusivity, surface closed, inert gas";
    collect(done.compare, method, *first, conditions.set, |dopant, set| {
        let d_cm2_s = intrinsic(&conditions, set, dopant)?;
        let root_dt_um = (d_cm2_s * conditions.time_s).sqrt() * 1e4;
        let at = |depth_um: f64| spread(&pieces, root_dt_um, depth_um);
        let depth_um = linspace(0.0, start_um + 9.0 * root_dt_um, POINTS);
        let c: Vec<f64> = depth_um.iter().map(|&x| at(x)).collect();
        Ok(Compared {
            dopant,
            diffusivity: set,
            intrinsic_d_cm2_s: d_cm2_s,
            root_dt_um,
            surface_concentration_cm3: c.first().copied().unwrap_or(0.0),
            dose_cm2: layer.dose_cm2(),
            junction_depth_um: junction(
                dopant,
                done.simulated.substrate,
                &depth_um,
                &c,
                at,
            ),
            profile: Profile {
                depth_um,
                dopants: vec![(dopant, c)],
                ..Profile::default()
            },
        })
    })
}

/// Runs every row; the one that was asked for comes first.
fn collect(
    compare: Comparison,
    method: &'static str,
    dopant: Dopant,
    set: DiffusivitySet,
    row: impl Fn(Dopant, DiffusivitySet) -> Result<Compared, RequestError>,
) -> Option<ComparisonResults> {
    let mut cases = vec![(dopant, set)];
    match compare {
        Comparison::Nothing => return None,
        Comparison::Models => {
            cases.extend(
                DiffusivitySet::ALL.iter().filter(|s| **s != set).map(|s| (dopant, *s)),
            );
        }
        Comparison::Dopants => {
            let same =
                |d: &&Dopant| **d != dopant && d.doping_type() == dopant.doping_type();
            cases.extend(Dopant::ALL.iter().filter(same).map(|d| (*d, set)));
        }
    }
    let (mut rows, mut left_out) = (Vec::new(), Vec::new());
    for (dopant, diffusivity) in cases {
        match row(dopant, diffusivity) {
            Ok(done) => rows.push(done),
            Err(error) => {
                left_out.push(LeftOut { dopant, diffusivity, reason: error.message });
            }
        }
    }
    let depths: Vec<f64> = rows.iter().filter_map(|r| r.junction_depth_um).collect();
    let deepest = depths.iter().copied().fold(0.0, f64::max);
    let shallowest = depths.iter().copied().fold(f64::INFINITY, f64::min);
    let junction_spread = (1 < depths.len()).then(|| deepest / shallowest);
    Some(ComparisonResults { compare, method, rows, left_out, junction_spread })
}

fn intrinsic(
    conditions: &Conditions,
    set: DiffusivitySet,
    dopant: Dopant,
) -> Result<f64, RequestError> {
    Ok(set.require(dopant)?.intrinsic_cm2_s(conditions.temperature))
}

/// Concentration per cm3 at a depth in um after pieces of even concentration have spread by
/// `root_dt_um` under a closed surface (J. Crank, The Mathematics of Diffusion, 2nd ed. 1975,
/// ch. 2; memory).
fn spread(pieces: &[(f64, f64, f64)], root_dt_um: f64, depth_um: f64) -> f64 {
    let width_cm = 2e-4 * root_dt_um;
    let x = depth_um * 1e-4;
    let part = |edge: f64| erf((x + edge) / width_cm) - erf((x - edge) / width_cm);
    let mut sum = 0.0;
    let mut above = None;
    for &(from, to, c) in pieces {
        let top = above.unwrap_or_else(|| part(from));
        let below = part(to);
        sum += 0.5 * c * (below - top);
        above = Some(below);
    }
    sum.max(0.0)
}

/// The deepest depth at which the dopant equals a substrate of the other type.
fn junction(
    dopant: Dopant,
    substrate: Substrate,
    depth_um: &[f64],
    c: &[f64],
    at: impl Fn(f64) -> f64,
) -> Option<f64> {
    let level = substrate.concentration_cm3;
    if dopant.doping_type() == substrate.doping_type {
        return None;
    }
    let last = c.iter().rposition(|&c| level < c)?;
    let over = |x: f64| ln(at(x).max(1e-290)) - ln(level);
    let (mut above, mut below) = (*depth_um.get(last)?, *depth_um.get(last + 1)?);
    for _ in 0..5 {
        let middle = 0.5 * (above + below);
        if 0.0 < over(middle) { above = middle } else { below = middle }
    }
    // A thirtieth of a step wide, the curve is straight on the logarithm.
    let (high, low) = (over(above), over(below));
    Some(above + (below - above) * high / (high - low))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diffusion::closed_form::LimitedSource;

    #[test]
    fn a_spread_gaussian_is_a_wider_gaussian() {
        let start = LimitedSource { dose_cm2: 1e14, range_um: 0.3, width_um: 0.06 };
        let x = linspace(0.0, 0.8, 2000);
        let c: Vec<f64> = x.iter().map(|&x| start.concentration_cm3(x)).collect();
        let cm: Vec<f64> = x.iter().map(|x| x * 1e-4).collect();
        let pieces = Layer::from_points(&cm, &c).pieces(PIECES);
        assert!(pieces.len() <= PIECES + 1);
        let root_dt_um = 0.2;
        let width_um = (0.06_f64 * 0.06 + 2.0 * 0.2 * 0.2).sqrt();
        let end = LimitedSource { width_um, ..start };
        for x in [0.0, 0.2, 0.5, 1.0, 1.4] {
            let ratio = spread(&pieces, root_dt_um, x) / end.concentration_cm3(x);
            assert!((ratio - 1.0).abs() < 2e-3, "{x} {ratio}");
        }
    }
}

//! A dry etch from the request to the report.

mod cautions;
mod chemistry;
mod derivation;
mod profile;
mod request;

pub use chemistry::{Chemistry, DryEtchRow, EndPoint, Spread, usual_stop};
pub use profile::{lateral_nm, time_to_clear_step_s};
pub(super) use request::DryEtchRequest;
pub use request::{MASK_THICKNESS_NM, SELECTIVITY, STEP_HEIGHT_NM, STOP_THICKNESS_NM};

use serde::Serialize;
use serde_json::{Map, Value};

use super::film::Variant;
use super::mask::Mask;
use super::request::{
    MASK_LINE_UM, MASK_OPENING_UM, OVER_ETCH_PERCENT, THICKNESS_NM, TIME_S,
};
use crate::bench::OperationSchema;
use crate::error::RequestError;
use crate::hazards;
use crate::num::{asin, linspace, sort_increasing};
use crate::report::{Accuracy, Report};
use crate::request::read_fields;
use crate::vocabulary::Material;
use request::DryEtch;

/// Points of the curve, without the present time and the clear times.
const CURVE_POINTS: usize = 60;
/// Points of an outline.
const OUTLINE_POINTS: usize = 32;

/// Results of a dry etch.
#[derive(Clone, Debug, Serialize)]
pub struct DryEtchResults {
    /// The film that is etched.
    pub material: Material,
    /// Its gases.
    pub chemistry: Chemistry,
    /// The layer below.
    pub stop: Material,
    /// Film at the start in nm.
    pub thickness_nm: f64,
    /// Film removed on flat ground in nm.
    pub etched_nm: f64,
    /// Film left there in nm.
    pub remaining_nm: f64,
    /// Etch time given or needed in s.
    pub time_s: f64,
    /// Vertical rate in nm/min.
    pub rate_nm_min: f64,
    /// Low end of its usual range in nm/min.
    pub rate_low_nm_min: f64,
    /// High end of it in nm/min.
    pub rate_high_nm_min: f64,
    /// `1 - lateral rate / vertical rate`.
    pub anisotropy: f64,
    /// How far the film is gone sideways under the mask edge in nm.
    pub lateral_nm: f64,
    /// The same at the bottom of the film in nm; null while not cleared.
    pub bottom_lateral_nm: Option<f64>,
    /// Slope of the lower, straight part of the wall in degrees; 90 = upright.
    pub wall_deg: f64,
    /// Time until the flat film is gone in s.
    pub time_to_clear_s: f64,
    /// Time until the film at the step is gone too in s; null without a step.
    pub time_to_clear_step_s: Option<f64>,
    /// Time past the last of these in percent of the flat clear time; null before it.
    pub over_etch_percent: Option<f64>,
    /// Height of film left at the foot of the step, above its ground, in nm; null without.
    pub step_left_nm: Option<f64>,
    /// Width of it in nm; null without a step.
    pub step_left_width_nm: Option<f64>,
    /// Step under the film in nm.
    pub step_height_nm: f64,
    /// Film over layer below.
    pub selectivity: f64,
    /// Loss of the layer below on flat ground in nm.
    pub stop_layer_loss_nm: f64,
    /// The same at the low end of the selectivity in nm.
    pub stop_layer_worst_loss_nm: f64,
    /// Thickness of the layer below in nm, if given.
    pub stop_layer_nm: Option<f64>,
    /// Loss of the resist mask in nm; null without a mask.
    pub mask_loss_nm: Option<f64>,
    /// Mask at the start in nm; null without.
    pub mask_nm: Option<f64>,
    /// Width of the mask opening in um, if given.
    pub mask_opening_um: Option<f64>,
    /// Width of the mask line in um, if given.
    pub mask_line_um: Option<f64>,
    /// Opening at the top of the film in um.
    pub opening_um: Option<f64>,
    /// Line left at the top of the film in um; 0 = gone.
    pub line_um: Option<f64>,
    /// Line left at its bottom in um; null while the film is not cleared.
    pub line_bottom_um: Option<f64>,
    /// Light of the plasma that tells the end.
    pub end_point: EndPoint,
    /// The wall under the mask edge.
    pub wall: Outline,
    /// The film at the step.
    pub step_outline: Outline,
    /// Everything against time.
    pub curve: DryEtchCurve,
}

/// A line of a section in nm, from the mask edge or from the step outward; both lists have the
/// same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Outline {
    /// Sideways.
    pub across_nm: Vec<f64>,
    /// Depth below the film's top (wall), height above the ground (step).
    pub along_nm: Vec<f64>,
}

/// A dry etch against time; all lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct DryEtchCurve {
    /// Times in s.
    pub time_s: Vec<f64>,
    /// Film left on flat ground in nm.
    pub remaining_nm: Vec<f64>,
    /// Film above the ground at the step's foot in nm; empty without a step.
    pub step_left_nm: Vec<f64>,
    /// Loss of the layer below in nm.
    pub stop_layer_loss_nm: Vec<f64>,
}

/// Runs a dry etch.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run(fields: Map<String, Value>) -> Result<Report<DryEtchResults>, RequestError> {
    let request: DryEtchRequest = read_fields(fields)?;
    let etch = request.check()?;
    let results = etch.results();
    let working = derivation::working(&etch, &results);
    let warnings = cautions::warnings(&etch, &results);
    let rate = etch.row.rate_nm_min;
    let up = rate.high / rate.value - 1.0;
    let down = 1.0 - rate.low / rate.value;
    Ok(Report {
        operation: "dry_etch",
        published: Vec::new(),
        accuracy: Some(Accuracy {
            relative: up.max(down).max(0.5),
            meaning: "etch rates differ that much from one etcher and recipe to the next; measure your own on a test piece",
            source: "usual range of the rate, at least 50 % (common practice)",
        }),
        results,
        working,
        warnings,
        hazards: hazards::for_step(
            "dry_etch",
            &[etch.chemistry.word(), etch.film.material.word()],
        ),
        kernel_version: "",
    })
}

/// The form of dry etching.
#[must_use]
pub fn schema() -> OperationSchema {
    OperationSchema {
        operation: "dry_etch",
        numbers: vec![
            THICKNESS_NM,
            STEP_HEIGHT_NM,
            TIME_S,
            OVER_ETCH_PERCENT,
            MASK_OPENING_UM,
            MASK_LINE_UM,
            MASK_THICKNESS_NM,
            STOP_THICKNESS_NM,
            SELECTIVITY,
        ],
        choices: vec![
            Chemistry::choice("chemistry", "Gases", None),
            Material::choice("material", "Film", None),
            Variant::choice("variant", "How the film was made", None),
            Material::choice("stop.material", "Layer below", None),
        ],
    }
}

impl DryEtch {
    /// Film left on flat ground in nm.
    fn remaining_nm(&self, time_s: f64) -> f64 {
        // The last bits of d/R R must not leave a film one atom thick.
        let left_nm = self.thickness_nm - self.rate_nm_min() * time_s / 60.0;
        if left_nm < 1e-9 * self.thickness_nm { 0.0 } else { left_nm }
    }

    /// Radius in nm of the rounded film that is left about the step's upper edge, and how far
    /// its center has sunk below that edge.
    fn step_round_nm(&self, time_s: f64) -> [f64; 2] {
        let front_nm = self.rate_nm_min() * time_s / 60.0;
        let sideways_nm = (1.0 - self.anisotropy()) * front_nm;
        [(self.thickness_nm - sideways_nm).max(0.0), front_nm - sideways_nm]
    }

    /// Width in nm of the film at the step's foot.
    fn step_width_nm(&self, time_s: f64) -> f64 {
        let [radius_nm, sunk_nm] = self.step_round_nm(time_s);
        let below_nm = (sunk_nm - self.step_nm).max(0.0);
        ((radius_nm - below_nm) * (radius_nm + below_nm)).max(0.0).sqrt()
    }

    /// Height in nm of the film at the step's foot above its ground.
    fn step_left_nm(&self, time_s: f64) -> f64 {
        if self.clear_step_s() * (1.0 - 1e-12) <= time_s {
            return 0.0;
        }
        let tall_nm = self.thickness_nm + self.step_nm;
        (tall_nm - self.rate_nm_min() * time_s / 60.0).max(0.0)
    }

    /// Loss of the layer below in nm at a selectivity.
    fn stop_loss_nm(&self, time_s: f64, selectivity: f64) -> f64 {
        let bare_s = (time_s - self.clear_s()).max(0.0);
        self.rate_nm_min() * bare_s / 60.0 / selectivity
    }

    fn results(&self) -> DryEtchResults {
        let (time_s, rate) = (self.time_s, self.row.rate_nm_min);
        let (d_nm, anisotropy) = (self.thickness_nm, self.anisotropy());
        let remaining_nm = self.remaining_nm(time_s);
        let cleared = remaining_nm <= 0.0;
        let front_nm = rate.value * time_s / 60.0;
        let lateral = |depth_nm: f64| lateral_nm(front_nm, anisotropy, depth_nm);
        let bottom_nm = cleared.then(|| lateral(d_nm));
        let stepped = 0.0 < self.step_nm;
        let (clear_s, clear_step_s) = (self.clear_s(), self.clear_step_s());
        let last_s = if stepped { clear_step_s } else { clear_s };
        let masked = !matches!(self.mask, Mask::None);
        let wider = |width_um: f64, by_nm: f64| (width_um + 2e-3 * by_nm).max(0.0);
        let line = self.mask.line_um();
        DryEtchResults {
            material: self.film.material,
            chemistry: self.chemistry,
            stop: self.stop,
            thickness_nm: d_nm,
            etched_nm: d_nm - remaining_nm,
            remaining_nm,
            time_s,
            rate_nm_min: rate.value,
            rate_low_nm_min: rate.low,
            rate_high_nm_min: rate.high,
            anisotropy,
            lateral_nm: lateral(0.0),
            bottom_lateral_nm: bottom_nm,
            wall_deg: 90.0 - asin(1.0 - anisotropy).to_degrees(),
            time_to_clear_s: clear_s,
            time_to_clear_step_s: stepped.then_some(clear_step_s),
            over_etch_percent: (last_s * (1.0 - 1e-12) <= time_s)
                .then(|| 100.0 * ((time_s - last_s) / clear_s).max(0.0)),
            step_left_nm: stepped.then(|| self.step_left_nm(time_s)),
            step_left_width_nm: stepped.then(|| {
                if 0.0 < self.step_left_nm(time_s) {
                    self.step_width_nm(time_s)
                } else {
                    0.0
                }
            }),
            step_height_nm: self.step_nm,
            selectivity: self.selectivity.value,
            stop_layer_loss_nm: self.stop_loss_nm(time_s, self.selectivity.value),
            stop_layer_worst_loss_nm: self.stop_loss_nm(time_s, self.selectivity.low),
            stop_layer_nm: self.stop_thickness_nm,
            mask_loss_nm: self
                .row
                .selectivity_to(Material::Resist)
                .filter(|_| masked)
                .map(|to_resist| front_nm / to_resist.value),
            mask_nm: masked.then_some(self.mask_thickness_nm),
            mask_opening_um: self.mask.opening_um(),
            mask_line_um: line,
            opening_um: self.mask.opening_um().map(|um| wider(um, lateral(0.0))),
            line_um: line.map(|um| wider(um, -lateral(0.0))),
            line_bottom_um: line.zip(bottom_nm).map(|(um, by_nm)| wider(um, -by_nm)),
            end_point: self.row.end_point,
            wall: self.wall(d_nm - remaining_nm),
            step_outline: if stepped { self.step_outline() } else { Outline::default() },
            curve: self.curve(last_s),
        }
    }

    fn wall(&self, etched_nm: f64) -> Outline {
        let front_nm = self.rate_nm_min() * self.time_s / 60.0;
        let along_nm = linspace(0.0, etched_nm, OUTLINE_POINTS);
        Outline {
            across_nm: along_nm
                .iter()
                .map(|&z| lateral_nm(front_nm, self.anisotropy(), z))
                .collect(),
            along_nm,
        }
    }

    /// The film beside the step: what is left of its rounded corner, and not below flat film.
    fn step_outline(&self) -> Outline {
        let [radius_nm, sunk_nm] = self.step_round_nm(self.time_s);
        let flat_nm = self.remaining_nm(self.time_s);
        let gone = self.step_left_nm(self.time_s) <= 0.0;
        let width_nm = if gone { 0.0 } else { radius_nm };
        let across_nm = linspace(0.0, width_nm, OUTLINE_POINTS);
        Outline {
            along_nm: across_nm
                .iter()
                .map(|&u| {
                    let high_nm = ((radius_nm - u) * (radius_nm + u)).max(0.0).sqrt();
                    (self.step_nm - sunk_nm + high_nm).max(flat_nm)
                })
                .collect(),
            across_nm,
        }
    }

    /// From the start to somewhat beyond the present time and the last clear time.
    fn curve(&self, last_s: f64) -> DryEtchCurve {
        let end_s = (1.3 * self.time_s).max(1.15 * last_s);
        let mut time_s = linspace(0.0, end_s, CURVE_POINTS);
        time_s.extend([self.time_s, self.clear_s(), last_s]);
        sort_increasing(&mut time_s);
        time_s.dedup_by(|b, a| *b - *a < 1e-9 * end_s);
        let along = |f: &dyn Fn(f64) -> f64| -> Vec<f64> {
            time_s.iter().map(|&t| f(t)).collect()
        };
        DryEtchCurve {
            remaining_nm: along(&|t| self.remaining_nm(t)),
            step_left_nm: if 0.0 < self.step_nm {
                along(&|t| self.step_left_nm(t))
            } else {
                Vec::new()
            },
            stop_layer_loss_nm: along(&|t| self.stop_loss_nm(t, self.selectivity.value)),
            time_s,
        }
    }
}

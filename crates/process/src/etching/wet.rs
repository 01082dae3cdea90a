//! A wet etch from the request to the report.

use serde::Serialize;
use serde_json::{Map, Value};

use super::bath::Etchant;
use super::clearing::{
    KOH_WALL_DEG, bottom_undercut_nm, self_stop_depth_nm, time_to_clear_everywhere_s,
    time_to_clear_s, under_layer_loss_nm, under_layer_worst_loss_nm,
};
use super::film::{Film, Variant};
use super::mask::Mask;
use super::rate::rate_at;
use super::rate_table::Basis;
use super::request::{
    BORON_CM3, CONCENTRATION_PERCENT, FILM_SPREAD_PERCENT, MASK_LINE_UM, MASK_OPENING_UM,
    OVER_ETCH_PERCENT, RATE_NM_MIN, RATE_SPREAD_PERCENT, TEMPERATURE_C, THICKNESS_NM,
    TIME_S, WetEtch, WetEtchRequest,
};
use super::{cautions, derivation};
use crate::bench::OperationSchema;
use crate::error::RequestError;
use crate::hazards;
use crate::num::linspace;
use crate::report::{Accuracy, PublishedPoint, Report};
use crate::request::read_fields;
use crate::vocabulary::Material;

/// Rate of (100) silicon over rate of its (111) walls in KOH or TMAH.
///
/// Published ratios run from 30 to more than 100 (common practice); 50 is a model choice.
pub(super) const PLANE_RATIO: f64 = 50.0;

/// Points of the curve, without the present time and the clear times.
const CURVE_POINTS: usize = 60;

/// Results of a wet etch.
#[derive(Clone, Debug, Serialize)]
pub struct WetEtchResults {
    /// The film that is etched.
    pub material: Material,
    /// How the film was made; null if the rates do not distinguish.
    pub variant: Option<Variant>,
    /// Temperature of the bath in C.
    pub temperature_c: f64,
    /// Strength of the bath in percent, where it can be chosen.
    pub concentration_percent: Option<f64>,
    /// Film at the start in nm.
    pub thickness_nm: f64,
    /// Film removed in nm (nominal film and rate).
    pub etched_nm: f64,
    /// Film left in nm.
    pub remaining_nm: f64,
    /// Etch time given or needed in s.
    pub time_s: f64,
    /// Rate at the bath temperature in nm/min.
    pub rate_nm_min: f64,
    /// Low end of the rate's published or expected spread in nm/min.
    pub rate_low_nm_min: f64,
    /// High end of it in nm/min.
    pub rate_high_nm_min: f64,
    /// How the rate is known.
    pub rate_basis: Basis,
    /// Time to clear the nominal film in s; null if the bath does not clear it.
    pub time_to_clear_s: Option<f64>,
    /// Time to clear the thickest film at the slowest rate in s; null as above.
    pub time_to_clear_everywhere_s: Option<f64>,
    /// Over-etch beyond the nominal clear time in percent; null while not cleared.
    pub over_etch_percent: Option<f64>,
    /// How far the film is gone sideways under the mask edge in nm.
    pub undercut_nm: f64,
    /// The same at the bottom of the film in nm; null while not cleared and with flat walls.
    pub bottom_undercut_nm: Option<f64>,
    /// Slope of the walls in degrees if crystal planes set it; null for a round profile.
    pub wall_deg: Option<f64>,
    /// Width of the mask opening in um, if a mask with an opening was given.
    pub mask_opening_um: Option<f64>,
    /// Width of the mask line in um, if a mask with a line was given.
    pub mask_line_um: Option<f64>,
    /// Opening at the top of the film in um.
    pub opening_um: Option<f64>,
    /// Opening at the bottom of the etched part in um; 0 = not open, or the walls met.
    pub opening_bottom_um: Option<f64>,
    /// Line left at the top of the film in um; 0 = gone.
    pub line_um: Option<f64>,
    /// Line left at the bottom of the film in um; null while the film is not cleared.
    pub line_bottom_um: Option<f64>,
    /// How many times faster the film etches than each other material.
    pub selectivity: Vec<Selectivity>,
    /// What is looked at to know that the film is gone.
    pub end_point: &'static str,
    /// Film left against time.
    pub curve: EtchCurve,
}

/// Ratio of two etch rates.
#[derive(Clone, Debug, Serialize)]
pub struct Selectivity {
    /// The other material.
    pub material: Material,
    /// Rate of the film over rate of the other material; null if the other one is not etched.
    pub ratio: Option<f64>,
    /// Rate of the other material in nm/min.
    pub rate_nm_min: f64,
    /// What it loses in nm if it lies under the film: its rate times the over-etch time.
    pub loss_nm: f64,
    /// The same where the film is thinnest and all rates are fastest, in nm.
    pub worst_loss_nm: f64,
}

/// Film left against time; all lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct EtchCurve {
    /// Times in s.
    pub time_s: Vec<f64>,
    /// Film left in nm.
    pub remaining_nm: Vec<f64>,
    /// Film left in the worst place (thickest film, slowest rate) in nm.
    pub worst_remaining_nm: Vec<f64>,
    /// Undercut at each time in nm.
    pub undercut_nm: Vec<f64>,
}

/// Runs a wet etch.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run(fields: Map<String, Value>) -> Result<Report<WetEtchResults>, RequestError> {
    let request: WetEtchRequest = read_fields(fields)?;
    let etch = request.check()?;
    let results = etch.results();
    let working = derivation::working(&etch, &results);
    let warnings = cautions::warnings(&etch, &results);
    Ok(Report {
        operation: "wet_etch",
        published: published(&etch, &results),
        accuracy: accuracy(&etch),
        results,
        working,
        warnings,
        hazards: hazards::for_step("wet_etch", &etch.chemistry()),
        kernel_version: "",
    })
}

/// The form of wet etching.
#[must_use]
pub fn schema() -> OperationSchema {
    OperationSchema {
        operation: "wet_etch",
        numbers: vec![
            THICKNESS_NM,
            TEMPERATURE_C,
            CONCENTRATION_PERCENT,
            TIME_S,
            OVER_ETCH_PERCENT,
            RATE_NM_MIN,
            BORON_CM3,
            FILM_SPREAD_PERCENT,
            RATE_SPREAD_PERCENT,
            MASK_OPENING_UM,
            MASK_LINE_UM,
        ],
        choices: vec![
            Etchant::choice("etchant", "Bath", None),
            Material::choice("material", "Film", None),
            Variant::choice("variant", "How the film was made", None),
        ],
    }
}

impl WetEtch {
    /// Whether crystal planes shape the profile.
    pub(super) fn is_anisotropic(&self) -> bool {
        self.bath.etchant.is_anisotropic() && self.film.material == Material::Silicon
    }

    /// Undercut in nm after a time.
    ///
    /// Isotropic: the front goes sideways as fast as down. Along (111) planes the wall moves
    /// at the rate of the plane over the sine of its angle (sin 54.74 = sqrt(2/3)).
    pub(super) fn undercut_nm(&self, time_s: f64) -> f64 {
        let front_nm = self.rate.rate_nm_min * time_s / 60.0;
        if self.is_anisotropic() {
            front_nm / (PLANE_RATIO * (2.0_f64 / 3.0).sqrt())
        } else {
            front_nm
        }
    }

    /// Depth in nm at which the walls of an opening meet and the etch ends; none otherwise.
    pub(super) fn stop_depth_nm(&self, time_s: f64) -> Option<f64> {
        match self.mask {
            Mask::Opening(width_um) if self.is_anisotropic() => {
                Some(self_stop_depth_nm(width_um + 2e-3 * self.undercut_nm(time_s)))
            }
            _ => None,
        }
    }

    /// Depth in nm that is etched after a time at a rate, in a film of a thickness.
    fn depth_nm(&self, time_s: f64, rate_nm_min: f64, thickness_nm: f64) -> f64 {
        let front_nm = rate_nm_min * time_s / 60.0;
        let stop_nm = self.stop_depth_nm(time_s).unwrap_or(f64::INFINITY);
        front_nm.min(thickness_nm).min(stop_nm)
    }

    fn results(&self) -> WetEtchResults {
        let (d_nm, rate) = (self.thickness_nm, self.rate.rate_nm_min);
        let etched_nm = self.depth_nm(self.time_s, rate, d_nm);
        let clears =
            0.0 < rate && self.stop_depth_nm(0.0).is_none_or(|stop_nm| d_nm <= stop_nm);
        let clear_s = clears.then(|| time_to_clear_s(d_nm, rate));
        let everywhere_s = clears.then(|| {
            time_to_clear_everywhere_s(d_nm, rate, self.film_spread, self.rate_spread)
        });
        let undercut_nm = self.undercut_nm(self.time_s);
        // The last bits of d/R R must not leave a film one atom thick.
        let remaining_nm =
            if d_nm - etched_nm < 1e-9 * d_nm { 0.0 } else { d_nm - etched_nm };
        let cleared = remaining_nm <= 0.0;
        // How far each edge has moved at the bottom of a cleared film.
        let bottom_shift_nm = if !cleared {
            None
        } else if self.is_anisotropic() {
            Some(undercut_nm - d_nm / core::f64::consts::SQRT_2)
        } else {
            bottom_undercut_nm((rate * self.time_s / 60.0).max(d_nm), d_nm)
        };
        let wall_inset_nm = if self.is_anisotropic() {
            etched_nm / core::f64::consts::SQRT_2
        } else {
            0.0
        };
        let (opening, line) = match self.mask {
            Mask::None => (None, None),
            Mask::Opening(width_um) => (Some(width_um), None),
            Mask::Line(width_um) => (None, Some(width_um)),
        };
        let wider = |width_um: f64, by_nm: f64| (width_um + 2e-3 * by_nm).max(0.0);
        let bottom_of_opening = |width_um: f64| {
            if self.is_anisotropic() {
                wider(width_um, undercut_nm - wall_inset_nm)
            } else {
                bottom_shift_nm.map_or(0.0, |by_nm| wider(width_um, by_nm))
            }
        };
        WetEtchResults {
            material: self.film.material,
            variant: self.film.variant,
            temperature_c: self.bath.temperature_c,
            concentration_percent: self.bath.concentration_percent,
            thickness_nm: d_nm,
            etched_nm: d_nm - remaining_nm,
            remaining_nm,
            time_s: self.time_s,
            rate_nm_min: rate,
            rate_low_nm_min: self.rate.low_nm_min,
            rate_high_nm_min: self.rate.high_nm_min,
            rate_basis: self.rate.basis,
            time_to_clear_s: clear_s,
            time_to_clear_everywhere_s: everywhere_s,
            over_etch_percent: clear_s
                .filter(|_| cleared)
                .map(|clear_s| 100.0 * (self.time_s / clear_s - 1.0).max(0.0)),
            undercut_nm,
            bottom_undercut_nm: bottom_shift_nm.filter(|_| !self.is_anisotropic()),
            wall_deg: self.is_anisotropic().then_some(KOH_WALL_DEG),
            mask_opening_um: opening,
            mask_line_um: line,
            opening_um: opening.map(|width_um| wider(width_um, undercut_nm)),
            opening_bottom_um: opening.map(bottom_of_opening),
            line_um: line.map(|width_um| wider(width_um, -undercut_nm)),
            line_bottom_um: line
                .zip(bottom_shift_nm)
                .map(|(width_um, by_nm)| wider(width_um, -by_nm)),
            selectivity: self.selectivity(),
            end_point: self.end_point(),
            curve: self.curve(clear_s, everywhere_s),
        }
    }

    /// End points by eye: common practice.
    fn end_point(&self) -> &'static str {
        match self.bath.etchant {
            etchant if etchant.is_hf() && self.film.is_oxide() => {
                "the wafer pulled from the bath dewets: water rolls off bare silicon; a native oxide stays wet, small windows are judged by color and back side"
            }
            Etchant::AluminumEtch if self.film.material == Material::Aluminum => {
                "the bubbles stop and the pattern appears; then 20 to 30 s more"
            }
            Etchant::Phosphoric if self.film.material == Material::Nitride => {
                "the color turns to that of the oxide below; mostly timed, with 20 to 50 % over"
            }
            _ if self.is_anisotropic() => {
                "timed, or stopped by the meeting walls, an oxide or a layer with much boron"
            }
            _ => "timed",
        }
    }

    fn selectivity(&self) -> Vec<Selectivity> {
        let rate_nm_min = self.rate.rate_nm_min;
        Material::ALL
            .iter()
            .filter(|&&material| material != self.film.material)
            .filter_map(|&material| {
                let other = rate_at(self.bath, Film::usual(material))?.here.rate_nm_min;
                // Nothing lies bare under a film that is never cleared.
                let loses = 0.0 < rate_nm_min;
                Some(Selectivity {
                    material,
                    ratio: (0.0 < other).then(|| rate_nm_min / other),
                    rate_nm_min: other,
                    loss_nm: if loses {
                        under_layer_loss_nm(
                            self.time_s,
                            self.thickness_nm,
                            rate_nm_min,
                            other,
                        )
                    } else {
                        0.0
                    },
                    worst_loss_nm: if loses {
                        under_layer_worst_loss_nm(
                            self.time_s,
                            self.thickness_nm,
                            rate_nm_min,
                            other,
                            self.film_spread,
                            self.rate_spread,
                        )
                    } else {
                        0.0
                    },
                })
            })
            .collect()
    }

    /// Film left from the start to somewhat beyond the present time and the last clear time.
    fn curve(&self, clear_s: Option<f64>, everywhere_s: Option<f64>) -> EtchCurve {
        // A film that is not etched at no given time still gets an axis of ten minutes.
        let end_s = (1.3 * self.time_s).max(1.15 * everywhere_s.unwrap_or(0.0));
        let end_s = if end_s <= 0.0 { 600.0 } else { end_s };
        let mut time_s = linspace(0.0, end_s, CURVE_POINTS);
        time_s.extend([Some(self.time_s), clear_s, everywhere_s].into_iter().flatten());
        crate::num::sort_increasing(&mut time_s);
        time_s.dedup_by(|b, a| *b - *a < 1e-9 * end_s);
        let (d_nm, rate) = (self.thickness_nm, self.rate.rate_nm_min);
        let thick_nm = d_nm * (1.0 + self.film_spread);
        let slow_nm_min = rate * (1.0 - self.rate_spread);
        let left = |d_nm: f64, rate_nm_min: f64| -> Vec<f64> {
            time_s.iter().map(|&t| d_nm - self.depth_nm(t, rate_nm_min, d_nm)).collect()
        };
        EtchCurve {
            remaining_nm: left(d_nm, rate),
            worst_remaining_nm: left(thick_nm, slow_nm_min),
            undercut_nm: time_s.iter().map(|&t| self.undercut_nm(t)).collect(),
            time_s,
        }
    }

    /// The words that choose the rows of the hazard table.
    fn chemistry(&self) -> Vec<&'static str> {
        // Above 10 % of 49 % HF the dilute row no longer fits; above 60 C an acid scalds.
        let strong = self.bath.etchant == Etchant::HfDilute
            && self.bath.concentration_percent.is_some_and(|percent| 10.0 < percent);
        let mut words = vec![
            if strong { Etchant::Hf49.word() } else { self.bath.etchant.word() },
            self.film.material.word(),
        ];
        if self.bath.etchant == Etchant::AluminumEtch && 60.0 < self.bath.temperature_c {
            words.push("hot");
        }
        words
    }
}

/// The clear time by a rate published elsewhere for the same bath and film.
fn published(etch: &WetEtch, results: &WetEtchResults) -> Vec<PublishedPoint> {
    let (Some(rate_at), Some(_)) = (etch.rate_at, results.time_to_clear_s) else {
        return Vec::new();
    };
    let at_table = (etch.bath.temperature_c - rate_at.table_temperature_c).abs() < 0.5;
    let slowed = etch.boron_cm3.is_some();
    if !at_table || slowed || rate_at.table.basis != Basis::Measured {
        return Vec::new();
    }
    super::published::rates(etch.bath, etch.film)
        .map(|row| PublishedPoint {
            id: row.id.to_owned(),
            curve: "curve",
            x: time_to_clear_s(etch.thickness_nm, row.rate_nm_min),
            y: 0.0,
            tolerance: row.tolerance,
            source: format!(
                "cleared at {} nm/min: {}",
                crate::num::show(row.rate_nm_min),
                row.source
            ),
        })
        .collect()
}

/// Half the published spread of the rate, at least 15 %.
fn accuracy(etch: &WetEtch) -> Option<Accuracy> {
    let rate = etch.rate;
    if rate.basis == Basis::Given || rate.rate_nm_min <= 0.0 {
        return None;
    }
    let up = rate.high_nm_min / rate.rate_nm_min - 1.0;
    let down = 1.0 - rate.low_nm_min / rate.rate_nm_min;
    Some(Accuracy {
        relative: up.max(down).max(0.15),
        meaning: "spread of the published or estimated rate; measure the rate of your own bath on a test piece",
        source: "low and high end of the rate table; at least 15 % between two baths (common practice)",
    })
}

//! The fields of a dry etch and their ranges.

use serde::Deserialize;

use super::chemistry::{Chemistry, DryEtchRow, Spread, usual_stop};
use super::profile::time_to_clear_step_s;
use crate::bound::{Bound, Scale};
use crate::error::RequestError;
use crate::etching::film::{Film, Variant};
use crate::etching::mask::Mask;
use crate::etching::request::{OVER_ETCH_PERCENT, PLAIN, THICKNESS_NM, TIME_S};
use crate::etching::time_to_clear_s;
use crate::vocabulary::Material;

/// Height of an upright step under the film.
pub const STEP_HEIGHT_NM: Bound = Bound {
    field: "step_height_nm",
    label: "Step under the film",
    unit: "nm",
    min: 0.0,
    max: 10_000.0,
    default: Some(0.0),
    step: 10.0,
    ..PLAIN
};

/// Rate of the film over rate of the layer below, instead of the table's.
pub const SELECTIVITY: Bound = Bound {
    field: "selectivity",
    label: "Selectivity to the layer below",
    min: 0.1,
    max: 1000.0,
    step: 1.0,
    scale: Scale::Log,
    ..PLAIN
};

/// Thickness of the layer below, if it is wanted to know whether the etch goes through it.
pub const STOP_THICKNESS_NM: Bound = Bound {
    field: "stop.thickness_nm",
    label: "Thickness of the layer below",
    unit: "nm",
    min: 1.0,
    max: 10_000.0,
    step: 1.0,
    scale: Scale::Log,
    ..PLAIN
};

/// Thickness of the resist mask. Default: the lab's resist demo-p12 at 4000 rpm.
pub const MASK_THICKNESS_NM: Bound = Bound {
    field: "mask.thickness_nm",
    label: "Resist thickness",
    unit: "nm",
    min: 50.0,
    max: 20_000.0,
    default: Some(1150.0),
    step: 10.0,
    scale: Scale::Log,
    ..PLAIN
};

/// A dry etch as it is asked for.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::etching) struct DryEtchRequest {
    chemistry: Chemistry,
    material: Material,
    variant: Option<Variant>,
    thickness_nm: f64,
    time_s: Option<f64>,
    over_etch_percent: Option<f64>,
    mask: Option<DryMaskRequest>,
    stop: Option<StopRequest>,
    step_height_nm: Option<f64>,
    selectivity: Option<f64>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct DryMaskRequest {
    opening_um: Option<f64>,
    line_um: Option<f64>,
    thickness_nm: Option<f64>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct StopRequest {
    material: Option<Material>,
    thickness_nm: Option<f64>,
}

/// A dry etch whose numbers lie in their ranges.
#[derive(Clone, Copy, Debug)]
pub(in crate::etching) struct DryEtch {
    pub(in crate::etching) chemistry: Chemistry,
    pub(in crate::etching) film: Film,
    pub(in crate::etching) row: &'static DryEtchRow,
    pub(super) thickness_nm: f64,
    pub(super) mask: Mask,
    pub(super) mask_thickness_nm: f64,
    pub(in crate::etching) stop: Material,
    pub(super) stop_thickness_nm: Option<f64>,
    pub(in crate::etching) selectivity: Spread,
    /// Whether the reader gave it.
    pub(in crate::etching) selectivity_given: bool,
    pub(super) step_nm: f64,
    pub(in crate::etching) time_s: f64,
}

impl DryEtch {
    /// Vertical rate in nm/min.
    pub(super) const fn rate_nm_min(&self) -> f64 {
        self.row.rate_nm_min.value
    }

    /// `A`.
    pub(super) const fn anisotropy(&self) -> f64 {
        self.row.anisotropy.value
    }

    /// Time in s until the flat film is gone.
    pub(super) fn clear_s(&self) -> f64 {
        time_to_clear_s(self.thickness_nm, self.rate_nm_min())
    }

    /// Time in s until the film at the step is gone too.
    pub(super) fn clear_step_s(&self) -> f64 {
        time_to_clear_step_s(
            self.thickness_nm,
            self.step_nm,
            self.rate_nm_min(),
            self.anisotropy(),
        )
    }
}

impl DryEtchRequest {
    pub(in crate::etching) fn check(self) -> Result<DryEtch, RequestError> {
        let film = Film::new(self.material, self.variant)?;
        let row = self.chemistry.row(self.material).ok_or_else(|| no_process(&self))?;
        let (mask, mask_thickness_nm) = match self.mask {
            None => (Mask::None, 0.0),
            Some(mask) => (
                Mask::new(self.material, mask.opening_um, mask.line_um)?,
                MASK_THICKNESS_NM.check_or_default(mask.thickness_nm)?,
            ),
        };
        let stop = self.stop.and_then(|stop| stop.material);
        let stop = stop.unwrap_or_else(|| usual_stop(self.material));
        let stop_thickness_nm = match self.stop.and_then(|stop| stop.thickness_nm) {
            Some(given) => Some(STOP_THICKNESS_NM.check(given)?),
            None => None,
        };
        let selectivity = match self.selectivity {
            Some(given) => {
                let value = SELECTIVITY.check(given)?;
                Spread { value, low: value, high: value }
            }
            None => row
                .selectivity_to(stop)
                .filter(|_| stop != self.material)
                .ok_or_else(|| no_selectivity(&self, stop))?,
        };
        let mut etch = DryEtch {
            chemistry: self.chemistry,
            film,
            row,
            thickness_nm: THICKNESS_NM.check(self.thickness_nm)?,
            mask,
            mask_thickness_nm,
            stop,
            stop_thickness_nm,
            selectivity,
            selectivity_given: self.selectivity.is_some(),
            step_nm: STEP_HEIGHT_NM.check_or_default(self.step_height_nm)?,
            time_s: 0.0,
        };
        etch.time_s = match (self.time_s, self.over_etch_percent) {
            (Some(time_s), None) => TIME_S.check(time_s)?,
            (Some(_), Some(percent)) => {
                return Err(RequestError::conflict(
                    "over_etch_percent",
                    &percent.to_string(),
                    "time_s or over_etch_percent",
                    "over_etch_percent: cannot stand beside time_s",
                    "give the time or the over-etch, not both",
                ));
            }
            (None, percent) => {
                let over = OVER_ETCH_PERCENT.check(percent.unwrap_or(0.0))? / 100.0;
                etch.clear_step_s() + over * etch.clear_s()
            }
        };
        Ok(etch)
    }
}

fn no_process(request: &DryEtchRequest) -> RequestError {
    let film = request.material;
    let etched: Vec<&str> = Material::ALL
        .iter()
        .filter(|&&material| request.chemistry.row(material).is_some())
        .map(|material| material.word())
        .collect();
    let used: Vec<&str> = Chemistry::ALL
        .iter()
        .filter(|chemistry| chemistry.row(film).is_some())
        .map(|chemistry| chemistry.word())
        .collect();
    let allowed = etched.join(", ");
    RequestError::conflict(
        "material",
        film.word(),
        &allowed,
        &format!(
            "material: no process for {} in {} is known here (allowed with it: {allowed})",
            film.label(),
            request.chemistry.word()
        ),
        &if used.is_empty() {
            "etch this material wet".to_owned()
        } else {
            format!("for {} use chemistry {}", film.label(), used.join(", "))
        },
    )
}

fn no_selectivity(request: &DryEtchRequest, stop: Material) -> RequestError {
    RequestError::conflict(
        "stop.material",
        stop.word(),
        "a layer with a known selectivity, or selectivity",
        &format!(
            "stop.material: how {} holds out in {} against {} is not known here",
            stop.label(),
            request.chemistry.word(),
            request.material.label()
        ),
        "give selectivity from a test piece, or name another layer below",
    )
}

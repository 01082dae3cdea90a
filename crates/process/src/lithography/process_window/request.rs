//! The fields of a process window and their ranges.

use serde::Deserialize;

use crate::bound::{Bound, Scale};
use crate::error::RequestError;
use crate::lithography::development::{
    Developer, Development, DevelopmentRequest, RateRequest,
};
use crate::lithography::exposure::{
    DEFOCUS_UM, DOSE_MJ_CM2, ExposureRequest, GAP_UM, Tool,
};
use crate::lithography::imaging::Pattern;
use crate::num::{linspace, to_count};

/// How far the dose goes to each side.
pub const DOSE_SPAN_PERCENT: Bound = Bound {
    field: "dose_span_percent",
    label: "Dose to each side",
    unit: "%",
    min: 2.0,
    max: 90.0,
    published: None,
    default: Some(30.0),
    step: 1.0,
    scale: Scale::Linear,
};

/// How far the focus goes to each side.
pub const FOCUS_SPAN_UM: Bound = Bound {
    field: "focus_span_um",
    label: "Focus or gap to each side",
    unit: "µm",
    min: 0.05,
    max: 20.0,
    default: Some(0.9),
    step: 0.05,
    scale: Scale::Log,
    ..DOSE_SPAN_PERCENT
};

/// Doses.
pub const DOSES: Bound = Bound {
    field: "doses",
    label: "Doses",
    unit: "",
    min: 3.0,
    max: 21.0,
    default: Some(9.0),
    step: 1.0,
    ..DOSE_SPAN_PERCENT
};

/// Focuses.
pub const FOCUSES: Bound =
    Bound { field: "focuses", label: "Focuses", default: Some(9.0), ..DOSES };

/// Width that is still good.
pub const TOLERANCE_PERCENT: Bound = Bound {
    field: "tolerance_percent",
    label: "Allowed change of width",
    min: 1.0,
    max: 50.0,
    default: Some(10.0),
    ..DOSE_SPAN_PERCENT
};

/// Latitude of dose that a window must leave.
pub const LATITUDE_PERCENT: Bound = Bound {
    field: "latitude_percent",
    label: "Latitude of dose asked for",
    min: 1.0,
    max: 50.0,
    default: Some(10.0),
    ..DOSE_SPAN_PERCENT
};

/// Cell of the section: coarser than for one development, because there are many.
pub const GRID_NM: f64 = 10.0;

/// A process window as it is asked for.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WindowRequest {
    exposure: Option<ExposureRequest>,
    time_s: Option<f64>,
    rate_parameters: Option<RateRequest>,
    developer: Option<Developer>,
    temperature_c: Option<f64>,
    dose_span_percent: Option<f64>,
    focus_span_um: Option<f64>,
    doses: Option<f64>,
    focuses: Option<f64>,
    tolerance_percent: Option<f64>,
    latitude_percent: Option<f64>,
}

/// A process window whose numbers lie in their ranges.
#[derive(Clone, Debug)]
pub(super) struct Plan {
    /// The step in the middle of the window.
    pub(super) middle: Development,
    /// From low to high.
    pub(super) doses_mj_cm2: Vec<f64>,
    /// Defocus, or gap, from low to high.
    pub(super) focuses_um: Vec<f64>,
    pub(super) tolerance: f64,
    pub(super) latitude_percent: f64,
}

impl WindowRequest {
    pub(super) fn check(self) -> Result<Plan, RequestError> {
        let mut exposure = self.exposure.unwrap_or_default();
        exposure.grid_nm.get_or_insert(GRID_NM);
        let middle = DevelopmentRequest {
            exposure: Some(exposure),
            time_s: self.time_s,
            rate_parameters: self.rate_parameters,
            developer: self.developer,
            temperature_c: self.temperature_c,
            over_develop_percent: None,
            normality: None,
        }
        .check()?;
        let exposure = &middle.exposure;
        if exposure.mask.pattern == Pattern::Edge {
            return Err(RequestError::conflict(
                "exposure.mask.pattern",
                Pattern::Edge.word(),
                "a pattern with a width",
                "exposure.mask.pattern: a single edge has no width to be held",
                "take lines and spaces, a single line or a single space",
            ));
        }
        let counted =
            |bound: &Bound, given: Option<f64>| -> Result<usize, RequestError> {
                Ok(to_count(bound.check_or_default(given)? + 0.5))
            };
        let span = 0.01 * DOSE_SPAN_PERCENT.check_or_default(self.dose_span_percent)?;
        let dose = exposure.dose_mj_cm2;
        let doses_mj_cm2 = linspace(
            (dose * (1.0 - span)).max(DOSE_MJ_CM2.min),
            (dose * (1.0 + span)).min(DOSE_MJ_CM2.max),
            counted(&DOSES, self.doses)?,
        );
        let span_um = FOCUS_SPAN_UM.check_or_default(self.focus_span_um)?;
        let focus = exposure.focus_um();
        let range = match exposure.tool {
            Tool::Projection => DEFOCUS_UM,
            Tool::Contact | Tool::Proximity => GAP_UM,
        };
        let focuses_um = linspace(
            (focus - span_um).max(range.min),
            (focus + span_um).min(range.max),
            counted(&FOCUSES, self.focuses)?,
        );
        Ok(Plan {
            middle,
            doses_mj_cm2,
            focuses_um,
            tolerance: 0.01
                * TOLERANCE_PERCENT.check_or_default(self.tolerance_percent)?,
            latitude_percent: LATITUDE_PERCENT.check_or_default(self.latitude_percent)?,
        })
    }
}

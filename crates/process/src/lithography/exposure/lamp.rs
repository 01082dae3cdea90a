//! From a lamp and a shutter to a dose.

use super::bounds::DOSE_MJ_CM2;
use super::request::Tool;
use crate::bound::{Bound, Scale};
use crate::error::RequestError;

/// Power of the light on the wafer.
pub const IRRADIANCE_MW_CM2: Bound = Bound {
    field: "irradiance_mw_cm2",
    label: "Irradiance on the wafer",
    unit: "mW/cm²",
    min: 0.1,
    max: 5000.0,
    published: None,
    default: None,
    step: 1.0,
    scale: Scale::Log,
};

/// Time of the open shutter.
pub const EXPOSURE_S: Bound = Bound {
    field: "time_s",
    label: "Exposure time",
    unit: "s",
    min: 0.001,
    max: 2000.0,
    published: None,
    default: None,
    step: 0.1,
    scale: Scale::Log,
};

/// Irradiance unless given in mW/cm2: 10 to 20 of a lamp behind a contact mask, 300 to 600 of a
/// stepper (common practice).
#[must_use]
pub const fn usual_irradiance_mw_cm2(tool: Tool) -> f64 {
    match tool {
        Tool::Contact | Tool::Proximity => 15.0,
        Tool::Projection => 400.0,
    }
}

/// Dose in mJ/cm2 and irradiance in mW/cm2 from what is given: the dose, or the time.
pub(super) fn dose(
    tool: Tool,
    dose_mj_cm2: Option<f64>,
    irradiance_mw_cm2: Option<f64>,
    time_s: Option<f64>,
) -> Result<[f64; 2], RequestError> {
    let irradiance = IRRADIANCE_MW_CM2
        .check(irradiance_mw_cm2.unwrap_or(usual_irradiance_mw_cm2(tool)))?;
    let Some(time_s) = time_s else {
        return Ok([DOSE_MJ_CM2.check_or_default(dose_mj_cm2)?, irradiance]);
    };
    if let Some(dose) = dose_mj_cm2 {
        return Err(RequestError::conflict(
            "time_s",
            &time_s.to_string(),
            "either dose_mj_cm2 or time_s",
            &format!("time_s: the dose of {dose} mJ/cm² is given already"),
            "leave one of dose_mj_cm2 and time_s out",
        ));
    }
    let product = irradiance * EXPOSURE_S.check(time_s)?;
    let dose = DOSE_MJ_CM2.check(product).map_err(|error| {
        RequestError::conflict(
            "time_s",
            &time_s.to_string(),
            &format!("a dose of {}", DOSE_MJ_CM2.allowed()),
            &format!(
                "time_s: {irradiance} mW/cm² for {time_s} s are {product} mJ/cm² (allowed: {})",
                error.allowed
            ),
            "change the time or the irradiance",
        )
    })?;
    Ok([dose, irradiance])
}

//! The fields of a spin coating and their ranges.

use serde::Deserialize;

use super::laws::{
    EVAPORATION_UM_S, LAMINAR_EXPONENT, REFERENCE_SPEED_RPM, transition_height_um,
};
use super::puddle::{height_um, volume_ml};
use super::speed::SpeedProgram;
use super::thinning::{STEP_TOLERANCE, Thinned, Thinning};
use crate::bound::{Bound, Scale};
use crate::error::RequestError;
use crate::lithography::Resist;
use crate::num::show;

/// Final speed. The demo resists are tabulated from 1000 to 6000 rpm.
pub const SPEED_RPM: Bound = Bound {
    field: "speed_rpm",
    label: "Spin speed",
    unit: "rpm",
    min: 200.0,
    max: 10_000.0,
    published: Some((1000.0, 6000.0)),
    default: None,
    step: 100.0,
    scale: Scale::Linear,
};

/// Time of the final step, its ramp included.
pub const TIME_S: Bound = Bound {
    field: "time_s",
    label: "Spin time",
    unit: "s",
    min: 1.0,
    max: 300.0,
    published: None,
    default: Some(60.0),
    step: 1.0,
    scale: Scale::Linear,
};

/// Acceleration of the chuck.
pub const ACCELERATION_RPM_S: Bound = Bound {
    field: "acceleration_rpm_s",
    label: "Acceleration",
    unit: "rpm/s",
    min: 100.0,
    max: 50_000.0,
    published: None,
    default: Some(5000.0),
    step: 100.0,
    scale: Scale::Log,
};

/// Height of the puddle before the spin, spread over the wafer.
pub const DISPENSE_UM: Bound = Bound {
    field: "dispense_um",
    label: "Dispensed height",
    unit: "µm",
    min: 10.0,
    max: 1000.0,
    published: None,
    default: Some(100.0),
    step: 10.0,
    scale: Scale::Log,
};

/// Volume of the puddle, instead of its height.
pub const DISPENSE_ML: Bound = Bound {
    field: "dispense_ml",
    label: "Dispensed volume",
    unit: "ml",
    min: 0.1,
    max: 50.0,
    published: None,
    default: None,
    step: 0.1,
    scale: Scale::Log,
};

/// Ring at the edge that is washed clean with solvent (common practice: 1 to 3 mm).
pub const BEAD_REMOVAL_MM: Bound = Bound {
    field: "bead_removal_mm",
    label: "Edge washed clean",
    unit: "mm",
    min: 0.0,
    max: 10.0,
    published: None,
    default: Some(0.0),
    step: 0.5,
    scale: Scale::Linear,
};

/// Height of a step below the resist; negative for a trench.
pub const STEP_HEIGHT_NM: Bound = Bound {
    field: "step.height_nm",
    label: "Step height (negative: a trench)",
    unit: "nm",
    min: -3000.0,
    max: 3000.0,
    published: None,
    default: None,
    step: 10.0,
    scale: Scale::Linear,
};

/// Width of the step.
pub const STEP_WIDTH_UM: Bound = Bound {
    field: "step.width_um",
    label: "Step width",
    unit: "µm",
    min: 0.2,
    max: 500.0,
    published: None,
    default: None,
    step: 0.1,
    scale: Scale::Log,
};

/// Distance of the step from the center of the wafer.
pub const STEP_RADIUS_MM: Bound = Bound {
    field: "step.radius_mm",
    label: "Step from the center",
    unit: "mm",
    min: 1.0,
    max: 225.0,
    published: None,
    default: Some(25.0),
    step: 1.0,
    scale: Scale::Linear,
};

/// Diameter of the wafer: the air flow at the rim, the edge, and what a volume covers.
pub const WAFER_DIAMETER_MM: Bound = Bound {
    field: "wafer_diameter_mm",
    label: "Wafer diameter",
    unit: "mm",
    min: 25.0,
    max: 450.0,
    published: None,
    default: Some(100.0),
    step: 25.0,
    scale: Scale::Linear,
};

/// Speed of the spread step.
pub const SPREAD_SPEED_RPM: Bound = Bound {
    field: "spread.speed_rpm",
    label: "Spread speed",
    unit: "rpm",
    min: 50.0,
    max: 3000.0,
    published: None,
    default: None,
    step: 50.0,
    scale: Scale::Linear,
};

/// Time of the spread step, its ramp included.
pub const SPREAD_TIME_S: Bound = Bound {
    field: "spread.time_s",
    label: "Spread time",
    unit: "s",
    min: 0.5,
    max: 60.0,
    published: None,
    default: None,
    step: 0.5,
    scale: Scale::Linear,
};

/// A spin coating as it is asked for.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::lithography) struct SpinRequest {
    resist: Resist,
    speed_rpm: f64,
    time_s: Option<f64>,
    acceleration_rpm_s: Option<f64>,
    spread: Option<SpreadRequest>,
    dispense_um: Option<f64>,
    dispense_ml: Option<f64>,
    wafer_diameter_mm: Option<f64>,
    bead_removal_mm: Option<f64>,
    primed: Option<bool>,
    step: Option<StepRequest>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct StepRequest {
    height_nm: f64,
    width_um: f64,
    radius_mm: Option<f64>,
}

/// A line or trench below the resist, checked.
#[derive(Clone, Copy, Debug)]
pub(super) struct Step {
    pub(super) height_nm: f64,
    pub(super) width_um: f64,
    pub(super) radius_mm: f64,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SpreadRequest {
    speed_rpm: f64,
    time_s: f64,
}

/// A spread step: speed in rpm and time in s, checked.
#[derive(Clone, Copy, Debug)]
pub(super) struct Spread {
    pub(in crate::lithography) speed_rpm: f64,
    pub(super) time_s: f64,
}

/// A spin coating whose numbers lie in their ranges.
#[derive(Clone, Copy, Debug)]
pub(in crate::lithography) struct Spin {
    pub(in crate::lithography) resist: Resist,
    pub(in crate::lithography) speed_rpm: f64,
    pub(super) time_s: f64,
    pub(super) acceleration_rpm_s: f64,
    pub(super) spread: Option<Spread>,
    pub(super) dispense_um: f64,
    /// Whether the liquid starts as a puddle in the middle.
    pub(super) is_puddle: bool,
    pub(super) wafer_diameter_mm: f64,
    pub(super) bead_removal_mm: f64,
    pub(super) primed: bool,
    pub(super) step: Option<Step>,
}

impl SpinRequest {
    pub(in crate::lithography) fn check(self) -> Result<Spin, RequestError> {
        let spread = match self.spread {
            Some(spread) => Some(Spread {
                speed_rpm: SPREAD_SPEED_RPM.check(spread.speed_rpm)?,
                time_s: SPREAD_TIME_S.check(spread.time_s)?,
            }),
            None => None,
        };
        let wafer_diameter_mm =
            WAFER_DIAMETER_MM.check_or_default(self.wafer_diameter_mm)?;
        let dispense_um = match (self.dispense_um, self.dispense_ml) {
            (given, None) => DISPENSE_UM.check_or_default(given)?,
            (None, Some(ml)) => {
                let ml = DISPENSE_ML.check(ml)?;
                let um = height_um(ml, wafer_diameter_mm);
                if !(DISPENSE_UM.min..=DISPENSE_UM.max).contains(&um) {
                    let limit = |um| volume_ml(um, wafer_diameter_mm);
                    let (low, high) = (limit(DISPENSE_UM.min), limit(DISPENSE_UM.max));
                    let allowed = format!("{} to {} ml", show(low), show(high));
                    return Err(RequestError::conflict(
                        "dispense_ml",
                        &ml.to_string(),
                        &allowed,
                        &format!(
                            "dispense_ml: {ml} ml is not allowed on a wafer of {wafer_diameter_mm} mm (allowed: {allowed})"
                        ),
                        "give a volume within this range",
                    ));
                }
                um
            }
            (Some(_), Some(ml)) => {
                return Err(RequestError::conflict(
                    "dispense_ml",
                    &ml.to_string(),
                    "dispense_ml or dispense_um",
                    "dispense_ml: stands beside dispense_um",
                    "give the volume or the height of the puddle, not both",
                ));
            }
        };
        let step = match self.step {
            Some(step) => {
                let bound = Bound {
                    max: STEP_RADIUS_MM.max.min(0.5 * wafer_diameter_mm),
                    ..STEP_RADIUS_MM
                };
                let usual = 25.0_f64.min(0.25 * wafer_diameter_mm);
                Some(Step {
                    height_nm: STEP_HEIGHT_NM.check(step.height_nm)?,
                    width_um: STEP_WIDTH_UM.check(step.width_um)?,
                    radius_mm: bound.check(step.radius_mm.unwrap_or(usual))?,
                })
            }
            None => None,
        };
        Ok(Spin {
            resist: self.resist,
            speed_rpm: SPEED_RPM.check(self.speed_rpm)?,
            time_s: TIME_S.check_or_default(self.time_s)?,
            acceleration_rpm_s: ACCELERATION_RPM_S
                .check_or_default(self.acceleration_rpm_s)?,
            spread,
            dispense_um,
            is_puddle: self.dispense_ml.is_some(),
            wafer_diameter_mm,
            bead_removal_mm: BEAD_REMOVAL_MM.check_or_default(self.bead_removal_mm)?,
            primed: self.primed.unwrap_or(false),
            step,
        })
    }
}

impl Spin {
    /// The chuck's speed with another final speed.
    pub(super) fn program(&self, speed_rpm: f64) -> SpeedProgram {
        let rest = SpeedProgram::default();
        let spread = match self.spread {
            Some(s) => rest.then(s.speed_rpm, self.acceleration_rpm_s, s.time_s),
            None => rest,
        };
        spread.then(speed_rpm, self.acceleration_rpm_s, self.time_s)
    }

    /// Spins the film with another final speed.
    pub(in crate::lithography) fn thin(
        &self,
        speed_rpm: f64,
    ) -> Result<Thinned, RequestError> {
        self.thin_in_wind(speed_rpm, 1.0)
    }

    /// The same where the air dries the film `drying` times as fast.
    pub(super) fn thin_in_wind(
        &self,
        speed_rpm: f64,
        drying: f64,
    ) -> Result<Thinned, RequestError> {
        let thinning = Thinning {
            liquid: self.resist.formulation(),
            start_um: self.dispense_um,
            evaporation_um_s: EVAPORATION_UM_S * drying,
            evaporation_exponent: LAMINAR_EXPONENT,
            program: self.program(speed_rpm),
            tolerance: STEP_TOLERANCE,
        };
        thinning.spin().map_err(|error| {
            RequestError::new(
                "not_converged",
                "speed_rpm",
                &speed_rpm.to_string(),
                &SPEED_RPM.allowed(),
                &error.to_string(),
                "change speed, time or dispensed height a little",
            )
        })
    }

    /// Evaporation from the bottle's liquid at the final speed in um/s.
    pub(super) fn evaporation_um_s(&self) -> f64 {
        EVAPORATION_UM_S * (self.speed_rpm / REFERENCE_SPEED_RPM).sqrt()
    }

    /// Solids by the two-stage picture in um.
    pub(super) fn two_stage_solids_um(&self) -> f64 {
        let liquid = self.resist.formulation();
        liquid.solids_fraction
            * transition_height_um(liquid, self.evaporation_um_s(), self.speed_rpm)
    }
}

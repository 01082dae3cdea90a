//! The fields of a development and their ranges.

use serde::Deserialize;

use super::rate::{Inhibition, RateLaw, USUAL_NORMALITY};
use crate::bound::{Bound, Scale};
use crate::error::RequestError;
use crate::lithography::exposure::{Exposure, ExposureRequest};
use crate::units::Temperature;
use crate::vocabulary::words;

words!(
    /// The developer.
    Developer {
        /// Tetramethylammonium hydroxide, 2.38 % (0.26 N), the usual strength (common practice).
        Tmah = "tmah_2_38", "TMAH 2.38 % (metal-free)";
        /// Potassium hydroxide diluted to the same strength (model choice).
        Koh = "koh_dilute", "KOH, diluted";
    }
);

/// Time in the developer.
pub const TIME_S: Bound = Bound {
    field: "time_s",
    label: "Development time",
    unit: "s",
    min: 1.0,
    max: 600.0,
    published: None,
    default: Some(60.0),
    step: 1.0,
    scale: Scale::Log,
};

/// Time beyond clearing, instead of a time.
pub const OVER_DEVELOP_PERCENT: Bound = Bound {
    field: "over_develop_percent",
    label: "Development past clearing",
    unit: "%",
    min: 0.0,
    max: 400.0,
    published: None,
    default: None,
    step: 5.0,
    scale: Scale::Linear,
};

/// Strength of the developer.
pub const NORMALITY: Bound = Bound {
    field: "normality",
    label: "Developer strength",
    unit: "N",
    min: 0.15,
    max: 0.40,
    published: Some((0.20, 0.30)),
    default: Some(USUAL_NORMALITY),
    step: 0.005,
    scale: Scale::Linear,
};

/// Rate at the top of the resist over that deep down.
pub const SURFACE_RATIO: Bound = Bound {
    field: "surface_ratio",
    label: "Rate at the top over that below",
    unit: "",
    min: 0.02,
    max: 1.0,
    published: None,
    default: Some(Inhibition::NONE.surface_ratio),
    step: 0.02,
    scale: Scale::Linear,
};

/// Depth over which the slower top wears off.
pub const INHIBITION_DEPTH_NM: Bound = Bound {
    field: "inhibition_depth_nm",
    label: "Depth of the slower top",
    unit: "nm",
    min: 5.0,
    max: 1000.0,
    published: None,
    default: Some(Inhibition::NONE.depth_nm),
    step: 5.0,
    scale: Scale::Log,
};

/// Temperature of the developer.
pub const TEMPERATURE_C: Bound = Bound {
    field: "temperature_c",
    label: "Developer temperature",
    unit: "°C",
    min: 10.0,
    max: 40.0,
    published: Some((18.0, 25.0)),
    default: Some(21.0),
    step: 0.5,
    scale: Scale::Linear,
};

/// Rate of fully exposed resist.
pub const FASTEST_NM_S: Bound = Bound {
    field: "fastest_nm_s",
    label: "Fastest rate",
    unit: "nm/s",
    min: 1.0,
    max: 2000.0,
    published: None,
    default: Some(RateLaw::DEMO.fastest_nm_s),
    step: 1.0,
    scale: Scale::Log,
};

/// Rate of unexposed resist.
pub const SLOWEST_NM_S: Bound = Bound {
    field: "slowest_nm_s",
    label: "Slowest rate",
    unit: "nm/s",
    min: 0.001,
    max: 20.0,
    default: Some(RateLaw::DEMO.slowest_nm_s),
    ..FASTEST_NM_S
};

/// Remaining compound at which the rate bends most.
pub const THRESHOLD_PAC: Bound = Bound {
    field: "threshold_pac",
    label: "Threshold of the compound left",
    unit: "",
    min: 0.01,
    max: 0.95,
    default: Some(RateLaw::DEMO.threshold_pac),
    step: 0.01,
    scale: Scale::Linear,
    ..FASTEST_NM_S
};

/// How steeply the rate bends.
pub const ORDER: Bound = Bound {
    field: "order",
    label: "Order of the rate law",
    unit: "",
    min: 1.1,
    max: 30.0,
    default: Some(RateLaw::DEMO.order),
    step: 0.1,
    scale: Scale::Linear,
    ..FASTEST_NM_S
};

/// A development as it is asked for.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::lithography) struct DevelopmentRequest {
    pub(in crate::lithography) exposure: Option<ExposureRequest>,
    pub(in crate::lithography) time_s: Option<f64>,
    pub(in crate::lithography) over_develop_percent: Option<f64>,
    pub(in crate::lithography) rate_parameters: Option<RateRequest>,
    pub(in crate::lithography) developer: Option<Developer>,
    pub(in crate::lithography) temperature_c: Option<f64>,
    pub(in crate::lithography) normality: Option<f64>,
}

#[derive(Clone, Copy, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::lithography) struct RateRequest {
    fastest_nm_s: Option<f64>,
    slowest_nm_s: Option<f64>,
    threshold_pac: Option<f64>,
    order: Option<f64>,
    surface_ratio: Option<f64>,
    inhibition_depth_nm: Option<f64>,
}

/// How long a wafer is developed.
#[derive(Clone, Copy, Debug)]
pub(super) enum Stop {
    /// After a time in s.
    At(f64),
    /// After clearing, and so many percent of that time more.
    Past(f64),
}

/// A development whose numbers lie in their ranges.
#[derive(Clone, Debug)]
pub(in crate::lithography) struct Development {
    pub(in crate::lithography) exposure: Exposure,
    pub(super) stop: Stop,
    /// At 21 C and the usual strength.
    pub(super) law: RateLaw,
    pub(super) inhibition: Inhibition,
    pub(in crate::lithography) developer: Developer,
    pub(super) temperature_c: f64,
    pub(super) normality: f64,
}

impl DevelopmentRequest {
    pub(in crate::lithography) fn check(self) -> Result<Development, RequestError> {
        let exposure = self
            .exposure
            .unwrap_or_default()
            .check()
            .map_err(|error| error.inside("exposure"))?;
        let rates = self.rate_parameters.unwrap_or_default();
        let inside = |error: RequestError| error.inside("rate_parameters");
        let law = rates.check().map_err(inside)?;
        let inhibition = rates.inhibition().map_err(inside)?;
        let stop = match (self.time_s, self.over_develop_percent) {
            (given, None) => Stop::At(TIME_S.check_or_default(given)?),
            (None, Some(percent)) => Stop::Past(OVER_DEVELOP_PERCENT.check(percent)?),
            (Some(_), Some(percent)) => {
                return Err(RequestError::conflict(
                    "over_develop_percent",
                    &percent.to_string(),
                    "time_s or over_develop_percent",
                    "over_develop_percent: stands beside time_s",
                    "give the time, or how far past clearing, not both",
                ));
            }
        };
        Ok(Development {
            exposure,
            stop,
            inhibition,
            normality: NORMALITY.check_or_default(self.normality)?,
            law,
            developer: self.developer.unwrap_or(Developer::Tmah),
            temperature_c: TEMPERATURE_C.check_or_default(self.temperature_c)?,
        })
    }
}

impl RateRequest {
    fn check(&self) -> Result<RateLaw, RequestError> {
        let law = RateLaw {
            fastest_nm_s: FASTEST_NM_S.check_or_default(self.fastest_nm_s)?,
            slowest_nm_s: SLOWEST_NM_S.check_or_default(self.slowest_nm_s)?,
            threshold_pac: THRESHOLD_PAC.check_or_default(self.threshold_pac)?,
            order: ORDER.check_or_default(self.order)?,
        };
        if law.fastest_nm_s <= law.slowest_nm_s {
            return Err(RequestError::conflict(
                "slowest_nm_s",
                &law.slowest_nm_s.to_string(),
                &format!("below {} nm/s", law.fastest_nm_s),
                "slowest_nm_s: unexposed resist must dissolve more slowly than exposed resist",
                "lower slowest_nm_s or raise fastest_nm_s",
            ));
        }
        Ok(law)
    }

    fn inhibition(&self) -> Result<Inhibition, RequestError> {
        Ok(Inhibition {
            surface_ratio: SURFACE_RATIO.check_or_default(self.surface_ratio)?,
            depth_nm: INHIBITION_DEPTH_NM.check_or_default(self.inhibition_depth_nm)?,
        })
    }
}

impl Development {
    /// The same development of another resist.
    pub(in crate::lithography) fn of(&self, exposure: Exposure) -> Self {
        Self { exposure, ..self.clone() }
    }

    /// The time in s, if it is given as such.
    pub(in crate::lithography) const fn time_s(&self) -> Option<f64> {
        match self.stop {
            Stop::At(time_s) => Some(time_s),
            Stop::Past(_) => None,
        }
    }

    /// The rate law at the developer's strength and temperature.
    pub(super) fn rate_law(&self) -> RateLaw {
        self.law.in_strength(self.normality).at(Temperature::celsius(self.temperature_c))
    }
}

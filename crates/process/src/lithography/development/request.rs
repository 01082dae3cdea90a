//! The fields of a development and their ranges.

use serde::Deserialize;

use super::rate::RateLaw;
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
    exposure: Option<ExposureRequest>,
    time_s: Option<f64>,
    rate_parameters: Option<RateRequest>,
    developer: Option<Developer>,
    temperature_c: Option<f64>,
}

#[derive(Clone, Copy, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct RateRequest {
    fastest_nm_s: Option<f64>,
    slowest_nm_s: Option<f64>,
    threshold_pac: Option<f64>,
    order: Option<f64>,
}

/// A development whose numbers lie in their ranges.
#[derive(Clone, Debug)]
pub(in crate::lithography) struct Development {
    pub(super) exposure: Exposure,
    pub(in crate::lithography) time_s: f64,
    /// At 21 C.
    pub(in crate::lithography) law: RateLaw,
    pub(in crate::lithography) developer: Developer,
    pub(in crate::lithography) temperature_c: f64,
}

impl DevelopmentRequest {
    pub(in crate::lithography) fn check(self) -> Result<Development, RequestError> {
        let exposure = self
            .exposure
            .unwrap_or_default()
            .check()
            .map_err(|error| error.inside("exposure"))?;
        let law = self
            .rate_parameters
            .unwrap_or_default()
            .check()
            .map_err(|error| error.inside("rate_parameters"))?;
        Ok(Development {
            exposure,
            time_s: TIME_S.check_or_default(self.time_s)?,
            law,
            developer: self.developer.unwrap_or(Developer::Tmah),
            temperature_c: TEMPERATURE_C.check_or_default(self.temperature_c)?,
        })
    }
}

impl RateRequest {
    fn check(self) -> Result<RateLaw, RequestError> {
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
}

impl Development {
    /// The rate law at the developer's temperature.
    pub(super) fn rate_law(&self) -> RateLaw {
        self.law.at(Temperature::celsius(self.temperature_c))
    }
}

//! The fields of a bake and their ranges.

use serde::Deserialize;

use super::drying::{LEAST_SOLVENT, START_SOLVENT, drying_time_s};
use crate::bound::{Bound, Scale};
use crate::error::RequestError;
use crate::lithography::Resist;
use crate::num::show;
use crate::units::Temperature;
use crate::vocabulary::words;

words!(
    /// When resist is baked, and what for.
    BakeKind {
        /// After the spin: the solvent goes.
        Soft = "soft", "soft bake (solvent)";
        /// After the exposure: standing waves blur.
        PostExposure = "post_exposure", "bake after exposure (standing waves)";
        /// After the development: the resist hardens.
        Hard = "hard", "hard bake (before etching)";
    }
);

/// Temperature of the hot plate. Usual: 90-115 C (common practice).
pub const TEMPERATURE_C: Bound = Bound {
    field: "temperature_c",
    label: "Hot plate temperature",
    unit: "°C",
    min: 50.0,
    max: 200.0,
    published: Some((80.0, 140.0)),
    default: Some(95.0),
    step: 1.0,
    scale: Scale::Linear,
};

/// Time on the hot plate. Usual: 60-90 s (common practice).
pub const TIME_S: Bound = Bound {
    field: "time_s",
    label: "Bake time",
    unit: "s",
    min: 1.0,
    max: 3600.0,
    published: None,
    default: None,
    step: 1.0,
    scale: Scale::Log,
};

/// Solvent to be left, instead of a time.
pub const TARGET_SOLVENT_PERCENT: Bound = Bound {
    field: "target_solvent_percent",
    label: "Solvent to be left",
    unit: "%",
    min: 4.05,
    max: 14.9,
    published: None,
    default: None,
    step: 0.1,
    scale: Scale::Linear,
};

/// Solvent in the film before the bake; by default what a dry spin leaves, or what a soft bake
/// leaves before the other bakes.
pub const START_SOLVENT_PERCENT: Bound = Bound {
    field: "start_solvent_percent",
    label: "Solvent before",
    unit: "%",
    min: 4.0,
    max: 40.0,
    published: None,
    default: None,
    step: 0.5,
    scale: Scale::Linear,
};

/// Thickness of the film before the bake.
pub const THICKNESS_NM: Bound = Bound {
    field: "thickness_nm",
    label: "Film before the bake",
    unit: "nm",
    min: 50.0,
    max: 20_000.0,
    published: None,
    default: Some(1150.0),
    step: 10.0,
    scale: Scale::Log,
};

/// A bake as it is asked for.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::lithography) struct BakeRequest {
    temperature_c: Option<f64>,
    time_s: Option<f64>,
    target_solvent_percent: Option<f64>,
    kind: Option<BakeKind>,
    resist: Option<Resist>,
    thickness_nm: Option<f64>,
    start_solvent_percent: Option<f64>,
}

/// A bake whose numbers lie in their ranges.
#[derive(Clone, Copy, Debug)]
pub(in crate::lithography) struct Bake {
    pub(in crate::lithography) temperature: Temperature,
    pub(in crate::lithography) time_s: f64,
    pub(in crate::lithography) kind: BakeKind,
    pub(in crate::lithography) resist: Resist,
    pub(super) thickness_nm: f64,
    /// Volume fraction of solvent before.
    pub(super) start: f64,
    pub(super) target: Option<f64>,
}

impl BakeRequest {
    pub(in crate::lithography) fn check(self) -> Result<Bake, RequestError> {
        let temperature =
            Temperature::celsius(TEMPERATURE_C.check_or_default(self.temperature_c)?);
        let kind = self.kind.unwrap_or(BakeKind::Soft);
        let start = match self.start_solvent_percent {
            Some(percent) => 0.01 * START_SOLVENT_PERCENT.check(percent)?,
            None if kind == BakeKind::Soft => START_SOLVENT,
            None => LEAST_SOLVENT,
        };
        let (time_s, target) = match (self.time_s, self.target_solvent_percent) {
            (Some(time_s), None) => (TIME_S.check(time_s)?, None),
            (None, Some(percent)) if kind == BakeKind::Soft => {
                let target = 0.01 * TARGET_SOLVENT_PERCENT.check(percent)?;
                if start <= target {
                    let before = show(100.0 * start);
                    return Err(RequestError::conflict(
                        "target_solvent_percent",
                        &percent.to_string(),
                        &format!("below {before} %"),
                        &format!(
                            "target_solvent_percent: {percent} % is not below the {before} % that are in the film"
                        ),
                        "ask for less solvent than there is",
                    ));
                }
                (drying_time_s(temperature, start, target), Some(target))
            }
            (None, Some(percent)) => {
                return Err(RequestError::conflict(
                    "target_solvent_percent",
                    &percent.to_string(),
                    "kind soft",
                    "target_solvent_percent: only a soft bake has solvent to drive out",
                    "set kind to soft, or give time_s",
                ));
            }
            (given, _) => {
                return Err(RequestError::conflict(
                    "time_s",
                    if given.is_some() {
                        "time_s and target_solvent_percent"
                    } else {
                        ""
                    },
                    "time_s or target_solvent_percent",
                    "time_s: needs one of time_s and target_solvent_percent",
                    "give the time or the solvent to be left, not both",
                ));
            }
        };
        Ok(Bake {
            temperature,
            time_s,
            kind,
            resist: self.resist.unwrap_or(Resist::P12),
            thickness_nm: THICKNESS_NM.check_or_default(self.thickness_nm)?,
            start,
            target,
        })
    }
}

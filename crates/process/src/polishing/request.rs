//! The fields of a planarization and their ranges.

use serde::Deserialize;

use super::preston::{Leveling, preston_nm_min};
use crate::bound::{Bound, Scale};
use crate::error::RequestError;
use crate::vocabulary::Material;

/// A number field without a published range; the others are changed from it.
const PLAIN: Bound = Bound {
    field: "",
    label: "",
    unit: "",
    min: 0.0,
    max: 0.0,
    published: None,
    default: None,
    step: 1.0,
    scale: Scale::Linear,
};

/// Thickness of the film, the same on high and low places.
pub const THICKNESS_NM: Bound = Bound {
    field: "thickness_nm",
    label: "Film thickness",
    unit: "nm",
    min: 10.0,
    max: 10_000.0,
    step: 10.0,
    scale: Scale::Log,
    ..PLAIN
};

/// Time on the pad.
pub const TIME_S: Bound = Bound {
    field: "time_s",
    label: "Polishing time",
    unit: "s",
    min: 1.0,
    max: 10_000.0,
    scale: Scale::Log,
    ..PLAIN
};

/// Film to be left on the high places, instead of a time.
pub const TARGET_NM: Bound = Bound {
    field: "target_nm",
    label: "Film to be left",
    unit: "nm",
    min: 0.0,
    max: 10_000.0,
    step: 10.0,
    ..PLAIN
};

/// Pressure of the wafer on the pad. Usual: 20-35 kPa (common practice).
pub const PRESSURE_KPA: Bound = Bound {
    field: "pressure_kpa",
    label: "Pressure",
    unit: "kPa",
    min: 1.0,
    max: 100.0,
    published: Some((7.0, 50.0)),
    default: Some(28.0),
    ..PLAIN
};

/// Speed of the pad under the wafer. Usual: 0.5-1 m/s (common practice).
pub const SPEED_M_S: Bound = Bound {
    field: "speed_m_s",
    label: "Speed of the pad",
    unit: "m/s",
    min: 0.05,
    max: 5.0,
    published: Some((0.2, 2.0)),
    default: Some(0.7),
    step: 0.05,
    ..PLAIN
};

/// Preston's coefficient. For oxide 1e-13 (derived from 100-300 nm/min in common practice).
pub const PRESTON_PER_PA: Bound = Bound {
    field: "preston_per_pa",
    label: "Preston coefficient",
    unit: "1/Pa",
    min: 1e-15,
    max: 1e-11,
    scale: Scale::Log,
    ..PLAIN
};

/// Height of the high places under the film.
pub const STEP_HEIGHT_NM: Bound = Bound {
    field: "step_height_nm",
    label: "Step height",
    unit: "nm",
    min: 0.0,
    max: 5000.0,
    default: Some(0.0),
    step: 10.0,
    ..PLAIN
};

/// Share of the area that is high.
pub const DENSE_FRACTION: Bound = Bound {
    field: "dense_fraction",
    label: "Share of high area",
    min: 0.05,
    max: 0.95,
    default: Some(0.5),
    step: 0.05,
    ..PLAIN
};

/// Rate of the film over rate of the stop layer, instead of the table's.
pub const SELECTIVITY: Bound = Bound {
    field: "selectivity",
    label: "Selectivity to the stop layer",
    min: 0.1,
    max: 1000.0,
    scale: Scale::Log,
    ..PLAIN
};

/// Preston's coefficient of oxide in 1/Pa.
pub const OXIDE_PER_PA: f64 = 1e-13;
/// Ends of its range in 1/Pa: 100 and 300 nm/min at 28 kPa and 0.7 m/s (derived).
pub const OXIDE_PER_PA_RANGE: [f64; 2] = [0.85e-13, 2.55e-13];
/// Oxide over nitride in an alkaline silica slurry: 3-5 (common practice; ceria: 30 and more).
pub const OXIDE_TO_NITRIDE: f64 = 4.0;

/// A planarization as it is asked for.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PlanarizationRequest {
    material: Material,
    thickness_nm: f64,
    time_s: Option<f64>,
    target_nm: Option<f64>,
    pressure_kpa: Option<f64>,
    speed_m_s: Option<f64>,
    preston_per_pa: Option<f64>,
    step_height_nm: Option<f64>,
    dense_fraction: Option<f64>,
    stop: Option<StopRequest>,
    selectivity: Option<f64>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct StopRequest {
    material: Material,
}

/// A planarization whose numbers lie in their ranges.
#[derive(Clone, Copy, Debug)]
pub(super) struct Planarization {
    pub(super) material: Material,
    pub(super) pressure_kpa: f64,
    pub(super) speed_m_s: f64,
    pub(super) preston_per_pa: f64,
    /// Whether the reader gave it.
    pub(super) preston_given: bool,
    pub(super) stop: Option<Material>,
    pub(super) leveling: Leveling,
    /// As asked for, to be left on the high places.
    pub(super) target_nm: Option<f64>,
    pub(super) time_s: f64,
}

pub(super) const fn is_oxide(material: Material) -> bool {
    matches!(
        material,
        Material::ThermalOxide | Material::DepositedOxide | Material::PhosphorusGlass
    )
}

impl PlanarizationRequest {
    pub(super) fn check(self) -> Result<Planarization, RequestError> {
        let material = self.material;
        let preston_per_pa = match self.preston_per_pa {
            Some(given) => PRESTON_PER_PA.check(given)?,
            None if is_oxide(material) => OXIDE_PER_PA,
            None => {
                return Err(RequestError::conflict(
                    "material",
                    material.word(),
                    "thermal_oxide, deposited_oxide, phosphorus_glass, or preston_per_pa",
                    &format!(
                        "material: no Preston coefficient of {} is known here",
                        material.label()
                    ),
                    "give preston_per_pa from a test wafer, or polish an oxide",
                ));
            }
        };
        let pressure_kpa = PRESSURE_KPA.check_or_default(self.pressure_kpa)?;
        let speed_m_s = SPEED_M_S.check_or_default(self.speed_m_s)?;
        let stop = self.stop.map(|stop| stop.material);
        let leveling = Leveling {
            thickness_nm: THICKNESS_NM.check(self.thickness_nm)?,
            step_nm: STEP_HEIGHT_NM.check_or_default(self.step_height_nm)?,
            dense_fraction: DENSE_FRACTION.check_or_default(self.dense_fraction)?,
            rate_nm_min: preston_nm_min(preston_per_pa, pressure_kpa, speed_m_s),
            selectivity: self.selectivity(stop)?,
        };
        let time_s = match (self.time_s, self.target_nm) {
            (Some(time_s), None) => TIME_S.check(time_s)?,
            (None, Some(target_nm)) => {
                let target_nm = TARGET_NM.check(target_nm)?;
                if leveling.thickness_nm < target_nm {
                    return Err(RequestError::conflict(
                        "target_nm",
                        &target_nm.to_string(),
                        &format!("at most {} nm", leveling.thickness_nm),
                        "target_nm: polishing leaves no more film than there was",
                        "ask for less than thickness_nm",
                    ));
                }
                leveling.time_to_remove_s(leveling.thickness_nm - target_nm)
            }
            (given, _) => {
                return Err(RequestError::conflict(
                    "time_s",
                    if given.is_some() { "time_s and target_nm" } else { "" },
                    "time_s or target_nm",
                    "time_s: needs one of time_s and target_nm",
                    "give the time or the film to be left, not both",
                ));
            }
        };
        Ok(Planarization {
            material,
            pressure_kpa,
            speed_m_s,
            preston_per_pa,
            preston_given: self.preston_per_pa.is_some(),
            stop,
            leveling,
            target_nm: self.target_nm,
            time_s,
        })
    }

    fn selectivity(&self, stop: Option<Material>) -> Result<Option<f64>, RequestError> {
        match (stop, self.selectivity) {
            (None, None) => Ok(None),
            (Some(_), Some(given)) => SELECTIVITY.check(given).map(Some),
            (Some(Material::Nitride), None) if is_oxide(self.material) => {
                Ok(Some(OXIDE_TO_NITRIDE))
            }
            (Some(stop), None) => Err(RequestError::conflict(
                "stop.material",
                stop.word(),
                "nitride, or another layer with selectivity",
                &format!(
                    "stop.material: how {} holds out on the pad against {} is not known here",
                    stop.label(),
                    self.material.label()
                ),
                "give selectivity from a test wafer, or stop on nitride",
            )),
            (None, Some(given)) => Err(RequestError::conflict(
                "selectivity",
                &given.to_string(),
                "selectivity with stop",
                "selectivity: needs a stop layer to count against",
                "add stop with its material, or leave selectivity out",
            )),
        }
    }
}

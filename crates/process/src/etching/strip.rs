//! Stripping resist: how long it takes, and what else the method attacks.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::bath::Etchant;
use super::dry::Chemistry;
use super::film::Film;
use super::rate::{Bath, rate_at};
use super::request::{PLAIN, THICKNESS_NM};
use crate::bench::OperationSchema;
use crate::bound::{Bound, Scale};
use crate::error::RequestError;
use crate::hazards;
use crate::num::{linspace, show, sort_increasing};
use crate::report::{Accuracy, Report, Warning, WorkingLine};
use crate::request::read_fields;
use crate::vocabulary::{Material, words};

words!(
    /// How resist is stripped.
    StripMethod {
        /// An oxygen plasma burns it.
        OxygenPlasma = "oxygen_plasma", "oxygen plasma";
        /// Acetone dissolves it.
        Solvent = "solvent", "solvent (acetone, then alcohol)";
        /// Sulfuric acid and hydrogen peroxide oxidize it.
        Piranha = "piranha", "piranha";
    }
);

/// Time of the strip.
pub const STRIP_TIME_MIN: Bound = Bound {
    field: "time_min",
    label: "Time",
    unit: "min",
    min: 0.1,
    max: 240.0,
    default: Some(10.0),
    step: 0.1,
    scale: Scale::Log,
    ..PLAIN
};

/// Thickness of the resist. Default: the lab's resist demo-p12 at 4000 rpm.
pub const STRIP_THICKNESS_NM: Bound = Bound {
    label: "Resist thickness",
    default: Some(1150.0),
    max: 50_000.0,
    ..THICKNESS_NM
};

/// Resist thickness in nm above which piranha is no strip but a danger: a residue is thinner
/// (model choice).
const RESIDUE_NM: f64 = 50.0;

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct StripRequest {
    method: StripMethod,
    time_min: Option<f64>,
    thickness_nm: Option<f64>,
}

impl StripRequest {
    /// How, and how long in min.
    pub(super) fn check(&self) -> Result<(StripMethod, f64), RequestError> {
        Ok((self.method, STRIP_TIME_MIN.check_or_default(self.time_min)?))
    }
}

/// Results of a resist strip.
#[derive(Clone, Debug, Serialize)]
pub struct StripResults {
    /// How it is stripped.
    pub method: StripMethod,
    /// Resist at the start in nm.
    pub thickness_nm: f64,
    /// Resist removed in nm.
    pub removed_nm: f64,
    /// Resist left in nm.
    pub remaining_nm: f64,
    /// Rate in nm/min.
    pub rate_nm_min: f64,
    /// Low end of its usual range in nm/min.
    pub rate_low_nm_min: f64,
    /// High end of it in nm/min.
    pub rate_high_nm_min: f64,
    /// Time given in min.
    pub time_min: f64,
    /// Time until the resist is gone in min.
    pub time_to_clear_min: f64,
    /// Other materials that the method takes away.
    pub attacked: Vec<Attacked>,
    /// Resist left against time.
    pub curve: StripCurve,
}

/// A material that a strip attacks.
#[derive(Clone, Debug, Serialize)]
pub struct Attacked {
    /// The material.
    pub material: Material,
    /// Its rate in nm/min.
    pub rate_nm_min: f64,
    /// What it loses in the given time in nm.
    pub loss_nm: f64,
}

/// Resist left against time; both lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct StripCurve {
    /// Times in min.
    pub time_min: Vec<f64>,
    /// Resist left in nm.
    pub remaining_nm: Vec<f64>,
}

/// Runs a resist strip.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run(fields: Map<String, Value>) -> Result<Report<StripResults>, RequestError> {
    let request: StripRequest = read_fields(fields)?;
    let (_, time_min) = request.check()?;
    let thickness_nm = STRIP_THICKNESS_NM.check_or_default(request.thickness_nm)?;
    let (method, rate) = (request.method, request.method.rate());
    let left_nm = |time_min: f64| (thickness_nm - rate.nm_min[0] * time_min).max(0.0);
    let clear_min = thickness_nm / rate.nm_min[0];
    let end_min = (1.3 * time_min).max(1.15 * clear_min);
    let mut times = linspace(0.0, end_min, 40);
    times.extend([time_min, clear_min]);
    sort_increasing(&mut times);
    times.dedup_by(|b, a| *b - *a < 1e-9 * end_min);
    let remaining_nm = left_nm(time_min);
    let results = StripResults {
        method,
        thickness_nm,
        removed_nm: thickness_nm - remaining_nm,
        remaining_nm,
        rate_nm_min: rate.nm_min[0],
        rate_low_nm_min: rate.nm_min[1],
        rate_high_nm_min: rate.nm_min[2],
        time_min,
        time_to_clear_min: clear_min,
        attacked: method.attacked(time_min),
        curve: StripCurve {
            remaining_nm: times.iter().map(|&t| left_nm(t)).collect(),
            time_min: times,
        },
    };
    let working = vec![
        WorkingLine::new(
            "R of the table",
            format!("R(resist, {}) = {}", method.label(), show(rate.nm_min[0])),
            rate.nm_min[0],
            "nm/min",
            rate.source,
        ),
        WorkingLine::new(
            "removed = min(R t, d)",
            format!(
                "min({} · {}, {})",
                show(rate.nm_min[0]),
                show(time_min),
                show(thickness_nm)
            ),
            results.removed_nm,
            "nm",
            "definition of the rate",
        ),
        WorkingLine::new(
            "t_clear = d / R",
            format!("{} / {}", show(thickness_nm), show(rate.nm_min[0])),
            clear_min,
            "min",
            "definition of the rate",
        ),
    ];
    Ok(Report {
        operation: "resist_strip",
        published: Vec::new(),
        accuracy: Some(Accuracy {
            relative: (rate.nm_min[2] / rate.nm_min[0] - 1.0).max(0.5),
            meaning: "strip rates differ that much with bake, implant, tool and age of the bath",
            source: "usual range of the rate (common practice)",
        }),
        warnings: warnings(&results),
        results,
        working,
        hazards: hazards::for_step("resist_strip", &[method.word()]),
        kernel_version: "",
    })
}

/// The form of a resist strip.
#[must_use]
pub fn schema() -> OperationSchema {
    OperationSchema {
        operation: "resist_strip",
        numbers: vec![STRIP_THICKNESS_NM, STRIP_TIME_MIN],
        choices: vec![StripMethod::choice("method", "Method", None)],
    }
}

/// Rate of resist, low and high end in nm/min, and where it comes from.
struct StripRate {
    nm_min: [f64; 3],
    source: &'static str,
}

impl StripMethod {
    /// Rate of resist in nm/min.
    pub(super) fn resist_nm_min(self) -> f64 {
        self.rate().nm_min[0]
    }

    /// The bath of a wet method; none for the plasma.
    pub(super) const fn etchant(self) -> Option<Etchant> {
        match self {
            Self::OxygenPlasma => None,
            Self::Solvent => Some(Etchant::Acetone),
            Self::Piranha => Some(Etchant::Piranha),
        }
    }

    fn rate(self) -> StripRate {
        let wet = self.etchant().and_then(|etchant| {
            rate_at(Bath::usual(etchant), Film::usual(Material::Resist))
        });
        if let Some(wet) = wet {
            let rate = wet.here;
            return StripRate {
                nm_min: [rate.rate_nm_min, rate.low_nm_min, rate.high_nm_min],
                source: rate.source,
            };
        }
        let plasma = Chemistry::Oxygen.row(Material::Resist);
        StripRate {
            nm_min: plasma.map_or([300.0, 100.0, 500.0], |row| {
                let rate = row.rate_nm_min;
                [rate.value, rate.low, rate.high]
            }),
            source: "100-500 nm/min (common practice); default: model choice",
        }
    }

    /// What else the method takes away. An oxygen plasma is reckoned to take nothing: its
    /// "100 times slower" is a bound, not a rate.
    fn attacked(self, time_min: f64) -> Vec<Attacked> {
        let Some(etchant) = self.etchant() else { return Vec::new() };
        Material::ALL
            .iter()
            .filter(|&&material| material != Material::Resist)
            .filter_map(|&material| {
                let rate_nm_min = rate_at(Bath::usual(etchant), Film::usual(material))?
                    .here
                    .rate_nm_min;
                (0.0 < rate_nm_min).then_some(Attacked {
                    material,
                    rate_nm_min,
                    loss_nm: rate_nm_min * time_min,
                })
            })
            .collect()
    }
}

fn warnings(results: &StripResults) -> Vec<Warning> {
    let mut list = Vec::new();
    let mut warn = |code: &'static str, field: &str, message: String, hint: &str| {
        list.push(Warning::new(code, field, &message, hint));
    };
    if 0.0 < results.remaining_nm {
        warn(
            "not_cleared",
            "time_min",
            format!("{} nm of resist are left", show(results.remaining_nm)),
            "strip longer, and look at the wafer in a microscope",
        );
    }
    for attacked in &results.attacked {
        warn(
            "attacks_material",
            "method",
            format!(
                "{} eats {}: {} nm/min, {} nm in this time",
                results.method.label(),
                attacked.material.label(),
                show(attacked.rate_nm_min),
                show(attacked.loss_nm)
            ),
            "strip with solvent or plasma once there is metal on the wafer",
        );
    }
    match results.method {
        StripMethod::Piranha if RESIDUE_NM < results.thickness_nm => warn(
            "bulk_resist_in_piranha",
            "thickness_nm",
            "piranha is for residues: a whole film of resist can make it boil over or explode"
                .to_owned(),
            "take the bulk off with solvent or plasma first, rinse with water and dry: no solvent may reach the piranha",
        ),
        StripMethod::Solvent => warn(
            "hardened_resist",
            "method",
            "resist that was baked hard, etched in plasma or implanted above about 1e14 per cm2 does not dissolve"
                .to_owned(),
            "use an oxygen plasma for it",
        ),
        StripMethod::OxygenPlasma => warn(
            "oxidized_surface",
            "method",
            "the plasma leaves 1 to 3 nm of oxide on bare silicon and does not burn metals out of the resist"
                .to_owned(),
            "clean the wafer wet before it goes into a furnace",
        ),
        StripMethod::Piranha => {}
    }
    list
}

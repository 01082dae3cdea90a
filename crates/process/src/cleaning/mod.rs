//! Cleaning a wafer: what a recipe takes away, and the thin oxide it leaves on bare silicon.
//!
//! # Model
//! A bath that oxidizes (peroxide or ozone in it) leaves a film of its own thickness, however
//! long: it stops by itself. A dip in dilute HF takes oxide at the rate of the Wet bench until
//! the silicon is bare. A solvent touches neither.
//!
//! # Validity
//! Bare silicon. Thermal oxide on the wafer loses what the HF takes; SC-1 eats less than 0.1 nm
//! of oxide and silicon a minute, which is left out. How clean the wafer was before is not
//! reckoned: `removed` says what the recipe is for.

mod listed;
mod recipe;

pub(crate) use listed::list;
pub use recipe::{Bath, CHEMICAL_OXIDE_NM, HF_DIP_PERCENT, Recipe, Soil};

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::bench::OperationSchema;
use crate::bound::{Bound, Scale};
use crate::constants::SILICON_PER_OXIDE;
use crate::error::RequestError;
use crate::hazards;
use crate::num::show;
use crate::report::{Report, Warning, WorkingLine};
use crate::request::read_fields;
use recipe::hf_dip_rate;

/// Time of the whole recipe, rinses not counted; the baths share it as in the usual recipe.
pub const TIME_MIN: Bound = Bound {
    field: "time_min",
    label: "Time of all baths",
    unit: "min",
    min: 0.1,
    max: 240.0,
    published: None,
    default: None,
    step: 0.1,
    scale: Scale::Log,
};

/// Oxide on the silicon before: the native oxide of a wafer from its box.
pub const OXIDE_BEFORE_NM: Bound = Bound {
    field: "native_oxide_nm",
    label: "Native oxide before",
    unit: "nm",
    min: 0.0,
    max: 5.0,
    published: None,
    default: Some(1.0),
    step: 0.1,
    scale: Scale::Linear,
};

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct CleanRequest {
    recipe: Recipe,
    time_min: Option<f64>,
    native_oxide_nm: Option<f64>,
}

/// Results of a clean.
#[derive(Clone, Debug, Serialize)]
pub struct CleanResults {
    /// The recipe.
    pub recipe: Recipe,
    /// What it takes away.
    pub removed: Vec<Soil>,
    /// Oxide on bare silicon afterwards in nm.
    pub native_oxide_nm: f64,
    /// Silicon that the oxidizing baths turned into oxide in nm.
    pub silicon_consumed_nm: f64,
    /// Whether water rolls off the bare silicon afterwards: no oxide is left.
    pub sheds_water: bool,
    /// Time of all baths in min.
    pub time_min: f64,
    /// Bath by bath.
    pub baths: Vec<BathResults>,
}

/// One bath of a clean.
#[derive(Clone, Debug, Serialize)]
pub struct BathResults {
    /// The bath.
    pub bath: Bath,
    /// Time in it in min.
    pub time_min: f64,
    /// Oxide on bare silicon afterwards in nm.
    pub native_oxide_nm: f64,
}

/// Runs a clean.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run(fields: Map<String, Value>) -> Result<Report<CleanResults>, RequestError> {
    let request: CleanRequest = read_fields(fields)?;
    let before_nm = OXIDE_BEFORE_NM.check_or_default(request.native_oxide_nm)?;
    let recipe = request.recipe;
    let usual_min = recipe.usual_min();
    let time_min = request.time_min.map_or(Ok(usual_min), |t| TIME_MIN.check(t))?;
    let mut working = Vec::new();
    let mut oxide_nm = before_nm;
    let mut consumed_nm = 0.0;
    let mut baths = Vec::new();
    for &(bath, bath_min) in recipe.baths() {
        let bath_time = time_min * bath_min / usual_min;
        if bath == Bath::Hf {
            let (rate_nm_min, source) = hf_dip_rate();
            let left_nm = (oxide_nm - rate_nm_min * bath_time).max(0.0);
            working.push(WorkingLine::new(
                "d_after = max(0, d - R t)",
                format!(
                    "max(0, {} - {} · {})",
                    show(oxide_nm),
                    show(rate_nm_min),
                    show(bath_time)
                ),
                left_nm,
                "nm",
                source,
            ));
            oxide_nm = left_nm;
        } else if bath.oxidizes() && oxide_nm < CHEMICAL_OXIDE_NM {
            let grown_nm = CHEMICAL_OXIDE_NM - oxide_nm;
            let eaten_nm = SILICON_PER_OXIDE * grown_nm;
            working.push(WorkingLine::new(
                "x_Si = 0.44 (d_chem - d)",
                format!(
                    "{} · ({} - {}) in {}",
                    show(SILICON_PER_OXIDE),
                    show(CHEMICAL_OXIDE_NM),
                    show(oxide_nm),
                    bath.label()
                ),
                eaten_nm,
                "nm",
                recipe::CHEMICAL_OXIDE_SOURCE,
            ));
            consumed_nm += eaten_nm;
            oxide_nm = CHEMICAL_OXIDE_NM;
        }
        baths.push(BathResults { bath, time_min: bath_time, native_oxide_nm: oxide_nm });
    }
    let results = CleanResults {
        recipe,
        removed: recipe.removed().to_vec(),
        native_oxide_nm: oxide_nm,
        silicon_consumed_nm: consumed_nm,
        sheds_water: oxide_nm <= 0.0,
        time_min,
        baths,
    };
    Ok(Report {
        operation: "clean",
        warnings: warnings(&results),
        results,
        working,
        published: Vec::new(),
        accuracy: None,
        hazards: hazards::for_step("clean", &[recipe.word()]),
        kernel_version: "",
    })
}

/// The form of a clean.
#[must_use]
pub fn schema() -> OperationSchema {
    OperationSchema {
        operation: "clean",
        numbers: vec![TIME_MIN, OXIDE_BEFORE_NM],
        choices: vec![Recipe::choice("recipe", "Recipe", None)],
    }
}

fn warnings(results: &CleanResults) -> Vec<Warning> {
    let mut list = Vec::new();
    let mut warn = |code: &'static str, field: &str, message: String, hint: &str| {
        list.push(Warning::new(code, field, &message, hint));
    };
    let recipe = results.recipe;
    if results.time_min < 0.5 * recipe.usual_min() {
        warn(
            "short_clean",
            "time_min",
            format!(
                "{} min is short for this recipe: {} min are usual",
                show(results.time_min),
                show(recipe.usual_min())
            ),
            "give every bath its time",
        );
    }
    let dipped = recipe.baths().last().is_some_and(|(bath, _)| *bath == Bath::Hf);
    if dipped && 0.0 < results.native_oxide_nm {
        warn(
            "oxide_left",
            "time_min",
            format!("{} nm of oxide are left", show(results.native_oxide_nm)),
            "dip longer, until water rolls off",
        );
    }
    if dipped && results.sheds_water {
        warn(
            "bare_silicon",
            "recipe",
            "bare silicon gathers particles, and grows native oxide in air within hours"
                .to_owned(),
            "go on to the furnace within the hour",
        );
    }
    if recipe == Recipe::Sc1 {
        warn(
            "metals_stay",
            "recipe",
            "SC-1 takes particles and organics; traces of metals from its ammonia stay"
                .to_owned(),
            "follow with sc2 before a furnace",
        );
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn clean(request: Value) -> CleanResults {
        let Value::Object(fields) = request else { panic!("not an object") };
        run(fields).unwrap().results
    }

    #[test]
    fn the_last_bath_decides_what_is_left() {
        let full = clean(json!({"recipe": "piranha_sc1_hf_sc2"}));
        assert!((full.native_oxide_nm - CHEMICAL_OXIDE_NM).abs() < 1e-12);
        assert!(!full.sheds_water);
        // Only the oxide that the HF took is grown again.
        let once = SILICON_PER_OXIDE * CHEMICAL_OXIDE_NM;
        assert!((full.silicon_consumed_nm - once).abs() < 1e-12);
        let order: Vec<&str> = full.baths.iter().map(|b| b.bath.word()).collect();
        assert_eq!(order, ["piranha", "sc1", "hf", "sc2"]);
        let dip = clean(json!({"recipe": "hf_dip"}));
        assert!(dip.sheds_water && dip.native_oxide_nm <= 0.0);
        let solvent = clean(json!({"recipe": "solvent", "native_oxide_nm": 1.5}));
        assert!((solvent.native_oxide_nm - 1.5).abs() < 1e-12);
        assert_eq!(solvent.removed, [Soil::Organics]);
    }

    #[test]
    fn a_dip_takes_its_time() {
        let short =
            clean(json!({"recipe": "hf_dip", "time_min": 0.1, "native_oxide_nm": 4}));
        assert!(0.0 < short.native_oxide_nm && short.native_oxide_nm < 4.0);
        let Value::Object(fields) = json!({"recipe": "hf_dip", "time_min": 0.1,
            "native_oxide_nm": 4})
        else {
            panic!()
        };
        let report = run(fields).unwrap();
        let codes: Vec<&str> = report.warnings.iter().map(|w| w.code).collect();
        assert_eq!(codes, ["short_clean", "oxide_left"]);
    }

    #[test]
    fn bad_fields_are_named() {
        for (request, field) in [
            (json!({}), "recipe"),
            (json!({"recipe": "soap"}), "recipe"),
            (json!({"recipe": "sc1", "time_min": 0}), "time_min"),
            (json!({"recipe": "sc1", "native_oxide_nm": -1}), "native_oxide_nm"),
            (json!({"recipe": "sc1", "soap": 1}), "soap"),
        ] {
            let Value::Object(fields) = request else { panic!("not an object") };
            assert_eq!(run(fields).unwrap_err().field, field);
        }
    }
}

//! Every rule over a list of steps: one plan on which it fires, one on which it does not.

#![expect(clippy::expect_used, reason = "a test stops at the first surprise")]

use barewafer_process::hazards::{Finding, Grade, furnace_setting, row, rules, sequence};
use serde_json::{Value, json};

const SOLVENT: &str =
    r#"{"id": "lift", "operation": "resist_strip", "method": "solvent"}"#;
const PLASMA: &str =
    r#"{"id": "ash", "operation": "resist_strip", "method": "oxygen_plasma"}"#;
const PIRANHA: &str = r#"{"id": "clean", "operation": "clean", "recipe": "piranha"}"#;
const COAT: &str = r#"{"id": "coat", "operation": "spin_coating", "resist": "demo-p12"}"#;
const PRIMED: &str = r#"{"id": "coat", "operation": "spin_coating", "resist": "demo-p12", "primed": true}"#;
const METAL: &str = r#"{"id": "metal", "operation": "deposition", "film": "aluminum"}"#;
const BHF: &str = r#"{"id": "etch", "operation": "wet_etch", "etchant": "bhf_6_1"}"#;
const BAKE: &str =
    r#"{"id": "dry", "operation": "bake", "temperature_c": 150, "time_s": 60}"#;
const DRY_OXIDE: &str =
    r#"{"id": "ox", "operation": "oxidation", "ambient": "dry", "temperature_c": 1000}"#;
const INERT: &str =
    r#"{"id": "n2", "operation": "anneal", "ambient": "inert", "temperature_c": 900}"#;
const FORMING: &str = r#"{"id": "fg", "operation": "anneal", "ambient": "forming_gas", "temperature_c": 450}"#;
const POLY: &str = r#"{"id": "poly", "operation": "deposition", "film": "polysilicon"}"#;
const OXIDE: &str =
    r#"{"id": "lto", "operation": "deposition", "film": "deposited_oxide"}"#;
const SC1: &str = r#"{"id": "sc1", "operation": "clean", "recipe": "sc1"}"#;
const SC2: &str = r#"{"id": "sc2", "operation": "clean", "recipe": "sc2"}"#;
const ALUMINUM_ETCH: &str =
    r#"{"id": "al", "operation": "wet_etch", "etchant": "aluminum_etch"}"#;

/// A step with a field more.
fn with(step: &str, field: &str, value: Value) -> String {
    let mut step: Value = serde_json::from_str(step).expect("JSON");
    step[field] = value;
    step.to_string()
}

/// A step with one word on how it is done.
fn by(step: &str, field: &str, value: Value) -> String {
    with(step, "handling", json!({ field: value }))
}

fn found(steps: &[&str]) -> Vec<Finding> {
    let steps: Vec<Value> =
        steps.iter().map(|step| serde_json::from_str(step).expect("JSON")).collect();
    sequence(&steps)
}

/// The rule fires once on the first plan, on these steps, and not on the second.
#[track_caller]
fn check(rule: &str, fires: &[&str], on: &[&str], silent: &[&str]) {
    let hits: Vec<Vec<String>> = found(fires)
        .into_iter()
        .filter(|found| found.rule == rule)
        .map(|found| found.steps)
        .collect();
    assert_eq!(hits, [on], "{rule} on {fires:?}");
    let quiet: Vec<Finding> =
        found(silent).into_iter().filter(|found| found.rule == rule).collect();
    assert!(quiet.is_empty(), "{rule} must be silent on {silent:?}: {quiet:?}");
}

/// Every rule once: `(rule, plan, steps it names, plan without)`.
type Case = (&'static str, Vec<String>, Vec<&'static str>, Vec<String>);

fn cases() -> Vec<Case> {
    let plan = |steps: &[&str]| -> Vec<String> {
        steps.iter().map(|step| (*step).to_owned()).collect()
    };
    let steam = |celsius: f64| {
        format!(
            r#"{{"id": "ox", "operation": "oxidation", "ambient": "steam", "temperature_c": {celsius}}}"#
        )
    };
    let hf = r#"{"id": "dip", "operation": "clean", "recipe": "hf_dip"}"#;
    let koh = r#"{"id": "koh", "operation": "wet_etch", "etchant": "koh_33", "material": "silicon"}"#;
    let hot = r#"{"id": "hot", "operation": "wet_etch", "etchant": "phosphoric_85"}"#;
    let acetone = r#"{"id": "ac", "operation": "wet_etch", "etchant": "acetone"}"#;
    let plasma = r#"{"id": "cl", "operation": "dry_etch", "chemistry": "bcl3_cl2"}"#;
    let piranha_bath = r#"{"id": "p", "operation": "wet_etch", "etchant": "piranha"}"#;
    let right = json!(["water", "hf"]);
    vec![
        (
            "organics_before_piranha",
            plan(&[SOLVENT, PIRANHA]),
            vec!["lift", "clean"],
            plan(&[PLASMA, PIRANHA]),
        ),
        (
            "organics_before_nitric_acid",
            plan(&[SOLVENT, ALUMINUM_ETCH]),
            vec!["lift", "al"],
            plan(&[SOLVENT, BHF]),
        ),
        (
            "resist_into_piranha",
            plan(&[COAT, BAKE, PIRANHA]),
            vec!["coat", "clean"],
            plan(&[COAT, BAKE, PLASMA, PIRANHA]),
        ),
        (
            "metal_into_piranha",
            plan(&[METAL, PIRANHA]),
            vec!["metal", "clean"],
            plan(&[PIRANHA, METAL]),
        ),
        (
            "metal_into_base_or_hydrochloric_acid",
            plan(&[METAL, koh]),
            vec!["metal", "koh"],
            plan(&[koh, METAL]),
        ),
        ("sc1_after_sc2", plan(&[SC2, SC1]), vec!["sc2", "sc1"], plan(&[SC1, SC2])),
        (
            "fluoride_into_acid",
            plan(&[BHF, PIRANHA]),
            vec!["etch", "clean"],
            plan(&[BHF, PLASMA, PIRANHA]),
        ),
        (
            "solvent_before_heat",
            plan(&[SOLVENT, BAKE]),
            vec!["lift", "dry"],
            plan(&[COAT, BAKE]),
        ),
        (
            "resist_into_furnace",
            plan(&[COAT, DRY_OXIDE]),
            vec!["coat", "ox"],
            plan(&[COAT, PLASMA, DRY_OXIDE]),
        ),
        (
            "hydrogen_below_ignition",
            plan(&[&steam(750.0)]),
            vec!["ox"],
            plan(&[&steam(950.0)]),
        ),
        (
            "hydrogen_without_purge",
            plan(&[DRY_OXIDE, FORMING]),
            vec!["ox", "fg"],
            plan(&[DRY_OXIDE, INERT, FORMING]),
        ),
        (
            "silane_without_purge",
            plan(&[POLY, OXIDE]),
            vec!["poly", "lto"],
            plan(&[POLY, DRY_OXIDE, OXIDE]),
        ),
        (
            "hf_heated",
            plan(&[&with(BHF, "temperature_c", json!(45))]),
            vec!["etch"],
            plan(&[&with(BHF, "temperature_c", json!(21))]),
        ),
        (
            "piranha_too_hot",
            plan(&[&with(piranha_bath, "temperature_c", json!(140))]),
            vec!["p"],
            plan(&[&with(piranha_bath, "temperature_c", json!(120))]),
        ),
        (
            "solvent_heated",
            plan(&[&with(acetone, "temperature_c", json!(45))]),
            vec!["ac"],
            plan(&[acetone]),
        ),
        (
            "primer_on_wet_wafer",
            plan(&[hf, PRIMED]),
            vec!["dip", "coat"],
            plan(&[hf, BAKE, PRIMED]),
        ),
        (
            "hf_in_glass",
            plan(&[&by(BHF, "container", json!("glass"))]),
            vec!["etch"],
            plan(&[&by(BHF, "container", json!("plastic"))]),
        ),
        (
            "piranha_in_plastic",
            plan(&[&by(PIRANHA, "container", json!("plastic"))]),
            vec!["clean"],
            plan(&[&by(PIRANHA, "container", json!("glass"))]),
        ),
        (
            "water_into_acid",
            plan(&[&by(hf, "poured", json!(["hf", "water"]))]),
            vec!["dip"],
            plan(&[&by(hf, "poured", right)]),
        ),
        (
            "acid_into_peroxide",
            plan(&[&by(PIRANHA, "poured", json!(["h2o2", "h2so4"]))]),
            vec!["clean"],
            plan(&[&by(PIRANHA, "poured", json!(["h2so4", "h2o2"]))]),
        ),
        (
            "water_onto_pellets",
            plan(&[&by(koh, "poured", json!(["koh", "water"]))]),
            vec!["koh"],
            plan(&[&by(koh, "poured", json!(["water", "koh"]))]),
        ),
        (
            "peroxide_too_strong",
            plan(&[&by(PIRANHA, "peroxide_percent", json!(50))]),
            vec!["clean"],
            plan(&[&by(PIRANHA, "peroxide_percent", json!(30))]),
        ),
        (
            "closed_bottle",
            plan(&[&by(PIRANHA, "lid", json!("closed"))]),
            vec!["clean"],
            plan(&[&by(PIRANHA, "lid", json!("open"))]),
        ),
        (
            "waste_mixed",
            plan(&[&by(SC1, "waste", json!("acid"))]),
            vec!["sc1"],
            plan(&[&by(SC1, "waste", json!("base"))]),
        ),
        (
            "hot_acid_drained",
            plan(&[&by(hot, "drained_at_c", json!(90))]),
            vec!["hot"],
            plan(&[&by(hot, "drained_at_c", json!(40))]),
        ),
        (
            "solvent_near_heat",
            plan(&[&by(SOLVENT, "near", json!(["hot_plate"]))]),
            vec!["lift"],
            plan(&[&by(BHF, "near", json!(["hot_plate"]))]),
        ),
        (
            "not_purged",
            plan(&[&by(plasma, "purged", json!(false))]),
            vec!["cl"],
            plan(&[&by(plasma, "purged", json!(true))]),
        ),
        (
            "alone_at_the_wet_bench",
            plan(&[&by(hf, "alone", json!(true))]),
            vec!["dip"],
            plan(&[&by(hf, "alone", json!(false))]),
        ),
    ]
}

#[test]
fn each_rule_fires_on_its_mistake_and_not_without_it() {
    for (rule, fires, on, silent) in cases() {
        let strs = |steps: &'_ [String]| -> Vec<String> { steps.to_vec() };
        let (fires, silent) = (strs(&fires), strs(&silent));
        let fires: Vec<&str> = fires.iter().map(String::as_str).collect();
        let silent: Vec<&str> = silent.iter().map(String::as_str).collect();
        check(rule, &fires, &on, &silent);
    }
}

#[test]
fn every_rule_has_a_case_and_says_why_and_what_to_do() {
    let tried: Vec<&str> = cases().iter().map(|case| case.0).collect();
    for rule in rules() {
        assert!(tried.contains(&rule.id), "{} has no case", rule.id);
        for text in [rule.title, rule.reason, rule.remedy, rule.source] {
            assert!(!text.is_empty(), "{}", rule.id);
        }
        assert!(rule.reason.ends_with('.') && rule.remedy.ends_with('.'), "{}", rule.id);
        assert!(!rule.hazards.is_empty(), "{}", rule.id);
        for id in rule.hazards {
            assert!(row(id).is_some(), "{}: no row {id}", rule.id);
        }
        let known = ["read", "memory", "common practice"];
        assert!(known.iter().any(|word| rule.source.contains(word)), "{}", rule.id);
    }
    assert_eq!(rules().count(), tried.len());
}

/// The findings of one setting.
fn setting(request: &Value) -> Vec<Finding> {
    barewafer_process::hazards::setting(request.as_object().expect("an object"))
}

#[test]
fn what_a_setting_starts_from_was_done_before_it() {
    let forming = json!({"operation": "anneal", "ambient": "forming_gas", "start": {
        "operation": "predeposition", "dopant": "phosphorus", "source": "pocl3"}});
    assert_eq!(setting(&forming)[0].rule, "hydrogen_without_purge");
    assert_eq!(setting(&forming)[0].steps, ["1", "2"]);
    // With nitrogen between them they do not meet, and what lies deeper counts once.
    let purged = json!({"operation": "drive_in", "ambient": "dry", "start": {
        "operation": "anneal", "ambient": "inert", "start": forming}});
    assert_eq!(setting(&purged).len(), 1);
}

#[test]
fn a_furnace_bench_needs_the_furnace_rules_only() {
    let inner =
        json!({"operation": "predeposition", "dopant": "boron", "source": "diborane"});
    for operation in ["oxidation", "drive_in", "anneal"] {
        for ambient in ["dry", "wet", "steam", "inert", "forming_gas"] {
            for celsius in [450.0, 799.0, 800.0, 1100.0] {
                for start in [json!({}), inner.clone()] {
                    let request = json!({"operation": operation, "ambient": ambient,
                        "temperature_c": celsius, "start": start});
                    let by_few = furnace_setting(request.as_object().expect("an object"));
                    assert_eq!(setting(&request), by_few, "{request}");
                    let steam = matches!(ambient, "wet" | "steam") && celsius < 800.0;
                    let forming = ambient == "forming_gas" && start != json!({});
                    assert_eq!(by_few.is_empty(), !steam && !forming, "{request}");
                }
            }
        }
    }
    for other in [
        json!({"operation": "deposition", "film": "polysilicon"}),
        json!({"operation": "implantation", "dopant": "boron"}),
        json!({"operation": "sheet", "profile": {"operation": "implantation", "dopant": "boron"}}),
        inner,
    ] {
        assert!(setting(&other).is_empty(), "{other}");
    }
}

#[test]
fn what_stops_stands_first() {
    let both = json!({"operation": "wet_etch", "etchant": "piranha", "material": "resist",
        "temperature_c": 140, "handling": {"container": "plastic"}});
    let found = setting(&both);
    assert!(3 <= found.len());
    assert!(found.is_sorted_by_key(|one| one.grade == Grade::Check));
}

#[test]
fn one_setting_is_judged_by_itself() {
    let one = setting(&json!({"operation": "resist_strip", "method": "piranha"}));
    assert_eq!(one.len(), 1);
    assert_eq!((one[0].rule, one[0].grade), ("resist_into_piranha", Grade::Stop));
    assert_eq!(one[0].steps, ["1"]);
    let residue = json!({"operation": "resist_strip", "method": "piranha",
        "thickness_nm": 30});
    assert!(setting(&residue).is_empty());
    let metal = json!({"operation": "wet_etch", "etchant": "piranha",
        "material": "aluminum"});
    assert_eq!(setting(&metal)[0].rule, "metal_into_piranha");
}

#[test]
fn the_shape_of_a_run_sheet_is_read_and_steps_without_id_are_numbered() {
    let steps = [
        json!({"id": "a", "purpose": "x", "step": {"operation": "clean", "recipe": "sc2"}}),
        json!({"step": {"operation": "clean", "recipe": "sc1", "handling": {"alone": true}}}),
        json!("no step"),
        json!({"id": 7, "operation": "mystery"}),
    ];
    let found = sequence(&steps);
    let named: Vec<(&str, Vec<&str>)> = found
        .iter()
        .map(|one| (one.rule, one.steps.iter().map(String::as_str).collect()))
        .collect();
    assert_eq!(
        named,
        [("sc1_after_sc2", vec!["a", "2"]), ("alone_at_the_wet_bench", vec!["2"])]
    );
}

/// A whole inverter flow has nothing to stop: a rule that cries at every flow is not read.
#[test]
fn a_sound_plan_stops_nowhere() {
    let wet_oxide = r#"{"id": "field", "operation": "oxidation", "ambient": "wet", "temperature_c": 1000}"#;
    let develop = r#"{"id": "dev", "operation": "development"}"#;
    let expose = r#"{"id": "exp", "operation": "exposure"}"#;
    let full = r#"{"id": "rca", "operation": "clean", "recipe": "piranha_sc1_hf_sc2"}"#;
    let implant = r#"{"id": "imp", "operation": "implantation", "dopant": "boron"}"#;
    let drive = r#"{"id": "drive", "operation": "drive_in", "temperature_c": 1100}"#;
    let metal_etch = with(ALUMINUM_ETCH, "material", json!("aluminum"));
    let plan = [
        full,
        wet_oxide,
        PRIMED,
        BAKE,
        expose,
        develop,
        BAKE,
        BHF,
        PLASMA,
        full,
        implant,
        drive,
        POLY,
        COAT,
        BAKE,
        expose,
        develop,
        PLASMA,
        full,
        METAL,
        COAT,
        BAKE,
        expose,
        develop,
        &metal_etch,
        SOLVENT,
        FORMING,
    ];
    let stops: Vec<Finding> =
        found(&plan).into_iter().filter(|one| one.grade == Grade::Stop).collect();
    assert!(stops.is_empty(), "{stops:?}");
}

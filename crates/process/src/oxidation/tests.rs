//! Requests from the outside: each mistake, each warning, the working.

use serde_json::{Value, json};

use super::{OxidationResults, run};
use crate::error::RequestError;
use crate::report::Report;

fn ask(fields: Value) -> Result<Report<OxidationResults>, RequestError> {
    run(crate::request::into_object(fields).unwrap())
}

#[track_caller]
fn fails(fields: Value, code: &str, field: &str, parts: &[&str]) {
    let error = ask(fields).expect_err("the request is wrong");
    assert_eq!((error.code, error.field.as_str()), (code, field), "{error}");
    for part in parts {
        assert!(error.to_string().contains(part), "{error} lacks {part}");
    }
}

#[test]
fn numbers_outside_their_range_are_refused() {
    let with = |extra: Value| {
        let mut fields = json!({"ambient": "dry", "temperature_c": 1000, "time_min": 60});
        for (key, value) in extra.as_object().unwrap() {
            fields[key] = value.clone();
        }
        fields
    };
    let cases = [
        (json!({"temperature_c": 599}), "temperature_c", "600 to 1250 °C"),
        (json!({"temperature_c": 1251}), "temperature_c", "1251"),
        (json!({"time_min": 0}), "time_min", "0.1 to 10000 min"),
        (json!({"time_min": -5}), "time_min", "-5"),
        (json!({"initial_oxide_nm": -1}), "initial_oxide_nm", "0 to 5000 nm"),
        (json!({"pressure_atm": 0}), "pressure_atm", "0.01 to 25 atm"),
        (json!({"hcl_percent": 50}), "hcl_percent", "0 to 10 %"),
        (
            json!({"doping": {"dopant": "boron", "concentration_cm3": 1e23}}),
            "doping.concentration_cm3",
            "1e13 to 1e21 cm⁻³",
        ),
    ];
    for (extra, field, part) in cases {
        fails(with(extra), "out_of_range", field, &[field, part]);
    }
}

#[test]
fn fields_that_are_missing_or_exclude_each_other_are_named() {
    let part = json!({"ambient": "dry", "temperature_c": 900, "time_min": 10});
    fails(json!({}), "missing_field", "ambient", &["dry, wet, steam"]);
    fails(json!({"ambient": "dry"}), "missing_field", "temperature_c", &["600 to 1250"]);
    fails(
        json!({"ambient": "dry", "temperature_c": 900}),
        "missing_field",
        "time_min",
        &["target_oxide_nm"],
    );
    fails(
        json!({"ambient": "dry", "temperature_c": 900, "time_min": 1, "target_oxide_nm": 9}),
        "conflict",
        "target_oxide_nm",
        &["exclude each other"],
    );
    fails(
        json!({"ambient": "inert", "temperature_c": 900, "time_min": 1}),
        "conflict",
        "ambient",
        &["segment"],
    );
    fails(
        json!({"segments": [part], "temperature_c": 900}),
        "conflict",
        "temperature_c",
        &["segments"],
    );
    fails(json!({"segments": []}), "out_of_range", "segments", &["1 to 50"]);
    fails(
        json!({"segments": [part, {"ambient": "wet", "temperature_c": 500, "time_min": 5}]}),
        "out_of_range",
        "segments[1].temperature_c",
        &["500", "600 to 1250 °C"],
    );
    fails(
        json!({"segments": [{"ambient": "wet", "temperature_c": 900, "time_min": 5,
            "end_temperature_c": 2000}]}),
        "out_of_range",
        "segments[0].end_temperature_c",
        &["2000"],
    );
    fails(
        json!({"ambient": "dry", "temperature_c": 900, "time_min": 1,
            "doping": {"dopant": "gallium", "concentration_cm3": 1e19}}),
        "unknown_value",
        "doping.dopant",
        &["boron"],
    );
}

#[test]
fn targets_that_cannot_be_grown_are_refused() {
    let target = |model: &str, initial_nm: f64, target_nm: f64, ambient: &str| {
        json!({"ambient": ambient, "temperature_c": 900, "target_oxide_nm": target_nm,
            "initial_oxide_nm": initial_nm, "model": model})
    };
    let field = "target_oxide_nm";
    fails(
        target("auto", 50.0, 40.0, "wet"),
        "conflict",
        field,
        &["40 nm", "50 nm", "etch"],
    );
    fails(target("auto", 50.0, 50.0, "wet"), "conflict", field, &["not above"]);
    fails(target("auto", 0.0, 1.0, "dry"), "conflict", field, &["native"]);
    fails(target("deal_grove", 0.0, 20.0, "dry"), "conflict", field, &["25 nm", "auto"]);
    fails(
        target("auto", 0.0, 4000.0, "dry"),
        "unreachable",
        field,
        &["4000 nm", "900 °C", "10000 min"],
    );
    assert!(ask(target("deal_grove", 0.0, 20.0, "wet")).is_ok());
}

#[track_caller]
fn warns(fields: Value, expected: &[(&str, &str)]) {
    let report = ask(fields).unwrap();
    let found: Vec<(&str, &str)> = report
        .warnings
        .iter()
        .map(|warning| (warning.code, warning.field.as_str()))
        .collect();
    assert_eq!(found, expected);
}

#[test]
fn cautions_come_where_the_models_end_and_nowhere_else() {
    let step = |ambient: &str, temperature_c: f64, time_min: f64| json!({"ambient": ambient, "temperature_c": temperature_c, "time_min": time_min});
    for temperature_c in [800.0, 900.0, 1000.0] {
        warns(step("dry", temperature_c, 30.0), &[]);
    }
    for temperature_c in [700.0, 1000.0, 1200.0] {
        warns(step("wet", temperature_c, 30.0), &[]);
    }
    warns(step("dry", 1100.0, 1.0), &[("thin_oxide_above_data", "temperature_c")]);
    warns(step("dry", 1100.0, 60.0), &[]);
    warns(
        step("dry", 650.0, 60.0),
        &[
            ("outside_published_range", "temperature_c"),
            ("thin_oxide_below_data", "temperature_c"),
        ],
    );
    let with = |mut fields: Value, key: &str, value: Value| {
        fields[key] = value;
        fields
    };
    warns(
        with(step("dry", 900.0, 1.0), "model", json!("deal_grove")),
        &[("deal_grove_too_thin", "model")],
    );
    warns(
        with(step("dry", 1000.0, 300.0), "model", json!("massoud")),
        &[("massoud_too_thick", "model")],
    );
    warns(
        with(step("wet", 1000.0, 30.0), "model", json!("massoud")),
        &[("model_not_used", "model")],
    );
    warns(
        with(step("dry", 1000.0, 30.0), "parameter_set", json!("wet_1988")),
        &[("parameter_set_not_used", "parameter_set")],
    );
    warns(
        with(step("steam", 1200.0, 600.0), "pressure_atm", json!(22)),
        &[("outside_published_range", "pressure_atm"), ("thicker_than_verified", "")],
    );
    warns(
        with(step("steam", 900.0, 30.0), "orientation", json!("110")),
        &[("orientation_uncertain", "orientation")],
    );
    warns(
        with(step("steam", 900.0, 30.0), "hcl_percent", json!(3)),
        &[("hcl_only_dilutes", "hcl_percent")],
    );
    warns(
        with(step("dry", 1000.0, 30.0), "hcl_percent", json!(3)),
        &[("hcl_uncertain", "hcl_percent")],
    );
    let doped = json!({"dopant": "phosphorus", "concentration_cm3": 5e20});
    warns(
        with(step("steam", 900.0, 30.0), "doping", doped),
        &[
            ("outside_published_range", "doping.concentration_cm3"),
            ("doping_enhancement_uncertain", "doping"),
        ],
    );
    warns(
        json!({"segments": [
            {"ambient": "inert", "temperature_c": 400, "end_temperature_c": 900, "time_min": 50},
            {"ambient": "wet", "temperature_c": 680, "end_temperature_c": 900, "time_min": 20},
        ]}),
        &[("outside_published_range", "segments[1].temperature_c")],
    );
}

#[test]
fn the_working_leads_to_the_result() {
    let report =
        ask(json!({"ambient": "wet", "temperature_c": 1000, "time_min": 60})).unwrap();
    let value = |start: &str| {
        report
            .working
            .iter()
            .find(|line| line.equation.starts_with(start))
            .unwrap_or_else(|| panic!("no line {start}"))
            .result
    };
    // By hand: kT = 0.10971 eV, B = 386 exp(-7.110) = 0.3155 um2/h, B/A = 0.7445 um/h.
    let (a, b) = (value("A = "), value("B = "));
    assert!((value("T = ") - 1273.15).abs() < 1e-9);
    assert!((b - 0.3155).abs() < 1e-4);
    assert!((value("B/A = ") - 0.7445).abs() < 1e-4);
    let x = 0.5 * a * ((1.0 + 4.0 * b / (a * a)).sqrt() - 1.0);
    assert!((value("X = ") / x - 1.0).abs() < 1e-12);
    assert!((report.results.oxide_nm / (1e3 * x) - 1.0).abs() < 1e-12);
    assert!((value("silicon consumed") / (440.0 * x) - 1.0).abs() < 1e-12);
}

#[test]
fn every_factor_stands_in_the_working() {
    let report = ask(json!({
        "ambient": "dry", "temperature_c": 1000, "time_min": 60, "pressure_atm": 2,
        "hcl_percent": 2, "doping": {"dopant": "boron", "concentration_cm3": 2e20},
    }))
    .unwrap();
    let all: String = report.working.iter().map(|line| line.equation.as_str()).collect();
    for part in
        ["B0 exp(-E_B/kT) · p · f_HCl", "p^0.75 · f_HCl · f_N", "C2 =", "gamma", "w_T"]
    {
        assert!(all.contains(part), "{part} is missing: {all}");
    }
}

#[test]
fn a_recipe_shows_each_segment_and_starts_from_what_is_there() {
    let report = ask(json!({"initial_oxide_nm": 20, "segments": [
        {"ambient": "inert", "temperature_c": 700, "end_temperature_c": 1000, "time_min": 30},
        {"ambient": "dry", "temperature_c": 1000, "time_min": 10},
        {"ambient": "inert", "temperature_c": 1000, "end_temperature_c": 700, "time_min": 60},
    ]}))
    .unwrap();
    let found = report.results;
    assert!((found.initial_oxide_nm - 20.0).abs() < 1e-12 && 20.0 < found.oxide_nm);
    assert!((found.time_min - 100.0).abs() < 1e-9);
    assert!(found.rate_nm_min.abs() < 1e-300, "nitrogen at the end");
    assert!(found.extended_curve.is_none());
    let curve = &found.curve;
    assert!(curve.time_min.windows(2).all(|pair| pair[0] < pair[1]));
    assert!((curve.time_min.last().unwrap() - 100.0).abs() < 1e-9);
    for number in 1..=3 {
        let prefix = format!("segment {number}: X = ");
        assert!(report.working.iter().any(|line| line.equation.starts_with(&prefix)));
    }
    assert_eq!(report.hazards, ["O2", "N2", "HEAT"]);
}

#[test]
fn the_closed_dry_law_counts_its_fitted_start_as_no_oxide() {
    let report = ask(json!({"ambient": "dry", "temperature_c": 1000, "time_min": 60,
        "model": "deal_grove"}))
    .unwrap();
    let found = report.results;
    assert!(found.initial_oxide_nm.abs() < 1e-12);
    assert!((found.grown_nm - found.oxide_nm).abs() < 1e-12);
    assert!((found.curve.oxide_nm[0] - 25.0).abs() < 1e-9);
}

#[test]
fn the_form_offers_no_inert_gas() {
    let form = super::schema();
    let gas = form.choices.iter().find(|choice| choice.field == "ambient").unwrap();
    assert_eq!(gas.values.len(), 3);
    assert!(form.numbers.iter().any(|bound| bound.field == "temperature_c"));
}

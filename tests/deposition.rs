//! Deposition against published rates and exact geometry, through requests as a person sends them.

#![expect(
    clippy::expect_used,
    clippy::panic,
    reason = "a helper that fails is a test that fails"
)]

use barewafer_process::deposition::{DepositedFilm, Method};
use barewafer_process::{Report, RequestError, run_text};
use barewafer_tests::reference;
use proptest::prelude::*;
use serde_json::{Value, json};

fn run(changes: &Value) -> Result<Report, RequestError> {
    let mut request = json!({"operation": "deposition"});
    for (field, value) in changes.as_object().expect("an object") {
        request[field] = value.clone();
    }
    run_text(request.to_string().as_bytes())
}

fn results(changes: &Value) -> Value {
    let report = run(changes).unwrap_or_else(|error| panic!("{changes}: {error}"));
    report.results.to_value()
}

fn codes(changes: &Value) -> Vec<&'static str> {
    let report = run(changes).unwrap_or_else(|error| panic!("{changes}: {error}"));
    report.warnings.iter().map(|warning| warning.code).collect()
}

/// The value at a path such as `properties.index.0`.
fn at(results: &Value, path: &str) -> f64 {
    let mut here = results;
    for part in path.split('.') {
        here = part.parse::<usize>().map_or_else(|_| &here[part], |k| &here[k]);
    }
    here.as_f64().unwrap_or_else(|| panic!("{path}: {here} is no number"))
}

fn number(changes: &Value, path: &str) -> f64 {
    at(&results(changes), path)
}

#[test]
fn reference_rows_hold() {
    let mut failed = Vec::new();
    for row in reference("deposition_checks.csv") {
        let request: Value = serde_json::from_str(row.text("request")).expect("JSON");
        let ours = number(&request, row.text("quantity"));
        let (value, tolerance) = (row.required("value"), row.required("tolerance"));
        let agrees = (ours / value - 1.0).abs() <= tolerance;
        let line = format!("{}: {ours} against {value} ± {tolerance}", row.text("id"));
        println!("{line}");
        if agrees != row.text("known_deviation").is_empty() {
            failed.push(line);
        }
    }
    assert!(failed.is_empty(), "{failed:#?}");
}

#[test]
fn time_and_thickness_are_each_others_inverse() {
    let there = json!({"film": "polysilicon", "temperature_c": 605, "time_min": 42, "pressure_pa": 20});
    let thickness_nm = number(&there, "thickness_nm");
    let back = json!({"film": "polysilicon", "temperature_c": 605, "target_nm": thickness_nm, "pressure_pa": 20});
    assert!((number(&back, "time_min") / 42.0 - 1.0).abs() < 1e-12);
}

#[test]
fn the_corner_of_a_conformal_film_is_a_circle_of_its_thickness() {
    let film = results(&json!({"film": "nitride", "target_nm": 200,
        "trench": {"width_um": 2, "depth_um": 1}}));
    let list = |name: &str| -> Vec<f64> {
        let values = film["outline"][name].as_array().expect("a list");
        values.iter().filter_map(Value::as_f64).collect()
    };
    let mut on_the_corner = 0;
    for (x, z) in list("x_um").into_iter().zip(list("z_um")) {
        if 1e-9 < z && -1.0 < x && x < 0.0 {
            let radius = ((x + 1.0) * (x + 1.0) + z * z).sqrt();
            assert!((radius / 0.2 - 1.0).abs() < 0.01, "{radius}");
            on_the_corner += 1;
        }
    }
    assert!(10 < on_the_corner);
}

#[test]
fn every_recipe_runs_with_its_defaults_and_names_its_hazards() {
    let mut recipes = 0;
    for film in DepositedFilm::ALL {
        for method in Method::ALL {
            let request = json!({"film": film.word(), "method": method.word(),
                "target_nm": 100, "trench": {"width_um": 1, "depth_um": 0.5}});
            match run(&request) {
                Ok(report) => {
                    recipes += 1;
                    assert!(!report.hazards.is_empty(), "{request}");
                    assert!(!report.hazards.contains(&"UNKNOWN"), "{request}");
                    assert!(!report.working.is_empty(), "{request}");
                    assert!(
                        !report
                            .warnings
                            .iter()
                            .any(|w| w.code == "outside_published_range")
                    );
                }
                Err(error) => assert_eq!(error.field, "method", "{error}"),
            }
        }
    }
    assert_eq!(recipes, 10);
    let shows = |request: Value, ids: &[&str]| {
        let report = run(&request).unwrap_or_else(|error| panic!("{error}"));
        for id in ids {
            assert!(
                report.hazards.contains(id),
                "{request}: {:?} lacks {id}",
                report.hazards
            );
        }
    };
    shows(json!({"film": "polysilicon", "time_min": 30}), &["SIH4", "HEAT", "VACUUM"]);
    shows(
        json!({"film": "polysilicon", "time_min": 30, "dopant": "phosphorus"}),
        &["SIH4", "PH3"],
    );
    shows(json!({"film": "polysilicon", "time_min": 30, "dopant": "boron"}), &["B2H6"]);
    shows(json!({"film": "polysilicon", "time_min": 30, "dopant": "arsenic"}), &["ASH3"]);
    shows(json!({"film": "nitride", "time_min": 30}), &["SIH2CL2", "NH3"]);
    shows(
        json!({"film": "nitride", "variant": "low_stress", "time_min": 30}),
        &["SIH2CL2"],
    );
    shows(
        json!({"film": "nitride", "variant": "pecvd", "time_min": 5}),
        &["SIH4", "NH3", "RF_PLASMA"],
    );
    shows(
        json!({"film": "deposited_oxide", "variant": "teos", "time_min": 30}),
        &["TEOS"],
    );
    shows(json!({"film": "phosphorus_glass", "time_min": 30}), &["SIH4", "PH3", "O2"]);
    shows(
        json!({"film": "aluminum", "method": "evaporation", "time_min": 8}),
        &["EVAPORATOR", "VACUUM"],
    );
    shows(
        json!({"film": "aluminum", "method": "sputter", "time_min": 8}),
        &["RF_PLASMA", "VACUUM"],
    );
}

#[test]
fn fields_that_do_not_belong_are_refused_by_name() {
    let poly = |extra: Value| {
        let mut request = json!({"film": "polysilicon"});
        for (field, value) in extra.as_object().expect("an object") {
            request[field] = value.clone();
        }
        request
    };
    let metal = |field: &str, value: Value| json!({"film": "aluminum", "time_min": 8, field: value});
    for (request, code, field) in [
        (poly(json!({})), "missing_field", "time_min"),
        (poly(json!({"time_min": 30, "target_nm": 300})), "conflict", "target_nm"),
        (poly(json!({"time_min": 30, "method": "sputter"})), "conflict", "method"),
        (poly(json!({"time_min": 30, "variant": "teos"})), "conflict", "variant"),
        (
            poly(json!({"time_min": 30, "temperature_c": 290})),
            "out_of_range",
            "temperature_c",
        ),
        (poly(json!({"time_min": 30, "temperature_c": 940})), "too_thick", "time_min"),
        (
            poly(json!({"target_nm": 300, "temperature_c": 400})),
            "unreachable",
            "target_nm",
        ),
        (poly(json!({"time_min": 30, "dopant": "antimony"})), "conflict", "dopant"),
        (
            poly(json!({"time_min": 30, "dopant": "boron", "variant": "n_type"})),
            "conflict",
            "dopant",
        ),
        (
            poly(json!({"time_min": 30, "concentration_cm3": 1e20})),
            "conflict",
            "concentration_cm3",
        ),
        (
            poly(json!({"time_min": 30, "phosphorus_percent": 7})),
            "conflict",
            "phosphorus_percent",
        ),
        (
            poly(json!({"time_min": 30, "reflow": {"temperature_c": 1000}})),
            "conflict",
            "reflow",
        ),
        (
            poly(json!({"time_min": 30, "trench": {"width_um": 1}})),
            "missing_field",
            "trench.depth_um",
        ),
        (
            poly(json!({"time_min": 30, "source_height_mm": 300})),
            "conflict",
            "source_height_mm",
        ),
        (metal("pressure_pa", json!(30)), "conflict", "pressure_pa"),
        (metal("activation_energy_ev", json!(1)), "conflict", "activation_energy_ev"),
        (metal("dopant", json!("boron")), "conflict", "dopant"),
        (
            json!({"film": "deposited_oxide", "method": "spin_on", "time_min": 5}),
            "conflict",
            "time_min",
        ),
    ] {
        let error = run(&request).expect_err("refused");
        assert_eq!(
            (error.code, error.field.as_str()),
            (code, field),
            "{request}: {error}"
        );
        assert!(error.message.starts_with(field), "{error}");
    }
}

#[test]
fn warnings_name_what_is_wrong() {
    let trench = json!({"width_um": 1, "depth_um": 2.5});
    for (request, code) in [
        (
            json!({"film": "polysilicon", "time_min": 30, "temperature_c": 700}),
            "outside_published_range",
        ),
        (
            json!({"film": "polysilicon", "time_min": 30, "temperature_c": 700}),
            "supply_limited",
        ),
        (
            json!({"film": "polysilicon", "time_min": 30, "temperature_c": 585}),
            "amorphous_or_mixed",
        ),
        (
            json!({"film": "polysilicon", "time_min": 30, "dopant": "boron"}),
            "doped_while_growing",
        ),
        (
            json!({"film": "polysilicon", "time_min": 30, "dopant": "boron"}),
            "above_solubility",
        ),
        (
            json!({"film": "polysilicon", "time_min": 30, "pressure_pa": 150}),
            "outside_published_range",
        ),
        (json!({"film": "polysilicon", "target_nm": 700, "trench": trench}), "seam"),
        (json!({"film": "deposited_oxide", "target_nm": 1500, "trench": trench}), "void"),
        (json!({"film": "deposited_oxide", "target_nm": 1500}), "film_may_crack"),
        (json!({"film": "nitride", "target_nm": 300}), "film_may_crack"),
        (
            json!({"film": "phosphorus_glass", "target_nm": 300, "phosphorus_percent": 9}),
            "glass_takes_up_water",
        ),
        (
            json!({"film": "phosphorus_glass", "target_nm": 300, "reflow": {"temperature_c": 850}}),
            "does_not_flow",
        ),
        (
            json!({"film": "aluminum", "method": "evaporation", "target_nm": 500, "trench": trench}),
            "film_broken",
        ),
        (
            json!({"film": "aluminum", "variant": "pure", "target_nm": 500}),
            "junction_spiking",
        ),
        (
            json!({"film": "aluminum", "target_nm": 50, "trench": {"width_um": 0.5, "depth_um": 2}}),
            "outside_model",
        ),
    ] {
        assert!(codes(&request).contains(&code), "{request}: {:?}", codes(&request));
    }
}

#[test]
fn a_reflow_lays_the_glass_down_over_the_step() {
    let glass = |temperature_c: f64| {
        results(&json!({"film": "phosphorus_glass", "target_nm": 700,
            "trench": {"width_um": 2, "depth_um": 0.6},
            "reflow": {"temperature_c": temperature_c}}))
    };
    let slopes: Vec<f64> = [950.0, 1000.0, 1050.0, 1100.0]
        .map(|t| at(&glass(t), "reflow.slope_deg"))
        .to_vec();
    assert!(slopes.windows(2).all(|pair| pair[1] < pair[0]), "{slopes:?}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// More time, more film; no wall gets more than the top; the rim never more than the center.
    #[test]
    fn films_grow_and_walls_get_no_more_than_the_top(
        film in prop::sample::select(vec![
            json!({"film": "polysilicon"}), json!({"film": "deposited_oxide"}),
            json!({"film": "nitride", "method": "pecvd"}), json!({"film": "aluminum"}),
            json!({"film": "aluminum", "method": "evaporation"}),
        ]),
        time_min in 1.0..60.0_f64,
        width_um in 0.1..5.0_f64,
        depth_um in 0.1..5.0_f64,
    ) {
        let with = |time_min: f64| {
            let mut request = film.clone();
            request["time_min"] = json!(time_min);
            request["trench"] = json!({"width_um": width_um, "depth_um": depth_um});
            results(&request)
        };
        let (film, thicker) = (with(time_min), with(1.3 * time_min));
        prop_assert!(at(&film, "thickness_nm") < at(&thicker, "thickness_nm"));
        prop_assert!(at(&film, "thickness_low_nm") <= at(&film, "thickness_nm"));
        prop_assert!(at(&film, "thickness_nm") <= at(&film, "thickness_high_nm"));
        prop_assert!(at(&film, "step_coverage.bottom_ratio") <= 1.01);
        if let Some(ratio) = film["step_coverage"]["side_ratio"].as_f64() {
            prop_assert!(ratio <= 1.02, "{ratio}");
        }
    }
}

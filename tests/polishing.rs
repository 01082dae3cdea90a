//! Planarization through requests as a person sends them.

#![expect(
    clippy::expect_used,
    clippy::unwrap_used,
    reason = "a helper that fails is a test that fails"
)]

use barewafer_process::run_text;
use barewafer_tests::answers::{ask, list, near, number};
use proptest::prelude::*;
use serde_json::{Value, json};

fn polish(changes: &Value) -> Value {
    let mut request = json!({
        "operation": "planarization", "material": "deposited_oxide", "thickness_nm": 1000,
        "step_height_nm": 400,
    });
    for (field, value) in changes.as_object().expect("an object") {
        request[field] = value.clone();
    }
    request
}

fn has(request: &Value, code: &str) -> bool {
    let report = ask(request);
    report["warnings"].as_array().unwrap().iter().any(|w| w["code"] == code)
}

#[test]
fn pressure_and_speed_set_the_rate_and_density_the_step() {
    let usual = ask(&polish(&json!({"time_s": 60})));
    near(number(&usual, "rate_nm_min"), 117.6, 1e-9);
    let hard = ask(&polish(&json!({"time_s": 60, "pressure_kpa": 14, "speed_m_s": 1.4})));
    near(number(&hard, "rate_nm_min"), 117.6, 1e-9);
    // Half the area bears all: 235.2 nm in one minute, and the low places nothing.
    near(number(&usual, "removed_nm"), 235.2, 1e-9);
    near(number(&usual, "step_height_nm"), 164.8, 1e-9);
    near(number(&usual, "low_remaining_nm"), 1000.0, 1e-12);
    near(number(&usual, "mean_thickness_nm"), 1000.0 - 117.6, 1e-9);
    assert_eq!(usual["hazards"], json!(["SLURRY", "SHARPS"]));
}

#[test]
fn a_film_to_be_left_is_left() {
    for target in [0.0, 300.0, 800.0] {
        let report = ask(&polish(&json!({"target_nm": target})));
        let left = number(&report, "remaining_nm");
        assert!((left - target).abs() < 1e-6, "{left} for {target}");
    }
}

#[test]
fn warnings_name_what_goes_wrong() {
    let stop = json!({"material": "nitride"});
    assert!(has(&polish(&json!({"time_s": 30})), "not_level"));
    assert!(has(&polish(&json!({"time_s": 30, "thickness_nm": 200})), "not_level"));
    assert!(has(&polish(&json!({"time_s": 900})), "film_gone"));
    assert!(has(&polish(&json!({"time_s": 900, "stop": stop})), "dishing"));
    assert!(!has(&polish(&json!({"time_s": 300, "stop": stop})), "dishing"));
    assert!(has(
        &polish(&json!({"time_s": 30, "pressure_kpa": 80})),
        "outside_published_range"
    ));
    assert!(has(
        &polish(&json!({"time_s": 30, "material": "phosphorus_glass"})),
        "estimated_rate"
    ));
}

#[test]
fn what_is_not_known_is_refused_by_name() {
    let cases = [
        (json!({}), "conflict", "time_s"),
        (json!({"time_s": 10, "target_nm": 10}), "conflict", "time_s"),
        (json!({"target_nm": 2000}), "conflict", "target_nm"),
        (json!({"time_s": 10, "material": "aluminum"}), "conflict", "material"),
        (
            json!({"time_s": 10, "stop": {"material": "aluminum"}}),
            "conflict",
            "stop.material",
        ),
        (json!({"time_s": 10, "selectivity": 3}), "conflict", "selectivity"),
        (json!({"time_s": 10, "dense_fraction": 1}), "out_of_range", "dense_fraction"),
        (json!({"time_s": 10, "pad": 1}), "unknown_field", "pad"),
    ];
    for (changes, code, field) in cases {
        let request = polish(&changes);
        let error =
            run_text(request.to_string().as_bytes()).expect_err("a wrong request");
        assert_eq!(
            (error.code, error.field.as_str()),
            (code, field),
            "{changes}: {error}"
        );
    }
    let metal = json!({"time_s": 10, "material": "aluminum", "preston_per_pa": 2e-13});
    near(number(&ask(&polish(&metal)), "rate_nm_min"), 235.2, 1e-9);
}

proptest! {
    #[test]
    fn nothing_comes_from_nowhere(
        thickness_nm in 50.0..3000.0_f64, step_nm in 0.0..3000.0_f64,
        dense in 0.05..0.95_f64, time_s in 1.0..2000.0_f64,
    ) {
        let report = ask(&polish(&json!({
            "thickness_nm": thickness_nm, "step_height_nm": step_nm, "dense_fraction": dense,
            "time_s": time_s, "stop": {"material": "nitride"},
        })));
        let sum = number(&report, "removed_nm") + number(&report, "remaining_nm");
        prop_assert!((sum - thickness_nm).abs() < 1e-6);
        // The step is what high and low places differ by, film, stop layer and feature together.
        let high = step_nm + number(&report, "remaining_nm")
            - number(&report, "stop_layer_loss_nm");
        let low = number(&report, "low_remaining_nm");
        if 0.0 < low {
            prop_assert!((high - low - number(&report, "step_height_nm")).abs() < 1e-6);
        }
        for name in ["step_height_nm", "mean_thickness_nm", "remaining_nm"] {
            let line = list(&report["results"]["curve"][name]);
            prop_assert!(line.windows(2).all(|p| p[1] <= p[0] + 1e-9), "{} rises", name);
        }
        // Until the high places are bare the mean film goes at the rate of a flat wafer.
        if time_s < number(&report, "time_to_clear_s") {
            let worn = number(&report, "rate_nm_min") * time_s / 60.0;
            let mean = number(&report, "mean_thickness_nm");
            prop_assert!((thickness_nm - worn - mean).abs() < 1e-6);
        }
    }
}

//! Dry etching and resist strip through requests as a person sends them.

#![expect(
    clippy::expect_used,
    clippy::unwrap_used,
    reason = "a helper that fails is a test that fails"
)]

use barewafer_process::etching::bottom_undercut_nm;
use barewafer_process::etching::dry::{Chemistry, lateral_nm};
use barewafer_process::run_text;
use barewafer_process::vocabulary::Material;
use barewafer_tests::answers::{ask, list, near, number};
use proptest::prelude::*;
use serde_json::{Value, json};

/// A request with `changes` over the gate etch.
fn gate(changes: &Value) -> Value {
    let mut request = json!({
        "operation": "dry_etch", "chemistry": "hbr_cl2", "material": "polysilicon",
        "thickness_nm": 400,
    });
    for (field, value) in changes.as_object().expect("an object") {
        request[field] = value.clone();
    }
    request
}

fn codes(request: &Value) -> Vec<String> {
    let report = ask(request);
    let warnings = report["warnings"].as_array().unwrap();
    warnings.iter().map(|w| w["code"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn a_gate_is_etched_upright_and_costs_some_oxide() {
    let report = ask(&gate(&json!({"over_etch_percent": 20, "mask": {"line_um": 2}})));
    // 400 nm at 250 nm/min: 96 s; 20 % more take 80 nm / 30 of oxide and 480 nm / 5 of resist.
    near(number(&report, "time_s"), 115.2, 1e-12);
    near(number(&report, "stop_layer_loss_nm"), 80.0 / 30.0, 1e-9);
    near(number(&report, "mask_loss_nm"), 96.0, 1e-9);
    near(number(&report, "line_um"), 2.0, 1e-12);
    near(number(&report, "wall_deg"), 90.0, 1e-12);
    assert!(number(&report, "lateral_nm").abs() < 1e-12);
    assert_eq!(report["hazards"][0], "CL2");
    assert_eq!(report["results"]["end_point"]["species"], "SiCl");
}

#[test]
fn fluorine_goes_sideways_and_leaves_no_fence_for_long() {
    let report = ask(&gate(&json!({
        "chemistry": "sf6", "over_etch_percent": 0, "mask": {"opening_um": 3},
    })));
    // A = 0.25: 0.75 x 400 nm at the top of each wall.
    near(number(&report, "lateral_nm"), 300.0, 1e-9);
    near(number(&report, "opening_um"), 3.6, 1e-9);
    assert!(number(&report, "bottom_lateral_nm").abs() < 1e-6);
    // 90 - asin 0.75 = 41.4 degrees.
    near(number(&report, "wall_deg"), 41.41, 1e-4);
    let step =
        ask(&gate(&json!({"chemistry": "sf6", "step_height_nm": 300, "time_s": 90})));
    // From the side: 400 / (0.75 x 300) min = 106.7 s; from above 140 s.
    near(number(&step, "time_to_clear_step_s"), 106.667, 1e-4);
}

#[test]
fn the_fence_shrinks_as_its_geometry_says() {
    let at = |time_s: f64| ask(&gate(&json!({"step_height_nm": 300, "time_s": time_s})));
    let flat = at(96.0);
    near(number(&flat, "step_left_nm"), 300.0, 1e-9);
    near(number(&flat, "step_left_width_nm"), 400.0 * (1.0_f64 - 0.0625).sqrt(), 1e-9);
    assert!(flat["results"]["over_etch_percent"].is_null());
    // 600 nm etched: 100 nm high; the round has sunk 300 nm: width sqrt(400^2 - 300^2).
    let late = at(144.0);
    near(number(&late, "step_left_nm"), 100.0, 1e-9);
    near(number(&late, "step_left_width_nm"), 264.575, 1e-5);
    let outline = list(&late["results"]["step_outline"]["along_nm"]);
    near(outline[0], 100.0, 1e-9);
    let clean = at(168.0);
    assert!(number(&clean, "step_left_nm").abs() < 1e-9);
    assert!(number(&clean, "over_etch_percent").abs() < 1e-9);
}

#[test]
fn warnings_name_what_goes_wrong() {
    let cases = [
        (json!({"time_s": 90}), "not_cleared"),
        (json!({"time_s": 100, "step_height_nm": 100}), "stringer"),
        (
            json!({"over_etch_percent": 200, "stop": {"material": "thermal_oxide", "thickness_nm": 15}}),
            "stop_layer_through",
        ),
        (
            json!({"over_etch_percent": 100, "stop": {"material": "thermal_oxide", "thickness_nm": 15}}),
            "stop_layer_at_risk",
        ),
        (
            json!({"over_etch_percent": 10, "mask": {"line_um": 2, "thickness_nm": 60}}),
            "mask_too_thin",
        ),
        (json!({"over_etch_percent": 10, "mask": {"opening_um": 0.5}}), "aspect_ratio"),
        (
            json!({"chemistry": "sf6", "over_etch_percent": 100, "mask": {"line_um": 0.5}}),
            "line_gone",
        ),
        (json!({"chemistry": "bcl3_cl2", "material": "aluminum"}), "corrosion"),
        (
            json!({"chemistry": "sf6", "material": "nitride", "over_etch_percent": 20, "stop": {"material": "silicon"}}),
            "not_selective",
        ),
    ];
    for (changes, code) in cases {
        let found = codes(&gate(&changes));
        assert!(found.iter().any(|found| found == code), "{changes}: {found:?}");
    }
    assert!(codes(&gate(&json!({"over_etch_percent": 20}))).is_empty());
}

#[test]
fn what_is_not_known_is_refused_by_name() {
    let cases = [
        (json!({"chemistry": "chf3_o2"}), "conflict", "material"),
        (json!({"stop": {"material": "aluminum"}}), "conflict", "stop.material"),
        (
            json!({"stop": {"material": "silicon"}, "time_s": 0}),
            "conflict",
            "stop.material",
        ),
        (json!({"time_s": 10, "over_etch_percent": 10}), "conflict", "over_etch_percent"),
        (
            json!({"chemistry": "oxygen", "material": "resist", "mask": {"line_um": 1}}),
            "conflict",
            "mask",
        ),
        (json!({"mask": {"width_um": 1}}), "unknown_field", "mask.width_um"),
        (
            json!({"mask": {"line_um": 1, "thickness_nm": 1}}),
            "out_of_range",
            "mask.thickness_nm",
        ),
        (json!({"step_height_nm": -1}), "out_of_range", "step_height_nm"),
        (json!({"selectivity": 0}), "out_of_range", "selectivity"),
        (json!({"variant": "teos"}), "conflict", "variant"),
    ];
    for (changes, code, field) in cases {
        let request = gate(&changes);
        let error =
            run_text(request.to_string().as_bytes()).expect_err("a wrong request");
        assert_eq!(
            (error.code, error.field.as_str()),
            (code, field),
            "{changes}: {error}"
        );
    }
    let given = gate(&json!({"stop": {"material": "silicon"}, "selectivity": 1.2}));
    assert!(run_text(given.to_string().as_bytes()).is_ok());
}

#[test]
fn every_gas_and_film_answers_or_names_what_would() {
    let mut answered = 0;
    for chemistry in Chemistry::ALL {
        for material in Material::ALL {
            let request = gate(
                &json!({"chemistry": chemistry.word(), "material": material.word()}),
            );
            match run_text(request.to_string().as_bytes()) {
                Ok(report) => {
                    answered += 1;
                    assert!(!report.hazards.contains(&"UNKNOWN"), "{request}");
                    assert!(2 < report.hazards.len(), "{request}");
                    assert!(report.working.iter().all(|line| line.result.is_finite()));
                }
                Err(error) => assert_eq!(error.field, "material", "{request}: {error}"),
            }
        }
    }
    // 4 gases on 3 oxides, 2 on nitride and polysilicon, then one each.
    assert_eq!(answered, 4 * 3 + 2 * 2 + 3);
}

#[test]
fn piranha_eats_aluminum_and_the_others_do_not() {
    let strip = |method: &str| {
        ask(&json!({"operation": "resist_strip", "method": method, "thickness_nm": 1150}))
    };
    let piranha = strip("piranha");
    let attacked = &piranha["results"]["attacked"];
    assert_eq!(attacked.as_array().unwrap().len(), 1);
    assert_eq!(attacked[0]["material"], "aluminum");
    near(attacked[0]["loss_nm"].as_f64().unwrap(), 1800.0, 1e-9);
    let request = json!({"operation": "resist_strip", "method": "piranha"});
    let found = codes(&request);
    assert!(found.iter().any(|code| code == "attacks_material"));
    assert!(found.iter().any(|code| code == "bulk_resist_in_piranha"));
    for method in ["oxygen_plasma", "solvent"] {
        assert!(strip(method)["results"]["attacked"].as_array().unwrap().is_empty());
    }
    // 1150 nm at 300 nm/min.
    near(number(&strip("oxygen_plasma"), "time_to_clear_min"), 3.8333, 1e-4);
    near(number(&strip("oxygen_plasma"), "removed_nm"), 1150.0, 1e-12);
}

proptest! {
    #[test]
    fn a_wall_lies_between_a_circle_and_a_plumb_line(
        front_nm in 1.0..5000.0_f64, anisotropy in 0.0..1.0_f64, part in 0.0..1.0_f64,
    ) {
        let depth_nm = part * front_nm;
        let here = lateral_nm(front_nm, anisotropy, depth_nm);
        let circle = bottom_undercut_nm(front_nm, depth_nm).unwrap();
        prop_assert!(0.0 <= here && here <= circle * (1.0 + 1e-9) + 1e-9);
        prop_assert!(lateral_nm(front_nm, anisotropy, 0.0) <= (1.0 - anisotropy) * front_nm + 1e-9);
        // Later is wider, deeper is narrower.
        prop_assert!(here <= lateral_nm(1.01 * front_nm, anisotropy, depth_nm) + 1e-9);
        prop_assert!(lateral_nm(front_nm, anisotropy, 1.01 * depth_nm) <= here + 1e-9);
        let isotropic = lateral_nm(front_nm, 0.0, depth_nm);
        prop_assert!((isotropic - circle).abs() <= 1e-6 * front_nm);
    }

    #[test]
    fn over_etch_comes_back_as_it_was_asked(
        thickness_nm in 10.0..2000.0_f64, step_nm in 0.0..2000.0_f64, over in 0.0..400.0_f64,
        chemistry in prop::sample::select(vec!["sf6", "cf4_o2", "hbr_cl2"]),
    ) {
        let report = ask(&gate(&json!({
            "chemistry": chemistry, "thickness_nm": thickness_nm,
            "step_height_nm": step_nm, "over_etch_percent": over,
        })));
        prop_assert!((number(&report, "over_etch_percent") - over).abs() < 1e-6);
        prop_assert!(number(&report, "remaining_nm").abs() < 1e-9);
        let etched = list(&report["results"]["curve"]["remaining_nm"]);
        prop_assert!(etched.windows(2).all(|pair| pair[1] <= pair[0]));
    }
}

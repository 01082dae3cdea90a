//! The worked chain of the demo resist, and requests as a person sends them.

#![expect(clippy::panic, reason = "a helper that fails is a test that fails")]

use barewafer_process::num::bisect;
use barewafer_process::{Report, RequestError, run_text};
use barewafer_tests::rows;
use proptest::prelude::*;
use serde_json::{Value, json};

fn run(request: &Value) -> Result<Report, RequestError> {
    run_text(request.to_string().as_bytes())
}

fn report(request: &Value) -> Report {
    run(request).unwrap_or_else(|error| panic!("{request}: {error}"))
}

fn results(request: &Value) -> Value {
    report(request).results.to_value()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

#[track_caller]
fn check(id: &str, found: &[f64]) {
    rows::check("litho_checks.csv", id, found);
}

fn merged(mut request: Value, changes: &Value) -> Value {
    for (field, value) in changes.as_object().into_iter().flatten() {
        request[field] = value.clone();
    }
    request
}

/// The exposure of the chain: 1 um of resist on bare silicon.
fn chain(changes: &Value) -> Value {
    merged(json!({"thickness_nm": 1000, "dose_mj_cm2": 90}), changes)
}

fn dose_to_clear(changes: &Value) -> f64 {
    let request = merged(chain(changes), &json!({"operation": "exposure"}));
    number(&results(&request)["dose_to_clear_mj_cm2"])
}

fn developed(exposure: &Value, changes: &Value) -> Value {
    let request = json!({"operation": "development", "exposure": chain(exposure)});
    results(&merged(request, changes))
}

fn bottom_um(dose: f64, defocus_um: f64) -> f64 {
    let exposure = json!({"dose_mj_cm2": dose, "defocus_um": defocus_um});
    number(&developed(&exposure, &json!({}))["cd_bottom_um"])
}

#[test]
fn doses_to_clear_are_those_of_the_chain() {
    check("TF-06", &[dose_to_clear(&json!({}))]);
    let oxide = |nm: f64| json!({"stack_below": [{"material": "thermal_oxide", "thickness_nm": nm}]});
    check("TF-07", &[dose_to_clear(&oxide(80.0))]);
    let thick = |nm: f64| dose_to_clear(&json!({"thickness_nm": nm}));
    check("TF-08", &[thick(1013.6), thick(1067.2)]);
    for (nm, known) in
        [(20.0, 45.6), (40.0, 50.9), (60.0, 61.3), (100.0, 69.0), (123.8, 51.8)]
    {
        let found = dose_to_clear(&oxide(nm));
        assert!(
            (found - known).abs() < 1.5,
            "{nm} nm of oxide: {found}, expected {known}"
        );
    }
    let without = dose_to_clear(&json!({"post_exposure_bake": null}));
    assert!((without - 142.0).abs() < 6.0, "{without}");
    // A spread of 30 nm.
    let short = dose_to_clear(&json!({"post_exposure_bake": {"time_s": 21.6}}));
    assert!((short - 53.7).abs() < 1.0, "{short}");
}

#[test]
fn lines_are_those_of_the_chain() {
    check("DV-04", &[bottom_um(90.0, 0.0)]);
    check("DV-05", &[bottom_um(80.0, 0.6)]);
    let known = [
        (70.0, [0.572, 0.581, 0.621, 0.878]),
        (80.0, [0.524, 0.528, 0.543, 0.608]),
        (90.0, [0.491, 0.492, 0.495, 0.519]),
        (100.0, [0.466, 0.464, 0.459, 0.459]),
    ];
    for (dose, row) in known {
        for (defocus, known) in [0.0, 0.3, 0.6, 0.9].into_iter().zip(row) {
            // Where the space hardly opens its width runs away with the dose.
            let allowed = if known < 0.8 { 0.012 } else { 0.05 };
            let found = bottom_um(dose, defocus);
            assert!(
                (found - known).abs() < allowed,
                "{dose}, {defocus}: {found}, {known}"
            );
        }
    }
}

#[test]
fn dose_to_size_and_latitude_are_those_of_the_chain() {
    let dose_of = |um: f64| {
        bisect(|dose| bottom_um(dose, 0.0) - um, 65.0, 125.0).unwrap_or(f64::NAN)
    };
    let (size, small, large) = (dose_of(0.5), dose_of(0.55), dose_of(0.45));
    check("DV-06", &[size, 100.0 * (large - small) / size]);
}

#[test]
fn time_walls_and_dark_loss_are_those_of_the_chain() {
    let exposure = json!({"dose_mj_cm2": 160});
    let known = [
        (20.0, 0.477),
        (30.0, 0.426),
        (45.0, 0.395),
        (60.0, 0.377),
        (90.0, 0.354),
        (120.0, 0.338),
    ];
    for (time_s, known) in known {
        let coarse = merged(exposure.clone(), &json!({"grid_nm": 10}));
        let found =
            number(&developed(&coarse, &json!({"time_s": time_s}))["cd_bottom_um"]);
        assert!((found - known).abs() < 0.012, "{time_s} s: {found}, {known}");
    }
    let sharp = developed(&exposure, &json!({}));
    assert!(
        (number(&sharp["sidewall_deg"]) - 87.0).abs() < 1.5,
        "{}",
        sharp["sidewall_deg"]
    );
    for dose in [130.0, 160.0] {
        let soft =
            developed(&json!({"dose_mj_cm2": dose, "defocus_um": 0.8}), &json!({}));
        let deg = number(&soft["sidewall_deg"]);
        assert!((79.0..83.5).contains(&deg), "{dose}: {deg}");
    }
    assert_eq!(sharp["cleared"], true);
    // A wide dark line keeps what the developer takes from unexposed resist.
    let dark = json!({"mask": {"pattern": "edge"}});
    check("DV-03", &[number(&developed(&dark, &json!({}))["loss_nm"])]);
}

#[test]
fn widths_converge_with_the_grid() {
    let width = |grid: f64| {
        let exposure = json!({"dose_mj_cm2": 160, "grid_nm": grid});
        number(&developed(&exposure, &json!({}))["cd_bottom_um"])
    };
    let widths = [20.0, 10.0, 5.0, 2.5].map(width);
    for (width, known) in widths[1..].iter().zip([0.377, 0.372, 0.370]) {
        assert!((width - known).abs() < 0.005, "{widths:?}");
    }
    assert!((widths[3] - widths[2]).abs() < (widths[2] - widths[1]).abs(), "{widths:?}");
}

#[test]
fn every_pattern_and_tool_answers() {
    for pattern in [
        "line_space",
        "isolated_line",
        "isolated_space",
        "edge",
        "contact_array",
        "openings",
    ] {
        for tool in ["contact", "proximity", "projection"] {
            for resist in ["demo-p12", "demo-n13"] {
                let mut mask =
                    json!({"pattern": pattern, "pitch_um": 8.0, "opening_um": 4.0});
                if pattern == "openings" {
                    mask["openings_um"] = json!([[-4.0, -1.0], [2.0, 5.0]]);
                }
                let exposure = json!({"tool": tool, "gap_um": 1.0, "mask": mask, "resist": resist, "source_rings": 8});
                let request = json!({"operation": "development", "exposure": exposure});
                let found = results(&request);
                assert_eq!(found["cleared"], true, "{request}");
                let x: Vec<f64> = found["wall"]["x_um"]
                    .as_array()
                    .into_iter()
                    .flatten()
                    .map(number)
                    .collect();
                assert!(x.len() > 20, "{request}: {}", found["wall"]);
                if pattern == "edge" {
                    assert!(number(&found["edge_shift_um"]).abs() < 1.2, "{request}");
                } else {
                    let (wide, nominal) =
                        (number(&found["cd_bottom_um"]), number(&found["nominal_um"]));
                    assert!((wide - nominal).abs() < 2.0, "{request}: {wide}");
                }
                let deg = number(&found["sidewall_deg"]);
                assert!((45.0..135.0).contains(&deg), "{request}: {deg}");
            }
        }
    }
}

#[test]
fn a_swing_curve_comes_on_request() {
    let request = merged(
        chain(&json!({"swing_span_nm": 120, "thickness_nm": 1020})),
        &json!({"operation": "exposure"}),
    );
    let swing = &results(&request)["swing"];
    let doses: Vec<f64> = swing["dose_to_clear_mj_cm2"]
        .as_array()
        .into_iter()
        .flatten()
        .map(number)
        .collect();
    let low = doses.iter().copied().fold(f64::INFINITY, f64::min);
    let high = doses.iter().copied().fold(0.0, f64::max);
    assert!((46.0..49.0).contains(&low) && (66.0..74.0).contains(&high), "{low} {high}");
}

#[test]
fn mistakes_name_their_field() {
    for (request, field) in [
        (json!({"operation": "exposure", "wavelength_nm": 400}), "wavelength_nm"),
        (json!({"operation": "exposure", "dose_mj_cm2": -1}), "dose_mj_cm2"),
        (
            json!({"operation": "exposure", "mask": {"pitch_um": 1, "opening_um": 1}}),
            "mask.opening_um",
        ),
        (
            json!({"operation": "exposure", "mask": {"pattern": "openings"}}),
            "mask.openings_um",
        ),
        (
            json!({"operation": "exposure", "stack_below": [{"material": "resist", "thickness_nm": 5}]}),
            "stack_below[0].material",
        ),
        (
            json!({"operation": "exposure", "resist_parameters": {"index": 9}}),
            "resist_parameters.index",
        ),
        (
            json!({"operation": "development", "exposure": {"defocus_um": 99}}),
            "exposure.defocus_um",
        ),
        (
            json!({"operation": "development", "rate_parameters": {"order": 0.5}}),
            "rate_parameters.order",
        ),
        (json!({"operation": "development", "exposure": {"doze": 99}}), "exposure.doze"),
        (json!({"operation": "bake", "temperature_c": 95}), "time_s"),
        (
            json!({"operation": "bake", "kind": "hard", "target_solvent_percent": 5}),
            "target_solvent_percent",
        ),
    ] {
        match run(&request) {
            Err(error) => assert_eq!(error.field, field, "{request}: {error}"),
            Ok(_) => panic!("{request} was run"),
        }
    }
}

#[test]
fn bakes_dry_the_film() {
    let soft = results(
        &json!({"operation": "bake", "temperature_c": 100, "time_s": 60, "thickness_nm": 1300}),
    );
    // 4 + 11 e^-4 percent.
    assert!((number(&soft["solvent_percent"]) - 4.2015).abs() < 1e-3);
    let timed = results(
        &json!({"operation": "bake", "temperature_c": 100, "target_solvent_percent": 5}),
    );
    assert!((number(&timed["time_s"]) - 15.0 * 2.397_895).abs() < 1e-3);
    let blurred = results(
        &json!({"operation": "bake", "kind": "post_exposure", "temperature_c": 110, "time_s": 60}),
    );
    assert!((number(&blurred["diffusion_length_nm"]) - 50.0).abs() < 1e-9);
    assert!((number(&blurred["thickness_nm"]) - 1150.0).abs() < 1e-9);
    assert_eq!(
        report(&json!({"operation": "development"})).hazards,
        ["TMAH238"],
        "the developer is what can hurt"
    );
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_allowed_request_answers_in_finite_numbers(
        dose in 1.0_f64..2000.0, defocus in -3.0_f64..3.0, na in 0.1_f64..0.85, sigma in 0.0_f64..1.0,
        pitch in 0.3_f64..6.0, share in 0.2_f64..0.8, thickness in 50.0_f64..5000.0,
        time_s in 1.0_f64..600.0, nm in 0.0_f64..5000.0,
        material in prop::sample::select(vec!["aluminum", "nitride", "thermal_oxide", "polysilicon"]),
        wavelength in prop::sample::select(vec![365.0, 405.0, 436.0]),
        resist in prop::sample::select(vec!["demo-p12", "demo-n13"]),
    ) {
        prop_assume!(pitch * share >= 0.1 && pitch * (1.0 - share) >= 0.06);
        let request = json!({"operation": "development", "time_s": time_s, "exposure": {
            "dose_mj_cm2": dose, "defocus_um": defocus, "numerical_aperture": na,
            "partial_coherence": sigma, "thickness_nm": thickness, "wavelength_nm": wavelength,
            "mask": {"pitch_um": pitch, "opening_um": pitch * share}, "resist": resist,
            "source_rings": 6, "grid_nm": 12,
            "stack_below": [{"material": material, "thickness_nm": nm}, {"material": "aluminum", "thickness_nm": nm}]
        }});
        let found = results(&request);
        for name in ["x_um", "z_nm"] {
            prop_assert!(found["wall"][name].as_array().is_some_and(|list| list.iter().all(Value::is_number)), "{request}");
        }
        let loss = number(&found["loss_nm"]);
        prop_assert!((0.0..=thickness + 1e-6).contains(&loss), "{request}: {loss}");
        let exposure = merged(request["exposure"].clone(), &json!({"operation": "exposure"}));
        let found = results(&exposure);
        prop_assert!((0.0..=1.0).contains(&number(&found["contrast"])));
        prop_assert!((0.0..=1.0).contains(&number(&found["reflectance"])));
    }
}

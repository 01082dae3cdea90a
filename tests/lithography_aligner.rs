//! What the aligner adds to an image: overlay, shutter, focus in the resist, swing, contrast, window.

#![expect(clippy::panic, reason = "a helper that fails is a test that fails")]

use barewafer_process::lithography::process_window::WindowRun;
use barewafer_process::{RequestError, run_text};
use barewafer_tests::rows;
use serde_json::{Map, Value, json};

fn run(request: &Value) -> Result<Value, RequestError> {
    run_text(request.to_string().as_bytes()).map(|report| report.results.to_value())
}

fn merged(mut request: Value, changes: &Value) -> Value {
    for (field, value) in changes.as_object().into_iter().flatten() {
        request[field] = value.clone();
    }
    request
}

fn exposed(changes: &Value) -> Value {
    let request = merged(json!({"operation": "exposure"}), changes);
    run(&request).unwrap_or_else(|error| panic!("{request}: {error}"))
}

fn refusal(request: &Value) -> RequestError {
    match run(request) {
        Ok(_) => panic!("{request} was taken"),
        Err(error) => error,
    }
}

#[track_caller]
fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().into_iter().flatten().map(number).collect()
}

#[test]
fn overlay_rows_hold() {
    let at_rim = json!({"alignment": {"scale_ppm": 2, "place_mm": {"x": 50}}});
    rows::check(
        "litho_checks.csv",
        "OV-01",
        &[number(&exposed(&at_rim)["overlay"]["x_um"])],
    );
    let random = json!({"alignment": {"random_um": [0.05, 0.08, 0.06]}});
    let found = number(&exposed(&random)["overlay"]["random_um"]);
    rows::check("litho_checks.csv", "OV-02", &[found]);
    // 1 urad at 50 mm is 0.05 um, to the left where the place lies at the back.
    let turned =
        exposed(&json!({"alignment": {"rotation_urad": 1, "place_mm": {"y": 50}}}));
    assert!((number(&turned["overlay"]["x_um"]) + 0.05).abs() < 1e-12);
    let skewed = exposed(&json!({"alignment": {"skew_urad": 2, "place_mm": {"x": 50}}}));
    assert!((number(&skewed["overlay"]["y_um"]) + 0.05).abs() < 1e-12);
}

#[test]
fn a_shifted_mask_shifts_everything_and_changes_nothing() {
    let straight = exposed(&json!({}));
    let shifted = exposed(&json!({"overlay_um": {"x": 0.2}}));
    assert_eq!(straight["image"]["intensity"], shifted["image"]["intensity"]);
    assert_eq!(straight["latent"]["pac"], shifted["latent"]["pac"]);
    for list in ["/image/x_um", "/latent/x_um", "/mask/section_um"] {
        let of = |results: &Value| numbers(results.pointer(list).unwrap_or(&Value::Null));
        let (before, after) = (of(&straight), of(&shifted));
        assert!(!before.is_empty(), "{list}");
        for (a, b) in before.iter().zip(&after) {
            assert!((b - a - 0.2).abs() < 1e-12, "{list}: {a} {b}");
        }
    }
    let developed = |x: f64| {
        let request = json!({"operation": "development",
            "exposure": {"mask": {"pattern": "edge"}, "overlay_um": {"x": x}}});
        number(&run(&request).unwrap()["edge_shift_um"])
    };
    assert!((developed(0.3) - developed(0.0) - 0.3).abs() < 1e-9);
}

#[test]
fn a_dose_is_irradiance_times_time() {
    let by_time = exposed(&json!({"irradiance_mw_cm2": 400, "time_s": 0.35}));
    assert!((number(&by_time["dose_mj_cm2"]) - 140.0).abs() < 1e-9);
    let by_dose = exposed(&json!({"tool": "contact", "dose_mj_cm2": 90}));
    // 90 mJ/cm2 from a lamp of 15 mW/cm2.
    assert!((number(&by_dose["time_s"]) - 6.0).abs() < 1e-9);
    let both = json!({"operation": "exposure", "dose_mj_cm2": 90, "time_s": 1});
    assert_eq!(refusal(&both).field, "time_s");
    let long = json!({"operation": "exposure", "time_s": 100});
    let error = refusal(&long);
    assert!(error.message.contains("40000 mJ/cm²"), "{}", error.message);
}

#[test]
fn a_focus_in_the_middle_of_the_resist_is_the_best_one() {
    // 1.15 um of resist is 0.68 um of way: the foot is out of focus by as much if the top is sharp.
    let foot = |defocus_um: f64| {
        let results =
            exposed(&json!({"focus_in_resist": "by_depth", "defocus_um": defocus_um,
            "post_exposure_bake": null, "dose_mj_cm2": 60,
            "resist_parameters": {"bleachable_per_um": 0, "residual_per_um": 0}}));
        let rows = results["latent"]["pac"].as_array().cloned().unwrap_or_default();
        let spread = |row: &Value| {
            let row = numbers(row);
            row.iter().copied().fold(0.0, f64::max)
                - row.iter().copied().fold(1.0, f64::min)
        };
        [spread(&rows[0]), spread(&rows[rows.len() - 1])]
    };
    let [top, bottom] = foot(0.0);
    let [centered_top, centered_bottom] = foot(-0.5 * 1.15 / 1.7);
    let [same_top, same_bottom] = foot(-1.15 / 1.7);
    assert!(centered_bottom > bottom, "{centered_bottom} {bottom}");
    assert!(
        centered_top < top && same_top < centered_top && centered_bottom < same_bottom
    );
}

#[test]
fn oxide_swings_with_its_own_period() {
    let results = exposed(&json!({"thickness_nm": 1000, "oxide_swing_nm": 160}));
    let swing = &results["oxide_swing"];
    let (oxide, dose) =
        (numbers(&swing["thickness_nm"]), numbers(&swing["dose_to_clear_mj_cm2"]));
    // Half a wavelength in oxide: 365 / (2 * 1.4745) = 123.8 nm.
    assert!((number(&swing["period_nm"]) - 123.8).abs() < 0.1);
    let at = |nm: f64| {
        let i = oxide.iter().position(|o| (o - nm).abs() < 1e-9).unwrap_or(0);
        dose[i]
    };
    rows::check("litho_checks.csv", "TF-07", &[at(80.0)]);
    assert!((at(0.0) - at(124.0)).abs() < 0.5, "a period later it is the same");
    let given = json!([{"material": "nitride", "thickness_nm": 100}]);
    let on_nitride = exposed(&json!({"oxide_swing_nm": 100, "stack_below": given}));
    let alone = exposed(&json!({"stack_below": given}));
    let first = numbers(&on_nitride["oxide_swing"]["dose_to_clear_mj_cm2"])[0];
    // The curve has cells of 10 nm, the single number of 5 nm.
    let alone = number(&alone["dose_to_clear_mj_cm2"]);
    assert!((first / alone - 1.0).abs() < 0.005, "{first} {alone}");
}

#[test]
fn the_contrast_curve_ends_at_the_dose_to_clear() {
    let results = exposed(&json!({}));
    let curve = &results["contrast_curve"];
    let (dose, left) = (numbers(&curve["dose_mj_cm2"]), numbers(&curve["left"]));
    let clear = number(&results["dose_to_clear_mj_cm2"]);
    for (dose, left) in dose.iter().zip(&left) {
        assert_eq!(*left <= 0.0, clear <= *dose, "{dose}: {left}, clear at {clear}");
    }
    assert!(left.windows(2).all(|pair| pair[1] <= pair[0] + 1e-12));
    let negative = exposed(&json!({"resist": "demo-n13"}));
    let kept = numbers(&negative["contrast_curve"]["left"]);
    assert!(kept.windows(2).all(|pair| pair[0] <= pair[1] + 1e-12), "{kept:?}");
}

#[test]
fn the_finest_lines_are_below_the_rule_of_a_careful_shop_and_above_the_cut_off() {
    for (aperture, sigma) in [(0.28, 0.6), (0.5, 0.5), (0.5, 0.0)] {
        let results = exposed(&json!({"numerical_aperture": aperture,
            "partial_coherence": sigma}));
        let finest = number(&results["finest_um"]);
        // Half the pitch of the cut-off, (1 + sigma) NA / lambda.
        let limit = 0.365 / (2.0 * (1.0 + sigma) * aperture);
        assert!(
            limit <= finest && finest < number(&results["resolution_um"]),
            "{finest}"
        );
    }
    let near = exposed(&json!({"tool": "contact"}));
    let far = exposed(&json!({"tool": "proximity", "gap_um": 20,
        "mask": {"pitch_um": 10, "opening_um": 5}}));
    assert!(number(&near["finest_um"]) < 0.5 * number(&far["finest_um"]));
    let blurred = exposed(&json!({"defocus_um": 1.2}));
    let sharp = exposed(&json!({}));
    assert!(number(&sharp["finest_um"]) < number(&blurred["finest_um"]));
}

#[test]
fn a_clear_field_is_the_negative_of_a_dark_one() {
    let parts = json!([[-1.0, -0.4], [0.5, 1.0]]);
    let of = |polarity: &str| {
        let mask =
            json!({"pattern": "openings", "polarity": polarity, "openings_um": parts});
        exposed(&json!({"mask": mask, "partial_coherence": 0}))
    };
    let (dark, clear) = (of("dark_field"), of("clear_field"));
    assert_eq!(dark["mask"]["is_dark"], false);
    assert_eq!(clear["mask"]["is_dark"], true);
    // Babinet: in coherent light in focus the two amplitudes add up to the open frame's.
    let (a, b) =
        (numbers(&dark["image"]["intensity"]), numbers(&clear["image"]["intensity"]));
    let x = numbers(&dark["image"]["x_um"]);
    for ((a, b), x) in a.iter().zip(&b).zip(&x) {
        let (a, b) = (a.sqrt(), b.sqrt());
        let sums = [a + b, (a - b).abs()];
        assert!(sums.iter().any(|sum| (sum - 1.0).abs() < 5e-3), "{x}: {a} {b}");
    }
    let wrong = json!({"operation": "exposure",
        "mask": {"pattern": "edge", "polarity": "clear_field"}});
    assert_eq!(refusal(&wrong).field, "mask.polarity");
}

fn window(changes: &Value) -> Value {
    merged(
        json!({"operation": "process_window", "focus_span_um": 0.9, "doses": 7, "focuses": 7,
            "exposure": {"thickness_nm": 1000, "dose_mj_cm2": 87, "grid_nm": 5}}),
        changes,
    )
}

#[test]
fn a_window_is_that_of_single_developments() {
    let results = run(&window(&json!({}))).unwrap();
    let dose = numbers(&results["dose_mj_cm2"])[3];
    for (k, focus) in numbers(&results["focus_um"]).into_iter().enumerate() {
        let one = json!({"operation": "development", "exposure": {"thickness_nm": 1000,
            "dose_mj_cm2": dose, "defocus_um": focus, "grid_nm": 5}});
        let one = run(&one).unwrap();
        let alone =
            if one["cleared"] == true { &one["cd_middle_um"] } else { &Value::Null };
        assert_eq!(&results["width_um"][3][k], alone, "focus {focus}");
    }
    assert!(number(&results["exposure_latitude_percent"]) > 10.0);
    assert!(number(&results["focus_range_um"]) > 0.3);
}

#[test]
fn a_watched_window_ends_as_one_that_nobody_watched() {
    let request = window(&json!({"doses": 5, "focuses": 5}));
    let fields: Map<String, Value> = request.as_object().cloned().unwrap_or_default();
    let mut run = WindowRun::start(fields).unwrap();
    assert_eq!(run.total(), 25);
    assert_eq!(run.advance(7), 7);
    let early = run.report().results.to_value();
    assert!(!early["width_um"][0][1].is_null());
    assert!(early["width_um"][2][1].is_null() && early["isofocal_dose_mj_cm2"].is_null());
    assert_eq!(run.advance(1000), 25);
    let whole = run_text(request.to_string().as_bytes()).unwrap();
    let text = |report| serde_json::to_string(report).unwrap();
    assert_eq!(text(&run.report()), text(&whole));
}

#[test]
fn a_proximity_window_goes_over_the_gap() {
    let request = json!({"operation": "process_window", "focus_span_um": 5, "doses": 3,
        "focuses": 3, "exposure": {"tool": "proximity", "gap_um": 8, "dose_mj_cm2": 120,
        "mask": {"pitch_um": 10, "opening_um": 5}}});
    let results = run(&request).unwrap();
    assert_eq!(numbers(&results["focus_um"]), [3.0, 8.0, 13.0]);
    assert!(results["width_um"][1][0].is_number());
    let edge =
        json!({"operation": "process_window", "exposure": {"mask": {"pattern": "edge"}}});
    assert_eq!(refusal(&edge).field, "exposure.mask.pattern");
}

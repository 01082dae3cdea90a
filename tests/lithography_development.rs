//! Properties of the development as a person asks for it: the front of an even film, the grid, and
//! what strength, inhibition and time past clearing do.

#![expect(clippy::panic, reason = "a helper that fails is a test that fails")]

use barewafer_process::{RequestError, run_text};
use proptest::prelude::*;
use serde_json::{Value, json};

fn ask(request: &Value) -> Result<Value, RequestError> {
    run_text(request.to_string().as_bytes()).map(|report| report.results.to_value())
}

fn developed(changes: &Value) -> Value {
    let mut request = json!({"operation": "development"});
    for (field, value) in changes.as_object().into_iter().flatten() {
        request[field] = value.clone();
    }
    ask(&request).unwrap_or_else(|error| panic!("{request}: {error}"))
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn width(grid_nm: f64) -> [f64; 3] {
    let results = developed(&json!({"exposure": {"grid_nm": grid_nm}}));
    ["cd_top_um", "cd_middle_um", "cd_bottom_um"].map(|name| number(&results[name]))
}

#[test]
fn widths_settle_as_the_cells_get_smaller() {
    let (coarse, usual, fine) = (width(10.0), width(5.0), width(2.5));
    for i in 0..3 {
        let (first, second) = (coarse[i] - usual[i], usual[i] - fine[i]);
        // A scheme of first order: half the cell, about half the error.
        assert!(second.abs() < 0.005, "{coarse:?} {usual:?} {fine:?}");
        assert!(
            second.abs() < 0.8 * first.abs() + 0.0005,
            "{coarse:?} {usual:?} {fine:?}"
        );
    }
}

#[test]
fn the_weaker_the_developer_the_later_it_is_through() {
    let clear = |normality: f64| {
        number(&developed(&json!({"normality": normality}))["open_clear_s"])
    };
    let (weak, usual, strong) = (clear(0.22), clear(0.26), clear(0.3));
    assert!(strong < usual && usual < weak, "{strong} {usual} {weak}");
    // The fast rate goes with the fifth power: (0.26 / 0.22)^5 = 2.31 for resist without compound.
    assert!(1.5 < weak / usual && weak / usual < 2.32, "{}", weak / usual);
}

#[test]
fn a_slower_top_keeps_its_corners() {
    let exposure = json!({"defocus_um": 0.7, "dose_mj_cm2": 90});
    let plain = developed(&json!({"exposure": exposure}));
    let slowed = developed(&json!({"exposure": exposure,
        "rate_parameters": {"surface_ratio": 0.2, "inhibition_depth_nm": 150}}));
    assert!(number(&plain["cd_top_um"]) < number(&slowed["cd_top_um"]));
    assert!(number(&plain["open_clear_s"]) < number(&slowed["open_clear_s"]));
    assert!(number(&slowed["loss_nm"]) < number(&plain["loss_nm"]));
}

#[test]
fn time_past_clearing_is_that_of_the_clear_time() {
    let past = developed(&json!({"over_develop_percent": 50}));
    let (clear, time) = (number(&past["time_to_clear_s"]), number(&past["time_s"]));
    assert!((time / clear - 1.5).abs() < 1e-9);
    assert!((number(&past["over_develop_percent"]) - 50.0).abs() < 1e-9);
    let same = developed(&json!({"time_s": time}));
    for name in ["cd_bottom_um", "cd_middle_um", "loss_nm"] {
        assert!((number(&past[name]) - number(&same[name])).abs() < 1e-9, "{name}");
    }
    let refused = ask(&json!({"operation": "development", "over_develop_percent": 20,
        "exposure": {"dose_mj_cm2": 5}}));
    let error = refused.err().unwrap_or_else(|| panic!("5 mJ/cm2 clear nothing"));
    assert_eq!(error.field, "over_develop_percent");
    let both = ask(&json!({"operation": "development", "over_develop_percent": 20,
        "time_s": 60}));
    assert!(both.is_err());
}

#[test]
fn scum_is_what_the_open_field_has_left_too() {
    let short = developed(&json!({"time_s": 8}));
    assert_eq!(short["cleared"], false);
    assert_eq!(short["over_develop_percent"], Value::Null);
    let left = number(&short["residue_nm"]);
    assert!(50.0 < left && left < 1100.0, "{left}");
    // At the end of the trace the curve says the same of a wide field as its clear time.
    let long = developed(&json!({}));
    let times = long["curve"]["time_s"].as_array().map_or(&[][..], Vec::as_slice);
    let open = long["curve"]["exposed_nm"].as_array().map_or(&[][..], Vec::as_slice);
    let clear = number(&long["open_clear_s"]);
    for (time, left) in times.iter().zip(open) {
        assert_eq!(number(time) < clear, 0.0 < number(left), "{time} {left}");
    }
}

#[test]
fn negative_resist_keeps_what_saw_light() {
    let exposure = json!({"resist": "demo-n13", "dose_mj_cm2": 400});
    let results = developed(&json!({"exposure": exposure}));
    assert_eq!(results["tone"], "negative");
    assert_eq!(results["nominal_um"], json!(0.5));
    assert_eq!(results["center_um"], json!(0.0));
    assert!(results["cd_bottom_um"].is_number(), "{results}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn an_even_film_goes_down_at_its_rate(
        fastest in 20.0_f64..200.0, thickness in 300.0_f64..2000.0, share in 0.1_f64..0.9
    ) {
        // So much light that no compound is left: the rate is the fastest one everywhere.
        let time_s = share * thickness / fastest;
        let request = json!({"operation": "development", "time_s": time_s.max(1.0),
            "rate_parameters": {"fastest_nm_s": fastest, "slowest_nm_s": 0.05},
            "exposure": {"dose_mj_cm2": 2000, "thickness_nm": thickness, "grid_nm": 10,
                "mask": {"pattern": "line_space", "pitch_um": 8, "opening_um": 6}}});
        let results = ask(&request).unwrap_or_else(|error| panic!("{request}: {error}"));
        let time_s = time_s.max(1.0);
        let clear_s = number(&results["open_clear_s"]);
        // In the dark layers of the standing wave a trace of it is left: some 0.1 %.
        let ratio = clear_s * (fastest + 0.05) / thickness;
        prop_assert!((ratio - 1.0).abs() < 3e-3, "{ratio}");
        let left = (thickness - (fastest + 0.05) * time_s).max(0.0);
        prop_assert!((number(&results["residue_nm"]) - left).abs() < 0.01 * thickness + 1.0);
    }
}

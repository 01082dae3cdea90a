//! Wet etching against published rates and problems, through requests as a person sends them.

#![expect(
    clippy::expect_used,
    clippy::panic,
    reason = "a helper that fails is a test that fails"
)]

use barewafer_checks::tables::etch_rates::{bath_fields, film_words};
use barewafer_process::etching::{
    Bath, Etchant, Film, PUBLISHED, Variant, over_etch_fraction, rate_at,
    time_to_clear_everywhere_s, under_layer_loss_nm, under_layer_worst_loss_nm,
};
use barewafer_process::num::bisect;
use barewafer_process::vocabulary::Material;
use barewafer_process::{Report, RequestError, run_text};
use barewafer_tests::{Row, reference};
use proptest::prelude::*;
use serde_json::{Value, json};

fn run(request: &Value) -> Result<Report, RequestError> {
    run_text(request.to_string().as_bytes())
}

fn report(request: &Value) -> Report {
    run(request).unwrap_or_else(|error| panic!("{request}: {error}"))
}

/// A request with `changes` over the usual etch of 500 nm of thermal oxide.
fn etch(changes: &Value) -> Value {
    let mut request = json!({
        "operation": "wet_etch", "etchant": "bhf_5_1", "material": "thermal_oxide",
        "thickness_nm": 500,
    });
    for (field, value) in changes.as_object().expect("an object") {
        request[field] = value.clone();
    }
    request
}

fn results(changes: &Value) -> Value {
    report(&etch(changes)).results.to_value()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn codes(changes: &Value) -> Vec<&'static str> {
    report(&etch(changes)).warnings.iter().map(|warning| warning.code).collect()
}

#[track_caller]
fn close(value: &Value, expected: f64, relative: f64) {
    let got = number(value);
    assert!((got / expected - 1.0).abs() <= relative, "{got} against {expected}");
}

/// The bath of a row in the kernel's words: fields of the request.
fn bath_of(row: &Row) -> Value {
    let name = row.text("etchant");
    Value::Object(bath_fields(name).unwrap_or_else(|| panic!("bath {name}")))
}

/// The film of a row in the kernel's words.
fn film_of(row: &Row) -> (&'static str, Option<&'static str>) {
    let name = row.text("material");
    film_words(name).unwrap_or_else(|| panic!("material {name}"))
}

/// The kernel's default rate for a row in nm/min.
fn rate_of(row: &Row) -> f64 {
    let mut request = bath_of(row);
    let (material, variant) = film_of(row);
    request["operation"] = json!("wet_etch");
    request["material"] = json!(material);
    request["thickness_nm"] = json!(100);
    request["time_s"] = json!(60);
    if let Some(variant) = variant {
        request["variant"] = json!(variant);
    }
    // "20-25" means the room: the table's own temperature is taken.
    if let Ok(temperature_c) = row.text("temperature_C").parse::<f64>() {
        request["temperature_c"] = json!(temperature_c);
    }
    number(&report(&request).results.to_value()["rate_nm_min"])
}

#[test]
fn default_rates_lie_within_the_tolerance_of_every_published_row() {
    let mut failed = Vec::new();
    for row in reference("etch_rates.csv") {
        let (published, tolerance) =
            (row.required("rate_nm_per_min"), row.required("tolerance_rel"));
        let ours = rate_of(&row);
        let agrees = if published == 0.0 {
            ours <= row.required("rate_high")
        } else {
            (ours / published - 1.0).abs() <= tolerance
        };
        let deviation = row.text("known_deviation");
        if agrees != deviation.is_empty() {
            failed.push(format!(
                "{}: {published} ± {tolerance} published, {ours} here ({deviation})",
                row.text("id")
            ));
        }
    }
    assert!(failed.is_empty(), "{failed:#?}");
}

#[test]
fn points_on_the_curve_are_those_of_the_reference_table() {
    let rows = reference("etch_rates.csv");
    for point in PUBLISHED {
        let row = rows.iter().find(|row| row.text("id") == point.id).expect(point.id);
        let bath = bath_of(row);
        let (material, variant) = film_of(row);
        assert_eq!(bath["etchant"], point.etchant.word(), "{}", point.id);
        assert_eq!(
            bath["concentration_percent"].as_f64(),
            point.concentration_percent,
            "{}",
            point.id
        );
        assert_eq!(material, point.material.word(), "{}", point.id);
        if let (Some(row_variant), Some(variant)) = (variant, point.variant) {
            assert_eq!(row_variant, variant.word(), "{}", point.id);
        }
        assert!((row.required("rate_nm_per_min") - point.rate_nm_min).abs() < 1e-9);
        assert!((row.required("tolerance_rel") - point.tolerance).abs() < 1e-9);
    }
}

#[test]
fn the_clear_time_of_a_published_rate_is_drawn_only_where_the_settings_match() {
    let points = report(&etch(&json!({}))).published;
    assert_eq!(points.len(), 1);
    assert_eq!((points[0].id.as_str(), points[0].curve), ("ER-025", "curve"));
    assert!((points[0].x - 300.0).abs() < 1e-9);
    for other in [
        json!({"temperature_c": 25}),
        json!({"rate_nm_min": 90}),
        json!({"etchant": "hf_dilute", "concentration_percent": 7}),
        json!({"etchant": "acetone", "time_s": 60}),
    ] {
        assert!(report(&etch(&other)).published.is_empty(), "{other}");
    }
    let diluted = json!({"etchant": "hf_dilute", "concentration_percent": 5});
    assert_eq!(report(&etch(&diluted)).published[0].id, "ER-092");
}

#[test]
fn silicon_in_koh_follows_the_published_law() {
    // 30 %, 80 C: 81 um/h; 60 C: 25 um/h.
    for (temperature_c, um_h) in [(80.0, 81.0), (60.0, 25.0)] {
        let changes = json!({"etchant": "koh_30", "material": "silicon", "temperature_c": temperature_c, "time_s": 60});
        let rate = number(&results(&changes)["rate_nm_min"]);
        assert!((rate * 0.06 / um_h - 1.0).abs() < 0.02, "{rate} at {temperature_c} C");
    }
}

#[test]
fn temperature_laws_are_those_of_each_bath() {
    let rate = |changes: Value| number(&results(&changes)["rate_nm_min"]);
    // exp[-(0.36/8.617e-5)(1/308.15 - 1/294.15)] = 1.906
    assert!((rate(json!({"temperature_c": 35})) / 190.6 - 1.0).abs() < 0.003);
    let nitride = |t: f64| json!({"etchant": "phosphoric_85", "material": "nitride", "temperature_c": t});
    assert!((rate(nitride(180.0)) / 9.0 - 1.0).abs() < 0.02);
    let metal = |t: f64| json!({"etchant": "aluminum_etch", "material": "aluminum", "temperature_c": t});
    assert!((rate(metal(40.0)) / 330.0 - 1.0).abs() < 1e-9);
    // Nitride : oxide in fresh acid is about 40 : 1.
    let oxide = json!({"etchant": "phosphoric_85"});
    let ratio = rate(nitride(160.0)) / rate(oxide);
    assert!((38.0..42.0).contains(&ratio), "{ratio}");
}

#[test]
fn over_etch_problems_come_out_as_by_hand() {
    // Both spreads 15 %: 35.3 %; 0.60 um at 75 nm/min, 10 % and 15 %: 10.35 min.
    assert!((100.0 * over_etch_fraction(0.15, 0.15) - 35.29).abs() < 0.01);
    let time_s = time_to_clear_everywhere_s(600.0, 75.0, 0.10, 0.15);
    assert!((time_s / 60.0 - 10.353).abs() < 0.001);
    let through_request = results(&json!({
        "thickness_nm": 600, "rate_nm_min": 75, "film_spread_percent": 10, "rate_spread_percent": 15,
    }));
    close(&through_request["time_to_clear_everywhere_s"], time_s, 1e-12);
    close(&through_request["time_to_clear_s"], 480.0, 1e-12);
}

#[test]
fn five_nanometers_of_under_layer_need_the_selectivities_of_the_problem() {
    // 0.5 um, both spreads 15 %, etched as long as the last place needs: S = 35 by the simple
    // reckoning, 71 in the worst place (61 if the under-layer's rate is not raised).
    let (d_nm, rate) = (500.0, 100.0);
    let time_s = time_to_clear_everywhere_s(d_nm, rate, 0.15, 0.15);
    let simple =
        bisect(|s| under_layer_loss_nm(time_s, d_nm, rate, rate / s) - 5.0, 1.0, 1e3);
    let worst = bisect(
        |s| under_layer_worst_loss_nm(time_s, d_nm, rate, rate / s, 0.15, 0.15) - 5.0,
        1.0,
        1e3,
    );
    let (simple, worst) = (simple.unwrap(), worst.unwrap());
    assert!((simple - 35.3).abs() < 0.1, "{simple}");
    assert!((worst - 70.6).abs() < 0.1, "{worst}");
    assert!((worst / 1.15 - 61.4).abs() < 0.1);
}

#[test]
fn the_page_of_exercises_asks_without_a_time() {
    let clear = results(&json!({
        "rate_nm_min": 90, "film_spread_percent": 8, "rate_spread_percent": 18,
    }));
    // 333.3 s x 1.08 / 0.82
    close(&clear["time_to_clear_everywhere_s"], 439.02, 1e-4);
    let bias = results(&json!({
        "etchant": "aluminum_etch", "material": "aluminum", "thickness_nm": 800, "over_etch_percent": 25,
    }));
    // Each side loses 0.8 um x 1.25.
    close(&bias["undercut_nm"], 1000.0, 1e-9);
}

#[test]
fn a_metal_line_of_two_micrometers_is_gone_with_a_quarter_of_over_etch() {
    let line = |over: f64| {
        json!({
            "etchant": "aluminum_etch", "material": "aluminum", "thickness_nm": 800,
            "mask": {"line_um": 2}, "over_etch_percent": over,
        })
    };
    let sharp = results(&line(0.0));
    close(&sharp["line_um"], 0.4, 1e-9);
    close(&sharp["line_bottom_um"], 2.0, 1e-9);
    let gone = results(&line(25.0));
    assert!(number(&gone["line_um"]).abs() < 1e-9);
    // sqrt(1000^2 - 800^2) = 600 nm at the foot.
    close(&gone["line_bottom_um"], 0.8, 1e-6);
    assert!(codes(&line(25.0)).contains(&"line_gone"));
    assert!(!codes(&line(0.0)).contains(&"line_gone"));
}

#[test]
fn koh_walls_stand_at_their_angle_and_stop() {
    let pit = |time_s: f64, opening_um: f64| {
        json!({
            "etchant": "koh_33", "material": "silicon", "thickness_nm": 300_000,
            "time_s": time_s, "mask": {"opening_um": opening_um},
        })
    };
    let open = results(&pit(600.0, 100.0));
    let depth_um = 1e-3 * number(&open["etched_nm"]);
    // w_bottom = w_top - 1.414 d
    close(
        &open["opening_bottom_um"],
        number(&open["opening_um"]) - std::f64::consts::SQRT_2 * depth_um,
        1e-9,
    );
    close(&open["wall_deg"], 54.74, 1e-4);
    assert!(number(&open["undercut_nm"]) < 0.03 * number(&open["etched_nm"]));
    assert!(codes(&pit(600.0, 100.0)).contains(&"anisotropic"));
    assert!(codes(&pit(600.0, 100.0)).contains(&"resist_dissolves"));
    // 10 um wide: the walls meet at 7.07 um, and deeper by what they recede in an hour:
    // 77 um / 50 / sin 54.74 = 1.9 um on each side.
    let shut = results(&pit(3600.0, 10.0));
    let undercut_um = 1e-3 * number(&shut["undercut_nm"]);
    assert!((1.8..2.0).contains(&undercut_um), "{undercut_um}");
    let meet_nm = 1e3 * (10.0 + 2.0 * undercut_um) / std::f64::consts::SQRT_2;
    close(&shut["etched_nm"], meet_nm, 1e-9);
    assert!(number(&shut["opening_bottom_um"]).abs() < 1e-9);
    assert!(shut["time_to_clear_s"].is_null());
    assert!(codes(&pit(3600.0, 10.0)).contains(&"self_stopped"));
    // Polysilicon has grains in every direction: it is etched all round.
    let grains = results(&json!({"etchant": "koh_33", "material": "polysilicon"}));
    assert!(grains["wall_deg"].is_null());
}

#[test]
fn a_bath_that_does_not_etch_a_film_says_so() {
    let changes = json!({"etchant": "acetone", "time_s": 600});
    let nothing = results(&changes);
    close(&nothing["remaining_nm"], 500.0, 1e-12);
    assert!(nothing["time_to_clear_s"].is_null());
    assert!(nothing["over_etch_percent"].is_null());
    assert_eq!(codes(&changes), ["not_etched"]);
    let without_time = json!({"etchant": "acetone"});
    assert!(number(&results(&without_time)["time_s"]).abs() < 1e-12);
    assert_eq!(codes(&without_time), ["not_etched"]);
}

#[test]
fn warnings_name_what_goes_wrong() {
    let masked = |changes: Value| {
        let mut changes = changes;
        changes["mask"] = json!({"opening_um": 5});
        changes
    };
    let cases = [
        (json!({"time_s": 299}), "not_cleared"),
        (
            json!({"time_s": 310, "film_spread_percent": 5, "rate_spread_percent": 5}),
            "not_cleared_everywhere",
        ),
        (masked(json!({"time_s": 601})), "resist_lifts"),
        (masked(json!({"etchant": "hf_49", "time_s": 61})), "resist_lifts"),
        (masked(json!({"etchant": "hf_10_1", "time_s": 601})), "resist_lifts"),
        (
            masked(json!({"etchant": "phosphoric_85", "material": "nitride"})),
            "resist_dissolves",
        ),
        (json!({"material": "nitride", "thickness_nm": 1e5}), "too_slow"),
        (masked(json!({"time_s": 500})), "large_undercut"),
        (json!({"material": "resist", "etchant": "piranha"}), "bulk_resist_in_piranha"),
        (json!({"material": "deposited_oxide", "variant": "teos"}), "estimated_rate"),
        (json!({"material": "deposited_oxide", "etchant": "hf_49"}), "lower_bound_rate"),
        (json!({"temperature_c": 55}), "outside_published_range"),
        (
            json!({"etchant": "poly_etch", "material": "silicon", "temperature_c": 30}),
            "no_temperature_law",
        ),
        (
            json!({"etchant": "tmah_25", "material": "silicon", "temperature_c": 70}),
            "borrowed_temperature_law",
        ),
        (
            json!({"etchant": "koh_30", "material": "polysilicon", "concentration_percent": 20}),
            "no_concentration_law",
        ),
    ];
    for (changes, code) in cases {
        let found = codes(&changes);
        assert!(found.contains(&code), "{changes}: {found:?} lacks {code}");
    }
    assert!(codes(&json!({})).is_empty());
    assert!(codes(&masked(json!({"over_etch_percent": 20}))).is_empty());
}

#[test]
fn bad_fields_are_named() {
    let cases = [
        (json!({"variant": "teos"}), "conflict", "variant"),
        (json!({"variant": "tea"}), "unknown_value", "variant"),
        (json!({"etchant": "bhf"}), "unknown_value", "etchant"),
        (json!({"material": "open"}), "unknown_value", "material"),
        (json!({"thickness_nm": 0}), "out_of_range", "thickness_nm"),
        (json!({"thickness_nm": -5}), "out_of_range", "thickness_nm"),
        (json!({"temperature_c": 80}), "out_of_range", "temperature_c"),
        (json!({"concentration_percent": 5}), "conflict", "concentration_percent"),
        (json!({"time_s": 60, "over_etch_percent": 10}), "conflict", "over_etch_percent"),
        (json!({"time_s": 0}), "out_of_range", "time_s"),
        (json!({"rate_nm_min": 0}), "out_of_range", "rate_nm_min"),
        (json!({"mask": {}}), "conflict", "mask"),
        (json!({"mask": {"opening_um": 1, "line_um": 1}}), "conflict", "mask"),
        (json!({"mask": {"opening_um": 0}}), "out_of_range", "mask.opening_um"),
        (json!({"mask": {"line_um": 0}}), "out_of_range", "mask.line_um"),
        (json!({"mask": {"width_um": 1}}), "unknown_field", "mask.width_um"),
        (
            json!({"material": "resist", "etchant": "acetone", "mask": {"line_um": 1}}),
            "conflict",
            "mask",
        ),
        (
            json!({"etchant": "aluminum_etch", "material": "phosphorus_glass"}),
            "conflict",
            "material",
        ),
        (json!({"film_spread_percent": 100}), "out_of_range", "film_spread_percent"),
        (json!({"rate_spread_percent": 100}), "out_of_range", "rate_spread_percent"),
        (json!({"bath": 1}), "unknown_field", "bath"),
    ];
    for (changes, code, field) in cases {
        let error = run(&etch(&changes)).expect_err("the request is wrong");
        assert_eq!(
            (error.code, error.field.as_str()),
            (code, field),
            "{changes}: {error}"
        );
    }
    let missing = run(&json!({"operation": "wet_etch"})).expect_err("fields are missing");
    assert_eq!(missing.code, "missing_field");
}

#[test]
fn every_bath_and_film_answers_or_asks_for_a_rate() {
    for etchant in Etchant::ALL {
        for &material in Material::ALL {
            for variant in std::iter::once(None)
                .chain(Film::variants(material).iter().map(|&v| Some(v)))
            {
                let mut changes =
                    json!({"etchant": etchant.word(), "material": material.word()});
                if let Some(variant) = variant {
                    changes["variant"] = json!(variant.word());
                }
                match run(&etch(&changes)) {
                    Ok(report) => {
                        assert!(!report.hazards.is_empty());
                        assert!(!report.hazards.contains(&"UNKNOWN"), "{changes}");
                        assert!(
                            report.working.iter().all(|line| line.result.is_finite())
                        );
                    }
                    Err(error) => {
                        assert_eq!(error.field, "material", "{changes}: {error}")
                    }
                }
                changes["rate_nm_min"] = json!(10);
                assert!(run(&etch(&changes)).is_ok(), "{changes}");
            }
        }
    }
}

#[test]
fn hazards_follow_the_bath() {
    let hazards = |changes: Value| report(&etch(&changes)).hazards;
    assert_eq!(hazards(json!({})), ["HF_DIL", "BHF", "NH4F"]);
    let strong = json!({"etchant": "hf_dilute", "concentration_percent": 30});
    assert_eq!(hazards(strong), ["HF49"]);
    assert_eq!(hazards(json!({"etchant": "hf_dilute"})), ["HF_DIL"]);
    assert_eq!(
        hazards(json!({"etchant": "aluminum_etch", "material": "aluminum"})),
        ["AL_ETCH", "ACETIC", "HNO3"]
    );
    assert_eq!(
        hazards(json!({"etchant": "tmah_25", "material": "silicon"})),
        ["TMAH25", "H2"]
    );
}

#[test]
fn usual_variants_are_those_of_the_value_lists() {
    let usual = |material| Film::usual(material).variant;
    assert_eq!(usual(Material::ThermalOxide), Some(Variant::Wet));
    assert_eq!(usual(Material::DepositedOxide), Some(Variant::Lto));
    assert_eq!(usual(Material::PhosphorusGlass), Some(Variant::Annealed));
    assert_eq!(usual(Material::Nitride), Some(Variant::Stoichiometric));
    assert_eq!(usual(Material::Polysilicon), Some(Variant::NType));
    assert_eq!(usual(Material::Aluminum), Some(Variant::SiliconAlloy));
    assert_eq!(usual(Material::Silicon), None);
}

proptest! {
    #[test]
    fn etched_and_left_make_up_the_film(
        thickness_nm in 1.0..5000.0_f64, time_s in 1.0..5000.0_f64, temperature_c in 15.0..60.0_f64,
    ) {
        let got = results(&json!({
            "thickness_nm": thickness_nm, "time_s": time_s, "temperature_c": temperature_c,
        }));
        let sum = number(&got["etched_nm"]) + number(&got["remaining_nm"]);
        prop_assert!((sum / thickness_nm - 1.0).abs() < 1e-12);
        let left: Vec<f64> = got["curve"]["remaining_nm"].as_array().unwrap().iter().map(number).collect();
        prop_assert!(left.windows(2).all(|pair| pair[1] <= pair[0]));
        let time: Vec<f64> = got["curve"]["time_s"].as_array().unwrap().iter().map(number).collect();
        prop_assert!(time.windows(2).all(|pair| pair[0] < pair[1]));
        prop_assert!(time_s <= *time.last().unwrap());
        prop_assert!((60..=63).contains(&time.len()));
    }

    #[test]
    fn stronger_and_warmer_hf_is_faster(
        percent in 0.2..80.0_f64, temperature_c in 16.0..50.0_f64,
    ) {
        let rate = |percent: f64, temperature_c: f64| {
            let bath = Bath { etchant: Etchant::HfDilute, temperature_c, concentration_percent: Some(percent) };
            rate_at(bath, Film::usual(Material::ThermalOxide)).unwrap().here.rate_nm_min
        };
        let here = rate(percent, temperature_c);
        prop_assert!(here < rate(1.1 * percent, temperature_c));
        prop_assert!(here < rate(percent, temperature_c + 2.0));
    }

    #[test]
    fn clear_time_is_where_the_curve_ends(thickness_nm in 10.0..2000.0_f64, over in 0.0..200.0_f64) {
        let got = results(&json!({"thickness_nm": thickness_nm, "over_etch_percent": over}));
        prop_assert!(number(&got["remaining_nm"]).abs() < 1e-9);
        prop_assert!((number(&got["over_etch_percent"]) - over).abs() < 1e-6);
        let undercut = number(&got["undercut_nm"]);
        prop_assert!((undercut / (thickness_nm * (1.0 + over / 100.0)) - 1.0).abs() < 1e-9);
    }
}

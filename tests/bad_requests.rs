//! Whatever is sent, the kernel answers: with a report or with one clear line, never a panic.

use barewafer_process::{OPERATIONS, RequestError, run_text, schema};
use proptest::prelude::*;
use serde_json::{Map, Number, Value, json};

/// Good requests of every operation, to be spoiled.
fn good_requests() -> Vec<Value> {
    vec![
        json!({"operation": "oxidation", "ambient": "wet", "temperature_c": 1000, "time_min": 60}),
        json!({"operation": "oxidation", "ambient": "dry", "temperature_c": 1100,
               "target_oxide_nm": 100, "orientation": "111", "model": "deal_grove"}),
        json!({"operation": "oxidation", "segments": [
            {"ambient": "dry", "temperature_c": 1000, "time_min": 30},
            {"ambient": "wet", "temperature_c": 1000, "end_temperature_c": 1100, "time_min": 20}]}),
        json!({"operation": "spin_coating", "resist": "demo-p12", "speed_rpm": 4000}),
        json!({"operation": "spin_coating", "resist": "demo-n13", "speed_rpm": 3000, "time_s": 45,
               "spread": {"speed_rpm": 500, "time_s": 5}}),
        json!({"operation": "wet_etch", "etchant": "bhf_5_1", "material": "thermal_oxide",
               "thickness_nm": 500, "time_s": 300}),
        json!({"operation": "wet_etch", "etchant": "hf_dilute", "material": "thermal_oxide",
               "thickness_nm": 100, "over_etch_percent": 20, "mask": {"opening_um": 3}}),
        json!({"operation": "deposition", "film": "polysilicon", "temperature_c": 620,
               "time_min": 30, "trench": {"width_um": 1, "depth_um": 1}}),
        json!({"operation": "deposition", "film": "deposited_oxide", "target_nm": 400,
               "trench": {"width_um": 1, "depth_um": 1}}),
        json!({"operation": "deposition", "film": "phosphorus_glass", "target_nm": 700,
               "trench": {"width_um": 2, "depth_um": 0.6}, "phosphorus_percent": 7,
               "reflow": {"temperature_c": 1050, "time_min": 30}}),
        json!({"operation": "deposition", "film": "aluminum", "method": "evaporation",
               "target_nm": 500, "source_height_mm": 300, "wafer_diameter_mm": 100}),
        json!({"operation": "dry_etch", "chemistry": "hbr_cl2", "material": "polysilicon",
               "thickness_nm": 400, "time_s": 110, "step_height_nm": 250, "selectivity": 30,
               "mask": {"line_um": 2, "thickness_nm": 1150},
               "stop": {"material": "thermal_oxide", "thickness_nm": 34}}),
        json!({"operation": "resist_strip", "method": "piranha", "time_min": 10,
               "thickness_nm": 20}),
        json!({"operation": "planarization", "material": "deposited_oxide", "thickness_nm": 600,
               "time_s": 230, "step_height_nm": 400, "dense_fraction": 0.5,
               "pressure_kpa": 28, "speed_m_s": 0.7, "stop": {"material": "nitride"}}),
        json!({"operation": "predeposition", "dopant": "boron", "temperature_c": 950,
               "time_min": 30, "substrate": {"type": "n", "concentration_cm3": 1e15}}),
        json!({"operation": "drive_in", "temperature_c": 1100, "time_min": 60, "ambient": "inert",
               "start": {"dose_cm2": 1e14, "dopant": "boron"}}),
        json!({"operation": "drive_in", "temperature_c": 1000, "time_min": 10, "ambient": "dry",
               "start": {"operation": "predeposition", "dopant": "phosphorus",
                         "temperature_c": 900, "time_min": 10}}),
        json!({"operation": "drive_in", "temperature_c": 1000, "time_min": 10, "ambient": "inert",
               "start": {"profile": {"depth_um": [0, 0.1, 0.2, 0.4],
                                     "boron_cm3": [1e18, 5e17, 1e17, 1e14]}}}),
        json!({"operation": "anneal", "temperature_c": 1000, "time_min": 0.2,
               "ambient": "forming_gas", "accuracy": "interactive",
               "ramp": {"start_c": 600, "up_c_s": 50, "down_c_s": 30},
               "start": {"operation": "implantation", "dopant": "boron", "energy_kev": 30,
                         "dose_cm2": 1e14}}),
        json!({"operation": "anneal", "temperature_c": 950, "time_min": 20, "ambient": "steam",
               "oxidation_enhanced_diffusion": true, "orientation": "111",
               "boron_segregation": "colby_katz_1976", "donor_segregation": 20,
               "start": {"dose_cm2": 1e14, "dopant": "phosphorus"}}),
        json!({"operation": "implantation", "dopant": "boron", "energy_kev": 100}),
        json!({"operation": "implantation", "dopant": "bf2", "energy_kev": 40, "dose_cm2": 1e15,
               "model": "dual_pearson", "tilt_deg": 0, "beam_current_ua": 100, "charge_state": 1,
               "through": [{"material": "thermal_oxide", "thickness_nm": 20},
                           {"material": "resist", "thickness_nm": 500}],
               "substrate": {"type": "n", "concentration_cm3": 1e15}}),
        json!({"operation": "sheet", "profile": {"csv": "depth_um,boron_cm3\n0,1e19\n1,1e14"},
               "substrate": {"type": "n", "resistivity_ohm_cm": 4.5}, "active_limit_c": 1000,
               "resistance_a_ohm": 3, "resistance_b_ohm": 9, "length_um": 100, "width_um": 5}),
        json!({"operation": "sheet", "layer": 1, "current_ma": 0.1, "start": {"gaussian": {
               "dopant": "phosphorus", "dose_cm2": 1e15, "projected_range_nm": 100,
               "straggle_nm": 80}}}),
        json!({"operation": "implantation", "dopant": "arsenic", "energy_kev": 80,
               "moments": {"projected_range_nm": 50, "straggle_nm": 20, "skewness": 0.4}}),
    ]
}

/// An error says what is wrong in one short line, and names the field if there is one.
fn assert_clear(error: &RequestError) -> Result<(), TestCaseError> {
    prop_assert!(!error.code.is_empty(), "{error:?}");
    prop_assert!(!error.message.trim().is_empty(), "{error:?}");
    prop_assert!(!error.hint.trim().is_empty(), "{error:?}");
    let line = error.to_string();
    prop_assert!(!line.chars().any(char::is_control), "{line:?}");
    prop_assert!(line.len() < 12_000, "{} bytes are no line", line.len());
    let about_a_field =
        ["unknown_field", "missing_field", "unknown_value", "wrong_type", "out_of_range"];
    if about_a_field.contains(&error.code) {
        let whole_request = error.code == "wrong_type" && error.field.is_empty();
        prop_assert!(!error.field.is_empty() && !whole_request, "{error:?}");
        let start: String = error.field.chars().take(40).collect();
        prop_assert!(error.message.contains(start.trim()), "{error:?}");
    }
    Ok(())
}

/// Lists in which null has a meaning of its own: at these times of a development there is no
/// such width yet, or no longer.
const WIDTHS_IN_TIME: [&str; 2] = ["bottom_um", "middle_um"];

/// Every number of an answer is a number: none is lost as `null` in a list.
fn assert_finite(value: &Value) -> Result<(), TestCaseError> {
    match value {
        Value::Array(list) => {
            for item in list {
                prop_assert!(!item.is_null(), "a number of a list is not finite");
                assert_finite(item)?;
            }
        }
        Value::Object(map) => {
            for (_, item) in
                map.iter().filter(|(name, _)| !WIDTHS_IN_TIME.contains(&name.as_str()))
            {
                assert_finite(item)?;
            }
        }
        _ => {}
    }
    Ok(())
}

fn answer_is_sound(text: &[u8]) -> Result<(), TestCaseError> {
    match run_text(text) {
        Ok(report) => {
            prop_assert!(OPERATIONS.contains(&report.operation));
            assert_finite(&report.results.to_value())
        }
        Err(error) => assert_clear(&error),
    }
}

fn any_number() -> impl Strategy<Value = Value> {
    prop_oneof![
        any::<i64>().prop_map(|i| json!(i)),
        any::<u64>().prop_map(|i| json!(i)),
        any::<f64>().prop_map(|x| Number::from_f64(x).map_or(Value::Null, Value::Number)),
        (-320.0..308.0_f64).prop_map(|d| json!(barewafer_process::num::pow(10.0, d))),
        (-1000.0..1000.0_f64).prop_map(|x| json!(x)),
        prop::sample::select(vec![
            0.0,
            -0.0,
            5e-324,
            f64::MAX,
            f64::MIN,
            f64::EPSILON,
            1e16,
            1e20,
            20_000.0,
            400.0,
            1.0,
        ])
        .prop_map(|x| json!(x)),
    ]
}

/// Words that requests use, so that random requests get past the first check.
fn any_word() -> impl Strategy<Value = String> {
    let mut words: Vec<String> = OPERATIONS.iter().map(|&word| word.to_owned()).collect();
    for form in schema() {
        for bound in &form.numbers {
            words.push(bound.field.to_owned());
        }
        for choice in &form.choices {
            words.push(choice.field.to_owned());
            words.extend(choice.values.iter().map(|(word, _)| (*word).to_owned()));
        }
    }
    for word in "operation dopant energy_kev dose_cm2 start profile depth_um boron_cm3 gaussian \
                 substrate type concentration_cm3 through material thickness_nm moments resist \
                 speed_rpm spread etchant mask opening_um segments ambient temperature_c time_min"
        .split_whitespace()
    {
        words.push(word.to_owned());
    }
    words.sort();
    words.dedup();
    prop_oneof![3 => prop::sample::select(words), 1 => any::<String>(), 1 => "[`'\"\\\\\n.\\[\\]]{0,8}"]
}

fn any_value() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::Bool),
        any_number(),
        any_word().prop_map(Value::String),
    ];
    leaf.prop_recursive(4, 40, 6, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..6).prop_map(Value::Array),
            prop::collection::vec((any_word(), inner), 0..6).prop_map(|pairs| {
                Value::Object(pairs.into_iter().collect::<Map<_, _>>())
            }),
        ]
    })
}

/// The number of values inside a value, itself included.
fn count(value: &Value) -> usize {
    1 + match value {
        Value::Array(list) => list.iter().map(count).sum(),
        Value::Object(map) => map.values().map(count).sum(),
        _ => 0,
    }
}

/// Does something to the `n`th value inside a value.
fn visit(value: &mut Value, n: &mut usize, spoil: &mut dyn FnMut(&mut Value)) {
    if *n == 0 {
        spoil(value);
        *n = usize::MAX;
        return;
    }
    *n = n.wrapping_sub(1);
    match value {
        Value::Array(list) => list.iter_mut().for_each(|item| visit(item, n, spoil)),
        Value::Object(map) => map.values_mut().for_each(|item| visit(item, n, spoil)),
        _ => {}
    }
}

/// Replaces a value somewhere, adds a field, or takes one away.
fn spoiled(mut request: Value, at: usize, how: u8, word: &str, new: &Value) -> Value {
    // The first value is the request itself: it stays an object.
    let mut n = 1 + at % (count(&request) - 1).max(1);
    match how {
        0 => visit(&mut request, &mut n, &mut |value| *value = new.clone()),
        1 => {
            let mut n = at % count(&request);
            visit(&mut request, &mut n, &mut |value| {
                if let Value::Object(map) = value {
                    map.insert(word.to_owned(), new.clone());
                }
            });
        }
        2 => {
            if let Value::Object(map) = &mut request {
                let name =
                    map.keys().nth(at % map.len().max(1)).cloned().unwrap_or_default();
                map.remove(&name);
            }
        }
        _ => visit(&mut request, &mut n, &mut |value| {
            if value.is_number() {
                *value = new.clone();
            }
        }),
    }
    request
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 1500, failure_persistence: None, ..ProptestConfig::default()
    })]

    #[test]
    fn random_values_are_answered(value in any_value()) {
        answer_is_sound(value.to_string().as_bytes())?;
    }

    #[test]
    fn random_fields_of_an_operation_are_answered(
        operation in prop::sample::select(OPERATIONS.to_vec()),
        fields in prop::collection::vec((any_word(), any_value()), 0..8),
    ) {
        let mut request: Map<String, Value> = fields.into_iter().collect();
        request.insert("operation".to_owned(), json!(operation));
        answer_is_sound(Value::Object(request).to_string().as_bytes())?;
    }

    #[test]
    fn spoiled_requests_are_answered(
        request in prop::sample::select(good_requests()),
        spoils in prop::collection::vec((any::<usize>(), 0..5_u8, any_word(), any_value()), 1..4),
        number in any_number(),
    ) {
        let mut request = request;
        for (at, how, word, new) in &spoils {
            let new = if *how < 3 { new } else { &number };
            request = spoiled(request, *at, *how, word, new);
        }
        answer_is_sound(request.to_string().as_bytes())?;
    }

    #[test]
    fn random_bytes_are_answered(text in prop::collection::vec(any::<u8>(), 0..400)) {
        answer_is_sound(&text)?;
    }

    #[test]
    fn damaged_text_is_answered(
        request in prop::sample::select(good_requests()),
        damage in prop::collection::vec((any::<usize>(), any::<u8>()), 1..6),
    ) {
        let mut text = request.to_string().into_bytes();
        for (at, byte) in damage {
            let at = at % text.len();
            text[at] = byte;
        }
        answer_is_sound(&text)?;
    }
}

/// Every number field of every form refuses what lies outside its range, and says so.
#[test]
fn numbers_outside_their_range_are_named() {
    for form in schema() {
        for bound in &form.numbers {
            for value in
                [bound.min - 1.0 - bound.min.abs(), 2.0 * bound.max.abs() + 1.0, 1e300]
            {
                let error = bound.check(value).expect_err("outside");
                assert_eq!(
                    (error.code, error.field.as_str()),
                    ("out_of_range", bound.field)
                );
                assert!(error.message.contains(&bound.allowed()), "{error}");
            }
            assert!(
                bound.check(f64::NAN).is_err() && bound.check(f64::INFINITY).is_err()
            );
        }
    }
}

#[test]
fn texts_that_are_no_request_are_refused() {
    let nested = format!("{}1{}", "[".repeat(100_000), "]".repeat(100_000));
    let inside = format!(r#"{{"operation":"implantation","through":{nested}}}"#);
    let large = vec![b' '; 10_000_000];
    let long_field =
        format!(r#"{{"operation":"implantation","{}":1}}"#, "y".repeat(900_000));
    for (text, code) in [
        (&b""[..], "not_json"),
        (b"\xff\xfe", "not_json"),
        (b"[]", "not_an_object"),
        (b"{}", "missing_field"),
        (br#"{"operation":"no such thing"}"#, "unknown_operation"),
        (br#"{"operation":null}"#, "unknown_operation"),
        (br#"{"operation":"oxidation","temperature_c":1e999}"#, "not_json"),
        (br#"{"operation":"oxidation","temperature_c":NaN}"#, "not_json"),
        (nested.as_bytes(), "not_json"),
        (inside.as_bytes(), "not_json"),
        (&large, "too_large"),
    ] {
        let error = run_text(text).expect_err("no request");
        assert_eq!(error.code, code, "{error}");
    }
    let error = run_text(long_field.as_bytes()).expect_err("no request");
    assert!(error.to_string().len() < 12_000);
}

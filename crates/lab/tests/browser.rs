//! Every export, in a browser: answers, thrown objects, canvases that are not blank.

#![cfg(target_arch = "wasm32")]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "clippy does not take the functions of this test runner for tests"
)]

use barewafer_lab::exercises::{check_answer, exercise, exercises};
use barewafer_lab::exports::{
    cautions, chart_svg, draw_chart, findings, kernel_version, safety_sheet, schema,
};
use barewafer_lab::requests::{bench, bench_text, picture_svg};
use js_sys::{Array, JSON, Object, Reflect};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement};

wasm_bindgen_test_configure!(run_in_browser);

fn object(json: &str) -> JsValue {
    JSON::parse(json).unwrap()
}

fn get(value: &JsValue, key: &str) -> JsValue {
    Reflect::get(value, &key.into()).unwrap()
}

fn text(value: &JsValue, key: &str) -> String {
    get(value, key).as_string().unwrap_or_default()
}

const OXIDATION: &str =
    r#"{"operation":"oxidation","ambient":"wet","temperature_c":1000,"time_min":60}"#;

/// A chart as an answer has it, without asking the kernel.
const CHART: &str = r#"{"id":"c","title":"A chart","x":{"label":"Depth","unit":"um","log":false,"min":0,"max":1},"y":{"label":"Concentration","unit":"cm-3","log":true,"min":1e14,"max":1e20},"series":[{"label":"boron","x":[0,0.5,1],"y":[1e19,1e17,1e15],"role":"main"}],"markers":[{"x":0.5,"y":1e17,"label":"here"}],"bands":[],"zones":[],"published":[],"summary":"It falls."}"#;

#[track_caller]
fn check_thrown(thrown: Result<JsValue, JsValue>, code: &str, field: &str) {
    let error = thrown.expect_err("it is refused");
    assert_eq!(
        (text(&error, "code").as_str(), text(&error, "field").as_str()),
        (code, field)
    );
    for key in ["value", "allowed", "message", "hint"] {
        assert!(get(&error, key).is_string(), "{key} of {code}");
    }
    assert!(!text(&error, "message").is_empty() && !text(&error, "hint").is_empty());
}

#[wasm_bindgen_test]
fn an_answer_has_report_charts_and_picture() {
    let answer = bench(&object(OXIDATION), false).unwrap();
    let oxide = get(&get(&get(&answer, "report"), "results"), "oxide_nm");
    assert!((300.0..500.0).contains(&oxide.as_f64().unwrap()));
    assert!(2 <= Array::from(&get(&answer, "charts")).length());
    assert!(get(&get(&answer, "picture"), "shapes").is_object());
    let same = bench_text(OXIDATION).unwrap();
    let report: String = JSON::stringify(&get(&answer, "report")).unwrap().into();
    let read: String = JSON::stringify(&object(&same)).unwrap().into();
    assert_eq!(report, read);
    assert!(!kernel_version().is_empty());
    let operations = u32::try_from(barewafer_process::OPERATIONS.len()).unwrap();
    assert_eq!(Array::from(&schema().unwrap()).length(), operations);
}

#[wasm_bindgen_test]
fn bad_requests_throw_plain_objects_that_name_the_field() {
    check_thrown(
        bench(&object(r#"{"operation":"cooking"}"#), false),
        "unknown_operation",
        "operation",
    );
    check_thrown(bench(&object("{}"), false), "missing_field", "operation");
    check_thrown(bench(&JsValue::from_f64(1.0), false), "not_an_object", "");
    check_thrown(bench(&JsValue::UNDEFINED, false), "not_an_object", "");
    let request = object(OXIDATION);
    Reflect::set(&request, &"temperature_c".into(), &JsValue::from_f64(f64::NAN))
        .unwrap();
    check_thrown(bench(&request, false), "not_finite", "temperature_c");
    Reflect::set(&request, &"temperature_c".into(), &JsValue::from_f64(5000.0)).unwrap();
    check_thrown(bench(&request, false), "out_of_range", "temperature_c");
    Reflect::set(&request, &"temperature_c".into(), &JsValue::symbol(None)).unwrap();
    check_thrown(bench(&request, false), "wrong_type", "temperature_c");
    Reflect::set(&request, &"temperature_c".into(), &JsValue::bigint_from_str("7"))
        .unwrap();
    check_thrown(bench(&request, false), "wrong_type", "temperature_c");
    let list = Array::of2(&JsValue::from_f64(1.0), &JsValue::from_f64(f64::INFINITY));
    Reflect::set(&request, &"start".into(), &list).unwrap();
    Reflect::delete_property(request.unchecked_ref::<Object>(), &"temperature_c".into())
        .unwrap();
    check_thrown(bench(&request, false), "not_finite", "start[1]");
    check_thrown(bench_text("{").map(JsValue::from), "not_json", "");
}

#[wasm_bindgen_test]
fn huge_deep_and_circular_requests_are_refused() {
    let mut deep = String::new();
    for _ in 0..40 {
        deep.push_str("{\"a\":");
    }
    deep.push('1');
    deep.push_str(&"}".repeat(40));
    let error = bench(&object(&deep), false).expect_err("too deep");
    assert_eq!(text(&error, "code"), "too_deep");

    let circle = Object::new();
    Reflect::set(&circle, &"self".into(), &circle).unwrap();
    let error = bench(&circle, false).expect_err("endless");
    assert_eq!(text(&error, "code"), "too_deep");

    let wide = Object::new();
    Reflect::set(&wide, &"a".into(), &Array::new_with_length(2_000_000_000)).unwrap();
    check_thrown(bench(&wide, false), "too_large", "a[399998]");

    let long = Object::new();
    Reflect::set(&long, &"a".into(), &"x".repeat(200_000).into()).unwrap();
    check_thrown(bench(&long, false), "too_large", "a");
    check_thrown(
        chart_svg(&circle, &JsValue::NULL, &object("{}")).map(JsValue::from),
        "wrong_type",
        "chart",
    );
}

fn canvas() -> HtmlCanvasElement {
    let document = web_sys::window().unwrap().document().unwrap();
    document.create_element("canvas").unwrap().unchecked_into()
}

/// Colors other than that of the first pixel.
fn marked_pixels(canvas: &HtmlCanvasElement) -> usize {
    let context: CanvasRenderingContext2d =
        canvas.get_context("2d").unwrap().unwrap().unchecked_into();
    let (width, height) = (f64::from(canvas.width()), f64::from(canvas.height()));
    let data = context.get_image_data(0.0, 0.0, width, height).unwrap().data();
    data.chunks(4).filter(|pixel| *pixel != &data[..4]).count()
}

#[wasm_bindgen_test]
fn a_canvas_is_drawn_sharp_at_each_density() {
    for (ratio, pixels) in [(1.0, 2), (1.5, 2), (2.0, 2), (3.0, 3)] {
        let canvas = canvas();
        let options = format!(
            r#"{{"theme":"dark","width":400,"height":300,"pixelRatio":{ratio:?}}}"#
        );
        let frame =
            draw_chart(canvas.clone(), &object(CHART), &object(CHART), &object(&options))
                .unwrap();
        assert_eq!((canvas.width(), canvas.height()), (400 * pixels, 300 * pixels));
        let marked = marked_pixels(&canvas);
        assert!(2000 < marked, "{marked} pixels at {ratio}");
        let (left, right) = (get(&frame, "left").as_f64(), get(&frame, "right").as_f64());
        assert!(20.0 < left.unwrap() && right.unwrap() < 400.0);
    }
}

#[wasm_bindgen_test]
fn drawings_that_are_none_throw() {
    let options = object(r#"{"width":400,"height":300}"#);
    let null = JsValue::NULL;
    check_thrown(draw_chart(canvas(), &null, &null, &options), "wrong_type", "chart");
    check_thrown(
        draw_chart(canvas(), &object(CHART), &null, &null),
        "wrong_type",
        "options",
    );
    let flat = CHART.replace("\"max\":1}", "\"max\":0}");
    check_thrown(
        draw_chart(canvas(), &object(&flat), &null, &options),
        "not_drawn",
        "chart",
    );
    check_thrown(
        picture_svg(&options, "light").map(JsValue::from),
        "missing_field",
        "operation",
    );
    assert!(cautions(&JsValue::from_str("no object")).is_err());
}

#[wasm_bindgen_test]
fn charts_and_pictures_become_svg() {
    let options = object(r#"{"theme":"print","width":640,"height":400,"title":true}"#);
    let svg = chart_svg(&object(CHART), &JsValue::NULL, &options).unwrap();
    assert!(
        svg.starts_with("<svg")
            && svg.contains("10¹⁵")
            && svg.contains(">A chart</title>")
    );
    let svg = picture_svg(&object(OXIDATION), "dark").unwrap();
    assert!(svg.contains("url(#hatch-thermal_oxide)"));
}

#[wasm_bindgen_test]
fn hazards_of_a_report_have_their_cautions() {
    let request = object(
        r#"{"operation":"wet_etch","etchant":"bhf_6_1","material":"thermal_oxide","thickness_nm":500,"time_s":60}"#,
    );
    let hazards = get(&get(&bench(&request, false).unwrap(), "report"), "hazards");
    let rows = Array::from(&cautions(&request).unwrap());
    assert!(0 < rows.length() && rows.length() == Array::from(&hazards).length());
    assert!(!text(&rows.get(0), "first_aid").is_empty());
    // A request that would be refused has its cautions too.
    let refused = object(r#"{"operation":"wet_etch","etchant":"hf_49"}"#);
    assert!(bench(&refused, false).is_err());
    assert_eq!(text(&Array::from(&cautions(&refused).unwrap()).get(0), "id"), "HF49");
}

#[wasm_bindgen_test]
fn a_setting_has_its_known_mistakes() {
    let warm = object(
        r#"{"operation":"wet_etch","etchant":"bhf_6_1","material":"thermal_oxide","temperature_c":45}"#,
    );
    let found = Array::from(&findings(&warm).unwrap());
    assert_eq!(text(&found.get(0), "rule"), "hf_heated");
    assert_eq!(text(&found.get(0), "grade"), "stop");
    assert!(findings(&JsValue::from_str("no object")).is_err());
}

#[wasm_bindgen_test]
fn a_run_sheet_has_its_safety_sheet() {
    let flow =
        r#"[{"operation":"clean","recipe":"sc2"},{"operation":"clean","recipe":"sc1"}]"#;
    let sheet = safety_sheet(flow).unwrap();
    assert_eq!(Array::from(&get(&sheet, "steps")).length(), 2);
    assert_eq!(Array::from(&get(&sheet, "findings")).length(), 1);
    check_thrown(safety_sheet("{"), "bad_json", "");
    check_thrown(safety_sheet("{}"), "wrong_type", "steps");
}

#[wasm_bindgen_test]
fn exercises_are_asked_and_marked() {
    let all = Array::from(&exercises().unwrap());
    assert!(5 <= all.length());
    let id = text(&all.get(0), "id");
    let asked = exercise(&id, "TV-HW1", "tv-0001", 0).unwrap();
    assert!(!text(&asked, "prompt").is_empty());
    let verdict = check_answer(&id, "TV-HW1", "tv-0001", 0, "soon", 1, None).unwrap();
    assert_eq!(text(&verdict, "verdict"), "unreadable");
    check_thrown(
        exercise("none", "TV-HW1", "tv-0001", 0),
        "unknown_exercise",
        "exercise",
    );
}

#[wasm_bindgen_test]
fn an_answer_crosses_into_the_page_quickly() {
    let clock = web_sys::window().unwrap().performance().unwrap();
    let request = object(OXIDATION);
    let answer = bench(&request, false).unwrap();
    let written: String = JSON::stringify(&answer).unwrap().into();
    let start = clock.now();
    for _ in 0..20 {
        bench(&request, false).unwrap();
    }
    let each = (clock.now() - start) / 20.0;
    let chart = Array::from(&get(&answer, "charts")).get(0);
    let options = object(r#"{"width":800,"height":450}"#);
    let canvas = canvas();
    let start = clock.now();
    for _ in 0..20 {
        draw_chart(canvas.clone(), &chart, &JsValue::NULL, &options).unwrap();
    }
    let drawn = (clock.now() - start) / 20.0;
    let start = clock.now();
    for _ in 0..20 {
        object(&written);
    }
    let parsed = (clock.now() - start) / 20.0;
    web_sys::console::log_1(
        &format!(
            "answer {} characters: run and hand over {each:.2} ms, of which the page's parser {parsed:.2} ms; draw {drawn:.2} ms",
            written.len()
        )
        .into(),
    );
    // Input to new curve in 100 ms: run, hand over and draw together stay far below it even
    // in an unoptimized build on a busy machine.
    assert!(each + drawn < 100.0, "{each} ms and {drawn} ms");
}

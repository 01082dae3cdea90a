//! The Four-point bench as a person asks it: layers, probes, contacts, lines, pasted tables.

#![expect(clippy::panic, reason = "a test that gets no answer has failed")]

use barewafer_tests::answers::{ask, list, near, number};
use barewafer_tests::reference;
use serde_json::{Value, json};

/// The code and the line of a refusal.
fn refusal(request: &Value) -> (String, String, String) {
    match barewafer_process::run_text(request.to_string().as_bytes()) {
        Ok(report) => panic!("{request} was answered: {:?}", report.results),
        Err(error) => (error.code.to_owned(), error.field.clone(), error.to_string()),
    }
}

fn codes(report: &Value) -> Vec<&str> {
    let warnings = report["warnings"].as_array().map(Vec::as_slice).unwrap_or_default();
    warnings.iter().filter_map(|w| w["code"].as_str()).collect()
}

/// A table of a Gaussian or a complementary error function with its junction at `junction_um`.
fn table(shape: &str, dopant: &str, surface: f64, junction_um: f64) -> Value {
    use barewafer_process::diffusion::closed_form::inverse_erfc;
    use barewafer_process::num::{erfc, exp, linspace, ln};
    let depth = linspace(0.0, 1.3 * junction_um, 200);
    let values: Vec<f64> = depth
        .iter()
        .map(|x| {
            let u = x / junction_um;
            if shape == "gaussian" {
                surface * exp(-ln(surface / 1e15) * u * u)
            } else {
                surface * erfc(u * inverse_erfc(1e15 / surface).unwrap_or(0.0))
            }
        })
        .collect();
    let mut profile = serde_json::Map::new();
    profile.insert("depth_um".to_owned(), json!(depth));
    profile.insert(format!("{dopant}_cm3"), json!(values));
    Value::Object(profile)
}

#[test]
fn products_of_sheet_resistance_and_depth_follow_the_table() {
    for row in reference("average_conductivity.csv") {
        let depth_um = row.required("junction_um");
        let profile = table(
            row.text("shape"),
            row.text("dopant"),
            row.required("surface_cm3"),
            depth_um,
        );
        let report = ask(&json!({"operation": "sheet", "profile": profile}));
        near(number(&report, "junction_depth_um"), depth_um, 1e-3);
        let product = number(&report, "sheet_resistance_ohm_sq") * depth_um;
        near(product, row.required("rs_xj_ohm_um"), row.required("tolerance_rel"));
        let layer = &report["results"]["layers"][0];
        let sigma = layer["average_conductivity_s_cm"].as_f64().unwrap_or(0.0);
        near(sigma * product * 1e-4, 1.0, 1e-3);
    }
}

#[test]
fn factors_of_four_probes_follow_the_published_tables() {
    use barewafer_process::electrical::probing::{
        four_point_ohm_sq, thickness_factor, wafer_factor,
    };
    for row in reference("four_point_factors.csv") {
        let ratio = row.required("ratio");
        let found = match row.text("quantity") {
            "wafer" => wafer_factor(ratio) * four_point_ohm_sq(1.0),
            "thickness" => thickness_factor(ratio),
            other => panic!("no quantity {other}"),
        };
        near(found, row.required("factor"), row.required("tolerance_rel"));
    }
}

#[test]
fn a_bare_wafer_reads_its_resistivity_over_its_thickness() {
    let request = json!({"operation": "sheet", "wafer_thickness_um": 500,
        "substrate": {"type": "p", "resistivity_ohm_cm": 10}});
    let report = ask(&request);
    near(number(&report, "sheet_resistance_ohm_sq"), 200.0, 1e-6);
    let wafer = &report["results"]["substrate"];
    near(wafer["concentration_cm3"].as_f64().unwrap_or(0.0), 1.34e15, 5e-3);
    // k = 4.5324 x 0.9991 (wafer) x 0.9974 (thickness 0.5 of the spacing).
    let factor = report["results"]["probes"]["geometry_factor"].as_f64().unwrap_or(0.0);
    near(factor, 4.5324 * 0.9991 * 0.9974, 2e-4);
    near(number(&report, "voltage_mv") * factor, 200.0, 1e-9);
    assert!(report["results"]["junction_depth_um"].is_null());
}

#[test]
fn a_step_measured_agrees_with_the_tube() {
    for step in [
        json!({"operation": "drive_in", "temperature_c": 1100, "time_min": 60,
            "start": {"operation": "predeposition", "dopant": "boron",
                      "temperature_c": 950, "time_min": 30}}),
        json!({"operation": "predeposition", "dopant": "phosphorus",
            "temperature_c": 1000, "time_min": 20, "active_limit": true}),
    ] {
        let tube = ask(&step);
        for field in ["profile", "start"] {
            let report = ask(&json!({"operation": "sheet", field: step}));
            let found = number(&report, "sheet_resistance_ohm_sq");
            near(found, number(&tube, "sheet_resistance_ohm_sq"), 3e-3);
            let junction = number(&report, "junction_depth_um");
            near(junction, number(&tube, "junction_depth_um"), 1e-3);
            let hazards = report["hazards"].as_array().map_or(0, Vec::len);
            assert!(tube["hazards"].as_array().map_or(0, Vec::len) <= hazards);
        }
    }
    let gaussian = json!({"operation": "sheet", "profile": {"gaussian": {
        "dopant": "boron", "dose_cm2": 1e15, "projected_range_nm": 0, "straggle_nm": 300}}});
    assert_eq!(ask(&gaussian)["hazards"], json!([]));
}

#[test]
fn the_active_limit_raises_the_resistance() {
    let with = |limit: Option<f64>| {
        let profile = json!({"gaussian": {"dopant": "arsenic", "dose_cm2": 2e16,
            "projected_range_nm": 0, "straggle_nm": 200}});
        let mut request = json!({"operation": "sheet", "profile": profile});
        if let Some(limit) = limit {
            request["active_limit_c"] = json!(limit);
        }
        ask(&request)
    };
    let (all, limited) = (with(None), with(Some(900.0)));
    assert!(codes(&all).contains(&"outside_published_range"));
    let [free, bound] =
        [&all, &limited].map(|report| number(report, "sheet_resistance_ohm_sq"));
    assert!(1.05 * free < bound, "{free} {bound}");
    let dose = limited["results"]["layers"][0]["dose_cm2"].as_f64().unwrap_or(0.0);
    assert!(dose < 1.5e16, "{dose:e}");
}

#[test]
fn an_emitter_in_a_base_has_three_layers() {
    let depth = barewafer_process::num::linspace(0.0, 2.5, 300);
    let bell = |peak: f64, width: f64| -> Vec<f64> {
        let e = barewafer_process::num::exp;
        depth.iter().map(|x| peak * e(-0.5 * (x / width) * (x / width))).collect()
    };
    let request = json!({"operation": "sheet", "layer": 2, "profile": {
        "depth_um": depth, "arsenic_cm3": bell(2e20, 0.1), "boron_cm3": bell(4e17, 0.4)}});
    let mut request = request;
    request["substrate"] = json!({"type": "n", "concentration_cm3": 1e15});
    let report = ask(&request);
    let layers = report["results"]["layers"].as_array().cloned().unwrap_or_default();
    let types: Vec<&str> = layers.iter().filter_map(|l| l["type"].as_str()).collect();
    assert_eq!(types, ["n", "p", "n"]);
    assert_eq!(list(&report["results"]["junctions_um"]).len(), 2);
    // The pinched base conducts less than the whole one, and less still without its edges.
    let pinched = layers[1]["sheet_resistance_ohm_sq"].as_f64().unwrap_or(0.0);
    let undepleted = layers[1]["undepleted_ohm_sq"].as_f64().unwrap_or(0.0);
    assert!(2000.0 < pinched && pinched < undepleted, "{pinched} {undepleted}");
    near(number(&report, "sheet_resistance_ohm_sq"), pinched, 1e-12);
    assert!(codes(&report).contains(&"buried_layer"));
    request["layer"] = json!(4);
    let (code, field, line) = refusal(&request);
    assert_eq!((code.as_str(), field.as_str()), ("out_of_range", "layer"));
    assert!(line.contains("1 to 3"), "{line}");
}

#[test]
fn a_shallow_junction_says_what_depletion_takes() {
    let shallow = ask(&json!({"operation": "sheet", "profile": {"gaussian": {
        "dopant": "boron", "dose_cm2": 1e13, "projected_range_nm": 0, "straggle_nm": 50}}}));
    assert!(number(&shallow, "junction_depth_um") < 0.3);
    let warning = shallow["warnings"]
        .as_array()
        .and_then(|list| list.iter().find(|w| w["code"] == "depletion_edge").cloned());
    assert!(warning.is_some(), "{:?}", shallow["warnings"]);
    let layer = &shallow["results"]["layers"][0];
    let [whole, rest] = ["sheet_resistance_ohm_sq", "undepleted_ohm_sq"]
        .map(|name| layer[name].as_f64().unwrap_or(0.0));
    assert!(whole < rest && rest < 1.2 * whole, "{whole} {rest}");
    let deep = ask(&json!({"operation": "sheet", "profile": {"gaussian": {
        "dopant": "boron", "dose_cm2": 1e15, "projected_range_nm": 0, "straggle_nm": 500}}}));
    assert!(!codes(&deep).contains(&"depletion_edge"));
}

#[test]
fn contacts_and_lines_are_computed_when_they_are_given() {
    let wafer = json!({"type": "n", "resistivity_ohm_cm": 0.5});
    let report = ask(&json!({"operation": "sheet", "substrate": wafer,
        "resistance_a_ohm": 12, "resistance_b_ohm": 30,
        "length_um": 500, "width_um": 10, "corners": 4}));
    // Bisected apart: exp(-12 pi/Rs) + exp(-30 pi/Rs) = 1 at Rs = 88.7918.
    near(number(&report, "van_der_pauw_ohm_sq"), 88.7918, 1e-5);
    near(number(&report, "squares"), 52.24, 1e-12);
    let line = number(&report, "line_resistance_ohm");
    near(line, 52.24 * number(&report, "sheet_resistance_ohm_sq"), 1e-12);
    let working = report["working"].as_array().cloned().unwrap_or_default();
    assert!(
        working.iter().any(|l| l["source"].as_str().is_some_and(|s| s.contains("Pauw")))
    );
    for (field, missing) in
        [("resistance_a_ohm", "resistance_b_ohm"), ("width_um", "length_um")]
    {
        let (code, named, _) =
            refusal(&json!({"operation": "sheet", "substrate": wafer, field: 5}));
        assert_eq!((code.as_str(), named.as_str()), ("missing_field", missing));
    }
}

#[test]
fn a_pasted_table_is_read_and_its_mistakes_are_named() {
    let text = "# by SIMS\ndepth_nm;boron_cm3\n0;1,0e19\n100;6e18\n200;1e18\n300;1e17\n400;5e15\n500;1e14\n600;1e13\n";
    let report = ask(&json!({"operation": "sheet", "profile": {"csv": text}}));
    let lists = ask(&json!({"operation": "sheet", "profile": {
        "depth_um": [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6],
        "boron_cm3": [1e19, 6e18, 1e18, 1e17, 5e15, 1e14, 1e13]}}));
    assert_eq!(report["results"], lists["results"]);
    let junction = number(&report, "junction_depth_um");
    assert!((0.4..0.5).contains(&junction));
    let (code, field, line) = refusal(
        &json!({"operation": "sheet", "profile": {"csv": "depth_um,boron_cm3\n0,1e18\n1,many"}}),
    );
    assert_eq!((code.as_str(), field.as_str()), ("not_a_number", "profile.csv"));
    assert!(line.contains("profile.csv: line 3, column 2 (boron_cm3): many"), "{line}");
    let cut = ask(&json!({"operation": "sheet",
        "profile": {"csv": "depth_um,boron_cm3\n0,1e18\n0.1,1e17"}}));
    assert!(codes(&cut).contains(&"profile_cut_off"));
    near(number(&cut, "junction_depth_um"), 0.1, 1e-4);
}

#[test]
fn what_cannot_be_measured_is_refused_in_one_line() {
    let n = json!({"type": "n", "concentration_cm3": 1e15});
    for (fields, code, field) in [
        (json!({}), "missing_field", "substrate"),
        (json!({"profile": {}}), "wrong_start", "profile"),
        (json!({"profile": 3}), "wrong_start", "profile"),
        (json!({"profile": {"depth_um": [0]}}), "missing_field", "profile.depth_um"),
        (
            json!({"profile": {"depth_um": [0, 1], "boron_cm3": [1]}}),
            "wrong_length",
            "profile.boron_cm3",
        ),
        (json!({"profile": {"csv": 3}}), "conflict", "profile.csv"),
        (json!({"profile": {"csv": "", "dose_cm2": 1}}), "conflict", "profile.csv"),
        (
            json!({"start": {"operation": "predeposition", "dopant": "boron", "temperature_c": 9, "time_min": 1}}),
            "out_of_range",
            "start.temperature_c",
        ),
        (
            json!({"profile": {"operation": "oxidation"}}),
            "unknown_value",
            "profile.operation",
        ),
        (json!({"profile": {}, "start": {}}), "conflict", "start"),
        (
            json!({"substrate": {"type": "p", "resistivity_ohm_cm": 1e9}}),
            "conflict",
            "substrate.resistivity_ohm_cm",
        ),
        (json!({"substrate": n, "layer": 1.5}), "conflict", "layer"),
        (json!({"substrate": n, "corners": 3}), "missing_field", "length_um"),
        (json!({"substrate": n, "mobility": "none"}), "unknown_value", "mobility"),
        (
            json!({"profile": {"dose_cm2": 1e14, "dopant": "indium"}, "active_limit_c": 900}),
            "conflict",
            "active_limit_c",
        ),
    ] {
        let mut request = fields;
        request["operation"] = json!("sheet");
        let (found, named, line) = refusal(&request);
        assert_eq!((found.as_str(), named.as_str()), (code, field), "{line}");
        assert!(!line.contains("\n"));
    }
}

#[test]
fn every_step_takes_a_wafer_by_its_resistivity() {
    let by = |substrate: Value, request: &Value| {
        let mut request = request.clone();
        request["substrate"] = substrate;
        ask(&request)["results"].clone()
    };
    for request in [
        json!({"operation": "implantation", "dopant": "boron", "energy_kev": 80}),
        json!({"operation": "predeposition", "dopant": "boron", "temperature_c": 950,
               "time_min": 10}),
    ] {
        // 4.4815 ohm cm of n silicon hold 1e15 phosphorus per cm3 (ASTM F723).
        let ordered = by(json!({"type": "n", "resistivity_ohm_cm": 4.482}), &request);
        let doped = by(json!({"type": "n", "concentration_cm3": 1e15}), &request);
        let depth = |r: &Value| r["junction_depth_um"].as_f64().unwrap_or(0.0);
        near(depth(&ordered), depth(&doped), 1e-3);
    }
    let (code, field, _) =
        refusal(&json!({"operation": "predeposition", "dopant": "boron",
        "temperature_c": 950, "time_min": 10, "substrate": {"type": "n"}}));
    assert_eq!(
        (code.as_str(), field.as_str()),
        ("missing_field", "substrate.concentration_cm3")
    );
}

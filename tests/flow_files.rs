//! Flow files: what is wrong is named; unchanged steps are not run again; the schema is current.
#![expect(clippy::expect_used, reason = "a test stops at the first surprise")]

use barewafer_process::flow::layout::{RuleKind, check};
use barewafer_process::flow::questions::{compare, describe, junctions_at_um, pieces_um};
use barewafer_process::flow::{
    Flow, Runner, Stopped, json_schema, step_parameters, step_schemas,
};
use barewafer_process::vocabulary::Material;
use serde_json::{Value, json};

fn shipped(name: &str) -> Value {
    let path = format!("{}/../www/flows/{name}.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read(path).expect("the flow is there");
    serde_json::from_slice(&text).expect("it is JSON")
}

/// A change of the capacitor's flow is refused: field, and words of the line.
#[track_caller]
fn refused(change: impl FnOnce(&mut Value), field: &str, words: &[&str]) {
    let mut value = shipped("mos-capacitor");
    change(&mut value);
    let error = Flow::from_value(value).expect_err("the flow is wrong");
    assert_eq!(error.field, field, "{error}");
    let line = error.to_string();
    for word in words {
        assert!(line.contains(word), "{word} in {line}");
    }
}

#[test]
fn what_is_wrong_is_named_with_its_step() {
    refused(
        |v| v["steps"][1]["step"]["temperature_c"] = json!(2000),
        "steps[1].step.temperature_c",
        &["step 2 (gate)", "2000", "600 to 1250"],
    );
    refused(
        |v| v["steps"][1]["step"]["temprature_c"] = json!(900),
        "steps[1].step.temprature_c",
        &["step 2 (gate)", "did you mean temperature_c"],
    );
    refused(
        |v| v["steps"][7]["step"]["thickness_nm"] = json!(500),
        "steps[7].step.thickness_nm",
        &["the wafer itself has it", "leave thickness_nm out"],
    );
    refused(
        |v| v["steps"][5]["step"]["mask_level"] = json!("METALL"),
        "steps[5].step.mask_level",
        &["no level METALL", "did you mean METAL"],
    );
    refused(
        |v| v["steps"][5]["step"]["overlay_um"] = json!({"x": 1e9}),
        "steps[5].step.overlay_um.x",
        &["overlay_um.x", "-100 to 100"],
    );
    refused(
        |v| v["steps"][0]["step"]["operation"] = json!("cleen"),
        "steps[0].step.operation",
        &["step 1 (c1)", "did you mean clean"],
    );
    refused(
        |v| v["stepz"] = json!([]),
        "stepz",
        &["a field of a flow", "did you mean steps"],
    );
    refused(|v| v["version"] = json!(2), "version", &["not known here", "allowed: 1"]);
    refused(|v| v["format"] = json!("x"), "format", &["barewafer-flow"]);
    refused(
        |v| v["layout"]["masks"][0]["rectangles"][0] = json!([5, 0, 1, 1]),
        "layout.masks[0].rectangles[0]",
        &["has no area"],
    );
    refused(
        |v| v["layout"]["masks"][0]["polarity"] = json!("darkfield"),
        "layout.masks[0].polarity",
        &["did you mean dark_field"],
    );
    refused(
        |v| v["settings"]["donor_segregation"] = json!(0),
        "settings.donor_segregation",
        &["0.1 to 1000"],
    );
    refused(|v| v["section"]["to"] = json!([0, 300]), "section.to", &["a section of 0"]);
    refused(
        |v| v["steps"][2]["id"] = json!("gate"),
        "steps[2].id",
        &["gate is the name of another one"],
    );
    refused(
        |v| v["steps"][2]["hazards"] = json!(["VACUUMM"]),
        "steps[2].hazards",
        &["did you mean VACUUM"],
    );
    refused(
        |v| v["substrate"]["resistivity_ohm_cm"] = json!(1e9),
        "substrate.resistivity_ohm_cm",
        &["for p-type silicon"],
    );
}

#[test]
fn the_schema_file_is_that_of_the_reader() {
    let path =
        concat!(env!("CARGO_MANIFEST_DIR"), "/../crates/process/schema/flow.schema.json");
    let text = std::fs::read_to_string(path).expect("the schema is there");
    let file: Value = serde_json::from_str(&text).expect("it is JSON");
    assert!(
        file == json_schema(),
        "write it anew: barewafer flow-schema > crates/process/schema/flow.schema.json"
    );
}

#[test]
fn all_shipped_flows_are_read_and_keep_their_rules() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../www/flows");
    let mut count = 0;
    for entry in std::fs::read_dir(folder).expect("the folder is there") {
        let path = entry.expect("an entry").path();
        let text = std::fs::read(&path).expect("readable");
        let flow = Flow::from_text(&text).expect("a good flow");
        assert_eq!(path.file_stem().and_then(|s| s.to_str()), Some(flow.name.as_str()));
        let broken = flow.rule_breaks();
        assert!(broken.is_empty(), "{}: {broken:#?}", flow.name);
        count += 1;
    }
    assert_eq!(count, 14);
}

#[test]
fn design_rules_name_what_they_found() {
    let mut value = shipped("full-cmos");
    value["rules"] = json!([
        {"kind": "width", "level": "POLY", "least_um": 2.5},
        {"kind": "spacing", "level": "ACTIVE", "least_um": 4},
        {"kind": "spacing", "level": "METAL", "least_um": 4},
        {"kind": "enclosure", "level": "CONTACT", "other": "ACTIVE", "least_um": 2},
        {"kind": "enclosure", "level": "CONTACT", "other": "METAL", "least_um": 1},
        {"kind": "overlap", "level": "POLY", "other": "ACTIVE", "least_um": 2},
        {"kind": "spacing", "level": "CONTACT", "other": "POLY", "least_um": 2.5}
    ]);
    let flow = Flow::from_value(value).expect("a good flow");
    let broken = check(&flow.layout, &flow.rules);
    let of = |kind: RuleKind, level: &str| {
        broken.iter().filter(|b| b.rule.kind == kind && b.rule.level == level).count()
    };
    // The gates are 2 um wide, and so is the bar that joins them.
    assert_eq!(of(RuleKind::Width, "POLY"), 3, "{broken:#?}");
    assert_eq!(of(RuleKind::Spacing, "ACTIVE"), 0);
    assert_eq!(of(RuleKind::Spacing, "METAL"), 0);
    assert_eq!(of(RuleKind::Enclosure, "CONTACT"), 0, "{broken:#?}");
    assert_eq!(of(RuleKind::Overlap, "POLY"), 0);
    // Each gate is 2 um from the contacts on both its sides: two by the n-channel, four by the
    // p-channel.
    assert_eq!(of(RuleKind::Spacing, "CONTACT"), 6, "{broken:#?}");
    let words = &broken.iter().find(|b| b.rule.level == "CONTACT").expect("one").message;
    assert!(words.contains("2 µm from one of POLY"), "{words}");
}

#[test]
fn only_changed_steps_run_again() {
    let mut value = shipped("mos-capacitor");
    let flow = Flow::from_value(value.clone()).expect("a good flow");
    let mut runner = Runner::new();
    let mut run = Vec::new();
    runner
        .run(&flow, None, &mut |progress| {
            run.push(progress.id.to_owned());
            true
        })
        .expect("it runs");
    assert_eq!(run.len(), 10);
    let before = runner.snapshots().last().expect("a snapshot").clone();
    // Purposes and ids are no change.
    value["steps"][2]["purpose"] = json!("other words");
    value["steps"][9]["id"] = json!("alloy");
    value["steps"][7]["step"]["time_s"] = json!(2000);
    let changed = Flow::from_value(value).expect("a good flow");
    run.clear();
    runner
        .run(&changed, None, &mut |progress| {
            run.push(progress.id.to_owned());
            true
        })
        .expect("it runs");
    assert_eq!(run, ["metal-etch", "dots-strip", "alloy"]);
    let after = runner.snapshots().last().expect("a snapshot");
    assert_eq!(after.report.id, "alloy");
    let words = compare(&changed, &before, after);
    // 2000 s at 660 nm/min: 22 um from each side leave the dots, smaller.
    let dots = pieces_um(after, Material::Aluminum);
    assert_eq!(dots.len(), 2);
    assert!((dots[0].from_um - 72.0).abs() < 0.3, "{dots:?}");
    assert!(words.iter().any(|d| d.message.contains("aluminum")), "{words:?}");
    assert!(describe(&changed, after).len() > 3);
}

#[test]
fn a_shifted_mask_runs_again_from_its_exposure_only() {
    let mut value = shipped("mos-capacitor");
    let flow = Flow::from_value(value.clone()).expect("a good flow");
    let mut runner = Runner::new();
    runner.run(&flow, None, &mut |_| true).expect("it runs");
    let drawn = pieces_um(runner.snapshots().last().expect("one"), Material::Aluminum);
    let expose = flow.find_step("dots-expose").expect("there is one");
    value["steps"][expose]["step"]["overlay_um"] = json!({"x": 1.3, "y": -0.4});
    let shifted = Flow::from_value(value.clone()).expect("a good flow");
    assert_eq!(runner.begin(&shifted).expect("it begins"), expose);
    runner.run(&shifted, None, &mut |_| true).expect("it runs");
    let last = runner.snapshots().last().expect("a snapshot").clone();
    let moved = pieces_um(&last, Material::Aluminum);
    // The foot of an undercut is told to a column, which is 40 nm wide beside a metal edge.
    for (a, b) in drawn.iter().zip(&moved) {
        assert!((b.from_um - a.from_um - 1.3).abs() < 0.05, "{a:?} {b:?}");
        assert!((b.to_um - a.to_um - 1.3).abs() < 0.05, "{a:?} {b:?}");
    }
    // What was kept makes no difference.
    let mut fresh = Runner::new();
    fresh.run(&shifted, None, &mut |_| true).expect("it runs");
    assert_eq!(fresh.snapshots().last().expect("a snapshot").section, last.section);
    // Back on its place it is the wafer of before.
    value["steps"][expose]["step"]["overlay_um"] = json!({"x": 0, "y": 0});
    let back = Flow::from_value(value).expect("a good flow");
    runner.run(&back, None, &mut |_| true).expect("it runs");
    let dots = pieces_um(runner.snapshots().last().expect("one"), Material::Aluminum);
    assert_eq!(dots, drawn);
}

#[test]
fn a_section_along_another_line_prints_its_masks_anew() {
    let mut value = shipped("mos-capacitor");
    let flow = Flow::from_value(value.clone()).expect("a good flow");
    let mut runner = Runner::new();
    runner.run(&flow, None, &mut |_| true).expect("it runs");
    // The same edges along the line, but other sides beside it.
    value["section"] = json!({"from": [0, 210], "to": [800, 210]});
    let moved = Flow::from_value(value).expect("a good flow");
    let expose = moved.find_step("dots-expose").expect("there is one");
    assert_eq!(runner.begin(&moved).expect("it begins"), expose);
}

#[test]
fn the_columns_of_a_shifted_mask_are_as_exact_as_planned_ones() {
    let mut value = shipped("short-cmos");
    let at = |value: &mut Value, id: &str, overlay: Value| {
        let steps = value["steps"].as_array_mut().expect("steps");
        let step = steps.iter_mut().find(|step| step["id"] == id).expect("the step");
        step["step"]["overlay_um"] = overlay;
    };
    at(&mut value, "poly-expose", json!({"x": 1, "y": 0}));
    let shifted = Flow::from_value(value.clone()).expect("a good flow");
    // The same gates, drawn where they come to lie.
    at(&mut value, "poly-expose", json!({"x": 0, "y": 0}));
    for mask in value["layout"]["masks"].as_array_mut().expect("masks") {
        if mask["level"] != "POLY" {
            continue;
        }
        for rectangle in mask["rectangles"].as_array_mut().expect("rectangles") {
            for k in [0, 2] {
                rectangle[k] = json!(rectangle[k].as_f64().expect("a number") + 1.0);
            }
        }
    }
    let drawn = Flow::from_value(value).expect("a good flow");
    let last = |flow: &Flow| {
        let mut runner = Runner::new();
        runner.run(flow, None, &mut |_| true).expect("it runs");
        runner.snapshots().last().expect("a snapshot").clone()
    };
    let (a, b) = (last(&shifted), last(&drawn));
    // The gates lie where they were printed; metal is undercut by a wet etch to within a column,
    // which is up to 200 nm wide there.
    for (material, within_um) in
        [(Material::Polysilicon, 2e-3), (Material::Aluminum, 0.2)]
    {
        let (a, b) = (pieces_um(&a, material), pieces_um(&b, material));
        assert_eq!(a.len(), b.len(), "{material:?}");
        for (a, b) in a.iter().zip(&b) {
            assert!((a.from_um - b.from_um).abs() < within_um, "{a:?} {b:?}");
            assert!((a.to_um - b.to_um).abs() < within_um, "{a:?} {b:?}");
        }
    }
    for x_um in [16.0, 42.0, 47.0, 62.0, 98.0, 119.0, 141.0] {
        let (a, b) =
            (junctions_at_um(&shifted, &a, x_um), junctions_at_um(&drawn, &b, x_um));
        assert_eq!(a.len(), b.len(), "at {x_um}");
        for (a, b) in a.iter().zip(&b) {
            assert!((a / b - 1.0).abs() < 5e-3, "at {x_um}: {a} {b}");
        }
    }
}

#[test]
fn a_run_can_be_cancelled_and_goes_on_where_it_was() {
    let flow = Flow::from_value(shipped("mos-capacitor")).expect("a good flow");
    let mut runner = Runner::new();
    let stopped = runner.run(&flow, None, &mut |progress| progress.number < 4);
    assert_eq!(stopped.err(), Some(Stopped::Cancelled));
    assert_eq!(runner.snapshots().len(), 3);
    let mut first = None;
    runner
        .run(&flow, Some(5), &mut |progress| {
            first.get_or_insert(progress.number);
            true
        })
        .expect("it goes on");
    assert_eq!(first, Some(4));
    assert_eq!(runner.snapshots().len(), 6);
}

#[test]
fn a_flat_wafer_gives_the_single_operation() {
    let mut value = shipped("mos-capacitor");
    value["steps"] = json!([{"id": "a", "step": {"operation": "oxidation", "ambient": "wet", "temperature_c": 1000, "time_min": 60}}]);
    let flow = Flow::from_value(value).expect("a good flow");
    let mut runner = Runner::new();
    runner.run(&flow, None, &mut |_| true).expect("it runs");
    let oxide_nm =
        runner.snapshots()[0].report.results["oxide_nm"].as_f64().expect("a number");
    let alone = barewafer_process::run_text(
        br#"{"operation":"oxidation","ambient":"wet","temperature_c":1000,"time_min":60}"#,
    )
    .expect("a good request");
    let expected = alone.results.to_value()["oxide_nm"].as_f64().expect("a number");
    assert!((oxide_nm / expected - 1.0).abs() < 2e-3, "{oxide_nm} {expected}");
}

#[test]
fn warnings_name_what_is_missing() {
    let codes = |steps: Value| -> Vec<&'static str> {
        let mut value = shipped("mos-capacitor");
        value["steps"] = steps;
        let flow = Flow::from_value(value).expect("a good flow");
        let mut runner = Runner::new();
        runner.run(&flow, None, &mut |_| true).expect("it runs");
        runner
            .snapshots()
            .iter()
            .flat_map(|s| s.report.warnings.iter().map(|w| w.code))
            .collect()
    };
    let step = |id: &str, step: Value| json!({"id": id, "step": step});
    let metal = json!({"operation": "deposition", "film": "aluminum", "method": "sputter", "target_nm": 500});
    let found = codes(json!([
        step("m", metal),
        step("hot", json!({"operation": "anneal", "temperature_c": 900, "time_min": 10})),
        step("c", json!({"operation": "clean", "recipe": "piranha"})),
        step("d", json!({"operation": "development"})),
        step("s", json!({"operation": "resist_strip", "method": "solvent"})),
        step(
            "e",
            json!({"operation": "wet_etch", "etchant": "bhf_5_1", "material": "thermal_oxide", "time_s": 60})
        ),
    ]));
    for code in ["metal_too_hot", "metal_in_acid", "resist_missing", "nothing_to_etch"] {
        assert!(found.contains(&code), "{code} in {found:?}");
    }
    let found = codes(json!([
        step(
            "r",
            json!({"operation": "spin_coating", "resist": "demo-p12", "speed_rpm": 4000})
        ),
        step(
            "x",
            json!({"operation": "exposure", "mask_level": "METAL", "dose_mj_cm2": 5})
        ),
        step("d", json!({"operation": "development"})),
        step(
            "f",
            json!({"operation": "oxidation", "ambient": "dry", "temperature_c": 1000, "time_min": 10})
        ),
    ]));
    for code in ["not_baked", "under_exposed", "not_cleared", "resist_in_furnace"] {
        assert!(found.contains(&code), "{code} in {found:?}");
    }
}

#[test]
fn a_deep_etch_is_computed_as_deep_or_refused() {
    let run = |time_s: f64, thickness_um: f64| {
        let mut value = shipped("mos-capacitor");
        value["substrate"]["thickness_um"] = json!(thickness_um);
        value["steps"] = json!([{"id": "groove", "step": {"operation": "wet_etch", "etchant": "koh_30", "material": "silicon", "time_s": time_s}}]);
        let flow = Flow::from_value(value).expect("a good flow");
        let mut runner = Runner::new();
        runner.run(&flow, None, &mut |_| true).map(|snapshots| {
            let section = &snapshots[0].section;
            assert_eq!(section.check(), Ok(()));
            section.silicon_top_nm(0)
        })
    };
    // 81 um/h.
    let top_nm = run(3600.0, 525.0).expect("it runs");
    assert!((-83_000.0..-79_000.0).contains(&top_nm), "{top_nm}");
    let Err(Stopped::Wrong(error)) = run(60_000.0, 525.0) else {
        panic!("it goes through the wafer")
    };
    assert_eq!(error.field, "steps[0].step.time_s");
    assert!(error.to_string().contains("step 1 (groove)"), "{error}");
}

#[test]
fn healthy_flows_have_nothing_to_say() {
    for name in ["mos-capacitor", "full-cmos"] {
        let flow = Flow::from_value(shipped(name)).expect("a good flow");
        let mut runner = Runner::new();
        runner.run(&flow, None, &mut |_| true).expect("it runs");
        for snapshot in runner.snapshots() {
            let warnings = &snapshot.report.warnings;
            assert!(warnings.is_empty(), "{name} {}: {warnings:#?}", snapshot.report.id);
        }
    }
}

#[test]
fn planted_faults_are_told_at_their_step() {
    let warned = |name: &str, step: &str| -> Vec<&'static str> {
        let flow = Flow::from_value(shipped(name)).expect("a good flow");
        let mut runner = Runner::new();
        let index = flow.find_step(step).expect("the step is there");
        runner.run(&flow, Some(index), &mut |_| true).expect("it runs");
        runner.snapshots()[index].report.warnings.iter().map(|w| w.code).collect()
    };
    for (name, step, code) in [
        ("broken-window", "predep", "nothing_bare"),
        ("broken-mask", "channel-stop", "mask_too_thin"),
        ("broken-contact", "contact-etch", "not_cleared"),
        ("broken-undercut", "metal-etch", "undercut_from_beside"),
    ] {
        let found = warned(name, step);
        assert!(found.contains(&code), "{name}: {found:?}");
    }
}

/// Codes of the warnings of the last of these steps.
fn warned(steps: &[Value]) -> Vec<&'static str> {
    let mut value = shipped("mos-capacitor");
    value["steps"] = steps.iter().cloned().collect();
    let flow = Flow::from_value(value).expect("a good flow");
    let mut runner = Runner::new();
    runner.run(&flow, None, &mut |_| true).expect("it runs");
    let last = runner.snapshots().last().expect("it has steps");
    last.report.warnings.iter().map(|warning| warning.code).collect()
}

#[test]
fn a_step_that_must_not_follow_the_one_before_is_warned_of() {
    let step = |id: &str, step: Value| json!({"id": id, "purpose": "", "step": step});
    let lift =
        step("lift", json!({"operation": "clean", "recipe": "solvent", "time_min": 5}));
    let acid =
        step("acid", json!({"operation": "clean", "recipe": "piranha", "time_min": 10}));
    let rinse = step(
        "ash",
        json!({"operation": "resist_strip", "method": "oxygen_plasma", "time_min": 5}),
    );
    assert!(warned(&[lift.clone(), acid.clone()]).contains(&"organics_before_piranha"));
    assert!(!warned(&[rinse, acid]).contains(&"organics_before_piranha"));
}

/// Every flow that ships, by its name.
fn all_shipped() -> Vec<(String, Flow)> {
    let folder = format!("{}/../www/flows", env!("CARGO_MANIFEST_DIR"));
    let mut names: Vec<String> = std::fs::read_dir(folder)
        .expect("the flows are there")
        .filter_map(|entry| {
            let name = entry.expect("a file").file_name().into_string().expect("a name");
            name.strip_suffix(".json").map(str::to_owned)
        })
        .collect();
    names.sort();
    names
        .into_iter()
        .map(|name| {
            let flow = Flow::from_value(shipped(&name)).expect("a flow that ships");
            (name, flow)
        })
        .collect()
}

#[test]
fn a_run_sheet_tells_names_and_no_words_of_requests() {
    let schemas = step_schemas();
    // What a person must not read: a word of a request whose name in the form is another one.
    let raw: Vec<String> = schemas
        .iter()
        .flat_map(|schema| &schema.choices)
        .flat_map(|choice| &choice.values)
        .filter(|(word, label)| word != label && word.contains('_'))
        .map(|(word, _)| word.replace('_', " "))
        .filter(|spoken| {
            // Names such as `deposited oxide` are spelled as their word is.
            let labels = schemas.iter().flat_map(|s| &s.choices).flat_map(|c| &c.values);
            !labels.into_iter().any(|(_, label)| label.contains(spoken.as_str()))
        })
        .collect();
    for word in ["hbr cl2", "tmah 2 38", "hf 10 1", "solid disc", "post exposure"] {
        assert!(raw.iter().any(|one| one == word), "{word} is one to look for");
    }
    let flows = all_shipped();
    assert!(flows.len() >= 14, "{} flows", flows.len());
    let mut named = 0;
    for (name, flow) in &flows {
        for step in &flow.steps {
            let words = step_parameters(step);
            let place = format!("{name}, {}: {words}", step.id);
            assert!(!words.is_empty() && !words.contains('_'), "{place}");
            for spoken in &raw {
                assert!(!words.contains(spoken.as_str()), "{spoken} in {place}");
            }
            let form = schemas.iter().find(|s| s.operation == step.operation);
            let form = form.expect("every step has a form");
            for choice in &form.choices {
                let given = step.object.get(choice.field).and_then(Value::as_str);
                let label = choice.values.iter().find(|(word, _)| given == Some(*word));
                let Some((word, label)) = label else { continue };
                let part = words.split(", ").any(|part| part == *word);
                assert!(word == label || !part, "the bare word {word} in {place}");
                named += usize::from(words.contains(label));
            }
        }
    }
    assert!(named > 400, "{named} names of forms");
}

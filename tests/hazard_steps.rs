//! Every step kind with every word of the vocabulary shows its caution, and a request shows the
//! same ones whether it is run or only read.

#![expect(clippy::panic, reason = "a test that gets no answer has failed")]

use barewafer_process::hazards::{UNKNOWN, of_request, row};
use barewafer_process::run;
use barewafer_process::vocabulary::{
    Ambient, AnnealAmbient, Dopant, DopantSource, Ion, Material,
};
use serde_json::{Map, Value, json};

fn object(value: Value) -> Map<String, Value> {
    match value {
        Value::Object(object) => object,
        other => panic!("not an object: {other}"),
    }
}

/// Field by field the words of the vocabulary; each step kind with every combination.
struct Kind {
    operation: &'static str,
    fields: Vec<(&'static str, Vec<&'static str>)>,
}

fn words<T: Copy>(all: &[T], word: impl Fn(T) -> &'static str) -> Vec<&'static str> {
    all.iter().map(|&one| word(one)).collect()
}

const RESISTS: [&str; 6] =
    ["demo-p08", "demo-p12", "demo-p15", "demo-p20", "demo-p40", "demo-n13"];

const ETCHANTS: [&str; 15] = [
    "hf_49",
    "hf_25_1",
    "hf_10_1",
    "hf_dilute",
    "bhf_5_1",
    "bhf_6_1",
    "bhf_10_1",
    "phosphoric_85",
    "aluminum_etch",
    "poly_etch",
    "koh_30",
    "koh_33",
    "tmah_25",
    "piranha",
    "acetone",
];

/// The fifteen step kinds of the trade.
fn kinds() -> Vec<Kind> {
    let ambients = words(Ambient::ALL, Ambient::word);
    let anneal = words(AnnealAmbient::ALL, AnnealAmbient::word);
    let dopants = words(Dopant::ALL, Dopant::word);
    let materials = words(Material::ALL, Material::word);
    let mut optional_dopants = vec![""];
    optional_dopants.extend(["boron", "phosphorus", "arsenic"]);
    let kind = |operation, fields| Kind { operation, fields };
    vec![
        kind(
            "clean",
            vec![(
                "recipe",
                vec![
                    "piranha_sc1_hf_sc2",
                    "piranha",
                    "sc1",
                    "sc2",
                    "hf_dip",
                    "solvent",
                    "uv_ozone",
                ],
            )],
        ),
        kind("oxidation", vec![("ambient", ambients.clone())]),
        kind(
            "predeposition",
            vec![
                ("dopant", dopants),
                ("source", words(DopantSource::ALL, DopantSource::word)),
                ("target", vec!["silicon", "polysilicon"]),
            ],
        ),
        kind("drive_in", vec![("ambient", ambients)]),
        kind("anneal", vec![("ambient", anneal)]),
        kind("implantation", vec![("dopant", words(Ion::ALL, Ion::word))]),
        kind("spin_coating", vec![("resist", RESISTS.to_vec())]),
        kind(
            "bake",
            vec![
                ("kind", vec!["", "soft", "post_exposure", "hard"]),
                ("resist", RESISTS.to_vec()),
            ],
        ),
        kind("exposure", vec![("tool", vec!["", "contact", "proximity", "projection"])]),
        kind("development", vec![("developer", vec!["", "tmah_2_38", "koh_dilute"])]),
        kind(
            "resist_strip",
            vec![("method", vec!["oxygen_plasma", "solvent", "piranha"])],
        ),
        kind(
            "wet_etch",
            vec![("etchant", ETCHANTS.to_vec()), ("material", materials.clone())],
        ),
        kind(
            "dry_etch",
            vec![
                (
                    "chemistry",
                    vec![
                        "chf3_o2", "chf3_ar", "cf4_h2", "c4f8", "sf6", "cf4_o2",
                        "hbr_cl2", "bcl3_cl2", "oxygen",
                    ],
                ),
                ("material", materials.clone()),
            ],
        ),
        kind(
            "deposition",
            vec![
                (
                    "film",
                    vec![
                        "polysilicon",
                        "nitride",
                        "deposited_oxide",
                        "phosphorus_glass",
                        "aluminum",
                    ],
                ),
                (
                    "method",
                    vec!["", "lpcvd", "pecvd", "sputter", "evaporation", "spin_on"],
                ),
                (
                    "variant",
                    vec!["", "lto", "teos", "pecvd", "stoichiometric", "low_stress"],
                ),
                ("dopant", optional_dopants),
            ],
        ),
        kind("planarization", vec![("material", materials)]),
    ]
}

/// Every combination of the words; an empty word leaves the field out.
fn requests(kind: &Kind) -> Vec<Map<String, Value>> {
    let mut list = vec![object(json!({ "operation": kind.operation }))];
    for (field, words) in &kind.fields {
        list = list
            .iter()
            .flat_map(|request| {
                words.iter().map(|word| {
                    let mut next = request.clone();
                    if !word.is_empty() {
                        next.insert((*field).to_owned(), json!(word));
                    }
                    next
                })
            })
            .collect();
    }
    list
}

#[test]
fn every_step_kind_with_every_word_shows_a_caution() {
    let kinds = kinds();
    assert_eq!(kinds.len(), 15);
    let mut walked = 0;
    for kind in &kinds {
        for request in requests(kind) {
            let ids = of_request(&request);
            assert!(!ids.is_empty(), "{request:?} has no caution");
            for id in &ids {
                let row = row(id).unwrap_or_else(|| panic!("{request:?}: no row {id}"));
                // All that a callout says stands in the row.
                assert!(!row.h_meaning.is_empty(), "{id}");
                assert!(!row.first_aid_headline.is_empty(), "{id}");
                assert!(!row.callout().wear.is_empty(), "{id}");
            }
            // A vapor of indium is no source that anyone sells: it stays unknown on purpose.
            let no_such_source = kind.operation == "predeposition"
                && request["dopant"] == "indium"
                && request["source"] == "dilute_vapor";
            assert_eq!(ids.contains(&UNKNOWN), no_such_source, "{request:?}: {ids:?}");
            walked += 1;
        }
    }
    assert!(walked > 1000, "{walked} requests");
}

#[test]
fn questions_have_no_hazards_of_their_own() {
    for operation in ["sheet", "device", "inverter"] {
        assert!(of_request(&object(json!({ "operation": operation }))).is_empty());
    }
}

/// Each chemical of the table that a step can name is shown by some step.
#[test]
fn every_row_is_shown_by_some_step() {
    let mut shown: Vec<&str> = kinds()
        .iter()
        .flat_map(requests)
        .flat_map(|request| of_request(&request))
        .collect();
    shown.extend(of_request(&object(
        json!({"operation": "spin_coating", "resist": "demo-p12", "primed": true}),
    )));
    // Events that no request names: liquid nitrogen and cylinders come with their tools, broken
    // wafers with the polisher.
    for row in barewafer_process::hazards::rows() {
        assert!(shown.contains(&row.id.as_str()), "{} is shown by no step", row.id);
    }
}

/// An operation that is added later must not show up as unknown.
#[test]
fn every_operation_of_the_kernel_is_known() {
    let kinds = kinds();
    for operation in barewafer_process::OPERATIONS {
        let request = kinds
            .iter()
            .find(|kind| kind.operation == *operation)
            .and_then(|kind| requests(kind).into_iter().next())
            .unwrap_or_else(|| object(json!({ "operation": operation })));
        assert!(!of_request(&request).contains(&UNKNOWN), "{operation}");
    }
}

/// The same cautions, whether a step is run or only read: over the golden requests, which are
/// random ones of every operation.
#[test]
fn a_request_that_is_read_shows_what_its_report_shows() {
    let golden = include_str!("golden/parity_requests.jsonl");
    let mut compared = std::collections::BTreeMap::<String, u32>::new();
    for (idx, line) in golden.lines().enumerate() {
        let request = object(serde_json::from_str(line).expect("JSON"));
        let operation = request["operation"].as_str().unwrap_or_default().to_owned();
        // Single ions and numerical diffusion take their time: some of each are enough.
        let slow = ["implantation", "predeposition", "drive_in", "anneal", "sheet"];
        if slow.contains(&operation.as_str()) && idx % 5 != 0 {
            continue;
        }
        let Ok(report) = run(request.clone()) else { continue };
        assert_eq!(of_request(&request), report.hazards, "{line}");
        *compared.entry(operation).or_default() += 1;
    }
    assert!(compared.len() >= 10 && compared.values().all(|&n| n >= 5), "{compared:?}");
}

/// The words that no random request has: they are tried one by one.
#[test]
fn settings_that_change_the_chemicals_agree_too() {
    for request in [
        json!({"operation": "wet_etch", "etchant": "hf_dilute", "material": "thermal_oxide",
            "thickness_nm": 100, "time_s": 60, "concentration_percent": 50}),
        json!({"operation": "wet_etch", "etchant": "aluminum_etch", "material": "aluminum",
            "thickness_nm": 100, "time_s": 60, "temperature_c": 70}),
        json!({"operation": "oxidation", "temperature_c": 1000, "time_min": 30,
            "ambient": "dry", "hcl_percent": 2}),
        json!({"operation": "oxidation", "segments": [
            {"ambient": "inert", "temperature_c": 800, "time_min": 10},
            {"ambient": "steam", "temperature_c": 1000, "time_min": 10}]}),
        json!({"operation": "deposition", "film": "deposited_oxide", "variant": "teos",
            "time_min": 10}),
        json!({"operation": "deposition", "film": "deposited_oxide", "method": "pecvd",
            "time_min": 10}),
        json!({"operation": "deposition", "film": "nitride", "time_min": 10}),
        json!({"operation": "deposition", "film": "phosphorus_glass", "time_min": 10}),
        json!({"operation": "deposition", "film": "aluminum", "time_min": 10}),
        json!({"operation": "deposition", "film": "aluminum", "method": "evaporation",
            "time_min": 10}),
        json!({"operation": "anneal", "ambient": "forming_gas", "temperature_c": 700,
            "time_min": 30, "start": {"operation": "implantation", "dopant": "arsenic",
            "energy_kev": 80}}),
        json!({"operation": "predeposition", "dopant": "antimony", "temperature_c": 1100,
            "time_min": 30}),
        json!({"operation": "sheet", "start": {"operation": "implantation",
            "dopant": "boron", "energy_kev": 50, "dose_cm2": 1e15}}),
        json!({"operation": "development", "developer": "koh_dilute"}),
        json!({"operation": "process_window"}),
        json!({"operation": "process_window", "developer": "koh_dilute"}),
    ] {
        let request = object(request);
        let report = run(request.clone()).unwrap_or_else(|e| panic!("{request:?}: {e}"));
        assert_eq!(of_request(&request), report.hazards, "{request:?}");
    }
}

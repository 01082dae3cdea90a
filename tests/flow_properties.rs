//! Random flows and random files: no panic, and every section keeps its invariants.
#![expect(clippy::expect_used, reason = "a test stops at the first surprise")]

use barewafer_process::flow::questions::{
    compare, describe, junction_contours, junctions_at_um, layers_at, material_at,
    measurements, profile_across, profile_down, sheet_at,
};
use barewafer_process::flow::{Flow, Runner, Stopped};
use barewafer_process::wafer::DepthMesh;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use serde_json::{Value, json};

/// Random flows that are run, unless `BAREWAFER_FLOW_CASES` says otherwise.
const CASES: u32 = 1000;

fn cases() -> u32 {
    std::env::var("BAREWAFER_FLOW_CASES")
        .ok()
        .and_then(|text| text.parse().ok())
        .unwrap_or(CASES)
}

/// The usual number of flows is always the same ones; more are others each time.
fn config() -> ProptestConfig {
    let usual = ProptestConfig { cases: cases(), ..ProptestConfig::default() };
    if usual.cases == CASES {
        ProptestConfig { rng_seed: RngSeed::Fixed(1), ..usual }
    } else {
        ProptestConfig { failure_persistence: None, ..usual }
    }
}

/// A coarse depth mesh; the runner makes it as deep as the steps need.
const DEPTH: DepthMesh =
    DepthMesh { finest_nm: 6.0, even_nm: 150.0, growth: 1.12, cells: 60 };

/// Between two ends, by a share; now and then an end itself.
fn between(low: f64, high: f64, share: f64) -> f64 {
    if share < 0.05 {
        low
    } else if 0.95 < share {
        high
    } else {
        low + (high - low) * share
    }
}

/// The same on a logarithmic scale.
fn log_between(low: f64, high: f64, share: f64) -> f64 {
    if share < 0.05 {
        low
    } else if 0.95 < share {
        high
    } else {
        // Ten parts are fine enough.
        let part = (10.0 * share).round() / 10.0;
        let mut value = low;
        let ratio = (high / low).sqrt().sqrt().sqrt();
        for _ in 0..8 {
            value *= 1.0 + (ratio - 1.0) * part;
        }
        value.min(high)
    }
}

fn pick<'a>(words: &[&'a str], share: f64) -> &'a str {
    let mut i = 0;
    while i + 1 < words.len()
        && f64::from(u32::try_from(i + 1).unwrap_or(1))
            < share * f64::from(u32::try_from(words.len()).unwrap_or(1))
    {
        i += 1;
    }
    words[i]
}

/// Steps that make a film and open it are as likely as the others together.
fn step(kind: u8, r: [f64; 5]) -> Value {
    let [a, b, c, d, e] = r;
    match kind % 18 {
        0 => {
            json!({"operation": "clean", "recipe": pick(&["piranha_sc1_hf_sc2", "piranha", "sc1", "sc2", "hf_dip", "solvent", "uv_ozone"], a)})
        }
        1 | 2 => {
            json!({"operation": "oxidation", "ambient": pick(&["dry", "wet", "steam"], a), "temperature_c": between(700.0, 1200.0, b), "time_min": log_between(0.1, 600.0, c)})
        }
        3 => {
            json!({"operation": "predeposition", "dopant": pick(&["boron", "phosphorus"], a), "temperature_c": between(800.0, 1150.0, b), "time_min": log_between(1.0, 60.0, c), "surface_concentration_cm3": log_between(1e16, 5e20, d), "target": pick(&["silicon", "polysilicon"], e)})
        }
        4 => {
            json!({"operation": "drive_in", "temperature_c": between(600.0, 1200.0, a), "time_min": log_between(0.1, 500.0, b), "ambient": pick(&["inert", "dry", "wet"], c)})
        }
        5 => {
            json!({"operation": "anneal", "temperature_c": between(300.0, 1100.0, a), "time_min": log_between(0.1, 100.0, b), "ambient": pick(&["inert", "forming_gas", "dry"], c)})
        }
        6 | 7 => {
            json!({"operation": "implantation", "dopant": pick(&["boron", "phosphorus", "arsenic", "bf2", "antimony"], a), "energy_kev": between(5.0, 400.0, b), "dose_cm2": log_between(1e11, 1e16, c), "tilt_deg": between(0.0, 60.0, d), "model": pick(&["gaussian", "pearson"], e)})
        }
        8 => {
            json!({"operation": "spin_coating", "resist": pick(&["demo-p12", "demo-p08", "demo-p40", "demo-n13"], a), "speed_rpm": between(1000.0, 6000.0, b), "primed": c < 0.5})
        }
        9 => {
            json!({"operation": "bake", "kind": pick(&["soft", "post_exposure", "hard"], a), "temperature_c": between(60.0, 150.0, b), "time_s": log_between(1.0, 300.0, c)})
        }
        10 => {
            json!({"operation": "exposure", "mask_level": pick(&["A", "B"], a), "image": pick(&["ideal", "ideal", "ideal", "aerial"], b), "dose_mj_cm2": between(10.0, 300.0, c), "overlay_um": {"x": between(-1.0, 1.0, d)}, "tool": pick(&["projection", "contact"], e)})
        }
        11 => json!({"operation": "development", "time_s": log_between(1.0, 200.0, a)}),
        12 => {
            json!({"operation": "resist_strip", "method": pick(&["oxygen_plasma", "solvent", "piranha"], a), "time_min": log_between(0.1, 30.0, b)})
        }
        13 => {
            let (etchant, material) = [
                ("bhf_5_1", "thermal_oxide"),
                ("hf_10_1", "deposited_oxide"),
                ("phosphoric_85", "nitride"),
                ("aluminum_etch", "aluminum"),
                ("koh_30", "silicon"),
                ("poly_etch", "polysilicon"),
            ][usize::from(kind / 18 % 6)];
            if a < 0.5 {
                json!({"operation": "wet_etch", "etchant": etchant, "material": material, "time_s": log_between(1.0, 5000.0, b)})
            } else {
                json!({"operation": "wet_etch", "etchant": etchant, "material": material, "over_etch_percent": between(0.0, 100.0, b)})
            }
        }
        14 => {
            let (chemistry, material) = [
                ("chf3_o2", "thermal_oxide"),
                ("cf4_h2", "phosphorus_glass"),
                ("sf6", "nitride"),
                ("hbr_cl2", "polysilicon"),
                ("bcl3_cl2", "aluminum"),
                ("sf6", "polysilicon"),
            ][usize::from(kind / 18 % 6)];
            json!({"operation": "dry_etch", "chemistry": chemistry, "material": material, "time_s": log_between(1.0, 2000.0, a)})
        }
        15 | 16 => {
            let (film, method) = [
                ("polysilicon", "lpcvd"),
                ("nitride", "lpcvd"),
                ("deposited_oxide", "lpcvd"),
                ("deposited_oxide", "spin_on"),
                ("phosphorus_glass", "lpcvd"),
                ("aluminum", "sputter"),
                ("aluminum", "evaporation"),
            ][usize::from(kind / 18 % 7)];
            json!({"operation": "deposition", "film": film, "method": method, "target_nm": log_between(1.0, 1500.0, a)})
        }
        _ => {
            if a < 0.5 {
                json!({"operation": "planarization", "material": "deposited_oxide", "time_s": log_between(1.0, 600.0, b)})
            } else {
                json!({"operation": "planarization", "material": "thermal_oxide", "target_nm": between(0.0, 100.0, b)})
            }
        }
    }
}

fn flow(steps: &[(u8, [f64; 5])]) -> Value {
    let steps: Vec<Value> = steps
        .iter()
        .enumerate()
        .map(|(i, (kind, r))| json!({"id": format!("s{i}"), "step": step(*kind, *r)}))
        .collect();
    json!({
        "format": "barewafer-flow",
        "version": 1,
        "flow": "random",
        "substrate": {"type": "p", "resistivity_ohm_cm": 10},
        "layout": {
            "extent": [0, 0, 3, 2],
            "masks": [
                {"level": "A", "polarity": "dark_field", "rectangles": [[0.7, 0, 1.6, 2]]},
                {"level": "B", "polarity": "clear_field", "polygons": [[[1.1, 0], [2.2, 0], [2.4, 2], [1.1, 2]]]}
            ]
        },
        "section": {"from": [0, 1], "to": [2.6, 1]},
        "steps": steps
    })
}

fn one_step() -> impl Strategy<Value = (u8, [f64; 5])> {
    (any::<u8>(), proptest::array::uniform5(0.0..1.0))
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn random_flows_keep_the_invariants(steps in proptest::collection::vec(one_step(), 1..=15)) {
        let flow = Flow::from_value(flow(&steps)).map_err(|error| {
            TestCaseError::fail(format!("{error}"))
        })?;
        let mut runner = Runner::with_mesh(100.0, Some(DEPTH));
        match runner.run(&flow, None, &mut |_| true) {
            Ok(_) => {}
            Err(Stopped::Wrong(error)) => {
                let names_step = error.field.starts_with("steps[");
                prop_assert!(names_step, "{error}");
            }
            Err(Stopped::Cancelled) => prop_assert!(false, "nobody cancelled"),
        }
        for snapshot in runner.snapshots() {
            let checked = snapshot.section.check();
            prop_assert!(checked.is_ok(), "{}: {checked:?}", snapshot.report.id);
            for warning in &snapshot.report.warnings {
                prop_assert!(!warning.message.is_empty() && !warning.message.contains("NaN"), "{warning:?}");
            }
        }
        if let Some(last) = runner.snapshots().last() {
            for x in [-1.0, 0.0, 1.3, 2.6, 9.0] {
                let layers = layers_at(last, x);
                prop_assert!(!layers.is_empty());
                let _ = material_at(last, x, 0.2);
                let profile = profile_down(&flow, last, x);
                prop_assert!(profile.depth_um.windows(2).all(|w| w[0] < w[1]));
                let _ = junctions_at_um(&flow, last, x);
                let _ = sheet_at(&flow, last, x);
            }
            let _ = profile_across(&flow, last, 0.05);
            let _ = junction_contours(last);
            prop_assert!(!describe(&flow, last).is_empty());
            let _ = measurements(&flow, runner.snapshots());
            if let Some(first) = runner.snapshots().first() {
                let _ = compare(&flow, first, last);
                prop_assert!(compare(&flow, last, last).is_empty());
            }
        }
    }

    #[test]
    fn random_bytes_are_refused(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let error = Flow::from_text(&bytes).expect_err("random bytes are no flow");
        let one_line = !error.to_string().chars().any(char::is_control);
        prop_assert!(one_line);
    }

    #[test]
    fn a_flow_file_with_bytes_changed_is_read_or_refused(
        which in 0..SHIPPED.len(),
        edits in proptest::collection::vec((0..5_u8, any::<u32>(), any::<u8>()), 1..6),
    ) {
        let mut text = shipped_text(SHIPPED[which]);
        for (kind, place, byte) in edits {
            mutate(&mut text, kind, place, byte);
        }
        if let Err(error) = Flow::from_text(&text) {
            prop_assert!(!error.to_string().chars().any(char::is_control), "{error}");
            prop_assert!(!error.code.is_empty() && !error.hint.is_empty());
        }
    }

    #[test]
    fn a_flow_with_one_number_changed_runs_or_says_why_not(
        which in 0..SHIPPED.len(),
        place in any::<u32>(),
        times in 0..8_usize,
    ) {
        let mut value = shipped(SHIPPED[which]);
        let mut numbers = 0;
        leaves(&mut value, &mut |leaf| numbers += u32::from(leaf.is_number()));
        let (target, mut count) = (place % numbers, 0);
        let factor = [-1.0, 0.0, 1e-3, 0.5, 0.9, 1.1, 2.0, 1e3][times];
        leaves(&mut value, &mut |leaf| {
            if let Some(number) = leaf.as_f64() {
                if count == target {
                    *leaf = json!(factor * number);
                }
                count += 1;
            }
        });
        let Ok(flow) = Flow::from_value(value) else { return Ok(()) };
        let mut runner = Runner::with_mesh(100.0, Some(DEPTH));
        if let Err(stopped) = runner.run(&flow, None, &mut |_| true) {
            let Stopped::Wrong(error) = stopped else {
                return Err(TestCaseError::fail("nobody cancelled"));
            };
            prop_assert!(!error.field.is_empty() && !error.hint.is_empty(), "{error}");
        }
        for snapshot in runner.snapshots() {
            let checked = snapshot.section.check();
            prop_assert!(checked.is_ok(), "{}: {checked:?}", snapshot.report.id);
        }
    }

    #[test]
    fn a_flow_file_with_one_value_changed_is_read_or_refused(
        place in any::<u32>(),
        replacement in 0..7_usize,
    ) {
        let mut value = shipped("short-cmos");
        let mut count = 0;
        let total = leaves(&mut value, &mut |_| {});
        let target = place % total;
        let new = [
            json!(null), json!(-1), json!(1e300), json!("\u{7}`x`, expected"), json!([]),
            json!({"a": 1}), json!(true),
        ][replacement].clone();
        leaves(&mut value, &mut |leaf| {
            if count == target {
                *leaf = new.clone();
            }
            count += 1;
        });
        if let Err(error) = Flow::from_value(value) {
            prop_assert!(!error.to_string().chars().any(char::is_control), "{error}");
            prop_assert!(!error.code.is_empty() && !error.hint.is_empty());
        }
    }
}

/// Flows of every kind of step.
const SHIPPED: [&str; 4] =
    ["mos-capacitor", "diffused-resistor", "short-cmos", "full-cmos"];

fn shipped_text(name: &str) -> Vec<u8> {
    let path = format!("{}/../www/flows/{name}.json", env!("CARGO_MANIFEST_DIR"));
    std::fs::read(path).expect("the flow is there")
}

fn shipped(name: &str) -> Value {
    serde_json::from_slice(&shipped_text(name)).expect("it is JSON")
}

/// Changes a text in one place: another byte, one more, some fewer, a piece twice, the end cut
/// off.
fn mutate(text: &mut Vec<u8>, kind: u8, place: u32, byte: u8) {
    if text.is_empty() {
        return;
    }
    let at = place as usize % text.len();
    let end = (at + 1 + usize::from(byte)).min(text.len());
    match kind {
        0 => text[at] = byte,
        1 => text.insert(at, byte),
        2 => drop(text.drain(at..end)),
        3 => {
            let piece = text[at..end].to_vec();
            text.splice(at..at, piece);
        }
        _ if byte < 16 => text.truncate(at),
        _ => text[at] = b"0123456789-.eE\"{}[],:\\ntf"[usize::from(byte) % 25],
    }
}

/// Visits every value that holds no others; gives how many there are.
fn leaves(value: &mut Value, visit: &mut dyn FnMut(&mut Value)) -> u32 {
    match value {
        Value::Array(list) if !list.is_empty() => {
            list.iter_mut().map(|v| leaves(v, visit)).sum()
        }
        Value::Object(map) if !map.is_empty() => {
            map.iter_mut().map(|(_, v)| leaves(v, visit)).sum()
        }
        leaf => {
            visit(leaf);
            1
        }
    }
}

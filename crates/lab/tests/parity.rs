//! The kernel gives the same bits natively and in a browser: the reports to some hundred
//! random requests of every operation, boiled down to one number each, equal one golden file.
//!
//! The requests stand in a second golden file: a browser test puts them to the modules that are
//! shipped, which are optimized for size and hold one family each, and expects the same digests.
//!
//! `BLESS=1 cargo test -p barewafer-lab --test parity` writes the files anew.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "clippy does not take the functions of this test runner for tests"
)]

use barewafer_process::bound::Scale;
use barewafer_process::{OPERATIONS, OperationSchema};
use serde_json::{Map, Value, json};
use wasm_bindgen_test::wasm_bindgen_test;

#[cfg(target_arch = "wasm32")]
wasm_bindgen_test::wasm_bindgen_test_configure!(run_in_browser);

/// Digests of the present kernel; this golden file pins the bits, not their truth.
const GOLDEN: &str = include_str!("../../../tests/golden/parity_digest.txt");

/// The requests, one a line.
const GOLDEN_REQUESTS: &str = include_str!("../../../tests/golden/parity_requests.jsonl");

/// Requests per operation.
const REQUESTS: u32 = 100;

/// Guy L. Steele Jr., D. Lea, C. H. Flood, Fast splittable pseudorandom number generators,
/// OOPSLA 2014 (memory).
struct SplitMix64(u64);

impl SplitMix64 {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number from 0 to 1.
    fn unit(&mut self) -> f64 {
        let top = u32::try_from(self.next() >> 32).unwrap_or(0);
        f64::from(top) / f64::from(u32::MAX)
    }

    fn one_in(&mut self, n: u64) -> bool {
        self.next().is_multiple_of(n)
    }

    fn pick<'a, T>(&mut self, list: &'a [T]) -> Option<&'a T> {
        let count = u64::try_from(list.len()).ok()?;
        let index = self.next().checked_rem(count)?;
        list.get(usize::try_from(index).ok()?)
    }
}

/// Writes requests within the bounds of an operation's form.
struct Writer<'a> {
    random: SplitMix64,
    form: &'a OperationSchema,
    request: Map<String, Value>,
}

impl Writer<'_> {
    /// A number of the form within its bounds; nothing if the form has no such field.
    fn number(&mut self, field: &str) -> Option<Value> {
        let bound = self.form.numbers.iter().find(|bound| bound.field == field)?;
        let (low, high) = bound.published.unwrap_or((bound.min, bound.max));
        let (low, high) = (low.max(bound.min), high.min(bound.max));
        let share = self.random.unit();
        let value = if bound.scale == Scale::Log && 0.0 < low {
            low * barewafer_process::num::pow(high / low, share)
        } else {
            low + share * (high - low)
        };
        // As typed by a person: four digits, which may step over a limit.
        let typed: f64 = format!("{value:.3e}").parse().ok()?;
        Some(json!(typed.clamp(bound.min, bound.max)))
    }

    fn put_number(&mut self, field: &str) {
        if let Some(value) = self.number(field) {
            self.request.insert(field.to_owned(), value);
        }
    }

    fn maybe_number(&mut self, field: &str) {
        if self.random.one_in(3) {
            self.put_number(field);
        }
    }

    fn word(&mut self, field: &str) -> Option<Value> {
        let choice = self.form.choices.iter().find(|choice| choice.field == field)?;
        self.random.pick(&choice.values).map(|(word, _)| json!(word))
    }

    fn put_word(&mut self, field: &str) {
        if let Some(word) = self.word(field) {
            self.request.insert(field.to_owned(), word);
        }
    }

    fn maybe_word(&mut self, field: &str) {
        if self.random.one_in(3) {
            self.put_word(field);
        }
    }

    fn has(&self, field: &str, word: &str) -> bool {
        self.request.get(field).is_some_and(|value| value == word)
    }

    fn put(&mut self, field: &str, value: Value) {
        self.request.insert(field.to_owned(), value);
    }

    fn dopant(&mut self) -> &'static str {
        self.random
            .pick(&["boron", "phosphorus", "arsenic", "antimony"])
            .copied()
            .unwrap_or("boron")
    }

    /// A development with an exposure on a coarse grid: every bit shows, and it takes less long.
    fn developed(&mut self) {
        let past = self.random.one_in(3);
        self.put_number(if past { "over_develop_percent" } else { "time_s" });
        self.maybe_word("developer");
        self.maybe_number("temperature_c");
        self.maybe_number("normality");
        let pattern = self
            .random
            .pick(&["line_space", "isolated_line", "isolated_space", "edge"])
            .copied()
            .unwrap_or("line_space");
        let dose = self.random.pick(&[90.0, 120.0, 160.0, 250.0]).copied();
        let defocus = self.random.pick(&[0.0, 0.0, 0.4, 0.9]).copied();
        let mut exposure = json!({"mask": {"pattern": pattern, "pitch_um": 1.2,
            "opening_um": 0.6}, "dose_mj_cm2": dose, "defocus_um": defocus,
            "grid_nm": 15.0, "source_rings": 8.0});
        if self.random.one_in(4) {
            exposure["resist"] = json!("demo-n13");
        }
        if self.random.one_in(3) {
            exposure["stack_below"] =
                json!([{"material": "thermal_oxide", "thickness_nm": 120.0}]);
        }
        if self.random.one_in(4) {
            exposure["post_exposure_bake"] = Value::Null;
        }
        if self.random.one_in(4) {
            self.put("rate_parameters", json!({"surface_ratio": 0.5, "order": 4.2}));
        }
        self.put("exposure", exposure);
    }

    fn substrate(&mut self) {
        if self.random.one_in(3) {
            let kind = if self.random.one_in(2) { "n" } else { "p" };
            let level =
                self.random.pick(&[2e14, 1e15, 3.3e15, 7e16]).copied().unwrap_or(1e15);
            self.put("substrate", json!({"type": kind, "concentration_cm3": level}));
        }
    }
}

/// A random exposure: any tool, mask, stack and dose.
fn exposure(w: &mut Writer<'_>) {
    w.put_word("tool");
    let lamp = w.random.pick(&[365.0, 404.7, 435.8]).copied().unwrap_or(365.0);
    w.put("wavelength_nm", json!(lamp));
    w.put_number("numerical_aperture");
    w.maybe_number("partial_coherence");
    w.maybe_number("gap_um");
    w.maybe_number("collimation_deg");
    w.maybe_number("thickness_nm");
    w.maybe_word("focus_in_resist");
    if w.random.one_in(2) {
        w.put_number("dose_mj_cm2");
    } else {
        w.put("irradiance_mw_cm2", json!(20.0));
        w.put("time_s", json!(7.0));
    }
    if w.random.one_in(2) {
        let defocus = (20.0 * w.random.unit()).round() / 10.0 - 1.0;
        w.put("defocus_um", json!(defocus));
    }
    let mask = w.word("mask.pattern").unwrap_or_default();
    let mask = match mask.as_str() {
        Some("openings") => json!({"pattern": mask, "polarity": "clear_field",
            "openings_um": [[-1.0, -0.5], [0.4, 1.0]]}),
        _ => json!({"pattern": mask, "pitch_um": 2.0, "opening_um": 1.2}),
    };
    w.put("mask", mask);
    w.maybe_word("resist");
    if w.random.one_in(2) {
        let film = w.word("stack_below[].material");
        w.put("stack_below", json!([{"material": film, "thickness_nm": 120.0}]));
    }
    if w.random.one_in(4) {
        w.put("post_exposure_bake", Value::Null);
    }
    if w.random.one_in(4) {
        w.put("overlay_um", json!({"x": 0.13}));
        w.put("alignment", json!({"scale_ppm": 3.0, "place_mm": {"x": 40.0}}));
    }
    // Fine cells and many rings would only take longer.
    w.put("grid_nm", json!(20.0));
    w.put("source_rings", json!(8));
}

/// One random request of an operation.
fn request(form: &OperationSchema, number: u32) -> Map<String, Value> {
    let seed = fnv1a(form.operation.as_bytes(), FNV_START) ^ u64::from(number);
    let mut w = Writer { random: SplitMix64(seed), form, request: Map::new() };
    w.put("operation", json!(form.operation));
    match form.operation {
        "oxidation" => {
            w.put_word("ambient");
            w.put_number("temperature_c");
            let field = if w.random.one_in(4) { "target_oxide_nm" } else { "time_min" };
            w.put_number(field);
            w.maybe_word("orientation");
            w.maybe_number("initial_oxide_nm");
            w.maybe_number("pressure_atm");
            if w.has("ambient", "wet") {
                w.maybe_word("parameter_set");
            }
            if w.has("ambient", "dry") {
                w.maybe_word("model");
                w.maybe_number("hcl_percent");
            }
        }
        "predeposition" => {
            let dopant = w.dopant();
            w.put("dopant", json!(dopant));
            w.put_number("temperature_c");
            w.put_number("time_min");
            w.maybe_word("diffusivity");
            w.maybe_word("solution");
            w.substrate();
        }
        "drive_in" => {
            let dopant = w.dopant();
            let start = if w.random.one_in(2) {
                json!({"dose_cm2": 2e14, "dopant": dopant})
            } else {
                json!({"gaussian": {"dopant": dopant, "dose_cm2": 1e14,
                    "projected_range_nm": 120.0, "straggle_nm": 45.0}})
            };
            w.put("start", start);
            w.put_number("temperature_c");
            w.put_number("time_min");
            w.put_word("ambient");
            w.maybe_word("diffusivity");
            w.substrate();
        }
        "anneal" => {
            let dopant = w.dopant();
            w.put(
                "start",
                json!({"gaussian": {"dopant": dopant, "dose_cm2": 3e14,
                    "projected_range_nm": 90.0, "straggle_nm": 35.0}}),
            );
            w.put_number("temperature_c");
            w.put_number("time_min");
            w.put_word("ambient");
            if w.random.one_in(3) {
                w.put("oxidation_enhanced_diffusion", json!(true));
            }
            w.maybe_word("boron_segregation");
            if w.random.one_in(2) {
                w.put("ramp", json!({"start_c": 500, "up_c_s": 20, "down_c_s": 5}));
            }
            w.substrate();
        }
        "implantation" => {
            w.put_word("dopant");
            w.put_number("energy_kev");
            w.put_number("dose_cm2");
            w.maybe_word("model");
            if w.request.get("model").is_some_and(|model| model == "monte_carlo") {
                // Some ions show every bit; thousands would only take longer.
                w.put("ions", json!(25));
                w.put_number("seed");
            }
            w.maybe_number("tilt_deg");
            if w.random.one_in(3) {
                w.put(
                    "through",
                    json!([{"material": "thermal_oxide", "thickness_nm": 25.0}]),
                );
            }
            w.substrate();
        }
        "spin_coating" => {
            w.put_word("resist");
            w.put_number("speed_rpm");
            w.maybe_number("time_s");
            w.maybe_number("acceleration_rpm_s");
            w.maybe_number("dispense_um");
            w.maybe_number("wafer_diameter_mm");
            w.maybe_number("bead_removal_mm");
            if w.random.one_in(3) {
                let height = w.random.pick(&[500.0, -800.0, 1200.0]).copied();
                w.put(
                    "step",
                    json!({"height_nm": height.unwrap_or(0.0), "width_um": 4.0}),
                );
            }
        }
        "bake" => {
            w.put_word("kind");
            w.put_number("temperature_c");
            let soft = w.has("kind", "soft") && w.random.one_in(2);
            w.put_number(if soft { "target_solvent_percent" } else { "time_s" });
            w.maybe_word("resist");
            w.maybe_number("thickness_nm");
        }
        "development" => {
            w.developed();
        }
        "exposure" => exposure(&mut w),
        "process_window" => {
            // A few points of coarse cells show every bit.
            w.put("doses", json!(3));
            w.put("focuses", json!(3));
            w.put_number("focus_span_um");
            w.maybe_number("dose_span_percent");
            w.maybe_number("tolerance_percent");
            let dose = 90.0 + 60.0 * w.random.unit();
            w.put(
                "exposure",
                json!({"dose_mj_cm2": dose.round(), "grid_nm": 20, "thickness_nm": 800,
                    "source_rings": 6}),
            );
        }
        "wet_etch" => {
            let pair = w
                .random
                .pick(&[
                    ("bhf_6_1", "thermal_oxide"),
                    ("hf_10_1", "thermal_oxide"),
                    ("bhf_5_1", "deposited_oxide"),
                    ("phosphoric_85", "nitride"),
                    ("aluminum_etch", "aluminum"),
                    ("poly_etch", "polysilicon"),
                ])
                .copied()
                .unwrap_or(("bhf_6_1", "thermal_oxide"));
            w.put("etchant", json!(pair.0));
            w.put("material", json!(pair.1));
            w.put_number("thickness_nm");
            let field = if w.random.one_in(3) { "over_etch_percent" } else { "time_s" };
            w.put_number(field);
            if w.random.one_in(2) {
                w.put("mask", json!({"opening_um": 4.0}));
            }
            w.maybe_number("film_spread_percent");
            w.maybe_number("rate_spread_percent");
        }
        "sheet" => {
            let dopant = w.dopant();
            w.put(
                "start",
                json!({"gaussian": {"dopant": dopant, "dose_cm2": 1e15,
                    "projected_range_nm": 100.0, "straggle_nm": 80.0}}),
            );
            w.maybe_word("mobility");
            w.maybe_number("active_limit_c");
            w.maybe_number("current_ma");
            w.maybe_number("probe_spacing_mm");
            w.maybe_number("wafer_thickness_um");
            if w.random.one_in(2) {
                w.put("length_um", json!(100.0));
                w.put("width_um", json!(5.0));
                w.maybe_number("corners");
            }
            w.substrate();
        }
        "deposition" => {
            let pair = w
                .random
                .pick(&[
                    ("polysilicon", "lpcvd"),
                    ("nitride", "lpcvd"),
                    ("nitride", "pecvd"),
                    ("deposited_oxide", "lpcvd"),
                    ("deposited_oxide", "pecvd"),
                    ("phosphorus_glass", "lpcvd"),
                    ("aluminum", "sputter"),
                    ("aluminum", "evaporation"),
                ])
                .copied()
                .unwrap_or(("polysilicon", "lpcvd"));
            w.put("film", json!(pair.0));
            w.put("method", json!(pair.1));
            w.put_number("target_nm");
            if w.random.one_in(2) {
                w.put("trench", json!({"width_um": 1.0, "depth_um": 0.8}));
            }
            w.maybe_number("oxide_below_nm");
            if pair.0 == "phosphorus_glass" {
                w.maybe_number("phosphorus_percent");
                w.put("reflow", json!({"temperature_c": 1050.0, "time_min": 30.0}));
            }
        }
        "dry_etch" => {
            let pair = w
                .random
                .pick(&[
                    ("chf3_o2", "thermal_oxide"),
                    ("c4f8", "phosphorus_glass"),
                    ("sf6", "nitride"),
                    ("cf4_o2", "polysilicon"),
                    ("hbr_cl2", "polysilicon"),
                    ("bcl3_cl2", "aluminum"),
                ])
                .copied()
                .unwrap_or(("hbr_cl2", "polysilicon"));
            w.put("chemistry", json!(pair.0));
            w.put("material", json!(pair.1));
            w.put_number("thickness_nm");
            let field = if w.random.one_in(3) { "over_etch_percent" } else { "time_s" };
            w.put_number(field);
            w.maybe_number("step_height_nm");
            if w.random.one_in(2) {
                w.put("mask", json!({"line_um": 4.0}));
            }
            w.maybe_number("selectivity");
        }
        "clean" => {
            w.put_word("recipe");
            w.maybe_number("time_min");
            w.maybe_number("native_oxide_nm");
        }
        "resist_strip" => {
            w.put_word("method");
            w.maybe_number("thickness_nm");
            w.maybe_number("time_min");
        }
        "planarization" => {
            w.put("material", json!("deposited_oxide"));
            w.put_number("thickness_nm");
            w.put_number("time_s");
            w.maybe_number("step_height_nm");
            w.maybe_number("dense_fraction");
            w.maybe_number("pressure_kpa");
            w.maybe_number("speed_m_s");
            w.maybe_number("preston_per_pa");
            if w.random.one_in(2) {
                w.put("stop", json!({"material": "nitride"}));
            }
        }
        _ => {}
    }
    w.request
}

/// The forms of all operations.
fn forms() -> Vec<OperationSchema> {
    barewafer_process::schema()
}

const FNV_START: u64 = 0xCBF2_9CE4_8422_2325;

/// FNV-1a, 64 bits (G. Fowler, L. C. Noll, K.-P. Vo; memory). The text of a finite number in
/// JSON is the shortest that gives back its bits, so equal texts are equal bits.
fn fnv1a(bytes: &[u8], start: u64) -> u64 {
    bytes.iter().fold(start, |hash, &byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01B3)
    })
}

/// `operation digest answered of asked`, and the refusals by code for the reader.
fn line(form: &OperationSchema) -> String {
    let mut digest = FNV_START;
    let mut answered = 0;
    for number in 0..REQUESTS {
        let asked = request(form, number);
        let text = match barewafer_process::run(asked) {
            Ok(report) => {
                answered += 1;
                serde_json::to_string(&report).unwrap_or_default()
            }
            Err(error) => serde_json::to_string(&error).unwrap_or_default(),
        };
        digest = fnv1a(text.as_bytes(), digest);
    }
    format!("{} {digest:016x} {answered} of {REQUESTS}", form.operation)
}

/// All requests as JSON, one a line.
fn request_lines() -> String {
    let mut lines = String::new();
    for form in forms() {
        for number in 0..REQUESTS {
            lines += &Value::Object(request(&form, number)).to_string();
            lines += "\n";
        }
    }
    lines
}

fn lines() -> Vec<String> {
    forms().iter().map(line).collect()
}

#[wasm_bindgen_test(unsupported = test)]
fn reports_have_the_same_bits_natively_and_in_a_browser() {
    let now = lines();
    #[cfg(not(target_arch = "wasm32"))]
    if std::env::var_os("BLESS").is_some() {
        let head = "# Digests of the reports to random requests, one operation a line: name, FNV-1a\n# of the reports' JSON, answered of asked. Pins the bits on every target; written by\n# `cargo xtask bless`.\n";
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/golden");
        let digests = format!("{head}{}\n", now.join("\n"));
        std::fs::write(format!("{folder}/parity_digest.txt"), digests).unwrap();
        let requests = format!("{folder}/parity_requests.jsonl");
        std::fs::write(requests, request_lines()).unwrap();
        return;
    }
    let golden: Vec<&str> = GOLDEN
        .lines()
        .filter(|line| !line.is_empty() && !line.starts_with('#'))
        .collect();
    let differing: Vec<String> = now
        .iter()
        .filter(|line| !golden.contains(&line.as_str()))
        .map(|line| {
            let name = line.split(' ').next().unwrap_or_default();
            let before = golden.iter().find(|g| g.starts_with(&format!("{name} ")));
            format!("now {line}, golden {}", before.unwrap_or(&"nothing"))
        })
        .collect();
    assert!(differing.is_empty(), "{}", differing.join("; "));
    assert_eq!(now.len(), golden.len());
    assert!(request_lines() == GOLDEN_REQUESTS, "the golden file has other requests");
}

#[wasm_bindgen_test(unsupported = test)]
fn most_random_requests_are_good_ones() {
    let mut asked = 0;
    for form in forms() {
        // An operation without a form is not built: it refuses all.
        if form.numbers.is_empty() {
            continue;
        }
        let refusals: Vec<String> = (0..REQUESTS)
            .filter_map(|number| {
                barewafer_process::run(request(&form, number))
                    .err()
                    .map(|e| e.to_string())
            })
            .collect();
        let limit = usize::try_from(REQUESTS / 4).unwrap();
        assert!(refusals.len() <= limit, "{}: {refusals:?}", form.operation);
        asked += REQUESTS;
    }
    assert!(asked <= REQUESTS * u32::try_from(OPERATIONS.len()).unwrap());
}

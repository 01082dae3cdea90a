//! Predeposition and drive-in against independent reference profiles, worked examples and
//! the laws they must keep.

#![expect(clippy::panic, clippy::unwrap_used, reason = "a failing test may panic")]

use std::collections::BTreeMap;
use std::path::PathBuf;

use barewafer_process::diffusion::diffusivity::intrinsic_cm3;
use barewafer_process::diffusion::layer::Layer;
use barewafer_process::diffusion::plan::anneal_grid;
use barewafer_process::diffusion::solver::{
    ChargeComponents, Control, Crystal, Grid, Outcome, Species, Surface, anneal,
    constant_source,
};
use barewafer_process::num::{erf, erfc, exp, linspace, ln};
use barewafer_process::units::Temperature;
use barewafer_process::vocabulary::{DiffusivitySet, Dopant};
use proptest::prelude::*;
use serde_json::{Value, json};

/// One reference profile: depths in um and each dopant's concentration per cm3.
struct Reference {
    depth_um: Vec<f64>,
    dopants: Vec<Vec<f64>>,
    /// Depths printed in the header: dopant level per cm3 and depth in um.
    header_depths: Vec<(f64, f64)>,
}

fn reference(case: &str) -> Reference {
    let folder =
        PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("reference/diffusion_profiles");
    let path = std::fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .find(|path| path.file_name().unwrap().to_str().unwrap().starts_with(case))
        .unwrap();
    let text = std::fs::read_to_string(path).unwrap();
    let mut reference =
        Reference { depth_um: vec![], dopants: vec![], header_depths: vec![] };
    for line in text.lines() {
        if let Some(rest) = line.strip_prefix("# depth where ") {
            let words: Vec<&str> = rest.split_whitespace().collect();
            reference
                .header_depths
                .push((words[2].parse().unwrap(), words[4].parse().unwrap()));
        }
        if line.starts_with('#') || line.starts_with("depth") {
            continue;
        }
        let values: Vec<f64> = line.split(',').map(|v| v.parse().unwrap()).collect();
        reference.depth_um.push(values[0]);
        reference.dopants.resize(values.len() - 1, vec![]);
        for (list, value) in reference.dopants.iter_mut().zip(&values[1..]) {
            list.push(*value);
        }
    }
    reference
}

fn largest(c: &[f64]) -> f64 {
    c.iter().copied().fold(0.0, f64::max)
}

/// Deepest depth at which the concentration passes `level`.
fn depth_at(x: &[f64], c: &[f64], level: f64) -> Option<f64> {
    let i = c.iter().rposition(|&c| level < c)?;
    let (a, b) = (c[i], *c.get(i + 1)?);
    let t = if 0.0 < b { ln(a / level) / ln(a / b) } else { (a - level) / (a - b) };
    Some(x[i] + t * (x[i + 1] - x[i]))
}

fn value_at(x: &[f64], c: &[f64], at: f64) -> f64 {
    let j = x.partition_point(|&x| x < at).clamp(1, x.len() - 1);
    let t = (at - x[j - 1]) / (x[j] - x[j - 1]);
    exp(ln(c[j - 1]) * (1.0 - t) + ln(c[j]) * t)
}

/// The acceptance printed in the headers: 1 % in depth at any concentration above 1e-3 of the
/// largest, 2 % in concentration where |d ln C / d ln x| < 3.
#[track_caller]
fn agrees(case: &str, k: usize, depth_um: &[f64], c: &[f64]) {
    let reference = reference(case);
    let (rx, rc) = (&reference.depth_um, &reference.dopants[k]);
    let top = largest(rc);
    let mut compared = 0;
    for step in 0..60 {
        let level = top * exp(-ln(1e3) * f64::from(step) / 59.0) * 0.999;
        let Some(expected) = depth_at(rx, rc, level) else { continue };
        // On the flat top a depth is not defined by a concentration.
        let j = rx.partition_point(|&x| x < expected).clamp(1, rx.len() - 1);
        let slope = (ln(rc[j] / rc[j - 1]) / ln(rx[j] / rx[j - 1].max(1e-9))).abs();
        if slope < 0.5 {
            continue;
        }
        let found = depth_at(depth_um, c, level).unwrap();
        let error = found / expected - 1.0;
        assert!(
            error.abs() < 0.01,
            "{case}: {level:e} per cm3 at {found} um, reference {expected} um"
        );
        compared += 1;
    }
    assert!(10 < compared, "{case}: only {compared} depths compared");
    let mut compared = 0;
    for i in 1..rx.len() - 1 {
        let slope = ln(rc[i + 1] / rc[i - 1]) / ln(rx[i + 1] / rx[i - 1].max(1e-9));
        if rc[i] < 1e-3 * top || 3.0 <= slope.abs() {
            continue;
        }
        let found = value_at(depth_um, c, rx[i]);
        let error = found / rc[i] - 1.0;
        assert!(
            error.abs() < 0.02,
            "{case}: {found:e} per cm3 at {} um, reference {:e}",
            rx[i],
            rc[i]
        );
        compared += 1;
    }
    assert!(10 < compared, "{case}: only {compared} concentrations compared");
    for (level, expected) in reference.header_depths {
        if k == 0 && 1e-3 * top < level {
            let found = depth_at(depth_um, c, level).unwrap();
            assert!((found / expected - 1.0).abs() < 0.01, "{case}: {level:e} {found}");
        }
    }
}

fn ask(request: &Value) -> Value {
    let report = barewafer_process::run_text(request.to_string().as_bytes())
        .unwrap_or_else(|error| panic!("{request}: {error}"));
    serde_json::to_value(&report).unwrap()
}

fn list(value: &Value) -> Vec<f64> {
    value.as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect()
}

fn number(report: &Value, name: &str) -> f64 {
    report["results"][name].as_f64().unwrap_or_else(|| panic!("{name} is no number"))
}

/// Compares the profile of a public answer with a reference.
#[track_caller]
fn answer_agrees(case: &str, dopant: &str, request: &Value) -> Value {
    let report = ask(request);
    let profile = &report["results"]["profile"];
    let c = list(&profile[format!("{dopant}_cm3")]);
    agrees(case, 0, &list(&profile["depth_um"]), &c);
    assert!(number(&report, "dose_balance").abs() <= 1e-9);
    report
}

#[track_caller]
fn near(found: f64, expected: f64, tolerance: f64) {
    assert!((found / expected - 1.0).abs() <= tolerance, "{found} against {expected}");
}

fn species(dopant: Dopant, celsius: f64, factor: f64) -> (Species, f64) {
    let t = Temperature::celsius(celsius);
    let mut species = DiffusivitySet::Plummer2000.species(dopant, t, None).unwrap();
    species.diffusivity = species.diffusivity.scaled(factor);
    (species, intrinsic_cm3(t))
}

fn constant(d_cm2_s: f64) -> Species {
    Species {
        charge: 0.0,
        diffusivity: ChargeComponents { neutral_cm2_s: d_cm2_s, ..Default::default() },
        active_limit_cm3: None,
    }
}

const PLAIN: Crystal = Crystal { intrinsic_cm3: 1e19, background_cm3: 0.0 };

fn um(grid: &Grid) -> Vec<f64> {
    grid.nodes_cm().iter().map(|x| x * 1e4).collect()
}

/// A Gaussian with its whole dose inside the silicon.
fn implanted(dose_cm2: f64, range_um: f64, straggle_um: f64) -> Layer {
    let x = linspace(0.0, range_um + 8.0 * straggle_um, 600);
    let c: Vec<f64> = x
        .iter()
        .map(|x| {
            let u = (x - range_um) / straggle_um;
            exp(-0.5 * u * u)
        })
        .collect();
    let x_cm: Vec<f64> = x.iter().map(|x| x * 1e-4).collect();
    let layer = Layer::from_points(&x_cm, &c);
    let factor = dose_cm2 / layer.dose_cm2();
    layer.scaled(factor)
}

fn annealed(
    layers: &[Layer],
    species: &[Species],
    crystal: Crystal,
    time_s: f64,
) -> (Grid, Outcome) {
    let grid = anneal_grid(layers, species, crystal, time_s, 1.0);
    let start: Vec<Vec<f64>> = layers.iter().map(|layer| layer.on_grid(&grid)).collect();
    let surface = vec![Surface::Closed; species.len()];
    let outcome =
        anneal(&grid, crystal, species, &surface, &start, time_s, Control::default());
    assert!(outcome.finished);
    for ledger in &outcome.ledgers {
        assert!(ledger.balance().abs() < 1e-9, "{ledger:?}");
    }
    (grid, outcome)
}

#[test]
fn constant_source_of_constant_diffusivity_c01() {
    let grid = Grid::graded(1.2e-4, |_| 4e-7);
    let outcome = anneal(
        &grid,
        PLAIN,
        &[constant(1e-14)],
        &[Surface::Held(1e20)],
        &[vec![0.0; grid.len()]],
        3600.0,
        Control::default(),
    );
    agrees("c01", 0, &um(&grid), &outcome.concentration_cm3[0]);
    assert!(outcome.ledgers[0].balance().abs() < 1e-9);
    // The dose that came in is 2 Cs sqrt(Dt/pi).
    near(outcome.ledgers[0].gained_cm2, 6.77029e14, 0.005);

    let exact = constant_source(&constant(1e-14), PLAIN, 1e20, 3600.0).unwrap();
    let x: Vec<f64> = exact.depth_cm.iter().map(|x| x * 1e4).collect();
    agrees("c01", 0, &x, &exact.concentration_cm3);
}

#[test]
fn limited_source_of_constant_diffusivity_c02() {
    // Half a Gaussian of 0.05 um under a closed surface.
    let x = linspace(0.0, 0.4, 600);
    let c: Vec<f64> = x.iter().map(|x| exp(-x * x / (2.0 * 0.05 * 0.05))).collect();
    let x_cm: Vec<f64> = x.iter().map(|x| x * 1e-4).collect();
    let layer = Layer::from_points(&x_cm, &c);
    let factor = 1e14 / layer.dose_cm2();
    let (grid, outcome) =
        annealed(&[layer.scaled(factor)], &[constant(1e-13)], PLAIN, 7200.0);
    agrees("c02", 0, &um(&grid), &outcome.concentration_cm3[0]);
}

#[test]
fn evaporation_of_constant_diffusivity_c03() {
    let grid = Grid::graded(4e-4, |x| 1e-6 + 0.01 * x);
    let speed = 5e-9;
    let outcome = anneal(
        &grid,
        PLAIN,
        &[constant(1e-13)],
        &[Surface::Loss(speed)],
        &[vec![1e17; grid.len()]],
        3600.0,
        Control::default(),
    );
    let c = &outcome.concentration_cm3[0];
    let reference = reference("c03");
    for (x, expected) in reference.depth_um.iter().zip(&reference.dopants[0]) {
        if *x < 3.9 {
            near(value_at(&um(&grid), c, *x), *expected, 0.005);
        }
    }
    let ledger = outcome.ledgers[0];
    assert!(ledger.balance().abs() < 1e-9 && ledger.gained_cm2 < 0.0);
    near(ledger.after_cm2, 3.8975e13, 0.001);
}

#[test]
fn predepositions_by_request_c04_to_c08() {
    for (case, dopant, celsius, minutes, surface, dose) in [
        ("c04", "boron", 950, 30, 2e20, 3.92345e15),
        ("c05", "boron", 1100, 20, 3e20, 2.42063e16),
        ("c06", "phosphorus", 1000, 30, 3e20, 9.27635e15),
        ("c07", "arsenic", 1050, 60, 1e20, 1.74874e15),
        ("c08", "antimony", 1200, 120, 3e19, 2.0246e15),
    ] {
        let request = json!({"operation": "predeposition", "dopant": dopant,
            "temperature_c": celsius, "time_min": minutes,
            "surface_concentration_cm3": surface});
        let report = answer_agrees(case, dopant, &request);
        near(number(&report, "dose_cm2"), dose, 1e-4);
        // The junction with 1e15 lies far below 1e-3 of the surface.
        if let Some((_, expected)) = reference(case)
            .header_depths
            .iter()
            .find(|(level, _)| (level / 1e15 - 1.0).abs() < 1e-9)
        {
            near(number(&report, "junction_depth_um"), *expected, 1e-3);
        }
    }
}

#[test]
fn time_steps_and_similarity_give_the_same_predeposition() {
    let (boron, ni) = species(Dopant::Boron, 950.0, 1.0);
    let crystal = Crystal { intrinsic_cm3: ni, background_cm3: 1e15 };
    let grid = Grid::graded(0.6e-4, |_| 2.5e-7);
    let outcome = anneal(
        &grid,
        crystal,
        &[boron],
        &[Surface::Held(2e20)],
        &[vec![0.0; grid.len()]],
        1800.0,
        Control::default(),
    );
    agrees("c04", 0, &um(&grid), &outcome.concentration_cm3[0]);
    assert!(outcome.ledgers[0].balance().abs() < 1e-9);
    let exact = constant_source(&boron, crystal, 2e20, 1800.0).unwrap();
    near(outcome.ledgers[0].gained_cm2, exact.gained_cm2, 0.002);
    // The dose of the exact profile is the integral of its points.
    let layer = Layer::from_points(&exact.depth_cm, &exact.concentration_cm3);
    near(layer.dose_cm2(), exact.gained_cm2, 0.002);
}

#[test]
fn boron_drive_in_by_request_c09() {
    let x = linspace(0.0, 0.32, 400);
    let c: Vec<f64> = x.iter().map(|x| 2e20 * erfc(x / 0.052_250_89)).collect();
    let request = json!({"operation": "drive_in",
        "start": {"profile": {"depth_um": x, "boron_cm3": c}},
        "temperature_c": 1100, "time_min": 60,
        "substrate": {"type": "n", "concentration_cm3": 1e15}});
    let report = answer_agrees("c09", "boron", &request);
    near(number(&report, "dose_cm2"), 5.89596e14, 0.001);
    near(number(&report, "junction_depth_um"), 1.549, 0.005);
}

#[test]
fn implanted_layers_by_request() {
    for (case, dopant, dose, range, straggle, celsius, minutes, substrate) in [
        ("c10", "phosphorus", 8e12, 188.8, 62.8, 1150, 360, ("p", 1e15)),
        ("c11", "arsenic", 3e15, 37.4, 13.6, 950, 30, ("p", 1e16)),
        ("c12", "boron", 2e15, 98.7, 37.1, 1000, 30, ("n", 1e16)),
        ("c15", "phosphorus", 1e15, 60.7, 25.6, 900, 60, ("p", 1e15)),
    ] {
        let request = json!({"operation": "drive_in",
            "start": {"gaussian": {"dopant": dopant, "dose_cm2": dose,
                "projected_range_nm": range, "straggle_nm": straggle}},
            "temperature_c": celsius, "time_min": minutes,
            "substrate": {"type": substrate.0, "concentration_cm3": substrate.1}});
        let report = answer_agrees(case, dopant, &request);
        near(number(&report, "dose_cm2"), dose, 1e-9);
        let junction = reference(case).header_depths[0].1;
        near(number(&report, "junction_depth_um"), junction, 0.01);
    }
}

#[test]
fn arsenic_and_boron_together_c13() {
    let (arsenic, ni) = species(Dopant::Arsenic, 1000.0, 1.0);
    let (boron, _) = species(Dopant::Boron, 1000.0, 1.0);
    let crystal = Crystal { intrinsic_cm3: ni, background_cm3: 1e16 };
    let layers = [implanted(5e15, 0.0582, 0.0207), implanted(5e13, 0.1608, 0.0504)];
    let (grid, outcome) = annealed(&layers, &[arsenic, boron], crystal, 1800.0);
    agrees("c13", 0, &um(&grid), &outcome.concentration_cm3[0]);
    agrees("c13", 1, &um(&grid), &outcome.concentration_cm3[1]);
    // The field of the arsenic makes a dip in the boron: a minimum between two maxima.
    let x = um(&grid);
    let boron = &outcome.concentration_cm3[1];
    let (inside, dip, beyond) = (
        value_at(&x, boron, 0.2),
        value_at(&x, boron, 0.317),
        value_at(&x, boron, 0.336),
    );
    assert!(dip < inside && dip < beyond, "{inside:e} {dip:e} {beyond:e}");
}

#[test]
fn two_step_boron_by_request_c16() {
    let substrate = json!({"type": "n", "concentration_cm3": 1e15});
    let request = json!({"operation": "drive_in",
        "start": {"operation": "predeposition", "dopant": "boron", "temperature_c": 975,
            "time_min": 15, "surface_concentration_cm3": 2e20, "substrate": substrate},
        "temperature_c": 1100, "time_min": 90, "substrate": substrate});
    let report = answer_agrees("c16", "boron", &request);
    near(number(&report, "junction_depth_um"), 2.39103, 0.01);
    near(number(&report, "dose_cm2"), 3.59853e15, 0.001);
}

#[test]
fn enhanced_boron_c17() {
    let (boron, ni) = species(Dopant::Boron, 1000.0, 3.0);
    let crystal = Crystal { intrinsic_cm3: ni, background_cm3: 1e15 };
    let layers = [implanted(1e13, 0.1608, 0.0504)];
    let (grid, outcome) = annealed(&layers, &[boron], crystal, 3600.0);
    agrees("c17", 0, &um(&grid), &outcome.concentration_cm3[0]);
}

#[test]
fn worked_examples_of_constant_diffusivity() {
    let set = "fuller_ditzenberger_1956";
    let predeposition = |celsius: f64, minutes: f64, surface: f64, substrate: f64| {
        json!({"operation": "predeposition", "dopant": "boron", "temperature_c": celsius,
            "time_min": minutes, "surface_concentration_cm3": surface,
            "diffusivity": set, "solution": "closed_form",
            "substrate": {"type": "n", "concentration_cm3": substrate}})
    };
    let drive_in = |start: Value, minutes: f64, substrate: f64| {
        json!({"operation": "drive_in", "start": start, "temperature_c": 1100,
            "time_min": minutes, "diffusivity": set, "solution": "closed_form",
            "substrate": {"type": "n", "concentration_cm3": substrate}})
    };
    // E1: 950 C, 30 min, 2e20.
    let report = ask(&predeposition(950.0, 30.0, 2e20, 1e15));
    near(number(&report, "dose_cm2"), 7.757e14, 0.01);
    near(number(&report, "junction_depth_um"), 0.2219, 0.01);
    let report = ask(&predeposition(950.0, 30.0, 2e20, 1e16));
    near(number(&report, "junction_depth_um"), 0.1972, 0.01);
    // E2: then 1100 C, 2 h.
    let report = ask(&drive_in(predeposition(950.0, 30.0, 2e20, 1e15), 120.0, 1e15));
    near(number(&report, "surface_concentration_cm3"), 9.407e18, 0.01);
    near(number(&report, "junction_depth_um"), 2.8145, 0.01);
    near(number(&report, "dose_cm2"), 7.757e14, 0.01);
    // E4: 900 C, 15 min, 1.1e20, then 1100 C, 5 h, in 3e16.
    let report = ask(&drive_in(predeposition(900.0, 15.0, 1.1e20, 3e16), 300.0, 3e16));
    near(number(&report, "dose_cm2"), 1.431e14, 0.01);
    near(number(&report, "surface_concentration_cm3"), 1.097e18, 0.01);
    near(number(&report, "junction_depth_um"), 2.791, 0.01);
    // E6: with charge states 5.1 times the dose and 1.74 times the depth of E1.
    let report = ask(&json!({"operation": "predeposition", "dopant": "boron",
        "temperature_c": 950, "time_min": 30, "surface_concentration_cm3": 2e20}));
    near(number(&report, "dose_cm2") / 7.757e14, 5.06, 0.01);
    near(number(&report, "junction_depth_um") / 0.2219, 1.742, 0.01);
}

#[test]
fn the_numerical_solution_of_a_constant_set_is_the_closed_form() {
    let request = |solution: &str| {
        json!({"operation": "drive_in", "start": {"gaussian": {"dopant": "phosphorus",
            "dose_cm2": 1e14, "projected_range_nm": 300, "straggle_nm": 60}},
            "temperature_c": 1100, "time_min": 40, "solution": solution,
            "diffusivity": "fuller_ditzenberger_1956"})
    };
    let (numerical, closed) = (ask(&request("numerical")), ask(&request("closed_form")));
    for name in
        ["junction_depth_um", "surface_concentration_cm3", "sheet_resistance_ohm_sq"]
    {
        near(number(&numerical, name), number(&closed, name), 0.005);
    }
    let compared = &numerical["results"]["closed_form_profile"]["phosphorus_cm3"];
    let own = &numerical["results"]["profile"]["phosphorus_cm3"];
    for (a, b) in list(own).iter().zip(list(compared)) {
        if 1e17 < b {
            near(*a, b, 0.01);
        }
    }
}

#[test]
fn heavy_layers_are_limited_in_their_active_part() {
    let request = |limited: bool| {
        json!({"operation": "predeposition", "dopant": "boron", "temperature_c": 950,
            "time_min": 30, "surface_concentration_cm3": 1.5e20, "active_limit": limited})
    };
    let (all, limited) = (ask(&request(false)), ask(&request(true)));
    // Computed with an independent program: 2.524e15 and 1.306e15 per cm2.
    near(number(&all, "dose_cm2"), 2.524e15, 0.02);
    near(number(&limited, "dose_cm2"), 1.306e15, 0.10);
    let profile = &limited["results"]["profile"];
    let (net, active) = (list(&profile["net_cm3"]), list(&profile["active_net_cm3"]));
    near(net[0], -1.5e20, 1e-3);
    // The rule of the limit, with boron's 9.25e22 exp(-0.73/kT).
    let limit = 9.25e22 * exp(-0.73 / Temperature::celsius(950.0).to_kt_ev());
    let share = -active[0] / limit;
    near(-active[0] * (1.0 + share * share * share), 1.5e20, 1e-3);
    let codes = |report: &Value| report["warnings"].to_string();
    assert!(codes(&all).contains("above_active_limit"));
    assert!(!codes(&limited).contains("above_active_limit"));
}

#[test]
fn every_answer_has_a_working_and_hazards() {
    let predeposition = json!({"operation": "predeposition", "dopant": "phosphorus",
        "temperature_c": 1000, "time_min": 30});
    let report = ask(&predeposition);
    assert!(8 < report["working"].as_array().unwrap().len());
    assert!(report["hazards"].to_string().contains("POCL3"));
    // Without a given value the source holds the active limit, 4.7e20 at 1000 C.
    near(number(&report, "surface_concentration_cm3"), 4.7e20, 0.01);
    for (ambient, hazards) in
        [("inert", &["N2", "HEAT"][..]), ("steam", &["O2", "H2", "HEAT"][..])]
    {
        let report = ask(&json!({"operation": "drive_in", "start": predeposition,
            "temperature_c": 1100, "time_min": 30, "ambient": ambient}));
        for hazard in hazards {
            assert!(report["hazards"].to_string().contains(&format!("\"{hazard}\"")));
        }
        let warned = report["warnings"].to_string().contains("oxidizing_ambient");
        assert_eq!(warned, ambient != "inert");
        let points = list(&report["results"]["profile"]["depth_um"]).len();
        assert!((60..=200).contains(&points), "{points} points");
    }
}

#[test]
fn warnings_name_what_to_doubt() {
    let codes = |request: Value| -> Vec<String> {
        ask(&request)["warnings"]
            .as_array()
            .unwrap()
            .iter()
            .map(|w| w["code"].as_str().unwrap().to_owned())
            .collect()
    };
    let has = |request: Value, code: &str| {
        let codes = codes(request.clone());
        assert!(codes.iter().any(|c| c == code), "{request}: {codes:?}");
    };
    has(
        json!({"operation": "predeposition", "dopant": "antimony", "temperature_c": 1000,
            "time_min": 30, "surface_concentration_cm3": 1e20}),
        "above_solubility",
    );
    has(
        json!({"operation": "predeposition", "dopant": "boron", "temperature_c": 700,
            "time_min": 30}),
        "outside_published_range",
    );
    has(
        json!({"operation": "predeposition", "dopant": "boron", "temperature_c": 1000,
            "time_min": 30, "substrate": {"type": "p", "concentration_cm3": 1e15}}),
        "no_junction",
    );
    let start = json!({"operation": "predeposition", "dopant": "boron",
        "temperature_c": 1100, "time_min": 30});
    has(
        json!({"operation": "drive_in", "start": start, "temperature_c": 1100,
            "time_min": 30, "solution": "closed_form"}),
        "drive_in_too_short",
    );
    has(
        json!({"operation": "drive_in", "start": start, "temperature_c": 700,
            "time_min": 1}),
        "start_deeper_than_diffusion",
    );
    has(
        json!({"operation": "drive_in", "start": start, "temperature_c": 1100,
            "time_min": 30, "substrate": {"type": "n", "concentration_cm3": 1e16}}),
        "substrate_differs",
    );
    has(
        json!({"operation": "predeposition", "dopant": "boron", "temperature_c": 1000,
            "time_min": 30, "solution": "closed_form"}),
        "diffusivity_not_constant",
    );
    // A plain case warns of nothing.
    let plain = codes(json!({"operation": "drive_in",
        "start": {"dose_cm2": 1e14, "dopant": "boron"}, "temperature_c": 1100,
        "time_min": 60}));
    assert!(plain.is_empty(), "{plain:?}");
}

#[test]
fn bad_requests_are_explained() {
    let fails = |request: Value, code: &str, field: &str, part: &str| {
        let error = barewafer_process::run_text(request.to_string().as_bytes())
            .expect_err("the request is wrong");
        assert_eq!((error.code, error.field.as_str()), (code, field), "{error}");
        assert!(error.to_string().contains(part), "{error}");
    };
    let predeposition = |extra: Value| {
        let mut request = json!({"operation": "predeposition", "dopant": "boron",
            "temperature_c": 950, "time_min": 30});
        for (name, value) in extra.as_object().unwrap() {
            request[name] = value.clone();
        }
        request
    };
    let drive_in = |start: Value, extra: Value| {
        let mut request = json!({"operation": "drive_in", "start": start,
            "temperature_c": 1100, "time_min": 30});
        for (name, value) in extra.as_object().unwrap() {
            request[name] = value.clone();
        }
        request
    };
    let none = json!({});
    fails(
        predeposition(json!({"temperature_c": 1300})),
        "out_of_range",
        "temperature_c",
        "600 to 1250 °C",
    );
    fails(
        predeposition(json!({"time_min": 0})),
        "out_of_range",
        "time_min",
        "0.01 to 6000 min",
    );
    fails(
        predeposition(json!({"substrate": {"type": "n", "concentration_cm3": 0}})),
        "out_of_range",
        "substrate.concentration_cm3",
        "1e12",
    );
    fails(predeposition(json!({"source": "pocl3"})), "conflict", "source", "solid_disc");
    fails(
        predeposition(json!({"dopant": "indium", "diffusivity": "fair_1981",
            "surface_concentration_cm3": 1e18})),
        "conflict",
        "diffusivity",
        "plummer_2000",
    );
    fails(
        predeposition(json!({"dopant": "indium"})),
        "missing_field",
        "surface_concentration_cm3",
        "indium",
    );
    fails(predeposition(json!({"dopant": "gold"})), "unknown_value", "dopant", "boron");
    fails(
        json!({"operation": "drive_in", "temperature_c": 1100, "time_min": 30}),
        "missing_field",
        "start",
        "start",
    );
    fails(drive_in(json!(5), none.clone()), "wrong_start", "start", "profile");
    fails(
        drive_in(json!({"dose": 1e14}), none.clone()),
        "wrong_start",
        "start",
        "gaussian",
    );
    fails(
        drive_in(json!({"dose_cm2": 1e20, "dopant": "boron"}), none.clone()),
        "out_of_range",
        "start.dose_cm2",
        "1e9",
    );
    fails(
        drive_in(json!({"dose_cm2": 1e14}), none.clone()),
        "missing_field",
        "start.dopant",
        "dopant",
    );
    fails(
        drive_in(
            json!({"gaussian": {"dopant": "boron", "dose_cm2": 1e17,
                "projected_range_nm": 10, "straggle_nm": 1}}),
            none.clone(),
        ),
        "conflict",
        "start.gaussian.dose_cm2",
        "more atoms than silicon has",
    );
    fails(
        drive_in(json!({"operation": "oxidation"}), none.clone()),
        "unknown_value",
        "start.operation",
        "predeposition",
    );
    fails(
        drive_in(
            json!({"operation": "predeposition", "dopant": "boron",
                "temperature_c": 2000, "time_min": 30}),
            none.clone(),
        ),
        "out_of_range",
        "start.temperature_c",
        "1250",
    );
    let profile = |value: Value| drive_in(json!({"profile": value}), json!({}));
    fails(
        profile(json!({"depth_um": [0, 1], "boron_cm3": [1e17]})),
        "wrong_length",
        "start.profile.boron_cm3",
        "2 values",
    );
    fails(
        profile(json!({"depth_um": [0, 0], "boron_cm3": [1e17, 1e16]})),
        "not_increasing",
        "start.profile.depth_um[1]",
        "increase",
    );
    fails(
        profile(json!({"depth_um": [0, 1], "boron_cm3": [1e17, -1]})),
        "out_of_range",
        "start.profile.boron_cm3[1]",
        "0 to 5e22",
    );
    fails(
        profile(json!({"depth_um": [0, 1], "carbon_cm3": [1e17, 1]})),
        "unknown_field",
        "start.profile.carbon_cm3",
        "boron_cm3",
    );
    fails(
        profile(json!({"depth_um": [0, 1], "boron_cm3": [0, 0]})),
        "no_dose",
        "start.profile",
        "dopant",
    );
    fails(
        profile(json!({"depth_um": "deep", "boron_cm3": [0, 0]})),
        "wrong_type",
        "start.profile.depth_um",
        "list",
    );
    fails(
        drive_in(
            json!({"profile": {"depth_um": [0, 1], "boron_cm3": [1e17, 1e16]}}),
            json!({"solution": "closed_form"}),
        ),
        "conflict",
        "solution",
        "numerical",
    );
    let mut deep = json!({"dose_cm2": 1e14, "dopant": "boron"});
    for _ in 0..9 {
        deep = drive_in(deep, none.clone());
    }
    let error = barewafer_process::run_text(deep.to_string().as_bytes()).unwrap_err();
    assert_eq!(error.code, "too_deep");
}

#[test]
fn a_profile_of_an_answer_can_be_the_next_start() {
    let first = ask(&json!({"operation": "predeposition", "dopant": "boron",
        "temperature_c": 950, "time_min": 30}));
    let report = ask(&json!({"operation": "drive_in",
        "start": {"profile": first["results"]["profile"]},
        "temperature_c": 1100, "time_min": 60}));
    near(number(&report, "dose_cm2"), number(&first, "dose_cm2"), 0.01);
}

#[test]
fn evaporation_loses_dose_and_the_ledger_knows() {
    let request = |speed: f64| {
        json!({"operation": "drive_in", "start": {"dose_cm2": 1e15, "dopant": "arsenic"},
            "temperature_c": 1050, "time_min": 60, "evaporation_cm_s": speed})
    };
    let kept = number(&ask(&request(0.0)), "dose_cm2");
    let report = ask(&request(5e-9));
    let left = number(&report, "dose_cm2");
    near(kept, 1e15, 1e-9);
    assert!(left < 0.95 * kept, "{left}");
    assert!(number(&report, "dose_balance").abs() <= 1e-9);
}

/// Reads a public answer's dopant profile for the property tests.
fn profile_of(report: &Value, dopant: &str) -> (Vec<f64>, Vec<f64>) {
    let profile = &report["results"]["profile"];
    (list(&profile["depth_um"]), list(&profile[format!("{dopant}_cm3")]))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn no_dose_is_lost_and_nothing_is_negative(
        which in 0_usize..5,
        celsius in 600.0..1250.0_f64,
        log_minutes in -1.0..3.0_f64,
        log_dose in 11.0..16.0_f64,
        range_nm in 0.0..500.0_f64,
        straggle in 0.05..0.6_f64,
        limited in any::<bool>(),
    ) {
        let dopant = Dopant::ALL[which];
        let minutes = exp(ln(10.0) * log_minutes);
        let dose_cm2 = exp(ln(10.0) * log_dose);
        let straggle_nm = (straggle * range_nm).max(8.0);
        let request = json!({"operation": "drive_in",
            "start": {"gaussian": {"dopant": dopant.word(), "dose_cm2": dose_cm2,
                "projected_range_nm": range_nm, "straggle_nm": straggle_nm}},
            "temperature_c": celsius, "time_min": minutes,
            "active_limit": limited && dopant != Dopant::Indium});
        let report = ask(&request);
        prop_assert!(number(&report, "dose_balance").abs() <= 1e-9);
        near(number(&report, "dose_cm2"), dose_cm2, 1e-9);
        let (x, c) = profile_of(&report, dopant.word());
        prop_assert!(x.windows(2).all(|w| w[0] < w[1]));
        prop_assert!(c.iter().all(|c| 0.0 <= *c && c.is_finite()));
    }

    #[test]
    fn a_source_soaks_in_with_the_root_of_time(
        which in 0_usize..4,
        celsius in 850.0..1200.0_f64,
        minutes in 5.0..60.0_f64,
        log_surface in 17.0..20.3_f64,
        factor in 1.5..6.0_f64,
    ) {
        let dopant = Dopant::ALL[which];
        let surface = exp(ln(10.0) * log_surface);
        let request = |minutes: f64| json!({"operation": "predeposition",
            "dopant": dopant.word(), "temperature_c": celsius, "time_min": minutes,
            "surface_concentration_cm3": surface});
        let (short, long) = (ask(&request(minutes)), ask(&request(minutes * factor)));
        for name in ["junction_depth_um", "dose_cm2", "root_dt_um"] {
            near(number(&long, name) / number(&short, name), factor.sqrt(), 1e-6);
        }
        prop_assert!(number(&short, "dose_balance").abs() <= 1e-9);
        // The closed form with the intrinsic diffusivity is never deeper.
        let (x, c) = profile_of(&short, dopant.word());
        let closed = list(&short["results"]["closed_form_profile"][format!("{}_cm3", dopant.word())]);
        for ((c, closed), x) in c.iter().zip(&closed).zip(&x) {
            prop_assert!(*closed <= c * 1.0001 + 1e-9 * surface, "{} {} {}", x, closed, c);
        }
    }

    #[test]
    fn two_half_anneals_are_one(
        celsius in 900.0..1150.0_f64,
        minutes in 20.0..120.0_f64,
        log_dose in 13.0..15.5_f64,
    ) {
        let start = json!({"gaussian": {"dopant": "boron",
            "dose_cm2": exp(ln(10.0) * log_dose), "projected_range_nm": 100,
            "straggle_nm": 40}});
        let anneal = |start: Value, minutes: f64| json!({"operation": "drive_in",
            "start": start, "temperature_c": celsius, "time_min": minutes});
        let whole = ask(&anneal(start.clone(), minutes));
        let halves = ask(&anneal(anneal(start, 0.5 * minutes), 0.5 * minutes));
        near(number(&halves, "junction_depth_um"), number(&whole, "junction_depth_um"), 0.01);
        let surface = "surface_concentration_cm3";
        near(number(&halves, surface), number(&whole, surface), 0.005);
        near(number(&halves, "dose_cm2"), number(&whole, "dose_cm2"), 1e-9);
    }

    #[test]
    fn a_buried_layer_spreads_alike_to_both_sides(
        log_dose in 12.0..15.0_f64,
        minutes in 5.0..60.0_f64,
    ) {
        let (arsenic, ni) = species(Dopant::Arsenic, 1000.0, 1.0);
        let crystal = Crystal { intrinsic_cm3: ni, background_cm3: 0.0 };
        let layer = implanted(exp(ln(10.0) * log_dose), 0.5, 0.03);
        let grid = Grid::graded(1.0e-4, |_| 2e-7);
        let outcome = anneal(
            &grid,
            crystal,
            &[arsenic],
            &[Surface::Closed],
            &[layer.on_grid(&grid)],
            60.0 * minutes,
            Control::default(),
        );
        let x = um(&grid);
        let c = &outcome.concentration_cm3[0];
        let top = largest(c);
        for offset in [0.02, 0.05, 0.08] {
            let (left, right) =
                (value_at(&x, c, 0.5 - offset), value_at(&x, c, 0.5 + offset));
            if 1e-3 * top < left {
                near(left, right, 0.01);
            }
        }
    }
}

#[test]
fn the_surface_of_a_short_evaporation_follows_the_formula() {
    // C(0) = C0 exp(s^2) erfc(s), s = h sqrt(t/D), from a uniform start.
    let (d, h, t) = (1e-13, 2e-9, 1200.0_f64);
    let grid = Grid::graded(2e-4, |x| 5e-7 + 0.01 * x);
    let outcome = anneal(
        &grid,
        PLAIN,
        &[constant(d)],
        &[Surface::Loss(h)],
        &[vec![1e17; grid.len()]],
        t,
        Control::default(),
    );
    let s = h * (t / d).sqrt();
    near(outcome.concentration_cm3[0][0], 1e17 * exp(s * s) * (1.0 - erf(s)), 0.002);
}

/// All reference profiles are held by a test, but for the one with a moving oxide.
#[test]
fn the_reference_profiles_are_all_there() {
    let folder =
        PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("reference/diffusion_profiles");
    let cases: BTreeMap<String, ()> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_str().unwrap()[..3].to_owned())
        .map(|name| (name, ()))
        .collect();
    assert_eq!(cases.len(), 17);
}

//! Diffusion profiles against independent reference profiles and closed forms.

#![expect(clippy::unwrap_used, reason = "a failing test may panic")]

use std::collections::BTreeMap;
use std::path::PathBuf;

use barewafer_process::diffusion::layer::Layer;
use barewafer_process::diffusion::plan::{GridWish, anneal_grid};
use barewafer_process::diffusion::solver::{
    Control, Crystal, Grid, Moment, Outcome, Schedule, Species, Surface, anneal,
    anneal_through, constant_source,
};
use barewafer_process::num::{erf, erfc, exp, linspace, ln};
use barewafer_process::vocabulary::Dopant;
use barewafer_tests::answers::{ask, list, near, number};
use barewafer_tests::silicon_layers::{
    PLAIN, constant, implanted, largest, species, um, value_at,
};
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

/// Deepest depth at which the concentration passes `level`.
fn depth_at(x: &[f64], c: &[f64], level: f64) -> Option<f64> {
    let i = c.iter().rposition(|&c| level < c)?;
    let (a, b) = (c[i], *c.get(i + 1)?);
    let t = if 0.0 < b { ln(a / level) / ln(a / b) } else { (a - level) / (a - b) };
    Some(x[i] + t * (x[i + 1] - x[i]))
}

/// The acceptance printed in the headers: 1 % in depth at any concentration above 1e-3 of the
/// largest, 2 % in concentration where |d ln C / d ln x| < 3. Gives the worst error in depth.
#[track_caller]
fn agrees(case: &str, k: usize, depth_um: &[f64], c: &[f64]) -> f64 {
    let mut worst = 0.0_f64;
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
        worst = worst.max(error.abs());
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
    worst
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

fn annealed(
    layers: &[Layer],
    species: &[Species],
    crystal: Crystal,
    time_s: f64,
) -> (Grid, Outcome) {
    let grid = anneal_grid(layers, species, crystal, time_s, GridWish::default());
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

/// The largest error of a depth that an answer states, as a share.
fn stated(report: &Value) -> f64 {
    let lines = report["working"].as_array().into_iter().flatten();
    let mut found = lines.filter(|line| {
        line["equation"].as_str().unwrap().starts_with("numerical error of a depth")
    });
    0.01 * found.next().unwrap()["result"].as_f64().unwrap()
}

#[test]
fn the_stated_numerical_error_is_kept() {
    let bell = |dopant: &str, dose: f64, range: f64, straggle: f64| {
        json!({"gaussian": {"dopant": dopant, "dose_cm2": dose,
            "projected_range_nm": range, "straggle_nm": straggle}})
    };
    let predeposition = json!({"operation": "predeposition", "dopant": "boron",
        "temperature_c": 975, "time_min": 15, "surface_concentration_cm3": 2e20});
    for accuracy in ["interactive", "reference"] {
        for (case, dopant, start, celsius, minutes, substrate) in [
            ("c10", "phosphorus", bell("phosphorus", 8e12, 188.8, 62.8), 1150, 360, 1e15),
            ("c11", "arsenic", bell("arsenic", 3e15, 37.4, 13.6), 950, 30, 1e16),
            ("c12", "boron", bell("boron", 2e15, 98.7, 37.1), 1000, 30, 1e16),
            ("c15", "phosphorus", bell("phosphorus", 1e15, 60.7, 25.6), 900, 60, 1e15),
            ("c16", "boron", predeposition.clone(), 1100, 90, 1e15),
        ] {
            let kind = if dopant == "boron" { "n" } else { "p" };
            let report = ask(&json!({"operation": "drive_in", "start": start,
                "temperature_c": celsius, "time_min": minutes, "accuracy": accuracy,
                "substrate": {"type": kind, "concentration_cm3": substrate}}));
            let profile = &report["results"]["profile"];
            let c = list(&profile[format!("{dopant}_cm3")]);
            let shape = agrees(case, 0, &list(&profile["depth_um"]), &c);
            let junction =
                number(&report, "junction_depth_um") / reference(case).header_depths[0].1;
            let worst = shape.max((junction - 1.0).abs());
            assert!(worst <= stated(&report), "{accuracy} {case}: {worst}");
        }
    }
}

/// Oxide that grows with the root of time over boron of constant diffusivity.
struct ParabolicOxide {
    parabolic_cm2_s: f64,
    segregation: f64,
    species: Species,
}

impl Schedule for ParabolicOxide {
    fn at(&self, clock_s: f64) -> Moment {
        Moment {
            pace: 1.0,
            crystal: PLAIN,
            species: vec![self.species],
            oxide_cm: (self.parabolic_cm2_s * clock_s).sqrt(),
            segregation: vec![self.segregation],
            supersaturation: 1.0,
        }
    }

    fn interstitial_share(&self) -> &[f64] {
        &[]
    }
}

#[test]
fn segregation_into_a_growing_oxide_c14() {
    let grid = Grid::graded(4e-4, |x| (2e-7 + 0.02 * x).min(2e-6));
    let oxide = ParabolicOxide {
        parabolic_cm2_s: 8.333_33e-13,
        segregation: 0.3,
        species: constant(1.4e-13),
    };
    let start = vec![1e16; grid.len()];
    let outcome = anneal_through(
        &grid,
        &oxide,
        &[Surface::Oxide],
        &[start],
        3600.0,
        Control::default(),
    );
    assert!(outcome.finished);
    let (x, c) = (um(&grid), &outcome.concentration_cm3[0]);
    let reference = reference("c14");
    let mut worst = 0.0_f64;
    for (depth, expected) in reference.depth_um.iter().zip(&reference.dopants[0]) {
        if *depth < 3.9 {
            worst = worst.max((value_at(&x, c, *depth) / expected - 1.0).abs());
        }
    }
    assert!(worst < 0.002, "{worst}");
    // Cs/Cb = 0.211113 and a uniform oxide of 7.0371e15 per cm3.
    near(c[0], 2.111_13e15, 0.003);
    let last = outcome.oxide.last().unwrap();
    near(last.depth_cm, 0.54772e-4, 1e-5);
    near(last.concentration_cm3[0], 7.0371e15, 0.003);
    let ledger = outcome.ledgers[0];
    assert!(ledger.balance().abs() < 1e-9, "{ledger:?}");
    near(ledger.oxide_cm2, 7.0371e15 * 0.54772e-4, 0.003);
    near(ledger.fresh_cm2, 1e16 * 0.241e-4, 0.001);
}

/// Interstitials at three times their equilibrium, without an oxide.
struct Supersaturated {
    crystal: Crystal,
    species: Species,
}

impl Schedule for Supersaturated {
    fn at(&self, _: f64) -> Moment {
        Moment {
            pace: 1.0,
            crystal: self.crystal,
            species: vec![self.species],
            oxide_cm: 0.0,
            segregation: vec![1.0],
            supersaturation: 3.0,
        }
    }

    fn interstitial_share(&self) -> &[f64] {
        &[1.0]
    }
}

#[test]
fn supersaturated_boron_c17() {
    let (species, ni) = species(Dopant::Boron, 1000.0, 1.0);
    let crystal = Crystal { intrinsic_cm3: ni, background_cm3: 1e15 };
    let grid = Grid::graded(1.5e-4, |x| 1e-7 + 0.01 * x);
    let start = vec![implanted(1e13, 0.1608, 0.0504).on_grid(&grid)];
    let furnace = Supersaturated { crystal, species };
    let outcome = anneal_through(
        &grid,
        &furnace,
        &[Surface::Closed],
        &start,
        3600.0,
        Control::default(),
    );
    agrees("c17", 0, &um(&grid), &outcome.concentration_cm3[0]);
    assert!(outcome.ledgers[0].balance().abs() < 1e-9 && outcome.oxide.is_empty());
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

/// All reference profiles are held by a test.
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

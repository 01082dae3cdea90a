//! Single ions: the scattering integral, ranges against the computed table, and the book-keeping
//! of ions, dose and energy.
#![expect(
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops at the first surprise, in its helpers too"
)]

use barewafer_process::implantation::ImplantationResults;
use barewafer_process::implantation::monte_carlo::{TrackRun, half_angle_sine_squared};
use barewafer_process::report::{Report, Results};
use barewafer_process::vocabulary::{Ion, Material};
use barewafer_process::{RequestError, run_text};
use barewafer_tests::reference;
use proptest::prelude::*;
use serde_json::{Value, json};

fn ask(mut request: Value) -> Result<Report, RequestError> {
    request["operation"] = json!("implantation");
    request["model"] = json!("monte_carlo");
    run_text(request.to_string().as_bytes())
}

fn results(request: Value) -> ImplantationResults {
    let report = ask(request).expect("a good request");
    let Results::Implantation(results) = report.results else {
        panic!("not an implantation")
    };
    results
}

fn start(request: &Value) -> TrackRun {
    let Value::Object(map) = request.clone() else { panic!("not an object") };
    TrackRun::start(map).expect("a good request")
}

fn close(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!(
        (found - expected).abs() <= tolerance * expected.abs(),
        "{what}: {found} for {expected}"
    );
}

#[test]
fn angles_are_those_of_an_independent_quadrature() {
    for row in reference("scattering_angles.csv") {
        let energy = row.required("reduced_energy");
        let impact = row.required("reduced_impact");
        let expected = row.required("sine_squared");
        let found = half_angle_sine_squared(energy, impact);
        assert!(
            (found - expected).abs() <= 1e-9 + 1e-3 * expected,
            "{energy} {impact}: {found} for {expected}"
        );
    }
}

#[test]
fn ranges_are_those_of_the_computed_table() {
    let rows = reference("implant_ranges.csv").into_iter().filter(|row| {
        row.text("known_by") == "computed" && row.text("target") == "silicon"
    });
    let mut checked = 0;
    for row in rows {
        let what = format!("{} {}", row.text("id"), row.text("ion"));
        let found = results(json!({
            "dopant": row.text("ion"),
            "energy_kev": row.required("energy_kev"),
            "tilt_deg": 0,
            "ions": 20_000,
        }));
        close(
            found.projected_range_nm,
            1e3 * row.required("range_um"),
            row.required("range_tolerance"),
            &what,
        );
        close(
            found.straggle_nm,
            1e3 * row.required("straggle_um"),
            row.required("straggle_tolerance"),
            &what,
        );
        close(
            found.lateral_straggle_nm,
            1e3 * row.required("lateral_um"),
            row.required("lateral_tolerance"),
            &what,
        );
        checked += 1;
    }
    assert_eq!(checked, 12);
}

#[test]
fn layers_of_compounds_stop_ions_as_the_computed_table_says() {
    let rows: Vec<_> = reference("implant_ranges.csv")
        .into_iter()
        .filter(|row| {
            row.text("known_by") == "computed"
                && row.text("target") != "silicon"
                && (row.required("energy_kev") - 100.0).abs() < 1e-9
        })
        .collect();
    assert_eq!(rows.len(), 16);
    for row in rows {
        let what = format!("{} {}", row.text("id"), row.text("ion"));
        // A layer so thick that all ions rest in it.
        let found = results(json!({
            "dopant": row.text("ion"),
            "energy_kev": 100,
            "tilt_deg": 0,
            "ions": 4000,
            "through": [{"material": row.text("target"), "thickness_nm": 5000}],
        }));
        let ions = found.single_ions.as_ref().expect("single ions");
        // Beside the tolerance of the row, three standard errors of so few ions.
        let error = ions.projected_range_error_nm.expect("many ions");
        close(
            found.projected_range_nm,
            1e3 * row.required("range_um"),
            row.required("range_tolerance") + 3.0 * error / found.projected_range_nm,
            &what,
        );
        let error = ions.straggle_error_nm.expect("many ions");
        close(
            found.straggle_nm,
            1e3 * row.required("straggle_um"),
            row.required("straggle_tolerance") + 3.0 * error / found.straggle_nm,
            &what,
        );
        assert!(found.transmitted_fraction <= 0.0);
    }
}

#[test]
fn however_the_ions_are_grouped_the_bits_are_the_same() {
    let request = json!({
        "operation": "implantation", "model": "monte_carlo", "dopant": "boron",
        "energy_kev": 40, "ions": 200, "seed": 11,
        "through": [{"material": "thermal_oxide", "thickness_nm": 40}],
    });
    let whole = run_text(request.to_string().as_bytes()).expect("a good request");
    let mut run = start(&request);
    for chunk in [1, 7, 0, 150, 1000] {
        run.advance(chunk);
        // A look in between changes nothing.
        assert!(run.report().working.len() > 5);
    }
    assert_eq!((run.done(), run.total()), (200, 200));
    assert_eq!(run.report().results.to_value(), whole.results.to_value());
    let mut other = request;
    other["seed"] = json!(12);
    let other = run_text(other.to_string().as_bytes()).expect("a good request");
    assert_ne!(other.results.to_value(), whole.results.to_value());
}

#[test]
fn a_longer_run_begins_with_the_same_ions() {
    let request =
        |ions: u32| json!({"dopant": "phosphorus", "energy_kev": 30, "ions": ions});
    let few = results(request(25)).single_ions.expect("single ions");
    let many = results(request(70)).single_ions.expect("single ions");
    assert_eq!(few.tracks, many.tracks[..25]);
    assert_eq!(many.tracks.len(), 60);
}

#[test]
fn boron_of_bf2_is_boron_at_its_share_of_the_energy() {
    let molecule = results(json!({"dopant": "bf2", "energy_kev": 49.006, "ions": 300}));
    let atom = results(json!({"dopant": "boron", "energy_kev": 11.009, "ions": 300}));
    close(molecule.projected_range_nm, atom.projected_range_nm, 1e-9, "range");
    close(molecule.straggle_nm, atom.straggle_nm, 1e-9, "straggle");
}

#[test]
fn a_layer_in_two_halves_is_one_layer() {
    let through = |layers: Value| {
        results(json!({"dopant": "arsenic", "energy_kev": 80, "ions": 3000,
                       "through": layers}))
    };
    let one = through(json!([{"material": "nitride", "thickness_nm": 30}]));
    let two = through(json!([{"material": "nitride", "thickness_nm": 17},
                             {"material": "nitride", "thickness_nm": 13}]));
    let error = one.single_ions.and_then(|ions| ions.projected_range_error_nm);
    let error = error.expect("many ions");
    assert!((one.projected_range_nm - two.projected_range_nm).abs() < 3.0 * error);
    // Polysilicon stops ions as silicon does: the same flights.
    let poly = through(json!([{"material": "polysilicon", "thickness_nm": 30}]));
    let bare = through(json!([]));
    assert!((poly.projected_range_nm - bare.projected_range_nm).abs() < 3.0 * error);
}

#[test]
fn every_ion_and_every_electron_volt_is_counted_once() {
    let found = results(json!({
        "dopant": "boron", "energy_kev": 25, "dose_cm2": 1e14, "ions": 2000,
        "through": [{"material": "thermal_oxide", "thickness_nm": 60},
                    {"material": "polysilicon", "thickness_nm": 20}],
    }));
    let ions = found.single_ions.expect("single ions");
    let counted: u32 = ions.histogram.ions.iter().sum();
    let lost = (ions.backscattered_fraction * 2000.0).round();
    assert!((f64::from(counted) + lost - 2000.0).abs() < 1e-9);
    let in_layers: f64 = found.layers.iter().map(|layer| layer.dose_cm2).sum();
    let all = in_layers + found.retained_dose_cm2 + 1e14 * found.lost_fraction;
    close(all, 1e14, 1e-12, "dose");
    close(found.retained_dose_cm2, 1e14 * found.transmitted_fraction, 1e-12, "silicon");
    assert!(found.layers.iter().all(|layer| 0.0 < layer.dose_cm2));

    let bars = &ions.histogram;
    let sum = |values: &[f64]| -> f64 {
        values
            .iter()
            .zip(bars.from_um.iter().zip(&bars.to_um))
            .map(|(value, (from, to))| 1e-4 * value * (to - from))
            .sum()
    };
    close(sum(&bars.concentration_cm3), 1e14 - 1e14 * found.lost_fraction, 1e-9, "bars");
    close(sum(&bars.nuclear_ev_cm3), 1e14 * 25e3 * ions.nuclear_fraction, 1e-9, "energy");
    // The profile of the silicon holds the same dose, point by point.
    let (_, values) = &found.profile.dopants[0];
    let dose: f64 = found
        .profile
        .depth_um
        .windows(2)
        .zip(values.windows(2))
        .map(|(x, c)| 0.5e-4 * (c[0] + c[1]) * (x[1] - x[0]))
        .sum();
    close(dose, found.retained_dose_cm2, 0.01, "profile");
}

#[test]
fn a_tilted_beam_rests_less_deep_by_the_cosine() {
    let tilted = |tilt_deg: f64| {
        results(json!({"dopant": "phosphorus", "energy_kev": 100, "ions": 4000,
                       "tilt_deg": tilt_deg, "rotation_deg": 0}))
    };
    let (straight, slanted) = (tilted(0.0), tilted(45.0));
    close(straight.range_depth_nm, straight.projected_range_nm, 1e-9, "no tilt");
    let half = 0.5_f64.sqrt();
    close(slanted.range_depth_nm, straight.projected_range_nm * half, 0.02, "depth");
    let across = straight.straggle_nm.hypot2(straight.lateral_straggle_nm) * half;
    close(slanted.depth_straggle_nm, across, 0.04, "straggle");
    // The tracks lean to the side the beam comes from.
    let ends = |found: &ImplantationResults| {
        let tracks = &found.single_ions.as_ref().expect("single ions").tracks;
        tracks.iter().filter_map(|t| t.points_nm.last()).map(|p| p[0]).sum::<f64>() / 60.0
    };
    assert!(ends(&straight).abs() < 30.0);
    assert!(50.0 < ends(&slanted));
}

/// Length of the sum of two perpendicular parts.
trait Hypotenuse {
    fn hypot2(self, other: f64) -> f64;
}

impl Hypotenuse for f64 {
    fn hypot2(self, other: f64) -> f64 {
        (self * self + other * other).sqrt()
    }
}

#[test]
fn four_times_the_ions_halve_the_error() {
    let error = |ions: u32| {
        results(json!({"dopant": "antimony", "energy_kev": 60, "ions": ions}))
            .single_ions
            .and_then(|ions| ions.projected_range_error_nm)
            .expect("many ions")
    };
    close(error(1000), 2.0 * error(4000), 0.1, "standard error");
}

#[test]
fn a_heavy_dose_makes_the_crystal_amorphous_where_its_energy_went() {
    let found = |dose_cm2: f64| {
        results(json!({"dopant": "arsenic", "energy_kev": 100, "ions": 1000,
                       "dose_cm2": dose_cm2}))
    };
    assert_eq!(found(1e13).amorphous_depth_nm, None);
    let depth_nm = found(1e15).amorphous_depth_nm.expect("amorphous");
    // Energy is handed over on the way, so the layer ends a little below the range.
    assert!((68.0..140.0).contains(&depth_nm), "{depth_nm}");
    assert!(depth_nm <= found(1e16).amorphous_depth_nm.expect("amorphous"));
}

#[test]
fn warnings_name_what_the_counts_cannot_tell() {
    let codes = |request: Value| -> Vec<&'static str> {
        let report = ask(request).expect("a good request");
        report.warnings.iter().map(|warning| warning.code).collect()
    };
    let few = codes(json!({"dopant": "boron", "energy_kev": 50, "ions": 10}));
    assert!(few.contains(&"few_ions") && few.contains(&"junction_not_counted"));
    let many = codes(json!({"dopant": "arsenic", "energy_kev": 50, "ions": 2000,
        "substrate": {"type": "p", "concentration_cm3": 1e18}}));
    assert!(many.is_empty(), "{many:?}");
    let fast = codes(json!({"dopant": "boron", "energy_kev": 400, "ions": 30}));
    assert!(fast.contains(&"outside_published_range"));
}

#[test]
fn a_junction_is_told_where_ions_tell_it() {
    let found = results(json!({"dopant": "phosphorus", "energy_kev": 150, "ions": 5000,
        "substrate": {"type": "p", "concentration_cm3": 1e18}}));
    let [shallow, deep] = found.junctions_um[..] else {
        panic!("{:?}", found.junctions_um)
    };
    assert!(0.0 < shallow && shallow < 0.1, "{shallow}");
    assert!(0.33 < deep && deep < 0.45, "{deep}");
}

#[test]
fn mistakes_are_named() {
    let cases = [
        (json!({"dopant": "boron", "energy_kev": 50, "ions": 0}), "out_of_range", "ions"),
        (
            json!({"dopant": "boron", "energy_kev": 50, "ions": 200_001}),
            "out_of_range",
            "ions",
        ),
        (json!({"dopant": "boron", "energy_kev": 50, "ions": 2.5}), "not_whole", "ions"),
        (
            json!({"dopant": "boron", "energy_kev": 50, "seed": -1}),
            "out_of_range",
            "seed",
        ),
        (json!({"dopant": "boron", "energy_kev": 50, "seed": 0.5}), "not_whole", "seed"),
    ];
    for (request, code, field) in cases {
        let error = ask(request).expect_err("a bad request");
        assert_eq!((error.code, error.field.as_str()), (code, field), "{error}");
    }
    let Value::Object(other) = json!({"dopant": "boron", "energy_kev": 50}) else {
        panic!("not an object")
    };
    assert_eq!(TrackRun::start(other).expect_err("another model").code, "wrong_model");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn any_implant_ends_with_all_its_ions(
        ion in 0..Ion::ALL.len(),
        layers in prop::collection::vec((0..Material::ALL.len(), 0.0..300.0), 0..4),
        target in 0..Material::ALL.len(),
        energy_kev in 5.0..400.0,
        tilt_deg in 0.0..60.0,
        ions in 1_u32..25,
        seed in any::<u32>(),
    ) {
        let through: Vec<Value> = layers
            .iter()
            .map(|&(m, nm)| json!({"material": Material::ALL[m].word(), "thickness_nm": nm}))
            .collect();
        let report = ask(json!({
            "dopant": Ion::ALL[ion].word(), "energy_kev": energy_kev, "tilt_deg": tilt_deg,
            "target": Material::ALL[target].word(), "through": through,
            "ions": ions, "seed": seed,
        })).expect("a good request");
        let value = report.results.to_value();
        let Results::Implantation(found) = report.results else { panic!("an implantation") };
        let single = found.single_ions.expect("single ions");
        let counted: u32 = single.histogram.ions.iter().sum();
        let lost = single.backscattered_fraction * f64::from(ions);
        prop_assert!((f64::from(counted) + lost - f64::from(ions)).abs() < 1e-9);
        prop_assert_eq!(single.tracks.len(), ions as usize);
        prop_assert!((0.0..=1.0).contains(&single.nuclear_fraction));
        prop_assert!(found.projected_range_nm.is_finite() && found.straggle_nm.is_finite());
        prop_assert!(found.profile.depth_um.windows(2).all(|w| w[0] < w[1]));
        // Null are the errors of too few ions, what is not there (layers, beam, junction), and
        // what follows from a range table only.
        let nulls = [
            "error", "mask", "beam", "junction", "amorphous", "damage", "activation",
            "transient_diffusion", "fluorine", "spread", "drawn_kurtosis",
        ];
        for (name, one) in value.as_object().expect("an object") {
            prop_assert!(!one.is_null() || nulls.iter().any(|n| name.contains(n)), "{}", name);
        }
    }
}

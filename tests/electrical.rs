//! Mobility, resistivity, sheet resistance and junctions against tabulated values.

#![expect(clippy::panic, clippy::unwrap_used, reason = "a failing test may panic")]

use std::path::PathBuf;

use barewafer_process::diffusion::closed_form::{LimitedSource, inverse_erfc};
use barewafer_process::electrical::depletion::{built_in_v, one_sided_capacitance_f_cm2};
use barewafer_process::electrical::junction::junctions_um;
use barewafer_process::electrical::mobility::{masetti_cm2_vs, two_term_cm2_vs};
use barewafer_process::electrical::probing::four_point_ohm_sq;
use barewafer_process::electrical::resistivity::{f723_concentration_cm3, f723_ohm_cm};
use barewafer_process::electrical::sheet_resistance::{ActiveDoping, layers};
use barewafer_process::num::{erfc, exp, linspace, ln};
use barewafer_process::profile::Profile;
use barewafer_process::vocabulary::{Dopant, DopingType, MobilityModel, Substrate};

/// Value and tolerance (relative) of a row of the table.
fn row(id: &str) -> (f64, f64) {
    let path =
        PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("reference/device_checks.csv");
    let mut reader = csv::Reader::from_path(path).unwrap();
    let record = reader
        .records()
        .map(|record| record.unwrap())
        .find(|record| &record[0] == id)
        .unwrap_or_else(|| panic!("no row {id}"));
    let tolerance = record[5].split('%').next().unwrap().trim().parse::<f64>().unwrap();
    (record[3].parse().unwrap(), tolerance / 100.0)
}

#[track_caller]
fn holds(id: &str, found: f64) {
    let (expected, tolerance) = row(id);
    assert!(
        (found / expected - 1.0).abs() <= tolerance,
        "{id}: {found} against {expected} within {tolerance}"
    );
}

#[test]
fn resistivities_of_wafers() {
    holds("D14", f723_ohm_cm(DopingType::P, 1e16));
    holds("D15", f723_ohm_cm(DopingType::N, 1e16));
    holds("D16", f723_ohm_cm(DopingType::P, 1e18));
    for doping in [DopingType::P, DopingType::N] {
        for n in [1.3e13, 1e15, 4e17, 9e19] {
            let back = f723_concentration_cm3(doping, f723_ohm_cm(doping, n)).unwrap();
            assert!((back / n - 1.0).abs() < 1e-9);
        }
        assert!(f723_concentration_cm3(doping, 1e9).is_none());
    }
}

#[test]
fn mobilities() {
    holds("D17", two_term_cm2_vs(Dopant::Phosphorus, 1e18));
    holds("D18", two_term_cm2_vs(Dopant::Arsenic, 1e18));
    holds("D19", two_term_cm2_vs(Dopant::Boron, 1e18));
    holds("D20", masetti_cm2_vs(Dopant::Phosphorus, 1e19));
    holds("D21", masetti_cm2_vs(Dopant::Boron, 1e19));
}

#[test]
fn junctions_without_a_voltage() {
    holds("D39", built_in_v(1e17, 1e16));
    holds("D40", one_sided_capacitance_f_cm2(1e16, 0.9524));
}

/// Sheet resistance of one dopant of a given shape over a substrate of 1e15.
fn sheet(dopant: Dopant, depth_um: f64, shape: impl Fn(f64) -> f64) -> f64 {
    let substrate = Substrate::opposite_to(dopant);
    let x = linspace(0.0, 1.2 * depth_um, 160);
    let c: Vec<f64> = x.iter().map(|&x| shape(x)).collect();
    let profile = Profile {
        depth_um: x.clone(),
        dopants: vec![(dopant, c.clone())],
        ..Profile::default()
    };
    let junctions = junctions_um(&profile, substrate.net_donors_cm3());
    assert_eq!(junctions.len(), 1);
    assert!((junctions[0] / depth_um - 1.0).abs() < 2e-3, "{junctions:?}");
    let doping = ActiveDoping::new(x, &[(dopant, c)], substrate);
    let conductivity = doping.conductivity_s_cm(MobilityModel::Masetti1983);
    let (layers, _) = layers(&doping, &conductivity, &junctions);
    assert_eq!(layers.len(), 2);
    assert_eq!(layers[0].doping_type, dopant.doping_type());
    assert_eq!(layers[1].doping_type, substrate.doping_type);
    layers[0].sheet_resistance_ohm_sq.unwrap()
}

#[test]
fn sheet_resistances_of_textbook_profiles() {
    let gaussian = |surface: f64, depth_um: f64| {
        let k = ln(surface / 1e15) / (depth_um * depth_um);
        move |x: f64| surface * exp(-k * x * x)
    };
    let error_function = |surface: f64, depth_um: f64| {
        let y = inverse_erfc(1e15 / surface).unwrap();
        move |x: f64| surface * erfc(x * y / depth_um)
    };
    holds("D22", sheet(Dopant::Boron, 1.0, gaussian(1e20, 1.0)));
    holds("D23", sheet(Dopant::Phosphorus, 1.0, error_function(1e20, 1.0)));
    holds("D24", sheet(Dopant::Boron, 3.0, gaussian(1e18, 3.0)));
    holds("D25", four_point_ohm_sq(10.0));
}

#[test]
fn a_base_under_an_emitter_has_two_junctions() {
    let emitter = LimitedSource { dose_cm2: 5e15, range_um: 0.0, width_um: 0.1 };
    let base = LimitedSource { dose_cm2: 2e13, range_um: 0.0, width_um: 0.4 };
    let depth_um = linspace(0.0, 2.5, 300);
    let of = |source: LimitedSource| {
        depth_um.iter().map(|&x| source.concentration_cm3(x)).collect::<Vec<f64>>()
    };
    let dopants = vec![(Dopant::Arsenic, of(emitter)), (Dopant::Boron, of(base))];
    let substrate = Substrate { doping_type: DopingType::N, concentration_cm3: 1e15 };
    let profile = Profile {
        depth_um: depth_um.clone(),
        dopants: dopants.clone(),
        ..Profile::default()
    };
    let junctions = junctions_um(&profile, substrate.net_donors_cm3());
    assert_eq!(junctions.len(), 2, "{junctions:?}");
    let doping = ActiveDoping::new(depth_um, &dopants, substrate);
    let conductivity = doping.conductivity_s_cm(MobilityModel::Arora1982);
    let (layers, depletion) = layers(&doping, &conductivity, &junctions);
    assert_eq!(depletion.len(), 2);
    for edges in depletion {
        assert!(edges.upper_um < edges.junction_um && edges.junction_um < edges.lower_um);
        assert!((0.6..1.1).contains(&edges.built_in_v), "{edges:?}");
    }
    let types: Vec<DopingType> = layers.iter().map(|layer| layer.doping_type).collect();
    assert_eq!(types, [DopingType::N, DopingType::P, DopingType::N]);
    // The pinched base conducts less than the whole base would.
    let pinched = layers[1].sheet_resistance_ohm_sq.unwrap();
    assert!(2000.0 < pinched, "{pinched}");
}

//! Laws that every diffusion keeps: dose, symmetry, growth with the root of time.

use barewafer_process::diffusion::solver::{Control, Crystal, Grid, Surface, anneal};
use barewafer_process::num::{exp, ln};
use barewafer_process::vocabulary::Dopant;
use barewafer_tests::answers::{ask, list, near, number};
use barewafer_tests::silicon_layers::{implanted, largest, species, um, value_at};
use proptest::prelude::*;
use serde_json::{Value, json};

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

//! Bleaching, thin films, bake and development against reference rows and closed forms.

use barewafer_process::lithography::development::{
    RateLaw, Section, critical_modulation, resist_contrast,
};
use barewafer_process::lithography::exposure::{
    BleachTable, Bleaching, Kernel, MercuryLine, ResistFilm,
};
use barewafer_process::num::{cos, exp, ln};
use barewafer_process::thin_film::{Complex, Layer};
use barewafer_process::vocabulary::Material;
use barewafer_tests::rows;
use proptest::prelude::*;

const PI: f64 = core::f64::consts::PI;

#[track_caller]
fn check(id: &str, found: &[f64]) {
    rows::check("litho_checks.csv", id, found);
}

/// A film between media of its own index: no reflection.
fn lone(a: f64, b: f64, c: f64, wavelength_nm: f64, index: f64) -> ResistFilm {
    ResistFilm {
        wavelength_nm,
        bleaching: Bleaching {
            bleachable_per_um: a,
            residual_per_um: b,
            bleach_rate_cm2_mj: c,
            index,
        },
        thickness_um: 1.0,
        cells: 400,
        above: index,
        below: Vec::new(),
        substrate: Complex::real(index),
    }
}

/// What gets through a film after a dose: its light at the foot, half a cell further.
fn transmission(table: &mut BleachTable, dose_mj_cm2: f64) -> f64 {
    table.reach(dose_mj_cm2);
    let film = table.film().clone();
    let mut pac = vec![0.0; film.cells];
    table.pac(dose_mj_cm2, &mut pac);
    let light = film.light(&pac);
    let last = film.cells - 1;
    let absorption =
        film.bleaching.bleachable_per_um * pac[last] + film.bleaching.residual_per_um;
    light.intensity[last] * exp(-0.5 * absorption * film.cell_um())
}

fn bottom(table: &mut BleachTable, dose_mj_cm2: f64) -> f64 {
    table.reach(dose_mj_cm2);
    let mut pac = vec![0.0; table.film().cells];
    table.pac(dose_mj_cm2, &mut pac);
    pac[pac.len() - 1]
}

#[test]
fn bleaching_rows_hold() {
    let mut table = BleachTable::new(lone(0.86, 0.07, 0.018, 404.7, 1.68));
    check("RX-01", &[transmission(&mut table, 0.0), transmission(&mut table, 5000.0)]);
    check(
        "RX-03",
        &[50.0, 100.0, 200.0, 400.0].map(|dose| transmission(&mut table, dose)),
    );
    check("RX-04", &[50.0, 100.0, 200.0].map(|dose| bottom(&mut table, dose)));
    let slope = (transmission(&mut table, 0.2) - transmission(&mut table, 0.0)) / 0.2;
    check("RX-05", &[slope]);
    let mut clear = BleachTable::new(lone(0.86, 0.0, 0.018, 404.7, 1.68));
    check("RX-02", &[bottom(&mut clear, 100.0), transmission(&mut clear, 100.0)]);
}

fn silicon() -> Complex {
    MercuryLine::I.index(Material::Silicon).unwrap_or(Complex::ZERO)
}

#[test]
fn thin_film_rows_hold() {
    let film = ResistFilm { above: 1.0, ..lone(0.0, 0.0, 0.016, 365.0, 1.70) };
    let light = film.light(&vec![1.0; 400]);
    let mean = light.intensity.iter().sum::<f64>() / 400.0;
    check("TF-01", &[mean]);
    let in_resist =
        ResistFilm { substrate: silicon(), ..lone(0.0, 0.0, 0.016, 365.0, 1.70) };
    check("TF-02", &[in_resist.light(&vec![1.0; 400]).reflectance]);
    let none = ResistFilm { thickness_um: 1e-9, above: 1.0, ..in_resist.clone() };
    check("TF-03", &[none.light(&vec![1.0; 400]).reflectance]);
    let oxide = MercuryLine::I.index(Material::ThermalOxide).unwrap_or(Complex::ZERO);
    let on_oxide =
        ResistFilm { below: vec![Layer { index: oxide, thickness_nm: 100.0 }], ..none };
    check("TF-04", &[on_oxide.light(&vec![1.0; 400]).reflectance]);
    check("TF-05", &[365.0 / (2.0 * 1.70)]);
    // k = 0.02 as a permanent absorption.
    let lossy = lone(0.0, 0.02 * 4.0 * PI / 0.365, 0.016, 365.0, 1.70);
    let lossy = ResistFilm { above: 1.0, substrate: silicon(), ..lossy };
    check("TF-09", &[lossy.light(&vec![1.0; 400]).reflectance]);
}

#[test]
fn bake_and_rate_rows_hold() {
    // A wave of the period on cells of 1 nm over whole periods between mirrors.
    let period = 107.35;
    let cells = 2147;
    let mut wave: Vec<f64> = (0..cells)
        .map(|i| cos(2.0 * PI * (f64::from(i) + 0.5) * 2.0 / (2.0 * period)))
        .collect();
    let before = wave[0];
    Kernel::new(50.0, 1.0).spread(&mut wave, &mut Vec::new());
    check("PB-01", &[wave[0] / before]);
    let law = RateLaw {
        fastest_nm_s: 100.0,
        slowest_nm_s: 0.1,
        threshold_pac: 0.5,
        order: 4.0,
    };
    check("DV-01", &[0.0, 0.25, 0.5, 0.75, 1.0].map(|pac| law.nm_s(pac)));
    check("DV-07", &[resist_contrast(100.0, 200.0)]);
    check("DV-08", &[critical_modulation(3.0)]);
}

#[test]
fn front_rows_hold() {
    let even = Section { columns: 3, rows: 200, dx_nm: 5.0, dz_nm: 5.0 };
    let time = even.arrival_s(&vec![50.0; 600], |_, _| false);
    // The middle of a cell lies half a cell above 0.995 um.
    let depth = |i: usize, share: f64| time[i] + (time[i + 1] - time[i]) * share;
    check("DV-02", &[depth(198, 0.5)]);
    let half = Section { columns: 120, rows: 200, dx_nm: 5.0, dz_nm: 5.0 };
    let rates: Vec<f64> =
        (0..24_000).map(|cell| if cell / 200 < 60 { 100.0 } else { 20.0 }).collect();
    let time = half.arrival_s(&rates, |_, _| false);
    // 0.7975 um deep and 0.0825 um into the slow side.
    check("DV-09", &[time[(60 + 16) * 200 + 159]]);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_film_without_bleaching_fades_as_beer_and_lambert_say(b in 0.0_f64..2.0) {
        let light = lone(0.0, b, 0.016, 365.0, 1.7).light(&vec![1.0; 400]);
        for (i, found) in light.intensity.iter().enumerate() {
            let depth_um = (f64::from(u32::try_from(i).unwrap_or(0)) + 0.5) / 400.0;
            // The step of absorption at both faces reflects some 1e-4 of the amplitude.
            prop_assert!((ln(*found) + b * depth_um).abs() < 0.09 * b + 1e-12, "{i}: {found}");
        }
        let last = light.intensity[399] / light.intensity[0];
        prop_assert!((last - exp(-b * 399.0 / 400.0)).abs() < 0.02 * b + 1e-12);
    }

    #[test]
    fn an_even_film_has_the_closed_form(
        k in 0.0_f64..0.05, thickness_um in 0.2_f64..2.0, at in 0_usize..400
    ) {
        let b = k * 4.0 * PI / 0.365;
        let film = ResistFilm {
            thickness_um, above: 1.0, substrate: silicon(), ..lone(0.0, b, 0.016, 365.0, 1.7)
        };
        let light = film.light(&vec![1.0; 400]);
        let n2 = Complex::new(1.7, -k);
        let n3 = silicon();
        let one = Complex::ONE;
        let (r12, t12) = ((one - n2) / (one + n2), Complex::real(2.0) / (one + n2));
        let r23 = (n2 - n3) / (n2 + n3);
        let turn = |z_um: f64| {
            let size = exp(-2.0 * PI * k * z_um / 0.365);
            let angle = 2.0 * PI * 1.7 * z_um / 0.365;
            Complex::new(size * cos(angle), -size * barewafer_process::num::sin(angle))
        };
        let tau = turn(thickness_um);
        let z = thickness_um * (f64::from(u32::try_from(at).unwrap_or(0)) + 0.5) / 400.0;
        let back = r23 * tau * tau;
        let field = t12 * (turn(z) + back / turn(z)) / (one + r12 * back);
        let known = 1.7 * field.squared_size();
        prop_assert!((light.intensity[at] - known).abs() < 1e-9 * (1.0 + known), "{known}");
        let r = (r12 + back) / (one + r12 * back);
        prop_assert!((light.reflectance - r.squared_size()).abs() < 1e-10);
    }

    #[test]
    fn what_falls_in_is_sent_back_absorbed_or_let_through(b in 0.0_f64..1.0, nm in 0.0_f64..400.0) {
        let oxide = MercuryLine::I.index(Material::ThermalOxide).unwrap_or(Complex::ZERO);
        let film = ResistFilm {
            above: 1.0,
            below: vec![Layer { index: oxide, thickness_nm: nm }],
            substrate: Complex::real(4.0),
            ..lone(0.0, b, 0.016, 365.0, 1.7)
        };
        let light = film.light(&vec![1.0; 400]);
        let absorbed: f64 = light.intensity.iter().map(|i| i * b * film.cell_um()).sum();
        prop_assert!(absorbed + light.reflectance < 1.0 + 1e-6);
        if b == 0.0 {
            prop_assert!(absorbed == 0.0);
        }
    }

    #[test]
    fn an_even_film_is_developed_at_its_rate(rate in 0.5_f64..200.0, rows in 2_usize..300) {
        let section = Section { columns: 4, rows, dx_nm: 7.0, dz_nm: 3.0 };
        let time = section.arrival_s(&vec![rate; 4 * rows], |_, _| false);
        let depth_nm = 3.0 * (f64::from(u32::try_from(rows).unwrap_or(0)) - 0.5);
        prop_assert!((time[rows - 1] * rate / depth_nm - 1.0).abs() < 1e-12);
    }
}

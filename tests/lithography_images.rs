//! Aerial images against reference tables, closed forms and limits.

use barewafer_process::lithography::imaging::{
    Mask, Optics, Pattern, SOURCE_RINGS, Shadow, Window, contrast, cut_off_per_um,
    incoherent_transfer, knife_edge, log_slope_per_um, proximity_resolution_um, slit,
};
use barewafer_process::num::linspace;
use barewafer_tests::{reference, rows};
use proptest::prelude::*;

const PI: f64 = core::f64::consts::PI;

fn optics(partial_coherence: f64, defocus_um: f64) -> Optics {
    Optics {
        wavelength_um: 0.365,
        numerical_aperture: 0.5,
        partial_coherence,
        defocus_um,
        source_rings: SOURCE_RINGS,
    }
}

fn mask(pattern: Pattern, pitch_um: f64, opening_um: f64) -> Mask {
    Mask { pattern, pitch_um, opening_um, ..Mask::default() }
}

/// As the bench computes it.
fn window(pattern: Pattern, pitch_um: f64, opening_um: f64) -> Window {
    mask(pattern, pitch_um, opening_um).window(0.365 / 0.5)
}

#[track_caller]
fn check(id: &str, found: &[f64]) {
    rows::check("litho_checks.csv", id, found);
}

fn worst_of_table(name: &str, window: &Window) -> f64 {
    let rows = reference(name);
    let x: Vec<f64> = rows.iter().map(|row| row.required("x_um")).collect();
    let mut worst: f64 = 0.0;
    for (defocus_um, column) in
        [(0.0, "I_defocus_0.0um"), (0.4, "I_defocus_0.4um"), (0.8, "I_defocus_0.8um")]
    {
        let image = optics(0.5, defocus_um).image(window, &x);
        for (row, found) in rows.iter().zip(&image) {
            worst = worst.max((found - row.required(column)).abs());
        }
    }
    worst
}

#[test]
fn images_are_those_of_the_reference_tables() {
    for (name, window) in [
        ("aerial_linespace.csv", window(Pattern::LineSpace, 1.0, 0.5)),
        ("aerial_edge.csv", window(Pattern::Edge, 1.0, 0.5)),
        ("aerial_space.csv", window(Pattern::IsolatedSpace, 1.0, 0.5)),
    ] {
        let worst = worst_of_table(name, &window);
        assert!(worst < 5e-4, "{name}: {worst}");
    }
}

#[test]
fn shadow_rows_hold() {
    check("PX-01", &[proximity_resolution_um(0.365, 0.0, 1.0)]);
    check("PX-02", &[proximity_resolution_um(0.365, 10.0, 1.0)]);
    check("PX-03", &[knife_edge(0.0)]);
    check("PX-04", &[knife_edge(1.2172)]);
    check("PX-05", &[knife_edge(1.8725)]);
    check("PX-06", &[slit(2.0, 0.0, 10.0, 0.365)]);
}

#[test]
fn image_rows_hold() {
    let edge = window(Pattern::Edge, 1.0, 0.5);
    check("AI-01", &optics(0.0, 0.0).image(&edge, &[0.0]));
    check("AI-02", &optics(0.0, 0.0).image(&edge, &[0.365]));
    check("AI-03", &optics(0.5, 0.0).image(&edge, &[0.0]));
    let lines = window(Pattern::LineSpace, 1.0, 0.5);
    check("AI-04", &optics(0.5, 0.0).image(&lines, &[0.0, 0.25, 0.5]));
    let dense = window(Pattern::LineSpace, 0.8, 0.4);
    check("AI-05", &optics(0.5, 0.0).image(&dense, &[0.0, 0.2, 0.4]));
    let over_all = linspace(-0.5, 0.5, 201);
    check("AI-06", &[contrast(&optics(0.5, 0.8).image(&lines, &over_all))]);
    let around = optics(0.5, 0.0).image(&lines, &[0.249, 0.25, 0.251]);
    check("AI-07", &[0.5 * log_slope_per_um([around[0], around[1], around[2]], 0.001)]);
    let space = window(Pattern::IsolatedSpace, 1.0, 0.5);
    check("AI-08", &optics(0.5, 0.0).image(&space, &[0.0]));
    check("AI-09", &optics(0.5, 0.8).image(&space, &[0.0]));
    let hole = window(Pattern::ContactArray, 4.0, 0.6);
    let centers: Vec<f64> =
        [0.0, 0.8].iter().map(|&dz| optics(0.5, dz).image(&hole, &[0.0])[0]).collect();
    check("AI-10", &centers);
    check("AI-11", &[0.25, 0.5, 0.75].map(incoherent_transfer));
    check("AI-12", &[0.0, 0.5, 1.0].map(|sigma| cut_off_per_um(sigma, 0.365, 0.5)));
}

/// Shares of the source disc that the pupil takes in when it is displaced by `f` per um: one
/// way, and both ways. Chords in closed form, summed over the disc.
fn overlaps(f: f64, sigma: f64) -> [f64; 2] {
    let (pupil, source) = (0.5 / 0.365, sigma * 0.5 / 0.365);
    let n: u32 = 20_000;
    let (mut one, mut both) = (0.0, 0.0);
    for i in 0..n {
        let sy = source * (f64::from(i) + 0.5) / f64::from(n);
        let chord = (source * source - sy * sy).sqrt();
        let half = (pupil * pupil - sy * sy).sqrt();
        one += (chord.min(half - f) - (-chord).max(-half - f)).max(0.0);
        both += (chord.min(half - f) - (-chord).max(f - half)).max(0.0);
    }
    let area = 0.5 * PI * source * source * f64::from(n) / source;
    [one / area, both / area]
}

/// `{1/2 + Si(u)/pi}^2`, the sine integral by Simpson's rule.
fn coherent_edge(x_um: f64) -> f64 {
    let u = 2.0 * PI * 0.5 * x_um / 0.365;
    let n: u32 = 2000;
    let h = u / f64::from(n);
    let sinc = |t: f64| if t == 0.0 { 1.0 } else { barewafer_process::num::sin(t) / t };
    let mut sum = sinc(0.0) + sinc(u);
    for i in 1..n {
        sum += if i % 2 == 1 { 4.0 } else { 2.0 } * sinc(h * f64::from(i));
    }
    let amplitude = 0.5 + sum * h / 3.0 / PI;
    amplitude * amplitude
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_coherent_edge_is_the_sine_integral(x_um in -0.5_f64..0.5) {
        // The period is finite here: ripples of the far edges reach some thousandths.
        let far = Window { period_um: 400.0, ..window(Pattern::Edge, 1.0, 0.5) };
        let found = optics(0.0, 0.0).image(&far, &[x_um])[0];
        prop_assert!((found - coherent_edge(x_um)).abs() < 3e-3, "{x_um}: {found}");
    }

    #[test]
    fn an_image_is_even_in_defocus_and_in_place(
        dz in 0.0_f64..1.5, sigma in 0.1_f64..0.9, x in 0.0_f64..0.5
    ) {
        let lines = window(Pattern::LineSpace, 1.0, 0.4);
        let [a, b, c] = [(dz, x), (-dz, x), (dz, -x)]
            .map(|(dz, x)| optics(sigma, dz).image(&lines, &[x])[0]);
        prop_assert!((a - b).abs() < 1e-12 && (a - c).abs() < 1e-12);
    }

    #[test]
    fn a_clear_field_is_one_and_a_blocked_one_nothing(
        dz in -1.0_f64..1.0, sigma in 0.0_f64..1.0, x in -1.0_f64..1.0
    ) {
        let all = Window { clear_um: vec![[-9.0, 9.0]], ..window(Pattern::LineSpace, 1.0, 0.5) };
        let none = Window { clear_um: Vec::new(), ..all.clone() };
        prop_assert!((optics(sigma, dz).image(&all, &[x])[0] - 1.0).abs() < 1e-12);
        prop_assert!(optics(sigma, dz).image(&none, &[x])[0] < 1e-15);
    }

    #[test]
    fn lines_with_one_pair_of_orders_have_the_closed_form(x in -0.4_f64..0.4) {
        let [t10, t11] = overlaps(1.0 / 0.8, 0.5);
        let wave = |n: f64| barewafer_process::num::cos(2.0 * PI * n * x / 0.8);
        let known = 0.25 + 2.0 / PI * t10 * wave(1.0)
            + 2.0 / (PI * PI) * (t10 + t11 * wave(2.0));
        let found = optics(0.5, 0.0).image(&window(Pattern::LineSpace, 0.8, 0.4), &[x])[0];
        prop_assert!((found - known).abs() < 3e-4, "{x}: {found} {known}");
    }

    #[test]
    fn fine_lines_in_incoherent_light_follow_the_transfer_function(nu in 0.52_f64..0.98) {
        // Above half the cut-off only the first harmonic gets through. A source as wide as the
        // pupil gives it the weight of incoherent light: 2 c0 c1 MTF, four times from top to
        // bottom with c0 = 1/2 and c1 = 1/pi.
        let pitch = 1.0 / (nu * 2.0 * 0.5 / 0.365);
        let lens = Optics { source_rings: 64, ..optics(1.0, 0.0) };
        let image = lens.image(&window(Pattern::LineSpace, pitch, 0.5 * pitch), &[0.0, 0.5 * pitch]);
        let known = 4.0 / PI * incoherent_transfer(nu);
        let found = image[0] - image[1];
        prop_assert!((found - known).abs() < 0.003, "{nu}: {found} {known}");
    }

    #[test]
    fn a_shadow_in_the_limit_of_contact_is_the_mask(x in 0.05_f64..0.45) {
        let lamp = Shadow { wavelength_um: 0.436, half_angle_rad: 0.05 };
        let lines = window(Pattern::LineSpace, 1.0, 0.5);
        let found = lamp.image(&lines, &[x], 1e-5)[0];
        let known = if x < 0.25 { 1.0 } else { 0.0 };
        if 0.02 < (x - 0.25).abs() {
            prop_assert!((found - known).abs() < 0.05, "{x}: {found}");
        }
    }
}

#[test]
fn a_repeating_shadow_comes_again_at_the_self_image_distance() {
    // H. F. Talbot (1836): 2 p^2 / lambda, in the paraxial form that Fresnel integrals are.
    let lamp = Shadow { wavelength_um: 0.436, half_angle_rad: 0.0 };
    let lines = window(Pattern::LineSpace, 4.0, 2.0);
    let distance = 2.0 * 16.0 / 0.436;
    let image = lamp.image(&lines, &[0.0, 2.0], distance);
    assert!(0.8 < image[0] && image[1] < 0.2, "{image:?}");
}

#[test]
fn a_lamp_of_some_width_keeps_the_light_and_loses_the_ripples() {
    let x = linspace(-6.0, 6.0, 241);
    let edge = window(Pattern::Edge, 1.0, 0.5);
    let sharp =
        Shadow { wavelength_um: 0.436, half_angle_rad: 0.0 }.image(&edge, &x, 20.0);
    let soft =
        Shadow { wavelength_um: 0.436, half_angle_rad: 0.06 }.image(&edge, &x, 20.0);
    let top = |image: &[f64]| image.iter().copied().fold(0.0, f64::max);
    assert!(1.36 < top(&sharp) && top(&soft) < 1.25);
    assert!((soft[240] - 1.0).abs() < 0.1 && soft[0] < 0.02);
}

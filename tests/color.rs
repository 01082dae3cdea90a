//! The color of films on silicon against an independent computation and a published chart.

#![expect(clippy::expect_used, reason = "a helper that fails is a test that fails")]

use barewafer_process::color::{
    CHART, Film, Illuminant, OpticalMaterial, Stack, Tristimulus, View, oxide_on_silicon,
};
use barewafer_process::units::Length;
use barewafer_tests::reference;

use OpticalMaterial::{Aluminum, Nitride, Resist, Silicon, ThermalOxide};

fn channels(hex: &str) -> [u8; 3] {
    let at = |i: usize| u8::from_str_radix(&hex[i..i + 2], 16).expect("hexadecimal");
    [at(1), at(3), at(5)]
}

#[track_caller]
fn near_color(found: [u8; 3], hex: &str, what: &str) {
    for (a, b) in found.iter().zip(channels(hex)) {
        assert!(a.abs_diff(b) <= 1, "{what}: {found:?} against {hex}");
    }
}

fn stack_of(films: &[Film], substrate: OpticalMaterial, angle_deg: f64) -> Stack<'_> {
    Stack { films, substrate, angle_rad: angle_deg.to_radians() }
}

/// One stack with its XYZ under D65 and its color against a white and adapted to silicon.
struct Case {
    films: &'static [(OpticalMaterial, f64)],
    substrate: OpticalMaterial,
    angle_deg: f64,
    reflectance_550: f64,
    xyz: [f64; 3],
    absolute: &'static str,
    adapted: &'static str,
}

const fn case(
    films: &'static [(OpticalMaterial, f64)],
    angle_deg: f64,
    reflectance_550: f64,
    xyz: [f64; 3],
    absolute: &'static str,
    adapted: &'static str,
) -> Case {
    Case { films, substrate: Silicon, angle_deg, reflectance_550, xyz, absolute, adapted }
}

/// Computed by a script that shares no code with the kernel, from the same optical data.
#[rustfmt::skip]
const CASES: [Case; 14] = [
    case(&[], 0.0, 0.3673, [0.3508, 0.3674, 0.4558], "#9fa3af", "#cbcbcb"),
    case(&[(ThermalOxide, 10.0)], 0.0, 0.3619, [0.3457, 0.3620, 0.4468], "#9ea2ad", "#cacaca"),
    case(&[(ThermalOxide, 50.0)], 0.0, 0.2428, [0.2344, 0.2439, 0.2593], "#8a8786", "#b1a89c"),
    case(&[(ThermalOxide, 100.0)], 0.0, 0.1020, [0.1131, 0.1075, 0.2338], "#525a84", "#6c719b"),
    case(&[(ThermalOxide, 200.0)], 0.0, 0.3600, [0.3159, 0.3498, 0.2899], "#9ea28a", "#cacaa0"),
    case(&[(ThermalOxide, 300.0)], 0.0, 0.1293, [0.1621, 0.1546, 0.4283], "#4d6caf", "#6788cd"),
    case(&[(ThermalOxide, 500.0)], 0.0, 0.1753, [0.1647, 0.1999, 0.3290], "#478498", "#61a4b2"),
    case(&[(ThermalOxide, 500.0)], 30.0, 0.0985, [0.2253, 0.1789, 0.4077], "#8966ab", "#b081c8"),
    case(&[(ThermalOxide, 500.0)], 60.0, 0.3470, [0.3101, 0.3224, 0.2658], "#a59884", "#d3be9a"),
    case(&[(Nitride, 150.0), (ThermalOxide, 20.0)], 0.0, 0.2402, [0.2542, 0.2372, 0.0816], "#ad7c40", "#db9b4a"),
    case(&[(Nitride, 100.0), (ThermalOxide, 30.0)], 0.0, 0.4428, [0.3828, 0.4285, 0.4880], "#9db3b3", "#cbdfd0"),
    case(&[(Silicon, 300.0), (ThermalOxide, 20.0)], 0.0, 0.4765, [0.3833, 0.4026, 0.4794], "#a7aab2", "#d5d4cf"),
    case(&[(Resist, 1200.0), (ThermalOxide, 500.0)], 0.0, 0.3483, [0.2304, 0.2387, 0.2028], "#908575", "#b8a689"),
    Case { films: &[], substrate: Aluminum, angle_deg: 0.0, reflectance_550: 0.9157, xyz: [0.8684, 0.9148, 1.0033], absolute: "#f4f5f6", adapted: "#ffffff" },
];

#[test]
fn stacks_have_the_color_of_an_independent_computation() {
    let silicon = Tristimulus::of_bare_silicon(Illuminant::D65);
    for Case { films, substrate, angle_deg, reflectance_550, xyz, absolute, adapted } in
        CASES
    {
        let what = format!("{films:?} on {substrate:?} at {angle_deg}");
        let films: Vec<Film> = films
            .iter()
            .map(|&(material, nm)| Film { material, thickness: Length::nm(nm) })
            .collect();
        let stack = stack_of(&films, substrate, angle_deg);
        let r = stack.reflectance_at_nm(550.0);
        assert!((r - reflectance_550).abs() <= 5e-4, "{what}: R {r}");
        let color = Tristimulus::of_stack(&stack, Illuminant::D65);
        for (a, b) in [color.x, color.y, color.z].iter().zip(xyz) {
            assert!((a - b).abs() <= 5e-4, "{what}: {color:?}");
        }
        near_color(color.to_srgb(), absolute, &what);
        near_color(color.adapted_to_silicon(silicon).to_srgb(), adapted, &what);
    }
}

fn oxide_color(nm: f64, illuminant: Illuminant) -> Tristimulus {
    let films = [Film { material: ThermalOxide, thickness: Length::nm(nm) }];
    Tristimulus::of_stack(&stack_of(&films, Silicon, 0.0), illuminant)
        .adapted_to_silicon(Tristimulus::of_bare_silicon(illuminant))
}

fn hue_distance_deg(a: f64, b: f64) -> f64 {
    let away = (a - b).rem_euclid(360.0);
    away.min(360.0 - away)
}

#[test]
fn the_chart_in_the_kernel_is_the_reference_chart() {
    let rows = reference("color_chart.csv");
    assert_eq!(rows.len(), CHART.len());
    for (row, &(thickness_um, name)) in rows.iter().zip(CHART) {
        assert!((row.required("thickness_um") - thickness_um).abs() < 1e-12);
        assert_eq!(row.text("name"), name);
    }
}

#[test]
fn chart_entries_have_the_colors_of_an_independent_computation() {
    for row in reference("color_chart.csv") {
        let nm = 1e3 * row.required("thickness_um");
        let what = format!("{nm} nm");
        let found = oxide_on_silicon(Length::nm(nm), View::STRAIGHT);
        near_color(channels(&found.srgb_hex), row.text("srgb_adapted_Si_D65"), &what);
        assert_eq!(found.name, row.text("name"));
        let lamp = oxide_color(nm, Illuminant::Fl7).to_srgb();
        near_color(lamp, row.text("srgb_adapted_Si_FL7"), &what);
    }
}

/// The names of the chart were given under daylight fluorescent lamps. Above 0.60 um colors
/// are pale and the light decides; two entries stay off under FL7 as well: both nearly gray.
#[test]
fn colors_have_the_hue_that_the_chart_names() {
    for row in reference("color_chart.csv") {
        let um = row.required("thickness_um");
        let off = |illuminant| {
            let hue = oxide_color(1e3 * um, illuminant).hue_deg();
            hue_distance_deg(hue, row.required("target_hue_deg"))
        };
        let tolerance = row.required("tol_hue_deg");
        if um <= 0.60 {
            assert!(off(Illuminant::D65) <= tolerance, "{um} um in daylight");
        }
        let is_known = (um - 0.68).abs() < 1e-9 || (um - 0.77).abs() < 1e-9;
        assert_eq!(off(Illuminant::Fl7) <= tolerance, !is_known, "{um} um under FL7");
    }
}

fn material(word: &str) -> OpticalMaterial {
    match word {
        "thermal_oxide" => ThermalOxide,
        "nitride" => Nitride,
        "resist" => Resist,
        "aluminum" => Aluminum,
        _ => Silicon,
    }
}

/// The films of a reference row: `nitride 150;thermal_oxide 20`.
fn films_of(text: &str) -> Vec<Film> {
    text.split_terminator(';')
        .map(|film| {
            let (word, nm) = film.split_once(' ').expect("material and thickness");
            let nm: f64 = nm.parse().expect("a thickness");
            Film { material: material(word), thickness: Length::nm(nm) }
        })
        .collect()
}

/// Against tmm, a general transfer-matrix library: `make_color_reference.py`.
#[test]
fn reflectances_are_those_of_a_general_library() {
    let rows = reference("reflectance_reference.csv");
    assert!(150 < rows.len());
    for row in rows {
        let films = films_of(row.text("films"));
        let angle_deg = row.required("angle_deg");
        let stack = stack_of(&films, material(row.text("substrate")), angle_deg);
        let nm = row.required("wavelength_nm");
        let error = stack.reflectance_at_nm(nm) - row.required("reflectance");
        let what = row.text("films");
        assert!(error.abs() < 1e-9, "{what} at {angle_deg} degrees, {nm} nm: {error:e}");
    }
}

/// Against colour-science: `make_color_reference.py`.
#[test]
fn colors_are_those_of_a_general_library() {
    let rows = reference("color_reference.csv");
    assert!(40 < rows.len());
    for row in rows {
        let films = films_of(row.text("films"));
        let substrate = material(row.text("substrate"));
        let stack = stack_of(&films, substrate, row.required("angle_deg"));
        let lamp = match row.text("lamp") {
            "d65" => Illuminant::D65,
            "fl2" => Illuminant::Fl2,
            _ => Illuminant::Fl7,
        };
        let near = |found: f64, column: &str| {
            let error = found - row.required(column);
            assert!(
                error.abs() < 1e-4,
                "{} {lamp:?} {column}: {error:e}",
                row.text("films")
            );
        };
        let seen = Tristimulus::of_stack(&stack, lamp);
        near(seen.x, "x");
        near(seen.y, "y");
        near(seen.z, "z");
        let adapted = seen.adapted_to_silicon(Tristimulus::of_bare_silicon(lamp));
        near(adapted.x, "x_adapted");
        near(adapted.y, "y_adapted");
        near(adapted.z, "z_adapted");
        let channels = ["r", "g", "b"];
        // Colors that a screen can show; the others are moved toward gray.
        if channels.iter().all(|c| (0.0..=1.0).contains(&row.required(c))) {
            for (found, column) in seen.to_srgb_shares().iter().zip(channels) {
                near(*found, column);
            }
        }
    }
}

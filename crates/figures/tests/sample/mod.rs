//! Reports built by hand: round numbers and simple shapes, so that a figure can be checked
//! without the kernel.

use barewafer_process::Report;
use barewafer_process::color::FilmColor;
use barewafer_process::diffusion::DiffusionResults;
use barewafer_process::etching::{EtchCurve, Selectivity, WetEtchResults};
use barewafer_process::implantation::{ImplantationResults, LayerDose, StackProfile};
use barewafer_process::lithography::{SpinCoatingResults, SpinCurve, SpinTrace};
use barewafer_process::num::{erfc, exp, linspace, logspace, pow};
use barewafer_process::oxidation::{OxidationResults, OxideCurve};
use barewafer_process::profile::Profile;
use barewafer_process::report::{Accuracy, PublishedPoint, Results};
use barewafer_process::vocabulary::{Dopant, Material};

fn report(operation: &'static str, results: Results) -> Report {
    Report {
        operation,
        results,
        working: Vec::new(),
        warnings: Vec::new(),
        published: Vec::new(),
        accuracy: None,
        hazards: Vec::new(),
        kernel_version: "test",
    }
}

/// An oxide that grows as the square root of time from an initial one.
pub(crate) fn oxidation(oxide_nm: f64, initial_nm: f64) -> Report {
    let time_min = linspace(0.0, 60.0, 121);
    let grown = oxide_nm - initial_nm;
    let oxide: Vec<f64> =
        time_min.iter().map(|t| initial_nm + grown * (t / 60.0).sqrt()).collect();
    let mut report = report(
        "oxidation",
        Results::Oxidation(OxidationResults {
            oxide_nm,
            initial_oxide_nm: initial_nm,
            grown_nm: grown,
            silicon_consumed_nm: 0.44 * grown,
            time_min: 60.0,
            rate_nm_min: grown / 120.0,
            parabolic_um2_h: oxide_nm * oxide_nm * 1e-6,
            linear_um_h: 1.3,
            color: FilmColor {
                srgb_hex: "#7b5fa8".to_owned(),
                name: "violet".to_owned(),
            },
            curve: OxideCurve { time_min, oxide_nm: oxide },
        }),
    );
    report.accuracy = Some(Accuracy {
        relative: 0.1,
        meaning: "±10 % of the thickness",
        source: "Deal and Grove 1965",
    });
    report.published = vec![PublishedPoint {
        id: "row".to_owned(),
        curve: "curve",
        x: 30.0,
        y: 0.72 * oxide_nm,
        tolerance: 0.08,
        source: "B. E. Deal, A. S. Grove, J. Appl. Phys. 36, 3770 (1965), table II"
            .to_owned(),
    }];
    report
}

/// A film that drains and dries in 60 s at 4000 rpm.
pub(crate) fn spin_coating() -> Report {
    let time_s = linspace(0.0, 60.0, 200);
    let thickness_nm: Vec<f64> =
        time_s.iter().map(|t| 1300.0 + 98_700.0 / pow(1.0 + 4.0 * t, 1.9)).collect();
    let solids_fraction = time_s.iter().map(|t| 0.9 - 0.66 * exp(-t / 12.0)).collect();
    let speed_rpm = time_s.iter().map(|t| (5000.0 * t).min(4000.0)).collect();
    let speeds = logspace(1000.0, 8000.0, 40);
    report(
        "spin_coating",
        Results::SpinCoating(SpinCoatingResults {
            thickness_nm: 1150.0,
            wet_thickness_nm: 1306.0,
            solids_fraction: 0.9,
            transition_s: Some(7.5),
            dry_s: Some(31.0),
            curve: SpinTrace { time_s, thickness_nm, solids_fraction, speed_rpm },
            spin_curve: SpinCurve {
                thickness_nm: speeds
                    .iter()
                    .map(|s| 1150.0 * (4000.0 / s).sqrt())
                    .collect(),
                speed_rpm: speeds,
            },
        }),
    )
}

/// 500 nm of oxide at 100 nm/min, with a mask opening or line in um.
pub(crate) fn wet_etch(
    time_s: f64,
    opening_um: Option<f64>,
    line_um: Option<f64>,
) -> Report {
    let rate = 100.0;
    let depth = |t: f64| rate * t / 60.0;
    let curve_s = linspace(0.0, time_s.max(400.0), 101);
    let undercut = depth(time_s);
    report(
        "wet_etch",
        Results::WetEtch(WetEtchResults {
            material: Material::ThermalOxide,
            thickness_nm: 500.0,
            etched_nm: depth(time_s).min(500.0),
            remaining_nm: (500.0 - depth(time_s)).max(0.0),
            time_s,
            rate_nm_min: rate,
            time_to_clear_s: Some(300.0),
            time_to_clear_everywhere_s: Some(340.0),
            over_etch_percent: (300.0 <= time_s).then(|| (time_s / 300.0 - 1.0) * 100.0),
            undercut_nm: undercut,
            mask_opening_um: opening_um,
            mask_line_um: line_um,
            opening_um: opening_um.map(|um| um + 2e-3 * undercut),
            line_um: line_um.map(|um| (um - 2e-3 * undercut).max(0.0)),
            selectivity: vec![Selectivity {
                material: Material::Silicon,
                ratio: None,
                rate_nm_min: 0.0,
            }],
            curve: EtchCurve {
                remaining_nm: curve_s
                    .iter()
                    .map(|t| (500.0 - depth(*t)).max(0.0))
                    .collect(),
                worst_remaining_nm: curve_s
                    .iter()
                    .map(|t| (525.0 - 0.927 * depth(*t)).max(0.0))
                    .collect(),
                undercut_nm: curve_s.iter().map(|t| depth(*t)).collect(),
                time_s: curve_s,
            },
        }),
    )
}

fn profile(depth_um: &[f64], boron: impl Fn(f64) -> f64, wafer: f64) -> Profile {
    let values: Vec<f64> = depth_um.iter().map(|&d| boron(d)).collect();
    Profile {
        depth_um: depth_um.to_vec(),
        net_cm3: values.iter().map(|v| wafer - v).collect(),
        active_net_cm3: values.iter().map(|v| wafer - v).collect(),
        dopants: vec![(Dopant::Boron, values)],
    }
}

/// Boron in n-type 1e15: an erfc profile at the start, a Gaussian at the end.
pub(crate) fn drive_in() -> Report {
    let depth = linspace(0.0, 8.0, 400);
    let end = |d: f64| 3e18 * exp(-(d / 0.65) * (d / 0.65));
    let junction = 0.65 * barewafer_process::num::ln(3e18 / 1e15).sqrt();
    report(
        "drive_in",
        Results::Diffusion(DiffusionResults {
            dose_cm2: 1.7e14,
            surface_concentration_cm3: 3e18,
            junction_depth_um: Some(junction),
            junctions_um: vec![junction],
            sheet_resistance_ohm_sq: Some(310.0),
            profile: profile(&depth, end, 1e15),
            start_profile: profile(&depth, |d| 8e19 * erfc(d / 0.16), 1e15),
            closed_form_profile: profile(&depth, |d| 0.9 * end(0.97 * d), 1e15),
            oxide_nm: 180.0,
            dose_balance: 1e-9,
            root_dt_um: 0.32,
        }),
    )
}

/// Boron from a source into n-type silicon.
pub(crate) fn predeposition() -> Report {
    let depth = linspace(0.0, 3.0, 400);
    report(
        "predeposition",
        Results::Diffusion(DiffusionResults {
            dose_cm2: 2.1e15,
            surface_concentration_cm3: 2.4e20,
            junction_depth_um: Some(0.52),
            junctions_um: vec![0.52],
            sheet_resistance_ohm_sq: Some(62.0),
            profile: profile(&depth, |d| 2.4e20 * erfc(d / 0.153), 1e15),
            start_profile: Profile::default(),
            closed_form_profile: profile(&depth, |d| 2.4e20 * erfc(d / 0.14), 1e15),
            oxide_nm: 0.0,
            dose_balance: 0.0,
            root_dt_um: 0.077,
        }),
    )
}

/// A Gaussian of boron at 300 nm, with or without 100 nm of oxide above.
pub(crate) fn implantation(through: bool) -> Report {
    let gauss = |d: f64| {
        let z = (d - 0.3) / 0.07;
        5.7e18 * exp(-0.5 * z * z)
    };
    let above = if through { 0.1 } else { 0.0 };
    let depth = linspace(0.0, 1.2, 400);
    let junction = 0.3 + 0.07 * (2.0 * barewafer_process::num::ln(5.7e18 / 1e15)).sqrt();
    report(
        "implantation",
        Results::Implantation(ImplantationResults {
            projected_range_nm: 300.0,
            straggle_nm: 70.0,
            lateral_straggle_nm: 80.0,
            skewness: -0.4,
            kurtosis: 3.1,
            peak_cm3: 5.7e18,
            peak_depth_nm: 1000.0 * (0.3 - above),
            transmitted_fraction: if through { 0.997 } else { 1.0 },
            retained_dose_cm2: 1e14,
            junction_depth_um: Some(junction - above),
            junctions_um: vec![junction - above],
            profile: profile(&depth, |d| gauss(d + above), 1e15),
            layers: if through {
                vec![LayerDose {
                    material: Material::ThermalOxide,
                    thickness_nm: 100.0,
                    dose_cm2: 3e11,
                }]
            } else {
                Vec::new()
            },
            stack_profile: StackProfile {
                concentration_cm3: depth.iter().map(|&d| gauss(d)).collect(),
                depth_um: depth,
            },
            beam_time_s: None,
            amorphous_depth_nm: None,
        }),
    )
}

/// One of each, with a name.
pub(crate) fn all() -> Vec<(&'static str, Report)> {
    vec![
        ("oxidation", oxidation(434.0, 0.0)),
        ("oxidation_thin", oxidation(12.0, 1.0)),
        ("oxidation_old", oxidation(434.0, 120.0)),
        ("spin_coating", spin_coating()),
        ("wet_etch_opening", wet_etch(360.0, Some(10.0), None)),
        ("wet_etch_half", wet_etch(150.0, Some(1.5), None)),
        ("wet_etch_line", wet_etch(330.0, None, Some(3.0))),
        ("wet_etch_gone", wet_etch(400.0, None, Some(1.0))),
        ("wet_etch_blanket", wet_etch(200.0, None, None)),
        ("drive_in", drive_in()),
        ("predeposition", predeposition()),
        ("implantation", implantation(false)),
        ("implantation_through", implantation(true)),
    ]
}

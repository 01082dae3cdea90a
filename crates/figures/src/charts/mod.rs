//! The charts of a report: one file a bench.

mod bake;
mod deposition;
mod development;
mod diffusion;
pub(crate) mod doping;
mod dry_etch;
mod exposure;
pub(crate) mod implantation;
mod oxidation;
mod planarization;
pub(crate) mod process_window;
mod resist_strip;
mod sheet;
mod spectrum;
mod spin_coating;
mod wet_etch;

pub(crate) use spin_coating::ramp_end_s;

use barewafer_process::Report;
use barewafer_process::num::linspace;
use barewafer_process::report::{Accuracy, Results};

use crate::chart::{Band, Chart, CheckPoint, Marker, MarkerKind, Role, Series};

/// The charts of a report, the main one first.
#[must_use]
pub fn of(report: &Report) -> Vec<Chart> {
    match &report.results {
        #[cfg(feature = "films")]
        Results::Oxidation(results) => oxidation::charts(report, results),
        #[cfg(feature = "lithography")]
        Results::SpinCoating(results) => spin_coating::charts(report, results),
        #[cfg(feature = "lithography")]
        Results::Exposure(results) => exposure::charts(results),
        #[cfg(feature = "lithography")]
        Results::ProcessWindow(results) => process_window::charts(results),
        #[cfg(feature = "lithography")]
        Results::Bake(results) => bake::charts(results),
        #[cfg(feature = "lithography")]
        Results::Development(results) => development::charts(results),
        // A clean has no curve.
        #[cfg(feature = "etching")]
        Results::Clean(_) => Vec::new(),
        #[cfg(feature = "etching")]
        Results::WetEtch(results) => wet_etch::charts(report, results),
        #[cfg(feature = "films")]
        Results::Deposition(results) => deposition::charts(results),
        #[cfg(feature = "etching")]
        Results::DryEtch(results) => dry_etch::charts(report, results),
        #[cfg(feature = "etching")]
        Results::ResistStrip(results) => resist_strip::charts(report, results),
        #[cfg(feature = "etching")]
        Results::Planarization(results) => planarization::charts(report, results),
        #[cfg(feature = "doping")]
        Results::Diffusion(results) => diffusion::charts(report, results),
        #[cfg(feature = "doping")]
        Results::Implantation(results) => implantation::charts(report, results),
        #[cfg(feature = "doping")]
        Results::Sheet(results) => sheet::charts(report, results),
        // The module of whole flows answers no requests.
        #[cfg(not(any(
            feature = "films",
            feature = "etching",
            feature = "lithography",
            feature = "doping"
        )))]
        _ => Vec::new(),
    }
}

pub(crate) fn series(label: &str, role: Role, x: &[f64], y: &[f64]) -> Series {
    let (x, y) = x.iter().copied().zip(y.iter().copied()).unzip();
    Series { label: label.to_owned(), x, y, role }
}

pub(crate) fn marker(kind: MarkerKind, x: f64, y: f64, label: String) -> Marker {
    Marker { x, y, label, kind }
}

/// The band of a model's accuracy around a curve; none without a stated accuracy.
fn band(accuracy: Option<&Accuracy>, x: &[f64], y: &[f64]) -> Vec<Band> {
    let Some(accuracy) = accuracy else { return Vec::new() };
    let scaled = |factor: f64| x.iter().zip(y).map(|(_, y)| y * factor).collect();
    vec![Band {
        x: x.iter().zip(y).map(|(&x, _)| x).collect(),
        low: scaled(1.0 - accuracy.relative),
        high: scaled(1.0 + accuracy.relative),
        meaning: meaning(accuracy),
    }]
}

/// The band of a model whose depths are so accurate: between the profiles stretched and
/// shrunk in depth.
fn depth_band(accuracy: Option<&Accuracy>, depth: &[f64], values: &[f64]) -> Vec<Band> {
    let Some(accuracy) = accuracy.filter(|a| (0.0..0.9).contains(&a.relative)) else {
        return Vec::new();
    };
    let last = depth.last().copied().unwrap_or(0.0);
    let stretched = |d: f64, factor: f64| {
        doping::value_at(depth, values, (d / factor).min(last)).unwrap_or(0.0)
    };
    let mut band = Band { meaning: meaning(accuracy), ..Band::default() };
    // Stretched, the profile goes on below its last point.
    let below = linspace(last, last * (1.0 + accuracy.relative), 30);
    for d in depth.iter().copied().chain(below.into_iter().skip(1)) {
        let c = stretched(d, 1.0);
        let (near, far) = (
            stretched(d, 1.0 - accuracy.relative),
            stretched(d, 1.0 + accuracy.relative),
        );
        band.x.push(d);
        band.low.push(c.min(near).min(far));
        band.high.push(c.max(near).max(far));
    }
    vec![band]
}

fn meaning(accuracy: &Accuracy) -> String {
    format!("Model: {} ({})", accuracy.meaning, accuracy.source)
}

/// The published points that belong to a curve of the report.
fn published(report: &Report, curve: &str) -> Vec<CheckPoint> {
    report
        .published
        .iter()
        .filter(|point| point.curve == curve)
        .map(|point| CheckPoint {
            x: point.x,
            y: point.y,
            tolerance: point.tolerance,
            source: point.source.clone(),
        })
        .collect()
}

/// The first letter in upper case.
fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| {
        std::iter::once(first.to_ascii_uppercase()).chain(chars).collect()
    })
}

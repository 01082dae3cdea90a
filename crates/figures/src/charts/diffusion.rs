//! Concentration over depth after a predeposition or a drive-in.

use barewafer_process::Report;
use barewafer_process::diffusion::DiffusionResults;

use super::doping::{concentration_axis, depth_axis, depth_of, substrate, value_at};
use super::{depth_band, marker, published, series};
use crate::axis::extent;
use crate::chart::{Chart, Marker, MarkerKind, Role, Series};
use crate::numbers::three;

pub(super) fn charts(report: &Report, results: &DiffusionResults) -> Vec<Chart> {
    let profile = &results.profile;
    let Some((dopant, main)) = profile.dopants.first() else { return Vec::new() };
    let depth = &profile.depth_um;
    let wafer = substrate(profile, &results.junctions_um);
    let level = wafer.map(|(level, _)| level);

    let mut curves = vec![series(dopant.label(), Role::Main, depth, main)];
    if let Some((_, values)) = results.closed_form_profile.dopants.first() {
        let x = &results.closed_form_profile.depth_um;
        curves.push(series("closed form", Role::Second, x, values));
    }
    if let Some((_, values)) = results.start_profile.dopants.first() {
        let x = &results.start_profile.depth_um;
        curves.push(series("start", Role::Third, x, values));
    }
    for (other, values) in profile.dopants.iter().skip(1) {
        curves.push(series(other.label(), Role::Third, depth, values));
    }

    let (_, highest) = extent(curves.iter().flat_map(|c| c.y.iter().copied()));
    let y = concentration_axis(highest, level);
    let deepest = curves
        .iter()
        .filter_map(|c| depth_of(&c.x, &c.y, 1.5 * y.min))
        .chain(results.junction_depth_um.map(|j| 1.15 * j))
        .fold(0.0, f64::max);
    let last = depth.last().copied().unwrap_or(1.0);
    let x = depth_axis(if 0.0 < deepest { deepest.min(last) } else { last }, "Depth");
    if let Some((level, kind)) = wafer {
        curves.push(wafer_level(level, kind.label(), x.max));
    }

    let mut markers: Vec<Marker> = results
        .junctions_um
        .iter()
        .map(|&junction| {
            let at = value_at(depth, main, junction).or(level).unwrap_or(y.min);
            let label = format!("junction {} µm", three(junction));
            marker(MarkerKind::Junction, junction, at, label)
        })
        .collect();
    let surface = results.surface_concentration_cm3;
    if 0.0 < surface {
        markers.push(marker(
            MarkerKind::Present,
            0.0,
            surface,
            format!("surface {} cm⁻³", three(surface)),
        ));
    }
    vec![Chart {
        id: "profile".to_owned(),
        title: format!("{} in the silicon", super::capital(dopant.label())),
        x,
        y,
        series: curves,
        markers,
        bands: depth_band(report.accuracy.as_ref(), depth, main),
        published: published(report, "profile"),
        summary: summary(results, dopant.label()),
        ..Chart::default()
    }]
}

/// The level of the wafer's own doping across the chart.
pub(super) fn wafer_level(level: f64, kind: &str, to: f64) -> Series {
    series(&format!("wafer, {kind}"), Role::Level, &[0.0, to], &[level, level])
}

fn summary(results: &DiffusionResults, dopant: &str) -> String {
    let junction = results.junction_depth_um.map_or_else(
        || "there is no junction".to_owned(),
        |depth| format!("the junction lies at {} µm", three(depth)),
    );
    let sheet = results.sheet_resistance_ohm_sq.map_or_else(String::new, |ohm| {
        format!(" The sheet resistance is {} ohm per square.", three(ohm))
    });
    format!(
        "{} falls from {} per cm³ at the surface; {junction}. The dose is {} per cm².{sheet}",
        super::capital(dopant),
        three(results.surface_concentration_cm3),
        three(results.dose_cm2),
    )
}

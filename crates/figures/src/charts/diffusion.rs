//! Concentration over depth after a predeposition or a drive-in.

use barewafer_process::Report;
use barewafer_process::diffusion::{ComparisonResults, DiffusionResults};
use barewafer_process::vocabulary::Comparison;

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

    for past in &results.snapshots {
        if let Some((_, values)) = past.profile.dopants.first() {
            let label = format!("after {} min", three(past.time_min));
            curves.push(series(&label, Role::Past, &past.profile.depth_um, values));
        }
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
    let mut charts = Vec::new();
    if let Some(comparison) = &results.comparison {
        charts.push(compared(comparison, level));
    }
    charts.push(Chart {
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
    });
    charts
}

/// The same recipe with other diffusivities or dopants.
fn compared(comparison: &ComparisonResults, level: Option<f64>) -> Chart {
    let roles = [Role::Main, Role::Second, Role::Third, Role::Ghost];
    let models = comparison.compare == Comparison::Models;
    let mut curves = Vec::new();
    let mut markers = Vec::new();
    let (mut deepest, mut highest) = (0.0_f64, 0.0_f64);
    let mut said = Vec::new();
    let floor = level.map_or(1e14, |level| 0.1 * level);
    for (row, role) in comparison.rows.iter().zip(roles) {
        let Some((dopant, values)) = row.profile.dopants.first() else { continue };
        let label = if models { row.diffusivity.label() } else { dopant.label() };
        let depth = &row.profile.depth_um;
        highest = highest.max(row.surface_concentration_cm3);
        let reach = depth_of(depth, values, floor).unwrap_or(0.0);
        deepest = deepest.max(row.junction_depth_um.map_or(reach, |j| 1.15 * j));
        if let Some(junction) = row.junction_depth_um {
            let at = value_at(depth, values, junction).or(level).unwrap_or(floor);
            let text = format!("{} µm", three(junction));
            markers.push(marker(MarkerKind::Junction, junction, at, text));
        }
        let text = row.junction_depth_um.map_or_else(
            || "no junction".to_owned(),
            |junction| format!("junction {} µm", three(junction)),
        );
        said.push(format!("{label}: √(Dt) {} µm, {text}", three(row.root_dt_um)));
        curves.push(series(label, role, depth, values));
    }
    let y = concentration_axis(highest, level);
    let x = depth_axis(deepest, "Depth");
    if let Some(level) = level {
        curves.push(series("wafer", Role::Level, &[0.0, x.max], &[level, level]));
    }
    let spread = comparison.junction_spread.map_or_else(String::new, |spread| {
        format!(" The deepest junction is {} times the shallowest.", three(spread))
    });
    Chart {
        id: "compared".to_owned(),
        title: if models {
            "The same recipe under each set of diffusivities".to_owned()
        } else {
            "The same recipe for each dopant of this type".to_owned()
        },
        x,
        y,
        series: curves,
        markers,
        summary: format!(
            "{}. Computed as {}.{spread}",
            said.join("; "),
            comparison.method
        ),
        ..Chart::default()
    }
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
    let times: Vec<String> =
        results.snapshots.iter().map(|past| three(past.time_min)).collect();
    let past = if times.is_empty() {
        String::new()
    } else {
        format!(" Thin curves: after {} min.", times.join(", "))
    };
    format!(
        "{} falls from {} per cm³ at the surface; {junction}. The dose is {} per cm².{sheet}{past}",
        super::capital(dopant),
        three(results.surface_concentration_cm3),
        three(results.dose_cm2),
    )
}

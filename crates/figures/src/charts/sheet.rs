//! Doping over depth at the Four-point bench: layers shaded, junctions marked.

use barewafer_process::Report;
use barewafer_process::electrical::SheetResults;

use super::diffusion::wafer_level;
use super::doping::{concentration_axis, depth_axis, depth_of, value_at};
use super::{marker, published, series};
use crate::axis::extent;
use crate::chart::{Chart, Marker, MarkerKind, Role, Zone};
use crate::numbers::three;
use crate::pictures::doped_word;

pub(super) fn charts(report: &Report, results: &SheetResults) -> Vec<Chart> {
    let profile = &results.profile;
    let depth = &profile.depth_um;
    let wafer = &results.substrate;
    let level = wafer.concentration_cm3;
    let active: Vec<f64> = profile.active_net_cm3.iter().map(|n| n.abs()).collect();
    let mut curves = vec![series("active, net", Role::Main, depth, &active)];
    for (dopant, values) in &profile.dopants {
        let role = if curves.len() == 1 { Role::Second } else { Role::Third };
        curves.push(series(dopant.label(), role, depth, values));
    }
    let (_, highest) = extent(curves.iter().flat_map(|c| c.y.iter().copied()));
    let y = concentration_axis(highest.max(level), Some(level));
    let deepest = curves
        .iter()
        .skip(1)
        .filter_map(|c| depth_of(&c.x, &c.y, y.min))
        .chain(results.junction_depth_um.map(|j| 1.45 * j))
        .fold(0.0, f64::max);
    let last = depth.last().copied().unwrap_or(1.0);
    let x = depth_axis(if 0.0 < deepest { deepest.min(last) } else { last }, "Depth");
    curves.push(wafer_level(level, wafer.doping_type.label(), x.max));

    let markers: Vec<Marker> = results
        .junctions_um
        .iter()
        .map(|&junction| {
            let at = profile
                .dopants
                .first()
                .and_then(|(_, values)| value_at(depth, values, junction))
                .unwrap_or(level);
            let label = format!("junction {} µm", three(junction));
            marker(MarkerKind::Junction, junction, at.max(y.min), label)
        })
        .collect();
    let zones = results
        .layers
        .iter()
        .filter(|layer| layer.top_um < x.max)
        .map(|layer| Zone {
            from: layer.top_um,
            to: layer.bottom_um.min(x.max),
            meaning: layer.sheet_resistance_ohm_sq.map_or_else(
                || layer.doping_type.label().to_owned(),
                |ohm| format!("{}, {} Ω/□", layer.doping_type.label(), three(ohm)),
            ),
            material: doped_word(layer.doping_type).to_owned(),
        })
        .collect();
    vec![Chart {
        id: "profile".to_owned(),
        title: "Doping and its layers".to_owned(),
        x,
        y,
        series: curves,
        markers,
        zones,
        published: published(report, "profile"),
        summary: summary(results),
        ..Chart::default()
    }]
}

fn summary(results: &SheetResults) -> String {
    let layers: Vec<String> = results
        .layers
        .iter()
        .map(|layer| {
            let ohm = layer.sheet_resistance_ohm_sq.map_or_else(
                || "not conducting".to_owned(),
                |ohm| format!("{} ohm per square", three(ohm)),
            );
            format!(
                "{} from {} to {} µm, {ohm}",
                layer.doping_type.label(),
                three(layer.top_um),
                three(layer.bottom_um)
            )
        })
        .collect();
    format!("Layers from the surface down: {}.", layers.join("; "))
}

//! Doping below a place of the section, over depth.

use barewafer_process::num::show;
use barewafer_process::profile::Profile;

use crate::axis::extent;
use crate::chart::{Chart, Marker, MarkerKind, Role};
use crate::charts::doping::{concentration_axis, depth_axis, depth_of, ranked, value_at};
use crate::charts::{marker, series};
use crate::numbers::three;

/// The chart of a profile below `x_um`, with its junctions.
#[must_use]
pub fn profile(profile: &Profile, junctions_um: &[f64], x_um: f64) -> Chart {
    let depth = &profile.depth_um;
    let net: Vec<f64> = profile.active_net_cm3.iter().map(|n| n.abs()).collect();
    let mut curves = vec![series("active, net", Role::Main, depth, &net)];
    for (role, dopant, values) in ranked(&profile.dopants) {
        curves.push(series(dopant.label(), role, depth, values));
    }
    let (_, highest) = extent(curves.iter().flat_map(|c| c.y.iter().copied()));
    let wafer = net.last().copied().filter(|&level| 0.0 < level);
    let y = concentration_axis(highest, wafer);
    let last = depth.last().copied().unwrap_or(1.0);
    let beyond = wafer.unwrap_or(0.0);
    let deepest = curves
        .iter()
        .filter_map(|c| depth_of(&c.x, &c.y, 1.3 * beyond))
        .filter(|&at| at < 0.98 * last)
        .chain(junctions_um.iter().map(|j| 1.3 * j))
        .fold(0.0, f64::max);
    let x = depth_axis(
        if 0.0 < deepest { deepest.min(last) } else { last.min(1.0) },
        "Depth",
    );
    let markers: Vec<Marker> = junctions_um
        .iter()
        .map(|&junction| {
            let heights =
                curves.iter().skip(1).filter_map(|c| value_at(&c.x, &c.y, junction));
            let at = heights.fold(y.min, f64::max);
            marker(
                MarkerKind::Junction,
                junction,
                at,
                format!("junction {} µm", three(junction)),
            )
        })
        .collect();
    let place = show(x_um);
    let summary = if junctions_um.is_empty() {
        format!("Doping below x = {place} µm; no junction.")
    } else {
        let list: Vec<String> = junctions_um.iter().map(|&j| three(j)).collect();
        format!("Doping below x = {place} µm; junctions at {} µm.", list.join(", "))
    };
    Chart {
        id: "profile".to_owned(),
        title: format!("Doping below x = {place} µm"),
        x,
        y,
        series: curves,
        markers,
        summary,
        ..Chart::default()
    }
}

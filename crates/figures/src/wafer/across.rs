//! Doping along a horizontal line through the silicon.

use barewafer_process::flow::questions::AcrossProfile;
use barewafer_process::num::show;

use crate::axis::{extent, linear};
use crate::chart::{Chart, Role, Series};
use crate::charts::doping::{concentration_axis, ranked};

/// The chart of a profile along x, where there is silicon.
#[must_use]
pub fn across(profile: &AcrossProfile) -> Chart {
    let net: Vec<f64> = profile.active_net_cm3.iter().map(|n| n.abs()).collect();
    let mut curves = vec![run("active, net", Role::Main, profile, &net)];
    for (role, dopant, values) in ranked(&profile.dopants) {
        curves.push(run(dopant.label(), role, profile, values));
    }
    let (_, highest) = extent(curves.iter().flat_map(|c| c.y.iter().copied()));
    let depth = show(profile.depth_um);
    let changes = profile
        .net_cm3
        .windows(2)
        .zip(profile.in_silicon.windows(2))
        .filter(|(net, inside)| inside[0] && inside[1] && net[0] * net[1] < 0.0)
        .count();
    Chart {
        id: "across".to_owned(),
        title: format!("Doping along x, {depth} µm deep"),
        x: linear("Place on the section", "µm", profile.x_um.iter().copied()),
        y: concentration_axis(highest, None),
        series: curves,
        summary: format!(
            "Doping along the section {depth} µm below the original surface; the type changes {changes} times."
        ),
        ..Chart::default()
    }
}

fn run(label: &str, role: Role, profile: &AcrossProfile, values: &[f64]) -> Series {
    let (x, y) = profile
        .x_um
        .iter()
        .zip(values)
        .zip(&profile.in_silicon)
        .filter(|(_, inside)| **inside)
        .map(|((&x, &y), _)| (x, y))
        .unzip();
    Series { label: label.to_owned(), x, y, role }
}

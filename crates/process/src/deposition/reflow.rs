//! Phosphorus glass that is made to flow.

use super::coverage::{Covered, Trench};
use crate::constants::BOLTZMANN_EV_K;
use crate::num::{atan, exp, linspace};
use crate::units::Temperature;

/// Columns of the left half of a section.
const COLUMNS: usize = 160;

/// Activation energy of the glass's viscosity in eV: between undoped silica (5 to 7) and what
/// flow tests of doped glass suggest (model choice).
pub(super) const VISCOSITY_EV: f64 = 4.0;

/// Time in min in which, at the flow temperature, a ripple of 1 um falls to 1/e (model choice).
pub(super) const RIPPLE_MIN: f64 = 30.0;

/// Temperature in C at which a glass flows over the steps of a wafer in half an hour.
///
/// 1100 C at 6 %, 1000 C at 8 % phosphorus by weight (common practice), a straight line.
pub(super) fn flow_temperature_c(phosphorus_percent: f64) -> f64 {
    1100.0 - 50.0 * (phosphorus_percent - 6.0)
}

/// Length in um over which surface tension has evened out the surface.
///
/// # Model
/// Surface tension lets a ripple of wavenumber k on deep viscous glass die as
/// `exp(-gamma k t / (2 eta))`: every ripple loses `exp(-k b)` with one length `b`, which grows
/// with time and falls with the viscosity.
pub(super) fn smoothing_um(
    phosphorus_percent: f64,
    temperature_c: f64,
    time_min: f64,
) -> f64 {
    let flow = Temperature::celsius(flow_temperature_c(phosphorus_percent));
    let here = Temperature::celsius(temperature_c);
    let softer =
        exp(VISCOSITY_EV / BOLTZMANN_EV_K
            * (1.0 / flow.to_kelvin() - 1.0 / here.to_kelvin()));
    time_min / RIPPLE_MIN * softer / (2.0 * core::f64::consts::PI)
}

/// The film after the flow: its steepest slope in degrees comes with it.
///
/// # Model
/// Overhangs and voids sink down first (each column keeps its glass); then the surface is
/// smoothed with `b / (pi (x^2 + b^2))`, which is `exp(-k b)` for every ripple and keeps the
/// area.
///
/// # Validity
/// Films that are thick beside the ripples they lose: thin films flow more slowly.
pub(super) fn flowed(
    film: &Covered,
    trench: &Trench,
    smoothing_um: f64,
) -> (Covered, f64) {
    let half_um = 0.5 * trench.width_um;
    let left_um = film.surface.first().map_or(-1.0, |p| p[0]);
    let edges = linspace(left_um, 0.0, COLUMNS + 1);
    let middles: Vec<f64> = edges.windows(2).map(|e| 0.5 * (e[0] + e[1])).collect();
    let floor = |x: f64| if x < -half_um { 0.0 } else { -trench.depth_um };
    let heights: Vec<f64> =
        middles.iter().map(|&x| floor(x) + glass_um(film, x, floor(x))).collect();
    let far = heights.first().copied().unwrap_or(0.0);
    let b = smoothing_um.max(1e-6);
    let evened: Vec<f64> = middles
        .iter()
        .map(|&x| {
            // Beyond the left end and its mirror image the ground is level.
            let angle = |at: f64| atan((at - x) / b);
            let mut sum = 0.0;
            for (edge, height) in edges.windows(2).zip(&heights) {
                let own = angle(edge[1]) - angle(edge[0]);
                let mirrored = angle(-edge[0]) - angle(-edge[1]);
                sum += (height - far) * (own + mirrored);
            }
            (far + sum / core::f64::consts::PI).max(floor(x))
        })
        .collect();
    let steepest = evened
        .windows(2)
        .zip(middles.windows(2))
        .map(|(z, x)| ((z[1] - z[0]) / (x[1] - x[0])).abs())
        .fold(0.0, f64::max);
    let mut surface = vec![[left_um, evened.first().copied().unwrap_or(far)]];
    surface.extend(middles.iter().zip(&evened).map(|(&x, &z)| [x, z]));
    let middle_z = evened.last().copied().unwrap_or(far);
    surface.push([0.0, middle_z]);
    let flowed = Covered {
        surface,
        voids: Vec::new(),
        seam: None,
        side_um: None,
        bottom_um: middle_z + trench.depth_um,
    };
    (flowed, atan(steepest).to_degrees())
}

/// Height of glass over a place, gaps not counted.
fn glass_um(film: &Covered, x: f64, floor: f64) -> f64 {
    // Each time the surface passes the place to the right, glass lies below it down to the
    // floor; each time it comes back, that much is gas.
    let part = |a: [f64; 2], b: [f64; 2], base: f64| {
        let forth = a[0] <= x && x < b[0];
        let back = b[0] <= x && x < a[0];
        if !forth && !back {
            return 0.0;
        }
        let z = a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0]);
        if forth { z - base } else { base - z }
    };
    let along = |chain: &[[f64; 2]], base: f64| -> f64 {
        chain.windows(2).map(|p| part(p[0], p[1], base)).sum()
    };
    // The edge of a gap goes out to the left at its top and comes back at its bottom.
    let gaps: f64 = film
        .voids
        .iter()
        .filter_map(|gap| Some(along(gap, 0.0) + part(*gap.last()?, *gap.first()?, 0.0)))
        .sum();
    (along(&film.surface, floor) + gaps).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::super::coverage::Arrival;
    use super::*;

    fn area(film: &Covered) -> f64 {
        film.surface
            .windows(2)
            .map(|p| 0.5 * (p[0][1] + p[1][1]) * (p[1][0] - p[0][0]))
            .sum()
    }

    #[test]
    fn a_flow_keeps_the_glass_and_lays_the_step_down() {
        let trench = Trench { width_um: 2.0, depth_um: 0.6 };
        let film = trench.covered(Arrival::Everywhere, 0.7, 0.0);
        let before = area(&film);
        let (slow, steep) = flowed(&film, &trench, 0.05);
        let (fast, gentle) = flowed(&film, &trench, 0.3);
        assert!(gentle < steep && steep < 90.0, "{gentle} {steep}");
        // What has flowed out to the left of the section is small.
        for flowed in [&slow, &fast] {
            assert!((area(flowed) - before).abs() < 0.05, "{} {before}", area(flowed));
        }
    }

    #[test]
    fn more_phosphorus_flows_sooner() {
        assert!((flow_temperature_c(8.0) - 1000.0).abs() < 1e-9);
        let at = |percent| smoothing_um(percent, 1000.0, 30.0);
        assert!((at(8.0) * 2.0 * core::f64::consts::PI - 1.0).abs() < 1e-9);
        assert!(at(6.0) < 0.2 * at(8.0));
    }

    #[test]
    fn the_glass_of_a_column_leaves_out_gaps() {
        let film = Covered {
            surface: vec![[-2.0, 1.0], [0.0, 1.0]],
            voids: vec![vec![[0.0, 0.5], [-1.0, 0.4], [-1.0, -0.4], [0.0, -0.5]]],
            ..Covered::default()
        };
        assert!((glass_um(&film, -1.5, 0.0) - 1.0).abs() < 1e-12);
        assert!((glass_um(&film, -0.5, -1.0) - (2.0 - 0.9)).abs() < 1e-12);
    }
}

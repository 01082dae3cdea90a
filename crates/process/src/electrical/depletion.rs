//! The depleted edges of a junction: where no carriers conduct.

use serde::Serialize;

use super::sheet_resistance::ActiveDoping;
use crate::constants::ELEMENTARY_CHARGE_C;
use crate::num::ln;

/// `kT/q` at 300 K in V (computed from the constants of the SI).
pub const THERMAL_VOLTAGE_V: f64 = 0.025_852;

/// Intrinsic carriers at 300 K per cm3. M. A. Green, J. Appl. Phys. 67, 2944, 1990 (memory);
/// older books print 1.45e10.
pub const INTRINSIC_CM3: f64 = 1.0e10;

/// Permittivity of silicon in F/cm: 11.7 (textbook standard) times 8.8541878e-14 (CODATA).
pub const SILICON_PERMITTIVITY_F_CM: f64 = 11.7 * 8.854_187_8e-14;

/// The largest built-in voltage in V: beyond it both sides are degenerate (common practice).
const LARGEST_BUILT_IN_V: f64 = 1.1;

/// Returns the built-in voltage in V of an abrupt junction at 300 K:
/// `(kT/q) ln(NA ND/ni^2)`, between 0 and 1.1 V.
///
/// # Source
/// Textbook standard (S. M. Sze, Physics of Semiconductor Devices, ch. 2; memory).
#[must_use]
pub fn built_in_v(acceptors_cm3: f64, donors_cm3: f64) -> f64 {
    let ratio = (acceptors_cm3 / INTRINSIC_CM3) * (donors_cm3 / INTRINSIC_CM3);
    (THERMAL_VOLTAGE_V * ln(ratio.max(1.0))).min(LARGEST_BUILT_IN_V)
}

/// Returns the width in um of a one-sided abrupt junction whose lightly doped side holds
/// `doping_cm3`: `sqrt(2 eps V/(q N))`, `V` built-in plus reverse voltage.
///
/// # Source
/// Textbook standard (S. M. Sze, Physics of Semiconductor Devices, ch. 2; memory).
#[must_use]
pub fn one_sided_width_um(doping_cm3: f64, voltage_v: f64) -> f64 {
    let square =
        2.0 * SILICON_PERMITTIVITY_F_CM * voltage_v / (ELEMENTARY_CHARGE_C * doping_cm3);
    square.sqrt() * 1e4
}

/// Returns the capacitance in F/cm2 of the same junction: `eps/W`.
#[must_use]
pub fn one_sided_capacitance_f_cm2(doping_cm3: f64, voltage_v: f64) -> f64 {
    SILICON_PERMITTIVITY_F_CM / (one_sided_width_um(doping_cm3, voltage_v) * 1e-4)
}

/// A junction with its depleted edges.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Depletion {
    /// The metallurgical junction in um.
    pub junction_um: f64,
    /// Where the depleted silicon begins, in um.
    pub upper_um: f64,
    /// Where it ends, in um.
    pub lower_um: f64,
    /// The built-in voltage in V.
    pub built_in_v: f64,
    /// Whether the charge of a whole layer is not enough: it is depleted throughout.
    pub exhausted: bool,
}

/// One side of a junction: the charge from it outward, point by point.
struct Side {
    /// Distances from the junction in cm, increasing from 0.
    distance_cm: Vec<f64>,
    /// Net doping at them, as a size, per cm3.
    size_cm3: Vec<f64>,
    /// Doses from the junction per cm2.
    charge_cm2: Vec<f64>,
    /// Their first moments about the junction per cm.
    moment_cm: Vec<f64>,
}

impl Side {
    /// From the junction to `end_um`, above or below it.
    fn new(doping: &ActiveDoping, junction_um: f64, end_um: f64) -> Self {
        let x = &doping.depth_um;
        let first = x.partition_point(|&x| x <= junction_um.min(end_um));
        let last = x.partition_point(|&x| x < junction_um.max(end_um));
        let inner = x.get(first..last).unwrap_or(&[]);
        let mut points: Vec<(f64, f64)> = vec![(0.0, 0.0)];
        let mut add = |depth: f64| {
            let distance = (depth - junction_um).abs() * 1e-4;
            points.push((distance, doping.net_at(depth).abs()));
        };
        if end_um < junction_um {
            inner.iter().rev().for_each(|&depth| add(depth));
        } else {
            inner.iter().for_each(|&depth| add(depth));
        }
        add(end_um);
        let mut side = Self {
            distance_cm: Vec::with_capacity(points.len()),
            size_cm3: Vec::with_capacity(points.len()),
            charge_cm2: Vec::with_capacity(points.len()),
            moment_cm: Vec::with_capacity(points.len()),
        };
        let (mut charge, mut moment) = (0.0, 0.0);
        let mut before = (0.0, 0.0);
        for (distance, size) in points {
            let width = distance - before.0;
            charge += 0.5 * (before.1 + size) * width;
            moment += 0.5 * (before.1 * before.0 + size * distance) * width;
            side.distance_cm.push(distance);
            side.size_cm3.push(size);
            side.charge_cm2.push(charge);
            side.moment_cm.push(moment);
            before = (distance, size);
        }
        side
    }

    fn whole_cm2(&self) -> f64 {
        self.charge_cm2.last().copied().unwrap_or(0.0)
    }

    /// Distance in cm, doping per cm3 and moment per cm where the charge reaches a value.
    fn at(&self, charge_cm2: f64) -> (f64, f64, f64) {
        let upper = self.charge_cm2.partition_point(|&q| q < charge_cm2);
        let j = upper.clamp(1, self.charge_cm2.len() - 1);
        let span = self.charge_cm2[j] - self.charge_cm2[j - 1];
        let t = if 0.0 < span {
            ((charge_cm2 - self.charge_cm2[j - 1]) / span).clamp(0.0, 1.0)
        } else {
            1.0
        };
        let between = |list: &[f64]| list[j - 1] + (list[j] - list[j - 1]) * t;
        (between(&self.distance_cm), between(&self.size_cm3), between(&self.moment_cm))
    }
}

/// Returns the depleted edges of the junction at `junction_um` between the layers that reach
/// up to `top_um` and down to `bottom_um`.
///
/// # Model
/// Depletion approximation for any profile at 300 K without outer voltage: both edges hold the
/// same charge `Q`, the moment `(q/eps) Int x N dx` of both is the built-in voltage
/// `(kT/q) ln(N1 N2/ni^2)` of the doping at the edges; bisection in `Q`.
///
/// # Source
/// Textbook standard (S. M. Sze, Physics of Semiconductor Devices, ch. 2; memory).
#[must_use]
pub fn depleted_edges(
    doping: &ActiveDoping,
    junction_um: f64,
    top_um: f64,
    bottom_um: f64,
) -> Depletion {
    let above = Side::new(doping, junction_um, top_um);
    let below = Side::new(doping, junction_um, bottom_um);
    let most = above.whole_cm2().min(below.whole_cm2());
    // Voltage that a charge carries, and the built-in voltage of the doping at its ends.
    let voltages = |charge: f64| {
        let ((_, n1, m1), (_, n2, m2)) = (above.at(charge), below.at(charge));
        let carried = ELEMENTARY_CHARGE_C / SILICON_PERMITTIVITY_F_CM * (m1 + m2);
        (carried, built_in_v(n1, n2))
    };
    let missing = |charge: f64| {
        let (carried, wanted) = voltages(charge);
        carried - wanted
    };
    let mut high = most;
    let exhausted = missing(most) <= 0.0;
    if !exhausted {
        // From outside in: close to the junction the doping, and with it the wanted
        // voltage, vanishes.
        let mut low = 0.5 * most;
        for _ in 0..100 {
            if missing(low) < 0.0 {
                break;
            }
            high = low;
            low *= 0.5;
        }
        for _ in 0..100 {
            let middle = 0.5 * (low + high);
            if missing(middle) < 0.0 { low = middle } else { high = middle }
        }
    }
    Depletion {
        junction_um,
        upper_um: (junction_um - above.at(high).0 * 1e4).max(top_um),
        lower_um: (junction_um + below.at(high).0 * 1e4).min(bottom_um),
        built_in_v: voltages(high).1,
        exhausted,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::num::linspace;

    /// A uniform layer of acceptors on a uniform wafer of donors.
    fn step(acceptors_cm3: f64, donors_cm3: f64, junction_um: f64) -> ActiveDoping {
        let mut depth_um = linspace(0.0, junction_um - 1e-7, 2000);
        depth_um.extend(linspace(junction_um + 1e-7, junction_um + 20.0, 4000));
        let net_cm3 = depth_um
            .iter()
            .map(|&x| if x <= junction_um { -acceptors_cm3 } else { donors_cm3 })
            .collect::<Vec<f64>>();
        let total_cm3 = net_cm3.iter().map(|n| n.abs()).collect();
        ActiveDoping { depth_um, net_cm3, total_cm3, donor: None, acceptor: None }
    }

    #[test]
    fn an_abrupt_junction_has_the_textbook_width() {
        // Vbi = 0.025852 ln(1e18 1e16/1e20) = 0.8334 V; W = sqrt(2 eps Vbi/(q 1e16) (1 + 0.01)).
        let found = depleted_edges(&step(1e18, 1e16, 1.0), 1.0, 0.0, 21.0);
        let v = built_in_v(1e18, 1e16);
        assert!((v - 0.833_4).abs() < 1e-3, "{v}");
        let whole = one_sided_width_um(1e16, v) * 1.01_f64.sqrt();
        let width = found.lower_um - found.upper_um;
        assert!((width / whole - 1.0).abs() < 1e-3, "{width} {whole}");
        // The charges of both sides are equal.
        let ratio = (found.lower_um - 1.0) / (1.0 - found.upper_um);
        assert!((ratio / 100.0 - 1.0).abs() < 5e-3, "{ratio}");
        assert!(!found.exhausted);
    }

    #[test]
    fn a_layer_with_too_little_charge_is_exhausted() {
        let found = depleted_edges(&step(1e15, 1e15, 0.01), 0.01, 0.0, 20.0);
        assert!(found.exhausted);
        assert!(found.upper_um.abs() < 1e-9, "{found:?}");
    }
}

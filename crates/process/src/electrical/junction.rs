//! Metallurgical junctions: where donors and acceptors balance.

use crate::num::{exp, ln};
use crate::profile::Profile;

/// Returns the depths in um at which the net doping changes sign, from the surface down.
///
/// # Model
/// Between two points each dopant follows a straight line in the logarithm (a straight line
/// where it is zero); the substrate is uniform. The crossing is found by bisection.
#[must_use]
pub fn junctions_um(profile: &Profile, background_cm3: f64) -> Vec<f64> {
    let x = &profile.depth_um;
    let mut found = Vec::new();
    let mut sign = 0.0;
    for i in 0..x.len() {
        let here = profile
            .dopants
            .iter()
            .fold(background_cm3, |sum, (dopant, c)| sum + dopant.charge() * c[i]);
        if here == 0.0 {
            continue;
        }
        if sign * here < 0.0 && 0 < i {
            let ways: Vec<(f64, Way)> = profile
                .dopants
                .iter()
                .map(|(dopant, c)| (dopant.charge(), Way::between(c[i - 1], c[i])))
                .collect();
            let (mut low, mut high) = (0.0, 1.0);
            for _ in 0..50 {
                let middle = 0.5 * (low + high);
                let net = ways.iter().fold(background_cm3, |sum, (charge, way)| {
                    sum + charge * way.at(middle)
                });
                if net * sign < 0.0 { high = middle } else { low = middle }
            }
            found.push(x[i - 1] + (x[i] - x[i - 1]) * 0.5 * (low + high));
        }
        sign = here;
    }
    found
}

/// How a concentration goes from one point to the next.
#[derive(Clone, Copy, Debug)]
enum Way {
    /// Straight in the logarithm, from one to another.
    Logarithm(f64, f64),
    /// Straight, where one of them is zero.
    Straight(f64, f64),
}

impl Way {
    fn between(a: f64, b: f64) -> Self {
        if 0.0 < a && 0.0 < b {
            Self::Logarithm(ln(a), ln(b))
        } else {
            Self::Straight(a, b)
        }
    }

    /// The value at a share of the way.
    fn at(self, t: f64) -> f64 {
        match self {
            Self::Logarithm(a, b) => exp(a * (1.0 - t) + b * t),
            Self::Straight(a, b) => a + (b - a) * t,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::num::linspace;
    use crate::vocabulary::Dopant;

    #[test]
    fn a_gaussian_crosses_where_the_formula_says() {
        let depth_um = linspace(0.0, 3.0, 120);
        let boron = depth_um.iter().map(|x| 1e18 * exp(-x * x)).collect();
        let profile = Profile {
            depth_um,
            dopants: vec![(Dopant::Boron, boron)],
            ..Profile::default()
        };
        let found = junctions_um(&profile, 1e15);
        assert_eq!(found.len(), 1);
        assert!((found[0] - ln(1e3).sqrt()).abs() < 1e-3);
        assert!(junctions_um(&profile, -1e15).is_empty());
    }
}

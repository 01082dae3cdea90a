//! Doped layers in silicon for tests of the diffusion solver itself.

use barewafer_process::diffusion::diffusivity::intrinsic_cm3;
use barewafer_process::diffusion::layer::Layer;
use barewafer_process::diffusion::solver::{ChargeComponents, Crystal, Grid, Species};
use barewafer_process::num::{exp, linspace, ln};
use barewafer_process::units::Temperature;
use barewafer_process::vocabulary::{DiffusivitySet, Dopant};

/// Silicon in which no dopant is extrinsic.
pub const PLAIN: Crystal = Crystal { intrinsic_cm3: 1e19, background_cm3: 0.0 };

/// A dopant of the default set with its diffusivity times `factor`, and the intrinsic carriers
/// per cm3.
///
/// # Panics
/// If the set lacks the dopant.
#[must_use]
pub fn species(dopant: Dopant, celsius: f64, factor: f64) -> (Species, f64) {
    let t = Temperature::celsius(celsius);
    let found = DiffusivitySet::Plummer2000.species(dopant, t, None);
    assert!(found.is_ok(), "no diffusivity of {dopant:?}");
    let mut species = found.unwrap_or_else(|_| constant(0.0));
    species.diffusivity = species.diffusivity.scaled(factor);
    (species, intrinsic_cm3(t))
}

/// A neutral dopant of constant diffusivity.
#[must_use]
pub fn constant(d_cm2_s: f64) -> Species {
    Species {
        charge: 0.0,
        diffusivity: ChargeComponents { neutral_cm2_s: d_cm2_s, ..Default::default() },
        active_limit_cm3: None,
    }
}

/// The depths of a grid in um.
#[must_use]
pub fn um(grid: &Grid) -> Vec<f64> {
    grid.nodes_cm().iter().map(|x| x * 1e4).collect()
}

/// A Gaussian with its whole dose inside the silicon.
#[must_use]
pub fn implanted(dose_cm2: f64, range_um: f64, straggle_um: f64) -> Layer {
    let x = linspace(0.0, range_um + 8.0 * straggle_um, 600);
    let c: Vec<f64> = x
        .iter()
        .map(|x| {
            let u = (x - range_um) / straggle_um;
            exp(-0.5 * u * u)
        })
        .collect();
    let x_cm: Vec<f64> = x.iter().map(|x| x * 1e-4).collect();
    let layer = Layer::from_points(&x_cm, &c);
    let factor = dose_cm2 / layer.dose_cm2();
    layer.scaled(factor)
}

/// The largest concentration.
#[must_use]
pub fn largest(c: &[f64]) -> f64 {
    c.iter().copied().fold(0.0, f64::max)
}

/// The concentration at a depth, interpolated in its logarithm.
#[must_use]
pub fn value_at(x: &[f64], c: &[f64], at: f64) -> f64 {
    let j = x.partition_point(|&x| x < at).clamp(1, x.len() - 1);
    let t = (at - x[j - 1]) / (x[j] - x[j - 1]);
    exp(ln(c[j - 1]) * (1.0 - t) + ln(c[j]) * t)
}

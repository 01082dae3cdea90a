//! Arrival times against shortest paths that can be written down.

use super::super::{Layer, Matter, Section};
use super::arrival::Field;
use super::pieces::Pieces;
use super::rates::Rates;
use crate::vocabulary::{Dopant, Material};

const OXIDE: Matter = Matter::Film(crate::etching::Film {
    material: Material::DepositedOxide,
    variant: None,
});

/// Columns of 10 nm from -600 to 900; the layers of a column by the x of its middle, nm, given as
/// matters with their tops from -800.
fn section(layers: impl Fn(f64) -> Vec<(Matter, f64)>) -> Section {
    let edges = (-60..=90).map(|i| 10.0 * f64::from(i)).collect();
    let depths = (0..=100).map(|k| 10.0 * f64::from(k)).collect();
    let mut section = Section::bare(edges, depths, (Dopant::Boron, 1e15));
    for i in 0..section.columns() {
        section.lower_silicon(i, -800.0, super::super::Swept::Removed);
        let layers: Vec<Layer> = layers(section.center_nm(i))
            .into_iter()
            .map(|(matter, top_nm)| Layer::new(matter, top_nm))
            .collect();
        section.set_layers(i, &layers);
    }
    section
}

/// Mean and largest relative error of the times of nodes right of x = 0 that are reached within
/// `until`, and how many these are; `exact` gives the time at x and depth, or none.
fn errors(
    section: &Section,
    rate: impl FnMut(Matter) -> f64,
    until: f64,
    exact: impl Fn(f64, f64) -> Option<f64>,
) -> (f64, f64, usize) {
    let rates = Rates::new(section, rate);
    let pieces = Pieces::of(section, &rates);
    let later = 1.2 * until;
    let mut field = Field::new(section, &pieces, later * rates.fastest_nm_min(), None);
    field.march(section, &pieces, later, None);
    let (mut sum, mut worst, mut count) = (0.0, 0.0_f64, 0);
    for at in 0..field.columns.len() {
        for (k, z) in field.levels_nm.iter().enumerate() {
            let x = field.center_nm[at];
            let time = field.time_min[at * field.levels() + k];
            let Some(exact) = exact(x, -z) else { continue };
            if x < 0.0 || until < exact || exact < 30.0 {
                continue;
            }
            let error = (time / exact - 1.0).abs();
            sum += error;
            worst = worst.max(error);
            count += 1;
        }
    }
    #[expect(clippy::cast_precision_loss, reason = "a count of nodes")]
    let mean = sum / count.max(1) as f64;
    println!("mean {:.3} %, worst {:.3} %, {count} nodes", 100.0 * mean, 100.0 * worst);
    (mean, worst, count)
}

fn length(dx: f64, dz: f64) -> f64 {
    (dx * dx + dz * dz).sqrt()
}

#[test]
fn a_fast_layer_below_runs_ahead() {
    // 100 nm of a slow film (1 nm/min) on a fast one (3 nm/min), masked for 0 < x.
    let d = 100.0;
    let fast = Matter::of(Material::PhosphorusGlass);
    let mask = Matter::of(Material::Nitride);
    let section = section(|x| {
        let mut layers = vec![(fast, -d), (OXIDE, 0.0)];
        if 0.0 < x {
            layers.push((mask, 40.0));
        }
        layers
    });
    let cosine = (1.0_f64 - 1.0 / 9.0).sqrt();
    let exact = |x: f64, z: f64| {
        if z < 0.0 {
            return None;
        }
        if z <= d {
            let around = x / 3.0 + (2.0 * d - z) * cosine;
            return Some(length(x, z).min(around));
        }
        // Through the border at the best place.
        let at = |s: f64| length(s, d) + length(x - s, z - d) / 3.0;
        let (mut a, mut b) = (0.0, x.max(0.0));
        for _ in 0..100 {
            let (p, q) = (a + (b - a) / 3.0, b - (b - a) / 3.0);
            if at(p) < at(q) { b = q } else { a = p }
        }
        Some(at(a))
    };
    let rate = |matter| {
        if matter == OXIDE {
            1.0
        } else if matter == fast {
            3.0
        } else {
            0.0
        }
    };
    let (mean, worst, count) = errors(&section, rate, 300.0, exact);
    assert!(2000 < count);
    assert!(mean < 0.004 && worst < 0.04, "{mean} {worst}");
}

#[test]
fn a_buried_block_is_gone_around() {
    // From the mask edge at x = 0 the way leads under a block from 100 to 200, 200 deep.
    let mask = Matter::of(Material::Nitride);
    let section = section(|x| {
        let mut layers = vec![(OXIDE, 0.0)];
        if (100.0..200.0).contains(&x) {
            layers = vec![(OXIDE, -200.0), (mask, 0.0)];
        }
        if 0.0 < x {
            layers.push((mask, 40.0));
        }
        layers
    });
    let first = length(100.0, 200.0);
    let exact = |x: f64, z: f64| {
        if x < 0.0 || z < 0.0 || ((100.0..200.0).contains(&x) && z <= 200.0) {
            None
        } else if x < 100.0 || 2.0 * x <= z {
            Some(length(x, z))
        } else if 200.0 <= z {
            Some(first + length(x - 100.0, z - 200.0))
        } else {
            Some(first + 100.0 + length(x - 200.0, z - 200.0))
        }
    };
    let rate = |matter| if matter == OXIDE { 1.0 } else { 0.0 };
    let (mean, worst, count) = errors(&section, rate, 600.0, exact);
    assert!(2000 < count);
    assert!(mean < 0.01 && worst < 0.02, "{mean} {worst}");
}

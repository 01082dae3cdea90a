//! What tests of the wafer's shapes start from: an even wafer, a film, rates.

use barewafer_process::vocabulary::{Dopant, Material};
use barewafer_process::wafer::topography::{Addition, Coverage, Rates};
use barewafer_process::wafer::{DOPANTS, Matter, Section};

/// A wafer of even columns from 0, 1200 nm of silicon.
#[must_use]
pub fn wafer(width_nm: f64, columns: u32) -> Section {
    let edges =
        (0..=columns).map(|i| width_nm * f64::from(i) / f64::from(columns)).collect();
    let depths = (0..=200).map(|k| 6.0 * f64::from(k)).collect();
    Section::bare(edges, depths, (Dopant::Boron, 1e15))
}

/// A conformal film without dopants.
#[must_use]
pub fn film(material: Material, thickness_nm: f64) -> Addition {
    Addition {
        matter: Matter::of(material),
        dopants_cm3: [0.0; DOPANTS],
        thickness_nm,
        coverage: Coverage::Conformal,
    }
}

/// Rates of materials in nm/min; all others do not etch.
#[must_use]
pub fn rates(section: &Section, pairs: &[(Material, f64)]) -> Rates {
    Rates::new(section, |matter| {
        pairs
            .iter()
            .find(|(material, _)| matter.material() == Some(*material))
            .map_or(0.0, |(_, rate)| *rate)
    })
}

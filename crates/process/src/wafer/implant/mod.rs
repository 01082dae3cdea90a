//! Implantation into the whole cross-section.
//!
//! Each distinct stack gets its depth profile from the beam's passage through it (`stacks`);
//! below the layers the ions then spread sideways (`spread`).

mod listed;
mod shadow;
mod spread;
mod stacks;

pub(super) use listed::list;

use super::section::{CM2_PER_NM2, Section};
use crate::implantation::{Beam, ImplantationModel, RangeTable};
use crate::vocabulary::{Dopant, Ion};

/// An implantation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ImplantStep {
    /// What the beam brings.
    pub ion: Ion,
    /// Its energy in keV.
    pub energy_kev: f64,
    /// Ions on the wafer per cm2.
    pub dose_cm2: f64,
    /// Angle between beam and wafer normal in degrees.
    pub tilt_deg: f64,
    /// Angle about the normal in degrees; 0 tilts the beam in the plane of the section, ions
    /// flying to larger x.
    pub rotation_deg: f64,
    /// How the depth profile is drawn.
    pub model: ImplantationModel,
    /// Where ranges come from.
    pub range_table: RangeTable,
}

/// What a stretch of columns with one stack let through.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Transmission {
    /// Left end in nm.
    pub from_x_nm: f64,
    /// Right end in nm.
    pub to_x_nm: f64,
    /// Share of the dose that reached the silicon.
    pub transmitted: f64,
    /// Share of the dose that came back out.
    pub lost: f64,
    /// There are layers on the silicon.
    pub layered: bool,
}

/// What an implantation did.
#[derive(Clone, Debug, PartialEq)]
pub struct Implanted {
    /// The dopant.
    pub dopant: Dopant,
    /// Atoms that came to rest in silicon per cm of page depth.
    pub silicon_cm: f64,
    /// Atoms in layers.
    pub layers_cm: f64,
    /// Atoms that left through the surface or came out of a wall into open space.
    pub lost_cm: f64,
    /// Atoms that a wall kept in its shadow.
    pub shadowed_cm: f64,
    /// Lateral straggle in silicon in nm.
    pub lateral_nm: f64,
    /// What each stretch of equal stacks let through, from left to right.
    pub stacks: Vec<Transmission>,
}

/// Implants the section.
///
/// # Model
/// Per column: dose matching through its layers, as for a flat wafer. In silicon, sideways: a
/// Gaussian of the lateral straggle at the same absolute depth; what comes to lie above a lower
/// neighbor's silicon is in the layer there, or lost. In layers nothing spreads. A tilted beam
/// throws shadows; what flies into the wall that throws one is lost to it, and no ions that a
/// wall lets through are followed (model choices).
pub fn implant(section: &mut Section, step: &ImplantStep) -> Implanted {
    let beam = Beam::new(
        step.ion,
        step.energy_kev,
        step.dose_cm2,
        step.tilt_deg,
        step.model,
        step.range_table,
    );
    let dopant = beam.dopant();
    let mut stacks = stacks::Stacks::of(section, &beam);
    let shaded = shadow::shares(section, &stacks, step.tilt_deg, step.rotation_deg);
    stacks.shade(&shaded);
    let rest = spread::rest(section, &stacks, beam.lateral_nm());
    let columns = section.columns();
    let cells = section.cells();
    // One per nm2 is 1e14 per cm2, one per nm3 is 1e21 per cm3.
    let dose_nm2 = CM2_PER_NM2 * step.dose_cm2;
    let per_cm = 1e7 * dose_nm2;
    let mut done = Implanted {
        dopant,
        silicon_cm: 0.0,
        layers_cm: 0.0,
        lost_cm: per_cm * rest.lost_nm,
        shadowed_cm: 0.0,
        lateral_nm: beam.lateral_nm(),
        stacks: stacks.transmissions(section),
    };
    for (i, shaded) in shaded.iter().enumerate() {
        let width_nm = section.width_nm(i);
        done.shadowed_cm += per_cm * shaded * width_nm;
        done.lost_cm += per_cm * stacks.lost(i) * width_nm;
    }
    section.silicon_cm3_mut(dopant);
    for i in 0..columns {
        let width_nm = section.width_nm(i);
        for k in section.columns[i].first.index..cells {
            let share = rest.silicon[i * cells + k];
            if 0.0 < share {
                let concentration_cm3 = 1e21 * dose_nm2 * share / section.height_nm(i, k);
                section.silicon_cm3[dopant as usize][i * cells + k] += concentration_cm3;
                done.silicon_cm += per_cm * share * width_nm;
            }
        }
        for (k, &share) in rest.layers[i].iter().enumerate() {
            if 0.0 < share {
                let thickness_nm = section.layers(i)[k].top_nm - section.floor_nm(i, k);
                section.columns[i].layers[k].dopants_cm3[dopant as usize] +=
                    1e21 * dose_nm2 * share / thickness_nm;
                done.layers_cm += per_cm * share * width_nm;
            }
        }
    }
    let whole_cm = per_cm * (section.edges_nm[columns] - section.edges_nm[0]);
    section.book(dopant, whole_cm);
    section.book(dopant, -(done.lost_cm + done.shadowed_cm));
    done
}

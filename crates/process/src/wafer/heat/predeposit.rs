//! Predeposition: a source holds every bare surface while dopant soaks in.

use super::WaferFacts;
use super::boost::Boost;
use super::depth::{self, Surface};
use super::lateral::{self, Reservoir};
use super::lines::Lines;
use super::moment::DopingModel;
use super::owed::Owed;
use super::oxide::reached_by_gas;
use super::schedule::{HeatSegment, Spacing, Step, steps};
use super::stepping::{DEPTH, EXPONENT};
use crate::vocabulary::{Ambient, Dopant, Material};
use crate::wafer::layer::{Layer, Matter};
use crate::wafer::section::{CM2_PER_NM2, Section};

/// What a predeposition is meant for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PredepositTarget {
    /// The silicon.
    Silicon,
    /// The polysilicon.
    Polysilicon,
}

/// A predeposition.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PredepositStep {
    /// What the source brings.
    pub dopant: Dopant,
    /// Concentration that it holds at the surface per cm3.
    pub surface_cm3: f64,
    /// Temperature in C.
    pub temperature_c: f64,
    /// Time in min.
    pub time_min: f64,
    /// What it is meant for; the source dopes all that is bare.
    pub target: PredepositTarget,
    /// The wafer.
    pub wafer: WaferFacts,
    /// How dopants move.
    pub doping: DopingModel,
    /// Glass that the source leaves on bare silicon and polysilicon, with its thickness in nm.
    pub glass: Option<(Matter, f64)>,
}

/// What a predeposition did.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Predeposited {
    /// Width of bare silicon in nm.
    pub bare_silicon_nm: f64,
    /// Width of bare polysilicon in nm.
    pub bare_polysilicon_nm: f64,
    /// Atoms supplied per cm of page depth.
    pub supplied_cm: f64,
    /// Nothing of the target was bare.
    pub target_is_covered: bool,
}

/// Steps of a predeposition (measured: dose within 0.03 %, depth at a hundredth of the surface
/// within 0.2 %, spread under a mask edge at a tenth 2 % short).
pub(super) const STEPS: usize = 40;

/// Holds the surface of all bare silicon at a concentration, and fills bare polysilicon with it.
///
/// # Model
/// Grain boundaries spread dopant through a film of polysilicon within minutes, so that it takes
/// the surface concentration through its whole thickness (model choice).
pub fn predeposit(section: &mut Section, step: &PredepositStep) -> Predeposited {
    let gas = reached_by_gas(section);
    let columns = section.columns();
    let open: Vec<bool> = gas.iter().map(|gas| gas[0]).collect();
    let mut done = Predeposited::default();
    for i in (0..columns).filter(|&i| open[i]) {
        done.bare_silicon_nm += section.width_nm(i);
    }
    let before_cm = section.inventory(step.dopant).supplied_cm;
    if 0.0 < done.bare_silicon_nm {
        soak(section, step, &open);
    }
    for (i, gas) in gas.iter().enumerate() {
        for k in 0..section.layers(i).len() {
            let is_poly =
                section.layers(i)[k].matter.material() == Some(Material::Polysilicon);
            if is_poly && gas[k + 1] {
                done.bare_polysilicon_nm += section.width_nm(i);
                fill(section, i, k, step);
            }
        }
    }
    done.supplied_cm = section.inventory(step.dopant).supplied_cm - before_cm;
    done.target_is_covered = match step.target {
        PredepositTarget::Silicon => done.bare_silicon_nm <= 0.0,
        PredepositTarget::Polysilicon => done.bare_polysilicon_nm <= 0.0,
    };
    if let Some((matter, thickness_nm)) = step.glass {
        for (i, gas) in gas.iter().enumerate() {
            cover_with_glass(section, i, gas, matter, thickness_nm);
        }
    }
    done
}

/// Lets the dopant soak into silicon.
fn soak(section: &mut Section, step: &PredepositStep, open: &[bool]) {
    section.silicon_cm3_mut(step.dopant);
    let dopants = section.dopants();
    let held = dopants.iter().position(|&d| d == step.dopant).unwrap_or(0);
    let segment = HeatSegment::hold(Ambient::Inert, step.temperature_c, step.time_min);
    let orientation = step.wafer.orientation;
    let spacing = Spacing::Power(EXPONENT);
    let steps = steps(&segment, STEPS, spacing, &step.doping, orientation, &dopants);
    let supplied = hold(section, &steps, held, step.surface_cm3, open);
    section.book(step.dopant, supplied * CM2_PER_NM2);
}

/// Holds the surface of the open columns through the steps; gives what the source supplied in
/// nm2 times per cm3.
pub(super) fn hold(
    section: &mut Section,
    steps: &[Step],
    held: usize,
    surface_cm3: f64,
    open: &[bool],
) -> f64 {
    let mut lines = Lines::default();
    let mut owed = Owed::default();
    let none = Boost::default();
    let reservoir = Reservoir { dopant: held, open };
    let surface = Surface::Held { dopant: held, surface_cm3, open };
    let mut supplied = 0.0;
    let Some(moment) = steps.first().map(|step| step.moment.clone()) else { return 0.0 };
    let mut crossed = vec![vec![0.0; moment.mobiles.len()]; section.columns()];
    let half = |before: Option<&Step>, next: Option<&Step>| {
        0.5 * before.into_iter().chain(next).map(Step::length_s).sum::<f64>()
    };
    let along_x =
        |section: &mut Section, lines: &mut Lines, dt_s: f64, owed: &mut Owed| {
            lateral::sweep(section, lines, &moment, dt_s, Some(reservoir), &none, owed)
        };
    for (k, now) in steps.iter().enumerate() {
        let before = k.checked_sub(1).map(|k| &steps[k]);
        supplied += along_x(section, &mut lines, half(before, Some(now)), &mut owed);
        depth::sweep(
            section,
            &mut lines,
            &moment,
            now.length_s(),
            DEPTH,
            surface,
            &none,
            &mut crossed,
        );
    }
    owed.is_due = true;
    supplied += along_x(section, &mut lines, half(steps.last(), None), &mut owed);
    for (i, crossed) in crossed.iter().enumerate() {
        supplied += section.width_nm(i) * crossed[held];
    }
    supplied
}

/// Fills a layer of polysilicon.
fn fill(section: &mut Section, column: usize, layer: usize, step: &PredepositStep) {
    let area_cm2 = section.width_nm(column)
        * (section.layers(column)[layer].top_nm - section.floor_nm(column, layer))
        * CM2_PER_NM2;
    let held = &mut section.layer_dopants_cm3_mut(column, layer)[step.dopant as usize];
    let added_cm3 = (step.surface_cm3 - *held).max(0.0);
    *held += added_cm3;
    section.book(step.dopant, added_cm3 * area_cm2);
}

/// Puts glass on what is bare.
fn cover_with_glass(
    section: &mut Section,
    column: usize,
    gas: &[bool],
    matter: Matter,
    thickness_nm: f64,
) {
    let layers = section.layers(column);
    let top_is_poly = layers
        .last()
        .is_none_or(|layer| layer.matter.material() == Some(Material::Polysilicon));
    if top_is_poly && gas[layers.len()] {
        let mut layers = layers.to_vec();
        layers.push(Layer::new(matter, section.top_nm(column) + thickness_nm));
        section.set_layers(column, &layers);
    }
}

//! Films that grow on a section.

use super::super::{DOPANTS, Matter, Section};
use super::closing;
use super::discs::{Growth, WallShares, widened};
use super::paint::{Stroke, paint};
use super::sky::{sky_share, wall_share};
use super::spans::{Spans, common, difference, open_space, solid};
use super::walls::{self, Facing};

/// How a film follows steps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Coverage {
    /// Every surface grows alike.
    Conformal,
    /// A share reaches every surface alike; the rest comes from all directions of the sky and
    /// stays where it lands.
    Directional {
        /// The share that reaches every surface alike (0 to 1).
        wall_share: f64,
    },
    /// Straight down; nothing on upright walls.
    Beam,
}

/// A film to be deposited.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Addition {
    /// What it is made of.
    pub matter: Matter,
    /// Dopants in it per cm3, in the vocabulary's order.
    pub dopants_cm3: [f64; DOPANTS],
    /// Thickness on flat open ground in nm.
    pub thickness_nm: f64,
    /// How it follows steps.
    pub coverage: Coverage,
}

/// What a deposition added.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Added {
    /// Area of the film in nm2.
    pub area_nm2: f64,
    /// Area of gas that the film shut in, in nm2.
    pub closed_voids_nm2: f64,
}

/// Deposits a film.
///
/// # Model
/// A conformal film is all open space within its thickness of the old surface, at once and not
/// in steps. A directional one grows on every column's top by `t (c + (1 - c) S)`, `S` the share
/// of the sky that the top sees, likewise on walls with the share that a wall sees at half its
/// height (at most 1/2), and by `c t` under overhangs; about an edge top and wall are the half
/// axes of an ellipse. Gas that the growing film cuts off from the sky stays
/// gas, as large as it was at that moment.
///
/// # Validity
/// The share of the sky is that of the old surface: for films that are thin beside the gaps
/// that they line.
pub fn deposit(section: &mut Section, film: &Addition) -> Added {
    let thickness_nm = film.thickness_nm;
    if !(thickness_nm.is_finite() && 0.0 < thickness_nm) || film.matter.is_open() {
        return Added::default();
    }
    let everywhere = match film.coverage {
        Coverage::Conformal => 1.0,
        Coverage::Directional { wall_share } => wall_share.clamp(0.0, 1.0),
        Coverage::Beam => 0.0,
    };
    let around_nm = everywhere * thickness_nm;
    let sky = matches!(film.coverage, Coverage::Directional { .. });
    // A wall sees at most half of the sky.
    let across_nm = if sky { 0.5 * (around_nm + thickness_nm) } else { around_nm };
    let (mut solids, mut gas) = surroundings(section);
    let share = |section: &Section, i: usize, facing: Facing| {
        let seen = everywhere + (1.0 - everywhere) * wall_share(section, i, facing);
        if sky { seen * thickness_nm / across_nm } else { 1.0 }
    };
    let wanted: [Vec<f64>; 2] = wall_shares(section, &share);
    let reach_nm = |i: usize, facing: Facing| across_nm * wanted[facing as usize][i];
    if walls::insert(section, &solids, &gas, reach_nm) {
        (solids, gas) = surroundings(section);
    }
    let top_nm: Vec<f64> = (0..section.columns())
        .map(|i| {
            let seen = if sky { sky_share(section, i) } else { 1.0 };
            thickness_nm * (everywhere + (1.0 - everywhere) * seen)
        })
        .collect();
    let [left, right] = wall_shares(section, &share);
    let walls = sky.then_some(WallShares { left: &left, right: &right });
    let growth = Growth { across_nm, walls, around_nm, top_nm: &top_nm, share: 1.0 };
    let voids = closing::voids(section, &solids, &gas, &growth);
    let mut added = Added { area_nm2: 0.0, closed_voids_nm2: voids.area_nm2(section) };
    let (mut reached, mut inside, mut grown) = (Vec::new(), Vec::new(), Vec::new());
    for i in 0..section.columns() {
        let here = (i, section.center_nm(i));
        widened(section, &solids, here, &growth, &mut reached);
        inside.clear();
        common(gas.of(i), &reached, &mut inside);
        grown.clear();
        difference(&inside, voids.of(i), &mut grown);
        let strokes: Vec<Stroke> = grown
            .iter()
            .map(|&[from_nm, to_nm]| Stroke {
                from_nm,
                to_nm,
                matter: film.matter,
                dopants_cm3: film.dopants_cm3,
            })
            .collect();
        let height_nm: f64 = grown.iter().map(|[from, to]| to - from).sum();
        added.area_nm2 += height_nm * section.width_nm(i);
        paint(section, i, &strokes);
    }
    added
}

/// A share of every column toward smaller and toward larger x.
fn wall_shares(
    section: &Section,
    share: &impl Fn(&Section, usize, Facing) -> f64,
) -> [Vec<f64>; 2] {
    [Facing::Left, Facing::Right]
        .map(|facing| (0..section.columns()).map(|i| share(section, i, facing)).collect())
}

/// All solid, and the open space that hangs together with the sky.
fn surroundings(section: &Section) -> (Spans, Spans) {
    let (gas, _) = open_space(section).split_by_sky();
    (solid(section), gas)
}

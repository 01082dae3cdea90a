//! The shape of a film over a trench in section.
//!
//! Lengths are in um, x to the right from the trench's middle, z up from the old surface. A
//! trench is long, its walls are upright, and its section is symmetric.

mod conformal;
mod front;
mod marched;
mod plain;
mod shadow;

pub use shadow::{flat_share_at_bottom, flat_share_at_wall};

/// How the atoms of a film arrive and where they stick.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Arrival {
    /// They leave a wall again many times before they react: every surface grows alike.
    Everywhere,
    /// A part reaches every surface alike; the rest comes straight from all directions of the
    /// sky by the cosine law and sticks where it lands.
    Diffuse {
        /// Share of the growth on flat ground that every surface gets (0 to 1).
        everywhere: f64,
    },
    /// Straight from one direction, which is upright at the wafer's center.
    Beam,
    /// As a liquid that finds its level before it sets.
    Liquid,
}

/// A long trench with upright walls.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trench {
    /// Width in um.
    pub width_um: f64,
    /// Depth in um.
    pub depth_um: f64,
}

/// A film over a trench.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Covered {
    /// The film's surface from the left end to the middle.
    pub surface: Vec<[f64; 2]>,
    /// Voids that the film has shut: the left side from top to bottom of one in the middle, the
    /// whole edge of one beside it (its mirror image is not listed).
    pub voids: Vec<Vec<[f64; 2]>>,
    /// Lower and upper end of the seam in the middle where the walls have met.
    pub seam: Option<[f64; 2]>,
    /// Film on the wall at half depth in um, measured across; half the width once closed. None
    /// where the film has filled an open trench to there from below.
    pub side_um: Option<f64>,
    /// Film at the bottom's middle in um.
    pub bottom_um: f64,
}

impl Trench {
    /// The film of a thickness on flat ground over this trench. `shrink` is the share of its
    /// height that a spun film loses when it is cured.
    #[must_use]
    pub fn covered(&self, arrival: Arrival, thickness_um: f64, shrink: f64) -> Covered {
        match arrival {
            Arrival::Everywhere => conformal::covered(self, thickness_um),
            Arrival::Diffuse { everywhere } => {
                marched::covered(self, thickness_um, everywhere)
            }
            Arrival::Beam => plain::beam(self, thickness_um),
            Arrival::Liquid => plain::liquid(self, thickness_um, shrink),
        }
    }

    /// Where a section of this trench under a film begins: enough flat ground beside it.
    fn left_um(&self, thickness_um: f64) -> f64 {
        -0.5 * self.width_um - (0.6 * self.width_um).max(1.3 * thickness_um)
    }

    /// Depth over width.
    #[must_use]
    pub fn aspect_ratio(&self) -> f64 {
        self.depth_um / self.width_um
    }
}

//! The grid of an anneal: as deep as the dopant will go, as fine as its front will be.

use super::layer::Layer;
use super::solver::{Crystal, Grid, Species, electrons};

/// How the grid differs from the usual one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GridWish {
    /// Stretches its depth.
    pub deeper: f64,
    /// Shrinks its spacing.
    pub finer: f64,
    /// Thickness in cm of what piles up at the surface, if anything does.
    pub pile_up_cm: Option<f64>,
}

impl Default for GridWish {
    fn default() -> Self {
        Self { deeper: 1.0, finer: 1.0, pile_up_cm: None }
    }
}

/// The finest spacing at the surface in cm: an atomic layer or two.
const FINEST_CM: f64 = 3e-8;

/// Chooses the grid for an anneal of `time_s` from the given start.
///
/// # Model
/// The front of a heavily doped layer moves like a diffusion with a diffusivity proportional to
/// the concentration: `x^2 = x0^2 + 6 t h D(C)` with the peak `C = 1.5 Q/x` (G. I. Barenblatt
/// 1952, in J. Crank, The Mathematics of Diffusion, 1975, ch. 7; memory; derived here for a
/// half space). Ahead of it goes a foot in which the concentration falls by e in `3 t Di/x`;
/// there a spacing `h` shifts the depth by about `h^2/(12 t Di)` over three decades, so an
/// eighth of `sqrt(Di t)` costs less than two parts in a thousand (derived).
#[must_use]
pub fn anneal_grid(
    layers: &[Layer],
    species: &[Species],
    crystal: Crystal,
    time_s: f64,
    wish: GridWish,
) -> Grid {
    let mut length = 1e-6_f64;
    let mut fronts: Vec<(f64, f64)> = Vec::with_capacity(layers.len());
    for (layer, species) in layers.iter().zip(species) {
        let start_cm = layer.depth_where_below(1e-13 * layer.largest_cm3());
        let sharp_cm = layer.depth_where_below(0.03 * layer.largest_cm3());
        let root_cm = (species.diffusivity.at(1.0) * time_s).sqrt();
        let x = front_depth(layer, species, crystal, time_s, sharp_cm);
        // Every dopant has its own front, and the slowest the finest foot.
        fronts.push(((0.13 * root_cm).max(x / 260.0), 1.1 * x));
        length = length.max((1.15 * x).max(start_cm) + 7.0 * root_cm);
    }
    // A pile-up falls by e in D/v: four nodes show it.
    let at_surface = wish.pile_up_cm.map_or(f64::INFINITY, |thick| 0.25 * thick);
    let at_surface = at_surface.max(FINEST_CM);
    Grid::graded(wish.deeper * length, |x| {
        let usual = fronts.iter().fold(f64::INFINITY, |least, (fine, calm)| {
            let wanted = (0.5 * fine + 0.008 * x).min(fine + 0.05 * (x - calm).max(0.0));
            least.min(wanted)
        });
        usual.min(at_surface + 0.06 * x) / wish.finer
    })
}

/// Depth in cm that the front of a layer will reach.
fn front_depth(
    layer: &Layer,
    species: &Species,
    crystal: Crystal,
    time_s: f64,
    start_cm: f64,
) -> f64 {
    let dose = layer.dose_cm2();
    let peak = layer.largest_cm3();
    let spread = |x: f64| {
        let c = (1.5 * dose / x).min(peak);
        let (ratio, sensitivity) =
            electrons(c + crystal.background_cm3.abs(), crystal.intrinsic_cm3);
        let field = 1.0 + species.charge.abs() * c * sensitivity;
        let carrier = if species.charge == 0.0 { 1.0 } else { ratio };
        (start_cm * start_cm + 6.0 * time_s * field * species.diffusivity.at(carrier))
            .sqrt()
    };
    let (mut low, mut high) = (start_cm.max(1e-8), spread(start_cm.max(1e-8)));
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if middle < spread(middle) { low = middle } else { high = middle }
    }
    high
}

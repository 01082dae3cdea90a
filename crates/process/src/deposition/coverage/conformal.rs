//! A film that grows alike everywhere: the old surface moved out by the thickness.

use super::{Covered, Trench};
use crate::num::{cos, linspace, sin};

/// The exact offset: flat ground, a quarter circle about the edge whose radius is the
/// thickness, the wall, the bottom. Walls that have met leave a notch over a seam.
pub(super) fn covered(trench: &Trench, t_um: f64) -> Covered {
    let (half_um, depth_um) = (0.5 * trench.width_um, trench.depth_um);
    let bottom_z = t_um - depth_um;
    // The circle about the edge ends on the wall, on the risen bottom, or in the middle.
    let notch_z = (t_um * t_um - half_um * half_um).max(0.0).sqrt();
    let closes = half_um <= t_um && bottom_z < notch_z;
    let lowest_z = if closes { notch_z } else { bottom_z.max(0.0) };
    let end = crate::num::asin((lowest_z / t_um).clamp(0.0, 1.0));
    let mut surface = vec![[trench.left_um(t_um), t_um]];
    surface.extend(
        linspace(core::f64::consts::FRAC_PI_2, end, 25)
            .into_iter()
            .map(|angle| [t_um * cos(angle) - half_um, t_um * sin(angle)]),
    );
    if closes {
        surface.push([0.0, notch_z]);
    } else {
        if bottom_z < 0.0 {
            surface.push([t_um - half_um, bottom_z]);
        }
        surface.push([0.0, bottom_z]);
    }
    let seam_low = half_um - depth_um;
    Covered {
        surface,
        voids: Vec::new(),
        seam: (closes && seam_low < notch_z).then_some([seam_low, notch_z]),
        side_um: Some(t_um.min(half_um)),
        bottom_um: t_um.min(if closes { half_um } else { t_um }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_corner_is_a_circle_and_the_gap_closes_at_half_its_width() {
        let trench = Trench { width_um: 1.0, depth_um: 1.0 };
        let film = covered(&trench, 0.2);
        for [x, z] in film.surface.iter().filter(|p| 0.0 < p[1] && -0.5 < p[0]) {
            let radius = ((x + 0.5) * (x + 0.5) + z * z).sqrt();
            assert!((radius - 0.2).abs() < 1e-12, "{radius}");
        }
        assert!((film.surface[film.surface.len() - 2][0] + 0.3).abs() < 1e-12);
        assert_eq!(film.seam, None);
        let film = covered(&trench, 0.6);
        let [low, high] = film.seam.unwrap();
        assert!((low + 0.5).abs() < 1e-12 && (high - 0.11_f64.sqrt()).abs() < 1e-12);
        assert!((film.side_um.unwrap() - 0.5).abs() < 1e-12);
        // A shallow dish under a thick film is only a dip.
        let film = covered(&Trench { width_um: 4.0, depth_um: 0.1 }, 0.5);
        assert_eq!(film.seam, None);
        assert!((film.surface.last().unwrap()[1] - 0.4).abs() < 1e-12);
    }
}

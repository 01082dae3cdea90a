//! A film whose walls lie in the shadow, grown step by step.

use super::front::{Front, Mesh};
use super::{Covered, Trench};

/// Growth in a step, in pieces.
const STEP: f64 = 0.35;
/// Pieces over the thickness of a film that has overgrown its trench.
const LEFT_OVER_PIECES: f64 = 24.0;

/// The film after a thickness on flat ground.
///
/// # Model
/// The surface is a chain of pieces; each step asks every point how much sky it still sees and
/// moves it out. What no longer sees the gas stops growing.
///
/// # Validity
/// What is not caught at its first touch reaches every surface alike, however deep; so depths
/// of more than about three widths come out too good for films that are not conformal.
pub(super) fn covered(trench: &Trench, t_um: f64, everywhere: f64) -> Covered {
    let half_um = 0.5 * trench.width_um;
    let mesh = Mesh::of(trench, t_um);
    let mut front = Front::bare(trench, t_um, mesh);
    let mut film = Covered::default();
    let mut grown_um = 0.0;
    let mut closed = false;
    while grown_um < t_um * (1.0 - 1e-9) {
        // Above a closed or overgrown trench only a dip is left: pieces may grow with the film.
        let least_um = if closed || trench.width_um < grown_um {
            grown_um / LEFT_OVER_PIECES
        } else {
            0.0
        };
        front.mesh.fine_um = front.mesh.fine_um.max(least_um);
        front.mesh.coarse_um = front.mesh.coarse_um.max(least_um);
        let step_um = (STEP * front.mesh.fine_um).min(t_um - grown_um);
        front.grow(step_um, everywhere);
        grown_um += step_um;
        let mut gaps = front.mend();
        if let Some(gap) = front.cut_at_middle() {
            if !closed {
                closed = true;
                film.bottom_um =
                    trench.depth_um + gap.last().map_or(-0.5 * trench.depth_um, |p| p[1]);
            }
            gaps.push(gap);
            gaps.extend(front.mend());
        }
        // What is too small to be drawn is no void but the end of a corner.
        film.voids.extend(
            gaps.into_iter()
                .filter(|gap| 0.3 * mesh.fine_um * mesh.fine_um < area_um2(gap)),
        );
    }
    let middle_z = front.points.last().map_or(0.0, |p| p[1]);
    if closed {
        let in_middle =
            film.voids.iter().filter(|v| v.first().is_some_and(|p| p[0] == 0.0));
        let from_z = in_middle
            .filter_map(|void| void.first())
            .map(|p| p[1])
            .fold(film.bottom_um - trench.depth_um, f64::max);
        film.seam = (from_z < middle_z).then_some([from_z, middle_z]);
    } else {
        film.bottom_um = middle_z + trench.depth_um;
    }
    let at_z = -0.5 * trench.depth_um;
    film.side_um = crossing_x(&front.points, at_z)
        .or_else(|| film.voids.iter().find_map(|void| crossing_x(void, at_z)))
        .map(|x| x + half_um)
        .or(closed.then_some(half_um));
    film.surface = front.points.iter().map(|&[x, z]| [x.min(0.0), z]).collect();
    film
}

/// Area between a chain and the middle, or inside a closed chain; gas counts positive.
fn area_um2(chain: &[[f64; 2]]) -> f64 {
    let piece = |a: [f64; 2], b: [f64; 2]| 0.5 * (a[0] + b[0]) * (b[1] - a[1]);
    let (Some(&first), Some(&last)) = (chain.first(), chain.last()) else { return 0.0 };
    chain.windows(2).map(|p| piece(p[0], p[1])).sum::<f64>() + piece(last, first)
}

/// Where a chain first passes a height on its way down.
fn crossing_x(chain: &[[f64; 2]], z: f64) -> Option<f64> {
    chain
        .windows(2)
        .find(|p| z <= p[0][1] && p[1][1] < z)
        .map(|p| p[0][0] + (p[1][0] - p[0][0]) * (z - p[0][1]) / (p[1][1] - p[0][1]))
}

#[cfg(test)]
mod tests {
    use super::super::shadow::{flat_share_at_bottom, flat_share_at_wall};
    use super::*;

    #[test]
    fn a_thin_shadowed_film_is_the_closed_form() {
        for (width_um, depth_um) in [(1.0, 0.5), (1.0, 1.0), (1.0, 3.0), (0.4, 0.8)] {
            let trench = Trench { width_um, depth_um };
            let t_um = 0.004 * width_um;
            let film = covered(&trench, t_um, 0.0);
            let bottom = film.bottom_um / t_um / flat_share_at_bottom(width_um, depth_um);
            let side = film.side_um.unwrap()
                / t_um
                / flat_share_at_wall(width_um, 0.5 * depth_um);
            assert!((bottom - 1.0).abs() < 0.01, "{trench:?}: bottom {bottom}");
            assert!((side - 1.0).abs() < 0.01, "{trench:?}: side {side}");
        }
    }

    #[test]
    fn with_no_shadow_it_marches_to_the_exact_offset() {
        let trench = Trench { width_um: 1.0, depth_um: 1.0 };
        let film = covered(&trench, 0.3, 1.0);
        assert!((film.side_um.unwrap() - 0.3).abs() < 0.003, "{:?}", film.side_um);
        assert!((film.bottom_um - 0.3).abs() < 0.003, "{}", film.bottom_um);
        for [x, z] in film.surface.iter().filter(|p| 0.03 < p[1] && -0.5 < p[0]) {
            let radius = ((x + 0.5) * (x + 0.5) + z * z).sqrt();
            assert!((radius / 0.3 - 1.0).abs() < 0.01, "{x} {z}: {radius}");
        }
        // The walls meet at half the width, and no void is left.
        let film = covered(&trench, 0.6, 1.0);
        assert!(film.voids.is_empty() && film.seam.is_some());
        let notch = film.surface.last().unwrap()[1];
        assert!((notch / 0.11_f64.sqrt() - 1.0).abs() < 0.05, "{notch}");
    }

    #[test]
    fn a_shadowed_deep_trench_keeps_a_void_and_the_film_stays_whole() {
        let trench = Trench { width_um: 1.0, depth_um: 2.0 };
        let film = covered(&trench, 1.2, 0.3);
        assert!(film.voids.iter().any(|void| 3 < void.len()), "{film:?}");
        for chain in film.voids.iter().chain([&film.surface]) {
            for &[x, z] in chain {
                assert!(x <= 1e-9 && z.is_finite() && -2.0 < z && z < 1.3, "{x} {z}");
            }
        }
    }

    #[test]
    fn nothing_falls_apart_over_the_whole_range() {
        for width_um in [0.05, 0.5, 3.0, 100.0] {
            for depth_um in [0.05, 0.5, 2.0, 20.0] {
                for t_um in [0.001, 0.1, 1.0, 10.0] {
                    for everywhere in [0.0, 0.3, 0.5] {
                        let film =
                            covered(&Trench { width_um, depth_um }, t_um, everywhere);
                        let case = format!("{width_um} {depth_um} {t_um} {everywhere}");
                        assert!(
                            film.surface.len() < 400,
                            "{case}: {}",
                            film.surface.len()
                        );
                        for &[x, z] in
                            film.surface.iter().chain(film.voids.iter().flatten())
                        {
                            assert!(x.is_finite() && x <= 1e-9, "{case}: x {x}");
                            let inside = -depth_um - 1e-9 <= z && z <= t_um * 1.01 + 1e-9;
                            assert!(inside, "{case}: z {z}");
                        }
                        assert!(
                            film.side_um.is_none_or(|side| -1e-9 <= side)
                                && -1e-9 <= film.bottom_um,
                            "{case}"
                        );
                    }
                }
            }
        }
    }
}

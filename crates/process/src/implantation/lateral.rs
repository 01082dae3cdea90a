//! Across the beam: how far ions come to rest under the edge of a mask.

use crate::num::{atan, bisect, cos, erfc, tan};

const SQRT_2: f64 = core::f64::consts::SQRT_2;

/// Share of the concentration below an opening that is found at a lateral distance in nm from
/// its vertical, opaque edge: positive inside the opening, negative under the mask.
///
/// # Model
/// `(1/2) erfc(-y / (sqrt2 dRl))`: exactly half at the edge.
///
/// # Source
/// S. Furukawa, H. Matsumura, H. Ishiwara, Jpn. J. Appl. Phys. 11, 134 (1972) (memory).
#[must_use]
pub fn share_at_mask_edge(inside_nm: f64, lateral_straggle_nm: f64) -> f64 {
    0.5 * erfc(-inside_nm / (SQRT_2 * lateral_straggle_nm))
}

/// The same for a window between two edges, at a distance in nm from its middle.
///
/// # Model
/// `(1/2) [erfc((y - a)/(sqrt2 dRl)) - erfc((y + a)/(sqrt2 dRl))]`, `a` half the width.
///
/// # Source
/// As [`share_at_mask_edge`] (algebra checked: two edges minus one whole surface).
#[must_use]
pub fn share_in_window(
    from_middle_nm: f64,
    half_width_nm: f64,
    lateral_straggle_nm: f64,
) -> f64 {
    // On the outer side of the middle both terms are small where the result is.
    let y_nm = from_middle_nm.abs();
    let term = |nm: f64| erfc(nm / (SQRT_2 * lateral_straggle_nm));
    0.5 * (term(y_nm - half_width_nm) - term(y_nm + half_width_nm))
}

/// Shares of the ions of a line source that come to rest in each cell across the beam.
///
/// # Model
/// The Gaussian of the lateral straggle integrated over each cell; the first and the last cell
/// take all that lies beyond them, so that the shares sum to 1 and no dose is lost. `edges_nm`
/// are the inner borders of the cells, increasing: one cell more than borders.
///
/// # Source
/// As [`share_at_mask_edge`]; integration over cells derived.
#[must_use]
pub fn shares_of_cells(
    edges_nm: &[f64],
    source_nm: f64,
    lateral_straggle_nm: f64,
) -> Vec<f64> {
    let left_of =
        |edge_nm: f64| share_at_mask_edge(edge_nm - source_nm, lateral_straggle_nm);
    let mut shares = Vec::with_capacity(edges_nm.len() + 1);
    let mut before = 0.0;
    for &edge_nm in edges_nm {
        let here = left_of(edge_nm);
        shares.push(here - before);
        before = here;
    }
    shares.push(1.0 - before);
    shares
}

/// Distance in nm under a vertical mask edge at which a share of the concentration in the
/// opening is left; negative (inside the opening) for more than half. `None` outside 0 to 1.
///
/// # Model
/// [`share_at_mask_edge`] solved for the distance.
#[must_use]
pub fn reach_under_mask_nm(share: f64, lateral_straggle_nm: f64) -> Option<f64> {
    if !(0.0 < share && share < 1.0) {
        return None;
    }
    // 37 straggles out nothing is left that a double can hold.
    let reach = 37.0;
    bisect(|u| share_at_mask_edge(-u, 1.0) - share, -reach, reach)
        .ok()
        .map(|u| u * lateral_straggle_nm)
}

/// Tilt in degrees that is seen in the plane of a section: the beam's direction projected on
/// it. Rotation 0 tilts the beam within the plane; at 90 degrees the tilt is out of it.
///
/// # Model
/// `atan(tan(tilt) cos(rotation))` (geometry).
#[must_use]
pub fn tilt_in_section_deg(tilt_deg: f64, rotation_deg: f64) -> f64 {
    atan(shadow_per_height(tilt_deg, rotation_deg)).to_degrees()
}

/// Length of the shadow behind a step per height of the step, in the plane of a section; the
/// sign tells the side.
///
/// # Model
/// `tan(tilt) cos(rotation)` (geometry).
#[must_use]
pub fn shadow_per_height(tilt_deg: f64, rotation_deg: f64) -> f64 {
    tan(tilt_deg.to_radians()) * cos(rotation_deg.to_radians())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_straggle_either_side_of_an_edge() {
        // (1/2) erfc(1/sqrt2) = 0.158655.
        assert!((share_at_mask_edge(0.0, 87.7) - 0.5).abs() < 1e-15);
        assert!((share_at_mask_edge(-87.7, 87.7) - 0.158_655_253_931_457).abs() < 1e-12);
        assert!((share_at_mask_edge(87.7, 87.7) - 0.841_344_746_068_543).abs() < 1e-12);
    }

    #[test]
    fn a_window_is_two_edges_and_is_symmetric() {
        for y_nm in [-900.0, -420.0, -13.0, 0.0, 250.0, 700.0] {
            let here = share_in_window(y_nm, 300.0, 88.0);
            let edges = share_at_mask_edge(300.0 - y_nm, 88.0)
                + share_at_mask_edge(300.0 + y_nm, 88.0)
                - 1.0;
            assert!((here - edges).abs() < 1e-14);
            assert!((here - share_in_window(-y_nm, 300.0, 88.0)).abs() < 1e-16);
        }
        // Far from the other edge a window is one edge; a wide one is an open surface.
        assert!((share_in_window(300.0, 300.0, 20.0) - 0.5).abs() < 1e-12);
        assert!((share_in_window(0.0, 3000.0, 20.0) - 1.0).abs() < 1e-15);
        // In its tail a window keeps its digits.
        assert!(0.0 < share_in_window(3000.0, 300.0, 90.0));
    }

    #[test]
    fn window_and_the_mask_around_it_take_the_whole_dose() {
        let (width, straggle) = (400.0, 60.0);
        let n = 4000;
        let h = 4000.0 / f64::from(n);
        let sum: f64 = (0..n)
            .map(|i| {
                h * share_in_window(
                    -2000.0 + h * (f64::from(i) + 0.5),
                    0.5 * width,
                    straggle,
                )
            })
            .sum();
        assert!((sum / width - 1.0).abs() < 1e-9, "{sum}");
    }

    #[test]
    fn cells_share_out_every_ion() {
        let edges: Vec<f64> = (0..40).map(|i| -300.0 + 17.0 * f64::from(i)).collect();
        for source in [-1000.0, -300.0, 4.0, 377.0] {
            let shares = shares_of_cells(&edges, source, 44.0);
            assert_eq!(shares.len(), edges.len() + 1);
            assert!(shares.iter().all(|share| 0.0 <= *share));
            assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-14);
        }
    }

    #[test]
    fn reach_undoes_the_share() {
        for share in [1e-12, 1e-3, 0.158_655_253_931_457, 0.5, 0.97] {
            let reach = reach_under_mask_nm(share, 87.7).unwrap();
            assert!((share_at_mask_edge(-reach, 87.7) / share - 1.0).abs() < 1e-8);
        }
        assert!(reach_under_mask_nm(0.5, 87.7).unwrap().abs() < 1e-9);
        assert_eq!(reach_under_mask_nm(1.0, 87.7), None);
        assert_eq!(reach_under_mask_nm(f64::NAN, 87.7), None);
    }

    #[test]
    fn the_section_sees_the_projected_tilt() {
        assert!((tilt_in_section_deg(7.0, 0.0) - 7.0).abs() < 1e-12);
        assert!(tilt_in_section_deg(7.0, 90.0).abs() < 1e-12);
        assert!((tilt_in_section_deg(45.0, 60.0) - 26.565).abs() < 1e-3);
        assert!((shadow_per_height(7.0, 180.0) + 0.122_784_56).abs() < 1e-7);
    }
}

//! How much of the sky a point of the surface sees.
//!
//! Atoms that come from all directions by the cosine law in a long structure: what lands on a
//! wall element that sees the sky between two angles from its normal is half the difference of
//! their sines (view-factor algebra of two dimensions, derived). Flat ground gets 1.

/// Share of the flat growth at the middle of a trench's bottom: `(w/2) / sqrt((w/2)^2 + h^2)`.
#[must_use]
pub fn flat_share_at_bottom(width_um: f64, depth_um: f64) -> f64 {
    let half_um = 0.5 * width_um;
    half_um / (half_um * half_um + depth_um * depth_um).sqrt()
}

/// Share of the flat growth on a wall at a depth below the edge: `(1 - z / sqrt(z^2 + w^2)) / 2`.
#[must_use]
pub fn flat_share_at_wall(width_um: f64, below_um: f64) -> f64 {
    0.5 * (1.0 - below_um / (below_um * below_um + width_um * width_um).sqrt())
}

/// The sky over one point: run over rise of its left and right limit; infinite on a plain.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sky {
    left: f64,
    right: f64,
}

impl Sky {
    /// The sky over the point `i` of the left half of a symmetric surface that ends with the
    /// point in the middle. What comes earlier along the surface limits the sky from the left,
    /// what comes later from the right, overhangs included.
    pub(super) fn over(surface: &[[f64; 2]], i: usize) -> Self {
        let mut sky = Self { left: f64::NEG_INFINITY, right: f64::INFINITY };
        let Some(&[x, z]) = surface.get(i) else { return sky };
        let slope = |q: [f64; 2]| {
            let rise = q[1] - z;
            (1e-9 < rise).then(|| (q[0] - x) / rise)
        };
        for (j, &q) in surface.iter().enumerate() {
            if let Some(slope) = slope(q) {
                if j < i {
                    sky.left = sky.left.max(slope);
                } else if i < j {
                    sky.right = sky.right.min(slope);
                }
            }
            if let Some(slope) = slope([-q[0], q[1]]) {
                sky.right = sky.right.min(slope);
            }
        }
        sky
    }

    /// Share of the flat growth on an element with this unit normal.
    pub(super) fn share(self, normal: [f64; 2]) -> f64 {
        let sine = |slope: f64| {
            // The unit vector along the limit; level for an infinite slope.
            let direction = if slope.is_finite() {
                let length = (1.0 + slope * slope).sqrt();
                [slope / length, 1.0 / length]
            } else {
                [slope.signum(), 0.0]
            };
            let sine = direction[0] * normal[1] - direction[1] * normal[0];
            let cosine = direction[0] * normal[0] + direction[1] * normal[1];
            // Behind the element the limit is the element itself.
            if cosine < 0.0 { sine.signum() } else { sine }
        };
        (0.5 * (sine(self.right) - sine(self.left))).max(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sky_over_a_bare_trench_is_the_closed_form() {
        // Width 1, depth 2: left half of the surface.
        let surface = [[-3.0, 0.0], [-0.5, 0.0], [-0.5, -0.7], [-0.5, -2.0], [0.0, -2.0]];
        let bottom = Sky::over(&surface, 4).share([0.0, 1.0]);
        assert!((bottom - flat_share_at_bottom(1.0, 2.0)).abs() < 1e-12);
        let wall = Sky::over(&surface, 2).share([1.0, 0.0]);
        assert!((wall - flat_share_at_wall(1.0, 0.7)).abs() < 1e-12, "{wall}");
        let flat = Sky::over(&surface, 0).share([0.0, 1.0]);
        assert!((flat - 1.0).abs() < 1e-12);
        // An upright wall over an open plain sees half the sky.
        let edge = Sky::over(&[[-3.0, 0.0], [-0.5, 0.0]], 0).share([1.0, 0.0]);
        assert!((edge - 0.5).abs() < 1e-12);
    }
}

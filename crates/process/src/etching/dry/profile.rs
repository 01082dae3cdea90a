//! The wall that a partly directional etch leaves under a mask edge, and what stays at a step.
//!
//! # Model
//! Ions fall straight down and are stopped by the mask; neutrals etch everywhere alike. On
//! flat open film the front goes down at `R`; a wall that is shaded from the ions recedes at
//! `R_l = (1 - A) R` along its normal. A point of the wall at depth `z` is bared at `z / R`, so
//! that the wall at time `t` is the envelope of circles of radius `R_l (t - z / R)` about the
//! points below the mask edge (Huygens): one circle about the edge, and below it a straight
//! line that leans by `asin(1 - A)` from the upright (derived). `A = 0` gives the circle of a
//! wet etch, `A = 1` an upright wall.
//!
//! Left out: the spread of the ions' angle (2-5 degrees), ions reflected from walls, faceting
//! of the mask, films deposited on walls, dependence on aspect ratio and on open area.

/// How far the film is gone sideways from the mask edge at a depth below its top.
///
/// All lengths in nm: `front_nm` is `R t`, also beyond the film.
///
/// # Example
/// ```
/// use barewafer_process::etching::dry::lateral_nm;
///
/// // Isotropic: the circle of a wet etch. 3-4-5.
/// assert!((lateral_nm(500.0, 0.0, 300.0) - 400.0).abs() < 1e-9);
/// // Directional: nothing.
/// assert!(lateral_nm(500.0, 1.0, 0.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn lateral_nm(front_nm: f64, anisotropy: f64, depth_nm: f64) -> f64 {
    let sine = 1.0 - anisotropy;
    let radius_nm = sine * front_nm;
    // The straight part touches the circle at the depth `s r`.
    if depth_nm <= sine * radius_nm {
        return ((radius_nm - depth_nm) * (radius_nm + depth_nm)).max(0.0).sqrt();
    }
    let cosine = ((1.0 - sine) * (1.0 + sine)).sqrt();
    if cosine <= 0.0 {
        return 0.0;
    }
    (front_nm - depth_nm).max(0.0) * sine / cosine
}

/// Time in s until nothing stands at the foot of an upright step that the film covers evenly.
///
/// The film rounds the upper edge of the step with its thickness `d` as radius. Etched by ions
/// from above and neutrals from all sides, the round shrinks to `d - R_l t` and sinks by
/// `(R - R_l) t` (derived): nothing is left once it has sunk below the ground, `d + h = R t`, or
/// shrunk to nothing, `d = R_l t`, whichever comes first.
#[must_use]
pub fn time_to_clear_step_s(
    thickness_nm: f64,
    step_nm: f64,
    rate_nm_min: f64,
    anisotropy: f64,
) -> f64 {
    let down_s = 60.0 * (thickness_nm + step_nm) / rate_nm_min;
    let lateral_nm_min = (1.0 - anisotropy) * rate_nm_min;
    if lateral_nm_min <= 0.0 {
        return down_s;
    }
    down_s.min(60.0 * thickness_nm / lateral_nm_min)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn circle_and_line_meet_without_a_kink() {
        // s = 0.5: radius 500, touching at 250; cos = 0.8660; x = 750 tan 30 = 433.0
        let at = |z: f64| lateral_nm(1000.0, 0.5, z);
        assert!((at(250.0) - 433.0127).abs() < 1e-3);
        assert!((at(250.001) - at(249.999)).abs() < 3e-3);
        let slope = |z: f64| (at(z + 1.0) - at(z)) / 1.0;
        assert!((slope(248.0) - slope(252.0)).abs() < 0.02);
        // Reaches the floor at the depth of the front.
        assert!(at(1000.0).abs() < 1e-9);
        assert!((at(0.0) - 500.0).abs() < 1e-9);
    }

    #[test]
    fn a_step_is_cleared_from_above_or_from_the_side() {
        // (400 + 300) / 250 min upright; isotropic: as soon as the flat film, 400 / 250 min.
        assert!((time_to_clear_step_s(400.0, 300.0, 250.0, 1.0) - 168.0).abs() < 1e-9);
        assert!((time_to_clear_step_s(400.0, 300.0, 250.0, 0.0) - 96.0).abs() < 1e-9);
        // A = 0.75: 400 / 62.5 min = 384 s from the side, 168 s from above.
        assert!((time_to_clear_step_s(400.0, 300.0, 250.0, 0.75) - 168.0).abs() < 1e-9);
    }
}

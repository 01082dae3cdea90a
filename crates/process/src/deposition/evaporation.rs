//! The geometry of a small evaporation source below the middle of a flat wafer.
//!
//! L. I. Maissel, R. Glang, Handbook of Thin Film Technology (memory).

/// Film at a distance from the wafer's center over the film at the center.
///
/// # Model
/// A small plane source that emits by the cosine law, on a flat wafer at a height:
/// `d = m cos(phi) cos(theta) / (pi rho r^2)` gives `d(l)/d(0) = [1 + (l/h)^2]^-2`.
#[must_use]
pub fn film_ratio(distance_mm: f64, height_mm: f64) -> f64 {
    let ratio = distance_mm / height_mm;
    let one_plus = 1.0 + ratio * ratio;
    1.0 / (one_plus * one_plus)
}

/// The same for a point source that shines equally all round: exponent -3/2.
#[must_use]
pub fn point_source_ratio(distance_mm: f64, height_mm: f64) -> f64 {
    let ratio = distance_mm / height_mm;
    let one_plus = 1.0 + ratio * ratio;
    1.0 / (one_plus * one_plus.sqrt())
}

/// Metal in g that leaves the source for a film at the center: `m = pi rho h^2 d`.
#[must_use]
pub fn charge_g(film_nm: f64, height_mm: f64, density_g_cm3: f64) -> f64 {
    let (film_cm, height_cm) = (1e-7 * film_nm, 0.1 * height_mm);
    core::f64::consts::PI * density_g_cm3 * height_cm * height_cm * film_cm
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_source_far_away_is_even_and_a_dome_through_it_would_be_too() {
        // l/h = 1/6: [1 + 1/36]^-2 = 0.94668.
        assert!((film_ratio(50.0, 300.0) - 0.946_676).abs() < 1e-6);
        assert!((film_ratio(50.0, 1e6) - 1.0).abs() < 1e-8);
        // On a sphere through the source cos(phi) = cos(theta) = r/(2 r0): d is constant.
        for angle_deg in [0.0, 20.0, 45.0] {
            let cos = crate::num::cos(f64::to_radians(angle_deg));
            let r = 2.0 * 150.0 * cos;
            assert!((cos * cos / (r * r) * 300.0 * 300.0 - 1.0).abs() < 1e-12);
        }
        // 500 nm at 300 mm: pi 2.7 30^2 5e-5 = 0.38170 g.
        assert!((charge_g(500.0, 300.0, 2.7) - 0.381_704).abs() < 1e-5);
    }
}

//! Clear times, over-etch, undercut: the geometry of an isotropic etch and of KOH.
//!
//! All of it is algebra from one picture: the etch front moves away from the open mask by
//! `R t` in every direction (isotropic), or stops at (111) planes (KOH and TMAH on (100)).

/// Angle in degrees between a (111) wall and the (100) surface: atan(sqrt 2) (derived).
pub const KOH_WALL_DEG: f64 = 54.735_610_317_245_35;

/// Nominal clear time in s: `d / R`. The rate must be above zero.
#[must_use]
pub fn time_to_clear_s(thickness_nm: f64, rate_nm_min: f64) -> f64 {
    60.0 * thickness_nm / rate_nm_min
}

/// Clear time in s of the thickest film at the slowest rate: `(d/R)(1 + delta)/(1 - phi)`.
///
/// `film_spread` and `rate_spread` are the half widths as fractions.
#[must_use]
pub fn time_to_clear_everywhere_s(
    thickness_nm: f64,
    rate_nm_min: f64,
    film_spread: f64,
    rate_spread: f64,
) -> f64 {
    time_to_clear_s(thickness_nm, rate_nm_min)
        * (1.0 + over_etch_fraction(film_spread, rate_spread))
}

/// Over-etch that clears every place: `(1 + delta)/(1 - phi) - 1`.
///
/// # Example
/// ```
/// use barewafer_process::etching::over_etch_fraction;
///
/// // Both spreads 15 %: 35.3 %.
/// assert!((over_etch_fraction(0.15, 0.15) - 0.353).abs() < 5e-4);
/// ```
#[must_use]
pub fn over_etch_fraction(film_spread: f64, rate_spread: f64) -> f64 {
    (1.0 + film_spread) / (1.0 - rate_spread) - 1.0
}

/// Loss of the layer under a nominal film in nm: its rate times the time after clearing.
#[must_use]
pub fn under_layer_loss_nm(
    time_s: f64,
    thickness_nm: f64,
    rate_nm_min: f64,
    under_rate_nm_min: f64,
) -> f64 {
    let over_s = time_s - time_to_clear_s(thickness_nm, rate_nm_min);
    under_rate_nm_min * over_s.max(0.0) / 60.0
}

/// Loss of the under-layer in the worst place in nm: thinnest film, fastest rate, and the
/// under-layer's own rate raised by the same spread.
#[must_use]
pub fn under_layer_worst_loss_nm(
    time_s: f64,
    thickness_nm: f64,
    rate_nm_min: f64,
    under_rate_nm_min: f64,
    film_spread: f64,
    rate_spread: f64,
) -> f64 {
    under_layer_loss_nm(
        time_s,
        thickness_nm * (1.0 - film_spread),
        rate_nm_min * (1.0 + rate_spread),
        under_rate_nm_min * (1.0 + rate_spread),
    )
}

/// Undercut at the bottom of a cleared film in nm: the front is a circle about the mask edge,
/// `sqrt((R t)^2 - d^2)`; none while the film is not cleared.
#[must_use]
pub fn bottom_undercut_nm(front_nm: f64, thickness_nm: f64) -> Option<f64> {
    if front_nm < thickness_nm {
        return None;
    }
    // The root would make 1e-8 of the film out of the rounding of the clear time.
    let beyond = front_nm - thickness_nm;
    let beyond_nm = if beyond < 1e-12 * thickness_nm { 0.0 } else { beyond };
    Some((beyond_nm * (front_nm + thickness_nm)).sqrt())
}

/// Depth in nm at which the (111) walls of an opening meet: `w / sqrt 2`.
#[must_use]
pub fn self_stop_depth_nm(opening_um: f64) -> f64 {
    1e3 * opening_um / core::f64::consts::SQRT_2
}

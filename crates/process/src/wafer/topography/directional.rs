//! Etching by ions that fall straight down, with a share that goes sideways.

use super::super::Section;
use super::isotropic::{Ions, etch};
use super::pieces::Pieces;
use super::rates::Rates;
use super::removal::{Removed, remove};

/// Etches from above for a time.
///
/// # Model
/// Ions take every column from its top down, each matter at its own rate, through open space at
/// once, until the time is over or a matter without rate stops them; what hangs over shields
/// what lies below. Bared walls recede at `lateral_share` times the rate from the moment at
/// which they are bared (one field of arrival times, the ions' included).
pub fn etch_directional(
    section: &mut Section,
    rates: &Rates,
    time_min: f64,
    lateral_share: f64,
) -> Removed {
    if !(time_min.is_finite() && 0.0 < time_min) {
        return Removed::default();
    }
    let pieces = Pieces::of(section, rates);
    let ions = Ions::fall(section, &pieces, time_min);
    if lateral_share <= 0.0 {
        return remove(section, &ions.gone);
    }
    etch(section, &rates.times(lateral_share.min(1.0)), time_min, Some(&ions))
}

//! A plane that comes down.

use super::super::Section;
use super::removal::{Removed, remove};
use super::spans::Spans;

/// Takes off everything above the height `z_nm`.
pub fn polish_to(section: &mut Section, z_nm: f64) -> Removed {
    let mut spans = Spans::new();
    for i in 0..section.columns() {
        let top_nm = section.top_nm(i);
        if z_nm < top_nm {
            spans.push([z_nm, top_nm]);
        }
        spans.end_column();
    }
    remove(section, &spans)
}

/// Takes off what stands higher than `thickness_nm` below the highest place.
pub fn polish_by(section: &mut Section, thickness_nm: f64) -> Removed {
    let highest_nm = (0..section.columns())
        .fold(f64::NEG_INFINITY, |highest, i| highest.max(section.top_nm(i)));
    polish_to(section, highest_nm - thickness_nm.max(0.0))
}

//! Where the leader line of a material's label starts.

use barewafer_process::wafer::Matter;

use super::spans::Pile;
use super::strands::Strand;

/// A point of each film in a picture, as far to the right as it can be seen well, with its film
/// and the depth of that film there in nm.
pub(super) fn anchors(
    piles: &[Pile<Matter>],
    strands: &[Strand<Matter>],
    thinnest_nm: f64,
) -> Vec<(Matter, [f64; 2], f64)> {
    let mut found: Vec<(Matter, [f64; 2], f64)> = Vec::new();
    for strand in strands.iter().filter(|strand| !strand.key.is_open()) {
        let thickest = strand
            .places()
            .map(|(column, span)| {
                piles[column].top_of(span) - piles[column].floor_of(span)
            })
            .fold(0.0, f64::max);
        // Where it is about as thick as it is anywhere: not in a beak, not on a slope.
        let wanted = thinnest_nm.max(0.9 * thickest).min(thickest);
        let Some((column, span)) = strand
            .places()
            .filter(|&(column, span)| {
                wanted <= piles[column].top_of(span) - piles[column].floor_of(span)
            })
            .last()
        else {
            continue;
        };
        let pile = &piles[column];
        let (top, floor) = (pile.top_of(span), pile.floor_of(span));
        let at = [pile.center_nm(), 0.5 * (top + floor)];
        match found.iter_mut().find(|(matter, ..)| *matter == strand.key) {
            Some(other) if other.1[0] < at[0] => *other = (strand.key, at, top - floor),
            Some(_) => {}
            None => found.push((strand.key, at, top - floor)),
        }
    }
    found
}

//! Where the leader line of a material's label starts.

use barewafer_process::wafer::Matter;

use super::spans::Pile;
use super::strands::Strand;

/// A point of each film that is seen between two heights, as far to the right as it can be seen
/// well, with its film and the thickness of that film there in nm.
pub(super) fn anchors(
    piles: &[Pile<Matter>],
    strands: &[Strand<Matter>],
    thinnest_nm: f64,
    z_nm: [f64; 2],
) -> Vec<(Matter, [f64; 2], f64)> {
    let mut found: Vec<(Matter, [f64; 2], f64)> = Vec::new();
    // What is seen of a span: its lower and its upper end.
    let seen = |column: usize, span: usize| {
        let pile = &piles[column];
        [pile.floor_of(span).max(z_nm[0]), pile.top_of(span).min(z_nm[1])]
    };
    let height = |column: usize, span: usize| {
        let [low, high] = seen(column, span);
        high - low
    };
    for strand in strands.iter().filter(|strand| !strand.key.is_open()) {
        let thickest = strand
            .places()
            .map(|(column, span)| height(column, span))
            .fold(0.0, f64::max);
        if thickest <= 0.0 {
            continue;
        }
        // Where it is about as thick as it is anywhere: not in a beak, not on a slope.
        let wanted = thinnest_nm.max(0.9 * thickest).min(thickest);
        let Some((column, span)) = strand
            .places()
            .filter(|&(column, span)| wanted <= height(column, span))
            .last()
        else {
            continue;
        };
        let pile = &piles[column];
        let [low, high] = seen(column, span);
        let thick_nm = pile.top_of(span) - pile.floor_of(span);
        let at = [pile.center_nm(), 0.5 * (low + high)];
        match found.iter_mut().find(|(matter, ..)| *matter == strand.key) {
            Some(other) if other.1[0] < at[0] => *other = (strand.key, at, thick_nm),
            Some(_) => {}
            None => found.push((strand.key, at, thick_nm)),
        }
    }
    found
}

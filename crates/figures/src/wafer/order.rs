//! The order in which strands are painted: what lies above comes first, and the film below
//! covers its lower edge, so that no gap can show between two outlines.

use super::spans::Pile;
use super::strands::Strand;

/// Indices of the strands, upper ones before those below them.
pub(super) fn upper_first<K>(piles: &[Pile<K>], strands: &[Strand<K>]) -> Vec<usize> {
    let mut of_column: Vec<Vec<usize>> =
        piles.iter().map(|p| vec![0; p.spans.len()]).collect();
    for (index, strand) in strands.iter().enumerate() {
        for (column, span) in strand.places() {
            of_column[column][span] = index;
        }
    }
    // For each strand those right below it, and how many lie right above it.
    let mut below: Vec<Vec<usize>> = vec![Vec::new(); strands.len()];
    let mut waiting = vec![0_usize; strands.len()];
    for column in &of_column {
        for pair in column.windows(2) {
            let [lower, upper] = [pair[0], pair[1]];
            if !below[upper].contains(&lower) {
                below[upper].push(lower);
                waiting[lower] += 1;
            }
        }
    }
    let mut order = Vec::with_capacity(strands.len());
    let mut ready: Vec<usize> = (0..strands.len()).filter(|&s| waiting[s] == 0).collect();
    while let Some(next) = ready.pop() {
        order.push(next);
        for &lower in &below[next] {
            waiting[lower] -= 1;
            if waiting[lower] == 0 {
                ready.push(lower);
            }
        }
    }
    order
}

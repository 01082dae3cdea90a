//! Which span of a column goes on in the next one: strands of one key across columns.

use barewafer_process::num::{larger, smaller};

use super::spans::Pile;

/// One span after the other, from left to right.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Strand<K> {
    /// What it is made of.
    pub(super) key: K,
    /// Its leftmost column.
    pub(super) first: usize,
    /// Its span in that column and in each one after it.
    pub(super) spans: Vec<usize>,
}

impl<K> Strand<K> {
    /// Columns with the span in each.
    pub(super) fn places(&self) -> impl Iterator<Item = (usize, usize)> + '_ {
        self.spans.iter().enumerate().map(|(k, &span)| (self.first + k, span))
    }
}

/// All strands, from the left, and at the same column from the bottom.
pub(super) fn strands<K: Copy + PartialEq>(piles: &[Pile<K>]) -> Vec<Strand<K>> {
    let mut all: Vec<Strand<K>> = Vec::new();
    // Strand of each span of the column before.
    let mut before: Vec<usize> = Vec::new();
    for (column, pile) in piles.iter().enumerate() {
        let pairs = match column.checked_sub(1) {
            Some(left) => matches(&piles[left], pile),
            None => vec![None; pile.spans.len()],
        };
        let mut here = Vec::with_capacity(pile.spans.len());
        for (span, (pair, &(key, _))) in pairs.into_iter().zip(&pile.spans).enumerate() {
            if let Some(left) = pair {
                let strand = before[left];
                all[strand].spans.push(span);
                here.push(strand);
            } else {
                here.push(all.len());
                all.push(Strand { key, first: column, spans: vec![span] });
            }
        }
        before = here;
    }
    all
}

/// For each span of the right column the span of the left one that it goes on from.
///
/// The pairs keep their order from the bottom up; among all such pairings the one with the most
/// pairs counts, and among those the one whose pairs lie most beside each other.
fn matches<K: PartialEq>(left: &Pile<K>, right: &Pile<K>) -> Vec<Option<usize>> {
    let (n, m) = (left.spans.len(), right.spans.len());
    if n == m && left.spans.iter().zip(&right.spans).all(|(a, b)| a.0 == b.0) {
        // As many pairs as there can be, and no other way to have so many.
        return (0..m).map(Some).collect();
    }
    let worth = |a: usize, b: usize| {
        if left.spans[a].0 != right.spans[b].0 {
            return None;
        }
        let (floor_a, floor_b) = (left.floor_of(a), right.floor_of(b));
        let (top_a, top_b) = (left.top_of(a), right.top_of(b));
        let shared = larger(smaller(top_a, top_b) - larger(floor_a, floor_b), 0.0);
        let either = larger(larger(top_a, top_b) - smaller(floor_a, floor_b), 1e-9);
        Some(1.0 + 0.1 * shared / either)
    };
    // best[a][b]: of the spans from a and b up.
    let mut best = vec![vec![0.0; m + 1]; n + 1];
    for a in (0..n).rev() {
        for b in (0..m).rev() {
            let paired = worth(a, b).map_or(0.0, |w| w + best[a + 1][b + 1]);
            best[a][b] = larger(paired, larger(best[a + 1][b], best[a][b + 1]));
        }
    }
    let mut pairs = vec![None; m];
    let (mut a, mut b) = (0, 0);
    while a < n && b < m {
        let paired = worth(a, b).map(|w| w + best[a + 1][b + 1]);
        if paired.is_some_and(|w| best[a][b] <= w) {
            pairs[b] = Some(a);
            a += 1;
            b += 1;
        } else if best[a][b] <= best[a + 1][b] {
            a += 1;
        } else {
            b += 1;
        }
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pile(column: f64, spans: &[(char, f64)]) -> Pile<char> {
        Pile { sides_nm: [column, column + 1.0], floor_nm: -10.0, spans: spans.to_vec() }
    }

    #[test]
    fn a_film_that_climbs_a_gate_stays_one_strand() {
        let piles = [
            pile(0.0, &[('s', 0.0), ('o', 5.0), ('d', 20.0)]),
            pile(1.0, &[('s', 0.0), ('o', 5.0), ('p', 45.0), ('d', 60.0)]),
            pile(2.0, &[('s', 0.0), ('o', 5.0), ('d', 20.0)]),
        ];
        let found = strands(&piles);
        let keys: Vec<(char, usize)> =
            found.iter().map(|s| (s.key, s.spans.len())).collect();
        assert_eq!(keys, [('s', 3), ('o', 3), ('d', 3), ('p', 1)]);
    }

    #[test]
    fn of_two_equal_spans_the_one_beside_goes_on() {
        let piles = [
            pile(0.0, &[('s', 0.0), ('o', 10.0), ('-', 30.0), ('o', 50.0)]),
            pile(1.0, &[('s', 0.0), ('-', 30.0), ('o', 50.0)]),
        ];
        let found = strands(&piles);
        assert_eq!(found[3].spans, [3, 2], "{found:?}");
        assert_eq!(found[1].spans.len(), 1);
    }
}

//! Intervals of height in every column, and which of them hang together.

use super::super::Section;

/// Neighboring intervals touch if they share more than this height in nm.
pub(super) const TOUCH_NM: f64 = 1e-6;

/// Disjoint intervals of height, ascending in every column.
#[derive(Clone, Debug)]
pub(super) struct Spans {
    /// Where the intervals of a column begin in the list; one more at the end.
    starts: Vec<usize>,
    all: Vec<[f64; 2]>,
}

impl Spans {
    pub(super) fn new() -> Self {
        Self { starts: vec![0], all: Vec::new() }
    }

    /// No interval in any of the columns.
    pub(super) fn none(columns: usize) -> Self {
        Self { starts: vec![0; columns + 1], all: Vec::new() }
    }

    /// Adds an interval on top of the column at hand.
    pub(super) fn push(&mut self, span: [f64; 2]) {
        self.all.push(span);
    }

    /// Ends the column at hand.
    pub(super) fn end_column(&mut self) {
        self.starts.push(self.all.len());
    }

    pub(super) fn columns(&self) -> usize {
        self.starts.len() - 1
    }

    pub(super) fn of(&self, column: usize) -> &[[f64; 2]] {
        &self.all[self.starts[column]..self.starts[column + 1]]
    }

    pub(super) fn is_empty(&self) -> bool {
        self.all.is_empty()
    }

    /// Which intervals hang together with one that `is_seed` names.
    fn connected(&self, is_seed: impl Fn([f64; 2]) -> bool) -> Vec<bool> {
        let mut found: Vec<bool> = self.all.iter().map(|&span| is_seed(span)).collect();
        let mut waiting: Vec<(usize, usize)> = Vec::new();
        for column in 0..self.columns() {
            let seeds = self.range(column).filter(|&at| found[at]);
            waiting.extend(seeds.map(|at| (column, at)));
        }
        while let Some((column, at)) = waiting.pop() {
            let [low, high] = self.all[at];
            let left = column.checked_sub(1);
            let right = (column + 1 < self.columns()).then_some(column + 1);
            for beside in [left, right].into_iter().flatten() {
                let start = self.starts[beside];
                for (k, &[a, b]) in self.of(beside).iter().enumerate() {
                    if !found[start + k] && TOUCH_NM < high.min(b) - low.max(a) {
                        found[start + k] = true;
                        waiting.push((beside, start + k));
                    }
                }
            }
        }
        found
    }

    fn range(&self, column: usize) -> core::ops::Range<usize> {
        self.starts[column]..self.starts[column + 1]
    }

    /// The intervals that hang together with the sky, and the others.
    pub(super) fn split_by_sky(&self) -> (Self, Self) {
        self.parted(&self.connected(|[_, high]| high == f64::INFINITY))
    }

    /// The intervals that hang together with the ground, and the others.
    pub(super) fn split_by_ground(&self) -> (Self, Self) {
        self.parted(&self.connected(|[low, _]| low == f64::NEG_INFINITY))
    }

    fn parted(&self, found: &[bool]) -> (Self, Self) {
        let (mut yes, mut no) = (Self::new(), Self::new());
        for column in 0..self.columns() {
            let flags = &found[self.range(column)];
            for (&span, &is_found) in self.of(column).iter().zip(flags) {
                if is_found { yes.push(span) } else { no.push(span) }
            }
            yes.end_column();
            no.end_column();
        }
        (yes, no)
    }

    /// Sum of the areas in nm2.
    pub(super) fn area_nm2(&self, section: &Section) -> f64 {
        (0..self.columns())
            .map(|i| {
                let height: f64 = self.of(i).iter().map(|[a, b]| b - a).sum();
                height * section.width_nm(i)
            })
            .sum()
    }
}

/// All open space of a section, up to infinity.
pub(super) fn open_space(section: &Section) -> Spans {
    let mut spans = Spans::new();
    for i in 0..section.columns() {
        for (k, layer) in section.layers(i).iter().enumerate() {
            if layer.matter.is_open() {
                spans.push([section.floor_nm(i, k), layer.top_nm]);
            }
        }
        spans.push([section.top_nm(i), f64::INFINITY]);
        spans.end_column();
    }
    spans
}

/// All solid of a section, down to minus infinity.
pub(super) fn solid(section: &Section) -> Spans {
    let mut spans = Spans::new();
    for i in 0..section.columns() {
        let mut low = f64::NEG_INFINITY;
        let mut high = section.silicon_top_nm(i);
        for layer in section.layers(i) {
            if layer.matter.is_open() {
                spans.push([low, high]);
                low = layer.top_nm;
            }
            high = layer.top_nm;
        }
        spans.push([low, high]);
        spans.end_column();
    }
    spans
}

/// Adds to `to` what of the ascending intervals `these` is not in the ascending intervals
/// `without`.
pub(super) fn difference(
    these: &[[f64; 2]],
    without: &[[f64; 2]],
    to: &mut Vec<[f64; 2]>,
) {
    let mut first = 0;
    for &[mut low, high] in these {
        while first < without.len() && without[first][1] <= low {
            first += 1;
        }
        let mut at = first;
        while at < without.len() && without[at][0] < high {
            if low < without[at][0] {
                to.push([low, without[at][0]]);
            }
            low = low.max(without[at][1]);
            at += 1;
        }
        if low < high {
            to.push([low, high]);
        }
    }
}

/// Adds to `to` what the ascending intervals `these` and `those` share.
pub(super) fn common(these: &[[f64; 2]], those: &[[f64; 2]], to: &mut Vec<[f64; 2]>) {
    let (mut i, mut j) = (0, 0);
    while i < these.len() && j < those.len() {
        let (low, high) = (these[i][0].max(those[j][0]), these[i][1].min(those[j][1]));
        if low < high {
            to.push([low, high]);
        }
        if these[i][1] < those[j][1] { i += 1 } else { j += 1 }
    }
}

/// Makes disjoint ascending intervals of any.
pub(super) fn unite(spans: &mut Vec<[f64; 2]>) {
    // Insertion: the lists are short and nearly in order.
    for i in 1..spans.len() {
        let mut j = i;
        while 0 < j && spans[j][0] < spans[j - 1][0] {
            spans.swap(j, j - 1);
            j -= 1;
        }
    }
    let mut kept = 0;
    for i in 1..spans.len() {
        if spans[i][0] <= spans[kept][1] {
            spans[kept][1] = spans[kept][1].max(spans[i][1]);
        } else {
            kept += 1;
            spans[kept] = spans[i];
        }
    }
    spans.truncate(if spans.is_empty() { 0 } else { kept + 1 });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn intervals_are_united_cut_and_shared() {
        let mut spans = vec![[5.0, 7.0], [0.0, 2.0], [6.0, 9.0], [2.0, 3.0]];
        unite(&mut spans);
        assert_eq!(spans, vec![[0.0, 3.0], [5.0, 9.0]]);
        let mut left = Vec::new();
        difference(&spans, &[[-1.0, 1.0], [2.0, 6.0]], &mut left);
        assert_eq!(left, vec![[1.0, 2.0], [6.0, 9.0]]);
        let mut shared = Vec::new();
        common(&spans, &[[1.0, 6.0], [8.0, 10.0]], &mut shared);
        assert_eq!(shared, vec![[1.0, 3.0], [5.0, 6.0], [8.0, 9.0]]);
    }
}

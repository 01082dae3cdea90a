//! Gas that a growing film shuts in.

use super::super::Section;
use super::discs::{Growth, widened};
use super::spans::{Spans, common, difference, unite};

/// Parts of the growth at which the film is looked at.
pub(super) const LOOKS: u32 = 16;

/// The moment of closing is found to this share of the growth.
pub(super) const SHARPEST: f64 = 1e-3;

/// A film on its way.
struct Closing<'a> {
    section: &'a Section,
    solids: &'a Spans,
    gas: &'a Spans,
    growth: &'a Growth<'a>,
    /// Gas that was shut in so far.
    shut: Spans,
}

/// The gas that is shut in when a film has grown, as large as it was when it was cut off from
/// the sky.
///
/// Where no open space lies under solid there is none: a surface that is a height over x grows
/// into a surface that is a height over x.
pub(super) fn voids(
    section: &Section,
    solids: &Spans,
    gas: &Spans,
    growth: &Growth<'_>,
) -> Spans {
    let columns = section.columns();
    let none = Spans::none(columns);
    if (0..columns).all(|i| gas.of(i).len() < 2) {
        return none;
    }
    let mut closing = Closing { section, solids, gas, growth, shut: none };
    for look in 0..LOOKS {
        let share = |part: u32| f64::from(part) / f64::from(LOOKS);
        closing.follow(share(look), share(look + 1));
    }
    closing.shut
}

impl Closing<'_> {
    /// Finds what is shut in between two shares of the growth.
    fn follow(&mut self, from: f64, to: f64) {
        let (_, cut_off) = self.open_at(to, true).split_by_sky();
        if cut_off.is_empty() {
            return;
        }
        if to - from < SHARPEST {
            let open = self.open_at(to, false);
            self.shut = by_column(&self.shut, &shared(&cut_off, &open), unite_both);
        } else {
            let middle = 0.5 * (from + to);
            self.follow(from, middle);
            self.follow(middle, to);
        }
    }

    /// The gas that is left at a share of the growth, without what was shut in before: at the
    /// middles of the columns, or anywhere in them, their edges included. A gap closes when the
    /// walls meet and not when they have come to the middle of the last column.
    fn open_at(&self, share: f64, anywhere: bool) -> Spans {
        let growth = Growth { share, ..*self.growth };
        let edges_nm = self.section.edges_nm();
        let mut open = Spans::new();
        let (mut reached, mut left, mut outside) = (Vec::new(), Vec::new(), Vec::new());
        for i in 0..self.section.columns() {
            left.clear();
            let mut look = |x_nm: f64| {
                widened(self.section, self.solids, (i, x_nm), &growth, &mut reached);
                difference(self.gas.of(i), &reached, &mut left);
            };
            look(self.section.center_nm(i));
            if anywhere {
                look(edges_nm[i]);
                look(edges_nm[i + 1]);
                unite(&mut left);
            }
            outside.clear();
            difference(&left, self.shut.of(i), &mut outside);
            for &span in &outside {
                open.push(span);
            }
            open.end_column();
        }
        open
    }
}

/// What is in both.
fn shared(a: &Spans, b: &Spans) -> Spans {
    by_column(a, b, common)
}

/// Makes intervals of a column from those of two.
type Combine = fn(&[[f64; 2]], &[[f64; 2]], &mut Vec<[f64; 2]>);

fn unite_both(a: &[[f64; 2]], b: &[[f64; 2]], to: &mut Vec<[f64; 2]>) {
    to.extend_from_slice(a);
    to.extend_from_slice(b);
    unite(to);
}

fn by_column(a: &Spans, b: &Spans, combine: Combine) -> Spans {
    let mut both = Spans::new();
    let mut column = Vec::new();
    for i in 0..a.columns() {
        column.clear();
        combine(a.of(i), b.of(i), &mut column);
        for &span in &column {
            both.push(span);
        }
        both.end_column();
    }
    both
}

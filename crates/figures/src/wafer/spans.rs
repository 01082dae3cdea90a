//! A section as columns of spans: what is seen in each column, from the bottom up.

use barewafer_process::wafer::{Matter, Section};

/// A column of the picture.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Pile<K> {
    /// Left and right border in nm.
    pub(super) sides_nm: [f64; 2],
    /// Lower face of the lowest span in nm.
    pub(super) floor_nm: f64,
    /// What is in it and where that ends, from the bottom up.
    pub(super) spans: Vec<(K, f64)>,
}

impl<K> Pile<K> {
    /// Middle of the column in nm.
    pub(super) fn center_nm(&self) -> f64 {
        0.5 * (self.sides_nm[0] + self.sides_nm[1])
    }

    /// Lower face of a span in nm.
    pub(super) fn floor_of(&self, span: usize) -> f64 {
        if span == 0 { self.floor_nm } else { self.spans[span - 1].1 }
    }

    /// Upper face of a span in nm.
    pub(super) fn top_of(&self, span: usize) -> f64 {
        self.spans[span].1
    }
}

/// The films of the columns that reach into a range of x, the silicon as the lowest span. Columns
/// with the same films that are nearer to each other than `grain_nm` across and in every face are
/// taken together.
pub(super) fn films(
    section: &Section,
    x_nm: [f64; 2],
    bottom_nm: f64,
    grain_nm: [f64; 2],
) -> Vec<Pile<Matter>> {
    let silicon = Matter::of(barewafer_process::vocabulary::Material::Silicon);
    let mut piles: Vec<Pile<Matter>> = Vec::new();
    // Middle of the first column of the last pile.
    let mut start_nm = f64::NEG_INFINITY;
    for (column, sides_nm) in seen(section, x_nm) {
        let mut spans = vec![(silicon, section.silicon_top_nm(column))];
        spans.extend(section.layers(column).iter().map(|l| (plain(l.matter), l.top_nm)));
        spans.dedup_by(|upper, lower| {
            let same = upper.0 == lower.0;
            if same {
                lower.1 = upper.1;
            }
            same
        });
        let center_nm = 0.5 * (sides_nm[0] + sides_nm[1]);
        let together = piles.last_mut().filter(|last| {
            center_nm - start_nm < grain_nm[0]
                && last.spans.len() == spans.len()
                && last
                    .spans
                    .iter()
                    .zip(&spans)
                    .all(|(a, b)| a.0 == b.0 && (a.1 - b.1).abs() < grain_nm[1])
        });
        if let Some(last) = together {
            last.sides_nm[1] = sides_nm[1];
        } else {
            start_nm = center_nm;
            piles.push(Pile { sides_nm, floor_nm: bottom_nm, spans });
        }
    }
    piles
}

/// A film without how it was made: the picture does not tell variants apart.
fn plain(matter: Matter) -> Matter {
    matter.material().map_or(Matter::Open, Matter::of)
}

/// The columns in a range of x with their borders, cut at the range.
pub(super) fn seen(
    section: &Section,
    x_nm: [f64; 2],
) -> impl Iterator<Item = (usize, [f64; 2])> + '_ {
    let edges_nm = section.edges_nm();
    (0..section.columns()).filter_map(move |column| {
        let left = edges_nm[column].max(x_nm[0]);
        let right = edges_nm[column + 1].min(x_nm[1]);
        (left < right).then_some((column, [left, right]))
    })
}

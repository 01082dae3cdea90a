//! Doping of the silicon as bands: its type, and how much of it by decades.

use barewafer_process::num::{log10, pow};
use barewafer_process::wafer::Section;

use super::spans::{Pile, seen};

/// A net doping of less than this is drawn as this, per cm3.
const FAINTEST_CM3: f64 = 1e13;

/// Bands per decade of concentration.
const PER_DECADE: f64 = 2.0;

/// Type and strength of doping: donors or acceptors, in half decades above 1e13 per cm3.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Band {
    /// True where donors prevail.
    pub(super) donors: bool,
    /// Half decades above 1e13 per cm3.
    pub(super) level: u8,
}

impl Band {
    /// Middle concentration of the band as a power of ten.
    pub(super) fn decade(self) -> f64 {
        13.0 + f64::from(self.level) / PER_DECADE
    }
}

/// The net doping of the columns that are seen.
pub(super) struct Net {
    /// Of each column its borders and its surface in nm, and from there down the depth of the
    /// middle of every silicon cell in nm with its net donors per cm3 (negative: acceptors).
    columns: Vec<Below>,
}

struct Below {
    sides_nm: [f64; 2],
    top_nm: f64,
    cells: Vec<(f64, f64)>,
}

impl Net {
    /// The net doping in a range of x, down to just below a height.
    pub(super) fn of(section: &Section, x_nm: [f64; 2], bottom_nm: f64) -> Self {
        let cells = section.cells();
        let dopants: Vec<(f64, &[f64])> = section
            .dopants()
            .into_iter()
            .map(|dopant| (dopant.charge(), section.silicon_cm3(dopant)))
            .collect();
        let columns = seen(section, x_nm)
            .map(|(column, sides_nm)| {
                let (first, _) = section.first_cell(column);
                let mut below = Vec::new();
                for cell in first..cells {
                    let depth_nm = section.middle_nm(column, cell);
                    let net = dopants
                        .iter()
                        .map(|(charge, values)| charge * values[column * cells + cell])
                        .sum();
                    below.push((depth_nm, net));
                    if -depth_nm < bottom_nm {
                        break;
                    }
                }
                Below { sides_nm, top_nm: section.silicon_top_nm(column), cells: below }
            })
            .collect();
        Self { columns }
    }
}

/// The bands of each column, from the bottom up; `level` off: types only.
pub(super) fn bands(net: &Net, bottom_nm: f64, level: bool) -> Vec<Pile<Band>> {
    let limits_cm3 = limits_cm3();
    let band = |value: f64| Band {
        donors: 0.0 < value,
        level: if level { half_decades(value, &limits_cm3) } else { 0 },
    };
    net.columns
        .iter()
        .map(|below| {
            // From the surface down, then turned round.
            let mut spans: Vec<(Band, f64)> = Vec::new();
            let mut ceiling_nm = below.top_nm;
            let mut cells = below.cells.iter().copied();
            let (mut depth_a, mut a) = cells.next().unwrap_or_default();
            let mut band_a = band(a);
            for (depth_b, b) in cells {
                if -depth_b < bottom_nm {
                    break;
                }
                let band_b = band(b);
                if band_a != band_b {
                    spans.push((band_a, ceiling_nm));
                    ceiling_nm = -(depth_a + crossing(a, b, level) * (depth_b - depth_a));
                }
                (depth_a, a, band_a) = (depth_b, b, band_b);
            }
            spans.push((band_a, ceiling_nm));
            spans.reverse();
            Pile { sides_nm: below.sides_nm, floor_nm: bottom_nm, spans }
        })
        .collect()
}

/// Upper limits of the half decades above the faintest doping per cm3.
fn limits_cm3() -> Vec<f64> {
    (1..=20).map(|k| FAINTEST_CM3 * pow(10.0, f64::from(k) / PER_DECADE)).collect()
}

/// Half decades above the faintest doping.
fn half_decades(net_cm3: f64, limits_cm3: &[f64]) -> u8 {
    let above = limits_cm3.partition_point(|&limit| limit <= net_cm3.abs());
    u8::try_from(above).unwrap_or(u8::MAX)
}

/// Where between two middles of cells the band changes, as a share of their distance: the zero
/// of the net doping, or the limit of a half decade between them on a log scale.
fn crossing(a: f64, b: f64, level: bool) -> f64 {
    if (0.0 < a) != (0.0 < b) {
        return a / (a - b);
    }
    if !level {
        return 0.5;
    }
    let (from, to) = (log10(a.abs().max(FAINTEST_CM3)), log10(b.abs().max(FAINTEST_CM3)));
    let limit = (PER_DECADE * from.max(to)).floor() / PER_DECADE;
    if (to - from).abs() < 1e-12 {
        0.5
    } else {
        ((limit - from) / (to - from)).clamp(0.0, 1.0)
    }
}

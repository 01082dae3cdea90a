//! Doping of the silicon as bands: its type, and how much of it by decades.

use barewafer_process::num::log10;
use barewafer_process::vocabulary::Dopant;
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

/// Net donors per cm3 (negative: acceptors) of every silicon cell of a column, with the depth
/// of its middle in nm, from the surface down.
fn net(section: &Section, column: usize) -> Vec<(f64, f64)> {
    let cells = section.cells();
    let (first, _) = section.first_cell(column);
    let mut net: Vec<(f64, f64)> =
        (first..cells).map(|cell| (section.middle_nm(column, cell), 0.0)).collect();
    for dopant in section.dopants() {
        let values =
            &section.silicon_cm3(dopant)[column * cells + first..(column + 1) * cells];
        for ((_, sum), value) in net.iter_mut().zip(values) {
            *sum += charge(dopant) * value;
        }
    }
    net
}

const fn charge(dopant: Dopant) -> f64 {
    dopant.charge()
}

/// The bands of each column in a range of x, from the bottom up; `level` off: types only.
pub(super) fn bands(
    section: &Section,
    x_nm: [f64; 2],
    bottom_nm: f64,
    level: bool,
) -> Vec<Pile<Band>> {
    seen(section, x_nm)
        .map(|(column, sides_nm)| {
            let net = net(section, column);
            let band = |value: f64| Band {
                donors: 0.0 < value,
                level: if level { half_decades(value) } else { 0 },
            };
            let top_nm = section.silicon_top_nm(column);
            // From the surface down, then turned round.
            let mut spans: Vec<(Band, f64)> = Vec::new();
            let mut ceiling_nm = top_nm;
            for pair in net.windows(2) {
                let [(depth_a, a), (depth_b, b)] = [pair[0], pair[1]];
                if -depth_b < bottom_nm {
                    break;
                }
                if band(a) != band(b) {
                    spans.push((band(a), ceiling_nm));
                    ceiling_nm = -(depth_a + crossing(a, b, level) * (depth_b - depth_a));
                }
            }
            let last = net
                .iter()
                .take_while(|(depth, _)| bottom_nm <= -depth)
                .last()
                .map_or(0.0, |&(_, value)| value);
            spans.push((band(last), ceiling_nm));
            spans.reverse();
            Pile { sides_nm, floor_nm: bottom_nm, spans }
        })
        .collect()
}

/// Half decades above the faintest doping.
fn half_decades(net_cm3: f64) -> u8 {
    let above =
        PER_DECADE * (log10(net_cm3.abs().max(FAINTEST_CM3)) - log10(FAINTEST_CM3));
    u8::try_from(barewafer_process::num::to_count(above.floor())).unwrap_or(u8::MAX)
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

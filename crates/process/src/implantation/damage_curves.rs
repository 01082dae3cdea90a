//! The bell of the damage: where ions give their energy to nuclei, in amorphous silicon.
//!
//! Computed by `tests/reference/implant_collisions.py` (binary collisions, universal potential;
//! model and sources there), 20 000 ions each
//! (boron, fluorine and arsenic 5000); energy counted where it is given, without the
//! paths of the struck atoms. Statistical error of center and width 1 %; model tolerance
//! (estimate) 20 %, for fluorine 25 %, whose electronic loss is not adjusted.

use super::ranges::Species;
use crate::num::{exp, ln};

/// Rows of keV, center in nm, width in nm: the bell that, cut off at the surface, has the
/// computed mean and standard deviation.
const fn rows(species: Species) -> &'static [[f64; 3]] {
    match species {
        Species::Boron => BORON,
        Species::Phosphorus => PHOSPHORUS,
        Species::Arsenic => ARSENIC,
        Species::Antimony => ANTIMONY,
        Species::Indium => INDIUM,
    }
}

/// Fluorine in silicon.
#[derive(Clone, Copy, Debug)]
pub(super) struct FluorineInSilicon {
    pub(super) range_nm: f64,
    pub(super) straggle_nm: f64,
    pub(super) nuclear_share: f64,
    /// Center and width of the damage's bell in nm.
    pub(super) bell: [f64; 2],
}

/// Center and width in nm of the damage's bell.
pub(super) fn bell(species: Species, energy_kev: f64) -> [f64; 2] {
    let rows = rows(species);
    [at(rows, 1, energy_kev), at(rows, 2, energy_kev)]
}

/// Looks up fluorine.
pub(super) fn fluorine(energy_kev: f64) -> FluorineInSilicon {
    let column = |k: usize| at(FLUORINE, k, energy_kev);
    FluorineInSilicon {
        range_nm: column(1),
        straggle_nm: column(2),
        nuclear_share: column(3).min(1.0),
        bell: [column(4), column(5)],
    }
}

/// A column at an energy: a straight line between logarithms, going on at both ends.
fn at<const N: usize>(rows: &[[f64; N]], column: usize, energy_kev: f64) -> f64 {
    let above = rows.partition_point(|row| row[0] < energy_kev).clamp(1, rows.len() - 1);
    let (left, right) = (rows[above - 1], rows[above]);
    let t = ln(energy_kev / left[0]) / ln(right[0] / left[0]);
    left[column] * exp(t * ln(right[column] / left[column]))
}

/// Boron.
const BORON: &[[f64; 3]] = &[
    [10.0, 20.74, 21.29],
    [20.0, 43.21, 35.29],
    [30.0, 65.12, 46.82],
    [40.0, 86.50, 57.23],
    [50.0, 106.21, 67.42],
    [60.0, 126.87, 76.21],
    [80.0, 165.28, 92.52],
    [100.0, 200.50, 107.77],
    [120.0, 235.19, 121.28],
    [150.0, 286.47, 136.49],
    [200.0, 362.59, 164.10],
    [300.0, 495.46, 210.72],
    [400.0, 614.64, 251.27],
];

/// Phosphorus.
const PHOSPHORUS: &[[f64; 3]] = &[
    [10.0, 4.62, 11.23],
    [20.0, 10.48, 18.74],
    [30.0, 17.61, 25.48],
    [40.0, 24.65, 31.79],
    [50.0, 31.90, 37.84],
    [60.0, 39.95, 43.65],
    [80.0, 56.68, 54.43],
    [100.0, 71.10, 66.07],
    [120.0, 87.35, 76.64],
    [150.0, 112.99, 91.94],
    [200.0, 155.09, 115.81],
    [300.0, 240.66, 159.16],
    [400.0, 322.82, 199.61],
];

/// Arsenic.
const ARSENIC: &[[f64; 3]] = &[
    [10.0, 1.76, 6.71],
    [20.0, 3.32, 10.74],
    [30.0, 5.01, 14.53],
    [40.0, 7.84, 17.44],
    [50.0, 11.01, 20.18],
    [60.0, 12.38, 23.45],
    [80.0, 18.07, 29.14],
    [100.0, 23.68, 34.37],
    [120.0, 28.06, 39.82],
    [150.0, 36.80, 48.16],
    [200.0, 53.30, 60.02],
    [300.0, 83.36, 84.78],
    [400.0, 116.77, 108.93],
];

/// Antimony.
const ANTIMONY: &[[f64; 3]] = &[
    [10.0, 1.38, 5.38],
    [20.0, 2.79, 8.30],
    [30.0, 4.03, 10.88],
    [40.0, 5.50, 13.13],
    [50.0, 6.85, 15.40],
    [60.0, 8.05, 17.68],
    [80.0, 11.18, 21.37],
    [100.0, 13.98, 25.29],
    [120.0, 17.03, 28.95],
    [150.0, 21.78, 34.35],
    [200.0, 29.84, 42.99],
    [300.0, 46.69, 59.58],
    [400.0, 64.58, 75.62],
];

/// Indium.
const INDIUM: &[[f64; 3]] = &[
    [10.0, 1.44, 5.44],
    [20.0, 2.83, 8.46],
    [30.0, 4.25, 11.09],
    [40.0, 5.52, 13.48],
    [50.0, 6.97, 15.86],
    [60.0, 8.51, 17.95],
    [80.0, 11.22, 22.00],
    [100.0, 14.61, 25.90],
    [120.0, 17.74, 29.82],
    [150.0, 22.81, 35.39],
    [200.0, 31.20, 44.21],
    [300.0, 49.08, 61.41],
    [400.0, 67.66, 78.16],
];

/// Fluorine: keV, Rp, dRp in nm, nuclear share, center and width in nm.
const FLUORINE: &[[f64; 6]] = &[
    [10.0, 26.4, 13.1, 0.787, 10.75, 16.28],
    [20.0, 48.6, 22.5, 0.731, 22.45, 27.67],
    [30.0, 72.6, 30.5, 0.682, 38.21, 37.27],
    [40.0, 95.6, 38.3, 0.645, 51.78, 47.28],
    [50.0, 119.4, 46.1, 0.610, 66.44, 57.11],
    [60.0, 141.5, 52.9, 0.584, 80.50, 65.40],
    [80.0, 186.3, 64.5, 0.537, 109.59, 82.15],
    [100.0, 231.8, 74.6, 0.497, 139.51, 97.27],
    [120.0, 277.4, 84.1, 0.463, 170.20, 112.54],
    [150.0, 339.9, 99.0, 0.426, 208.42, 136.02],
    [200.0, 446.5, 116.1, 0.369, 282.41, 168.42],
    [300.0, 640.5, 137.4, 0.297, 420.80, 222.07],
    [400.0, 814.9, 157.4, 0.251, 545.45, 272.41],
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_bell_is_foretold_by_its_neighbors() {
        for rows in [BORON, PHOSPHORUS, ARSENIC, ANTIMONY, INDIUM] {
            assert_eq!(rows.len(), 13);
            for left_out in 1..rows.len() - 1 {
                let mut others = rows.to_vec();
                let row = others.remove(left_out);
                for (column, allowed) in [(1, 0.10), (2, 0.05)] {
                    let off = (at(&others, column, row[0]) / row[column] - 1.0).abs();
                    assert!(off < allowed, "{row:?}, column {column}: {off}");
                }
            }
        }
    }

    #[test]
    fn rows_come_back_and_damage_goes_deeper_with_energy() {
        assert!((fluorine(20.0).range_nm - FLUORINE[1][1]).abs() < 1e-9);
        for species in [Species::Boron, Species::Phosphorus, Species::Arsenic] {
            let mut last = [0.0, 0.0];
            for energy_kev in [1.0, 5.0, 11.0, 49.0, 160.0, 400.0] {
                let here = bell(species, energy_kev);
                assert!(last[0] < here[0] && last[1] < here[1]);
                last = here;
            }
        }
    }
}

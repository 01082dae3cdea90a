//! Computed range table: binary collisions with the universal potential.
//!
//! Model: J. F. Ziegler, J. P. Biersack, U. Littmark, The Stopping and Range of Ions in Solids,
//! vol. 1, Pergamon, 1985, ch. 2; J. P. Biersack, L. G. Haggmark, Nucl. Instrum. Methods 174,
//! 257 (1980); electronic loss of J. Lindhard, M. Scharff, Phys. Rev. 124, 128 (1961), times
//! 1.6 for boron on Si and Al, 1.15 for boron on C, N, O, H, and 1.0 for the other ions (all
//! memory; 1.6 was chosen to meet boron at 100 keV in silicon and 1.15 in `SiO2`, the rest is not
//! adjusted). Known by: computed, amorphous targets, no channeling.
//!
//! Silicon: 20 000 ions, density 2.329 g/cm3; statistical error of range 0.5 %, straggle 0.7 %,
//! skewness 0.03, kurtosis 0.1. Layers: 6000 ions; `SiO2` 2.27, `Si3N4` 3.10, photoresist (C8H8O)
//! 1.20, aluminum 2.70 g/cm3; statistical error of range 1 %, straggle 1.5 %. Model tolerance
//! (estimate): boron 15 %, others 20 %, in resist 25 %, phosphorus and arsenic in `SiO2` 35 %.

use super::ranges::{Species, TargetKind};

/// Rows of keV, range, straggle, lateral straggle in nm, skewness, kurtosis, backscattered
/// share, and share of the energy that goes into collisions with nuclei.
pub(super) const fn silicon_rows(species: Species) -> &'static [[f64; 8]] {
    match species {
        Species::Boron => SILICON_BORON,
        Species::Phosphorus => SILICON_PHOSPHORUS,
        Species::Arsenic => SILICON_ARSENIC,
        Species::Antimony => SILICON_ANTIMONY,
        Species::Indium => SILICON_INDIUM,
    }
}

/// Rows of keV, range, straggle, lateral straggle in nm; `None` for silicon, which has more
/// columns.
pub(super) const fn layer_rows(
    species: Species,
    target: TargetKind,
) -> Option<&'static [[f64; 4]]> {
    Some(match (target, species) {
        (TargetKind::Silicon, _) => return None,
        (TargetKind::Oxide, Species::Boron) => OXIDE_BORON,
        (TargetKind::Oxide, Species::Phosphorus) => OXIDE_PHOSPHORUS,
        (TargetKind::Oxide, Species::Arsenic) => OXIDE_ARSENIC,
        (TargetKind::Oxide, Species::Antimony) => OXIDE_ANTIMONY,
        (TargetKind::Oxide, Species::Indium) => OXIDE_INDIUM,
        (TargetKind::Nitride, Species::Boron) => NITRIDE_BORON,
        (TargetKind::Nitride, Species::Phosphorus) => NITRIDE_PHOSPHORUS,
        (TargetKind::Nitride, Species::Arsenic) => NITRIDE_ARSENIC,
        (TargetKind::Nitride, Species::Antimony) => NITRIDE_ANTIMONY,
        (TargetKind::Nitride, Species::Indium) => NITRIDE_INDIUM,
        (TargetKind::Resist, Species::Boron) => RESIST_BORON,
        (TargetKind::Resist, Species::Phosphorus) => RESIST_PHOSPHORUS,
        (TargetKind::Resist, Species::Arsenic) => RESIST_ARSENIC,
        (TargetKind::Resist, Species::Antimony) => RESIST_ANTIMONY,
        (TargetKind::Resist, Species::Indium) => RESIST_INDIUM,
        (TargetKind::Aluminum, Species::Boron) => ALUMINUM_BORON,
        (TargetKind::Aluminum, Species::Phosphorus) => ALUMINUM_PHOSPHORUS,
        (TargetKind::Aluminum, Species::Arsenic) => ALUMINUM_ARSENIC,
        (TargetKind::Aluminum, Species::Antimony) => ALUMINUM_ANTIMONY,
        (TargetKind::Aluminum, Species::Indium) => ALUMINUM_INDIUM,
    })
}

/// Silicon, boron: keV, Rp, dRp, lateral dRp in nm, skewness, kurtosis, backscattered share,
/// nuclear share of the energy.
const SILICON_BORON: &[[f64; 8]] = &[
    [10.0, 40.2, 18.1, 19.3, 0.06, 2.44, 0.0306, 0.55],
    [20.0, 75.3, 29.3, 31.9, -0.19, 2.52, 0.0187, 0.46],
    [30.0, 108.2, 37.7, 42.3, -0.35, 2.73, 0.0124, 0.39],
    [40.0, 139.4, 45.0, 51.5, -0.48, 2.88, 0.0094, 0.35],
    [50.0, 169.7, 50.8, 59.1, -0.60, 3.13, 0.0065, 0.32],
    [60.0, 198.2, 55.8, 66.2, -0.69, 3.33, 0.0046, 0.29],
    [80.0, 252.0, 64.6, 77.6, -0.80, 3.64, 0.0038, 0.25],
    [100.0, 302.9, 71.4, 87.7, -0.94, 4.07, 0.0027, 0.22],
    [120.0, 350.3, 77.2, 95.6, -1.06, 4.44, 0.0019, 0.19],
    [150.0, 418.5, 83.7, 106.2, -1.21, 5.11, 0.0014, 0.17],
    [200.0, 519.3, 91.5, 119.6, -1.38, 5.98, 0.0013, 0.14],
    [300.0, 698.3, 101.6, 138.2, -1.65, 7.54, 0.0006, 0.10],
    [400.0, 852.2, 108.0, 152.4, -1.83, 8.88, 0.0004, 0.08],
];

/// Silicon, phosphorus: keV, Rp, dRp, lateral dRp in nm, skewness, kurtosis, backscattered share,
/// nuclear share of the energy.
const SILICON_PHOSPHORUS: &[[f64; 8]] = &[
    [10.0, 17.1, 8.3, 7.0, 0.47, 2.94, 0.0029, 0.86],
    [20.0, 30.8, 14.1, 12.0, 0.32, 2.74, 0.0022, 0.83],
    [30.0, 44.2, 19.6, 16.4, 0.27, 2.71, 0.0021, 0.80],
    [40.0, 57.5, 24.4, 20.9, 0.20, 2.63, 0.0015, 0.78],
    [50.0, 70.9, 29.4, 25.1, 0.16, 2.67, 0.0012, 0.76],
    [60.0, 84.8, 33.8, 29.2, 0.09, 2.64, 0.0006, 0.74],
    [80.0, 111.8, 42.3, 37.3, 0.01, 2.64, 0.0010, 0.70],
    [100.0, 139.1, 50.3, 44.7, -0.05, 2.63, 0.0006, 0.67],
    [120.0, 165.6, 58.1, 52.3, -0.13, 2.70, 0.0002, 0.65],
    [150.0, 206.6, 67.9, 62.5, -0.23, 2.75, 0.0005, 0.61],
    [200.0, 273.2, 83.5, 78.3, -0.32, 2.84, 0.0003, 0.56],
    [300.0, 405.8, 109.9, 106.5, -0.54, 3.13, 0.0001, 0.49],
    [400.0, 531.0, 130.2, 130.7, -0.68, 3.45, 0.0001, 0.43],
];

/// Silicon, arsenic: keV, Rp, dRp, lateral dRp in nm, skewness, kurtosis, backscattered share,
/// nuclear share of the energy.
const SILICON_ARSENIC: &[[f64; 8]] = &[
    [10.0, 11.6, 4.3, 3.3, 0.52, 3.16, 0.0000, 0.93],
    [20.0, 19.0, 7.0, 5.3, 0.49, 3.09, 0.0000, 0.91],
    [30.0, 25.7, 9.4, 7.0, 0.48, 3.09, 0.0000, 0.90],
    [40.0, 31.9, 11.7, 8.6, 0.45, 3.02, 0.0000, 0.90],
    [50.0, 38.3, 13.8, 10.2, 0.41, 2.98, 0.0000, 0.89],
    [60.0, 44.2, 16.0, 11.8, 0.39, 2.92, 0.0000, 0.88],
    [80.0, 56.5, 20.0, 14.6, 0.36, 2.92, 0.0000, 0.87],
    [100.0, 68.1, 23.8, 17.5, 0.28, 2.81, 0.0000, 0.86],
    [120.0, 80.0, 27.5, 20.1, 0.27, 2.82, 0.0000, 0.84],
    [150.0, 97.5, 32.9, 24.2, 0.24, 2.83, 0.0000, 0.83],
    [200.0, 127.5, 41.9, 30.8, 0.18, 2.78, 0.0000, 0.81],
    [300.0, 187.8, 58.4, 43.4, 0.07, 2.74, 0.0000, 0.77],
    [400.0, 248.2, 73.1, 55.2, -0.02, 2.68, 0.0000, 0.74],
];

/// Silicon, antimony: keV, Rp, dRp, lateral dRp in nm, skewness, kurtosis, backscattered share,
/// nuclear share of the energy.
const SILICON_ANTIMONY: &[[f64; 8]] = &[
    [10.0, 10.7, 3.2, 2.5, 0.51, 3.25, 0.0000, 0.94],
    [20.0, 16.7, 5.0, 3.8, 0.48, 3.23, 0.0000, 0.93],
    [30.0, 21.9, 6.6, 4.9, 0.48, 3.13, 0.0000, 0.93],
    [40.0, 26.7, 8.1, 5.9, 0.47, 3.19, 0.0000, 0.92],
    [50.0, 31.2, 9.5, 6.9, 0.45, 3.09, 0.0000, 0.92],
    [60.0, 35.6, 10.8, 7.8, 0.44, 3.07, 0.0000, 0.92],
    [80.0, 44.0, 13.4, 9.6, 0.43, 3.09, 0.0000, 0.91],
    [100.0, 52.3, 15.7, 11.2, 0.40, 2.99, 0.0000, 0.90],
    [120.0, 60.2, 18.2, 12.8, 0.38, 3.03, 0.0000, 0.90],
    [150.0, 72.0, 21.5, 15.1, 0.36, 2.99, 0.0000, 0.89],
    [200.0, 91.6, 26.9, 18.7, 0.31, 2.91, 0.0000, 0.88],
    [300.0, 129.7, 37.0, 25.9, 0.25, 2.86, 0.0000, 0.85],
    [400.0, 168.4, 47.3, 32.7, 0.20, 2.81, 0.0000, 0.84],
];

/// Silicon dioxide, boron: keV, Rp, dRp, lateral dRp in nm.
const OXIDE_BORON: &[[f64; 4]] = &[
    [10.0, 39.1, 16.4, 16.8],
    [20.0, 75.0, 27.0, 28.8],
    [30.0, 109.0, 36.0, 38.0],
    [50.0, 172.0, 48.0, 53.0],
    [80.0, 256.0, 62.0, 71.0],
    [100.0, 311.0, 66.0, 80.0],
    [150.0, 428.0, 78.0, 98.0],
    [200.0, 532.0, 87.0, 111.0],
    [300.0, 717.0, 90.0, 127.0],
    [400.0, 874.0, 99.0, 140.0],
];

/// Silicon dioxide, phosphorus: keV, Rp, dRp, lateral dRp in nm.
const OXIDE_PHOSPHORUS: &[[f64; 4]] = &[
    [10.0, 15.8, 6.9, 5.5],
    [20.0, 28.6, 11.9, 9.5],
    [30.0, 41.1, 16.4, 13.3],
    [50.0, 66.3, 24.8, 20.4],
    [80.0, 105.0, 36.0, 30.0],
    [100.0, 130.0, 44.0, 36.0],
    [150.0, 194.0, 58.0, 51.0],
    [200.0, 258.0, 71.0, 64.0],
    [300.0, 382.0, 93.0, 87.0],
    [400.0, 499.0, 110.0, 107.0],
];

/// Silicon dioxide, arsenic: keV, Rp, dRp, lateral dRp in nm.
const OXIDE_ARSENIC: &[[f64; 4]] = &[
    [10.0, 10.9, 3.5, 2.7],
    [20.0, 17.8, 5.8, 4.3],
    [30.0, 24.0, 7.8, 5.8],
    [50.0, 36.1, 11.8, 8.3],
    [80.0, 53.0, 17.0, 12.0],
    [100.0, 64.8, 20.5, 14.4],
    [150.0, 93.4, 28.1, 19.8],
    [200.0, 122.0, 36.0, 25.0],
    [300.0, 180.0, 50.0, 36.0],
    [400.0, 238.0, 63.0, 46.0],
];

/// Silicon dioxide, antimony: keV, Rp, dRp, lateral dRp in nm.
const OXIDE_ANTIMONY: &[[f64; 4]] = &[
    [10.0, 10.1, 2.6, 2.0],
    [20.0, 15.7, 4.1, 3.0],
    [30.0, 20.8, 5.4, 4.0],
    [50.0, 29.7, 7.8, 5.6],
    [80.0, 42.4, 11.2, 8.0],
    [100.0, 50.1, 13.4, 9.2],
    [150.0, 69.4, 18.3, 12.7],
    [200.0, 87.4, 22.6, 15.8],
    [300.0, 125.0, 32.0, 22.0],
    [400.0, 163.0, 40.0, 27.0],
];

/// Silicon nitride, boron: keV, Rp, dRp, lateral dRp in nm.
const NITRIDE_BORON: &[[f64; 4]] = &[
    [10.0, 28.2, 12.0, 12.3],
    [20.0, 54.0, 19.7, 20.8],
    [30.0, 78.5, 25.8, 27.8],
    [50.0, 123.0, 35.0, 39.0],
    [80.0, 186.0, 43.0, 51.0],
    [100.0, 223.0, 48.0, 58.0],
    [150.0, 307.0, 56.0, 70.0],
    [200.0, 382.0, 61.0, 79.0],
    [300.0, 512.0, 67.0, 90.0],
    [400.0, 625.0, 72.0, 99.0],
];

/// Silicon nitride, phosphorus: keV, Rp, dRp, lateral dRp in nm.
const NITRIDE_PHOSPHORUS: &[[f64; 4]] = &[
    [10.0, 11.6, 5.0, 4.1],
    [20.0, 21.1, 8.7, 7.0],
    [30.0, 30.3, 12.0, 9.9],
    [50.0, 49.0, 18.2, 15.2],
    [80.0, 77.5, 26.7, 22.2],
    [100.0, 96.5, 31.7, 27.1],
    [150.0, 144.0, 44.0, 38.0],
    [200.0, 192.0, 52.0, 48.0],
    [300.0, 282.0, 69.0, 64.0],
    [400.0, 368.0, 82.0, 79.0],
];

/// Silicon nitride, arsenic: keV, Rp, dRp, lateral dRp in nm.
const NITRIDE_ARSENIC: &[[f64; 4]] = &[
    [10.0, 8.0, 2.6, 2.0],
    [20.0, 12.9, 4.3, 3.2],
    [30.0, 17.6, 5.9, 4.2],
    [50.0, 26.4, 8.7, 6.2],
    [80.0, 39.1, 12.4, 8.8],
    [100.0, 47.4, 15.0, 10.8],
    [150.0, 68.2, 20.9, 14.8],
    [200.0, 89.9, 26.4, 19.0],
    [300.0, 133.0, 37.0, 27.0],
    [400.0, 176.0, 47.0, 34.0],
];

/// Silicon nitride, antimony: keV, Rp, dRp, lateral dRp in nm.
const NITRIDE_ANTIMONY: &[[f64; 4]] = &[
    [10.0, 7.3, 1.8, 1.5],
    [20.0, 11.5, 3.0, 2.3],
    [30.0, 15.1, 4.0, 3.0],
    [50.0, 21.8, 5.8, 4.2],
    [80.0, 30.9, 8.4, 5.9],
    [100.0, 36.7, 9.7, 6.9],
    [150.0, 50.8, 13.7, 9.4],
    [200.0, 64.6, 17.0, 11.6],
    [300.0, 91.7, 23.6, 16.3],
    [400.0, 120.0, 30.0, 21.0],
];

/// Photoresist, boron: keV, Rp, dRp, lateral dRp in nm.
const RESIST_BORON: &[[f64; 4]] = &[
    [10.0, 56.0, 18.8, 17.3],
    [20.0, 109.0, 31.0, 30.0],
    [30.0, 160.0, 39.0, 40.0],
    [50.0, 253.0, 53.0, 56.0],
    [80.0, 380.0, 64.0, 74.0],
    [100.0, 455.0, 71.0, 83.0],
    [150.0, 622.0, 80.0, 99.0],
    [200.0, 770.0, 88.0, 111.0],
    [300.0, 1022.0, 94.0, 128.0],
    [400.0, 1240.0, 101.0, 139.0],
];

/// Photoresist, phosphorus: keV, Rp, dRp, lateral dRp in nm.
const RESIST_PHOSPHORUS: &[[f64; 4]] = &[
    [10.0, 22.7, 7.6, 5.5],
    [20.0, 41.5, 13.3, 9.7],
    [30.0, 60.3, 18.6, 13.6],
    [50.0, 98.2, 28.1, 20.9],
    [80.0, 154.0, 41.0, 32.0],
    [100.0, 193.0, 49.0, 37.0],
    [150.0, 289.0, 65.0, 52.0],
    [200.0, 382.0, 80.0, 66.0],
    [300.0, 561.0, 102.0, 89.0],
    [400.0, 732.0, 119.0, 108.0],
];

/// Photoresist, arsenic: keV, Rp, dRp, lateral dRp in nm.
const RESIST_ARSENIC: &[[f64; 4]] = &[
    [10.0, 16.1, 4.0, 2.8],
    [20.0, 26.7, 6.6, 4.5],
    [30.0, 36.4, 9.0, 6.1],
    [50.0, 55.0, 13.3, 9.1],
    [80.0, 81.2, 19.6, 12.9],
    [100.0, 99.4, 23.5, 15.4],
    [150.0, 143.0, 32.0, 22.0],
    [200.0, 188.0, 42.0, 28.0],
    [300.0, 277.0, 59.0, 39.0],
    [400.0, 367.0, 74.0, 50.0],
];

/// Photoresist, antimony: keV, Rp, dRp, lateral dRp in nm.
const RESIST_ANTIMONY: &[[f64; 4]] = &[
    [10.0, 14.9, 2.9, 2.1],
    [20.0, 23.8, 4.7, 3.3],
    [30.0, 31.7, 6.3, 4.3],
    [50.0, 45.7, 9.0, 6.1],
    [80.0, 65.5, 13.0, 8.6],
    [100.0, 78.2, 15.6, 10.2],
    [150.0, 109.0, 21.0, 14.0],
    [200.0, 138.0, 26.0, 18.0],
    [300.0, 198.0, 37.0, 24.0],
    [400.0, 256.0, 47.0, 31.0],
];

/// Aluminum, boron: keV, Rp, dRp, lateral dRp in nm.
const ALUMINUM_BORON: &[[f64; 4]] = &[
    [10.0, 35.0, 15.5, 16.4],
    [20.0, 65.2, 25.2, 27.0],
    [30.0, 93.3, 32.5, 35.8],
    [50.0, 147.0, 43.0, 50.0],
    [80.0, 218.0, 55.0, 65.0],
    [100.0, 263.0, 60.0, 73.0],
    [150.0, 362.0, 70.0, 88.0],
    [200.0, 450.0, 75.0, 99.0],
    [300.0, 604.0, 83.0, 113.0],
    [400.0, 735.0, 89.0, 126.0],
];

/// Aluminum, phosphorus: keV, Rp, dRp, lateral dRp in nm.
const ALUMINUM_PHOSPHORUS: &[[f64; 4]] = &[
    [10.0, 15.0, 7.1, 5.9],
    [20.0, 26.9, 12.2, 10.0],
    [30.0, 39.0, 16.7, 14.1],
    [50.0, 62.4, 25.3, 21.4],
    [80.0, 97.7, 36.7, 32.2],
    [100.0, 123.0, 44.0, 39.0],
    [150.0, 182.0, 59.0, 53.0],
    [200.0, 242.0, 72.0, 68.0],
    [300.0, 356.0, 94.0, 91.0],
    [400.0, 467.0, 109.0, 112.0],
];

/// Aluminum, arsenic: keV, Rp, dRp, lateral dRp in nm.
const ALUMINUM_ARSENIC: &[[f64; 4]] = &[
    [10.0, 10.0, 3.7, 2.8],
    [20.0, 16.3, 6.0, 4.5],
    [30.0, 21.9, 8.0, 6.0],
    [50.0, 33.0, 12.0, 8.7],
    [80.0, 48.9, 17.1, 12.5],
    [100.0, 59.5, 20.1, 15.2],
    [150.0, 86.5, 28.6, 20.9],
    [200.0, 112.0, 36.0, 27.0],
    [300.0, 166.0, 51.0, 37.0],
    [400.0, 220.0, 63.0, 48.0],
];

/// Aluminum, antimony: keV, Rp, dRp, lateral dRp in nm.
const ALUMINUM_ANTIMONY: &[[f64; 4]] = &[
    [10.0, 9.2, 2.7, 2.1],
    [20.0, 14.4, 4.2, 3.2],
    [30.0, 18.9, 5.7, 4.2],
    [50.0, 27.2, 8.2, 5.8],
    [80.0, 38.5, 11.4, 8.1],
    [100.0, 45.5, 13.6, 9.5],
    [150.0, 63.2, 18.7, 13.0],
    [200.0, 80.2, 23.2, 16.3],
    [300.0, 114.0, 32.0, 23.0],
    [400.0, 148.0, 41.0, 28.0],
];

/// Silicon, indium: as above. These rows and those of indium in layers were computed by
/// `tests/reference/implant_collisions.py`.
const SILICON_INDIUM: &[[f64; 8]] = &[
    [10.0, 10.7, 3.2, 2.6, 0.52, 3.26, 0.0000, 0.94],
    [20.0, 16.7, 5.2, 3.9, 0.52, 3.24, 0.0000, 0.93],
    [30.0, 22.1, 6.8, 5.1, 0.48, 3.12, 0.0000, 0.93],
    [40.0, 26.8, 8.4, 6.1, 0.49, 3.19, 0.0000, 0.92],
    [50.0, 31.7, 9.9, 7.3, 0.47, 3.11, 0.0000, 0.92],
    [60.0, 36.1, 11.2, 8.1, 0.46, 3.09, 0.0000, 0.91],
    [80.0, 44.6, 13.9, 10.0, 0.44, 3.10, 0.0000, 0.91],
    [100.0, 53.3, 16.4, 11.8, 0.43, 3.06, 0.0000, 0.90],
    [120.0, 61.6, 18.9, 13.4, 0.37, 2.96, 0.0000, 0.89],
    [150.0, 74.1, 22.4, 15.7, 0.33, 2.90, 0.0000, 0.88],
    [200.0, 94.2, 28.1, 19.8, 0.29, 2.86, 0.0000, 0.87],
    [300.0, 134.0, 39.1, 27.3, 0.25, 2.87, 0.0000, 0.85],
    [400.0, 174.1, 49.7, 34.9, 0.20, 2.79, 0.0000, 0.83],
];

/// Silicon dioxide, indium: keV, Rp, dRp, lateral dRp in nm.
const OXIDE_INDIUM: &[[f64; 4]] = &[
    [10.0, 10.1, 2.7, 2.1],
    [20.0, 16.0, 4.2, 3.2],
    [30.0, 21.0, 5.7, 4.1],
    [50.0, 30.2, 8.3, 5.8],
    [80.0, 42.8, 11.8, 8.3],
    [100.0, 51.0, 13.9, 9.8],
    [150.0, 70.9, 19.2, 13.4],
    [200.0, 90.5, 24.0, 16.6],
    [300.0, 129.3, 33.8, 22.7],
    [400.0, 168.6, 42.9, 28.9],
];

/// Silicon nitride, indium: keV, Rp, dRp, lateral dRp in nm.
const NITRIDE_INDIUM: &[[f64; 4]] = &[
    [10.0, 7.4, 1.9, 1.5],
    [20.0, 11.6, 3.1, 2.3],
    [30.0, 15.2, 4.1, 3.1],
    [50.0, 21.9, 6.1, 4.4],
    [80.0, 31.4, 8.6, 6.1],
    [100.0, 37.2, 10.4, 7.1],
    [150.0, 52.3, 14.2, 9.7],
    [200.0, 66.6, 17.6, 12.3],
    [300.0, 94.7, 24.7, 17.1],
    [400.0, 123.6, 31.5, 21.6],
];

/// Photoresist, indium: keV, Rp, dRp, lateral dRp in nm.
const RESIST_INDIUM: &[[f64; 4]] = &[
    [10.0, 15.0, 3.0, 2.1],
    [20.0, 24.0, 5.0, 3.3],
    [30.0, 31.7, 6.5, 4.5],
    [50.0, 46.3, 9.6, 6.4],
    [80.0, 66.5, 13.6, 9.0],
    [100.0, 79.5, 16.0, 10.7],
    [150.0, 111.2, 22.2, 14.4],
    [200.0, 142.0, 27.8, 18.4],
    [300.0, 203.1, 38.7, 25.6],
    [400.0, 263.6, 49.6, 32.5],
];

/// Aluminum, indium: keV, Rp, dRp, lateral dRp in nm.
const ALUMINUM_INDIUM: &[[f64; 4]] = &[
    [10.0, 9.3, 2.8, 2.1],
    [20.0, 14.5, 4.4, 3.3],
    [30.0, 19.2, 5.9, 4.3],
    [50.0, 27.4, 8.5, 6.1],
    [80.0, 39.1, 11.9, 8.5],
    [100.0, 46.4, 14.1, 9.9],
    [150.0, 64.7, 19.2, 13.7],
    [200.0, 82.1, 24.1, 17.0],
    [300.0, 118.3, 33.6, 23.8],
    [400.0, 153.4, 42.7, 30.3],
];

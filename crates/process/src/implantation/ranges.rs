//! Range statistics of an ion in a material, looked up in a table by energy.

use super::{computed_ranges, published_ranges};
use crate::num::{MonotoneCubic, exp, ln};
use crate::vocabulary::{Dopant, Ion, Material, words};

words! {
    /// Where range and straggle come from.
    RangeTable {
        /// Gibbons, Johnson and Mylroie, 1975.
        Gibbons1975 = "gibbons_1975", "published (Gibbons et al. 1975)";
        /// Binary collisions with the universal potential.
        Computed = "computed", "computed (universal potential)";
    }
}

impl RangeTable {
    /// The citation shown beside a number of this table.
    pub(super) const fn source(self) -> &'static str {
        match self {
            Self::Gibbons1975 => {
                "Gibbons, Johnson, Mylroie, Projected Range Statistics, 1975"
            }
            Self::Computed => {
                "computed: binary collisions, universal potential (Ziegler, Biersack, Littmark 1985)"
            }
        }
    }
}

/// The atom that comes to rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Species {
    Boron,
    Phosphorus,
    Arsenic,
    Antimony,
    Indium,
}

impl Species {
    pub(super) const fn of(ion: Ion) -> Self {
        match ion {
            Ion::Boron | Ion::Bf2 => Self::Boron,
            Ion::Phosphorus => Self::Phosphorus,
            Ion::Arsenic => Self::Arsenic,
            Ion::Antimony => Self::Antimony,
            Ion::Indium => Self::Indium,
        }
    }

    pub(super) const fn dopant(self) -> Dopant {
        match self {
            Self::Boron => Dopant::Boron,
            Self::Phosphorus => Dopant::Phosphorus,
            Self::Arsenic => Dopant::Arsenic,
            Self::Antimony => Dopant::Antimony,
            Self::Indium => Dopant::Indium,
        }
    }
}

/// The materials that have range tables of their own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum TargetKind {
    Silicon,
    Oxide,
    Nitride,
    Resist,
    Aluminum,
}

impl TargetKind {
    /// Polysilicon stops ions as silicon does (density within 1 %); all silicon oxides count as
    /// `SiO2` (common practice: a few percent of phosphorus or hydrogen changes little).
    pub(super) const fn of(material: Material) -> Self {
        match material {
            Material::Silicon | Material::Polysilicon => Self::Silicon,
            Material::ThermalOxide
            | Material::DepositedOxide
            | Material::PhosphorusGlass => Self::Oxide,
            Material::Nitride => Self::Nitride,
            Material::Aluminum => Self::Aluminum,
            Material::Resist => Self::Resist,
        }
    }
}

/// Why another table than the chosen one was used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Substitution {
    /// The table has no rows for this ion in this material.
    NoRows,
    /// The energy lies above the last row.
    AboveLastRow,
}

/// One row of a table as a person sees it: keV, range and straggle in nm.
pub(super) type ShownRow = [f64; 3];

/// Range statistics of one ion at one energy in one material.
#[derive(Clone, Debug)]
pub(super) struct RangeStatistics {
    /// Mean projected range along the beam in nm.
    pub(super) range_nm: f64,
    /// Its standard deviation in nm.
    pub(super) straggle_nm: f64,
    /// Standard deviation across the beam, along one axis, in nm.
    pub(super) lateral_nm: f64,
    /// Third moment over the straggle cubed.
    pub(super) skewness: f64,
    /// Fourth moment over the straggle to the fourth; a Gaussian has 3.
    pub(super) kurtosis: f64,
    /// The table that was used.
    pub(super) table: RangeTable,
    /// Why it is not the one that was asked for.
    pub(super) substitution: Option<Substitution>,
    /// The rows on both sides of the energy (the same row twice at a table energy).
    pub(super) neighbors: [ShownRow; 2],
    /// Whether the energy lies outside all rows.
    pub(super) extrapolated: bool,
}

/// What the computed silicon table says beyond range and straggle.
#[derive(Clone, Copy, Debug)]
pub(super) struct SiliconExtras {
    /// Share of the ions that turn back and leave the surface.
    pub(super) backscattered: f64,
    /// Share of the energy given to nuclei.
    pub(super) nuclear_share: f64,
}

/// Looks up the statistics of an ion in a material.
///
/// # Model
/// Monotone cubic of `ln Rp` and `ln dRp` in `ln E`; skewness and kurtosis linear in `ln E`.
/// The 1975 table has neither lateral straggle nor shape: the lateral straggle keeps the
/// computed ratio to the straggle, and the shape is that of the computed silicon table for
/// every material (model choice: the shape in other layers was not computed).
///
/// # Validity
/// 10 to 200 keV (1975, silicon), 10 to 100 keV (1975, `SiO2`), 10 to 400 keV (computed). Below
/// 10 keV the end slope goes on; above its last row the 1975 table gives way to the other.
pub(super) fn look_up(
    species: Species,
    target: TargetKind,
    energy_kev: f64,
    wanted: RangeTable,
) -> RangeStatistics {
    let computed = computed_rows(species, target);
    let (computed_straggle_nm, computed_lateral_nm) = (
        at_energy(&computed, 2, energy_kev, true),
        at_energy(&computed, 3, energy_kev, true),
    );
    let published = published_ranges::rows(species, target).map(|rows| {
        rows.iter().map(|r| vec![r[0], 1e3 * r[1], 1e3 * r[2]]).collect::<Vec<_>>()
    });
    let (rows, table, substitution) = match (wanted, published) {
        (RangeTable::Computed, _) => (computed, RangeTable::Computed, None),
        (RangeTable::Gibbons1975, None) => {
            (computed, RangeTable::Computed, Some(Substitution::NoRows))
        }
        (RangeTable::Gibbons1975, Some(rows)) => {
            if rows.last().is_some_and(|last| last[0] < energy_kev) {
                (computed, RangeTable::Computed, Some(Substitution::AboveLastRow))
            } else {
                (rows, RangeTable::Gibbons1975, None)
            }
        }
    };
    let straggle_nm = at_energy(&rows, 2, energy_kev, true);
    let silicon = computed_rows(species, TargetKind::Silicon);
    RangeStatistics {
        range_nm: at_energy(&rows, 1, energy_kev, true),
        straggle_nm,
        lateral_nm: computed_lateral_nm * straggle_nm / computed_straggle_nm,
        skewness: at_energy(&silicon, 4, energy_kev, false),
        kurtosis: at_energy(&silicon, 5, energy_kev, false),
        table,
        substitution,
        neighbors: neighbors(&rows, energy_kev),
        extrapolated: rows.first().is_some_and(|r| energy_kev < r[0])
            || rows.last().is_some_and(|r| r[0] < energy_kev),
    }
}

/// Looks up what only the computed silicon table has.
pub(super) fn silicon_extras(species: Species, energy_kev: f64) -> SiliconExtras {
    let rows = computed_rows(species, TargetKind::Silicon);
    SiliconExtras {
        backscattered: at_energy(&rows, 6, energy_kev, false).max(0.0),
        nuclear_share: at_energy(&rows, 7, energy_kev, false).clamp(0.0, 1.0),
    }
}

fn computed_rows(species: Species, target: TargetKind) -> Vec<Vec<f64>> {
    computed_ranges::layer_rows(species, target).map_or_else(
        || computed_ranges::silicon_rows(species).iter().map(|r| r.to_vec()).collect(),
        |rows| rows.iter().map(|r| r.to_vec()).collect(),
    )
}

/// A column at an energy: monotone cubic of the logarithm, or linear and held at the ends.
fn at_energy(rows: &[Vec<f64>], column: usize, energy_kev: f64, log: bool) -> f64 {
    let x: Vec<f64> = rows.iter().map(|r| ln(r[0])).collect();
    let y: Vec<f64> =
        rows.iter().map(|r| if log { ln(r[column]) } else { r[column] }).collect();
    let at = ln(energy_kev);
    if log {
        // A table energy gives the table's own digits, not their rounded logarithm.
        if let Some(row) = rows.iter().find(|r| (r[0] - energy_kev).abs() < 1e-12) {
            return row[column];
        }
        return MonotoneCubic::new(x, y).map_or(f64::NAN, |curve| exp(curve.value(at)));
    }
    let i = x.partition_point(|&x| x <= at);
    match (i.checked_sub(1), i < x.len()) {
        (None, _) => y[0],
        (Some(left), false) => y[left],
        (Some(left), true) => {
            let t = (at - x[left]) / (x[i] - x[left]);
            y[left] + t * (y[i] - y[left])
        }
    }
}

fn neighbors(rows: &[Vec<f64>], energy_kev: f64) -> [ShownRow; 2] {
    let shown = |i: usize| [rows[i][0], rows[i][1], rows[i][2]];
    if let Some(i) = rows.iter().position(|r| (r[0] - energy_kev).abs() < 1e-12) {
        return [shown(i), shown(i)];
    }
    let right = rows.partition_point(|r| r[0] <= energy_kev).clamp(1, rows.len() - 1);
    [shown(right - 1), shown(right)]
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL_SPECIES: [Species; 5] = [
        Species::Boron,
        Species::Phosphorus,
        Species::Arsenic,
        Species::Antimony,
        Species::Indium,
    ];
    const ALL_TARGETS: [TargetKind; 5] = [
        TargetKind::Silicon,
        TargetKind::Oxide,
        TargetKind::Nitride,
        TargetKind::Resist,
        TargetKind::Aluminum,
    ];

    /// Each interior row is left out and predicted from the others; a slip of a digit in a
    /// table would stand out. Three standard errors of a row against the mean of its two
    /// neighbors are 3 sqrt(1.5) of the statistical error of a row: layers 1 % (range) and
    /// 1.5 % (straggle), silicon 0.5 % and 0.7 %; on top comes the interpolation over a doubled
    /// interval, 0.5 %. The published rows have only their rounding.
    #[test]
    fn every_row_is_foretold_by_its_neighbors() {
        for species in ALL_SPECIES {
            for target in ALL_TARGETS {
                let published = published_ranges::rows(species, target)
                    .map(|rows| rows.iter().map(|r| r.to_vec()).collect::<Vec<_>>());
                check_rows(published.unwrap_or_default(), [0.01, 0.02]);
                let allowed = if target == TargetKind::Silicon {
                    [0.0234, 0.0307]
                } else {
                    [0.0417, 0.0601]
                };
                check_rows(computed_rows(species, target), allowed);
            }
        }
    }

    #[track_caller]
    fn check_rows(rows: Vec<Vec<f64>>, allowed: [f64; 2]) {
        for left_out in 1..rows.len().saturating_sub(1) {
            let mut others = rows.clone();
            let row = others.remove(left_out);
            for column in [1, 2] {
                let foretold = at_energy(&others, column, row[0], true);
                let off = (foretold / row[column] - 1.0).abs();
                assert!(
                    off < allowed[column - 1],
                    "{row:?}, column {column}: {foretold}"
                );
            }
        }
    }

    #[test]
    fn what_the_1975_table_lacks_comes_from_the_computed_one() {
        let wanted = RangeTable::Gibbons1975;
        let above = look_up(Species::Boron, TargetKind::Silicon, 300.0, wanted);
        assert_eq!(above.substitution, Some(Substitution::AboveLastRow));
        assert!((above.range_nm - 698.3).abs() < 1e-9);
        let nitride = look_up(Species::Arsenic, TargetKind::Nitride, 100.0, wanted);
        assert_eq!(nitride.substitution, Some(Substitution::NoRows));
        assert_eq!(nitride.table, RangeTable::Computed);
        let below = look_up(Species::Boron, TargetKind::Silicon, 5.0, wanted);
        assert!(below.extrapolated && below.substitution.is_none());
        assert!(0.4 * 33.3 < below.range_nm && below.range_nm < 0.6 * 33.3);
    }

    #[test]
    fn shape_is_held_at_the_ends_of_the_table() {
        let low =
            look_up(Species::Arsenic, TargetKind::Silicon, 5.0, RangeTable::Computed);
        assert!((low.skewness - 0.52).abs() < 1e-12);
        let extras = silicon_extras(Species::Boron, 100.0);
        assert!((extras.nuclear_share - 0.22).abs() < 1e-12);
        assert!((extras.backscattered - 0.0027).abs() < 1e-12);
    }
}

//! The same implantation with the other range table: how far theories of ranges disagree.

use super::calculation::Calculation;
use super::ranges::RangeTable;
use super::request::Settings;
use super::results::{TableSpread, stack_profile};

/// The answer of the other table; `None` if it is the same: with given moments, for an ion or
/// above an energy that the 1975 table does not have.
pub(super) fn of(calculation: &Calculation) -> Option<TableSpread> {
    let settings = &calculation.settings;
    calculation.statistics.as_ref()?;
    let range_table = match settings.range_table {
        RangeTable::Gibbons1975 => RangeTable::Computed,
        RangeTable::Computed => RangeTable::Gibbons1975,
    };
    let other = Calculation::new(Settings { range_table, ..settings.clone() });
    if tables(&other).eq(tables(calculation)) {
        return None;
    }
    let (peak_cm3, peak_depth_nm) = other.peak();
    let target = other.target();
    Some(TableSpread {
        range_table,
        projected_range_nm: other.beam_moments.mean_nm,
        straggle_nm: other.beam_moments.sigma_nm,
        peak_cm3,
        peak_depth_nm,
        junction_depth_um: other.junctions_um().last().copied(),
        transmitted_fraction: if other.layers.is_empty() { 1.0 } else { target.arriving },
        profile: stack_profile(&other),
    })
}

/// The tables that were used, target first.
fn tables(calculation: &Calculation) -> impl Iterator<Item = RangeTable> + '_ {
    let layers = calculation.layers.iter().map(|layer| &layer.statistics);
    calculation.statistics.iter().chain(layers).map(|statistics| statistics.table)
}

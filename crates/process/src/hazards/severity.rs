//! Order of danger: HF first, then what kills, then what burns, then what burns with flames.

use super::UNKNOWN;
use super::table::{HazardRow, TABLE};

/// Sorts ids of the hazard table worst first and drops doubles.
///
/// HF and everything treated like HF; then a code of deadly poison (H300, H310, H330); then
/// severe burns (H314); then poison of the lower grades and harm to organs at one exposure (H301,
/// H311, H331, H370); then flammable or self-igniting (H220 to H226, H232, H250); then the rest. Rows of one rank stand in the order of the table. Unknown ids stand first: what is
/// not known is treated as HF.
pub fn sort_worst_first(ids: &mut Vec<&'static str>) {
    ids.sort_by_key(|id| place(id));
    ids.dedup();
}

/// Rank and line of the table.
fn place(id: &str) -> (u8, usize) {
    let line = TABLE.iter().position(|row| row.id == id);
    match line.and_then(|line| Some((rank(TABLE.get(line)?), line))) {
        Some(place) => place,
        None => (0, if id == UNKNOWN { usize::MAX - 1 } else { usize::MAX }),
    }
}

/// Rank of a row: 0 is worst.
fn rank(row: &HazardRow) -> u8 {
    let has = |codes: &[&str]| {
        row.h_codes.iter().any(|h| !h.variant && codes.contains(&h.code.as_str()))
    };
    if row.is_hf_type() {
        0
    } else if has(&["H300", "H310", "H330"]) {
        1
    } else if has(&["H314"]) {
        2
    } else if has(&["H301", "H311", "H331", "H370"]) {
        3
    } else if has(&["H220", "H221", "H225", "H226", "H232", "H250"]) {
        4
    } else {
        5
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(given: &[&'static str], sorted: &[&str]) {
        let mut ids = given.to_vec();
        sort_worst_first(&mut ids);
        assert_eq!(ids, sorted);
    }

    #[test]
    fn hf_comes_first_then_poison_burns_fire_and_the_rest() {
        check(
            &["HEAT", "H2", "HNO3", "CL2", "NH4F", "HF49", "HEAT"],
            &["HF49", "NH4F", "CL2", "HNO3", "H2", "HEAT"],
        );
        check(&["ACETONE", "PIRANHA", "H2SO4"], &["H2SO4", "PIRANHA", "ACETONE"]);
        check(&["PGMEA", "HMDS"], &["HMDS", "PGMEA"]);
        check(&["BF3", "ASH3", "VACUUM"], &["BF3", "ASH3", "VACUUM"]);
        check(&["HEAT", "UNKNOWN"], &["UNKNOWN", "HEAT"]);
        check(&[], &[]);
    }
}

//! What a process window answers.

use serde::Serialize;

use super::request::Plan;
use crate::lithography::exposure::Tool;

/// Results of a process window.
#[derive(Clone, Debug, Serialize)]
pub struct ProcessWindowResults {
    /// How the mask is printed: without a lens the focus is the gap.
    pub tool: Tool,
    /// Doses in mJ/cm2, from low to high.
    pub dose_mj_cm2: Vec<f64>,
    /// Defocus, or gap, in um, from low to high.
    pub focus_um: Vec<f64>,
    /// Width at half height in um, one list a dose, along the focus; null where nothing is open
    /// or nothing is left, or where it was not computed yet.
    pub width_um: Vec<Vec<Option<f64>>>,
    /// Width that is asked for in um.
    pub nominal_um: f64,
    /// Widths that are good, in um.
    pub good_um: [f64; 2],
    /// Dose that gives the width asked for in the middle of the focus, in mJ/cm2; null if none of
    /// the range does.
    pub dose_to_size_mj_cm2: Option<f64>,
    /// Range of dose with a good width in the middle of the focus, in percent of its middle.
    pub exposure_latitude_percent: Option<f64>,
    /// Latitude that is asked for, in percent.
    pub latitude_percent: f64,
    /// Longest range of focus, in um from end to end, in which one range of dose of that latitude
    /// is good; null if none.
    pub focus_range_um: Option<f64>,
    /// That range of focus in um.
    pub focus_window_um: Option<[f64; 2]>,
    /// The range of dose that is good in all of it, in mJ/cm2.
    pub dose_window_mj_cm2: Option<[f64; 2]>,
    /// Dose whose width changes least with focus, in mJ/cm2; null before all is computed.
    pub isofocal_dose_mj_cm2: Option<f64>,
    /// Points that are computed.
    pub points_done: u32,
    /// Points that are asked for.
    pub points: u32,
}

/// Judges widths; `width_um[focus][dose]`.
pub(super) fn judge(
    plan: &Plan,
    width_um: &[Vec<Option<f64>>],
    points_done: u32,
    points: u32,
) -> ProcessWindowResults {
    let nominal_um = plan.middle.exposure.mask.nominal_um();
    let good_um =
        [nominal_um * (1.0 - plan.tolerance), nominal_um * (1.0 + plan.tolerance)];
    let doses = &plan.doses_mj_cm2;
    let ranges: Vec<Option<[f64; 2]>> =
        width_um.iter().map(|row| good_doses(doses, row, good_um)).collect();
    let middle = width_um.len() / 2;
    let sized = width_um.get(middle).and_then(|row| dose_for(doses, row, nominal_um));
    let latitude = ranges.get(middle).copied().flatten().map(percent);
    let all = points_done == points;
    let window = if all { widest(plan, &ranges) } else { None };
    let columns = (0..doses.len())
        .map(|dose| width_um.iter().map(|row| row.get(dose).copied().flatten()).collect())
        .collect::<Vec<Vec<Option<f64>>>>();
    ProcessWindowResults {
        tool: plan.middle.exposure.tool,
        dose_mj_cm2: doses.clone(),
        focus_um: plan.focuses_um.clone(),
        nominal_um,
        good_um,
        dose_to_size_mj_cm2: sized,
        exposure_latitude_percent: latitude,
        latitude_percent: plan.latitude_percent,
        focus_range_um: window.map(|(focus, _)| focus[1] - focus[0]),
        focus_window_um: window.map(|(focus, _)| focus),
        dose_window_mj_cm2: window.map(|(_, dose)| dose),
        isofocal_dose_mj_cm2: if all { isofocal(doses, &columns) } else { None },
        width_um: columns,
        points_done,
        points,
    }
}

/// Width of a range in percent of its middle.
fn percent([low, high]: [f64; 2]) -> f64 {
    200.0 * (high - low) / (high + low)
}

/// Dose at which the width first passes a value.
fn dose_for(doses: &[f64], row: &[Option<f64>], wanted_um: f64) -> Option<f64> {
    doses.windows(2).zip(row.windows(2)).find_map(|(doses, widths)| {
        let (a, b) = (widths[0]? - wanted_um, widths[1]? - wanted_um);
        let crosses = a * b <= 0.0 && 0.0 < (a - b).abs();
        crosses.then(|| doses[0] + (doses[1] - doses[0]) * a / (a - b))
    })
}

/// The longest run of doses with a good width, its ends between the doses by straight lines; none
/// if no dose is good.
fn good_doses(
    doses: &[f64],
    row: &[Option<f64>],
    [low, high]: [f64; 2],
) -> Option<[f64; 2]> {
    let mut best: Option<[f64; 2]> = None;
    let mut add = |range: [f64; 2]| {
        if best.is_none_or(|best| best[1] - best[0] < range[1] - range[0]) {
            best = Some(range);
        }
    };
    let mut open: Option<[f64; 2]> = None;
    for (doses, widths) in doses.windows(2).zip(row.windows(2)) {
        let part = match (widths[0], widths[1]) {
            (Some(a), Some(b)) => share_between([a, b], [low, high]),
            _ => None,
        };
        let Some([from, to]) = part else {
            if let Some(range) = open.take() {
                add(range);
            }
            continue;
        };
        let at = |share: f64| doses[0] + (doses[1] - doses[0]) * share;
        // A run goes on where it reaches the end that the next stretch starts from.
        let start =
            if from <= 0.0 { open.map_or(at(from), |range| range[0]) } else { at(from) };
        open = Some([start, at(to)]);
        if to < 1.0 {
            add([start, at(to)]);
            open = None;
        }
    }
    if let Some(range) = open {
        add(range);
    }
    best
}

/// The part of the way from `a` to `b` that lies between two values.
fn share_between([a, b]: [f64; 2], [low, high]: [f64; 2]) -> Option<[f64; 2]> {
    if (b - a).abs() <= 0.0 {
        return (low <= a && a <= high).then_some([0.0, 1.0]);
    }
    let [p, q] = [(low - a) / (b - a), (high - a) / (b - a)];
    let (from, to) = (p.min(q).max(0.0), p.max(q).min(1.0));
    (from < to).then_some([from, to])
}

/// The longest run of focuses in which doses of the latitude asked for are good throughout, with
/// these doses; of equal ones that with the wider range of dose.
fn widest(plan: &Plan, ranges: &[Option<[f64; 2]>]) -> Option<([f64; 2], [f64; 2])> {
    let mut best: Option<([f64; 2], [f64; 2])> = None;
    for first in 0..ranges.len() {
        let mut common = [0.0, f64::INFINITY];
        for (last, range) in ranges.iter().enumerate().skip(first) {
            let Some([low, high]) = *range else { break };
            common = [low.max(common[0]), high.min(common[1])];
            if common[1] <= common[0] || percent(common) < plan.latitude_percent {
                break;
            }
            let focus = [plan.focuses_um[first], plan.focuses_um[last]];
            let better = best.is_none_or(|(known, dose)| {
                let gain = (focus[1] - focus[0]) - (known[1] - known[0]);
                1e-9 < gain
                    || (-1e-9 <= gain && dose[1] - dose[0] < common[1] - common[0])
            });
            if better {
                best = Some((focus, common));
            }
        }
    }
    best
}

/// The dose whose widths lie closest together; those without a width everywhere are left out.
fn isofocal(doses: &[f64], columns: &[Vec<Option<f64>>]) -> Option<f64> {
    let mut best: Option<(f64, f64)> = None;
    for (dose, column) in doses.iter().zip(columns) {
        let Some(widths) = column.iter().copied().collect::<Option<Vec<f64>>>() else {
            continue;
        };
        let high = widths.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let low = widths.iter().copied().fold(f64::INFINITY, f64::min);
        if best.is_none_or(|(spread, _)| high - low < spread) {
            best = Some((high - low, *dose));
        }
    }
    best.map(|(_, dose)| dose)
}

#[cfg(test)]
mod tests {
    use super::*;

    const DOSES: [f64; 4] = [80.0, 90.0, 100.0, 110.0];

    #[test]
    fn doses_between_the_grid_are_found_on_straight_lines() {
        let row = [Some(0.58), Some(0.52), Some(0.48), Some(0.40)];
        let sized = dose_for(&DOSES, &row, 0.5).unwrap();
        assert!((sized - 95.0).abs() < 1e-9, "{sized}");
        // 0.55 lies halfway from 80 to 90, 0.45 three eighths of the way from 100 to 110.
        let [low, high] = good_doses(&DOSES, &row, [0.45, 0.55]).unwrap();
        assert!(
            (low - 85.0).abs() < 1e-9 && (high - 103.75).abs() < 1e-9,
            "{low} {high}"
        );
    }

    #[test]
    fn a_row_without_widths_has_no_good_dose() {
        assert_eq!(good_doses(&DOSES, &[None; 4], [0.4, 0.6]), None);
        assert_eq!(dose_for(&DOSES, &[None, Some(0.5), None, Some(0.5)], 0.5), None);
    }

    #[test]
    fn the_calmest_dose_is_isofocal() {
        let columns = [
            vec![Some(0.60), Some(0.55), Some(0.60)],
            vec![Some(0.51), Some(0.50), Some(0.51)],
            vec![Some(0.40), Some(0.45), Some(0.40)],
            vec![Some(0.30), None, Some(0.30)],
        ];
        assert_eq!(isofocal(&DOSES, &columns), Some(90.0));
    }
}

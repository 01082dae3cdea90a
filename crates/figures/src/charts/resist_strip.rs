//! Resist left against time in the strip.

use barewafer_process::Report;
use barewafer_process::etching::StripResults;

use super::{marker, meaning, series};
use crate::axis::linear;
use crate::chart::{Band, Chart, MarkerKind, Role};
use crate::numbers::{short, three};

pub(super) fn charts(report: &Report, results: &StripResults) -> Vec<Chart> {
    let curve = &results.curve;
    let left = |rate_nm_min: f64| {
        let times = curve.time_min.iter();
        times.map(|&t| (results.thickness_nm - rate_nm_min * t).max(0.0)).collect()
    };
    let clear = results.time_to_clear_min;
    vec![Chart {
        id: "resist_left".to_owned(),
        title: "Resist left over time".to_owned(),
        x: linear("Time", "min", curve.time_min.iter().copied()),
        y: linear("Resist left", "nm", curve.remaining_nm.iter().copied()),
        series: vec![series("resist", Role::Main, &curve.time_min, &curve.remaining_nm)],
        markers: vec![
            marker(
                MarkerKind::Present,
                results.time_min,
                results.remaining_nm,
                format!(
                    "{} nm left\nat {} min",
                    three(results.remaining_nm),
                    short(results.time_min)
                ),
            ),
            marker(MarkerKind::Event, clear, 0.0, format!("clear\n{} min", short(clear))),
        ],
        bands: report
            .accuracy
            .iter()
            .map(|accuracy| Band {
                x: curve.time_min.clone(),
                low: left(results.rate_high_nm_min),
                high: left(results.rate_low_nm_min),
                meaning: meaning(accuracy),
            })
            .collect(),
        summary: format!(
            "{} nm of resist go at {} nm per minute in {} and are clear after {} min; after {} min {} nm are left.",
            three(results.thickness_nm),
            three(results.rate_nm_min),
            results.method.label(),
            short(clear),
            short(results.time_min),
            three(results.remaining_nm),
        ),
        ..Chart::default()
    }]
}

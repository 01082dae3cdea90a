//! Film left and undercut against etch time.

use barewafer_process::Report;
use barewafer_process::etching::WetEtchResults;

use super::{marker, meaning, published, series};
use crate::axis::linear;
use crate::chart::{Band, Chart, Marker, MarkerKind, Role};
use crate::numbers::{short, three};

pub(super) fn charts(report: &Report, results: &WetEtchResults) -> Vec<Chart> {
    let mut charts = vec![film_left(report, results)];
    if results.mask_line_um.is_some() || results.mask_opening_um.is_some() {
        charts.push(undercut(results));
    }
    charts
}

fn film_left(report: &Report, results: &WetEtchResults) -> Chart {
    let curve = &results.curve;
    let mut lines = vec![series("film", Role::Main, &curve.time_s, &curve.remaining_nm)];
    let differs = curve
        .worst_remaining_nm
        .iter()
        .zip(&curve.remaining_nm)
        .any(|(worst, nominal)| 1e-3 * results.thickness_nm < worst - nominal);
    if differs {
        let y = &curve.worst_remaining_nm;
        lines.push(series("worst place", Role::Second, &curve.time_s, y));
    }
    let last = curve.time_s.last().copied().unwrap_or(results.time_s);
    let mut markers: Vec<Marker> = vec![marker(
        MarkerKind::Present,
        results.time_s,
        results.remaining_nm,
        format!(
            "{} nm left\nat {} s",
            three(results.remaining_nm),
            short(results.time_s)
        ),
    )];
    if let Some(time) = results.time_to_clear_s.filter(|&t| t <= last) {
        let label = format!("clear\n{} s", short(time));
        markers.push(marker(MarkerKind::Event, time, 0.0, label));
    }
    let everywhere = results.time_to_clear_everywhere_s;
    if let Some(time) = everywhere.filter(|&t| differs && t <= last) {
        let label = format!("clear everywhere\n{} s", short(time));
        markers.push(marker(MarkerKind::Event, time, 0.0, label));
    }
    let heights = curve.remaining_nm.iter().chain(&curve.worst_remaining_nm).copied();
    let material = results.material.label();
    Chart {
        id: "film_left".to_owned(),
        title: format!("{} left over etch time", super::capital(material)),
        x: linear("Etch time", "s", curve.time_s.iter().copied().chain([results.time_s])),
        y: linear("Film left", "nm", heights.chain([results.thickness_nm])),
        series: lines,
        markers,
        bands: rate_band(report, results),
        published: published(report, "curve"),
        summary: format!(
            "{} nm of {material} are etched at {} nm per minute; after {} s {} nm are left.{}",
            three(results.thickness_nm),
            three(results.rate_nm_min),
            short(results.time_s),
            three(results.remaining_nm),
            results.time_to_clear_s.map_or_else(
                || " The bath does not clear it.".to_owned(),
                |t| format!(" The nominal film is clear after {} s.", short(t))
            ),
        ),
        ..Chart::default()
    }
}

/// What is known of an etch is its rate: the band opens with time.
fn rate_band(report: &Report, results: &WetEtchResults) -> Vec<Band> {
    let Some(accuracy) = &report.accuracy else { return Vec::new() };
    let left = |rate_nm_min: f64| {
        let times = results.curve.time_s.iter();
        times.map(|&t| (results.thickness_nm - rate_nm_min * t / 60.0).max(0.0)).collect()
    };
    vec![Band {
        x: results.curve.time_s.clone(),
        low: left(results.rate_high_nm_min),
        high: left(results.rate_low_nm_min),
        meaning: meaning(accuracy),
    }]
}

fn undercut(results: &WetEtchResults) -> Chart {
    let curve = &results.curve;
    let values = curve.undercut_nm.iter().copied().chain([results.undercut_nm]);
    Chart {
        id: "undercut".to_owned(),
        title: "Undercut below the mask edge".to_owned(),
        x: linear("Etch time", "s", curve.time_s.iter().copied().chain([results.time_s])),
        y: linear("Undercut", "nm", values),
        series: vec![series("undercut", Role::Main, &curve.time_s, &curve.undercut_nm)],
        markers: vec![marker(
            MarkerKind::Present,
            results.time_s,
            results.undercut_nm,
            format!("{} nm at {} s", three(results.undercut_nm), short(results.time_s)),
        )],
        summary: format!(
            "After {} s the film is gone {} nm sideways below each mask edge.",
            short(results.time_s),
            three(results.undercut_nm),
        ),
        ..Chart::default()
    }
}

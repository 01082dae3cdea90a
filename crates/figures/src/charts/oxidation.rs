//! Oxide against time, plain and on logarithmic axes.

use barewafer_process::Report;
use barewafer_process::oxidation::OxidationResults;

use super::{band, marker, published, series};
use crate::axis::{linear, log};
use crate::chart::{Chart, MarkerKind, Role};
use crate::numbers::{short, three};

pub(super) fn charts(report: &Report, results: &OxidationResults) -> Vec<Chart> {
    vec![
        over_time(report, results),
        on_log_axes(results),
        super::spectrum::chart(&results.appearance.spectrum, "oxide"),
    ]
}

fn over_time(report: &Report, results: &OxidationResults) -> Chart {
    // Beyond the time asked for, where there is a curve: it shows what more time would bring.
    let curve = results.extended_curve.as_ref().unwrap_or(&results.curve);
    let (time, oxide) = (&curve.time_min, &curve.oxide_nm);
    let bands = band(report.accuracy.as_ref(), time, oxide);
    let check_points = published(report, "curve");
    let highest = oxide
        .iter()
        .copied()
        .chain([results.oxide_nm])
        .chain(bands.iter().flat_map(|b| b.high.iter().copied()))
        .chain(check_points.iter().map(|p| p.y * (1.0 + p.tolerance)));
    let longest = time.iter().copied().chain([results.time_min]);
    let longest = longest.chain(check_points.iter().map(|p| p.x));
    let present =
        format!("{} nm\nat {} min", three(results.oxide_nm), short(results.time_min));
    Chart {
        id: "oxide_time".to_owned(),
        title: "Oxide thickness over time".to_owned(),
        x: linear("Time", "min", longest),
        y: linear("Oxide thickness", "nm", highest),
        series: vec![series("oxide", Role::Main, time, oxide)],
        markers: vec![marker(
            MarkerKind::Present,
            results.time_min,
            results.oxide_nm,
            present,
        )],
        bands,
        published: check_points,
        summary: format!(
            "The oxide grows from {} nm to {} nm in {} min; at the end it grows by {} nm per minute.",
            three(results.initial_oxide_nm),
            three(results.oxide_nm),
            short(results.time_min),
            three(results.rate_nm_min),
        ),
        ..Chart::default()
    }
}

/// The same on logarithmic axes with the two limits of the linear-parabolic law, `(B/A) t`
/// and `sqrt(B t)`, of the constants in the report.
fn on_log_axes(results: &OxidationResults) -> Chart {
    let (time, oxide) = (&results.curve.time_min, &results.curve.oxide_nm);
    let last = results.time_min.max(1e-6);
    let positive: Vec<(f64, f64)> = time
        .iter()
        .copied()
        .zip(oxide.iter().copied())
        .filter(|&(t, x)| last / 300.0 <= t && 0.0 < x)
        .collect();
    let (shown_time, shown): (Vec<f64>, Vec<f64>) = positive.into_iter().unzip();
    let first = shown_time.first().copied().unwrap_or(last / 100.0);
    let limits = barewafer_process::num::logspace(first, last, 60);
    let linear_nm: Vec<f64> =
        limits.iter().map(|t| results.linear_um_h * 1000.0 * t / 60.0).collect();
    let parabolic_nm: Vec<f64> = limits
        .iter()
        .map(|t| 1000.0 * (results.parabolic_um2_h * t / 60.0).sqrt())
        .collect();
    let highest = 1.5 * results.oxide_nm;
    let lowest = shown.first().copied().unwrap_or(1.0);
    let mut curves = vec![series("oxide", Role::Main, &shown_time, &shown)];
    if 0.0 < results.linear_um_h && 0.0 < results.parabolic_um2_h {
        curves.push(series("(B/A)·t", Role::Second, &limits, &linear_nm));
        curves.push(series("√(B·t)", Role::Third, &limits, &parabolic_nm));
    }
    Chart {
        id: "oxide_time_log".to_owned(),
        title: "Oxide thickness over time, logarithmic".to_owned(),
        x: log("Time", "min", [first, last].into_iter(), last * 1e-3),
        y: log("Oxide thickness", "nm", [lowest, highest].into_iter(), 0.1),
        series: curves,
        markers: vec![marker(
            MarkerKind::Present,
            results.time_min,
            results.oxide_nm,
            format!("{} nm", three(results.oxide_nm)),
        )],
        summary: format!(
            "On logarithmic axes growth turns from the slope 1 of the linear limit, B/A = {} µm/h, to the slope 1/2 of the parabolic limit, B = {} µm²/h.",
            three(results.linear_um_h),
            three(results.parabolic_um2_h),
        ),
        ..Chart::default()
    }
}

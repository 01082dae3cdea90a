//! What the developer does with time, and how fast it takes resist.

use barewafer_process::lithography::{DevelopmentResults, Tone};

use super::{marker, series};
use crate::axis::{linear, log};
use crate::chart::{Chart, Marker, MarkerKind, Role, Series};
use crate::numbers::{short, three};

pub(super) fn charts(results: &DevelopmentResults) -> Vec<Chart> {
    let mut charts = Vec::new();
    if results.nominal_um.is_some() {
        charts.push(width(results));
    }
    charts.push(wide_fields(results));
    charts.push(rate(results));
    charts
}

/// Width against time: nothing is drawn before there is a width.
fn width(results: &DevelopmentResults) -> Chart {
    let curve = &results.curve;
    let line = |label: &str, role: Role, values: &[Option<f64>]| {
        let points = curve.time_s.iter().zip(values);
        let known = points.filter_map(|(&time, width)| width.map(|width| (time, width)));
        let (x, y) = known.unzip();
        Series { label: label.to_owned(), x, y, role }
    };
    let mut lines = vec![
        line("at the bottom", Role::Main, &curve.bottom_um),
        line("at half height", Role::Second, &curve.middle_um),
    ];
    lines.retain(|line| !line.x.is_empty());
    let end = curve.time_s.last().copied().unwrap_or(results.time_s);
    let nominal = results.nominal_um.unwrap_or(0.0);
    lines.push(series("as drawn", Role::Level, &[0.0, end], &[nominal, nominal]));
    let mut markers = clear_marker(results, end, |time| {
        let first = curve.bottom_um.iter().flatten().next().copied();
        let width = curve.bottom_um.iter().zip(&curve.time_s);
        width.filter_map(|(width, &t)| width.filter(|_| time <= t)).next().or(first)
    });
    if let Some(width) = results.cd_bottom_um {
        let label = format!("{} µm\nat {} s", three(width), short(results.time_s));
        markers.push(marker(MarkerKind::Present, results.time_s, width, label));
    }
    let widths = lines.iter().flat_map(|line| line.y.iter().copied());
    Chart {
        id: "width".to_owned(),
        title: format!("Width of the {} over time", what(results)),
        x: linear("Time in the developer", "s", curve.time_s.iter().copied()),
        y: linear("Width", "µm", widths.collect::<Vec<f64>>().into_iter()),
        markers,
        summary: match results.cd_bottom_um {
            Some(width) => format!(
                "After {} s the {} is {} µm wide at the bottom; the mask asks for {} µm.",
                short(results.time_s),
                what(results),
                three(width),
                three(nominal)
            ),
            None => format!(
                "After {} s there is no {} at the bottom of the resist yet, or no more.",
                short(results.time_s),
                what(results)
            ),
        },
        series: lines,
        ..Chart::default()
    }
}

fn what(results: &DevelopmentResults) -> &'static str {
    if crate::pictures::is_line(results) { "resist line" } else { "opening" }
}

fn clear_marker(
    results: &DevelopmentResults,
    end: f64,
    height: impl Fn(f64) -> Option<f64>,
) -> Vec<Marker> {
    let time = results.time_to_clear_s.filter(|&time| time <= end);
    let at = time.and_then(|time| height(time).map(|height| (time, height)));
    at.map(|(time, height)| {
        let label = format!("clear\n{} s", short(time));
        marker(MarkerKind::Event, time, height, label)
    })
    .into_iter()
    .collect()
}

/// Wide fields, exposed and dark: what a film thickness gauge beside the pattern would see.
fn wide_fields(results: &DevelopmentResults) -> Chart {
    let curve = &results.curve;
    let end = curve.time_s.last().copied().unwrap_or(results.time_s);
    let mut markers = Vec::new();
    if results.open_clear_s <= end {
        let label = format!("clear\n{} s", short(results.open_clear_s));
        markers.push(marker(MarkerKind::Event, results.open_clear_s, 0.0, label));
    }
    let (stays, name) = match results.tone {
        Tone::Positive => (&curve.dark_nm, "dark field"),
        Tone::Negative => (&curve.exposed_nm, "exposed field"),
    };
    let left = super::doping::value_at(&curve.time_s, stays, results.time_s);
    if let Some(left) = left {
        let label = format!("{} nm stay\nat {} s", three(left), short(results.time_s));
        markers.push(marker(MarkerKind::Present, results.time_s, left, label));
    }
    let heights = curve.exposed_nm.iter().chain(&curve.dark_nm).copied();
    Chart {
        id: "wide_fields".to_owned(),
        title: "Resist left in wide fields".to_owned(),
        x: linear("Time in the developer", "s", curve.time_s.iter().copied()),
        y: linear("Resist left", "nm", heights),
        series: vec![
            series("exposed", Role::Main, &curve.time_s, &curve.exposed_nm),
            series("dark", Role::Second, &curve.time_s, &curve.dark_nm),
        ],
        markers,
        summary: format!(
            "A wide {} field is clear after {} s; of the {name} {} nm are left after {} s.",
            match results.tone {
                Tone::Positive => "exposed",
                Tone::Negative => "dark",
            },
            short(results.open_clear_s),
            left.map_or_else(|| "no".to_owned(), three),
            short(results.time_s),
        ),
        ..Chart::default()
    }
}

fn rate(results: &DevelopmentResults) -> Chart {
    let curve = &results.rate_curve;
    let label = format!("wide exposed field\n{} nm/s", three(curve.exposed_nm_s));
    let rates = curve.rate_nm_s.iter().copied().chain([curve.exposed_nm_s]);
    let floor = rates.clone().fold(f64::INFINITY, f64::min).max(1e-6);
    Chart {
        id: "rate".to_owned(),
        title: "How fast resist dissolves".to_owned(),
        x: linear("Photoactive compound left", "", curve.pac.iter().copied()),
        y: log("Rate", "nm/s", rates, floor),
        series: vec![series("rate", Role::Main, &curve.pac, &curve.rate_nm_s)],
        markers: vec![marker(
            MarkerKind::Present,
            curve.exposed_pac,
            curve.exposed_nm_s,
            label,
        )],
        summary: format!(
            "In a wide exposed field {} % of the photoactive compound are left on average; such resist dissolves at {} nm per second.",
            three(100.0 * curve.exposed_pac),
            three(curve.exposed_nm_s),
        ),
        ..Chart::default()
    }
}

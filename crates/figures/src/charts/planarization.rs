//! Step height and mean film thickness against polishing time.

use barewafer_process::Report;
use barewafer_process::polishing::PlanarizationResults;

use super::{marker, meaning, series};
use crate::axis::linear;
use crate::chart::{Band, Chart, MarkerKind, Role};
use crate::numbers::{short, three};

pub(super) fn charts(report: &Report, results: &PlanarizationResults) -> Vec<Chart> {
    let curve = &results.curve;
    let times = || curve.time_s.iter().copied();
    let stepped = 0.0 < results.initial_step_height_nm;
    let mut lines =
        vec![series("mean film", Role::Main, &curve.time_s, &curve.mean_thickness_nm)];
    if stepped {
        lines.push(series("step", Role::Second, &curve.time_s, &curve.step_height_nm));
        lines.push(series(
            "film, high places",
            Role::Third,
            &curve.time_s,
            &curve.remaining_nm,
        ));
    }
    let mut markers = vec![marker(
        MarkerKind::Present,
        results.time_s,
        results.mean_thickness_nm,
        format!(
            "{} nm on average\nat {} s",
            three(results.mean_thickness_nm),
            short(results.time_s)
        ),
    )];
    if let Some(time) = results.time_to_level_s.filter(|_| stepped) {
        markers.push(marker(
            MarkerKind::Event,
            time,
            0.0,
            format!("level\n{} s", short(time)),
        ));
    }
    let clear = results.time_to_clear_s;
    let word = if results.stop.is_some() { "stop layer bare" } else { "film gone" };
    markers.push(marker(
        MarkerKind::Event,
        clear,
        0.0,
        format!("{word}\n{} s", short(clear)),
    ));
    let left = |rate_nm_min: f64| {
        // The mean film goes at the rate of a flat wafer until the high places are bare.
        let clear_s = clear * results.rate_nm_min / rate_nm_min;
        times()
            .map(|t| results.thickness_nm - rate_nm_min * t.min(clear_s) / 60.0)
            .collect()
    };
    let film = results.material.label();
    let heights = curve.mean_thickness_nm.iter().chain(&curve.step_height_nm).copied();
    vec![Chart {
        id: "polishing".to_owned(),
        title: if stepped {
            "Step and film over polishing time".to_owned()
        } else {
            "Film over polishing time".to_owned()
        },
        x: linear("Polishing time", "s", times()),
        y: linear("Height", "nm", heights),
        series: lines,
        markers,
        bands: report
            .accuracy
            .iter()
            .map(|accuracy| Band {
                x: curve.time_s.clone(),
                low: left(results.rate_high_nm_min),
                high: left(results.rate_low_nm_min),
                meaning: meaning(accuracy),
            })
            .collect(),
        summary: format!(
            "{} nm of {film} are polished at {} nm per minute of a flat wafer; after {} s {} nm are left on average{}.",
            three(results.thickness_nm),
            three(results.rate_nm_min),
            short(results.time_s),
            three(results.mean_thickness_nm),
            if stepped {
                format!(
                    ", and of the step of {} nm {} nm",
                    three(results.initial_step_height_nm),
                    three(results.step_height_nm)
                )
            } else {
                String::new()
            },
        ),
        ..Chart::default()
    }]
}

//! Film left, and what the layer below loses, against etch time.

use barewafer_process::Report;
use barewafer_process::etching::DryEtchResults;

use super::{marker, meaning, series};
use crate::axis::linear;
use crate::chart::{Band, Chart, MarkerKind, Role};
use crate::numbers::{short, three};

pub(super) fn charts(report: &Report, results: &DryEtchResults) -> Vec<Chart> {
    vec![film_left(report, results), loss_below(results)]
}

fn film_left(report: &Report, results: &DryEtchResults) -> Chart {
    let curve = &results.curve;
    let mut lines =
        vec![series("flat film", Role::Main, &curve.time_s, &curve.remaining_nm)];
    if !curve.step_left_nm.is_empty() {
        lines.push(series(
            "at the step",
            Role::Second,
            &curve.time_s,
            &curve.step_left_nm,
        ));
    }
    let light = results.end_point;
    let mut markers = vec![
        marker(
            MarkerKind::Present,
            results.time_s,
            results.remaining_nm,
            format!(
                "{} nm left\nat {} s",
                three(results.remaining_nm),
                short(results.time_s)
            ),
        ),
        marker(
            MarkerKind::Event,
            results.time_to_clear_s,
            0.0,
            format!(
                "end point {} s\n{} {} nm {}",
                short(results.time_to_clear_s),
                light.species,
                short(light.wavelength_nm),
                if light.rises { "rises" } else { "falls" }
            ),
        ),
    ];
    if let Some(time) = results.time_to_clear_step_s {
        markers.push(marker(
            MarkerKind::Event,
            time,
            0.0,
            format!("step clear\n{} s", short(time)),
        ));
    }
    let heights = curve.remaining_nm.iter().chain(&curve.step_left_nm).copied();
    let film = results.material.label();
    let left = |rate_nm_min: f64| {
        let times = curve.time_s.iter();
        times.map(|&t| (results.thickness_nm - rate_nm_min * t / 60.0).max(0.0)).collect()
    };
    Chart {
        id: "film_left".to_owned(),
        title: format!("{} left over etch time", super::capital(film)),
        x: linear("Etch time", "s", curve.time_s.iter().copied()),
        y: linear("Film left", "nm", heights),
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
            "{} nm of {film} are etched at {} nm per minute, give or take half; after {} s {} nm are left. The flat film is clear after {} s.{}",
            three(results.thickness_nm),
            three(results.rate_nm_min),
            short(results.time_s),
            three(results.remaining_nm),
            short(results.time_to_clear_s),
            results.time_to_clear_step_s.map_or_else(String::new, |t| format!(
                " The foot of the step is clear after {} s.",
                short(t)
            )),
        ),
        ..Chart::default()
    }
}

fn loss_below(results: &DryEtchResults) -> Chart {
    let curve = &results.curve;
    let loss = &curve.stop_layer_loss_nm;
    let stop = results.stop.label();
    let bare = results.time_to_clear_s;
    let worst = results.stop_layer_worst_loss_nm;
    Chart {
        id: "loss_below".to_owned(),
        title: format!("Loss of {stop} below the film"),
        x: linear("Etch time", "s", curve.time_s.iter().copied()),
        y: linear("Loss of the layer below", "nm", loss.iter().copied().chain([worst])),
        series: vec![series("loss", Role::Main, &curve.time_s, loss)],
        markers: vec![
            marker(
                MarkerKind::Present,
                results.time_s,
                results.stop_layer_loss_nm,
                format!(
                    "{} nm at {} s",
                    three(results.stop_layer_loss_nm),
                    short(results.time_s)
                ),
            ),
            marker(MarkerKind::Event, bare, 0.0, format!("bare from {} s", short(bare))),
        ],
        summary: format!(
            "From {} s on {stop} lies bare; after {} s it has lost {} nm, {} times less than the film would have.",
            short(bare),
            short(results.time_s),
            three(results.stop_layer_loss_nm),
            short(results.selectivity),
        ),
        ..Chart::default()
    }
}

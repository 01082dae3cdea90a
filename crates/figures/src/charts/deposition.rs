//! Film against time, and rate against temperature on Arrhenius axes.

use barewafer_process::deposition::DepositionResults;

use super::{capital, marker, series};
use crate::axis::{linear, log};
use crate::chart::{Axis, Band, Chart, MarkerKind, Role, Zone};
use crate::numbers::{short, three};

pub(super) fn charts(results: &DepositionResults) -> Vec<Chart> {
    over_time(results).into_iter().chain(over_temperature(results)).collect()
}

fn over_time(results: &DepositionResults) -> Option<Chart> {
    let (curve, time_min, rate) =
        (results.curve.as_ref()?, results.time_min?, results.rate_nm_min?);
    let film = results.film.label();
    let values = curve.thickness_nm.iter().chain(&curve.high_nm).copied();
    Some(Chart {
        id: "film_time".to_owned(),
        title: format!("{} over deposition time", capital(film)),
        x: linear("Time", "min", curve.time_min.iter().copied()),
        y: linear("Film thickness", "nm", values),
        series: vec![series(film, Role::Main, &curve.time_min, &curve.thickness_nm)],
        markers: vec![marker(
            MarkerKind::Present,
            time_min,
            results.thickness_nm,
            format!("{} nm\nat {} min", three(results.thickness_nm), short(time_min)),
        )],
        bands: vec![Band {
            x: curve.time_min.clone(),
            low: curve.low_nm.clone(),
            high: curve.high_nm.clone(),
            meaning: "Published rates of other tools, together with the published activation energies".to_owned(),
        }],
        summary: format!(
            "{} grows by {} nm per minute; after {} min it is {} nm thick, or {} to {} nm by the published spread.",
            capital(film),
            three(rate),
            short(time_min),
            three(results.thickness_nm),
            three(results.thickness_low_nm),
            three(results.thickness_high_nm),
        ),
        ..Chart::default()
    })
}

/// Inverse temperature in 1000/K.
fn inverse(celsius: f64) -> f64 {
    1000.0 / (celsius + 273.15)
}

fn over_temperature(results: &DepositionResults) -> Option<Chart> {
    let (curve, rate) = (results.rate_curve.as_ref()?, results.rate_nm_min?);
    let backwards = |list: &[f64]| list.iter().rev().copied().collect::<Vec<f64>>();
    let x: Vec<f64> = curve.temperature_c.iter().rev().map(|&c| inverse(c)).collect();
    let (first, last) = (x.first().copied()?, x.last().copied()?);
    let values = curve.low_nm_min.iter().chain(&curve.high_nm_min);
    let values = values.chain(&curve.rate_nm_min).copied();
    let floor = values.clone().fold(f64::INFINITY, f64::min).max(1e-9);
    let (hot, cold) = (inverse(curve.published_high_c), inverse(curve.published_low_c));
    let outside = |from: f64, to: f64, word: &str| Zone {
        from,
        to,
        meaning: format!("{word} than published"),
        material: String::new(),
    };
    let (low_ev, high_ev) = curve.activation_ev;
    Some(Chart {
        id: "rate_temperature".to_owned(),
        title: "Rate against inverse temperature".to_owned(),
        x: Axis {
            label: "1000/T".to_owned(),
            unit: "1/K".to_owned(),
            log: false,
            min: (first * 50.0).floor() / 50.0,
            max: (last * 50.0).ceil() / 50.0,
        },
        y: log("Rate", "nm/min", values, floor),
        series: vec![series("rate", Role::Main, &x, &backwards(&curve.rate_nm_min))],
        markers: vec![marker(
            MarkerKind::Present,
            inverse(results.temperature_c),
            rate,
            format!("{} nm/min\nat {} °C", three(rate), short(results.temperature_c)),
        )],
        bands: vec![Band {
            x,
            low: backwards(&curve.low_nm_min),
            high: backwards(&curve.high_nm_min),
            meaning: format!("Published activation energies, {low_ev} to {high_ev} eV"),
        }],
        zones: vec![outside(first, hot, "hotter"), outside(cold, last, "colder")],
        summary: format!(
            "On Arrhenius axes the rate is a straight line: {} nm per minute at {} °C. Published activation energies run from {low_ev} to {high_ev} eV; rates were published from {} to {} °C.",
            three(rate),
            short(results.temperature_c),
            short(curve.published_low_c),
            short(curve.published_high_c),
        ),
        ..Chart::default()
    })
}

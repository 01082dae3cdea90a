//! A resist film on the hot plate against time.

use barewafer_process::lithography::BakeResults;
use barewafer_process::lithography::bake::{BakeKind, LEAST_SOLVENT};

use super::{marker, series};
use crate::axis::linear;
use crate::chart::{Chart, MarkerKind, Role};
use crate::numbers::{short, three};

/// The charts, first what the bake is for.
pub(super) fn charts(results: &BakeResults) -> Vec<Chart> {
    match results.kind {
        BakeKind::Soft => vec![solvent(results), film(results), sensitizer(results)],
        BakeKind::PostExposure => {
            vec![spread(results), sensitizer(results), solvent(results)]
        }
        BakeKind::Hard => vec![solvent(results), film(results), sensitizer(results)],
    }
}

struct Quantity<'a> {
    id: &'a str,
    title: &'a str,
    label: &'a str,
    unit: &'a str,
    values: &'a [f64],
    present: f64,
    summary: String,
}

fn over_time(results: &BakeResults, quantity: Quantity<'_>) -> Chart {
    let curve = &results.curve;
    let label = format!(
        "{} {}\nat {} s",
        three(quantity.present),
        quantity.unit,
        short(results.time_s)
    );
    let values = quantity.values.iter().copied().chain([quantity.present]);
    Chart {
        id: quantity.id.to_owned(),
        title: quantity.title.to_owned(),
        x: linear("Time on the hot plate", "s", curve.time_s.iter().copied()),
        y: linear(quantity.label, quantity.unit, values),
        series: vec![series("", Role::Main, &curve.time_s, quantity.values)],
        markers: vec![marker(
            MarkerKind::Present,
            results.time_s,
            quantity.present,
            label,
        )],
        summary: quantity.summary,
        ..Chart::default()
    }
}

fn solvent(results: &BakeResults) -> Chart {
    let curve = &results.curve;
    let mut chart = over_time(
        results,
        Quantity {
            id: "solvent",
            title: "Solvent in the film",
            label: "Solvent",
            unit: "%",
            values: &curve.solvent_percent,
            present: results.solvent_percent,
            summary: format!(
                "At {} °C the solvent goes from {} % to {} % in {} s.",
                three(results.temperature_c),
                three(results.start_solvent_percent),
                three(results.solvent_percent),
                short(results.time_s)
            ),
        },
    );
    let end = curve.time_s.last().copied().unwrap_or(results.time_s);
    let least = 100.0 * LEAST_SOLVENT;
    "solvent".clone_into(&mut chart.series[0].label);
    let stays = series("stays for good", Role::Level, &[0.0, end], &[least, least]);
    chart.series.push(stays);
    chart
}

fn film(results: &BakeResults) -> Chart {
    let mut chart = over_time(
        results,
        Quantity {
            id: "film",
            title: "Thickness of the film",
            label: "Film thickness",
            unit: "nm",
            values: &results.curve.thickness_nm,
            present: results.thickness_nm,
            summary: format!(
                "The film shrinks by {} % from {} nm to {} nm.",
                three(results.shrinkage_percent),
                three(results.initial_thickness_nm),
                three(results.thickness_nm)
            ),
        },
    );
    "film".clone_into(&mut chart.series[0].label);
    chart
}

fn spread(results: &BakeResults) -> Chart {
    let mut chart = over_time(
        results,
        Quantity {
            id: "spread",
            title: "How far the photoactive compound spreads",
            label: "Diffusion length",
            unit: "nm",
            values: &results.curve.spread_nm,
            present: results.diffusion_length_nm,
            summary: format!(
                "In {} s at {} °C the photoactive compound spreads by {} nm.",
                short(results.time_s),
                three(results.temperature_c),
                three(results.diffusion_length_nm)
            ),
        },
    );
    "spread".clone_into(&mut chart.series[0].label);
    chart
}

fn sensitizer(results: &BakeResults) -> Chart {
    let mut chart = over_time(
        results,
        Quantity {
            id: "sensitizer",
            title: "Sensitizer that the heat leaves",
            label: "Sensitizer",
            unit: "%",
            values: &results.curve.sensitizer_percent,
            present: 100.0 * results.sensitizer_fraction,
            summary: format!(
                "After {} s at {} °C {} % of the sensitizer are left.",
                short(results.time_s),
                three(results.temperature_c),
                three(100.0 * results.sensitizer_fraction)
            ),
        },
    );
    "sensitizer".clone_into(&mut chart.series[0].label);
    chart
}

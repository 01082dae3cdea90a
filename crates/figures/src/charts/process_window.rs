//! Width against focus for every dose, and against dose for every focus.

use barewafer_process::lithography::ProcessWindowResults;

use super::{marker, series};
use crate::axis::{extent, linear};
use crate::chart::{Axis, Band, Chart, MarkerKind, Role, Series};
use crate::numbers::{short, three};

pub(super) fn charts(results: &ProcessWindowResults) -> Vec<Chart> {
    vec![over_focus(results), over_dose(results)]
}

/// What goes along the focus axis.
pub(crate) fn focus_name(results: &ProcessWindowResults) -> &'static str {
    if results.tool.word() == "projection" { "Defocus" } else { "Gap" }
}

fn over_focus(results: &ProcessWindowResults) -> Chart {
    let last = results.dose_mj_cm2.len().saturating_sub(1);
    let mut lines = Vec::new();
    for (k, (dose, widths)) in
        results.dose_mj_cm2.iter().zip(&results.width_um).enumerate()
    {
        let role = role_of(k, last);
        let label = format!("{} mJ/cm²", short(*dose));
        lines.extend(runs(&results.focus_um, widths, role, &label));
    }
    let mut markers = Vec::new();
    if let Some(([first, end], [low, high])) =
        results.focus_window_um.zip(results.dose_window_mj_cm2)
    {
        let label = format!("{} to {} mJ/cm²\ngood from here", short(low), short(high));
        markers.push(marker(MarkerKind::Event, first, results.nominal_um, label));
        markers.push(marker(
            MarkerKind::Event,
            end,
            results.nominal_um,
            "to here".to_owned(),
        ));
    }
    let name = focus_name(results);
    Chart {
        id: "focus_curves".to_owned(),
        title: format!("Width over {}, one curve a dose", name.to_lowercase()),
        x: between(name, "µm", &results.focus_um),
        y: width_axis(results),
        series: main_first(lines),
        markers,
        bands: vec![good(results, &results.focus_um)],
        summary: summary(results),
        ..Chart::default()
    }
}

fn over_dose(results: &ProcessWindowResults) -> Chart {
    let last = results.focus_um.len().saturating_sub(1);
    let mut lines = Vec::new();
    for (k, focus) in results.focus_um.iter().enumerate() {
        let widths: Vec<Option<f64>> = results
            .width_um
            .iter()
            .map(|column| column.get(k).copied().flatten())
            .collect();
        let label = format!("{} µm", short(*focus));
        lines.extend(runs(&results.dose_mj_cm2, &widths, role_of(k, last), &label));
    }
    let markers = results
        .dose_to_size_mj_cm2
        .map(|dose| {
            let label = format!("dose to size\n{} mJ/cm²", three(dose));
            marker(MarkerKind::Present, dose, results.nominal_um, label)
        })
        .into_iter()
        .collect();
    Chart {
        id: "dose_curves".to_owned(),
        title: format!(
            "Width over dose, one curve a {}",
            focus_name(results).to_lowercase()
        ),
        x: between("Dose", "mJ/cm²", &results.dose_mj_cm2),
        y: width_axis(results),
        series: main_first(lines),
        markers,
        bands: vec![good(results, &results.dose_mj_cm2)],
        summary: summary(results),
        ..Chart::default()
    }
}

/// The middle one is the main one, the ends are named, those between are thin.
fn role_of(place: usize, last: usize) -> Role {
    if place == last / 2 {
        Role::Main
    } else if place == 0 {
        Role::Second
    } else if place == last {
        Role::Third
    } else {
        Role::Past
    }
}

fn main_first(mut lines: Vec<Series>) -> Vec<Series> {
    if let Some(main) = lines.iter().position(|line| line.role == Role::Main) {
        lines[..=main].rotate_right(1);
    }
    lines
}

/// A curve with gaps as pieces without; the longest bears the name.
fn runs(x: &[f64], widths: &[Option<f64>], role: Role, label: &str) -> Vec<Series> {
    let mut pieces: Vec<(Vec<f64>, Vec<f64>)> = vec![Default::default()];
    for (&x, width) in x.iter().zip(widths) {
        match (width, pieces.last_mut()) {
            (Some(width), Some(piece)) => {
                piece.0.push(x);
                piece.1.push(*width);
            }
            _ => pieces.push(Default::default()),
        }
    }
    pieces.retain(|piece| !piece.0.is_empty());
    let longest = pieces
        .iter()
        .enumerate()
        .max_by_key(|(_, piece)| piece.0.len())
        .map_or(0, |(k, _)| k);
    pieces
        .iter()
        .enumerate()
        .map(|(k, (x, y))| {
            if k == longest {
                series(label, role, x, y)
            } else {
                series(label, Role::Past, x, y)
            }
        })
        .collect()
}

/// An axis that ends where the values do.
fn between(label: &str, unit: &str, values: &[f64]) -> Axis {
    let (min, max) = extent(values.iter().copied());
    Axis { min, max, ..linear(label, unit, values.iter().copied()) }
}

fn width_axis(results: &ProcessWindowResults) -> Axis {
    let [low, high] = results.good_um;
    let beyond = 0.5 * (high - low);
    // A width far off would press the good ones together.
    let limits = [low - 2.0 * beyond, high + 4.0 * beyond];
    let shown = results
        .width_um
        .iter()
        .flatten()
        .flatten()
        .map(|width| width.clamp(limits[0], limits[1]))
        .chain([low - beyond, high + beyond]);
    let (lowest, highest) = extent(shown.clone());
    Axis { min: lowest, max: highest, ..linear("Width at half height", "µm", shown) }
}

fn good(results: &ProcessWindowResults, along: &[f64]) -> Band {
    let ends =
        [along.first().copied().unwrap_or(0.0), along.last().copied().unwrap_or(1.0)];
    let [low, high] = results.good_um;
    Band {
        x: ends.to_vec(),
        low: vec![low; 2],
        high: vec![high; 2],
        meaning: format!("good widths: {} to {} µm", three(low), three(high)),
    }
}

pub(crate) fn summary(results: &ProcessWindowResults) -> String {
    if results.points_done < results.points {
        return format!(
            "{} of {} points are computed.",
            results.points_done, results.points
        );
    }
    let size = results.dose_to_size_mj_cm2.map_or_else(
        || "No dose of this range gives the width asked for.".to_owned(),
        |dose| {
            format!(
                "{} µm come out at {} mJ/cm².",
                three(results.nominal_um),
                three(dose)
            )
        },
    );
    let window = results.focus_range_um.map_or_else(
        || " There is no common window.".to_owned(),
        |range| {
            format!(
                " One range of dose of {} % holds over {} µm of {}.",
                short(results.latitude_percent),
                three(range),
                focus_name(results).to_lowercase()
            )
        },
    );
    size + &window
}

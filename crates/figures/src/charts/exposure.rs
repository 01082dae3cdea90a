//! The aerial image, the latent image in depth, the contrast curve and the swing curves.

use barewafer_process::lithography::ExposureResults;
use barewafer_process::lithography::exposure::SwingCurve;

use super::{marker, series};
use crate::axis::{linear, log};
use crate::chart::{Axis, Chart, MarkerKind, Role, Zone};
use crate::numbers::{short, three};

pub(super) fn charts(results: &ExposureResults) -> Vec<Chart> {
    let mut charts = vec![image(results)];
    if let Some(curve) = &results.swing {
        charts.push(swing(results, curve, "swing", "Resist"));
    }
    if let Some(curve) = &results.oxide_swing {
        charts.push(swing(results, curve, "oxide_swing", "Oxide below the resist"));
    }
    charts.push(contrast_curve(results));
    charts.push(depth(results));
    charts
}

fn image(results: &ExposureResults) -> Chart {
    let image = &results.image;
    let [left, right] = results.mask.section_um;
    let mut lines = vec![series("image", Role::Main, &image.x_um, &image.intensity)];
    let highest = image.intensity.iter().copied().fold(1.0, f64::max);
    let level = results.threshold_intensity.filter(|&level| level < 1.5 * highest);
    if let Some(level) = level {
        lines.push(series("clears", Role::Level, &[left, right], &[level, level]));
    }
    let edge = results
        .mask
        .clear_um
        .iter()
        .flat_map(|ends| ends.iter().rev().copied())
        .find(|&x| left + 1e-9 < x && x < right - 1e-9);
    let markers = edge
        .and_then(|x| value_at(&image.x_um, &image.intensity, x).map(|y| (x, y)))
        .map(|(x, y)| {
            let label = format!("drawn edge\nNILS {}", three(results.nils));
            marker(MarkerKind::Present, x, y, label)
        })
        .into_iter()
        .collect();
    let heights = image.intensity.iter().copied().chain([0.0, 1.0]).chain(level);
    Chart {
        id: "image".to_owned(),
        title: "Light at the top of the resist".to_owned(),
        x: Axis { min: left, max: right, ..axis_um("Place on the wafer", &image.x_um) },
        y: linear("Intensity, open frame = 1", "", heights),
        series: lines,
        markers,
        zones: chrome(results),
        summary: format!(
            "The image has a contrast of {} and a normalized log slope of {} at the drawn edge. {}",
            three(results.contrast),
            three(results.nils),
            results.threshold_intensity.map_or_else(
                || "No dose clears an open frame.".to_owned(),
                |level| format!(
                    "At {} mJ/cm² an intensity of {} just turns the resist.",
                    short(results.dose_mj_cm2),
                    three(level)
                )
            )
        ),
        ..Chart::default()
    }
}

/// What lies under chrome.
fn chrome(results: &ExposureResults) -> Vec<Zone> {
    let [left, right] = results.mask.section_um;
    let mut zones = Vec::new();
    let mut from = left;
    let ends = results.mask.clear_um.iter().copied().chain([[right, right]]);
    for [a, b] in ends {
        if from + 1e-9 < a {
            zones.push(Zone {
                from,
                to: a,
                meaning: "under chrome".to_owned(),
                material: "metal".to_owned(),
            });
        }
        from = b;
    }
    zones
}

fn axis_um(label: &str, values: &[f64]) -> Axis {
    linear(label, "µm", values.iter().copied())
}

/// The value of a list at a place between its points.
fn value_at(x: &[f64], y: &[f64], place: f64) -> Option<f64> {
    let next = x.partition_point(|&x| x < place).clamp(1, x.len().checked_sub(1)?);
    let part = (place - x[next - 1]) / (x[next] - x[next - 1]);
    Some(y[next - 1] + (y[next] - y[next - 1]) * part.clamp(0.0, 1.0))
}

fn contrast_curve(results: &ExposureResults) -> Chart {
    let curve = &results.contrast_curve;
    let percent: Vec<f64> = curve.left.iter().map(|left| 100.0 * left).collect();
    let mut lines = vec![series("resist left", Role::Main, &curve.dose_mj_cm2, &percent)];
    let mut markers = Vec::new();
    let rises = percent.first() < percent.last();
    if let Some(resist) = results.resist_contrast {
        let ends = if rises { [0.0, 100.0] } else { [100.0, 0.0] };
        let doses = [resist.onset_mj_cm2, resist.end_mj_cm2];
        lines.push(series(
            &format!("γ = {}", three(resist.gamma)),
            Role::Second,
            &doses,
            &ends,
        ));
    }
    if let Some(clear) = results.dose_to_clear_mj_cm2 {
        let label = format!("dose to clear\n{} mJ/cm²", three(clear));
        markers.push(marker(MarkerKind::Event, clear, 0.0, label));
    }
    let dose = results.dose_mj_cm2;
    let inside = curve.dose_mj_cm2.first().is_some_and(|&first| first <= dose)
        && curve.dose_mj_cm2.last().is_some_and(|&last| dose <= last);
    if let Some(left) = value_at(&curve.dose_mj_cm2, &percent, dose).filter(|_| inside) {
        let label = format!("open frame\n{} mJ/cm²", short(dose));
        markers.push(marker(MarkerKind::Present, dose, left, label));
    }
    Chart {
        id: "contrast_curve".to_owned(),
        title: "Resist left in an open frame after 60 s".to_owned(),
        x: log("Dose", "mJ/cm²", curve.dose_mj_cm2.iter().copied(), 10.0),
        y: linear("Resist left", "%", percent.iter().copied().chain([0.0, 100.0])),
        series: lines,
        markers,
        summary: results.resist_contrast.map_or_else(
            || "The curve has no straight part to take a contrast from.".to_owned(),
            |resist| {
                format!(
                    "Between 80 and 20 % the curve has a contrast of {}; an image needs a contrast of {} for it.",
                    three(resist.gamma),
                    three(resist.critical_modulation)
                )
            },
        ),
        ..Chart::default()
    }
}

fn swing(results: &ExposureResults, curve: &SwingCurve, id: &str, film: &str) -> Chart {
    let known: Vec<(f64, f64)> = curve
        .thickness_nm
        .iter()
        .zip(&curve.dose_to_clear_mj_cm2)
        .filter_map(|(&nm, dose)| dose.map(|dose| (nm, dose)))
        .collect();
    let (nm, dose): (Vec<f64>, Vec<f64>) = known.iter().copied().unzip();
    let low = dose.iter().copied().fold(f64::INFINITY, f64::min);
    let high = dose.iter().copied().fold(0.0, f64::max);
    let present_nm = if id == "swing" {
        results.thickness_nm
    } else {
        results
            .stack
            .first()
            .filter(|film| film.material.word() == "thermal_oxide")
            .map_or(0.0, |film| film.thickness_nm)
    };
    let markers = results
        .dose_to_clear_mj_cm2
        .filter(|_| nm.first() <= Some(&present_nm) && Some(&present_nm) <= nm.last())
        .map(|clear| {
            let label = format!("{} nm\n{} mJ/cm²", short(present_nm), three(clear));
            marker(MarkerKind::Present, present_nm, clear, label)
        })
        .into_iter()
        .collect();
    let summary = if nm.is_empty() {
        "No dose clears an open frame in this range.".to_owned()
    } else {
        format!(
            "The dose to clear swings between {} and {} mJ/cm² with a period of {} nm.",
            three(low),
            three(high),
            short(curve.period_nm)
        )
    };
    Chart {
        id: id.to_owned(),
        title: format!("{film}: swing of the dose to clear"),
        x: Axis {
            min: curve.thickness_nm.first().copied().unwrap_or(0.0),
            max: curve.thickness_nm.last().copied().unwrap_or(1.0),
            ..linear(
                &format!("{film} thickness"),
                "nm",
                curve.thickness_nm.iter().copied(),
            )
        },
        y: linear("Dose to clear", "mJ/cm²", dose.iter().copied()),
        series: vec![series("dose to clear", Role::Main, &nm, &dose)],
        markers,
        summary,
        ..Chart::default()
    }
}

/// Compound left against depth where the image is brightest and where it is darkest.
fn depth(results: &ExposureResults) -> Chart {
    let latent = &results.latent;
    let mean = |column: usize| -> f64 {
        latent.pac.iter().filter_map(|row| row.get(column)).sum()
    };
    let columns = 0..latent.x_um.len();
    let brightest =
        columns.clone().min_by(|&a, &b| mean(a).total_cmp(&mean(b))).unwrap_or(0);
    let darkest = columns.max_by(|&a, &b| mean(a).total_cmp(&mean(b))).unwrap_or(0);
    let of = |column: usize| -> Vec<f64> {
        latent.pac.iter().filter_map(|row| row.get(column).copied()).collect()
    };
    let (bright, dark) = (of(brightest), of(darkest));
    let ends = |list: &[f64]| {
        [list.first().copied().unwrap_or(1.0), list.last().copied().unwrap_or(1.0)]
    };
    let [top, foot] = ends(&bright);
    Chart {
        id: "latent_depth".to_owned(),
        title: "Photoactive compound left in depth".to_owned(),
        x: linear("Depth in the resist", "nm", latent.z_nm.iter().copied().chain([0.0])),
        y: linear("Compound left", "", [0.0, 1.0].into_iter()),
        series: vec![
            series("brightest place", Role::Main, &latent.z_nm, &bright),
            series("darkest place", Role::Second, &latent.z_nm, &dark),
        ],
        summary: format!(
            "Where the image is brightest {} of the compound is left at the top and {} at the foot. Standing waves repeat every {} nm.",
            three(top),
            three(foot),
            short(results.standing_wave_nm)
        ),
        ..Chart::default()
    }
}

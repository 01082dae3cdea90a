//! The film thinning on the spinner, and the spin curve.

use barewafer_process::Report;
use barewafer_process::lithography::SpinCoatingResults;
use barewafer_process::lithography::spin_coating::StepCoverage;

use super::{band, marker, published, series};
use crate::axis::{linear, log};
use crate::chart::{Chart, Marker, MarkerKind, Role};
use crate::numbers::{exponent_of, short, three};

pub(super) fn charts(report: &Report, results: &SpinCoatingResults) -> Vec<Chart> {
    let mut charts = vec![thinning(report, results), spin_curve(report, results)];
    charts.push(across(results));
    charts.extend(results.step.as_ref().map(over_step));
    charts
}

/// The film from the center to the edge, with the bead.
fn across(results: &SpinCoatingResults) -> Chart {
    let across = &results.across;
    let edge = across.radius_mm.last().copied().unwrap_or(0.0);
    let mut markers = Vec::new();
    let washed = 0.0 < across.removed_mm;
    if !washed {
        let label = format!("bead {} nm", three(across.bead_nm));
        markers.push(marker(MarkerKind::Peak, edge, across.bead_nm, label));
    }
    if let Some(radius) = across.turbulent_radius_mm {
        let label = format!("turbulent air\nfrom {} mm", short(radius));
        markers.push(marker(MarkerKind::Event, radius, results.thickness_nm, label));
    }
    let bead = if washed {
        format!("the outer {} mm are washed clean", short(across.removed_mm))
    } else {
        format!(
            "the bead at the edge is {} nm high and {} mm wide",
            three(across.bead_nm),
            short(across.bead_width_mm)
        )
    };
    Chart {
        id: "across".to_owned(),
        title: "Across the wafer".to_owned(),
        x: linear("Distance from the center", "mm", across.radius_mm.iter().copied()),
        y: linear("Thickness after soft bake", "nm", across.thickness_nm.iter().copied()),
        series: vec![series(
            "resist",
            Role::Main,
            &across.radius_mm,
            &across.thickness_nm,
        )],
        markers,
        summary: format!(
            "Inside, the film is {} nm thick, even to ± {} % without the outer 5 mm; {bead}.",
            three(results.thickness_nm),
            three(across.uniformity_percent),
        ),
        ..Chart::default()
    }
}

/// The ground and the film's surface over a step.
fn over_step(step: &StepCoverage) -> Chart {
    let heights = step.ground_nm.iter().chain(&step.surface_nm).copied();
    let over = step.height_nm + step.top_nm;
    Chart {
        id: "step".to_owned(),
        title: "Over the step".to_owned(),
        x: linear("Place", "µm", step.x_um.iter().copied()),
        y: linear("Height", "nm", heights),
        series: vec![
            series("surface of the resist", Role::Main, &step.x_um, &step.surface_nm),
            series("ground", Role::Second, &step.x_um, &step.ground_nm),
        ],
        markers: vec![marker(
            MarkerKind::Present,
            0.0,
            over,
            format!("{} nm of resist", three(step.top_nm)),
        )],
        summary: format!(
            "Over the middle of the step lie {} nm of resist, far from it {} nm; the film levels {} % of the step.",
            three(step.top_nm),
            three(step.field_nm),
            short(100.0 * step.planarization)
        ),
        ..Chart::default()
    }
}

fn thinning(report: &Report, results: &SpinCoatingResults) -> Chart {
    let trace = &results.curve;
    let solids: Vec<f64> = trace
        .thickness_nm
        .iter()
        .zip(&trace.solids_fraction)
        .map(|(height, fraction)| height * fraction)
        .collect();
    let events = [
        (ramp_end_s(results), "full speed"),
        (results.transition_s, "drying takes over"),
        (results.dry_s, "dry"),
    ];
    let mut markers: Vec<Marker> = events
        .into_iter()
        .filter_map(|(time, name)| {
            let time = time?;
            let height = height_at(results, time)?;
            let label = format!("{name}\n{} s", short(time));
            Some(marker(MarkerKind::Event, time, height, label))
        })
        .collect();
    if let Some((&time, &height)) = trace.time_s.last().zip(trace.thickness_nm.last()) {
        markers.push(marker(
            MarkerKind::Present,
            time,
            height,
            format!("{} nm at {} s", three(height), short(time)),
        ));
    }
    let shown = trace.thickness_nm.iter().copied().chain(solids.iter().copied());
    Chart {
        id: "film_time".to_owned(),
        title: "Film height on the spinner".to_owned(),
        x: linear("Time", "s", trace.time_s.iter().copied()),
        y: log("Film height", "nm", shown, 10.0),
        series: vec![
            series("film", Role::Main, &trace.time_s, &trace.thickness_nm),
            series("solids in it", Role::Second, &trace.time_s, &solids),
        ],
        markers,
        published: published(report, "curve"),
        summary: format!(
            "The film thins to {} nm at the end of the spin, {} % of it solids; baked it is {} nm.{}{}",
            three(results.wet_thickness_nm),
            three(100.0 * results.solids_fraction),
            three(results.thickness_nm),
            results.transition_s.map_or_else(String::new, |t| format!(
                " Drying takes over from draining after {} s.",
                short(t)
            )),
            results.dry_s.map_or_else(
                || " It is not dry at the end.".to_owned(),
                |t| format!(" It is dry after {} s.", short(t))
            ),
        ),
        ..Chart::default()
    }
}

fn spin_curve(report: &Report, results: &SpinCoatingResults) -> Chart {
    let curve = &results.spin_curve;
    let check_points = published(report, "spin_curve");
    let bands = band(report.accuracy.as_ref(), &curve.speed_rpm, &curve.thickness_nm);
    let speed = results.curve.speed_rpm.last().copied();
    let thickness = curve
        .thickness_nm
        .iter()
        .copied()
        .chain([results.thickness_nm])
        .chain(bands.iter().flat_map(|b| b.low.iter().chain(&b.high).copied()))
        .chain(check_points.iter().map(|p| p.y));
    let speeds = curve.speed_rpm.iter().copied().chain(speed);
    let floor = decade_below(results.thickness_nm);
    Chart {
        id: "spin_curve".to_owned(),
        title: "Spin curve".to_owned(),
        x: log("Speed", "rpm", speeds, 100.0),
        y: log("Thickness after soft bake", "nm", thickness, floor),
        series: vec![series("resist", Role::Main, &curve.speed_rpm, &curve.thickness_nm)],
        markers: speed
            .map(|speed| {
                let label = format!(
                    "{} nm\nat {} rpm",
                    three(results.thickness_nm),
                    speed.round()
                );
                marker(MarkerKind::Present, speed, results.thickness_nm, label)
            })
            .into_iter()
            .collect(),
        bands,
        published: check_points,
        summary: match (curve.speed_rpm.first(), curve.speed_rpm.last()) {
            (Some(slow), Some(fast)) => format!(
                "From {} to {} rpm the baked resist goes from {} to {} nm.",
                slow.round(),
                fast.round(),
                three(curve.thickness_nm.first().copied().unwrap_or(f64::NAN)),
                three(curve.thickness_nm.last().copied().unwrap_or(f64::NAN)),
            ),
            _ => String::new(),
        },
        ..Chart::default()
    }
}

/// The time at which the final speed is first reached.
pub(crate) fn ramp_end_s(results: &SpinCoatingResults) -> Option<f64> {
    let last = results.curve.speed_rpm.last().copied().filter(|&rpm| 0.0 < rpm)?;
    results
        .curve
        .time_s
        .iter()
        .zip(&results.curve.speed_rpm)
        .find(|&(_, &rpm)| 0.999 * last <= rpm)
        .map(|(&time, _)| time)
        .filter(|&time| 0.0 < time)
}

fn height_at(results: &SpinCoatingResults, time: f64) -> Option<f64> {
    super::doping::value_at(&results.curve.time_s, &results.curve.thickness_nm, time)
}

fn decade_below(value: f64) -> f64 {
    barewafer_process::num::pow(10.0, f64::from(exponent_of(value.max(1.0)) - 1))
}

//! Concentration over depth after an implantation, through the layers above if there are any.

use barewafer_process::Report;
use barewafer_process::implantation::ImplantationResults;
use barewafer_process::implantation::monte_carlo::SingleIons;

use super::diffusion::wafer_level;
use super::doping::{concentration_axis, depth_axis, depth_of, substrate, value_at};
use super::{depth_band, marker, published, series};
use crate::axis::extent;
use crate::chart::{Band, Chart, CheckPoint, MarkerKind, Role, Zone};
use crate::numbers::three;
use crate::pictures::{material_word, tracks};

pub(super) fn charts(report: &Report, results: &ImplantationResults) -> Vec<Chart> {
    let Some((dopant, in_silicon)) = results.profile.dopants.first() else {
        return Vec::new();
    };
    let single = results.single_ions.as_deref();
    let through = (!results.layers.is_empty() || single.is_some())
        && !results.stack_profile.depth_um.is_empty();
    let above_um: f64 = if through {
        results.layers.iter().map(|l| l.thickness_nm / 1000.0).sum()
    } else {
        0.0
    };
    let (depth, values) = if through {
        (&results.stack_profile.depth_um, &results.stack_profile.concentration_cm3)
    } else {
        (&results.profile.depth_um, in_silicon)
    };
    let wafer = substrate(&results.profile, &results.junctions_um);
    let level = wafer.map(|(level, _)| level);
    // While ions fly the axes stay: they follow from the range table.
    let highest =
        single.map_or_else(|| extent(values.iter().copied()).1, tracks::highest_by_table);
    let shown_um = single.map(tracks::depth_shown_um);
    let y = concentration_axis(highest, level);
    let deepest = shown_um
        .or_else(|| depth_of(depth, values, 1.5 * y.min))
        .into_iter()
        .chain(results.junction_depth_um.map(|j| above_um + 1.1 * j))
        .chain([1.05 * above_um])
        .fold(0.0, f64::max);
    let name = if !results.layers.is_empty() {
        "Depth below the top of the stack"
    } else {
        "Depth"
    };
    let x = depth_axis(deepest, name);

    let mut curves = match single {
        None => vec![series(dopant.label(), Role::Main, depth, values)],
        Some(ions) => {
            let table = &ions.table_profile;
            let counted = format!("{} ions", ions.ions_done);
            vec![
                series(&counted, Role::Main, depth, values),
                series(
                    "range table",
                    Role::Second,
                    &table.depth_um,
                    &table.concentration_cm3,
                ),
            ]
        }
    };
    if let Some((level, kind)) = wafer {
        let mut line = wafer_level(level, kind.label(), x.max);
        line.x = vec![above_um, x.max];
        curves.push(line);
    }
    let mut markers = Vec::new();
    // Where nearly all ions stop in a layer the peak in the silicon lies below the axis.
    // The fullest of many bars is a matter of chance and gets no mark.
    if y.min <= results.peak_cm3 && single.is_none() {
        markers.push(marker(
            MarkerKind::Peak,
            above_um + results.peak_depth_nm / 1000.0,
            results.peak_cm3,
            format!(
                "peak {} cm⁻³\nat {} nm",
                three(results.peak_cm3),
                three(results.peak_depth_nm)
            ),
        ));
    }
    for &junction in &results.junctions_um {
        let at = value_at(depth, values, above_um + junction)
            .or(level)
            .map_or(y.min, |at| at.max(y.min));
        let label = format!("junction {} µm", three(junction));
        markers.push(marker(MarkerKind::Junction, above_um + junction, at, label));
    }
    if let Some(amorphous_nm) = results.amorphous_depth_nm {
        let at_um = above_um + amorphous_nm / 1000.0;
        if let Some(at) = value_at(depth, values, at_um) {
            let label = format!("amorphous to {} nm", three(amorphous_nm));
            // Counts may have an empty bar there.
            markers.push(marker(MarkerKind::Event, at_um, at.max(y.min), label));
        }
    }
    let check_points = published(report, "profile")
        .into_iter()
        .map(|point| CheckPoint { x: point.x + above_um, ..point })
        .collect();
    vec![Chart {
        id: "profile".to_owned(),
        title: format!("{} as implanted", super::capital(dopant.label())),
        x,
        y,
        series: curves,
        markers,
        bands: single.map_or_else(
            || depth_band(report.accuracy.as_ref(), depth, values),
            |ions| vec![count_band(ions)],
        ),
        zones: layer_zones(results),
        published: check_points,
        summary: summary(results, dopant.label()),
    }]
}

/// One standard error of the number of ions in each bar, above and below it.
fn count_band(ions: &SingleIons) -> Band {
    let bars = &ions.histogram;
    let mut band = Band {
        meaning: "Statistics: one standard error of the ions counted in each bar"
            .to_owned(),
        ..Band::default()
    };
    for (i, (&count, &here)) in bars.ions.iter().zip(&bars.concentration_cm3).enumerate()
    {
        let (Some(&from), Some(&to)) = (bars.from_um.get(i), bars.to_um.get(i)) else {
            continue;
        };
        // A count varies as its square root (Poisson).
        let part = 1.0 / f64::from(count.max(1)).sqrt();
        for x in [from, to] {
            band.x.push(x);
            band.low.push(here * (1.0 - part));
            band.high.push(here * (1.0 + part));
        }
    }
    band
}

fn layer_zones(results: &ImplantationResults) -> Vec<Zone> {
    let mut top = 0.0;
    results
        .layers
        .iter()
        .map(|layer| {
            let from = top;
            top += layer.thickness_nm / 1000.0;
            Zone {
                from,
                to: top,
                meaning: layer.material.label().to_owned(),
                material: material_word(layer.material).to_owned(),
            }
        })
        .collect()
}

fn summary(results: &ImplantationResults, dopant: &str) -> String {
    let junction = results.junction_depth_um.map_or_else(
        || match results.single_ions {
            Some(_) => "The counts do not tell a junction".to_owned(),
            None => "There is no junction".to_owned(),
        },
        |depth| {
            format!("The junction lies {} µm below the silicon surface", three(depth))
        },
    );
    let stopped = if results.layers.is_empty() {
        String::new()
    } else {
        format!(
            " {} % of the dose passes the layers above.",
            three(100.0 * results.transmitted_fraction)
        )
    };
    format!(
        "{} peaks at {} per cm³, {} nm below the silicon surface; the projected range is {} nm, the straggle {} nm. {junction}.{stopped}",
        super::capital(dopant),
        three(results.peak_cm3),
        three(results.peak_depth_nm),
        three(results.projected_range_nm),
        three(results.straggle_nm),
    )
}

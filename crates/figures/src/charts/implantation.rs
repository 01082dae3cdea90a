//! Concentration over depth after an implantation, through the layers above if there are any.

use barewafer_process::Report;
use barewafer_process::implantation::monte_carlo::SingleIons;
use barewafer_process::implantation::{
    ImplantationResults, RangeTable, StackProfile, TableSpread,
};

use super::diffusion::wafer_level;
use super::doping::{concentration_axis, depth_axis, depth_of, substrate, value_at};
use super::{depth_band, marker, published, series};
use crate::axis::{decades, extent};
use crate::chart::{Axis, Band, Chart, CheckPoint, MarkerKind, Role, Zone};
use crate::numbers::{digits, exponent_of, three};
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
    let other = results.spread.as_ref();
    let deepest = shown_um
        .or_else(|| depth_of(depth, values, 1.5 * y.min))
        .into_iter()
        .chain(other.and_then(|other| {
            depth_of(
                &other.profile.depth_um,
                &other.profile.concentration_cm3,
                1.5 * y.min,
            )
        }))
        .chain(results.junction_depth_um.map(|j| above_um + 1.1 * j))
        .chain([1.05 * above_um])
        .fold(0.0, f64::max);
    let name = if !results.layers.is_empty() {
        "Depth below the top of the stack"
    } else {
        "Depth"
    };
    let x = depth_axis(deepest, name);

    let name = if results.illustrative {
        format!("{} (illustrative)", dopant.label())
    } else {
        dopant.label().to_owned()
    };
    let mut curves = match single {
        None => vec![series(&name, Role::Main, depth, values)],
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
    if let Some(other) = other {
        let StackProfile { depth_um, concentration_cm3 } = &other.profile;
        let label = table_word(other);
        curves.push(series(label, Role::Third, depth_um, concentration_cm3));
    }
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
            let label = format!("amorphous to {} nm", digits(amorphous_nm, 2));
            // Counts may have an empty bar there.
            markers.push(marker(MarkerKind::Event, at_um, at.max(y.min), label));
        }
    }
    let check_points = published(report, "profile")
        .into_iter()
        .map(|point| CheckPoint { x: point.x + above_um, ..point })
        .collect();
    let title = super::capital(dopant.label());
    let kind = if results.illustrative { ", illustrative" } else { "" };
    let profile = Chart {
        id: "profile".to_owned(),
        title: format!("{title} as implanted{kind}"),
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
    };
    let mut charts = vec![profile];
    charts.extend(damage(results));
    charts.extend(activation(results));
    charts
}

/// Energy given to nuclei over depth, with the density that turns the crystal amorphous.
fn damage(results: &ImplantationResults) -> Option<Chart> {
    let found = results.damage.as_ref()?;
    let (depth, energy) = (&found.depth_um, &found.energy_ev_cm3);
    let (_, highest) = extent(energy.iter().copied());
    let top = ceil_decade(highest.max(found.critical_ev_cm3));
    let y = decades("Energy given to nuclei", "eV/cm³", top - 5, top);
    // Below a mask there is none.
    if highest < y.min {
        return None;
    }
    let deepest = depth.last().copied().unwrap_or(0.1);
    let x = depth_axis(deepest, "Depth below the silicon surface");
    let level = [found.critical_ev_cm3; 2];
    let curves = vec![
        series("energy to nuclei", Role::Main, depth, energy),
        series("amorphous above", Role::Level, &[0.0, x.max], &level),
    ];
    let mut markers = vec![marker(
        MarkerKind::Peak,
        found.peak_depth_nm / 1000.0,
        found.peak_ev_cm3,
        format!(
            "{} eV/cm³\nat {} nm",
            three(found.peak_ev_cm3),
            three(found.peak_depth_nm)
        ),
    )];
    let mut zones = Vec::new();
    if let (Some(from_nm), Some(to_nm)) = (found.amorphous_from_nm, found.amorphous_to_nm)
    {
        markers.push(marker(
            MarkerKind::Event,
            to_nm / 1000.0,
            found.critical_ev_cm3,
            format!("amorphous to {} nm", digits(to_nm, 2)),
        ));
        zones.push(Zone {
            from: from_nm / 1000.0,
            to: to_nm / 1000.0,
            meaning: "amorphous".to_owned(),
            material: String::new(),
        });
    }
    let layer = match (found.amorphous_from_nm, found.amorphous_to_nm) {
        (Some(from_nm), Some(to_nm)) => format!(
            "The silicon is amorphous from {} to {} nm",
            three(from_nm),
            three(to_nm)
        ),
        _ => "The silicon stays a crystal".to_owned(),
    };
    Some(Chart {
        id: "damage".to_owned(),
        title: "Damage of the crystal".to_owned(),
        x,
        y,
        series: curves,
        markers,
        zones,
        summary: format!(
            "The energy given to nuclei peaks at {} eV per cm³, {} nm below the silicon surface; {} eV per cm³ and a dose of {} per cm² turn silicon amorphous at room temperature. {layer}.",
            three(found.peak_ev_cm3),
            three(found.peak_depth_nm),
            three(found.critical_ev_cm3),
            three(found.amorphizing_dose_cm2),
        ),
        ..Chart::default()
    })
}

/// Active share over the temperature of a furnace.
fn activation(results: &ImplantationResults) -> Option<Chart> {
    let found = results.activation.as_ref()?;
    let (temperature, active) = (&found.temperature_c, &found.active_fraction);
    let percent: Vec<f64> = active.iter().map(|share| 100.0 * share).collect();
    let at_900 = value_at(temperature, &percent, 900.0)?;
    let (low, high) = extent(temperature.iter().copied());
    let axis = |label: &str, unit: &str, min: f64, max: f64| Axis {
        label: label.to_owned(),
        unit: unit.to_owned(),
        log: false,
        min,
        max,
    };
    Some(Chart {
        id: "activation".to_owned(),
        title: format!(
            "Active after {} min in a furnace (illustrative rule)",
            three(found.time_min)
        ),
        x: axis("Furnace temperature", "°C", low, high),
        y: axis("Active share", "%", 0.0, 100.0),
        series: vec![series("active", Role::Main, temperature, &percent)],
        markers: vec![marker(
            MarkerKind::Present,
            900.0,
            at_900,
            format!("900 °C: {} %", digits(at_900, 2)),
        )],
        summary: format!(
            "After {} min at 900 °C about {} % of the dose is electrically active, by an illustrative rule and the active limit of the profile as implanted.",
            three(found.time_min),
            digits(at_900, 2)
        ),
        ..Chart::default()
    })
}

fn ceil_decade(value: f64) -> i32 {
    exponent_of(value.max(1.0)) + 1
}

/// The other range table in a word or two.
pub(crate) fn table_word(other: &TableSpread) -> &'static str {
    match other.range_table {
        RangeTable::Gibbons1975 => "by the 1975 table",
        RangeTable::Computed => "by the computed table",
    }
}

/// The other table in a sentence.
pub(crate) fn spread_sentence(results: &ImplantationResults) -> String {
    results.spread.as_ref().map_or_else(String::new, |other| {
        format!(
            " Theories differ: {} the range is {} nm and the straggle {} nm.",
            table_word(other),
            three(other.projected_range_nm),
            three(other.straggle_nm)
        )
    })
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
    let illustrative = if results.illustrative {
        " The tail of channeled ions is illustrative."
    } else {
        ""
    };
    format!(
        "{} peaks at {} per cm³, {} nm below the silicon surface; the projected range is {} nm, the straggle {} nm. {junction}.{stopped}{}{illustrative}",
        super::capital(dopant),
        three(results.peak_cm3),
        three(results.peak_depth_nm),
        three(results.projected_range_nm),
        three(results.straggle_nm),
        spread_sentence(results),
    )
}

//! The derivation of the results, line by line, with the reader's numbers put in.

mod after;
mod curve;
mod dose;

use super::calculation::{BORON_SHARE_OF_BF2, Calculation};
use super::ranges::RangeStatistics;
use super::request::ImplantationModel;
use super::{ImplantationResults, wafer_area};
use crate::num::{ln, show};
use crate::report::WorkingLine;
use crate::vocabulary::Ion;

const DEFINITION: &str = "definition";
const GAUSSIAN: &str = "Gaussian range distribution (textbook standard)";
const HOFKER: &str = "W. K. Hofker, Philips Res. Rep. Suppl. 8, 1975";

/// All lines, in the order of the calculation.
pub(super) fn lines(
    calculation: &Calculation,
    results: &ImplantationResults,
) -> Vec<WorkingLine> {
    let mut lines = Vec::new();
    energy_and_range(calculation, results, &mut lines);
    tilt(calculation, results, &mut lines);
    curve::bell(calculation, &mut lines);
    if calculation.layers.is_empty() {
        dose::surface(calculation, results, &mut lines);
    } else {
        dose::layers(calculation, results, &mut lines);
    }
    junctions(calculation, results, &mut lines);
    after::lines(calculation, results, &mut lines);
    beam(calculation, results, &mut lines);
    lines
}

fn energy_and_range(
    calculation: &Calculation,
    results: &ImplantationResults,
    lines: &mut Vec<WorkingLine>,
) {
    let settings = &calculation.settings;
    if settings.ion == Ion::Bf2 {
        lines.push(WorkingLine::new(
            "E_B = E * 11.009/49.006",
            format!("{} keV * {}", show(settings.energy_kev), show(BORON_SHARE_OF_BF2)),
            calculation.atom_energy_kev,
            "keV",
            "all atoms of BF2 fly at one speed: energy in proportion to mass; two fluorine atoms per boron atom go in too",
        ));
    }
    let Some(statistics) = &calculation.statistics else {
        lines.push(WorkingLine::new(
            "Rp as given",
            format!("{} nm", show(calculation.beam_moments.mean_nm)),
            calculation.beam_moments.mean_nm,
            "nm",
            "the request's moments",
        ));
        return;
    };
    let energy_kev = calculation.atom_energy_kev;
    for (name, column, value) in
        [("Rp", 1, statistics.range_nm), ("dRp", 2, statistics.straggle_nm)]
    {
        lines.push(from_table(statistics, name, column, energy_kev, value));
    }
    if let Some(spread) = &results.spread {
        lines.push(WorkingLine::new(
            "Rp by the other table, to compare",
            format!(
                "its dRp is {} nm; the difference is the spread of the theories",
                show(spread.straggle_nm)
            ),
            spread.projected_range_nm,
            "nm",
            spread.range_table.source(),
        ));
    }
}

fn from_table(
    statistics: &RangeStatistics,
    name: &str,
    column: usize,
    energy_kev: f64,
    value_nm: f64,
) -> WorkingLine {
    let [left, right] = statistics.neighbors;
    let at_row = (left[0] - right[0]).abs() < f64::EPSILON;
    let (equation, substituted) = if at_row {
        (
            format!("{name} = table row at E"),
            format!("row {} keV: {} nm", show(left[0]), show(left[column])),
        )
    } else {
        (
            format!("ln {name} = monotone cubic in ln E through the table's rows"),
            format!(
                "{} nm at {} keV, {} nm at {} keV; at {} keV",
                show(left[column]),
                show(left[0]),
                show(right[column]),
                show(right[0]),
                show(energy_kev)
            ),
        )
    };
    WorkingLine::new(&equation, substituted, value_nm, "nm", statistics.table.source())
}

fn tilt(
    calculation: &Calculation,
    results: &ImplantationResults,
    lines: &mut Vec<WorkingLine>,
) {
    let tilt_deg = calculation.settings.tilt_deg;
    if tilt_deg <= 0.0 {
        return;
    }
    let source = "rotation of the ion cloud above a flat surface (derived)";
    let (along, depth) = (calculation.beam_moments, calculation.moments);
    lines.push(WorkingLine::new(
        "Rp' = Rp cos(tilt)",
        format!("{} nm * cos({} deg)", show(along.mean_nm), show(tilt_deg)),
        depth.mean_nm,
        "nm",
        source,
    ));
    lines.push(WorkingLine::new(
        "dRp' = sqrt(dRp^2 cos^2(tilt) + dRl^2 sin^2(tilt))",
        format!(
            "sqrt(({} nm)^2 cos^2({} deg) + ({} nm)^2 sin^2({} deg))",
            show(along.sigma_nm),
            show(tilt_deg),
            show(along.lateral_nm),
            show(tilt_deg)
        ),
        depth.sigma_nm,
        "nm",
        source,
    ));
    lines.push(WorkingLine::new(
        "shadow of a step per height = tan(tilt) cos(rotation)",
        format!(
            "tan({} deg) cos({} deg); on a flat surface the rotation changes nothing",
            show(tilt_deg),
            show(calculation.settings.rotation_deg)
        ),
        results.shadow_per_height,
        "",
        "the beam seen in the plane of the section (geometry)",
    ));
}

fn junctions(
    calculation: &Calculation,
    results: &ImplantationResults,
    lines: &mut Vec<WorkingLine>,
) {
    let substrate_cm3 = calculation.settings.substrate.concentration_cm3;
    let Some(deepest_um) = results.junction_depth_um else { return };
    let moments = calculation.moments;
    let peak_cm3 = results.peak_cm3;
    let simple = calculation.settings.model == ImplantationModel::Gaussian
        && calculation.layers.is_empty()
        && (results.peak_depth_nm - moments.mean_nm).abs() < 1e-9;
    if simple {
        lines.push(WorkingLine::new(
            "xj = Rp' + dRp' sqrt(2 ln(Cp/Cb))",
            format!(
                "{} um + {} um * sqrt(2 ln({}/{})) = {} um + {} um * {}",
                show(1e-3 * moments.mean_nm),
                show(1e-3 * moments.sigma_nm),
                show(peak_cm3),
                show(substrate_cm3),
                show(1e-3 * moments.mean_nm),
                show(1e-3 * moments.sigma_nm),
                show((2.0 * ln(peak_cm3 / substrate_cm3)).max(0.0).sqrt())
            ),
            deepest_um,
            "um",
            GAUSSIAN,
        ));
    } else {
        lines.push(WorkingLine::new(
            "C(xj) = Cb, solved by halving the interval",
            format!(
                "from the peak of {} cm^-3 at {} um down to {} cm^-3",
                show(peak_cm3),
                show(1e-3 * results.peak_depth_nm),
                show(substrate_cm3)
            ),
            deepest_um,
            "um",
            DEFINITION,
        ));
    }
    if let [shallow_um, _, ..] = results.junctions_um[..] {
        lines.push(WorkingLine::new(
            "the other junction: C = Cb above the peak",
            format!("{} cm^-3 above the peak", show(substrate_cm3)),
            shallow_um,
            "um",
            DEFINITION,
        ));
    }
}

fn beam(
    calculation: &Calculation,
    results: &ImplantationResults,
    lines: &mut Vec<WorkingLine>,
) {
    let settings = &calculation.settings;
    let (Some(beam), Some(time_s)) = (settings.beam, results.beam_time_s) else { return };
    lines.push(WorkingLine::new(
        "t = Q n q A/I",
        format!(
            "{} cm^-2 * {} * 1.602e-19 C * {} cm^2 / {} A ({} kV accelerate the ion)",
            show(settings.dose_cm2),
            show(beam.charge_state),
            show(wafer_area(beam.wafer_diameter_mm)),
            show(1e-6 * beam.current_ua),
            show(settings.energy_kev / beam.charge_state)
        ),
        time_s,
        "s",
        DEFINITION,
    ));
}

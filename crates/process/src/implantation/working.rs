//! The derivation of the results, line by line, with the reader's numbers put in.

use super::calculation::{BORON_SHARE_OF_BF2, Calculation, MASK_LEAK};
use super::damage::Damage;
use super::distribution::{GAUSSIAN_PEAK, Moments};
use super::pearson::smallest_kurtosis;
use super::ranges::{RangeStatistics, silicon_extras};
use super::request::ImplantationModel;
use super::{ImplantationResults, wafer_area};
use crate::num::{cos, erfc, ln, show, tan};
use crate::report::WorkingLine;
use crate::vocabulary::Ion;

const DEFINITION: &str = "definition";
const GAUSSIAN: &str = "Gaussian range distribution (textbook standard)";
const HOFKER: &str = "W. K. Hofker, Philips Res. Rep. Suppl. 8, 1975";
const MATCHING: &str = "dose matching (H. Ryssel et al. 1983)";
const SQRT_2: f64 = core::f64::consts::SQRT_2;

/// Standard deviations beyond which a Gaussian has 1e-4 of its area.
const SIGMAS_FOR_LEAK: f64 = 3.719_016_485_455_709;

/// All lines, in the order of the calculation.
pub(super) fn lines(
    calculation: &Calculation,
    damage: Option<Damage>,
    results: &ImplantationResults,
) -> Vec<WorkingLine> {
    let mut lines = Vec::new();
    energy_and_range(calculation, &mut lines);
    tilt(calculation, &mut lines);
    bell(calculation, &mut lines);
    if calculation.layers.is_empty() {
        surface(calculation, results, &mut lines);
    } else {
        layers(calculation, results, &mut lines);
    }
    junctions(calculation, results, &mut lines);
    if let Some(damage) = damage {
        amorphous(calculation, damage, &mut lines);
    }
    beam(calculation, results, &mut lines);
    lines
}

fn energy_and_range(calculation: &Calculation, lines: &mut Vec<WorkingLine>) {
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

fn tilt(calculation: &Calculation, lines: &mut Vec<WorkingLine>) {
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
    let slope =
        tan(tilt_deg.to_radians()) * cos(calculation.settings.rotation_deg.to_radians());
    lines.push(WorkingLine::new(
        "shadow of a step per height = tan(tilt) cos(rotation)",
        format!(
            "tan({} deg) cos({} deg); on a flat surface the rotation changes nothing",
            show(tilt_deg),
            show(calculation.settings.rotation_deg)
        ),
        slope,
        "",
        "the beam seen in the plane of the section (geometry)",
    ));
}

fn bell(calculation: &Calculation, lines: &mut Vec<WorkingLine>) {
    let (dose_cm2, moments) = (calculation.settings.dose_cm2, calculation.moments);
    let sigma_cm = 1e-7 * moments.sigma_nm;
    let estimate = match calculation.settings.model {
        ImplantationModel::Gaussian => "Cp = Q/(sqrt(2 pi) dRp') = 0.399 Q/dRp'",
        _ => "Cp of a Gaussian (estimate) = 0.399 Q/dRp'",
    };
    lines.push(WorkingLine::new(
        estimate,
        format!("0.399 * {} cm^-2 / {} cm", show(dose_cm2), show(sigma_cm)),
        GAUSSIAN_PEAK * dose_cm2 / sigma_cm,
        "cm^-3",
        GAUSSIAN,
    ));
    if let Some(shape) = calculation.shape {
        if shape.gaussian {
            lines.push(WorkingLine::new(
                "|g| < 0.05: the curve is drawn as a Gaussian",
                format!("g = {}", show(moments.skewness)),
                moments.skewness,
                "",
                "model choice",
            ));
        } else {
            pearson(calculation, moments, lines);
        }
    }
    if calculation.settings.model == ImplantationModel::DualPearson {
        let (second, share) = super::calculation::channeled(
            &calculation.settings,
            calculation.beam_moments,
        );
        lines.push(WorkingLine::new(
            "C = Q [(1 - r) f1 + r f2], r = r0/(1 + Q/Qc), Rp2 = 1.4 Rp + 30 nm, dRp2 = 1.8 dRp",
            format!(
                "Rp2 = {} nm, dRp2 = {} nm, r",
                show(second.mean_nm),
                show(second.sigma_nm)
            ),
            share,
            "",
            "illustrative: form of A. F. Tasch et al., J. Electrochem. Soc. 136, 810 (1989), numbers of this lab",
        ));
    }
}

fn pearson(calculation: &Calculation, moments: Moments, lines: &mut Vec<WorkingLine>) {
    let (Some(shape), Some(curve)) =
        (calculation.shape, calculation.distribution().pearson_curve())
    else {
        return;
    };
    let (sigma_nm, g, beta) = (moments.sigma_nm, shape.skewness, shape.kurtosis);
    let along = calculation.beam_moments;
    let source = match &calculation.statistics {
        Some(_) => "computed: silicon table, linear in ln E",
        None => "the request's moments",
    };
    lines.push(WorkingLine::new(
        "g' = g (dRp cos(tilt)/dRp')^3",
        format!(
            "{} * ({} cos({} deg)/{})^3",
            show(along.skewness),
            show(along.sigma_nm),
            show(calculation.settings.tilt_deg),
            show(sigma_nm)
        ),
        moments.skewness,
        "",
        source,
    ));
    lines.push(WorkingLine::new(
        "beta' = 3 + (beta - 3) (dRp cos(tilt)/dRp')^4",
        format!(
            "3 + ({} - 3) * ({} cos({} deg)/{})^4",
            show(along.kurtosis),
            show(along.sigma_nm),
            show(calculation.settings.tilt_deg),
            show(sigma_nm)
        ),
        moments.kurtosis,
        "",
        source,
    ));
    if 1e-9 < (beta - moments.kurtosis).abs() {
        lines.push(WorkingLine::new(
            "beta = 1.05 (39 g^2 + 48 + 6 (g^2 + 4)^1.5)/(32 - g^2)",
            format!(
                "g = {}: type IV begins at {}, but beta is {}; raised to",
                show(g),
                show(smallest_kurtosis(g)),
                show(moments.kurtosis)
            ),
            beta,
            "",
            "model choice: range, straggle and skewness stay exact",
        ));
    }
    let denominator = 10.0 * beta - 12.0 * g * g - 18.0;
    lines.push(WorkingLine::new(
        "A = 10 beta - 12 g^2 - 18",
        format!("10 * {} - 12 * ({})^2 - 18", show(beta), show(g)),
        denominator,
        "",
        HOFKER,
    ));
    lines.push(WorkingLine::new(
        "a = -dRp' g (beta + 3)/A",
        format!(
            "-{} nm * {} * ({} + 3) / {}",
            show(sigma_nm),
            show(g),
            show(beta),
            show(denominator)
        ),
        curve.a * sigma_nm,
        "nm",
        HOFKER,
    ));
    lines.push(WorkingLine::new(
        "b0 = -dRp'^2 (4 beta - 3 g^2)/A",
        format!(
            "-({} nm)^2 (4 * {} - 3 * ({})^2) / {}",
            show(sigma_nm),
            show(beta),
            show(g),
            show(denominator)
        ),
        curve.b0 * sigma_nm * sigma_nm,
        "nm^2",
        HOFKER,
    ));
    lines.push(WorkingLine::new(
        "b2 = -(2 beta - 3 g^2 - 6)/A",
        format!(
            "-(2 * {} - 3 * ({})^2 - 6) / {}",
            show(beta),
            show(g),
            show(denominator)
        ),
        curve.b2,
        "",
        HOFKER,
    ));
    lines.push(WorkingLine::new(
        "a^2/(4 b0 b2): between 0 and 1 the curve is of type IV",
        format!(
            "({} nm)^2 / (4 * {} nm^2 * {})",
            show(curve.a * sigma_nm),
            show(curve.b0 * sigma_nm * sigma_nm),
            show(curve.b2)
        ),
        curve.criterion(),
        "",
        HOFKER,
    ));
    let height = curve.density(curve.a);
    lines.push(WorkingLine::new(
        "Cp = Q f_max/dRp' at Rp' + a, f_max from the unit area of the curve",
        format!(
            "{} cm^-2 * {} / {} cm at {} nm",
            show(calculation.settings.dose_cm2),
            show(height),
            show(1e-7 * sigma_nm),
            show(moments.mean_nm + curve.a * sigma_nm)
        ),
        height * calculation.settings.dose_cm2 / (1e-7 * sigma_nm),
        "cm^-3",
        HOFKER,
    ));
}

fn surface(
    calculation: &Calculation,
    results: &ImplantationResults,
    lines: &mut Vec<WorkingLine>,
) {
    let (settings, moments) = (&calculation.settings, calculation.moments);
    let equation = match settings.model {
        ImplantationModel::Gaussian => "N = Q (1/2) erfc(-Rp'/(sqrt2 dRp'))",
        _ => "N = Q (1 - integral of f above the surface)",
    };
    let substituted = match settings.model {
        ImplantationModel::Gaussian => format!(
            "{} cm^-2 * 0.5 * erfc(-{}/(1.414 * {}))",
            show(settings.dose_cm2),
            show(moments.mean_nm),
            show(moments.sigma_nm)
        ),
        _ => format!(
            "{} cm^-2 * (1 - {})",
            show(settings.dose_cm2),
            show(results.lost_fraction)
        ),
    };
    lines.push(WorkingLine::new(
        equation,
        substituted,
        results.retained_dose_cm2,
        "cm^-2",
        "the part of the curve above the surface is lost, not put back",
    ));
    if calculation.statistics.is_some() {
        let extras = silicon_extras(settings.species, calculation.atom_energy_kev);
        lines.push(WorkingLine::new(
            "backscattered share of single-ion calculations in silicon, to compare",
            format!("the curve above loses {}", show(results.lost_fraction)),
            extras.backscattered,
            "",
            "computed: binary collisions, universal potential, 20 000 ions",
        ));
    }
}

fn layers(
    calculation: &Calculation,
    results: &ImplantationResults,
    lines: &mut Vec<WorkingLine>,
) {
    let settings = &calculation.settings;
    for (i, (layer, given)) in calculation.layers.iter().zip(&settings.layers).enumerate()
    {
        let word = given.material.label();
        let statistics = &layer.statistics;
        lines.push(WorkingLine::new(
            &format!("range in {word} (layer {}), with the tilt", i + 1),
            format!(
                "Rp {} nm, dRp {} nm along the beam; straggle along the depth {} nm",
                show(statistics.range_nm),
                show(statistics.straggle_nm),
                show(layer.moments.sigma_nm)
            ),
            layer.moments.mean_nm,
            "nm",
            statistics.table.source(),
        ));
        if let Some(next) = calculation.passage.shares.get(i + 1) {
            let entry_nm =
                calculation.passage.shares.get(i).map_or(0.0, |share| share.entry_nm);
            let exit_nm = entry_nm + given.thickness_nm;
            let (mean_nm, sigma_nm) = (layer.moments.mean_nm, layer.moments.sigma_nm);
            let erfc_text = format!(
                "0.5 * erfc(({} - {})/(1.414 * {}))",
                show(exit_nm),
                show(mean_nm),
                show(sigma_nm)
            );
            let gaussian = 0.5 * erfc((exit_nm - mean_nm) / (SQRT_2 * sigma_nm));
            if settings.model == ImplantationModel::Gaussian {
                lines.push(WorkingLine::new(
                    "T = (1/2) erfc((d - Rp')/(sqrt2 dRp')), d counted in this layer's own profile",
                    erfc_text,
                    next.arriving,
                    "",
                    GAUSSIAN,
                ));
            } else {
                lines.push(WorkingLine::new(
                    "T = integral of this layer's own curve beyond d",
                    format!(
                        "d = {} nm; a Gaussian would give {erfc_text} = {}",
                        show(exit_nm),
                        show(gaussian)
                    ),
                    next.arriving,
                    "",
                    HOFKER,
                ));
            }
        }
    }
    let target = calculation.target();
    lines.push(WorkingLine::new(
        "x* with integral of f from the surface to x* = dose stopped above",
        format!(
            "{} of the dose stopped above; the profile in the target starts at x*",
            show(1.0 - calculation.passage.lost - target.arriving)
        ),
        target.entry_nm,
        "nm",
        MATCHING,
    ));
    lines.push(WorkingLine::new(
        "C(x) = Q k f(x* + x) in the target, k for the dose that entered; its peak",
        format!("k = {}, x = {} nm", show(target.factor), show(results.peak_depth_nm)),
        results.peak_cm3,
        "cm^-3",
        MATCHING,
    ));
    lines.push(WorkingLine::new(
        "N = Q T",
        format!("{} cm^-2 * {}", show(settings.dose_cm2), show(target.arriving)),
        results.retained_dose_cm2,
        "cm^-2",
        "the dose is conserved: layers + target + loss through the surface = Q",
    ));
    if let Some((i, thickness_nm)) = calculation.mask()
        && let (Some(layer), Some(given)) =
            (calculation.layers.get(i), settings.layers.get(i))
    {
        lines.push(WorkingLine::new(
            "d for T = 1e-4: about Rp' + 3.719 dRp' in one layer",
            format!(
                "{}: {} + 3.719 * {} = {} nm by this table; with the longer range where tables disagree, the wider curve and the other layers",
                given.material.label(),
                show(layer.moments.mean_nm),
                show(layer.moments.sigma_nm),
                show(layer.moments.mean_nm + SIGMAS_FOR_LEAK * layer.moments.sigma_nm)
            ),
            thickness_nm,
            "nm",
            GAUSSIAN,
        ));
        debug_assert!(
            (0.5 * erfc(SIGMAS_FOR_LEAK / SQRT_2) / MASK_LEAK - 1.0).abs() < 1e-6
        );
    }
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

fn amorphous(calculation: &Calculation, damage: Damage, lines: &mut Vec<WorkingLine>) {
    let Some(depth_nm) = damage.amorphous_depth_nm else { return };
    lines.push(WorkingLine::new(
        "amorphous where C E f_n > 6e23 eV/cm^3, so where C > 6e23/(E f_n)",
        format!(
            "6e23 / ({} keV * {})",
            show(calculation.settings.energy_kev),
            show(damage.nuclear_ev / (1e3 * calculation.settings.energy_kev))
        ),
        damage.critical_cm3,
        "cm^-3",
        "Morehead, Crowder, Radiat. Eff. 6, 27 (1970), type of criterion, within a factor 2; f_n computed",
    ));
    lines.push(WorkingLine::new(
        "deepest x with C(x) = 6e23/(E f_n)",
        format!("C(x) = {} cm^-3", show(damage.critical_cm3)),
        depth_nm,
        "nm",
        "estimate: damage spread over depth as the ions are",
    ));
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

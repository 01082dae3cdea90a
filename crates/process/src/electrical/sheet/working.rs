//! The derivation of a sheet resistance, line by line.

use super::Measured;
use crate::electrical::probing::CORNER_SQUARES;
use crate::electrical::sheet_resistance::SheetLayer;
use crate::num::show;
use crate::report::WorkingLine;
use crate::vocabulary::{DopingType, MobilityModel};

const SMITS: &str = "F. M. Smits, Bell Syst. Tech. J. 37, 711, 1958";
const IRVIN: &str = "J. C. Irvin, Bell Syst. Tech. J. 41, 387, 1962";
const DEFINITION: &str = "definition";

pub(super) fn lines(measured: &Measured) -> Vec<WorkingLine> {
    let mut lines = vec![wafer(measured)];
    if let Some(temperature) = measured.measurement.limited_at {
        lines.push(WorkingLine::new(
            "Q_active/Q, with C = Ca (1 + (Ca/Climit)³) and Climit = A exp(−E/kT)",
            format!("the last anneal at {} °C", show(temperature.to_celsius())),
            measured.active_share,
            "",
            "active limits of Solmi 1990, 1996, Nobili 1983 to 1994; smooth join: model choice",
        ));
    }
    let results = &measured.results;
    if let Some(layer) = results.layers.get(measured.measurement.layer) {
        of_layer(measured, layer, &mut lines);
        of_probes(measured, layer, &mut lines);
    }
    of_van_der_pauw(measured, &mut lines);
    of_line(measured, &mut lines);
    lines
}

fn wafer(measured: &Measured) -> WorkingLine {
    let wafer = measured.results.substrate;
    let n = show(wafer.concentration_cm3);
    let (equation, source) = match wafer.doping_type {
        DopingType::P => (
            "ρ = 1.305×10¹⁶/N + 1.133×10¹⁷/(N (1 + (2.58×10⁻¹⁹ N)^−0.737))",
            "ASTM F723, boron",
        ),
        DopingType::N => ("ρ = (6.242×10¹⁸/N) 10^Z(log N − 16)", "ASTM F723, phosphorus"),
    };
    WorkingLine::new(
        equation,
        format!("the wafer, N = {n} cm⁻³"),
        wafer.resistivity_ohm_cm,
        "Ω cm",
        source,
    )
}

fn of_layer(measured: &Measured, layer: &SheetLayer, lines: &mut Vec<WorkingLine>) {
    let results = &measured.results;
    if let Some(depletion) = results.depletion.get(measured.measurement.layer) {
        lines.push(WorkingLine::new(
            "N_D(xj) = N_A(xj)",
            format!(
                "{} above, {} below",
                layer.doping_type.label(),
                layer.doping_type.opposite().label()
            ),
            depletion.junction_um,
            "µm",
            DEFINITION,
        ));
    }
    let range = format!("from {} to {} µm", show(layer.top_um), show(layer.bottom_um));
    lines.push(WorkingLine::new(
        "Q = ∫ |N_D − N_A| dx",
        range,
        layer.dose_cm2,
        "cm⁻²",
        DEFINITION,
    ));
    let is_wafer = results.profile.dopants.is_empty();
    let (equation, source) = match measured.measurement.mobility {
        _ if is_wafer => ("μ = 1/(q N ρ)", "ASTM F723"),
        MobilityModel::Masetti1983 => (
            "μ̄ = ∫ μ(N_D + N_A) |N_D − N_A| dx / Q",
            "G. Masetti, M. Severi, S. Solmi, IEEE Trans. Electron Devices 30, 764, 1983",
        ),
        MobilityModel::Arora1982 => (
            "μ̄ = ∫ μ(N_D + N_A) |N_D − N_A| dx / Q",
            "N. D. Arora, J. R. Hauser, D. J. Roulston, IEEE Trans. Electron Devices 29, 292, 1982",
        ),
    };
    lines.push(WorkingLine::new(
        equation,
        format!("the highest doping is {} cm⁻³", show(layer.peak_cm3)),
        layer.mean_mobility_cm2_vs,
        "cm²/Vs",
        source,
    ));
    let Some(ohm_sq) = layer.sheet_resistance_ohm_sq else { return };
    lines.push(WorkingLine::new(
        "Rs = 1/(q μ̄ Q)",
        format!(
            "1/(1.602×10⁻¹⁹ × {} × {})",
            show(layer.mean_mobility_cm2_vs),
            show(layer.dose_cm2)
        ),
        ohm_sq,
        "Ω/□",
        IRVIN,
    ));
    let thickness_um = layer.bottom_um - layer.top_um;
    lines.push(WorkingLine::new(
        "σ̄ = 1/(Rs t), to be compared with Irvin's curves",
        format!(
            "1/({} × {} cm); Rs t = {} Ω µm",
            show(ohm_sq),
            show(thickness_um * 1e-4),
            show(ohm_sq * thickness_um)
        ),
        layer.average_conductivity_s_cm,
        "S/cm",
        IRVIN,
    ));
    if let Some(depletion) = results.depletion.get(measured.measurement.layer) {
        lines.push(WorkingLine::new(
            "(q/ε) ∫ x N dx = (kT/q) ln(N₁ N₂/ni²), equal charge on both sides",
            format!(
                "{} V across {} to {} µm",
                show(depletion.built_in_v),
                show(depletion.upper_um),
                show(depletion.lower_um)
            ),
            depletion.junction_um - depletion.upper_um,
            "µm",
            "depletion approximation, ni = 1.0×10¹⁰ cm⁻³ (Green 1990), S. M. Sze, Physics of Semiconductor Devices, ch. 2",
        ));
        if let Some(rest) = layer.undepleted_ohm_sq {
            lines.push(WorkingLine::new(
                "Rs without the depleted edges",
                format!("down to {} µm", show(depletion.upper_um)),
                rest,
                "Ω/□",
                "the same integral",
            ));
        }
    }
}

fn of_probes(measured: &Measured, layer: &SheetLayer, lines: &mut Vec<WorkingLine>) {
    let probes = measured.results.probes;
    let given = &measured.measurement;
    lines.push(WorkingLine::new(
        "F_d = ln 2/(ln 2 + ln(((d/s)² + 3)/((d/s)² − 3)))",
        format!("d = {} mm, s = {} mm", show(given.diameter_mm), show(given.spacing_mm)),
        probes.wafer_factor,
        "",
        SMITS,
    ));
    let thickness_mm = (layer.bottom_um - layer.top_um) * 1e-3;
    if probes.thickness_factor < 1.0 {
        lines.push(WorkingLine::new(
            "F_t = ln 2/(t (S(s) − S(2s))), S(r) = Σ 1/√(r² + (2nt)²)",
            format!("t = {} mm, s = {} mm", show(thickness_mm), show(given.spacing_mm)),
            probes.thickness_factor,
            "",
            "mirror images, after L. B. Valdes, Proc. IRE 42, 420, 1954",
        ));
    }
    lines.push(WorkingLine::new(
        "k = (π/ln 2) F_d F_t",
        format!(
            "4.532 × {} × {}",
            show(probes.wafer_factor),
            show(probes.thickness_factor)
        ),
        probes.geometry_factor,
        "",
        SMITS,
    ));
    if let (Some(ohm), Some(mv), Some(ohm_sq)) = (
        measured.results.voltage_over_current_ohm,
        measured.results.voltage_mv,
        layer.sheet_resistance_ohm_sq,
    ) {
        let factor = show(probes.geometry_factor);
        lines.push(WorkingLine::new(
            "V/I = Rs/k",
            format!("{}/{factor}", show(ohm_sq)),
            ohm,
            "Ω",
            SMITS,
        ));
        lines.push(WorkingLine::new(
            "V = (V/I) I",
            format!("{} Ω × {} mA", show(ohm), show(given.current_ma)),
            mv,
            "mV",
            DEFINITION,
        ));
    }
}

fn of_van_der_pauw(measured: &Measured, lines: &mut Vec<WorkingLine>) {
    let Some([a, b]) = measured.measurement.van_der_pauw_ohm else { return };
    let Some(found) = &measured.van_der_pauw else { return };
    let pauw = "L. J. van der Pauw, Philips Res. Rep. 13, 1, 1958";
    let last = found.steps_ohm_sq.len().saturating_sub(1);
    for (k, &ohm_sq) in found.steps_ohm_sq.iter().enumerate() {
        // The first steps show the way; the last one is the result.
        if 3 <= k && k < last {
            continue;
        }
        let (equation, substituted) = if k == 0 {
            (
                "Rs₀ = (π/ln 2) (Ra + Rb)/2".to_owned(),
                format!("4.532 × ({} + {})/2", show(a), show(b)),
            )
        } else {
            let before = found.steps_ohm_sq[k - 1];
            (
                "u ← u + (e^(−πRa u) + e^(−πRb u) − 1)/(πRa e^(−πRa u) + πRb e^(−πRb u)), Rs = 1/u".to_owned(),
                format!("Newton step {k} from Rs = {}", show(before)),
            )
        };
        lines.push(WorkingLine::new(&equation, substituted, ohm_sq, "Ω/□", pauw));
    }
}

fn of_line(measured: &Measured, lines: &mut Vec<WorkingLine>) {
    let (Some(line), Some(squares)) =
        (measured.measurement.line, measured.results.squares)
    else {
        return;
    };
    lines.push(WorkingLine::new(
        "squares = L/W + 0.56 per corner",
        format!(
            "{}/{} + {CORNER_SQUARES} × {}",
            show(line.length_um),
            show(line.width_um),
            show(line.corners)
        ),
        squares,
        "□",
        "textbook standard; L counts the straight parts",
    ));
    if let (Some(ohm), Some(ohm_sq)) =
        (measured.results.line_resistance_ohm, measured.results.sheet_resistance_ohm_sq)
    {
        lines.push(WorkingLine::new(
            "R = Rs × squares",
            format!("{} × {}", show(ohm_sq), show(squares)),
            ohm,
            "Ω",
            DEFINITION,
        ));
    }
}

//! The part of a derivation that a changing furnace adds: ramps, oxide, segregation, interstitials.

use super::DiffusionResults;
use super::drive_in::DriveIn;
use super::furnace::Furnace;
use super::point_defects::{SHARE_SOURCE, SUPERSATURATION_SOURCE, interstitial_share};
use super::solver::enhancement;
use crate::constants::SILICON_PER_OXIDE;
use crate::num::show;
use crate::report::WorkingLine;
use crate::vocabulary::{Ambient, Orientation, SolutionAccuracy};

/// Lines of the furnace; none where it keeps one temperature in an inert gas.
pub(super) fn lines(done: &DriveIn, results: &DiffusionResults) -> Vec<WorkingLine> {
    let mut lines = Vec::new();
    let Some(furnace) = &done.furnace else { return lines };
    ramp(done, furnace, &mut lines);
    if done.recipe.ambient != Ambient::Inert {
        oxide(furnace, &mut lines);
        segregation(done, furnace, results, &mut lines);
        if done.recipe.enhanced {
            interstitials(done, furnace, &mut lines);
        }
    }
    lines
}

fn ramp(done: &DriveIn, furnace: &Furnace, lines: &mut Vec<WorkingLine>) {
    let Some(ramp) = done.recipe.ramp else { return };
    let conditions = &done.simulated.conditions;
    lines.push(WorkingLine::new(
        "t = (T − T₀)/up + hold + (T − T₀)/down; the gas flows all the time",
        format!(
            "from {} °C, {} °C/s up, {} s at {} °C, {} °C/s down",
            show(ramp.start_c),
            show(ramp.up_c_s),
            show(conditions.time_s),
            show(conditions.temperature.to_celsius()),
            show(ramp.down_c_s)
        ),
        furnace.time_s(),
        "s",
        "given",
    ));
    let Some((dopant, _)) = done.simulated.dopants.first() else { return };
    lines.push(WorkingLine::new(
        "∫ Di(T(t)) dt",
        format!("{}, over both ramps and the hold", dopant.word()),
        furnace.dt_cm2(*dopant),
        "cm²",
        "Simpson's rule; what is active at temperature stays active on cooling (model choice)",
    ));
}

fn oxide(furnace: &Furnace, lines: &mut Vec<WorkingLine>) {
    let [start, end] = furnace.oxide();
    lines.push(WorkingLine::new(
        "dX/dt = B/(2X + A), thin dry oxide faster: X",
        format!("from {} nm", show(start.to_nm())),
        end.to_nm(),
        "nm",
        "as in an oxidation of lightly doped silicon: Deal, Grove 1965; Massoud, Plummer, Irene 1985",
    ));
    lines.push(WorkingLine::new(
        "silicon eaten = 0.44 (X − X₀): depths count from the new surface",
        format!(
            "{SILICON_PER_OXIDE} · ({} − {})",
            show(end.to_nm()),
            show(start.to_nm())
        ),
        SILICON_PER_OXIDE * (end - start).to_nm(),
        "nm",
        "Deal, Grove, J. Appl. Phys. 36, 3770, 1965",
    ));
}

fn segregation(
    done: &DriveIn,
    furnace: &Furnace,
    results: &DiffusionResults,
    lines: &mut Vec<WorkingLine>,
) {
    let temperature = done.simulated.conditions.temperature;
    for (dopant, found) in furnace.segregation() {
        let numbers = if found.energy_ev == 0.0 {
            format!("{}: {}", dopant.word(), show(found.prefactor))
        } else {
            format!(
                "{}: {} · exp(−{}/{})",
                dopant.word(),
                show(found.prefactor),
                show(found.energy_ev),
                show(temperature.to_kt_ev())
            )
        };
        lines.push(WorkingLine::new(
            "m = C(silicon)/C(oxide) at the interface",
            numbers,
            found.at(temperature),
            "",
            found.source,
        ));
        let Some(dose) = results.doses.iter().find(|dose| dose.dopant == dopant) else {
            continue;
        };
        lines.push(WorkingLine::new(
            "Q(oxide) = ∫ (C(0)/m) dX; D dC/dx(0) = C(0) (1/m − 0.44) dX/dt",
            format!("{}, nothing diffuses in the oxide", dopant.word()),
            dose.oxide_cm2,
            "cm⁻²",
            "Grove, Leistiko, Sah, J. Appl. Phys. 35, 2695, 1964, solved numerically",
        ));
    }
}

fn interstitials(done: &DriveIn, furnace: &Furnace, lines: &mut Vec<WorkingLine>) {
    let (rate_um_h, s) = furnace.at_the_end();
    let face =
        if done.recipe.orientation == Orientation::Face111 { "0.4 · " } else { "" };
    let kt = show(done.simulated.conditions.temperature.to_kt_ev());
    lines.push(WorkingLine::new(
        "S = CI/CI* = 1 + 1.7e-5 R^0.3 exp(−2.08/kT) / exp(−3.5/kT), R in um/h at the end",
        format!(
            "1 + {face}1.7e-5 · {}^0.3 · exp(−2.08/{kt}) / exp(−3.5/{kt})",
            show(rate_um_h)
        ),
        s,
        "",
        SUPERSATURATION_SOURCE,
    ));
    for (dopant, _) in &done.simulated.dopants {
        let share = interstitial_share(*dopant);
        lines.push(WorkingLine::new(
            "D/D* = fI S + (1 − fI)/S down to 2 um, then fading over 10 um",
            format!(
                "{}: {share} · {} + {} / {}",
                dopant.word(),
                show(s),
                show(1.0 - share),
                show(s)
            ),
            enhancement(share, s),
            "",
            SHARE_SOURCE,
        ));
    }
}

/// The line of the numerical error.
pub(super) fn accuracy(accuracy: SolutionAccuracy) -> WorkingLine {
    let percent = match accuracy {
        SolutionAccuracy::Interactive => INTERACTIVE_PERCENT,
        SolutionAccuracy::Reference => REFERENCE_PERCENT,
    };
    WorkingLine::new(
        "numerical error of a depth, at most",
        format!("accuracy {}", accuracy.word()),
        percent,
        "%",
        "largest deviation from the independent reference profiles",
    )
}

/// Largest error of a depth, junctions included, in percent, over
/// all reference profiles (measured; the tests hold it).
pub(super) const INTERACTIVE_PERCENT: f64 = 0.6;
/// The same with reference accuracy.
pub(super) const REFERENCE_PERCENT: f64 = 0.15;

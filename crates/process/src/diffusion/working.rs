//! The derivation of a diffusion step with the reader's numbers in it.

use super::DiffusionResults;
use super::closed_form::{TwoStep, inverse_erfc};
use super::diffusivity::{Arrhenius, DopantDiffusivity, intrinsic_cm3};
use super::drive_in::DriveIn;
use super::predeposition::Predeposition;
use super::simulated::Simulated;
use super::solver::{active_part, electrons};
use super::start::Shape;
use super::working_furnace;
use crate::num::{ln, show};
use crate::report::WorkingLine;
use crate::vocabulary::{DiffusionSolution, Dopant, DopingType};

const CRANK: &str = "Crank, The Mathematics of Diffusion, 1975, ch. 2-3";
const MORIN: &str = "Morin, Maita, Phys. Rev. 96, 28, 1954";
const NUMERICAL: &str = "Fick's laws with the field of the carriers, solved numerically";
const TEXTBOOK: &str = "textbook standard";

/// The working of a predeposition.
pub(super) fn of_predeposition(
    done: &Predeposition,
    results: &DiffusionResults,
) -> Vec<WorkingLine> {
    let simulated = &done.simulated;
    let surface_cm3 = done.supply.surface_cm3;
    let mut lines = Vec::new();
    glass(done, &mut lines);
    lines.push(WorkingLine::new(
        "Cs = concentration held at the surface",
        format!("Cs({}, {})", done.dopant.word(), done.supply.source.word()),
        surface_cm3,
        "cm⁻³",
        done.supply.from,
    ));
    let d_cm2_s = diffusivity(simulated, done.dopant, surface_cm3, &mut lines);
    root_dt(simulated, d_cm2_s, &mut lines);
    let length_cm = done.closed.root_dt_um * 1e-4;
    lines.push(WorkingLine::new(
        "Q = 2 Cs √(D t/π) (constant D)",
        format!("2 · {} · {} / √π", show(surface_cm3), show(length_cm)),
        done.closed.dose_cm2(),
        "cm⁻²",
        CRANK,
    ));
    let background = simulated.substrate.concentration_cm3;
    if let (Some(junction), Some(y)) =
        (done.closed.junction_um(background), inverse_erfc(background / surface_cm3))
    {
        lines.push(WorkingLine::new(
            "xj = 2 √(D t) erfc⁻¹(Cb/Cs) (constant D)",
            format!(
                "2 · {} · erfc⁻¹({}/{}) = 2 · {} · {}",
                show(done.closed.root_dt_um),
                show(background),
                show(surface_cm3),
                show(done.closed.root_dt_um),
                show(y)
            ),
            junction,
            "um",
            CRANK,
        ));
    }
    if done.solution == DiffusionSolution::Numerical {
        lines.push(WorkingLine::new(
            "M + ξ C = −2 h D dC/dξ with ξ = x/√t; Q = M(0) √t (D of each concentration)",
            format!("M(0) · √{}", show(simulated.conditions.time_s)),
            results.dose_cm2,
            "cm⁻²",
            "Boltzmann, Ann. Phys. 53, 959, 1894; exact for a constant source",
        ));
    }
    tail(done, &mut lines);
    outcome(simulated, results, &mut lines);
    lines.extend(done.mask.working.iter().cloned());
    lines
}

/// Lines of a glass film.
fn glass(done: &Predeposition, lines: &mut Vec<WorkingLine>) {
    const CONTACT: &str = "Crank, The Mathematics of Diffusion, 1975, ch. 3; Barry, Olofsen, J. Electrochem. Soc. 116, 854, 1969";
    let Some(glass) = done.supply.glass else { return };
    lines.push(WorkingLine::new(
        "Cs = Cg / (1/m + √(D/Dg)) (thick glass)",
        format!(
            "{} / (1/{} + {})",
            show(glass.glass_cm3),
            show(glass.segregation),
            show(glass.root_ratio())
        ),
        glass.first_surface_cm3(),
        "cm⁻³",
        CONTACT,
    ));
    lines.push(WorkingLine::new(
        "Qg = Cg d: all that the glass holds",
        format!("{} · {} · 1e-4", show(glass.glass_cm3), show(glass.thickness_um)),
        glass.content_cm2(),
        "cm⁻²",
        "given",
    ));
    if done.supply.limiting_glass().is_some() {
        lines.push(WorkingLine::new(
            "Cs at the end / Cs at the start = Σ rⁿ [erfc(nd/√(Dg t)) − erfc((n+1)d/√(Dg t))]",
            format!(
                "d/√(Dg t) = {} / {}",
                show(glass.thickness_um),
                show(glass.glass_root_um)
            ),
            glass.left(),
            "",
            CONTACT,
        ));
    }
}

/// Lines of kink and tail.
fn tail(done: &Predeposition, lines: &mut Vec<WorkingLine>) {
    const SOURCE: &str = "Fair, Tsai, J. Electrochem. Soc. 124, 1107, 1977 (±40 %)";
    let Some(tail) = done.simulated.tail else { return };
    let kt = show(done.simulated.conditions.temperature.to_kt_ev());
    lines.push(WorkingLine::new(
        "C = n + 2.04e-41 n³ at the surface",
        format!("C = {}", show(done.supply.surface_cm3)),
        tail.surface_electrons_cm3,
        "cm⁻³",
        SOURCE,
    ));
    lines.push(WorkingLine::new(
        "ne = 4.65e21 exp(−0.39/kT): electrons at the kink",
        format!("4.65e21 · exp(−0.39/{kt})"),
        tail.kink_cm3,
        "cm⁻³",
        SOURCE,
    ));
    lines.push(WorkingLine::new(
        "Dtail/D⁰ = 1 + (D⁻/D⁰) ns³/(ne² ni) [1 + exp(0.3/kT)], at most 100",
        format!("ns = {}", show(tail.surface_electrons_cm3)),
        tail.enhancement,
        "",
        SOURCE,
    ));
}

/// The working of a drive-in.
pub(super) fn of_drive_in(
    done: &DriveIn,
    results: &DiffusionResults,
) -> Vec<WorkingLine> {
    let simulated = &done.simulated;
    let mut lines = Vec::new();
    for (dopant, layer) in &done.start.layers {
        lines.push(WorkingLine::new(
            "Q = ∫ C dx (start)",
            format!("∫ C({}) dx", dopant.word()),
            layer.dose_cm2(),
            "cm⁻²",
            "given",
        ));
    }
    if let Some((dopant, c)) = simulated.dopants.first() {
        let largest = c.iter().copied().fold(0.0, f64::max);
        let d_cm2_s = diffusivity(simulated, *dopant, largest, &mut lines);
        root_dt(simulated, d_cm2_s, &mut lines);
    }
    if let Shape::Predeposition { root_dt_um, surface_cm3 } = done.start.shape {
        lines.push(WorkingLine::new(
            "√(D₂ t₂) / √(D₁ t₁) ≥ 4 for the Gaussian to hold",
            format!("{} / {}", show(simulated.root_dt_um), show(root_dt_um)),
            simulated.root_dt_um / root_dt_um,
            "",
            "common practice",
        ));
        let both = TwoStep {
            surface_cm3,
            first_root_um: root_dt_um,
            second_root_um: simulated.root_dt_um,
        };
        lines.push(WorkingLine::new(
            "Cs = (2 Cs₁/π) atan(√(D₁ t₁)/√(D₂ t₂)) (constant D, any two times)",
            format!(
                "2 · {}/π · atan({}/{})",
                show(surface_cm3),
                show(root_dt_um),
                show(simulated.root_dt_um)
            ),
            both.surface_after_cm3(),
            "cm⁻³",
            "Smith 1953, quoted in Jaeger, Introduction to Microelectronic Fabrication",
        ));
    }
    if let Some(closed) = done.closed {
        let width_cm = closed.width_um * 1e-4;
        lines.push(WorkingLine::new(
            "S = √(ΔRp² + 2 D t) (constant D)",
            format!(
                "√({}² + 2 · {}²)",
                show(
                    (closed.width_um * closed.width_um
                        - 2.0 * simulated.root_dt_um * simulated.root_dt_um)
                        .max(0.0)
                        .sqrt()
                ),
                show(simulated.root_dt_um)
            ),
            closed.width_um,
            "um",
            CRANK,
        ));
        if closed.range_um <= 0.0 {
            lines.push(WorkingLine::new(
                "Cs = 2 Q / (√(2π) S) (constant D)",
                format!("2 · {} / (√(2π) · {})", show(closed.dose_cm2), show(width_cm)),
                closed.concentration_cm3(0.0),
                "cm⁻³",
                CRANK,
            ));
        }
        let background = simulated.substrate.concentration_cm3;
        if let Some(junction) = closed.junction_um(background) {
            let peak = closed.concentration_cm3(if closed.range_um < closed.width_um {
                0.0
            } else {
                closed.range_um
            });
            lines.push(WorkingLine::new(
                "xj = Rp + S √(2 ln(Cmax/Cb)) (constant D; exact for Rp = 0)",
                format!(
                    "{} + {} · √(2 ln({}/{})) = {} + {} · {}",
                    show(closed.range_um),
                    show(closed.width_um),
                    show(peak),
                    show(background),
                    show(closed.range_um),
                    show(closed.width_um),
                    show((2.0 * ln(peak / background)).max(0.0).sqrt())
                ),
                junction,
                "um",
                CRANK,
            ));
        }
    }
    if done.solution == DiffusionSolution::Numerical {
        lines.push(WorkingLine::new(
            "∂C/∂t = ∂/∂x[(D/m) ∂(C m)/∂x], m = n/ni or p/ni: surface concentration at the end",
            format!(
                "{} nodes, {} time steps",
                simulated.depth_um.len(),
                simulated.steps
            ),
            results.surface_concentration_cm3,
            "cm⁻³",
            NUMERICAL,
        ));
        lines.push(working_furnace::accuracy(done.accuracy));
    }
    lines.extend(working_furnace::lines(done, results));
    if 0.0 < done.evaporation_cm_s
        && let Some(ledger) = simulated.ledgers.first()
    {
        lines.push(WorkingLine::new(
            "Q lost = ∫ h C(0) dt",
            format!("h = {} cm/s", show(done.evaporation_cm_s)),
            -ledger.gained_cm2,
            "cm⁻²",
            NUMERICAL,
        ));
    }
    outcome(simulated, results, &mut lines);
    lines
}

/// Lines of the diffusivity; gives the intrinsic value in cm2/s.
fn diffusivity(
    simulated: &Simulated,
    dopant: Dopant,
    largest_cm3: f64,
    lines: &mut Vec<WorkingLine>,
) -> f64 {
    let conditions = &simulated.conditions;
    let (temperature, set) = (conditions.temperature, conditions.set);
    lines.push(WorkingLine::new(
        "k T",
        format!("8.617e-5 · ({} + 273.15)", show(temperature.to_celsius())),
        temperature.to_kt_ev(),
        "eV",
        "CODATA 2018",
    ));
    let Some(found) = set.diffusivity(dopant) else { return 0.0 };
    let DopantDiffusivity { neutral, single, double } = found;
    let kt = temperature.to_kt_ev();
    let mut component = |name: &str, part: Arrhenius| {
        lines.push(WorkingLine::new(
            &format!("{name} = D₀ exp(−E/kT)"),
            format!(
                "{} · exp(−{}/{})",
                show(part.prefactor_cm2_s),
                show(part.energy_ev),
                show(kt)
            ),
            part.at(temperature),
            "cm²/s",
            set.source(),
        ));
    };
    let donor = dopant.doping_type() == DopingType::N;
    let names = match (set.is_constant(), donor) {
        (true, _) => ["D", "", ""],
        (false, true) => ["D⁰", "D⁻", "D⁼"],
        (false, false) => ["D⁰", "D⁺", "D⁺⁺"],
    };
    component(names[0], neutral);
    if let Some(part) = single {
        component(names[1], part);
    }
    if let Some(part) = double {
        component(names[2], part);
    }
    let parts = found.components(temperature);
    if !set.is_constant() {
        carriers(simulated, dopant, largest_cm3, lines);
    }
    parts.at(1.0)
}

/// Lines of the carriers at the highest concentration and what they do to the diffusivity.
fn carriers(
    simulated: &Simulated,
    dopant: Dopant,
    largest_cm3: f64,
    lines: &mut Vec<WorkingLine>,
) {
    let conditions = &simulated.conditions;
    let Some(found) = conditions.set.diffusivity(dopant) else { return };
    let parts = found.components(conditions.temperature);
    let ni = intrinsic_cm3(conditions.temperature);
    let limit = conditions.limit_cm3(dopant).unwrap_or(None);
    let (active, _) = active_part(largest_cm3, limit);
    // Electrons for donors, holes for acceptors: the substrate counts with its sign.
    let net = active + dopant.charge() * simulated.substrate.net_donors_cm3();
    let (m, sensitivity) = electrons(net, ni);
    let donor = dopant.doping_type() == DopingType::N;
    let carrier = if donor { "n" } else { "p" };
    lines.push(WorkingLine::new(
        "ni = 3.87e16 T^1.5 exp(−0.605/kT)",
        format!(
            "3.87e16 · {}^1.5 · exp(−0.605/{})",
            show(conditions.temperature.to_kelvin()),
            show(conditions.temperature.to_kt_ev())
        ),
        ni,
        "cm⁻³",
        MORIN,
    ));
    if let Some(limit) = limit {
        lines.push(WorkingLine::new(
            "A from C = A (1 + (A/Climit)³): electrically active part of the highest concentration",
            format!("C = {}, Climit = {}", show(largest_cm3), show(limit)),
            active,
            "cm⁻³",
            "model choice, with the published active limit",
        ));
    }
    lines.push(WorkingLine::new(
        &format!("{carrier}/ni = N/2ni + √((N/2ni)² + 1) at the highest concentration"),
        format!(
            "N = {}: {} + √({}² + 1)",
            show(net),
            show(net / (2.0 * ni)),
            show(net / (2.0 * ni))
        ),
        m,
        "",
        "neutrality, textbook standard",
    ));
    let (equation, numbers) = match (donor, parts.double_cm2_s > 0.0) {
        (true, true) => (
            "D = D⁰ + D⁻ (n/ni) + D⁼ (n/ni)² there",
            format!(
                "{} + {} · {} + {} · {}²",
                show(parts.neutral_cm2_s),
                show(parts.single_cm2_s),
                show(m),
                show(parts.double_cm2_s),
                show(m)
            ),
        ),
        (true, false) => (
            "D = D⁰ + D⁻ (n/ni) there",
            format!(
                "{} + {} · {}",
                show(parts.neutral_cm2_s),
                show(parts.single_cm2_s),
                show(m)
            ),
        ),
        (false, _) => (
            "D = D⁰ + D⁺ (p/ni) there",
            format!(
                "{} + {} · {}",
                show(parts.neutral_cm2_s),
                show(parts.single_cm2_s),
                show(m)
            ),
        ),
    };
    lines.push(WorkingLine::new(
        equation,
        numbers,
        parts.at(m),
        "cm²/s",
        conditions.set.source(),
    ));
    lines.push(WorkingLine::new(
        "h = 1 + N/√(N² + 4 ni²) (field factor)",
        format!("1 + {}/√({}² + 4 · {}²)", show(active), show(net), show(ni)),
        1.0 + active * sensitivity,
        "",
        TEXTBOOK,
    ));
}

fn root_dt(simulated: &Simulated, d_cm2_s: f64, lines: &mut Vec<WorkingLine>) {
    let held_um = (d_cm2_s * simulated.conditions.time_s).sqrt() * 1e4;
    // In a ramp the integral stands in the place of D t.
    let ramped = 1e-6 < (simulated.root_dt_um / held_um - 1.0).abs();
    if !simulated.conditions.set.is_constant() {
        lines.push(WorkingLine::new(
            "Di = sum of the components (n = p = ni)",
            "intrinsic silicon".to_owned(),
            d_cm2_s,
            "cm²/s",
            simulated.conditions.set.source(),
        ));
    }
    lines.push(WorkingLine::new(
        if ramped { "√(∫ D dt)" } else { "√(D t)" },
        if ramped {
            format!(
                "with the ramps; √({} · {}) without",
                show(d_cm2_s),
                show(simulated.conditions.time_s)
            )
        } else {
            format!("√({} · {}) cm", show(d_cm2_s), show(simulated.conditions.time_s))
        },
        simulated.root_dt_um,
        "um",
        CRANK,
    ));
}

/// Lines of junction and sheet resistance, as the answer gives them.
fn outcome(
    simulated: &Simulated,
    results: &DiffusionResults,
    lines: &mut Vec<WorkingLine>,
) {
    if let Some(junction) = results.junction_depth_um {
        lines.push(WorkingLine::new(
            "xj: ND(xj) = NA(xj)",
            format!("substrate {} per cm3", show(simulated.substrate.concentration_cm3)),
            junction,
            "um",
            "profile of this answer",
        ));
    }
    if let Some(sheet) = results.sheet_resistance_ohm_sq {
        let to = results.junctions_um.first().copied().map_or_else(
            || "the depth where the substrate prevails".to_owned(),
            |x| format!("{} um", show(x)),
        );
        lines.push(WorkingLine::new(
            "1/Rs = q ∫ μ(NA + ND) |ND − NA| dx",
            format!("1.602e-19 · ∫ from 0 to {to}"),
            sheet,
            "ohm/sq",
            "mobility: Masetti, Severi, Solmi, IEEE Trans. Electron Devices 30, 764, 1983",
        ));
    }
}

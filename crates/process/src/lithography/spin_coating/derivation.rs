//! The derivation of a film thickness with the reader's numbers put in.

use super::laws::{
    DENSITY_KG_M3, EVAPORATION_UM_S, REFERENCE_SPEED_RPM, angular_rad_s,
    forgetting_time_s, height_without_evaporation_um, transition_height_um,
};
use super::request::Spin;
use super::{
    AIR_VISCOSITY_M2_S, BAKED_SOLVENT_FRACTION, BEAD_LENGTH_MM, SPIRAL_REYNOLDS,
    STOPPED_SOLIDS_FRACTION, SURFACE_TENSION_N_M, SpinCoatingResults, TURBULENT_REYNOLDS,
};
use crate::num::show;
use crate::report::WorkingLine;

const DRAIN: &str =
    "A. G. Emslie, F. T. Bonner, L. G. Peck, J. Appl. Phys. 29, 858 (1958) (memory)";
const DRYING: &str = "D. Meyerhofer, J. Appl. Phys. 49, 3993 (1978) (memory)";
const BALANCE: &str = "volume balance (derived)";

pub(super) fn working(spin: &Spin, results: &SpinCoatingResults) -> Vec<WorkingLine> {
    let liquid = spin.resist.formulation();
    let (c0, eta) = (liquid.solids_fraction, liquid.viscosity_mpa_s);
    let (h0_um, rpm) = (spin.dispense_um, spin.speed_rpm);
    let omega = angular_rad_s(rpm);
    let nu_m2_s = eta * 1e-3 / DENSITY_KG_M3;
    let dry_um_s = spin.evaporation_um_s();
    let h_tr_um = transition_height_um(liquid, dry_um_s, rpm);
    let early_s = 1.0;
    let early_um = height_without_evaporation_um(h0_um, eta, rpm, early_s);
    let solids_um = 1e-3 * results.solids_nm;
    let wet_um = 1e-3 * results.wet_thickness_nm;
    let radius_m = 0.5e-3 * spin.wafer_diameter_mm;
    let b = results.across.bead_ratio;
    let mut lines = vec![
        WorkingLine::new(
            "ω = 2π n / 60",
            format!("ω = 2π · {} / 60", show(rpm)),
            omega,
            "rad/s",
            "definition",
        ),
        WorkingLine::new(
            "t* = 3 η / (4 ρ ω² h₀²)",
            format!(
                "t* = 3 · {} / (4 · {} · {}² · ({})²)   [Pa s, kg/m³, rad/s, m]",
                show(eta * 1e-3),
                show(DENSITY_KG_M3),
                show(omega),
                show(h0_um * 1e-6)
            ),
            forgetting_time_s(h0_um, eta, rpm),
            "s",
            DRAIN,
        ),
        WorkingLine::new(
            "h(t) = h₀ / √(1 + t/t*), drain alone at full speed",
            format!(
                "h(1 s) = {} / √(1 + {} / {})",
                show(h0_um),
                show(early_s),
                show(forgetting_time_s(h0_um, eta, rpm))
            ),
            early_um,
            "µm",
            DRAIN,
        ),
        WorkingLine::new(
            "E = E₀ √(n / n₀)",
            format!(
                "E = {} · √({} / {})",
                show(EVAPORATION_UM_S),
                show(rpm),
                show(REFERENCE_SPEED_RPM)
            ),
            dry_um_s,
            "µm/s",
            "laminar air: D. Meyerhofer, J. Appl. Phys. 49, 3993 (1978) (memory); E₀: model choice",
        ),
        WorkingLine::new(
            "h_tr = [3 ν E / (2 (1 − c₀) ω²)]^(1/3)",
            format!(
                "h_tr = [3 · {} · {} / (2 · (1 − {}) · {}²)]^(1/3)   [m²/s, m/s, rad/s → m]",
                show(nu_m2_s),
                show(dry_um_s * 1e-6),
                show(c0),
                show(omega)
            ),
            h_tr_um,
            "µm",
            DRYING,
        ),
        WorkingLine::new(
            "h_est = c₀ h_tr / (1 − φ), two-stage estimate after the bake",
            format!(
                "h_est = {} · {} / (1 − {})",
                show(c0),
                show(h_tr_um),
                show(BAKED_SOLVENT_FRACTION)
            ),
            results.two_stage_nm,
            "nm",
            DRYING,
        ),
        WorkingLine::new(
            "dS/dt = −c Q, dh/dt = −Q − E(c, ω), Q = 2ρω²h³/(3η(c)); η grows while the film dries",
            format!(
                "solved in time: h({} s) = {} µm, c = {}",
                show(results.curve.time_s.last().copied().unwrap_or_default()),
                show(wet_um),
                show(results.solids_fraction)
            ),
            results.wet_thickness_nm,
            "nm",
            "D. Meyerhofer (1978) (memory); η(c) and skin at c = 0.85: model choice",
        ),
        WorkingLine::new(
            "S = c h, solids left",
            format!("S = {} · {}", show(results.solids_fraction), show(wet_um)),
            results.solids_nm,
            "nm",
            BALANCE,
        ),
        WorkingLine::new(
            "c₀ h₀ = S + drained; kept = S / (c₀ h₀)",
            format!(
                "{} · {} = {} + {} µm; kept = {} / {}",
                show(c0),
                show(h0_um),
                show(solids_um),
                show(c0 * h0_um - solids_um),
                show(solids_um),
                show(c0 * h0_um)
            ),
            results.kept_fraction,
            "",
            BALANCE,
        ),
        WorkingLine::new(
            "h = S / (1 − φ), soft bake to φ = 4 % solvent",
            format!("h = {} / (1 − {})", show(solids_um), show(BAKED_SOLVENT_FRACTION)),
            results.thickness_nm,
            "nm",
            "volume balance (derived); φ: model choice",
        ),
        WorkingLine::new(
            "estimate against full solution: h_est / h − 1 (in percent)",
            format!(
                "100 · ({} / {} − 1)",
                show(results.two_stage_nm),
                show(results.thickness_nm)
            ),
            100.0 * (results.two_stage_nm / results.thickness_nm - 1.0),
            "%",
            "computed; the estimate leaves out that the resist thickens while it dries",
        ),
        WorkingLine::new(
            "Re = ω R² / ν_air at the rim",
            format!(
                "Re = {} · {}² / {}   (spirals from {}, turbulence from {})",
                show(omega),
                show(radius_m),
                show(AIR_VISCOSITY_M2_S),
                show(SPIRAL_REYNOLDS),
                show(TURBULENT_REYNOLDS)
            ),
            results.rim_reynolds,
            "",
            "N. Gregory, J. T. Stuart, W. S. Walker, Phil. Trans. R. Soc. A 248, 155 (1955); R. J. Lingwood, J. Fluid Mech. 299, 17 (1995) (memory)",
        ),
        WorkingLine::new(
            "bead = h (1 + b), b = h / 1 µm between 1 and 4",
            format!(
                "bead = {} · (1 + {})   falling off within {} mm",
                show(results.across.bead_nm / (1.0 + b)),
                show(b),
                show(BEAD_LENGTH_MM)
            ),
            results.across.bead_nm,
            "nm",
            "model choice (rings of 1 to 5 mm are common practice)",
        ),
    ];
    if let Some(step) = &results.step {
        let shrink = STOPPED_SOLIDS_FRACTION / (1.0 - BAKED_SOLVENT_FRACTION);
        let radius_mm = spin.step.map_or(0.0, |step| step.radius_mm);
        lines.push(WorkingLine::new(
            "w_c = [h_l γ / (ρ ω² r)]^(1/3), h_l = S / c_g",
            format!(
                "w_c = [{} · {} / ({} · {}² · {})]^(1/3)   [m, N/m, kg/m³, rad/s, m]",
                show(1e-6 * solids_um / STOPPED_SOLIDS_FRACTION),
                show(SURFACE_TENSION_N_M),
                show(DENSITY_KG_M3),
                show(omega),
                show(1e-3 * radius_mm)
            ),
            step.leveling_um,
            "µm",
            "L. E. Stillwagon, R. G. Larson, J. Appl. Phys. 63, 5251 (1988) (memory); c_g = 0.5: model choice",
        ));
        lines.push(WorkingLine::new(
            "h_top = c_g d / (1 − φ), d = liquid over the middle of the step",
            format!(
                "h_top = {} · d,  d = {} nm   (level film: d = {} nm)",
                show(shrink),
                show(step.top_nm / shrink),
                show(step.field_nm / shrink)
            ),
            step.top_nm,
            "nm",
            "local shrinking (model choice)",
        ));
    }
    lines
}

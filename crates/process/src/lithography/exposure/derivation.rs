//! The derivation of an exposure with the reader's numbers put in.

use super::request::{Exposure, Tool};
use super::results::ExposureResults;
use crate::lithography::imaging::cut_off_per_um;
use crate::num::show;
use crate::report::WorkingLine;

pub(super) fn working(
    exposure: &Exposure,
    results: &ExposureResults,
) -> Vec<WorkingLine> {
    let optics = exposure.optics;
    let (lambda, aperture) = (optics.wavelength_um, optics.numerical_aperture);
    let mut lines = Vec::new();
    match exposure.tool {
        Tool::Projection => {
            lines.push(WorkingLine::new(
                "R = k₁ λ / NA",
                format!(
                    "R = {} · {} / {}",
                    show(exposure.k1),
                    show(lambda),
                    show(aperture)
                ),
                results.resolution_um,
                "µm",
                "Lord Rayleigh (1879); k₁: common practice",
            ));
            if let Some(depth) = results.depth_of_focus_um {
                lines.push(WorkingLine::new(
                    "DOF = ± k₂ λ / NA²",
                    format!(
                        "DOF = {} · {} / {}²",
                        show(exposure.k2),
                        show(lambda),
                        show(aperture)
                    ),
                    depth,
                    "µm",
                    "Lord Rayleigh (1879); k₂: common practice",
                ));
            }
            lines.push(WorkingLine::new(
                "f_max = (1 + σ) NA / λ, the finest pattern that reaches the wafer",
                format!(
                    "f_max = (1 + {}) · {} / {}",
                    show(optics.partial_coherence),
                    show(aperture),
                    show(lambda)
                ),
                cut_off_per_um(optics.partial_coherence, lambda, aperture),
                "1/µm",
                "M. Born, E. Wolf, Principles of Optics, 10.5 (memory)",
            ));
        }
        Tool::Contact | Tool::Proximity => lines.push(WorkingLine::new(
            "b = 3/2 √(λ (s + d/2))",
            format!(
                "b = 1.5 · √({} · ({} + {} / 2))",
                show(lambda),
                show(exposure.gap_um),
                show(1e-3 * exposure.thickness_nm)
            ),
            results.resolution_um,
            "µm",
            "S. M. Sze (ed.), VLSI Technology (memory; 20 % by criterion)",
        )),
    }
    lines.push(WorkingLine::new(
        "NILS = w |dI/dx| / I at the drawn edge",
        format!(
            "NILS = {} · {}",
            show(exposure.mask.nominal_um()),
            show(results.nils / exposure.mask.nominal_um())
        ),
        results.nils,
        "",
        "image: sum over source points or Fresnel integrals (M. Born, E. Wolf; memory)",
    ));
    lines.push(WorkingLine::new(
        "p = λ / (2 n), standing wave",
        format!(
            "p = {} / (2 · {})",
            show(exposure.line.wavelength_nm()),
            show(exposure.bleaching.index)
        ),
        results.standing_wave_nm,
        "nm",
        "interference of two plane waves (derived)",
    ));
    if let Some([temperature_c, time_s]) = exposure.bake {
        lines.push(WorkingLine::new(
            "σ = 50 nm √(t / 60 s) exp[−(Eₐ/2k)(1/T − 1/383 K)]",
            format!(
                "σ = 50 · √({} / 60) at {} °C, Eₐ = 1.4 eV",
                show(time_s),
                show(temperature_c)
            ),
            results.diffusion_length_nm,
            "nm",
            "model choice (30 to 60 nm is common practice)",
        ));
    }
    if let Some(clear) = results.dose_to_clear_mj_cm2 {
        let b = exposure.bleaching;
        lines.push(WorkingLine::new(
            "dI/dz = −I (A M + B), dM/dE = −C I M; E₀ by ∫dz/r(M) = 60 s",
            format!(
                "A = {} 1/µm, B = {} 1/µm, C = {} cm²/mJ on the stack below",
                show(b.bleachable_per_um),
                show(b.residual_per_um),
                show(b.bleach_rate_cm2_mj)
            ),
            clear,
            "mJ/cm²",
            "F. H. Dill and others, IEEE Trans. Electron Devices ED-22, 445 (1975); C. A. Mack, J. Electrochem. Soc. 134, 148 (1987) (memory); numbers of the demo resist: model choice",
        ));
    }
    lines
}

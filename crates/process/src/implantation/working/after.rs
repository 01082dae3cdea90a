//! What follows from the profile: the reach under a mask, the damage, and what an anneal will
//! make of it.

use crate::implantation::ImplantationResults;
use crate::implantation::calculation::Calculation;
use crate::num::show;
use crate::report::WorkingLine;

const FURUKAWA: &str =
    "Furukawa, Matsumura, Ishiwara, Jpn. J. Appl. Phys. 11, 134 (1972)";
const MOREHEAD: &str =
    "Morehead, Crowder, Radiat. Eff. 6, 27 (1970), type of criterion, within a factor 2";

pub(super) fn lines(
    calculation: &Calculation,
    results: &ImplantationResults,
    lines: &mut Vec<WorkingLine>,
) {
    under_mask(calculation, results, lines);
    damage(calculation, results, lines);
    anneal(results, lines);
}

fn under_mask(
    calculation: &Calculation,
    results: &ImplantationResults,
    lines: &mut Vec<WorkingLine>,
) {
    let Some(reach_um) = results.lateral_junction_um else { return };
    let settings = &calculation.settings;
    lines.push(WorkingLine::new(
        "Cp (1/2) erfc(y/(sqrt2 dRl')) = Cb: the junction under a vertical mask edge",
        format!(
            "dRl' = {} nm, Cb/Cp = {}; at the edge itself half of Cp",
            show(calculation.moments.lateral_nm),
            show(settings.substrate.concentration_cm3 / results.peak_cm3)
        ),
        reach_um,
        "um",
        FURUKAWA,
    ));
}

fn damage(
    calculation: &Calculation,
    results: &ImplantationResults,
    lines: &mut Vec<WorkingLine>,
) {
    let Some(damage) = &results.damage else { return };
    lines.push(WorkingLine::new(
        "E_n = sum of E f_n over the atoms of the ion",
        format!(
            "{} of {} keV go into collisions with nuclei",
            show(1e-3 * damage.nuclear_energy_ev),
            show(calculation.settings.energy_kev)
        ),
        damage.nuclear_energy_ev,
        "eV",
        "f_n computed: binary collisions, universal potential",
    ));
    lines.push(WorkingLine::new(
        "peak of Q E_n g(x), g a bell cut off at the surface",
        format!("largest at {} nm", show(damage.peak_depth_nm)),
        damage.peak_ev_cm3,
        "eV/cm^3",
        "mean and width of g computed where the collisions happen",
    ));
    if let Some(dose_cm2) = damage.critical_energy_dose_cm2 {
        lines.push(WorkingLine::new(
            "dose at which that peak reaches 6e23 eV/cm^3",
            format!(
                "{} cm^-2 * 6e23 / {}; at room temperature this ion needs about {} cm^-2 as well, because damage heals",
                show(calculation.settings.dose_cm2),
                show(damage.peak_ev_cm3),
                show(damage.amorphizing_dose_cm2)
            ),
            dose_cm2,
            "cm^-2",
            MOREHEAD,
        ));
    }
    if let (Some(from_nm), Some(to_nm)) =
        (damage.amorphous_from_nm, damage.amorphous_to_nm)
    {
        lines.push(WorkingLine::new(
            "amorphous where Q E_n g(x) > 6e23 eV/cm^3: the deepest such x",
            format!("from {} nm on", show(from_nm)),
            to_nm,
            "nm",
            MOREHEAD,
        ));
    }
}

fn anneal(results: &ImplantationResults, lines: &mut Vec<WorkingLine>) {
    if let Some(activation) = &results.activation {
        if let Some(regrowth_min) = activation.regrowth_600c_min {
            lines.push(WorkingLine::new(
                "regrowth at 600 °C: thickness / v, v = 3.1e8 exp(-2.68/kT) cm/s, <100>",
                "60 nm/min from each crystalline face".to_owned(),
                regrowth_min,
                "min",
                "Olson, Roth, Mater. Sci. Rep. 3, 1 (1988), within a factor 1.5",
            ));
        }
        let at_1000 = activation
            .temperature_c
            .iter()
            .zip(&activation.active_fraction)
            .find(|(celsius, _)| (**celsius - 1000.0).abs() < 1.0);
        if let Some((_, &fraction)) = at_1000 {
            lines.push(WorkingLine::new(
                "active share after 30 min at 1000 °C, profile as implanted",
                "f of the furnace rule, regrown layer, active limit".to_owned(),
                fraction,
                "",
                "illustrative rule after Seidel, MacRae (1971); active limits as in a diffusion",
            ));
        }
    }
    if let Some(transient) = &results.transient_diffusion {
        lines.push(WorkingLine::new(
            "bound of the extra sqrt(2 D t) of boron = 100 nm sqrt(min(1, N/1e14))",
            format!(
                "N = {} cm^-2; usual {} nm",
                show(results.retained_dose_cm2),
                show(transient.length_nm)
            ),
            transient.bound_nm,
            "nm",
            "Michel et al., Appl. Phys. Lett. 50, 416 (1987): 50 to 100 nm at 1e14",
        ));
    }
}

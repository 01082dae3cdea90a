//! The derivation: one collision by hand, then what the counts say.

use super::moments::share;
use super::target::{Slab, projectile};
use super::{TrackRun, half_angle_sine_squared, ion_word};
use crate::implantation::ImplantationResults;
use crate::implantation::calculation::BORON_SHARE_OF_BF2;
use crate::num::show;
use crate::report::WorkingLine;
use crate::vocabulary::Ion;

const UNIVERSAL: &str =
    "Ziegler, Biersack, Littmark, The Stopping and Range of Ions in Solids, 1985, ch. 2";
const BIERSACK: &str = "Biersack, Haggmark, Nucl. Instrum. Methods 174, 257 (1980)";
const STATISTICS: &str = "statistics of the counted ions (definition)";

/// All lines, in the order of the calculation.
pub(super) fn lines(run: &TrackRun, results: &ImplantationResults) -> Vec<WorkingLine> {
    let mut lines = Vec::new();
    beam(run, &mut lines);
    if let Some(slab) = run.slabs.first() {
        collision(run, slab, &mut lines);
        friction(run, slab, &mut lines);
    }
    counts(run, results, &mut lines);
    lines
}

fn beam(run: &TrackRun, lines: &mut Vec<WorkingLine>) {
    let calculation = &run.calculation;
    if calculation.settings.ion == Ion::Bf2 {
        lines.push(WorkingLine::new(
            "E_B = E * 11.009/49.006",
            format!(
                "{} keV * {}",
                show(calculation.settings.energy_kev),
                show(BORON_SHARE_OF_BF2)
            ),
            calculation.atom_energy_kev,
            "keV",
            "all atoms of BF2 fly at one speed: energy in proportion to mass",
        ));
    }
}

/// The first collision of an ion that comes half way to the edge of an atom's area.
fn collision(run: &TrackRun, slab: &Slab, lines: &mut Vec<WorkingLine>) {
    let stopping = &slab.stopping;
    let Some(partner) = stopping.partners.first() else { return };
    let energy_ev = run.source.energy_ev;
    lines.push(WorkingLine::new(
        "L = N^(-1/3), the way to the next collision",
        format!("N = {} atoms/nm^3", show(stopping.atoms_nm3)),
        stopping.free_path_nm,
        "nm",
        BIERSACK,
    ));
    lines.push(WorkingLine::new(
        "p_max = 1/sqrt(pi N L); p = p_max sqrt(random)",
        format!(
            "1/sqrt(3.142 * {} nm^-3 * {} nm)",
            show(stopping.atoms_nm3),
            show(stopping.free_path_nm)
        ),
        stopping.widest_impact_nm,
        "nm",
        BIERSACK,
    ));
    let length_nm = 1.0 / partner.per_screening_length;
    lines.push(WorkingLine::new(
        "a = 0.8854 a0/(Z1^0.23 + Z2^0.23)",
        format!(
            "{} on the first kind of atom in its way",
            ion_word(run.calculation.settings.ion)
        ),
        length_nm,
        "nm",
        UNIVERSAL,
    ));
    let reduced = energy_ev * partner.reduced_energy_per_ev;
    lines.push(WorkingLine::new(
        "eps = a M2 E/(Z1 Z2 e^2 (M1 + M2))",
        format!("at the full {} keV", show(1e-3 * energy_ev)),
        reduced,
        "",
        UNIVERSAL,
    ));
    // An impact parameter of one screening length: a collision of medium violence.
    let sine_squared = half_angle_sine_squared(reduced, 1.0);
    lines.push(WorkingLine::new(
        "T = 4 M1 M2/(M1 + M2)^2 E sin^2(theta/2), theta = pi - 2 p Int dr/(r^2 sqrt(1 - V/E - p^2/r^2))",
        format!(
            "{} * {} eV * {}, if the first collision passes at p = a",
            show(partner.handed_over),
            show(energy_ev),
            show(sine_squared)
        ),
        partner.handed_over * energy_ev * sine_squared,
        "eV",
        UNIVERSAL,
    ));
}

fn friction(run: &TrackRun, slab: &Slab, lines: &mut Vec<WorkingLine>) {
    let own = projectile(run.calculation.settings.species.dopant());
    let root = run.source.energy_ev.sqrt();
    lines.push(WorkingLine::new(
        "dE/dx = k sqrt(E), friction with the electrons",
        format!(
            "{} eV^(1/2)/nm * sqrt({} eV), Z1 = {}, M1 = {}",
            show(slab.stopping.electronic_ev_nm),
            show(run.source.energy_ev),
            own.number,
            own.mass_u
        ),
        slab.stopping.electronic_ev_nm * root,
        "eV/nm",
        "Lindhard, Scharff, Phys. Rev. 124, 128 (1961); for boron times 1.6 (1.15 on light atoms), chosen to meet the range of 100 keV",
    ));
}

fn counts(run: &TrackRun, results: &ImplantationResults, lines: &mut Vec<WorkingLine>) {
    let Some(ions) = &results.single_ions else { return };
    let at_rest = run.tally.stops.len();
    let error = |value: Option<f64>, unit: &str| {
        value.map_or_else(
            || "error not known".to_owned(),
            |value| format!("± {}{unit}", show(value)),
        )
    };
    let n = format!("{at_rest} ions at rest");
    lines.push(WorkingLine::new(
        "Rp = mean of the way along the beam; error = dRp/sqrt(n)",
        format!("{n}, {}", error(ions.projected_range_error_nm, " nm")),
        results.projected_range_nm,
        "nm",
        STATISTICS,
    ));
    lines.push(WorkingLine::new(
        "dRp = standard deviation; error = dRp sqrt((kurtosis - 1)/(4 n))",
        format!("{n}, {}", error(ions.straggle_error_nm, " nm")),
        results.straggle_nm,
        "nm",
        STATISTICS,
    ));
    lines.push(WorkingLine::new(
        "dRl = root mean square of the way across the beam, along one axis",
        format!("{n}, {}", error(ions.lateral_straggle_error_nm, " nm")),
        results.lateral_straggle_nm,
        "nm",
        STATISTICS,
    ));
    let back = share(run.tally.backscattered, run.done());
    lines.push(WorkingLine::new(
        "R = ions out through the surface/all ions; error = sqrt(R (1 - R)/n)",
        format!("{}/{}, {}", run.tally.backscattered, run.done(), error(back.error, "")),
        back.value,
        "",
        STATISTICS,
    ));
    lines.push(WorkingLine::new(
        "f_n = sum of all T/(n E)",
        format!("{} ions of {} keV", run.done(), show(1e-3 * run.source.energy_ev)),
        ions.nuclear_fraction,
        "",
        STATISTICS,
    ));
    lines.push(WorkingLine::new(
        "Cp = Q (ions in the fullest bar)/(n width)",
        format!(
            "{} cm^-2, {} ions, bars of {} nm",
            show(run.calculation.settings.dose_cm2),
            run.done(),
            show(run.tally.width_nm(run.slabs.len() - 1))
        ),
        results.peak_cm3,
        "cm^-3",
        STATISTICS,
    ));
}

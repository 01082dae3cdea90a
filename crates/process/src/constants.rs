//! Physical constants that more than one module needs, each with its source.

use crate::sourced::List;

/// Boltzmann constant in eV/K. CODATA 2018: 8.617333262e-5 (exact by definition of the SI).
pub const BOLTZMANN_EV_K: f64 = 8.617_333_262e-5;

/// Elementary charge in C. CODATA 2018: 1.602176634e-19 (exact by definition of the SI).
pub const ELEMENTARY_CHARGE_C: f64 = 1.602_176_634e-19;

/// Thickness of silicon consumed per thickness of oxide grown.
///
/// `N_SiO2 / N_Si` = (2.20 / 60.084) / (2.329 / 28.0855) = 0.4415 from the densities (g/cm3)
/// and molar masses; textbooks use 0.44 (B. E. Deal, A. S. Grove, J. Appl. Phys. 36, 3770,
/// 1965; memory), and so do we.
pub const SILICON_PER_OXIDE: f64 = 0.44;

/// Atoms in a mole. CODATA 2018: 6.02214076e23 (exact by definition of the SI).
pub const AVOGADRO: f64 = 6.022_140_76e23;

/// Adds these constants to the list of all.
pub(crate) fn list(list: &mut List) {
    list.source("CODATA 2018", "memory (exact by definition of the SI)", "everywhere")
        .add("Boltzmann constant", BOLTZMANN_EV_K, "eV/K")
        .add("elementary charge", ELEMENTARY_CHARGE_C, "C")
        .add("atoms in a mole", AVOGADRO, "1/mol");
    list.source(
        "B. E. Deal, A. S. Grove, J. Appl. Phys. 36, 3770 (1965); 0.4415 from the densities \
         2.20 and 2.329 g/cm3",
        "memory; derived",
        "thermal oxide",
    )
    .add("silicon used up per oxide grown", SILICON_PER_OXIDE, "");
}

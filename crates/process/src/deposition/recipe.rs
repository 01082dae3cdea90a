//! The recipes: one row for each film and each way of making it.

use super::coverage::Arrival;
use crate::etching::Variant;
use crate::vocabulary::{Material, words};

words!(
    /// A film that is deposited.
    DepositedFilm {
        /// From silane.
        Polysilicon = "polysilicon", "polysilicon";
        /// From dichlorosilane or silane with ammonia.
        Nitride = "nitride", "silicon nitride";
        /// From silane and oxygen, from TEOS, or spun on.
        DepositedOxide = "deposited_oxide", "deposited oxide";
        /// Oxide with phosphorus.
        PhosphorusGlass = "phosphorus_glass", "phosphorus glass";
        /// With about 1 % silicon, or pure.
        Aluminum = "aluminum", "aluminum";
    }
);
words!(
    /// How a film is made.
    Method {
        /// Low-pressure chemical vapor deposition in a hot tube.
        Lpcvd = "lpcvd", "LPCVD (hot tube)";
        /// Plasma-enhanced chemical vapor deposition.
        Pecvd = "pecvd", "PECVD (plasma)";
        /// Ions knock atoms off a target.
        Sputter = "sputter", "sputtered";
        /// From a small hot source in high vacuum.
        Evaporation = "evaporation", "evaporated";
        /// Spun on from solution and cured.
        SpinOn = "spin_on", "spun on";
    }
);

impl DepositedFilm {
    /// The material of the cross-section.
    #[must_use]
    pub const fn material(self) -> Material {
        match self {
            Self::Polysilicon => Material::Polysilicon,
            Self::Nitride => Material::Nitride,
            Self::DepositedOxide => Material::DepositedOxide,
            Self::PhosphorusGlass => Material::PhosphorusGlass,
            Self::Aluminum => Material::Aluminum,
        }
    }
}

/// A low and a high value.
pub type Range = (f64, f64);

/// One way of making one film.
///
/// Rates are those of university tools: another tool with the same recipe differs by 30 %
/// (common practice), or by the spread given here.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Recipe {
    /// The film.
    pub film: DepositedFilm,
    /// The method.
    pub method: Method,
    /// The variants of the film that this recipe makes, the usual one first; empty = any.
    pub variants: &'static [Variant],
    /// What reacts, in a formula or in words.
    pub chemistry: &'static str,
    /// Temperatures in C for which rates are published.
    pub published_c: Range,
    /// The usual temperature in C.
    pub usual_c: f64,
    /// Temperature of the reference rate in C.
    pub reference_c: f64,
    /// The reference rate in nm/min; 0 for a film that is not grown in time.
    pub rate_nm_min: f64,
    /// Its published or expected spread in nm/min.
    pub rate_spread: Range,
    /// Pressure of the reference rate in Pa and the order of the rate in it, where known.
    pub pressure: Option<(f64, f64)>,
    /// Activation energy in eV where the rate is thermally activated.
    pub activation_ev: Option<f64>,
    /// Published activation energies in eV.
    pub activation_spread: Range,
    /// How atoms arrive and stick.
    pub arrival: Arrival,
    /// Refractive index at 633 nm; none for a metal.
    pub index: Option<Range>,
    /// Density in g/cm3.
    pub density_g_cm3: Range,
    /// Stress in megapascals, tension positive; none if not stated.
    pub stress_mpa: Option<Range>,
    /// Loss of thickness in percent when the film is densified at about 1000 C.
    pub shrink_percent: Option<Range>,
    /// Where rate and energy come from.
    pub source: &'static str,
}

const PLAIN: Recipe = Recipe {
    film: DepositedFilm::Polysilicon,
    method: Method::Lpcvd,
    variants: &[],
    chemistry: "",
    published_c: (20.0, 400.0),
    usual_c: 25.0,
    reference_c: 25.0,
    rate_nm_min: 0.0,
    rate_spread: (0.0, 0.0),
    pressure: None,
    activation_ev: None,
    activation_spread: (0.0, 0.0),
    arrival: Arrival::Everywhere,
    index: None,
    density_g_cm3: (2.33, 2.33),
    stress_mpa: None,
    shrink_percent: None,
    source: "common practice",
};

/// Sources of the columns index, density, stress and shrinkage: common practice, except nitride
/// stress of 900 megapascals (read: MEMS Exchange, process P3684) and TEOS index and stress (read: DTU
/// Nanolab, LPCVD TEOS page). Orders in pressure: A. C. Adams (memory: 1 below about 27 Pa
/// falling to about 0.5 for polysilicon; 0.5 to 1 for nitride; 0.5 for TEOS); the middle is
/// taken (model choice). Silane oxide: 0.5, model choice without a source.
pub const RECIPES: &[Recipe] = &[
    Recipe {
        film: DepositedFilm::Polysilicon,
        variants: &[Variant::Undoped, Variant::NType],
        chemistry: "SiH₄ → Si + 2 H₂",
        published_c: (560.0, 680.0),
        usual_c: 620.0,
        reference_c: 620.0,
        rate_nm_min: 10.0,
        rate_spread: (7.0, 13.0),
        pressure: Some((33.3, 0.75)),
        activation_ev: Some(1.7),
        activation_spread: (1.6, 2.25),
        index: Some((3.9, 4.1)),
        // The widest stated range of columnar films (common practice).
        stress_mpa: Some((-500.0, 500.0)),
        source: "A. C. Adams in S. M. Sze (ed.), VLSI Technology; T. I. Kamins, Polycrystalline Silicon (memory): 10 nm/min at 620 °C and 33 Pa, 1.6 to 1.7 eV; 2.25 eV: H. Kuehne et al., On chemical kinetics of silicon deposition from silane (III), abstract (read)",
        ..PLAIN
    },
    Recipe {
        film: DepositedFilm::Nitride,
        variants: &[Variant::Stoichiometric],
        chemistry: "3 SiH₂Cl₂ + 10 NH₃ → Si₃N₄ + 6 NH₄Cl + 6 H₂",
        published_c: (700.0, 850.0),
        usual_c: 800.0,
        reference_c: 800.0,
        rate_nm_min: 3.5,
        rate_spread: (2.5, 4.6),
        pressure: Some((33.3, 0.75)),
        activation_ev: Some(1.8),
        activation_spread: (1.6, 2.0),
        index: Some((2.0, 2.0)),
        density_g_cm3: (2.9, 3.1),
        stress_mpa: Some((900.0, 1200.0)),
        source: "3.5 nm/min at 800 °C: MEMS Exchange, process P3684 (read); 1.8 ± 0.2 eV (memory, uncertain)",
        ..PLAIN
    },
    Recipe {
        film: DepositedFilm::Nitride,
        variants: &[Variant::LowStress],
        chemistry: "SiH₂Cl₂ : NH₃ 4 : 1 to 6 : 1",
        published_c: (800.0, 850.0),
        usual_c: 830.0,
        reference_c: 830.0,
        rate_nm_min: 4.5,
        rate_spread: (3.1, 5.9),
        pressure: Some((33.3, 0.75)),
        activation_ev: Some(1.8),
        activation_spread: (1.6, 2.0),
        index: Some((2.1, 2.3)),
        density_g_cm3: (2.9, 3.1),
        stress_mpa: Some((50.0, 300.0)),
        source: "4 to 5 nm/min at 830 °C (common practice); energy as of stoichiometric nitride (model choice)",
        ..PLAIN
    },
    Recipe {
        film: DepositedFilm::Nitride,
        method: Method::Pecvd,
        variants: &[Variant::Pecvd],
        chemistry: "SiH₄ + NH₃ in a plasma",
        published_c: (250.0, 350.0),
        usual_c: 300.0,
        reference_c: 300.0,
        rate_nm_min: 20.0,
        rate_spread: (10.0, 30.0),
        activation_ev: Some(0.0),
        arrival: PLASMA,
        index: Some((1.8, 2.1)),
        density_g_cm3: (2.4, 2.8),
        stress_mpa: Some((-300.0, 300.0)),
        source: "10 to 30 nm/min (common practice)",
        ..PLAIN
    },
    Recipe {
        film: DepositedFilm::DepositedOxide,
        variants: &[Variant::Lto],
        arrival: SILANE_OXIDE,
        chemistry: "SiH₄ + O₂ → SiO₂ + 2 H₂",
        published_c: (400.0, 450.0),
        usual_c: 425.0,
        reference_c: 425.0,
        rate_nm_min: 10.0,
        rate_spread: (5.0, 20.0),
        pressure: Some((40.0, 0.5)),
        activation_ev: Some(0.4),
        activation_spread: (0.1, 0.4),
        index: Some((1.44, 1.46)),
        density_g_cm3: (2.1, 2.1),
        stress_mpa: Some((-300.0, -100.0)),
        shrink_percent: Some((5.0, 10.0)),
        source: "A. C. Adams in S. M. Sze (ed.), VLSI Technology (memory): 5 to 20 nm/min at 425 °C, at most 0.4 eV",
        ..PLAIN
    },
    Recipe {
        film: DepositedFilm::DepositedOxide,
        variants: &[Variant::Teos],
        chemistry: "Si(OC₂H₅)₄ → SiO₂ + vapors",
        published_c: (650.0, 750.0),
        usual_c: 725.0,
        reference_c: 725.0,
        rate_nm_min: 9.0,
        rate_spread: (6.3, 11.7),
        pressure: Some((40.0, 0.5)),
        activation_ev: Some(1.9),
        activation_spread: (1.7, 2.1),
        index: Some((1.44, 1.44)),
        density_g_cm3: (2.2, 2.2),
        stress_mpa: Some((-300.0, -100.0)),
        shrink_percent: Some((5.0, 8.0)),
        source: "a little below 10 nm/min: DTU Nanolab, LPCVD TEOS page (read; 725 °C memory); 1.9 ± 0.2 eV: A. C. Adams (memory)",
        ..PLAIN
    },
    Recipe {
        film: DepositedFilm::DepositedOxide,
        method: Method::Pecvd,
        variants: &[Variant::Pecvd],
        chemistry: "SiH₄ + N₂O in a plasma",
        published_c: (250.0, 350.0),
        usual_c: 300.0,
        reference_c: 300.0,
        rate_nm_min: 45.0,
        rate_spread: (30.0, 60.0),
        activation_ev: Some(0.0),
        arrival: PLASMA,
        index: Some((1.46, 1.50)),
        density_g_cm3: (2.2, 2.3),
        stress_mpa: Some((-300.0, 300.0)),
        source: "30 to 60 nm/min (common practice); oxynitrides 32 to 55 nm/min: J. Phys. Chem. B 121, 8991 (2017), table 1 (read)",
        ..PLAIN
    },
    Recipe {
        film: DepositedFilm::DepositedOxide,
        method: Method::SpinOn,
        chemistry: "silicate glass in alcohol, cured",
        published_c: (350.0, 450.0),
        usual_c: 425.0,
        reference_c: 425.0,
        arrival: Arrival::Liquid,
        index: Some((1.40, 1.44)),
        density_g_cm3: (1.9, 2.1),
        stress_mpa: Some((100.0, 300.0)),
        ..PLAIN
    },
    Recipe {
        film: DepositedFilm::PhosphorusGlass,
        variants: &[Variant::AsDeposited],
        arrival: SILANE_OXIDE,
        chemistry: "SiH₄ + O₂ + PH₃ → SiO₂ with P₂O₅",
        published_c: (400.0, 450.0),
        usual_c: 425.0,
        reference_c: 425.0,
        rate_nm_min: 11.5,
        rate_spread: (5.0, 26.0),
        pressure: Some((40.0, 0.5)),
        activation_ev: Some(0.4),
        activation_spread: (0.1, 0.4),
        index: Some((1.45, 1.47)),
        density_g_cm3: (2.1, 2.2),
        stress_mpa: Some((-300.0, -100.0)),
        shrink_percent: Some((5.0, 10.0)),
        source: "1.0 to 1.3 times the undoped silane oxide (common practice); energy of the undoped oxide",
        ..PLAIN
    },
    Recipe {
        film: DepositedFilm::PhosphorusGlass,
        method: Method::SpinOn,
        chemistry: "phosphosilicate glass in alcohol, cured",
        published_c: (350.0, 450.0),
        usual_c: 425.0,
        reference_c: 425.0,
        arrival: Arrival::Liquid,
        index: Some((1.40, 1.46)),
        density_g_cm3: (1.9, 2.1),
        stress_mpa: Some((100.0, 300.0)),
        ..PLAIN
    },
    Recipe {
        film: DepositedFilm::Aluminum,
        method: Method::Sputter,
        variants: &[Variant::SiliconAlloy, Variant::Pure],
        chemistry: "Ar⁺ on an Al target",
        rate_nm_min: 60.0,
        rate_spread: (30.0, 100.0),
        arrival: Arrival::Diffuse { everywhere: 0.0 },
        density_g_cm3: (2.70, 2.70),
        source: "30 to 100 nm/min from a magnetron (common practice); 1.0 to 1.2 atoms per 500 eV Ar⁺: N. Laegreid, G. K. Wehner, J. Appl. Phys. 32, 365 (1961) (memory)",
        ..PLAIN
    },
    Recipe {
        film: DepositedFilm::Aluminum,
        method: Method::Evaporation,
        variants: &[Variant::SiliconAlloy, Variant::Pure],
        chemistry: "Al vapor; 1.3 Pa over the melt at about 1220 °C",
        rate_nm_min: 60.0,
        rate_spread: (30.0, 300.0),
        arrival: Arrival::Beam,
        density_g_cm3: (2.70, 2.70),
        source: "0.5 to 5 nm/s (common practice); 1 nm/s taken (model choice)",
        ..PLAIN
    },
];

/// Silane oxide: a share of the molecules sticks at once, the rest reaches every wall. The
/// share 0.3 puts the wall of a square trench at 0.4 to 0.6 of the flat (common practice).
const SILANE_OXIDE: Arrival = Arrival::Diffuse { everywhere: 0.3 };

/// Plasma films: walls at 0.5 to 0.8 of the flat (common practice).
const PLASMA: Arrival = Arrival::Diffuse { everywhere: 0.5 };

impl Recipe {
    /// The words of this recipe's variant: the one asked for, or the usual one.
    #[must_use]
    pub fn usual_variant(&self) -> Option<Variant> {
        self.variants.first().copied()
    }
}

//! The words of requests and answers, each list in one place and one spelling.

/// Declares a closed list of words: the enum, its spelling in JSON, and its label for a person.
macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $word:literal, $label:literal;)+ }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize)]
        pub enum $name {
            $($(#[$vdoc])* #[serde(rename = $word)] $variant,)+
        }

        impl $name {
            /// All words, in the order shown.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The spelling in requests and answers.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }

            /// What a person reads.
            #[must_use]
            pub const fn label(self) -> &'static str {
                match self { $(Self::$variant => $label),+ }
            }

            /// The field of a form that offers all words.
            #[must_use]
            pub fn choice(field: &'static str, label: &'static str, default: Option<Self>) -> crate::bound::Choice {
                crate::bound::Choice {
                    field,
                    label,
                    values: Self::ALL.iter().map(|v| (v.word(), v.label())).collect(),
                    default: default.map(Self::word),
                }
            }
        }
    };
}
pub(crate) use words;

words!(
    /// The gas in an oxidation tube or a drive-in.
    Ambient {
        /// Nitrogen or argon.
        Inert = "inert", "inert (nitrogen)";
        /// Dry oxygen.
        Dry = "dry", "dry oxygen";
        /// Oxygen through a water bubbler at 95 C.
        Wet = "wet", "wet oxygen (bubbler)";
        /// Pyrogenic steam: hydrogen burnt in oxygen.
        Steam = "steam", "steam (hydrogen torch)";
    }
);
words!(
    /// The gas of an anneal.
    AnnealAmbient {
        /// Nitrogen or argon.
        Inert = "inert", "inert (nitrogen)";
        /// Dry oxygen.
        Dry = "dry", "dry oxygen";
        /// Oxygen through a water bubbler at 95 C.
        Wet = "wet", "wet oxygen (bubbler)";
        /// Pyrogenic steam: hydrogen burnt in oxygen.
        Steam = "steam", "steam (hydrogen torch)";
        /// Nitrogen with a few percent of hydrogen.
        FormingGas = "forming_gas", "forming gas (nitrogen with hydrogen)";
    }
);
words!(
    /// The crystal face of the wafer.
    Orientation {
        /// <100>.
        Face100 = "100", "<100>";
        /// <111>.
        Face111 = "111", "<111>";
        /// <110>.
        Face110 = "110", "<110>";
    }
);
words!(
    /// How dry oxide grows while it is thin.
    OxidationModel {
        /// Massoud's thin-oxide law where he measured, Deal and Grove's elsewhere.
        Auto = "auto", "automatic (thin and thick)";
        /// The closed linear-parabolic form, with the effective 25 nm start in dry oxygen.
        DealGrove = "deal_grove", "Deal and Grove (1965)";
        /// Massoud, Plummer and Irene's law for thin dry oxide at every thickness.
        Massoud = "massoud", "Massoud, Plummer and Irene (1985)";
    }
);
words!(
    /// The constants of wet oxidation (oxygen through a water bubbler).
    WetParameterSet {
        /// The row for water vapor: the usual textbook chart.
        Deal1988Steam = "deal_1988_steam", "Deal (1988), water vapor";
        /// The row for wet oxygen: slower.
        Wet1988 = "wet_1988", "Deal (1988), wet oxygen";
    }
);
words!(
    /// A dopant atom. BF2 is an implanted ion: see [`Ion`].
    Dopant {
        /// Acceptor.
        Boron = "boron", "boron";
        /// Donor.
        Phosphorus = "phosphorus", "phosphorus";
        /// Donor.
        Arsenic = "arsenic", "arsenic";
        /// Donor.
        Antimony = "antimony", "antimony";
        /// Acceptor.
        Indium = "indium", "indium";
        /// Acceptor, diffusion only: seldom used, known to a factor of 2.
        Gallium = "gallium", "gallium";
        /// Acceptor, diffusion only: seldom used, known to a factor of 2.
        Aluminum = "aluminum", "aluminum";
    }
);
words!(
    /// The ion in an implanter's beam.
    Ion {
        /// B+.
        Boron = "boron", "boron (B⁺)";
        /// P+.
        Phosphorus = "phosphorus", "phosphorus (P⁺)";
        /// As+.
        Arsenic = "arsenic", "arsenic (As⁺)";
        /// Sb+.
        Antimony = "antimony", "antimony (Sb⁺)";
        /// In+.
        Indium = "indium", "indium (In⁺)";
        /// The molecule BF2+: boron at 11/49 of the energy.
        Bf2 = "bf2", "boron difluoride (BF₂⁺)";
    }
);
words!(
    /// Conduction type.
    DopingType {
        /// Acceptors prevail.
        P = "p", "p-type";
        /// Donors prevail.
        N = "n", "n-type";
    }
);
words!(
    /// A published set of diffusivities.
    DiffusivitySet {
        /// Plummer, Deal and Griffin 2000.
        Plummer2000 = "plummer_2000", "Plummer, Deal, Griffin 2000";
        /// Fair 1981.
        Fair1981 = "fair_1981", "Fair 1981";
        /// Fuller and Ditzenberger 1956.
        FullerDitzenberger1956 = "fuller_ditzenberger_1956", "Fuller, Ditzenberger 1956 (constant)";
    }
);
words!(
    /// How a diffusion is solved.
    DiffusionSolution {
        /// Finite volumes with field and concentration dependence.
        Numerical = "numerical", "numerical (concentration-dependent)";
        /// Error function or Gaussian with the intrinsic diffusivity.
        ClosedForm = "closed_form", "closed form (constant diffusivity)";
    }
);
words!(
    /// How closely the numerical solution follows its equations.
    SolutionAccuracy {
        /// Fast enough to follow a slider.
        Interactive = "interactive", "interactive";
        /// Finer grid and steps, several times as long.
        Reference = "reference", "reference (slower)";
    }
);
words!(
    /// Where the dopant of a predeposition comes from.
    DopantSource {
        /// Phosphorus oxychloride from a bubbler.
        Pocl3 = "pocl3", "phosphorus oxychloride (POCl₃) bubbler";
        /// Phosphine gas.
        Phosphine = "phosphine", "phosphine (PH₃) gas";
        /// Diborane gas.
        Diborane = "diborane", "diborane (B₂H₆) gas";
        /// Solid discs between the wafers.
        SolidDisc = "solid_disc", "solid source discs";
        /// Hydride or vapor diluted until it no longer saturates the surface.
        DiluteVapor = "dilute_vapor", "dilute vapor";
        /// Doped glass on the wafer.
        DopedGlass = "doped_glass", "doped glass film";
    }
);
words!(
    /// What a diffusion is compared with.
    Comparison {
        /// With nothing.
        Nothing = "nothing", "nothing";
        /// The same recipe under every set of diffusivities.
        Models = "models", "the diffusivity sets";
        /// The same recipe for the other dopants of the same type.
        Dopants = "dopants", "the dopants of this type";
    }
);
words!(
    /// Boron's equilibrium between silicon and a growing oxide.
    BoronSegregation {
        /// Antoniadis and co-workers (1979).
        Antoniadis1979 = "antoniadis_1979", "Antoniadis (1979)";
        /// Colby and Katz (1976).
        ColbyKatz1976 = "colby_katz_1976", "Colby and Katz (1976)";
    }
);
words!(
    /// A published model of carrier mobility against doping.
    MobilityModel {
        /// Masetti, Severi and Solmi 1983.
        Masetti1983 = "masetti_1983", "Masetti, Severi, Solmi 1983";
        /// Arora, Hauser and Roulston 1982.
        Arora1982 = "arora_1982", "Arora, Hauser, Roulston 1982";
    }
);
words!(
    /// A material of the cross-section.
    Material {
        /// Single crystal.
        Silicon = "silicon", "silicon";
        /// Polycrystalline silicon.
        Polysilicon = "polysilicon", "polysilicon";
        /// Grown oxide.
        ThermalOxide = "thermal_oxide", "thermal oxide";
        /// Deposited oxide.
        DepositedOxide = "deposited_oxide", "deposited oxide";
        /// Phosphorus-doped glass.
        PhosphorusGlass = "phosphorus_glass", "phosphorus glass";
        /// Silicon nitride.
        Nitride = "nitride", "silicon nitride";
        /// Aluminum with some silicon.
        Aluminum = "aluminum", "aluminum";
        /// Photoresist.
        Resist = "resist", "photoresist";
    }
);

impl Dopant {
    /// True for a dopant that is known in diffusion only.
    #[must_use]
    pub const fn is_diffusion_only(self) -> bool {
        matches!(self, Self::Gallium | Self::Aluminum)
    }

    /// Charge of the ionized atom: +1 for donors, -1 for acceptors.
    #[must_use]
    pub const fn charge(self) -> f64 {
        match self {
            Self::Boron | Self::Indium | Self::Gallium | Self::Aluminum => -1.0,
            Self::Phosphorus | Self::Arsenic | Self::Antimony => 1.0,
        }
    }

    /// The type that this dopant gives to silicon.
    #[must_use]
    pub const fn doping_type(self) -> DopingType {
        match self {
            Self::Boron | Self::Indium | Self::Gallium | Self::Aluminum => DopingType::P,
            Self::Phosphorus | Self::Arsenic | Self::Antimony => DopingType::N,
        }
    }
}

impl AnnealAmbient {
    /// What the gas does to silicon: forming gas is as inert as nitrogen.
    #[must_use]
    pub const fn oxidation(self) -> Ambient {
        match self {
            Self::Inert | Self::FormingGas => Ambient::Inert,
            Self::Dry => Ambient::Dry,
            Self::Wet => Ambient::Wet,
            Self::Steam => Ambient::Steam,
        }
    }
}

impl DopingType {
    /// The other type.
    #[must_use]
    pub const fn opposite(self) -> Self {
        match self {
            Self::P => Self::N,
            Self::N => Self::P,
        }
    }
}

/// The wafer below a doping step: its type and uniform concentration. In a request it may be
/// given by `resistivity_ohm_cm` instead: boron in p-type, phosphorus in n-type.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(try_from = "crate::electrical::wafer::GivenWafer")]
pub struct Substrate {
    /// Conduction type.
    #[serde(rename = "type")]
    pub doping_type: DopingType,
    /// Concentration of the substrate's dopant per cm3.
    pub concentration_cm3: f64,
}

impl Substrate {
    /// The usual substrate under a dopant: the opposite type at 1e15 per cm3.
    #[must_use]
    pub const fn opposite_to(dopant: Dopant) -> Self {
        Self { doping_type: dopant.doping_type().opposite(), concentration_cm3: 1e15 }
    }

    /// Net donors (negative for p-type) per cm3.
    #[must_use]
    pub const fn net_donors_cm3(self) -> f64 {
        match self.doping_type {
            DopingType::N => self.concentration_cm3,
            DopingType::P => -self.concentration_cm3,
        }
    }
}

/// The name of an operation for a person; the word itself for one that is none.
#[must_use]
pub fn step_name(operation: &str) -> &str {
    match operation {
        "clean" => "Clean",
        "oxidation" => "Oxidation",
        "predeposition" => "Predeposition",
        "drive_in" => "Drive-in",
        "anneal" => "Anneal",
        "implantation" => "Implantation",
        "spin_coating" => "Spin coating",
        "bake" => "Bake",
        "exposure" => "Exposure",
        "process_window" => "Process window",
        "development" => "Development",
        "resist_strip" => "Resist strip",
        "wet_etch" => "Wet etch",
        "dry_etch" => "Dry etch",
        "deposition" => "Deposition",
        "planarization" => "Planarization",
        "sheet" => "Sheet resistance",
        "device" => "Device",
        "inverter" => "Inverter",
        other => other,
    }
}

//! The derivation of an oxidation, line by line.

use super::data::{
    DEAL_GROVE_SOURCE, DRY_EFFECTIVE_START_UM, MASSOUD_BREAK_C, MASSOUD_SOURCE,
    NATIVE_OXIDE_UM,
};
use super::enhancement::{
    DOPING_LIMIT_CM3, DOPING_SOURCE, HCL_SOURCE, PRESSURE_SOURCE, doping_enhancement,
};
use super::law::{Conditions, GrowthLaw, asked_celsius};
use crate::constants::{BOLTZMANN_EV_K, SILICON_PER_OXIDE};
use crate::num::show;
use crate::report::WorkingLine;
use crate::units::{Length, Temperature, Time};
use crate::vocabulary::{Ambient, OxidationModel};

const DEFINITION: &str = "definition";
const INTEGRATION: &str = "fourth-order Runge-Kutta steps (textbook standard)";

/// Collects lines; in a recipe each equation carries the name of its segment.
pub(super) struct Working {
    lines: Vec<WorkingLine>,
    prefix: String,
}

/// One step at constant temperature, as the working shows it.
pub(super) struct Step {
    pub(super) conditions: Conditions,
    pub(super) ambient: Ambient,
    pub(super) temperature: Temperature,
    /// Oxide on the wafer before the step.
    pub(super) initial: Length,
    /// Oxide after it.
    pub(super) oxide: Length,
    pub(super) duration: Time,
    /// Whether the time was asked for, not the oxide.
    pub(super) asks_time: bool,
}

impl Working {
    pub(super) const fn new() -> Self {
        Self { lines: Vec::new(), prefix: String::new() }
    }

    pub(super) fn into_lines(self) -> Vec<WorkingLine> {
        self.lines
    }

    pub(super) fn begin_segment(&mut self, number: usize) {
        self.prefix = format!("segment {number}: ");
    }

    pub(super) fn end_segments(&mut self) {
        self.prefix.clear();
    }

    fn line(
        &mut self,
        equation: &str,
        substituted: String,
        result: f64,
        unit: &'static str,
        source: &str,
    ) {
        let equation = format!("{}{equation}", self.prefix);
        self.lines.push(WorkingLine::new(&equation, substituted, result, unit, source));
    }

    /// Temperature and rate constants in a gas.
    pub(super) fn constants(
        &mut self,
        conditions: &Conditions,
        ambient: Ambient,
        temperature: Temperature,
    ) {
        let (t_c, t_k, kt_ev) =
            (asked_celsius(temperature), temperature.to_kelvin(), temperature.to_kt_ev());
        self.line(
            "T = T_C + 273.15",
            format!("{} + 273.15", show(t_c)),
            t_k,
            "K",
            DEFINITION,
        );
        let substituted = format!("{BOLTZMANN_EV_K:.4e} · {t_k:.2}");
        self.line("kT = k T", substituted, kt_ev, "eV", "CODATA 2018");
        let (Some(b), Some(l)) =
            (conditions.parabolic_row(ambient, t_c), conditions.linear_row(ambient, t_c))
        else {
            return;
        };
        self.doping(conditions, temperature);
        let factors = conditions.factors(ambient, temperature);
        let (mut on_b, mut on_l) = (Factor::default(), Factor::default());
        on_b.times("p", factors.pressure);
        on_l.times(
            &format!("p^{}", show(factors.linear_exponent)),
            factors.pressure_power(factors.linear_exponent),
        );
        on_b.times("f_HCl", factors.parabolic_hcl);
        on_l.times("f_HCl", factors.linear_hcl);
        on_l.times("f_N", factors.doping);
        let law = GrowthLaw { thin: None, ..conditions.law(ambient, temperature) };
        if conditions.model == OxidationModel::Massoud && ambient == Ambient::Dry {
            self.thin(conditions, temperature, &on_b, &on_l);
            return;
        }
        let from = |source: &str, factor: &Factor| factor.source(source);
        self.line(
            &format!("B = B0 exp(-E_B/kT){}", on_b.symbols),
            format!(
                "{} exp(-{}/{kt_ev:.4}){}",
                show(b.rate.prefactor),
                b.rate.energy_ev,
                on_b.numbers
            ),
            law.parabolic_um2_h,
            "µm²/h",
            &from(b.source, &on_b),
        );
        self.line(
            &format!("B/A = L0 exp(-E_L/kT){}", on_l.symbols),
            format!(
                "{} exp(-{}/{kt_ev:.4}){}",
                show(l.rate.prefactor),
                l.rate.energy_ev,
                on_l.numbers
            ),
            law.linear_um_h,
            "µm/h",
            &from(l.source, &on_l),
        );
        self.line(
            "A = B / (B/A)",
            format!("{} / {}", show(law.parabolic_um2_h), show(law.linear_um_h)),
            law.a_um(),
            "µm",
            DEFINITION,
        );
        if ambient == Ambient::Dry && conditions.model == OxidationModel::Auto {
            self.thin(conditions, temperature, &on_b, &on_l);
        }
    }

    fn doping(&mut self, conditions: &Conditions, temperature: Temperature) {
        let Some(doping) = conditions.doping else { return };
        let found = doping_enhancement(doping, temperature);
        let (kt_ev, n) =
            (temperature.to_kt_ev(), doping.concentration_cm3.min(DOPING_LIMIT_CM3));
        self.line(
            "n_i = 3.87e16 T^1.5 exp(-0.605/kT)",
            format!(
                "3.87e16 · {:.2}^1.5 exp(-0.605/{kt_ev:.4})",
                temperature.to_kelvin()
            ),
            found.intrinsic_cm3,
            "cm⁻³",
            "F. J. Morin, J. P. Maita, Phys. Rev. 96, 28 (1954)",
        );
        let (equation, root) = match doping.dopant.doping_type() {
            crate::vocabulary::DopingType::N => {
                ("n/n_i = (N/2 + sqrt(N²/4 + n_i²)) / n_i", false)
            }
            crate::vocabulary::DopingType::P => {
                ("n/n_i = n_i / (N/2 + sqrt(N²/4 + n_i²))", true)
            }
        };
        let (half, ni) = (show(0.5 * n), show(found.intrinsic_cm3));
        let majority = format!("({half} + sqrt({half}² + {ni}²))");
        let substituted = if root {
            format!("{ni} / {majority}")
        } else {
            format!("{majority} / {ni}")
        };
        self.line(equation, substituted, found.electron_ratio, "", "charge neutrality");
        self.line(
            "C_V = [1 + C⁺(n_i/n) + C⁻(n/n_i) + C⁼(n/n_i)²] / [1 + C⁺ + C⁻ + C⁼]",
            format!("n/n_i = {}", show(found.electron_ratio)),
            found.vacancy_ratio,
            "",
            DOPING_SOURCE,
        );
        self.line(
            "gamma = 2.62e3 exp(-1.10/kT)",
            format!("2.62e3 exp(-1.10/{kt_ev:.4})"),
            found.gamma,
            "",
            DOPING_SOURCE,
        );
        self.line(
            "f_N = 1 + gamma (C_V - 1), at least 1",
            format!("1 + {} ({} - 1)", show(found.gamma), show(found.vacancy_ratio)),
            found.factor,
            "",
            DOPING_SOURCE,
        );
    }

    fn thin(
        &mut self,
        conditions: &Conditions,
        temperature: Temperature,
        on_b: &Factor,
        on_l: &Factor,
    ) {
        let law = conditions.law(Ambient::Dry, temperature);
        let Some(thin) = law.thin else { return };
        let (kt_ev, row) = (temperature.to_kt_ev(), conditions.thin_row());
        let (b, l) = match row.above {
            Some(above) if MASSOUD_BREAK_C <= asked_celsius(temperature) => above,
            _ => (row.parabolic_below, row.linear_below),
        };
        let arrhenius = |rate: super::data::Arrhenius| {
            format!("{} exp(-{}/{kt_ev:.4})", show(rate.prefactor), rate.energy_ev)
        };
        self.line(
            &format!("B_M = B0 exp(-E_B/kT){}", on_b.symbols),
            arrhenius(b) + &on_b.numbers,
            thin.parabolic_um2_h,
            "µm²/h",
            MASSOUD_SOURCE,
        );
        self.line(
            &format!("(B/A)_M = L0 exp(-E_L/kT){}", on_l.symbols),
            arrhenius(l) + &on_l.numbers,
            thin.linear_um_h,
            "µm/h",
            MASSOUD_SOURCE,
        );
        let factors = conditions.factors(Ambient::Dry, temperature);
        let mut on_extra = Factor::default();
        on_extra.times(
            "p^0.75",
            factors.pressure_power(super::enhancement::THIN_PRESSURE_EXPONENT),
        );
        self.line(
            &format!("C2 = C20 exp(-E_2/kT){}", on_extra.symbols),
            arrhenius(row.extra_um_h) + &on_extra.numbers,
            thin.extra_um_h,
            "µm/h",
            MASSOUD_SOURCE,
        );
        let decay = format!("{}", thin.decay_um);
        self.line("L2", decay, thin.decay_um, "µm", MASSOUD_SOURCE);
        if conditions.model == OxidationModel::Auto {
            self.line(
                "w_T = 1 - S((T_C - 1000)/50), S(u) = u² (3 - 2u) between 0 and 1",
                format!("1 - S(({} - 1000)/50)", show(asked_celsius(temperature))),
                thin.weight,
                "",
                "our choice: Massoud where he measured, Deal and Grove elsewhere",
            );
        }
    }

    /// The whole derivation of one step.
    pub(super) fn step(&mut self, step: &Step) {
        self.constants(&step.conditions, step.ambient, step.temperature);
        let law = step.conditions.law(step.ambient, step.temperature);
        if law.thin.is_some() {
            self.integrated(step, &law);
        } else {
            self.closed(step, &law);
        }
        self.ending(step.initial, step.oxide, &law);
    }

    fn closed(&mut self, step: &Step, law: &GrowthLaw) {
        let (a, b, l) = (law.a_um(), law.parabolic_um2_h, law.linear_um_h);
        let xi = step.conditions.effective_start(step.ambient, step.initial).to_um();
        let is_effective = step.initial.to_um() < xi;
        let note = if is_effective {
            format!(
                "{} (stands for the fast first stage of dry growth; no real oxide)",
                show(DRY_EFFECTIVE_START_UM)
            )
        } else {
            show(xi)
        };
        self.line("X_i = oxide at the start", note, xi, "µm", DEAL_GROVE_SOURCE);
        let x = step.oxide.to_um();
        if step.asks_time {
            self.line(
                "t = (X² - X_i²)/B + (X - X_i)/(B/A)",
                format!(
                    "({}² - {}²)/{} + ({} - {})/{}",
                    show(x),
                    show(xi),
                    show(b),
                    show(x),
                    show(xi),
                    show(l)
                ),
                step.duration.to_h(),
                "h",
                DEAL_GROVE_SOURCE,
            );
            self.minutes(step.duration);
            return;
        }
        let tau = (xi * xi + a * xi) / b;
        self.line(
            "tau = (X_i² + A X_i)/B",
            format!("({}² + {} · {})/{}", show(xi), show(a), show(xi), show(b)),
            tau,
            "h",
            DEAL_GROVE_SOURCE,
        );
        self.line(
            "t = time in hours",
            format!("{} / 60", show(step.duration.to_min())),
            step.duration.to_h(),
            "h",
            DEFINITION,
        );
        self.line(
            "X = (A/2) [sqrt(1 + 4 B (t + tau)/A²) - 1]",
            format!(
                "({}/2) [sqrt(1 + 4 · {} ({} + {})/{}²) - 1]",
                show(a),
                show(b),
                show(step.duration.to_h()),
                show(tau),
                show(a)
            ),
            x,
            "µm",
            DEAL_GROVE_SOURCE,
        );
    }

    fn integrated(&mut self, step: &Step, law: &GrowthLaw) {
        let x0 = step.conditions.effective_start(step.ambient, step.initial).to_um();
        let x = step.oxide.to_um();
        let note = if step.initial.to_um() < NATIVE_OXIDE_UM {
            format!("{} (native oxide of a bare wafer)", show(x0))
        } else {
            show(x0)
        };
        self.line("X_0 = oxide at the start", note, x0, "µm", "common practice");
        let equation = match step.conditions.model {
            OxidationModel::Massoud => {
                "dX/dt = B_M/(2X + A_M) + C2 exp(-X/L2), A_M = B_M/(B/A)_M; at X_0"
            }
            _ => {
                "dX/dt = w B_M/(2X + A_M) + (1 - w) B/(2X + A) + C2 exp(-X/L2), w = w_T (1 - S((X - 0.05)/0.05)), A_M = B_M/(B/A)_M; at X_0"
            }
        };
        self.line(
            equation,
            format!("X = {}", show(x0)),
            law.rate_um_h(x0),
            "µm/h",
            MASSOUD_SOURCE,
        );
        if step.asks_time {
            self.line(
                "t = integral of dX/(dX/dt) from X_0 to X (no closed form; Simpson's rule)",
                format!("from {} to {} µm", show(x0), show(x)),
                step.duration.to_h(),
                "h",
                "Simpson's rule in ln(X + 1 nm) (textbook standard)",
            );
            self.minutes(step.duration);
        } else {
            self.line(
                "X = X_0 + integral of (dX/dt) dt (no closed form; integrated in small steps)",
                format!(
                    "from {} µm over {} h",
                    show(x0),
                    show(step.duration.to_h())
                ),
                x,
                "µm",
                INTEGRATION,
            );
        }
    }

    fn minutes(&mut self, duration: Time) {
        self.line(
            "t in minutes = 60 t",
            format!("60 · {}", show(duration.to_h())),
            duration.to_min(),
            "min",
            DEFINITION,
        );
    }

    /// The result of one segment of a recipe.
    pub(super) fn segment_result(&mut self, from: Length, to: Length, duration: Time) {
        self.line(
            "X = X_before + integral of (dX/dt) dt",
            format!(
                "from {} nm over {} min",
                show(from.to_nm()),
                show(duration.to_min())
            ),
            to.to_nm(),
            "nm",
            INTEGRATION,
        );
    }

    /// Silicon consumed and the rate at the end.
    pub(super) fn ending(&mut self, initial: Length, oxide: Length, law: &GrowthLaw) {
        let (x0, x) = (initial.to_nm(), oxide.to_nm());
        self.line(
            "grown = X - oxide on the wafer before",
            format!("{} - {}", show(x), show(x0)),
            x - x0,
            "nm",
            DEFINITION,
        );
        self.line(
            "silicon consumed = 0.44 · grown",
            format!("{SILICON_PER_OXIDE} · {}", show(x - x0)),
            SILICON_PER_OXIDE * (x - x0),
            "nm",
            "densities and molar masses of SiO₂ and Si (0.4415)",
        );
        let rate_um_h = law.rate_um_h(oxide.to_um());
        let (equation, substituted) = if !law.grows() {
            ("rate = 0 in an inert gas", "0".to_owned())
        } else if law.thin.is_some() {
            ("rate = dX/dt at X, · 1000/60", format!("{} · 1000/60", show(rate_um_h)))
        } else {
            (
                "rate = B/(2X + A), · 1000/60",
                format!(
                    "{}/(2 · {} + {}) · 1000/60",
                    show(law.parabolic_um2_h),
                    show(oxide.to_um()),
                    show(law.a_um())
                ),
            )
        };
        self.line(
            equation,
            substituted,
            rate_um_h * 1000.0 / 60.0,
            "nm/min",
            DEAL_GROVE_SOURCE,
        );
    }
}

/// Factors behind an Arrhenius term, in symbols and in numbers; those that are 1 are left out.
#[derive(Default)]
struct Factor {
    symbols: String,
    numbers: String,
}

impl Factor {
    fn times(&mut self, symbol: &str, value: f64) {
        if 1e-12 < (value - 1.0).abs() {
            self.symbols.push_str(&format!(" · {symbol}"));
            self.numbers.push_str(&format!(" · {}", show(value)));
        }
    }

    /// The source of the constants, with those of the factors.
    fn source(&self, constants: &str) -> String {
        let mut out = constants.to_owned();
        let factors =
            [("p", PRESSURE_SOURCE), ("f_HCl", HCL_SOURCE), ("f_N", DOPING_SOURCE)];
        for (symbol, source) in factors {
            if self.symbols.contains(&format!(" · {symbol}")) {
                out.push_str("; ");
                out.push_str(source);
            }
        }
        out
    }
}

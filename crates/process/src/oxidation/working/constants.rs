//! The lines that lead from the temperature to the rate constants.

use super::Working;
use crate::constants::BOLTZMANN_EV_K;
use crate::num::show;
use crate::oxidation::data::{Arrhenius, MASSOUD_BREAK_C, MASSOUD_SOURCE};
use crate::oxidation::enhancement::{
    DOPING_LIMIT_CM3, DOPING_SOURCE, HCL_SOURCE, PRESSURE_SOURCE, THIN_PRESSURE_EXPONENT,
    doping_enhancement,
};
use crate::oxidation::law::{Conditions, GrowthLaw, asked_celsius};
use crate::units::Temperature;
use crate::vocabulary::{Ambient, DopingType, OxidationModel};

impl Working {
    /// Temperature and rate constants in a gas.
    pub(in crate::oxidation) fn constants(
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
            super::DEFINITION,
        );
        let substituted = format!("{BOLTZMANN_EV_K:.4e} · {t_k:.2}");
        self.line("kT = k · T", substituted, kt_ev, "eV", "CODATA 2018");
        let (Some(b), Some(l)) =
            (conditions.parabolic_row(ambient, t_c), conditions.linear_row(ambient, t_c))
        else {
            return;
        };
        self.doping(conditions, temperature);
        let factors = conditions.factors(ambient, temperature);
        let (mut on_b, mut on_l) = (Factor::default(), Factor::default());
        // In wet gases chloride only takes room.
        let is_diluted = ambient != Ambient::Dry && 0.0 < conditions.hcl_percent;
        let p = if is_diluted { "p (1 - c/100)" } else { "p" };
        let exponent = factors.linear_exponent;
        on_b.times(p, factors.pressure);
        on_l.times(
            &if exponent < 1.0 { format!("p^{}", show(exponent)) } else { p.to_owned() },
            factors.pressure_power(exponent),
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
            super::DEFINITION,
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
            DopingType::N => ("n/n_i = (N/2 + sqrt(N²/4 + n_i²)) / n_i", false),
            DopingType::P => ("n/n_i = n_i / (N/2 + sqrt(N²/4 + n_i²))", true),
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
            "E_g = 1.17 - 4.73e-4 T²/(T + 636)",
            format!("T = {:.2}", temperature.to_kelvin()),
            found.gap_ev,
            "eV",
            "Y. P. Varshni, Physica 34, 149 (1967)",
        );
        self.line(
            "E_i = E_g/2 - kT/4",
            format!("{}/2 - {kt_ev:.4}/4", show(found.gap_ev)),
            found.middle_ev,
            "eV",
            DOPING_SOURCE,
        );
        let (gap, middle) = (show(found.gap_ev), show(found.middle_ev));
        let levels = [
            (
                "C⁺ = exp((0.35 - E_i)/kT)",
                format!("exp((0.35 - {middle})/{kt_ev:.4})"),
                found.plus,
            ),
            (
                "C⁻ = exp((E_i - E⁻)/kT), E⁻ = E_g - 0.57",
                format!("exp(({middle} - {gap} + 0.57)/{kt_ev:.4})"),
                found.minus,
            ),
            (
                "C⁼ = exp((2 E_i - E⁻ - E⁼)/kT), E⁼ = E_g - 0.11",
                format!("exp((2 · {middle} - 2 · {gap} + 0.68)/{kt_ev:.4})"),
                found.double_minus,
            ),
        ];
        for (equation, substituted, result) in levels {
            self.line(equation, substituted, result, "", DOPING_SOURCE);
        }
        let (plus, minus, double) =
            (show(found.plus), show(found.minus), show(found.double_minus));
        let ratio = show(found.electron_ratio);
        self.line(
            "C_V = [1 + C⁺(n_i/n) + C⁻(n/n_i) + C⁼(n/n_i)²] / [1 + C⁺ + C⁻ + C⁼]",
            format!(
                "[1 + {plus}/{ratio} + {minus} · {ratio} + {double} · {ratio}²] / [1 + {plus} + {minus} + {double}]"
            ),
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
        let arrhenius = |rate: Arrhenius| {
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
        on_extra.times("p^0.75", factors.pressure_power(THIN_PRESSURE_EXPONENT));
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

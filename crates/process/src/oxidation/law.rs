//! The growth law of oxide at one temperature: rate against thickness.

use super::data::{
    ANY_FACE_DECAY_UM, ANY_FACE_EXTRA_UM_H, DRY_EFFECTIVE_START_UM, FACE_110_OVER_100,
    MASSOUD_BREAK_C, NATIVE_OXIDE_UM, POLYSILICON_OVER_100, SourcedRate, ThinOxide,
    linear_100, linear_111, parabolic, thin_oxide,
};
use super::enhancement::{
    SurfaceDoping, THIN_PRESSURE_EXPONENT, doping_enhancement, hcl_factors,
    linear_pressure_exponent,
};
use crate::num;
use crate::units::{Length, Temperature};
use crate::vocabulary::{Ambient, Orientation, OxidationModel, WetParameterSet};

/// The silicon that oxidizes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Surface {
    /// A face of the single crystal.
    Crystal(Orientation),
    /// Grains of all orientations.
    Polysilicon,
}

/// What stays the same during an oxidation: the surface, the gas pressure, the models.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conditions {
    /// The silicon that oxidizes.
    pub surface: Surface,
    /// Pressure in atm: of the oxidant in dry oxygen and steam, of the whole gas in wet oxygen.
    pub pressure_atm: f64,
    /// How thin dry oxide grows.
    pub model: OxidationModel,
    /// Constants of wet oxygen.
    pub parameter_set: WetParameterSet,
    /// Heavy doping at the surface, if any.
    pub doping: Option<SurfaceDoping>,
    /// Hydrogen chloride in the gas in percent.
    pub hcl_percent: f64,
}

impl Default for Conditions {
    /// A lightly doped <100> wafer at 1 atm, default models.
    fn default() -> Self {
        Self {
            surface: Surface::Crystal(Orientation::Face100),
            pressure_atm: 1.0,
            model: OxidationModel::Auto,
            parameter_set: WetParameterSet::Deal1988Steam,
            doping: None,
            hcl_percent: 0.0,
        }
    }
}

/// The factors that stand between the tabulated constants and those in use.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Factors {
    /// Pressure of the oxidant in atm over that of the tabulated constants.
    pub pressure: f64,
    /// Exponent of the pressure in B/A.
    pub linear_exponent: f64,
    /// By hydrogen chloride on B.
    pub parabolic_hcl: f64,
    /// By hydrogen chloride on B/A.
    pub linear_hcl: f64,
    /// By doping on B/A.
    pub doping: f64,
}

impl Factors {
    /// The whole factor on B.
    #[must_use]
    pub fn parabolic(&self) -> f64 {
        self.pressure * self.parabolic_hcl
    }

    /// The whole factor on B/A.
    #[must_use]
    pub fn linear(&self) -> f64 {
        self.pressure_power(self.linear_exponent) * self.linear_hcl * self.doping
    }

    /// The pressure factor to a power.
    #[must_use]
    pub fn pressure_power(&self, exponent: f64) -> f64 {
        // Exactly 1 at 1 atm, and no power to compute in the usual case.
        if (self.pressure - 1.0).abs() < 1e-15 {
            1.0
        } else {
            num::pow(self.pressure, exponent)
        }
    }
}

/// Rate of growth against thickness at one temperature, in one gas.
///
/// # Model
/// `dX/dt = B/(2X + A)`; in dry oxygen, unless the model is Deal and Grove's,
/// `dX/dt = w r_M + (1 - w) r_DG` with `r = B/(2X + A) + C2 exp(-X/L2)`: `r_M` with Massoud's own
/// B and B/A, `r_DG` with those of thick oxide, and the weight
/// `w = (1 - S((T - 1000 C)/50)) (1 - S((X - 50 nm)/50 nm))`, `S(u) = u^2 (3 - 2u)` between 0
/// and 1 (w = 1 for the model `massoud`).
///
/// # Source
/// B. E. Deal, A. S. Grove, J. Appl. Phys. 36, 3770 (1965); H. Z. Massoud, J. D. Plummer, E. A.
/// Irene, J. Electrochem. Soc. 132, 2685 and 2693 (1985). The weight is ours (model choice):
/// Massoud where he measured, Deal and Grove for thick and hot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GrowthLaw {
    /// Parabolic constant B in um2/h; 0 in an inert gas.
    pub parabolic_um2_h: f64,
    /// Linear constant B/A in um/h; 0 in an inert gas.
    pub linear_um_h: f64,
    /// What is added while dry oxide is thin.
    pub thin: Option<ThinLaw>,
}

/// The part of a [`GrowthLaw`] that matters while dry oxide is thin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThinLaw {
    /// Extra rate C2 at zero thickness in um/h.
    pub extra_um_h: f64,
    /// Length L2 over which it fades, in um.
    pub decay_um: f64,
    /// Weight of Massoud's B and B/A at this temperature, 0 to 1.
    pub weight: f64,
    /// Massoud's B in um2/h.
    pub parabolic_um2_h: f64,
    /// Massoud's B/A in um/h.
    pub linear_um_h: f64,
}

/// `B/(2X + A)` without dividing by B/A, in um/h.
fn linear_parabolic_um_h(b_um2_h: f64, l_um_h: f64, x_um: f64) -> f64 {
    if 0.0 < b_um2_h && 0.0 < l_um_h {
        b_um2_h * l_um_h / (2.0 * x_um * l_um_h + b_um2_h)
    } else {
        0.0
    }
}

/// A smooth step from 0 to 1.
fn smooth_step(u: f64) -> f64 {
    let u = u.clamp(0.0, 1.0);
    u * u * (3.0 - 2.0 * u)
}

/// Degrees Celsius as they were asked for: the way through kelvin leaves an error in the last
/// digits, which must not push 1000 C below 1000 C.
pub(super) fn asked_celsius(temperature: Temperature) -> f64 {
    (temperature.to_celsius() * 1e9).round() * 1e-9
}

/// Weight of Massoud's constants by temperature: 1 up to 1000 C, 0 from 1050 C on.
pub(super) fn thin_weight(temperature: Temperature) -> f64 {
    1.0 - smooth_step((asked_celsius(temperature) - 1000.0) / 50.0)
}

impl GrowthLaw {
    /// Growth rate in um/h at an oxide thickness in um.
    #[must_use]
    pub fn rate_um_h(&self, x_um: f64) -> f64 {
        let thick = linear_parabolic_um_h(self.parabolic_um2_h, self.linear_um_h, x_um);
        let Some(thin) = self.thin else { return thick };
        let weight = self.massoud_weight(x_um);
        let base = if 0.0 < weight {
            let massoud =
                linear_parabolic_um_h(thin.parabolic_um2_h, thin.linear_um_h, x_um);
            weight * massoud + (1.0 - weight) * thick
        } else {
            thick
        };
        base + thin.extra_um_h * num::exp(-x_um / thin.decay_um)
    }

    /// The weight w of Massoud's constants beside those of thick oxide, 0 to 1.
    pub(super) fn massoud_weight(&self, x_um: f64) -> f64 {
        match self.thin {
            Some(thin) if 0.0 < thin.weight => {
                thin.weight * (1.0 - smooth_step((x_um - 0.05) / 0.05))
            }
            _ => 0.0,
        }
    }

    /// `A = B/(B/A)` in um; 0 in an inert gas.
    #[must_use]
    pub fn a_um(&self) -> f64 {
        if 0.0 < self.linear_um_h { self.parabolic_um2_h / self.linear_um_h } else { 0.0 }
    }

    /// Whether oxide grows at all.
    #[must_use]
    pub fn grows(&self) -> bool {
        0.0 < self.parabolic_um2_h && 0.0 < self.linear_um_h
    }
}

impl Conditions {
    /// The tabulated B of thick oxide; `None` in an inert gas.
    pub(super) fn parabolic_row(
        &self,
        ambient: Ambient,
        t_c: f64,
    ) -> Option<SourcedRate> {
        parabolic(ambient, self.parameter_set, t_c)
    }

    /// The tabulated B/A of thick oxide on this surface; `None` in an inert gas.
    pub(super) fn linear_row(&self, ambient: Ambient, t_c: f64) -> Option<SourcedRate> {
        let set = self.parameter_set;
        let scaled = |factor: f64| {
            linear_100(ambient, set, t_c).map(|mut row| {
                row.rate.prefactor *= factor;
                row
            })
        };
        match self.surface {
            Surface::Crystal(Orientation::Face100) => scaled(1.0),
            Surface::Crystal(Orientation::Face111) => linear_111(ambient, set, t_c),
            Surface::Crystal(Orientation::Face110) => scaled(FACE_110_OVER_100),
            Surface::Polysilicon => scaled(POLYSILICON_OVER_100),
        }
    }

    /// The tabulated constants of thin dry oxide on this surface.
    pub(super) fn thin_row(&self) -> ThinOxide {
        match self.surface {
            Surface::Crystal(orientation) => thin_oxide(orientation),
            Surface::Polysilicon => {
                let mut row = thin_oxide(Orientation::Face100);
                row.extra_um_h = ANY_FACE_EXTRA_UM_H;
                row.decay_um = ANY_FACE_DECAY_UM;
                row.linear_below.prefactor *= POLYSILICON_OVER_100;
                row.above = row.above.map(|(b, mut l)| {
                    l.prefactor *= POLYSILICON_OVER_100;
                    (b, l)
                });
                row
            }
        }
    }

    /// The factors of pressure, chlorine and doping.
    #[must_use]
    pub fn factors(&self, ambient: Ambient, temperature: Temperature) -> Factors {
        let (pressure, (parabolic_hcl, linear_hcl)) = if ambient == Ambient::Dry {
            (self.pressure_atm, hcl_factors(self.hcl_percent))
        } else {
            // In steam the chloride only dilutes.
            (self.pressure_atm * (1.0 - 0.01 * self.hcl_percent), (1.0, 1.0))
        };
        Factors {
            pressure,
            linear_exponent: linear_pressure_exponent(ambient, temperature),
            parabolic_hcl,
            linear_hcl,
            doping: self
                .doping
                .map_or(1.0, |doping| doping_enhancement(doping, temperature).factor),
        }
    }

    /// The growth law in a gas at a temperature.
    #[must_use]
    pub fn law(&self, ambient: Ambient, temperature: Temperature) -> GrowthLaw {
        let (t_c, kt_ev) = (asked_celsius(temperature), temperature.to_kt_ev());
        let (Some(b), Some(l)) =
            (self.parabolic_row(ambient, t_c), self.linear_row(ambient, t_c))
        else {
            return GrowthLaw { parabolic_um2_h: 0.0, linear_um_h: 0.0, thin: None };
        };
        let factors = self.factors(ambient, temperature);
        let (on_b, on_l) = (factors.parabolic(), factors.linear());
        let thick = GrowthLaw {
            parabolic_um2_h: b.rate.at(kt_ev) * on_b,
            linear_um_h: l.rate.at(kt_ev) * on_l,
            thin: None,
        };
        if ambient != Ambient::Dry || self.model == OxidationModel::DealGrove {
            return thick;
        }
        let row = self.thin_row();
        let (massoud_b, massoud_l) = match row.above {
            Some(above) if MASSOUD_BREAK_C <= t_c => above,
            _ => (row.parabolic_below, row.linear_below),
        };
        let mut thin = ThinLaw {
            extra_um_h: row.extra_um_h.at(kt_ev)
                * factors.pressure_power(THIN_PRESSURE_EXPONENT),
            decay_um: row.decay_um,
            weight: thin_weight(temperature),
            parabolic_um2_h: massoud_b.at(kt_ev) * on_b,
            linear_um_h: massoud_l.at(kt_ev) * on_l,
        };
        if self.model == OxidationModel::Massoud {
            let (parabolic_um2_h, linear_um_h) = (thin.parabolic_um2_h, thin.linear_um_h);
            thin.weight = 0.0;
            return GrowthLaw { parabolic_um2_h, linear_um_h, thin: Some(thin) };
        }
        GrowthLaw { thin: Some(thin), ..thick }
    }

    /// The thickness from which the growth law starts when a step begins on `oxide`.
    ///
    /// In dry oxygen the closed linear-parabolic form starts from at least its effective 25 nm,
    /// the thin-oxide laws from at least the native nanometer; wet growth from what is there.
    #[must_use]
    pub fn effective_start(&self, ambient: Ambient, oxide: Length) -> Length {
        let at_least_um = match (ambient, self.model) {
            (Ambient::Dry, OxidationModel::DealGrove) => DRY_EFFECTIVE_START_UM,
            (Ambient::Dry, _) => NATIVE_OXIDE_UM,
            _ => 0.0,
        };
        Length::um(oxide.to_um().max(at_least_um))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(conditions: Conditions, ambient: Ambient, t_c: f64) -> GrowthLaw {
        conditions.law(ambient, Temperature::celsius(t_c))
    }

    #[test]
    fn polysilicon_grows_between_the_faces() {
        let on = |surface| Conditions { surface, ..Conditions::default() };
        let l = |surface| at(on(surface), Ambient::Steam, 950.0).linear_um_h;
        let ratio = l(Surface::Polysilicon) / l(Surface::Crystal(Orientation::Face100));
        assert!((ratio - 1.34).abs() < 1e-12);
        assert!(
            l(Surface::Polysilicon) < l(Surface::Crystal(Orientation::Face111)),
            "<111> is the fastest"
        );
    }

    #[test]
    fn nothing_grows_in_nitrogen() {
        let law = at(Conditions::default(), Ambient::Inert, 1100.0);
        assert!(!law.grows());
        assert!(law.rate_um_h(0.01).abs() < 1e-300 && law.a_um().abs() < 1e-300);
    }

    #[test]
    fn pressure_scales_both_constants_of_steam_and_the_root_like_one_of_dry() {
        let high = Conditions { pressure_atm: 10.0, ..Conditions::default() };
        let ratio = |ambient| {
            let (p1, p10) =
                (at(Conditions::default(), ambient, 900.0), at(high, ambient, 900.0));
            (p10.parabolic_um2_h / p1.parabolic_um2_h, p10.linear_um_h / p1.linear_um_h)
        };
        let (b, l) = ratio(Ambient::Steam);
        assert!((b - 10.0).abs() < 1e-9 && (l - 10.0).abs() < 1e-9);
        let (b, l) = ratio(Ambient::Dry);
        // 10^0.75 = 5.623
        assert!((b - 10.0).abs() < 1e-9 && (l - 5.623).abs() < 1e-3);
    }

    #[test]
    fn chloride_speeds_dry_oxidation_and_dilutes_steam() {
        let with = Conditions { hcl_percent: 2.0, ..Conditions::default() };
        let b = |conditions, ambient| at(conditions, ambient, 1000.0).parabolic_um2_h;
        let ratio = |ambient| b(with, ambient) / b(Conditions::default(), ambient);
        assert!((ratio(Ambient::Dry) - 1.16).abs() < 1e-9);
        assert!((ratio(Ambient::Steam) - 0.98).abs() < 1e-9);
    }

    #[test]
    fn massoud_alone_uses_his_constants() {
        let massoud =
            Conditions { model: OxidationModel::Massoud, ..Conditions::default() };
        // 7.35e6 exp(-1.76/kT) nm/min at 900 C = 0.202 nm/min.
        let law = at(massoud, Ambient::Dry, 900.0);
        assert!((law.linear_um_h / 0.06 - 0.202).abs() < 1e-3);
        // At zero thickness the extra rate comes on top: C2 = 3.94e8 exp(-2.37/kT).
        let extra = law.rate_um_h(0.0) - law.linear_um_h;
        assert!((extra - law.thin.unwrap().extra_um_h).abs() < 1e-15);
    }

    #[test]
    fn steps_start_from_what_each_law_needs() {
        let start = |model, ambient, nm| {
            Conditions { model, ..Conditions::default() }
                .effective_start(ambient, Length::nm(nm))
                .to_nm()
        };
        let cases = [
            (OxidationModel::Auto, Ambient::Dry, 0.0, 1.0),
            (OxidationModel::Auto, Ambient::Wet, 0.0, 0.0),
            (OxidationModel::DealGrove, Ambient::Dry, 0.0, 25.0),
            (OxidationModel::DealGrove, Ambient::Dry, 60.0, 60.0),
            (OxidationModel::DealGrove, Ambient::Steam, 5.0, 5.0),
        ];
        for (model, ambient, nm, expected) in cases {
            assert!((start(model, ambient, nm) - expected).abs() < 1e-12);
        }
    }
}

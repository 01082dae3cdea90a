//! Quantities with their unit in the constructor and the getter, and nowhere else.
//!
//! Between modules a quantity travels as one of these types; inside a function, loops run on
//! bare `f64` whose name ends in the unit. The closed list of suffixes: `_nm _um _mm _cm _s _min
//! _h _k _c _c_s _ev _kev _v _mv _a _ma _ua _f _percent _cm2 _cm3 _cm2_s _cm_s _nm_s _nm_min
//! _um_h _um2_h _m_s _rpm _rpm_s _mj_cm2 _cm2_mj _ohm _ohm_cm _ohm_sq _s_cm _cm2_vs _f_cm2
//! _nf_cm2 _mv_dec _sqrt_v _a_v2 _per_v _per_um _atm _pa _kpa _per_pa _rad _deg _m2_s _pa_s
//! _mpa_s _g _g_cm3 _mpa`.
//! `_cm2` and `_cm3` mean per cm2 and per cm3.

use core::ops::{Add, Mul, Sub};

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $(($make:ident, $get:ident, $unit:literal, $scale:expr)),+) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            $(
                #[doc = concat!("Builds it from a number in ", $unit, ".")]
                #[must_use]
                pub const fn $make(value: f64) -> Self {
                    Self(value * $scale)
                }

                #[doc = concat!("Gives it in ", $unit, ".")]
                #[must_use]
                pub const fn $get(self) -> f64 {
                    self.0 / $scale
                }
            )+
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }
    };
}

quantity!(
    /// A length, kept in micrometers.
    Length, (um, to_um, "micrometers", 1.0), (nm, to_nm, "nanometers", 1e-3),
    (cm, to_cm, "centimeters", 1e4)
);
quantity!(
    /// A time, kept in seconds.
    Time, (s, to_s, "seconds", 1.0), (min, to_min, "minutes", 60.0), (h, to_h, "hours", 3600.0)
);
quantity!(
    /// An ion energy, kept in kiloelectronvolts.
    Energy, (kev, to_kev, "kiloelectronvolts", 1.0)
);
quantity!(
    /// A number of atoms per area, kept per square centimeter.
    Dose, (per_cm2, to_per_cm2, "atoms per square centimeter", 1.0)
);
quantity!(
    /// A number of atoms per volume, kept per cubic centimeter.
    Concentration, (per_cm3, to_per_cm3, "atoms per cubic centimeter", 1.0)
);

/// A temperature, kept in kelvin.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Temperature(f64);

impl Temperature {
    /// Builds it from degrees Celsius.
    #[must_use]
    pub const fn celsius(celsius: f64) -> Self {
        Self(celsius + 273.15)
    }

    /// Gives it in degrees Celsius.
    #[must_use]
    pub const fn to_celsius(self) -> f64 {
        self.0 - 273.15
    }

    /// Gives it in kelvin.
    #[must_use]
    pub const fn to_kelvin(self) -> f64 {
        self.0
    }

    /// Gives `k T` in electronvolts.
    #[must_use]
    pub const fn to_kt_ev(self) -> f64 {
        self.0 * crate::constants::BOLTZMANN_EV_K
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn conversions_go_there_and_back() {
        assert!((Length::nm(50.0).to_um() - 0.05).abs() < 1e-15);
        assert!((Length::cm(1e-4).to_nm() - 1000.0).abs() < 1e-9);
        assert!((Time::min(30.0).to_h() - 0.5).abs() < 1e-15);
        assert!((Temperature::celsius(1000.0).to_kelvin() - 1273.15).abs() < 1e-9);
    }
}

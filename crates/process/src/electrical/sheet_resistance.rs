//! Sheet resistance of doped layers.

use serde::Serialize;

use crate::constants::ELEMENTARY_CHARGE_C;
use crate::num::ln;
use crate::vocabulary::{Dopant, DopingType, MobilityModel, Substrate};

/// Electrically active doping against depth, as the integral needs it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ActiveDoping {
    /// Depths in um, increasing.
    pub depth_um: Vec<f64>,
    /// Active donors minus acceptors per cm3, substrate included.
    pub net_cm3: Vec<f64>,
    /// Active donors plus acceptors per cm3, substrate included.
    pub total_cm3: Vec<f64>,
    /// The dopant that gives the donors (for the mobility).
    pub donor: Option<Dopant>,
    /// The dopant that gives the acceptors.
    pub acceptor: Option<Dopant>,
}

impl ActiveDoping {
    /// From active concentrations of several dopants in a substrate.
    #[must_use]
    pub fn new(
        depth_um: Vec<f64>,
        dopants: &[(Dopant, Vec<f64>)],
        substrate: Substrate,
    ) -> Self {
        let n = depth_um.len();
        let mut doping = Self {
            depth_um,
            net_cm3: vec![substrate.net_donors_cm3(); n],
            total_cm3: vec![substrate.concentration_cm3; n],
            donor: None,
            acceptor: None,
        };
        for (dopant, active) in dopants {
            for (i, c) in active.iter().enumerate().take(n) {
                doping.net_cm3[i] += dopant.charge() * c;
                doping.total_cm3[i] += c;
            }
            let place = match dopant.doping_type() {
                DopingType::N => &mut doping.donor,
                DopingType::P => &mut doping.acceptor,
            };
            place.get_or_insert(*dopant);
        }
        doping
    }

    /// Conductance of the sheet between two depths (um) in siemens per square.
    fn conductance_s(&self, top_um: f64, bottom_um: f64, model: MobilityModel) -> f64 {
        let x = &self.depth_um;
        let mut sum = 0.0;
        let mut last: Option<f64> = None;
        for i in 0..x.len() {
            if bottom_um <= x[i.saturating_sub(1)] && 0 < i {
                break;
            }
            let here = self.conductivity_per_q(i, model);
            if let Some(before) = last {
                // The part of this interval inside the layer; the ends are interpolated.
                let width = x[i] - x[i - 1];
                let (from, to) = (top_um.max(x[i - 1]), bottom_um.min(x[i]));
                if from < to {
                    let at = |depth: f64| {
                        let t = (depth - x[i - 1]) / width;
                        self.end_value(i, before, here, t)
                    };
                    sum += 0.5 * (at(from) + at(to)) * (to - from);
                }
            }
            last = Some(here);
        }
        // um to cm
        ELEMENTARY_CHARGE_C * sum * 1e-4
    }

    /// Conductivity over q between two points; across a junction it falls to zero at it.
    fn end_value(&self, i: usize, before: f64, here: f64, t: f64) -> f64 {
        if self.net_cm3[i - 1] * self.net_cm3[i] < 0.0 {
            (before + (-here - before) * t).abs()
        } else {
            before + (here - before) * t
        }
    }

    /// Mobility times net active doping at a point.
    fn conductivity_per_q(&self, i: usize, model: MobilityModel) -> f64 {
        let net = self.net_cm3[i];
        let dopant = if 0.0 < net {
            self.donor.unwrap_or(Dopant::Phosphorus)
        } else {
            self.acceptor.unwrap_or(Dopant::Boron)
        };
        net.abs() * model.mobility_cm2_vs(dopant, self.total_cm3[i])
    }

    /// Returns the sheet resistance in ohm per square between two depths in um; `None` if
    /// nothing conducts there.
    ///
    /// # Model
    /// `1/Rs = q Int mu(NA + ND) |ND - NA| dx` at 300 K, metallurgical layer, no depletion.
    ///
    /// # Source
    /// Textbook standard (J. C. Irvin, Bell Syst. Tech. J. 41, 387, 1962; memory).
    ///
    /// # Validity
    /// Below a junction depth of 0.3 um the depletion region takes 5 to 10 % of it.
    #[must_use]
    pub fn sheet_resistance_ohm_sq(
        &self,
        top_um: f64,
        bottom_um: f64,
        model: MobilityModel,
    ) -> Option<f64> {
        let conductance = self.conductance_s(top_um, bottom_um, model);
        let resistance = 1.0 / conductance;
        (0.0 < conductance && resistance.is_finite()).then_some(resistance)
    }
}

/// One layer between junctions.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SheetLayer {
    /// Conduction type.
    #[serde(rename = "type")]
    pub doping_type: DopingType,
    /// Its upper edge in um.
    pub top_um: f64,
    /// Its lower edge in um.
    pub bottom_um: f64,
    /// Its sheet resistance in ohm per square.
    pub sheet_resistance_ohm_sq: Option<f64>,
}

/// Returns the layers above each junction and down to the last depth, from the surface down.
#[must_use]
pub fn sheet_layers(
    doping: &ActiveDoping,
    junctions_um: &[f64],
    model: MobilityModel,
) -> Vec<SheetLayer> {
    let Some(&last) = doping.depth_um.last() else { return Vec::new() };
    let mut layers = Vec::new();
    let mut top_um = 0.0;
    for &bottom_um in junctions_um.iter().chain(core::iter::once(&last)) {
        if bottom_um <= top_um {
            continue;
        }
        let middle = 0.5 * (top_um + bottom_um);
        let i = doping.depth_um.partition_point(|&x| x < middle);
        let net = doping.net_cm3.get(i).copied().unwrap_or(0.0);
        layers.push(SheetLayer {
            doping_type: if net < 0.0 { DopingType::P } else { DopingType::N },
            top_um,
            bottom_um,
            sheet_resistance_ohm_sq: doping
                .sheet_resistance_ohm_sq(top_um, bottom_um, model),
        });
        top_um = bottom_um;
    }
    layers
}

/// Returns the sheet resistance in ohm per square of a large thin sheet from the voltage over
/// the current of an in-line four-point probe in ohm: `(pi/ln 2) V/I`.
///
/// # Source
/// F. M. Smits, Bell Syst. Tech. J. 37, 711, 1958 (memory).
#[must_use]
pub fn four_point_ohm_sq(voltage_over_current_ohm: f64) -> f64 {
    core::f64::consts::PI / ln(2.0) * voltage_over_current_ohm
}

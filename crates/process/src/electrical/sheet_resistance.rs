//! Sheet resistance of doped layers.

use serde::Serialize;

use super::depletion::{Depletion, depleted_edges};
use crate::constants::ELEMENTARY_CHARGE_C;
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

    /// Net donors per cm3 at a depth in um, straight between the points.
    #[must_use]
    pub fn net_at(&self, depth_um: f64) -> f64 {
        let (x, y) = (&self.depth_um, &self.net_cm3);
        let upper = x.partition_point(|&x| x < depth_um);
        match (upper.checked_sub(1), x.get(upper)) {
            (Some(lower), Some(&right)) => {
                let t = (depth_um - x[lower]) / (right - x[lower]);
                y[lower] + (y[upper] - y[lower]) * t
            }
            (None, Some(_)) => y[0],
            _ => y.last().copied().unwrap_or(0.0),
        }
    }

    /// Integral of a density over the depth between two depths (um), times 1e-4 for cm. Between
    /// two points it is a straight line; across a junction it falls to zero at it.
    fn integral_cm(&self, density: &[f64], top_um: f64, bottom_um: f64) -> f64 {
        let x = &self.depth_um;
        let mut sum = 0.0;
        for i in 1..x.len() {
            if bottom_um <= x[i - 1] {
                break;
            }
            // The part of this interval inside the layer; the ends are interpolated.
            let width = x[i] - x[i - 1];
            let (from, to) = (top_um.max(x[i - 1]), bottom_um.min(x[i]));
            if to <= from {
                continue;
            }
            let (before, here) = (density[i - 1], density[i]);
            let crosses = self.net_cm3[i - 1] * self.net_cm3[i] < 0.0;
            let at = |depth: f64| {
                let t = (depth - x[i - 1]) / width;
                if crosses {
                    (before + (-here - before) * t).abs()
                } else {
                    before + (here - before) * t
                }
            };
            sum += 0.5 * (at(from) + at(to)) * (to - from);
        }
        sum * 1e-4
    }

    /// Conductivity in S/cm at each point: `q mu |N|`.
    #[must_use]
    pub fn conductivity_s_cm(&self, model: MobilityModel) -> Vec<f64> {
        let donor = self.donor.unwrap_or(Dopant::Phosphorus);
        let acceptor = self.acceptor.unwrap_or(Dopant::Boron);
        self.net_cm3
            .iter()
            .zip(&self.total_cm3)
            .map(|(net, total)| {
                let dopant = if 0.0 < *net { donor } else { acceptor };
                ELEMENTARY_CHARGE_C * net.abs() * model.mobility_cm2_vs(dopant, *total)
            })
            .collect()
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
        let conductivity = self.conductivity_s_cm(model);
        resistance(self.integral_cm(&conductivity, top_um, bottom_um))
    }
}

/// One over a conductance; `None` if nothing conducts.
fn resistance(conductance_s: f64) -> Option<f64> {
    let resistance = 1.0 / conductance_s;
    (0.0 < conductance_s && resistance.is_finite()).then_some(resistance)
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
    /// Its sheet resistance in ohm per square; null = nothing conducts.
    pub sheet_resistance_ohm_sq: Option<f64>,
    /// Active net dose per cm2.
    pub dose_cm2: f64,
    /// Largest active net doping per cm3.
    pub peak_cm3: f64,
    /// Mobility in cm2/Vs, averaged over the carriers.
    pub mean_mobility_cm2_vs: f64,
    /// Conductivity in S/cm, averaged over the thickness.
    pub average_conductivity_s_cm: f64,
    /// Sheet resistance in ohm per square without the depleted edges; null = all is depleted.
    pub undepleted_ohm_sq: Option<f64>,
}

/// Returns the layers above each junction and down to the last depth, from the surface down,
/// and the depleted edges of the junctions; `conductivity_s_cm` at each point of `doping`.
#[must_use]
pub fn layers(
    doping: &ActiveDoping,
    conductivity_s_cm: &[f64],
    junctions_um: &[f64],
) -> (Vec<SheetLayer>, Vec<Depletion>) {
    let Some(&last) = doping.depth_um.last() else { return Default::default() };
    let mut edges: Vec<f64> = vec![0.0];
    for &junction in junctions_um.iter().chain(core::iter::once(&last)) {
        if edges.last().is_some_and(|&top| top < junction) {
            edges.push(junction);
        }
    }
    let depletion: Vec<Depletion> =
        edges.windows(3).map(|w| depleted_edges(doping, w[1], w[0], w[2])).collect();
    let net: Vec<f64> = doping.net_cm3.iter().map(|n| n.abs()).collect();
    let layers = edges
        .windows(2)
        .enumerate()
        .map(|(k, pair)| {
            let (top_um, bottom_um) = (pair[0], pair[1]);
            let middle = doping.net_at(0.5 * (top_um + bottom_um));
            let conductance_s = doping.integral_cm(conductivity_s_cm, top_um, bottom_um);
            let dose_cm2 = doping.integral_cm(&net, top_um, bottom_um);
            let x = &doping.depth_um;
            let inside = x.partition_point(|&x| x < top_um)
                ..x.partition_point(|&x| x <= bottom_um);
            let from = k.checked_sub(1).and_then(|above| depletion.get(above));
            let from = from.map_or(top_um, |d| d.lower_um);
            let to = depletion.get(k).map_or(bottom_um, |d| d.upper_um);
            SheetLayer {
                doping_type: if middle < 0.0 { DopingType::P } else { DopingType::N },
                top_um,
                bottom_um,
                sheet_resistance_ohm_sq: resistance(conductance_s),
                dose_cm2,
                peak_cm3: net[inside].iter().copied().fold(0.0, f64::max),
                mean_mobility_cm2_vs: if 0.0 < dose_cm2 {
                    conductance_s / (ELEMENTARY_CHARGE_C * dose_cm2)
                } else {
                    0.0
                },
                average_conductivity_s_cm: conductance_s / ((bottom_um - top_um) * 1e-4),
                undepleted_ohm_sq: resistance(doping.integral_cm(
                    conductivity_s_cm,
                    from,
                    to,
                )),
            }
        })
        .collect();
    (layers, depletion)
}

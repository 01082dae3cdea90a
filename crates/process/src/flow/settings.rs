//! Model choices that hold for a whole flow: the defaults of its steps' fields.

use serde::Deserialize;
use serde_json::{Map, Value, json};

use super::bounds::{
    FIXED_CHARGE_FIELD_CM2, FIXED_CHARGE_GATE_CM2, INTRINSIC_CM3, MOBILITY_N_CM2_VS,
    MOBILITY_P_CM2_VS, SUPPLY_V,
};
use crate::diffusion::request::DONOR_SEGREGATION;
use crate::error::RequestError;
use crate::implantation::{ImplantationModel, RangeTable};
use crate::vocabulary::{
    BoronSegregation, DiffusivitySet, MobilityModel, OxidationModel, WetParameterSet,
    words,
};

words!(
    /// How an exposure prints a mask.
    ImageKind {
        /// As it is drawn: sharp, upright walls.
        Ideal = "ideal", "ideal (as drawn)";
        /// Through the tool's optics.
        Aerial = "aerial", "through the optics of the tool";
    }
);
words!(
    /// How fine a section is computed.
    MeshKind {
        /// Junctions within about 1 %.
        Usual = "usual", "usual";
        /// Faster, with larger errors.
        Quick = "quick", "quick";
    }
);

/// The settings of a flow.
#[derive(Clone, Debug, Default, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Settings {
    /// `model` of an oxidation.
    pub oxidation_model: Option<OxidationModel>,
    /// `parameter_set` of a wet oxidation.
    pub wet_parameter_set: Option<WetParameterSet>,
    /// `model` of an implantation.
    pub implantation_model: Option<ImplantationModel>,
    /// `range_table` of an implantation.
    pub range_table: Option<RangeTable>,
    /// `diffusivity` of the hot steps.
    pub diffusivity: Option<DiffusivitySet>,
    /// `active_limit` of the hot steps.
    pub active_limit: Option<bool>,
    /// `oxidation_enhanced_diffusion` of drive-ins and anneals.
    pub oxidation_enhanced_diffusion: Option<bool>,
    /// `boron_segregation` of the hot steps.
    pub boron_segregation: Option<BoronSegregation>,
    /// `donor_segregation` of the hot steps.
    pub donor_segregation: Option<f64>,
    /// `image` of an exposure.
    pub lithography: Option<ImageKind>,
    /// How fine the section is computed.
    pub mesh: Option<MeshKind>,
    /// Mobility for sheet resistances.
    pub mobility: Option<MobilityModel>,
    /// Intrinsic density of thresholds per cm3.
    pub intrinsic_cm3: Option<f64>,
    /// Fixed charge under the gate per cm2.
    pub fixed_charge_gate_cm2: Option<f64>,
    /// Fixed charge under the field oxide per cm2.
    pub fixed_charge_field_cm2: Option<f64>,
    /// Supply voltage in V.
    pub supply_v: Option<f64>,
    /// Electrons in a channel in cm2/Vs.
    pub mobility_n_cm2_vs: Option<f64>,
    /// Holes in a channel in cm2/Vs.
    pub mobility_p_cm2_vs: Option<f64>,
}

impl Settings {
    /// Checks the numbers.
    pub(super) fn check(self) -> Result<Self, RequestError> {
        let numbers = [
            (&DONOR_SEGREGATION, self.donor_segregation),
            (&INTRINSIC_CM3, self.intrinsic_cm3),
            (&FIXED_CHARGE_GATE_CM2, self.fixed_charge_gate_cm2),
            (&FIXED_CHARGE_FIELD_CM2, self.fixed_charge_field_cm2),
            (&SUPPLY_V, self.supply_v),
            (&MOBILITY_N_CM2_VS, self.mobility_n_cm2_vs),
            (&MOBILITY_P_CM2_VS, self.mobility_p_cm2_vs),
        ];
        for (bound, given) in numbers {
            given.map(|value| bound.check(value)).transpose()?;
        }
        Ok(self)
    }

    /// Mobility for sheet resistances.
    #[must_use]
    pub fn mobility(&self) -> MobilityModel {
        self.mobility.unwrap_or(MobilityModel::Masetti1983)
    }

    /// Whether only the active part of the dopants moves and conducts.
    #[must_use]
    pub fn active_limit(&self) -> bool {
        self.active_limit.unwrap_or(true)
    }

    /// Fills the model fields that a step of an operation leaves out.
    pub(super) fn fill(&self, operation: &str, fields: &mut Map<String, Value>) {
        let word = |word: Option<&'static str>| word.map(Value::from);
        let set = word(self.diffusivity.map(DiffusivitySet::word));
        let boron = word(self.boron_segregation.map(BoronSegregation::word));
        let defaults: Vec<(&str, Option<Value>)> = match operation {
            "oxidation" => {
                // The constants of wet oxygen stand for nothing in another gas.
                let wet = uses_wet(fields);
                vec![
                    ("model", word(self.oxidation_model.map(OxidationModel::word))),
                    (
                        "parameter_set",
                        word(self.wet_parameter_set.map(WetParameterSet::word))
                            .filter(|_| wet),
                    ),
                ]
            }
            "drive_in" | "anneal" | "predeposition" => vec![
                ("diffusivity", set),
                ("active_limit", Some(json!(self.active_limit()))),
                (
                    "oxidation_enhanced_diffusion",
                    self.oxidation_enhanced_diffusion
                        .filter(|_| operation != "predeposition")
                        .map(Value::from),
                ),
                ("boron_segregation", boron),
                ("donor_segregation", self.donor_segregation.map(Value::from)),
            ],
            "implantation" => vec![
                ("model", word(self.implantation_model.map(ImplantationModel::word))),
                ("range_table", word(self.range_table.map(RangeTable::word))),
            ],
            "exposure" => vec![("image", word(self.lithography.map(ImageKind::word)))],
            _ => Vec::new(),
        };
        for (field, value) in defaults {
            if let Some(value) = value
                && !fields.contains_key(field)
            {
                fields.insert(field.to_owned(), value);
            }
        }
    }
}

/// Whether an oxidation's fields name wet oxygen.
fn uses_wet(fields: &Map<String, Value>) -> bool {
    let wet = |value: Option<&Value>| value.and_then(Value::as_str) == Some("wet");
    wet(fields.get("ambient"))
        || fields
            .get("segments")
            .and_then(Value::as_array)
            .is_some_and(|list| list.iter().any(|segment| wet(segment.get("ambient"))))
}

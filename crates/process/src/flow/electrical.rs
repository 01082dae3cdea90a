//! What a finished wafer is asked as a circuit.

use serde::Deserialize;

use super::fault::{name, too_many};
use crate::error::RequestError;
use crate::vocabulary::words;

words!(
    /// What a flow makes.
    CircuitKind {
        /// Metal plates on oxide.
        MosCapacitor = "mos_capacitor", "MOS capacitor";
        /// A diffused resistor and a diode.
        ResistorAndDiode = "resistor_and_diode", "resistor and diode";
        /// A CMOS inverter.
        Inverter = "inverter", "CMOS inverter";
    }
);
words!(
    /// What a gate is made of.
    GateKind {
        /// Polysilicon with donors.
        NPoly = "n_poly", "n⁺ polysilicon";
        /// Polysilicon with acceptors.
        PPoly = "p_poly", "p⁺ polysilicon";
        /// Metal.
        Aluminum = "aluminum", "aluminum";
    }
);

/// What a finished wafer is asked as a circuit.
#[derive(Clone, Debug, PartialEq)]
pub enum Electrical {
    /// Nothing.
    None,
    /// Plates by the names of their labels.
    MosCapacitor {
        /// The gate.
        gate: GateKind,
        /// Labels of the plates.
        plates: Vec<String>,
    },
    /// Terminals by the names of their labels.
    ResistorAndDiode {
        /// Labels of the terminals.
        terminals: Vec<String>,
    },
    /// An inverter by the labels of its nodes.
    Inverter {
        /// The gates.
        gate: GateKind,
        /// Label of the supply.
        supply: String,
        /// Label of the ground.
        ground: String,
        /// Label of the input.
        input: String,
        /// Label of the output.
        output: String,
    },
}

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ElectricalFields {
    kind: CircuitKind,
    gate: Option<GateKind>,
    plates: Option<Vec<String>>,
    terminals: Option<Vec<String>>,
    supply: Option<String>,
    ground: Option<String>,
    input: Option<String>,
    output: Option<String>,
}

impl ElectricalFields {
    /// Checks which fields belong to which circuit.
    pub(super) fn check(self) -> Result<Electrical, RequestError> {
        let list = |field: &'static str, given: Option<Vec<String>>| {
            let given = given.unwrap_or_default();
            too_many(field, given.len(), 1, 40)
                .and_then(|()| given.iter().try_for_each(|label| name(field, label)))
                .map(|()| given)
                .map_err(|error| error.inside("electrical"))
        };
        let node = |field: &'static str, given: Option<String>| {
            let given = given.ok_or_else(|| {
                RequestError::missing(
                    &format!("electrical.{field}"),
                    "a label of the layout",
                    &format!("name the {field}"),
                )
            })?;
            name(field, &given)
                .map(|()| given)
                .map_err(|error| error.inside("electrical"))
        };
        let usual = match self.kind {
            CircuitKind::MosCapacitor => GateKind::Aluminum,
            _ => GateKind::NPoly,
        };
        let gate = self.gate.unwrap_or(usual);
        Ok(match self.kind {
            CircuitKind::MosCapacitor => {
                Electrical::MosCapacitor { gate, plates: list("plates", self.plates)? }
            }
            CircuitKind::ResistorAndDiode => Electrical::ResistorAndDiode {
                terminals: list("terminals", self.terminals)?,
            },
            CircuitKind::Inverter => Electrical::Inverter {
                gate,
                supply: node("supply", self.supply)?,
                ground: node("ground", self.ground)?,
                input: node("input", self.input)?,
                output: node("output", self.output)?,
            },
        })
    }
}

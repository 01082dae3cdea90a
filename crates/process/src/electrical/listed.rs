//! The constants of mobility and resistivity as a list to read.

use super::mobility::{arora_constants, masetti_constants};
use super::resistivity::{F723_BORON, F723_PHOSPHORUS};
use crate::sourced::List;
use crate::vocabulary::{Dopant, DopingType};

const MASETTI: &str = "G. Masetti, M. Severi, S. Solmi, IEEE Trans. Electron Devices 30, 764 (1983), table I";
const ARORA: &str = "N. D. Arora, J. R. Hauser, D. J. Roulston, IEEE Trans. Electron Devices 29, 292 (1982)";
const F723: &str =
    "ASTM F723 after W. R. Thurber et al., NBS Special Publication 400-64 (1981)";

pub(crate) fn list(list: &mut List) {
    for (dopant, known_by) in [
        (
            Dopant::Arsenic,
            "memory; read: quoted in the documentation of a detector library",
        ),
        (
            Dopant::Phosphorus,
            "memory; read: quoted in the documentation of a detector library",
        ),
        (Dopant::Boron, "memory"),
    ] {
        for (name, value, unit) in masetti_constants(dopant) {
            list.source(MASETTI, known_by, "300 K, 1e13 to 5e20 per cm3").add(
                format!("mobility with {}, {name} (masetti_1983)", dopant.word()),
                value,
                unit,
            );
        }
    }
    for (carriers, doping) in [("electrons", DopingType::N), ("holes", DopingType::P)] {
        let [lowest, lattice, power, reference] = arora_constants(doping);
        list.source(ARORA, "memory", "200 to 500 K, up to 1e20 per cm3")
            .add(
                format!("mobility of {carriers}, lowest (arora_1982)"),
                lowest,
                "cm2/(V s)",
            )
            .add(
                format!("mobility of {carriers}, lattice (arora_1982)"),
                lattice,
                "cm2/(V s)",
            )
            .add(format!("mobility of {carriers}, power of T (arora_1982)"), power, "")
            .add(
                format!("mobility of {carriers}, doping (arora_1982)"),
                reference,
                "cm-3",
            );
    }
    let checked = "memory (formula checked against a public table)";
    for (name, value) in ["a", "b", "c", "d"].into_iter().zip(F723_BORON) {
        list.source(F723, checked, "23 C, 1e13 to 1e20 per cm3").add(
            format!("resistivity of boron-doped wafers, {name}"),
            value,
            "",
        );
    }
    let names = ["factor", "A0", "A1", "A2", "A3", "B1", "B2", "B3"];
    for (name, value) in names.into_iter().zip(F723_PHOSPHORUS) {
        list.source(F723, checked, "23 C, 1e13 to 5e20 per cm3").add(
            format!("resistivity of phosphorus-doped wafers, {name}"),
            value,
            "",
        );
    }
}

//! The constants of cleaning as a list to read.

use super::recipe::{CHEMICAL_OXIDE_NM, CHEMICAL_OXIDE_SOURCE, HF_DIP_PERCENT};
use crate::sourced::List;

pub(crate) fn list(list: &mut List) {
    list.source(CHEMICAL_OXIDE_SOURCE, "memory", "0.6 to 1.5 nm by bath and method").add(
        "oxide left by a peroxide bath",
        CHEMICAL_OXIDE_NM,
        "nm",
    );
    list.source("50 parts of water to 1 of 49 % HF", "common practice", "HF dip").add(
        "strength of the HF dip, by volume of 49 % HF",
        HF_DIP_PERCENT,
        "%",
    );
}

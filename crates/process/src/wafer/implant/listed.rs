//! The model choices of implants into the section as a list to read.

use super::{shadow, spread};
use crate::sourced::List;

pub(in crate::wafer) fn list(list: &mut List) {
    list.source(
        "Gaussian spread across the beam",
        "model choice",
        "2e-9 of a column's ions lie farther away",
    )
    .add("straggles across the beam that ions are followed", spread::REACH, "");
    list.source(
        "sharp shadows of a tilted beam",
        "model choice",
        "share of a column's width",
    )
    .add("least shadow of a column", shadow::NOTHING, "");
}

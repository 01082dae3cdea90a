//! What the questions to a wafer compute with, as a list to read.

use super::{compare, contours, measured, sentences};
use crate::sourced::List;

pub(in crate::flow) fn list(list: &mut List) {
    list.source(
        "relative permittivity of 3.9 and that of the vacuum",
        "memory",
        "grown oxide",
    )
    .add("permittivity of oxide", measured::OXIDE_F_CM, "F/cm");
    list.source("what is told of a wafer", "model choice", "words, not shapes")
        .add("distance at which a label lies on the section", measured::ON_LINE_UM, "um")
        .add("stretch too narrow to be told", sentences::NARROW_UM, "um")
        .add("difference of films that is none", compare::SAME_NM, "nm")
        .add("difference of junctions that is none", compare::SAME_UM, "um")
        .add("concentration below which a dopant is absent", contours::FAINT_CM3, "cm-3");
}

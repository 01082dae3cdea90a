//! The constants of color as a list to read. The optical tables are many numbers: of each the
//! value in the green stands for all.

use super::OXIDE_INDEX;
use super::colorimetry::{BARE_SILICON_LUMINANCE, D65_WHITE};
use super::data::{FIRST_NM, OPTICAL, STEP_NM};
use crate::sourced::List;

/// Row of the tables at 550 nm.
fn green() -> Option<&'static [f64; 5]> {
    let row = (550.0 - FIRST_NM) / STEP_NM;
    OPTICAL
        .iter()
        .zip(0_u16..)
        .find(|(_, k)| row <= f64::from(*k))
        .map(|(values, _)| values)
}

pub(crate) fn list(list: &mut List) {
    if let Some(&[n, k, metal_n, metal_k, resist_k]) = green() {
        let database = "read: refractiveindex.info database (CC0)";
        let table = "380 to 780 nm in steps of 5 nm; here at 550 nm";
        list.source(
            "M. A. Green, Sol. Energy Mater. Sol. Cells 92, 1305 (2008)",
            database,
            table,
        )
        .add("silicon, refractive index n", n, "")
        .add("silicon, extinction coefficient k", k, "");
        list.source("A. D. Rakic, Appl. Opt. 34, 4755 (1995)", database, table)
            .add("aluminum, refractive index n", metal_n, "")
            .add("aluminum, extinction coefficient k", metal_k, "");
        list.source(
            "S. Sarkar et al., ACS Appl. Mater. Interfaces 11, 13752 (2019)",
            database,
            table,
        )
        .add("resist, extinction coefficient k", resist_k, "");
        list.source(
            "I. H. Malitson, J. Opt. Soc. Am. 55, 1205 (1965)",
            database,
            "550 nm",
        )
        .add("thermal oxide, refractive index n", OXIDE_INDEX, "");
    }
    let [x, _, z] = D65_WHITE;
    list.source(
        "CIE standard illuminant D65, 2-degree observer",
        "computed",
        "5 nm sums",
    )
    .add("white of daylight, X", x, "")
    .add("white of daylight, Z", z, "");
    list.source("the eye adapts to the wafer", "model choice", "colors on the page").add(
        "luminance at which bare silicon is shown",
        BARE_SILICON_LUMINANCE,
        "",
    );
}

//! The constants of polishing as a list to read.

use super::request::{OXIDE_PER_PA, OXIDE_TO_NITRIDE};
use crate::sourced::List;

pub(crate) fn list(list: &mut List) {
    list.source(
        "law of F. W. Preston, J. Soc. Glass Technol. 11, 214 (1927); oxide 100 to 300 nm/min \
         at 28 kPa and 0.7 m/s",
        "common practice",
        "0.85e-13 to 2.55e-13 /Pa",
    )
    .add("Preston's coefficient of oxide", OXIDE_PER_PA, "1/Pa");
    list.source(
        "3 to 5 in silica slurry; ceria 30 and more",
        "common practice",
        "silica slurry",
    )
    .add("selectivity of oxide to nitride", OXIDE_TO_NITRIDE, "");
}

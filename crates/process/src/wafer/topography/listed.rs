//! The model choices of shapes as a list to read.

use super::super::listed::count;
use super::{arrival, closing, front, leveling, march, resist, slopes, spans, walls};
use crate::sourced::List;

const MEASURED: &str = "model choice: measured against circles, stacks and shortest paths that \
                        can be written down";

pub(in crate::wafer) fn list(list: &mut List) {
    list.source(
        "arrival times of an etch",
        MEASURED,
        "undercut within 3 nm at 10 nm columns",
    )
    .add("levels of height over the reach of an etch", arrival::LEVELS, "")
    .add("finest levels of an etch", arrival::FINEST_NM, "nm")
    .add("coarsest levels of an etch", arrival::COARSEST_NM, "nm")
    .add("most levels of an etch", arrival::MOST_LEVELS, "");
    list.source(
        "fast marching with straight ways to what a node sees",
        MEASURED,
        "times within 0.4 % in the mean",
    )
    .add("share of a level by which marching may be early", march::MARCHING, "")
    .add("share by which a node that sees its source may be late", march::SIGHT, "");
    list.source("upright walls", "model choice", "exact where an edge is put")
        .add(
            "height of a wall that a film puts an edge before, over its reach",
            walls::LOW_WALL,
            "",
        )
        .add(
            "height of a front that an etch cuts a column at, over its reach",
            front::LOW_WALL,
            "",
        )
        .add("distance of two edges that are put at a time", walls::APART_NM, "nm")
        .add("reach below which no edge is put", walls::SHORT_NM, "nm")
        .add("steps of a surface that are a slope", count(slopes::FLIGHT), "")
        .add("lowest step of a slope", slopes::LOWEST_NM, "nm")
        .add("farthest distance of a slope's steps", slopes::TREAD_NM, "nm")
        .add("times that a slope's step may be as high as the next", slopes::ALIKE, "")
        .add("height that two spaces share if they hang together", spans::TOUCH_NM, "nm");
    list.source("voids that close", "model choice", "area within 3 %")
        .add(
            "moments at which a closing film is looked at",
            f64::from(closing::LOOKS),
            "",
        )
        .add("sharpness of the moment of closing", closing::SHARPEST, "");
    list.source("walls of resist", "model choice", "mean over a column exact")
        .add("columns in a leaning wall of resist", count(resist::WALL_COLUMNS), "")
        .add("narrowest column in a leaning wall of resist", resist::NARROWEST_NM, "nm");
    list.source("spun and flowing films", "model choice", "area kept exactly")
        .add("least thickness of a liquid film", leveling::WETTING_NM, "nm")
        .add("flow lengths that leveling looks across", leveling::FARTHEST, "");
}

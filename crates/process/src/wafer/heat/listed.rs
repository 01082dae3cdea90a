//! The model choices of heat as a list to read. Rates and diffusivities are those of the
//! one-dimensional benches, and stand with them.

use super::super::listed::count;
use super::oxide::{AS_OPEN, BEAK, CELLS, GROWTH, LIGHT_CM3, NO_SUPPLY, OWN_FILM_NM};
use super::{
    carriers, depth, lateral, lines, moment, owed, predeposit, schedule, stepping,
};
use crate::sourced::List;

pub(in crate::wafer) fn list(list: &mut List) {
    list.source(
        "Strang's splitting of two-stage steps",
        "model choice: measured against the one-dimensional reference profiles",
        "1 % in depth at a thousandth of the largest concentration",
    )
    .add("steps of an inert segment", count(stepping::INERT_STEPS), "")
    .add("steps of a segment that grows a thin oxide", count(stepping::THIN_STEPS), "")
    .add("steps of a segment that grows a thick oxide", count(stepping::THICK_STEPS), "")
    .add("steps of a predeposition", count(predeposit::STEPS), "")
    .add(
        "part of an inert segment with short steps at both ends",
        stepping::SHORT_ENDS,
        "",
    )
    .add("power at which steps of other segments end", stepping::EXPONENT, "")
    .add("parts of a ramp on which heat is summed", count(schedule::RAMP_PARTS), "")
    .add("oxide that counts as thick", stepping::THICK_NM, "nm")
    .add("diffusion length that moves nothing", stepping::UNMOVED_NM, "nm")
    .add("updates of the carriers in depth lines", f64::from(stepping::DEPTH), "")
    .add("updates of the carriers in rows", f64::from(lateral::PASSES), "");
    list.source(
        "cells that nothing reaches are left out",
        "model choice: measured against solving all of them",
        "equal to about 1e-6",
    )
    .add("share of the largest concentration that makes a gradient", depth::FLAT, "")
    .add(
        "concentration beyond which gradients count as there",
        depth::FLAT_AT_CM3,
        "cm-3",
    )
    .add("share of the carriers that makes a field", depth::FIELD, "")
    .add(
        "share of the carriers from cell to cell that makes a field",
        depth::FIELD_STEP,
        "",
    )
    .add("diffusion lengths below the last gradient", depth::WINDOW, "")
    .add("share of the active limit below which all is active", carriers::ALL_ACTIVE, "")
    .add(
        "share of the active limit below which five powers say how much is active",
        carriers::DILUTE,
        "",
    )
    .add("share by which carriers may move without a second pass", lines::SETTLED, "")
    .add("most that a second stage does, over the first", lines::SECOND_OVER_FIRST, "")
    .add("change of a row that is worth a solve", owed::SLOW, "")
    .add("share of the largest concentration that counts in that", owed::FAINT, "")
    .add(
        "volume of a cell that a source keeps full, over its own",
        lateral::RESERVOIR,
        "",
    );
    list.source("as in the one-dimensional furnace", "model choice", "slow ramps")
        .add("temperature below which no dopant moves", moment::COLDEST_C, "C")
        .add("temperature below which the active part is frozen", moment::FREEZES_C, "C");
    list.source(
        "activation energy of thick dry oxide, the lowest in a furnace",
        "read with the rate constants of dry oxygen",
        "steps of a ramp",
    )
    .add("energy by which a ramp is divided", schedule::LOWEST_EV, "eV");
    list.source(
        "oxidant in the oxide under a mask: Laplace's equation on a few cells a column",
        "model choice: measured against the converged beaks, local_oxidation.csv",
        "beak within 2 %",
    )
    .add("cells through the oxide of a column", count(CELLS), "")
    .add("growth of these cells away from the gas", GROWTH, "")
    .add("growth that counts as beak, over the open growth", BEAK, "")
    .add("supply that grows nothing, over an open surface's", NO_SUPPLY, "")
    .add("difference from an open surface's supply that is none", AS_OPEN, "");
    list.source("films of oxide", "model choice", "thinner additions join what is there")
        .add("growth that is a film of its own", OWN_FILM_NM, "nm");
    list.source(
        "law of the growth on heavy doping: less than 1 % at 900 C",
        "derived",
        "net doping of the surface",
    )
    .add("doping below which oxide grows as on pure silicon", LIGHT_CM3, "cm-3");
}

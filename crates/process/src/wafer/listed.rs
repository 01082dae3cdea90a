//! The model choices of the cross-section as a list to read.

use super::{cells, heat, implant, invariants, lattice, layer, split, topography};
use crate::sourced::List;

/// A small number of things.
pub(super) fn count(things: usize) -> f64 {
    u32::try_from(things).map_or(f64::NAN, f64::from)
}

pub(crate) fn list(list: &mut List) {
    for (kind, of) in [
        (lattice::EdgeKind::Gate, "a gate"),
        (lattice::EdgeKind::Active, "active area"),
        (lattice::EdgeKind::Well, "a well"),
        (lattice::EdgeKind::Contact, "a contact or a line"),
    ] {
        let fine = kind.fineness();
        list.source(
            "columns beside mask edges",
            "model choice: measured on profiles under mask edges",
            "0.5 % of a junction's depth",
        )
        .add(format!("width of columns at the edge of {of}"), fine.finest_nm, "nm")
        .add(
            format!("distance that they stay so from the edge of {of}"),
            fine.flat_nm,
            "nm",
        )
        .add(
            format!("growth of columns away from the edge of {of}"),
            fine.growth,
            "",
        );
    }
    for (mesh, name, validity) in [
        (lattice::DepthMesh::USUAL, "usual", "junctions within 1.3 %"),
        (lattice::DepthMesh::QUICK, "quick", "junctions within 3 %"),
    ] {
        list.source(
            "cells below the surface",
            "model choice: measured against the one-dimensional reference profiles",
            validity,
        )
        .add(format!("height of the uppermost cells, {name} mesh"), mesh.finest_nm, "nm")
        .add(format!("depth to which they stay so, {name} mesh"), mesh.even_nm, "nm")
        .add(format!("growth of the cells below, {name} mesh"), mesh.growth, "")
        .add(
            format!("least number of cells, {name} mesh"),
            count(mesh.cells),
            "",
        );
    }
    list.source("widths and faces of the section", "model choice", "all flows")
        .add("widest column", lattice::WIDEST_NM, "nm")
        .add("grid on which edges of columns lie", lattice::GRID_NM, "nm")
        .add("distance at which two edges are one", split::SAME_EDGE_NM, "nm")
        .add("thinnest layer", layer::THINNEST_NM, "nm")
        .add(
            "share of a cell's height below which it joins the next one",
            cells::SLIVER,
            "",
        );
    list.source(
        "columns that are joined again",
        "model choice",
        "split by a wall that is gone",
    )
    .add("difference of the dopants of columns that are joined", split::ALIKE_SHARE, "")
    .add("concentration that does not keep columns apart", split::FAINT_CM3, "cm-3");
    list.source(
        "dose ledger of every dopant",
        "model choice",
        "checked after every step",
    )
    .add("share of a dopant that may be missing", invariants::IMBALANCE, "");
    topography::list(list);
    heat::list(list);
    implant::list(list);
}

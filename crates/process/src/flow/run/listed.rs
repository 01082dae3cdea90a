//! The model choices of running a flow as a list to read.

use super::{columns, deposit, etch, furnace, implant, lithography};
use crate::sourced::List;

pub(in crate::flow) fn list(list: &mut List) {
    list.source(
        "depth of the mesh by the heat of all steps",
        "model choice",
        "all flows",
    )
    .add("diffusion lengths below the deepest dopant", columns::BELOW, "")
    .add("depth of implanted dopants before heat, at most", columns::IMPLANTED_NM, "nm")
    .add("silicon that stays at the bottom of the mesh", etch::BOTTOM_NM, "nm");
    list.source(
        "a mask's edge over field oxide shapes no junction",
        "model choice",
        "columns beside it",
    )
    .add("distance from the active areas at least", columns::BESIDE_ACTIVE_UM, "um")
    .add("oxide that counts as field oxide", columns::FIELD_NM, "nm");
    list.source(
        "resist of a micrometer runs over steps of some micrometers and follows wider ones",
        "model choice",
        "order of magnitude",
    )
    .add("length over which spun resist levels", lithography::LEVELS_NM, "nm");
    list.source(
        "thin liquid levels less far than resist",
        "model choice",
        "order of magnitude",
    )
    .add("length over which spun glass levels", deposit::LEVELS_NM, "nm");
    list.source(
        "soft bake leaves 3 to 5 % of the solvent",
        "common practice",
        "spun resist",
    )
    .add("solvent above which a film is soft", lithography::SOFT_SOLVENT, "");
    list.source("a mask lets less than a thousandth pass", "common practice", "implants")
        .add("share of the dose below which a mask holds", implant::LEAK, "");
    list.source(
        "resist that a beam has hardened",
        "common practice",
        "order of magnitude",
    )
    .add("dose from which resist is hardened", implant::HARDENS_CM2, "cm-2");
    list.source("resist carbonizes", "common practice", "novolak resist").add(
        "hottest step that resist stands",
        super::RESIST_HOLDS_C,
        "C",
    );
    list.source("sintering at 400 to 450 C", "common practice", "aluminum on silicon")
        .add(
            "hottest step that aluminum on silicon stands",
            super::ALUMINUM_HOLDS_C,
            "C",
        );
    list.source("melting point of aluminum", "memory", "pure metal").add(
        "temperature at which aluminum melts",
        super::ALUMINUM_MELTS_C,
        "C",
    );
    list.source(
        "glass after 20 min at 950 C: some tens of nm",
        "common practice",
        "phosphorus",
    )
    .add("glass that a phosphorus source leaves", furnace::GLASS_NM, "nm");
    list.source(
        "glass etches slower after heat",
        "common practice",
        "deposited oxide and glass",
    )
    .add(
        "temperature from which glass counts as annealed",
        furnace::DENSIFIES_C,
        "C",
    );
    list.source("active part of a dopant", "model choice", "furnace steps").add(
        "temperature from which the active part follows its limit",
        furnace::ACTIVATES_C,
        "C",
    );
    list.source("what a warning speaks of", "model choice", "words, not shapes")
        .add("film too thin to be spoken of", etch::NOTICED_NM, "nm")
        .add("undercut from beside the section that is spoken of", etch::SEEN_UM, "um")
        .add("resist too thick to be a residue", etch::BULK_NM, "nm")
        .add("stretch that is a wall to an implant", implant::WALL_NM, "nm")
        .add("void that is spoken of", deposit::NOTICED_NM2, "nm2");
}

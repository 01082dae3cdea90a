//! The constants of exposure and development as a list to read.

use super::blur::{SPREAD_EV, SPREAD_NM};
use super::lamp::usual_irradiance_mw_cm2;
use super::latent::CLEAR_TIME_S;
use super::line::MercuryLine;
use super::request::{PROXIMITY_GAP_UM, Tool};
use crate::sourced::List;
use crate::vocabulary::Material;

pub(in crate::lithography) fn list(list: &mut List) {
    for line in MercuryLine::ALL {
        list.source("standard spectral data", "memory", "mercury lamp").add(
            format!("{} line", line.letter()),
            line.wavelength_nm(),
            "nm",
        );
    }
    for line in MercuryLine::ALL {
        let (source, known_by) = if line == MercuryLine::I {
            ("demo resist of the lab", "model choice")
        } else {
            (
                "F. H. Dill and others, IEEE Trans. Electron Devices ED-22, 445 (1975), 10 %",
                "memory",
            )
        };
        let resist = line.demo_resist();
        let letter = line.letter();
        list.source(source, known_by, "positive novolac resist")
            .add(format!("{letter} line, bleachable A"), resist.bleachable_per_um, "1/um")
            .add(format!("{letter} line, residual B"), resist.residual_per_um, "1/um")
            .add(
                format!("{letter} line, bleach rate C"),
                resist.bleach_rate_cm2_mj,
                "cm2/mJ",
            )
            .add(format!("{letter} line, index"), resist.index, "");
    }
    for line in MercuryLine::ALL {
        let Ok(index) = line.index(Material::Silicon) else { continue };
        let letter = line.letter();
        list.source(
            "D. E. Aspnes, A. A. Studna, Phys. Rev. B 27, 985 (1983)",
            "read",
            "room temperature; linear between the lines of the table",
        )
        .add(format!("silicon, {letter} line, n"), index.re, "")
        .add(format!("silicon, {letter} line, k"), -index.im, "");
    }
    list.source("30 to 60 nm is common practice", "model choice", "110 C, 60 s")
        .add("spread in the bake after exposure", SPREAD_NM, "nm")
        .add("its activation energy", SPREAD_EV, "eV");
    list.source("10 to 50 um", "common practice", "proximity printing").add(
        "gap unless given",
        PROXIMITY_GAP_UM,
        "um",
    );
    list.source(
        "10 to 20 of a lamp, 300 to 600 of a stepper",
        "common practice",
        "on the wafer",
    )
    .add(
        "irradiance behind a contact mask",
        usual_irradiance_mw_cm2(Tool::Contact),
        "mW/cm2",
    )
    .add(
        "irradiance of a stepper",
        usual_irradiance_mw_cm2(Tool::Projection),
        "mW/cm2",
    );
    list.source("a usual time in the developer", "common practice", "positive resist")
        .add("time for which the dose to clear is stated", CLEAR_TIME_S, "s");
}

//! The thing itself, to scale: one picture a bench.

mod diffusion;
mod doped;
mod furnace;
mod implanter;
mod sketch;
mod spinner;
mod wet_bench;

use barewafer_process::Report;
use barewafer_process::report::Results;
use barewafer_process::vocabulary::Material;

use crate::scene::Scene;

/// The picture of a report; none if the report has nothing to show.
#[must_use]
pub fn of(report: &Report) -> Option<Scene> {
    match &report.results {
        Results::Oxidation(results) => Some(furnace::picture(results)),
        Results::SpinCoating(results) => Some(spinner::picture(results)),
        Results::WetEtch(results) => Some(wet_bench::picture(results)),
        Results::Diffusion(results) => diffusion::picture(report.operation, results),
        Results::Implantation(results) => implanter::picture(results),
    }
}

/// The material word of scenes.
#[must_use]
pub const fn material_word(material: Material) -> &'static str {
    match material {
        Material::Silicon => "silicon",
        Material::Polysilicon => "polysilicon",
        Material::ThermalOxide => "thermal_oxide",
        Material::DepositedOxide => "deposited_oxide",
        Material::PhosphorusGlass => "glass",
        Material::Nitride => "nitride",
        Material::Aluminum => "metal",
        Material::Resist => "resist",
    }
}

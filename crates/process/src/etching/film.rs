//! The films of the rate table: a material and how it was made.

use crate::error::RequestError;
use crate::request::nearest;
use crate::vocabulary::{Material, words};

words!(
    /// How a film was made, where its etch rate depends on it.
    Variant {
        /// Thermal oxide grown wet.
        Wet = "wet", "grown wet";
        /// Thermal oxide grown dry.
        Dry = "dry", "grown dry";
        /// Oxide from silane and oxygen at low temperature.
        Lto = "lto", "low-temperature (LTO)";
        /// Oxide from tetraethyl orthosilicate, as deposited.
        Teos = "teos", "TEOS";
        /// Oxide or nitride from a plasma reactor.
        Pecvd = "pecvd", "plasma-deposited (PECVD)";
        /// Glass as it was deposited.
        AsDeposited = "as_deposited", "as deposited";
        /// Glass that was densified.
        Annealed = "annealed", "annealed";
        /// Nitride of the composition `Si3N4`.
        Stoichiometric = "stoichiometric", "stoichiometric (LPCVD)";
        /// Silicon-rich nitride.
        LowStress = "low_stress", "low-stress (LPCVD)";
        /// Polysilicon with much phosphorus.
        NType = "n_type", "n-doped";
        /// Polysilicon without doping.
        Undoped = "undoped", "undoped";
        /// Aluminum with some silicon.
        SiliconAlloy = "silicon_alloy", "with silicon";
        /// Pure aluminum.
        Pure = "pure", "pure";
    }
);

/// A film of the rate table, one column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Film {
    /// The material.
    pub material: Material,
    /// How it was made; none if the table does not distinguish.
    pub variant: Option<Variant>,
}

impl Film {
    /// The variants of a material, the default first.
    #[must_use]
    pub const fn variants(material: Material) -> &'static [Variant] {
        match material {
            Material::ThermalOxide => &[Variant::Wet, Variant::Dry],
            Material::DepositedOxide => &[Variant::Lto, Variant::Teos, Variant::Pecvd],
            Material::PhosphorusGlass => &[Variant::Annealed, Variant::AsDeposited],
            Material::Nitride => {
                &[Variant::Stoichiometric, Variant::LowStress, Variant::Pecvd]
            }
            Material::Polysilicon => &[Variant::NType, Variant::Undoped],
            Material::Aluminum => &[Variant::SiliconAlloy, Variant::Pure],
            _ => &[],
        }
    }

    /// The film of a material, made in the usual way.
    #[must_use]
    pub fn usual(material: Material) -> Self {
        Self { material, variant: Self::variants(material).first().copied() }
    }

    /// The film of a material and one of its variants.
    ///
    /// # Errors
    /// `conflict` if the material does not come in that variant.
    pub fn new(
        material: Material,
        variant: Option<Variant>,
    ) -> Result<Self, RequestError> {
        let Some(variant) = variant else { return Ok(Self::usual(material)) };
        let allowed = Self::variants(material);
        if allowed.contains(&variant) {
            return Ok(Self { material, variant: Some(variant) });
        }
        let words: Vec<&str> = allowed.iter().map(|v| v.word()).collect();
        let list = if words.is_empty() { "none".to_owned() } else { words.join(", ") };
        let hint = nearest(variant.word(), &words).map_or_else(
            || "leave variant out, or use one of the allowed words".to_owned(),
            |near| format!("did you mean {near}"),
        );
        Err(RequestError::conflict(
            "variant",
            variant.word(),
            &list,
            &format!(
                "variant: {} does not come as {} (allowed: {list})",
                material.label(),
                variant.word()
            ),
            &hint,
        ))
    }

    /// What a person reads.
    #[must_use]
    pub fn label(self) -> String {
        match self.variant {
            Some(variant) => format!("{} ({})", self.material.label(), variant.label()),
            None => self.material.label().to_owned(),
        }
    }

    /// Whether the film is oxide or glass.
    #[must_use]
    pub const fn is_oxide(self) -> bool {
        matches!(
            self.material,
            Material::ThermalOxide | Material::DepositedOxide | Material::PhosphorusGlass
        )
    }

    /// Whether the film is silicon or polysilicon.
    #[must_use]
    pub const fn is_silicon(self) -> bool {
        matches!(self.material, Material::Silicon | Material::Polysilicon)
    }
}

//! Fields of a predeposition that name physics which is not computed there: their plain value
//! is accepted, any other is refused by name.

use crate::error::RequestError;
use crate::vocabulary::Material;

/// The fields of a predeposition that ask for more than is computed.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Unmodeled {
    pub(super) oxidation_enhanced_diffusion: Option<bool>,
    pub(super) target: Option<Material>,
}

impl Unmodeled {
    /// # Errors
    /// For the first field that would change the result.
    pub(super) fn check(self) -> Result<(), RequestError> {
        if self.oxidation_enhanced_diffusion == Some(true) {
            return Err(RequestError::conflict(
                "oxidation_enhanced_diffusion",
                "true",
                "false",
                "oxidation_enhanced_diffusion: no oxide grows under the source of a predeposition (allowed: false)",
                "leave it out here, and set it in the drive-in that follows",
            ));
        }
        if let Some(other) = self.target
            && other != Material::Silicon
        {
            return Err(RequestError::new(
                "not_available_yet",
                "target",
                other.word(),
                Material::Silicon.word(),
                &format!(
                    "target: {} is not available yet (allowed: {})",
                    other.word(),
                    Material::Silicon.word()
                ),
                "leave target out: here dopant goes into the single crystal. A polysilicon film of at most 0.5 um takes it up evenly within about 15 min at 900 °C or more (common practice): its dose is the surface concentration times its thickness",
            ));
        }
        Ok(())
    }
}

//! What happens at the silicon surface.

/// The condition at the surface for one dopant. The deep end is always a closed wall, through
/// which fresh silicon moves up where an oxide grows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Surface {
    /// Nothing passes: inert gas over silicon under its native oxide.
    Closed,
    /// The source holds this concentration per cm3 at the surface: predeposition.
    Held(f64),
    /// Dopant leaves at this speed in cm/s times its surface concentration: evaporation.
    Loss(f64),
    /// A growing oxide takes up dopant in equilibrium with the surface: the schedule of the
    /// anneal gives its thickness and the ratio of the concentrations.
    Oxide,
}

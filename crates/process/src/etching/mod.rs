//! Etching of films.

pub mod bath;
mod cautions;
mod clearing;
mod derivation;
pub mod dry;
mod film;
mod in_flow;
mod listed;
mod mask;
mod published;
mod rate;
mod rate_table;
mod request;
mod strip;
mod wet;

pub use bath::Etchant;
pub use clearing::{
    KOH_WALL_DEG, bottom_undercut_nm, over_etch_fraction, self_stop_depth_nm,
    time_to_clear_everywhere_s, time_to_clear_s, under_layer_loss_nm,
    under_layer_worst_loss_nm,
};
pub use dry::{
    DryEtchCurve, DryEtchResults, run as run_dry_etch, schema as dry_etch_schema,
};
pub use film::{Film, Variant};
pub(crate) use in_flow::{FlowDryEtch, FlowStrip, FlowWetEtch};
pub(crate) use listed::list;
pub use published::{PUBLISHED, PublishedRate};
pub use rate::{Bath, RateAt, boron_stop_factor, rate_at, silicon_in_koh_nm_min};
pub use rate_table::{Basis, TableRate};
pub use request::{
    BORON_CM3, CONCENTRATION_PERCENT, FILM_SPREAD_PERCENT, MASK_LINE_UM, MASK_OPENING_UM,
    OVER_ETCH_PERCENT, RATE_NM_MIN, RATE_SPREAD_PERCENT, TEMPERATURE_C, THICKNESS_NM,
    TIME_S,
};
pub use strip::{
    Attacked, STRIP_THICKNESS_NM, STRIP_TIME_MIN, StripCurve, StripMethod, StripResults,
    run as run_resist_strip, schema as resist_strip_schema,
};
pub use wet::{
    EtchCurve, Selectivity, WetEtchResults, run as run_wet_etch,
    schema as wet_etch_schema,
};

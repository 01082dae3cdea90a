//! A run of single ions that the page can watch and stop.

use barewafer_figures::pictures::Frame;
use barewafer_process::implantation::monte_carlo::TrackRun;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::Answer;
use crate::incoming::to_object;
use crate::outgoing::{thrown, to_js};

/// Single ions on their way. The page lets some fly, looks at the answer so far, and goes on or
/// stops; `free` ends the run.
#[wasm_bindgen]
#[derive(Debug)]
pub struct IonRun {
    run: TrackRun,
    frame: Frame,
}

#[wasm_bindgen]
impl IonRun {
    /// Prepares the run of a request with the model `monte_carlo`; the picture is for a narrow
    /// page or a wide one.
    ///
    /// # Errors
    /// Throws `{code, field, value, allowed, message, hint}` for anything that is not a good
    /// request.
    #[wasm_bindgen(constructor)]
    pub fn new(request: &JsValue, narrow: bool) -> Result<Self, JsValue> {
        to_object(request)
            .and_then(TrackRun::start)
            .map(|run| Self {
                run,
                frame: if narrow { Frame::Narrow } else { Frame::Wide },
            })
            .map_err(|error| thrown(&error))
    }

    /// Ions asked for.
    #[wasm_bindgen(getter)]
    #[must_use]
    pub fn total(&self) -> u32 {
        self.run.total()
    }

    /// Lets up to so many ions fly; gives back how many have flown in all.
    pub fn advance(&mut self, ions: u32) -> u32 {
        self.run.advance(ions)
    }

    /// The answer so far: `{report, charts, picture}`, as `bench` gives it.
    ///
    /// # Errors
    /// An `Error` of the page if the answer cannot be written.
    pub fn answer(&self) -> Result<JsValue, JsValue> {
        to_js(&Answer::of(self.run.report(), self.frame))
    }
}

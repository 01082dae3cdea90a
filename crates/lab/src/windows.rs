//! A process window that the page can watch and stop.

use barewafer_figures::pictures::Frame;
use barewafer_process::lithography::process_window;
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::Answer;
use crate::incoming::to_object;
use crate::outgoing::{thrown, to_js};

/// A process window on its way. The page has some points computed, looks at the answer so far, and
/// goes on or stops; `free` ends the run.
#[wasm_bindgen]
#[derive(Debug)]
pub struct WindowRun {
    run: process_window::WindowRun,
    frame: Frame,
}

#[wasm_bindgen]
impl WindowRun {
    /// Prepares the window of a request; the picture is for a narrow page or a wide one.
    ///
    /// # Errors
    /// Throws `{code, field, value, allowed, message, hint}` for anything that is not a good
    /// request.
    #[wasm_bindgen(constructor)]
    pub fn new(request: &JsValue, narrow: bool) -> Result<Self, JsValue> {
        to_object(request)
            .and_then(process_window::WindowRun::start)
            .map(|run| Self {
                run,
                frame: if narrow { Frame::Narrow } else { Frame::Wide },
            })
            .map_err(|error| thrown(&error))
    }

    /// Points asked for.
    #[wasm_bindgen(getter)]
    #[must_use]
    pub fn total(&self) -> u32 {
        self.run.total()
    }

    /// Computes up to so many points; gives back how many are computed in all.
    pub fn advance(&mut self, points: u32) -> u32 {
        self.run.advance(points)
    }

    /// The answer so far: `{report, charts, picture}`, as `bench` gives it.
    ///
    /// # Errors
    /// An `Error` of the page if the answer cannot be written.
    pub fn answer(&self) -> Result<JsValue, JsValue> {
        to_js(&Answer::of(self.run.report(), self.frame))
    }
}

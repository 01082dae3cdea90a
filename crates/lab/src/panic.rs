//! What is left of a bug: the page shows it on a card and starts a new instance.

use std::cell::RefCell;
use std::panic::PanicHookInfo;

use wasm_bindgen::prelude::wasm_bindgen;

thread_local! {
    static LAST: RefCell<Option<String>> = const { RefCell::new(None) };
}

/// Installs the hook when the module starts.
#[wasm_bindgen(start)]
pub fn start() {
    std::panic::set_hook(Box::new(record));
}

/// The text of the last panic of this instance, or null.
#[wasm_bindgen(js_name = lastPanic)]
#[must_use]
pub fn last_panic() -> Option<String> {
    LAST.with(|last| last.try_borrow().ok().and_then(|text| text.clone()))
}

fn record(info: &PanicHookInfo<'_>) {
    let text = info.to_string();
    #[cfg(target_arch = "wasm32")]
    web_sys::console::error_1(&text.as_str().into());
    LAST.with(|last| {
        if let Ok(mut last) = last.try_borrow_mut() {
            *last = Some(text);
        }
    });
}

//! Writes the JavaScript glue for a compiled wasm module.
fn main() -> Result<(), Box<dyn std::error::Error>> {
    Ok(wasm_bindgen_cli::wasm_bindgen::run_cli_with_args(std::env::args_os())?)
}

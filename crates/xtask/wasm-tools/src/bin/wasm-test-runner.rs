//! Runs wasm test binaries in a headless browser; cargo calls it as the target's runner.
fn main() -> Result<(), Box<dyn std::error::Error>> {
    Ok(
        wasm_bindgen_cli::wasm_bindgen_test_runner::run_cli_with_args(
            std::env::args_os(),
        )?,
    )
}

//! What the Cargo manifests say about versions.

use std::fs;

use anyhow::{Context, Result};

use crate::run::root;

/// The pinned version of a dependency in a manifest, found by its line `name = ... "=1.2.3"`.
pub(crate) fn pinned_version(manifest: &str, dependency: &str) -> Result<String> {
    let text = fs::read_to_string(root().join(manifest)).context(manifest.to_owned())?;
    find_pin(&text, dependency)
        .with_context(|| format!("{manifest} does not pin {dependency} with \"=\""))
}

fn find_pin(text: &str, dependency: &str) -> Option<String> {
    let value = text.lines().find_map(|line| {
        let (name, value) = line.split_once('=')?;
        (name.trim() == dependency).then_some(value)
    })?;
    let (_, rest) = value.split_once("\"=")?;
    let (version, _) = rest.split_once('"')?;
    Some(version.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pin_is_read_from_both_ways_of_writing_it() {
        let text =
            "a = \"=1.2.3\"\nb = { version = \"=4.5\", features = [] }\nc = \"1\"\n";
        assert_eq!(find_pin(text, "a").as_deref(), Some("1.2.3"));
        assert_eq!(find_pin(text, "b").as_deref(), Some("4.5"));
        assert_eq!(find_pin(text, "c"), None);
        assert_eq!(find_pin(text, "d"), None);
    }
}

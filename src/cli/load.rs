//! From a file to a shop.

use super::exit::Failure;
use super::files;
use super::settings::Saying;
use super::terminal;
use crate::scenario::{Findings, Scenario, read};
use std::io::IsTerminal;
use std::path::Path;

/// A scenario and its text.
pub(super) struct Loaded {
    pub(super) text: String,
    pub(super) scenario: Scenario,
}

/// Reads a scenario; warnings go to standard error unless little is to be said.
///
/// # Errors
/// Wrong input: the file cannot be read, or something is wrong with it.
pub(super) fn load(path: &Path, saying: Saying) -> Result<Loaded, Failure> {
    let text = files::read_text(path)?;
    let scenario =
        read(&path.display().to_string(), &text).map_err(|found| Failure::input(rendered(&found)))?;
    if saying > Saying::Little && !scenario.warnings.is_empty() {
        terminal::tell(&rendered(&scenario.warnings));
    }
    Ok(Loaded { text, scenario })
}

/// Findings as they are shown on standard error.
pub(super) fn rendered(found: &Findings) -> String {
    let no_colour = std::env::var_os("NO_COLOR").is_some_and(|v| !v.is_empty());
    found.render(std::io::stderr().is_terminal() && !no_colour)
}

//! `tankday new`: a starter scenario.

use super::args::New;
use super::exit::{Exit, Failure};
use super::settings::Saying;
use super::{files, terminal};
use tankday_scenario::starter;

/// Writes it, unless the file exists.
///
/// # Errors
/// When the file exists or cannot be written.
pub(super) fn new(typed: &New, saying: Saying) -> Result<Exit, Failure> {
    files::write_new(&typed.file, starter().as_bytes())?;
    if saying > Saying::Little {
        let name = typed.file.display();
        terminal::print(&format!(
            "Written: {name}. Change it to your shop, then: tankday run {name}\n"
        ))?;
    }
    Ok(Exit::Done)
}

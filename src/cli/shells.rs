//! What shells, editors and manuals ask for.

use super::args::Typed;
use super::exit::{Exit, Failure};
use super::terminal;
use clap::CommandFactory;

/// `tankday schema`.
///
/// # Errors
/// When standard output cannot be written; so all here.
pub(super) fn schema() -> Result<Exit, Failure> {
    terminal::print(&format!("{:#}\n", tankday_scenario::schema()))?;
    Ok(Exit::Done)
}

/// `tankday completions`.
pub(super) fn completions(shell: clap_complete::Shell) -> Result<Exit, Failure> {
    // Into memory first: the generator does not survive a closed pipe.
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Typed::command(), "tankday", &mut script);
    terminal::print(&String::from_utf8_lossy(&script))?;
    Ok(Exit::Done)
}

/// `tankday man`.
pub(super) fn man() -> Result<Exit, Failure> {
    let mut page = Vec::new();
    let page = clap_mangen::Man::new(Typed::command())
        .render(&mut page)
        .map(|()| page);
    let page = page.map_err(|e| Failure::work(format!("cannot make the manual page: {e}")))?;
    terminal::print(&String::from_utf8_lossy(&page))?;
    Ok(Exit::Done)
}

//! From a file to a shop.

use super::exit::Failure;
use super::files;
use super::sets::Sets;
use super::settings::Saying;
use super::terminal;
use std::io::IsTerminal;
use std::path::{Path, PathBuf};
use tankday_scenario::{Draft, File, Findings, Scenario};

/// A scenario and its text.
pub(super) struct Loaded {
    /// As it was read, before it was understood.
    pub(super) draft: Draft,
    /// One text that stands alone, whatever the file extends.
    pub(super) text: String,
    /// The files that it was read from, names and texts.
    pub(super) files: Vec<(String, String)>,
    pub(super) scenario: Scenario,
}

/// Reads a scenario; warnings go to standard error unless little is to be said.
///
/// # Errors
/// Wrong input: the file cannot be read, or something is wrong with it.
pub(super) fn load(path: &Path, sets: &Sets, saying: Saying) -> Result<Loaded, Failure> {
    loaded(draft(path, sets)?, saying)
}

/// Understands what was read; warnings go to standard error unless little is to be said.
///
/// # Errors
/// Wrong input: something is wrong with it.
pub(super) fn understood(draft: &Draft, saying: Saying) -> Result<Scenario, Failure> {
    let scenario = draft
        .scenario()
        .map_err(|found| Failure::input(rendered(&found)))?;
    if saying > Saying::Little && !scenario.warnings.is_empty() {
        terminal::tell(&rendered(&scenario.warnings));
    }
    Ok(scenario)
}

/// Reads several scenarios. What is set may be unknown to some of them, but not to all.
///
/// # Errors
/// As [`load`].
pub(super) fn load_all(paths: &[PathBuf], sets: &Sets, saying: Saying) -> Result<Vec<Loaded>, Failure> {
    let mut drafts: Vec<Draft> = paths.iter().map(|path| opened(path)).collect::<Result<_, _>>()?;
    sets.put(&mut drafts)?;
    drafts.into_iter().map(|draft| loaded(draft, saying)).collect()
}

fn loaded(draft: Draft, saying: Saying) -> Result<Loaded, Failure> {
    let scenario = understood(&draft, saying)?;
    Ok(Loaded {
        text: draft.text(),
        files: draft
            .files()
            .map(|(name, text)| (name.to_owned(), text.to_owned()))
            .collect(),
        scenario,
        draft,
    })
}

/// Reads a file and those that it extends, puts in what is set, and understands nothing yet.
///
/// # Errors
/// Wrong input: a file cannot be read, or is no YAML; what is set leads nowhere.
pub(super) fn draft(path: &Path, sets: &Sets) -> Result<Draft, Failure> {
    let mut draft = opened(path)?;
    sets.put(std::slice::from_mut(&mut draft))?;
    Ok(draft)
}

fn opened(path: &Path) -> Result<Draft, Failure> {
    let file = File {
        name: path.display().to_string(),
        id: id(path),
        text: files::read_text(path)?,
    };
    Draft::open(file, &beside).map_err(|found| Failure::input(rendered(&found)))
}

/// The file that another extends: its name counts from the folder of the one that names it.
fn beside(asking: &File, written: &str) -> Result<File, String> {
    let folder = Path::new(&asking.name).parent().unwrap_or(Path::new(""));
    let path = folder.join(written);
    let ends = |end: &str| path.extension().is_some_and(|e| e.eq_ignore_ascii_case(end));
    let text = match ["csv", "tsv", "txt"].iter().any(|end| ends(end)) {
        true => files::table_of(&path, files::MOST_BYTES)?,
        false => files::text_of(&path, files::MOST_BYTES)?,
    };
    Ok(File {
        name: path.display().to_string(),
        id: id(&path),
        text,
    })
}

/// What tells a file from every other, links and detours followed.
fn id(path: &Path) -> String {
    let real = std::fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    real.display().to_string()
}

/// Findings as they are shown on standard error.
pub(super) fn rendered(found: &Findings) -> String {
    let no_colour = std::env::var_os("NO_COLOR").is_some_and(|v| !v.is_empty());
    found.render(std::io::stderr().is_terminal() && !no_colour)
}

//! What a folder holds, against the list of what was written into it.

use super::list::{LIST, List};
use super::{Failure, Here, files};
use std::path::Path;

/// A folder against its list.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct Held {
    /// How many files are as they were written.
    pub(crate) same: usize,
    /// What differs, a sentence a file.
    pub(crate) differs: Vec<String>,
    /// Files that are not in the list: the user's own.
    pub(crate) others: Vec<String>,
}

/// Holds a folder against its list; none where it has no list.
///
/// # Errors
/// Wrong input: the list cannot be read, or the folder cannot.
pub(crate) fn held(dir: &Path) -> Result<Option<Held>, Failure> {
    let path = dir.join(LIST);
    let wrong = |why: String| Failure::input(format!("cannot read {}: {why}", path.display()));
    let Some(list) = List::of(dir).map_err(wrong)? else {
        return Ok(None);
    };
    let mut held = Held::default();
    if list.unfinished {
        held.differs.push(format!(
            "{}: a command was stopped while it wrote this folder; run it again",
            path.display()
        ));
    }
    let mut names: Vec<&str> = list.files.iter().map(|(_, name)| name.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    for name in &names {
        let path = dir.join(name);
        let what = match Here::at(&path) {
            Here::File(here) if list.holds(name, &here) => {
                held.same += 1;
                continue;
            }
            // A stopped command may have had no time for it.
            Here::Nothing if list.unfinished => continue,
            Here::Nothing => "is missing".to_owned(),
            Here::File(_) | Here::Folder | Here::Other => "changed since tankday wrote it".to_owned(),
            Here::Unreadable(why) => format!("cannot be read: {why}"),
        };
        held.differs.push(format!("{}: {what}", path.display()));
    }
    held.others = others(dir, &names).map_err(|e| {
        Failure::input(format!(
            "cannot read the folder {}: {}",
            dir.display(),
            files::reason(&e)
        ))
    })?;
    Ok(Some(held))
}

/// Names in a folder that are not in its list, in order.
fn others(dir: &Path, listed: &[&str]) -> std::io::Result<Vec<String>> {
    let mut others = Vec::new();
    for entry in std::fs::read_dir(dir)? {
        let name = entry?.file_name().to_string_lossy().into_owned();
        if name != LIST && !listed.contains(&name.as_str()) {
            others.push(name);
        }
    }
    others.sort();
    Ok(others)
}

//! Passing files of a command that was killed. Every command holds a lock on its own while it lives, and the system lets go
//! of it however the command ends: a passing file that can be locked belongs to nobody any more.

use crate::files::PASSING_NAME;
use std::fs::File;
use std::path::Path;

/// Letters and digits behind [`PASSING_NAME`].
const BY_CHANCE: usize = 6;

/// Removes them, and says which. Where a folder cannot be read nothing is left over; what cannot be locked stays.
pub(super) fn remove(dir: &Path) -> Vec<String> {
    let Ok(entries) = std::fs::read_dir(dir) else {
        return Vec::new();
    };
    let mut gone = Vec::new();
    for entry in entries.flatten() {
        let plain = entry.file_type().is_ok_and(|kind| kind.is_file());
        let Some(name) = entry
            .file_name()
            .to_str()
            .filter(|n| is_passing(n))
            .map(str::to_owned)
        else {
            continue;
        };
        if plain && is_free(&entry.path()) && std::fs::remove_file(entry.path()).is_ok() {
            gone.push(name);
        }
    }
    gone.sort();
    gone
}

fn is_passing(name: &str) -> bool {
    let rest = name.strip_prefix(PASSING_NAME);
    rest.is_some_and(|r| r.len() == BY_CHANCE && r.bytes().all(|b| b.is_ascii_alphanumeric()))
}

fn is_free(path: &Path) -> bool {
    File::open(path).is_ok_and(|file| file.try_lock().is_ok())
}

#[cfg(test)]
mod tests {
    use super::{is_passing, remove};

    #[test]
    fn what_somebody_holds_and_what_is_named_otherwise_stays() {
        let home = tempfile::tempdir().unwrap();
        let path = |name: &str| home.path().join(name);
        for name in [
            ".tankday-Ab3dEf",
            ".tankday-held00",
            ".tankday-notes.txt",
            "tankday-files.txt",
        ] {
            std::fs::write(path(name), "x").unwrap();
        }
        std::fs::create_dir(path(".tankday-folder")).unwrap();
        let held = std::fs::File::open(path(".tankday-held00")).unwrap();
        held.lock().unwrap();
        assert_eq!(remove(home.path()), [".tankday-Ab3dEf"]);
        assert!(path(".tankday-held00").exists() && path(".tankday-notes.txt").exists());
        drop(held);
        assert_eq!(remove(home.path()), [".tankday-held00"]);
        assert_eq!(remove(&path("none")), [] as [&str; 0]);
    }

    /// The names are those that are given to passing files.
    #[test]
    fn passing_names_are_known_again() {
        let mut builder = tempfile::Builder::new();
        let file = builder.prefix(super::PASSING_NAME).tempfile().unwrap();
        let name = file.path().file_name().unwrap().to_str().unwrap();
        assert!(is_passing(name), "{name}");
    }
}

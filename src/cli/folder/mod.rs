//! The folder that `--out` names. It holds what one command wrote, and a list of that. Nothing of the user's is lost:
//! a file that a command reads, that it did not write, or that was changed since it wrote it stays as it is, and
//! the command stops before anything is written, unless `--force` is said. What an earlier command wrote and the new one does not
//! write again goes, so that no two days lie in one folder.
//!
//! # Lists and locks
//!
//! `src/cli/folder` is all that `--out` may do. Whatever was read through `cli/files` counts as input, by path and by
//! inode, so no command can forget one. A folder's list names both the old and the new digest of a file while files
//! get their names, and only the new one afterwards: after a cut at any moment each file is still known for ours. A
//! passing file is locked while its writer lives; one that can be locked is left over, and the next command removes
//! it (`folder/leftovers.rs`). With many days, JSON holds what is true of all of them; what is true of one day stands
//! in `drawn_day` alone.

mod held;
mod leftovers;
mod list;
#[cfg(test)]
mod tests;

pub(super) use held::{Held, held};
pub(super) use list::LIST;

use super::exit::Failure;
use super::settings::Saying;
use super::{files, terminal};
use list::{Digest, List};
use std::path::{Path, PathBuf};
use tankday_base::print::wrap;

/// A file to write: its name, and its bytes if they are known yet.
pub(super) type Wanted<'a> = (&'a str, Option<&'a [u8]>);

/// What becomes of files that an earlier command wrote and this one does not.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Earlier {
    /// They go: they belong to another day.
    Goes,
    /// They stay: they are as true as before.
    Stays,
}

/// A folder to write into.
#[derive(Debug, Clone)]
pub(super) struct Folder {
    dir: PathBuf,
    force: bool,
    saying: Saying,
}

/// Why a file keeps a command from writing.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Kept {
    Folder,
    Read,
    Changed,
    Foreign,
    Unreadable(String),
}

impl Kept {
    fn words(&self) -> String {
        match self {
            Self::Folder => "a folder has that name".to_owned(),
            Self::Read => "this command reads it".to_owned(),
            Self::Changed => "changed since tankday wrote it".to_owned(),
            Self::Foreign => "tankday did not write it".to_owned(),
            Self::Unreadable(why) => format!("tankday cannot tell whether it wrote it: {why}"),
        }
    }
}

/// What stands under a name.
enum Here {
    Nothing,
    Folder,
    /// A link, a pipe, a device: never ours.
    Other,
    File(Digest),
    Unreadable(String),
}

impl Here {
    fn at(path: &Path) -> Self {
        match std::fs::symlink_metadata(path) {
            Err(_) => Self::Nothing,
            Ok(about) if about.is_dir() => Self::Folder,
            Ok(about) if about.is_file() => {
                Digest::of_file(path).map_or_else(|e| Self::Unreadable(files::reason(&e)), Self::File)
            }
            Ok(_) => Self::Other,
        }
    }
}

/// What writing comes to.
#[derive(Default)]
struct Survey {
    /// Files that keep the command from writing.
    kept: Vec<(String, Kept)>,
    /// Names that are written; what is there already byte by byte is not.
    write: Vec<String>,
    /// Names of an earlier command that go.
    remove: Vec<String>,
    /// What is listed afterwards and is not written now.
    stays: Vec<(Digest, String)>,
    /// What is listed now.
    before: List,
}

impl Folder {
    /// The folder of this name.
    pub(super) fn new(dir: &Path, force: bool, saying: Saying) -> Self {
        Self {
            dir: dir.to_owned(),
            force,
            saying,
        }
    }

    /// Refuses before a long search what would be refused after it. Where the bytes of a file are not known yet, one
    /// that the command reads may turn out to stay as it is, and is let pass.
    ///
    /// # Errors
    /// The work failed, with all files that would be lost.
    pub(super) fn would_take<'a>(&self, set: impl IntoIterator<Item = Wanted<'a>>) -> Result<(), Failure> {
        if let Some(file) = self.no_folder() {
            return Err(Failure::work(format!(
                "nothing was written: --out names a folder, and {} is a file. Choose another folder for --out.",
                file.display()
            )));
        }
        let set: Vec<Wanted<'_>> = set.into_iter().collect();
        self.refused(&self.survey(&set, Earlier::Goes))
    }

    /// The file that stands where the folder, or one that it lies in, would have to be.
    fn no_folder(&self) -> Option<&Path> {
        let there = self.dir.ancestors().find(|path| path.exists())?;
        (!there.is_dir()).then_some(there)
    }

    /// Writes a set of files and says on standard error which, unless little is to be said.
    ///
    /// # Errors
    /// As [`Folder::write`].
    pub(super) fn write_and_say(&self, set: &[(String, Vec<u8>)], earlier: Earlier) -> Result<(), Failure> {
        self.write(set, earlier)?;
        if self.saying > Saying::Little {
            let names: Vec<&str> = set.iter().map(|(name, _)| name.as_str()).collect();
            let words = format!("Written into {}: {}", self.dir.display(), names.join(", "));
            terminal::tell(&wrap(&words, terminal::COLUMNS).join("\n"));
        }
        Ok(())
    }

    /// Writes a set of files, the folder with it if need be. Unless all of them could be written, none gets its name.
    ///
    /// # Errors
    /// The work failed: files of the user's would be lost, or the folder or a file cannot be written.
    pub(super) fn write(&self, set: &[(String, Vec<u8>)], earlier: Earlier) -> Result<(), Failure> {
        let wanted: Vec<Wanted<'_>> = set
            .iter()
            .map(|(name, bytes)| (name.as_str(), Some(bytes.as_slice())))
            .collect();
        let survey = self.survey(&wanted, earlier);
        self.refused(&survey)?;
        self.clear_up();
        let written: Vec<(String, &[u8])> = set
            .iter()
            .filter(|(name, _)| survey.write.contains(name))
            .map(|(name, bytes)| (name.clone(), bytes.as_slice()))
            .collect();
        let new = written
            .iter()
            .map(|(name, bytes)| (Digest::of(bytes), name.clone()));
        let after = List {
            files: survey.stays.iter().cloned().chain(new).collect(),
            unfinished: false,
        };
        // Whenever the work is cut off, each file is in the list as it was or as it is to be.
        let both = survey.before.and(&after).text();
        let after = after.text();
        let mut all = vec![(LIST.to_owned(), both.as_bytes())];
        all.extend(written);
        files::write_set(&self.dir, &all, &survey.remove, (LIST, after.as_bytes()))?;
        // However little is to be said: what is gone may be missed, such as a plan.
        if !survey.remove.is_empty() {
            terminal::tell(&format!(
                "Removed from {}, because an earlier command wrote it and it is no longer true: {}",
                self.dir.display(),
                survey.remove.join(", ")
            ));
        }
        Ok(())
    }

    /// Removes what a command that was killed left half-written.
    fn clear_up(&self) {
        let gone = leftovers::remove(&self.dir);
        if !gone.is_empty() && self.saying > Saying::Little {
            terminal::tell(&format!(
                "Removed from {} what a command that was killed left half-written: {}",
                self.dir.display(),
                gone.join(", ")
            ));
        }
    }

    fn survey(&self, set: &[Wanted<'_>], earlier: Earlier) -> Survey {
        let mut survey = Survey::default();
        match List::of(&self.dir) {
            Ok(list) => survey.before = list.unwrap_or_default(),
            Err(why) => survey.kept.push((LIST.to_owned(), Kept::Unreadable(why))),
        }
        for (name, bytes) in set {
            self.look_at(name, *bytes, &mut survey);
        }
        let mut names: Vec<String> = survey.before.files.iter().map(|(_, name)| name.clone()).collect();
        names.sort();
        names.dedup();
        for name in names
            .iter()
            .filter(|name| !set.iter().any(|(new, _)| new == name))
        {
            self.look_at_earlier(name, earlier, &mut survey);
        }
        survey
    }

    /// A file that is to be written.
    fn look_at(&self, name: &str, new: Option<&[u8]>, survey: &mut Survey) {
        let path = self.dir.join(name);
        let kept = match Here::at(&path) {
            Here::Nothing => None,
            Here::Folder => Some(Kept::Folder),
            Here::Other => Some(Kept::Foreign),
            Here::Unreadable(why) => Some(Kept::Unreadable(why)),
            Here::File(here) if new.is_some_and(|bytes| Digest::of(bytes) == here) => {
                // It stays as it is. What the user wrote themselves does not become ours by that.
                if survey.before.holds(name, &here) {
                    survey.stays.push((here, name.to_owned()));
                }
                return;
            }
            Here::File(_) if files::was_read(&path) => new.map(|_| Kept::Read),
            Here::File(here) if survey.before.holds(name, &here) => None,
            Here::File(_) if survey.before.names(name) => Some(Kept::Changed),
            Here::File(_) => Some(Kept::Foreign),
        };
        survey.kept.extend(kept.map(|why| (name.to_owned(), why)));
        survey.write.push(name.to_owned());
    }

    /// A file that an earlier command wrote and this one does not.
    fn look_at_earlier(&self, name: &str, earlier: Earlier, survey: &mut Survey) {
        let path = self.dir.join(name);
        // What is gone, or something else by now, is forgotten.
        let Here::File(here) = Here::at(&path) else {
            return;
        };
        let ours = survey.before.holds(name, &here);
        match (earlier, ours) {
            (_, true) if files::was_read(&path) => survey.stays.push((here, name.to_owned())),
            (Earlier::Stays, true) => survey.stays.push((here, name.to_owned())),
            // It stays listed as it was written: a later command must see that it was changed since.
            (Earlier::Stays, false) => {
                let listed = survey.before.files.iter().filter(|(_, listed)| listed == name);
                let listed: Vec<(Digest, String)> = listed.cloned().collect();
                survey.stays.extend(listed);
            }
            (Earlier::Goes, false) if files::was_read(&path) => {}
            (Earlier::Goes, true) => survey.remove.push(name.to_owned()),
            (Earlier::Goes, false) => {
                survey.kept.push((name.to_owned(), Kept::Changed));
                survey.remove.push(name.to_owned());
            }
        }
    }

    fn refused(&self, survey: &Survey) -> Result<(), Failure> {
        let stops = |why: &Kept| !self.force || *why == Kept::Folder;
        let kept: Vec<&(String, Kept)> = survey.kept.iter().filter(|(_, why)| stops(why)).collect();
        if kept.is_empty() {
            return Ok(());
        }
        let lines: String = kept
            .iter()
            .map(|(name, why)| format!("  {}: {}\n", self.dir.join(name).display(), why.words()))
            .collect();
        let what_to_do = if kept.iter().any(|(_, why)| *why != Kept::Folder) {
            "Choose another folder for --out, or add --force to replace or remove them."
        } else {
            "Choose another folder for --out."
        };
        Err(Failure::work(format!(
            "nothing was written, so that these stay as they are:\n{lines}{what_to_do}"
        )))
    }
}

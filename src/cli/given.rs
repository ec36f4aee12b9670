//! How an answer is given: printed, as data, as a page in a folder.

use super::exit::Failure;
use super::folder::{Earlier, Folder};
use super::settings::Saying;
use clap::Args;
use std::path::PathBuf;

/// What is typed about how an answer on one page is given.
#[derive(Debug, Args)]
pub(super) struct Given {
    /// Print one JSON object.
    #[arg(long)]
    pub json: bool,
    /// Write a page and the data, and a list as a table, into this folder.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Replace files in that folder even if they were edited, or tankday did not write them.
    #[arg(long, requires = "out")]
    pub force: bool,
}

impl Given {
    /// Writes the files that are made, where a folder is named.
    ///
    /// # Errors
    /// As [`Folder::write`].
    pub(super) fn write(
        &self,
        saying: Saying,
        set: impl FnOnce() -> Vec<(String, Vec<u8>)>,
    ) -> Result<(), Failure> {
        match &self.out {
            Some(dir) => Folder::new(dir, self.force, saying).write(&set(), Earlier::Goes),
            None => Ok(()),
        }
    }
}

//! The list of the files that a folder holds because a command wrote them: one line a file, its SHA-256 digest and its
//! name, as `sha256sum -c` reads them. SHA-256, so that anybody can check the list with what their system has.

use sha2::{Digest as _, Sha256};
use std::io::Read;
use std::path::{Component, Path};

/// The name of the list in every folder.
pub(crate) const LIST: &str = "tankday-files.txt";

/// A list larger than this is none of ours.
const MOST_BYTES: u64 = 4 * 1024 * 1024;

const HEAD: &str = "\
# The files that tankday wrote into this folder, with their SHA-256 digests: sha256sum -c tankday-files.txt
# tankday replaces or removes a file of this list only while it is as it was written, and no other file.
";

/// Stands in a list while files of two commands may be in the folder.
const UNFINISHED: &str =
    "# unfinished: if you can read this, a command was stopped while it wrote. Run it again.\n";

/// The SHA-256 digest of some bytes, 64 hexadecimal digits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Digest(String);

impl Digest {
    /// Of bytes at hand.
    pub(super) fn of(bytes: &[u8]) -> Self {
        Self::finished(Sha256::new_with_prefix(bytes))
    }

    /// Of a file.
    ///
    /// # Errors
    /// When it cannot be read.
    pub(super) fn of_file(path: &Path) -> std::io::Result<Self> {
        let mut file = std::fs::File::open(path)?;
        let mut sum = Sha256::new();
        let mut buffer = vec![0; 64 * 1024];
        loop {
            let read = file.read(&mut buffer)?;
            if read == 0 {
                return Ok(Self::finished(sum));
            }
            sum.update(buffer.get(..read).unwrap_or_default());
        }
    }

    fn finished(sum: Sha256) -> Self {
        Self(sum.finalize().iter().map(|byte| format!("{byte:02x}")).collect())
    }
}

/// What a folder holds of ours. A name may be listed twice, with what it was and what it is about to become.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct List {
    /// Digests and names, in the order written.
    pub(super) files: Vec<(Digest, String)>,
    /// Whether a command was stopped while it wrote.
    pub(super) unfinished: bool,
}

impl List {
    /// The list of a folder; an empty one where there is none.
    ///
    /// # Errors
    /// Why the file of that name is no list, in words.
    pub(super) fn of(dir: &Path) -> Result<Option<Self>, String> {
        let path = dir.join(LIST);
        let Ok(about) = std::fs::symlink_metadata(&path) else {
            return Ok(None);
        };
        if !about.is_file() || about.len() > MOST_BYTES {
            return Err("it is not a list of files".to_owned());
        }
        let text = std::fs::read_to_string(&path).map_err(|e| super::super::files::reason(&e))?;
        Self::read(&text).map(Some)
    }

    fn read(text: &str) -> Result<Self, String> {
        let mut list = Self::default();
        for (at, line) in text.lines().enumerate() {
            list.unfinished |= line.starts_with("# unfinished");
            if line.trim().is_empty() || line.starts_with('#') {
                continue;
            }
            let file = line
                .split_once("  ")
                .filter(|(sum, name)| is_digest(sum) && is_plain(name));
            let (sum, name) =
                file.ok_or_else(|| format!("line {} is not a digest and a file name", at + 1))?;
            list.files.push((Digest(sum.to_owned()), name.to_owned()));
        }
        Ok(list)
    }

    /// As it is written.
    pub(super) fn text(&self) -> String {
        let mut text = HEAD.to_owned();
        if self.unfinished {
            text.push_str(UNFINISHED);
        }
        for (Digest(sum), name) in &self.files {
            text.push_str(&format!("{sum}  {name}\n"));
        }
        text
    }

    /// Whether a name is in the list.
    pub(super) fn names(&self, name: &str) -> bool {
        self.files.iter().any(|(_, listed)| listed == name)
    }

    /// Whether a name is in the list with this digest.
    pub(super) fn holds(&self, name: &str, digest: &Digest) -> bool {
        self.files
            .iter()
            .any(|(sum, listed)| listed == name && sum == digest)
    }

    /// This list and another, for the time in which files of either may be in the folder.
    pub(super) fn and(&self, other: &Self) -> Self {
        let new = other.files.iter().filter(|(sum, name)| !self.holds(name, sum));
        Self {
            files: self.files.iter().chain(new).cloned().collect(),
            unfinished: true,
        }
    }
}

fn is_digest(text: &str) -> bool {
    text.len() == 64
        && text
            .bytes()
            .all(|b| b.is_ascii_digit() || (b'a'..=b'f').contains(&b))
}

/// Whether a name stays in its folder: one part, and not the list itself.
fn is_plain(name: &str) -> bool {
    let mut parts = Path::new(name).components();
    matches!(parts.next(), Some(Component::Normal(_))) && parts.next().is_none() && name != LIST
}

#[cfg(test)]
mod tests {
    use super::{Digest, List};

    /// FIPS 180-2, appendix B.1: the digest of `abc`.
    const ABC: &str = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

    #[test]
    fn digests_are_those_of_the_standard() {
        assert_eq!(Digest::of(b"abc").0, ABC);
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("abc");
        std::fs::write(&path, "abc").unwrap();
        assert_eq!(Digest::of_file(&path).unwrap().0, ABC);
    }

    #[test]
    fn a_list_is_read_as_it_was_written() {
        let one = List {
            files: vec![
                (Digest::of(b"a"), "day.svg".into()),
                (Digest::of(b"b"), "plan.yaml".into()),
            ],
            unfinished: false,
        };
        assert_eq!(List::read(&one.text()), Ok(one.clone()));
        let two = List {
            files: vec![
                (Digest::of(b"a"), "day.svg".into()),
                (Digest::of(b"c"), "plan.yaml".into()),
            ],
            unfinished: false,
        };
        let both = one.and(&two);
        assert_eq!(both.files.len(), 3);
        assert_eq!(List::read(&both.text()), Ok(both));
    }

    #[test]
    fn a_list_that_leaves_its_folder_is_none() {
        for name in ["../a", "a/b", "/a", "..", "", "tankday-files.txt"] {
            let refused = List::read(&format!("{ABC}  {name}\n")).unwrap_err();
            assert!(refused.contains("line 1"), "{name}: {refused}");
        }
        for line in ["my notes", &ABC[1..], ABC, &ABC.to_uppercase()] {
            assert!(List::read(&format!("# list\n{line}\n")).is_err(), "{line}");
        }
    }
}

//! Writing files: whole or not at all. Everything is written beside its place under a passing name, forced to the
//! disk, and only then given its name; a set of files gets its names together, after all of them are written.

use super::exit::Failure;
use std::io::{Error, ErrorKind, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};
use tempfile::NamedTempFile;

/// A scenario larger than this is none.
pub(super) const MOST_BYTES: u64 = 4 * 1024 * 1024;

/// How passing names begin; behind it stand letters by chance.
pub(super) const PASSING_NAME: &str = ".tankday-";

/// Passing files that exist now, and folders made for them; removed when the user interrupts.
static PASSING: Mutex<Vec<PathBuf>> = Mutex::new(Vec::new());

/// The files that were read, whatever for, links and detours followed: no command writes over what it reads.
static READ: Mutex<Vec<PathBuf>> = Mutex::new(Vec::new());

/// Whether this file was read before, perhaps by another path or under another name of its own.
pub(super) fn was_read(path: &Path) -> bool {
    let Ok(real) = std::fs::canonicalize(path) else {
        return false;
    };
    let read = READ.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    read.iter()
        .any(|other| *other == real || is_another_name(&real, other))
}

/// Whether two paths are names of one file.
#[cfg(unix)]
fn is_another_name(one: &Path, other: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    let node = |path: &Path| {
        std::fs::metadata(path)
            .map(|about| (about.dev(), about.ino()))
            .ok()
    };
    node(one).is_some_and(|one| node(other) == Some(one))
}

#[cfg(not(unix))]
fn is_another_name(_: &Path, _: &Path) -> bool {
    false
}

/// Set when a search under way is to end with the best so far.
static STOP: AtomicBool = AtomicBool::new(false);
/// Whether a search is under way that an interruption ends.
static SEARCHING: AtomicBool = AtomicBool::new(false);

/// From here on the first interruption asks a search to stop, and does no more.
pub(super) fn interruptions_stop_a_search() -> &'static AtomicBool {
    SEARCHING.store(true, Ordering::SeqCst);
    &STOP
}

/// Whether a search was asked to stop. From here on an interruption ends the program again.
pub(super) fn a_search_was_stopped() -> bool {
    SEARCHING.store(false, Ordering::SeqCst);
    STOP.load(Ordering::SeqCst)
}

/// Removes what is half done when the user interrupts, and ends with status 1. Asking again changes nothing.
///
/// # Errors
/// When the system does not let us listen.
pub(super) fn clear_up_when_interrupted() -> Result<(), Failure> {
    static LISTENS: AtomicBool = AtomicBool::new(false);
    if LISTENS.swap(true, Ordering::SeqCst) {
        return Ok(());
    }
    ctrlc::set_handler(|| {
        if SEARCHING.load(Ordering::SeqCst) && !STOP.swap(true, Ordering::SeqCst) {
            return;
        }
        // Held until the end, so that nothing new is begun or named meanwhile.
        let passing = PASSING.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        for path in passing.iter().rev() {
            if std::fs::remove_file(path).is_err() {
                let _ = std::fs::remove_dir(path);
            }
        }
        super::terminal::tell("interrupted; nothing is left half-written");
        std::process::exit(i32::from(super::exit::Exit::Failed.status()));
    })
    .map_err(|error| Failure::work(format!("cannot listen for an interruption: {error}")))
}

/// Reads a text file.
///
/// # Errors
/// Wrong input when it does not exist, cannot be read, is too large or is not UTF-8.
pub(super) fn read_text(path: &Path) -> Result<String, Failure> {
    read_text_up_to(path, MOST_BYTES)
}

/// Reads a text file of at most so many bytes.
///
/// # Errors
/// As [`read_text`].
pub(super) fn read_text_up_to(path: &Path, most: u64) -> Result<String, Failure> {
    text_of(path, most).map_err(|why| Failure::input(format!("cannot read {}: {why}", path.display())))
}

/// The text of a file of at most so many bytes.
///
/// # Errors
/// The reason, in words.
pub(super) fn text_of(path: &Path, most: u64) -> Result<String, String> {
    let at = |e: &std::string::FromUtf8Error| e.utf8_error().valid_up_to();
    String::from_utf8(bytes_of(path, most)?).map_err(|e| format!("byte {} is not UTF-8 text", at(&e) + 1))
}

/// The text of a table as spreadsheets write it: UTF-8, or else Windows-1252.
///
/// # Errors
/// The reason, in words.
pub(super) fn table_of(path: &Path, most: u64) -> Result<String, String> {
    let bytes = bytes_of(path, most)?;
    Ok(String::from_utf8(bytes).unwrap_or_else(|e| e.as_bytes().iter().map(|b| windows(*b)).collect()))
}

/// Windows-1252 where it differs from Unicode, from 0x80 on; the five that are none stay as they are (WHATWG Encoding
/// Standard, index windows-1252).
const WINDOWS: [char; 32] = [
    '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8d}', 'Ž', '\u{8f}', '\u{90}',
    '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9d}', 'ž', 'Ÿ',
];

fn windows(byte: u8) -> char {
    let special = byte.checked_sub(0x80).and_then(|i| WINDOWS.get(usize::from(i)));
    special.copied().unwrap_or(char::from(byte))
}

fn bytes_of(path: &Path, most: u64) -> Result<Vec<u8>, String> {
    let file = std::fs::File::open(path).map_err(|e| reason(&e))?;
    let mut read = READ.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    read.extend(std::fs::canonicalize(path));
    drop(read);
    let mut bytes = Vec::new();
    file.take(most + 1)
        .read_to_end(&mut bytes)
        .map_err(|e| reason(&e))?;
    if bytes.len() as u64 > most {
        return Err(format!("it is larger than {} MiB", most / 1024 / 1024));
    }
    Ok(bytes)
}

/// Writes one new file; an existing one stays as it is.
///
/// # Errors
/// When the file exists or cannot be written.
pub(super) fn write_new(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let dir = path
        .parent()
        .filter(|p| !p.as_os_str().is_empty())
        .unwrap_or(Path::new("."));
    let refuse = |e: &Error| match e.kind() {
        ErrorKind::AlreadyExists => Failure::work(format!(
            "{} exists already and is left as it is: choose another name",
            path.display()
        )),
        _ => cannot_write(path, e),
    };
    if path.exists() {
        return Err(refuse(&ErrorKind::AlreadyExists.into()));
    }
    let file = write_beside(dir, bytes).map_err(|e| refuse(&e))?;
    let mut passing = PASSING.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    let beside = file.path().to_owned();
    let done = file.persist_noclobber(path).map_err(|e| refuse(&e.error));
    passing.retain(|p| *p != beside);
    done.map(|_| ())
}

/// Writes a set of files into a folder, which is made if need be, then removes others by their names, then writes one
/// more. Unless all of them could be written, none gets its name, and none is removed. What is in the way is replaced:
/// whether it may be is asked before.
///
/// # Errors
/// When the folder or a file cannot be written.
pub(super) fn write_set(
    dir: &Path,
    files: &[(String, &[u8])],
    remove: &[String],
    last: (&str, &[u8]),
) -> Result<(), Failure> {
    let made = make_folder(dir)?;
    let written = write_all(dir, files, remove, last);
    if written.is_err() && made {
        // Only if empty: something else may have come into it.
        let _ = std::fs::remove_dir(dir);
    }
    forget(dir);
    written
}

fn write_all(
    dir: &Path,
    files: &[(String, &[u8])],
    remove: &[String],
    last: (&str, &[u8]),
) -> Result<(), Failure> {
    let mut beside: Vec<(PathBuf, NamedTempFile)> = Vec::new();
    let files = files.iter().map(|(name, bytes)| (name.as_str(), *bytes));
    for (name, bytes) in files.chain([last]) {
        let path = dir.join(name);
        let file = write_beside(dir, bytes).map_err(|e| cannot_write(&path, &e))?;
        beside.push((path, file));
    }
    let last = beside.pop();
    let mut passing = PASSING.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    for (path, file) in beside {
        file.persist(&path).map_err(|e| cannot_write(&path, &e.error))?;
    }
    for name in remove {
        let path = dir.join(name);
        std::fs::remove_file(&path)
            .map_err(|e| Failure::work(format!("cannot remove {}: {}", path.display(), reason(&e))))?;
    }
    if let Some((path, file)) = last {
        file.persist(&path).map_err(|e| cannot_write(&path, &e.error))?;
    }
    passing.clear();
    if let Ok(folder) = std::fs::File::open(dir) {
        // The names themselves, too; not every file system can.
        let _ = folder.sync_all();
    }
    Ok(())
}

fn make_folder(dir: &Path) -> Result<bool, Failure> {
    if dir.is_dir() {
        return Ok(false);
    }
    std::fs::create_dir_all(dir).map_err(|e| {
        Failure::work(format!(
            "cannot make the folder {}: {}",
            dir.display(),
            reason(&e)
        ))
    })?;
    PASSING
        .lock()
        .unwrap_or_else(std::sync::PoisonError::into_inner)
        .push(dir.to_owned());
    Ok(true)
}

fn forget(path: &Path) {
    PASSING
        .lock()
        .unwrap_or_else(std::sync::PoisonError::into_inner)
        .retain(|p| p != path);
}

/// Writes under a passing name and forces it to the disk. The name is known to the handler before anything is in it.
fn write_beside(dir: &Path, bytes: &[u8]) -> Result<NamedTempFile, Error> {
    let mut passing = PASSING.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
    let mut builder = tempfile::Builder::new();
    builder.prefix(PASSING_NAME);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // As any new file; what the user masks stays masked.
        builder.permissions(std::fs::Permissions::from_mode(0o666));
    }
    let mut file = builder.tempfile_in(dir)?;
    passing.push(file.path().to_owned());
    // As long as the program lives; a passing file that nobody holds is left over. Not every file system can.
    let _ = file.as_file().try_lock();
    drop(passing);
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    Ok(file)
}

fn cannot_write(path: &Path, error: &Error) -> Failure {
    Failure::work(format!("cannot write {}: {}", path.display(), reason(error)))
}

/// A reason in words that help.
pub(super) fn reason(error: &Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file or folder".into(),
        ErrorKind::PermissionDenied => "it is not permitted".into(),
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "no room is left on the disk".into(),
        ErrorKind::ReadOnlyFilesystem => "the disk is read-only".into(),
        ErrorKind::IsADirectory => "it is a folder".into(),
        ErrorKind::NotADirectory => "part of the path is not a folder".into(),
        ErrorKind::AlreadyExists => "a file of that name stands in the way".into(),
        _ => error.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(dir: &Path) -> Vec<String> {
        let mut names: Vec<String> = std::fs::read_dir(dir)
            .unwrap()
            .map(|e| e.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn an_existing_file_is_not_overwritten() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("a.yaml");
        write_new(&path, b"one").unwrap();
        let failure = write_new(&path, b"two").unwrap_err();
        assert!(failure.to_string().contains("exists already"), "{failure}");
        assert_eq!(std::fs::read(&path).unwrap(), b"one");
        assert_eq!(names(home.path()), ["a.yaml"]);
    }

    #[test]
    fn what_cannot_be_read_is_wrong_input() {
        let home = tempfile::tempdir().unwrap();
        let exit = |path: &Path| read_text(path).unwrap_err().exit();
        assert_eq!(
            exit(&home.path().join("none")),
            super::super::exit::Exit::WrongInput
        );
        assert_eq!(exit(home.path()), super::super::exit::Exit::WrongInput);
        let path = home.path().join("latin");
        std::fs::write(&path, b"a\xe9b").unwrap();
        assert!(
            read_text(&path)
                .unwrap_err()
                .to_string()
                .contains("byte 2 is not UTF-8")
        );
    }
}

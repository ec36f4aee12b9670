//! A command that is killed while it writes: under its own name every file is whole, the old one or the new one, and the next
//! command clears up what lies half-written beside.

use crate::nothing_lost::{LIST, held, home, run};
use std::collections::BTreeMap;
use std::path::Path;
use std::process::{Command, Stdio};

const PASSING: &str = ".tankday-";

type Files = BTreeMap<String, Vec<u8>>;

fn passing(files: &Files) -> usize {
    files.keys().filter(|name| name.starts_with(PASSING)).count()
}

/// Runs the program there and kills it as soon as one file more has a name. What it left; none if it was done before.
fn killed_naming(words: &[&str], home: &Path) -> Option<Files> {
    let out = home.join("out");
    let before = held(&out);
    let mut child = Command::new(env!("CARGO_BIN_EXE_tankday"))
        .args(words)
        .current_dir(home)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    loop {
        let done = child.try_wait().unwrap().is_some();
        let named = std::fs::read_dir(&out).unwrap().flatten().any(|e| {
            let name = e.file_name().into_string().unwrap();
            !name.starts_with(PASSING) && !before.contains_key(&name)
        });
        if done || named {
            let _ = child.kill();
            let _ = child.wait();
            return (!done).then(|| held(&out));
        }
        std::thread::yield_now();
    }
}

/// Runs the program there under a system that kills it at the first byte beyond so many blocks of 512 in one file.
fn killed_writing(words: &[&str], home: &Path, blocks: u32) -> Files {
    let limited = format!("ulimit -c 0; ulimit -f {blocks}; exec \"$@\"");
    let ended = Command::new("sh")
        .args(["-c", &limited, "sh", env!("CARGO_BIN_EXE_tankday")])
        .args(words)
        .current_dir(home)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .unwrap();
    assert_eq!(ended.code(), None, "{blocks} blocks did not stop it: {ended:?}");
    held(&home.join("out"))
}

/// Every file under a name of its own is as one of these has it, the list of files left aside.
fn whole(left: &Files, known: &[&Files]) {
    for (name, bytes) in left.iter().filter(|(n, _)| !n.starts_with(PASSING) && *n != LIST) {
        let same = known.iter().any(|files| files.get(name) == Some(bytes));
        assert!(same, "{name} is half-written: {} bytes", bytes.len());
    }
}

#[cfg(unix)]
#[test]
fn a_killed_command_leaves_no_half_file_and_the_next_clears_up() {
    let home = home();
    let home = home.path();
    let (first, second) = (
        ["run", "shop.yaml", "--seed", "1", "--out", "out"],
        ["run", "scenario.yaml", "--seed", "2", "--out", "out"],
    );
    let of = |words: &[&str], dir: &str| {
        let mut words = words.to_vec();
        *words.last_mut().unwrap() = dir;
        assert_eq!(run(&words, home), (0, String::new()), "{words:?}");
        held(&home.join(dir))
    };
    // What the two write where nothing is in the way; the command is named in the report.
    let (old, new) = (of(&first, "old"), of(&second, "new"));
    // The last one while files get their names, if that can be caught.
    for blocks in [Some(1), Some(8), Some(64), Some(128), None] {
        let _ = std::fs::remove_dir_all(home.join("out"));
        assert_eq!(run(&first, home).0, 0);
        let left = match blocks {
            Some(blocks) => killed_writing(&second, home, blocks),
            None => killed_naming(&second, home).unwrap_or_else(|| new.clone()),
        };
        assert!(blocks.is_none() || passing(&left) > 0, "{blocks:?}");
        whole(&left, &[&old, &new]);
        assert!(left.contains_key(LIST));
        // The next command goes through, and nothing of the killed one is left.
        assert_eq!(run(&second, home), (0, String::new()), "after {blocks:?}");
        let after = held(&home.join("out"));
        assert!(
            after.keys().eq(new.keys()),
            "after {blocks:?}: {:?}",
            after.keys()
        );
        whole(&after, &[&new]);
        assert_eq!(run(&["audit", "out"], home).0, 0);
    }
}

#[test]
fn what_is_cleared_up_is_named() {
    let home = home();
    let out = home.path().join("out");
    std::fs::create_dir(&out).unwrap();
    std::fs::write(out.join(".tankday-x7Yz01"), "half").unwrap();
    let done = Command::new(env!("CARGO_BIN_EXE_tankday"))
        .args(["run", "shop.yaml", "--out", "out"])
        .current_dir(home.path())
        .output()
        .unwrap();
    let error = String::from_utf8(done.stderr).unwrap();
    assert!(
        error.contains("Removed from out what a command that was killed left half-written: .tankday-x7Yz01"),
        "{error}"
    );
    assert!(!out.join(".tankday-x7Yz01").exists() && out.join("record.csv").exists());
}

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

/// Runs the program there and kills it as soon as so many passing files lie in the folder, or as files have got their names.
/// What it left; none if it was done before.
fn killed(words: &[&str], home: &Path, many: usize) -> Option<Files> {
    let out = home.join("out");
    let before = if out.exists() { held(&out) } else { Files::new() };
    let mut child = Command::new(env!("CARGO_BIN_EXE_tankday"))
        .args(words)
        .current_dir(home)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    loop {
        let done = child.try_wait().unwrap().is_some();
        let names = std::fs::read_dir(&out).map_or(Vec::new(), |dir| {
            dir.flatten()
                .filter_map(|e| e.file_name().into_string().ok())
                .collect()
        });
        let beside = names.iter().filter(|n| n.starts_with(PASSING)).count();
        let named = names
            .iter()
            .any(|n| !n.starts_with(PASSING) && !before.contains_key(n));
        if done || beside >= many || named {
            let _ = child.kill();
            let _ = child.wait();
            let left = held(&out);
            return (!done || passing(&left) > 0).then_some(left);
        }
        std::thread::yield_now();
    }
}

/// Every file under a name of its own is as one of these has it, the list of files left aside.
fn whole(left: &Files, known: &[&Files]) {
    for (name, bytes) in left.iter().filter(|(n, _)| !n.starts_with(PASSING) && *n != LIST) {
        let same = known.iter().any(|files| files.get(name) == Some(bytes));
        assert!(same, "{name} is half-written: {} bytes", bytes.len());
    }
}

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
    let (mut cut, mut left_over) = (0, 0);
    for many in [1, 2, 4, 8, 12, 16, 20] {
        let _ = std::fs::remove_dir_all(home.join("out"));
        assert_eq!(run(&first, home).0, 0);
        let Some(left) = killed(&second, home, many) else {
            continue;
        };
        cut += 1;
        left_over += passing(&left);
        whole(&left, &[&old, &new]);
        assert!(left.contains_key(LIST));
        // The next command goes through, and nothing of the killed one is left.
        assert_eq!(run(&second, home), (0, String::new()), "after {many}");
        let after = held(&home.join("out"));
        assert!(after.keys().eq(new.keys()), "after {many}: {:?}", after.keys());
        whole(&after, &[&new]);
        assert_eq!(run(&["audit", "out"], home).0, 0);
    }
    assert!(
        cut >= 3 && left_over >= 3,
        "{cut} were cut, {left_over} files were left over"
    );
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

//! A study divided into parts and joined has the very bytes of the undivided one.

use std::path::Path;
use std::process::{Command, Output};

fn tankday(words: &[&str], home: &Path) -> Output {
    Command::new(env!("CARGO_BIN_EXE_tankday"))
        .args(words)
        .current_dir(home)
        .output()
        .unwrap()
}

fn said(words: &[&str], home: &Path) -> Vec<u8> {
    let done = tankday(words, home);
    assert!(done.status.success(), "{words:?}: {done:?}");
    done.stdout
}

/// A folder with two scenarios in it.
fn home() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    std::fs::copy("scenarios/mixed-day.yaml", home.path().join("mixed-day.yaml")).unwrap();
    let hands = "extends: mixed-day.yaml\nshop: {hands: 2}\noutlay: 100\n";
    std::fs::write(home.path().join("two-hands.yaml"), hands).unwrap();
    home
}

/// Runs a command whole, then in parts, and joins these from the last to the first.
fn divided(words: &[&str], of: u32, home: &Path) {
    let mut parts = Vec::new();
    for nth in (1..=of).rev() {
        let share = format!("{nth}/{of}");
        let name = format!("part-{nth}.json");
        let bytes = said(&[words, &["--part", &share]].concat(), home);
        std::fs::write(home.join(&name), bytes).unwrap();
        parts.push(name);
    }
    let names: Vec<&str> = parts.iter().map(String::as_str).collect();
    for form in [vec![], vec!["--json"], vec!["--quiet"]] {
        let whole = said(&[words, form.as_slice()].concat(), home);
        let joined = said(&[&["join"], names.as_slice(), form.as_slice()].concat(), home);
        assert!(whole == joined, "{words:?} {form:?} differ");
    }
    let (whole, joined) = (home.join("whole"), home.join("joined"));
    said(&[words, &["--out", "whole"]].concat(), home);
    said(
        &[&["join"], names.as_slice(), &["--out", "joined"]].concat(),
        home,
    );
    for entry in std::fs::read_dir(&whole).unwrap() {
        let name = entry.unwrap().file_name();
        let read = |dir: &Path| std::fs::read(dir.join(&name)).unwrap();
        assert!(read(&whole) == read(&joined), "{name:?} differs");
    }
}

#[test]
fn a_comparison() {
    let home = home();
    let words = [
        "compare",
        "mixed-day.yaml",
        "two-hands.yaml",
        "--replications",
        "37",
    ];
    divided(&words, 4, home.path());
}

#[test]
fn a_sweep() {
    let home = home();
    let vary = "tanks.black tank.fill=16 L..40 L/5";
    let words = ["sweep", "mixed-day.yaml", "--vary", vary, "--replications", "20"];
    divided(&words, 3, home.path());
}

#[test]
fn parts_that_do_not_belong_together_are_refused() {
    let home = home();
    let part = |share: &str, seed: &str, name: &str| {
        let words = [
            "compare",
            "mixed-day.yaml",
            "two-hands.yaml",
            "--replications",
            "8",
        ];
        let bytes = said(
            &[&words[..], &["--part", share, "--seed", seed]].concat(),
            home.path(),
        );
        std::fs::write(home.path().join(name), bytes).unwrap();
    };
    part("1/2", "1", "a");
    part("2/2", "1", "b");
    part("2/2", "2", "other");
    let refused = |words: &[&str]| {
        let done = tankday(words, home.path());
        assert_eq!(done.status.code(), Some(2));
        String::from_utf8(done.stderr).unwrap()
    };
    assert_eq!(refused(&["join", "a"]), "part 2/2 is missing\n");
    assert_eq!(
        refused(&["join", "a", "other"]),
        "other is a part of another study than a\n"
    );
    assert_eq!(refused(&["join", "a", "b", "b"]), "b and b are both part 2/2\n");
    assert!(refused(&["join", "mixed-day.yaml"]).contains("is not part of a study"));
    assert!(tankday(&["join", "a", "b"], home.path()).status.success());
}

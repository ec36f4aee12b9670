//! The list of what a folder holds, and what is told of a folder that differs from it.

use super::nothing_lost::{LIST, held, home, run};
use std::fs;
use std::process::Command;

/// The list is one that other tools check, and the audit tells what differs from it.
#[test]
fn a_folder_is_held_against_its_list() {
    let home = home();
    let home = home.path();
    assert_eq!(run(&["run", "shop.yaml", "--out", "out"], home).0, 0);
    let list = fs::read_to_string(home.join("out").join(LIST)).unwrap();
    let named: Vec<&str> = list
        .lines()
        .filter(|l| !l.starts_with('#'))
        .map(|l| &l[66..])
        .collect();
    let mut names: Vec<String> = held(&home.join("out"))
        .into_keys()
        .filter(|n| n != LIST)
        .collect();
    names.sort();
    let mut sorted = named.clone();
    sorted.sort_unstable();
    assert_eq!(sorted, names);
    if let Ok(done) = Command::new("sha256sum")
        .args(["-c", "--strict", LIST])
        .current_dir(home.join("out"))
        .output()
    {
        assert!(done.status.success(), "{done:?}");
    }
    assert_eq!(run(&["audit", "out"], home), (0, String::new()));
    fs::write(home.join("out/report.html"), "another").unwrap();
    fs::remove_file(home.join("out/day.png")).unwrap();
    fs::write(home.join("out/mine.txt"), "mine").unwrap();
    let (status, error) = run(&["audit", "out"], home);
    assert_eq!(status, 1);
    assert!(error.contains("out/report.html: changed since"), "{error}");
    assert!(error.contains("out/day.png: is missing"), "{error}");
    assert!(!error.contains("mine.txt"), "{error}");
}

/// `new` never writes over a file, a link that leads nowhere included.
#[cfg(unix)]
#[test]
fn a_starter_replaces_nothing() {
    let home = home();
    let home = home.path();
    std::os::unix::fs::symlink("nowhere.yaml", home.join("link.yaml")).unwrap();
    for name in ["shop.yaml", "link.yaml", "."] {
        let before = held(home);
        let (status, error) = run(&["new", name], home);
        assert_eq!(status, 1, "{name}: {error}");
        assert!(held(home) == before, "{name}");
    }
}

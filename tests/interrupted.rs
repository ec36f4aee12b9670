//! Ctrl-C while a command works. It is sent when what the command does shows from outside, whatever time that takes.
#![cfg(target_os = "linux")]

use crate::nothing_lost::{held, home};
use std::path::Path;
use std::process::{Child, Command, Output, Stdio};

/// A first thread runs the command, a second one listens for Ctrl-C; more come only when days are simulated.
const AT_WORK: usize = 3;

fn begin(words: &[&str], home: &Path) -> Child {
    Command::new(env!("CARGO_BIN_EXE_tankday"))
        .args(words)
        .current_dir(home)
        .env_clear()
        .env("LC_ALL", "C.UTF-8")
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
}

/// Sends Ctrl-C as soon as this shows, and waits for the end.
fn interrupt_when(mut child: Child, shows: impl Fn(u32) -> bool) -> Output {
    while !shows(child.id()) && child.try_wait().unwrap().is_none() {
        std::thread::yield_now();
    }
    let id = child.id().to_string();
    let sent = Command::new("kill").args(["-INT", &id]).output().unwrap();
    assert!(
        sent.status.success() || child.try_wait().unwrap().is_some(),
        "{sent:?}"
    );
    child.wait_with_output().unwrap()
}

fn days_are_simulated(id: u32) -> bool {
    std::fs::read_dir(format!("/proc/{id}/task")).is_ok_and(|threads| threads.count() >= AT_WORK)
}

fn said(done: &Output) -> String {
    String::from_utf8(done.stderr.clone()).unwrap()
}

/// Far more days than anybody waits for.
#[test]
fn an_interrupted_run_leaves_nothing() {
    let home = home();
    let before = held(home.path());
    let words = [
        "run",
        "shop.yaml",
        "--replications",
        "100000",
        "--threads",
        "2",
        "--out",
        "out",
    ];
    let done = interrupt_when(begin(&words, home.path()), days_are_simulated);
    assert_eq!(done.status.code(), Some(1), "{done:?}");
    assert!(said(&done).contains("interrupted"), "{done:?}");
    assert_eq!(held(home.path()), before);
}

#[test]
fn an_interrupted_search_keeps_the_best_so_far() {
    let home = home();
    let words = ["plan", "shop.yaml", "--effort", "100000000", "--out", "out"];
    let done = interrupt_when(begin(&words, home.path()), days_are_simulated);
    assert_eq!(done.status.code(), Some(0), "{done:?}");
    assert!(
        said(&done).contains("stopped; the best so far is kept"),
        "{done:?}"
    );
    assert!(home.path().join("out/plan.yaml").exists());
}

/// Whether it comes in time or after the last file has its name, nothing half-written lies there.
#[test]
fn interrupted_while_it_writes_a_command_leaves_no_passing_file() {
    let home = home();
    let out = home.path().join("out");
    let passing = || {
        std::fs::read_dir(&out).map_or(0, |dir| {
            dir.flatten()
                .filter(|e| e.file_name().to_string_lossy().starts_with(".tankday-"))
                .count()
        })
    };
    let words = ["run", "shop.yaml", "--out", "out"];
    let done = interrupt_when(begin(&words, home.path()), |_| passing() > 0);
    assert_eq!(passing(), 0, "{done:?}");
    match done.status.code() {
        Some(0) => assert!(out.join("record.csv").exists(), "{done:?}"),
        Some(1) => assert!(said(&done).contains("nothing is left half-written"), "{done:?}"),
        _ => panic!("{done:?}"),
    }
}

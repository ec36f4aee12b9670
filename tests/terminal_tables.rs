//! What is printed fits a page of 80 columns, and is never coloured when it goes into a pipe.

use std::process::Command;

/// What a command prints on both ways, whatever its status.
fn printed(words: &[&str], env: &[(&str, &str)]) -> String {
    let out = tempfile::tempdir().unwrap();
    let run = Command::new(env!("CARGO_BIN_EXE_tankday"))
        .args(words)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env_clear()
        .env("LC_ALL", "C.UTF-8")
        .env("TMPDIR", out.path())
        .envs(env.iter().copied())
        .output()
        .unwrap();
    assert!(matches!(run.status.code(), Some(0 | 3)), "{words:?} {run:?}");
    String::from_utf8(run.stdout).unwrap() + &String::from_utf8(run.stderr).unwrap()
}

const COMMANDS: [&[&str]; 7] = [
    &[
        "run",
        "scenarios/mixed-day.yaml",
        "--replications",
        "3",
        "--verbose",
    ],
    &["run", "scenarios/two-day.yaml", "--verbose"],
    &["run", "scenarios/filter-week.yaml"],
    &["run", "scenarios/fresh-bath.yaml"],
    &[
        "compare",
        "scenarios/one-large-tank.yaml",
        "scenarios/two-small-tanks.yaml",
        "scenarios/second-pair-of-hands.yaml",
        "--replications",
        "3",
    ],
    &[
        "sweep",
        "scenarios/mixed-day.yaml",
        "--vary",
        "tanks.black tank.fill=12 L..20 L/3",
        "--vary",
        "shop.hands=1..2",
        "--replications",
        "3",
    ],
    &["run", "tests/queues/m-m-1.yaml"],
];

#[test]
fn nothing_is_wider_than_a_page() {
    for (columns, most) in [("200", 120), ("80", 80), ("", 80)] {
        for words in COMMANDS {
            let text = printed(words, &[("COLUMNS", columns)]);
            let wide: Vec<&str> = text.lines().filter(|l| l.chars().count() > most).collect();
            assert!(wide.is_empty(), "{words:?}: {wide:#?}");
            assert!(text.lines().count() > 5, "{words:?}");
        }
    }
}

/// A wide terminal is used: the same day takes fewer lines there.
#[test]
fn a_hundred_and_twenty_columns_are_used() {
    let day = &["run", "scenarios/mixed-day.yaml"];
    let (narrow, wide) = (
        printed(day, &[("COLUMNS", "80")]),
        printed(day, &[("COLUMNS", "120")]),
    );
    assert!(wide.lines().any(|l| l.chars().count() > 100));
    assert!(wide.lines().count() < narrow.lines().count());
}

#[test]
fn a_pipe_gets_no_colour() {
    let wants = [("TERM", "xterm-256color"), ("COLORTERM", "truecolor")];
    for words in COMMANDS {
        assert!(!printed(words, &wants).contains('\u{1b}'), "{words:?}");
    }
}

/// An order that is late is marked alike in the table and on the day sheet, with a mark that is no letter of a word and with
/// the word itself.
#[test]
fn what_is_late_is_marked_and_said() {
    let home = tempfile::tempdir().unwrap();
    let shipped = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/mixed-day.yaml");
    let day = std::fs::read_to_string(shipped).unwrap();
    assert!(day.contains("due: 12:00"));
    let file = home.path().join("day.yaml");
    std::fs::write(&file, day.replace("due: 12:00", "due: 08:00")).unwrap();
    let (file, out) = (file.to_str().unwrap(), home.path().join("out"));
    let text = printed(&["run", file, "--out", out.to_str().unwrap()], &[]);
    let (_, orders) = text.split_once("ORDERS").unwrap();
    let order = orders
        .lines()
        .find(|l| l.trim_start().starts_with("A1 "))
        .unwrap();
    assert!(order.contains("  x ") && order.ends_with(" late"), "{order}");
    let sheet = std::fs::read_to_string(out.join("day-sheet.txt")).unwrap();
    let ready = sheet.lines().find(|l| l.contains("A1 ready")).unwrap();
    assert!(ready.contains("   x  A1 ready, due 08:00, LATE"), "{ready}");
    assert!(sheet.contains("  o ready   x ready, but late\n"), "{sheet}");
    for text in [&text, &sheet] {
        assert!(!text.contains(" v "), "{text}");
    }
}

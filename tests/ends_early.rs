//! What sets the end is told where something should end sooner, and folds away where every order is hours early.

use crate::command_line::{home, run, text};
use std::fs;

/// The smallest day with one order due at a time of its own.
fn summary(due: &str, more: &[&str]) -> (String, String) {
    let home = home();
    let day = fs::read_to_string("scenarios/first-day.yaml").unwrap();
    fs::write(
        home.path().join("own.yaml"),
        day.replace("due: 16:00", &format!("due: {due}")),
    )
    .unwrap();
    let done = run(
        &[&["run", "own.yaml", "--out", "out"], more].concat(),
        home.path(),
    );
    let page = fs::read_to_string(home.path().join("out/report.html")).unwrap();
    (text(&done.stdout), page)
}

#[test]
fn it_folds_away_where_everything_is_hours_early() {
    let (said, page) = summary("16:00", &[]);
    let line = said.lines().find(|l| l.starts_with("WHAT SETS THE END")).unwrap();
    assert!(
        line.contains("every order is at least 2 h 31 min early"),
        "{line}"
    );
    assert!(!said.contains("one more pair of hands"));
    assert!(page.contains("nothing has to end sooner"));
    let (asked, _) = summary("16:00", &["--verbose"]);
    assert!(asked.contains("in half the time"), "{asked}");
}

/// The caps are ready at 10:42.
#[test]
fn it_is_told_where_an_order_has_no_hours_to_spare() {
    for (due, late) in [("12:30", false), ("10:30", true)] {
        let (said, page) = summary(due, &[]);
        let line = said.lines().find(|l| l.starts_with("WHAT SETS THE END")).unwrap();
        assert!(line.contains(" of ") && !line.contains("early"), "{line}");
        assert!(!page.contains("nothing has to end sooner"));
        // What helps a late order is told as lateness.
        assert_eq!(said.contains("min less late"), late, "{said}");
    }
}

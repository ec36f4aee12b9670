//! A shop that opens on several days: what one replication of it is called, which days are drawn, and of which replication the
//! baths are.

use crate::command_line::{run, text};

const WEEK: &str = include_str!("data/five-days-of-irons.yaml");

fn home(scenario: &str) -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    std::fs::write(home.path().join("week.yaml"), scenario).unwrap();
    home
}

fn said(scenario: &str, words: &[&str]) -> String {
    let home = home(scenario);
    text(&run(&[&["run", "week.yaml"], words].concat(), home.path()).stdout)
}

/// "20 simulated days" of a week each stood beside "all 20 days" and "mean of 20 runs".
#[test]
fn one_word_for_replications_of_several_days() {
    let home = home(WEEK);
    let done = run(
        &["run", "week.yaml", "--replications", "3", "--out", "out"],
        home.path(),
    );
    let said = text(&done.stdout);
    for right in [
        "3 simulated runs of 5 days, seed 1",
        "all 3 runs",
        "mean of 3 runs",
        "nine runs in ten",
        "of 100 runs",
    ] {
        assert!(said.contains(right), "{right}: {said}");
    }
    let page = std::fs::read_to_string(home.path().join("out/report.html")).unwrap();
    assert!(page.contains("3 simulated runs of 5 days"), "{page}");
    for wrong in [
        "simulated day",
        "all 3 days",
        "of 3 days",
        "days in ten",
        "of 100 days",
        "day drawn",
    ] {
        assert!(!said.contains(wrong), "{wrong}: {said}");
        assert!(
            !page.contains(wrong),
            "{wrong}: {:?}",
            page.find(wrong).map(|at| &page[at - 200..at + 40])
        );
    }
    let done = run(
        &["run", "week.yaml", "--replications", "3", "--json"],
        home.path(),
    );
    let data: serde_json::Value = serde_json::from_slice(&done.stdout).unwrap();
    assert_eq!(data["figures_of"], "all 3 simulated runs of 5 days");
    let compared = run(
        &["compare", "week.yaml", "week.yaml", "--replications", "3"],
        home.path(),
    );
    let compared = text(&compared.stdout);
    assert!(compared.contains("3 simulated runs of 5 days each"), "{compared}");
    assert!(
        compared.contains("do exactly the same on every run"),
        "{compared}"
    );
    assert!(
        !compared.contains("simulated days") && !compared.contains("of 100 days"),
        "{compared}"
    );
    // One day stays one.
    let day = said_of_one_day(&["--replications", "3"]);
    assert!(
        day.contains("3 simulated days, seed 1") && day.contains("all 3 days"),
        "{day}"
    );
}

/// One order, on a calendar of so many days.
fn on_one_day(repeat: u32) -> String {
    WEEK.replace("repeat: 5", &format!("repeat: {repeat}"))
        .replace(
            "arrives: {every: 24 h, from: at opening, up to: 5}, due after: 7 h",
            "due: 15:30",
        )
        .replace("rules: {care: {filter: {when: after 4 loads}}}", "")
}

fn said_of_one_day(words: &[&str]) -> String {
    said(&on_one_day(1), words)
}

/// Of three days one was drawn, and "one more day" said to follow.
#[test]
fn the_days_that_are_not_drawn_are_counted() {
    let one = said(&on_one_day(2), &[]);
    assert!(
        one.contains("\n  and one more day, with nothing left to do\n"),
        "{one}"
    );
    let two = said(&on_one_day(3), &[]);
    assert!(
        two.contains("\n  and two more days, with nothing left to do\n"),
        "{two}"
    );
    let week = said(WEEK, &[]);
    assert!(week.contains("\n  and three more days"), "{week}");
    assert!(!said_of_one_day(&[]).contains("more day"));
}

/// The baths are those of one replication, and were shown beside means as if they were means, too.
#[test]
fn of_which_replication_the_baths_are_is_said() {
    let drawn = |said: &str| {
        let block = said.lines().skip_while(|l| !l.starts_with("BATHS"));
        block.skip(1).take(1).collect::<String>()
    };
    let run = said(WEEK, &["--replications", "3"]);
    assert_eq!(drawn(&run).trim(), "on the run drawn, the one nearest the middle");
    let day = said_of_one_day(&["--replications", "3"]);
    assert_eq!(drawn(&day).trim(), "on the day drawn, the one nearest the middle");
    assert!(!said_of_one_day(&[]).contains("drawn"));
}

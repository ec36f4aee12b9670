//! Values at which what is varied does nothing: a stop after more loads than the days have.

use crate::command_line::{run, text};
use tankday::study::{Measure, Reading};
use tankday::sweep::{Idle, Setting, idle, varied};

const WEEK: &str = include_str!("data/five-days-of-irons.yaml");

/// What a sweep of the filter says before its table, in one line.
fn swept(values: &str) -> String {
    let home = tempfile::tempdir().unwrap();
    std::fs::write(home.path().join("week.yaml"), WEEK).unwrap();
    let vary = format!("rules.care.filter.when={values}");
    let words = ["sweep", "week.yaml", "--vary", &vary, "--replications", "10"];
    let said = text(&run(&words, home.path()).stdout);
    let said = said.split("\n\n").next().unwrap_or_default();
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Where the end of the work turns, word for word.
fn end(said: &str) -> &str {
    let from = said
        .find("The work ends earliest")
        .unwrap_or_else(|| panic!("{said}"));
    let rest = &said[from..];
    rest.find("loads).").map_or(rest, |to| &rest[..to])
}

/// The week has twelve loads. Of values up to 12 the work ended earliest at 7.5, of values up to 20 it was best from 14 on; and
/// an order was in the shop for the shortest time at 12, then nowhere.
#[test]
fn a_turning_point_stays_one_when_values_beyond_the_days_are_tried() {
    let (few, many) = (swept("after 2..12 loads/6"), swept("after 2..20 loads/10"));
    assert_eq!(end(&few), end(&many));
    for said in [&few, &many] {
        assert!(
            said.contains("From 13 loads on no stop to filter comes in these days"),
            "{said}"
        );
        assert!(
            !said.contains("go on to 22") && !said.contains("times more slowly"),
            "{said}"
        );
    }
    assert!(few.contains("; go on to 13 loads to try that."), "{few}");
    assert!(
        many.contains("in these days. End of the work")
            && many.ends_with("better there than wherever it acts."),
        "{many}"
    );
}

/// The end of the work where a key acts only between two limits.
fn made(typed: &str, reach: (f64, f64), acts: impl Fn(f64) -> bool) -> Idle {
    let key = varied(typed).unwrap();
    let readings = |setting: &Setting, _| {
        let mut reading = Reading::EMPTY;
        reading.0[Measure::ALL.iter().position(|m| *m == Measure::Finish).unwrap()] = if acts(setting.at) {
            100.0 + setting.at
        } else {
            50.0
        };
        Some(vec![reading])
    };
    idle(&key, &key.values, reach, readings)
}

#[test]
fn the_first_value_that_does_nothing_is_found_on_either_side() {
    let loads = made("a=after 2..12 loads", (1.0, 22.0), |at| at <= 12.0);
    assert_eq!(
        loads,
        Idle {
            from: Some(13.0),
            to: None
        }
    );
    assert!(loads.holds(13.0) && !loads.holds(12.0));
    // Between two values that were tried.
    let tried = made("a=after 2..20 loads/10", (1.0, 38.0), |at| at < 12.5);
    assert!(
        tried
            .from
            .is_some_and(|at| (12.5..13.0).contains(&at) || at == 13.0),
        "{tried:?}"
    );
    let below = made("a=1..9", (0.5, 17.0), |at| at > 3.0);
    assert_eq!((below.from, below.to), (None, Some(3.0)));
    // It acts everywhere, or nowhere: then nothing is known of where it does.
    assert_eq!(made("a=1..9", (0.5, 17.0), |_| true), Idle::default());
    assert_eq!(made("a=1..9", (0.5, 17.0), |_| false), Idle::default());
}

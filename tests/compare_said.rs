//! What is said of alternatives is true of each of them, in whatever order they are named.

use crate::command_line::{run, text};
use tankday::compare::{Alternative, Comparison, verdict};
use tankday::narrative::unsharpened;
use tankday::study::{Measure, Reading};

/// An alternative of twelve days with these figures, each as a function of a day's luck.
fn alternative(name: &str, outlay: Option<f64>, figures: &[(Measure, &dyn Fn(f64) -> f64)]) -> Alternative {
    let day = |n: u32| {
        let luck = f64::from(n * 7 % 12);
        let mut reading = Reading::EMPTY;
        for (measure, of) in figures {
            reading.0[Measure::ALL.iter().position(|m| m == measure).unwrap()] = of(luck);
        }
        reading
    };
    Alternative {
        name: name.to_owned(),
        outlay,
        readings: (0..12).map(day).collect(),
    }
}

/// Power and end of three alternatives: against the first, `b` goes the other way in its end, `c` in its power.
#[test]
fn where_the_same_luck_sharpens_nothing_is_said_of_each_by_name() {
    let all = vec![
        alternative(
            "a",
            None,
            &[(Measure::Finish, &|x| 300.0 + x), (Measure::Power, &|x| 8.0 + x)],
        ),
        alternative(
            "b",
            None,
            &[
                (Measure::Finish, &|x| 300.0 - x),
                (Measure::Power, &|x| 7.0 + 1.1 * x),
            ],
        ),
        alternative(
            "c",
            None,
            &[
                (Measure::Finish, &|x| 290.0 + 1.1 * x),
                (Measure::Power, &|x| 8.0 - x),
            ],
        ),
    ];
    let said = unsharpened(&Comparison::of(all.clone())).unwrap();
    assert!(said.ends_with("b: work ends after. c: power a day."), "{said}");
    let two = unsharpened(&Comparison::of(all[..2].to_vec())).unwrap();
    assert!(two.contains("makes work ends after no more certain"), "{two}");
}

/// A lid that saves a little, named first or second.
#[test]
fn an_outlay_comes_back_whichever_file_is_named_first() {
    let now = || {
        alternative(
            "now",
            None,
            &[
                (Measure::Cost, &|x| 67.5 + 0.1 * x),
                (Measure::InShop, &|x| 106.5 + x),
            ],
        )
    };
    let lid = || {
        let figures: [(Measure, &dyn Fn(f64) -> f64); 2] = [
            (Measure::Cost, &|x| 67.4 + 0.1 * x),
            (Measure::InShop, &|x| 106.51 + x + 0.001 * (x % 3.0)),
        ];
        alternative("lid", Some(60.0), &figures)
    };
    for all in [vec![now(), lid()], vec![lid(), now()]] {
        let said = verdict(&Comparison::of(all));
        assert!(
            said.contains("The outlay for lid pays for itself in 600 working days."),
            "{said}"
        );
        // A hundredth of a minute is nothing as it is written.
        assert!(said.contains("Small but sure: a day costs 0.10"), "{said}");
        assert!(!said.contains("0.0 min"), "{said}");
    }
    let dearer = Comparison::of(vec![lid(), now()]);
    let back = tankday::compare::payback(&dearer, 1, 0).unwrap();
    assert_eq!((back.alternative, back.against), (0, 1));
    let paid = tankday::narrative::paid(&dearer, &back, "EUR");
    assert!(
        paid.starts_with("The outlay of 60 EUR more for lid pays for itself"),
        "{paid}"
    );
}

/// "-15.893-15.893 to -15.893": a heater that saves the same on every day.
#[test]
fn no_cell_runs_into_the_next() {
    let home = tempfile::tempdir().unwrap();
    let base = include_str!("data/five-days-of-irons.yaml")
        .replace(", repeat: 5", "")
        .replace(
            "arrives: {every: 24 h, from: at opening, up to: 5}, due after: 7 h",
            "due: 15:30",
        )
        .replace("rules: {care: {filter: {when: after 4 loads}}}", "");
    let strong =
        "tankday: 1\nextends: base.yaml\ntitle: Stronger\ntanks: [{name: box, heater: {power: 4 kW}}]\n";
    std::fs::write(home.path().join("base.yaml"), base).unwrap();
    std::fs::write(home.path().join("strong.yaml"), strong).unwrap();
    let words = ["compare", "base.yaml", "strong.yaml", "--replications", "20"];
    let said = text(&run(&words, home.path()).stdout);
    let rows = said.lines().skip_while(|l| !l.contains("95 % interval")).skip(1);
    let rows: Vec<&str> = rows.take_while(|l| l.contains("  ")).collect();
    assert!(
        rows.iter().any(|row| row.starts_with("lost to heat-up")),
        "{said}"
    );
    for row in rows {
        let cells: Vec<char> = row.chars().skip(22).collect();
        let runs = cells
            .windows(2)
            .any(|pair| pair[0].is_ascii_digit() && pair[1] == '-');
        assert!(!runs && cells.first() == Some(&' '), "{row}");
    }
}

/// What is the same on every day is exactly the same and no close call; what differs on some days by noise is one.
#[test]
fn what_is_equal_is_not_too_close_to_call() {
    use tankday::narrative::standings;
    let finish = |x: f64| 300.0 + x;
    let noisy = |x: f64| 300.0 + x + if (x as u32).is_multiple_of(2) { 3.0 } else { -3.0 };
    let of = |other: &dyn Fn(f64) -> f64| {
        let all = vec![
            alternative("a", None, &[(Measure::Finish, &finish)]),
            alternative("b", None, &[(Measure::Finish, other)]),
        ];
        let said = standings(&Comparison::of(all)).into_iter();
        said.map(|(_, words)| words).collect::<Vec<_>>()
    };
    assert_eq!(of(&finish), ["exactly the same"]);
    assert_eq!(of(&noisy), ["too close to call"]);
}

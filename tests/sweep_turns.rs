//! Where a curve turns, on curves whose turning point is known.

use super::shipped::draft;
use tankday::print::Replication;
use tankday::random::{Purpose, Streams, normal_quantile, unit};
use tankday::study::{Days, Measure, Reading, sample};
use tankday::sweep::{
    Idle, Kind, Point, Setting, Sweep, best_cells, edge_statements, edges, grid, next_setting, reach,
    scenario_at, turning, varied,
};

/// A sweep of `key=values` in which every replication has the same curve plus what that replication adds to all of it,
/// plus noise of its own at each point.
pub(crate) fn made(typed: &str, seed: u64, noise: f64, curve: impl Fn(f64) -> f64) -> Sweep {
    let keys = vec![varied(typed).unwrap()];
    let draw = |purpose: &str, rep: u64, who: u64| {
        normal_quantile(unit(
            Streams::new(seed, rep)
                .stream(Purpose::named(purpose))
                .word(who, 0),
        ))
    };
    let points = grid(&keys).into_iter().enumerate().map(|(i, settings)| {
        let x = settings[0].at;
        let readings = (0..50).map(|rep| {
            let mut reading = Reading::EMPTY;
            let whole = 10.0 * draw("day", rep, 0);
            reading.0[0] = curve(x) + whole + noise * draw("point", rep, i as u64);
            reading
        });
        Point {
            settings: settings.clone(),
            outcome: Ok(readings.collect()),
        }
    });
    Sweep {
        points: points.collect(),
        keys,
        reach: None,
        idle: Idle::default(),
        each: Replication::Day,
    }
}

pub(crate) const FIGURE: Measure = Measure::ALL[0];

/// What is said of that figure at the edges.
pub(crate) fn edge_words(sweep: &Sweep) -> Vec<String> {
    let said = edge_statements(sweep, |m| m == FIGURE);
    assert!(said.iter().all(|s| s.measures == [FIGURE]));
    said.into_iter().map(|s| s.text).collect()
}

#[test]
fn a_best_point_is_found_with_its_interval() {
    let truth = 5.3;
    let covered = (0..40u64).filter(|seed| {
        let sweep = made("a=0 L..10 L/11", *seed, 2.0, |x| {
            400.0 + 3.0 * (x - truth) * (x - truth)
        });
        let turn = turning(&sweep, FIGURE).unwrap();
        assert_eq!(turn.kind, Kind::Best);
        assert!((turn.at - truth).abs() < 0.5, "{}", turn.at);
        turn.low <= truth && truth <= turn.high
    });
    let covered = covered.count();
    assert!(covered >= 34, "{covered} of 40");
}

#[test]
fn a_bend_is_found_and_a_straight_line_has_none() {
    let bent = made("a=0 L..10 L/11", 1, 0.5, |x| {
        500.0 - 20.0 * x.min(4.0) - 5.0 * (x - 4.0).max(0.0)
    });
    let turn = turning(&bent, FIGURE).unwrap();
    assert_eq!((turn.kind, turn.at), (Kind::Bend, 4.0));
    assert!(turn.text.contains("times more slowly beyond"), "{}", turn.text);
    let straight = made("a=0 L..10 L/11", 1, 0.5, |x| 500.0 - 20.0 * x);
    assert!(turning(&straight, FIGURE).is_none());
    let flat = made("a=0 L..10 L/11", 1, 0.5, |_| 500.0);
    assert!(turning(&flat, FIGURE).is_none());
}

#[test]
fn refining_looks_where_it_bends() {
    let bent = made("a=0 L..80 L/9", 1, 0.1, |x| 500.0 - 20.0 * x.min(40.0));
    let next = next_setting(&bent).unwrap();
    assert!((30.0..=50.0).contains(&next.at), "{}", next.at);
    let whole = made("a=0..8 loads", 1, 0.1, |x| 500.0 - 20.0 * x.min(4.0));
    assert!(next_setting(&whole).is_none());
}

/// Two servers in place of one take the wait away, and a third takes hardly anything more.
#[test]
fn a_real_sweep_turns_where_it_must() {
    let keys = vec![varied("stations.server.loads=1..6").unwrap()];
    let draft = draft("tests/queues/first-hundred-one-fast.yaml");
    let points = grid(&keys).into_iter().map(|settings| {
        let shop = scenario_at(&draft, &keys, &settings).unwrap().shop;
        let readings = sample(&[Days::by_rules(&shop)], 1, 0..100, || ());
        Point {
            settings,
            outcome: Ok(readings.into_iter().flatten().flatten().collect()),
        }
    });
    let sweep = Sweep {
        points: points.collect(),
        keys,
        reach: None,
        idle: Idle::default(),
        each: Replication::Day,
    };
    let turn = turning(&sweep, Measure::InShop).unwrap();
    assert_eq!((turn.kind, turn.at), (Kind::Bend, 2.0), "{}", turn.text);
}

/// The same curve, best at 12: a turning point only where what lies on either side was tried.
#[test]
fn the_best_at_an_edge_is_no_turning_point() {
    let curve = |x: f64| 400.0 + 1.5 * (x - 12.0) * (x - 12.0);
    let told = |typed: &str| {
        let sweep = made(typed, 3, 1.0, curve);
        let best = turning(&sweep, FIGURE)
            .filter(|t| t.kind == Kind::Best)
            .map(|t| t.at);
        (best, edge_words(&sweep))
    };
    let (best, words) = told("a=after 2..20 loads");
    assert_eq!((best, words), (Some(12.0), Vec::new()));
    let (best, words) = told("a=after 2..9 loads");
    assert_eq!(best, None);
    let edge = "End of the work is best at 9 loads, the edge of what was tried, and may get better beyond it: \
                go on to 16 loads.";
    assert_eq!(words, [edge]);
    let (best, words) = told("a=after 14..20 loads");
    assert_eq!(best, None);
    assert!(
        words[0].contains("best at 14 loads") && words[0].ends_with("go on to 8 loads."),
        "{words:?}"
    );
}

/// A tank of 26.25 L takes no 40 L: one goes on to what can be, and is told that it ends there.
#[test]
fn no_more_is_advised_than_a_tank_holds() {
    let draft = draft("scenarios/mixed-day.yaml");
    let typed = "tanks.black tank.fill=8 L..24 L/9";
    let keys = vec![varied(typed).unwrap()];
    let can = |s: &Setting| scenario_at(&draft, &keys, std::slice::from_ref(s)).is_ok();
    let known = reach(&keys[0], &keys[0].values, can);
    let (least, most) = known.unwrap();
    assert!((4.0..5.0).contains(&least), "{least}");
    assert!((24.0..=26.25).contains(&most), "{most}");
    let sweep = Sweep {
        reach: known,
        ..made(typed, 1, 0.5, |x| 500.0 - 20.0 * x)
    };
    let words = edge_words(&sweep);
    assert!(
        words[0].ends_with(&format!("go on to {most} L, it takes no more.")),
        "{words:?}"
    );
    let full = Sweep {
        reach: Some((4.0, 24.0)),
        ..sweep
    };
    let words = edge_words(&full);
    assert_eq!(
        words,
        ["End of the work is best at 24 L, and no value beyond it can be."]
    );
}

/// A curve that has levelled off before its edge does not get better beyond it, and noise has no edge.
#[test]
fn a_curve_that_is_level_has_no_edge() {
    let level = made("a=0 L..10 L/11", 1, 0.5, |x| 500.0 - 20.0 * x.min(4.0) - 0.01 * x);
    assert!(edges(&level).is_empty(), "{:?}", edges(&level));
    let flat = made("a=0 L..10 L/11", 1, 0.5, |_| 500.0);
    assert!(edges(&flat).is_empty());
    let straight = made("a=0 L..10 L/11", 1, 0.5, |x| 500.0 - 20.0 * x);
    assert_eq!(edges(&straight)[0].go_on_to.as_ref().unwrap().text, "20 L");
}

/// The same curve on every day up to 13, and from there on nothing that changes: the care that is varied never comes due.
#[test]
fn where_nothing_changes_any_more_is_said() {
    let curve = |x: f64| 500.0 - 20.0 * x.min(13.0) + if x < 13.0 { 40.0 * (x % 3.0) } else { 0.0 };
    let told = |typed: &str, noise: f64| {
        let sweep = made(typed, 3, noise, curve);
        let edges = edges(&sweep);
        (edge_words(&sweep), edges)
    };
    let (words, found) = told("a=after 2..20 loads", 0.0);
    assert_eq!(
        words,
        [
            "End of the work is best from 13 loads on: up to 20 loads, the edge of what was tried, nothing changes, and \
          going on hardly pays."
        ]
    );
    assert_eq!((found[0].at.at, found[0].go_on_to.clone()), (20.0, None));
    let level = found[0].level.as_ref().unwrap();
    assert!(level.same && level.from.at == 13.0);
    // Under noise of its own at each point.
    let (words, _) = told("a=after 2..20 loads", 1.0);
    assert!(
        words[0].contains("nothing changes by more than noise or a trifle"),
        "{words:?}"
    );
    // So short a stretch says little of what lies beyond it.
    let (words, found) = told("a=after 2..14 loads", 0.0);
    assert!(
        words[0].contains("best from 13 loads on") && words[0].ends_with("go on to 26 loads."),
        "{words:?}"
    );
    assert_eq!(found[0].go_on_to.as_ref().unwrap().at, 26.0);
}

/// A filter stop after more loads than the week has never comes.
#[test]
fn a_stop_that_never_comes_is_best_at_the_edge() {
    let keys = vec![varied("rules.care.filter=after 4..20 loads/5").unwrap()];
    let draft = draft("scenarios/filter-week.yaml");
    let points = grid(&keys).into_iter().map(|settings| {
        let shop = scenario_at(&draft, &keys, &settings).unwrap().shop;
        let readings = sample(&[Days::by_rules(&shop)], 1, 0..2, || ());
        Point {
            settings,
            outcome: Ok(readings.into_iter().flatten().flatten().collect()),
        }
    });
    let sweep = Sweep {
        points: points.collect(),
        keys,
        reach: None,
        idle: Idle::default(),
        each: Replication::Day,
    };
    let words = tankday::narrative::turns(&sweep);
    assert!(
        words
            .iter()
            .any(|w| w.starts_with("Cost a m2 is best from 16 loads on: up to 20 loads")),
        "{words:?}"
    );
    assert!(words.iter().all(|w| !w.contains("Nothing turns")), "{words:?}");
}

/// Of two keys the best point says which of them is at its edge.
#[test]
fn the_best_of_two_keys_names_the_one_at_its_edge() {
    let keys = vec![varied("a=0 L..4 L/5").unwrap(), varied("b=1..5").unwrap()];
    let points = grid(&keys).into_iter().map(|settings| {
        let (x, y) = (settings[0].at, settings[1].at);
        let readings = (0..20).map(|rep| {
            let mut reading = Reading::EMPTY;
            let luck = Streams::new(9, rep).stream(Purpose::named("day")).word(0, 0);
            reading.0[0] = 500.0 - 10.0 * x + 20.0 * (y - 3.0).abs() + (luck % 100) as f64;
            reading
        });
        Point {
            settings: settings.clone(),
            outcome: Ok(readings.collect()),
        }
    });
    let sweep = Sweep {
        points: points.collect(),
        keys,
        reach: None,
        idle: Idle::default(),
        each: Replication::Day,
    };
    let best = best_cells(&sweep);
    assert_eq!((best[0].at[0].at, best[0].at[1].at), (4.0, 3.0));
    assert!(
        best[0]
            .text
            .ends_with("That is the edge of what was tried for a: it may get better beyond it."),
        "{}",
        best[0].text
    );
    // Of the other one everything up to the edge is as good.
    let level = Sweep {
        points: sweep
            .points
            .into_iter()
            .map(|mut p| {
                let y = p.settings[1].at;
                for reading in p.outcome.iter_mut().flatten() {
                    reading.0[0] += 20.0 * ((3.0 - y).max(0.0) - (y - 3.0).abs());
                }
                p
            })
            .collect(),
        ..sweep
    };
    let best = best_cells(&level);
    assert_eq!((best[0].at[0].at, best[0].at[1].at), (4.0, 3.0));
    assert!(
        best[0]
            .text
            .ends_with("Up to the edge of what was tried for b it stays the same."),
        "{}",
        best[0].text
    );
}

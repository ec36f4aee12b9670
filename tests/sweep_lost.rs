//! What a sweep may not call best, and what it may not take for a curve.

use crate::sweep_turns::{FIGURE, edge_words, made};
use tankday::study::Measure;
use tankday::sweep::{Kind, Sweep, best_cells, turning};

/// The same sweep with so many orders left over at each point, on every day.
fn leaving_over(mut sweep: Sweep, orders: impl Fn(f64) -> f64) -> Sweep {
    let place = Measure::ALL.iter().position(|m| *m == Measure::Unready).unwrap();
    for point in &mut sweep.points {
        let left = orders(point.settings[0].at);
        for reading in point.outcome.iter_mut().flatten() {
            reading.0[place] = left;
        }
    }
    sweep
}

/// Where an order is never finished less is done, which costs less and ends earlier: nothing is best there, wherever it lies, and
/// that is said first. Where orders are left over everywhere, that is said.
#[test]
fn no_point_is_best_at_which_orders_are_lost() {
    let falls = |x: f64| 500.0 - 20.0 * x;
    let lost = |x: f64| f64::from(u8::from(x > 6.0));
    let sweep = leaving_over(made("a=0 L..10 L/11", 1, 0.5, falls), lost);
    let said: Vec<String> = tankday::sweep::statements(&sweep)
        .into_iter()
        .map(|s| s.text)
        .collect();
    assert!(
        said[0].starts_with("At 7 L, 8 L, 9 L and 10 L orders aren't finished that are finished elsewhere"),
        "{said:?}"
    );
    let words = edge_words(&sweep);
    assert_eq!(
        words,
        ["End of the work is best at 6 L, the last value tried at which no more orders are left over."]
    );
    // A valley among the points that lose an order is no best point either.
    let valley = |x: f64| 400.0 + 3.0 * (x - 8.0) * (x - 8.0);
    let sweep = leaving_over(made("a=0 L..10 L/11", 1, 0.5, valley), lost);
    let best = turning(&sweep, FIGURE).filter(|t| t.kind == Kind::Best);
    assert_eq!(best.map(|t| t.at), None);
    let sweep = leaving_over(made("a=0 L..10 L/11", 1, 0.5, falls), |_| 2.0);
    let said: Vec<String> = tankday::sweep::statements(&sweep)
        .into_iter()
        .map(|s| s.text)
        .collect();
    assert_eq!(
        said[0],
        "Orders are left over at every value tried, at least 2.00 on average: what is called best leaves some over, too."
    );
    // Of two keys, and of words.
    let mut words = leaving_over(made("a=one, two, three", 1, 0.5, |x| 500.0 - 50.0 * x), |x| {
        f64::from(u8::from(x > 1.5))
    });
    assert_eq!(best_cells(&words)[0].at[0].text, "two");
    words = leaving_over(words, |_| 0.0);
    assert_eq!(best_cells(&words)[0].at[0].text, "three");
}

/// A flat curve with one jump is a step between two of the values tried, however finely these lie; of whole numbers one is best,
/// and no interval is laid around it as if a curve ran between them.
#[test]
fn a_step_is_no_curve() {
    for typed in ["a=0..10", "a=0 L..10 L/11", "a=0 L..1 L/21"] {
        let middle = |x: f64| if typed.ends_with("21") { x > 0.52 } else { x > 4.5 };
        let sweep = made(typed, 1, 0.5, |x| if middle(x) { 450.0 } else { 500.0 });
        let turn = turning(&sweep, FIGURE).unwrap();
        assert_eq!(turn.kind, Kind::Step, "{typed}: {}", turn.text);
        assert!(
            turn.text.starts_with("End of the work steps from 50") && turn.text.contains(" down to 45"),
            "{}",
            turn.text
        );
        assert!(!turn.text.contains("95 %"), "{}", turn.text);
        assert!(
            !middle(turn.low) && middle(turn.high) && turn.at == turn.high,
            "{turn:?}"
        );
    }
    let whole = made("a=1..9", 1, 2.0, |x| 400.0 + 3.0 * (x - 5.0) * (x - 5.0));
    let turn = turning(&whole, FIGURE).unwrap();
    assert_eq!((turn.kind, turn.at), (Kind::Best, 5.0));
    assert!(
        turn.text.starts_with("The work ends earliest at 5") && !turn.text.contains("95 %"),
        "{}",
        turn.text
    );
}

/// What is said to hardly change hardly changes in the table: no point beyond gains a tenth of what was gained before.
#[test]
fn hardly_any_gain_is_what_the_table_says() {
    let curves: [&dyn Fn(f64) -> f64; 4] = [
        &|x| {
            if x < 0.5 {
                500.0
            } else {
                400.0 - 35.0 * f64::from(u8::from((x as u32).is_multiple_of(2)))
            }
        },
        &|x| 500.0 - 60.0 * x.min(3.0) - 0.5 * (x - 3.0).max(0.0),
        &|x| 500.0 - 60.0 * x.min(3.0) - 3.0 * (x - 3.0).max(0.0),
        &|x| 300.0 + 200.0 / (1.0 + x * x),
    ];
    for curve in curves {
        let sweep = made("a=0 L..10 L/11", 1, 0.1, curve);
        let Some(turn) = turning(&sweep, FIGURE) else {
            continue;
        };
        let at = |x: f64| curve(x);
        let gained = (at(0.0) - at(turn.at)).abs();
        let beyond = (0..=10)
            .map(f64::from)
            .filter(|x| *x > turn.at)
            .map(|x| at(turn.at) - at(x))
            .fold(0.0, f64::max);
        let hardly = turn.text.contains("hardly any gain beyond");
        assert!(
            !hardly || beyond <= 0.11 * gained,
            "{}: {beyond} of {gained}",
            turn.text
        );
    }
}

//! What holds in the long run, against a queue whose long run is known.

use super::shipped::draft;
use tankday::line::Line;
use tankday::random::Streams;
use tankday::record::LongRun;
use tankday::study::{LongRunFigures, Steady};

/// M/M/1 with mean gap 1 min and mean service 0.5 min: mean time in the system 1/(2 - 1) = 1 min (Gross, Shortle, Thompson,
/// Harris, Fundamentals of Queueing Theory, chapter 2). One run of 60,000 customers; the interval holds the truth and is
/// narrower than 5 % of it; batches of 3,000 are all but uncorrelated.
#[test]
fn one_long_queue() {
    let mut draft = draft("tests/queues/first-hundred-one-fast.yaml");
    for (path, value) in [
        ("orders.item.arrives.up to", "60000"),
        ("days.1.around the clock", "60 days"),
        ("routes.through.serve.for", "exponential 0.5 min"),
    ] {
        draft.set("test", path, value).unwrap();
    }
    let shop = draft.scenario().unwrap().shop;
    let mut watch = LongRun::new(&shop);
    Line::new(&shop).run(Some(Streams::new(11, 0)), &mut watch);
    let steady = LongRunFigures::of(&watch).unwrap().in_shop;
    assert_eq!((steady.many, watch.left()), (60_000, 0));
    assert!(!steady.too_short && steady.cut < 30_000);
    assert!(steady.mean.contains(1.0), "{:?}", steady.mean);
    assert!(steady.mean.half_width < 0.05, "{:?}", steady.mean);
    assert!(steady.neighbours.unwrap().abs() < 0.5);
}

/// Time in the system of M/M/1 is exponential with the rate of service less that of arrival (Gross, Shortle, Thompson, Harris,
/// chapter 2): promised after 2 min where that rate is 1 a minute, exp(-2) of the orders are late.
#[test]
fn orders_late_in_a_queue() {
    let mut draft = draft("tests/queues/first-hundred-one-fast.yaml");
    for (path, value) in [
        ("orders.item.arrives.up to", "60000"),
        ("orders.item.due after", "2 min"),
        ("days.1.around the clock", "60 days"),
        ("routes.through.serve.for", "exponential 0.5 min"),
    ] {
        draft.set("test", path, value).unwrap();
    }
    let shop = draft.scenario().unwrap().shop;
    let mut watch = LongRun::new(&shop);
    Line::new(&shop).run(Some(Streams::new(12, 0)), &mut watch);
    let late = LongRunFigures::of(&watch).unwrap().late.unwrap();
    assert!(late.mean.contains(libm::exp(-2.0)), "{:?}", late.mean);
    assert!(late.mean.half_width < 0.02, "{:?}", late.mean);
}

/// Flow balance, true of any shop that keeps up: pieces ready a day are those that come, hands at work what their work
/// takes. 30 orders of 4 pieces come in the ten open hours of a day, with 6 min of work each. The mean of eight runs lies
/// within four of its standard errors: a Poisson stream of 48,000 orders, each with an exponential time, has
/// 4/sqrt(30 x 1600) and sqrt(2) x 6/sqrt(30 x 1600) of a day's 30.
#[test]
fn as_much_leaves_as_comes() {
    let shop = draft("tests/queues/long-days.yaml").scenario().unwrap().shop;
    let (mut pieces, mut hands) = (0.0, 0.0);
    for seed in 1..=8 {
        let mut watch = LongRun::new(&shop);
        Line::new(&shop).run(Some(Streams::new(seed, 0)), &mut watch);
        let figures = LongRunFigures::of(&watch).unwrap();
        assert_eq!(figures.pieces.unwrap().many, 200);
        assert!(figures.late.is_none());
        pieces += figures.pieces.unwrap().uncut / 8.0;
        hands += figures.hands.unwrap().uncut / 8.0;
    }
    let error = 30.0 / f64::sqrt(30.0 * 1600.0);
    assert!((pieces - 120.0).abs() < 4.0 * 4.0 * error, "{pieces}");
    assert!(
        (hands - 180.0).abs() < 4.0 * 6.0 * 2.0f64.sqrt() * error,
        "{hands}"
    );
}

/// The shipped quarter of a year under several lucks: the bath is looked after and work goes on to the end. A bath that had cooled
/// a thousandth of a degree past the temperature that its care waited for was once waited for until the last day.
#[test]
fn a_quarter_of_a_year_goes_on() {
    let shop = draft("scenarios/a-quarter.yaml").scenario().unwrap().shop;
    for seed in 1..=6 {
        let mut watch = LongRun::new(&shop);
        Line::new(&shop).run(Some(Streams::new(seed, 0)), &mut watch);
        assert_eq!((watch.pieces().len(), watch.left()), (65, 0), "seed {seed}");
        for week in watch.pieces().chunks(5) {
            assert!(week.iter().sum::<u32>() > 1000, "seed {seed}: {week:?}");
        }
    }
}

#[test]
fn too_few_orders_have_no_long_run() {
    assert!(Steady::of(&[]).is_none());
    assert!(Steady::of(&[5.0; 15]).is_none());
}

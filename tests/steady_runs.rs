//! What holds in the long run, against a queue whose long run is known.

use super::shipped::draft;
use tankday::line::Line;
use tankday::luck::Luck;
use tankday::record::InShop;
use tankday::study::Steady;

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
    let mut watch = InShop::default();
    Line::new(&shop).run(Some(Luck::new(11, 0)), &mut watch);
    let steady = Steady::of(&watch.times()).unwrap();
    assert_eq!((steady.orders, watch.left()), (60_000, 0));
    assert!(!steady.too_short && steady.cut < 30_000);
    assert!(steady.minutes.contains(1.0), "{:?}", steady.minutes);
    assert!(steady.minutes.half_width < 0.05, "{:?}", steady.minutes);
    assert!(steady.neighbours.unwrap().abs() < 0.5);
}

#[test]
fn too_few_orders_have_no_long_run() {
    assert!(Steady::of(&[]).is_none());
    assert!(Steady::of(&[tankday::units::Span::whole_minutes(5); 15]).is_none());
}

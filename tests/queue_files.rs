//! Textbook queues as ordinary scenario files, run by the ordinary line: a station is a server.
//!
//! Each file in `tests/queues` names its source. Pass rule: 30 replications under a fixed seed; the mean of their means lies
//! within 4 standard errors of the known value, and the standard error is at most 0.5 % of it. What happens in the
//! first stretch, from empty, is not counted.

use rayon::prelude::*;
use tankday::line::Line;
use tankday::luck::Luck;
use tankday::record::Tally;
use tankday::scenario;
use tankday::shop::{RouteId, Shop, StepIx, StepRef};
use tankday::stats;
use tankday::units::{Moment, Span};

const RUNS: u64 = 30;

fn shop(name: &str) -> Shop {
    let path = format!("{}/tests/queues/{name}.yaml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).expect("the file is shipped");
    scenario::read(&path, &text).map(|read| read.shop).unwrap_or_else(|findings| panic!("{}", findings.render(false)))
}

/// What each run finds, with the first `skip` left out.
fn runs(shop: &Shop, skip: Span, figure: impl Fn(&Tally) -> f64 + Sync) -> Vec<f64> {
    let line = Line::new(shop);
    let one = |run: u64| {
        let mut tally = Tally::counting_from(shop, Moment::ZERO + skip);
        let outcome = line.run(Some(Luck::new(2026, run)), &mut tally);
        assert_eq!(outcome.unfinished, 0);
        figure(&tally)
    };
    (0..RUNS).into_par_iter().map(one).collect()
}

fn step_wait(tally: &Tally, step: u32) -> f64 {
    let wait = tally.step_wait(StepRef { route: RouteId(0), step: StepIx(step) });
    wait.sum.in_minutes() / wait.count as f64
}

fn in_line(tally: &Tally) -> f64 {
    tally.in_system().sum.in_minutes() / tally.in_system().count as f64
}

#[track_caller]
fn agrees(found: &[f64], known: f64) {
    let mean = stats::mean(found).unwrap();
    let error = stats::standard_deviation(found).unwrap() / (found.len() as f64).sqrt();
    assert!((mean - known).abs() <= 4.0 * error, "{mean} ± {error}, known {known}");
    assert!(error <= 0.005 * known, "{mean} ± {error} is too wide for {known}");
}

#[test]
fn q3_one_server() {
    let found = runs(&shop("m-m-1"), Span::hours(370.0), |t| step_wait(t, 0));
    agrees(&found, 9.0);
}

#[test]
fn q5_five_servers() {
    let found = runs(&shop("m-m-5"), Span::hours(74.0), |t| step_wait(t, 0));
    agrees(&found, 1.524_986);
}

#[test]
fn q8_fixed_service() {
    let found = runs(&shop("m-d-1"), Span::hours(370.0), |t| step_wait(t, 0));
    agrees(&found, 4.5);
}

#[test]
fn q10_triangular_service() {
    let found = runs(&shop("m-g-1"), Span::hours(500.0), |t| step_wait(t, 0));
    agrees(&found, 7.214_286);
}

#[test]
fn q15_batch_tank() {
    let found = runs(&shop("batch-tank"), Span::hours(500.0), |t| step_wait(t, 0));
    agrees(&found, 5.986_862);
}

#[test]
fn q24_two_stages() {
    let shop = shop("tandem");
    agrees(&runs(&shop, Span::hours(300.0), |t| step_wait(t, 0) + 1.25), 3.333_333);
    agrees(&runs(&shop, Span::hours(300.0), |t| step_wait(t, 1) + 10.0 / 3.0), 10.909_091);
    agrees(&runs(&shop, Span::hours(300.0), in_line), 14.242_424);
}

/// R1: from empty, over all items; 30 runs of 100,000 are enough for 1 %.
#[test]
fn r1_the_whole_line() {
    let shop = shop("model-l");
    let near = |found: Vec<f64>, known: f64| {
        let mean = stats::mean(&found).unwrap();
        assert!((mean / known - 1.0).abs() < 0.01, "{mean}, known {known}");
    };
    near(runs(&shop, Span::ZERO, |t| step_wait(t, 1)), 5.7512);
    near(runs(&shop, Span::ZERO, in_line), 62.2033);
}

/// R3: from the rates alone. Busy preparation 0.629630 of 2 places, rinse 0.444444, mean number in oil 6.666667; the one pair of hands 0.444444.
#[test]
fn r3_busy_shares() {
    let shop = shop("model-l");
    let near = |found: Vec<f64>, known: f64| {
        let mean = stats::mean(&found).unwrap();
        assert!((mean / known - 1.0).abs() < 0.01, "{mean}, known {known}");
    };
    let busy = |station: usize| move |t: &Tally| t.stations()[station].in_place;
    near(runs(&shop, Span::ZERO, busy(0)), 2.0 * 0.629_630);
    near(runs(&shop, Span::ZERO, busy(2)), 0.444_444);
    near(runs(&shop, Span::ZERO, busy(3)), 6.666_667);
    let hands = |t: &Tally| {
        let (from, until) = t.window();
        t.hands_at_work()[0].in_minutes() / (until - from).in_minutes()
    };
    near(runs(&shop, Span::ZERO, hands), 0.444_444);
}

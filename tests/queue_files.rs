//! Textbook queues as ordinary scenario files, run by the ordinary line: a station is a server.
//!
//! Each file in `tests/queues` names its source. Pass rule: 30 replications under a fixed seed; the mean of their means lies
//! within 4 standard errors of the known value, and the standard error is at most 0.5 % of it. What happens in the
//! first stretch, from empty, is not counted.

use rayon::prelude::*;
use tankday::line::Line;
use tankday::random::Streams;
use tankday::record::Tally;
use tankday::scenario;
use tankday::shop::{RouteId, Shop, StepIx, StepRef};
use tankday::stats;
use tankday::units::{Moment, Span};

const RUNS: u64 = 30;

fn shop(name: &str) -> Shop {
    let path = format!("{}/tests/queues/{name}.yaml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).expect("the file is shipped");
    scenario::read(&path, &text)
        .map(|read| read.shop)
        .unwrap_or_else(|findings| panic!("{}", findings.render(false)))
}

/// What the runs find, figure by figure, with the first `skip` left out.
fn runs<const N: usize>(
    shop: &Shop,
    skip: Span,
    figures: impl Fn(&Tally) -> [f64; N] + Sync,
) -> [Vec<f64>; N] {
    let line = Line::new(shop);
    let one = |run: u64| {
        let mut tally = Tally::counting_from(shop, Moment::ZERO + skip);
        let outcome = line.run(Some(Streams::new(2026, run)), &mut tally);
        assert_eq!(outcome.unfinished, 0);
        figures(&tally)
    };
    let found: Vec<[f64; N]> = (0..RUNS).into_par_iter().map(one).collect();
    std::array::from_fn(|i| found.iter().map(|f| f[i]).collect())
}

fn step_wait(tally: &Tally, step: u32) -> f64 {
    let wait = tally.step_wait(StepRef {
        route: RouteId(0),
        step: StepIx(step),
    });
    wait.sum.in_minutes() / wait.count as f64
}

fn in_line(tally: &Tally) -> f64 {
    tally.in_system().sum.in_minutes() / tally.in_system().count as f64
}

#[track_caller]
fn agrees(found: &[f64], known: f64) {
    let mean = stats::mean(found).unwrap();
    let error = stats::standard_deviation(found).unwrap() / (found.len() as f64).sqrt();
    assert!(
        (mean - known).abs() <= 4.0 * error,
        "{mean} ± {error}, known {known}"
    );
    assert!(error <= 0.005 * known, "{mean} ± {error} is too wide for {known}");
}

#[track_caller]
fn within_one_percent(found: &[f64], known: f64) {
    let mean = stats::mean(found).unwrap();
    assert!((mean / known - 1.0).abs() < 0.01, "{mean}, known {known}");
}

/// The times are those of one day by mean times, exactly.
#[test]
fn q1_hand_trace() {
    let shop = shop("hand-trace");
    let mut tally = Tally::new(&shop);
    Line::new(&shop).run(None, &mut tally);
    let waited = |route: u32| {
        let step = StepRef {
            route: RouteId(route),
            step: StepIx(0),
        };
        tally.step_wait(step).sum
    };
    let found: Vec<Span> = (0..6).map(waited).collect();
    assert_eq!(found, [0, 8, 10, 0, 9, 30].map(Span::whole_minutes));
    // Arrived at 56, waited 30, served for 6.
    let opens = Span::whole_minutes(8 * 60);
    let ready = tally.ready(tankday::shop::OrderId(5));
    assert_eq!(ready, Some(Moment::ZERO + opens + Span::whole_minutes(92)));
}

#[test]
fn q2_the_three_rules_for_breaks() {
    let shop = shop("at-the-break");
    let mut tally = Tally::new(&shop);
    Line::new(&shop).run(None, &mut tally);
    let ready: Vec<_> = (0..3).map(|o| tally.ready(tankday::shop::OrderId(o))).collect();
    let clock = |hour: i64, minute: i64| Some(Moment::ZERO + Span::whole_minutes(60 * hour + minute));
    assert_eq!(ready, [clock(12, 15), clock(12, 45), clock(13, 0)]);
}

/// Q27, Little's law along a path: from empty to empty, the mean number served times the length of the run is the sum of all
/// times served, which is all time in the line that was not waited.
#[test]
fn q27_balance() {
    for name in ["two-doctors", "tandem", "batch-tank", "never-full"] {
        let shop = shop(name);
        let steps = shop.routes[0].steps.len() as u32;
        let mut tally = Tally::new(&shop);
        Line::new(&shop).run(Some(Streams::new(27, 0)), &mut tally);
        let (from, until) = tally.window();
        let served: f64 = tally.stations().iter().map(|s| s.in_place).sum();
        let waited = |step| {
            let step = StepRef {
                route: RouteId(0),
                step: StepIx(step),
            };
            tally.step_wait(step).sum.in_minutes()
        };
        let in_line = tally.in_system().sum.in_minutes();
        let times = in_line - (0..steps).map(waited).sum::<f64>();
        let area = served * (until - from).in_minutes();
        assert!(
            times > 0.0 && (area / times - 1.0).abs() < 1e-9,
            "{name}: {area}, {times}"
        );
    }
}

#[test]
fn q3_one_server() {
    let [wait] = runs(&shop("m-m-1"), Span::hours(370.0), |t| [step_wait(t, 0)]);
    agrees(&wait, 9.0);
}

#[test]
fn q4_one_doctor_or_two() {
    let figures = |t: &Tally| [step_wait(t, 0), in_line(t)];
    let [wait, whole] = runs(&shop("one-doctor"), Span::hours(8_000.0), figures);
    agrees(&wait, 40.0);
    agrees(&whole, 60.0);
    let [wait, whole] = runs(&shop("two-doctors"), Span::hours(8_000.0), figures);
    agrees(&wait, 2.5);
    agrees(&whole, 22.5);
}

#[test]
fn q6_three_servers() {
    let [wait, whole] = runs(&shop("m-m-3"), Span::hours(3_000.0), |t| {
        [step_wait(t, 0), in_line(t)]
    });
    agrees(&wait, 60.0 * 0.148_148_148);
    agrees(&whole, 60.0 * 0.481_481_481);
}

#[test]
fn q7_two_servers() {
    let [wait, whole] = runs(&shop("m-m-2"), Span::hours(150.0), |t| {
        [step_wait(t, 0), in_line(t)]
    });
    agrees(&wait, 0.533_333_333);
    agrees(&whole, 1.2);
}

/// The same mean wait from services that have nothing in common but mean and variance with those of the source.
#[test]
fn q9_only_two_moments_matter() {
    let [wide] = runs(&shop("two-moments-wide"), Span::hours(8_000.0), |t| {
        [step_wait(t, 0)]
    });
    agrees(&wide, 81.333_333);
    let [narrow] = runs(&shop("two-moments-narrow"), Span::hours(8_000.0), |t| {
        [step_wait(t, 0)]
    });
    agrees(&narrow, 62.9);
}

#[test]
fn q11_fixed_gaps() {
    let [wait] = runs(&shop("d-m-1"), Span::hours(370.0), |t| [step_wait(t, 0)]);
    agrees(&wait, 4.178_659);
}

#[test]
fn q26_never_full() {
    let [wait, inside] = runs(&shop("never-full"), Span::hours(150.0), |t| {
        [step_wait(t, 0), t.stations()[0].in_place]
    });
    assert!(wait.iter().all(|w| *w == 0.0), "nobody waits");
    agrees(&inside, 6.666_667);
}

#[test]
fn q5_five_servers() {
    let [wait] = runs(&shop("m-m-5"), Span::hours(74.0), |t| [step_wait(t, 0)]);
    agrees(&wait, 1.524_986);
}

#[test]
fn q8_fixed_service() {
    let [wait] = runs(&shop("m-d-1"), Span::hours(370.0), |t| [step_wait(t, 0)]);
    agrees(&wait, 4.5);
}

#[test]
fn q10_triangular_service() {
    let [wait] = runs(&shop("m-g-1"), Span::hours(500.0), |t| [step_wait(t, 0)]);
    agrees(&wait, 7.214_286);
}

#[test]
fn q15_batch_tank() {
    let [wait] = runs(&shop("batch-tank"), Span::hours(500.0), |t| [step_wait(t, 0)]);
    agrees(&wait, 5.986_862);
}

#[test]
fn q24_two_stages() {
    let figures = |t: &Tally| [step_wait(t, 0) + 1.25, step_wait(t, 1) + 10.0 / 3.0, in_line(t)];
    let [first, second, whole] = runs(&shop("tandem"), Span::hours(300.0), figures);
    agrees(&first, 3.333_333);
    agrees(&second, 10.909_091);
    agrees(&whole, 14.242_424);
}

/// R1: from empty, over all items; 30 runs of 100,000 are enough for 1 %. R3 follows from the rates alone: busy preparation
/// 0.629630 of 2 places, rinse 0.444444, mean number in oil 6.666667, the one pair of hands 0.444444.
#[test]
fn r1_and_r3_the_whole_line() {
    let figures = |t: &Tally| {
        let (from, until) = t.window();
        let hands = t.hands_at_work()[0].in_minutes() / (until - from).in_minutes();
        let in_place = |station: usize| t.stations()[station].in_place;
        [
            step_wait(t, 1),
            in_line(t),
            in_place(0) / 2.0,
            in_place(2),
            in_place(3),
            hands,
        ]
    };
    let found = runs(&shop("model-l"), Span::ZERO, figures);
    let known = [5.7512, 62.2033, 0.629_630, 0.444_444, 6.666_667, 0.444_444];
    for (found, known) in found.iter().zip(known) {
        within_one_percent(found, known);
    }
}

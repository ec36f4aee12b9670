//! What the same luck is worth, on the program's own output.

use super::shipped::shop;
use tankday::compare::{Alternative, Comparison, Difference, Finding, Standing, places, verdict};
use tankday::random::{Purpose, Streams, normal_quantile, unit};
use tankday::shop::Shop;
use tankday::stats::{correlation, interval_of_mean, variance};
use tankday::study::{Days, Measure, Reading, sample};

fn readings(shop: &Shop, seed: u64, many: u32) -> Vec<Reading> {
    let all = sample(&[Days::by_rules(shop)], seed, 0..many, || ());
    all.into_iter().flatten().map(|r| r.expect("it ends")).collect()
}

fn alternative(name: &str, readings: Vec<Reading>) -> Alternative {
    Alternative {
        name: name.to_owned(),
        outlay: None,
        readings,
    }
}

fn queue(name: &str) -> Shop {
    shop(&format!("tests/queues/first-hundred-{name}.yaml"))
}

/// Variance of the difference under luck of their own, over that under the same luck.
fn gain(one: &[Reading], two: &[Reading], two_alone: &[Reading], measure: Measure) -> f64 {
    let spread = |other: &[Reading]| {
        let apart: Vec<f64> = one
            .iter()
            .zip(other)
            .map(|(a, b)| a.get(measure) - b.get(measure))
            .collect();
        variance(&apart).unwrap()
    };
    spread(two_alone) / spread(two)
}

/// M/M/1 against M/M/2 at twice the service time, first 100 customers from empty: mean times in the shop are
/// 4.134185 + 0.9 and 3.700020 + 1.8 min (Q22: exact chains; the case of A. M. Law, Simulation Modeling and Analysis,
/// chapter 10). The waits of S7 fall 302 times in the variance of their difference; the time in the shop, which is wait
/// and service, at least 20 times here.
#[test]
fn one_fast_server_against_two_slow_ones() {
    let (fast, slow) = (queue("one-fast"), queue("two-slow"));
    let (one, two, alone) = (
        readings(&fast, 7, 2_000),
        readings(&slow, 7, 2_000),
        readings(&slow, 8, 2_000),
    );
    let found = gain(&one, &two, &alone, Measure::InShop);
    assert!(found >= 20.0, "{found}");
    let comparison = Comparison::of(vec![alternative("two slow", two), alternative("one fast", one)]);
    let apart = comparison.difference(1, Measure::InShop).unwrap();
    let truth = (4.134_185 + 0.9) - (3.700_020 + 1.8);
    assert!(apart.interval.contains(truth), "{:?}", apart.interval);
    assert!(apart.interval.high() < 0.0);
    assert!(apart.correlation.unwrap() > 0.9);
    let places = places(&comparison.alternatives, Measure::InShop).unwrap();
    assert_eq!(places[1].standing, Standing::Best);
    assert_eq!(places[0].standing, Standing::NotBest);
}

/// S7, one server made faster: at least 5 times in 2,000 replications (7.1 times in 200,000, of a separate program).
#[test]
fn a_faster_server() {
    let (usual, faster) = (queue("one-fast"), queue("faster"));
    let one = readings(&usual, 7, 2_000);
    let (two, alone) = (readings(&faster, 7, 2_000), readings(&faster, 8, 2_000));
    let found = gain(&one, &two, &alone, Measure::InShop);
    assert!(found >= 5.0, "{found}");
}

/// One large tank against two small ones: the same luck halves the variance of the difference at least.
#[test]
fn the_same_luck_sharpens_the_tanks() {
    let large = shop("scenarios/one-large-tank.yaml");
    let small = shop("scenarios/two-small-tanks.yaml");
    let one = readings(&large, 1, 150);
    let (two, alone) = (readings(&small, 1, 150), readings(&small, 2, 150));
    for measure in [Measure::Area, Measure::CostPerArea, Measure::InShop] {
        let found = gain(&one, &two, &alone, measure);
        assert!(found >= 2.0, "{}: {found}", measure.key());
    }
}

#[test]
fn an_identical_alternative_differs_by_nothing_at_all() {
    let shop = shop("scenarios/mixed-day.yaml");
    let one = readings(&shop, 3, 40);
    let comparison = Comparison::of(vec![alternative("a", one.clone()), alternative("b", one)]);
    assert!(comparison.differences.len() > 10);
    for d in &comparison.differences {
        assert_eq!(d.finding(), Finding::Identical, "{}", d.measure.key());
        assert_eq!((d.interval.mean, d.interval.half_width), (0.0, 0.0));
    }
    assert_eq!(verdict(&comparison), "a and b do exactly the same on every day.");
}

fn bits(all: &[Reading]) -> Vec<u64> {
    all.iter().flat_map(|r| r.0.map(f64::to_bits)).collect()
}

/// The result does not hang on the number of threads.
#[test]
fn one_thread_and_four_find_the_same() {
    let shop = shop("scenarios/mixed-day.yaml");
    let on = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .unwrap();
        pool.install(|| readings(&shop, 5, 60))
    };
    let bits = |all: Vec<Reading>| -> Vec<u64> { all.iter().flat_map(|r| r.0.map(f64::to_bits)).collect() };
    assert_eq!(bits(on(1)), bits(on(4)));
}

/// Replications from 20 on are those that a whole study has there.
#[test]
fn a_stretch_is_what_the_whole_has_there() {
    let shop = shop("scenarios/mixed-day.yaml");
    let whole = readings(&shop, 1, 30);
    let part = sample(&[Days::by_rules(&shop)], 1, 20..30, || ());
    let part: Vec<Reading> = part.into_iter().flatten().flatten().collect();
    assert_eq!(bits(&part), bits(&whole[20..]));
}

/// Over 2,000 repeats of a symmetrical case, ten pairs whose differences are normal, the 95 % interval covers the truth
/// in 93 to 97 % of them; the bounds are four standard errors wide. That t intervals of normal data cover exactly is
/// Student's (Biometrika 6 (1908) 1-25).
#[test]
fn paired_intervals_cover_as_often_as_they_say() {
    const PAIRS: u64 = 10;
    let draw = |trial: u64, purpose: Purpose, who: u64| {
        normal_quantile(unit(Streams::new(95, trial).stream(purpose).word(who, 0)))
    };
    let covered = (0..2_000u64).filter(|trial| {
        let column = |own: &str, shift: f64| -> Vec<Reading> {
            (0..PAIRS)
                .map(|who| {
                    let shared = draw(*trial, Purpose::named("shared"), who);
                    let mut reading = Reading::EMPTY;
                    reading.0[0] = 100.0 + shift + 5.0 * shared + draw(*trial, Purpose::named(own), who);
                    reading
                })
                .collect()
        };
        let all = [
            alternative("a", column("a", 0.0)),
            alternative("b", column("b", 3.0)),
        ];
        let apart = Difference::of(&all, 1, 0, Measure::ALL[0]).unwrap();
        apart.interval.contains(3.0)
    });
    let share = covered.count() as f64 / 2_000.0;
    assert!((0.93..=0.97).contains(&share), "{share}");
}

/// A negative correlation is told: the cost data of S5 (A. M. Law, Simulation Modeling and Analysis, chapter 10,
/// inventory policies), correlation -0.5708957.
#[test]
fn pairs_that_move_against_each_other_are_told() {
    let column = |values: [f64; 5]| -> Vec<Reading> {
        let reading = |value: f64| {
            let mut reading = Reading::EMPTY;
            reading.0[0] = value;
            reading
        };
        values.map(reading).to_vec()
    };
    let all = [
        alternative("B", column([118.21, 120.22, 122.45, 122.68, 119.40])),
        alternative("A", column([126.97, 124.31, 126.68, 122.66, 127.23])),
    ];
    let apart = Difference::of(&all, 1, 0, Measure::ALL[0]).unwrap();
    assert!((apart.interval.mean - 4.978).abs() < 1e-9);
    assert!((apart.correlation.unwrap() + 0.570_895_7).abs() < 1e-7);
    assert_eq!(apart.chance_higher(), 0.8);
    let values = |i: usize| all[i].column(Measure::ALL[0]).unwrap();
    assert_eq!(apart.correlation, correlation(&values(1), &values(0)));
    assert!(interval_of_mean(&apart.days, 0.95).is_some());
}

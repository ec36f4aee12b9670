//! Queues in the steady state against their closed forms: Q3 to Q13 of the check values, with their sources.
//!
//! Every model is built from the parts of the kernel (`queue_models.rs`) and judged by the pass rule stated there.

use super::queue_models::{Station, exponential, judge, minutes, passes, replicate};
use tankday::luck::Spread;

/// Q3: M/M/1, arrivals 0.9, services 1 a minute. Wq = rho/(mu - lambda); D. Gross et al., Fundamentals of Queueing
/// Theory, chapter 2.
#[test]
fn q3_one_server_at_90_percent() {
    let station = Station::new(1, exponential(1.0 / 0.9), exponential(1.0), 700_000);
    let exact = [
        ("Wq", 9.0),
        ("W", 10.0),
        ("Lq", 8.1),
        ("L", 9.0),
        ("P0", 0.1),
        ("P(N>=10)", 0.348_678),
    ];
    judge(exact, |luck| {
        let found = station.run(luck);
        let (idle, ten) = (
            1.0 - found.levels.share_at_least(1),
            found.levels.share_at_least(10),
        );
        [found.wait, found.in_system, found.queue, found.inside, idle, ten]
    });
}

/// Q4: arrivals 2, services 3 an hour, one doctor or two; F. S. Hillier, G. J. Lieberman, county hospital example.
#[test]
fn q4_one_doctor_or_two() {
    let one = Station::new(1, exponential(30.0), exponential(20.0), 120_000);
    judge(
        [("Wq", 40.0), ("W", 60.0), ("Lq", 4.0 / 3.0), ("L", 2.0)],
        |luck| {
            let found = one.run(luck);
            [found.wait, found.in_system, found.queue, found.inside]
        },
    );
    let two = Station::new(2, exponential(30.0), exponential(20.0), 120_000);
    judge(
        [
            ("Wq", 2.5),
            ("W", 22.5),
            ("Lq", 1.0 / 12.0),
            ("L", 0.75),
            ("P0", 0.5),
        ],
        |luck| {
            let found = two.run(luck);
            let idle = 1.0 - found.levels.share_at_least(1);
            [found.wait, found.in_system, found.queue, found.inside, idle]
        },
    );
}

/// Q5: M/M/5 at 90 %, with the chance of waiting (Erlang's C), of waiting over 2 minutes, and the 95 % point of the wait.
#[test]
fn q5_five_servers_at_90_percent() {
    let station = Station::new(5, exponential(1.0 / 4.5), exponential(1.0), 900_000);
    let exact = [
        ("Wq", 1.524_986),
        ("W", 2.524_986),
        ("Lq", 6.862_439),
        ("L", 11.362_439),
        ("P(wait)", 0.762_493),
        ("P(Wq>2)", 0.280_506),
        ("95 % point", 5.449_141),
    ];
    judge(exact, |luck| {
        let mut found = station.run(luck);
        let count = found.waits.len();
        let over = |limit: f64| found.waits.iter().filter(|&&w| w > limit).count() as f64 / count as f64;
        let (waiting, over_two) = (over(0.0), over(2.0));
        let (_, point, _) = found
            .waits
            .select_nth_unstable_by(count * 19 / 20, f64::total_cmp);
        [
            found.wait,
            found.in_system,
            found.queue,
            found.inside,
            waiting,
            over_two,
            *point,
        ]
    });
}

/// Q6: M/M/3, arrivals 6, services 3 an hour; Gross et al., clinic example.
#[test]
fn q6_three_servers() {
    let station = Station::new(3, exponential(10.0), exponential(20.0), 200_000);
    let exact = [
        ("Wq", 60.0 * 0.148_148_148),
        ("W", 60.0 * 0.481_481_481),
        ("Lq", 8.0 / 9.0),
        ("P0", 1.0 / 9.0),
    ];
    judge(exact, |luck| {
        let found = station.run(luck);
        [
            found.wait,
            found.in_system,
            found.queue,
            1.0 - found.levels.share_at_least(1),
        ]
    });
}

/// Q7: M/M/2, arrivals 2, services 3/2; J. Banks et al., Discrete-Event System Simulation, chapter 6, tool crib.
#[test]
fn q7_two_servers() {
    let station = Station::new(2, exponential(0.5), exponential(2.0 / 3.0), 150_000);
    let exact = [
        ("L", 2.4),
        ("P0", 0.2),
        ("P(N>=2)", 0.533_333_333),
        ("Wq", 0.533_333_333),
        ("W", 1.2),
    ];
    judge(exact, |luck| {
        let found = station.run(luck);
        let levels = &found.levels;
        [
            found.inside,
            1.0 - levels.share_at_least(1),
            levels.share_at_least(2),
            found.wait,
            found.in_system,
        ]
    });
}

/// Q8: M/D/1, arrivals 0.9, service 1: Wq = lambda E[S^2] / (2 (1 - rho)), Pollaczek and Khinchine.
#[test]
fn q8_fixed_service() {
    let station = Station::new(1, exponential(1.0 / 0.9), Spread::Fixed(minutes(1.0)), 600_000);
    judge([("Wq", 4.5), ("W", 5.5), ("Lq", 4.05), ("L", 4.95)], |luck| {
        let found = station.run(luck);
        [found.wait, found.in_system, found.queue, found.inside]
    });
}

/// Q9: M/G/1 by the first two moments of the service alone: mean 24 and variance 400, here as 4 or 44 minutes with equal
/// chances, against mean 25 and variance 4, here normal; Banks et al., Able against Baker.
#[test]
fn q9_only_two_moments_matter() {
    let able = Station::new(
        1,
        exponential(30.0),
        Spread::Readings(vec![minutes(4.0), minutes(44.0)]),
        300_000,
    );
    judge([("Lq of Able", 2.711_111), ("Wq of Able", 81.333_333)], |luck| {
        let found = able.run(luck);
        [found.queue, found.wait]
    });
    let service = Spread::Normal {
        mean: minutes(25.0),
        sd: minutes(2.0),
    };
    let baker = Station::new(1, exponential(30.0), service, 300_000);
    judge([("Lq of Baker", 2.096_667), ("Wq of Baker", 62.9)], |luck| {
        let found = baker.run(luck);
        [found.queue, found.wait]
    });
}

/// Q10: M/G/1, one arrival in 8 minutes, service triangular between 3 and 9, mostly 5 (Pollaczek and Khinchine).
#[test]
fn q10_triangular_service() {
    let service = Spread::Triangular {
        least: minutes(3.0),
        mostly: minutes(5.0),
        most: minutes(9.0),
    };
    let station = Station::new(1, exponential(8.0), service, 120_000);
    judge([("Wq", 7.214_286), ("W", 12.880_952), ("L", 1.610_119)], |luck| {
        let found = station.run(luck);
        [found.wait, found.in_system, found.inside]
    });
}

/// Q11: D/M/1, gap 1/0.9, mean service 1: Wq = sigma/(1 - sigma), sigma = exp(-(1 - sigma)/0.9); L. Kleinrock, Queueing
/// Systems I, chapter 6.
#[test]
fn q11_fixed_gaps() {
    let station = Station::new(1, Spread::Fixed(minutes(1.0 / 0.9)), exponential(1.0), 600_000);
    judge([("Wq", 4.178_659)], |luck| [station.run(luck).wait]);
}

/// Q12: M/M/1 with room for three, arrivals 2, services 3; Banks et al., barber shop. Waits of those let in.
#[test]
fn q12_room_for_three() {
    let station = Station {
        room: 3,
        ..Station::new(1, exponential(0.5), exponential(1.0 / 3.0), 30_000)
    };
    let exact = [
        ("P(full)", 8.0 / 65.0),
        ("L", 66.0 / 65.0),
        ("Lq", 0.430_769),
        ("W", 0.578_947),
        ("Wq", 0.245_614),
    ];
    judge(exact, |luck| {
        let found = station.run(luck);
        [found.lost, found.inside, found.queue, found.in_system, found.wait]
    });
}

/// Q13: M/M/2 with room for five, arrivals 3, services 2 (birth and death chain); and five servers without a waiting
/// place at load 4.5 (Erlang's B).
#[test]
fn q13_loss() {
    let station = Station {
        room: 5,
        ..Station::new(2, exponential(1.0 / 3.0), exponential(0.5), 50_000)
    };
    let exact = [
        ("P5", 0.085_113_8),
        ("L", 2.005_954),
        ("Lq", 0.633_625),
        ("Wq", 0.230_858),
    ];
    judge(exact, |luck| {
        let found = station.run(luck);
        [found.lost, found.inside, found.queue, found.wait]
    });
    let lines = Station {
        room: 5,
        ..Station::new(5, exponential(1.0 / 4.5), exponential(1.0), 20_000)
    };
    judge([("B(5, 4.5)", 0.243_021)], |luck| [lines.run(luck).lost]);
}

/// Q22: short runs from empty, the mean of the first n waits: exact chain of the number found by customer k; A. M. Law,
/// Simulation Modeling and Analysis, chapters 9 and 10, uses them as true values.
#[test]
fn q22_the_first_customers() {
    let first = |servers: usize, service: f64, items: u64| Station {
        warmup: 0,
        ..Station::new(servers, exponential(1.0), exponential(service), items)
    };
    let start = first(1, 0.9, 25);
    let [mean_25, d2, d3, d4] = replicate(150_000, |luck| {
        let waits = start.run(luck).waits;
        [waits.iter().sum::<f64>() / 25.0, waits[1], waits[2], waits[3]]
    });
    passes("mean of 25", &mean_25, 2.124_489);
    passes("second wait", &d2, 0.426_316);
    passes("third wait", &d3, 0.734_539);
    passes("fourth wait", &d4, 0.983_878);
    for (servers, service, exact) in [(1, 0.9, 4.134_185), (2, 1.8, 3.700_020)] {
        let start = first(servers, service, 100);
        let [found] = replicate(40_000, |luck| [start.run(luck).wait]);
        passes("mean of 100", &found, exact);
    }
}

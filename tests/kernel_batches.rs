//! Tanks and networks of stations in the steady state: Q14, Q15 and Q24 to Q26 of the check values, with their sources.

use super::queue_models::{Draws, Station, exponential, in_minutes, judge, minutes};
use tankday::kernel::{Agenda, Batch, ENDS, LevelTally, STARTS, SpanTally, Waiting, WaitingLine};
use tankday::luck::{Luck, Purpose, Spread, unit};
use tankday::units::Moment;

/// A tank that takes up to `most` items at once and starts with whoever waits.
struct Tank {
    gap: Spread,
    time: Spread,
    most: usize,
    /// Whether one may join those inside without renewing the clock.
    joining: bool,
    items: u64,
}

enum Event {
    Arrival,
    End,
}

impl Tank {
    /// Mean wait, mean number waiting and inside, mean batch, share of time busy, over all items from empty.
    fn run(&self, luck: Luck) -> [f64; 4] {
        let (gaps, times) = (
            Draws::new(luck, "gap", &self.gap),
            Draws::new(luck, "time", &self.time),
        );
        let (mut agenda, mut line, mut tank) =
            (Agenda::new(), WaitingLine::first_come(), Batch::new(1, self.most));
        let (mut waits, mut arrived, mut batches, mut last) =
            (SpanTally::default(), 0u64, 0u64, Moment::ZERO);
        let (mut inside, mut busy) = (LevelTally::new(Moment::ZERO), LevelTally::new(Moment::ZERO));
        agenda.schedule(Moment::ZERO + gaps.of(0), STARTS, Event::Arrival);
        while let Some((now, event)) = agenda.next() {
            last = now;
            match event {
                Event::End => {
                    inside.change(-(tank.finish().count() as i64), now);
                    busy.set(0, now);
                }
                Event::Arrival => {
                    inside.change(1, now);
                    let one = Waiting::new(arrived, now);
                    if !self.joining || tank.join_running(one).is_err() {
                        line.join(arrived, now);
                    }
                    arrived += 1;
                    if arrived < self.items {
                        agenda.schedule(now + gaps.of(arrived), STARTS, Event::Arrival);
                    }
                }
            }
            if tank.start(&mut line) > 0 {
                tank.inside().iter().for_each(|w| waits.record(w.waited(now)));
                busy.set(1, now);
                agenda.schedule(now + times.of(batches), ENDS, Event::End);
                batches += 1;
            }
        }
        let batch = self.items as f64 / batches as f64;
        [in_minutes(&waits), inside.mean(last), batch, busy.mean(last)]
    }
}

/// Q14: Poisson 20 an hour, up to two at once in exponential 5 minutes, a second one joins the first without renewing
/// the clock: L = r0/(1 - r0), r0 the root of mu r^3 - (lambda + mu) r + lambda = 0; D. Gross et al., Fundamentals of
/// Queueing Theory, bulk service, car wash.
#[test]
fn q14_batches_that_may_be_joined() {
    let tank = Tank {
        gap: exponential(3.0),
        time: exponential(5.0),
        most: 2,
        joining: true,
        items: 600_000,
    };
    judge([("L", 7.653_312)], |luck| [tank.run(luck)[1]]);
}

/// Q15: fixed time, nobody joins: embedded chain at the ends of batches, after N. T. J. Bailey, J. Roy. Statist. Soc. B 16
/// (1954) 80-87.
#[test]
fn q15_a_tank_with_a_fixed_time() {
    let tank = |gap: f64, items: u64| Tank {
        gap: exponential(gap),
        time: Spread::Fixed(minutes(12.0)),
        most: 6,
        joining: false,
        items,
    };
    let slow = tank(4.5, 100_000);
    judge(
        [("Wq", 5.986_862), ("batch", 2.734_681), ("busy", 0.975_129)],
        |luck| {
            let [wait, _, batch, busy] = slow.run(luck);
            [wait, batch, busy]
        },
    );
    let quick = tank(2.5, 200_000);
    judge(
        [("Wq", 8.709_198), ("batch", 4.805_279), ("busy", 0.998_901)],
        |luck| {
            let [wait, _, batch, busy] = quick.run(luck);
            [wait, batch, busy]
        },
    );
}

/// One station of a network.
struct Stage {
    servers: usize,
    service: Spread,
    /// The chance that an item goes through the same stage again.
    again: f64,
}

struct Item {
    number: u64,
    came: Moment,
    visit: u64,
}

enum Move {
    Arrival,
    Done(usize, Item),
}

/// Stages in a row. Returns the mean time from arrival to leaving and, for up to two stages, the mean time of a visit
/// to each.
fn in_a_row(stages: &[Stage], gap: f64, items: u64, luck: Luck) -> [f64; 3] {
    let gaps = Draws::new(luck, "gap", &exponential(gap));
    let streams: Vec<_> = (0..stages.len())
        .map(|s| luck.stream(Purpose::named(&format!("stage {s}"))))
        .collect();
    let turns = luck.stream(Purpose::named("again"));
    let mut agenda = Agenda::new();
    let mut lines: Vec<WaitingLine<Item>> = stages.iter().map(|_| WaitingLine::first_come()).collect();
    let mut idle: Vec<usize> = stages.iter().map(|stage| stage.servers).collect();
    let (mut whole, mut visits, mut arrived) = (SpanTally::default(), [SpanTally::default(); 2], 0u64);
    agenda.schedule(Moment::ZERO + gaps.of(0), STARTS, Move::Arrival);
    while let Some((now, event)) = agenda.next() {
        match event {
            Move::Arrival => {
                lines[0].join(
                    Item {
                        number: arrived,
                        came: now,
                        visit: 0,
                    },
                    now,
                );
                arrived += 1;
                if arrived < items {
                    agenda.schedule(now + gaps.of(arrived), STARTS, Move::Arrival);
                }
            }
            Move::Done(stage, item) => {
                idle[stage] += 1;
                if unit(turns.word(item.number, item.visit)) < stages[stage].again {
                    lines[stage].join(
                        Item {
                            visit: item.visit + 1,
                            ..item
                        },
                        now,
                    );
                } else if let Some(next) = lines.get_mut(stage + 1) {
                    next.join(item, now);
                } else {
                    whole.record(now - item.came);
                }
            }
        }
        for (number, stage) in stages.iter().enumerate() {
            while idle[number] > 0
                && let Some(next) = lines[number].take()
            {
                idle[number] -= 1;
                let service = stage
                    .service
                    .draw(streams[number].word(next.item.number, next.item.visit));
                visits[number].record(next.waited(now) + service);
                agenda.schedule(now + service, ENDS, Move::Done(number, next.item));
            }
        }
    }
    [in_minutes(&whole), in_minutes(&visits[0]), in_minutes(&visits[1])]
}

/// Q24: arrivals 0.5, one server at 0.8, then two at 0.3: J. R. Jackson, Oper. Res. 5 (1957) 518-521, each stage as if alone.
#[test]
fn q24_two_stages() {
    let stages = [
        Stage {
            servers: 1,
            service: exponential(1.25),
            again: 0.0,
        },
        Stage {
            servers: 2,
            service: exponential(1.0 / 0.3),
            again: 0.0,
        },
    ];
    judge(
        [("W", 14.242_424), ("W1", 3.333_333), ("W2", 10.909_091)],
        |luck| in_a_row(&stages, 2.0, 350_000, luck),
    );
}

/// Q25: arrivals 0.5, one server at 0.8, one leaving item in ten comes back (Jackson, with feedback).
#[test]
fn q25_rework() {
    let stage = [Stage {
        servers: 1,
        service: exponential(1.25),
        again: 0.1,
    }];
    judge([("time", 4.545_455), ("one visit", 4.090_909)], |luck| {
        let [time, visit, _] = in_a_row(&stage, 2.0, 250_000, luck);
        [time, visit]
    });
}

/// Q26: a tank that is never full, arrivals every 4.5 minutes, 30 minutes inside: the number inside is Poisson.
#[test]
fn q26_never_full() {
    let tank = Station::new(1_000_000, exponential(4.5), Spread::Fixed(minutes(30.0)), 200_000);
    judge([("inside", 6.666_667), ("P(N>=12)", 0.039_695_1)], |luck| {
        let found = tank.run(luck);
        [found.inside, found.levels.share_at_least(12)]
    });
}

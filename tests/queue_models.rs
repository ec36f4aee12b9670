//! Queues built from the parts of the kernel, and the rule by which a simulated value passes.

use rayon::prelude::*;
use tankday::kernel::{
    Agenda, Clock, Discipline, ENDS, LevelTally, LevelTimes, STARTS, SpanTally, WaitingLine,
};
use tankday::luck::{Luck, Purpose, Spread, Stream};
use tankday::stats::{mean, standard_deviation};
use tankday::units::{Moment, Span};

/// The seed of every replication here. It was chosen once.
const SEED: u64 = 1;

pub(crate) fn minutes(value: f64) -> Span {
    Span::minutes(value)
}

pub(crate) fn exponential(mean: f64) -> Spread {
    Spread::Exponential { mean: minutes(mean) }
}

/// Runs the model once for each of `replications` lots of luck and collects each of its figures over them.
pub(crate) fn replicate<const N: usize>(
    replications: u64,
    model: impl Fn(Luck) -> [f64; N] + Sync,
) -> [Vec<f64>; N] {
    let rows: Vec<[f64; N]> = (0..replications)
        .into_par_iter()
        .map(|r| model(Luck::new(SEED, r)))
        .collect();
    std::array::from_fn(|figure| rows.iter().map(|row| row[figure]).collect())
}

/// The pass rule of a simulated value: the mean over the replications lies within 4 standard errors of the exact value,
/// and a standard error is at most 0.5 % of it.
pub(crate) fn passes(name: &str, found: &[f64], exact: f64) {
    assert!(found.len() >= 30, "{name}: at least 30 replications");
    let middle = mean(found).unwrap();
    let error = standard_deviation(found).unwrap() / (found.len() as f64).sqrt();
    assert!(
        (middle - exact).abs() <= 4.0 * error,
        "{name}: {middle} +- {error}, exactly {exact}"
    );
    assert!(
        error <= 0.005 * exact,
        "{name}: a standard error of {error} is too wide for {exact}"
    );
}

/// Replicates the model 30 times and judges each figure by its exact value.
pub(crate) fn judge<const N: usize>(exact: [(&str, f64); N], model: impl Fn(Luck) -> [f64; N] + Sync) {
    let found = replicate(30, model);
    for ((name, value), figure) in exact.iter().zip(&found) {
        passes(name, figure, *value);
    }
}

/// One station with like servers and a waiting line.
pub(crate) struct Station {
    pub(crate) servers: usize,
    pub(crate) gap: Spread,
    pub(crate) service: Spread,
    /// No more than this many are let in at once; the rest go away.
    pub(crate) room: usize,
    /// So many at the start are not counted.
    pub(crate) warmup: u64,
    pub(crate) items: u64,
}

/// What is found at a station: times in minutes, levels as means over time.
pub(crate) struct Found {
    pub(crate) waits: Vec<f64>,
    pub(crate) wait: f64,
    pub(crate) in_system: f64,
    pub(crate) queue: f64,
    pub(crate) inside: f64,
    pub(crate) levels: LevelTimes,
    /// Share of arrivals that were turned away.
    pub(crate) lost: f64,
    /// Area under the number inside, sum of times inside, area under the number busy, sum of holding times; all in
    /// item-microseconds, without a warm-up only.
    pub(crate) balance: [i128; 4],
}

enum Event {
    Arrival,
    Departure { since: Moment, counted: bool },
}

pub(crate) fn in_minutes(tally: &SpanTally) -> f64 {
    tally.mean_micros() / 60e6
}

/// Draws for one purpose, one a numbered item.
pub(crate) struct Draws {
    spread: Spread,
    stream: Stream,
}

impl Draws {
    pub(crate) fn new(luck: Luck, purpose: &str, spread: &Spread) -> Self {
        Self {
            spread: spread.clone(),
            stream: luck.stream(Purpose::named(purpose)),
        }
    }

    pub(crate) fn of(&self, item: u64) -> Span {
        self.spread.draw(self.stream.word(item, 0))
    }
}

impl Station {
    pub(crate) fn new(servers: usize, gap: Spread, service: Spread, items: u64) -> Self {
        Self {
            servers,
            gap,
            service,
            room: usize::MAX,
            warmup: 20_000,
            items,
        }
    }

    /// Runs it once. Levels are taken from the arrival of the first counted item until all have left.
    pub(crate) fn run(&self, luck: Luck) -> Found {
        let gaps = Draws::new(luck, "gap", &self.gap);
        let services = Draws::new(luck, "service", &self.service);
        let (mut agenda, mut clock) = (Agenda::new(), Clock::default());
        let mut line = WaitingLine::new(Discipline::FirstCome);
        let (mut waits, mut in_system) = (Vec::new(), SpanTally::default());
        let (mut busy, mut held) = (LevelTally::new(Moment::ZERO), SpanTally::default());
        let mut queue = LevelTally::new(Moment::ZERO);
        let mut inside = LevelTally::new(Moment::ZERO);
        let mut levels = LevelTimes::new(Moment::ZERO, 40);
        let (mut idle, mut arrived, mut lost, mut last) = (self.servers, 0u64, 0u64, Moment::ZERO);
        let all = self.warmup + self.items;
        agenda.schedule(Moment::ZERO + gaps.of(0), STARTS, Event::Arrival);
        while let Some((now, event)) = agenda.next() {
            clock.advance(now);
            match event {
                Event::Departure { since, counted } => {
                    idle += 1;
                    busy.change(-1, now);
                    inside.change(-1, now);
                    if counted {
                        in_system.record(now - since);
                    }
                }
                Event::Arrival => {
                    if arrived == self.warmup {
                        queue.restart(now);
                        inside.restart(now);
                        levels = LevelTimes::new(now, 40);
                        lost = 0;
                    }
                    if (inside.level() as usize) < self.room {
                        line.join(arrived, now);
                        queue.change(1, now);
                        inside.change(1, now);
                    } else {
                        lost += 1;
                    }
                    arrived += 1;
                    if arrived < all {
                        agenda.schedule(now + gaps.of(arrived), STARTS, Event::Arrival);
                    }
                }
            }
            if agenda.peek_time() == Some(now) {
                continue;
            }
            while idle > 0
                && let Some(next) = line.take()
            {
                idle -= 1;
                queue.change(-1, now);
                let counted = next.item >= self.warmup;
                if counted {
                    waits.push(next.waited(now).in_minutes());
                }
                let departure = Event::Departure {
                    since: next.since,
                    counted,
                };
                let service = services.of(next.item);
                busy.change(1, now);
                held.record(service);
                agenda.schedule(now + service, ENDS, departure);
            }
            levels.set(inside.level() as usize, now);
            last = now;
        }
        Found {
            wait: mean(&waits).unwrap_or(0.0),
            in_system: in_minutes(&in_system),
            queue: queue.mean(last),
            inside: inside.mean(last),
            balance: [
                inside.area(last),
                in_system.sum_micros(),
                busy.area(last),
                held.sum_micros(),
            ],
            lost: lost as f64 / self.items as f64,
            waits,
            levels,
        }
    }
}

//! How fast the kernel is: M/M/1 and M/M/5 as the line runs them against a bare `std` binary heap for events and a queue; a pop and a push of the calendar at several sizes; one draw of each spread.

#![allow(clippy::expect_used)]

use criterion::{BatchSize, Criterion, Throughput, criterion_group, criterion_main};
use std::cmp::Reverse;
use std::collections::{BinaryHeap, VecDeque};
use std::hint::black_box;
use tankday::kernel::{ENDS, EventCalendar};
use tankday::line::Line;
use tankday::random::{Purpose, Spread, Stream, Streams};
use tankday::record::NullObserver;
use tankday::shop::Shop;
use tankday::units::{Moment, Span};

const ITEMS: u64 = 100_000;

/// A queue to simulate: both sides draw from the same streams.
struct Queue {
    servers: usize,
    gap: Spread,
    service: Spread,
    gaps: Stream,
    services: Stream,
}

impl Queue {
    /// Exponential on both sides, servers 90 % busy, mean service one minute.
    fn markov(servers: usize) -> Self {
        let luck = Streams::new(1, 0);
        Self {
            servers,
            gap: Spread::Exponential {
                mean: Span::seconds(60.0 / (0.9 * servers as f64)),
            },
            service: Spread::Exponential {
                mean: Span::minutes(1.0),
            },
            gaps: luck.stream(Purpose::named("gap")),
            services: luck.stream(Purpose::named("service")),
        }
    }

    fn next_gap(&self, item: u64) -> Span {
        self.gap.draw(self.gaps.word(item, 0))
    }

    fn service_of(&self, item: u64) -> Span {
        self.service.draw(self.services.word(item, 0))
    }
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum LogEntry {
    Departure,
    Arrival,
}

/// The same queue as a scenario file, with as many items.
fn shop(servers: usize) -> Shop {
    let path = format!("{}/tests/queues/m-m-{servers}.yaml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).expect("a shipped file");
    let (before, all) = text.split_once("up to: ").expect("a stream");
    let rest = all.trim_start_matches(|c: char| c.is_ascii_digit());
    tankday::scenario::read(&path, &format!("{before}up to: {ITEMS}{rest}"))
        .expect("a scenario")
        .shop
}

/// The mean wait in microseconds from a binary heap of (time, class, serial) and nothing else.
fn bare_heap(queue: &Queue) -> f64 {
    let mut heap: BinaryHeap<Reverse<(i64, u8, u64, LogEntry)>> = BinaryHeap::new();
    let mut line: VecDeque<(u64, i64)> = VecDeque::new();
    let (mut sum, mut count, mut idle, mut arrived, mut serial) = (0i64, 0u64, queue.servers, 0, 1);
    heap.push(Reverse((queue.next_gap(0).in_micros(), 1, 0, LogEntry::Arrival)));
    while let Some(Reverse((at, _, _, event))) = heap.pop() {
        match event {
            LogEntry::Departure => idle += 1,
            LogEntry::Arrival => {
                line.push_back((arrived, at));
                arrived += 1;
                if arrived < ITEMS {
                    let next = at + queue.next_gap(arrived).in_micros();
                    heap.push(Reverse((next, 1, serial, LogEntry::Arrival)));
                    serial += 1;
                }
            }
        }
        while idle > 0
            && let Some((item, since)) = line.pop_front()
        {
            idle -= 1;
            sum += at - since;
            count += 1;
            let end = at + queue.service_of(item).in_micros();
            heap.push(Reverse((end, 0, serial, LogEntry::Departure)));
            serial += 1;
        }
    }
    sum as f64 / count as f64
}

fn queues(criterion: &mut Criterion) {
    for servers in [1, 5] {
        let queue = Queue::markov(servers);
        let shop = shop(servers);
        let line = Line::new(&shop);
        let mut group = criterion.benchmark_group(format!("M/M/{servers}"));
        group.throughput(Throughput::Elements(2 * ITEMS));
        group.bench_function("line", |b| {
            b.iter(|| line.run(Some(Streams::new(1, 0)), &mut NullObserver))
        });
        group.bench_function("bare heap", |b| b.iter(|| bare_heap(black_box(&queue))));
        group.finish();
    }
}

/// Takes the next event and schedules another up to ten minutes on, with `pending` on the calendar.
fn hold(criterion: &mut Criterion) {
    const STEPS: u64 = 10_000;
    let stream = Streams::new(1, 0).stream(Purpose::named("hold"));
    let delays: Vec<Span> = (0..4_096)
        .map(|k| Span::micros((stream.word(k, 0) % 600_000_000) as i64))
        .collect();
    let mut group = criterion.benchmark_group("pop and push");
    group.throughput(Throughput::Elements(STEPS));
    for pending in [2usize, 6, 16, 32, 64, 100, 1_000, 100_000] {
        let mut full = EventCalendar::new();
        for (event, delay) in (0..pending as u64).zip(delays.iter().cycle()) {
            full.schedule(Moment::ZERO + *delay, ENDS, event);
        }
        group.bench_function(pending.to_string(), |b| {
            b.iter_batched_ref(
                || full.clone(),
                |agenda| {
                    for delay in delays.iter().cycle().take(STEPS as usize) {
                        if let Some((at, event)) = agenda.next() {
                            agenda.schedule(at + *delay, ENDS, event);
                        }
                    }
                },
                BatchSize::LargeInput,
            );
        });
    }
    group.finish();
}

fn draws(criterion: &mut Criterion) {
    let minutes = Span::minutes;
    let spreads = [
        (
            "uniform",
            Spread::Uniform {
                least: minutes(4.0),
                most: minutes(7.0),
            },
        ),
        (
            "triangular",
            Spread::Triangular {
                least: minutes(3.0),
                mostly: minutes(5.0),
                most: minutes(9.0),
            },
        ),
        ("exponential", Spread::Exponential { mean: minutes(4.5) }),
        (
            "cut normal",
            Spread::Normal {
                mean: minutes(5.0),
                sd: minutes(1.0),
            },
        ),
        (
            "lognormal",
            Spread::Lognormal {
                mean: minutes(5.0),
                sd: minutes(1.0),
            },
        ),
        (
            "gamma",
            Spread::Gamma {
                mean: minutes(5.0),
                sd: minutes(1.0),
            },
        ),
    ];
    let stream = Streams::new(1, 0).stream(Purpose::named("draw"));
    let mut group = criterion.benchmark_group("word and draw");
    for (name, spread) in spreads {
        let mut item = 0;
        group.bench_function(name, |b| {
            b.iter(|| {
                item += 1;
                spread.draw(stream.word(item, 0))
            });
        });
    }
    group.finish();
}

criterion_group! {
    name = benches;
    config = Criterion::default()
        .sample_size(30)
        .warm_up_time(std::time::Duration::from_millis(300))
        .measurement_time(std::time::Duration::from_secs(1));
    targets = queues, hold, draws
}
criterion_main!(benches);

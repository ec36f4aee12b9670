//! The line: items per second on the queueing model of `tests/queues/model-l.yaml`, and simulated days.

#![allow(clippy::expect_used, clippy::panic)]

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use tankday::line::Line;
use tankday::random::Streams;
use tankday::record::{NullObserver, Record};
use tankday::scenario;

fn read(name: &str) -> tankday::shop::Shop {
    let path = format!("{}/{name}", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).expect("a shipped scenario");
    scenario::read(&path, &text)
        .map(|s| s.shop)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
}

fn model_l(c: &mut Criterion) {
    let shop = read("tests/queues/model-l.yaml");
    let line = Line::new(&shop);
    let items = u64::from(line.run(Some(Streams::new(1, 0)), &mut NullObserver).orders);
    let mut group = c.benchmark_group("line");
    group.throughput(Throughput::Elements(items)).sample_size(10);
    group.bench_function("model L, recording off", |b| {
        b.iter(|| line.run(Some(Streams::new(1, 0)), &mut NullObserver))
    });
    group.finish();
}

fn mixed_day(c: &mut Criterion) {
    let shop = read("scenarios/mixed-day.yaml");
    let line = Line::new(&shop);
    c.bench_function("mixed day, recording off", |b| {
        b.iter(|| line.run(Some(Streams::new(1, 0)), &mut NullObserver))
    });
    c.bench_function("mixed day, recording on", |b| {
        b.iter(|| {
            let mut record = Record::default();
            line.run(Some(Streams::new(1, 0)), &mut record);
            record
        });
    });
    c.bench_function("mixed day, prepared", |b| b.iter(|| Line::new(&shop)));
}

/// Five days of one tank with filter stops: the goal is 2 ms.
fn filter_week(c: &mut Criterion) {
    let shop = read("scenarios/filter-week.yaml");
    let line = Line::new(&shop);
    c.bench_function("week with filter stops, recording off", |b| {
        b.iter(|| line.run(Some(Streams::new(1, 0)), &mut NullObserver))
    });
}

criterion_group!(benches, model_l, mixed_day, filter_week);
criterion_main!(benches);

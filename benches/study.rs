//! Replications of the mixed day: one thread, two threads, and a plain loop without the pool.

#![allow(clippy::expect_used, clippy::panic)]

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use tankday::line::Line;
use tankday::random::Streams;
use tankday::record::Record;
use tankday::scenario;
use tankday::study::{Days, Reading, sample};

const MANY: u32 = 1_000;

fn mixed_day(c: &mut Criterion) {
    let path = format!("{}/scenarios/mixed-day.yaml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).expect("a shipped scenario");
    let shop = scenario::read(&path, &text)
        .map(|s| s.shop)
        .unwrap_or_else(|f| panic!("{}", f.render(false)));
    let mut group = c.benchmark_group("1,000 replications of the mixed day");
    group
        .throughput(Throughput::Elements(u64::from(MANY)))
        .sample_size(10);
    group.bench_function("plain loop", |b| {
        let line = Line::new(&shop);
        b.iter(|| {
            let mut record = Record::default();
            let one = |n: u32| {
                record.entries.clear();
                line.run(Some(Streams::new(1, u64::from(n))), &mut record);
                Reading::of(&shop, &record)
            };
            (0..MANY).map(one).collect::<Vec<_>>()
        });
    });
    for threads in [1, 2] {
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .expect("threads");
        group.bench_function(format!("{threads} threads"), |b| {
            b.iter(|| pool.install(|| sample(&[Days::by_rules(&shop)], 1, 0..MANY, || ())));
        });
    }
    group.finish();
}

criterion_group!(benches, mixed_day);
criterion_main!(benches);

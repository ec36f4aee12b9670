//! The search on a day of forty orders: normal effort in at most three seconds on two cores, quick under half a second,
//! and how many days it simulates in a second on one core (at least five thousand); how many days a second are laid out in
//! the timetable. The lite day is from a seeded generator: task, rules and known values stand in its file.

#![allow(clippy::expect_used, clippy::panic)]

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use std::hint::black_box;
use std::sync::atomic::AtomicBool;
use tankday::plan::{Effort, days_laid_out, plan};
use tankday::scenario::{Draft, File};
use tankday::shop::Shop;

#[allow(dead_code, unused_imports)]
#[path = "../tests/programs/published_kinds/mod.rs"]
mod published_kinds;

/// The mixed day with thirty more orders of its parts, due through the afternoon.
fn forty_orders() -> Shop {
    let path = format!("{}/scenarios/mixed-day.yaml", env!("CARGO_MANIFEST_DIR"));
    let file = File {
        name: path.clone(),
        id: path.clone(),
        text: std::fs::read_to_string(&path).expect("a shipped scenario"),
    };
    let refuse = |f: tankday::scenario::Findings| -> ! { panic!("{}", f.render(false)) };
    let mut draft = Draft::open(file, &|_, _| Err("none".to_owned())).unwrap_or_else(|f| refuse(f));
    let parts = [
        "wood screw",
        "frog screw",
        "lateral lever",
        "yoke lever",
        "pawl spring",
        "plane lever cap",
    ];
    for n in 0..30 {
        let (part, count) = (parts[n % parts.len()], [60, 30, 6, 5, 20, 2][n % parts.len()]);
        let due = 14 * 60 + 5 * n;
        let order = format!("{count} x {part}, id: C{n}, due: {:02}:{:02}", due / 60, due % 60);
        draft.add_order("order", &order).unwrap_or_else(|f| refuse(f));
    }
    draft.scenario().unwrap_or_else(|f| refuse(f)).shop
}

fn search(c: &mut Criterion) {
    let shop = forty_orders();
    assert_eq!(shop.orders.len(), 40);
    let find = |effort| plan(&shop, 1, effort, &AtomicBool::new(false), &|_| ()).expect("orders are stated");
    let mut group = c.benchmark_group("a day of forty orders");
    group.sample_size(10);
    for (name, effort) in [("quick", Effort::Quick), ("normal", Effort::Normal)] {
        let days = find(effort).evaluations;
        group.throughput(Throughput::Elements(days));
        for threads in [1, 2] {
            let pool = rayon::ThreadPoolBuilder::new()
                .num_threads(threads)
                .build()
                .expect("threads");
            group.bench_function(format!("{name}, {threads} threads"), |b| {
                b.iter(|| pool.install(|| black_box(find(effort))));
            });
        }
    }
    group.finish();
}

/// Days laid out in the timetable alone, on one core: a lite day of forty orders (100,000 a second wanted), and a shop day of
/// forty with full routes and breaks (20,000 wanted).
fn timetable(c: &mut Criterion) {
    const DAYS: u64 = 20_000;
    let lite = published_kinds::lite_shop(include_str!("lite_n40_t1_s21.json")).expect("a lite day");
    let mut group = c.benchmark_group("days laid out in the timetable");
    group.sample_size(10);
    for (name, shop) in [
        ("lite, forty orders", lite),
        ("shop, forty orders", forty_orders()),
    ] {
        let many = days_laid_out(&shop, DAYS, 1).expect("a timetable");
        group.throughput(Throughput::Elements(many));
        group.bench_function(name, |b| b.iter(|| black_box(days_laid_out(&shop, DAYS, 1))));
    }
    group.finish();
}

criterion_group!(benches, search, timetable);
criterion_main!(benches);

//! The search on a day of forty orders: normal effort in at most three seconds on two cores, quick under half a second,
//! and how many days it simulates in a second on one core (at least five thousand).

#![allow(clippy::expect_used, clippy::panic)]

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use std::hint::black_box;
use std::sync::atomic::AtomicBool;
use tankday::plan::{Effort, plan};
use tankday::scenario::{Draft, File};
use tankday::shop::Shop;

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

criterion_group!(benches, search);
criterion_main!(benches);

//! The pages of a run, from results to bytes: a mixed day, and 300 orders over ten days.

#![allow(clippy::expect_used, clippy::panic)]

use criterion::{Criterion, criterion_group, criterion_main};
use tankday::chart::DayView;
use tankday::ease::gains;
use tankday::line::Line;
use tankday::record::{Chain, Figures, Labels, Record};
use tankday::report::{Run, run};
use tankday::scenario;
use tankday::shop::Shop;
use tankday::told::Results;

fn once(shop: &Shop) -> Record {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    record
}

fn pages(c: &mut Criterion) {
    let mut group = c.benchmark_group("a report");
    group.sample_size(10);
    for file in ["scenarios/mixed-day.yaml", "tests/pages/ten-days.yaml"] {
        let path = format!("{}/{file}", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(&path).expect("a scenario");
        let meant = scenario::read(file, &text).unwrap_or_else(|f| panic!("{}", f.render(false)));
        let shop = &meant.shop;
        let record = once(shop);
        let figures = Figures::of(shop, &record);
        let labels = Labels::of(shop, &record);
        let chain = Chain::of(shop, &record);
        let gains = gains(shop, &record, once);
        let results = Results {
            shop,
            record: &record,
            figures: &figures,
            labels: &labels,
            chain: chain.as_ref(),
            gains: &gains,
            study: None,
            seed: 1,
            planned: None,
        };
        let view = DayView::of(shop, &record).with(shop, None, &gains);
        let files = [(file, text.as_str())];
        let told = Run {
            results: &results,
            view: &view,
            files: &files,
            whole: &text,
            granted: &meant.granted,
            command: "tankday run",
        };
        group.bench_function(file, |b| b.iter(|| run(&told)));
    }
    group.finish();
}

criterion_group!(benches, pages);
criterion_main!(benches);

//! The pages of a run, from results to bytes: a mixed day, alone and under luck, and 300 orders over ten days. Told beside:
//! how many bytes.

#![allow(clippy::expect_used, clippy::panic)]

use criterion::{Criterion, criterion_group, criterion_main};
use tankday::chart::DayView;
use tankday::line::Line;
use tankday::narrative::Results;
use tankday::random::Streams;
use tankday::record::{Chain, Figures, Labels, Record};
use tankday::report::{Run, run};
use tankday::scenario;
use tankday::shop::Shop;
use tankday::study::Study;
use tankday::what_if::gains;

/// A scenario, and of how many days under luck; with none the one day of mean times.
const CASES: [(&str, u32); 3] = [
    ("scenarios/mixed-day.yaml", 0),
    ("scenarios/mixed-day.yaml", 200),
    ("tests/pages/ten-days.yaml", 0),
];

fn pages(c: &mut Criterion) {
    let mut group = c.benchmark_group("a report");
    group.sample_size(10);
    for (file, many) in CASES {
        let path = format!("{}/{file}", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(&path).expect("a scenario");
        let meant = scenario::read(file, &text).unwrap_or_else(|f| panic!("{}", f.render(false)));
        let shop = &meant.shop;
        let under = |shop: &Shop, luck: Option<Streams>| {
            let mut record = Record::default();
            Line::new(shop).run(luck, &mut record);
            record
        };
        let study = (many > 0).then(|| Study::of(shop, 1, many, |luck| under(shop, Some(luck))));
        let luck = study.as_ref().map(|s| Streams::new(1, s.drawn as u64));
        let record = under(shop, luck);
        let figures = Figures::of(shop, &record);
        let labels = Labels::of(shop, &record);
        let chain = Chain::of(shop, &record);
        let gains = gains(shop, &record, |eased| under(eased, luck));
        let results = Results {
            shop,
            record: &record,
            figures: &figures,
            labels: &labels,
            chain: chain.as_ref(),
            gains: &gains,
            study: study.as_ref(),
            seed: 1,
            planned: None,
            beyond: None,
        };
        let view = DayView::of(shop, &record).with(shop, study.as_ref(), &gains);
        let files = [(file, text.as_str())];
        let told = Run {
            results: &results,
            view: &view,
            files: &files,
            whole: &text,
            granted: &meant.granted,
            command: "tankday run",
        };
        let name = format!("{file}, {many} days under luck");
        println!("{name}: {} bytes", run(&told).len());
        group.bench_function(name, |b| b.iter(|| run(&told)));
    }
    group.finish();
}

criterion_group!(benches, pages);
criterion_main!(benches);

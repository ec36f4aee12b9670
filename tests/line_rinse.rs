//! Rinses on the line: their water against closed forms, and what hands do about it.

use tankday::line::Line;
use tankday::random::Spread;
use tankday::record::{Figures, LogEntry, Record, TaskKind, WarningKind};
use tankday::scenario;
use tankday::shop::{Arrival, Shop};
use tankday::units::Span;

/// `loads` loads of 100 pieces of 10 cm2 each, on which 200 mL/m2 stay: 20 mL for each load, from a bath of 36 points.
fn shop(rinse: &str, loads: u32) -> Shop {
    let text = format!(
        "tankday: 1
shop: {{hands: 2}}
days: [{{date: 2026-03-05, open: 06:00, close: 22:00}}]
tanks: [{{name: tank, bath: manganese, inside: 40 cm x 40 cm x 40 cm, fill: 40 L, heater: {{power: 9 kW}}}}]
baths: {{manganese: {{coat: {{time: 6 min}}, dwell: 5 to 45 min, wears: no}}}}
stations: [{{name: bucket, {rinse}}}]
parts: {{piece: {{mass: 5 g, area: 10 cm2, drag out: 200 mL/m2}}}}
routes:
  way:
    - {{do: coat, in: manganese, put in: 10 s, take out: 20 s}}
    - {{do: rinse, at: bucket, for: 1 min, hands: throughout, at once: yes}}
orders: [{{id: A, part: piece, count: 100, route: way, arrives: {{every: 8 min, from: 07:30, up to: {loads}}}}}]
rules: {{combine: never, fill: {{at least: 0 %, wait at most: 0 min}}}}
"
    );
    scenario::read("rinse", &text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

fn run(shop: &Shop) -> (Record, Figures) {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    crate::audited::assert_sound(shop, &record);
    let figures = Figures::of(shop, &record);
    assert!(figures.orders.iter().all(|o| o.ready.is_some()));
    (record, figures)
}

/// First and last tub after each load, as shares of the bath.
fn strengths(record: &Record) -> Vec<(f64, f64)> {
    let share = |e: &tankday::record::Entry| match e.event {
        LogEntry::Rinsed { first, last, .. } => Some((first.in_points() / 36.0, last.in_points() / 36.0)),
        _ => None,
    };
    record.entries.iter().filter_map(share).collect()
}

fn near(value: f64, wanted: f64, within: f64) {
    assert!((value / wanted - 1.0).abs() <= within, "{value} against {wanted}");
}

/// Still rinse of 20 L, 20 mL a load: after 1, 10 and 50 loads 0.000999, 0.009945, 0.048747 of the bath (check T63,
/// derived: 1 - (V / (V + D))^N). The bath is as strong at the end as at the start where nothing wears it.
#[test]
fn a_still_rinse_gathers_acid_load_by_load() {
    let (record, figures) = run(&shop("fill: 20 L, renew: never", 50));
    let all = strengths(&record);
    assert_eq!(all.len(), 50);
    near(all[0].1, 0.000_999, 1e-4);
    near(all[9].1, 0.009_945, 1e-4);
    near(all[49].1, 0.048_747, 1e-4);
    assert_eq!(
        (figures.rinses[0].renewals, figures.rinses[0].water.in_litres()),
        (0, 0.0)
    );
}

/// Two tubs, 50 loads: 0.048747 and 0.0012317 (check T64, derived).
#[test]
fn two_tubs_in_series_leave_little() {
    let (record, _) = run(&shop("fill: 20 L, tubs: 2, renew: never", 50));
    let (first, last) = strengths(&record)[49];
    near(first, 0.048_747, 1e-4);
    near(last, 0.001_231_7, 1e-4);
}

/// Renewed at 3 % of the bath: the 31st load reaches it (check T63: ln(1/0.97) / ln(1.001) = 30.47), then hands bring
/// clean water, and the next load meets it.
#[test]
fn spent_water_is_renewed_by_hand() {
    let (record, figures) = run(&shop("fill: 20 L, renew: {at: 3 %, takes: 4 min}", 40));
    let all = strengths(&record);
    assert!(all[29].1 < 0.03 && all[30].1 >= 0.03, "{:?}", &all[29..31]);
    near(all[31].1, 0.000_999, 1e-3);
    let rinse = &figures.rinses[0];
    assert_eq!(
        (rinse.renewals, rinse.loads, rinse.water.in_litres()),
        (1, 40, 20.0)
    );
    let is_renewal = |e: &&tankday::record::Entry| matches!(e.event, LogEntry::HandsTake { task, .. } if task.kind == TaskKind::Renew);
    let begun = record.entries.iter().find(is_renewal).unwrap().at;
    let done = record
        .entries
        .iter()
        .find(|e| matches!(e.event, LogEntry::Renewed { .. }));
    assert_eq!((done.unwrap().at - begun).in_minutes(), 4.0);
    assert!(!figures.warnings.iter().any(|w| w.kind == WarningKind::SpentRinse));
}

#[test]
fn water_may_be_renewed_after_so_many_loads() {
    let (record, figures) = run(&shop("fill: 20 L, renew: {after: 8}", 20));
    assert_eq!(figures.rinses[0].renewals, 2);
    assert!(strengths(&record).iter().all(|s| s.1 < 0.0081));
}

/// A tap that runs while work is in: 2 L/min for a minute each keep a tub of 20 L weaker, and the water is counted.
#[test]
fn running_water_thins_the_rinse_and_is_counted() {
    let still = strengths(&run(&shop("fill: 20 L, renew: never", 30)).0);
    let (record, figures) = run(&shop("fill: 20 L, flow: 2 L/min, renew: never", 30));
    let running = strengths(&record);
    assert!(running[29].1 < still[29].1 / 2.0);
    near(figures.rinses[0].water.in_litres(), 60.0, 1e-9);
    // Each minute thins it to exp(-0.1) of what it was, each load mixes 20 mL of bath into 20 L.
    let wanted = (0..30).fold(0.0, |c, _| (c * libm::exp(-0.1) * 20.0 + 0.02) / 20.02);
    near(running[29].1, wanted, 1e-9);
}

/// Longer dripping carries less along: from 10 s to 40 s half of it.
#[test]
fn dripping_keeps_acid_in_the_tank() {
    let quick = shop("fill: 20 L, renew: never", 3);
    let mut slow = quick.clone();
    slow.routes[0].steps[0].drip = Span::seconds(40.0);
    let brought = |shop: &Shop| {
        let (record, _) = run(shop);
        let first = record.entries.iter().find_map(|e| match e.event {
            LogEntry::Rinsed { brought, .. } => Some(brought.in_litres()),
            _ => None,
        });
        first.unwrap()
    };
    near(brought(&quick), 0.020, 1e-9);
    near(brought(&slow), 0.010, 1e-9);
}

/// With a load always in one of two places, and only 7 min to take it out in, one pair of hands never has the 20 min
/// for fresh water: loads meet spent water, and that is told.
#[test]
fn spent_water_that_nobody_renews_is_told() {
    let mut shop = shop("fill: 1 L, renew: {at: 1 points, takes: 20 min}", 20);
    shop.hands = 1;
    shop.stations[0].places = 2;
    shop.baths[0].most = Span::whole_minutes(7);
    if let Arrival::Every { gap, .. } = &mut shop.orders[0].arrival {
        *gap = Spread::Fixed(Span::whole_minutes(4));
    }
    let (_, figures) = run(&shop);
    let spent = figures
        .warnings
        .iter()
        .find(|w| w.kind == WarningKind::SpentRinse);
    let told = spent.map_or(0, |w| w.at.len());
    assert!(told > 5, "{:?}", figures.rinses);
    assert_eq!(told, figures.rinses[0].spent.len());
}

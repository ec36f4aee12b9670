//! A bath that has fallen below its mark while all hands are busy waits for them; it must not keep the clock from moving.

use crate::made_shop::{clock, order, shop};
use tankday::line::Line;
use tankday::record::{LogEntry, Observer};
use tankday::units::Moment;

/// Counts top-ups, and gives up on a run that says more than any run of this shop has to say.
#[derive(Default)]
struct Water {
    events: u32,
    top_ups: u32,
}

impl Observer for Water {
    fn note(&mut self, _at: Moment, event: LogEntry) {
        self.events += 1;
        assert!(self.events < 20_000, "the run does not get on");
        self.top_ups += u32::from(matches!(event, LogEntry::ToppedUp { .. }));
    }
}

#[test]
fn a_low_bath_waits_for_busy_hands() {
    let shop = shop(1, 1, (1..8).map(|n| order(&format!("A{n}"))).collect());
    let mut water = Water::default();
    let outcome = Line::new(&shop).run(None, &mut water);
    assert!(water.top_ups > 0 && !outcome.endless);
    assert!(outcome.stopped < clock(1, 12, 0));
}

/// Water comes before concentrate: a low bath reads stronger than it is, and acid goes into water.
#[test]
fn water_is_made_good_before_acid_is_added() {
    let text = "\
tankday: 1
shop: {hands: 1}
days: [{open: 08:00, close: 17:00}]
baths: {mn: {coat: {time: 15 min}, now: {total acid: 30 points}}}
tanks: [{name: tank, bath: mn, inside: 40 cm x 30 cm x 30 cm, fill: 20 L, heater: {power: 4 kW}, now: {volume: 12 L}}]
stations: [{name: sink}, {name: oil pan}]
parts: {nut: {mass: 8 g, area: 9 cm2}}
routes:
  r:
    - {do: degrease, at: sink, for: 6 min}
    - {do: coat, in: mn}
    - {do: rinse, at: sink, for: 1 min}
    - {do: oil, at: oil pan, for: 20 min}
orders: [{id: N, part: nut, count: 60, route: r}]
rules: {care: {replenish: {to: 36 points, when: below 31 points}}}
";
    let shop = tankday::scenario::read("low.yaml", text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop;
    let mut record = tankday::record::Record::default();
    tankday::line::Line::new(&shop).run(None, &mut record);
    crate::audited::assert_sound(&shop, &record);
    let at = |what: &dyn Fn(&tankday::record::LogEntry) -> bool| {
        let found = record.entries.iter().find(|e| what(&e.event));
        found.unwrap().at
    };
    use tankday::record::LogEntry;
    let water = at(&|e| matches!(e, LogEntry::ToppedUp { .. }));
    let acid = at(&|e| matches!(e, LogEntry::CareBegins { .. }));
    assert!(water <= acid, "{water:?} {acid:?}");
    let hot = at(&|e| matches!(e, LogEntry::InBand { .. }));
    assert!(acid < hot);
    // Water leaves room for what is added behind it: the tank is full then, and not fuller.
    let figures = tankday::record::Figures::of(&shop, &record);
    let mut added = 12.0;
    added += tankday::record::Analysis::of(&shop, &record)
        .top_ups
        .iter()
        .take(1)
        .map(|t| t.volume.in_litres())
        .sum::<f64>();
    added += figures.baths[0].used().concentrate.in_litres();
    assert!((added - 20.0).abs() < 0.1, "{added}");
}

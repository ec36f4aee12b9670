//! What may not go into a bath together stands in no load of a plan, and what a plan puts together goes in together.

use crate::kept_cases::the_same;
use proptest::prelude::*;
use std::sync::atomic::AtomicBool;
use tankday::line::Line;
use tankday::plan::{Effort, plan};
use tankday::plan_file::{understand, write};
use tankday::record::{LogEntry, Record};
use tankday::scenario::{PlanFile, read};
use tankday::shop::{Keeping, Shop};

/// A pot whose iron stands just below what work needs whose looks matter; scrap goes through first.
fn pot(scrap: u32, iron: u32, fine: [u32; 2], combine: &str) -> Shop {
    let text = format!(
        "tankday: 1
title: Scrap first
shop: {{hands: 1, air: {{temperature: 15 °C, humidity: 60 %}}}}
days: [{{date: 2026-03-12, open: 11:00, close: 20:00}}]
baths:
  hot bath: {{coat: {{target: 14 g/m2}}, dwell: 8 to 35 min, now: {{total acid: 35 points, free acid: 6 points, iron: 0.{iron} g/L}}}}
tanks:
  - {{name: pot, bath: hot bath, inside: round 32 cm x 30 cm, fill: 18 L, heater: {{power: 2.4 kW}}}}
stations: [{{name: sink, loads: 2}}, {{name: rack, loads: 3}}]
parts:
  brace screw: {{material: plain steel, mass: 9 g, area: 9 cm2, bulk: 4 mL}}
routes:
  steel:
    - {{do: degrease, at: sink, for: 10 min, hands: ends}}
    - {{do: coat, in: hot bath, within: 6 h}}
    - {{do: rinse, at: sink, for: 2 min, hands: throughout, at once: yes}}
    - {{do: oil, at: rack, for: 40 min}}
orders:
  - {{id: S0, part: brace screw, count: {scrap}, route: steel, looks: do not matter}}
  - {{id: N1, part: brace screw, count: {}, route: steel, due: 14:00}}
  - {{id: N2, part: brace screw, count: {}, route: steel, due: 13:00}}
rules: {{combine: {combine}, care: {{fresh bath: takes scrap first}}}}
",
        fine[0], fine[1]
    );
    read("pot", &text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

/// Pieces that went into the bath at a time, in the order of going in.
fn charged(shop: &Shop, record: &Record) -> Vec<u32> {
    let mut pieces = Vec::new();
    let mut sums = Vec::new();
    for entry in &record.entries {
        match entry.event {
            LogEntry::LoadMade { pieces: many, .. } => pieces.push(many),
            LogEntry::Joins { load, into } => pieces[into.0 as usize] += pieces[load.0 as usize],
            LogEntry::SetIn { load, station, .. } if shop.stations[station.index()].tank.is_some() => {
                sums.push(load.0 as usize);
            }
            _ => {}
        }
    }
    sums.into_iter().map(|l| pieces[l]).collect()
}

proptest! {
    #![proptest_config(the_same(12, 4))]

    #[test]
    fn the_loads_of_a_plan_are_what_goes_in(
        scrap in 20..200u32,
        iron in 40..60u32,
        fine in [20..90u32, 20..90u32],
        combine in prop::sample::select(&["same part", "same route"][..]),
    ) {
        let shop = pot(scrap, iron, fine, combine);
        let line = Line::new(&shop);
        let found = plan(&shop, 1, Effort::Days(1_000), &AtomicBool::new(false), &|_| ()).unwrap();
        let text = write(&shop, &line, &found.plan);
        let file = PlanFile::read("plan.yaml", &text, &shop.calendar).unwrap();
        let meant = understand(&shop, &line, &file).unwrap_or_else(|f| panic!("{}", f.render(false)));
        let mut record = Record::default();
        line.follow(&meant.plan, None, &mut record);
        let mut planned: Vec<u32> = file.loads.iter().map(|l| l.holds.iter().map(|h| h.value.pieces).sum()).collect();
        let mut done = charged(&shop, &record);
        // A plan that leaves the day to the shop's own rules has no loads of its own.
        let own_rules = meant.plan.keeping == Keeping::OwnRules;
        if own_rules {
            prop_assert!(planned.is_empty());
        } else if found.judged.unready == 0 {
            planned.sort_unstable();
            done.sort_unstable();
            prop_assert_eq!(planned, done);
        } else {
            // What never goes in stands in the plan as well.
            prop_assert!(done.iter().all(|d| planned.contains(d)), "{:?} {:?}", planned, done);
        }
    }
}

/// A plan that was changed by hand so that scrap goes in with other work is refused at its line.
#[test]
fn scrap_beside_other_work_is_refused() {
    let shop = pot(60, 49, [30, 30], "same part");
    let line = Line::new(&shop);
    let found = plan(&shop, 1, Effort::Days(60), &AtomicBool::new(false), &|_| ()).unwrap();
    let text = write(&shop, &line, &found.plan).replace("holds: [60 of S0]", "holds: [60 of S0, 30 of N1]");
    let file = PlanFile::read("plan.yaml", &text, &shop.calendar).unwrap();
    let told = understand(&shop, &line, &file).unwrap_err().render(false);
    assert!(told.contains("N1 may not go in with S0"), "{told}");
    assert!(
        told.contains("`fresh bath: takes scrap first` keeps scrap apart"),
        "{told}"
    );
}

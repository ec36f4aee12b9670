//! When the planner serves a bath, and what a plan file says of it.

use std::fmt::Write;
use std::sync::atomic::AtomicBool;
use tankday::line::Line;
use tankday::plan::{Effort, Found, judged, plan};
use tankday::plan_file::{delays, understand, write};
use tankday::record::{CareKind, LogEntry, Record};
use tankday::scenario::{PlanFile, read};
use tankday::shop::Shop;
use tankday::units::Moment;

/// So many loads from the morning on and so many from 12:30 on, each as large as a pot holds.
fn written(first: usize, second: usize, pots: &[&str], care: &str) -> String {
    let mut text = String::from(
        "tankday: 1\ntitle: Two waves of work\n\
         shop: {hands: 1, air: {temperature: 20 °C, humidity: 50 %}}\n\
         days: [{date: 2026-03-02, open: 08:00, close: 18:00}]\n\
         baths: {manganese: {}}\n\
         stations: [{name: bench, loads: 4}]\n\
         parts: {chuck: {material: plain steel, mass: 180 g, area: 95 cm2}}\n\
         routes: {way: [{do: coat, in: manganese}, {do: rinse, at: bench, for: 1 min, hands: throughout}]}\n\
         tanks:\n",
    );
    for pot in pots {
        writeln!(
            text,
            "  - {{name: {pot}, bath: manganese, inside: 35 cm x 25 cm x 30 cm, fill: 20 L, heater: {{power: 3 kW}}}}"
        )
        .unwrap();
    }
    text += "orders:\n";
    for n in 0..first + second {
        let arrives = if n < first { "" } else { ", arrives: 12:30" };
        writeln!(
            text,
            "  - {{id: A{n}, part: chuck, count: 20, route: way{arrives}}}"
        )
        .unwrap();
    }
    text + &format!("rules: {{combine: never, care: {{{care}}}}}\n")
}

fn waves(first: usize, second: usize, pots: &[&str], care: &str) -> Shop {
    read("waves", &written(first, second, pots, care))
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

const FILTER: &str = "filter: {when: after 4 loads, cool to: 60 °C, settles: 30 min}";

fn planned(shop: &Shop) -> Found {
    plan(shop, 1, Effort::Days(2_000), &AtomicBool::new(false), &|_| ()).unwrap()
}

fn care_begun(shop: &Shop, found: &tankday::line::Plan) -> Vec<(CareKind, Moment)> {
    let mut record = Record::default();
    Line::new(shop).follow(found, None, &mut record);
    crate::audited::assert_sound(shop, &record);
    let begins = |e: &tankday::record::Entry| match e.event {
        LogEntry::CareBegins { care, .. } => Some((care, e.at)),
        _ => None,
    };
    record.entries.iter().filter_map(begins).collect()
}

/// Filtered by its rule, the bath stands still in the afternoon's work; between the waves it stands in nobody's way.
#[test]
fn a_bath_is_served_between_two_waves_of_work() {
    let shop = waves(3, 3, &["pot"], FILTER);
    let line = Line::new(&shop);
    let found = planned(&shop);
    let by_rule = found
        .rules
        .iter()
        .filter_map(|r| r.judged)
        .map(|j| j.finish)
        .min();
    let sooner = by_rule.unwrap() - found.judged.finish;
    assert!(sooner.in_minutes() > 60.0, "{} min", sooner.in_minutes());
    let care = care_begun(&shop, &found.plan);
    assert_eq!(care.len(), 1, "{care:?}");
    assert!(care[0].1.clock().as_str() < "12:30", "{}", care[0].1.clock());

    // It stands in the file, is read back, and does what it did.
    let text = write(&shop, &line, &found.plan);
    assert!(text.contains(", after: L"), "{text}");
    let file = PlanFile::read("plan.yaml", &text, &shop.calendar).unwrap();
    let meant = understand(&shop, &line, &file).unwrap_or_else(|f| panic!("{}", f.render(false)));
    assert_eq!(meant.plan.calls, found.plan.calls);
    let apart = judged(&shop, &line, &meant.plan).finish - found.judged.finish;
    assert!(apart.in_minutes().abs() < 1.0);
    assert!(delays(&shop, &line, &file, &meant).is_empty());
    assert_eq!(write(&shop, &line, &meant.plan), text);
}

/// Care is brought forward, never put off: it is done after no more loads than its rule allows.
#[test]
fn care_is_never_put_off() {
    for (first, second) in [(3, 3), (4, 5), (6, 3), (2, 7)] {
        let shop = waves(first, second, &["pot"], FILTER);
        let found = planned(&shop);
        let mut record = Record::default();
        Line::new(&shop).follow(&found.plan, None, &mut record);
        let mut loads = 0;
        for entry in &record.entries {
            match &entry.event {
                LogEntry::SetIn { step, .. } if step.step.0 == 0 => loads += 1,
                LogEntry::CareBegins { .. } => loads = 0,
                _ => {}
            }
            assert!(loads <= 4, "{first} and {second}");
        }
        assert_eq!(found.judged.unready, 0);
    }
}

/// A bath that no rule serves is served by no plan, and nothing is searched for.
#[test]
fn without_a_rule_of_care_nothing_is_brought_forward() {
    let shop = waves(2, 2, &["pot"], "");
    assert!(planned(&shop).plan.calls.is_empty());
}

fn told(shop: &Shop, change: impl Fn(&str) -> String) -> String {
    let line = Line::new(shop);
    let text = write(shop, &line, &planned(shop).plan);
    let file = PlanFile::read("plan.yaml", &change(&text), &shop.calendar).unwrap();
    match understand(shop, &line, &file) {
        Ok(meant) => delays(shop, &line, &file, &meant).render(false),
        Err(found) => found.render(false),
    }
}

/// Named without a load, care waits for its rule, and the plan is told so.
#[test]
fn care_that_its_rule_does_not_call_for_is_told() {
    let shop = waves(3, 3, &["pot"], FILTER);
    let without = told(&shop, |text| {
        let at = text.find(", after: L").unwrap();
        format!("{}{}", &text[..at], &text[at + ", after: L1".len()..])
    });
    assert!(without.contains("this begins only at "), "{without}");
    assert!(without.contains("its rule calls for it later"), "{without}");

    let few = waves(2, 1, &["pot"], FILTER);
    let never = told(&few, |text| {
        format!("{text}\ncare:\n  - {{at: 10:00, do: filter, tank: pot}}\n")
    });
    assert!(never.contains("this is never done"), "{never}");
    assert!(never.contains("`after: L3`"), "{never}");
}

/// A load of another tank says nothing of when this one is served.
#[test]
fn care_after_a_load_of_another_tank_is_refused() {
    let shop = waves(2, 2, &["pot", "kettle"], FILTER);
    let refused = told(&shop, |text| {
        let loads: Vec<&str> = text.lines().filter(|l| l.contains("{id: L")).collect();
        let other = |pot: &str| {
            let of = loads.iter().find(|l| l.contains(pot)).unwrap();
            of.trim()
                .trim_start_matches("- {id: ")
                .split(',')
                .next()
                .unwrap()
                .to_owned()
        };
        let load = other("tank: kettle");
        format!("{text}\ncare:\n  - {{at: 10:00, after: {load}, do: filter, tank: pot}}\n")
    });
    assert!(refused.contains("does not go into `pot`"), "{refused}");
    assert!(refused.contains("name a load of that tank"), "{refused}");
}

/// What is otherwise than the rules say stands where the plan is told.
#[test]
fn what_is_brought_forward_is_told() {
    let home = tempfile::tempdir().unwrap();
    std::fs::write(home.path().join("waves.yaml"), written(3, 3, &["pot"], FILTER)).unwrap();
    let run = std::process::Command::new(env!("CARGO_BIN_EXE_tankday"))
        .args(["plan", "waves.yaml", "--effort", "2000", "--out", "out"])
        .current_dir(home.path())
        .env_clear()
        .output()
        .unwrap();
    let told = String::from_utf8(run.stdout).unwrap();
    assert!(
        told.contains("Before its rule asks for it: filter pot at 0"),
        "{told}"
    );
    let page = std::fs::read_to_string(home.path().join("out/report.html")).unwrap();
    assert!(page.contains("Before its rule asks for it: filter pot at 0"));
}

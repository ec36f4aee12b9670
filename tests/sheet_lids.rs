//! A hot bath that has a lid is covered after its last work of the day, and the sheet says so.

use crate::audit_sheet::Sheet;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use std::collections::BTreeMap;
use tankday::line::Line;
use tankday::record::{LogEntry, Record};
use tankday::scenario::read;
use tankday::shop::{LidKind, LidRule, Shop};

fn text(heat: &str, lid: &str) -> String {
    format!(
        "tankday: 1\nshop: {{hands: 1}}\ndays: [{{date: 2026-03-05, open: 08:00, close: 17:00}}]\n\
         baths: {{mn: {{coat: {{time: 15 min}}}}}}\n\
         tanks: [{{name: tank, bath: mn, inside: 40 cm x 30 cm x 30 cm, fill: 20 L, lid: {lid}, heater: {{power: 3 kW}}}}]\n\
         stations: [{{name: sink}}, {{name: oil pan}}]\nparts: {{nut: {{mass: 8 g, area: 9 cm2}}}}\nroutes:\n  r:\n    \
         - {{do: degrease, at: sink, for: 6 min}}\n    - {{do: coat, in: mn}}\n    \
         - {{do: rinse, at: sink, for: 1 min}}\n    - {{do: oil, at: oil pan, for: 20 min}}\n\
         orders: [{{id: N, part: nut, count: 300, route: r}}]\nrules: {{heat: {{{heat}}}}}\n"
    )
}

fn shop(heat: &str, lid: &str) -> Shop {
    read("lid.yaml", &text(heat, lid))
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

fn day(shop: &Shop) -> Record {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    record
}

#[test]
fn the_lid_goes_on_after_the_last_work() {
    let after = "switch off: after the last load, lid: between loads";
    let closing = "switch off: at closing, lid: between loads";
    for (heat, own) in [
        (after, false),
        (closing, true),
        ("switch off: after the last load, lid: when off", false),
    ] {
        let shop = shop(heat, "loose");
        let record = day(&shop);
        let sheet = Sheet::of(&shop, &record);
        let of_lid = sheet
            .csv
            .lines()
            .filter(|l| l.contains("lid on for the rest of the day"));
        assert_eq!(of_lid.count(), usize::from(own), "{heat}\n{}", sheet.csv);
        assert!(
            sheet.csv.contains("heater off, lid on") || own,
            "{heat}\n{}",
            sheet.csv
        );
        assert_eq!(sheet.faults(&shop, &record), Vec::<String>::new());
        // A sheet that forgets it is found out.
        if own {
            let mut silent = sheet.clone();
            let kept = sheet.csv.lines().filter(|l| !l.contains("lid on for the rest"));
            silent.csv = kept.map(|l| format!("{l}\n")).collect();
            let faults = silent.faults(&shop, &record);
            assert!(
                faults.iter().any(|f| f.contains("no row for: care at the tank")),
                "{faults:?}"
            );
        }
    }
    let bare = shop(closing, "none");
    assert!(!Sheet::of(&bare, &day(&bare)).csv.contains("lid on"));
}

/// On no day of any shop with a lid is the last that a sheet says of a hot bath anything but that it is covered, unless a rule
/// leaves it open, it cools under care, or work is in it.
#[test]
fn no_hot_bath_is_left_open_in_silence() {
    let mut runner = TestRunner::deterministic();
    let any = crate::random_shop::any_shop();
    let mut covered = 0;
    let plain = shop("lid: when off", "loose");
    let loose = plain.tanks().next().unwrap().2.lid;
    for _ in 0..120 {
        let mut shop = any.new_tree(&mut runner).unwrap().current();
        if shop.rules.heat.lid == LidRule::Never {
            shop.rules.heat.lid = LidRule::WhenOff;
        }
        for tank in shop.stations.iter_mut().filter_map(|s| s.tank.as_mut()) {
            tank.lid = loose;
        }
        let record = day(&shop);
        let sheet = Sheet::of(&shop, &record);
        for ((day, tank), at) in last_covered(&shop, &record) {
            let name = &shop.stations[tank as usize].name;
            let clock = at.clock();
            let date = shop.calendar.date(at).to_string();
            let says = |l: &&str| {
                l.starts_with(&format!("{date},{clock},")) && l.contains(name.as_str()) && l.contains("lid")
            };
            // A heater that switches itself off with nobody there covers nothing.
            let by_itself = |l: &&str| l.starts_with(&format!("{date},{clock},note,heater off,"));
            if sheet.csv.lines().any(|l| by_itself(&l)) {
                continue;
            }
            assert!(
                sheet.csv.lines().any(|l| says(&l)),
                "day {day}, {name}, {clock}\n{}",
                sheet.csv
            );
            covered += 1;
        }
        assert_eq!(sheet.faults(&shop, &record), Vec::<String>::new());
    }
    assert!(covered > 30, "{covered}");
}

/// By day and tank, when its lid went on over a hot bath to stay.
fn last_covered(shop: &Shop, record: &Record) -> BTreeMap<(i64, u32), tankday::units::Moment> {
    let mut last = BTreeMap::new();
    let mut open: BTreeMap<u32, bool> = BTreeMap::new();
    for entry in &record.entries {
        let LogEntry::Bath { tank, sample } = &entry.event else {
            continue;
        };
        let lidded = shop.stations[tank.index()]
            .tank
            .is_some_and(|t| t.lid != LidKind::None);
        let key = (entry.at.day_and_time().0, tank.0);
        let was_open = open.insert(tank.0, !sample.lid).unwrap_or(true);
        if !sample.lid {
            last.remove(&key);
        } else if was_open && lidded && sample.temperature.in_celsius() > 60.0 {
            last.insert(key, entry.at);
        }
    }
    last
}

/// Work in the morning and in the afternoon: a bath that is kept hot between is covered, and the row of the lift says so.
#[test]
fn covered_between_loads() {
    let with = |order: &str| {
        let own = text("switch off: at closing, lid: between loads", "loose")
            .replace("count: 300, route: r}", &format!("count: 60, route: r}}{order}"));
        let read = read("lid.yaml", &own).unwrap_or_else(|f| panic!("{}", f.render(false)));
        let record = day(&read.shop);
        let sheet = Sheet::of(&read.shop, &record);
        assert_eq!(sheet.faults(&read.shop, &record), Vec::<String>::new());
        sheet.csv
    };
    let later = with(", {id: M, part: nut, count: 60, route: r, arrives: 13:00}");
    let lifts: Vec<&str> = later.lines().filter(|l| l.contains(" out")).collect();
    assert!(lifts[0].contains("lid on"), "{later}");
    let soon = with(", {id: M, part: nut, count: 60, route: r, arrives: 08:20}");
    let first = soon.lines().find(|l| l.contains("L1 out")).unwrap();
    assert!(!first.contains("lid on"), "{soon}");
}

/// A hot bath that is opened so that it cools for its care: the lid's row says so.
#[test]
fn opened_to_cool() {
    let own = text("switch off: at closing, lid: between loads", "loose");
    let stop = own.replace("rules: {", "rules: {care: {filter: {when: at 12:00}}, ");
    let read = read("lid.yaml", &stop).unwrap_or_else(|f| panic!("{}", f.render(false)));
    let record = day(&read.shop);
    let sheet = Sheet::of(&read.shop, &record);
    assert_eq!(sheet.faults(&read.shop, &record), Vec::<String>::new());
    let said = sheet
        .csv
        .lines()
        .filter(|l| l.contains("lid off while somebody is there, then on"));
    assert_eq!(said.count(), 1, "{}", sheet.csv);
}

//! What check foretells of a shop is what the line does with it.

use tankday::line::Line;
use tankday::record::{CareKind, LogEntry, Record};
use tankday::scenario;

/// A shop with one tank and one order, and what differs put in.
fn shop(days: &str, bath: &str, tank: &str, order: &str, rules: &str) -> String {
    format!(
        "tankday: 1
shop: {{hands: 1}}
days: [{days}]
baths: {{mn: {{coat: {{time: 15 min}}{bath}}}}}
tanks: [{{name: tank, bath: mn, inside: 40 cm x 30 cm x 30 cm, fill: 20 L, {tank}}}]
stations: [{{name: sink}}, {{name: oil pan}}]
parts: {{nut: {{mass: 8 g, area: 9 cm2}}}}
routes:
  r:
    - {{do: degrease, at: sink, for: 6 min}}
    - {{do: coat, in: mn}}
    - {{do: rinse, at: sink, for: 1 min}}
    - {{do: oil, at: oil pan, for: 20 min}}
orders: [{{id: N, part: nut, count: 60, route: r{order}}}]
rules: {{{rules}}}
"
    )
}

const DAY: &str = "{date: 2026-03-05, open: 08:00, close: 17:00}";
const HOT: &str = "heater: {power: 3 kW}";

/// What is said of it, and its day.
fn said_and_done(text: &str) -> (String, Record) {
    let read = scenario::read("shop", text).unwrap_or_else(|f| panic!("{}", f.render(false)));
    let mut record = Record::default();
    Line::new(&read.shop).run(None, &mut record);
    crate::audited::assert_sound(&read.shop, &record);
    (read.warnings.render(false), record)
}

fn coats(record: &Record) -> bool {
    record
        .entries
        .iter()
        .any(|e| matches!(e.event, LogEntry::Coated { .. }))
}

/// Days, counted from 0, on which a kind of care begins.
fn days_of(record: &Record, wanted: CareKind) -> Vec<i64> {
    let begins =
        |e: &&tankday::record::Entry| matches!(e.event, LogEntry::CareBegins { care, .. } if care == wanted);
    record
        .entries
        .iter()
        .filter(begins)
        .map(|e| e.at.day_and_time().0)
        .collect()
}

/// A tank that starts nearly empty takes as much water and concentrate on its first morning as is said.
#[test]
fn a_low_tank_takes_what_is_said() {
    let (said, record) = said_and_done(&shop(DAY, "", &format!("{HOT}, now: {{volume: 2 L}}"), "", ""));
    assert!(
        said.contains("about 14.9 L of water and 3.1 L of concentrate"),
        "{said}"
    );
    let water = record.entries.iter().find_map(|e| match e.event {
        LogEntry::ToppedUp { volume, .. } => Some(volume.in_litres()),
        _ => None,
    });
    let concentrate = record.entries.iter().find_map(|e| match &e.event {
        LogEntry::CareEnds {
            care: CareKind::Replenish,
            used,
            ..
        } => Some(used.concentrate.in_litres()),
        _ => None,
    });
    let (water, concentrate) = (water.unwrap(), concentrate.unwrap());
    // The line adds both in turn and fills the tank to a few per cent.
    assert!((water - 14.9).abs() < 0.6, "{water}");
    assert!((concentrate - 3.1).abs() < 0.15, "{concentrate}");
    // With water alone it never becomes strong enough.
    let (said, record) = said_and_done(&shop(
        DAY,
        "",
        &format!("{HOT}, now: {{volume: 2 L}}"),
        "",
        "care: {replenish: never}",
    ));
    assert!(
        said.contains("thin it to 3.6 points") && !coats(&record),
        "{said}"
    );
}

/// A heater that is said to be too weak coats nothing, and its bath stays below what it is said to come to.
#[test]
fn a_weak_heater_coats_nothing() {
    let (said, record) = said_and_done(&shop(DAY, "", "heater: {power: 60 W}", "", ""));
    assert!(said.contains("gets to 42.5 °C at most"), "{said}");
    let hottest = record.entries.iter().filter_map(|e| match &e.event {
        LogEntry::Bath { sample, .. } => Some(sample.temperature.in_celsius()),
        _ => None,
    });
    let hottest = hottest.fold(0.0, f64::max);
    assert!((25.0..42.6).contains(&hottest) && !coats(&record), "{hottest}");
    let (said, record) = said_and_done(&shop(DAY, "", HOT, "", ""));
    assert!(said.is_empty() && coats(&record), "{said}");
}

/// Wool goes in on the first day into which it is said to fit.
#[test]
fn wool_goes_in_when_it_is_said_to_fit() {
    let rules = "care: {fresh bath: takes scrap first, condition: {when: iron below 0.5 g/L, for: 50 min}}";
    let days = "{date: 2026-03-05, open: 08:00, close: 09:15, breaks: [08:40 to 08:50]}, {open: 08:00, close: 17:00}";
    let (said, record) = said_and_done(&shop(days, ", now: fresh", HOT, "", rules));
    assert!(said.contains("does not fit into the first day"), "{said}");
    assert_eq!(days_of(&record, CareKind::Condition), [1]);
    let long = days.replace("09:15, breaks: [08:40 to 08:50]", "11:15");
    assert_ne!(days, long);
    let (said, record) = said_and_done(&shop(&long, ", now: fresh", HOT, "", rules));
    assert!(said.is_empty(), "{said}");
    assert_eq!(days_of(&record, CareKind::Condition), [0]);
}

/// A bath that starts outside its limits takes no load until the care that is said, or never.
#[test]
fn a_bath_outside_its_limits_waits_for_care() {
    let sludge = ", now: {sludge: 6 g/L}";
    let waits = "care: {filter: {when: after 3 loads}}";
    let (said, record) = said_and_done(&shop(DAY, sludge, HOT, "", waits));
    assert!(said.contains("waits for loads") && !coats(&record), "{said}");
    let marked = "care: {filter: {when: sludge above 4 %}}";
    let (said, record) = said_and_done(&shop(DAY, sludge, HOT, "", marked));
    assert!(said.contains("no load goes in before `filter` is done"), "{said}");
    assert_eq!(days_of(&record, CareKind::Filter), [0]);
    assert!(coats(&record));
}

/// A fresh bath without scrap takes nothing; with scrap it does, and nothing is said.
#[test]
fn a_fresh_bath_waits_for_scrap() {
    let rules = "care: {fresh bath: takes scrap first}";
    let (said, record) = said_and_done(&shop(DAY, ", now: fresh", HOT, "", rules));
    assert!(said.contains("no load ever goes in") && !coats(&record), "{said}");
    let (said, record) = said_and_done(&shop(DAY, ", now: fresh", HOT, ", looks: do not matter", rules));
    assert!(said.is_empty() && coats(&record), "{said}");
}

/// When an order got ready; none if it did not.
fn ready(record: &Record) -> Option<String> {
    record.entries.iter().find_map(|e| match e.event {
        LogEntry::OrderReady { .. } => Some(e.at.clock()),
        _ => None,
    })
}

/// The time that stands behind some words.
fn told_behind(said: &str, words: &str) -> String {
    let (_, behind) = said
        .split_once(words)
        .unwrap_or_else(|| panic!("no `{words}` in {said}"));
    behind.chars().take(5).collect()
}

/// An order by itself is ready when it is said to be at the earliest, and no sooner; due then, nothing is said.
#[test]
fn an_order_due_too_soon_is_late() {
    let due = |time: &str| said_and_done(&shop(DAY, "", HOT, &format!(", due: {time}"), ""));
    let (said, record) = due("08:20");
    let earliest = told_behind(&said, "can't be ready by 08:20: at ");
    assert_eq!(ready(&record).as_deref(), Some(earliest.as_str()), "{said}");
    let (said, record) = due(&earliest);
    assert!(said.is_empty(), "{said}");
    assert_eq!(ready(&record), Some(earliest));
    // The morning after, the bath has cooled: how far is not known at check, and it is taken as warm as it can be.
    let two = format!("{DAY}, {{open: 08:00, close: 17:00}}");
    let order = ", arrives: 2026-03-06 08:00, due: 2026-03-06 08:20";
    let (said, record) = said_and_done(&shop(&two, "", HOT, order, ""));
    let earliest = told_behind(&said, "can't be ready by 08:20: at ");
    assert!(ready(&record).unwrap() >= earliest, "{said}");
}

/// An order that is said never to be ready is not, nor is one whose work no day is long enough for.
#[test]
fn an_order_that_is_said_never_to_be_ready_is_not() {
    let long = |step: &str| {
        let text = shop(DAY, "", HOT, "", "");
        let changed = text.replace("    - {do: oil,", &format!("    - {step}\n    - {{do: oil,"));
        assert_ne!(changed, text);
        said_and_done(&changed)
    };
    let (said, record) = long("{do: hold, at: oil pan, for: 10 h}");
    assert!(
        said.contains("`N` is never ready") && ready(&record).is_none(),
        "{said}"
    );
    for rule in ["finish first", "pause", "start again"] {
        let step = format!("{{do: brush, at: sink, for: 10 h, hands: throughout, at a break: {rule}}}");
        let (said, record) = long(&step);
        assert!(
            said.contains("`brush` takes 10 h of hands") && ready(&record).is_none(),
            "{said}"
        );
    }
    let (said, record) = long("{do: hold, at: oil pan, for: 5 h}");
    assert!(said.is_empty() && ready(&record).is_some(), "{said}");
}

/// Wool that the clock calls for too late waits for the next morning, and at the time that is named it is done that day.
#[test]
fn wool_called_for_too_late_waits_for_the_morning() {
    let days = format!("{DAY}, {{open: 08:00, close: 17:00}}");
    let called = |time: &str| {
        let rules = format!("care: {{condition: {{when: at {time}, for: 40 min}}}}");
        let order = ", arrives: 2026-03-06 10:00";
        said_and_done(&shop(&days, ", now: {iron: 0.2 g/L}", HOT, order, &rules))
    };
    let (said, record) = called("16:20");
    assert!(said.contains("waits until the shop opens again"), "{said}");
    assert_eq!(days_of(&record, CareKind::Condition), [1]);
    let latest = told_behind(&said, "write `at ");
    let (said, record) = called(&latest);
    assert!(!said.contains("doesn't end before closing"), "{said}");
    assert_eq!(
        days_of(&record, CareKind::Condition).first(),
        Some(&0),
        "{latest}"
    );
}

/// Care after more loads than the orders make is never called for; after as many as they make it is.
#[test]
fn care_after_more_loads_than_come_never_comes() {
    let after = |loads: u32| {
        let rules = format!("care: {{settle: {{when: after {loads} loads, settles: 10 min}}}}");
        let days = format!("{DAY}, {{open: 08:00, close: 17:00}}");
        said_and_done(&shop(&days, "", HOT, "", &rules).replace("count: 60", "count: 300"))
    };
    let loads = |record: &Record| {
        let coated = |e: &&tankday::record::Entry| matches!(e.event, LogEntry::Coated { .. });
        record.entries.iter().filter(coated).count() as u32
    };
    let (said, record) = after(50);
    assert!(days_of(&record, CareKind::Settle).is_empty());
    let told = format!("`settle` never happens: the orders make {} load", loads(&record));
    assert!(loads(&record) > 1 && said.contains(&told), "{said}");
    let (said, _) = after(loads(&record));
    assert!(!said.contains("never happens"), "{said}");
}

/// A bath that stays hot all night is refused, but not where somebody stays.
#[test]
fn somebody_who_stays_may_keep_a_bath_hot() {
    let kept = |day: &str| scenario::read("shop", &shop(day, "", HOT, "", "heat: {switch off: never}"));
    let refused = kept(DAY).unwrap_err().render(false);
    let (stays, allowed) = (
        refused.find("`stays: yes`"),
        refused.find("`unattended: allowed`"),
    );
    assert!(stays.is_some() && stays < allowed, "{refused}");
    let read = kept(&DAY.replace("17:00", "17:00, stays: yes")).unwrap();
    assert!(read.warnings.is_empty(), "{}", read.warnings.render(false));
}

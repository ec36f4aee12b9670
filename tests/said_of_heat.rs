//! What is said of heat is so: when a bath is hot enough and for what, when its heater is off for good, what it was hot for, and
//! that it boils dry.

use crate::audit_sheet::{Sheet, cells, column};
use crate::line_warned::{read, words};
use crate::told_of::with_results;
use tankday::chart::{DayView, Width, temperature};
use tankday::line::Line;
use tankday::narrative::{answer, watch};
use tankday::print::Paper;
use tankday::record::{HeaterState, LogEntry, Record, WarningKind};
use tankday::shop::Shop;

fn run(text: &str) -> (Shop, Record) {
    let shop = read(text);
    let mut record = Record::default();
    Line::new(&shop).run(None, &mut record);
    (shop, record)
}

/// The tasks of a sheet that passes its audit, each with its time.
fn tasks(shop: &Shop, record: &Record) -> Vec<(String, String)> {
    let sheet = Sheet::of(shop, record);
    assert_eq!(sheet.faults(shop, record), Vec::<String>::new(), "{}", sheet.text);
    let rows = cells(&sheet.csv);
    let (time, task) = (column(&rows, "time"), column(&rows, "task"));
    rows.iter()
        .skip(1)
        .map(|r| (r[time].clone(), r[task].clone()))
        .collect()
}

fn first_line(shop: &Shop, record: &Record) -> String {
    with_results(shop, record, |results| answer(results)[0].write(Paper::FILE))
}

/// What to do of the warnings of a kind.
fn deeds(shop: &Shop, record: &Record, kind: WarningKind) -> Vec<&'static str> {
    with_results(shop, record, |results| {
        let all = results.figures.warnings.iter().filter(|w| w.kind == kind);
        all.map(|w| watch(results, w).1).collect()
    })
}

const WAY: &str = "stations: [{name: sink, loads: 2}, {name: bucket}, {name: tray, loads: 4}]
parts: {nut: {mass: 20 g, area: 20 cm2}}
routes:
  way:
    - {do: degrease, at: sink, for: 8 min}
    - {do: coat, in: mn}
    - {do: rinse, at: bucket, for: 2 min, hands: throughout, at once: yes}
    - {do: oil, at: tray, for: 30 min}
";

fn day(hours: &str, bath: &str, tank: &str, orders: &str, rules: &str) -> String {
    format!(
        "tankday: 1\nshop: {{hands: 1, air: {{temperature: 20 °C, humidity: 50 %}}, prices: {{power: 0.3 per kWh}}}}\n\
         days: [{{date: 2026-06-10, {hours}}}]\nbaths: {{mn: {{coat: {{target: 13 g/m2}}, dwell: 8 to 30 min{bath}}}}}\n\
         tanks: [{{name: tub, bath: mn, {tank}}}]\n{WAY}orders: [{orders}]\nrules: {{{rules}}}\n"
    )
}

const TUB: &str = "inside: 40 cm x 30 cm x 35 cm, fill: 25 L, lid: fitted, heater: {power: 4 kW}";

/// A bath that took its wool at 65 °C is heated on for the next load: no second moment of coming into the band was noted, since
/// care began in it, and the sheet said that it did not get hot.
#[test]
fn after_its_wool_a_bath_is_hot_when_the_next_load_can_go_in() {
    let text = day(
        "open: 07:00, close: 16:00, breaks: [12:00 to 12:30]",
        ", now: {iron: 0.3 g/L}",
        TUB,
        "{id: a, part: nut, count: 100, route: way}, {id: b, part: nut, count: 100, route: way, arrives: 09:00}",
        "care: {fresh bath: takes all work, condition: {when: at 08:30, to: 1 g/L, at: 65 °C, for: 40 min}}",
    );
    let (shop, record) = run(&text);
    let tasks = tasks(&shop, &record);
    let wool = tasks.iter().position(|t| t.1.starts_with("Dissolve")).unwrap();
    let on = tasks[..wool].iter().rfind(|t| t.1.contains("heater on")).unwrap();
    let into = tasks[wool..]
        .iter()
        .find(|t| t.1.contains("into the tub"))
        .unwrap();
    assert!(
        on.1.contains(&format!("hot enough about {}", into.0)),
        "{on:?} {into:?}"
    );
    assert!(!tasks.iter().any(|t| t.1.contains("not hot enough")), "{tasks:?}");
}

/// Heated for nothing but its wool, a bath gets as warm as that wants it, and that is no fault.
#[test]
fn heated_for_its_wool_alone_a_bath_is_warm_enough() {
    let text = day(
        "open: 08:00, close: 17:00, repeat: 2",
        ", now: {iron: 0.2 g/L}",
        TUB,
        "{id: a, part: nut, count: 100, route: way, arrives: 2026-06-11 09:00}",
        "care: {condition: {when: at 14:00, to: 1 g/L}}",
    );
    let (shop, record) = run(&text);
    let tasks = tasks(&shop, &record);
    let wool = tasks.iter().position(|t| t.1.starts_with("Dissolve")).unwrap();
    let on = tasks[..wool].iter().rfind(|t| t.1.contains("heater on")).unwrap();
    let said = format!("warm enough for the wool about {}", tasks[wool].0);
    assert!(on.1.contains(&said), "{on:?}, {:?}", tasks[wool]);
}

/// A bath that comes into its band and falls below it with the cold water of the next line is not hot enough before it is back.
#[test]
fn a_bath_that_is_topped_up_cold_is_hot_when_it_is_back() {
    let text = day(
        "open: 08:00, close: 12:00",
        "",
        "inside: round 24 cm x 26 cm, fill: 9 L, lid: loose, now: {volume: 6.5 L, temperature: 85 °C}, heater: {power: 1.5 kW}",
        "{id: a, part: nut, count: 40, route: way}",
        "",
    );
    let (shop, record) = run(&text);
    let tasks = tasks(&shop, &record);
    let on = tasks.iter().find(|t| t.1.contains("heater on")).unwrap();
    let hot = on.1.split("hot enough about ").nth(1).unwrap().to_owned();
    // What was read of the bath between that minute and the load is in its band.
    let into = tasks.iter().find(|t| t.1.contains("into the tub")).unwrap();
    let cold = record.entries.iter().filter(|e| match &e.event {
        LogEntry::Bath { sample, .. } => {
            sample.temperature.in_celsius() < 87.99 && sample.heater != HeaterState::Off
        }
        _ => false,
    });
    let cold: Vec<String> = cold.map(|e| e.at.clock()).filter(|at| *at < into.0).collect();
    assert!(cold.iter().all(|at| *at <= hot), "{hot}: {cold:?}");
    assert!(
        cold.iter().any(|at| at.as_str() > "08:02"),
        "it never fell back: {cold:?}"
    );
}

/// A heater is off for good when it goes off last, and not when the care ends that is done hours later.
#[test]
fn heating_stops_when_the_heater_goes_off() {
    let text = day(
        "open: 08:00, close: 17:00",
        "",
        TUB,
        "{id: a, part: nut, count: 100, route: way}",
        "care: {renew half: {when: at 14:00, cool to: 60 °C}}",
    );
    let (shop, record) = run(&text);
    let on = |e: &tankday::record::Entry| matches!(&e.event, LogEntry::Bath { sample, .. } if sample.heater != HeaterState::Off);
    let last = record.entries.iter().rposition(on).unwrap();
    let off = record.entries[last..]
        .iter()
        .find(|e| matches!(e.event, LogEntry::Bath { .. }) && !on(e));
    let picture = temperature(&DayView::of(&shop, &record), Width::Wide).to_string();
    let said = format!("heating stops at {}", off.unwrap().at.clock());
    assert!(
        picture.contains(&said),
        "{said}: {}",
        &picture[..600.min(picture.len())]
    );
}

/// Work waits before a bath that never gets hot: it is not kept hot for nothing.
#[test]
fn a_bath_that_never_gets_hot_is_not_kept_hot_for_nothing() {
    let text = day(
        "open: 08:00, close: 16:00",
        "",
        "inside: round 50 cm x 45 cm, fill: 60 L, lid: none, heater: {power: 900 W}",
        "{id: a, part: nut, count: 100, route: way}",
        "heat: {switch off: at closing}",
    );
    let (shop, record) = run(&text);
    assert_eq!(words(&shop, &record, WarningKind::NeverHot).len(), 1);
    assert_eq!(
        words(&shop, &record, WarningKind::HotForNothing),
        Vec::<String>::new()
    );
}

/// Loads are cut for the larger of two tanks: the smaller is hot beside a heap of work that does not fit it.
#[test]
fn a_tank_that_no_load_fits_is_told_as_that() {
    let text = day(
        "open: 08:00, close: 14:00",
        "",
        "inside: round 20 cm x 20 cm, fill: 4 L, heater: {power: 2 kW}}, \
         {name: pot, bath: mn, inside: round 24 cm x 22 cm, fill: 7 L, heater: {power: 2 kW}",
        "{id: a, part: nut, count: 4000, route: way}",
        "heat: {switch off: at closing}",
    );
    let (shop, record) = run(&text);
    let said = words(&shop, &record, WarningKind::HotNothingFits);
    assert!(
        said.len() == 1 && said[0].contains("too large for the tank: tub, ") && said[0].contains("EUR"),
        "{said:?}"
    );
    assert!(deeds(&shop, &record, WarningKind::HotNothingFits)[0].contains("cut for the largest tank"));
    assert_eq!(
        words(&shop, &record, WarningKind::HotForNothing),
        Vec::<String>::new()
    );
}

/// Hot from half past eight for a load that is there at eleven.
#[test]
fn a_bath_hot_hours_before_its_first_load_is_told_with_its_cost() {
    let of = |arrives: &str| {
        let orders = format!("{{id: a, part: nut, count: 100, route: way, arrives: {arrives}}}");
        run(&day(
            "open: 08:00, close: 16:00",
            "",
            TUB,
            &orders,
            "heat: {switch on: at opening}",
        ))
    };
    let (shop, record) = of("11:00");
    let said = words(&shop, &record, WarningKind::HotEarly);
    assert!(
        said.len() == 1 && said[0].contains("first load goes in: tub, 08:"),
        "{said:?}"
    );
    assert!(said[0].contains(" to 11:") && said[0].contains("EUR"), "{said:?}");
    let (shop, record) = of("08:30");
    assert_eq!(words(&shop, &record, WarningKind::HotEarly), Vec::<String>::new());
}

const DRY: &str = "tankday: 1
shop: {hands: none}
days: [{date: 2026-06-10, around the clock: 2 days}]
baths: {mn: {coat: {target: 13 g/m2}, dwell: 8 to 30 min}}
tanks: [{name: tub, bath: mn, inside: 40 cm x 30 cm x 35 cm, fill: 25 L, lid: none, heater: {power: 4 kW, kind: immersion}}]
stations: [{name: sink, loads: 2}, {name: bucket}]
parts: {nut: {mass: 20 g, area: 20 cm2}}
routes:
  way: [{do: degrease, at: sink, for: 8 min, hands: none}, {do: coat, in: mn, hands: none}, \
{do: rinse, at: bucket, for: 2 min, hands: none}]
orders:
  - {id: a, part: nut, count: 100, route: way}
  - {id: b, part: nut, count: 100, route: way, arrives: 2026-06-11 22:00}
";

/// With nobody to top it up a bath boils away under its heater: that is the first to be said, and no rule of care is the answer.
#[test]
fn a_bath_that_boils_dry_is_told_first_with_its_time() {
    let (shop, record) = run(DRY);
    let empty = record.entries.iter().find_map(|e| match &e.event {
        LogEntry::Bath { sample, .. } if sample.water.in_kilograms() < 2.4 => Some(e.at),
        _ => None,
    });
    let said = first_line(&shop, &record);
    assert!(said.contains("boils dry with its heater on: tub "), "{said}");
    let told = said.split("heater on: tub ").nth(1).unwrap();
    assert!(told[..5] <= *empty.unwrap().clock(), "{said}");
    assert_eq!(
        words(&shop, &record, WarningKind::BathStopped),
        Vec::<String>::new()
    );
    // With hands it is topped up, and nothing of the kind is said; and the day without a night has no spell with nobody there.
    let (shop, record) = run(&DRY.replace("hands: none}\ndays", "hands: 1}\ndays"));
    assert_eq!(words(&shop, &record, WarningKind::BoilsDry), Vec::<String>::new());
    assert_eq!(words(&shop, &record, WarningKind::NoLid), Vec::<String>::new());
}

/// A bath that its own rule brings back before the next load is told with that rule; one that none does, with what to write.
#[test]
fn a_bath_outside_its_limits_is_told_with_its_rule() {
    let of = |acids: &str, care: &str| {
        let care = format!("care: {{{care}}}");
        run(&day(
            "open: 08:00, close: 16:00",
            &format!(", now: {{{acids}, iron: 1 g/L}}"),
            "inside: round 28 cm x 30 cm, fill: 12 L, heater: {power: 3 kW}",
            "{id: a, part: nut, count: 60, route: way}",
            &care,
        ))
    };
    let (shop, record) = of(
        "total acid: 30.2 points, free acid: 5 points",
        "replenish: {when: below 30 points}",
    );
    let said = words(&shop, &record, WarningKind::BathStopped);
    assert!(
        said.len() == 1 && said[0].contains("(its rule `replenish` acts before the next load)"),
        "{said:?}"
    );
    assert!(!deeds(&shop, &record, WarningKind::BathStopped)[0].contains("Write"));
    let (shop, record) = of("total acid: 30.2 points, free acid: 5 points", "replenish: never");
    let said = words(&shop, &record, WarningKind::BathStopped);
    assert!(said.len() == 1 && !said[0].contains("its rule"), "{said:?}");
    assert!(deeds(&shop, &record, WarningKind::BathStopped)[0].starts_with("Write a rule of care"));
}

//! What else is under way while a load is in a bath or bare behind it: water for a bath that boils away, places behind the
//! bath, work that must go on before other work, and what is hot while nobody is there.

use crate::audit_sheet::Sheet;
use crate::audited::assert_sound;
use crate::told_of::with_results;
use tankday::line::Line;
use tankday::record::{Figures, LogEntry, Record, WarningKind};
use tankday::scenario;
use tankday::shop::Shop;
use tankday::units::{Moment, Span};

/// A shop with one tank of mn and 60 nuts and 60 pins.
fn shop(days: &str, tank: &str, places: &str, routes: &str, orders: &str) -> Shop {
    let text = format!(
        "tankday: 1\nshop: {{hands: 1}}\ndays: [{days}]\nbaths: {{mn: {{coat: {{time: 15 min}}}}}}\ntanks:\n  \
         - {{name: tank, bath: mn, {tank}}}\nstations: [{{name: sink}}, {places}]\nparts:\n  \
         pin: {{material: hardened steel, mass: 8 g, area: 9 cm2}}\n  \
         nut: {{material: plain steel, mass: 8 g, area: 9 cm2}}\nroutes:\n{routes}\norders: [{orders}]\n"
    );
    scenario::read("shop.yaml", &text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

const BOX: &str = "inside: 40 cm x 30 cm x 30 cm, fill: 20 L, heater: {power: 4 kW}";
const RINSE: &str = "- {do: rinse, at: sink, for: 1 min, hands: throughout, within: 1 min, at once: yes}";

/// Its day, which the audit accepts with its sheet.
fn day(shop: &Shop) -> (Record, Figures) {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    assert_sound(shop, &record);
    let figures = Figures::of(shop, &record);
    (record, figures)
}

fn watched(shop: &Shop, record: &Record, kind: WarningKind) -> Vec<String> {
    with_results(shop, record, |results| {
        let warnings = results.figures.warnings.iter().filter(|w| w.kind == kind);
        warnings
            .map(|w| tankday::narrative::watch(results, w).0)
            .collect()
    })
}

fn clock(hours: i64, minutes: i64) -> Moment {
    Moment::ZERO + Span::whole_minutes(hours * 60 + minutes)
}

/// A small open pot loses a third of its water in one dwell: it is topped up beside the load, a little at a time, and neither
/// boils down to its heater nor falls below its band.
#[test]
fn a_bath_is_topped_up_beside_a_load() {
    let pot = "inside: round 24 cm x 14 cm, fill: 3 L, lid: none, heater: {power: 1.5 kW, kind: induction}";
    let coat = "  r:\n    - {do: degrease, at: sink, for: 6 min}\n    - {do: coat, in: mn}\n    \
                - {do: rinse, at: sink, for: 1 min}\n    - {do: oil, at: oil, for: 20 min}";
    let shop = {
        let text = format!(
            "tankday: 1\nshop: {{hands: 1}}\ndays: [{{open: 08:00, close: 17:00}}]\nbaths: {{mn: {{coat: {{time: 45 min}}}}}}\n\
             tanks: [{{name: tank, bath: mn, draught: 2, {pot}}}]\nstations: [{{name: sink}}, {{name: oil}}]\n\
             parts: {{nut: {{mass: 8 g, area: 9 cm2}}}}\nroutes:\n{coat}\n\
             orders: [{{id: N, part: nut, count: 20, route: r}}]\n"
        );
        scenario::read("pot.yaml", &text).unwrap().shop
    };
    let (record, figures) = day(&shop);
    let load = &figures.loads[0];
    let (from, to) = (load.begins, load.out.unwrap());
    let during = |e: &&tankday::record::Entry| from < e.at && e.at < to;
    let water: Vec<f64> = record
        .entries
        .iter()
        .filter(during)
        .filter_map(|e| match e.event {
            LogEntry::ToppedUp { volume, .. } => Some(volume.in_litres()),
            _ => None,
        })
        .collect();
    assert!(water.len() >= 2, "{water:?}");
    assert!(water.iter().all(|w| *w > 0.1 && *w < 0.6), "{water:?}");
    assert!(
        !record
            .entries
            .iter()
            .any(|e| matches!(e.event, LogEntry::CutOff { .. }))
    );
    for kind in [
        WarningKind::RanLow,
        WarningKind::ColdBath,
        WarningKind::BathStopped,
    ] {
        assert!(watched(&shop, &record, kind).is_empty(), "{kind:?}");
    }
}

/// A load that rests for days before its oil takes no place in the oil until then.
#[test]
fn a_place_that_is_wanted_in_days_is_free_now() {
    let routes = format!(
        "  hard:\n    - {{do: degrease, at: sink, for: 6 min}}\n    - {{do: coat, in: mn}}\n    {RINSE}\n    \
         - {{do: rest, at: bench, for: 120 h, relieves: hydrogen, heat: as the air}}\n    \
         - {{do: oil, at: oil pan, for: 20 min, within: 15 min}}\n  \
         soft:\n    - {{do: degrease, at: sink, for: 6 min}}\n    - {{do: coat, in: mn}}\n    {RINSE}\n    \
         - {{do: dry, at: bench, for: 5 min, within: 3 min}}\n    - {{do: oil, at: oil pan, for: 20 min, within: 15 min}}"
    );
    let shop = shop(
        "{open: 08:00, close: 17:00, repeat: 2}",
        BOX,
        "{name: bench, loads: 2}, {name: oil pan}",
        &routes,
        "{id: H, part: pin, count: 60, route: hard}, {id: N, part: nut, count: 60, route: soft, arrives: 10:00, due: 16:00}",
    );
    let (_, figures) = day(&shop);
    let ready = figures.orders.iter().find(|o| o.id == "N").unwrap().ready;
    assert!(ready.unwrap() < clock(11, 30), "{ready:?}");
    assert!(figures.kept.is_empty(), "{:?}", figures.kept);
}

/// A load waits outside the bath until the one place behind it is free in time, by its own `within`, and what keeps it out
/// afterwards is not laid to that place.
#[test]
fn a_place_behind_the_bath_is_kept_to_the_minute() {
    let routes = format!(
        "  r:\n    - {{do: degrease, at: sink, for: 6 min}}\n    - {{do: coat, in: mn}}\n    {RINSE}\n    \
         - {{do: dry, at: bench, for: 30 min, within: 5 min}}\n    - {{do: oil, at: oil pan, for: 20 min, within: 10 min}}"
    );
    let text = shop(
        "{open: 08:00, close: 17:00, repeat: 2}",
        BOX,
        "{name: bench, loads: 1}, {name: oil pan, loads: 4}",
        &routes,
        "{id: N, part: nut, count: 660, route: r, due: 12:00}",
    );
    let (_, figures) = day(&text);
    assert!(figures.waited.is_empty(), "{:?}", figures.waited);
    let kept: Vec<(Moment, Moment)> = figures.kept.iter().map(|k| (k.from, k.until.unwrap())).collect();
    assert!(!kept.is_empty());
    // No place is full for longer than two loads dry one after the other.
    assert!(
        kept.iter()
            .all(|(from, to)| *to - *from < Span::whole_minutes(75)),
        "{kept:?}"
    );
}

/// Coated work that would soon lie bare too long goes on before an inspection that can wait.
#[test]
fn bare_work_goes_before_what_can_wait() {
    let routes = format!(
        "  r:\n    - {{do: degrease, at: sink, for: 6 min}}\n    - {{do: coat, in: mn, within: 3 h}}\n    {RINSE}\n    \
         - {{do: dry, at: bench, for: 4 min, hands: throughout, within: 5 min}}\n    \
         - {{do: oil, at: tray, for: 40 min, within: 20 min}}\n    \
         - {{do: inspect, at: bench, for: 6 min, hands: throughout, within: 30 min}}\nrules: {{oil full: go}}"
    );
    let shop = shop(
        "{open: 08:00, close: 12:30}",
        BOX,
        "{name: bench, loads: 2}, {name: tray, loads: 1}",
        &routes,
        "{id: A, part: nut, count: 100, route: r, due: 11:00}, {id: B, part: nut, count: 100, route: r, due: 12:00}",
    );
    let (_, figures) = day(&shop);
    assert!(figures.orders.iter().all(|o| o.ready.is_some()));
    assert!(
        !figures.waited.iter().any(|w| w.lies_bare()),
        "{:?}",
        figures.waited
    );
}

/// An oven with work in it at closing, for which nobody stays: said with its times, and its heat stands on the row.
#[test]
fn what_is_hot_with_nobody_there_is_told() {
    let routes = format!(
        "  r:\n    - {{do: degrease, at: sink, for: 6 min}}\n    - {{do: coat, in: mn}}\n    {RINSE}\n    \
         - {{do: bake, kind: relieve, at: oven, for: 10 h, relieves: hydrogen, heat: 105 °C}}\n    \
         - {{do: oil, at: oil pan, for: 20 min}}"
    );
    let shop = |days: &str| {
        shop(
            days,
            BOX,
            "{name: oven}, {name: oil pan}",
            &routes,
            "{id: H, part: pin, count: 60, route: r}",
        )
    };
    let nobody = shop("{open: 08:00, close: 12:00, repeat: 2}");
    let (record, _) = day(&nobody);
    let said = watched(&nobody, &record, WarningKind::HotStepAlone);
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(
        said[0].contains("L1 at bake in the oven, 12:00 to 18:4"),
        "{said:?}"
    );
    let sheet = Sheet::of(&nobody, &record);
    assert!(
        sheet
            .csv
            .contains("Nobody there later: stay, or begin it earlier.")
    );
    assert!(sheet.csv.contains("bake 10 h, 105 °C"), "{}", sheet.text);
    let somebody = shop("{open: 08:00, close: 12:00, stays: yes, repeat: 2}");
    let (record, _) = day(&somebody);
    assert!(watched(&somebody, &record, WarningKind::HotStepAlone).is_empty());
}

/// Where the shop says that somebody stays, the sheet says by which tank, and until when; where nothing is hot it does not.
#[test]
fn the_sheet_says_that_somebody_stays() {
    let routes = format!(
        "  r:\n    - {{do: degrease, at: sink, for: 6 min}}\n    - {{do: coat, in: mn}}\n    {RINSE}\n    \
         - {{do: oil, at: oil pan, for: 20 min}}\nrules: {{heat: {{switch off: never}}}}"
    );
    let days =
        "{open: 08:00, close: 17:00, breaks: [{at: 08:30 to 08:45, stays: yes}], stays: yes, repeat: 2}";
    let shop = |routes: &str| {
        shop(
            days,
            BOX,
            "{name: oil pan}",
            routes,
            "{id: N, part: nut, count: 60, route: r}",
        )
    };
    let hot = shop(&routes);
    let (record, _) = day(&hot);
    let text = Sheet::of(&hot, &record).text;
    assert!(
        text.contains("08:30  --- Break to 08:45; somebody stays by the tank --"),
        "{text}"
    );
    assert!(
        text.contains("17:00   !  Closed; somebody stays by the tank until Tue 08:00"),
        "{text}"
    );
    let cold = shop(&routes.replace("switch off: never", "switch off: after the last load"));
    let (record, _) = day(&cold);
    let text = Sheet::of(&cold, &record).text;
    assert!(!text.contains("Closed; somebody stays"), "{text}");
}

fn read(text: &str) -> Shop {
    scenario::read("shop.yaml", text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

/// A pot, an oil tray and jaws, by these hours, with this bath, this oil and these rules.
fn jaws(days: &str, bath: &str, oil: &str, order: &str, rest: &str) -> Shop {
    read(&format!(
        "tankday: 1\ndays: [{days}]\nbaths: {{mn: {bath}}}\n\
         tanks: [{{name: pot, bath: mn, inside: 30 cm x 20 cm x 25 cm, fill: 10 L, heater: {{power: 3 kW}}}}]\n\
         stations: [{{name: sink}}, {{name: bench}}, {{name: oil tray}}]\n\
         parts: {{jaw: {{material: grey iron, mass: 300 g, area: 1 dm2}}}}\nroutes:\n  r:\n    \
         - {{do: degrease, at: sink, for: 5 min}}\n    - {{do: coat, in: mn, within: 3 h}}\n    \
         - {{do: rinse, at: sink, for: 1 min, hands: throughout, at once: yes, within: 1 min}}\n    \
         - {{do: dry, at: bench, for: 4 min, hands: throughout, within: 5 min}}\n    - {{do: oil, at: oil tray, {oil}}}\n\
         orders: [{{id: A, part: jaw, route: r, {order}}}]\n{rest}\n"
    ))
}

const HALF_AN_HOUR: &str = "{coat: {time: 30 min}, dwell: 20 to 40 min}";

/// One minute of oiling is not put off by the hour of a break, nor by the closing of the shop.
#[test]
fn bare_work_goes_on_before_nobody_works() {
    let shop = jaws(
        "{open: 08:00, close: 12:00, breaks: [{at: 09:04 to 10:04, stays: yes}]}",
        HALF_AN_HOUR,
        "for: 20 min, within: 30 min",
        "count: 8, arrives: 08:20",
        "",
    );
    let (_, figures) = day(&shop);
    assert!(
        !figures.waited.iter().any(|w| w.lies_bare()),
        "{:?}",
        figures.waited
    );
    let closing = read(
        "tankday: 1\ndays: [{date: 2026-03-07, open: 08:00, close: 10:00}, {date: 2026-03-09, open: 18:00, close: 21:00}]\n\
         baths: {mn: {coat: {time: 30 min}, dwell: 30 to 60 min}}\n\
         tanks: [{name: pot, bath: mn, inside: round 20 cm x 18 cm, fill: 3.5 L, lid: loose, heater: {power: 1.2 kW}}]\n\
         stations: [{name: rinse, fill: 4 L, renew: {after: 1, takes: 6 min}}, {name: bench}, {name: oil tray}]\n\
         parts: {pin: {bar: 8 mm x 50 mm}}\nroutes:\n  r:\n    - {do: degrease, at: bench, for: 5 min}\n    \
         - {do: coat, in: mn}\n    - {do: rinse, at: rinse, for: 1 min, hands: throughout, at once: yes, within: 1 min}\n    \
         - {do: dry, at: bench, for: 5 min, hands: throughout, within: 5 min}\n    \
         - {do: oil, at: oil tray, for: 45 min, or: overnight, within: 45 min}\n\
         orders: [{id: P, part: pin, count: 20, route: r, arrives: 09:08}, \
         {id: Q, part: pin, count: 20, route: r, arrives: 2026-03-09 18:00}]\n",
    );
    let (_, figures) = day(&closing);
    assert!(
        !figures.waited.iter().any(|w| w.lies_bare()),
        "{:?}",
        figures.waited
    );
}

/// Hands that do things in the order asked take a load out in a break that somebody stays for, before it stays too long.
#[test]
fn what_would_stay_too_long_comes_out_in_a_break() {
    let shop = jaws(
        "{open: 08:00, close: 12:00, breaks: [{at: 09:00 to 10:00, stays: yes}]}",
        HALF_AN_HOUR,
        "for: 20 min, within: 3 h",
        "count: 8, arrives: 08:25",
        "rules: {hands first: in order asked}",
    );
    let (record, figures) = day(&shop);
    assert!(figures.loads[0].out.unwrap() < clock(9, 45));
    assert!(watched(&shop, &record, WarningKind::StayedTooLong).is_empty());
}

/// Places behind the bath are given out in turn: what already waits for one counts before what still goes in.
#[test]
fn places_behind_the_bath_are_given_out_in_turn() {
    let shop = jaws(
        "{open: 18:00, close: 21:00, repeat: 2}",
        "{coat: {time: 10 min}, dwell: 10 to 30 min}",
        "for: 45 min, or: overnight, within: 40 min",
        "count: 32",
        "rules: {oil full: wait}",
    );
    let (_, figures) = day(&shop);
    assert!(figures.loads.len() > 2);
    assert!(
        !figures.waited.iter().any(|w| w.lies_bare()),
        "{:?}",
        figures.waited
    );
}

/// A second tank that is heated all day and takes no load is told with what that costs.
#[test]
fn a_tank_that_is_heated_and_never_used_is_told() {
    let shop = read(
        "tankday: 1\nshop: {prices: {power: 0.35 per kWh}}\ndays: [{open: 08:00, close: 16:00}]\n\
         baths: {mn: {coat: {time: 15 min}}}\ntanks:\n  \
         - {name: big, bath: mn, inside: 40 cm x 30 cm x 30 cm, fill: 20 L, heater: {power: 4 kW}}\n  \
         - {name: pot, bath: mn, inside: 30 cm x 20 cm x 25 cm, fill: 5 L, heater: {power: 1 kW}}\n\
         stations: [{name: sink}, {name: oil}]\nparts: {nut: {mass: 8 g, area: 9 cm2}}\nroutes:\n  r:\n    \
         - {do: degrease, at: sink, for: 6 min}\n    - {do: coat, in: mn}\n    - {do: rinse, at: sink, for: 1 min}\n    \
         - {do: oil, at: oil, for: 20 min}\n\
         orders: [{id: A, part: nut, count: 60, route: r}, {id: B, part: nut, count: 60, route: r, arrives: 13:00}]\n",
    );
    let (record, figures) = day(&shop);
    let unused = |i: u32| !figures.loads.iter().any(|l| l.tank.index() == i as usize);
    let said = watched(&shop, &record, WarningKind::HotForNothing);
    assert_eq!(said.len(), usize::from(unused(0) || unused(1)), "{said:?}");
    assert!(
        said.iter().all(|s| s.contains("EUR") || s.contains("kWh")),
        "{said:?}"
    );
    assert!(unused(0) || unused(1), "one of them is not needed");
}

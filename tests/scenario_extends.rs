//! A scenario that extends another changes only what differs, and values are changed by their path.

use tankday::scenario::{Draft, File, Findings, Scenario};
use tankday::shop::Shop;

const BASE: &str = include_str!("broken/below/plain.yaml");

fn file(name: &str, text: &str) -> File {
    File {
        name: name.to_owned(),
        id: name.to_owned(),
        text: text.to_owned(),
    }
}

/// A scenario over others, of which the name tells the text.
fn open(text: &str, others: &[(&str, &str)]) -> Result<Draft, Findings> {
    Draft::open(file("top.yaml", text), &|_, name| {
        let found = others.iter().find(|(n, _)| *n == name);
        found
            .map(|(n, t)| file(n, t))
            .ok_or_else(|| "not there".to_owned())
    })
}

fn read(text: &str, others: &[(&str, &str)]) -> Scenario {
    let scenario = open(text, others).and_then(|d| d.scenario());
    scenario.unwrap_or_else(|f| panic!("{}", f.render(false)))
}

fn plain() -> Shop {
    read(BASE, &[]).shop
}

fn over_base(text: &str) -> Shop {
    read(&format!("extends: base.yaml\n{text}"), &[("base.yaml", BASE)]).shop
}

#[test]
fn what_is_not_written_stays_as_it_is() {
    assert_eq!(over_base(""), plain());
}

#[test]
fn a_named_thing_keeps_what_is_not_written() {
    let expected = read(&BASE.replace("fill: 20 L", "fill: 12 L"), &[]).shop;
    assert_ne!(expected, plain());
    assert_eq!(
        over_base("tanks:\n  - {name: black tank, fill: 12 L}\n"),
        expected
    );
}

#[test]
fn new_things_come_last_and_removed_ones_are_gone() {
    let shop = over_base(
        "without: [orders.A1, tanks.black tank.wall]\norders:\n  - {id: A3, part: screw, count: 5, route: plain}\n",
    );
    let ids: Vec<&str> = shop.orders.iter().map(|o| o.id.as_str()).collect();
    assert_eq!(ids, ["A2", "A3"]);
}

#[test]
fn a_route_is_written_anew_as_a_whole() {
    let shop = over_base("routes:\n  plain:\n    - {do: wipe, at: bench, for: 1 min, hands: throughout}\n");
    assert_eq!(shop.routes[0].steps.len(), 1);
}

#[test]
fn chains_are_followed() {
    let middle = "extends: base.yaml\noutlay: 120\ntanks:\n  - {name: black tank, fill: 12 L}\n";
    let others = [("base.yaml", BASE), ("middle.yaml", middle)];
    let top = read(
        "extends: middle.yaml\ntanks:\n  - {name: black tank, heater: {power: 1 kW}}\n",
        &others,
    );
    let tank = top.shop.stations[0].tank.as_ref().unwrap();
    assert!((tank.fill.in_litres() - 12.0).abs() < 1e-9);
    assert!((tank.heater.power.in_kilowatts() - 1.0).abs() < 1e-9);
    assert_eq!(top.outlay, Some(120.0));
}

#[test]
fn a_finding_names_the_file_that_it_stands_in() {
    let broken = BASE.replace("fill: 20 L", "fill: 20 kg");
    let found = open("extends: base.yaml\n", &[("base.yaml", &broken)])
        .and_then(|d| d.scenario())
        .unwrap_err();
    assert!(found.first().starts_with("base.yaml:12:11:"), "{}", found.first());
    assert!(
        found.render(false).contains("--> base.yaml:12:11"),
        "{}",
        found.render(false)
    );
}

#[test]
fn what_is_written_out_reads_to_the_same_shop() {
    let draft = open(
        "extends: base.yaml\ntitle: \"A \\\"new\\\" heater: 4 kW\"\nwithout: orders.A1\n",
        &[("base.yaml", BASE)],
    )
    .unwrap();
    let again = read(&draft.text(), &[]);
    assert_eq!(again.shop, draft.scenario().unwrap().shop);
}

#[test]
fn values_are_set_by_their_path() {
    let text = format!("{BASE}days:\n  - {{open: 08:00, close: 17:00}}\n");
    let mut draft = open(&text, &[]).unwrap();
    for (path, value) in [
        ("tanks.black tank.fill", "12 L"),
        ("rules.top up.below", "90 %"),
        ("routes.plain.blast.for", "7 min"),
        ("days.1.close", "18:00"),
    ] {
        draft.set("--vary", path, value).unwrap();
    }
    let edits = [
        ("fill: 20 L", "fill: 12 L"),
        ("for: 4 min", "for: 7 min"),
        ("close: 17:00", "close: 18:00"),
    ];
    let edited = edits.iter().fold(text, |t, (from, to)| t.replace(from, to));
    let edited = format!("{edited}rules: {{top up: {{below: 90 %}}}}\n");
    assert_eq!(draft.scenario().unwrap().shop, read(&edited, &[]).shop);
}

#[test]
fn a_value_that_cannot_be_is_found_where_it_was_typed() {
    let mut draft = open(BASE, &[]).unwrap();
    draft.set("--vary", "tanks.black tank.fill", "12 kg").unwrap();
    let found = draft.scenario().unwrap_err();
    assert!(found.first().starts_with("--vary:1:23:"), "{}", found.first());
    let mut draft = open(BASE, &[]).unwrap();
    draft.set("--vary", "tanks.black tank.fil", "12 L").unwrap();
    let words = draft.scenario().unwrap_err().render(false);
    assert!(words.contains("did you mean `fill`?"), "{words}");
}

#[test]
fn a_path_invents_no_names() {
    for (path, near) in [
        ("tanks.blak tank.fill", "black tank"),
        ("orders.A7.count", "A2"),
        ("parts.scew.mass", "screw"),
    ] {
        let mut draft = open(BASE, &[]).unwrap();
        let words = draft.set("--vary", path, "1").unwrap_err().render(false);
        assert!(words.contains(near), "{words}");
    }
    let mut draft = open(BASE, &[]).unwrap();
    assert!(draft.set("--vary", "tanks", "1").is_err());
    assert!(draft.set("--vary", "tankday.x.y", "1").is_err());
}

#[test]
fn a_care_is_varied_by_its_when() {
    let base = format!(
        "{BASE}rules:\n  care:\n    filter: {{when: after 4 loads, cool to: 50 °C, settles: 90 min, heel: 20 %, area: 6 dm2}}\n"
    );
    let mut draft = open(&base, &[]).unwrap();
    draft.set("--vary", "rules.care.filter", "after 7 loads").unwrap();
    let edited = read(&base.replace("after 4 loads", "after 7 loads"), &[]).shop;
    assert_eq!(draft.scenario().unwrap().shop, edited);
}

/// A path that misses by little says what to write: a number where things have no names, the section where a key stands.
#[test]
fn a_path_that_leads_nowhere_says_where_to_go() {
    let said = |path: &str, value: &str| {
        let mut draft = crate::shipped::draft("scenarios/first-day.yaml");
        let set = draft.set("--set", path, value);
        let read = set.and_then(|()| draft.scenario().map(|_| ()));
        read.unwrap_err().render(false)
    };
    let days = said("days.close", "18:00");
    assert!(
        days.contains("its number is 1: write `1.close` in place of `close`"),
        "{days}"
    );
    let mut draft = crate::shipped::draft("scenarios/first-day.yaml");
    draft.set("--set", "days.1.close", "18:00").unwrap();
    assert_eq!(
        draft.scenario().unwrap().shop.calendar.days[0].close.clock(),
        "18:00"
    );
    let hands = said("hands", "2");
    assert!(hands.contains("write `shop.hands`"), "{hands}");
    let fill = said("fill", "5 L");
    assert!(fill.contains("its keys are `tankday`"), "{fill}");
}

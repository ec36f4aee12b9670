//! Names that look like something else: lengths, clock times, amounts, marks of the sheet, punctuation. Wherever a shop gives
//! one, its honest day passes the audit in all forms of the sheet, and comes back from its text.

use crate::audit_sheet::Sheet;
use crate::command_line::{home, run as tankday, text as words};
use tankday::line::Line;
use tankday::record::{Record, from_csv, to_csv};
use tankday::scenario;
use tankday::shop::Shop;

const NAMES: [&str; 68] = [
    "1",
    "2",
    "0",
    "7 min",
    "10 min",
    "6 min",
    "2 h",
    "1 d",
    "3 h 05 min",
    "overnight",
    "under 1 min",
    "12:00",
    "08:30",
    "until 09:00",
    "16:00 run",
    "5.5 L",
    "2 L",
    "20 mL",
    "3 g",
    "1.2 dm²",
    "0.5 kg",
    "95 °C",
    "L1",
    "L2",
    "60",
    "2 of 3",
    "1 + 2",
    "a + b",
    "+",
    "a, b",
    "nuts, 2 of 3",
    "semi; colon",
    "colon: here",
    "you: 4 min",
    "you: under 1 min",
    "\"quoted\"",
    "it's",
    "back`tick",
    "tank 1",
    "tank 2",
    "M6",
    "no. 12",
    "o ready",
    "x late",
    "> must not wait",
    "! mind",
    "--- break",
    "[ ]",
    "____ °C",
    "__:__",
    "fizz",
    "fizzing",
    "not before 09:00",
    "at the latest 09:00",
    "heater off",
    "the",
    "min",
    "h",
    "it does",
    "somebody stays by the 1",
    "ready",
    "<tr>",
    "a & b",
    "10:30-11:15",
    "Thu",
    "Thursday tank",
    "Fri 08:00",
    "Mon",
];

/// Where a name may stand.
const PLACES: [&str; 9] = [
    "TANK", "SINK", "TRAY", "NUT", "ORDER", "ROUTE", "STEP", "COAT", "BATH",
];

/// A day with a break, a top-up, oil overnight, two orders in one load.
fn text(named: &[(&str, &str)]) -> String {
    let mut text = "tankday: 1
shop: {hands: 1, pump: yes}
days: [{date: 2026-03-05, open: 08:00, close: 13:00, breaks: [{at: 10:00 to 10:15}], repeat: 2}]
baths: {BATH: {coat: {target: 8 g/m2}}}
tanks: [{name: TANK, bath: BATH, inside: 40 cm x 30 cm x 30 cm, fill: 20 L, lid: loose, draught: 2, heater: {power: 2 kW}}]
stations: [{name: SINK, loads: 3}, {name: TRAY, loads: 4}]
parts: {NUT: {mass: 8 g, area: 9 cm2}, bolt: {mass: 18 g, area: 19 cm2}}
routes:
  ROUTE:
    - {do: degrease, at: SINK, for: 6 min, as: STEP}
    - {do: coat, in: BATH, as: COAT}
    - {do: rinse, at: SINK, for: 1 min}
    - {do: oil, at: TRAY, for: 20 h}
orders: [{id: ORDER, part: NUT, count: 60, route: ROUTE}, {id: B, part: bolt, count: 20, route: ROUTE}]
rules: {care: {filter: {when: after 2 loads}}}
"
    .to_owned();
    let plain = PLACES.map(|place| (place, place.to_lowercase()));
    for (place, name) in &plain {
        let name = named
            .iter()
            .find(|(p, _)| p == place)
            .map_or(name.as_str(), |(_, n)| n);
        let quoted = format!("\"{}\"", name.replace('\\', "\\\\").replace('"', "\\\""));
        text = text.replace(place, &quoted);
    }
    text
}

fn day(shop: &Shop) -> Record {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    record
}

/// What the audit finds of an honest day; none where the name is refused there.
fn faults(text: &str) -> Option<Vec<String>> {
    let shop = scenario::read("names.yaml", text).ok()?.shop;
    let record = day(&shop);
    let mut all: Vec<String> = tankday::audit::check(&shop, &record)
        .into_iter()
        .map(|f| f.text)
        .collect();
    all.extend(Sheet::of(&shop, &record).faults(&shop, &record));
    let again = from_csv(&shop, &to_csv(&shop, &record));
    if again.as_ref() != Ok(&record) {
        all.push("another record from its text".to_owned());
    }
    Some(all)
}

#[test]
fn honest_days_pass_whatever_things_are_called() {
    assert_eq!(faults(&text(&[])), Some(Vec::new()));
    let (mut refused, mut wrong) = (Vec::new(), Vec::new());
    for place in PLACES {
        for name in NAMES {
            match faults(&text(&[(place, name)])) {
                None => refused.push((place, name)),
                Some(faults) if faults.is_empty() => {}
                Some(faults) => wrong.push(format!("{place} `{name}`: {}", faults[0])),
            }
        }
    }
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
    assert!(refused.len() < 40, "{refused:?}");
}

/// One name in all places that may share it, as a finisher would type it.
#[test]
fn the_commands_pass_them_too() {
    let home = home();
    for name in ["1", "10 min", "2 h", "08:30", "a + b", "you: 4 min"] {
        let all = PLACES.map(|place| (place, name));
        let shared: Vec<_> = all
            .into_iter()
            .filter(|(p, _)| !["SINK", "TRAY", "COAT"].contains(p))
            .collect();
        std::fs::write(home.path().join("names.yaml"), text(&shared)).unwrap();
        let done = tankday(
            &["run", "names.yaml", "--audit", "--force", "--out", "out"],
            home.path(),
        );
        assert!(done.status.success(), "`{name}`: {}", words(&done.stderr));
        let done = tankday(&["audit", "out"], home.path());
        assert!(
            done.status.success(),
            "`{name}`: {}{}",
            words(&done.stdout),
            words(&done.stderr)
        );
    }
}

/// A name hides no fault: a length that is not so is found beside it.
#[test]
fn a_wrong_length_is_found_beside_any_name() {
    for (place, name) in [
        ("TANK", "1"),
        ("SINK", "10 min"),
        ("NUT", "2 h"),
        ("ORDER", "6 min"),
    ] {
        let shop = scenario::read("names.yaml", &text(&[(place, name)]))
            .unwrap()
            .shop;
        let record = day(&shop);
        let mut sheet = Sheet::of(&shop, &record);
        let rinse = sheet
            .csv
            .lines()
            .find(|l| l.contains("inse 1 min"))
            .unwrap()
            .to_owned();
        sheet.csv = sheet
            .csv
            .replacen(&rinse, &rinse.replace("inse 1 min", "inse 33 min"), 1);
        let found = sheet.faults(&shop, &record);
        assert!(
            found.iter().any(|f| f.contains("nothing in it lasts 33 min")),
            "`{name}`: {found:?}"
        );
    }
}

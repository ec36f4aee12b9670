//! What is said of orders on many simulated days: usually is not safely, and an order that comes at another time each day has
//! no one due time.

use crate::command_line::{run, text};

/// Castings in the morning, and sixty screws that come by chance on three mornings.
const WALK_INS: &str = "\
tankday: 1
title: three mornings
shop: {hands: 1}
days: [{date: 2026-03-05, open: 08:00, close: 13:00, repeat: 3}]
baths: {manganese: {}}
tanks: [{name: pot, bath: manganese, inside: round 28 cm x 32 cm, fill: 13 L, heater: {power: 2 kW}, lid: loose}]
stations: [{name: sink, loads: 1}, {name: oven, loads: 1}, {name: oil tray, loads: 2}]
parts:
  jaw: {material: grey iron, mass: 900 g, area: 2.2 dm2}
  screw: {material: plain steel, mass: 5 g, area: 8 cm2}
routes:
  black:
    - {do: degrease, at: sink, for: 8 min, hands: ends}
    - {do: rinse, at: sink, for: 1 min, hands: throughout, within: 10 min}
    - {do: coat, in: manganese, within: 30 min}
    - {do: rinse, as: second rinse, at: sink, for: 1 min, hands: throughout, within: 2 min}
    - {do: dry by oven, at: oven, for: 10 min, hands: ends, within: 10 min}
    - {do: oil, at: oil tray, for: 20 min, hands: ends, within: 40 min}
orders:
  - {id: A1, part: jaw, count: 3, route: black, due: 11:30}
  - {id: W, part: screw, count: 60, route: black, arrives: {every: exponential 90 min, only: opening hours, up to: 12}, due after: 4 h}
";

/// The answer and the rows of the orders.
fn told(words: &[&str]) -> (String, Vec<String>) {
    let home = tempfile::tempdir().unwrap();
    std::fs::write(home.path().join("mornings.yaml"), WALK_INS).unwrap();
    let all = text(&run(&[&["run", "mornings.yaml"], words].concat(), home.path()).stdout);
    let answer = all.lines().skip(2).take_while(|l| !l.is_empty());
    let answer = answer.collect::<Vec<_>>().join(" ");
    let rows = all.lines().skip_while(|l| !l.starts_with("ORDERS")).skip(1);
    let rows = rows.take_while(|l| !l.is_empty()).map(str::to_owned).collect();
    (answer, rows)
}

/// Of an order that comes by chance, a due time of one day stood beside the ready time of others: "due Fri 15:52, usually Sat
/// 08:04", and yet on time on most days.
#[test]
fn no_due_time_of_one_day_beside_times_of_others() {
    let (_, rows) = told(&["--replications", "30"]);
    let by_chance = |row: &&String| row.trim_start().starts_with("W ");
    assert!(rows.iter().filter(by_chance).count() > 5, "{rows:?}");
    assert!(
        rows.iter().all(|row| row.contains("varies") == by_chance(&row)),
        "{rows:?}"
    );
    assert!(rows[0].contains("11:30"), "{rows:?}");
}

/// "Twelve of 13 orders will be ready on time" was said of twelve that are on more than half of the days, one of them safely.
#[test]
fn usually_is_not_safely() {
    let (answer, rows) = told(&["--replications", "30"]);
    let of = |mark: &str| rows.iter().filter(|r| r.contains(&format!("  {mark} "))).count();
    assert!(of("=") > 0 && of("o") > 0, "{rows:?}");
    let safely = ["none", "one", "two", "three", "four", "five"][of("o")];
    assert!(
        answer.contains("will usually be ready on time")
            && answer.contains(&format!(", {safely} of them safely")),
        "{answer}"
    );
}

#[test]
fn one_day_has_its_due_times() {
    let (answer, rows) = told(&[]);
    assert!(
        !answer.contains("usually") && !answer.contains("safely"),
        "{answer}"
    );
    assert!(rows.iter().all(|row| !row.contains("varies")), "{rows:?}");
    assert!(answer.contains("W 3 (screws) will be late"), "{answer}");
}

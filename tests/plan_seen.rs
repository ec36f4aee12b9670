//! Notes of a day under way: what was seen of a load, of which lots a note speaks, and that every note is said again.

use tankday::plan_file::{Rest, rest_of_day};
use tankday::scenario::{Notes, moment_of, read};
use tankday::shop::Shop;

fn mixed() -> Shop {
    let path = "tests/data/mixed-day-first.yaml";
    read(path, &std::fs::read_to_string(path).unwrap()).unwrap().shop
}

fn small() -> Shop {
    let path = "tests/plans/shop.yaml";
    read(path, &std::fs::read_to_string(path).unwrap()).unwrap().shop
}

fn rest(shop: &Shop, notes: &str) -> Result<Rest, String> {
    let notes = Notes::read("notes.yaml", notes, &shop.calendar).map_err(|f| f.render(false))?;
    let now = moment_of("09:30", &shop.calendar).unwrap();
    rest_of_day(shop, &notes, now).map_err(|f| f.render(false))
}

/// Notes of two loads that came out, and what was seen of each.
fn two(first: &str, second: &str) -> String {
    format!(
        "notes: 1\nloads:\n  - {{id: L1, tank: black tank, holds: [400 of A1, 25 of A4], in: 08:20, out: 08:33{first}}}\n  \
         - {{id: L2, tank: black tank, holds: [8 of A5], in: 08:50, out: 08:59{second}}}\n"
    )
}

const STOPPED: &str = ", seen: fizzing stopped";
const FIZZING: &str = ", seen: still fizzing";

/// Times faster that the bath coats than the shop says.
fn faster(shop: &Shop, rest: &Rest) -> f64 {
    shop.baths[0].growth.tau95.in_seconds() / rest.shop.baths[0].growth.tau95.in_seconds()
}

#[test]
fn a_load_that_had_stopped_early_makes_the_bath_faster_and_one_that_still_fizzed_slower() {
    let shop = mixed();
    let of = |notes: &str| rest(&shop, notes).unwrap_or_else(|e| panic!("{e}"));
    let none = of(&two("", ""));
    assert!((faster(&shop, &none) - 1.0).abs() < 1e-9);
    // After 9 min the gas of L2 has not faded to a seventh by the model's constants, so it coats faster.
    let stopped = of(&two("", STOPPED));
    let quick = faster(&shop, &stopped);
    assert!(quick > 1.05 && quick < 2.6, "{quick}");
    let said = stopped.taken.last().unwrap();
    assert!(
        said.contains("% faster than its figures say, by what was seen of L2; the rest is planned so"),
        "{said}"
    );
    // The same load, seen as the model has it, changes nothing.
    let fizzing = of(&two("", FIZZING));
    assert!((faster(&shop, &fizzing) - 1.0).abs() < 1e-9);
    assert!(fizzing.taken.last().unwrap().contains("coats as its figures say"));
    // After 40 min it must have stopped: a bath in which it has not is slow, and what is believed of such baths bounds it.
    let late = two("", FIZZING).replace("in: 08:50, out: 08:59", "in: 08:45, out: 09:25");
    let slow = of(&late);
    assert!(faster(&shop, &slow) < 0.95, "{}", faster(&shop, &slow));
    assert!(faster(&shop, &slow) >= 270.0 / 372.0 - 1e-9);
    assert!(
        slow.taken.last().unwrap().contains("% more slowly"),
        "{:?}",
        slow.taken
    );
}

#[test]
fn what_does_not_go_together_changes_nothing_and_says_so() {
    let shop = mixed();
    // The first had stopped after 13 min, the second, of the same steel, still fizzed after 30.
    let notes = two(STOPPED, FIZZING).replace("in: 08:50, out: 08:59", "in: 08:50, out: 09:29");
    let notes = notes.replace("in: 08:20, out: 08:33", "in: 08:20, out: 08:22");
    let rest = rest(&shop, &notes).unwrap_or_else(|e| panic!("{e}"));
    assert!((faster(&shop, &rest) - 1.0).abs() < 1e-9);
    let said = rest.taken.last().unwrap();
    assert!(
        said.contains("what was seen of L1, L2 does not go together"),
        "{said}"
    );
}

#[test]
fn a_bath_whose_dwell_is_a_set_time_is_left_as_it_is() {
    let shop = small();
    let notes = "{notes: 1, loads: [{id: L1, tank: black tank, holds: [200 of A1], in: 08:30, out: 08:42, \
                 seen: fizzing stopped}]}";
    let rest = rest(&shop, notes).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(
        rest.taken,
        [
            "L1: 200 wood screws of A1, in the black tank from 08:30 to 08:42, no longer fizzing when it came out"
        ]
    );
    assert_eq!(rest.shop.baths[0].growth, shop.baths[0].growth);
}

#[test]
fn every_note_is_said_again() {
    let shop = mixed();
    let notes = "notes: 1
loads:
  - {id: L1, tank: black tank, holds: [400 of A1, 25 of A4], in: 08:20, out: 08:33}
  - {id: L2, tank: black tank, holds: [8 of A5], in: 09:20}
done:
  - {load: L1, step: oil, begun: 08:42}
  - {order: A2, lot: 1, step: blast, done: 08:50}
  - {order: A3, step: relieve, begun: 08:00, done: 09:00}
  - {order: A6, done: 09:25}
late:
  - {order: B3, arrives: 12:00}
readings:
  - {tank: black tank, at: 09:10, temperature: 93 °C, total acid: 33 points, iron: 1.25 g/L}
";
    let rest = rest(&shop, notes).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(
        rest.taken,
        [
            "L1: 400 wood screws of A1 and 25 lateral levers of A4, in the black tank from 08:20 to 08:33",
            "L2: 8 brace chucks of A5, in the black tank since 09:20, and still in it",
            "L1: oil begun at 08:42, not done yet, and rinse and dry before it",
            "A2, 3 of 6 vise jaws (lot 1): blast done at 08:50, and degrease before it",
            "A3, all 60 pawl springs: relieve from 08:00 to 09:00",
            "A6, all 9 plane lever caps: everything done at 09:25",
            "B3 comes at 12:00, not at 10:30",
            "black tank at 09:10: 93.0 °C, total acid 33.0 points, iron 1.25 g/L",
        ]
    );
}

#[test]
fn of_an_order_in_several_lots_the_lot_is_asked_for() {
    let shop = mixed();
    let note = |more: &str| format!("notes: 1\ndone:\n  - {{order: A2{more}, done: 08:50}}\n");
    let asked = rest(&shop, &note(", step: blast")).unwrap_err();
    for words in [
        "notes.yaml:3:13",
        "A2 goes in 2 lots: which of them is meant?",
        "lots of 3 and 3 pieces",
        "write `lot: 1`, `lot: 2` or `lot: all`",
    ] {
        assert!(asked.contains(words), "{words}: {asked}");
    }
    let said = |more: &str| rest(&shop, &note(more)).unwrap_or_else(|e| panic!("{e}")).taken;
    assert_eq!(
        said(", lot: 2, step: degrease"),
        ["A2, 3 of 6 vise jaws (lot 2): degrease done at 08:50"]
    );
    assert_eq!(said(", lot: all, step: degrease").len(), 2);
    // With no step all of it is done, and the pieces of a lot say which.
    assert_eq!(said("").len(), 2);
    assert_eq!(
        said(", pieces: 2, step: degrease"),
        ["A2, 2 of 6 vise jaws: degrease done at 08:50"]
    );
    // One lot needs no number.
    let one = rest(
        &shop,
        "{notes: 1, done: [{order: A1, step: degrease, done: 08:50}]}",
    )
    .unwrap();
    assert_eq!(one.taken, ["A1, all 400 wood screws: degrease done at 08:50"]);
}

#[test]
fn what_was_seen_of_a_load_that_is_still_in_is_asked_for_its_time() {
    let notes =
        "{notes: 1, loads: [{id: L1, tank: black tank, holds: [8 of A5], in: 09:20, seen: still fizzing}]}";
    let asked = rest(&mixed(), notes).unwrap_err();
    assert!(asked.contains("this does not say when it came out"), "{asked}");
    let word = notes.replace("still fizzing", "it fizzed");
    let asked = rest(&mixed(), &word).unwrap_err();
    assert!(
        asked.contains("the choices are `still fizzing` and `fizzing stopped`"),
        "{asked}"
    );
}

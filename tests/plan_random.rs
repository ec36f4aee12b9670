//! Plans and notes spoilt at random: whatever stands in them, they are understood or refused with places, never worse.

use crate::kept_cases::the_same;
use proptest::prelude::*;
use tankday::line::Line;
use tankday::plan_file::{delays, repair, rest_of_day, understand};
use tankday::record::Record;
use tankday::scenario::{Notes, PlanFile, moment_of, read};
use tankday::shop::Shop;

fn small() -> Shop {
    let path = "tests/plans/shop.yaml";
    read(path, &std::fs::read_to_string(path).unwrap()).unwrap().shop
}

/// One thing done to the lines of a text.
#[derive(Debug, Clone)]
enum Spoil {
    Drop(usize),
    Twice(usize),
    Swap(usize, usize),
    Put(usize, usize, &'static str),
}

const WORDS: [&str; 14] = [
    "A1",
    "A9",
    "L1",
    "L7",
    "4294967295 of A1",
    "0 of A2",
    "-3",
    "25:61",
    "12:10",
    "2020-01-01 08:00",
    "coat",
    "oil",
    "black tank",
    "[]",
];

fn spoil() -> impl Strategy<Value = Spoil> {
    let at = 0usize..24;
    prop_oneof![
        at.clone().prop_map(Spoil::Drop),
        at.clone().prop_map(Spoil::Twice),
        (at.clone(), at.clone()).prop_map(|(a, b)| Spoil::Swap(a, b)),
        (at, 0usize..8, prop::sample::select(&WORDS[..])).prop_map(|(l, w, t)| Spoil::Put(l, w, t)),
    ]
}

fn spoilt(text: &str, all: &[Spoil]) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    for one in all {
        let many = lines.len().max(1);
        match one {
            Spoil::Drop(at) if lines.len() > 1 => {
                lines.remove(at % many);
            }
            Spoil::Drop(_) => {}
            Spoil::Twice(at) => lines.insert(at % many, lines[at % many].clone()),
            Spoil::Swap(a, b) => lines.swap(a % many, b % many),
            Spoil::Put(at, nth, word) => {
                // The nth value behind a colon becomes another.
                let line = &mut lines[at % many];
                let mut parts: Vec<String> = line.split(": ").map(str::to_owned).collect();
                let n = parts.len();
                if n > 1 {
                    let part = &mut parts[1 + nth % (n - 1)];
                    let end = part.find([',', '}', ']']).unwrap_or(part.len());
                    part.replace_range(..end, word);
                }
                *line = parts.join(": ");
            }
        }
    }
    lines.join("\n") + "\n"
}

proptest! {
    #![proptest_config(the_same(150, 2026))]

    #[test]
    fn a_spoilt_plan_is_refused_or_followed(all in prop::collection::vec(spoil(), 1..6)) {
        let shop = small();
        let line = Line::new(&shop);
        let text = spoilt(&std::fs::read_to_string("tests/plans/good.yaml").unwrap(), &all);
        let Ok(file) = PlanFile::read("plan.yaml", &text, &shop.calendar) else { return Ok(()) };
        match understand(&shop, &line, &file) {
            Err(found) => prop_assert!(found.render(false).contains("plan.yaml:")),
            Ok(meant) => {
                let _ = delays(&shop, &line, &file, &meant).render(false);
                let mut record = Record::default();
                line.follow(&meant.plan, None, &mut record);
                let faults = tankday::audit::check(&shop, &record);
                prop_assert!(faults.is_empty(), "{text}\n{faults:?}");
            }
        }
        let (mended, _) = repair(&shop, &line, &file);
        let meant = understand(&shop, &line, &mended);
        prop_assert!(meant.is_ok(), "{text}\n{}", meant.unwrap_err().render(false));
    }

    #[test]
    fn spoilt_notes_are_refused_or_taken(all in prop::collection::vec(spoil(), 1..6)) {
        let shop = small();
        let text = spoilt(&std::fs::read_to_string("tests/notes/good.yaml").unwrap(), &all);
        let Ok(notes) = Notes::read("notes.yaml", &text, &shop.calendar) else { return Ok(()) };
        let now = moment_of("09:00", &shop.calendar).unwrap();
        match rest_of_day(&shop, &notes, now) {
            Err(found) => prop_assert!(found.render(false).contains("notes.yaml:")),
            Ok(rest) => {
                let _ = rest.contradictions(&notes).render(false);
            }
        }
    }
}

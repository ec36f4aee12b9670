//! Hands that carry nothing walk from one place to another as written.

use tankday::line::Line;
use tankday::record::{LogEntry, Record};
use tankday::scenario::read;

fn begins(walks: &str) -> Vec<String> {
    let text = format!(
        "tankday: 1\ntitle: Two places\nshop: {{hands: 1{walks}}}\n\
         days: [{{date: 2026-03-05, open: 07:30, close: 16:00}}]\n\
         stations: [{{name: sink, loads: 1}}, {{name: bench, loads: 1}}]\n\
         parts: {{bar: {{material: plain steel, mass: 1 kg, area: 1 dm2}}}}\n\
         routes:\n  \
           a:\n    - {{do: wash, at: sink, for: 10 min, hands: throughout}}\n    \
                    - {{do: file, at: bench, for: 10 min, hands: throughout}}\n\
         orders: [{{id: A1, part: bar, count: 1, route: a}}]\n"
    );
    let shop = read("walks", &text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop;
    let mut record = Record::default();
    Line::new(&shop).run(None, &mut record);
    let begins = record
        .entries
        .iter()
        .filter(|e| matches!(e.event, LogEntry::WorkBegins { .. }));
    begins.map(|e| e.at.clock()).collect()
}

#[test]
fn a_walk_takes_its_time_both_ways() {
    assert_eq!(begins(""), ["07:30", "07:40"]);
    assert_eq!(
        begins(", walks: [{from: sink, to: bench, takes: 5 min}]"),
        ["07:30", "07:45"]
    );
    assert_eq!(
        begins(", walks: [{from: bench, to: sink, takes: 5 min}]"),
        ["07:30", "07:45"]
    );
    let other = ", walks: [{from: bench, to: sink, takes: 5 min}, {from: sink, to: bench, takes: 2 min}]";
    assert_eq!(begins(other), ["07:30", "07:42"]);
}

#[test]
fn a_walk_leads_to_places_that_there_are() {
    let text = std::fs::read_to_string("tests/plans/shop.yaml").unwrap();
    let text = text.replace(
        "  hands: 1\n",
        "  hands: 1\n  walks: [{from: sinc, to: black tank, takes: 10 s}]\n",
    );
    let found = read("walks", &text).unwrap_err().render(false);
    assert!(
        found.contains("no tank or station is called `sinc`") && found.contains("did you mean `sink`?"),
        "{found}"
    );
}

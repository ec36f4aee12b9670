//! Whatever is written, reading ends with a shop or with findings whose places lie in the text.

use crate::kept_cases::keeping;
use proptest::prelude::*;
use tankday::scenario;

/// Reads and prints; the places of what is found must lie in the text.
fn survives(text: &str) {
    let found = match scenario::read("random.yaml", text) {
        Ok(read) => read.warnings,
        Err(found) => {
            assert!(!found.is_empty());
            found
        }
    };
    for finding in &found.list {
        assert!(text.get(finding.at.range()).is_some(), "{finding:?}");
    }
    let _ = found.render(true);
    let _ = found.render(false);
}

/// The starter, open on days that come again every week.
fn recurring() -> String {
    let text = scenario::starter();
    let days = "days: {every: [Tue and Thu 16:30 to 21:00, {at: Sat 8 am to 12:00, hands: 2}, Sat 13:00 to 16:00], from: 2026-03-05, \
                for: 3 weeks, except: [2026-03-14], breaks: [18:00 to 18:15], stays: no}\n";
    let (from, to) = (text.find("days:").unwrap(), text.find("baths:").unwrap());
    format!("{}{days}{}", &text[..from], &text[to..])
        .replace("due: 15:00", "arrives: every Thu 17:00, due: Sat 15:00")
}

/// A text with one stretch replaced.
fn mutated(text: &str, from: usize, length: usize, by: &str) -> String {
    let mut from = from % text.len();
    while !text.is_char_boundary(from) {
        from -= 1;
    }
    let mut to = (from + length).min(text.len());
    while !text.is_char_boundary(to) {
        to += 1;
    }
    format!("{}{by}{}", &text[..from], &text[to..])
}

/// Pieces that mean something to YAML or to us.
fn piece() -> impl Strategy<Value = String> {
    prop_oneof![
        prop::sample::select(vec![
            "",
            " ",
            "\n",
            "\t",
            ":",
            ": ",
            "- ",
            "[",
            "]",
            "{",
            "}",
            "#",
            "&a ",
            "*a",
            "!!int ",
            "!",
            "|",
            ">",
            "\"",
            "'",
            "%",
            "0",
            "-1",
            "1e999",
            "9999999999999999999",
            ".inf",
            ".nan",
            "~",
            "null",
            "yes",
            "25:00",
            "2026-02-30",
            "day 0 1:00",
            "Sat 08:00 to 14:00",
            "Mon to Fri",
            "every Monday",
            "hands: 2",
            "until: 2026-03-01",
            "for: 900 years",
            "2026-03-10",
            "±",
            "10 to 5 min",
            "about 5 min",
            "[4 min]",
            "x",
            "\u{85}",
            "\u{2028}",
            "\u{feff}",
            "é",
            "---\n",
            "...\n",
            "<<: ",
            "0 L",
            "1e308 L",
            "-40 K",
            "round 1 mm x 1 mm",
            "per",
            "of",
            "thick",
            "after: nothing",
            "unlimited",
            "\r\n",
        ])
        .prop_map(str::to_owned),
        "[ -~\n]{0,12}",
        "\\PC{0,8}",
    ]
}

proptest! {
    #![proptest_config(keeping(400))]

    #[test]
    fn any_text(text in "\\PC{0,200}") {
        survives(&text);
    }

    #[test]
    fn any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        survives(&String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn the_starter_with_one_stretch_replaced(from in 0usize..10_000, length in 0usize..40, by in piece()) {
        survives(&mutated(scenario::starter(), from, length, &by));
    }

    #[test]
    fn recurring_days_with_one_stretch_replaced(from in 0usize..260, length in 0usize..30, by in piece()) {
        let text = recurring();
        survives(&mutated(&text, text.find("days:").unwrap() + from, length, &by));
    }
}

/// A blank that no eye sees stood before the key: the place that was shown lay in the middle of it.
#[test]
fn a_comma_is_missing_behind_a_blank_that_is_not_seen() {
    let text = recurring().replace("from: 2026-03-05, for: 3 weeks", "from: \u{2028}or: 3 weeks");
    survives(&text);
    let found = scenario::read("random.yaml", &text).unwrap_err();
    assert_eq!(&text[found.list[0].at.range()], "or");
}

#[test]
fn what_the_recurring_days_are_made_of_can_be_read() {
    let read = scenario::read("recurring.yaml", &recurring());
    let days = read
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
        .calendar
        .days;
    assert_eq!(days.len(), 8);
}

#[test]
fn large_inputs_end_with_a_message() {
    let long = "x".repeat(1_000_001);
    assert!(scenario::read("long.yaml", &long).is_err());
    survives(&format!("title: {}", "y".repeat(900_000)));
    survives(&"- ".repeat(400_000));
    survives(&"[".repeat(400_000));
    survives(&"{a: ".repeat(200_000));
    survives(&"a:\n ".repeat(100_000));
    let keys: String = (0..60_000).map(|i| format!("k{i}: 1\n")).collect();
    survives(&keys);
}

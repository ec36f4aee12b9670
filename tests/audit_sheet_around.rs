//! What stands around the rows of a sheet follows from the day, in every form: one thing changed, removed or added is
//! refused.

use crate::audit_sheet::{Sheet, cells, column, written};
use tankday::audit::{Written, check_sheet};
use tankday::line::Line;
use tankday::record::Record;
use tankday::scenario;
use tankday::shop::Shop;

/// Two days with a bath near a limit of its acids, so that a point is explained on both.
fn two_days() -> (Shop, Record, Sheet) {
    let path = "scenarios/two-day.yaml";
    let text = std::fs::read_to_string(path).unwrap();
    let text = text
        .replace("total acid: 33 points", "total acid: 30.6 points")
        .replace(
            "rules:\n",
            "rules:\n  care: {replenish: never, raise ratio: never, lower ratio: never}\n",
        );
    let shop = scenario::read(path, &text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop;
    let mut record = Record::default();
    Line::new(&shop).run(None, &mut record);
    let mut sheet = Sheet::of(&shop, &record);
    // Lines of a calendar may be as long as they are.
    sheet.calendar = sheet.calendar.replace("\r\n ", "");
    assert_eq!(sheet.faults(&shop, &record), Vec::<String>::new());
    (shop, record, sheet)
}

const LEAST: &str = "No load goes in below 88 °C.";
const WEAR: &str = "Face shield, gloves, apron, boots; eyewash and shower near.";

/// Text as it stands in a calendar.
fn escaped(text: &str) -> String {
    text.replace('\\', "\\\\")
        .replace(';', "\\;")
        .replace(',', "\\,")
        .replace('\n', "\\n")
}

#[test]
fn one_thing_changed_removed_or_added_in_the_text() {
    let (shop, record, sheet) = two_days();
    let point = "  1 point: 1 mL of 0.1 N";
    let key = "  > must not wait: the load is done   o ready   x ready, but late\n";
    let edits = [
        ("Thursday 5 March", "Thursday 12 March"),
        ("DAY SHEET, Friday 6 March ", "DAY SHEET, Saturday 7 March "),
        ("DAY SHEET, ", ""),
        ("measured   done at", "done at"),
        ("Face shield, gloves, ", "Face shield, "),
        ("Face shield, gloves", "Gloves"),
        ("eyewash and shower", "eyewash"),
        (" Ventilate; no\n  flame.", ""),
        ("below 88 °C", "below 78 °C"),
        (LEAST, ""),
        (LEAST, "No load goes in below 88 °C. No load goes in below 88 °C."),
        ("It does not replace", "It replaces"),
        ("a trained and licensed person", "a trained person"),
        (point, "  1 point: 1 mL of 0.2 N"),
        ("until it turns pink", "until it turns blue"),
        ("  change, with methyl orange or bromophenol blue.\n", ""),
        (key, ""),
        (
            "> must not wait: the load is done",
            "> may wait: the load is done",
        ),
        ("o ready   x ready, but late", "o ready"),
        (
            key,
            "  > must not wait: the load is done   o ready   x ready, but late\n  ! Rest when tired.\n",
        ),
        ("\n\n\nDAY SHEET", "\n  ! Cool, gloved.\n\n\nDAY SHEET"),
        (
            key,
            "  Nothing to do.\n  > must not wait: the load is done   o ready   x ready, but late\n",
        ),
        (" >[ ]  L1 out", "  [ ]  L1 out"),
        ("  [ ]  Degrease C1", " >[ ]  Degrease C1"),
        ("  [ ]  Degrease C1", "       Degrease C1"),
        (" o  C1", " x  C1"),
        ("____ °C   __:__\n", "          __:__\n"),
        ("____ °C   __:__\n", "____ °C\n"),
    ];
    for (from, to) in edits {
        assert!(sheet.text.contains(from), "{from}\n{}", sheet.text);
        let forged = Sheet {
            text: sheet.text.replacen(from, to, 1),
            ..sheet.clone()
        };
        let faults = forged.faults(&shop, &record);
        assert!(
            faults.iter().any(|f| f.contains("day-sheet.txt")),
            "not refused: `{from}`, `{to}`: {faults:?}"
        );
    }
}

#[test]
fn one_thing_changed_removed_or_added_in_the_page() {
    let (shop, record, sheet) = two_days();
    let edits = [
        (
            "<h1>Day sheet, Thursday 5 March</h1>",
            "<h1>Day sheet, Thursday 12 March</h1>",
        ),
        ("<h1>Day sheet, Thursday 5 March</h1>", ""),
        ("Day sheet, Friday 6 March", "Day sheet, Friday 7 March"),
        ("5 to 6 March 2026", "5 to 6 March 2027"),
        ("Open 12:30", "Open 12:00"),
        ("closing 17:00", "closing 18:00"),
        (" Last hands-on work done by ", " Last work done by "),
        ("gloves, apron", "apron"),
        (WEAR, ""),
        ("It does not replace", "It replaces"),
        (LEAST, ""),
        ("below 88 °C", "below 58 °C"),
        ("1 mL of 0.1 N", "1 mL of 1 N"),
        ("a bath is touched: measure its temperature; ", ""),
        ("must not wait: the load is done.", ""),
        ("must not wait: the load is done.", "may wait: the load is done."),
        ("<caption>What to do", "<caption>What was done"),
        ("<th class=\"w\" scope=\"col\">measured</th>", ""),
        ("<p>Notes</p>", "<p>Notes</p><p>Cool, gloved.</p>"),
        ("<p>Notes</p>", ""),
        ("</main>", "<p>Hot acid may be left alone.</p></main>"),
        ("class=\"pressing\"", "class=\"bath\""),
        ("class=\"task\"", "class=\"pressing\""),
        ("class=\"ready\"", "class=\"ready late\""),
        ("<input type=\"checkbox\"", "<input type=\"radio\""),
        ("</i> °C", "</i>"),
        ("datetime=\"2026-03-05T", "datetime=\"2026-03-06T"),
        ("data-first=\"2026-03-05\"", "data-first=\"2026-03-04\""),
    ];
    for (from, to) in edits {
        assert!(sheet.page.contains(from), "{from}");
        let forged = Sheet {
            page: sheet.page.replacen(from, to, 1),
            ..sheet.clone()
        };
        let faults = forged.faults(&shop, &record);
        assert!(!faults.is_empty(), "not refused: `{from}`, `{to}`");
    }
}

#[test]
fn one_thing_changed_removed_or_added_in_the_calendar() {
    let (shop, record, sheet) = two_days();
    let (wear, least) = (escaped(WEAR), escaped(&format!("{LEAST}\n")));
    let edits = [
        ("NAME:Two days", "NAME:Three days"),
        ("X-WR-CALNAME:Two", "X-WR-CALNAME:Three"),
        (
            "DESCRIPTION:This sheet plans work. It does",
            "DESCRIPTION:This sheet plans work. It",
        ),
        (wear.as_str(), ""),
        (wear.as_str(), "Gloves."),
        (least.as_str(), ""),
        ("below 88 °C", "below 78 °C"),
        (
            "It does not replace the safety data sheet\\, local codes\\, permits or a trained and licensed person.\\n",
            "",
        ),
        ("1 point: 1 mL", "1 point: 2 mL"),
        ("SUMMARY:! ", "SUMMARY:"),
        ("SUMMARY:Degrease", "SUMMARY:! Degrease"),
        ("DESCRIPTION:13:", "DESCRIPTION:Hot acid may be left alone.\\n13:"),
        ("DTSTAMP:20260305", "DTSTAMP:20260306"),
        ("-20260305-", "-20260306-"),
        ("ACTION:DISPLAY", "ACTION:AUDIO"),
        (
            "BEGIN:VEVENT\r\n",
            "BEGIN:VEVENT\r\nCOMMENT:Hot acid may be left alone.\r\n",
        ),
        (
            "BEGIN:VEVENT\r\n",
            "BEGIN:VTODO\r\nSUMMARY:Rest.\r\nEND:VTODO\r\nBEGIN:VEVENT\r\n",
        ),
        ("BEGIN:VEVENT\r\n", "X-NOTE:Rest.\r\nBEGIN:VEVENT\r\n"),
        ("PRODID:-//tankday", "PRODID:-//other"),
    ];
    for (from, to) in edits {
        assert!(sheet.calendar.contains(from), "{from}\n{}", sheet.calendar);
        let forged = Sheet {
            calendar: sheet.calendar.replacen(from, to, 1),
            ..sheet.clone()
        };
        let faults = forged.faults(&shop, &record);
        assert!(!faults.is_empty(), "not refused: `{from}`, `{to}`");
    }
}

/// Whatever is written: each line of text and calendar, each word that the page shows, left out or followed by more.
#[test]
fn nothing_may_be_left_out_or_added_anywhere() {
    let (shop, record, sheet) = two_days();
    let mut tries = 0;
    let mut refused = |forged: Sheet, what: &str| {
        tries += 1;
        assert!(!forged.faults(&shop, &record).is_empty(), "not refused: {what}");
    };
    let lines: Vec<&str> = sheet.text.lines().collect();
    for i in (0..lines.len()).filter(|i| !lines[*i].trim().is_empty()) {
        let with = |put: &[&str]| Sheet {
            text: [&lines[..i], put, &lines[i + 1..]].concat().join("\n"),
            ..sheet.clone()
        };
        refused(with(&[]), lines[i]);
        refused(with(&[lines[i], "  Hot acid may be left alone."]), lines[i]);
    }
    let lines: Vec<&str> = sheet.calendar.split_terminator("\r\n").collect();
    for i in 0..lines.len() {
        let with = |put: &[&str]| Sheet {
            calendar: [&lines[..i], put, &lines[i + 1..]].concat().join("\r\n") + "\r\n",
            ..sheet.clone()
        };
        refused(with(&[]), lines[i]);
        refused(with(&[lines[i], "X-NOTE:Hot acid may be left alone."]), lines[i]);
    }
    for (from, to) in shown(&sheet.page) {
        let with = |put: &str| Sheet {
            page: format!("{}{put}{}", &sheet.page[..from], &sheet.page[to..]),
            ..sheet.clone()
        };
        let words = &sheet.page[from..to];
        refused(with(""), words);
        refused(with(&format!("{words} never ")), words);
    }
    assert!(tries > 800, "{tries}");
}

/// Where words stand that the page shows: between two tags, but not those of its script and its style.
fn shown(page: &str) -> Vec<(usize, usize)> {
    let mut all = Vec::new();
    let mut at = 0;
    while let Some(open) = page[at..].find('<').map(|i| at + i) {
        if !page[at..open].trim().is_empty() {
            all.push((at, open));
        }
        let hidden = ["script", "style"]
            .iter()
            .find(|n| page[open + 1..].starts_with(**n));
        at = match hidden {
            Some(name) => open + page[open..].find(&format!("</{name}>")).unwrap() + name.len() + 3,
            None => open + page[open..].find('>').unwrap() + 1,
        };
    }
    all
}

/// Each row is held by its own kind: what it calls for is not left out, said twice or said in other words.
#[test]
fn a_caution_left_out_or_in_other_words() {
    let (shop, record, sheet) = two_days();
    let rows = cells(&sheet.csv);
    let caution = column(&rows, "caution");
    let by_kind = [
        "No silica sand; respirator; dust collection on.",
        "Compressed air: goggles; never at skin or clothes.",
        "Oily rags into the covered metal bin.",
        "Foam: keep headroom free.",
        "Level over heater? Lid loose? Residual-current device?",
    ];
    let refused = |line: usize, to: &str| {
        let mut other = rows.clone();
        other[line][caution] = to.to_owned();
        // The CSV alone: no other form of the sheet helps to find it.
        let csv = written(&other);
        let written = Written {
            csv: &csv,
            ..Written::default()
        };
        let faults = check_sheet(&shop, &record, &written);
        assert!(!faults.is_empty(), "not refused: {to} at {:?}", rows[line]);
    };
    let mut left_out = std::collections::BTreeSet::new();
    for (line, row) in rows.iter().enumerate().skip(1) {
        let said = &row[caution];
        refused(line, format!("{said} Hot acid may be left alone.").trim());
        if said.is_empty() {
            continue;
        }
        refused(line, &said.replacen(' ', " never ", 1));
        refused(line, &format!("{said} {said}"));
        for own in by_kind.iter().filter(|c| said.contains(**c)) {
            left_out.insert(*own);
            refused(line, said.replace(own, "").trim());
        }
    }
    assert_eq!(left_out.len(), by_kind.len(), "{left_out:?}");
}

/// What a load asks for by what it is made of, what it weighs, how it is held and how its bath reads is not left out, and not
/// said of another load.
#[test]
fn a_caution_that_a_load_calls_for() {
    let path = "tests/data/minded.yaml";
    let text = std::fs::read_to_string(path).unwrap();
    let mut left_out = std::collections::BTreeSet::new();
    for (near, read) in [
        ("total acid: 36 points", "total acid: 36 points"),
        (
            "total acid: 36 points",
            "total acid: 36 points, free acid: 6.4 points",
        ),
        ("total acid: 36 points", "total acid: 36 points, iron: 3.8 g/L"),
    ] {
        let text = text.replace(near, read);
        let shop = scenario::read(path, &text)
            .unwrap_or_else(|f| panic!("{}", f.render(false)))
            .shop;
        let mut record = Record::default();
        Line::new(&shop).run(None, &mut record);
        let sheet = Sheet::of(&shop, &record);
        assert_eq!(sheet.faults(&shop, &record), Vec::<String>::new());
        let rows = cells(&sheet.csv);
        let caution = column(&rows, "caution");
        let faults = |line: usize, to: &str| {
            let mut other = rows.clone();
            other[line][caution] = to.to_owned();
            let csv = written(&other);
            let written = Written {
                csv: &csv,
                ..Written::default()
            };
            check_sheet(&shop, &record, &written)
        };
        for (line, row) in rows.iter().enumerate().skip(1) {
            let said = row[caution].as_str();
            for own in OF_LOADS.iter().filter(|c| said.contains(**c)) {
                left_out.insert(*own);
                assert!(
                    !faults(line, said.replace(own, "").trim()).is_empty(),
                    "{own} at {row:?}"
                );
            }
            if row[column(&rows, "act")] == "put in" {
                for other in [
                    "Heavy: lower slowly, hot acid spits.",
                    "Blind holes down trap gas: turn them.",
                ] {
                    let more = format!("{said} {other}");
                    assert!(!faults(line, &more).is_empty(), "{other} at {row:?}");
                }
            }
        }
    }
    let missing: Vec<_> = OF_LOADS.iter().filter(|c| !left_out.contains(*c)).collect();
    assert!(missing.is_empty(), "on no sheet: {missing:?}");
}

const OF_LOADS: [&str; 8] = [
    "Heavy: lower slowly, hot acid spits.",
    "Heavy at arm's length: two people, or hoist.",
    "Hardened: relieve hydrogen before anything loads it.",
    "Hardened: no relief planned. No force until relieved.",
    "Hardened: no acid before coating.",
    "Steel wire only: not galvanised, no copper.",
    "Near a limit of its acids: titrate first.",
    "Much iron: look for white floating dust.",
];

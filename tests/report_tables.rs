//! Tables of pages: what they are sorted by, and what the switch of units makes of a cell.

use super::report_pages::{all, between, page, written};

/// A cell of words and digits states what it is sorted by: `109 min early` comes before `31 h early`.
#[test]
fn cells_sort_by_value_and_not_by_digits() {
    let mut stated = 0;
    for (name, html) in all() {
        for table in between(&html, "<table class=\"sorts\"", "</table>") {
            let heads = between(between(table, "<thead>", "</thead>")[0], "<th ", "</th>");
            for row in between(between(table, "<tbody>", "</tbody>")[0], "<tr>", "</tr>") {
                let cells = between(row, "<td", "</td>").into_iter();
                for (cell, head) in cells.zip(heads.iter().skip(1)) {
                    let (attributes, content) = cell.split_once('>').unwrap();
                    let words: String = content
                        .split('<')
                        .map(|part| part.rsplit('>').next().unwrap())
                        .collect();
                    let digits = words.starts_with(|c: char| c.is_ascii_digit() || c == '\u{2212}');
                    let plain = words.replace('\u{2212}', "-").parse::<f64>().is_ok();
                    if attributes.contains("data-sort=") {
                        stated += 1;
                    } else if digits && !plain && !content.contains("<time") && !head.contains("class=\"u\"")
                    {
                        panic!("{name}: `{words}` under `{head}` is sorted by its digits");
                    }
                }
            }
        }
    }
    assert!(stated > 50, "{stated}");
}

/// What the cells say is sorted as it says: minutes and hours of being early in one order.
#[test]
fn early_and_late_are_sorted_in_minutes() {
    let home = written(&["run", "scenarios/filter-week.yaml"]);
    let html = page(&home, "report.html");
    let cells = between(&html, "<td class=\"k\" data-sort=\"", "</td>");
    assert!(cells.len() > 3, "{}", cells.len());
    let mut hours = 0;
    for cell in cells {
        let (value, words) = cell.split_once('"').unwrap();
        let value: f64 = value.parse().unwrap();
        let words = words.rsplit_once("<span").unwrap().1;
        let words = words.split_once('>').unwrap().1.split('<').next().unwrap();
        let Some((span, side)) = words.rsplit_once(' ') else {
            continue;
        };
        let mut minutes = 0.0;
        let parts: Vec<&str> = span.split(' ').collect();
        for pair in parts.chunks(2) {
            let [number, unit] = pair else { panic!("{words}") };
            let number: f64 = number.parse().unwrap();
            minutes += match *unit {
                "d" => 1440.0 * number,
                "h" => 60.0 * number,
                "min" => number,
                _ => panic!("{words}"),
            };
        }
        hours += usize::from(span.contains(" h"));
        let said = if side == "late" { -minutes } else { minutes };
        // From a day on the words are whole hours, from two days on perhaps only days and hours.
        let slack = if minutes >= 1440.0 { 31.0 } else { 1.0 };
        assert!((value - said).abs() <= slack, "{words}: {value}");
    }
    assert!(hours > 0, "no span of hours was looked at");
}

/// A difference of temperatures says that it is one; the switch of units asks for that.
#[test]
fn a_swing_is_no_temperature() {
    let home = written(&["run", "scenarios/two-day.yaml"]);
    let html = page(&home, "report.html");
    let row = between(&html, "<code>tanks.heater.swing</code>", "</tr>");
    assert_eq!(row.len(), 1, "{row:?}");
    assert!(
        row[0].contains("<td data-difference=\"\">2 °C</td>"),
        "{}",
        row[0]
    );
    let air = between(&html, "<code>shop.air.temperature</code>", "</tr>");
    assert!(air.iter().all(|row| !row.contains("data-difference")), "{air:?}");
    assert!(html.contains("const APART = (v) => v * 1.8;") && html.contains("[data-difference]"));
}

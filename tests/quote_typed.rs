//! What is typed and written around a quote: orders as people say them, amounts, tables that no spreadsheet runs.

use crate::command_line::{run, text};
use crate::quote::{RATES, by_hand, day, with};
use tankday::print::text_of;
use tankday::record::{from_csv, to_csv};
use tankday::scenario::read;

/// A part in the plural, with capitals, with and without the sign: the same order, for whoever takes one.
#[test]
fn a_line_names_a_part_as_people_do() {
    let order = |line: &str| with("scenarios/mixed-day.yaml", line).orders.pop().unwrap();
    let plain = order("60 x wood screw, small steel");
    for line in [
        "60 wood screws, small steel",
        "60 Wood Screws, small steel",
        "60x wood screws, small steel",
        "60 × wood screw",
        "60 wood screw",
        "60 pcs wood screw, small steel",
        "60 pieces of wood screws",
    ] {
        assert_eq!(order(line), plain, "{line}");
    }
    let refused = |line: &str| {
        let mut draft = crate::shipped::draft("scenarios/mixed-day.yaml");
        let added = draft.add_order("--order", line);
        added
            .and_then(|()| draft.scenario().map(|_| ()))
            .unwrap_err()
            .render(false)
    };
    let said = refused("60 wood skrews");
    assert!(
        said.contains("did you mean `wood screw`?") && !said.contains("`route`"),
        "{said}"
    );
    assert!(refused("60, small steel").contains("does not say which part"));
}

/// Names that a spreadsheet would run stand behind a sign in every table that is written, and are read back as they were.
#[test]
fn no_table_holds_a_formula() {
    let hostile = by_hand(RATES)
        .replace("id: A,", "id: \"=1+1\",")
        .replace("cabinet", "'@SUM(A1)'");
    let home = tempfile::tempdir().unwrap();
    std::fs::write(home.path().join("day.yaml"), &hostile).unwrap();
    assert!(
        run(&["quote", "day.yaml", "--out", "quotes"], home.path())
            .status
            .success()
    );
    assert!(
        run(&["run", "day.yaml", "--out", "out"], home.path())
            .status
            .success()
    );
    let audit = run(&["audit", "out"], home.path());
    assert!(audit.status.success(), "{}", text(&audit.stderr));
    let mut guarded = 0;
    for file in ["quotes/quotes.csv", "out/record.csv", "out/day-sheet.csv"] {
        let table = std::fs::read_to_string(home.path().join(file)).unwrap();
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .from_reader(table.as_bytes());
        for row in reader.records() {
            for cell in row.unwrap().iter() {
                let runs = cell.starts_with(['=', '+', '-', '@', '\t', '\r']) && cell.parse::<f64>().is_err();
                assert!(!runs, "{file}: {cell}");
                guarded += usize::from(text_of(cell) != cell);
            }
        }
    }
    assert!(guarded > 5, "only {guarded} cells were guarded");
    let shop = read("day.yaml", &hostile).unwrap().shop;
    let record = day(&shop).unwrap();
    assert_eq!(from_csv(&shop, &to_csv(&shop, &record)).unwrap(), record);
}

/// An amount in another currency is refused, and nothing is converted.
#[test]
fn an_amount_in_another_currency_is_refused() {
    let home = crate::command_line::home();
    let words = [
        "quote",
        "mixed-day.yaml",
        "--order",
        "60 wood screws",
        "--minimum",
    ];
    let typed = |amount: &'static str| run(&[&words[..], &[amount]].concat(), home.path());
    assert_eq!(typed("25 USD").status.code(), Some(2));
    assert!(
        text(&typed("25 USD").stderr).contains("`25 USD` is in USD, and the scenario's prices are in EUR")
    );
    assert!(typed("25 EUR").status.success());
    assert!(typed("25").status.success());
}

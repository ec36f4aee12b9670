use super::{RowKind, sheets, to_csv, to_text};
use tankday_record::Figures;
use tankday_record::made::{shop, two_loads};

fn made() -> Vec<super::DaySheet> {
    let (shop, record) = (shop(), two_loads());
    sheets(&shop, &record, &Figures::of(&shop, &record))
}

#[test]
fn two_loads_as_text() {
    let text = to_text(&made());
    assert_eq!(text, include_str!("two_loads.txt"));
    assert!(text.lines().all(|line| line.chars().count() <= 80));
}

#[test]
fn csv_has_a_row_for_each_row_of_the_sheet() {
    let sheets = made();
    let csv = to_csv(&sheets);
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), sheets[0].rows.len());
    let out = rows.iter().find(|r| &r[2] == "must not wait").unwrap();
    assert_eq!((&out[1], &out[5], &out[12]), ("08:28", "L1", "08:36"));
    assert_eq!(
        sheets[0].rows.iter().filter(|r| r.kind == RowKind::Ready).count(),
        2
    );
}

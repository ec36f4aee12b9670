//! Good scenarios, and what they come to mean.

use tankday::scenario;
use tankday::shop::Shop;

/// The shop of a text that must read without a finding.
fn clean(name: &str, text: &str) -> Shop {
    match scenario::read(name, text) {
        Ok(read) => {
            assert!(read.warnings.is_empty(), "{}", read.warnings.render(false));
            read.shop
        }
        Err(found) => panic!("{}", found.render(false)),
    }
}

#[test]
fn the_starter_reads() {
    let shop = clean("starter.yaml", scenario::starter());
    assert_eq!(shop.title, "My first day");
    assert_eq!(shop.orders.len(), 2);
}

#[test]
fn every_scenario_in_the_folder_reads() {
    let mut count = 0;
    for entry in std::fs::read_dir("scenarios").unwrap() {
        let path = entry.unwrap().path();
        let text = std::fs::read_to_string(&path).unwrap();
        clean(&path.display().to_string(), &text);
        count += 1;
    }
    assert!(count >= 3);
}

#[test]
fn days_without_anything_behind_them_are_one_usual_day() {
    let text = scenario::starter();
    let start = text.find("  - {date:").unwrap();
    let end = start + text[start..].find('\n').unwrap();
    let shop = clean("days.yaml", &format!("{}{}", &text[..start], &text[end..]));
    assert_eq!(shop.calendar.days.len(), 1);
    assert_eq!(shop.calendar.days[0].open.clock(), "08:00");
}

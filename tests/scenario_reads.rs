//! Good scenarios, and what they come to mean.

use tankday::scenario::{self, Draft, File};
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
        if path.extension().is_none_or(|end| end != "yaml") {
            // A table of orders is read by the scenario that names it.
            continue;
        }
        let file = |name: &str| -> Result<File, String> {
            let text = std::fs::read_to_string(path.with_file_name(name)).map_err(|e| e.to_string())?;
            Ok(File {
                name: name.to_owned(),
                id: name.to_owned(),
                text,
            })
        };
        let own = file(path.file_name().unwrap().to_str().unwrap()).unwrap();
        let read = Draft::open(own, &|_, other| file(other)).and_then(|d| d.scenario());
        let read = read.unwrap_or_else(|found| panic!("{}", found.render(false)));
        assert!(read.warnings.is_empty(), "{}", read.warnings.render(false));
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

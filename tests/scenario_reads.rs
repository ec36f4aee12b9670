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

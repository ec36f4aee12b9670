//! Rows of a plan that say when a bath is to be hot are mended with all else: each is in time for its load.

use tankday::line::Line;
use tankday::plan_file::{repair, understand};
use tankday::scenario::{PlanFile, read};
use tankday::shop::Shop;

fn shop() -> Shop {
    let path = "tests/plans/shop.yaml";
    read(path, &std::fs::read_to_string(path).unwrap()).unwrap().shop
}

/// The good plan with times for all loads, and with these rows of heat.
fn text(heat: &str) -> String {
    let good = std::fs::read_to_string("tests/plans/good.yaml").unwrap();
    let timed = "  - {at: 09:20, do: degrease, order: A3, lot: 1}\n  - {at: 09:32, do: degrease, order: A3, lot: 2}\n  \
                 - {at: 09:50, do: coat, load: L2}\n  - {at: 13:00, do: coat, load: L3}\n";
    let kept: Vec<&str> = good.lines().filter(|l| !l.contains("order: A3, lot")).collect();
    format!("{}\n{timed}heat:\n{heat}", kept.join("\n"))
}

/// What is changed, and when the bath is to be hot after it.
fn mended(heat: &str) -> (Vec<String>, Vec<String>) {
    let shop = shop();
    let line = Line::new(&shop);
    let file = PlanFile::read("plan.yaml", &text(heat), &shop.calendar);
    let file = file.unwrap_or_else(|f| panic!("{}", f.render(false)));
    let (file, said) = repair(&shop, &line, &file);
    let meant = understand(&shop, &line, &file).unwrap_or_else(|f| panic!("{}", f.render(false)));
    assert_eq!(repair(&shop, &line, &file).1, [] as [String; 0], "mended twice");
    let times = meant.plan.heat.iter().map(|h| h.1.clock()).collect();
    (said, times)
}

#[test]
fn every_bath_is_hot_in_time_for_its_load() {
    let row = |at: &str| format!("  - {{ready by: {at}, tank: black tank}}\n");
    let rows = |all: &[&str]| all.iter().map(|at| row(at)).collect::<String>();
    for (heat, changed, times) in [
        // As it should be: nothing is touched.
        (rows(&["08:30", "13:00"]), None, vec!["08:30", "13:00"]),
        (rows(&["08:20"]), None, vec!["08:20"]),
        // Moved too late: no load follows it.
        (
            rows(&["15:00"]),
            Some("black tank: hot by 08:30 for L1, not by 15:00"),
            vec!["08:30"],
        ),
        // The first is missing.
        (
            rows(&["13:00"]),
            Some("black tank: hot by 08:30 for L1, too, before 13:00"),
            vec!["08:30", "13:00"],
        ),
        // The later one is too late for its load.
        (
            rows(&["08:30", "14:30"]),
            Some("black tank: hot by 13:00 for L3, not by 14:30"),
            vec!["08:30", "13:00"],
        ),
        // Nothing goes in behind it.
        (
            rows(&["08:30", "13:00", "14:30"]),
            Some("black tank: hot by 14:30: nothing goes in after it; left out"),
            vec!["08:30", "13:00"],
        ),
        (
            "  - {ready by: 08:30, tank: blak tank}\n".to_owned(),
            Some("hot by 08:30: the black tank, not `blak tank`"),
            vec!["08:30"],
        ),
    ] {
        let (said, hot) = mended(&heat);
        assert_eq!(
            said,
            changed.into_iter().map(str::to_owned).collect::<Vec<_>>(),
            "{heat}"
        );
        assert_eq!(hot, times, "{heat}");
    }
}

//! A bath that is outside its limits takes no load: since when, and what waits for it, is told. What is not titrated is assumed
//! to fit what is.

use crate::told_of::with_results;
use tankday::line::Line;
use tankday::print::Paper;
use tankday::record::Record;
use tankday::scenario;
use tankday::shop::Shop;

fn shop(now: &str) -> Shop {
    let path = "tests/data/minded.yaml";
    let text = std::fs::read_to_string(path).unwrap();
    let text = text.replace("total acid: 36 points", now);
    scenario::read(path, &text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

/// What is said of the shop's day by its own rules.
fn told(shop: &Shop) -> String {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    with_results(shop, &record, |results| {
        let answer = tankday::told::answer(results)
            .into_iter()
            .map(|l| l.write(Paper::FILE));
        let warnings = results.figures.warnings.iter();
        let watched = warnings.map(|w| tankday::told::watch(results, w).0);
        answer.chain(watched).collect::<Vec<_>>().join("\n")
    })
}

#[test]
fn since_when_it_takes_no_load_and_what_waits_for_it() {
    let words = told(&shop("total acid: 36 points, free acid: 7.2 points"));
    for part in [
        "still waits to coat, as the tank takes no load from 08:00 on: its bath is outside its limits",
        "so no load goes in: tank from 08:00 on, acid ratio 5.00",
        "One more is at risk.",
    ] {
        assert!(words.contains(part), "{part}\n{words}");
    }
}

#[test]
fn one_acid_alone_brings_the_other_in_the_ratio_of_the_defaults() {
    let acids = |now: &str| {
        let state = shop(now).baths[0].now;
        (state.total_acid.in_points(), state.free_acid.in_points())
    };
    let near = |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9;
    let usual = acids("iron: 1.2 g/L");
    assert!(near(
        acids("total acid: 31.2 points"),
        (31.2, 31.2 * usual.1 / usual.0)
    ));
    assert!(near(
        acids("free acid: 5.2 points"),
        (5.2 * usual.0 / usual.1, 5.2)
    ));
    assert!(near(
        acids("total acid: 31.2 points, free acid: 5 points"),
        (31.2, 5.0)
    ));
    let words = told(&shop("total acid: 31.2 points"));
    assert!(!words.contains("outside its limits"), "{words}");
}

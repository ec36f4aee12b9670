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
        let answer = tankday::narrative::answer(results)
            .into_iter()
            .map(|l| l.write(Paper::FILE));
        let warnings = results.figures.warnings.iter();
        let watched = warnings.map(|w| tankday::narrative::watch(results, w).0);
        answer.chain(watched).collect::<Vec<_>>().join("\n")
    })
}

#[test]
fn since_when_it_takes_no_load_and_what_waits_for_it() {
    let words = told(&shop("total acid: 36 points, free acid: 7.2 points"));
    for part in [
        "still waits to degrease, as the tank takes no load from 08:00 on: its bath is outside its limits",
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

/// Nothing is degreased or blasted for a bath that no rule of care brings back; for one that care mends it is.
#[test]
fn nothing_is_made_ready_for_a_bath_that_takes_none_any_more() {
    let began = |care: &str| {
        let text = format!(
            "tankday: 1\nshop: {{hands: 1}}\ndays: [{{open: 08:00, close: 17:00}}]\n\
             baths: {{mn: {{coat: {{time: 15 min}}, now: {{sludge: 6 g/L}}}}}}\ntanks:\n  \
             - {{name: tank, bath: mn, inside: 40 cm x 30 cm x 30 cm, fill: 20 L, heater: {{power: 2 kW}}}}\n\
             stations: [{{name: sink}}, {{name: cab}}, {{name: oil pan}}]\n\
             parts: {{nut: {{mass: 8 g, area: 9 cm2}}}}\nroutes:\n  r:\n    - {{do: degrease, at: sink, for: 6 min}}\n    \
             - {{do: blast, at: cab, for: 5 min, hands: throughout}}\n    - {{do: coat, in: mn, within: 2 h}}\n    \
             - {{do: rinse, at: sink, for: 1 min}}\n    - {{do: oil, at: oil pan, for: 20 min}}\n\
             orders: [{{id: N, part: nut, count: 60, route: r, due: 16:00}}]\n\
             rules: {{care: {{filter: {{when: {care}}}}}}}\n"
        );
        let shop = scenario::read("nuts.yaml", &text)
            .unwrap_or_else(|f| panic!("{}", f.render(false)))
            .shop;
        let mut record = Record::default();
        Line::new(&shop).run(None, &mut record);
        crate::audited::assert_sound(&shop, &record);
        let began =
            |e: &&tankday::record::Entry| matches!(e.event, tankday::record::LogEntry::WorkBegins { .. });
        (record.entries.iter().filter(began).count(), told(&shop))
    };
    let (none, words) = began("after 3 loads");
    assert_eq!(none, 0, "{words}");
    assert!(
        words.contains("N still waits to degrease, as the tank takes no load from 08:00 on"),
        "{words}"
    );
    assert!(began("at 09:00").0 > 0);
}

//! Care with a time of day: it comes then on every day that the shop is open, work or not; a rule that never acts is told;
//! nobody adds nothing. Fixed once: `condition: at 16:00` waited for a load and never came in a bath just made up.

use crate::practice_rules::run;
use tankday::record::{CareKind, Figures};
use tankday::scenario;
use tankday::units::Span;

/// Three days from 08:00 to 18:00, work on the first only, or on none.
fn text(bath: &str, orders: &str, days: &str, care: &str) -> String {
    format!(
        "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-03-02, open: 08:00, close: 18:00{days}}}]
tanks: [{{name: pot, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {{power: 3 kW}}}}]
baths: {{manganese: {{{bath}}}}}
stations: [{{name: bench, loads: 4}}]
parts: {{chuck: {{mass: 180 g, area: 95 cm2}}}}
routes: {{way: [{{do: coat, in: manganese}}, {{do: rinse, at: bench, for: 1 min, hands: throughout}}]}}
orders:
  - {{id: A, part: chuck, count: 20, route: way{orders}}}
rules: {{combine: never, fill: {{at least: 0 %}}, care: {{{care}}}}}
"
    )
}

const THREE: &str = ", breaks: [12:00 to 12:30], repeat: 3";

fn care(bath: &str, orders: &str, rules: &str) -> Figures {
    let shop = scenario::read("shop", &text(bath, orders, THREE, rules));
    let shop = shop.unwrap_or_else(|f| panic!("{}", f.render(false))).shop;
    run(&shop).1
}

/// Day and hour at which care of a kind began.
fn begun(figures: &Figures, kind: CareKind) -> Vec<(i64, f64)> {
    let of = figures.baths[0].care.iter().filter(|c| c.kind == kind);
    of.map(|c| {
        let (day, time) = c.from.day_and_time();
        (day, time.in_hours())
    })
    .collect()
}

const LATE: &str = ", arrives: 2026-03-04 08:00";

#[test]
fn a_time_of_day_comes_on_every_open_day() {
    for orders in ["", LATE] {
        let f = care("", orders, "renew half: {when: at 16:00}");
        assert_eq!(
            begun(&f, CareKind::RenewHalf),
            [(0, 16.0), (1, 16.0), (2, 16.0)],
            "orders{orders}"
        );
    }
}

#[test]
fn the_break_comes_on_every_open_day() {
    let f = care("", LATE, "renew half: {when: at the break}");
    let begun = begun(&f, CareKind::RenewHalf);
    assert_eq!(begun.iter().map(|b| b.0).collect::<Vec<_>>(), [0, 1, 2]);
    // In the break itself, or, where a load is in the bath then, as soon as it is out.
    assert!(begun.iter().all(|b| (12.0..13.5).contains(&b.1)), "{begun:?}");
    assert_eq!(begun[0].1, 12.0);
}

#[test]
fn the_night_comes_after_days_without_work() {
    let f = care("", LATE, "renew half: {when: overnight}");
    assert_eq!(begun(&f, CareKind::RenewHalf), [(0, 18.0), (1, 18.0)]);
    // It cools by night; hands come the next morning.
    let ends = f.baths[0].care.iter().map(|c| c.to.day_and_time());
    for (day, time) in ends {
        assert!(day > 0 && time >= Span::hours(8.0) && time < Span::hours(9.0));
    }
    // What lies settled goes the first night; the second finds a clear bath and nothing to do.
    let f = care("now: {sludge: 2 g/L}", LATE, "settle: {when: overnight}");
    assert_eq!(begun(&f, CareKind::Settle), [(0, 18.0)]);
}

/// A bath just made up is aged with steel wool at its hour without any load, once: after that it holds its gram a litre, and
/// nobody dissolves 0.0 g.
#[test]
fn nobody_adds_nothing() {
    let f = care("now: fresh", LATE, "condition: {when: at 16:00}");
    assert_eq!(begun(&f, CareKind::Condition), [(0, 16.0)]);
    assert!(f.baths[0].care[0].used.chemical.in_grams() > 15.0);
    let f = care(
        "",
        LATE,
        "replenish: {when: at 10:00, to: 36 points}, settle: {when: at 11:00}",
    );
    assert!(
        f.baths[0]
            .care
            .iter()
            .all(|c| c.kind != CareKind::Replenish || c.from.day_and_time().0 == 2)
    );
    assert!(!f.baths[0].care.is_empty());
    for c in &f.baths[0].care {
        let used =
            c.used.concentrate.in_litres() * 1e3 + c.used.chemical.in_grams() + c.used.sludge.in_grams();
        assert!(used >= 0.05, "{:?} of nothing", c.kind);
    }
}

/// What calls by work still waits for work.
#[test]
fn after_the_last_load_needs_a_load() {
    let second = ", arrives: 2026-03-03 08:00";
    let f = care(
        "now: {sludge: 2 g/L}",
        second,
        "settle: {when: after the last load}",
    );
    let days: Vec<i64> = begun(&f, CareKind::Settle).iter().map(|b| b.0).collect();
    assert_eq!(days, [1]);
}

fn said(text: &str, words: &str) -> bool {
    let read = scenario::read("shop", text).unwrap_or_else(|f| panic!("{}", f.render(false)));
    read.warnings.list.iter().any(|w| w.message.contains(words))
}

/// A rule that can never act is told at its line.
#[test]
fn what_never_comes_is_told() {
    let never = [
        (
            "renew half: {when: at 20:00}",
            ", repeat: 3",
            "nobody is there at 20:00",
        ),
        (
            "renew half: {when: at the break}",
            ", repeat: 3",
            "no day has a break",
        ),
        ("settle: {when: overnight}", "", "does not open again"),
        ("settle: {when: after 21 loads}", ", repeat: 3", "the orders make"),
        ("settle: {when: after 1 m2}", ", repeat: 3", "all orders together"),
        (
            "condition: {when: iron below 0 g/L}",
            ", repeat: 3",
            "below nothing",
        ),
        (
            "raise ratio: {when: ratio below 2}",
            ", repeat: 3",
            "ratio of 2 or less",
        ),
    ];
    for (rule, days, words) in never {
        let text = text("", "", days, rule);
        assert!(said(&text, words), "{rule}");
        let read = scenario::read("shop", &text).unwrap();
        let told = read.warnings.render(false);
        assert!(told.contains("shop:11:"), "{rule}: {told}");
    }
    let wears_not = text("wears: no", "", THREE, "settle: {when: after 4 loads}");
    assert!(said(&wears_not, "no bath changes"));
    for rule in [
        "renew half: {when: at 16:00}",
        "renew half: {when: at the break}",
        "settle: {when: after 1 load}",
    ] {
        assert!(!said(&text("", "", THREE, rule), "never happens"), "{rule}");
    }
}

/// One law of settling: `until 5 %` takes the half-life of the bath, counted from when its heater went off, and the bath is
/// clear to that share when it is decanted. (Each had a law of its own.)
#[test]
fn settling_follows_one_law() {
    let stop = |half: &str| {
        let bath = format!("chemistry: {{sludge half-life: {half}}}");
        let f = care(
            &bath,
            "}\n  - {id: B, part: chuck, count: 20, route: way",
            "settle: {when: after 1 load, cool to: 60 °C, settles: until 5 %}",
        );
        let c = f.baths[0]
            .care
            .iter()
            .find(|c| c.kind == CareKind::Settle)
            .copied();
        c.expect("a stop")
    };
    // 4.32 half-lives, cooling included.
    for (half, hours) in [("30 min", 2.16), ("1 h", 4.32), ("90 min", 6.48)] {
        let took = (stop(half).to - stop(half).from).in_hours();
        assert!((hours - 0.1..hours + 0.6).contains(&took), "{half}: {took:.2} h");
    }
    // By the depth: 20 L stand 22.9 cm deep in 35 x 25 cm; ln 2 x 0.229 m by 2.54e-5 m/s is 1.73 h.
    let took = (stop("by the depth").to - stop("by the depth").from).in_hours();
    let want = 4.32 * 1.73;
    assert!(
        (want - 0.2..want + 0.6).contains(&took),
        "{took:.2} h, {want:.2} h"
    );
}

/// At closing nobody is there any more, nor later: care that is called for then is not made up for next morning behind the
/// back of a check that says it never happens; where one day is longer than the others it happens on that one.
#[test]
fn from_closing_on_the_clock_calls_nobody() {
    for time in ["18:00", "20:00"] {
        let rule = format!("renew half: {{when: at {time}}}");
        assert_eq!(begun(&care("", "", &rule), CareKind::RenewHalf), [], "at {time}");
        let told = scenario::read("shop", &text("", "", THREE, &rule)).unwrap();
        let told = told.warnings.render(false);
        assert!(
            told.contains(&format!("`renew half` never happens: nobody is there at {time}")),
            "{told}"
        );
    }
    let days = ", repeat: 2}, {date: 2026-03-04, open: 08:00, close: 21:00";
    let shop = scenario::read("shop", &text("", LATE, days, "renew half: {when: at 20:00}")).unwrap();
    assert!(!shop.warnings.render(false).contains("never happens"));
    assert_eq!(begun(&run(&shop.shop).1, CareKind::RenewHalf), [(2, 20.0)]);
}

/// Acid by the bottle is measured in millilitres: what would read as 0 mL is not added.
#[test]
fn nobody_adds_no_millilitre_of_acid() {
    let near = |free: f64| {
        let bath = format!("now: {{total acid: 35 points, free acid: {free} points, iron: 1 g/L}}");
        let f = care(&bath, LATE, "lower ratio: {when: at 16:00}");
        f.baths[0]
            .care
            .iter()
            .map(|c| c.used.chemical.in_grams())
            .collect::<Vec<_>>()
    };
    let some = near(5.6);
    assert!(!some.is_empty());
    for free in [5.60, 5.70, 5.75, 5.80, 5.81, 5.82, 5.825, 5.83] {
        // 75 % acid has 1.18 g of pure acid in a millilitre.
        assert!(
            near(free).iter().all(|grams| *grams >= 1.1),
            "{free}: {:?}",
            near(free)
        );
    }
}

/// The acid ratio was too high from the first day on, and its rule waited for work that did not come: what the break called for
/// was not done on the second day.
#[test]
fn a_rule_that_waits_for_work_keeps_none_back() {
    let bath = "now: {total acid: 33 points, free acid: 4.4 points}";
    let rules = "lower ratio: {when: ratio above 6.8}, replenish: {when: at the break, to: 36 points}";
    let f = care(bath, LATE, rules);
    let days: Vec<i64> = begun(&f, CareKind::Replenish).iter().map(|c| c.0).collect();
    assert!(days.contains(&0), "{days:?}");
}

/// What `check` warns of in a shop with these days and this care, on one line.
fn warned(days: &str, care: &str) -> Vec<String> {
    let shop = text("", "", "", care).replace("days: [{date: 2026-03-02, open: 08:00, close: 18:00}]", days);
    let read = scenario::read("shop", &shop).unwrap_or_else(|f| panic!("{}", f.render(false)));
    let all = read.warnings.list.into_iter().map(|f| f.message);
    all.filter(|m| m.contains("doesn't come on")).collect()
}

/// Days on which care by the clock is not called for, since the shop isn't open at that time or has no break, are named: by their
/// weekday where it is all of them, else by date. What comes on every day, or on none, is not told of here.
#[test]
fn days_without_the_care_of_the_clock_are_named() {
    let week =
        "days: {every: [Mon to Fri 08:00 to 18:00, Sat 08:00 to 12:00], from: 2026-03-02, for: 2 weeks}";
    let at = |time: &str| format!("renew half: {{when: {time}}}");
    assert_eq!(
        warned(week, &at("at 16:00")),
        ["`renew half` at 16:00 doesn't come on 2 of 12 days, Sat: the shop isn't open then"]
    );
    assert!(warned(week, &at("at 10:00")).is_empty());
    let dated = "days: [{date: 2026-03-02, open: 08:00, close: 18:00, breaks: [12:00 to 12:30], repeat: 2}, \
                 {date: 2026-03-09, open: 08:00, close: 12:00}]";
    assert_eq!(
        warned(dated, &at("at 16:00")),
        ["`renew half` at 16:00 doesn't come on 1 of 3 days, 2026-03-09: the shop isn't open then"]
    );
    assert_eq!(
        warned(dated, &at("at the break")),
        ["`renew half` at the break doesn't come on 1 of 3 days, 2026-03-09: the shop has no break then"]
    );
    // And so it is: the run has it on the other days.
    let shop = text("", "", "", &at("at 16:00"))
        .replace("days: [{date: 2026-03-02, open: 08:00, close: 18:00}]", dated);
    let figures = run(&scenario::read("shop", &shop).unwrap().shop).1;
    assert_eq!(
        begun(&figures, CareKind::RenewHalf)
            .iter()
            .map(|b| b.0)
            .collect::<Vec<_>>(),
        [0, 1]
    );
}

/// A bath that is hot before a break too late for a load, with no time between breaks as long as heat-up and dwell together; with
/// a longer stretch there is nothing to warn of.
#[test]
fn heating_up_and_a_load_need_one_stretch() {
    let warned = |breaks: &str| {
        let shop = text("coat: {time: 40 min}", "", "", "")
            .replace("close: 18:00", &format!("close: 12:00, breaks: [{breaks}]"));
        let read = scenario::read("shop", &shop).unwrap_or_else(|f| panic!("{}", f.render(false)));
        read.warnings
            .list
            .iter()
            .any(|f| f.message.contains("no time between breaks is as long as both"))
    };
    // 20 L and 3 kW take about 40 min.
    assert!(warned("09:00 to 09:10, 10:00 to 10:10, 11:00 to 11:10"));
    assert!(!warned("10:00 to 10:10"));
}

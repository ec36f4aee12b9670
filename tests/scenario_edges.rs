//! What lies exactly on a mark, and what lies a hair beside it.

use tankday::scenario;

/// What is said of a small shop, mistakes and warnings, with this in its bath and this behind coating.
fn said(bath: &str, after: &str) -> String {
    let text = format!(
        "tankday: 1
days: [{{date: 2026-03-05, open: 06:00, close: 18:00}}]
tanks: [{{name: tank, bath: manganese, inside: 40 cm x 40 cm x 40 cm, fill: 40 L, heater: {{power: 9 kW}}}}]
baths: {{manganese: {{{bath}}}}}
stations: [{{name: oven}}]
parts: {{spring: {{material: hardened steel, mass: 5 g, area: 8 cm2, held: wire}}}}
routes: {{way: [{{do: coat, in: manganese}}, {{do: bake, at: oven, relieves: hydrogen{after}}}]}}
orders: [{{id: A, part: spring, count: 100, route: way}}]
"
    );
    match scenario::read("edges", &text) {
        Ok(read) => read.warnings.render(false),
        Err(found) => found.render(false),
    }
}

/// A range without warning that only touches the range without stopping has nothing in common with it.
#[test]
fn ranges_that_only_touch_lie_apart() {
    let apart = "without warning lies outside its limits";
    let told = |warn: &str| {
        said(
            &format!("limits: {{iron: 1 to 4 g/L}}, warn: {{iron: {warn} g/L}}"),
            "",
        )
    };
    for (warn, is) in [
        ("0.5 to 1", true),
        ("0.5 to 1.1", false),
        ("3.9 to 5", false),
        ("4 to 5", true),
    ] {
        assert_eq!(told(warn).contains(apart), is, "{warn}: {}", told(warn));
    }
}

/// Free acid is a part of total acid, and never all of it.
#[test]
fn free_acid_is_less_than_total_acid() {
    let more = "free acid is as much as total acid, or more";
    let told = |free: &str| {
        said(
            &format!("now: {{total acid: 36 points, free acid: {free} points}}"),
            "",
        )
    };
    assert!(told("36").contains(more), "{}", told("36"));
    assert!(!told("35.9").contains(more), "{}", told("35.9"));
}

/// Eight hours relieve (P60a); what is written may be just that.
#[test]
fn just_long_enough_relieves() {
    let short = "too short to relieve: at least 8 h are needed";
    assert!(
        !said("", ", for: 8 h").contains(short),
        "{}",
        said("", ", for: 8 h")
    );
    assert!(
        said("", ", for: 479 min").contains(short),
        "{}",
        said("", ", for: 479 min")
    );
}

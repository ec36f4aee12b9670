//! When care is due, in the words that people use for a reading.

use crate::line_warned::read;
use tankday::shop::Trigger;

fn when(rule: &str) -> Vec<Trigger> {
    let shop = read(&format!(
        "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-03-09, open: 08:00, close: 16:00}}]
baths: {{mn: {{}}}}
tanks: [{{name: pot, bath: mn, inside: round 30 cm x 40 cm, fill: 16 L, heater: {{power: 2 kW}}}}]
stations: [{{name: sink}}]
parts: {{knob: {{material: plain steel, mass: 120 g, area: 0.6 dm2}}}}
routes: {{black: [{{do: degrease, at: sink, for: 5 min}}, {{do: coat, in: mn}}, {{do: rinse, at: sink, for: 1 min}}]}}
orders: [{{id: A1, part: knob, count: 4, route: black}}]
rules: {{care: {{{rule}}}}}
"
    ));
    shop.rules.care[0].when.clone()
}

#[test]
fn a_reading_has_the_name_by_which_it_is_titrated() {
    let replenish = |words: &str| when(&format!("replenish: {{to: 36 points, when: {words}}}"));
    assert_eq!(
        replenish("total acid below 31 points"),
        replenish("below 31 points")
    );
    assert_eq!(
        replenish("strength below 31 points"),
        replenish("below 31 points")
    );
    assert_ne!(
        replenish("total acid below 32 points"),
        replenish("below 31 points")
    );
    let trim = |words: &str| when(&format!("lower ratio: {{to: 6.0, when: {words}}}"));
    assert_eq!(trim("acid ratio above 6.8"), trim("ratio above 6.8"));
}

//! Loads that can be full to the last square millimetre are found full, by surface as by mass.

use crate::kept_cases::the_same;
use proptest::prelude::*;
use std::collections::BTreeSet;
use std::sync::atomic::AtomicBool;
use tankday::plan::{Effort, plan};
use tankday::scenario::read;

/// Room of a load, in thousandths.
const ROOM: u32 = 1_000;

/// Pieces of these sizes, by surface or by mass; the tank holds 10 dm2 and 10 kg.
fn scenario(sizes: &[u32], by_mass: bool) -> String {
    let mut text = String::from(
        "tankday: 1\ntitle: Full loads\nshop: {hands: 1}\n\
         days: [{date: 2026-03-05, open: 07:00, close: 23:00}]\n\
         baths:\n  manganese: {band: {least: 88 °C, hold: 95 °C, most: 98 °C}, room: {area: 1 dm2/L, mass: 1 kg/L}, \
         coat: {time: 10 min}, dwell: 5 to 60 min}\n\
         tanks:\n  - {name: tank, bath: manganese, inside: 30 cm x 20 cm x 28 cm, fill: 10 L, heater: {power: 4 kW}}\n\
         parts:\n",
    );
    for (n, size) in sizes.iter().enumerate() {
        let (mass, area) = if by_mass { (size * 10, 1) } else { (1, *size) };
        text += &format!("  p{n}: {{material: plain steel, mass: {mass} g, area: {area} cm2, held: wire}}\n");
    }
    text += "routes:\n  all:\n    - {do: coat, in: manganese}\norders:\n";
    for n in 0..sizes.len() {
        text += &format!("  - {{id: A{n}, part: p{n}, count: 1, route: all}}\n");
    }
    text + "rules: {combine: same route}\n"
}

/// Three sizes that fill a load, none less than a quarter of it.
fn three() -> impl Strategy<Value = [u32; 3]> {
    (250u32..=400).prop_flat_map(|a| {
        let rest = ROOM - a;
        (250..=rest - 250).prop_map(move |b| [a, b, rest - b])
    })
}

proptest! {
    #![proptest_config(the_same(4, 3))]

    #[test]
    fn full_loads_are_found(loads in prop::collection::vec(three(), 5..9), by_mass in any::<bool>(), turn in 0usize..20) {
        let mut sizes = loads.concat();
        sizes.rotate_left(turn % loads.len());
        let shop = read("full", &scenario(&sizes, by_mass)).unwrap_or_else(|f| panic!("{}", f.render(false))).shop;
        let found = plan(&shop, 1, Effort::Days(4_000), &AtomicBool::new(false), &|_| ()).unwrap();
        prop_assert_eq!(found.judged.unready, 0);
        let heads: BTreeSet<u32> = found.plan.head.iter().copied().collect();
        prop_assert_eq!(heads.len(), loads.len());
    }
}

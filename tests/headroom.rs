//! Room over the bath: a tank is filled by cold litres, hot solution takes more, and so does the work in it.

use crate::told_of::with_results;
use tankday::line::Line;
use tankday::print::Paper;
use tankday::record::{Figures, Reading, Record, WarningKind};
use tankday::scenario;
use tankday::shop::Shop;

/// A round pot, 32 cm deep, filled as stated, and three castings of 900 g.
fn pot(fill: &str, iron: &str) -> Shop {
    let text = format!(
        "tankday: 1\nshop: {{hands: 1}}\ndays: [{{open: 08:00, close: 12:00}}]\nbaths: {{mn: {{}}}}\n\
         tanks: [{{name: pot, bath: mn, inside: round 28 cm x 32 cm, fill: {fill}, lid: fitted, heater: {{power: 2 kW}}}}]\n\
         stations: [{{name: sink}}, {{name: oil pan, loads: 2}}]\n\
         parts: {{jaw: {{material: grey iron, mass: {iron}, area: 2.2 dm2}}}}\nroutes:\n  r:\n    \
         - {{do: degrease, at: sink, for: 6 min}}\n    - {{do: coat, in: mn}}\n    \
         - {{do: rinse, at: sink, for: 1 min}}\n    - {{do: oil, at: oil pan, for: 20 min}}\n\
         orders: [{{id: J, part: jaw, count: 3, route: r}}]\n"
    );
    scenario::read("pot.yaml", &text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

fn day(shop: &Shop) -> Record {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    record
}

/// What is told of the pot, and the height that goes with it, in millimetres.
fn told(fill: &str, iron: &str) -> Vec<(WarningKind, f64)> {
    let shop = pot(fill, iron);
    let warnings = Figures::of(&shop, &day(&shop)).warnings;
    let of = |kind| matches!(kind, WarningKind::FoamRoom | WarningKind::RunsOver);
    let told = warnings.iter().filter(|w| of(w.kind));
    told.map(|w| match w.at[0].reading {
        Some(Reading::Height(h)) => (w.kind, h.in_millimetres()),
        other => panic!("{other:?}"),
    })
    .collect()
}

/// Water weighs 998.2 kg/m3 at 20 °C and 963.3 at 93 °C (IAPWS-95, as in tables of its properties); grey iron 7200 (the
/// material's default). The round pot has 615.75 cm2: 14 L stand at 227.4 mm cold and at 235.6 mm hot, three castings of
/// 900 g lift it by 6.1 mm, and of 320 mm 78.3 are left, a little more by what boils away.
#[test]
fn hot_and_with_the_work_in_it() {
    let told = told("14 L", "900 g");
    assert_eq!(told.len(), 1, "{told:?}");
    let (kind, free) = told[0];
    assert_eq!(kind, WarningKind::FoamRoom);
    assert!((78.0..80.5).contains(&free), "{free}");
}

/// Heavier work leaves less room: three castings of 1.15 kg take 0.48 L, 7.8 mm.
#[test]
fn heavier_work_leaves_less() {
    let (light, heavy) = (told("14 L", "900 g")[0].1, told("14 L", "1.15 kg")[0].1);
    assert!((light - heavy - 1.7).abs() < 0.4, "{light} and {heavy}");
}

/// 18.7 L cold are 303.7 mm, hot 314.7 mm, and with castings of 1.4 kg 324.2 mm of 320: over the rim, though without them it is
/// not.
#[test]
fn it_runs_over_only_when_hot() {
    let told = told("18.7 L", "1.4 kg");
    assert_eq!(told.len(), 1, "{told:?}");
    assert_eq!(told[0].0, WarningKind::RunsOver);
    assert!((1.0..4.5).contains(&told[0].1), "{told:?}");
    let shop = pot("18.7 L", "1.4 kg");
    let first = with_results(&shop, &day(&shop), |results| {
        let first = tankday::narrative::answer(results).into_iter().next();
        first.map_or(String::new(), |line| line.write(Paper::FILE))
    });
    assert!(
        first.contains("Hot acid runs over the rim: pot from 08:"),
        "{first}"
    );
}

#[test]
fn a_hand_s_breadth_is_enough() {
    // 12 L stand 202 mm high when hot.
    assert!(told("12 L", "900 g").is_empty());
}

//! Relief of stress before coating and of hydrogen after it: long steps without hands, by the rules of the trade.

use tankday::line::Line;
use tankday::record::{Figures, LogEntry, Record, WarningKind};
use tankday::scenario;
use tankday::shop::{Relieves, Shop, Step};

fn shop(part: &str, steps: &str) -> Shop {
    let text = format!(
        "tankday: 1
days: [{{date: 2026-03-05, open: 06:00, close: 18:00}}, {{date: 2026-03-06, open: 06:00, close: 18:00}}]
tanks: [{{name: tank, bath: manganese, inside: 40 cm x 40 cm x 40 cm, fill: 40 L, heater: {{power: 9 kW}}}}]
baths: {{manganese: {{coat: {{target: 13 g/m2}}}}}}
stations: [{{name: oven}}, {{name: shelf, loads: unlimited}}]
parts: {{spring: {{material: hardened steel, mass: 5 g, area: 8 cm2, {part}}}}}
routes:
  way:
{steps}
orders: [{{id: A, part: spring, count: 100, route: way}}]
"
    );
    scenario::read("relief", &text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

fn run(shop: &Shop) -> (Record, Figures) {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    crate::audited::assert_sound(shop, &record);
    let figures = Figures::of(shop, &record);
    (record, figures)
}

fn has(figures: &Figures, kind: WarningKind) -> bool {
    figures.warnings.iter().any(|w| w.kind == kind)
}

fn hours(step: &Step) -> f64 {
    match &step.time {
        tankday::shop::StepTime::Work { load, .. } => load.mean().in_hours(),
        tankday::shop::StepTime::Coat => panic!("a coating step"),
    }
}

const BAKED: &str = "    - {do: relieve, at: oven, relieves: stress}
    - {do: coat, in: manganese}
    - {do: bake, at: oven, relieves: hydrogen, or: overnight}";

/// P58: 1 h for each inch of thickness, at least half an hour (DOD-P-16232F, 3.3). P60a: 8 h at 98 to 107 °C (from
/// memory there).
#[test]
fn times_follow_from_what_is_relieved() {
    let thin = shop("thick: 3 mm", BAKED);
    let thick = shop("thick: 50.8 mm", BAKED);
    assert_eq!(hours(&thin.routes[0].steps[0]), 0.5);
    assert_eq!(hours(&thick.routes[0].steps[0]), 2.0);
    let bake = &thin.routes[0].steps[2];
    assert_eq!(hours(bake), 8.0);
    let relief = bake.relief.unwrap();
    assert_eq!(relief.what, Relieves::Hydrogen);
    assert!((98.0..=107.0).contains(&relief.heat.unwrap().in_celsius()));
    // P60d: started within 4 h, as is customary (no source).
    assert_eq!(bake.within.unwrap().in_hours(), 4.0);
}

/// P60a: or 120 h at room temperature, which needs no oven and cannot come too late.
#[test]
fn work_may_rest_instead() {
    let rests =
        "    - {do: coat, in: manganese}\n    - {do: hold, at: shelf, relieves: hydrogen, heat: as the air}";
    let shop = shop("held: wire", rests);
    let hold = &shop.routes[0].steps[1];
    assert_eq!((hours(hold), hold.within), (120.0, None));
    let (_, figures) = run(&shop);
    // Five days are longer than the two of this shop: the order is told as not ready.
    assert!(figures.orders[0].ready.is_none() && has(&figures, WarningKind::NotReady));
}

/// The bake goes on over night with nobody there, and is taken out in the morning.
#[test]
fn a_bake_goes_on_unattended() {
    let (record, figures) = run(&shop("thick: 3 mm", BAKED));
    let ready = figures.orders[0].ready.unwrap();
    assert_eq!(ready.day_and_time().0, 0, "in by 8, out by 18");
    let baked = record.entries.iter().find_map(|e| match e.event {
        LogEntry::WorkBegins { step, planned, .. } if step.step.0 == 2 => Some((e.at, planned)),
        _ => None,
    });
    let (begun, planned) = baked.unwrap();
    assert_eq!(planned.in_hours(), 8.0);
    let at_work = record
        .entries
        .iter()
        .filter(|e| matches!(e.event, LogEntry::HandsTake { .. }) && e.at > begun && e.at < begun + planned);
    assert_eq!(at_work.count(), 0);
    assert!(has(&figures, WarningKind::Hardened) && !has(&figures, WarningKind::NotRelieved));
}

#[test]
fn what_is_not_relieved_is_told() {
    let bare = "    - {do: relieve, at: oven, relieves: stress}\n    - {do: coat, in: manganese}";
    let (_, figures) = run(&shop("held: wire", bare));
    assert!(has(&figures, WarningKind::NotRelieved) && !has(&figures, WarningKind::Hardened));
    assert_eq!(WarningKind::NotRelieved.code(), "not-relieved");
}

/// P60, P60b: a coating does not stand more than 121 °C (MIL-DTL-16232G, 6.1.1), so that an electroplater's bake is
/// refused, whatever the step is for; up to it other heat is let be.
#[test]
fn heat_that_spoils_the_coating_is_refused() {
    let dried = |degrees: u32| {
        format!(
            "tankday: 1
tanks: [{{name: tank, bath: manganese, inside: 30 cm x 30 cm x 30 cm, fill: 18 L, heater: {{power: 2 kW}}}}]
baths: {{manganese: {{}}}}
stations: [{{name: oven}}]
parts: {{piece: {{mass: 5 g, area: 8 cm2}}}}
routes: {{way: [{{do: coat, in: manganese}}, {{do: dry, at: oven, for: 20 min, heat: {degrees} °C}}]}}
orders: [{{id: A, part: piece, count: 10, route: way}}]
"
        )
    };
    assert!(scenario::read("warm", &dried(120)).is_ok());
    let hot = scenario::read("hot", &dried(190)).unwrap_err();
    let words = hot.render(false);
    assert!(words.contains("the coating must stay below 121 °C"), "{words}");
}

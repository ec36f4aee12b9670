//! What must not be in a bath: no load goes in until all of it is renewed (table of care and P78 of the notes on shop practice;
//! aluminium: a patent application that calls it a bath poison; copper plating on steel: common practice, no source).

use tankday::audit::check;
use tankday::line::Line;
use tankday::record::{CareKind, Figures, LogEntry, Record, WarningKind};
use tankday::scenario;
use tankday::sheet::{sheets, to_text};
use tankday::shop::{Contaminants, Shop};
use tankday::units::Moment;

fn shop(now: &str, bath: &str, rules: &str) -> Shop {
    let text = format!(
        "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-03-02, open: 08:00, close: 18:00}}]
tanks: [{{name: pot, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, heater: {{power: 3 kW}}}}]
vessels: [{{name: jug, bath: manganese, holds: 20 L}}]
baths: {{manganese: {{now: {{{now}}}{bath}}}}}
stations: [{{name: bench, loads: 4}}]
parts: {{chuck: {{mass: 180 g, area: 95 cm2}}}}
routes: {{way: [{{do: coat, in: manganese}}, {{do: rinse, at: bench, for: 1 min, hands: throughout}}]}}
orders: [{{id: A, part: chuck, count: 20, route: way}}]
rules: {{care: {{{rules}}}}}
"
    );
    scenario::read("shop", &text)
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

const FILTER: &str = "filter: {when: sludge above 1 %, into: jug}";

#[test]
fn one_or_several_names() {
    let of = |now: &str| shop(now, "", FILTER).baths[0].now.contaminants;
    assert_eq!(of(""), Contaminants::default());
    assert_eq!(of("contaminated: no"), Contaminants::default());
    assert_eq!(of("contaminated: zinc").names().collect::<Vec<_>>(), ["zinc"]);
    assert_eq!(
        of("contaminated: [copper, oil]").names().collect::<Vec<_>>(),
        ["oil", "copper"]
    );
}

/// Nobody renews it: nothing goes in, it is not even heated, and what is in it is told, worn or not.
#[test]
fn no_load_goes_in() {
    for bath in ["", ", wears: no"] {
        // Nor is concentrate wasted on it, though it is weak.
        let now = "contaminated: aluminium, total acid: 30.5 points, free acid: 5 points";
        let (record, f) = run(&shop(now, bath, FILTER));
        assert!(f.baths[0].care.is_empty());
        assert!(f.loads.is_empty() && has(&f, WarningKind::Contaminated));
        assert!(f.orders.iter().all(|o| o.ready.is_none()));
        assert_eq!(f.tanks[0].energy.in_kilowatt_hours(), 0.0);
        assert!(f.baths[0].now.contaminants.aluminium || bath.ends_with("no"));
        assert!(
            !record
                .entries
                .iter()
                .any(|e| matches!(e.event, LogEntry::SetIn { station, .. } if station.0 == 0))
        );
    }
    assert_eq!(WarningKind::Contaminated.code(), "contaminated");
}

/// Renewed whole it works again, conditioned first as every fresh bath: care that reads calls for it after a renewal too.
#[test]
fn all_of_it_is_renewed() {
    let rules = format!("renew: contaminated, condition: {{when: iron below 0.5 g/L}}, {FILTER}");
    let (_, f) = run(&shop("contaminated: [zinc, oil]", "", &rules));
    let kinds: Vec<CareKind> = f.baths[0].care.iter().map(|c| c.kind).collect();
    assert_eq!(&kinds[..2], [CareKind::Renew, CareKind::Condition]);
    assert!(f.orders.iter().all(|o| o.ready.is_some()));
    assert_eq!(f.baths[0].now.contaminants, Contaminants::default());
    let told = f.warnings.iter().find(|w| w.kind == WarningKind::Contaminated);
    assert!(told.unwrap().at[0].at + told.unwrap().at[0].by == f.baths[0].care[0].to);
    assert!(!has(&f, WarningKind::Unconditioned));
    assert!(f.loads.iter().all(|l| l.begins >= f.baths[0].care[1].to));
}

/// Half of it is not enough, nor is a change for what a jug holds: it spreads to that.
#[test]
fn half_of_it_or_a_jug_is_not_enough() {
    let rules = format!("renew half: contaminated, {FILTER}");
    let (_, f) = run(&shop("contaminated: copper, sludge: 2 g/L", "", &rules));
    let kinds: Vec<CareKind> = f.baths[0].care.iter().map(|c| c.kind).collect();
    assert!(kinds.contains(&CareKind::RenewHalf), "{kinds:?}");
    assert!(f.loads.is_empty() && f.baths[0].now.contaminants.copper);
    let (_, f) = run(&shop("contaminated: copper, sludge: 2 g/L", "", FILTER));
    assert!(f.baths[0].care.iter().any(|c| c.kind == CareKind::Exchange));
    assert!(f.loads.is_empty() && f.baths[0].now.contaminants.copper);
}

/// The audit finds a load in such a bath.
#[test]
fn the_audit_finds_it() {
    let clean = shop("", "", FILTER);
    let (record, _) = run(&clean);
    let mut foul = clean.clone();
    foul.baths[0].now.contaminants.oil = true;
    let faults = check(&foul, &record);
    assert!(
        faults.iter().any(|f| f.text.contains("foreign metal or oil")),
        "{faults:?}"
    );
}

/// The sheet of a cold tank that is to be renewed does not switch off what was never on.
#[test]
fn a_cold_tank_is_not_switched_off() {
    let rules = format!("renew: contaminated, {FILTER}");
    let shop = shop("contaminated: zinc", "", &rules);
    let (record, figures) = run(&shop);
    let text = to_text(&sheets(&shop, &record, &figures));
    assert!(text.contains("heater stays off"), "{text}");
    assert!(!text.contains("Pot: heater off, nothing more goes in"), "{text}");
    assert!(figures.opening > Moment::ZERO);
}

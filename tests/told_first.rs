//! What must be said first of a day, or beside the row that it concerns: a limit of the shop that is passed, a bath that boils
//! low, hands that come to a bath which still scalds.

use crate::audit_sheet::Sheet;
use crate::told_of::with_results;
use tankday::chart::DayView;
use tankday::line::Line;
use tankday::print::Paper;
use tankday::record::{Record, WarningKind};
use tankday::scenario;
use tankday::shop::Shop;

/// A pot, a way through it, and an order of nuts.
fn shop(days: &str, tank: &str, coat: &str, rest: &str) -> Shop {
    nuts(60, days, tank, coat, rest)
}

fn nuts(count: u32, days: &str, tank: &str, coat: &str, rest: &str) -> Shop {
    read(&text(count, days, tank, coat, rest))
}

fn text(count: u32, days: &str, tank: &str, coat: &str, rest: &str) -> String {
    format!(
        "tankday: 1\nshop: {{hands: 1, pump: yes}}\ndays: [{days}]\nbaths: {{mn: {{coat: {{time: 45 min}}}}}}\n\
         tanks: [{{name: tank, bath: mn, {tank}}}]\n\
         stations: [{{name: sink}}, {{name: cab}}, {{name: bench}}, {{name: oil pan, loads: 4}}]\n\
         parts: {{nut: {{mass: 8 g, area: 9 cm2}}}}\nroutes:\n  r:\n    - {{do: degrease, at: sink, for: 6 min}}\n    \
         - {{do: blast, at: cab, for: 5 min, hands: throughout}}\n    - {{do: coat, in: mn{coat}}}\n    \
         - {{do: rinse, at: sink, for: 1 min}}\n    - {{do: dry, at: bench, for: 60 min, within: 5 min}}\n    \
         - {{do: oil, at: oil pan, for: 20 min}}\norders: [{{id: N, part: nut, count: {count}, route: r, due: 16:00}}]\n{rest}\n"
    )
}

fn read(text: &str) -> Shop {
    scenario::read("nuts.yaml", text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

const BOX: &str = "inside: 40 cm x 30 cm x 30 cm, fill: 20 L, heater: {power: 2 kW}";

fn day(shop: &Shop) -> Record {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    record
}

fn first_line(shop: &Shop) -> String {
    with_results(shop, &day(shop), |results| {
        let first = tankday::narrative::answer(results).into_iter().next();
        first.map_or(String::new(), |line| line.write(Paper::FILE))
    })
}

#[test]
fn a_wait_before_the_bath_that_is_too_long() {
    // Nobody blasts long before the bath is hot and cared for; but that wool leaves so much sludge, nobody foresees.
    let late = "rules: {care: {condition: {when: at 08:40, to: 0.8 g/L}, filter: {when: sludge above 4 %, settles: 30 min}}}";
    let fouled = |within| {
        let text = text(60, "{open: 08:00, close: 17:00}", BOX, within, late);
        let text = text.replace(
            "{time: 45 min}",
            "{time: 45 min}, now: {iron: 0.3 g/L, sludge: 3.2 g/L}",
        );
        let text = text.replace("hands: 1,", "hands: 2,");
        read(&text.replace("at: cab, for: 5 min", "at: cab, for: 40 min"))
    };
    let waits = fouled(", within: 10 min");
    let said = first_line(&waits);
    assert!(
        said.contains("(N) lies stripped") && said.contains("before coat (at most 10 min)"),
        "{said}"
    );
    let sheet = Sheet::of(&waits, &day(&waits));
    let row = sheet
        .csv
        .lines()
        .find(|l| l.contains("L1 into the tank"))
        .unwrap();
    assert!(
        row.contains("Waited longer than allowed: look for rust."),
        "{row}"
    );
    assert_eq!(sheet.faults(&waits, &day(&waits)), Vec::<String>::new());
    let may = fouled(", within: 6 h");
    assert!(!first_line(&may).contains("stripped"), "{}", first_line(&may));
}

#[test]
fn a_bath_that_boils_low() {
    let pot = "inside: round 24 cm x 14 cm, fill: 3 L, lid: none, draught: 2, heater: {power: 1.5 kW, kind: induction}";
    let said = first_line(&shop(
        "{open: 08:00, close: 17:00}",
        pot,
        "",
        "rules: {top up: never}",
    ));
    assert!(
        said.contains("switches itself off, since the bath has boiled low"),
        "{said}"
    );
}

/// Full when the load goes in, and below what the shop wants while it is in.
#[test]
fn a_level_that_falls_beside_a_load_is_told_of_that_load() {
    let pot = "inside: round 24 cm x 14 cm, fill: 3 L, lid: none, draught: 2, heater: {power: 1.5 kW, kind: induction}";
    let never = "rules: {top up: never}";
    let of = |tank: &str| {
        let shop = shop("{open: 08:00, close: 17:00}", tank, "", never);
        let figures = tankday::record::Figures::of(&shop, &day(&shop));
        let level = figures
            .warnings
            .into_iter()
            .find(|w| w.kind == WarningKind::LevelOff);
        level.map_or(Vec::new(), |w| w.at)
    };
    let told = of(pot);
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0].load.is_some() && told[0].reading.is_some(), "{told:?}");
    assert!(of(BOX).is_empty());
}

#[test]
fn a_tank_left_hot_to_the_end_of_the_record_has_no_other_end() {
    let never = "rules: {heat: {switch off: never, unattended: allowed}}";
    let said = first_line(&shop("{open: 08:00, close: 17:00, repeat: 2}", BOX, "", never));
    assert!(said.contains("from Tue 17:00 on"), "{said}");
    assert!(!said.contains("Jan"), "{said}");
}

#[test]
fn an_order_that_lies_bare_is_on_time_in_no_picture() {
    // Behind a step that says itself what it comes after, and no time, no place is looked for.
    let stop = "rules: {care: {filter: {when: after 2 loads}}}";
    let text = text(400, "{open: 08:00, close: 17:00, repeat: 2}", BOX, "", stop);
    let shop = read(&text.replace("do: rinse,", "do: rinse, kind: rest, after: coat,"));
    let record = day(&shop);
    let bare = with_results(&shop, &record, |r| {
        let bare = |o: &&tankday::record::OrderFigure| o.bare > tankday::units::Span::ZERO;
        r.figures.orders.iter().filter(bare).count()
    });
    assert_eq!((bare, DayView::of(&shop, &record).on_time()), (1, 0));
}

#[test]
fn what_scalds_is_moved_by_the_pump_alone() {
    let hot = "rules: {care: {filter: {when: at the break, cool to: 92 °C, settles: 10 min}}}";
    let breaks = "{open: 08:00, close: 17:00, breaks: [{at: 11:30 to 11:45, stays: yes}]}";
    let with_pump = shop(breaks, BOX, "", hot);
    let record = day(&with_pump);
    let sheet = Sheet::of(&with_pump, &record);
    let rows: Vec<&str> = sheet.csv.lines().filter(|l| l.contains("heel")).collect();
    assert!(!rows.is_empty(), "{}", sheet.csv);
    for row in rows {
        assert!(
            row.contains("pump the heel") && row.contains("Still scalds: only the pump moves it."),
            "{row}"
        );
    }
    assert_eq!(sheet.faults(&with_pump, &record), Vec::<String>::new());
    let calm = Sheet {
        csv: sheet.csv.replace(
            "Still scalds: only the pump moves it.",
            "Cool, gloved; sludge and waste: ask first.",
        ),
        ..sheet
    };
    assert!(!calm.faults(&with_pump, &record).is_empty());
}

//! When a plan has heaters on: only for loads, off between waves of work where that saves power, not at all on days without
//! a load; and a plan that is no better than the shop's own rules gives way to them.

use std::fmt::Write;
use std::sync::atomic::AtomicBool;
use tankday::line::{Line, Plan};
use tankday::plan::{Effort, Found, by_own_rules, plan};
use tankday::plan_file::{understand, write};
use tankday::record::{HeaterState, LogEntry, Record};
use tankday::scenario::{PlanFile, read};
use tankday::shop::{Keeping, Shop};
use tankday::units::{Moment, Span};

/// Orders that arrive and are due at these times, each as large as a pot holds.
fn shop(days: &str, orders: &[(&str, &str)], rest: &str) -> Shop {
    let mut text = format!(
        "tankday: 1\ntitle: Waves of work\n\
         shop: {{hands: 1, air: {{temperature: 20 °C, humidity: 50 %}}, prices: {{power: 0.30 per kWh}}}}\n\
         days: {days}\n\
         baths: {{manganese: {{}}}}\n\
         tanks: [{{name: pot, bath: manganese, inside: 35 cm x 25 cm x 30 cm, fill: 20 L, heater: {{power: 3 kW}}}}]\n\
         stations: [{{name: bench, loads: 4}}]\n\
         parts: {{chuck: {{material: plain steel, mass: 180 g, area: 95 cm2}}}}\n\
         routes: {{way: [{{do: degrease, for: 8 min, at: bench}}, {{do: coat, in: manganese}}, \
         {{do: rinse, at: bench, for: 1 min, hands: throughout}}]}}\n\
         orders:\n"
    );
    for (n, (arrives, due)) in orders.iter().enumerate() {
        writeln!(
            text,
            "  - {{id: A{n}, part: chuck, count: 20, route: way, arrives: {arrives}, due: {due}}}"
        )
        .unwrap();
    }
    read("waves", &(text + rest))
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

fn planned(shop: &Shop) -> Found {
    plan(shop, 1, Effort::Days(400), &AtomicBool::new(false), &|_| ()).unwrap()
}

fn followed(shop: &Shop, plan: &Plan) -> Record {
    let mut record = Record::default();
    Line::new(shop).follow(plan, None, &mut record);
    crate::audited::assert_sound(shop, &record);
    record
}

/// Stretches with the heater on.
fn on(record: &Record) -> Vec<(Moment, Moment)> {
    let mut all: Vec<(Moment, Moment)> = Vec::new();
    let mut since = None;
    for e in &record.entries {
        let LogEntry::Bath { sample, .. } = &e.event else {
            continue;
        };
        match (sample.heater != HeaterState::Off, since) {
            (true, None) => since = Some(e.at),
            (false, Some(from)) => {
                if e.at > from {
                    all.push((from, e.at));
                }
                since = None;
            }
            _ => {}
        }
    }
    all
}

fn lifted(record: &Record) -> Vec<Moment> {
    let out = |e: &tankday::record::Entry| matches!(e.event, LogEntry::Coated { .. }).then_some(e.at);
    record.entries.iter().filter_map(out).collect()
}

fn clock(hour: i64, minute: i64) -> Moment {
    Moment::ZERO + Span::whole_minutes(60 * hour + minute)
}

const MORNING: (&str, &str) = ("2026-03-02 08:00", "2026-03-02 12:00");
const LATE: (&str, &str) = ("2026-03-02 15:00", "2026-03-02 18:00");
const ONE_DAY: &str = "[{date: 2026-03-02, open: 08:00, close: 18:00}]";

/// Kept hot from the morning's load to that of the afternoon it would cost more than heating it twice; the file says both.
#[test]
fn a_bath_is_off_between_two_waves() {
    let shop = shop(ONE_DAY, &[MORNING, LATE], "");
    let found = planned(&shop);
    let record = followed(&shop, &found.plan);
    let (on, out) = (on(&record), lifted(&record));
    assert_eq!(on.len(), 2, "{on:?}");
    assert_eq!(on[0].1, out[0], "off as soon as the first load is out");
    assert!(on[1].0 > clock(13, 0) && on[1].0 < clock(15, 8), "{on:?}");
    assert_eq!(on[1].1, out[1]);
    assert!(
        found.plan.heat.iter().any(|h| h.1 > clock(14, 0)),
        "{:?}",
        found.plan.heat
    );
    // As written and read it is the same day.
    let line = Line::new(&shop);
    let text = write(&shop, &line, &found.plan);
    let file = PlanFile::read("plan.yaml", &text, &shop.calendar).unwrap();
    let again = understand(&shop, &line, &file).unwrap().plan;
    assert_eq!(followed(&shop, &again).entries, record.entries, "{text}");
}

/// Loads that follow each other within the hour keep their bath hot: switching off and on would save less than a shop's
/// patience is worth, and it would not be hot in time.
#[test]
fn a_bath_stays_hot_for_a_load_that_comes_soon() {
    let soon = ("2026-03-02 09:15", "2026-03-02 18:00");
    let shop = shop(ONE_DAY, &[MORNING, soon], "");
    let record = followed(&shop, &planned(&shop).plan);
    assert_eq!(on(&record).len(), 1, "{:?}", on(&record));
}

const THREE_DAYS: &str = "[{date: 2026-03-02, open: 08:00, close: 17:00, repeat: 3}]";

/// What is there already but planned for another day does not keep a heater on.
#[test]
fn each_day_its_heater_is_on_for_its_own_loads() {
    let orders = [
        MORNING,
        ("2026-03-02 08:00", "2026-03-02 12:00"),
        ("2026-03-04 08:00", "2026-03-04 12:00"),
    ];
    let shop = shop(
        THREE_DAYS,
        &orders,
        "rules: {heat: {switch on: at opening, switch off: after the last load}}\n",
    );
    let found = planned(&shop);
    let record = followed(&shop, &found.plan);
    let out = lifted(&record);
    for (from, until) in on(&record) {
        let last = out.iter().copied().filter(|o| from < *o && *o <= until).max();
        let last = last.unwrap_or_else(|| panic!("hot for nothing from {} on", from.clock()));
        assert!(
            until - last <= Span::whole_minutes(15),
            "on until {}",
            until.clock()
        );
    }
    assert_eq!(found.judged.late_orders, 0);
}

/// `follow: own rules` is the day that `run` gives, to the last event, and nothing else may stand beside it.
#[test]
fn to_keep_the_rules_is_a_plan() {
    let shop = shop(THREE_DAYS, &[MORNING, LATE], "");
    let line = Line::new(&shop);
    let mut plan = Plan::of(&line);
    plan.keeping = Keeping::OwnRules;
    let text = write(&shop, &line, &plan);
    assert!(
        text.contains("follow: own rules") && !text.contains("loads:"),
        "{text}"
    );
    let file = PlanFile::read("plan.yaml", &text, &shop.calendar).unwrap();
    let meant = understand(&shop, &line, &file).unwrap().plan;
    let mut own = Record::default();
    line.run(None, &mut own);
    assert_eq!(followed(&shop, &meant).entries, own.entries);
    let more = format!("{text}heat:\n  - {{ready by: 2026-03-02 09:00, tank: pot}}\n");
    let refused = PlanFile::read("plan.yaml", &more, &shop.calendar).unwrap_err();
    assert!(
        refused
            .render(false)
            .contains("with `follow: own rules` nothing is planned"),
        "{}",
        refused.render(false)
    );
    let none = text.replace("own rules", "loosely");
    let refused = PlanFile::read("plan.yaml", &none, &shop.calendar).unwrap_err();
    assert!(
        refused.render(false).contains("`loads` is missing"),
        "{}",
        refused.render(false)
    );
}

/// Many orders on many days: what is found is never worse than the rules.
#[test]
fn many_days_are_never_planned_worse_than_by_the_rules() {
    let mut orders: Vec<(String, String)> = Vec::new();
    for n in 0..130 {
        let day = 2 + n / 13;
        let due = (day + n % 3).min(11);
        orders.push((
            format!("2026-03-{day:02} {:02}:00", 8 + n % 5),
            format!("2026-03-{due:02} 17:30"),
        ));
    }
    let orders: Vec<(&str, &str)> = orders.iter().map(|o| (o.0.as_str(), o.1.as_str())).collect();
    let shop = shop(
        "[{date: 2026-03-02, open: 08:00, close: 18:00, repeat: 10}]",
        &orders,
        "rules: {heat: {switch off: after the last load}}\n",
    );
    let own = by_own_rules(&shop, &Line::new(&shop));
    let found = planned(&shop);
    assert!(
        found.judged.cost <= own.cost + 1e-6,
        "{:?} against {own:?}",
        found.judged
    );
    followed(&shop, &found.plan);
}

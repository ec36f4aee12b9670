//! What no plan can beat: not above what is known of published instances, beaten by no day of any shop, and near for days
//! on which hands are short.

use crate::random_shop::any_shop;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{RngAlgorithm, TestRng, TestRunner};
use serde_json::Value;
use std::sync::atomic::AtomicBool;
use tankday::line::{Line, Plan};
use tankday::plan::{Bounds, Effort, bounds, earliest_ready, plan};
use tankday::record::{LogEntry, Record};
use tankday::scenario::read;
use tankday::shop::{Aim, Arrival, Keeping, Shop};
use tankday::units::{Moment, Span};

#[allow(dead_code)]
#[path = "programs/published_kinds/shops.rs"]
pub(crate) mod shops;

pub(crate) fn finish_only() -> Aim {
    Aim {
        late_order: 0.0,
        late_minute: 0.0,
        power_kwh: 0.0,
        water_litre: 0.0,
        hands_minute: 0.0,
        ..Aim::USUAL
    }
}

fn shop_of(text: &str) -> Shop {
    read("day", text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

fn clock(hour: i64, minute: i64) -> Moment {
    Moment::ZERO + Span::whole_minutes(60 * hour + minute)
}

/// How a day came out, of which every order got ready.
#[derive(Debug, Clone)]
struct Came {
    finish: Moment,
    late: Span,
    late_orders: u32,
    ready: Vec<Option<Moment>>,
}

/// Reads a record; none if something did not get ready.
fn came(shop: &Shop, record: &Record) -> Option<Came> {
    let mut source_of = Vec::new();
    let mut came = Came {
        finish: Moment::ZERO,
        late: Span::ZERO,
        late_orders: 0,
        ready: vec![None; shop.orders.len()],
    };
    let (mut arrived, mut done) = (0, 0);
    for entry in &record.entries {
        match entry.event {
            LogEntry::OrderArrives { source, .. } => {
                source_of.push(source.index());
                arrived += 1;
            }
            LogEntry::LoadReady { .. } => came.finish = entry.at,
            LogEntry::OrderReady { order } => {
                done += 1;
                let source = source_of[order.0 as usize];
                let order = &shop.orders[source];
                let Arrival::At(arrives) = order.arrival else {
                    continue;
                };
                came.ready[source] = Some(entry.at);
                let late = order.due_after.map_or(Span::ZERO, |d| entry.at - (arrives + d));
                came.late += late.max(Span::ZERO);
                came.late_orders += u32::from(late > Span::ZERO);
            }
            _ => {}
        }
    }
    (done == arrived && arrived > 0).then_some(came)
}

fn by_the_rules(shop: &Shop) -> Option<Came> {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    came(shop, &record)
}

/// What was held against the bounds.
#[derive(Debug, Default)]
struct Held {
    days: u32,
    late: u32,
    /// Days that ended at the very bound, or within a tenth of the way to it.
    met: u32,
    near: u32,
}

impl Held {
    fn hold(&mut self, shop: &Shop, bounds: &Bounds, alone: &[Option<Moment>], came: &Came) {
        assert!(
            came.finish >= bounds.finish,
            "ends {} before {}",
            came.finish.clock(),
            bounds.finish.clock()
        );
        assert!(
            came.late >= bounds.late,
            "{:?} late, not {:?}",
            came.late,
            bounds.late
        );
        assert!(
            came.late_orders >= bounds.late_orders,
            "{} late, not {}",
            came.late_orders,
            bounds.late_orders
        );
        for (ready, least) in came.ready.iter().zip(alone) {
            if let (Some(ready), Some(least)) = (ready, least) {
                assert!(ready >= least, "ready {} before {}", ready.clock(), least.clock());
            }
        }
        let open = shop.calendar.days[0].open;
        self.days += 1;
        self.late += u32::from(bounds.late > Span::ZERO);
        self.met += u32::from(came.finish == bounds.finish);
        self.near +=
            u32::from((bounds.finish - open).in_minutes() >= 0.9 * (came.finish - open).in_minutes());
    }
}

/// Numbers that decide what a plan says.
struct Picks<'a>(&'a [u32], usize);

impl Picks<'_> {
    fn next(&mut self, below: usize) -> usize {
        self.1 += 1;
        let pick = self.0[self.1 % self.0.len()].wrapping_add((self.1 as u32).wrapping_mul(2_654_435_761));
        (pick >> 8) as usize % below.max(1)
    }
}

/// A plan that divides orders, puts lots together, and orders and holds back tasks as the numbers fall.
fn any_plan(shop: &Shop, line: &Line<'_>, picks: &mut Picks<'_>) -> Plan {
    let cuts: Vec<Vec<u32>> = shop
        .orders
        .iter()
        .map(|o| match (picks.next(3), o.count) {
            (0, n) if n > 1 => {
                let first = 1 + picks.next(n as usize - 1) as u32;
                vec![first, n - first]
            }
            _ => Vec::new(),
        })
        .collect();
    let mut plan = Plan::divided(line, &cuts);
    let mut head: Vec<u32> = (0..plan.lots.len() as u32).collect();
    let mut tank = vec![u32::MAX; head.len()];
    let tanks: Vec<u32> = shop.tanks().map(|t| t.0.0).collect();
    for lot in 1..head.len() {
        let other = picks.next(lot);
        if picks.next(2) == 0 && plan.lots[lot].route == plan.lots[other].route && head[other] == other as u32
        {
            head[lot] = other as u32;
        }
        if picks.next(3) == 0 && !tanks.is_empty() {
            tank[lot] = tanks[picks.next(tanks.len())];
        }
    }
    plan.group(&head, &tank);
    let mut tasks: Vec<(usize, u32)> = Vec::new();
    for lot in 0..plan.lots.len() as u32 {
        let mut key = picks.next(1_000);
        for step in 0..plan.lots[lot as usize].steps {
            let in_bath = plan.lots[lot as usize].bath_step.is_some_and(|b| step >= b);
            if in_bath && head[lot as usize] != lot {
                continue;
            }
            for task in [plan.task(lot, step), plan.task(lot, step) + 1] {
                key += picks.next(300);
                tasks.push((key, task));
            }
        }
    }
    tasks.retain(|t| plan.matters(t.1));
    tasks.sort_unstable();
    let tasks: Vec<u32> = tasks.into_iter().map(|t| t.1).collect();
    plan.sequence(&tasks);
    plan.keeping = if picks.next(4) == 0 {
        Keeping::Strictly
    } else {
        Keeping::Loosely
    };
    if !plan.hold.is_empty() && picks.next(2) == 0 {
        let task = picks.next(plan.hold.len());
        plan.hold[task] = clock(8, 0) + Span::whole_minutes(picks.next(300) as i64);
    }
    plan
}

/// Holds the day by the rules, days by any plans, and the one that is searched against the bounds.
fn hold_all(shop: &Shop, picks: &[u32], plans: u32, search: bool, held: &mut Held) {
    let (bounds, alone) = (bounds(shop), earliest_ready(shop));
    let line = Line::new(shop);
    if let Some(came) = by_the_rules(shop) {
        held.hold(shop, &bounds, &alone, &came);
    }
    let mut picks = Picks(picks, 0);
    for _ in 0..plans {
        let plan = any_plan(shop, &line, &mut picks);
        let mut record = Record::default();
        line.follow(&plan, None, &mut record);
        if let Some(came) = came(shop, &record) {
            held.hold(shop, &bounds, &alone, &came);
        }
    }
    let found = search.then(|| plan(shop, 1, Effort::Days(60), &AtomicBool::new(false), &|_| ()));
    if let Some(found) = found.flatten() {
        let mut record = Record::default();
        line.follow(&found.plan, None, &mut record);
        if let Some(came) = came(shop, &record) {
            held.hold(shop, &bounds, &alone, &came);
        }
    }
}

/// A sensible day: what comes is blasted, perhaps warmed, coated, rinsed, oiled, looked at; hands have breaks.
fn sensible_day() -> impl Strategy<Value = String> {
    let shop = (
        1..3u32,
        0..4usize,
        1..3u32,
        2..20u32,
        0..3usize,
        any::<[bool; 4]>(),
    );
    let times = prop::collection::vec(1..12u32, 8);
    let orders = prop::collection::vec((0..3usize, 1..9u32, 0..2usize, 0..5u32, 0..12u32), 1..9);
    (shop, times, orders).prop_map(|((hands, breaks, days, dwell, combine, flags), t, orders)| {
        let breaks = ["", "09:00 to 09:15", "12:00 to 12:40", "08:00 to 08:20, 10:00 to 10:45"][breaks];
        let close = if flags[0] { "13:00" } else { "16:00" };
        let days: Vec<String> = (5..5 + days)
            .map(|d| format!("{{date: 2026-03-0{d}, open: 07:00, close: {close}, breaks: [{breaks}]}}"))
            .collect();
        let combine = ["never", "same part", "same route"][combine];
        let first = if flags[1] { "urgent" } else { "in order asked" };
        let pause = if flags[2] { ", at a break: pause" } else { "" };
        let warm = if flags[3] {
            "    - {do: warm, at: oven, for: 15 min, hands: ends}\n"
        } else {
            ""
        };
        let mut text = format!(
            "tankday: 1\ntitle: Any day\nshop: {{hands: {hands}}}\ndays: [{}]\n\
             baths:\n  manganese: {{band: {{least: 88 °C, hold: 95 °C, most: 98 °C}}, room: {{area: 1 dm2/L, mass: 0.3 kg/L}}, \
             coat: {{time: {dwell} min}}, dwell: 2 to 60 min}}\n\
             tanks:\n  - {{name: tank, bath: manganese, inside: 30 cm x 20 cm x 28 cm, fill: 10 L, heater: {{power: 6 kW}}, basket: 6 L}}\n\
             stations: [{{name: cabinet, loads: 1}}, {{name: oven, loads: 2}}, {{name: rinse, loads: 1}}, {{name: bench, loads: 2}}, {{name: tray, loads: {}}}]\n\
             parts:\n  lever: {{material: sheet steel, mass: 40 g, area: 90 cm2, bulk: 60 mL}}\n  jaw: {{material: grey iron, mass: 700 g, area: 3 dm2, held: wire}}\n  \
             cap: {{material: grey iron, mass: 240 g, area: 1.6 dm2, held: wire, dwell: 8 to 30 min}}\nroutes:\n",
            days.join(", "),
            1 + t[0] % 4,
        );
        for (name, blast, each) in [("short", t[1], t[2] * 3), ("long", t[3], t[4] * 10)] {
            let (oil, look) = (3 * t[5], t[6]);
            text += &format!(
                "  {name}:\n    - {{do: blast, at: cabinet, for: {blast} min, each piece: {each} s, hands: throughout{pause}}}\n{}\
                 \x20   - {{do: coat, in: manganese}}\n\
                 \x20   - {{do: rinse, at: rinse, for: 1 min, hands: throughout, at once: yes, within: 1 min}}\n\
                 \x20   - {{do: oil, at: tray, for: {oil} min, hands: ends}}\n\
                 \x20   - {{do: inspect, at: bench, for: {look} min, each piece: 20 s, hands: throughout}}\n",
                if name == "long" { warm } else { "" }
            );
        }
        text += "orders:\n";
        for (i, (part, count, route, arrives, due)) in orders.iter().enumerate() {
            let part = ["lever", "jaw", "cap"][*part];
            let route = ["short", "long"][*route];
            text += &format!("  - {{id: A{i}, part: {part}, count: {count}, route: {route}");
            if *arrives > 2 {
                text += &format!(", arrives: 0{}:20", 4 + arrives);
            }
            if *due > 1 {
                text += &format!(", due: {:02}:{:02}", 8 + due / 3, 20 * (due % 3));
            }
            text += "}\n";
        }
        text + &format!("rules: {{combine: {combine}, hands first: {first}}}\n")
    })
}

fn runner() -> TestRunner {
    let source = TestRng::deterministic_rng(RngAlgorithm::ChaCha);
    TestRunner::new_with_rng(ProptestConfig::default(), source)
}

#[test]
fn no_sensible_day_beats_the_bounds() {
    let mut runner = runner();
    let cases = (sensible_day(), prop::collection::vec(any::<u32>(), 97));
    let mut held = Held::default();
    for i in 0..120 {
        let (text, picks) = cases.new_tree(&mut runner).unwrap().current();
        hold_all(&shop_of(&text), &picks, 12, i % 4 == 0, &mut held);
    }
    assert!(
        held.days > 100 && held.late > 10 && held.met > 0 && held.near > 10,
        "{held:?}"
    );
}

#[test]
fn no_day_of_any_shop_beats_the_bounds() {
    let mut runner = runner();
    let cases = (any_shop(), prop::collection::vec(any::<u32>(), 97));
    let mut held = Held::default();
    for _ in 0..300 {
        let (shop, picks) = cases.new_tree(&mut runner).unwrap().current();
        hold_all(&shop, &picks, 6, false, &mut held);
    }
    assert!(held.days > 50 && held.late > 0, "{held:?}");
}

/// The bounds of a published instance are not above what is known, s; nor far below where one machine decides.
#[test]
fn published_instances_are_not_better_than_the_bounds_allow() {
    let folder = format!("{}/tests/scheduling", env!("CARGO_MANIFEST_DIR"));
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|f| f.unwrap().path())
        .collect();
    files.sort();
    let (mut held, mut said) = (0, String::new());
    for path in files {
        let file: Value = serde_json::from_str(&std::fs::read_to_string(&path).unwrap()).unwrap();
        let data = &file["data"];
        let shop = match file["problem"].as_str() {
            Some("job-shop") => shops::job_shop(data),
            Some("permutation-flow-shop") => shops::flow_shop(data),
            Some("single-batch-machine") => shops::batch_machine(data),
            Some("bin-packing") => shops::bin_packing(data),
            Some("finite-single-hoist") => shops::hoist(data),
            Some("lite-day") => shops::lite_day(data, finish_only()),
            _ => continue,
        };
        let bounds = bounds(&shop.unwrap());
        let seconds = (bounds.finish - Moment::ZERO).in_seconds();
        let known = &file["known"];
        let (value, unit) = match known["value"].as_f64() {
            Some(value) => (value, 1.0),
            None => (known["makespan"]["best"].as_f64().unwrap(), 60.0),
        };
        said += &format!("{}: at least {:.0}, known {value}", file["id"], seconds / unit);
        if let Some(late) = known["tardiness"]["best"].as_f64() {
            let least = bounds.late.in_minutes();
            said += &format!("; late at least {least:.0}, known {late}");
            assert!(least <= late + 1e-6, "{said}");
        }
        said += "\n";
        assert!(seconds / unit <= value + 1e-6, "{said}");
        held += 1;
        // One machine alone keeps these from being done sooner.
        if ["jsp_la01", "jsp_la05", "jsp_la06"]
            .iter()
            .any(|id| path.ends_with(format!("{id}.json")))
        {
            assert!(seconds >= value, "{said}");
        }
    }
    println!("{said}");
    assert!(held > 30);
}

fn thirty() -> Shop {
    let path = format!("{}/tests/data/thirty.yaml", env!("CARGO_MANIFEST_DIR"));
    shop_of(&std::fs::read_to_string(path).unwrap())
}

#[test]
fn thirty_orders_need_their_hands_until_the_afternoon() {
    let shop = thirty();
    let bounds = bounds(&shop);
    println!("{bounds:?}, {}", bounds.finish.clock());
    // Breaks do not count in full: what is wet or in a bath is seen to in them.
    assert!(bounds.finish >= clock(14, 15), "{}", bounds.finish.clock());
    // A plan is known by which all are ready at 15:46 and on time.
    assert!(bounds.finish <= clock(15, 46) && bounds.late == Span::ZERO && bounds.late_orders == 0);
}

/// Hands do what can wait neither in a break nor before opening: the only thing on this day, four pieces of thirty minutes.
#[test]
fn hands_do_nothing_that_can_wait_in_a_break() {
    let day = |at_break: &str| {
        format!(
            "tankday: 1\ntitle: One bench\nshop: {{hands: 1}}\n\
             days: [{{date: 2026-03-05, open: 07:00, close: 16:00, breaks: [08:15 to 08:45]}}]\n\
             stations: [{{name: bench, loads: 4}}]\nparts: {{bar: {{material: plain steel, mass: 1 kg, area: 1 dm2}}}}\n\
             routes: {{all: [{{do: file, at: bench, for: 30 min, hands: throughout, at a break: {at_break}}}]}}\n\
             orders:\n  - {{id: A, part: bar, count: 1, route: all, due: 07:30}}\n  - {{id: B, part: bar, count: 1, route: all, due: 08:00}}\n  \
             - {{id: C, part: bar, count: 1, route: all, due: 08:20}}\n  - {{id: D, part: bar, count: 1, route: all, due: 08:40}}\n"
        )
    };
    let shop = shop_of(&day("pause"));
    let laid_down = bounds(&shop);
    // 07:00 to 09:30, of which half an hour is a break; the third is ready at 09:00, the fourth at 09:30.
    assert_eq!(laid_down.finish, clock(9, 30));
    assert_eq!(laid_down.late, Span::whole_minutes(40 + 50));
    assert_eq!(laid_down.late_orders, 2);
    let by_rule = by_the_rules(&shop).unwrap();
    assert_eq!((by_rule.finish, by_rule.late), (laid_down.finish, laid_down.late));
    // Finished first, the third goes on into the break until 08:30; the fourth begins after it.
    let shop = shop_of(&day("finish first"));
    let finished = bounds(&shop);
    assert!(finished.finish <= clock(9, 15) && finished.finish >= clock(9, 0));
    assert_eq!(by_the_rules(&shop).unwrap().finish, clock(9, 15));
}

/// Of two loads only one finds room in the sink: hands put it in at 07:00 and then have nothing to do until 07:11. From
/// then on they take out, put in, take out and file without a stop until 08:14.
#[test]
fn hands_wait_at_the_start_for_what_the_first_place_holds() {
    let shop = shop_of(
        "tankday: 1\ntitle: One sink\nshop: {hands: 1}\ndays: [{date: 2026-03-05, open: 07:00, close: 16:00}]\n\
         stations: [{name: sink, loads: 1}, {name: bench, loads: 2}]\nparts: {bar: {material: plain steel, mass: 1 kg, area: 1 dm2}}\n\
         routes:\n  all:\n    - {do: degrease, at: sink, for: 10 min, hands: ends, put in: 1 min, take out: 1 min}\n    \
         - {do: file, at: bench, for: 30 min, hands: throughout}\n\
         orders:\n  - {id: A, part: bar, count: 1, route: all}\n  - {id: B, part: bar, count: 1, route: all}\n",
    );
    assert_eq!(bounds(&shop).finish, clock(8, 14));
    assert!(by_the_rules(&shop).unwrap().finish >= clock(8, 14));
}

//! What is ready in time and yet no good: work without a coat, or that lay bare too long. It counts as on time nowhere, and what
//! happens on some of many days is said.

use crate::audit_sheet::Sheet;
use crate::command_line::{home, run as tankday, text as words};
use crate::told_of::with_results;
use proptest::strategy::{Strategy, ValueTree};
use tankday::chart::DayView;
use tankday::line::Line;
use tankday::print::Paper;
use tankday::random::Streams;
use tankday::record::{Figures, LogEntry, Looks, Observer, OrderNo, Record, Soundness};
use tankday::scenario;
use tankday::shop::{OrderId, Shop};
use tankday::study::{Study, Sure};
use tankday::units::Moment;

/// Two orders in one day, in a bath that is held at so many °C.
fn text(hold: u32, material: &str, rest: &str) -> String {
    format!(
        "tankday: 1\nshop: {{hands: 1}}\ndays: [{{open: 08:00, close: 17:00}}]\n\
         baths: {{mn: {{band: {{least: {}, hold: {hold} °C, most: 98 °C}}, coat: {{time: 30 min}}}}}}\n\
         tanks: [{{name: tank, bath: mn, inside: 40 cm x 30 cm x 30 cm, fill: 20 L, heater: {{power: 3 kW}}}}]\n\
         stations: [{{name: sink}}, {{name: oil pan}}]\n\
         parts: {{nut: {{mass: 8 g, area: 9 cm2, material: {material}}}}}\nroutes:\n  r:\n    \
         - {{do: degrease, at: sink, for: 6 min}}\n    - {{do: coat, in: mn}}\n    \
         - {{do: rinse, kind: rest, at: sink, for: 1 min}}\n    - {{do: oil, at: oil pan, for: 20 min{rest}}}\n\
         orders: [{{id: N, part: nut, count: 60, route: r, due: 16:00}}]\n",
        format_args!("{} °C", hold - 2)
    )
}

fn read(text: &str) -> Shop {
    scenario::read("nuts.yaml", text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

fn day(shop: &Shop, luck: Option<Streams>) -> Record {
    let mut record = Record::default();
    Line::new(shop).run(luck, &mut record);
    record
}

#[test]
fn an_order_without_a_coat_is_on_time_nowhere() {
    for (material, coats) in [("plain steel", false), ("grey iron", true)] {
        let shop = read(&text(78, material, ""));
        let record = day(&shop, None);
        let figures = Figures::of(&shop, &record);
        let order = &figures.orders[0];
        assert!(order.in_time(), "{material}");
        assert_eq!((order.uncoated, order.on_time()), (!coats, coats), "{material}");
        assert_eq!(DayView::of(&shop, &record).on_time(), usize::from(coats));
        let study = Study::of(&shop, 1, 3, |luck| day(&shop, Some(luck)));
        let chance = study.chance((OrderId(0), 1));
        let (sound, harmed) = if coats { (3, 0) } else { (0, 3) };
        assert_eq!((chance.on_time, chance.harmed), (sound, harmed));
        assert_eq!(chance.sure() >= Sure::Tight, coats);
        with_results(&shop, &record, |results| {
            let promises = tankday::narrative::promises(results);
            let first = tankday::narrative::answer(results).remove(0).write(Paper::FILE);
            let three = tankday::narrative::three(results, &promises);
            assert_eq!(three[1].value, if coats { "1 of 1" } else { "0 of 1" });
            assert_eq!(promises[0].words() == "no coat", !coats);
            let says =
                first.starts_with("The order will not be ready on time without harm: it takes no coat");
            assert_eq!(says, !coats, "{first}");
        });
        let sheet = Sheet::of(&shop, &record);
        assert_eq!(
            sheet.csv.contains("N ready, due 16:00, NO COAT"),
            !coats,
            "{}",
            sheet.csv
        );
        assert_eq!(sheet.faults(&shop, &record), Vec::<String>::new());
    }
}

#[test]
fn data_and_promise_say_the_same() {
    let home = home();
    std::fs::write(home.path().join("cold.yaml"), text(78, "plain steel", "")).unwrap();
    let done = tankday(&["run", "cold.yaml", "--json"], home.path());
    let data: serde_json::Value = serde_json::from_slice(&done.stdout).unwrap();
    assert_eq!(data["orders"][0]["on_time_chance"], 0.0);
    assert_eq!(data["orders"][0]["harm"], serde_json::json!(["no-coat"]));
    let promised = tankday(
        &[
            "promise",
            "cold.yaml",
            "--order",
            "5 x nut",
            "--replications",
            "20",
            "--json",
        ],
        home.path(),
    );
    let data: serde_json::Value = serde_json::from_slice(&promised.stdout).unwrap();
    assert!(data["promise"].is_null(), "{data:#}");
}

/// Sees a run as those do who keep no record of it.
struct Follows<'s>(Soundness<'s>, Record);

impl Observer for Follows<'_> {
    fn looks(&self) -> Looks {
        Looks::EventsAndBaths
    }

    fn note(&mut self, at: Moment, event: LogEntry) {
        self.0.note(at, &event);
        self.1.note(at, event);
    }
}

/// The definition that is followed event by event is that of the figures.
#[test]
fn sound_is_sound_with_a_record_and_without() {
    let (mut sound, mut harmed) = (0, 0);
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let any = crate::random_shop::any_shop();
    let shops = (0..60).map(|_| any.new_tree(&mut runner).unwrap().current());
    let shops: Vec<Shop> = shops.collect();
    let cold = [text(78, "plain steel", ""), text(95, "plain steel", "")];
    for shop in shops.into_iter().chain(cold.iter().map(|t| read(t))) {
        let mut seen = Follows(Soundness::new(&shop), Record::default());
        Line::new(&shop).run(Some(Streams::new(1, 0)), &mut seen);
        for order in Figures::of(&shop, &seen.1)
            .orders
            .iter()
            .filter(|o| o.ready.is_some())
        {
            assert_eq!(
                seen.0.is_sound(OrderNo(order.order.0)),
                order.is_sound(),
                "{}",
                order.id
            );
            *(if order.is_sound() { &mut sound } else { &mut harmed }) += 1;
        }
    }
    assert!(sound > 20 && harmed > 0, "{sound} sound, {harmed} harmed");
}

/// Twenty minutes of oil in one place, and what varies before it: on some days a load waits for it too long.
fn sometimes_bare() -> String {
    let one = text(95, "plain steel", ", within: 10 min").replace("for: 20 min", "for: 10 to 90 min");
    let two = "{id: N, part: nut, count: 60, route: r, due: 16:00}, {id: M, part: nut, count: 60, route: r, due: 16:30}";
    // Behind a step that says itself what it comes after, and no time, no place is looked for.
    let one = one.replace("kind: rest,", "kind: rest, after: coat,");
    one.replace("{id: N, part: nut, count: 60, route: r, due: 16:00}", two) + "rules: {combine: never}\n"
}

#[test]
fn what_happens_on_some_days_is_said() {
    let home = home();
    std::fs::write(home.path().join("bare.yaml"), sometimes_bare()).unwrap();
    let run = |words_: &[&str]| tankday(&[&["run", "bare.yaml"], words_].concat(), home.path());
    let shop = read(&sometimes_bare());
    let study = Study::of(&shop, 1, 40, |luck| day(&shop, Some(luck)));
    let bare = study.days.iter().filter(|d| !d.bare.is_empty()).count();
    assert!(bare > 0 && bare < 40, "{bare}");
    let said = words(&run(&["--replications", "40"]).stdout);
    let should = format!("On {bare} of 40 days: work lies bare too long.");
    assert!(said.contains(&should), "{should}\n{said}");
    let data: serde_json::Value =
        serde_json::from_slice(&run(&["--replications", "40", "--json"]).stdout).unwrap();
    let told = data["on_some_days"].as_array().unwrap();
    let told = told.iter().find(|s| s["code"] == "lies-bare").unwrap();
    assert_eq!((&told["days"], &told["of"]), (&bare.into(), &40.into()));
}

#[test]
fn one_simulated_day_says_nothing_of_chances() {
    let home = home();
    let run = |more: &[&str]| {
        tankday(
            &[&["run", "mixed-day.yaml", "--replications", "1"], more].concat(),
            home.path(),
        )
    };
    let said = words(&run(&[]).stdout);
    assert!(
        said.contains("one simulated day: it says nothing about chances"),
        "{said}"
    );
    for chance in [
        "of 100 days",
        "orders safe",
        "nine days in ten",
        "9 in 10",
        "probably",
    ] {
        assert!(!said.contains(chance), "`{chance}` in\n{said}");
    }
    let data: serde_json::Value = serde_json::from_slice(&run(&["--json"]).stdout).unwrap();
    assert!(
        data["orders"]
            .as_array()
            .unwrap()
            .iter()
            .all(|o| o.get("on_time_chance").is_none())
    );
    let out = run(&["--out", "out"]);
    assert!(out.status.code().is_some_and(|c| c < 2), "{}", words(&out.stderr));
    let page = std::fs::read_to_string(home.path().join("out/report.html")).unwrap();
    for chance in ["of 100 days", "ine in ten", "orders safe"] {
        assert!(!page.contains(chance), "`{chance}` on the page");
    }
}

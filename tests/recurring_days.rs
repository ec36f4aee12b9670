//! Days that come again every week: what they mean, held against days that are written one by one.

use crate::audited::assert_sound;
use crate::kept_cases::keeping;
use jiff::civil::{Date, date};
use proptest::prelude::*;
use tankday::line::Line;
use tankday::record::{LogEntry, Record};
use tankday::scenario::{self, Draft, File, Scenario};
use tankday::shop::{Arrival, Break, Day};
use tankday::units::{Moment, Span};

/// A shop with an order, its days put in.
fn text(days: &str, order: &str) -> String {
    format!(
        "tankday: 1
shop: {{hands: 1}}
days: {days}
baths: {{mn: {{coat: {{time: 15 min}}}}}}
tanks: [{{name: tank, bath: mn, inside: 40 cm x 30 cm x 30 cm, fill: 20 L, heater: {{power: 3 kW}}}}]
stations: [{{name: sink}}, {{name: oil pan}}]
parts: {{nut: {{mass: 8 g, area: 9 cm2}}}}
routes:
  r:
    - {{do: degrease, at: sink, for: 6 min}}
    - {{do: coat, in: mn}}
    - {{do: rinse, at: sink, for: 1 min}}
    - {{do: oil, at: oil pan, for: 20 min, or: overnight}}
orders: {order}
"
    )
}

/// What such a shop means.
fn read(days: &str, order: &str) -> Scenario {
    scenario::read("shop", &text(days, order)).unwrap_or_else(|f| panic!("{days}: {}", f.render(false)))
}

const NUTS: &str = "[{id: N, part: nut, count: 60, route: r}]";

/// Opening, closing and breaks of a day in hours since the first midnight.
type Hours = (f64, f64, Vec<(f64, f64)>);

fn hours(days: &[Day]) -> Vec<Hours> {
    let at = |b: &Break| (b.from.in_hours(), b.until.in_hours());
    let one = |d: &Day| {
        (
            d.open.in_hours(),
            d.close.in_hours(),
            d.breaks.iter().map(at).collect(),
        )
    };
    days.iter().map(one).collect()
}

#[test]
fn a_week_that_comes_again_is_its_days_one_by_one() {
    let again = read(
        "{every: [Tue 16:30 to 21:00, Sat 08:00 to 14:00], from: 2026-03-09, for: 3 weeks, except: [2026-03-14]}",
        NUTS,
    );
    let stated = read(
        "[{date: 2026-03-10, open: 16:30, close: 21:00}, {date: 2026-03-17, open: 16:30, close: 21:00}, \
          {date: 2026-03-21, open: 08:00, close: 14:00}, {date: 2026-03-24, open: 16:30, close: 21:00}, \
          {date: 2026-03-28, open: 08:00, close: 14:00}]",
        NUTS,
    );
    assert_eq!(again.shop, stated.shop);
    assert_eq!(again.warnings.render(false), stated.warnings.render(false));
    let until = read(
        "{every: [Tuesday 4:30 pm to 9 pm, {at: Saturday 8 am to 2 pm}], from: 2026-03-09, until: 2026-03-28, except: 2026-03-14}",
        NUTS,
    );
    assert_eq!(until.shop, stated.shop);
}

/// Two windows of a day are one day with a break; its other breaks lie in the windows.
#[test]
fn between_two_windows_of_a_day_is_a_break() {
    for stays in ["no", "yes"] {
        let windows = read(
            &format!(
                "{{every: [Sat 08:00 to 12:00, Sat 14:30 to 18:00], from: 2026-03-14, for: 1 day, \
                  breaks: [10:00 to 10:15, 16:00 to 16:15], stays: {stays}}}"
            ),
            NUTS,
        );
        let breaks = format!("[10:00 to 10:15, {{at: 12:00 to 14:30, stays: {stays}}}, 16:00 to 16:15]");
        let one = read(
            &format!("[{{date: 2026-03-14, open: 08:00, close: 18:00, breaks: {breaks}, stays: {stays}}}]"),
            NUTS,
        );
        assert_eq!(windows.shop, one.shop);
    }
}

/// A break is one of those days only whose hours it lies in.
#[test]
fn a_break_belongs_to_the_days_whose_hours_hold_it() {
    let days = read(
        "{every: [Tue 16:30 to 21:00, Sat 08:00 to 14:00], from: 2026-03-10, for: 1 week, breaks: [18:30 to 18:45]}",
        NUTS,
    );
    let expected = [(16.5, 21.0, vec![(18.5, 18.75)]), (104.0, 110.0, vec![])];
    assert_eq!(hours(&days.shop.calendar.days), expected);
}

/// Times without a date are of the first day that is open, as `day 2` is the second.
#[test]
fn times_count_from_the_first_day_that_is_open() {
    let days = "[{every: [Wed and Thu 08:00 to 16:00], from: 2026-03-09, for: 1 week}, {every: [Fri to Mon 09:00 to 12:00], for: 2 weeks}]";
    let due = |due: &str| {
        let shop = read(
            days,
            &format!("[{{id: N, part: nut, count: 6, route: r, due: {due}}}]"),
        )
        .shop;
        (shop.calendar.days[0].open + shop.orders[0].due_after.unwrap()).in_hours()
    };
    assert_eq!(read(days, NUTS).shop.calendar.first, date(2026, 3, 11));
    assert_eq!(due("15:00"), 15.0);
    assert_eq!(due("day 2 15:00"), 24.0 + 15.0);
    assert_eq!(due("day 3 11:00"), 5.0 * 24.0 + 11.0);
    assert_eq!(due("Sat 4:30 pm"), 3.0 * 24.0 + 16.5);
}

/// Hands are those of the day or of the window, else those of the shop; never are more at work than are there.
#[test]
fn hands_come_by_day_and_by_window() {
    let orders = "[{id: N, part: nut, count: 1500, route: r}, {id: M, part: nut, count: 1500, route: r, arrives: day 2 08:00}, \
                   {id: K, part: nut, count: 300, route: r, arrives: Sat 14:00}]";
    let days = "[{date: 2026-03-13, open: 08:00, close: 14:00}, \
                {every: [{at: Sat 08:00 to 12:00, hands: 2}, Sat 13:00 to 18:00], from: 2026-03-14, for: 1 day}, \
                {date: 2026-03-16, open: 08:00, close: 18:00, hands: 3}]";
    let shop = read(days, orders).shop;
    let here: Vec<u32> = [9.0, 24.0 + 9.0, 24.0 + 14.0, 72.0 + 9.0]
        .map(|h| shop.hands_at(Moment::ZERO + Span::hours(h)))
        .into();
    assert_eq!((shop.hands, here), (3, vec![1, 2, 1, 3]));
    let mut record = Record::default();
    Line::new(&shop).run(None, &mut record);
    assert_sound(&shop, &record);
    let (mut busy, mut most) = (0u32, [0u32; 4]);
    for entry in &record.entries {
        match entry.event {
            LogEntry::HandsTake { .. } => busy += 1,
            LogEntry::HandsFree { .. } => busy -= 1,
            _ => {}
        }
        let h = entry.at.in_hours();
        let window = [h < 24.0, h < 37.0, h < 72.0, true]
            .iter()
            .position(|w| *w)
            .unwrap();
        if matches!(entry.event, LogEntry::HandsTake { .. }) {
            most[window] = most[window].max(busy);
        }
    }
    assert_eq!(most[..3], [1, 2, 1]);
    let mut fewer = shop.clone();
    fewer.calendar.crews.iter_mut().for_each(|c| c.hands = 1);
    let faults = tankday::audit::check(&fewer, &record);
    assert!(
        faults
            .iter()
            .any(|f| f.text.contains("2 pairs of hands are at work where 1 are there")),
        "{faults:?}"
    );
}

/// Hands that are paid to closing are paid for as many as are there: 6 h of one, 4 h of two, 5 h of one.
#[test]
fn hands_are_paid_where_they_are() {
    let days = "[{date: 2026-03-13, open: 08:00, close: 14:00}, \
                {every: [{at: Sat 08:00 to 12:00, hands: 2}, Sat 13:00 to 18:00], from: 2026-03-14, for: 1 day}]";
    let orders = "[{id: N, part: nut, count: 60, route: r}, {id: M, part: nut, count: 60, route: r, arrives: day 2 08:00}]";
    let with = text(days, orders).replace(
        "shop: {hands: 1}",
        "shop: {hands: 1, hands paid: to closing, prices: {hands: 10 per h}}",
    );
    let shop = scenario::read("shop", &with).unwrap().shop;
    let mut record = Record::default();
    Line::new(&shop).run(None, &mut record);
    assert_sound(&shop, &record);
    let figures = tankday::record::Figures::of(&shop, &record);
    assert!(
        (figures.cost.hands - 10.0 * (6.0 + 2.0 * 4.0 + 5.0)).abs() < 1e-6,
        "{}",
        figures.cost.hands
    );
}

/// Days that are written out are read again as they were.
#[test]
fn days_written_out_are_read_again() {
    for days in [
        "{every: [{at: Sat 08:00 to 12:00, hands: 2}, Sat 13:00 to 24:00], from: 2026-03-09, for: 2 weeks, breaks: [{at: 10:00 to 10:15, stays: yes}]}",
        "[{date: 2026-03-13, open: 08:00, close: 14:00, hands: 4}, {every: [Tue and Thu 4 pm to 9 pm], until: 2026-03-28}]",
        "{every: [Mon to Fri 17:00 to 21:00], from: 2026-03-02, for: 2 weeks, except: [2026-03-04], stays: yes}",
    ] {
        let file = File {
            name: "shop".to_owned(),
            id: "shop".to_owned(),
            text: text(days, NUTS),
        };
        let mut draft = Draft::open(file, &|_, _| Err("none".to_owned())).unwrap();
        let before = draft.scenario().unwrap().shop;
        draft.write_days(&before);
        let again = scenario::read("shop", &draft.text()).unwrap_or_else(|f| panic!("{}", f.render(false)));
        assert_eq!(
            (again.shop.hands, &again.shop.calendar.days),
            (before.hands, &before.calendar.days)
        );
        for day in &before.calendar.days {
            assert_eq!(again.shop.crews_of(day), before.crews_of(day));
        }
    }
}

/// An order of every Monday is one order for each Monday, with its own due time.
#[test]
fn an_order_comes_every_monday() {
    let days = "{every: [Mon 16:00 to 21:00, Thu 09:00 to 21:00], from: 2026-03-09, for: 3 weeks, except: [2026-03-16]}";
    let comes = |arrives: &str, due: &str| -> Vec<(String, String, String)> {
        let order = format!("[{{id: N, part: nut, count: 6, route: r, arrives: {arrives}{due}}}]");
        let shop = read(days, &order).shop;
        let at = |o: &tankday::shop::Order| match o.arrival {
            Arrival::At(at) => at,
            Arrival::Every { .. } => panic!("a stream"),
        };
        let say = |at: Moment| shop.calendar.local_time(at)[..16].to_owned();
        let one = |o: &tankday::shop::Order| {
            let due = o.due_after.map(|d| say(at(o) + d));
            (o.id.clone(), say(at(o)), due.unwrap_or_default())
        };
        shop.orders.iter().map(one).collect()
    };
    let row = |a: &str, b: &str, c: &str| (a.to_owned(), b.to_owned(), c.to_owned());
    assert_eq!(
        comes("every Monday", ", due: Thursday 18:00"),
        [
            row("N 1", "2026-03-09T16:00", "2026-03-12T18:00"),
            row("N 2", "2026-03-23T16:00", "2026-03-26T18:00"),
        ]
    );
    assert_eq!(
        comes("every Mon and Thu 17:00", ", due: 8:30 pm"),
        [
            row("N 1", "2026-03-09T17:00", "2026-03-09T20:30"),
            row("N 2", "2026-03-12T17:00", "2026-03-12T20:30"),
            row("N 3", "2026-03-19T17:00", "2026-03-19T20:30"),
            row("N 4", "2026-03-23T17:00", "2026-03-23T20:30"),
            row("N 5", "2026-03-26T17:00", "2026-03-26T20:30"),
        ]
    );
    // Left at the door on days on which the shop is closed.
    assert_eq!(
        comes("every Wednesday 10:00", ", due: tomorrow 12:00"),
        [
            row("N 1", "2026-03-11T10:00", "2026-03-12T12:00"),
            row("N 2", "2026-03-18T10:00", "2026-03-19T12:00"),
            row("N 3", "2026-03-25T10:00", "2026-03-26T12:00"),
        ]
    );
    assert_eq!(
        comes("every Thu 20:00", ", due: Thu 19:00")[0],
        row("N 1", "2026-03-12T20:00", "2026-03-19T19:00")
    );
}

/// Two windows of a day are gone through as any day: loads are out, heaters off and lids on between them, says the audit.
#[test]
fn days_that_come_again_are_worked_and_audited() {
    let orders = "[{id: N, part: nut, count: 900, route: r}, {id: M, part: nut, count: 300, route: r, arrives: Sat 11:20}]";
    let read = read(
        "{every: [Tue 18:00 to 19:30, Sat 08:00 to 12:00, Sat 15:30 to 18:00], from: 2026-03-09, for: 2 weeks}",
        orders,
    );
    let mut record = Record::default();
    let outcome = Line::new(&read.shop).run(None, &mut record);
    assert_sound(&read.shop, &record);
    assert_eq!((outcome.unfinished, outcome.orders), (0, 2));
}

const NAMES: [&str; 7] = ["Mon", "Tuesday", "Wed", "thu", "Friday", "Sat", "Sunday"];

/// What the words mean, day by day.
fn day_by_day(windows: &[(usize, i64, i64)], from: Date, days: i64, except: &[i64]) -> Vec<(Date, i64, i64)> {
    let mut all = Vec::new();
    for day in (0..days).filter(|d| !except.contains(d)) {
        let date = from.checked_add(jiff::Span::new().days(day)).unwrap();
        let weekday = date.weekday().to_monday_zero_offset() as usize;
        let mut open: Vec<_> = windows.iter().filter(|w| w.0 == weekday).collect();
        open.sort_by_key(|w| w.1);
        all.extend(open.into_iter().map(|w| (date, w.1, w.2)));
    }
    all
}

proptest! {
    #![proptest_config(keeping(200))]

    /// Any windows, apart from each other, any stretch of days, any dates left out.
    #[test]
    fn recurring_days_are_what_the_words_mean(
        on in prop::collection::vec((0usize..7, 6i64..12, 1i64..5), 1..5),
        again in prop::collection::vec((0usize..7, 18i64..21, 1i64..4), 0..3),
        start in 0i64..400, days in 7i64..40, except in prop::collection::vec(0i64..40, 0..4),
    ) {
        let mut windows: Vec<(usize, i64, i64)> = Vec::new();
        for (day, open, long) in on.into_iter().chain(again) {
            let (open, close) = (open * 60, (open + long) * 60);
            if !windows.iter().any(|w| w.0 == day && w.1 <= close && open <= w.2) {
                windows.push((day, open, close));
            }
        }
        let from = date(2026, 1, 1).checked_add(jiff::Span::new().days(start)).unwrap();
        let expected = day_by_day(&windows, from, days, &except);
        prop_assume!(!expected.is_empty());
        let clock = |m: i64| format!("{:02}:{:02}", m / 60, m % 60);
        let every: Vec<String> = windows
            .iter()
            .map(|w| format!("{} {} to {}", NAMES[w.0], clock(w.1), clock(w.2)))
            .collect();
        let out: Vec<String> = except
            .iter()
            .map(|d| from.checked_add(jiff::Span::new().days(*d)).unwrap().to_string())
            .collect();
        let text = format!(
            "{{every: [{}], from: {from}, for: {days} days, except: [{}]}}", every.join(", "), out.join(", ")
        );
        let calendar = read(&text, NUTS).shop.calendar;
        prop_assert_eq!(calendar.first, expected[0].0);
        let mut found: Vec<(Date, i64, i64)> = Vec::new();
        for day in &calendar.days {
            let midnight = day.open - day.open.day_and_time().1;
            let minutes = |at: Moment| ((at - midnight).in_micros()) / Span::whole_minutes(1).in_micros();
            let mut since = day.open;
            for pause in &day.breaks {
                found.push((calendar.date(day.open), minutes(since), minutes(pause.from)));
                since = pause.until;
            }
            found.push((calendar.date(day.open), minutes(since), minutes(day.close)));
        }
        prop_assert_eq!(found, expected);
    }
}

/// `check` says when a shop of several days is open, and what becomes of hot baths between two windows.
#[test]
fn check_says_when_the_shop_is_open() {
    let home = tempfile::tempdir().unwrap();
    let days = "{every: [Tue and Thu 16:30 to 21:00, Sat 08:00 to 12:00, Sat 13:00 to 24:00], from: 2026-03-09, for: 2 weeks, except: [2026-03-12]}";
    std::fs::write(home.path().join("shop.yaml"), text(days, NUTS)).unwrap();
    let out = crate::command_line::run(&["check", "shop.yaml"], home.path());
    let said = crate::command_line::text(&out.stdout);
    for line in [
        "open Tue and Thu 16:30 to 21:00 (3 days) and Sat 08:00 to 24:00 with a break 12:00 to 13:00 (2 days); \
         2026-03-10 to 2026-03-21",
        "between two windows of a day: loads out, heaters off, lids on",
    ] {
        assert!(said.contains(line), "{said}");
    }
}

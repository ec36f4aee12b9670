//! Days that come again every week: what they mean, held against days that are written one by one.

use crate::audited::assert_sound;
use crate::kept_cases::keeping;
use jiff::civil::{Date, date};
use proptest::prelude::*;
use tankday::line::Line;
use tankday::record::Record;
use tankday::scenario::{self, Scenario};
use tankday::shop::{Break, Day};
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

/// Opening, closing and breaks of each day in hours since the first midnight.
fn hours(days: &[Day]) -> Vec<(f64, f64, Vec<(f64, f64)>)> {
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

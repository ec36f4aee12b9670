//! Orders that come on every such weekday: known before, so each is an order of its own, planned and promised as any other.

use super::calendar::Hours;
use super::finding::{Code, Finding};
use super::node::Spanned;
use super::time::When;
use super::walk::Walk;
use super::week_hours::WeekTime;
use super::written::{Arrives, File, MOST_ORDERS, Order};
use jiff::civil::Date;
use tankday_base::units::Span;

/// Writes every such order out, one for each date on which it comes.
pub(super) fn write_out(file: &mut File, hours: Option<&Hours>, walk: &mut Walk) {
    let weekly = |o: &Order| matches!(o.arrives, Some(Arrives::Weekly(_)));
    let Some(hours) = hours.filter(|_| file.orders.iter().any(weekly)) else {
        return;
    };
    let mut all = Vec::with_capacity(file.orders.len());
    for order in std::mem::take(&mut file.orders) {
        match &order.arrives {
            Some(Arrives::Weekly(week)) => all.extend(each(&order, *week, hours, walk)),
            _ => all.push(order),
        }
        if all.len() > MOST_ORDERS {
            let finding = Finding::error(Code::Limit, walk_place(&all));
            walk.add(finding.says(format!("more than the {MOST_ORDERS} orders that are read")));
            all.truncate(MOST_ORDERS);
            break;
        }
    }
    file.orders = all;
}

fn walk_place(all: &[Order]) -> super::node::SourceSpan {
    all.last().map(|o| o.places.at).unwrap_or_default()
}

/// One order for each date.
fn each(order: &Order, week: Spanned<WeekTime>, hours: &Hours, walk: &mut Walk) -> Vec<Order> {
    let dates = dates(week.value, hours);
    if dates.is_empty() {
        walk.add(never_comes(week));
    }
    let id = order.id.as_ref().map_or("", |id| id.value.as_str());
    let mut all = Vec::with_capacity(dates.len());
    for (n, (date, time)) in (1..).zip(dates) {
        let due = match order.due.as_ref() {
            None => None,
            Some(due) => match due_on(due.value, date, time) {
                Some(due) => Some(due),
                None => {
                    walk.add(due_at_one_time(due, week));
                    return Vec::new();
                }
            },
        };
        all.push(order.once(format!("{id} {n}"), When::Dated(date, time), due));
    }
    all
}

fn never_comes(week: Spanned<WeekTime>) -> Finding {
    let (message, help) = match week.value.time {
        Some(_) => (
            "no such weekday lies in these days",
            "write a weekday between the first day and the last closing",
        ),
        None => (
            "the shop opens on none of these weekdays",
            "write the time at which the order comes, as in `every Monday 17:00`",
        ),
    };
    Finding::new(Code::Order, week.at, message)
        .label("never comes")
        .help(help)
}

fn due_at_one_time(due: &Spanned<When>, week: Spanned<WeekTime>) -> Finding {
    Finding::error(Code::Order, due.at)
        .says("orders that come every week cannot all be due at one time")
        .label("one time for all")
        .and(week.at, "every week")
        .help("write `due: 20:30` for the same day, `due: tomorrow 12:00`, `due: Friday 16:00`, or `due after: 4 h`")
}

/// When such an order comes: on the dates on which the shop opens; where it opens on no such weekday, on each such date, as
/// work is left at the door. Opening where no time is written.
fn dates(week: WeekTime, hours: &Hours) -> Vec<(Date, Span)> {
    let days = &hours.calendar.days;
    let weekday = |date: Date| usize::try_from(date.weekday().to_monday_zero_offset()).unwrap_or(0);
    let open = |day: &tankday_base::shop::Day| (hours.calendar.date(day.open), day.open.day_and_time().1);
    let last = hours.last_closing().or(hours.watched_until).unwrap_or_default();
    let mut all = Vec::new();
    for asked in (0..7).filter(|d| week.on.get(*d) == Some(&true)) {
        let opens = days.iter().map(open).filter(|(date, _)| weekday(*date) == asked);
        let before = all.len();
        if hours.watched_until.is_none() {
            all.extend(opens.map(|(date, opening)| (date, week.time.unwrap_or(opening))));
        }
        if all.len() > before {
            continue;
        }
        let Some(time) = week.time else { continue };
        let from = (7 + asked - weekday(hours.calendar.first)) % 7;
        let mut day = from as i64;
        while super::calendar::midnight(day) + time < last && all.len() <= MOST_ORDERS {
            all.push((hours.calendar.date(super::calendar::midnight(day)), time));
            day += 7;
        }
    }
    all.sort_unstable();
    all
}

/// When an order of a date is due; none where that names one date for all.
fn due_on(due: When, date: Date, comes: Span) -> Option<When> {
    let ahead = |days: i32| date.saturating_add(jiff::Span::new().days(days));
    Some(match due {
        When::First(time) => When::Dated(date, time),
        When::Tomorrow(time) => When::Dated(ahead(1), time),
        When::On(weekday, time) => {
            let days = i32::from(date.weekday().until(weekday));
            let same = days == 0 && time <= comes;
            When::Dated(ahead(if same { 7 } else { days }), time)
        }
        When::Opening
        | When::Opens(_)
        | When::Closes(_)
        | When::Nth(..)
        | When::Said(..)
        | When::Dated(..) => return None,
    })
}

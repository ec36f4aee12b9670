//! Care that the clock calls for: whether it ends on the day on which it is called for.

use super::Facts;
use super::bath::celsius;
use super::warms::Warm;
use crate::finding::{Code, Finding};
use crate::node::Spanned;
use crate::written::Act;
use tankday_base::print::{how_long, list};
use tankday_base::shop::{Arrival, Chore, Day, HeatOff, Settle, Shop, Stop, Trigger};
use tankday_base::units::{Moment, Quantity, Span, Temperature, Volume};

/// What care takes at the least, in words, and the temperature that the bath must have first, if it is warmed for it.
struct Takes {
    what: &'static str,
    time: Span,
    warm: Option<Temperature>,
    /// Whether a night may lie in it: what cools and settles goes on by itself.
    overnight: bool,
}

/// None for care whose hands' time is looked at elsewhere.
fn takes(chore: &Chore, fill: Volume) -> Option<Takes> {
    match *chore {
        Chore::Condition { at, stays, takes, .. } => Some(Takes {
            what: "wool takes",
            time: stays + takes,
            warm: Some(at),
            overnight: false,
        }),
        Chore::Stop(stop) if stop.into.is_none() => Some(Takes {
            what: if stop.filtered {
                "settling, decanting and filling back take at the least"
            } else {
                "settling and decanting take at the least"
            },
            time: stop_takes(&stop, fill),
            warm: None,
            overnight: true,
        }),
        Chore::Renew { takes, .. } => Some(Takes {
            what: "it takes",
            time: takes,
            warm: None,
            overnight: true,
        }),
        Chore::Replenish { .. } | Chore::Trim { .. } | Chore::Stop(_) => None,
    }
}

/// Settling and pouring of a stop, the least of it: how long the bath cools and the filter runs is left out.
fn stop_takes(stop: &Stop, fill: Volume) -> Span {
    let settles = match stop.settle {
        Settle::For(time) => time,
        Settle::ClearTo(_) => Span::ZERO,
    };
    let poured = fill.base() * (2.0 - stop.heel.in_fraction());
    let set_up = if stop.filtered { stop.set_up } else { Span::ZERO };
    settles + set_up + Span::seconds(poured / stop.pour.base())
}

/// The moment of a time of day on a day.
fn at(day: &Day, time: Span) -> Moment {
    day.open - day.open.day_and_time().1 + time
}

/// The stretches of a day from a moment on in which somebody is there; without end where somebody stays after closing.
fn stretches(day: &Day, from: Moment) -> Vec<(Moment, Moment)> {
    let mut since = from;
    let mut all = Vec::new();
    for pause in day.breaks.iter().filter(|b| !b.stays && b.until > from) {
        all.push((since, pause.from));
        since = pause.until;
    }
    all.push((since, if day.stays { Moment::NEVER } else { day.close }));
    all.retain(|s| s.0 < s.1);
    all
}

/// Whether a bath is cold for sure at a moment: no order has come by then, and heaters are on for work only.
fn is_cold(shop: &Shop, at: Moment) -> bool {
    let later = |arrival: &Arrival| matches!(arrival, Arrival::At(comes) if *comes > at);
    shop.rules.heat.off == HeatOff::AfterLast && shop.orders.iter().all(|o| later(&o.arrival))
}

/// Every clock time of a rule at which it does not end that day.
pub(super) fn found(act: &Act, tanks: &[Warm], shop: &Shop) -> Vec<Finding> {
    let Some(chore) = act.chore.as_ref().filter(|_| act.written) else {
        return Vec::new();
    };
    let smallest = tanks.iter().map(|w| w.tank.fill);
    let fill = smallest.reduce(|a, b| if b.base() < a.base() { b } else { a });
    let Some(takes) = fill.and_then(|fill| takes(chore, fill)) else {
        return Vec::new();
    };
    let late = |t: &Spanned<Trigger>| too_late(act, &takes, t, tanks, shop);
    act.when.iter().filter_map(late).collect()
}

fn too_late(
    act: &Act,
    takes: &Takes,
    trigger: &Spanned<Trigger>,
    tanks: &[Warm],
    shop: &Shop,
) -> Option<Finding> {
    let Trigger::Clock(time) = trigger.value else {
        return None;
    };
    let warms = takes
        .warm
        .map(|to| tanks.iter().filter_map(|w| w.takes(to)).min());
    let warms = warms.unwrap_or(Some(Span::ZERO))?;
    let heard: Vec<&Day> = shop.calendar.days.iter().filter(|d| hears(d, time)).collect();
    let needs = |day: &Day| {
        let cold = is_cold(shop, at(day, time));
        takes.time + if cold { warms } else { Span::ZERO }
    };
    // In a later stretch the bath may be warm already.
    let ends = |day: &Day| {
        let from = at(day, time);
        let mut all = stretches(day, from).into_iter();
        all.any(|s| s.1 - s.0 >= if s.0 == from { needs(day) } else { takes.time })
    };
    let late: Vec<&Day> = heard.iter().filter(|d| !ends(d)).copied().collect();
    let day = late.first()?;
    let again = shop.calendar.days.len() > 1;
    if takes.overnight && (again || day.stays) {
        return None;
    }
    let some = match late.len() == heard.len() {
        true => String::new(),
        false => format!(" on {} of {} days", late.len(), heard.len()),
    };
    let mut message = format!(
        "`{}` at {} doesn't end before closing at {}{some}: {} {}",
        act.name,
        (Moment::ZERO + time).clock(),
        day.close.clock(),
        takes.what,
        how_long(takes.time)
    );
    if let Some(to) = takes.warm.filter(|_| needs(day) > takes.time) {
        message.push_str(&format!(
            ", and the cold bath {} to get to {}",
            how_long(warms),
            celsius(to)
        ));
    }
    let label = match (takes.overnight, again) {
        (true, _) => "never ends",
        (false, true) => "waits until the shop opens again",
        (false, false) => "never happens",
    };
    Some(
        Finding::warning(Code::Time, trigger.at, message)
            .label(label)
            .help(help(day, needs(day))),
    )
}

/// Whether a clock time of a day is heard: within its hours and in no break.
fn hears(day: &Day, time: Span) -> bool {
    let at = at(day, time);
    day.close < Moment::NEVER && day.open <= at && at < day.close
}

/// The latest time that leaves enough of the day, if there is one.
fn help(day: &Day, needs: Span) -> String {
    const STEP: i64 = 5 * 60 * 1_000_000;
    let all = stretches(day, day.open).into_iter().rev();
    let mut latest = all.filter(|s| s.1 - s.0 >= needs).map(|s| s.1 - needs);
    match latest.next() {
        Some(at) => {
            let at = Moment::micros(at.in_micros().div_euclid(STEP) * STEP);
            format!("write `at {}` or earlier", at.max(day.open).clock())
        }
        None => format!("no day has {} for it: write longer hours", how_long(needs)),
    }
}

/// Days on which a rule that the clock calls for isn't called for, where it is on others: the shop isn't open at that time, or has
/// no break.
fn unheard(act: &Act, shop: &Shop) -> Vec<Finding> {
    let one = |trigger: &Spanned<Trigger>| {
        let (when, why): (String, &str) = match trigger.value {
            Trigger::Clock(time) => (
                format!("at {}", (Moment::ZERO + time).clock()),
                "the shop isn't open then",
            ),
            Trigger::AtBreak => ("at the break".to_owned(), "the shop has no break then"),
            _ => return None,
        };
        let heard = |day: &Day| match trigger.value {
            Trigger::Clock(time) => day.close == Moment::NEVER || hears(day, time),
            _ => !day.breaks.is_empty(),
        };
        let days = &shop.calendar.days;
        let not: Vec<&Day> = days.iter().filter(|d| !heard(d)).collect();
        if not.is_empty() || not.len() == days.len() {
            return None;
        }
        let message = format!(
            "`{}` {when} doesn't come on {} of {} days, {}: {why}",
            act.name,
            not.len(),
            days.len(),
            which(shop, &not)
        );
        let help = "add a time at which the shop is open on those days, such as `when: [at 16:00, at 11:30]`; or leave it so";
        Some(
            Finding::warning(Code::Time, trigger.at, message)
                .label("not on every day")
                .help(help),
        )
    };
    act.when.iter().filter_map(one).collect()
}

/// `Sat and Sun` where these days are all such days that the shop opens, `2026-03-07 and 2026-03-14` otherwise, of many the first.
fn which(shop: &Shop, those: &[&Day]) -> String {
    const NAMED: usize = 4;
    let weekday = |day: &Day| shop.calendar.date(day.open).weekday().to_monday_zero_offset();
    let named = |day: &Day| shop.calendar.date(day.open).strftime("%a").to_string();
    let mut on: Vec<(i8, String)> = those.iter().map(|d| (weekday(d), named(d))).collect();
    on.sort_unstable();
    on.dedup();
    let all = shop.calendar.days.iter();
    let alike = all.filter(|d| on.iter().any(|(n, _)| *n == weekday(d))).count();
    if alike == those.len() {
        return list(&on.into_iter().map(|(_, name)| name).collect::<Vec<_>>());
    }
    let mut dates: Vec<String> = those
        .iter()
        .take(NAMED)
        .map(|d| shop.calendar.date(d.open).to_string())
        .collect();
    if those.len() > NAMED {
        dates.push(format!("{} more", those.len() - NAMED));
    }
    list(&dates)
}

/// Whether a rule of care is looked at: one that is found never to fit into a day is not looked at again.
pub(super) fn all(f: &Facts, tanks: &[Warm], shop: &Shop, told: &[Finding]) -> Vec<Finding> {
    let fresh = |act: &&Act| !told.iter().any(|t| t.at == act.at);
    f.acts()
        .filter(fresh)
        .flat_map(|act| {
            let fits = found(act, tanks, shop);
            let not_then = unheard(act, shop);
            fits.into_iter().chain(not_then)
        })
        .collect()
}

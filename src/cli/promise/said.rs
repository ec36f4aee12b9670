//! A promise in words.

use super::Told;
use super::due::Wish;
use super::out_of_reach::MORE_DAYS;
use tankday_base::print::{Replication, count_word, how_long, list, pieces_of};
use tankday_base::shop::{Arrival, Keeping, Order, Shop};
use tankday_base::units::Moment;
use tankday_plan::{Promised, Refused};

/// At most so many orders are named that are not kept.
const NAMED: usize = 5;

/// `today`, `tomorrow`, `on Monday 9 March`.
pub(super) fn day_words(shop: &Shop, at: Moment) -> String {
    let first = shop.calendar.days.first().map_or(0, |d| d.open.day_and_time().0);
    match at.day_and_time().0 - first {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        _ => shop.calendar.date(at).strftime("on %A %-d %B").to_string(),
    }
}

pub(super) fn step_name(found: &Promised, step: tankday_base::shop::StepRef) -> &str {
    &found.shop.step(step).name
}

/// The new order in words: `20 wood screws`.
pub(super) fn what(shop: &Shop) -> String {
    shop.orders.last().map_or(String::new(), |o| {
        let part = shop.parts.get(o.part.index()).map_or("", |p| p.name.as_str());
        pieces_of(o.count, part)
    })
}

/// All that is said of a promise, the answer first.
pub(super) fn sentences(told: &Told<'_>) -> Vec<String> {
    let (found, shop) = (told.found, &told.found.shop);
    if told.out_of_reach {
        return vec![format!(
            "No time can be promised for {}: even alone in the shop, no plan has that ready on the stated days or on the next {}.",
            what(shop),
            count_word(MORE_DAYS)
        )];
    }
    let mut said: Vec<String> = Wish::of(found).map(|w| w.said(told)).into_iter().collect();
    said.push(earliest(told, !said.is_empty()));
    if let Some(usual) = found.usual.filter(|u| found.by.is_some_and(|by| *u < by)) {
        said.push(format!(
            "Usually it is ready at {} {}.",
            usual.clock(),
            day_words(shop, usual)
        ));
    }
    if found.by_rules {
        said.push("The day goes by the shop's own rules then: no plan that was found is better.".to_owned());
    }
    said.extend(refused(found));
    if found.by.is_some() {
        said.extend(blocks(found));
        said.push(of_others(told));
        said.extend(kept_as_they_are(told));
    }
    said
}

/// The earliest time that can be promised, or that none was found.
fn earliest(told: &Told<'_>, wished: bool) -> String {
    let (found, shop) = (told.found, &told.found.shop);
    let each = Replication::of_days(shop.calendar.days.len());
    let Some(by) = found.by else {
        return format!(
            "No time that can be promised for {} with {:.0} % was found in this search, neither on the stated days nor on the next {}.",
            what(shop),
            told.asked.sure.in_percent(),
            count_word(found.more_days)
        );
    };
    let days = pieces_of(found.days, each.one());
    let (clock, day, kept) = (by.clock(), day_words(shop, by), found.kept);
    match wished {
        true => {
            format!("The earliest that can be promised is {clock} {day}: ready by then on {kept} of {days}.")
        }
        false => format!(
            "{} can be promised for {clock} {day}: ready by then on {kept} of {days}.",
            what(shop)
        ),
    }
}

/// Why the days stated won't do.
fn refused(found: &Promised) -> Option<String> {
    let refused = found.refused.filter(|_| found.more_days > 0)?;
    Some(match refused {
        Refused::NotReady(Some(step)) => format!(
            "On the stated days none was found: it does not get past {} in time.",
            step_name(found, step)
        ),
        Refused::NotReady(None) => {
            "On the stated days none was found: it is not ready in time on enough of them.".to_owned()
        }
        Refused::Pushes(order) => {
            let id = found
                .shop
                .orders
                .get(order as usize)
                .map_or("", |o| o.id.as_str());
            format!("On the stated days none was found: {id} would be kept less often.")
        }
    })
}

/// What it waits for longest.
fn blocks(found: &Promised) -> Option<String> {
    let (step, why, span) = found.blocked?;
    Some(format!(
        "What blocks it most is {}: {} waiting for {}.",
        step_name(found, step),
        how_long(span),
        why.words()
    ))
}

/// Whether the other orders of the day are kept at all: that they are so as often as without the new one says nothing of it.
fn kept_as_they_are(told: &Told<'_>) -> Option<String> {
    let found = told.found;
    let each = Replication::of_days(found.shop.calendar.days.len());
    let due = |o: &&Order| o.due_after.is_some() && matches!(o.arrival, Arrival::At(_));
    let all = found.shop.orders.iter().zip(&found.others);
    let all: Vec<(&Order, u32)> = all
        .filter(|(o, _)| due(o))
        .map(|(o, (_, with))| (o, *with))
        .collect();
    let least = told.asked.least_days() as u32;
    let late = || all.iter().filter(|(_, kept)| *kept < least);
    let days = pieces_of(found.days, each.one());
    if all.is_empty() {
        return None;
    }
    if late().count() == 0 {
        let worst = all.iter().map(|(_, kept)| *kept).min().unwrap_or_default();
        let each = if all.len() == 1 {
            "The one with a due time is"
        } else {
            "Each one with a due time is"
        };
        return Some(format!("{each} on time on at least {worst} of {days}."));
    }
    let one = |(o, kept): &(&Order, u32)| format!("{} on only {kept}", o.id);
    let mut named: Vec<String> = late().take(NAMED).map(one).collect();
    match late().count() {
        many if many > NAMED => named.push(format!("{} more", many - NAMED)),
        _ => {}
    }
    Some(format!(
        "But not all of them are kept: of {days}, {}.",
        list(&named)
    ))
}

/// What becomes of the other orders: days on which they are kept, and then what these do not say.
fn of_others(told: &Told<'_>) -> String {
    let found = told.found;
    let worse = told
        .others
        .iter()
        .filter_map(|o| o.worse(&found.shop, found.days));
    let worse: Vec<String> = worse.collect();
    let kept = kept(found);
    match worse.is_empty() {
        true => format!("{kept}."),
        false => format!("{kept}. But {}.", list(&worse)),
    }
}

/// On how many days the other orders are kept.
fn kept(found: &Promised) -> String {
    let each = Replication::of_days(found.shop.calendar.days.len());
    let fewer: Vec<String> = found
        .others
        .iter()
        .zip(&found.shop.orders)
        .filter(|((before, with), _)| with < before)
        .map(|((before, with), o)| {
            format!("{} on {} instead of {before}", o.id, pieces_of(*with, each.one()))
        })
        .collect();
    if fewer.is_empty() {
        let own = |plan: &tankday_line::Plan| plan.keeping == Keeping::OwnRules;
        return match found.plan.as_ref().is_some_and(own) {
            true => "All other orders are on time as often as these rules keep them without it".to_owned(),
            false => "All other orders are on time as often as without it".to_owned(),
        };
    }
    format!(
        "All other orders are on time as often as without it, within 2 of 100 {}: {}",
        each.many(),
        fewer.join(", ")
    )
}

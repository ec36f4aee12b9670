//! What `tankday check` says of the days: when the shop is open, and what becomes of hot baths in between.

use super::check::counted;
use tankday_base::print::list;
use tankday_base::shop::{Day, Shop};
use tankday_base::units::Moment;

const WEEKDAYS: [&str; 7] = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
/// Most kinds of days that are listed.
const MOST: usize = 8;

/// Days with the same hours: their hours in words, how many they are, and on which weekdays.
struct Alike {
    hours: String,
    days: usize,
    on: [bool; 7],
}

/// When a shop of several days is open, and what a break means; nothing for one day and for a shop that never closes.
pub(super) fn lines(shop: &Shop) -> String {
    let days = &shop.calendar.days;
    let (Some(first), Some(last)) = (days.first(), days.last()) else {
        return String::new();
    };
    if days.len() < 2 || last.close == Moment::NEVER {
        return String::new();
    }
    let alike = alike(shop);
    let mut all: Vec<String> = alike.iter().take(MOST).map(words).collect();
    if alike.len() > MOST {
        all.push("other hours on other days".to_owned());
    }
    let date = |day: &Day| shop.calendar.date(day.open);
    let mut text = format!("  open {}; {} to {}\n", list(&all), date(first), date(last));
    if days.iter().flat_map(|d| &d.breaks).any(|b| !b.stays) {
        text.push_str("  in a break that nobody stays for, as between two windows of a day: loads out, heaters off, lids on\n");
    }
    text
}

fn alike(shop: &Shop) -> Vec<Alike> {
    let mut all: Vec<Alike> = Vec::new();
    for day in &shop.calendar.days {
        let hours = format!("{}{}", hours(day), hands(shop, day));
        let weekday = shop.calendar.date(day.open).weekday().to_monday_zero_offset();
        let at = all.iter().position(|a| a.hours == hours).unwrap_or_else(|| {
            all.push(Alike {
                hours,
                days: 0,
                on: [false; 7],
            });
            all.len() - 1
        });
        let Some(alike) = all.get_mut(at) else { continue };
        alike.days += 1;
        if let Some(on) = usize::try_from(weekday).ok().and_then(|d| alike.on.get_mut(d)) {
            *on = true;
        }
    }
    all
}

/// `08:00 to 16:00 with breaks 10:00 to 10:15 and 12:00 to 12:30`.
fn hours(day: &Day) -> String {
    let from_to = |from: Moment, until: Moment| format!("{} to {}", from.clock(), end(from, until));
    let breaks: Vec<String> = day.breaks.iter().map(|b| from_to(b.from, b.until)).collect();
    let open = from_to(day.open, day.close);
    match breaks.as_slice() {
        [] => open,
        [one] => format!("{open} with a break {one}"),
        _ => format!("{open} with breaks {}", list(&breaks)),
    }
}

/// How many pairs of hands there are, where that is not always the same.
fn hands(shop: &Shop, day: &Day) -> String {
    let mut all: Vec<u32> = shop.crews_of(day).iter().map(|c| c.hands).collect();
    all.dedup();
    let all: Vec<String> = all.iter().map(u32::to_string).collect();
    match all.as_slice() {
        [] => String::new(),
        [one] if one == "1" => ", 1 pair of hands".to_owned(),
        _ => format!(", {} pairs of hands", all.join(", then ")),
    }
}

/// The end of a day is 24:00.
fn end(from: Moment, until: Moment) -> String {
    match from.day_and_time().0 == until.day_and_time().0 {
        true => until.clock(),
        false => "24:00".to_owned(),
    }
}

fn words(alike: &Alike) -> String {
    format!(
        "{} {} ({})",
        weekdays(&alike.on),
        alike.hours,
        counted(alike.days, "day")
    )
}

/// `Mon to Fri`, `Tue and Thu`.
fn weekdays(on: &[bool; 7]) -> String {
    let on = WEEKDAYS
        .iter()
        .enumerate()
        .filter(|(d, _)| on.get(*d) == Some(&true));
    let all: Vec<(usize, &str)> = on.map(|(d, name)| (d, *name)).collect();
    match (all.first(), all.last()) {
        (Some((from, first)), Some((until, last))) if all.len() > 2 && until - from + 1 == all.len() => {
            format!("{first} to {last}")
        }
        _ => list(&all.iter().map(|(_, name)| (*name).to_owned()).collect::<Vec<_>>()),
    }
}

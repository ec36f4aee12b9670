//! Findings in words, above the pictures and in their descriptions.

use super::view::{BathLine, DayView, OrderMark};
pub(super) use tankday_base::print::how_long as minutes;
use tankday_base::units::Moment;

/// A moment as a clock time; with its date if the view has several days.
pub(super) fn clock(view: &DayView, at: Moment) -> String {
    if view.days.len() > 1 {
        format!("{} {}", super::clock_axis::date(&view.calendar, at), at.clock())
    } else {
        at.clock()
    }
}

/// A count with its noun.
pub(super) fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// Which orders are ready, and which are not or late.
pub(super) fn of_day(view: &DayView) -> String {
    let all = view.orders.len();
    let Some(last) = view.last_ready() else {
        return match all {
            0 => "No order came.".to_owned(),
            1 => "The one order is not ready at the end.".to_owned(),
            _ => format!("None of {all} orders is ready at the end."),
        };
    };
    let on_time = view.on_time();
    let last = clock(view, last);
    let ready = match (on_time, all) {
        (1, 1) => format!("The one order is ready on time, by {last}."),
        (n, all) if n == all => format!("All {all} orders are ready on time{}.", done(view)),
        (0, 1) if view.orders.iter().all(|o| o.late().is_none()) => {
            format!("The one order is ready by {last}, but lies bare too long or took no coat.")
        }
        (0, 1) => format!("The one order is late, ready by {last}."),
        (0, all) => format!("None of {all} orders is ready on time, the last of all by {last}."),
        (1, all) => format!("1 of {all} orders is ready on time, the last of all by {last}."),
        (n, all) => format!("{n} of {all} orders are ready on time, the last of all by {last}."),
    };
    [ready]
        .into_iter()
        .chain(worst(view))
        .chain(left(view))
        .collect::<Vec<_>>()
        .join(" ")
}

/// `; last hands-on work done by 13:48`, as the headline has it.
fn done(view: &DayView) -> String {
    view.finish.map_or(String::new(), |at| {
        format!("; last hands-on work done by {}", clock(view, at))
    })
}

/// The latest order, and how many more are late.
fn worst(view: &DayView) -> Option<String> {
    let late = |o: &&OrderMark| o.late().is_some();
    let worst = view.orders.iter().filter(late).max_by_key(|o| o.late())?;
    let more = view.orders.iter().filter(late).count() - 1;
    let by = minutes(worst.late()?);
    Some(match more {
        0 => format!("{} is {by} late.", worst.id),
        _ => format!(
            "{} is {by} late, {} late too.",
            worst.id,
            count(more, "other is", "others are")
        ),
    })
}

/// Orders that were not ready, by name as long as they are few.
fn left(view: &DayView) -> Option<String> {
    let left: Vec<&str> = view
        .orders
        .iter()
        .filter(|o| o.ready.is_none())
        .map(|o| o.id.as_str())
        .collect();
    match left.as_slice() {
        [] => None,
        [one] => Some(format!("{one} is not ready at the end.")),
        some @ [_, ..] if some.len() <= 4 => Some(format!("Not ready at the end: {}.", some.join(", "))),
        many => Some(format!("{} orders are not ready at the end.", many.len())),
    }
}

/// With a capital letter first.
pub(super) fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or(String::new(), |c| c.to_uppercase().chain(letters).collect())
}

/// What a tank did, for the description of the day; part of a sentence.
pub(super) fn of_tank(view: &DayView, tank: &BathLine) -> String {
    let band = tank.in_band.first();
    let heats = band.map_or("does not come into its band".to_owned(), |at| {
        format!("heats until {}", clock(view, *at))
    });
    format!(
        "{} {heats} and coats {}",
        tank.name,
        count(tank.loads(), "load", "loads")
    )
}

/// What the thermometers say, tank by tank.
#[must_use]
pub fn of_baths(view: &DayView) -> String {
    let tanks: Vec<String> = view.tanks.iter().map(|t| of_bath(view, t)).collect();
    match tanks.is_empty() {
        true => "There is no tank.".to_owned(),
        false => tanks.join(" "),
    }
}

/// What a thermometer says.
fn of_bath(view: &DayView, tank: &BathLine) -> String {
    let Some(band) = tank.in_band.first() else {
        return format!("{} does not come into its band.", sentence(&tank.name));
    };
    let mut words = format!(
        "{} is in its band from {}",
        sentence(&tank.name),
        clock(view, *band)
    );
    if let Some((at, low)) = tank.lowest_with_load() {
        words += &format!(
            "; lowest with a load in it {:.1} °C, at {}",
            low.in_celsius(),
            clock(view, at)
        );
    }
    if let Some(off) = tank.heat_ends() {
        words += &format!("; heating stops at {}", clock(view, off));
    }
    words + "."
}

/// How much was finished of what came, and since when.
pub(super) fn of_output(view: &DayView) -> String {
    let all = &view.output;
    let total = format!(
        "{} {}, {}",
        thousands(all.pieces),
        if all.pieces == 1 { "piece" } else { "pieces" },
        surface(all.area.in_square_decimetres())
    );
    match all.done.last() {
        None if all.pieces == 0 => "No order came.".to_owned(),
        None => format!("Nothing of {total} is finished."),
        Some(last) if last.pieces >= all.pieces => {
            let (all, are) = if all.pieces == 1 {
                ("The one", "is")
            } else {
                ("All", "are")
            };
            let total = total.strip_prefix("1 ").filter(|_| are == "is").unwrap_or(&total);
            format!("{all} {total}, {are} finished by {}.", clock(view, last.at))
        }
        Some(last) => format!(
            "{} {}, {}, {} finished of {total}.",
            thousands(last.pieces),
            if last.pieces == 1 { "piece" } else { "pieces" },
            surface(last.area.in_square_decimetres()),
            if last.pieces == 1 { "is" } else { "are" }
        ),
    }
}

/// A surface with as many places as tell something.
pub(super) fn surface(square_decimetres: f64) -> String {
    match square_decimetres {
        a if a >= 100.0 || a == 0.0 => format!("{} dm²", thousands(a.round() as u64)),
        a if a >= 10.0 => format!("{a:.1} dm²"),
        a => format!("{a:.2} dm²"),
    }
}

/// A whole number with thin groups of three from five digits on.
pub(super) fn thousands(number: u64) -> String {
    let digits = number.to_string();
    if digits.len() < 5 {
        return digits;
    }
    let mut text = String::new();
    for (i, c) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            text.push('\u{a0}');
        }
        text.push(c);
    }
    text
}

//! How near a plan is to what no plan can beat, and what rules of thumb come to beside it.

use tankday_base::print::{clock_or_date, how_long, list, minutes, pieces_of};
use tankday_base::shop::{Calendar, Shop};
use tankday_plan::planned::has_random_orders;
use tankday_plan::{Bounds, Found, Judged};

/// How near a plan is to the bounds. These hold for plans that get everything ready: of one that leaves orders undone
/// no distance is told.
#[must_use]
pub fn near(calendar: &Calendar, found: &Found) -> String {
    let clock = |at| clock_or_date(calendar, at);
    let (judged, bounds) = (&found.judged, &found.bounds);
    let earliest = clock(bounds.finish);
    if judged.unready == 0 {
        let by = how_long(judged.finish - bounds.finish);
        let end = match minutes(judged.finish - bounds.finish) {
            ..=0 => "no plan can end earlier".to_owned(),
            _ => format!("no plan can end before {earliest}, {by} earlier"),
        };
        let late = match (minutes(judged.late), minutes(bounds.late)) {
            (..=0, _) => String::new(),
            (_, ..=0) => format!(", {} late in all", how_long(judged.late)),
            (_, least) => format!(
                ", {} late in all (no plan: less than {least} min)",
                how_long(judged.late)
            ),
        };
        let ends = clock(judged.finish);
        return format!(
            "The last load is ready at {ends}{late}; {end}.{}",
            always_late(bounds)
        );
    }
    format!(
        "{}. A plan that gets everything ready, if there is one, cannot end before {earliest}; how near this one is to the \
         best possible is not known.",
        undone(judged)
    )
}

/// How much was tried.
#[must_use]
pub fn searched(found: &Found) -> String {
    match found.dispatched {
        0 => format!("{}.", simulated(found.evaluations)),
        more => format!(
            "{} tried as timetables, {}.",
            were(more, "plan"),
            simulated(found.evaluations)
        ),
    }
}

fn simulated(days: u64) -> String {
    format!("{} simulated", were(days, "day"))
}

/// `1 day was`, `7 days were`
fn were(count: u64, what: &str) -> String {
    let were = if count == 1 { "was" } else { "were" };
    format!(
        "{} {were}",
        pieces_of(u32::try_from(count).unwrap_or(u32::MAX), what)
    )
}

/// Which orders count more or less than others when they are late; nothing where all count alike.
#[must_use]
pub fn weighed(shop: &Shop) -> Option<String> {
    let other = shop.orders.iter().filter(|o| (o.weight - 1.0).abs() > 1e-9);
    let named: Vec<String> = other
        .map(|o| format!("{} times for {}", o.weight, o.id))
        .collect();
    (!named.is_empty()).then(|| format!("Being late counts {}, once for all others.", list(&named)))
}

/// That some orders are not in a plan; nothing where all are.
#[must_use]
pub fn unplanned(shop: &Shop) -> Option<String> {
    has_random_orders(shop).then(|| {
        "Orders that come by chance are not in this plan: they go by the shop's rules; planning them as they come may change \
         this (compare and sweep do, with --planned)."
            .to_owned()
    })
}

/// How many orders are late in any plan, if there are any.
fn always_late(bounds: &Bounds) -> String {
    match bounds.late_orders {
        0 => String::new(),
        1 => " In any plan at least 1 order is late.".to_owned(),
        late => format!(" In any plan at least {late} orders are late."),
    }
}

/// Minutes from the earliest end that a plan can have to the end of this one; none if it leaves orders undone.
#[must_use]
pub fn gap(found: &Found) -> Option<f64> {
    let by = (found.judged.finish - found.bounds.finish).in_minutes();
    (found.judged.unready == 0).then_some(by.max(0.0))
}

/// How many orders stay undone, and how late the others are.
#[must_use]
pub fn undone(judged: &Judged) -> String {
    let orders = if judged.unready == 1 { "order" } else { "orders" };
    format!(
        "{} {orders} undone, the others {} late",
        judged.unready,
        how_long(judged.late)
    )
}

/// What a rule of thumb comes to, after its name.
#[must_use]
pub fn by_rule(calendar: &Calendar, judged: Option<&Judged>) -> String {
    let Some(j) = judged else {
        return "breaks so many limits that its day was not followed to the end".to_owned();
    };
    let comes_to = match j.unready {
        0 => format!(
            "ends {}, {} late",
            clock_or_date(calendar, j.finish),
            how_long(j.late)
        ),
        _ => format!("leaves {}", undone(j)),
    };
    match j.breaches {
        0 => comes_to,
        1 => format!("{comes_to}, and breaks a limit"),
        n => format!("{comes_to}, and breaks {n} limits"),
    }
}

//! What comes otherwise than a plan says when it is run once.

use super::Meant;
use super::say::clock;
use crate::{Timed, timed};
use tankday_base::shop::{Keeping, Shop};
use tankday_base::units::{Moment, Span};
use tankday_line::{Line, Plan};
use tankday_record::Breach;
use tankday_scenario::{Code, Finding, Findings, PlanFile, SourceSpan};

/// Later than this by mean times, and the plan is told so.
const TOLD: Span = Span::micros(60_500_000);

/// What a time written in whole seconds can miss: a limit that is passed by less is kept to the second.
const TO_THE_SECOND: Span = Span::micros(1_000_000);

/// Where a plan comes otherwise than written when every step takes its mean time: limits that break, and the first
/// task that cannot begin at its time.
#[must_use]
pub fn delays(shop: &Shop, line: &Line<'_>, file: &PlanFile, meant: &Meant) -> Findings {
    let plan = &meant.plan;
    // A plan that says nothing cannot come otherwise; what the day by the rules breaks is told of the day.
    if plan.keeping == Keeping::OwnRules {
        return Findings::new(file.sources.clone(), Vec::new());
    }
    let timed = timed(shop, line, plan, None);
    let place = |task: u32| {
        let stands = meant.places.get(task as usize).copied().flatten();
        stands.or_else(|| {
            let lot = (0..plan.lots.len())
                .rev()
                .find(|&l| 2 * plan.lots[l].first_op <= task)?;
            meant.lots.get(lot).copied()
        })
    };
    let mut found = Vec::new();
    for (task, breach) in &timed.broken {
        let (what, by) = match breach {
            Breach::StayedTooLong { by } => ("stays longer than it may", by),
            Breach::InAtBreak { by } => ("is in when a break begins that nobody stays for", by),
            Breach::WaitedTooLong { by } => ("has waited longer than it may", by),
        };
        let Some(by) = over(*by) else { continue };
        let message = format!("the load {what} here, by {by}");
        found.push(Finding::warning(
            Code::Bath,
            place(*task).unwrap_or(file.loads_at),
            message,
        ));
    }
    let late = |task: &usize| {
        let (hold, begun) = (plan.hold[*task], timed.begun[*task]);
        meant.places[*task].is_some() && hold > Moment::ZERO && begun > hold + TOLD
    };
    let first = (0..plan.hold.len())
        .filter(late)
        .min_by_key(|&t| (timed.begun[t], t));
    if let Some(task) = first {
        let at = place(task as u32).unwrap_or(file.loads_at);
        let when = match timed.begun[task] {
            Moment::NEVER => "this never begins".to_owned(),
            begun => format!("this can begin only at {}", clock(&shop.calendar, begun)),
        };
        found.push(
            Finding::warning(Code::Time, at, when)
                .label(format!("not at {}", clock(&shop.calendar, plan.hold[task])))
                .help("what it needs is not free before; what depends on it shifts, too"),
        );
    }
    found.extend(care_delays(shop, plan, &timed, &meant.care));
    Findings::new(file.sources.clone(), found)
}

/// By how much a limit is passed, under a minute in seconds; none for one that is kept to the second.
fn over(by: Span) -> Option<String> {
    if by < TO_THE_SECOND {
        return None;
    }
    let minutes = by.in_minutes();
    if minutes < 1.0 {
        return Some(format!("{:.0} s", 60.0 * minutes));
    }
    Some(format!("{} min", tankday_base::print::number(minutes, 1)))
}

/// Care that does not begin at its time: the first named of a kind at a tank is the first that is done.
fn care_delays(shop: &Shop, plan: &Plan, timed: &Timed, places: &[SourceSpan]) -> Vec<Finding> {
    let mut found = Vec::new();
    for (i, ((tank, kind, hold), place)) in plan.care.iter().zip(places).enumerate() {
        let nth = plan.care[..i]
            .iter()
            .filter(|c| c.0 == *tank && c.1 == *kind)
            .count();
        let done = timed
            .care
            .iter()
            .filter(|c| c.0 == *tank && c.1 == *kind)
            .nth(nth);
        let finding = match done {
            None => Finding::warning(
                Code::Time,
                *place,
                "this is never done: no rule calls for it then".to_owned(),
            )
            .help("write the load after which it is to be done, such as `after: L3`"),
            Some((.., begun)) if *begun > *hold + TOLD => Finding::warning(
                Code::Time,
                *place,
                format!("this begins only at {}", clock(&shop.calendar, *begun)),
            )
            .label(format!("not at {}", clock(&shop.calendar, *hold)))
            .help("its rule calls for it later, or the bath or the hands are not free before"),
            Some(_) => continue,
        };
        found.push(finding);
    }
    found
}

#[cfg(test)]
mod tests {
    use super::over;
    use tankday_base::units::Span;

    #[test]
    fn a_limit_kept_to_the_second_is_kept() {
        let said = |seconds: f64| over(Span::micros((1e6 * seconds) as i64));
        assert_eq!(said(0.4), None);
        assert_eq!(said(2.6).as_deref(), Some("3 s"));
        assert_eq!(said(90.0).as_deref(), Some("1.5 min"));
    }
}

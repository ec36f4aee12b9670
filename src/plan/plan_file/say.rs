//! Writes a plan.

use super::loads::NONE;
use super::rests_on;
use crate::{Timed, names, timed};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::sync::Arc;
use tankday_base::shop::{Calendar, Keeping, Shop, StationId};
use tankday_base::units::Moment;
use tankday_line::{Line, Plan};
use tankday_record::CareKind;
use tankday_scenario::plain_or_quoted;

/// Stands in the plan of the rest of a day.
const UNDER_WAY: &str = "\
# The plan of a day under way: what went into a bath stands at its noted time, what else was done without a time.
";

const HEAD: &str = "\
# What goes in together, and what is done when. Change what you like: a time, the place of a line, what a load holds.
# `tankday run SCENARIO --plan THIS` says where that breaks a limit; with --repair it fixes what can be fixed.
# Nothing begins before its time; where there is room for all and no hands are needed, no task is written.
";

/// The plan as text, with the times at which its tasks begin when every step takes its mean time.
#[must_use]
pub fn write(shop: &Shop, line: &Line<'_>, plan: &Plan) -> String {
    let timed = timed(shop, line, plan, None);
    let heads = names::heads(plan, &timed);
    let loads = Loads {
        names: names::of(plan, &heads),
        heads,
    };
    let mut out = String::from(HEAD);
    if plan.pinned.contains(&true) || plan.lots.iter().any(|l| l.past != 0) {
        out.push_str(UNDER_WAY);
    }
    let _ = writeln!(out, "plan: 1");
    let _ = writeln!(out, "for: {}", plain_or_quoted(&shop.title, false));
    let _ = writeln!(out, "rests on: {}", rests_on(shop));
    let _ = writeln!(
        out,
        "follow: {}",
        match plan.keeping {
            Keeping::Strictly => "strictly",
            Keeping::Loosely => "loosely",
            Keeping::OwnRules => "own rules",
        }
    );
    if plan.keeping == Keeping::OwnRules {
        return out;
    }
    write_loads(&mut out, shop, plan, &loads);
    write_tasks(&mut out, (shop, line), plan, &timed, &loads);
    write_heat(&mut out, shop, plan);
    write_care(&mut out, shop, plan, &timed, &loads);
    out
}

/// The loads of a plan.
struct Loads {
    /// Their heads in the order of their going in.
    heads: Vec<u32>,
    /// What each is called.
    names: BTreeMap<u32, Arc<str>>,
}

impl Loads {
    fn name(&self, head: u32) -> String {
        plain_or_quoted(self.names.get(&head).map_or("", |n| n), true)
    }
}

fn write_loads(out: &mut String, shop: &Shop, plan: &Plan, loads: &Loads) {
    let _ = writeln!(out, "\nloads:");
    for &head in &loads.heads {
        let tank = plan.tank[head as usize];
        let tank = match shop.stations.get(tank as usize) {
            Some(station) if tank != NONE && plan.lots[head as usize].bath_step.is_some() => {
                format!("tank: {}, ", plain_or_quoted(&station.name, true))
            }
            _ => String::new(),
        };
        let holds: Vec<String> = (0..plan.lots.len())
            .filter(|&l| plan.head[l] == head)
            .map(|l| {
                let lot = &plan.lots[l];
                plain_or_quoted(&format!("{} of {}", lot.pieces, order_id(shop, lot.order)), true)
            })
            .collect();
        let _ = writeln!(
            out,
            "  - {{id: {}, {tank}holds: [{}]}}",
            loads.name(head),
            holds.join(", ")
        );
    }
}

fn order_id(shop: &Shop, order: u32) -> &str {
    shop.orders.get(order as usize).map_or("", |o| o.id.as_str())
}

fn write_tasks(
    out: &mut String,
    (shop, line): (&Shop, &Line<'_>),
    plan: &Plan,
    timed: &Timed,
    loads: &Loads,
) {
    let numbers = lot_numbers(plan, &loads.heads);
    // In order of their beginning; what is past, with no time of its own, before what came after it.
    let mut lines: Vec<(Stands, String)> = Vec::new();
    for (l, lot) in plan.lots.iter().enumerate() {
        let Some(route) = shop.routes.get(lot.route as usize) else {
            continue;
        };
        let mut own: Vec<(u32, Stands)> = Vec::new();
        for (s, step) in (0..).zip(&route.steps).filter(|(s, _)| lot.skip & (1 << s) == 0) {
            let with_load = lot.bath_step.is_some_and(|b| s >= b);
            if with_load && plan.head[l] as usize != l {
                continue;
            }
            let whose = if with_load {
                format!("load: {}", loads.name(l as u32))
            } else {
                let id = plain_or_quoted(order_id(shop, lot.order), true);
                match numbers[l] {
                    (nth, true) => format!("order: {id}, lot: {nth}"),
                    _ => format!("order: {id}"),
                }
            };
            let task = plan.task(l as u32, s);
            let name = plain_or_quoted(&step.name, true);
            for (task, what) in [(task, "do"), (task + 1, "take out")] {
                let begun = timed.begun[task as usize];
                let rank = plan.rank[task as usize];
                let waits = task & 1 == 0 && plan.hold[task as usize] > Moment::ZERO && !plan.matters(task);
                if (!plan.matters(task) && !waits) || (task & 1 == 1 && !plan.by_hand(task)) {
                    continue;
                }
                if waits {
                    continue;
                }
                let at = if begun < Moment::NEVER && !timed.too_long.contains(&task) {
                    format!("at: {}, ", clock(&shop.calendar, begun))
                } else {
                    String::new()
                };
                let stands =
                    past(plan, l as u32, s, line, timed).unwrap_or((whole_second(begun), u64::from(rank)));
                // Never before what must be done first, though that be noted for the same minute.
                let first = own
                    .iter()
                    .filter(|(b, _)| plan.comes_before(line, l as u32, *b, s));
                let depth = first.clone().count() as u64;
                let after = first.map(|(_, (at, rank, _))| (*at, *rank)).max();
                let (from, rank) = after.map_or(stands, |after| stands.max(after));
                let stands = (from, rank, depth);
                own.push((s, stands));
                lines.push((stands, format!("  - {{{at}{what}: {name}, {whose}}}")));
            }
        }
    }
    lines.sort_by_key(|(stands, _)| *stands);
    let _ = writeln!(out, "\ntasks:");
    for (_, line) in lines {
        let _ = writeln!(out, "{line}");
    }
}

/// Where a line stands among the tasks: its moment, its place in the sequence, how much of its way lies before it.
type Stands = (Moment, u64, u64);

/// What stands behind all that begins at the same moment.
const BEHIND: u64 = 1 << 32;

/// Where a step that was done before the plan begins stands among the tasks: at the moment up to which its lot's past
/// reaches, in the order of its route; before everything where it came before a bath whose time is known.
fn past(plan: &Plan, lot: u32, step: u32, line: &Line<'_>, timed: &Timed) -> Option<(Moment, u64)> {
    let own = &plan.lots[lot as usize];
    if own.past & (1 << step) == 0 {
        return None;
    }
    let depth = (0..own.steps).filter(|s| plan.comes_before(line, lot, *s, step));
    let head = plan.head[lot as usize];
    let bathed = own
        .bath_step
        .is_some_and(|b| step < b && plan.pinned[plan.task(head, b) as usize]);
    let until = if bathed || own.past_until == Moment::NEVER {
        Moment::ZERO
    } else {
        own.past_until
    };
    // Noted for the minute in which the load was taken out, it stands behind that.
    let out = own
        .bath_step
        .filter(|b| step > *b)
        .map(|b| plan.task(head, b) + 1);
    let depth = depth.count() as u64;
    Some(match out.map(|task| timed.begun[task as usize]) {
        Some(out) if out < Moment::NEVER => (until.max(whole_second(out)), BEHIND + depth),
        _ => (until, depth),
    })
}

/// For each lot its number among those of its order, counted through the loads, and whether there are several.
fn lot_numbers(plan: &Plan, loads: &[u32]) -> Vec<(u32, bool)> {
    let mut numbers = vec![(1, false); plan.lots.len()];
    let mut counts = std::collections::BTreeMap::new();
    for head in loads {
        for l in (0..plan.lots.len()).filter(|&l| plan.head[l] == *head) {
            let count: &mut u32 = counts.entry(plan.lots[l].order).or_default();
            *count += 1;
            numbers[l].0 = *count;
        }
    }
    for (number, lot) in numbers.iter_mut().zip(&plan.lots) {
        number.1 = counts.get(&lot.order).is_some_and(|c| *c > 1);
    }
    numbers
}

fn write_heat(out: &mut String, shop: &Shop, plan: &Plan) {
    if plan.heat.is_empty() {
        return;
    }
    let _ = writeln!(out, "\nheat:");
    for (tank, ready) in &plan.heat {
        let name = shop.stations.get(tank.index()).map_or("", |s| s.name.as_str());
        let _ = writeln!(
            out,
            "  - {{ready by: {}, tank: {}}}",
            clock(&shop.calendar, *ready),
            plain_or_quoted(name, true)
        );
    }
}

fn write_care(out: &mut String, shop: &Shop, plan: &Plan, timed: &Timed, loads: &Loads) {
    if timed.care.is_empty() {
        return;
    }
    let _ = writeln!(out, "\ncare:");
    for (nth, (tank, kind, at)) in timed.care.iter().enumerate() {
        let name = shop.stations.get(tank.index()).map_or("", |s| s.name.as_str());
        let after = called_after(plan, timed, nth);
        let after = after.map_or_else(String::new, |head| format!("after: {}, ", loads.name(head)));
        let _ = writeln!(
            out,
            "  - {{at: {}, {after}do: {}, tank: {}}}",
            clock(&shop.calendar, *at),
            kind.words(),
            plain_or_quoted(name, true)
        );
    }
}

/// The load after which the plan calls for some care of the day: the last one that was out before it began.
fn called_after(plan: &Plan, timed: &Timed, nth: usize) -> Option<u32> {
    let (tank, kind, at) = timed.care[nth];
    let same = |c: &&(StationId, CareKind, Moment)| c.0 == tank && c.1 == kind;
    let since = timed.care[..nth].iter().rfind(same).map_or(Moment::ZERO, |c| c.2);
    let calls = plan.calls.iter().filter(|c| c.0 == tank && c.1 == kind);
    let lifted = calls.filter_map(|(.., lot)| {
        let head = plan.head[*lot as usize];
        let step = plan.lots[head as usize].bath_step?;
        let lift = timed.begun[plan.task(head, step) as usize + 1];
        (lift >= since && lift <= at).then_some((lift, head))
    });
    lifted.max().map(|(_, head)| head)
}

/// Rounded down to the second, as it is written.
fn whole_second(at: Moment) -> Moment {
    Moment::micros(at.in_micros().div_euclid(1_000_000) * 1_000_000)
}

/// `08:15`, with seconds where there are any, and with the date from the second day on.
pub(crate) fn clock(calendar: &Calendar, at: Moment) -> String {
    let (day, time) = at.day_and_time();
    let seconds = time.in_micros() / 1_000_000 % 60;
    let mut text = at.clock();
    if seconds > 0 {
        let _ = write!(text, ":{seconds:02}");
    }
    if day == 0 {
        text
    } else {
        format!("{} {text}", calendar.date(at))
    }
}

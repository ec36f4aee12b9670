//! `tankday promise`: what can be promised for one more order, and how sure that is.

mod others;
mod out_of_reach;

use super::args::Promise as Typed;
use super::exit::{Exit, Failure};
use super::folder::{Earlier, Folder};
use super::load::{draft, rendered};
use super::reckon::{NoResults, Reckoned};
use super::search::Searching;
use super::settings::Saying;
use super::summary::{self, Results};
use super::terminal::Terminal;
use super::{alone, files, json, terminal};
use others::{Other, others};
use out_of_reach::{MORE_DAYS, out_of_reach};
use serde_json::{Value, json};
use std::path::Path;
use tankday_base::print::{Line, Replication, Style, count_word, how_long, list, pieces_of, wrap};
use tankday_base::shop::{Arrival, Keeping, Shop};
use tankday_base::units::{Moment, Share};
use tankday_output::sheet::sheets;
use tankday_plan::planned::as_written;
use tankday_plan::{Asked, Promised, Refused, promise};
use tankday_record::WarningKind;

/// The scenario with the new order and all days that are needed: what the plan beside it is for.
const SCENARIO: &str = "scenario.yaml";

/// What is told of a promise.
struct Told<'a> {
    found: &'a Promised,
    asked: Asked,
    /// The other orders without the new one and with it.
    others: Vec<Other>,
    /// Whether no plan has the order ready, so that none was looked for.
    out_of_reach: bool,
}

/// Reads `80 %`.
///
/// # Errors
/// When it is no share, or none that can be promised by.
pub(super) fn sure(text: &str) -> Result<Share, String> {
    let help = "write a share such as `90 %`";
    let number = text.trim().trim_end_matches('%').trim();
    match number.parse::<f64>() {
        Ok(percent) if (50.0..=99.0).contains(&percent) => Ok(Share::percent(percent)),
        Ok(_) => Err(format!("{help}, from 50 % to 99 %")),
        Err(_) => Err(help.to_owned()),
    }
}

/// Finds what can be promised.
///
/// # Errors
/// When scenario or order are wrong, when standard output or a file cannot be written.
pub(super) fn one_more(typed: &Typed, saying: Saying) -> Result<Exit, Failure> {
    let mut draft = draft(&typed.file, &typed.set)?;
    let path = Path::new(&typed.order);
    let (named, text) = if path.is_file() {
        (typed.order.clone(), files::read_text(path)?)
    } else {
        ("--order".to_owned(), typed.order.clone())
    };
    let refused = |found: tankday_scenario::Findings| Failure::input(rendered(&found));
    draft.add_order(&named, &text).map_err(refused)?;
    let scenario = draft.scenario().map_err(refused)?;
    if saying > Saying::Little && !scenario.warnings.is_empty() {
        terminal::tell(&rendered(&scenario.warnings));
    }
    let shop = &scenario.shop;
    if !shop
        .orders
        .last()
        .is_some_and(|o| matches!(o.arrival, Arrival::At(_)))
    {
        return Err(Failure::input(
            "the new order comes again and again: a time can be promised only for one that comes once",
        ));
    }
    let asked = Asked {
        sure: typed.sure,
        seed: typed.seed,
        effort: typed.effort,
        days: typed.replications,
    };
    if let Some(dir) = &typed.out {
        Folder::new(dir, typed.force, saying).would_take(alone::wanted().chain([(SCENARIO, None)]))?;
    }
    let out_of_reach = out_of_reach(shop);
    let (found, others) = match out_of_reach {
        true => (Some(none(shop, asked)), Vec::new()),
        false => searched(shop, asked, saying),
    };
    let found = found.ok_or_else(|| Failure::input("there is no order to promise"))?;
    let day = match found.plan.as_ref() {
        None => None,
        Some(plan) => match Reckoned::of(&found.shop, Some(plan), typed.seed, None, false) {
            Ok(day) => Some(day),
            Err(NoResults::TooLong) => return Err(Failure::input("the days are too long to be planned")),
            Err(NoResults::Unsound(failure)) => return Err(failure),
        },
    };
    let results = day.as_ref().map(|day| day.results(&found.shop));
    let told = Told {
        found: &found,
        asked,
        others,
        out_of_reach,
    };
    if typed.json {
        let mut object = object(&told);
        object["warnings"] = results
            .as_ref()
            .map_or_else(|| json!([]), |r| json::warnings(r).into());
        terminal::print(&format!("{object:#}\n"))?;
    } else {
        tell(&told, results.as_ref(), saying)?;
    }
    if let (Some(dir), Some(plan), Some(results)) = (&typed.out, &found.plan, &results) {
        let sheets = sheets(&found.shop, results.record, results.figures);
        let mut set = alone::set(results, &sheets, plan, None);
        if found.more_days > 0 {
            draft.write_days(&found.shop);
        }
        set.push((SCENARIO.to_owned(), draft.text().into_bytes()));
        Folder::new(dir, typed.force, saying).write_and_say(&set, Earlier::Goes)?;
    }
    Ok(if found.by.is_some() {
        Exit::Done
    } else {
        Exit::CannotBeDone
    })
}

/// Searches for the earliest time, and looks at what it does to the other orders.
fn searched(shop: &Shop, asked: Asked, saying: Saying) -> (Option<Promised>, Vec<Other>) {
    let searching = Searching::begin(saying);
    let found = promise(shop, asked, searching.stop(), &|done| searching.told(done));
    let Some(mut found) = found else {
        return (None, Vec::new());
    };
    found.plan = found
        .plan
        .map(|plan| as_written(&found.shop, &tankday_line::Line::new(&found.shop), &plan).1);
    let others = others(&found, asked, searching.stop());
    (Some(found), others)
}

/// Nothing that can be promised, without a search.
fn none(shop: &Shop, asked: Asked) -> Promised {
    Promised {
        shop: shop.clone(),
        plan: None,
        by_rules: false,
        by: None,
        kept: 0,
        usual: None,
        others: Vec::new(),
        days: asked.days,
        more_days: MORE_DAYS,
        blocked: None,
        refused: None,
        plans: 0,
    }
}

/// `today`, `tomorrow`, `on Monday 9 March`.
fn day_words(shop: &Shop, at: Moment) -> String {
    let first = shop.calendar.days.first().map_or(0, |d| d.open.day_and_time().0);
    match at.day_and_time().0 - first {
        0 => "today".to_owned(),
        1 => "tomorrow".to_owned(),
        _ => shop.calendar.date(at).strftime("on %A %-d %B").to_string(),
    }
}

fn step_name(found: &Promised, step: tankday_base::shop::StepRef) -> &str {
    &found.shop.step(step).name
}

/// The new order in words: `20 wood screws`.
fn what(shop: &Shop) -> String {
    shop.orders.last().map_or(String::new(), |o| {
        let part = shop.parts.get(o.part.index()).map_or("", |p| p.name.as_str());
        pieces_of(o.count, part)
    })
}

fn sentences(told: &Told<'_>) -> Vec<String> {
    let (found, asked, shop) = (told.found, told.asked, &told.found.shop);
    let each = Replication::of_days(shop.calendar.days.len());
    let mut said = Vec::new();
    if told.out_of_reach {
        return vec![format!(
            "No time can be promised for {}: even alone in the shop, no plan has that ready on the stated days or on the next {}.",
            what(shop),
            count_word(MORE_DAYS)
        )];
    }
    match found.by {
        Some(by) => said.push(format!(
            "{} can be promised for {} {}: ready by then on {} of {}.",
            what(shop),
            by.clock(),
            day_words(shop, by),
            found.kept,
            pieces_of(found.days, each.one())
        )),
        None => said.push(format!(
            "No time that can be promised for {} with {:.0} % was found in this search, neither on the stated days nor on the next {}.",
            what(shop),
            asked.sure.in_percent(),
            count_word(found.more_days)
        )),
    }
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
    if let Some(refused) = found.refused.filter(|_| found.more_days > 0) {
        said.push(match refused {
            Refused::NotReady(Some(step)) => format!(
                "On the stated days none was found: it does not get past {} in time.",
                step_name(found, step)
            ),
            Refused::NotReady(None) => {
                "On the stated days none was found: it is not ready in time on enough of them.".to_owned()
            }
            Refused::Pushes(order) => {
                let id = shop.orders.get(order as usize).map_or("", |o| o.id.as_str());
                format!("On the stated days none was found: {id} would be kept less often.")
            }
        });
    }
    if found.by.is_some() {
        if let Some((step, why, span)) = found.blocked {
            said.push(format!(
                "What blocks it most is {}: {} waiting for {}.",
                step_name(found, step),
                how_long(span),
                why.words()
            ));
        }
        said.push(of_others(told));
    }
    said
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

/// Whether pieces come to harm on the day that is promised, or are not ready.
fn harms(results: &Results<'_>) -> bool {
    use WarningKind::{NotReady, StayedTooLong, WaitedTooLong};
    let mut warnings = results.figures.warnings.iter();
    warnings.any(|w| matches!(w.kind, NotReady | StayedTooLong | WaitedTooLong))
}

fn tell(told: &Told<'_>, results: Option<&Results<'_>>, saying: Saying) -> Result<(), Failure> {
    let screen = Terminal::standard_output();
    let mut lines = Vec::new();
    for (i, sentence) in sentences(told).iter().enumerate() {
        if i > 0 && saying == Saying::Little {
            break;
        }
        let style = if i == 0 { Style::Bold } else { Style::Plain };
        lines.extend(
            wrap(sentence, screen.columns)
                .into_iter()
                .map(|w| Line::of(style, w)),
        );
    }
    if let Some(results) = results.filter(|_| saying > Saying::Little) {
        if harms(results) {
            // A time that is kept says nothing of how the pieces come through.
            lines.push(Line::empty());
            lines.push(Line::plain("By average times this day goes so:"));
            lines.extend(summary::answer(results, screen.columns));
        }
        lines.push(Line::empty());
        lines.extend(summary::warned(results, screen.columns));
    }
    terminal::print_lines(&lines, screen.paper)
}

fn object(told: &Told<'_>) -> Value {
    let (found, asked, shop) = (told.found, told.asked, &told.found.shop);
    let time = |at: Moment| shop.calendar.local_time(at);
    let new = shop.orders.last();
    let others: Vec<Value> = found
        .others
        .iter()
        .zip(&shop.orders)
        .enumerate()
        .map(|(i, ((before, with), o))| {
            let chance = |n: &u32| json::round(f64::from(*n) / f64::from(found.days.max(1)));
            let (without, new) = told
                .others
                .iter()
                .find(|o| o.order == i)
                .map_or((None, None), Other::usual);
            json!({
                "id": o.id,
                "on_time_chance_without": chance(before),
                "on_time_chance": chance(with),
                "usual_without": without.map(time),
                "usual": new.map(time),
            })
        })
        .collect();
    json!({
        "title": shop.title,
        "seed": asked.seed,
        "replications": found.days,
        "order": new.map(|o| json!({
            "id": o.id,
            "part": shop.parts.get(o.part.index()).map(|p| p.name.clone()),
            "pieces": o.count,
            "route": shop.routes.get(o.route.index()).map(|r| r.name.clone()),
        })),
        "sure": json::round(asked.sure.in_fraction()),
        "promise": found.by.map(time),
        "chance": json::round(f64::from(found.kept) / f64::from(found.days.max(1))),
        "usual": found.usual.map(time),
        "more_days": found.more_days,
        "out_of_reach": told.out_of_reach,
        "blocked_by": found.blocked.map(|(step, why, span)| json!({
            "step": step_name(found, step),
            "waits_for": why.words(),
            "minutes": json::round(span.in_minutes()),
        })),
        "orders": others,
        "plans": found.plans,
        "by_rules": found.by_rules,
    })
}

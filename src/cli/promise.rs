//! `tankday promise`: what can be promised for one more order, and how sure that is.

mod due;
mod others;
mod out_of_reach;
mod said;

use super::args::Promise as Typed;
use super::exit::{Exit, Failure};
use super::folder::{Earlier, Folder, Wanted};
use super::load::{draft, rendered};
use super::reckon::{NoResults, Reckoned};
use super::search::Searching;
use super::settings::Saying;
use super::summary::{self, Results};
use super::terminal::Terminal;
use super::{alone, files, json, terminal};
use due::Wish;
use others::{Other, others};
use out_of_reach::{MORE_DAYS, out_of_reach};
use said::{sentences, step_name};
use serde_json::{Value, json};
use std::path::Path;
use tankday_base::print::{Line, Style, wrap};
use tankday_base::shop::{Arrival, Shop};
use tankday_base::units::{Moment, Share};
use tankday_output::sheet::sheets;
use tankday_plan::planned::as_written;
use tankday_plan::{Asked, Promised, promise};
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
        let scenario = draft.text().into_bytes();
        let set: Vec<Wanted<'_>> = alone::wanted()
            .chain([(SCENARIO, Some(scenario.as_slice()))])
            .collect();
        Folder::new(dir, typed.force, saying).would_take(set)?;
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
    let kept = Wish::of(&found).is_none_or(|wish| wish.can_be_promised(asked));
    Ok(if found.by.is_some() && kept {
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
        on_due: 0,
        usual: None,
        others: Vec::new(),
        days: asked.days,
        more_days: MORE_DAYS,
        blocked: None,
        refused: None,
        plans: 0,
    }
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
    let wish = Wish::of(found);
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
        "due": wish.map(|w| time(w.due)),
        "due_is_kept": wish.map(|w| w.can_be_promised(asked)),
        "due_kept_chance": wish.map(|w| json::round(f64::from(w.kept) / f64::from(found.days.max(1)))),
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

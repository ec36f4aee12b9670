//! `tankday plan`: searches for a better day, and says how far from the best possible it can be.

use super::args::Plan as Typed;
use super::exit::{Exit, Failure};
use super::folder::{Earlier, Folder};
use super::load::load;
use super::planned::Beforehand;
use super::reckon::{NoResults, Reckoned};
use super::search::Searching;
use super::settings::Saying;
use super::summary::{self, Results};
use super::terminal::Terminal;
use super::{json, pictures, run, terminal};
use serde_json::{Value, json};
use tankday_base::print::{Line as Words, clock_or_date, how_long, padded, wrap};
use tankday_base::shop::Shop;
use tankday_base::units::Moment;
use tankday_line::Line;
use tankday_output::narrative;
use tankday_output::sheet::{lines as sheet_lines, sheets};
use tankday_plan::planned::{Asked, as_written};
use tankday_plan::{Bounds, Choice, Effort, Found, Judged, by_own_rules, earliest_ready, judged, plan};
use tankday_study::what_if::{BeyondPlanning, Ease, beyond_planning};

/// Reads an effort: a word, or a number of simulated days.
///
/// # Errors
/// When it is neither.
pub(super) fn effort(text: &str) -> Result<Effort, String> {
    match text {
        "quick" => Ok(Effort::Quick),
        "normal" => Ok(Effort::Normal),
        "long" => Ok(Effort::Long),
        number => match number.parse() {
            Ok(days) if days > 0 => Ok(Effort::Days(days)),
            _ => Err("write quick, normal, long or a number of simulated days".to_owned()),
        },
    }
}

/// Plans a day.
///
/// # Errors
/// When the scenario is wrong or has no stated order, or when standard output cannot be written.
pub(super) fn plan_day(typed: &Typed, saying: Saying) -> Result<Exit, Failure> {
    let loaded = load(&typed.file, &typed.set, saying)?;
    let shop = &loaded.scenario.shop;
    if let Some(dir) = &typed.out {
        let folder = Folder::new(dir, typed.force, saying);
        let drawn = pictures::wanted(shop);
        folder.would_take(run::wanted(&loaded, &drawn).chain([("plan.yaml", None)]))?;
    }
    let searching = Searching::begin(saying);
    let found = plan(shop, typed.seed, typed.effort, searching.stop(), &|done| {
        searching.told(done)
    });
    drop(searching);
    let mut found = found.ok_or_else(|| {
        Failure::input(format!(
            "{}: no order is stated one by one, so that there is nothing to plan beforehand; compare and sweep plan orders that \
             come by chance as they come, with --planned",
            typed.file.display()
        ))
    })?;
    let line = Line::new(shop);
    let (file, plan) = as_written(shop, &line, &found.plan);
    found.judged = judged(shop, &line, &plan);
    let beyond = beyond(typed, shop, (file, found.judged), saying);
    let reckoned = match Reckoned::of(shop, Some(&plan), typed.seed, None, true) {
        Ok(reckoned) => reckoned,
        Err(NoResults::TooLong) => return Err(Failure::input("the days are too long to be planned")),
        Err(NoResults::Unsound(failure)) => return Err(failure),
    };
    let results = Results {
        planned: Some(&found),
        beyond: Some(&beyond),
        gains: beyond.gains.as_deref().unwrap_or_default(),
        ..reckoned.results(shop)
    };
    if typed.json {
        terminal::print(&format!("{:#}\n", object(shop, &results, &found)))?;
    } else {
        tell(shop, &results, &found, typed.report, saying)?;
    }
    if let Some(dir) = &typed.out {
        let sheets = sheets(shop, results.record, results.figures);
        let set = run::set(&loaded, &results, &sheets, &command(typed), Some(&plan))?;
        Folder::new(dir, typed.force, saying).write_and_say(&set, Earlier::Goes)?;
    }
    let kept = found.judged.late_orders == 0 && found.judged.unready == 0 && found.judged.breaches == 0;
    if typed.strict && !kept {
        let proved = Proved::of(shop, &found.bounds);
        terminal::tell(&promises_break(&results, &found.judged, Some(&proved)));
        return Ok(Exit::CannotBeDone);
    }
    Ok(ends(&found.judged))
}

/// How a command ends that says this of a day: as a run of it does, where a stated order does not get ready.
pub(super) const fn ends(judged: &Judged) -> Exit {
    match judged.unready {
        0 => Exit::Done,
        _ => Exit::CannotBeDone,
    }
}

/// What planning gains, and if that is asked for what would help then: searched as for a quick plan, or less if less was
/// asked for.
fn beyond(
    typed: &Typed,
    shop: &Shop,
    (file, planned): (Option<String>, Judged),
    saying: Saying,
) -> BeyondPlanning {
    let effort = match typed.effort {
        Effort::Days(days) => Effort::Days(days.min(Effort::Quick.days())),
        _ => Effort::Quick,
    };
    let asked = Asked {
        seed: typed.seed,
        effort,
    };
    let many = Ease::all(shop).len();
    let file = file.filter(|_| typed.what_helps || typed.effort == Effort::Long);
    let searching = file.is_some().then(|| Searching::begin(saying));
    let gains = searching.as_ref().zip(file).map(|(searching, file)| {
        let beforehand = Beforehand::begin(many, saying);
        beyond_planning(shop, (&file, planned), asked, searching.stop(), || {
            searching.told(beforehand.one_more());
        })
    });
    BeyondPlanning {
        rules: by_own_rules(shop, &Line::new(shop)),
        planned,
        stopped: gains.as_ref().is_some_and(|g| g.len() < many),
        gains,
    }
}

/// What to type to get the same again.
fn command(typed: &Typed) -> String {
    format!(
        "tankday plan {}{} --seed {} --effort {}{} --out out",
        typed.file.display(),
        typed.set.typed(),
        typed.seed,
        typed.effort.typed(),
        if typed.what_helps { " --what-helps" } else { "" }
    )
}

fn object(shop: &Shop, results: &Results<'_>, found: &Found) -> Value {
    let time = |at: Moment| shop.calendar.local_time(at);
    let rule = |name: &str, judged: Option<&Judged>| {
        json!({
            "name": name,
            "finish": judged.filter(|j| j.unready == 0).map(|j| time(j.finish)),
            "late_min": judged.map(|j| json::round(j.late.in_minutes())),
            "unready_orders": judged.map(|j| j.unready),
            "limits_broken": judged.map(|j| j.breaches),
        })
    };
    let rules: Vec<Value> = found
        .rules
        .iter()
        .map(|r| rule(r.name, r.judged.as_ref()))
        .collect();
    json!({
        "run": json::object(results),
        "bounds": {"finish": time(found.bounds.finish), "late_min": json::round(found.bounds.late.in_minutes()),
            "late_orders": found.bounds.late_orders},
        "rules": rules,
        "unready_orders": found.judged.unready,
        "gap_min": narrative::gap(found).map(json::round),
        "due_times_kept": found.chances.map(|c| json!({"days": c.days, "due": c.due,
            "by_plan": json::round(c.kept), "by_rules": json::round(c.by_rules)})),
        "considered": found.choice.iter().map(|c| considered(shop, found, c)).collect::<Vec<_>>(),
        "planning_alone": results.beyond.map(|b| json!({
            "earlier_min": json::round((b.rules.finish - b.planned.finish).in_minutes()),
            "less_late_min": json::round((b.rules.late - b.planned.late).in_minutes()),
            "rules_unready_orders": b.rules.unready,
        })),
        "helps_then": results.beyond.and_then(|b| b.gains.as_ref()).map(|gains| gains.iter().map(|g| json!({
            "what": g.ease.words(shop),
            "earlier_min": json::round(g.earlier.in_minutes()),
            "less_late_min": json::round(g.less_late.in_minutes()),
            "more_orders": g.more_orders,
        })).collect::<Vec<_>>()),
        "evaluations": found.evaluations,
        "laid_out": found.dispatched,
    })
}

/// One of the plans among which the last choice was made.
fn considered(shop: &Shop, found: &Found, choice: &Choice) -> Value {
    // The one that is followed is told as it is written.
    let judged = if choice.chosen {
        &found.judged
    } else {
        &choice.judged
    };
    json!({
        "chosen": choice.chosen,
        "unready_orders": judged.unready,
        "late_min": json::round(judged.late.in_minutes()),
        "due_times_kept": found.chances.map(|_| json::round(choice.kept)),
        "finish": shop.calendar.local_time(judged.finish),
        "energy_kwh": json::round(judged.drawn.in_kilowatt_hours()),
        "water_l": json::round(judged.water.in_litres()),
        "hands_min": json::round(judged.hands.in_minutes()),
    })
}

fn tell(
    shop: &Shop,
    results: &Results<'_>,
    found: &Found,
    report: bool,
    saying: Saying,
) -> Result<(), Failure> {
    let screen = Terminal::standard_output();
    let mut lines = summary::answer(results, screen.columns);
    if saying > Saying::Little {
        lines.push(Words::empty());
        lines.extend(summary::warned(results, screen.columns));
    }
    if report {
        lines.push(Words::empty());
        lines.extend(summary::waits(results, screen.columns));
    }
    if saying > Saying::Little {
        lines.push(Words::empty());
        for line in how_good(results, found) {
            match line.starts_with(' ') {
                true => lines.push(Words::plain(line)),
                false => lines.extend(wrap(&line, screen.columns).into_iter().map(Words::plain)),
            }
        }
        let proved = Proved::of(shop, &found.bounds);
        lines.extend(broken(results, Some(&proved)).into_iter().map(Words::plain));
        for sheet in &sheets(shop, results.record, results.figures) {
            lines.push(Words::empty());
            lines.extend(sheet_lines(sheet));
        }
    }
    terminal::print_lines(&lines, screen.paper)
}

/// What no plan can do, whatever is searched.
pub(super) struct Proved {
    /// For each order the moment before which no plan has it ready.
    earliest: Vec<Option<Moment>>,
    bounds: Bounds,
}

impl Proved {
    fn of(shop: &Shop, bounds: &Bounds) -> Self {
        Self {
            earliest: earliest_ready(shop),
            bounds: *bounds,
        }
    }
}

/// Which due times the plan does not keep and by how much, for standard error. That they cannot be kept is said only where it
/// is proved.
pub(super) fn promises_break(results: &Results<'_>, judged: &Judged, proved: Option<&Proved>) -> String {
    let mut lines = broken(results, proved);
    if judged.breaches > 0 {
        let many = if judged.breaches == 1 {
            "1 limit is"
        } else {
            &format!("{} limits are", judged.breaches)
        };
        lines.push(format!("{many} broken on the way: the day sheet marks where."));
    }
    let what = match proved.map_or(0, |p| p.bounds.late_orders) {
        0 => "a plan that keeps all due times and limits was not found in this search".to_owned(),
        1 => "no plan keeps all due times: at least 1 order is late in any".to_owned(),
        late => format!("no plan keeps all due times: at least {late} orders are late in any"),
    };
    format!("{what}; by this one:\n  {}", lines.join("\n  "))
}

/// Columns for what a rule comes to, behind its name.
const BY_RULE_COLUMNS: usize = 53;

/// The distance from the bound, and what each rule comes to.
fn how_good(results: &Results<'_>, found: &Found) -> Vec<String> {
    let shop = results.shop;
    let mut lines = vec![narrative::near(&shop.calendar, found), "By rules:".to_owned()];
    for rule in &found.rules {
        let came_to = narrative::by_rule(&shop.calendar, rule.judged.as_ref());
        let name = std::iter::once(padded(rule.name, 24)).chain(std::iter::repeat(padded("", 24)));
        let rows = name.zip(wrap(&came_to, BY_RULE_COLUMNS));
        lines.extend(rows.map(|(name, words)| format!("  {name} {words}")));
    }
    lines.extend(narrative::beyond(results));
    lines.extend(narrative::otherwise(results));
    lines.extend(narrative::chances(found, results.each()));
    lines.extend(narrative::weighed(shop));
    lines.extend(narrative::unplanned(shop));
    lines.push(narrative::searched(found));
    lines
}

/// Due times that the plan does not keep, and by how much; those first that no plan can keep.
fn broken(results: &Results<'_>, proved: Option<&Proved>) -> Vec<String> {
    let calendar = &results.shop.calendar;
    let clock = |at| clock_or_date(calendar, at);
    let late = results.figures.orders.iter().filter_map(|o| {
        let name = &results.shop.orders.get(o.source.index())?.id;
        let earliest = proved.and_then(|p| *p.earliest.get(o.source.index())?);
        match (o.ready, o.due) {
            (Some(ready), Some(due)) if ready > due => {
                let by = how_long(ready - due);
                Some(match earliest.filter(|at| *at > due) {
                    Some(at) => format!(
                        "{name} cannot be kept, no plan has it ready before {}: ready at {}, {by} late.",
                        clock(at),
                        clock(ready)
                    ),
                    None => format!("{name} is not kept: ready at {}, {by} late.", clock(ready)),
                })
            }
            (None, _) => Some(format!("{name} is not finished.")),
            _ => None,
        }
    });
    late.collect()
}

//! Routes as graphs, and what belongs to inspections.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::SourceSpan;
use crate::steps;
use crate::thing::Thing;
use crate::written::{Route, Rules, Step};
use tankday_base::random::Spread;
use tankday_base::route::{RouteProblem, problems};
use tankday_base::shop::{self, AtBreak, Hands, Retry, StepIx, StepKind, StepTime};
use tankday_base::units::{Share, Span};

pub(super) const ALL: &[Rule] = &[
    Rule::Whole(graph),
    Rule::Step(whole_inspection),
    Rule::Whole(first_at_once),
    Rule::Once(odds_count),
];

/// A route can be followed from a beginning to an end.
fn graph(f: &Facts) -> Vec<Finding> {
    let sound = f.file.routes.iter().filter(|r| r.steps.len() == r.written);
    sound.flat_map(problems_of).collect()
}

fn problems_of(route: &Route) -> Vec<Finding> {
    let bare = bare(route);
    let all = problems(&bare).into_iter();
    all.map(|problem| {
        let message = problem.message(&bare);
        let message = message
            .strip_prefix("from ")
            .map_or(message.clone(), |m| format!("From {m}"));
        let finding = Finding::new(Code::Route, place(route, &problem), message);
        match problem {
            RouteProblem::NoSteps => {
                finding.help("write at least one step: `- {do: rinse, at: sink, for: 1 min}`")
            }
            RouteProblem::AlwaysBack { .. } => finding.help("a share below 100 % lets loads pass"),
            RouteProblem::BackNotUpstream { .. } => {
                finding.help("go back to a step that was done before this one")
            }
            RouteProblem::Loop { .. } => finding.help("look at their `after`: one of them must come first"),
            _ => finding,
        }
    })
    .collect()
}

/// The place that shows a problem best.
fn place(route: &Route, problem: &RouteProblem) -> SourceSpan {
    let shows = match problem {
        RouteProblem::Loop { steps } => steps.iter().find(|s| has_after(route, **s)).copied(),
        _ => None,
    };
    let Some(step) = shows.or(problem.step()).and_then(|s| route.steps.get(s.index())) else {
        return route.name.at;
    };
    let spot = match problem {
        RouteProblem::AlwaysBack { .. } => step.fails.as_ref().map(|s| s.at),
        RouteProblem::BackNotUpstream { .. } => step.back_to.as_ref().map(|s| s.at),
        RouteProblem::Loop { .. } => step.after.as_ref().and_then(|a| a.first()).map(|s| s.at),
        _ => None,
    };
    spot.unwrap_or(step.places.at)
}

fn has_after(route: &Route, step: StepIx) -> bool {
    route.steps.get(step.index()).is_some_and(|s| s.after.is_some())
}

/// The route with nothing but what its graph needs, its steps in the order written.
fn bare(route: &Route) -> shop::Route {
    let before = steps::before(route);
    let by_name = steps::by_name(route);
    let step = |(step, before): (&Step, &Vec<usize>)| {
        let back = step.back_to.as_ref().and_then(|b| by_name.get(b.value.as_str()));
        bare_step(step, before, back.copied())
    };
    shop::Route {
        name: route.name.value.clone(),
        steps: route.steps.iter().zip(&before).map(step).collect(),
    }
}

fn bare_step(step: &Step, before: &[usize], back: Option<usize>) -> shop::Step {
    let share = step.fails.as_ref().and_then(|s| s.value).unwrap_or(Share::ZERO);
    shop::Step {
        name: step.name().map_or_else(String::new, |n| n.value.clone()),
        kind: StepKind::Other,
        stations: Vec::new(),
        time: StepTime::Work {
            load: Spread::Fixed(Span::ZERO),
            each: Span::ZERO,
        },
        hands: Hands::None,
        put_in: Span::ZERO,
        take_out: Span::ZERO,
        most: None,
        within: None,
        at_once: false,
        at_break: AtBreak::Pause,
        overnight: false,
        after: before.iter().map(|b| StepIx(*b as u32)).collect(),
        only: Vec::new(),
        retry: back.map(|b| Retry {
            share,
            back_to: StepIx(b as u32),
            odds: None,
        }),
        drip: Span::ZERO,
        relief: None,
    }
}

/// A share that fails and the step it goes back to belong together.
fn whole_inspection(_: &Facts, step: &Step) -> Option<Finding> {
    let (at, has, lacks) = match (step.place(&Step::fails), step.place(&Step::back_to)) {
        (Some(at), None) => (at, Step::fails.name, Step::back_to.name),
        (None, Some(at)) => (at, Step::back_to.name, Step::fails.name),
        _ => return None,
    };
    Some(
        Finding::new(Code::Missing, at, format!("`{has}` needs `{lacks}` beside it"))
            .label(format!("`{lacks}` is missing"))
            .help("write `fails: 2 %, back to: blast`"),
    )
}

/// What follows at once or within a time follows something, and needs hands to do so.
fn first_at_once(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for route in &f.file.routes {
        for (step, before) in route.steps.iter().zip(steps::before(route)) {
            let at_once = step.at_once.as_ref().filter(|a| a.value);
            let limits = [
                at_once.map(|a| (a.at, Step::at_once.name)),
                // The limit that relief has by default stands nowhere.
                step.within
                    .as_ref()
                    .filter(|w| w.at != step.places.at)
                    .map(|w| (w.at, Step::within.name)),
            ];
            if before.is_empty() {
                found.extend(limits.into_iter().flatten().map(|(at, key)| {
                    Finding::error(Code::Contradiction, at)
                        .says(format!("`{key}` has no step before it to follow"))
                        .label("the first step")
                }));
            } else if let (Some(at_once), Some(hands)) =
                (at_once, step.hands.as_ref().filter(|h| h.value == Hands::None))
            {
                found.push(
                    Finding::error(Code::Contradiction, at_once.at)
                        .says("a step without hands cannot follow at once under the same hands")
                        .label("at once")
                        .and(hands.at, "no hands"),
                );
            }
        }
    }
    found
}

/// Odds count where some inspection goes by cause.
fn odds_count(f: &Facts) -> Option<Finding> {
    let at = f.file.rules.as_ref()?.place(&Rules::odds)?;
    let asks = |s: &Step| {
        let written = s.place(&Step::fails).is_some();
        s.fails.as_ref().map_or(written, |fails| fails.value.is_none())
    };
    (!f.steps().any(|(_, s)| asks(s))).then(|| {
        Finding::new(Code::Contradiction, at, "no inspection asks for these odds")
            .label("without effect")
            .help("write `fails: by cause` at the step that inspects")
    })
}

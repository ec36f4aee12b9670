//! What is told of plans and rules that alternatives follow.

use tankday_base::print::list;
use tankday_plan::planned::{Followed, Following};
use tankday_study::Measure;
use tankday_study::compare::{Comparison, leaning, ranking, verdict};
use tankday_study::sweep::{Kind, Sweep, edges, turning};

/// Alternatives that are named one by one; of more only their number is told.
const NAMED: usize = 4;

/// In one sentence: `By the shop's rules; a plan may change this.`
#[must_use]
pub fn following(following: &Following) -> String {
    match following {
        Following::Rules { can_be_planned: true } => {
            "By the shop's rules; a plan may change this (--planned).".to_owned()
        }
        Following::Rules { .. } => "By the shop's rules.".to_owned(),
        Following::Plans { effort, each, .. } => {
            let each_morning = each.iter().filter(|f| **f == Followed::EachMorning).count();
            match each_morning {
                0 => format!("Each planned, effort {effort}; the plan is the same on all days."),
                _ if each_morning == each.len() => {
                    format!("Each day of each planned by itself, effort {effort}.")
                }
                _ => format!("Each planned, effort {effort}."),
            }
        }
    }
}

/// What one follows, in a few words: `its own plan`.
#[must_use]
pub fn followed(what: Followed, names: &[String]) -> String {
    match what {
        Followed::OwnPlan => "its own plan".to_owned(),
        Followed::EachMorning => "a plan of each day".to_owned(),
        Followed::PlanOf(other) => format!(
            "the plan of {}",
            names.get(other).map_or("another", String::as_str)
        ),
        Followed::OwnRules | Followed::NothingToPlan | Followed::NotSearched => "its own rules".to_owned(),
    }
}

/// What else is to be known of them, each in a sentence.
#[must_use]
pub fn following_notes(following: &Following, names: &[String]) -> Vec<String> {
    let Following::Plans { each, searched, .. } = following else {
        return Vec::new();
    };
    let those = |is: &dyn Fn(&Followed) -> bool| -> Vec<usize> {
        (0..each.len()).filter(|i| each.get(*i).is_some_and(is)).collect()
    };
    let name = |i: usize| names.get(i).map_or("", String::as_str);
    let mut notes = Vec::new();
    let carried = those(&|f| matches!(f, Followed::PlanOf(_)));
    if carried.len() > NAMED {
        notes.push(format!(
            "{} of {} follow the plan of a neighbour, which comes out better there than what was found for them.",
            carried.len(),
            each.len()
        ));
    } else {
        notes.extend(carried.into_iter().filter_map(|i| {
            let whose = followed(*each.get(i)?, names);
            Some(format!(
                "{} follows {whose}, which comes out better there than what was found for it.",
                name(i)
            ))
        }));
    }
    for (which, why) in [
        (Followed::OwnRules, "no plan that was found is better"),
        (Followed::NothingToPlan, "it has no order"),
        (Followed::NotSearched, "the search was stopped before"),
    ] {
        notes.extend(by_rules(&those(&|f| *f == which), &name, why));
    }
    if each.contains(&Followed::EachMorning) {
        notes.push(
            "Where orders come by chance a day is planned each morning and again at each such order, with only what is known \
             then."
                .to_owned(),
        );
    }
    if *searched < each.len() {
        notes.push(format!(
            "The search was stopped: {searched} of {} plans were searched to the end.",
            each.len()
        ));
    }
    notes
}

/// Those that go by their rules, by name or by number, and why.
fn by_rules<'a>(those: &[usize], name: &impl Fn(usize) -> &'a str, why: &str) -> Option<String> {
    let names: Vec<String> = those.iter().map(|i| name(*i).to_owned()).collect();
    match names.len() {
        0 => None,
        1 => Some(format!("{} follows its own rules: {why}.", list(&names))),
        many if many <= NAMED => Some(format!("{} follow their own rules: {why}.", list(&names))),
        many => Some(format!("{many} follow their own rules: {why}.")),
    }
}

/// Whether the shops' own rules give the same answer as plans, and if not, which.
#[must_use]
pub fn rules_say(planned: &Comparison, rules: &Comparison) -> String {
    let verdict = verdict(rules);
    if !same_answer(planned, rules) {
        return format!("By the shop's rules alone the answer is another: {verdict}");
    }
    // What it comes to may be another amount.
    let first = verdict
        .split_once(". ")
        .map_or(verdict.as_str(), |(first, _)| first);
    let first = first.trim_end_matches('.');
    format!("By the shop's rules alone the answer is the same: {first}.")
}

/// Whether both say to take the same.
#[must_use]
pub fn same_answer(one: &Comparison, other: &Comparison) -> bool {
    let many = one.alternatives.len();
    let leans = (1..many).all(|i| leaning(one, i) == leaning(other, i));
    leans && (many <= 2 || ranking(one).take == ranking(other).take)
}

/// Whether a sweep by the shop's own rules turns where the planned one does, and if not, where.
#[must_use]
pub fn rules_turn(planned: &Sweep, rules: &Sweep) -> String {
    if turns_at(planned) == turns_at(rules) {
        return "By the shop's rules alone the figures turn at the same places.".to_owned();
    }
    format!("By the shop's rules alone: {}", super::turns(rules).join(" "))
}

/// Where the figures that matter turn, and which are best at an edge.
fn turns_at(sweep: &Sweep) -> Vec<(Measure, Option<Kind>, String)> {
    let judged = |m: &&Measure| m.is_headline() || **m == Measure::LateOrders;
    let turns = Measure::ALL
        .iter()
        .filter(judged)
        .filter_map(|m| turning(sweep, *m));
    let turns = turns.map(|t| (t.measure, Some(t.kind), format!("{}", t.at)));
    let edges = edges(sweep).into_iter().filter(|e| judged(&&e.measure));
    turns.chain(edges.map(|e| (e.measure, None, e.at.text))).collect()
}

#[cfg(test)]
mod tests {
    use super::following_notes;
    use tankday_plan::planned::{Followed, Following};

    #[test]
    fn what_each_follows_is_said_by_name_or_by_number() {
        let names: Vec<String> = ["a", "b", "c", "d", "e", "f"].map(str::to_owned).to_vec();
        let notes = |each: Vec<Followed>, searched: usize| {
            let plans = Following::Plans {
                effort: "quick".to_owned(),
                each,
                searched,
            };
            following_notes(&plans, &names)
        };
        let own = Followed::OwnPlan;
        assert!(notes(vec![own; 3], 3).is_empty());
        assert_eq!(
            notes(vec![own, Followed::PlanOf(0), Followed::OwnRules], 3),
            [
                "b follows the plan of a, which comes out better there than what was found for it.",
                "c follows its own rules: no plan that was found is better."
            ]
        );
        let stopped = [&[own][..], &[Followed::NotSearched; 5]].concat();
        assert_eq!(
            notes(stopped, 1),
            [
                "5 follow their own rules: the search was stopped before.",
                "The search was stopped: 1 of 6 plans were searched to the end."
            ]
        );
        let carried = [&[own][..], &[Followed::PlanOf(0); 5]].concat();
        let said = notes(carried, 6);
        assert!(
            said[0].starts_with("5 of 6 follow the plan of a neighbour"),
            "{said:?}"
        );
    }
}

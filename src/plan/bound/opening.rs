//! What hands can do at the start: until something that was put somewhere is over, no more than to put in as much as the
//! first places take. What is left of all their work comes after that.

use super::machine::Job;
use super::way::{Finder, Stage, Way, by_hand};
use std::collections::BTreeSet;
use tankday_base::shop::{Hands, StationId, Step, StepTime};
use tankday_base::units::{Moment, Span};

/// The earliest moment by which hands can have done all these jobs, with the least that comes after any.
pub(super) fn finish(finder: &Finder<'_>, ways: &[Way], jobs: &[Job]) -> Moment {
    let Some(start) = Start::of(finder, ways) else {
        return Moment::ZERO;
    };
    let work: Span = jobs.iter().map(|j| j.work).sum();
    let tail = jobs.iter().map(|j| j.tail).min().unwrap_or(Span::ZERO);
    let left = (work - start.before).max(Span::ZERO).in_micros();
    start.until + Span::micros(left / i64::from(finder.shop.hands.max(1))) + tail
}

/// The first stretch of all, and how long hands can work in it.
struct Start {
    until: Moment,
    before: Span,
}

impl Start {
    fn of(finder: &Finder<'_>, ways: &[Way]) -> Option<Self> {
        let mut until = Moment::NEVER;
        let mut places = BTreeSet::new();
        let mut longest = Span::ZERO;
        for way in ways {
            let steps = &finder.shop.routes[way.route].steps;
            let outline = &finder.outlines[way.route];
            for stage in &way.stages {
                let step = &steps[stage.step];
                if outline.before[stage.step] == 0 && only_put_in(step) {
                    until = until.min(stage.start + stage.whole() - stage.take);
                    longest = longest.max(stage.put);
                    places.extend(step.stations.iter().copied());
                } else {
                    until = until.min(first_work(stage, step));
                }
            }
        }
        let room = |s: &StationId| {
            let at = &finder.shop.stations[s.index()];
            u64::from(at.places) * u64::from(at.together.max(1))
        };
        let many: u64 = places.iter().map(room).sum();
        (until < Moment::NEVER).then(|| Self {
            until,
            before: super::jobs::times(longest, many),
        })
    }
}

/// Whether hands only put in and take out. A place that was filled is free only once the work there is over.
fn only_put_in(step: &Step) -> bool {
    step.hands == Hands::Ends
        && step.put_in > Span::ZERO
        && step.time != StepTime::Coat
        && !step.stations.is_empty()
}

/// When hands can have anything to do with a step.
fn first_work(stage: &Stage, step: &Step) -> Moment {
    if by_hand(step) || step.hands == Hands::Throughout {
        stage.start
    } else if stage.take > Span::ZERO {
        stage.start + stage.put + stage.stay
    } else {
        Moment::NEVER
    }
}

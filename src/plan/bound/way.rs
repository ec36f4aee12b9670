//! The way of each order by itself: when each of its steps can begin at the earliest, and what must come after it.

use super::hours::Hours;
use tankday_base::shop::{
    Arrival, AtBreak, CoatRule, Frees, Hands, Order, PartId, Route, Shop, Step, StepTime,
};
use tankday_base::units::{Moment, Span};

/// Which steps of a route come before and after each, directly or through others, a bit each.
pub(super) struct Outline {
    pub(super) before: Vec<u64>,
    pub(super) after: Vec<u64>,
    /// Whether each step has its place in one row.
    in_a_row: bool,
}

impl Outline {
    pub(super) fn of(route: &Route) -> Self {
        let steps = route.steps.len().min(64);
        let mut before = vec![0u64; steps];
        // Steps stand in an order in which they may be done, so that one round would do; more do no harm.
        for _ in 0..steps {
            for s in 0..steps {
                let direct = route.steps[s].after.iter().filter(|a| a.index() < steps);
                let all = direct.fold(0, |m, a| m | 1 << a.index() | before[a.index()]);
                before[s] |= all & !(1 << s);
            }
        }
        let after: Vec<u64> = (0..steps)
            .map(|s| {
                (0..steps)
                    .filter(|t| before[*t] >> s & 1 == 1)
                    .fold(0, |m, t| m | 1 << t)
            })
            .collect();
        let in_a_row = (0..steps).all(|s| (before[s] | after[s]).count_ones() as usize + 1 == steps);
        Self {
            before,
            after,
            in_a_row,
        }
    }
}

/// Whether a step may be begun, or a load taken out, while hands are off duty: what is wet or hot must not wait.
/// The same as the line sees it in `line/pick.rs`.
pub(super) fn begins_urgent(step: &Step) -> bool {
    let wet = step.at_once || step.within.is_some_and(|w| w <= tankday_base::shop::SHORT_WAIT);
    wet && step.time != StepTime::Coat
}

/// The same for taking out.
pub(super) fn out_urgent(step: &Step) -> bool {
    step.time == StepTime::Coat || step.most.is_some()
}

/// Whether hands begin a step.
pub(super) fn by_hand(step: &Step) -> bool {
    match step.hands {
        Hands::None => false,
        Hands::Ends => step.put_in > Span::ZERO,
        Hands::Throughout => true,
    }
}

/// Whether hands lay a step down when a break comes.
pub(super) fn pauses(step: &Step) -> bool {
    step.hands == Hands::Throughout && step.at_break != AtBreak::FinishFirst && !begins_urgent(step)
}

/// One step of an order's way.
pub(super) struct Stage {
    /// Its place in the route.
    pub(super) step: usize,
    pub(super) put: Span,
    pub(super) take: Span,
    /// The least that a lot is worked on, whatever its size: the time of a load, the shortest dwell.
    pub(super) fixed: Span,
    /// What all pieces of the order add to that, over all its lots.
    pub(super) each: Span,
    /// The least that a part of the order stays: a single piece, where orders may be divided.
    pub(super) stay: Span,
    /// It cannot begin before.
    pub(super) start: Moment,
    /// What must come after it takes so long at least.
    pub(super) after: Span,
}

impl Stage {
    pub(super) fn whole(&self) -> Span {
        self.put + self.stay + self.take
    }
}

/// The times of one order's way, step by step.
pub(super) struct Way {
    pub(super) order: usize,
    pub(super) route: usize,
    pub(super) part: PartId,
    pub(super) count: u32,
    /// Lots in which it comes at the least: as many as a bath that it passes has to take of it.
    pub(super) lots: u64,
    pub(super) stages: Vec<Stage>,
    /// The earliest moment at which it can be ready: all its steps come one after the other.
    pub(super) ready: Moment,
    pub(super) due: Option<Moment>,
}

/// What all ways are found with.
pub(super) struct Finder<'a> {
    pub(super) shop: &'a Shop,
    pub(super) hours: &'a Hours,
    /// For each station when its bath is hot.
    pub(super) hot: &'a [Moment],
    pub(super) outlines: &'a [Outline],
    /// Whether an order may come in several lots: where there are tanks.
    pub(super) divisible: bool,
}

impl Finder<'_> {
    /// The way of an order; none if it comes at random, or after all that is simulated.
    pub(super) fn way(&self, index: usize, order: &Order) -> Option<Way> {
        let Arrival::At(arrives) = order.arrival else {
            return None;
        };
        if arrives > self.shop.rules.stop {
            return None;
        }
        let route = self.shop.routes.get(order.route.index())?;
        let outline = self.outlines.get(order.route.index())?;
        let mut way = Way {
            order: index,
            route: order.route.index(),
            part: order.part,
            count: order.count,
            lots: 1,
            stages: Vec::with_capacity(route.steps.len()),
            ready: arrives,
            due: order.due_after.map(|after| arrives + after),
        };
        let mut ends = vec![arrives; outline.before.len()];
        for (s, step) in route.steps.iter().enumerate().take(outline.before.len()) {
            let direct = step.after.iter().filter_map(|a| ends.get(a.index()));
            let mut from = direct.fold(arrives, |a, b| a.max(*b));
            if !step.only.is_empty() && !step.only.contains(&order.part) {
                ends[s] = from;
                continue;
            }
            if !outline.in_a_row {
                from = from.max(one_by_one(&way.stages, outline, s, arrives));
            }
            let stage = self.stage(order, step, s, from);
            ends[s] = self.end(step, &stage, stage.stay);
            way.stages.push(stage);
        }
        self.finish(&mut way, route, outline, &ends);
        Some(way)
    }

    /// What comes after each step, and the end of it all: each step for all pieces, with what must be before and after it.
    fn finish(&self, way: &mut Way, route: &Route, outline: &Outline, ends: &[Moment]) {
        let wholes: Vec<(usize, Span)> = way.stages.iter().map(|s| (s.step, s.whole())).collect();
        for stage in &mut way.stages {
            let below = outline.after[stage.step];
            let those = wholes.iter().filter(|w| below >> w.0 & 1 == 1);
            stage.after = those.map(|w| w.1).sum();
        }
        let last = ends.iter().copied().max().unwrap_or(way.ready);
        let through = way.stages.iter().map(|stage| {
            let step = &route.steps[stage.step];
            let lanes = self.lanes(step);
            let all = stage.fixed + Span::micros(stage.each.in_micros() / i64::from(lanes));
            self.end(step, stage, all.max(stage.stay)) + stage.after
        });
        way.ready = through.fold(way.ready.max(last), Moment::max);
    }

    /// In how many places, or under how many hands, a step can go on side by side.
    fn lanes(&self, step: &Step) -> u32 {
        let places = step.stations.iter().map(|s| {
            let at = &self.shop.stations[s.index()];
            at.places.saturating_mul(at.together.max(1))
        });
        let places = places.fold(0, u32::saturating_add).max(1);
        match step.hands {
            Hands::Throughout => places.min(self.shop.hands.max(1)),
            _ => places,
        }
    }

    fn stage(&self, order: &Order, step: &Step, s: usize, from: Moment) -> Stage {
        let ends = step.hands == Hands::Ends;
        let only_at_ends = |t: Span| if ends { t } else { Span::ZERO };
        let (fixed, each) = self.work(order, step);
        let one = match &step.time {
            StepTime::Work { each, .. } if self.divisible || self.in_groups(step) => *each,
            _ => each,
        };
        let at = |s: &tankday_base::shop::StationId| self.hot.get(s.index()).copied().unwrap_or(Moment::ZERO);
        let hot = match step.time {
            StepTime::Coat => step.stations.iter().map(at).min().unwrap_or(Moment::ZERO),
            StepTime::Work { .. } => Moment::ZERO,
        };
        let from = from.max(hot);
        Stage {
            step: s,
            put: only_at_ends(step.put_in),
            take: only_at_ends(step.take_out),
            fixed,
            each,
            stay: fixed + one,
            start: match (by_hand(step), begins_urgent(step)) {
                (false, _) => from,
                (true, true) => self.hours.begin_urgent(from),
                (true, false) => self.hours.begin(from),
            },
            after: Span::ZERO,
        }
    }

    /// When a step is over that goes on for so long.
    fn end(&self, step: &Step, stage: &Stage, work: Span) -> Moment {
        let over = if pauses(step) {
            self.hours.with_pauses(stage.start, work)
        } else {
            stage.start + stage.put + work
        };
        let out = match (stage.take > Span::ZERO, out_urgent(step)) {
            (false, _) => over,
            (true, true) => self.hours.begin_urgent(over),
            (true, false) => self.hours.begin(over),
        };
        out + stage.take
    }

    /// Whether loads can be worked on as a group, which takes the time of one of them.
    pub(super) fn in_groups(&self, step: &Step) -> bool {
        let together = |s: &tankday_base::shop::StationId| self.shop.stations[s.index()].together > 1;
        !by_hand(step) && step.stations.iter().any(together)
    }

    /// The least work on a lot whatever its size, and what all pieces add; of a group only the pieces of one load count,
    /// whichever it is.
    fn work(&self, order: &Order, step: &Step) -> (Span, Span) {
        match &step.time {
            StepTime::Work { load, each } => {
                let pieces = if self.in_groups(step) { 0 } else { order.count };
                (load.mean(), each.times(f64::from(pieces)))
            }
            StepTime::Coat => (self.dwell(order, step), Span::ZERO),
        }
    }

    fn dwell(&self, order: &Order, step: &Step) -> Span {
        let own = self.shop.parts[order.part.index()].dwell;
        let first = step.stations.first();
        let tank = first.and_then(|s| self.shop.stations[s.index()].tank.as_ref());
        tank.map_or(Span::ZERO, |tank| {
            let recipe = &self.shop.baths[tank.bath.index()];
            let drawn = match &recipe.coat {
                CoatRule::Time(time) => time.mean(),
                CoatRule::Target(_) => Span::ZERO,
            };
            // In company a load stays no longer than each of it may.
            let windows = self.shop.parts.iter().filter_map(|p| p.dwell);
            let drawn = windows.map(|w| w.1).fold(drawn, Span::min);
            let least = recipe.least.max(own.map_or(Span::ZERO, |o| o.0)).max(drawn);
            least.min(recipe.most).min(own.map_or(Span::FOREVER, |o| o.1))
        })
    }
}

/// A load does all its steps one after the other, in whichever order: none begins before all that must be before it are
/// over, from the start or from any of them on.
fn one_by_one(before: &[Stage], outline: &Outline, s: usize, arrives: Moment) -> Moment {
    let above = outline.before[s];
    let those = || before.iter().filter(move |b| above >> b.step & 1 == 1);
    let all = arrives + those().map(Stage::whole).sum::<Span>();
    let from = those().map(|first| {
        let below = outline.after[first.step];
        let between = those().filter(|b| below >> b.step & 1 == 1);
        first.start + first.whole() + between.map(Stage::whole).sum::<Span>()
    });
    from.fold(all, Moment::max)
}

/// Whether a place at every station of a step is held until the load is taken out.
pub(super) fn held(shop: &Shop, step: &Step) -> bool {
    let emptied = |s: &tankday_base::shop::StationId| shop.stations[s.index()].frees == Frees::WhenEmptied;
    step.stations.iter().all(emptied)
}

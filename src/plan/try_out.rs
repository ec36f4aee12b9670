//! How a decision is put to the test: the line runs it, and a plan that breaks a limit is mended.

use super::judge::{CostObserver, Space};
use super::model::{Evaluated, SearchContext, Solution};
use tankday_base::shop::Keeping;
use tankday_base::units::Moment;
use tankday_line::Plan;

/// A plan that breaks limits is mended so many times before it is given up.
const MENDINGS: usize = 40;
/// The same where the sequence is only a preference, which keeps most limits by itself; then it stays as it is.
const MENDINGS_LOOSE: usize = 6;

/// A day that takes long is mended fewer times, but so often at least.
const FEWEST_MENDINGS: usize = 3;

/// What is used again from one test to the next.
pub(super) struct Bench {
    pub(super) plan: Plan,
    order: Vec<u32>,
    keyed: Vec<(i64, u32)>,
    space: Space,
    pub(super) runs: u64,
    /// Days dispatched in the timetable.
    pub(super) dispatched: u64,
    /// The last decision could not be mended.
    pub(super) unmended: bool,
}

impl SearchContext<'_> {
    pub(super) fn bench(&self) -> Bench {
        Bench {
            plan: self.blank.clone(),
            order: Vec::new(),
            keyed: Vec::new(),
            space: Space::default(),
            runs: 0,
            dispatched: 0,
            unmended: false,
        }
    }

    /// Runs a decision. A plan that breaks a limit is mended: what came too early for what follows is held back.
    /// None if it costs more than the limit.
    pub(super) fn try_out(
        &self,
        g: &Solution,
        strict: bool,
        limit: f64,
        bench: &mut Bench,
    ) -> Option<Evaluated> {
        self.run(g, strict, None, limit, bench)
    }

    /// The same, with each task held back until its time: for times that are known to keep all limits.
    pub(super) fn try_at(
        &self,
        g: &Solution,
        times: &[Moment],
        limit: f64,
        bench: &mut Bench,
    ) -> Option<Evaluated> {
        self.run(g, true, Some(times), limit, bench)
    }

    fn run(
        &self,
        g: &Solution,
        strict: bool,
        times: Option<&[Moment]>,
        limit: f64,
        bench: &mut Bench,
    ) -> Option<Evaluated> {
        bench.unmended = false;
        self.in_order(g, &mut bench.keyed);
        bench.order.clear();
        bench.order.extend(bench.keyed.iter().map(|k| k.1));
        self.group(g, &mut bench.plan);
        bench.plan.sequence(&bench.order);
        bench.plan.keeping = if strict {
            Keeping::Strictly
        } else {
            Keeping::Loosely
        };
        bench.plan.calls.clone_from(&g.calls);
        // What has begun began when it did, and nothing else begins before now.
        bench.plan.hold.clone_from(&self.blank.hold);
        if let Some(times) = times {
            let open = bench.plan.hold.iter_mut().zip(times).zip(&self.blank.pinned);
            for ((hold, time), _) in open.filter(|(_, pinned)| !**pinned) {
                *hold = (*hold).max(*time);
            }
        }
        let most = if strict { MENDINGS } else { MENDINGS_LOOSE };
        let most = (most / self.weight() as usize).max(FEWEST_MENDINGS);
        for round in 1..=most {
            let space = std::mem::take(&mut bench.space);
            let mut judge = CostObserver::new(self.shop, &bench.plan, &self.dues, limit, space);
            let outcome = self.line.follow(&bench.plan, None, &mut judge);
            bench.runs += 1;
            let mut judged = judge.verdict(&outcome);
            // A day on which all gets ready may be on its way to one that keeps its limits.
            if judged.unready > 0 {
                judged.cost += self.excess(&judge);
            }
            let holds = self.mended(&judge);
            let last = round == most && !strict;
            if holds.is_empty() || judged.unready > 0 || last {
                let within = judged.cost <= limit;
                let tried = within.then(|| Evaluated {
                    judged,
                    begun: judge.begun.clone(),
                    ended: judge.ended.clone(),
                    hold: bench.plan.hold.clone(),
                    care: std::mem::take(&mut judge.care),
                });
                bench.space = judge.space();
                return tried;
            }
            bench.space = judge.space();
            for (task, at) in holds {
                let hold = &mut bench.plan.hold[task as usize];
                *hold = (*hold).max(at);
            }
        }
        bench.unmended = true;
        None
    }
}

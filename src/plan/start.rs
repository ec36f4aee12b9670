//! First plans, by the rules of thumb of the trade.

use super::judge::{CostObserver, MOST_BREACHES, Space};
use super::model::{Evaluated, SearchContext, Solution};
use super::pack::Taking;
use super::search::RuleResult;
use super::try_out::Bench;
use rayon::prelude::*;
use tankday_base::units::{Moment, Span};
use tankday_line::Plan;

/// In which order loads go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Going {
    DueFirst,
    LongestDwellFirst,
    ShortestDwellFirst,
    LeastSlackFirst,
    AsStated,
}

/// The rules that are told beside the plan.
const TOLD: [(&str, Taking, Going); 4] = [
    ("due first", Taking::DueFirst, Going::DueFirst),
    (
        "longest dwell first",
        Taking::LongestDwellFirst,
        Going::LongestDwellFirst,
    ),
    ("best fit by area", Taking::BestFit, Going::DueFirst),
    ("slack against load time", Taking::BestFit, Going::LeastSlackFirst),
];

const TAKING: [Taking; 4] = [
    Taking::DueFirst,
    Taking::LongestDwellFirst,
    Taking::LargestFirst,
    Taking::BestFit,
];
const GOING: [Going; 5] = [
    Going::DueFirst,
    Going::LongestDwellFirst,
    Going::ShortestDwellFirst,
    Going::LeastSlackFirst,
    Going::AsStated,
];

impl SearchContext<'_> {
    /// A decision by two rules: which lots go together, and in which order loads go.
    pub(super) fn by_rule(&self, taking: Taking, going: Going) -> Solution {
        let mut g = self.plain();
        self.pack_plainly(&mut g, taking);
        self.put_in_order(&mut g, going);
        g
    }

    pub(super) fn put_in_order(&self, g: &mut Solution, going: Going) {
        let mut heads: Vec<u32> = (0..self.lots() as u32)
            .filter(|&l| g.head[l as usize] == l)
            .collect();
        let due = |h: u32| -> Moment {
            (0..self.lots() as u32)
                .filter(|&l| g.head[l as usize] == h)
                .map(|l| self.dues[self.blank.lots[l as usize].order as usize])
                .min()
                .unwrap_or(Moment::NEVER)
        };
        let stay = |h: u32| -> Span {
            (0..self.lots() as u32)
                .filter(|&l| g.head[l as usize] == h)
                .map(|l| self.dwell[l as usize])
                .max()
                .unwrap_or(Span::ZERO)
        };
        heads.sort_by_key(|&h| {
            let key = match going {
                Going::DueFirst => due(h).in_micros(),
                Going::LongestDwellFirst => -stay(h).in_micros(),
                Going::ShortestDwellFirst => stay(h).in_micros(),
                Going::LeastSlackFirst => (due(h) - stay(h)).in_micros(),
                Going::AsStated => 0,
            };
            (key, h)
        });
        let mut place = vec![0i64; self.lots()];
        for (i, &h) in heads.iter().enumerate() {
            place[h as usize] = i as i64;
        }
        for lot in 0..self.lots() {
            let at = place[g.head[lot] as usize] << 24;
            let tasks = self.before[lot].iter().chain(&self.within[lot]);
            for (k, &t) in tasks.enumerate() {
                g.key[t as usize] = at + ((lot as i64) << 8) + k as i64;
            }
        }
        self.push_later(g);
    }

    /// All pairs of rules, run as the line would by itself with these preferences; the best first.
    pub(super) fn starts(&self, bench: &mut Bench) -> Vec<(Solution, Evaluated)> {
        let mut pairs: Vec<(Taking, Going)> = Vec::new();
        for taking in TAKING {
            pairs.extend(GOING.map(|going| (taking, going)));
        }
        if self.tanks.is_empty() {
            pairs.truncate(GOING.len());
        }
        // Where each takes long, fewer will do.
        pairs.truncate((pairs.len() / self.weight() as usize).max(1));
        let by_rules = pairs
            .into_iter()
            .map(|(taking, going)| self.by_rule(taking, going));
        let by_rules = each_once(by_rules);
        let by_rule = |g: Solution| {
            let mut bench = self.bench();
            let found = self.settled(g, &mut bench);
            (found, bench.runs)
        };
        let (usual, tried): (_, Vec<_>) = rayon::join(
            || {
                let mut bench = self.bench();
                (self.as_usual(&mut bench), bench.runs)
            },
            || by_rules.into_par_iter().map(by_rule).collect(),
        );
        bench.runs += tried.iter().map(|t| t.1).sum::<u64>() + usual.1;
        let mut found: Vec<_> = tried.into_iter().filter_map(|t| t.0).collect();
        found.extend(usual.0);
        found.sort_by(|a, b| a.1.judged.cost.total_cmp(&b.1.judged.cost));
        found
    }

    /// What the line does when no plan tells it anything: the loads that form, where, and when.
    pub(super) fn as_usual(&self, bench: &mut Bench) -> Option<(Solution, Evaluated)> {
        if self.fixed.contains(&true) || self.blank.lots != Plan::of(self.line).lots {
            return None;
        }
        let mut judge = CostObserver::new(
            self.shop,
            &self.blank,
            &self.dues,
            f64::INFINITY,
            Space::default(),
        );
        let outcome = self.line.run(None, &mut judge);
        bench.runs += 1;
        let judged = judge.verdict(&outcome);
        let mut g = self.plain();
        for lot in 0..self.lots() {
            let Some(&coat) = self.within[lot].first() else {
                continue;
            };
            let coat = coat as usize & !1;
            let with = (0..lot).filter(|&l| g.head[l] == l as u32).find(|&l| {
                let other = self.within[l].first().map(|&t| t as usize & !1);
                other.is_some_and(|o| {
                    judge.begun[o] == judge.begun[coat] && judge.station[o] == judge.station[coat]
                })
            });
            if let Some(head) = with {
                g.head[lot] = head as u32;
            }
            g.tank[lot] = judge.station[coat];
        }
        let heads: Vec<u32> = g.head.clone();
        let sound = (0..self.lots() as u32)
            .filter(|&h| heads[h as usize] == h)
            .all(|h| {
                let tank = g.tank[h as usize];
                self.within[h as usize].is_empty() || self.one_load(self.members(&g, h).into_iter(), tank)
            });
        if !sound {
            return None;
        }
        let run = Evaluated {
            judged,
            begun: judge.begun.clone(),
            ended: judge.ended.clone(),
            hold: self.blank.hold.clone(),
            care: std::mem::take(&mut judge.care),
        };
        self.in_order_of_time(&mut g, &run);
        let at = |begun: &Moment| {
            if *begun < Moment::NEVER {
                *begun
            } else {
                Moment::ZERO
            }
        };
        let times: Vec<Moment> = run.begun.iter().map(at).collect();
        let exact = self.try_at(&g, &times, f64::INFINITY, bench);
        let exact = exact.map(|t| (g.clone(), t));
        let strict = self.try_out(&g, true, f64::INFINITY, bench);
        let strict = strict.filter(|t| t.judged.unready == 0).map(|t| (g.clone(), t));
        let settled = self.settled(g, bench);
        let cost = |f: &(Solution, Evaluated)| f.1.judged.cost;
        strict
            .into_iter()
            .chain(settled)
            .chain(exact)
            .min_by(|a, b| cost(a).total_cmp(&cost(b)))
    }

    /// Runs a decision as a preference, and puts its tasks in the order that came of it.
    pub(super) fn settled(&self, mut g: Solution, bench: &mut Bench) -> Option<(Solution, Evaluated)> {
        let order = self.heads_in_order(&g);
        let loose = self.try_out(&g, false, f64::INFINITY, bench)?;
        if !self.shop.aim.overtaking {
            let tried = self.try_out(&g, true, f64::INFINITY, bench)?;
            return Some((g, tried));
        }
        let one_by_one = g.clone();
        self.in_order_of_time(&mut g, &loose);
        let mut found = match self.try_out(&g, true, f64::INFINITY, bench) {
            Some(strict) if strict.judged.unready == 0 => (g, strict),
            _ => (g, loose),
        };
        let mut built = found.0.clone();
        let built = self.build(&mut built, &order, &found.1).then_some(built);
        for g in [Some(one_by_one), built].into_iter().flatten() {
            // Only what is better is run to its end.
            let limit = found.1.judged.cost;
            if let Some(tried) = self.try_out(&g, true, limit, bench)
                && tried.judged.cost < limit
            {
                found = (g, tried);
            }
        }
        Some(found)
    }

    /// The loads in the order in which their first tasks stand.
    fn heads_in_order(&self, g: &Solution) -> Vec<u32> {
        let first = |h: u32| {
            let lots = (0..self.lots()).filter(|&l| g.head[l] == h);
            lots.flat_map(|l| self.before[l].first().or(self.within[l].first()))
                .map(|&t| g.key[t as usize])
                .min()
        };
        let mut heads: Vec<u32> = (0..self.lots() as u32)
            .filter(|&l| g.head[l as usize] == l)
            .collect();
        heads.sort_by_key(|&h| (first(h), h));
        heads
    }
}

/// Many rules often say the same.
pub(super) fn each_once(all: impl Iterator<Item = Solution>) -> Vec<Solution> {
    let mut once: Vec<Solution> = Vec::new();
    for g in all {
        if !once.contains(&g) {
            once.push(g);
        }
    }
    once
}

/// The day by each rule of thumb, with orders cut up as the shop's own rule does, how many days it took, and what came of it.
pub(super) fn by_rules(world: &SearchContext<'_>) -> (Vec<RuleResult>, u64, Vec<(Solution, Evaluated)>) {
    let run: Vec<_> = TOLD
        .par_iter()
        .map(|&(name, taking, going)| {
            let mut bench = world.bench();
            let g = world.by_rule(taking, going);
            let tried = world.try_out(&g, false, f64::INFINITY, &mut bench);
            // Given up on the way: what is not ready then could still have been.
            let tried = tried.filter(|t| t.judged.breaches <= MOST_BREACHES);
            let judged = tried.as_ref().map(|t| t.judged);
            (RuleResult { name, judged }, bench.runs, tried.map(|t| (g, t)))
        })
        .collect();
    let runs = run.iter().map(|r| r.1).sum();
    let (rules, days): (Vec<_>, Vec<_>) = run.into_iter().map(|r| (r.0, r.2)).unzip();
    (rules, runs, days.into_iter().flatten().collect())
}

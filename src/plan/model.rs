//! What can be decided on a day: the shop as the planner sees it, a decision, and what is known of one that was tried.

use super::chain::Op;
use super::judge::{CostObserver, Judged};
use super::longest::Longest;
use super::settled::{now, went_in};
use tankday_base::shop::{OrderId, Shop, StationId};
use tankday_base::units::{Moment, Span};
use tankday_line::{Line, Plan};
use tankday_record::CareKind;

/// No tank, no task.
pub(super) const NONE: u32 = u32::MAX;
/// A shop as the planner sees it. Made once.
pub(super) struct SearchContext<'a> {
    pub(super) shop: &'a Shop,
    pub(super) line: &'a Line<'a>,
    pub(super) blank: Plan,
    pub(super) dues: Vec<Moment>,
    /// For each lot its tasks that matter, before the bath and from the bath on.
    pub(super) before: Vec<Vec<u32>>,
    pub(super) within: Vec<Vec<u32>>,
    /// For each task its lot and its step.
    pub(super) owner: Vec<(u32, u32)>,
    /// Lots that may share a load have the same class; none is shared across.
    pub(super) class: Vec<u32>,
    /// Tanks by station, and their room.
    pub(super) tanks: Vec<(StationId, [f64; 3])>,
    /// For each lot, which of the tanks can take it.
    pub(super) fits: Vec<Vec<u32>>,
    /// Shortest dwell of each lot.
    pub(super) dwell: Vec<Span>,
    /// Lots whose load went in as noted.
    pub(super) fixed: Vec<bool>,
    /// Before this nothing begins that has not begun.
    pub(super) now: Moment,
    /// By how much limits are passed by the shop's own rules, which a plan may, too; none where something is settled.
    pub(super) allowed: Option<Longest>,
    /// For each lot by itself its steps before the bath, and from the bath on in any tank.
    pub(super) own: Vec<[Vec<Op>; 2]>,
}

/// A decision: loads, tanks, and a key for every task; the least goes first.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Solution {
    pub(super) key: Vec<i64>,
    pub(super) head: Vec<u32>,
    pub(super) tank: Vec<u32>,
    /// Care that is brought forward: called for at a tank once the load of this lot is out.
    pub(super) calls: Vec<(StationId, CareKind, u32)>,
}

/// A decision that was run.
#[derive(Debug, Clone)]
pub(super) struct Evaluated {
    pub(super) judged: Judged,
    pub(super) begun: Vec<Moment>,
    pub(super) ended: Vec<Moment>,
    pub(super) hold: Vec<Moment>,
    /// When care began.
    pub(super) care: Vec<(StationId, CareKind, Moment)>,
}

impl<'a> SearchContext<'a> {
    /// On a plan in which something may be settled already: loads that went in, tasks that began, times before which
    /// nothing begins.
    pub(super) fn on(shop: &'a Shop, line: &'a Line<'a>, blank: Plan) -> Self {
        let tanks: Vec<(StationId, [f64; 3])> = shop.tanks().map(|(id, ..)| id).zip(line.rooms()).collect();
        let mut world = Self {
            dues: super::timed::dues(shop),
            before: Vec::new(),
            within: Vec::new(),
            owner: vec![(NONE, 0); blank.rank.len()],
            class: classes(shop, &blank),
            fixed: blank
                .lots
                .iter()
                .zip(0..)
                .map(|(l, i)| went_in(&blank, l, i))
                .collect(),
            fits: Vec::new(),
            dwell: Vec::new(),
            now: now(&blank),
            allowed: None,
            own: Vec::new(),
            shop,
            line,
            blank,
            tanks,
        };
        world.list_tasks();
        world.find_tanks();
        let lots = 0..world.lots() as u32;
        world.own = lots
            .map(|l| [false, true].map(|in_bath| world.ops(&[l], in_bath, NONE)))
            .collect();
        world
    }

    /// The same, with plans that pass limits by no more than this.
    pub(super) fn allowing(self, allowed: Option<Longest>) -> Self {
        Self { allowed, ..self }
    }

    /// What it costs that limits were passed by more than may be.
    pub(super) fn excess(&self, judge: &CostObserver<'_>) -> f64 {
        let allowed = self.allowed.as_ref();
        allowed.map_or(0.0, |allowed| judge.longest().excess(allowed))
    }

    fn list_tasks(&mut self) {
        for (i, lot) in self.blank.lots.iter().enumerate() {
            let (mut before, mut within) = (Vec::new(), Vec::new());
            let follows = self.follows(i as u32);
            for step in (0..lot.steps).filter(|s| lot.passes(*s) && !follows) {
                let task = self.blank.task(i as u32, step);
                let list = if lot.bath_step.is_some_and(|b| step >= b) {
                    &mut within
                } else {
                    &mut before
                };
                for t in [task, task + 1] {
                    if let Some(owner) = self.owner.get_mut(t as usize) {
                        *owner = (i as u32, step);
                    }
                }
                let open = |t: &u32| self.blank.matters(*t) && !self.blank.pinned[*t as usize];
                list.extend([task, task + 1].into_iter().filter(open));
            }
            self.before.push(before);
            self.within.push(within);
        }
    }

    fn find_tanks(&mut self) {
        for (i, lot) in self.blank.lots.iter().enumerate() {
            let stations = lot
                .bath_step
                .map_or(&[][..], |b| self.blank.stations_of(self.line, i as u32, b));
            let settled = self.fixed[i];
            let fits = (0..self.tanks.len() as u32).filter(|&t| {
                let (id, room) = self.tanks[t as usize];
                !settled && stations.contains(&id) && holds(room, lot.bulk) && self.takes(i as u32, id)
            });
            self.fits.push(fits.collect());
            let bath = stations.first().and_then(|s| self.shop.stations[s.index()].tank);
            let least = bath.map_or(Span::ZERO, |t| usual_dwell(self.shop, t.bath.index()));
            self.dwell.push(least.max(lot.window.0));
        }
    }

    pub(super) fn lots(&self) -> usize {
        self.blank.lots.len()
    }

    /// A decision with each lot a load of its own, in the order stated.
    pub(super) fn plain(&self) -> Solution {
        Solution {
            key: (0..self.blank.rank.len() as i64).map(|k| k << 16).collect(),
            head: (0..self.lots() as u32).collect(),
            tank: self
                .fits
                .iter()
                .map(|f| f.first().map_or(NONE, |&t| self.tanks[t as usize].0.0))
                .collect(),
            calls: Vec::new(),
        }
    }

    /// Whether a lot may go into a tank: it fits, and is not meant for another.
    fn takes(&self, lot: u32, tank: StationId) -> bool {
        self.line.takes(self.blank.lots[lot as usize].order, tank)
    }

    /// Whether these lots may be one load in a tank.
    pub(super) fn one_load(&self, lots: impl Iterator<Item = u32>, tank: u32) -> bool {
        let Some((_, room)) = self.tanks.iter().find(|t| t.0.0 == tank) else {
            return false;
        };
        let mut bulk = [0.0; 3];
        let mut window = (Span::ZERO, Span::micros(i64::MAX));
        for lot in lots {
            if !self.takes(lot, StationId(tank)) {
                return false;
            }
            let lot = &self.blank.lots[lot as usize];
            bulk.iter_mut().zip(lot.bulk).for_each(|(b, l)| *b += l);
            window = (window.0.max(lot.window.0), window.1.min(lot.window.1));
        }
        holds(*room, bulk) && window.0 <= window.1
    }

    /// Puts every task behind those that must come before it: later ones give way.
    pub(super) fn push_later(&self, g: &mut Solution) {
        let mut gathered = vec![i64::MIN; self.lots()];
        for lot in 0..self.lots() {
            let last = push(&mut g.key, &self.before[lot], i64::MIN);
            let head = g.head[lot] as usize;
            gathered[head] = gathered[head].max(last);
        }
        for lot in (0..self.lots()).filter(|&l| g.head[l] as usize == l) {
            push(&mut g.key, &self.within[lot], gathered[lot]);
        }
    }

    /// The same, but earlier ones give way.
    pub(super) fn pull_earlier(&self, g: &mut Solution) {
        for lot in 0..self.lots() {
            let head = g.head[lot] as usize;
            if head == lot {
                pull(&mut g.key, &self.within[lot], i64::MAX);
            }
            let first = self.within[head].first().map_or(i64::MAX, |&t| g.key[t as usize]);
            pull(&mut g.key, &self.before[lot], first);
        }
    }

    /// The tasks in the order of their keys.
    pub(super) fn in_order(&self, g: &Solution, keyed: &mut Vec<(i64, u32)>) {
        keyed.clear();
        let with_key = |&t: &u32| (g.key[t as usize], t);
        for lot in 0..self.lots() {
            keyed.extend(self.before[lot].iter().map(with_key));
            if g.head[lot] as usize == lot {
                keyed.extend(self.within[lot].iter().map(with_key));
            }
        }
        keyed.sort_unstable();
    }

    pub(super) fn step(&self, lot: u32, step: u32) -> &tankday_base::shop::Step {
        let route = self.blank.lots[lot as usize].route;
        &self.shop.routes[route as usize].steps[step as usize]
    }

    pub(super) fn put_in(&self, lot: u32, step: u32) -> Span {
        let step = self.step(lot, step);
        if step.hands == tankday_base::shop::Hands::Ends {
            step.put_in
        } else {
            Span::ZERO
        }
    }

    pub(super) fn longest(&self, lot: u32, step: u32) -> Option<Span> {
        let at = self.step(lot, step);
        let tank = at
            .stations
            .first()
            .and_then(|s| self.shop.stations[s.index()].tank);
        match tank {
            Some(tank) => Some(self.shop.baths[tank.bath.index()].most),
            None => at.most,
        }
    }
}

fn push(key: &mut [i64], tasks: &[u32], mut least: i64) -> i64 {
    for &t in tasks {
        let k = &mut key[t as usize];
        if *k <= least {
            *k = least + 1;
        }
        least = *k;
    }
    least
}

fn pull(key: &mut [i64], tasks: &[u32], mut most: i64) {
    for &t in tasks.iter().rev() {
        let k = &mut key[t as usize];
        if *k >= most {
            *k = most - 1;
        }
        most = *k;
    }
}

/// What a room holds at most: a little more than it has, since sums are rounded.
pub(super) fn full(room: f64) -> f64 {
    room * (1.0 + 1e-9)
}

pub(super) fn holds(room: [f64; 3], bulk: [f64; 3]) -> bool {
    bulk.iter().zip(room).all(|(b, r)| *b <= full(r))
}

/// What a bath without a wish for a weight would take, or its shortest dwell.
fn usual_dwell(shop: &Shop, bath: usize) -> Span {
    let recipe = &shop.baths[bath];
    match &recipe.coat {
        tankday_base::shop::CoatRule::Time(spread) => spread.mean().max(recipe.least),
        tankday_base::shop::CoatRule::Target(_) => recipe.least,
    }
}

fn classes(shop: &Shop, plan: &Plan) -> Vec<u32> {
    let mut seen = Vec::new();
    let mut class = Vec::new();
    for (i, lot) in plan.lots.iter().enumerate() {
        let key = match shop.company(OrderId(lot.order)) {
            Some(company) => Ok((company, lot.skip)),
            None => Err(i),
        };
        let at = seen.iter().position(|s| *s == key).unwrap_or_else(|| {
            seen.push(key);
            seen.len() - 1
        });
        class.push(at as u32);
    }
    class
}

/// How much of a tank's room a bulk takes.
pub(super) fn share(room: [f64; 3], bulk: [f64; 3]) -> f64 {
    bulk.iter()
        .zip(room)
        .map(|(b, r)| if r > 0.0 { b / r } else { 0.0 })
        .fold(0.0, f64::max)
}

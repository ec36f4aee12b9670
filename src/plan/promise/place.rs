//! Places a new order into a day that was planned without it: a load of its own before this load or that, or into a load
//! that has room. What comes before stays as it is, what comes after finds its place anew, each load as early as can be.
//! All of it is the same for every order: where a large one fits, a smaller one fits as well.

use super::fewer_pieces::{carried, no_less};
use super::sample::{By, ready_times};
use crate::choose::{held_as_run, one_day};
use crate::hot::first_hot;
use crate::judge::{CostObserver, Judged, Space};
use crate::model::{Evaluated, NONE, SearchContext, Solution};
use crate::timed::dues;
use crate::try_out::Bench;
use rayon::prelude::*;
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::Moment;
use tankday_line::{Line, Plan};

/// So many loads ahead are looked at, from the arrival of the order on.
const LOADS: usize = 14;
/// The same for orders in its stead.
const NEXT_LOADS: usize = 4;

/// A day with the new order in it, when every step takes its mean time.
#[derive(Debug, Clone)]
pub(super) struct Placed {
    pub(super) plan: Plan,
    /// Orders that come late now and did not before.
    pub(super) pushed: usize,
    /// When the new order is ready.
    pub(super) ready: Moment,
    /// Whether it begins only when the others are done, or on another day.
    pub(super) apart: bool,
}

/// Days are looked ahead so far.
const DAYS: usize = 12;

/// Where the new order goes.
#[derive(Debug, Clone, Copy)]
enum Where {
    /// Before this load.
    Before(usize),
    /// Before this load, and each further lot of it one load later.
    Spread(usize),
    /// Into this load, as far as it has room; what finds none goes before the next.
    Into(usize),
    /// Among all others as they stand, from when this load goes in on.
    Between(usize),
    /// The same, from a moment on.
    From(Moment),
    /// After everything: nobody waits for it, and it starts what it can in between.
    Last,
}

/// A day that was planned without the new order, seen from a shop that has it.
struct Day<'a> {
    world: SearchContext<'a>,
    /// The loads without the new order, which are loads of their own here.
    loads: Solution,
    run: Evaluated,
    heat: Vec<(StationId, Moment)>,
    hot: Vec<Moment>,
    /// Heads of the loads in the order of charging.
    heads: Vec<u32>,
    /// Lots of the new order.
    new: Vec<u32>,
    /// Whether it is an order in its stead.
    stead: bool,
}

/// A day without the new order.
struct Before<'a> {
    plan: &'a Plan,
    run: Evaluated,
    /// For each order whether it is late.
    late: Vec<bool>,
}

/// The days with the last order of a shop placed into a plan without it: as it is, and as orders that are no smaller and
/// come no earlier. `shop` and `without` have the same calendar.
pub(super) fn places(shop: &Shop, without: &Shop, plan: &Plan) -> Vec<Placed> {
    let ready = ready_times(without, &Line::new(without), By::Plan(plan), None);
    let before = Before {
        plan,
        run: ran(without, plan),
        late: late(without, &ready),
    };
    let line = Line::new(shop);
    let own = plans(shop, &line, &before, false).into_iter();
    let mut all: Vec<Placed> = own
        .map(|(plan, apart)| before.seen(shop, &line, plan, apart))
        .collect();
    let others: Vec<Vec<Placed>> = no_less(shop)
        .into_par_iter()
        .map(|other| {
            let plans = plans(&other, &Line::new(&other), &before, true).into_iter();
            let carried =
                plans.filter_map(|(plan, apart)| Some((carried(shop, &line, &other, &plan)?, apart)));
            carried
                .filter(|(plan, _)| ran(shop, plan).judged.breaches <= before.run.judged.breaches)
                .map(|(plan, apart)| before.seen(shop, &line, plan, apart))
                .collect()
        })
        .collect();
    all.extend(others.into_iter().flatten());
    all
}

impl Before<'_> {
    /// How a plan with the new order comes out.
    fn seen(&self, shop: &Shop, line: &Line<'_>, plan: Plan, apart: bool) -> Placed {
        let ready = ready_times(shop, line, By::Plan(&plan), None);
        let now = late(shop, &ready);
        let pushed = now
            .iter()
            .zip(&self.late)
            .filter(|(now, before)| **now && !**before);
        Placed {
            pushed: pushed.count(),
            ready: ready.last().copied().unwrap_or(Moment::NEVER),
            apart,
            plan,
        }
    }
}

fn late(shop: &Shop, ready: &[Moment]) -> Vec<bool> {
    ready
        .iter()
        .zip(dues(shop))
        .map(|(ready, due)| *ready > due)
        .collect()
}

/// Plans with the last order, which may be one in the stead of the new one, and whether it stands apart.
fn plans(shop: &Shop, line: &Line<'_>, before: &Before<'_>, stead: bool) -> Vec<(Plan, bool)> {
    let Some(day) = Day::of(shop, line, before, stead) else {
        return Vec::new();
    };
    let placed = |to: Where| -> Vec<(Plan, bool)> {
        let plans = day.placed(to, &mut day.world.bench()).into_iter();
        plans.map(|plan| (plan, matches!(to, Where::From(_)))).collect()
    };
    let all: Vec<Vec<(Plan, bool)>> = day.ways().into_par_iter().map(placed).collect();
    all.into_iter().flatten().collect()
}

impl<'a> Day<'a> {
    fn of(shop: &'a Shop, line: &'a Line<'a>, before: &Before<'_>, stead: bool) -> Option<Self> {
        let plan = before.plan;
        let mut pieces = vec![Vec::new(); shop.orders.len()];
        for lot in &plan.lots {
            pieces.get_mut(lot.order as usize)?.push(lot.pieces);
        }
        let world = SearchContext::on(shop, line, Plan::divided(line, &pieces));
        let old = plan.lots.len();
        let new: Vec<u32> = (old as u32..world.lots() as u32).collect();
        if new.is_empty() {
            return None;
        }
        let mut run = before.run.clone();
        let tasks = world.blank.rank.len();
        run.begun.resize(tasks, Moment::NEVER);
        run.ended.resize(tasks, Moment::NEVER);
        run.hold.resize(tasks, Moment::ZERO);
        let mut loads = world.plain();
        loads.head[..old].copy_from_slice(&plan.head);
        loads.tank[..old].copy_from_slice(&plan.tank);
        loads.calls.clone_from(&plan.calls);
        for (key, begun) in loads.key.iter_mut().zip(&run.begun) {
            *key = begun.in_micros().min(i64::MAX / 16) * 4;
        }
        world.push_later(&mut loads);
        let mut day = Self {
            heads: Vec::new(),
            hot: first_hot(shop),
            heat: plan.heat.clone(),
            world,
            loads,
            run,
            new,
            stead,
        };
        day.heads = (0..old as u32)
            .filter(|&l| day.loads.head[l as usize] == l && day.charged(&day.run, l) < Moment::NEVER)
            .collect();
        let mut heads = std::mem::take(&mut day.heads);
        heads.sort_by_key(|&h| (day.charged(&day.run, h), h));
        day.heads = heads;
        Some(day)
    }

    /// When a load goes into its bath, or begins where it passes none.
    fn charged(&self, run: &Evaluated, head: u32) -> Moment {
        let within = self.world.within[head as usize].first();
        let first = within.or_else(|| self.world.before[head as usize].first());
        first.map_or(Moment::NEVER, |&t| run.begun[t as usize & !1])
    }

    fn ways(&self) -> Vec<Where> {
        let there = self.new.iter().map(|&l| self.world.there(l)).min().unwrap_or(0);
        let after = |h: &u32| self.charged(&self.run, *h).in_micros() >= there;
        let first = self.heads.iter().position(after).unwrap_or(self.heads.len());
        let loads = if self.stead { NEXT_LOADS } else { LOADS };
        let until = first.saturating_add(loads).min(self.heads.len());
        let mut ways = Vec::new();
        if !self.stead {
            ways.extend([Where::Before(self.heads.len()), Where::Last]);
            // When all others are done, and with each further day.
            let ended = self.run.ended.iter().filter(|e| **e < Moment::NEVER);
            let opens = self.world.shop.calendar.days.iter().map(|d| d.open);
            let later = opens
                .chain(ended.max().copied())
                .filter(|at| at.in_micros() > there);
            ways.extend(later.take(DAYS).map(Where::From));
        }
        for at in first..until {
            ways.push(Where::Before(at));
            ways.push(Where::Between(at));
            if self.new.len() > 1 {
                ways.push(Where::Spread(at));
            }
            if self.new.iter().any(|&l| self.has_room(at, &[l])) {
                ways.push(Where::Into(at));
            }
        }
        ways
    }

    /// Whether lots find room in a load.
    fn has_room(&self, at: usize, lots: &[u32]) -> bool {
        let world = &self.world;
        let Some((&head, &lot)) = self.heads.get(at).zip(lots.last()) else {
            return false;
        };
        let tank = self.loads.tank[head as usize];
        let passes_one = !world.within[head as usize].is_empty() && !world.within[lot as usize].is_empty();
        let members = world.members(&self.loads, head).into_iter();
        passes_one
            && world.class[head as usize] == world.class[lot as usize]
            && world.one_load(members.chain(lots.iter().copied()), tank)
    }

    /// The loads with the new order among them, and those that find their place anew, in order.
    fn loads_of(&self, to: Where) -> (Solution, Vec<u32>) {
        let mut g = self.loads.clone();
        let (at, into) = match to {
            Where::Before(at) | Where::Spread(at) => (at, None),
            Where::Into(at) => (at, self.heads.get(at).copied()),
            Where::Between(_) | Where::From(_) | Where::Last => (self.heads.len(), None),
        };
        let mut order = Vec::new();
        let mut joined: Vec<u32> = Vec::new();
        if let Some(head) = into {
            for &lot in &self.new {
                joined.push(lot);
                if self.has_room(at, &joined) {
                    g.head[lot as usize] = head;
                    g.tank[lot as usize] = g.tank[head as usize];
                } else {
                    joined.pop();
                }
            }
            order.push(head);
        }
        order.extend(self.new.iter().filter(|l| !joined.contains(l)));
        order.extend(self.heads.iter().skip(at + usize::from(into.is_some())));
        if matches!(to, Where::Spread(_)) {
            let (new, old) = order.split_at(self.new.len());
            order = spread(new, old);
        }
        (g, order)
    }

    /// Plans with the new order there.
    fn placed(&self, to: Where, bench: &mut Bench) -> Vec<Plan> {
        let world = &self.world;
        let (mut g, order) = self.loads_of(to);
        let mut found = Vec::new();
        for tank in self.tanks() {
            for &lot in self.new.iter().filter(|&&l| g.head[l as usize] == l) {
                if world.fits[lot as usize].contains(&tank.0) {
                    g.tank[lot as usize] = tank.1;
                }
            }
            let mut g = g.clone();
            bench.plan.heat.clear();
            if matches!(to, Where::Last) {
                found.extend(self.behind(&g, bench));
            } else if let Some(times) = world.rebuilt(&mut g, (&self.run, &self.hot), &order, self.from(to)) {
                self.heat_in_time(&g, &times, bench);
                let tried = match world.try_at(&g, &times, f64::INFINITY, bench) {
                    None if self.stead => None,
                    None => world.try_out(&g, true, f64::INFINITY, bench),
                    some => some,
                };
                found.extend(tried.map(|t| {
                    let (plan, judged, _) = held_as_run(world, &t, bench);
                    (plan, judged)
                }));
            }
            if matches!(to, Where::Into(_)) {
                break;
            }
        }
        bench.plan.heat.clear();
        found.retain(|(_, judged)| judged.breaches <= self.run.judged.breaches);
        found.into_iter().map(|(plan, _)| plan).collect()
    }

    /// Nothing of the new order begins before this.
    fn from(&self, to: Where) -> i64 {
        match to {
            Where::Between(at) => self
                .heads
                .get(at)
                .map_or(0, |&h| self.charged(&self.run, h).in_micros()),
            Where::From(at) => at.in_micros(),
            _ => 0,
        }
    }

    /// The tanks, by their place in the list and by station; none, where there are none.
    fn tanks(&self) -> Vec<(u32, u32)> {
        let all = self.world.tanks.iter().zip(0..).map(|(t, i)| (i, t.0.0));
        let can = |t: &(u32, u32)| {
            self.new
                .iter()
                .any(|&l| self.world.fits[l as usize].contains(&t.0))
        };
        let some: Vec<(u32, u32)> = all.filter(can).collect();
        if some.is_empty() { vec![(NONE, NONE)] } else { some }
    }

    /// Heats later, as the plan without the order does, only where that is early enough.
    fn heat_in_time(&self, g: &Solution, times: &[Moment], bench: &mut Bench) {
        let in_time = |(tank, at): &&(StationId, Moment)| {
            let mut loads = self
                .new
                .iter()
                .filter(|&&l| g.tank[g.head[l as usize] as usize] == tank.0);
            loads.all(|&l| {
                let first = self.world.within[g.head[l as usize] as usize].first();
                first.is_none_or(|&t| times[t as usize & !1] >= *at)
            })
        };
        bench.plan.heat = self.heat.iter().filter(in_time).copied().collect();
    }

    /// Everything as it was, and the new order behind it, whenever hands have nothing else to start.
    fn behind(&self, g: &Solution, bench: &mut Bench) -> Option<(Plan, Judged)> {
        bench.plan.heat.clone_from(&self.heat);
        self.world.try_out(g, false, f64::INFINITY, bench)?;
        let mut plan = bench.plan.clone();
        for (hold, begun) in plan.hold.iter_mut().zip(&self.run.begun) {
            if *begun < Moment::NEVER {
                *hold = *begun;
            }
        }
        let judged = one_day(&self.world, &plan, None).0;
        Some((plan, judged))
    }
}

/// One of the new loads, one of the others, and so on.
fn spread(new: &[u32], old: &[u32]) -> Vec<u32> {
    let most = new.len().max(old.len());
    (0..most)
        .flat_map(|i| [new.get(i), old.get(i)])
        .flatten()
        .copied()
        .collect()
}

/// Runs a plan once, for when its tasks begin and end.
fn ran(shop: &Shop, plan: &Plan) -> Evaluated {
    let line = Line::new(shop);
    let dues = dues(shop);
    let mut judge = CostObserver::new(shop, plan, &dues, f64::INFINITY, Space::default());
    let outcome = line.follow(plan, None, &mut judge);
    let judged = judge.verdict(&outcome);
    let care = std::mem::take(&mut judge.care);
    let Space { begun, ended, .. } = judge.space();
    Evaluated {
        judged,
        begun,
        ended,
        hold: plan.hold.clone(),
        care,
    }
}

//! A decision as lanes: for each load what is done with it, deed by deed, with the least and the longest time between;
//! several lots that go into a bath together have a lane each until they do.

use super::chain::Op;
use super::gaps::FAR;
use super::model::{Evaluated, SearchContext, Solution};
use tankday_base::shop::StationId;
use tankday_base::units::Moment;

/// Work of hands with a load, or its going in or out without them. Times in microseconds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LaneTask {
    pub(super) task: u32,
    pub(super) long: i64,
    pub(super) hands: bool,
    /// Where hands must be before, and where they are afterwards, by station.
    pub(super) from: usize,
    pub(super) to: usize,
    /// From the end of the deed before, the least and the longest.
    pub(super) least: i64,
    pub(super) most: i64,
    /// The place that the load comes to, and how many find room there.
    pub(super) enters: Option<(usize, u32)>,
    /// The place that it leaves.
    pub(super) leaves: Option<usize>,
}

impl LaneTask {
    /// Going in and out of a step.
    fn pair(op: &Op) -> [Self; 2] {
        let place = op.place.index();
        let long = if op.throughout { op.least } else { op.put };
        let start = Self {
            task: op.task,
            long,
            hands: long > 0,
            from: place,
            to: place,
            least: 0,
            most: op.within,
            enters: Some((place, op.room)),
            leaves: None,
        };
        let end = Self {
            task: op.task + 1,
            long: op.take,
            hands: op.take > 0,
            to: op.next.index(),
            least: if op.throughout { 0 } else { op.least },
            most: if op.throughout { FAR } else { op.most },
            enters: None,
            leaves: Some(place),
            ..start
        };
        [start, end]
    }

    fn like(&self, other: &Self) -> bool {
        Self { task: 0, ..*self } == Self { task: 0, ..*other }
    }
}

/// What is done with a load, or with a lot until its load goes in.
#[derive(Debug, Clone)]
pub(super) struct Lane {
    pub(super) deeds: Vec<LaneTask>,
    pub(super) there: i64,
    /// The lanes that must be through first.
    pub(super) after: Vec<usize>,
    /// Lanes of one kind can stand for each other.
    pub(super) kind: u32,
    /// From the beginning of each deed to the end of the lane, at least.
    pub(super) rest: Vec<i64>,
    /// Work of hands from each deed on.
    pub(super) work: Vec<i64>,
    /// Orders that are ready at its end.
    orders: Vec<u32>,
}

impl Lane {
    fn new(ops: &[Op], there: i64, after: Vec<usize>, orders: Vec<u32>) -> Self {
        let deeds: Vec<LaneTask> = ops.iter().flat_map(LaneTask::pair).collect();
        let (mut rest, mut work) = (vec![0; deeds.len()], vec![0; deeds.len()]);
        let (mut left, mut hands) = (0, 0);
        for (k, deed) in deeds.iter().enumerate().rev() {
            left += deed.long;
            hands += if deed.hands { deed.long } else { 0 };
            (rest[k], work[k]) = (left, hands);
            left += deed.least;
        }
        Self {
            deeds,
            there,
            after,
            kind: 0,
            rest,
            work,
            orders,
        }
    }

    /// How often it must be chosen until it is through.
    pub(super) fn steps(&self) -> usize {
        self.deeds.iter().filter(|d| d.hands).count().max(1)
    }

    fn like(&self, other: &Self, dues: &[Moment]) -> bool {
        let due = |l: &Self| -> Vec<Moment> { l.orders.iter().map(|&o| dues[o as usize]).collect() };
        self.after.is_empty()
            && other.after.is_empty()
            && self.there == other.there
            && self.deeds.len() == other.deeds.len()
            && self.deeds.iter().zip(&other.deeds).all(|(a, b)| a.like(b))
            && !self.orders.is_empty()
            && due(self) == due(other)
    }

    /// Whether hands must not come too late to something.
    fn is_narrow(&self) -> bool {
        let inner = self.deeds.iter().skip(1);
        inner.clone().any(|d| d.hands) && inner.into_iter().any(|d| d.most < FAR)
    }
}

/// All lanes of a decision, and what stands on that day.
pub(super) struct Lanes<'w, 'a> {
    world: &'w SearchContext<'a>,
    /// Each behind those that it waits for.
    pub(super) all: Vec<Lane>,
    off: Vec<(i64, i64)>,
    first: Vec<i64>,
}

impl Lanes<'_, '_> {
    pub(super) fn stations(&self) -> usize {
        self.first.len()
    }

    pub(super) fn deed(&self, lane: u16, deed: u16) -> &LaneTask {
        &self.all[lane as usize].deeds[deed as usize]
    }

    /// Before this a place was never used: its bath is not yet hot.
    pub(super) fn first(&self, place: usize) -> i64 {
        self.first[place]
    }

    pub(super) fn walk(&self, from: usize, to: usize) -> i64 {
        let walks = &self.world.shop.walks;
        if walks.is_none() {
            return 0;
        }
        walks
            .between(StationId(from as u32), StationId(to as u32))
            .in_micros()
    }

    /// When hands can begin work of so long, from a moment on.
    pub(super) fn open(&self, at: i64, long: i64) -> i64 {
        self.off.iter().fold(
            at,
            |at, &(from, until)| {
                if at < until && at + long > from { until } else { at }
            },
        )
    }

    /// What a day costs whose lanes end like this.
    pub(super) fn cost(&self, ends: &[i64], finish: i64) -> f64 {
        let world = self.world;
        let mut ready = vec![i64::MIN; world.shop.orders.len()];
        for (lane, &end) in self.all.iter().zip(ends) {
            for &order in &lane.orders {
                let at = &mut ready[order as usize];
                *at = (*at).max(end);
            }
        }
        let aim = &world.shop.aim;
        let late: f64 = ready
            .iter()
            .zip(&world.dues)
            .zip(&world.shop.orders)
            .filter(|((at, due), _)| Moment::micros(**at) > **due)
            .map(|((at, due), order)| {
                let late = (Moment::micros(*at) - *due).in_minutes();
                order.weight * (aim.late_order + aim.late_minute * late)
            })
            .sum();
        late + aim.finish_minute * (Moment::micros(finish) - world.opens()).in_minutes()
    }
}

impl<'a> SearchContext<'a> {
    /// The lanes of a decision that was run; none where nothing is narrow, several hands share the work, or the day is
    /// under way.
    pub(super) fn lanes<'w>(&'w self, g: &Solution, tried: &Evaluated) -> Option<Lanes<'w, 'a>> {
        if self.shop.hands != 1 || self.now > Moment::ZERO {
            return None;
        }
        let heads: Vec<u32> = (0..self.lots() as u32)
            .filter(|&l| g.head[l as usize] == l)
            .collect();
        let (off, first) = self.standing(g, tried, &heads).told();
        let order = |&l: &u32| self.blank.lots[l as usize].order;
        let mut all: Vec<Lane> = Vec::new();
        for &head in &heads {
            let members = self.members(g, head);
            let together = self.ops(&members, true, g.tank[head as usize]);
            let there = members.iter().map(|&l| self.there(l)).max().unwrap_or(0);
            let orders = members.iter().map(order).collect();
            if let [only] = members[..] {
                let mut ops = self.own_ops(only);
                ops.extend(together);
                all.push(Lane::new(&ops, there, Vec::new(), orders));
                continue;
            }
            let from = all.len();
            for &lot in &members {
                all.push(Lane::new(
                    &self.own_ops(lot),
                    self.there(lot),
                    Vec::new(),
                    Vec::new(),
                ));
            }
            let after = (from..all.len()).collect();
            all.push(Lane::new(&together, there, after, orders));
        }
        for n in 0..all.len() {
            let like = (0..n).find(|&m| all[m].like(&all[n], &self.dues));
            all[n].kind = like.map_or(n as u32, |m| all[m].kind);
        }
        all.iter().any(Lane::is_narrow).then_some(Lanes {
            world: self,
            all,
            off,
            first,
        })
    }
}

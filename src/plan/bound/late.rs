//! What lateness no plan can avoid.
//!
//! Of any orders the first that is ready is so no earlier than a resource allows for one of them, the second than for two, and
//! so on. Each order is one of these, and by itself it has its own way: the cheapest pairing of orders and places in this
//! row costs no more than any plan.

use super::assign::cheapest;
use super::jobs::{Work, times};
use super::loads::{fewest_loads, sizes};
use super::machine::{Job, fewest_late, in_turn, shortest_first};
use super::resource::Resource;
use super::way::{Finder, Way};
use tankday_base::shop::Combine;
use tankday_base::units::{Moment, Span};

/// More orders than this are paired by due times alone.
const MOST_PAIRED: usize = 48;
/// Those due first are looked at by themselves, at so many places.
const GROUPS: usize = 8;

/// Lateness in all, and orders that are late.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Late {
    pub(super) by: Span,
    pub(super) orders: u32,
}

impl Late {
    fn max(self, other: Self) -> Self {
        Self {
            by: self.by.max(other.by),
            orders: self.orders.max(other.orders),
        }
    }

    /// What each way by itself comes to.
    fn alone<'w>(ways: impl Iterator<Item = &'w Way>) -> Self {
        let late = ways
            .filter_map(|w| Some(w.ready - w.due?))
            .filter(|by| *by > Span::ZERO);
        late.fold(Self::default(), |sum, by| Self {
            by: sum.by + by,
            orders: sum.orders + 1,
        })
    }
}

/// The least lateness of all orders that are due.
pub(super) fn least(finder: &Finder<'_>, work: &Work<'_>, resources: &[Resource]) -> Late {
    let mut due: Vec<(Moment, usize, usize)> = Vec::new();
    for (c, class) in work.classes.iter().enumerate() {
        let own = class
            .ways
            .iter()
            .filter_map(|w| Some((work.ways[*w].due?, *w, c)));
        due.extend(own);
    }
    due.sort_unstable();
    let mut late = Late::alone(due.iter().map(|d| &work.ways[d.1]));
    let mut all = Rows::default();
    for resource in resources {
        let users: Vec<User<'_>> = due
            .iter()
            .filter_map(|d| User::of(finder, work, resource, d))
            .collect();
        let groups = GROUPS.min(users.len());
        for first in (1..=groups).map(|g| g * users.len() / groups) {
            let rest = due
                .iter()
                .filter(|d| !users[..first].iter().any(|u| u.number == d.1));
            let rest = Late::alone(rest.map(|d| &work.ways[d.1]));
            let group = Group {
                finder,
                work,
                resource,
                users: &users[..first],
            };
            let whole = first == users.len();
            let rows = group.rows();
            let own = group.late(&rows, whole);
            late = late.max(Late {
                by: own.by + rest.by,
                orders: own.orders + rest.orders,
            });
            if whole && users.len() == due.len() {
                all.later(&rows);
            }
        }
    }
    late.max(all.late(work, &due))
}

/// An order that uses a resource.
struct User<'a> {
    number: usize,
    class: usize,
    way: &'a Way,
    due: Moment,
    /// What it needs there for itself, and for each load that it is in.
    own: Job,
    shared: Span,
    /// It comes there no earlier, and the least that follows.
    head: Moment,
    tail: Span,
    /// Whether every order is there by itself at some step.
    by_itself: bool,
    /// Shares of the room of a load.
    room: [f64; 3],
}

impl<'a> User<'a> {
    fn of(
        finder: &Finder<'_>,
        work: &Work<'a>,
        resource: &Resource,
        &(due, number, class): &(Moment, usize, usize),
    ) -> Option<Self> {
        let way = &work.ways[number];
        let ops = resource.ops(finder, way);
        let of = &work.classes[class];
        let (own, shared) = (work.own(of, way, &ops), work.shared(of, &ops));
        if own.work + shared <= Span::ZERO {
            return None;
        }
        let outline = &work.outlines[way.route];
        let steps = &finder.shop.routes[way.route].steps;
        let rooms = of.coats().map(|c| sizes(finder.shop, &steps[c], way));
        let rooms = rooms.map(|r| r.map(|s| s.0 * f64::from(s.1)));
        let least = |a: [f64; 3], b: [f64; 3]| [0, 1, 2].map(|i| a[i].min(b[i]));
        Some(Self {
            number,
            class,
            way,
            due,
            own,
            shared,
            head: ops.iter().map(|o| o.head).min()?,
            tail: ops.iter().map(|o| o.tail).min()?,
            by_itself: ops.iter().any(|o| !of.merges_before(outline, o.step)),
            room: rooms.reduce(least).unwrap_or_default(),
        })
    }
}

/// For each number of orders when so many can be done at the earliest.
#[derive(Default)]
struct Rows {
    /// With what each order itself has behind the resource still to come, and its lateness from there.
    own: Vec<Moment>,
    /// Ready, whichever they are.
    ready: Vec<Moment>,
}

impl Rows {
    fn later(&mut self, other: &Self) {
        if self.ready.is_empty() {
            self.ready.clone_from(&other.ready);
        }
        for (a, b) in self.ready.iter_mut().zip(&other.ready) {
            *a = (*a).max(*b);
        }
    }

    /// The least lateness if the k-th order that is ready is so no earlier than the row says.
    fn late(&self, work: &Work<'_>, due: &[(Moment, usize, usize)]) -> Late {
        if self.ready.is_empty() {
            return Late::default();
        }
        let orders: Vec<(Moment, Moment)> = due.iter().map(|d| (d.0, work.ways[d.1].ready)).collect();
        paired(&orders, |_, place| self.ready[place])
    }
}

/// Some of the orders that use a resource.
struct Group<'a> {
    finder: &'a Finder<'a>,
    work: &'a Work<'a>,
    resource: &'a Resource,
    users: &'a [User<'a>],
}

impl Group<'_> {
    fn rows(&self) -> Rows {
        let tail = self.users.iter().map(|u| u.tail).min().unwrap_or(Span::ZERO);
        // Who has nothing of its own there is there from the start.
        let own = |u: &User<'_>| match u.own.work > Span::ZERO {
            true => u.own,
            false => Job {
                head: Moment::ZERO,
                ..u.own
            },
        };
        let jobs: Vec<Job> = self.users.iter().map(own).collect();
        let own = shortest_first(&jobs, self.resource.lanes, &self.resource.clock);
        let together = self.together();
        let ready = own
            .iter()
            .zip(together)
            .map(|(own, all)| (*own + tail).max(all + tail));
        Rows {
            ready: ready.collect(),
            own,
        }
    }

    /// When one, two, three orders and the loads that they need at the least can have been served, whichever they are.
    fn together(&self) -> Vec<Moment> {
        let loads = self.loads();
        let head = self.users.iter().map(|u| u.head).min().unwrap_or(Moment::ZERO);
        let shared = self.users.iter().map(|u| u.shared).min().unwrap_or(Span::ZERO);
        let mut own: Vec<Span> = self.users.iter().map(|u| u.own.work).collect();
        own.sort_unstable();
        let lanes = i64::from(self.resource.lanes.max(1));
        let from = self.resource.clock.passed(head);
        let turns = self.turns(&loads);
        let mut sum = Span::ZERO;
        let by_work = own.into_iter().zip(&loads).map(|(own, loads)| {
            sum += own;
            let all = sum + times(shared, *loads);
            self.resource
                .clock
                .moment(from + Span::micros(all.in_micros() / lanes))
        });
        by_work.zip(turns).map(|(a, b)| a.max(b)).collect()
    }

    /// The fewest loads that one, two, three of them go in, whichever they are.
    fn loads(&self) -> Vec<u64> {
        let mut most = vec![0u64; self.users.len()];
        for room in 0..3 {
            let mut sizes: Vec<f64> = self.users.iter().map(|u| u.room[room]).collect();
            sizes.sort_by(f64::total_cmp);
            let mut sum = 0.0;
            for (most, size) in most.iter_mut().zip(sizes) {
                sum += size;
                *most = (*most).max(libm::ceil(sum - 1e-6).max(0.0) as u64);
            }
        }
        let apart = self.finder.shop.rules.combine == Combine::Never;
        if apart && self.users.iter().all(|u| !u.by_itself) {
            most.iter_mut().zip(1..).for_each(|(m, k)| *m = (*m).max(k));
        }
        if let Some(last) = most.last_mut() {
            *last = (*last).max(self.loads_of_all());
        }
        most
    }

    fn loads_of_all(&self) -> u64 {
        let mut by_class: std::collections::BTreeMap<usize, Vec<&Way>> = std::collections::BTreeMap::new();
        for user in self.users {
            by_class.entry(user.class).or_default().push(user.way);
        }
        let of_class = |(class, ways): (usize, Vec<&Way>)| {
            let class = &self.work.classes[class];
            let steps = &self.finder.shop.routes[class.route].steps;
            let loads = class
                .coats()
                .map(|c| fewest_loads(self.finder.shop, &steps[c], ways.iter().copied()));
            loads.min().unwrap_or(0)
        };
        by_class.into_iter().map(of_class).sum()
    }

    /// By turns in its places: each order or load takes one.
    fn turns(&self, loads: &[u64]) -> Vec<Moment> {
        if !self.resource.is_place() {
            return vec![Moment::ZERO; loads.len()];
        }
        let lots = self.users.iter().all(|u| u.by_itself);
        let least = self
            .users
            .iter()
            .flat_map(|u| self.resource.ops(self.finder, u.way));
        let least = least.map(|o| o.fixed).min().unwrap_or(Span::ZERO);
        let mut heads: Vec<Moment> = self.users.iter().map(|u| u.head).collect();
        if !lots && let Some(first) = heads.iter().min().copied() {
            // An order may be in several loads, so that no load needs one that comes late.
            heads.fill(first);
        }
        let hours = self.resource.on_duty.then_some(self.finder.hours);
        let ends = in_turn(heads, least, self.resource.lanes, hours);
        let at = |(k, loads): (usize, &u64)| {
            let many = if lots {
                k + 1
            } else {
                (*loads as usize).clamp(1, k + 1)
            };
            ends.get(many - 1).copied().unwrap_or(Moment::ZERO)
        };
        loads.iter().enumerate().map(at).collect()
    }

    /// The least lateness of these, by the places that they take in the row of this resource.
    fn late(&self, rows: &Rows, closely: bool) -> Late {
        let orders: Vec<(Moment, Moment)> = self.users.iter().map(|u| (u.due, u.way.ready)).collect();
        let mut late = by_due(&orders, &rows.ready);
        let tails: Vec<Span> = self.users.iter().map(|u| tail(u)).collect();
        let sooner: Vec<(Moment, Moment)> = self
            .users
            .iter()
            .zip(&tails)
            .map(|(u, t)| (u.due - *t, u.way.ready - *t))
            .collect();
        late = late.max(by_due(&sooner, &rows.own));
        if closely {
            late = late.max(paired(&orders, |order, place| rows.own[place] + tails[order]));
        }
        late.max(Late {
            by: Span::ZERO,
            orders: self.given_up(),
        })
    }

    /// Orders that are late by themselves, and of the others those that come too late for the work of their own.
    fn given_up(&self) -> u32 {
        let alone = |u: &&User<'_>| u.way.ready > u.due;
        let others = || self.users.iter().filter(|u| !alone(u) && u.own.work > Span::ZERO);
        let from = others().map(|u| u.own.head).min().unwrap_or(Moment::ZERO);
        let jobs: Vec<(Span, Moment)> = others().map(|u| (u.own.work, u.due - tail(u))).collect();
        let late = fewest_late(
            &jobs,
            from.min(Moment::NEVER),
            self.resource.lanes,
            &self.resource.clock,
        );
        self.users.iter().filter(alone).count() as u32 + late
    }
}

/// What comes after an order's own work at least.
fn tail(user: &User<'_>) -> Span {
    if user.own.work > Span::ZERO {
        user.own.tail
    } else {
        Span::ZERO
    }
}

/// The first that is ready paired with the first that is due, and so on: no other pairing has less lateness. The most are on
/// time if each in turn goes to the first due time that it keeps.
fn by_due(orders: &[(Moment, Moment)], row: &[Moment]) -> Late {
    let mut dues: Vec<Moment> = orders.iter().map(|o| o.0).collect();
    dues.sort_unstable();
    let mut row = row.to_vec();
    row.sort_unstable();
    let by = dues
        .iter()
        .zip(&row)
        .map(|(due, ready)| (*ready - *due).max(Span::ZERO));
    let by = by.fold(Span::ZERO, |sum, by| sum + by);
    let mut kept = 0;
    for due in &dues {
        kept += usize::from(row.get(kept).is_some_and(|ready| ready <= due));
    }
    Late {
        by,
        orders: (dues.len() - kept) as u32,
    }
}

/// The cheapest way to give each order a place in the row, where none is ready before it is by itself. For few orders only.
fn paired(orders: &[(Moment, Moment)], row: impl Fn(usize, usize) -> Moment) -> Late {
    if orders.len() > MOST_PAIRED {
        return Late::default();
    }
    let late = |order: usize, place: usize| {
        let (due, alone) = orders[order];
        (row(order, place).max(alone) - due).max(Span::ZERO)
    };
    let by = cheapest(orders.len(), |order, place| late(order, place).in_micros());
    let many = cheapest(orders.len(), |order, place| {
        i64::from(late(order, place) > Span::ZERO)
    });
    Late {
        by: Span::micros(by),
        orders: many as u32,
    }
}

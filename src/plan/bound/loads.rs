//! Orders that may share loads, and the fewest loads of them.

use super::super::rooms::fewest;
use super::way::{Outline, Way};
use tankday_base::shop::{OrderId, Shop, Step, StepTime};
use tankday_base::units::{Moment, Quantity, Span};

/// Of a class the orders that come late are looked at by themselves, at so many places.
const PLACES: usize = 24;

/// Orders of which any may go into a bath together, and none with another.
pub(super) struct Class {
    /// Numbers of their ways, the one that can be in its first bath last of all first.
    pub(super) ways: Vec<usize>,
    /// For each step in a bath that it passes: for each of `firsts` the fewest loads in which so many of `ways` go.
    coats: Vec<(usize, Vec<u64>)>,
    /// Counts of the first of `ways`, the last of them all.
    pub(super) firsts: Vec<usize>,
    pub(super) route: usize,
    /// The most pieces in a load, by room.
    pub(super) most_pieces: u32,
}

impl Class {
    /// The fewest loads of the first of `ways` in which a step is done; none if there it is still done lot by lot, since
    /// every bath comes later.
    pub(super) fn loads_at(&self, outline: &Outline, step: usize) -> Option<Vec<u64>> {
        let before = self.coats.iter().filter(|c| outline.after[step] >> c.0 & 1 == 0);
        before.map(|c| c.1.clone()).reduce(|a, b| {
            let both = a.iter().zip(&b);
            both.map(|(a, b)| *a.min(b)).collect()
        })
    }

    /// Whether orders can have come together in a bath before a step.
    pub(super) fn merges_before(&self, outline: &Outline, step: usize) -> bool {
        self.coats.iter().any(|c| outline.after[step] >> c.0 & 1 == 0)
    }

    /// The steps in a bath that it passes.
    pub(super) fn coats(&self) -> impl Iterator<Item = usize> + '_ {
        self.coats.iter().map(|c| c.0)
    }
}

/// Sizes of one piece of a way as shares of the largest room of a step, and how many there are.
pub(super) fn sizes(shop: &Shop, step: &Step, way: &Way) -> [(f64, u32); 3] {
    let part = &shop.parts[way.part.index()];
    let mut room = [0.0f64; 3];
    for tank in step
        .stations
        .iter()
        .filter_map(|s| shop.stations[s.index()].tank.as_ref())
    {
        let each = shop.baths[tank.bath.index()].room;
        let basket = tank.basket.base();
        let own = [
            each.area.base() * tank.fill.base(),
            each.mass.base() * tank.fill.base(),
            if basket > 0.0 { basket } else { f64::INFINITY },
        ];
        room.iter_mut().zip(own).for_each(|(r, o)| *r = r.max(o));
    }
    let piece = [part.area.base(), part.mass.base(), part.bulk.base()];
    let share = |i: usize| if room[i] > 0.0 { piece[i] / room[i] } else { 0.0 };
    [0, 1, 2].map(|i| (share(i), way.count))
}

/// No fewer loads than so many: by surface, by mass, by basket, and by dwells that have no time in common.
pub(super) fn fewest_loads<'w>(shop: &Shop, step: &Step, ways: impl Iterator<Item = &'w Way>) -> u64 {
    let mut all: [Vec<(f64, u32)>; 3] = Default::default();
    let mut windows = Vec::new();
    for way in ways {
        for (list, size) in all.iter_mut().zip(sizes(shop, step, way)) {
            list.push(size);
        }
        windows.extend(shop.parts[way.part.index()].dwell);
    }
    let rooms = all.iter().map(|list| fewest(list)).max().unwrap_or(1);
    rooms.max(apart(windows))
}

/// The most windows of which no two have a time in common: each needs a load of its own.
fn apart(mut windows: Vec<(Span, Span)>) -> u64 {
    windows.sort_by_key(|w| w.1);
    let mut last: Option<Span> = None;
    let mut many = 0;
    for (least, most) in windows {
        if last.is_none_or(|l| least > l) {
            last = Some(most);
            many += 1;
        }
    }
    many
}

/// The classes of all ways.
pub(super) fn classes(shop: &Shop, ways: &[Way]) -> Vec<Class> {
    let key = |way: &Way| {
        let steps = way.stages.iter().fold(0u64, |m, s| m | 1 << s.step);
        let company = shop.company(OrderId(way.order as u32));
        (way.route, steps, company.ok_or(way.order))
    };
    let mut found = std::collections::BTreeMap::new();
    for (i, way) in ways.iter().enumerate() {
        found.entry(key(way)).or_insert_with(Vec::new).push(i);
    }
    found.into_values().map(|own| class(shop, ways, own)).collect()
}

fn class(shop: &Shop, ways: &[Way], mut own: Vec<usize>) -> Class {
    let route = own.first().map_or(0, |w| ways[*w].route);
    let steps = &shop.routes[route].steps;
    let stages = own.first().map_or(&[][..], |w| &ways[*w].stages[..]);
    let coats: Vec<usize> = stages
        .iter()
        .map(|s| s.step)
        .filter(|s| steps[*s].time == StepTime::Coat)
        .collect();
    if let Some(first) = coats.first() {
        own.sort_by_key(|w| std::cmp::Reverse(start_of(&ways[*w], *first)));
    }
    let n = own.len();
    let mut firsts: Vec<usize> = (1..=PLACES.min(n)).map(|i| i * n / PLACES.min(n)).collect();
    firsts.dedup();
    let coats: Vec<(usize, Vec<u64>)> = coats
        .into_iter()
        .map(|s| {
            let those = |many: &usize| own[..*many].iter().map(|w| &ways[*w]);
            let loads = firsts
                .iter()
                .map(|many| fewest_loads(shop, &steps[s], those(many)));
            (s, at_least_as_before(loads))
        })
        .collect();
    let most_pieces = coats
        .iter()
        .map(|c| most_pieces(shop, &steps[c.0], own.iter().map(|w| &ways[*w])));
    Class {
        most_pieces: most_pieces.max().unwrap_or(0),
        ways: own,
        coats,
        firsts,
        route,
    }
}

/// Of more orders there are no fewer loads.
fn at_least_as_before(loads: impl Iterator<Item = u64>) -> Vec<u64> {
    let mut most = 0;
    loads
        .map(|l| {
            most = most.max(l);
            most
        })
        .collect()
}

fn most_pieces<'w>(shop: &Shop, step: &Step, ways: impl Iterator<Item = &'w Way>) -> u32 {
    let mut smallest = [f64::INFINITY; 3];
    let mut all: u32 = 0;
    for way in ways {
        all = all.saturating_add(way.count);
        for (least, size) in smallest.iter_mut().zip(sizes(shop, step, way)) {
            *least = least.min(size.0);
        }
    }
    let fit = |s: &f64| if *s > 0.0 { (1.0 + 1e-9) / s } else { f64::INFINITY };
    let room = smallest.iter().map(fit).fold(f64::INFINITY, f64::min);
    if room >= f64::from(all) { all } else { room as u32 }
}

/// When a step of a way can begin at the earliest.
pub(super) fn start_of(way: &Way, step: usize) -> Moment {
    let stage = way.stages.iter().find(|s| s.step == step);
    stage.map_or(Moment::ZERO, |s| s.start)
}

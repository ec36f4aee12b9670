//! Mends what can be mended in a plan: every change is told.

use super::Names;
use super::loads::over;
use super::order::mend_tasks;
use tankday_base::print::pieces_of;
use tankday_base::shop::{OrderId, Shop, StationId};
use tankday_base::units::Quantity;
use tankday_line::Line;
use tankday_scenario::{Held, PlanFile, Spanned, WrittenLoad};

/// The plan with what was wrong mended as far as it could be, and what was changed, in words.
///
/// Pieces that are missing get loads of their own, what does not fit is split off, tasks are put into an order that can
/// be, times that cannot be kept are left open, and baths are hot in time for their loads. What nothing bears the name of is left out.
#[must_use]
pub fn repair(shop: &Shop, line: &Line<'_>, file: &PlanFile) -> (PlanFile, Vec<String>) {
    let mut mender = Mender {
        shop,
        rooms: shop.tanks().map(|(id, ..)| id.0).zip(line.rooms()).collect(),
        names: Names::of(shop),
        file: file.clone(),
        said: Vec::new(),
    };
    mender.drop_unknown_orders();
    mender.right_tanks();
    mender.split_strangers();
    mender.add_up();
    mender.split_large();
    mender.drop_empty();
    let (mut file, mut said) = (mender.file, mender.said);
    mend_tasks(shop, line, &mut file, &mut said);
    (file, said)
}

struct Mender<'a> {
    shop: &'a Shop,
    rooms: Vec<(u32, [f64; 3])>,
    names: Names<'a>,
    file: PlanFile,
    said: Vec<String>,
}

impl Mender<'_> {
    fn order(&self, held: &Held) -> Option<u32> {
        self.names.orders.get(held.order.as_str()).copied()
    }

    fn drop_unknown_orders(&mut self) {
        let known: Vec<String> = self.names.orders.keys().map(|k| (*k).to_owned()).collect();
        for load in &mut self.file.loads {
            load.holds.retain(|h| {
                let kept = known.contains(&h.value.order);
                if !kept {
                    self.said.push(format!(
                        "{}: `{}` is not an order that can be planned and is left out",
                        load.id.value, h.value.order
                    ));
                }
                kept
            });
        }
    }

    /// Stations that can coat an order, by their numbers.
    fn tanks_of(&self, order: u32) -> Vec<u32> {
        let number = OrderId(order);
        let order = &self.shop.orders[order as usize];
        let steps = &self.shop.routes[order.route.index()].steps;
        let own = steps
            .iter()
            .filter(|s| s.only.is_empty() || s.only.contains(&order.part));
        let takes = |s: &u32| self.shop.takes(number, StationId(*s));
        let bath = own.map(|s| s.stations.iter().map(|s| s.0).filter(takes).collect::<Vec<_>>());
        bath.into_iter().find(|t| !t.is_empty()).unwrap_or_default()
    }

    /// A tank that is none, or that cannot take what the load begins with, is replaced or left open.
    fn right_tanks(&mut self) {
        for i in 0..self.file.loads.len() {
            let load = &self.file.loads[i];
            let (Some(named), Some(first)) = (&load.tank, load.holds.first()) else {
                continue;
            };
            let Some(order) = self.order(&first.value) else {
                continue;
            };
            let can = self.tanks_of(order);
            let station = self.names.stations.get(named.value.as_str()).copied();
            if station.is_some_and(|s| can.contains(&s)) {
                continue;
            }
            let (id, old, at) = (load.id.value.clone(), named.value.clone(), named.at);
            let names = can.iter().map(|s| self.shop.stations[*s as usize].name.as_str());
            let near = tankday_scenario::nearest(&old, names.clone());
            let new = near.or_else(|| names.clone().next()).map(str::to_owned);
            self.said.push(match &new {
                Some(new) => format!("{id}: goes into the {new}, not into `{old}`"),
                None => format!("{id}: goes into no tank, not into `{old}`"),
            });
            self.file.loads[i].tank = new.map(|n| Spanned::new(n, at));
        }
    }

    fn fresh_id(&self) -> String {
        let taken = |id: &str| self.file.loads.iter().any(|l| l.id.value == id);
        (1..)
            .map(|n| format!("L{n}"))
            .find(|id| !taken(id))
            .unwrap_or_default()
    }

    /// A new load behind the others.
    fn new_load(&mut self, holds: Vec<Spanned<Held>>, tank: Option<Spanned<String>>) -> String {
        let id = self.fresh_id();
        let at = self.file.loads_at;
        self.file.loads.push(WrittenLoad {
            id: Spanned::new(id.clone(), at),
            tank,
            holds,
        });
        id
    }

    /// What may not go in with the first of its load gets a load of its own.
    fn split_strangers(&mut self) {
        for i in 0..self.file.loads.len() {
            let Some(first) = self.file.loads[i]
                .holds
                .first()
                .and_then(|h| self.order(&h.value))
            else {
                continue;
            };
            let all = std::mem::take(&mut self.file.loads[i].holds);
            let (stay, go): (Vec<_>, Vec<_>) = all
                .into_iter()
                .enumerate()
                .partition(|(n, h)| *n == 0 || self.order(&h.value).is_some_and(|o| self.alike(first, o)));
            self.file.loads[i].holds = stay.into_iter().map(|s| s.1).collect();
            for (_, held) in go {
                let from = self.file.loads[i].id.value.clone();
                let tank = self.order(&held.value).and_then(|o| self.tank_for(o));
                let words = format!("{} of {}", held.value.pieces, held.value.order);
                let id = self.new_load(vec![held], tank);
                self.said
                    .push(format!("{words} may not go in with {from} and becomes {id}"));
            }
        }
    }

    fn alike(&self, a: u32, b: u32) -> bool {
        let (x, y) = (&self.shop.orders[a as usize], &self.shop.orders[b as usize]);
        let bathed = !self.tanks_of(a).is_empty();
        let skips = |o: &tankday_base::shop::Order| -> Vec<bool> {
            let steps = &self.shop.routes[o.route.index()].steps;
            steps
                .iter()
                .map(|s| s.only.is_empty() || s.only.contains(&o.part))
                .collect()
        };
        let company = self.shop.company(OrderId(a));
        bathed && company.is_some() && company == self.shop.company(OrderId(b)) && skips(x) == skips(y)
    }

    fn tank_for(&self, order: u32) -> Option<Spanned<String>> {
        let tank = self.tanks_of(order).into_iter().next()?;
        Some(Spanned::new(
            self.shop.stations[tank as usize].name.clone(),
            self.file.loads_at,
        ))
    }

    /// Missing pieces get a load of their own; pieces that are too many are taken from the last entries.
    fn add_up(&mut self) {
        let orders: Vec<(String, u32)> = self
            .names
            .orders
            .iter()
            .map(|(n, i)| ((*n).to_owned(), *i))
            .collect();
        for (name, order) in orders {
            let count = u64::from(self.shop.orders[order as usize].count);
            let mut sum: u64 = 0;
            for load in &mut self.file.loads {
                load.holds.retain_mut(|h| {
                    if h.value.order != name {
                        return true;
                    }
                    let left = count - sum;
                    if u64::from(h.value.pieces) > left {
                        self.said.push(format!(
                            "{}: {left} of {name}, not {}: it has {}",
                            load.id.value,
                            h.value.pieces,
                            pieces_of(u32::try_from(count).unwrap_or(u32::MAX), "piece")
                        ));
                        h.value.pieces = left as u32;
                    }
                    sum += u64::from(h.value.pieces);
                    h.value.pieces > 0
                });
            }
            if sum < count {
                let held = Held {
                    pieces: (count - sum) as u32,
                    order: name.clone(),
                };
                let (at, tank) = (self.file.loads_at, self.tank_for(order));
                let id = self.new_load(vec![Spanned::new(held, at)], tank);
                self.said.push(format!(
                    "{} of {name} were in no load and become {id}",
                    count - sum
                ));
            }
        }
    }

    /// What a tank has no room for goes into loads of its own.
    fn split_large(&mut self) {
        let mut i = 0;
        while i < self.file.loads.len() {
            let tank = self.file.loads[i]
                .tank
                .as_ref()
                .and_then(|t| self.names.stations.get(t.value.as_str()).copied());
            let room = self.rooms.iter().find(|r| Some(r.0) == tank).map(|r| r.1);
            if let Some(room) = room {
                self.split_off(i, room);
            }
            i += 1;
        }
    }

    fn split_off(&mut self, i: usize, room: [f64; 3]) {
        let mut used = [0.0; 3];
        let mut stay: Vec<Spanned<Held>> = Vec::new();
        let mut rest: Vec<Spanned<Held>> = Vec::new();
        for held in std::mem::take(&mut self.file.loads[i].holds) {
            let piece = self.order(&held.value).map_or([0.0; 3], |o| self.piece(o));
            let bulk = |n: u32| [0, 1, 2].map(|k| used[k] + piece[k] * f64::from(n));
            // The most pieces that still fit, by halving.
            let (mut fits, mut too_many) = (0, held.value.pieces.saturating_add(1));
            while fits + 1 < too_many {
                let middle = fits + (too_many - fits) / 2;
                if over(room, bulk(middle)).is_none() {
                    fits = middle;
                } else {
                    too_many = middle;
                }
            }
            // One piece that fits nowhere stays to be told of.
            let fits = if stay.is_empty() { fits.max(1) } else { fits };
            used = bulk(fits);
            let part = |pieces: u32| {
                let order = held.value.order.clone();
                Spanned::new(Held { pieces, order }, held.at)
            };
            if fits > 0 {
                stay.push(part(fits));
            }
            if fits < held.value.pieces {
                rest.push(part(held.value.pieces - fits));
            }
        }
        self.file.loads[i].holds = stay;
        if rest.is_empty() {
            return;
        }
        let words: Vec<String> = rest
            .iter()
            .map(|h| format!("{} of {}", h.value.pieces, h.value.order))
            .collect();
        let (from, tank) = (
            self.file.loads[i].id.value.clone(),
            self.file.loads[i].tank.clone(),
        );
        let id = self.new_load(rest, tank);
        self.said.push(format!(
            "{from} is too large: {} becomes {id}",
            tankday_base::print::list(&words)
        ));
    }

    fn piece(&self, order: u32) -> [f64; 3] {
        let part = &self.shop.parts[self.shop.orders[order as usize].part.index()];
        [part.area.base(), part.mass.base(), part.bulk.base()]
    }

    fn drop_empty(&mut self) {
        self.file.loads.retain(|l| {
            if l.holds.is_empty() {
                self.said
                    .push(format!("{} holds nothing and is left out", l.id.value));
            }
            !l.holds.is_empty()
        });
    }
}

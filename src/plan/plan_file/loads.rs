//! What goes in together, as a plan file says it, held against the shop.

use super::said::SaidLot;
use super::{Reader, unknown};
use std::collections::BTreeMap;
use tankday_base::print::{number, pieces_of};
use tankday_base::shop::{Coats, OrderId, StationId};
use tankday_base::units::Span;
use tankday_line::{Plan, PlanLot};
use tankday_scenario::{Code, Finding, SourceSpan, Spanned, WrittenLoad};

/// No tank.
pub(super) const NONE: u32 = u32::MAX;

/// Loads that are understood: the plan with its lots in their loads, and where they stand.
pub(super) struct Grouped<'a> {
    pub(super) plan: Plan,
    pub(super) head: Vec<u32>,
    pub(super) tank: Vec<u32>,
    /// Where each lot stands.
    pub(super) lots: Vec<SourceSpan>,
    /// For each load its lots.
    pub(super) members: BTreeMap<&'a str, Vec<u32>>,
}

/// One entry of a load: which order, which of its lots.
type Entry = (u32, u32, SourceSpan);

impl<'a> Reader<'a> {
    /// Loads that hold all pieces of all orders.
    pub(super) fn loads(&mut self) -> Grouped<'a> {
        self.loads_of(None)
    }

    /// Loads. If they need not hold all, what they leave of the orders is divided as it is said, and beyond that by the
    /// shop's rule.
    pub(super) fn loads_of(&mut self, rest: Option<&[SaidLot]>) -> Grouped<'a> {
        let file = self.file;
        let all = rest.is_none();
        let mut pieces: Vec<Vec<u32>> = vec![Vec::new(); self.shop.orders.len()];
        let mut entries: Vec<(&'a WrittenLoad, Vec<Entry>)> = Vec::new();
        for load in &file.loads {
            let mut own = Vec::new();
            for held in &load.holds {
                let Some(&order) = self.names.orders.get(held.value.order.as_str()) else {
                    self.no_such_order(held.at, &held.value.order);
                    continue;
                };
                let lots = &mut pieces[order as usize];
                lots.push(held.value.pieces);
                own.push((order, lots.len() as u32 - 1, held.at));
            }
            if load.holds.is_empty() {
                self.add(
                    Finding::new(
                        Code::Missing,
                        load.id.at,
                        format!("{} holds nothing", load.id.value),
                    )
                    .help("write what it holds, `holds: [400 of A1]`, or remove it"),
                );
            }
            entries.push((load, own));
        }
        self.add_up(&pieces, &entries, all);
        self.said_lots(&mut pieces, rest.unwrap_or_default());
        for (order, lots) in pieces.iter_mut().enumerate().filter(|_| !all) {
            let sum = lots.iter().fold(0u32, |sum, p| sum.saturating_add(*p));
            let rest = self.shop.orders[order].count.saturating_sub(sum);
            lots.extend(Plan::rest_of(self.line, order, rest));
        }
        let plan = Plan::divided(self.line, &pieces);
        let mut grouped = Grouped {
            head: plan.head.clone(),
            tank: plan.tank.clone(),
            lots: vec![file.loads_at; plan.lots.len()],
            members: BTreeMap::new(),
            plan,
        };
        for (load, own) in &entries {
            self.group(load, own, &mut grouped);
        }
        grouped
    }

    pub(super) fn no_such_order(&mut self, at: SourceSpan, name: &str) {
        let streams = self.shop.orders.iter().any(|o| o.id == name);
        if streams {
            self.add(
                Finding::new(
                    Code::Order,
                    at,
                    format!("`{name}` comes at random and cannot be planned"),
                )
                .help("remove it here: such orders go as the rules say"),
            );
            return;
        }
        let known: Vec<&str> = self.names.orders.keys().copied().collect();
        self.add(unknown(at, "order", name, &known));
    }

    /// All pieces of every order are in the loads, and no more.
    fn add_up(&mut self, pieces: &[Vec<u32>], entries: &[(&WrittenLoad, Vec<Entry>)], all: bool) {
        let orders: Vec<(u32, String)> = self
            .names
            .orders
            .iter()
            .map(|(n, i)| (*i, (*n).to_owned()))
            .collect();
        for (order, name) in orders {
            let count = self.shop.orders[order as usize].count;
            let sum: u64 = pieces[order as usize].iter().map(|p| u64::from(*p)).sum();
            if sum == u64::from(count) || (!all && sum < u64::from(count)) {
                continue;
            }
            let places: Vec<SourceSpan> = entries
                .iter()
                .flat_map(|(_, own)| own.iter().filter(|e| e.0 == order).map(|e| e.2))
                .collect();
            let Some(last) = places.last() else {
                self.add(
                    Finding::new(
                        Code::Order,
                        self.file.loads_at,
                        format!("the order {name} is in no load"),
                    )
                    .help(format!("put its pieces into a load: `{count} of {name}`")),
                );
                continue;
            };
            let mut finding = Finding::new(
                Code::Order,
                *last,
                format!("{name} has {}, the loads hold {sum}", pieces_of(count, "piece")),
            )
            .label("the pieces do not add up");
            for at in &places[..places.len() - 1] {
                finding = finding.and(*at, "and here");
            }
            self.add(finding);
        }
    }

    fn group(&mut self, load: &'a WrittenLoad, own: &[Entry], grouped: &mut Grouped<'a>) {
        let lots: Vec<(u32, SourceSpan)> = own
            .iter()
            .filter_map(|&(order, nth, at)| Some((grouped.plan.first_lot(order as usize)? + nth, at)))
            .filter(|(lot, _)| (*lot as usize) < grouped.lots.len())
            .collect();
        for &(lot, at) in &lots {
            grouped.lots[lot as usize] = at;
        }
        let members: Vec<u32> = lots.iter().map(|l| l.0).collect();
        let Some(&head) = members.iter().min() else { return };
        grouped.members.insert(load.id.value.as_str(), members.clone());
        let all: Vec<(PlanLot, SourceSpan)> = lots
            .iter()
            .map(|(l, at)| (grouped.plan.lots[*l as usize].clone(), *at))
            .collect();
        let tank = self.tank_of(load, &all);
        if !self.may_share(load, &all) {
            return;
        }
        for lot in members {
            grouped.head[lot as usize] = head;
            grouped.tank[lot as usize] = tank;
        }
        self.fits(load, &all, tank);
    }

    /// The tank that is named, if all of the load may go into it.
    fn tank_of(&mut self, load: &WrittenLoad, all: &[(PlanLot, SourceSpan)]) -> u32 {
        let Some(named) = &load.tank else { return NONE };
        let tanks: Vec<&str> = self.shop.tanks().map(|(_, s, _)| s.name.as_str()).collect();
        let station = self.names.stations.get(named.value.as_str()).copied();
        let Some(station) = station.filter(|s| self.shop.stations[*s as usize].tank.is_some()) else {
            let finding = match station {
                Some(_) => Finding::new(
                    Code::UnknownName,
                    named.at,
                    format!("`{}` is not a tank", named.value),
                )
                .help(format!("the tanks are {}", tankday_scenario::listed(tanks))),
                None => unknown(named.at, "tank", &named.value, &tanks),
            };
            self.add(finding);
            return NONE;
        };
        for (lot, at) in all {
            self.right_tank(lot, *at, station, named);
        }
        station
    }

    /// A lot goes only into a bath that its route asks for and its material bears.
    fn right_tank(&mut self, lot: &PlanLot, at: SourceSpan, station: u32, named: &Spanned<String>) {
        let part = &self.shop.parts[lot.part as usize];
        let material = &self.shop.materials[part.material.index()];
        let (order, route) = (
            self.order_name(lot.order).to_owned(),
            self.route_name(lot.route).to_owned(),
        );
        let finding = match (&material.coats, lot.bath_step) {
            (Coats::No(why), _) => {
                Finding::new(Code::Material, at, format!("{order} is {}: {why}", material.name))
                    .label("must stay out of the bath")
                    .help(format!(
                        "`{route}`, its route, goes through no bath: name no tank for it"
                    ))
            }
            (Coats::Yes | Coats::AfterTrial(_), None) => Finding::new(
                Code::Route,
                at,
                format!("{order} goes into no bath: its route `{route}` has none"),
            )
            .help("put it into a load of its own that names no tank"),
            (Coats::Yes | Coats::AfterTrial(_), Some(step)) => {
                let route_of = &self.shop.routes[lot.route as usize];
                let can = &route_of.steps[step as usize].stations;
                if can.iter().any(|s| s.0 == station) {
                    return self.does_not_go(lot, at, station, named);
                }
                let names: Vec<&str> = can.iter().map(|s| self.station_name(s.0)).collect();
                Finding::new(
                    Code::Route,
                    at,
                    format!("{order} does not coat in the {}", self.station_name(station)),
                )
                .label(format!("route `{route}`"))
                .help(format!("its route coats in {}", tankday_scenario::listed(names)))
            }
        };
        self.add(finding.and(named.at, "this tank"));
    }

    /// A piece that does not fit under the solution of a tank, or is meant for another, does not go into it.
    fn does_not_go(&mut self, lot: &PlanLot, at: SourceSpan, station: u32, named: &Spanned<String>) {
        if self.line.takes(lot.order, StationId(station)) {
            return;
        }
        let tank = self.station_name(station).to_owned();
        let part = &self.shop.parts[lot.part as usize];
        let others = self
            .shop
            .tanks()
            .filter(|(id, ..)| self.line.takes(lot.order, *id));
        let others: Vec<&str> = others.map(|(_, s, _)| s.name.as_str()).collect();
        let fits = self.shop.stations[station as usize]
            .tank
            .as_ref()
            .is_some_and(|t| part.goes.lies(t).is_some());
        let message = if fits {
            format!(
                "{} is meant for another tank than the {tank}",
                self.order_name(lot.order)
            )
        } else {
            format!("`{}` does not fit under the solution of the {tank}", part.name)
        };
        let finding = Finding::new(Code::Capacity, at, message)
            .label("does not go in")
            .and(named.at, "this tank")
            .help(format!("it goes into {}", tankday_scenario::listed(others)));
        self.add(finding);
    }

    /// Whether the rules let these lots go in together.
    fn may_share(&mut self, load: &WrittenLoad, all: &[(PlanLot, SourceSpan)]) -> bool {
        let Some(((first, first_at), rest)) = all.split_first() else {
            return true;
        };
        let mut sound = true;
        for (lot, at) in rest {
            let company = |lot: &PlanLot| self.shop.company(OrderId(lot.order));
            let why = match (company(first), company(lot)) {
                _ if first.bath_step.is_none() || lot.bath_step.is_none() => {
                    "only loads for a bath hold several lots; elsewhere each goes by itself"
                }
                (Some(a), Some(b)) if a.part != b.part => "the rules combine only loads of the same part",
                (Some(a), Some(b)) if a.route != b.route => "the rules combine only loads of the same route",
                (Some(a), Some(b)) if a.looks != b.looks => {
                    "`fresh bath: takes scrap first` keeps scrap apart from work whose looks matter"
                }
                (Some(_), Some(_)) if lot.skip != first.skip => "the two do not pass the same steps",
                (Some(_), Some(_)) => continue,
                _ => "the rules combine nothing: each lot is a load of its own",
            };
            sound = false;
            let message = format!(
                "{} may not go in with {}",
                self.order_name(lot.order),
                self.order_name(first.order)
            );
            self.add(
                Finding::new(Code::Route, *at, message)
                    .label(format!("in {}", load.id.value))
                    .and(*first_at, "with this")
                    .help(why),
            );
        }
        sound
    }

    /// Whether the tank has room for all of it, and all of it bears the same dwell.
    fn fits(&mut self, load: &WrittenLoad, all: &[(PlanLot, SourceSpan)], tank: u32) {
        let Some(at) = all.last().map(|l| l.1) else { return };
        let latest_least = all.iter().map(|l| l.0.window.0).max().unwrap_or(Span::ZERO);
        let least_most = all.iter().map(|l| l.0.window.1).min().unwrap_or(Span::FOREVER);
        if latest_least > least_most {
            self.add(
                Finding::new(
                    Code::Capacity,
                    at,
                    format!("no dwell suits all that is in {}", load.id.value),
                )
                .label(format!("at least {:.0} min", latest_least.in_minutes()))
                .help(format!(
                    "one of its parts bears at most {:.0} min, another needs at least {:.0} min",
                    least_most.in_minutes(),
                    latest_least.in_minutes()
                )),
            );
        }
        let bulk = sum(all.iter().map(|l| &l.0));
        let Some((_, room)) = self.rooms().into_iter().find(|r| r.0 == tank) else {
            return;
        };
        let over = over(room, bulk);
        if let Some((what, is, may)) = over {
            let mut finding = Finding::new(
                Code::Capacity,
                at,
                format!(
                    "{} is too large for the {}: {is} of {what} where it takes {may}",
                    load.id.value,
                    self.station_name(tank)
                ),
            )
            .label("this is too much");
            for (_, other) in &all[..all.len() - 1] {
                finding = finding.and(*other, "with this");
            }
            self.add(finding.help("put some of it into another load"));
        }
    }

    /// Room of every tank, by station.
    pub(super) fn rooms(&self) -> Vec<(u32, [f64; 3])> {
        self.shop
            .tanks()
            .map(|(id, ..)| id.0)
            .zip(self.line.rooms())
            .collect()
    }
}

/// Area, mass and basket room of some lots together.
pub(super) fn sum<'l>(lots: impl Iterator<Item = &'l PlanLot>) -> [f64; 3] {
    lots.fold([0.0; 3], |sum, lot| [0, 1, 2].map(|k| sum[k] + lot.bulk[k]))
}

/// What a bulk has too much of: in words, how much, and how much there is room for.
pub(super) fn over(room: [f64; 3], bulk: [f64; 3]) -> Option<(&'static str, String, String)> {
    let too_much = |k: usize| bulk[k] > room[k] * (1.0 + 1e-9);
    // Square metres, kilograms and cubic metres as the bench says them.
    let said = [
        ("surface", 100.0, "dm²"),
        ("mass", 1.0, "kg"),
        ("basket room", 1_000.0, "L"),
    ];
    (0..3).find(|&k| too_much(k)).map(|k| {
        let (what, factor, unit) = said[k];
        let say = |v: f64| format!("{} {unit}", number(v * factor, 1));
        (what, say(bulk[k]), say(room[k]))
    })
}

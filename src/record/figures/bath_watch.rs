//! What to watch in the baths: before each load goes in, while it is in, and what it came out with.

use super::foreign::Foreign;
use super::loads::{TankLoad, target};
use super::orders::OrderFigure;
use super::warning_kind::WarningKind;
use super::warnings::{Caution, Reading, at};
use crate::analysis::Analysis;
use crate::event::BathSample;
use tankday_base::bath::chemistry::{Gravity, Side, fresh};
use tankday_base::bath::tank::Geometry;
use tankday_base::bath::water;
use tankday_base::shop::{BathRecipe, CoatsFrom, Inside, Limits, PartId, Room, Shop, StationId, Tank};
use tankday_base::units::{
    AreaPerVolume, CoatWeight, Length, MassPerVolume, Moment, Share, Span, TempDiff, Temperature, Volume,
};

/// A fall below the band by less is not worth a word.
const HARDLY: TempDiff = TempDiff::kelvin(0.05);
/// A coating lighter than its target by less is as good as on it.
const NEARLY: CoatWeight = CoatWeight::grams_per_square_metre(0.05);

type Found = Vec<(WarningKind, Caution)>;

pub(super) fn of(read: &Analysis<'_>, loads: &[TankLoad]) -> Found {
    let shop = read.shop;
    let mut found = Vec::new();
    for (id, _, tank) in shop.tanks() {
        found.extend(contaminated(&read.watched.foreign, shop, id));
        let Some(recipe) = shop.baths.get(tank.bath.index()) else {
            continue;
        };
        let watch = Watch {
            id,
            tank,
            recipe,
            looks: read.samples(id),
        };
        for load in loads.iter().filter(|l| l.tank == id) {
            watch.before(load, &mut found);
            watch.during(shop, load, &mut found);
            watch.fallen(load, &mut found);
            watch.after(shop, load, &mut found);
        }
        watch.foam_room(shop, loads, &mut found);
        watch.stopped(shop, opening(shop), &mut found);
    }
    found.extend(exhausted(read));
    found
}

/// Each spell in which a tank holds what must not be in it.
fn contaminated(foreign: &Foreign, shop: &Shop, id: StationId) -> Found {
    let opening = opening(shop);
    let spells = foreign.spells(id).into_iter();
    let one = |(from, to, held): (Moment, Moment, _)| {
        let from = from.max(opening);
        let caution = Caution {
            reading: Some(Reading::Foreign(held)),
            by: if to == Moment::NEVER {
                Span::FOREVER
            } else {
                to - from
            },
            ..at(from, Some(id))
        };
        (WarningKind::Contaminated, caution)
    };
    spells.map(one).collect()
}

/// Of the first day.
fn opening(shop: &Shop) -> Moment {
    shop.calendar.days.first().map_or(Moment::ZERO, |d| d.open)
}

/// One tank under watch.
struct Watch<'a> {
    id: StationId,
    tank: &'a Tank,
    recipe: &'a BathRecipe,
    looks: &'a [(Moment, BathSample)],
}

impl Watch<'_> {
    fn caution(&self, load: &TankLoad, reading: Reading) -> Caution {
        Caution {
            load: Some(load.load),
            step: Some(load.step),
            reading: Some(reading),
            ..at(load.set_in, Some(self.id))
        }
    }

    /// Everything that its last sample before the load passes.
    fn before(&self, load: &TankLoad, found: &mut Found) {
        let before = self.looks.partition_point(|(at, _)| *at <= load.begins);
        let Some((_, sample)) = before.checked_sub(1).and_then(|i| self.looks.get(i)) else {
            return;
        };
        for (kind, _, reading) in self.passed(sample) {
            found.push((kind, self.caution(load, reading)));
        }
        let litres = self.tank.fill.in_litres().max(f64::MIN_POSITIVE);
        let area = AreaPerVolume::square_decimetres_per_litre(load.area.in_square_decimetres() / litres);
        let mass = MassPerVolume::kilograms_per_litre(load.mass.in_kilograms() / litres);
        if area > Room::MUCH.area || mass > Room::MUCH.mass {
            let reading = if area > Room::MUCH.area {
                Reading::Load(area)
            } else {
                Reading::Mass(mass)
            };
            found.push((WarningKind::Overloaded, self.caution(load, reading)));
        }
    }

    /// Readings beyond a warning or a stop.
    fn passed(&self, sample: &BathSample) -> Vec<(WarningKind, Gravity, Reading)> {
        let Some(r) = sample.readings else {
            return Vec::new();
        };
        let limits: &Limits = &self.recipe.limits;
        let litres = (sample.water / tankday_base::bath::water::measuring_density()).in_litres();
        let ratio = r.total_acid / r.free_acid;
        let filled = (litres / self.tank.fill.in_litres()).min(1.0);
        let (strength, iron_now) = (r.total_acid * filled, r.iron * filled);
        let bed = self.recipe.chemistry.sludge_bed.in_grams_per_litre();
        let sludge = Share::fraction((r.stirred + r.settled).in_grams() / bed / litres * filled);
        let level = Share::fraction(litres / self.tank.fill.in_litres());
        let iron = limits.iron.check(iron_now).map(|(gravity, side)| {
            let kind = match side {
                Side::Below => WarningKind::Unconditioned,
                Side::Above => WarningKind::IronHigh,
            };
            (kind, gravity, Reading::Iron(iron_now))
        });
        let of = |kind, found: Option<(Gravity, Side)>, reading| {
            found.map(|(gravity, _)| (kind, gravity, reading))
        };
        [
            of(
                WarningKind::StrengthOff,
                limits.strength.check(strength),
                Reading::Strength(strength),
            ),
            of(
                WarningKind::RatioOff,
                limits.ratio.check(ratio),
                Reading::Ratio(ratio),
            ),
            iron,
            of(
                WarningKind::SludgeStirred,
                limits.sludge.check(sludge),
                Reading::Sludge(sludge),
            ),
            of(
                WarningKind::LevelOff,
                limits.level.check(level),
                Reading::Level(level),
            ),
        ]
        .into_iter()
        .flatten()
        .collect()
    }

    /// The coldest moment with the load in, if nothing grows on it then, or if it lies below the band.
    fn during(&self, shop: &Shop, load: &TankLoad, found: &mut Found) {
        let until = load.out.unwrap_or(Moment::NEVER);
        let inside = self
            .looks
            .iter()
            .filter(|(at, _)| load.begins <= *at && *at < until);
        let coldest = inside.min_by(|a, b| {
            a.1.temperature
                .in_celsius()
                .total_cmp(&b.1.temperature.in_celsius())
        });
        let Some((_, sample)) = coldest else { return };
        let kind = if sample.temperature <= limit(shop, load) {
            WarningKind::TooColdToCoat
        } else if sample.temperature < self.recipe.band.least - HARDLY {
            WarningKind::ColdBath
        } else {
            return;
        };
        let reading = Reading::Temperature(sample.temperature);
        found.push((kind, self.caution(load, reading)));
    }

    /// A level that passes its limit while the load is in.
    fn fallen(&self, load: &TankLoad, found: &mut Found) {
        let told = |(kind, c): &(WarningKind, Caution)| {
            *kind == WarningKind::LevelOff && (c.load, c.step) == (Some(load.load), Some(load.step))
        };
        if found.iter().any(told) {
            return;
        }
        let until = load.out.unwrap_or(Moment::NEVER);
        let inside = self
            .looks
            .iter()
            .filter(|(at, _)| load.begins < *at && *at < until);
        let lowest = inside.min_by(|a, b| a.1.water.in_kilograms().total_cmp(&b.1.water.in_kilograms()));
        let passed = lowest.map_or(Vec::new(), |(_, sample)| self.passed(sample));
        let level = passed.into_iter().find(|p| p.0 == WarningKind::LevelOff);
        found.extend(level.map(|(kind, _, reading)| (kind, self.caution(load, reading))));
    }

    /// A coating below its target.
    fn after(&self, shop: &Shop, load: &TankLoad, found: &mut Found) {
        let Some(target) = target(shop, self.id) else {
            return;
        };
        let Some(lightest) = load.coats.iter().map(|(_, w)| *w).reduce(CoatWeight::min) else {
            return;
        };
        if lightest < target - NEARLY {
            found.push((WarningKind::ThinCoat, self.caution(load, Reading::Coat(lightest))));
        }
    }

    /// Every load with which the bath stands over the rim; or else the one with the least room for froth, where that is less
    /// than a hand's breadth.
    fn foam_room(&self, shop: &Shop, loads: &[TankLoad], found: &mut Found) {
        let own = loads.iter().filter(|l| l.tank == self.id);
        let room: Vec<_> = own.map(|l| (self.headroom(shop, l), l)).collect();
        for (free, load) in room.iter().filter(|r| r.0 < Length::ZERO) {
            let over = Reading::Height(Length::ZERO - *free);
            found.push((WarningKind::RunsOver, self.caution(load, over)));
        }
        let least = room
            .iter()
            .min_by(|a, b| a.0.in_millimetres().total_cmp(&b.0.in_millimetres()));
        let little = least.filter(|r| r.0 >= Length::ZERO && !fresh::has_foam_room(r.0));
        found.extend(little.map(|(free, load)| {
            let room = Reading::Height(*free);
            (WarningKind::FoamRoom, self.caution(load, room))
        }));
    }

    /// From the bath up to the rim while a load is in, below zero where it runs over: a tank is filled by cold litres, hot
    /// solution takes more room, and the work takes its own.
    fn headroom(&self, shop: &Shop, load: &TankLoad) -> Length {
        let (Inside::Box { height, .. } | Inside::Round { height, .. }) = self.tank.inside;
        let out = load.out.unwrap_or(Moment::NEVER);
        let first = self
            .looks
            .partition_point(|(at, _)| *at <= load.begins)
            .saturating_sub(1);
        let during = self.looks[first..].iter().take_while(|(at, _)| *at <= out);
        let hot = during.map(|(_, s)| s.water / water::density(s.temperature));
        let highest = hot.reduce(Volume::max).unwrap_or(self.tank.fill);
        height - Geometry::new(self.tank.inside, highest + displaced(shop, load)).depth
    }

    /// A bath that stands outside its limits at the end, and since when it has; one that is only low is topped up before it
    /// takes a load, by the rule for it.
    fn stopped(&self, shop: &Shop, opening: Moment, found: &mut Found) {
        let Some((_, sample)) = self.looks.last() else {
            return;
        };
        let mended = shop.hands > 0 && shop.rules.top_up.below.in_fraction() > 0.0;
        let stops = |p: &(WarningKind, Gravity, Reading)| {
            p.1 == Gravity::Stop && !(mended && p.0 == WarningKind::LevelOff)
        };
        // One limit may be passed before another, and come back: no load goes in from the first on.
        let out = |s: &BathSample| self.passed(s).iter().any(stops);
        let since = self.looks.iter().rev().take_while(|(_, s)| out(s)).last();
        // What has boiled dry is said as that.
        let dry = super::heater_watch::boils_dry(self.tank, self.id, self.looks);
        let dry = dry.is_some_and(|(_, c)| c.by == Span::FOREVER);
        let told = |p: &(WarningKind, Gravity, Reading)| stops(p) && !dry;
        for (_, _, reading) in self.passed(sample).into_iter().filter(told) {
            let caution = Caution {
                reading: Some(reading),
                ..at(
                    since.map_or(opening, |(when, _)| opening.max(*when)),
                    Some(self.id),
                )
            };
            found.push((WarningKind::BathStopped, caution));
        }
    }
}

/// Room that the metal of a load takes in a bath.
fn displaced(shop: &Shop, load: &TankLoad) -> Volume {
    let parts = load.parts.iter().filter_map(|(id, count)| {
        let part = shop.parts.get(id.index())?;
        let metal = shop.materials.get(part.material.index())?;
        Some(part.mass / metal.density * f64::from(*count))
    });
    parts.fold(Volume::ZERO, |all, one| all + one)
}

/// The highest of the temperatures at and below which nothing grows on some of a load.
fn limit(shop: &Shop, load: &TankLoad) -> Temperature {
    let own = |(id, _): &(PartId, u32)| {
        let part = shop.parts.get(id.index())?;
        Some(shop.materials.get(part.material.index())?.from.limit())
    };
    let limits = load.parts.iter().filter_map(own);
    limits
        .reduce(Temperature::max)
        .unwrap_or(CoatsFrom::Steel.limit())
}

/// Tanks that hold too little iron at the end for work whose looks matter, where the rules keep that back and some is left.
pub(super) fn held_back(read: &Analysis<'_>, orders: &[OrderFigure]) -> Vec<Caution> {
    let shop = read.shop;
    let looks = |o: &&OrderFigure| shop.orders.get(o.source.index()).is_some_and(|o| o.looks);
    let left = orders.iter().filter(|o| o.ready.is_none()).any(|o| looks(&o));
    if !shop.rules.hold_back || !left {
        return Vec::new();
    }
    let one = |(id, _, tank): (StationId, _, &Tank)| {
        let recipe = shop.baths.get(tank.bath.index())?;
        let (when, sample) = *read.samples(id).last()?;
        let filled = (sample.water / tankday_base::bath::water::measuring_density()) / tank.fill;
        let iron = sample.readings?.iron * filled.min(1.0);
        (iron < recipe.limits.iron.warn_below).then_some(Caution {
            reading: Some(Reading::Iron(iron)),
            ..at(when, Some(id))
        })
    };
    shop.tanks().filter_map(one).collect()
}

fn exhausted(read: &Analysis<'_>) -> impl Iterator<Item = (WarningKind, Caution)> {
    let all = read.lifted.iter().filter(|(.., coated)| coated.exhausted);
    all.map(|&(when, load, tank, _)| {
        let caution = Caution {
            load: Some(load),
            ..at(when, Some(tank))
        };
        (WarningKind::Exhausted, caution)
    })
}

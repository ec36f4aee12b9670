//! How a load goes once it is in.

use super::Trial;
use crate::baths::{Lifted, leaves, on_kind, start, stay, window};
use crate::ids::LoadIx;
use tankday_base::bath::chemistry::{Chemistry, DONE, Surface, gassing, pace};
use tankday_base::bath::{Bath, Growth, Heater, Lid, Substrate, water};
use tankday_base::shop::{CoatRule, CoatsFrom, LidRule};
use tankday_base::units::{CoatWeight, Share, Span, Temperature, VolumeFlow};
use tankday_record::LoadNo;
use tankday_record::one_load::{Course, Ends, Gave, Later, Look};

/// Between one look and the next.
const LOOK: Span = Span::whole_minutes(1);
/// Less than this share of what it should be is no coating.
const NOTHING: f64 = 0.05;
/// A target counts as met from this share of it on: the stay is cut to the microsecond.
const MET: f64 = 1.0 - 1e-6;
/// A bath that is to be hotter than this many hours away is not waited for.
const LONGEST_WAIT: Span = Span::whole_minutes(12 * 60);

/// A bath with the load in it.
struct Inside {
    heat: Bath,
    /// Conversion that it had summed when the load went in.
    entered: [f64; 2],
    growth: Growth,
}

impl Inside {
    fn conversion(&self, heat: &Bath) -> [f64; 2] {
        let mut since = CoatsFrom::ALL.map(|from| heat.conversion_on(from));
        for (now, before) in since.iter_mut().zip(self.entered) {
            *now -= before;
        }
        since
    }
}

impl Trial<'_> {
    /// The bath at a temperature, heated to its holding temperature.
    pub(super) fn bath_at(&self, at: Temperature) -> Bath {
        let mut heat = Bath::new(&self.table, self.tank.volume, at);
        heat.switch(Heater::Keep(self.recipe.band.hold));
        heat
    }

    /// What grows in the bath as it is, by a law.
    fn paced(&self, law: &Growth, bath: Option<&Chemistry>) -> Growth {
        bath.map_or(*law, |bath| law.paced(pace(&self.recipe.chemistry, bath)))
    }

    fn put_in(&self, heat: Bath, growth: Growth) -> Inside {
        let mut heat = heat;
        heat.set_lid(Lid::Off);
        heat.add_load(&self.cargo.work(), self.shop.air.temperature);
        heat.set_growth(Some(&growth));
        let entered = CoatsFrom::ALL.map(|from| heat.conversion_on(from));
        Inside {
            heat,
            entered,
            growth,
        }
    }

    /// How it goes in the bath of a temperature.
    pub(super) fn course(&self, at: Temperature) -> Course {
        self.course_in(self.bath_at(at))
    }

    /// How it goes once the bath has reached its holding temperature; none where it is there, or does not get there.
    pub(super) fn later(&self, at: Temperature) -> Option<Later> {
        let mut heat = self.bath_at(at);
        let covered = self.shop.rules.heat.lid == LidRule::BetweenLoads;
        heat.set_lid(if covered { Lid::On } else { Lid::Off });
        let waits = heat.time_until_temperature(&self.table, self.recipe.band.hold)?;
        if waits <= Span::ZERO || waits > LONGEST_WAIT {
            return None;
        }
        heat.advance(&self.table, waits);
        Some(Later {
            waits,
            drawn: heat.drawn(&self.table),
            course: self.course_in(heat),
        })
    }

    fn course_in(&self, before: Bath) -> Course {
        let bath = start(self.recipe, &before);
        let inside = self.put_in(before, self.paced(&self.recipe.growth, bath.as_ref()));
        let drawn = match &self.recipe.coat {
            CoatRule::Time(spread) => Some(spread.mean()),
            CoatRule::Target(_) => None,
        };
        let stay = stay(self.recipe, (&inside.heat, &self.table), &self.cargo, drawn);
        let looks = self.looks(&inside, stay);
        let mut end = inside.heat;
        end.advance(&self.table, stay);
        let conversion = inside.conversion(&end);
        let lowest = looks
            .iter()
            .map(|l| l.temperature)
            .fold(inside.heat.temperature(), Temperature::min);
        let evaporated = (end.ledger().evaporated - before.ledger().evaporated) / water::measuring_density();
        let drew = end.drawn(&self.table) - before.drawn(&self.table);
        Course {
            at: before.temperature(),
            lowest,
            in_band: self.until(&inside, self.recipe.band.least, stay),
            recovered: self.until(&inside, before.temperature().min(self.recipe.band.hold), stay),
            stay,
            range: self.range(&before, bath.as_ref(), stay),
            ends: self.ends(&inside.growth, conversion),
            coated: self.coated(&inside.growth, conversion),
            drawn: drew,
            evaporated,
            dragged_out: self.drag.min(end.volume() * 0.5),
            chemistry: bath.map(|bath| self.gave(bath, &inside.growth, (&before, &end), (conversion, stay))),
            looks,
        }
    }

    /// Until the bath is at least so hot; none if that is not while the load is in.
    fn until(&self, inside: &Inside, to: Temperature, stay: Span) -> Option<Span> {
        if inside.heat.temperature() >= to {
            return Some(Span::ZERO);
        }
        let time = inside.heat.time_until_temperature(&self.table, to);
        time.filter(|t| *t <= stay)
    }

    fn surfaces(&self) -> Vec<Surface> {
        let all = self.cargo.surfaces();
        all.map(|(on, area)| Surface { on, area }).collect()
    }

    /// What a surface is to reach: the target, or what it approaches where that is less or where a time is set.
    fn aim(&self, growth: &Growth, on: Substrate) -> CoatWeight {
        let full = growth.full * on.heavier;
        match &self.recipe.coat {
            CoatRule::Target(target) => target.min(full),
            CoatRule::Time(_) => full,
        }
    }

    fn looks(&self, inside: &Inside, stay: Span) -> Vec<Look> {
        let whole = (0..)
            .map(|i| LOOK.times(f64::from(i)))
            .take_while(|at| *at < stay);
        let mut heat = inside.heat;
        let mut at = Span::ZERO;
        let mut looks = Vec::new();
        for after in whole.chain([stay]) {
            heat.advance(&self.table, after - at);
            at = after;
            looks.push(self.look(inside, &heat, after));
        }
        looks
    }

    fn look(&self, inside: &Inside, heat: &Bath, after: Span) -> Look {
        let (growth, had) = (&inside.growth, inside.conversion(heat));
        let recipe = &self.recipe.chemistry;
        let (mut coat, mut gas, mut rises) = (f64::INFINITY, 0.0_f64, VolumeFlow::ZERO);
        for s in self.surfaces() {
            let had = on_kind(had, s.on.from);
            coat = coat.min(growth.weight(had, s.on) / self.aim(growth, s.on));
            gas = gas.max(libm::exp(-had / s.on.slower));
            rises += gassing(recipe, growth, s, heat.temperature(), had);
        }
        Look {
            after,
            temperature: heat.temperature(),
            coat: Share::fraction(coat),
            gas: Share::fraction(gas),
            rises,
        }
    }

    fn coated(&self, growth: &Growth, had: [f64; 2]) -> Vec<CoatWeight> {
        let weight = |s: Surface| growth.weight(on_kind(had, s.on.from), s.on);
        self.surfaces().into_iter().map(weight).collect()
    }

    fn ends(&self, growth: &Growth, had: [f64; 2]) -> Ends {
        let share = |s: &Surface, of: CoatWeight| growth.weight(on_kind(had, s.on.from), s.on) / of;
        let surfaces = self.surfaces();
        let least = surfaces.iter().map(|s| share(s, self.aim(growth, s.on)));
        if least.fold(f64::INFINITY, f64::min) < NOTHING {
            return Ends::Nothing;
        }
        let CoatRule::Target(target) = self.recipe.coat else {
            return Ends::Done;
        };
        let full = |s: &Surface| growth.full * s.on.heavier;
        let short = |s: &&Surface| share(s, target) < MET;
        let Some(thin) = surfaces.iter().find(short) else {
            return Ends::Done;
        };
        if full(thin) <= target && share(thin, full(thin)) >= DONE.in_fraction() * MET {
            Ends::Full
        } else {
            Ends::OutOfTime
        }
    }

    /// Between which stays it is done by the quickest and by the slowest law that is believed.
    fn range(&self, before: &Bath, bath: Option<&Chemistry>, stay: Span) -> Option<(Span, Span)> {
        let CoatRule::Target(target) = self.recipe.coat else {
            return None;
        };
        let (least, most) = window(self.recipe, &self.cargo);
        let laws = self.recipe.growth.believed(before.temperature());
        let [quick, slow] = laws.map(|law| {
            let inside = self.put_in(*before, self.paced(&law, bath));
            let needs = self.cargo.needs(&law, target);
            let time = |(from, need)| {
                let time = inside.heat.time_until_conversion_on(from, &self.table, need);
                time.unwrap_or(most)
            };
            needs
                .map(time)
                .into_iter()
                .fold(Span::ZERO, Span::max)
                .max(least)
                .min(most)
        });
        Some((quick.min(stay), slow.max(stay)))
    }

    /// What the bath's chemistry says when the load is lifted and the water made good.
    fn gave(
        &self,
        bath: Chemistry,
        growth: &Growth,
        (before, end): (&Bath, &Bath),
        (conversion, stay): ([f64; 2], Span),
    ) -> Gave {
        let recipe = &self.recipe.chemistry;
        let first = bath.readings();
        let (mut bath, mut heat) = (bath, *end);
        let lost = (end.ledger().evaporated - before.ledger().evaporated) / water::measuring_density();
        let dried = bath.hot_for(recipe, stay, lost).is_err();
        let lifted = Lifted {
            load: LoadIx(0),
            no: LoadNo(0),
            cargo: &self.cargo,
            drag: self.drag,
            stay,
            lot: 0,
        };
        let (done, _) = leaves(
            (growth, recipe),
            (&mut heat, Some(&mut bath)),
            &lifted,
            conversion,
        );
        let sludge = bath.account().sludge;
        bath.top_up(first.volume - bath.volume());
        Gave {
            before: first,
            after: bath.readings(),
            metal: done.metal,
            sludge,
            hydrogen: done.hydrogen,
            concentrate: bath.concentrate_for(recipe, first.total_acid),
            exhausted: done.exhausted || dried,
        }
    }
}

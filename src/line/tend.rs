//! What the stages of care do to a bath, and how long those take that need nobody.

use super::care::Stage;
use super::engine::Engine;
use crate::bath::chemistry::{Chemistry, Trim, fresh};
use crate::bath::filter::{Filter, Medium, gravity_head};
use crate::bath::settle::{Calm, Liquid, Particle, Settling};
use crate::bath::tank::Geometry;
use crate::record::{TaskKind, Watcher};
use crate::shop::{Chore, Settle, Stop, Trigger, Trimming};
use crate::units::{Mass, Quantity, Share, Span, Strength, Volume};

/// Nobody waits longer for a filter: it is as good as blocked.
const BLOCKED: Span = Span::whole_minutes(60 * 24 * 30);

impl<W: Watcher> Engine<'_, W> {
    /// How long the present stage stands by itself.
    pub(super) fn stands_for(&mut self, tank: u32) -> Span {
        let Some(job) = self.tanks[tank as usize].care else {
            return Span::ZERO;
        };
        match self.plan.rules.care[job.rule].chore {
            Chore::Condition { stays, .. } => stays,
            Chore::Stop(stop) if job.stage == 1 => self.settles_for(tank, &stop, job.rule),
            Chore::Stop(stop) => self.filters_for(tank, &stop),
            _ => Span::ZERO,
        }
    }

    /// A bath that still cools convects while it settles: the slower of the two bounds.
    fn settles_for(&mut self, tank: u32, stop: &Stop, rule: usize) -> Span {
        let over_night = self.plan.rules.care[rule].when.contains(&Trigger::Overnight) && !self.on_duty;
        let settling = self.settling(tank);
        let asked = match stop.settle {
            Settle::For(time) => time,
            Settle::ClearTo(left) => settling.time_to(left, Calm::Convecting),
        };
        let t = &self.tanks[tank as usize];
        let began = t.care.map_or(self.now, |j| j.began);
        // A bath that was cold already when its care began has settled since its heater went off.
        let settled = if began == self.now {
            self.now - t.off_since
        } else {
            Span::ZERO
        };
        let time = if over_night {
            asked.max(self.back_on_duty() - self.now)
        } else {
            (asked - settled).max(Span::ZERO)
        };
        let left = settling.left_after(time, Calm::Convecting).in_fraction();
        let t = &mut self.tanks[tank as usize];
        let stirred = t.chemistry.as_ref().map_or(0.0, |c| c.suspended().base());
        if let Some(job) = &mut t.care {
            job.settling = (stirred, left);
        }
        time
    }

    fn settling(&self, tank: u32) -> Settling {
        let t = &self.tanks[tank as usize];
        let inside = self.shop.stations[t.station.index()].tank.as_ref();
        let depth = inside.map_or(crate::units::Length::metres(0.3), |tank| {
            Geometry::new(tank.inside, t.heat.volume()).depth
        });
        let liquid = Liquid::water(t.heat.temperature());
        let solids = t.chemistry.as_ref().map_or(0.0, |c| {
            c.suspended().base() / Particle::SLUDGE.density.base() / t.heat.volume().base()
        });
        Settling::new(&Particle::SLUDGE, &liquid, Share::fraction(solids), depth)
    }

    /// The heel goes through the filter by Ruth's equation; its medium clogs, and is changed when spent.
    fn filters_for(&mut self, tank: u32, stop: &Stop) -> Span {
        let t = &self.tanks[tank as usize];
        let Some(bath) = &t.chemistry else {
            return Span::ZERO;
        };
        let heel = t.heat.volume() * stop.heel.in_fraction();
        let solids = bath.settled() + bath.suspended() * stop.heel.in_fraction();
        let liquid = Liquid::water(t.heat.temperature());
        let mut medium = self.medium.unwrap_or_else(|| Medium::fresh(stop.medium));
        let mut media = 0;
        if medium.is_spent() {
            medium = Medium::fresh(stop.medium);
            media = 1;
        }
        let filter = Filter {
            area: stop.area,
            pressure: gravity_head(liquid.density, stop.head),
            medium: medium.now,
            cake: stop.cake,
        };
        let time = filter
            .ruth(liquid.viscosity, solids / heel)
            .map_or(BLOCKED, |ruth| ruth.time_for(heel).min(BLOCKED));
        self.medium = Some(medium.after(stop.cake, solids, stop.area));
        if let Some(job) = &mut self.tanks[tank as usize].care {
            job.used.media += media;
        }
        time
    }

    /// What the stage that is over has done.
    pub(super) fn stage_done(&mut self, tank: u32) {
        let Some(job) = self.tanks[tank as usize].care else {
            return;
        };
        let chore = self.plan.rules.care[job.rule].chore;
        match (chore, self.stage_of(tank)) {
            (Chore::Stop(stop), Some(Stage::Stands)) if job.stage == 1 => self.settled(tank, &stop),
            (Chore::Stop(_), Some(Stage::Stands)) => self.filter = None,
            (_, Some(Stage::Hands(kind))) => self.hands_done(tank, &chore, kind),
            _ => {}
        }
    }

    /// What the cold bath gave down while it stood, beyond what the idle bath did by itself.
    fn settled(&mut self, tank: u32, _: &Stop) {
        let t = &mut self.tanks[tank as usize];
        let (Some(job), Some(bath)) = (t.care, &mut t.chemistry) else {
            return;
        };
        let (stirred, left) = job.settling;
        let now = bath.suspended().base();
        if now > 0.0 && stirred * left < now {
            bath.let_settle(Share::fraction(1.0 - stirred * left / now));
        }
    }

    fn hands_done(&mut self, tank: u32, chore: &Chore, kind: TaskKind) {
        match (*chore, kind) {
            (Chore::Replenish { to, .. }, _) => self.replenish(tank, to),
            (Chore::Trim { by, to, .. }, _) => self.trim(tank, by, to),
            (Chore::Condition { to, .. }, TaskKind::TakeWoolOut) => self.condition(tank, to),
            (Chore::Stop(stop), TaskKind::FillBack) => self.fill_back(tank, &stop),
            (Chore::Renew { share, .. }, _) => self.make_up(tank, share),
            _ => {}
        }
    }

    /// Concentrate for the strength asked for once the water is made good, as its trigger is read; a second helping makes good what the first one's own volume thinned.
    fn replenish(&mut self, tank: u32, to: Strength) {
        let (recipe, full) = (self.recipe(tank).chemistry, self.full(tank));
        let mut added = Volume::ZERO;
        if let Some(bath) = &mut self.tanks[tank as usize].chemistry {
            for _ in 0..3 {
                let more = bath.concentrate_to(&recipe, to, full.max(bath.volume()));
                bath.replenish(&recipe, more);
                added += more;
            }
        }
        self.pour_in(tank, added);
        if let Some(job) = &mut self.tanks[tank as usize].care {
            job.used.concentrate += added;
        }
    }

    /// Cold liquid goes into the bath's heat.
    fn pour_in(&mut self, tank: u32, volume: Volume) {
        let room = self.shop.air.temperature;
        self.tanks[tank as usize].heat.top_up(volume, room);
        self.renew(tank);
    }

    fn trim(&mut self, tank: u32, by: Trimming, to: f64) {
        let means = match by {
            Trimming::ManganeseCarbonate => Trim::ManganeseCarbonate,
            Trimming::SodaAsh => Trim::SodaAsh,
            Trimming::PhosphoricAcid => Trim::PhosphoricAcid,
        };
        let t = &mut self.tanks[tank as usize];
        let (Some(bath), Some(job)) = (&mut t.chemistry, &mut t.care) else {
            return;
        };
        // Trimming moves the total acid with the free acid: a few rounds meet the ratio.
        for _ in 0..8 {
            job.used.chemical += bath.trim(means, bath.total_acid() / to);
        }
    }

    /// Wool dissolves until the bath holds so much iron, or as much of it as the free acid lets.
    fn condition(&mut self, tank: u32, to: crate::units::Concentration) {
        let recipe = self.recipe(tank).chemistry;
        let t = &mut self.tanks[tank as usize];
        let (Some(bath), Some(job)) = (&mut t.chemistry, &mut t.care) else {
            return;
        };
        let mut wool = fresh::conditioning(&recipe, bath, to).wool;
        for _ in 0..20 {
            let before = bath.account().hydrogen;
            if bath.condition(&recipe, wool).is_ok() {
                job.used.chemical += wool;
                job.used.hydrogen += bath.account().hydrogen - before;
                return;
            }
            wool = wool * 0.7;
        }
    }

    /// Filtered, or decanted from its heel, and its volume made good with water.
    fn fill_back(&mut self, tank: u32, stop: &Stop) {
        let full = self.full(tank);
        let t = &mut self.tanks[tank as usize];
        let (Some(bath), Some(job)) = (&mut t.chemistry, &mut t.care) else {
            return;
        };
        let sludge = held(bath);
        let gone = t.heat.volume() * if stop.filtered { stop.lost } else { stop.heel }.in_fraction();
        let kept = if stop.filtered {
            bath.filter_heel(stop.heel, gone)
        } else {
            bath.discard(gone, Share::percent(100.0))
        };
        debug_assert!(kept.is_ok(), "{kept:?}");
        t.heat.remove(gone);
        let water = (full - t.heat.volume()).max(Volume::ZERO);
        bath.top_up(water);
        job.used.sludge += sludge - held(bath);
        job.used.wasted += gone;
        job.used.water += water;
        self.pour_in(tank, water);
    }

    /// A share of it, from the bottom, is thrown away and made up anew.
    fn make_up(&mut self, tank: u32, share: Share) {
        let (full, recipe) = (self.full(tank), self.recipe(tank).chemistry);
        let t = &mut self.tanks[tank as usize];
        let (Some(bath), Some(job)) = (&mut t.chemistry, &mut t.care) else {
            return;
        };
        let (sludge, before) = (held(bath), *bath.account());
        let gone = t.heat.volume() * share.in_fraction();
        if share.in_fraction() >= 1.0 {
            bath.renew(&recipe, full);
        } else if bath.discard(gone, Share::percent(100.0)).is_ok() {
            let short = (full - bath.volume()).max(Volume::ZERO);
            let concentrate = bath.concentrate_to(&recipe, recipe.make_up, full);
            bath.replenish(&recipe, concentrate.min(short));
            bath.top_up((full - bath.volume()).max(Volume::ZERO));
        }
        job.used.concentrate += bath.account().concentrate_added - before.concentrate_added;
        job.used.water += bath.account().water_added - before.water_added;
        job.used.wasted += gone;
        job.used.sludge += (sludge - held(bath)).max(Mass::ZERO);
        let poured = bath.volume() - (t.heat.volume() - gone);
        t.heat.remove(gone);
        self.pour_in(tank, poured);
    }
}

/// All the sludge in a bath.
fn held(bath: &Chemistry) -> Mass {
    bath.suspended() + bath.settled()
}

//! What the stages of care do to a bath, and how long those take that need nobody.
//!
//! # Known and left
//!
//! - Solids go into a bath above 70 °C, and concentrate into one above its band, as the rules of care have it: it is
//!   warned of, and nothing waits for the bath to cool.

use super::Baths;
use super::stages::Stage;
use crate::day::Day;
use crate::ids::TankIx;
use tankday_base::bath::chemistry::{Chemistry, Trim, fresh};
use tankday_base::bath::filter::{Filter, Medium, gravity_head};
use tankday_base::bath::settle::{self, Liquid};
use tankday_base::shop::{Chore, Recipe, Settle, Stop, Trigger, Trimming};
use tankday_base::units::{Concentration, Length, Mass, Share, Span, Strength, Temperature, Volume};
use tankday_record::{CareUse, TaskKind};

/// Nobody waits longer for a filter: it is as good as blocked.
const BLOCKED: Span = Span::whole_minutes(60 * 24 * 30);

/// Less than this nobody measures out: it would read as 0.0 g or 0.0 L.
const LEAST_MASS: Mass = Mass::grams(0.05);
const LEAST_VOLUME: Volume = Volume::millilitres(1.0);

impl Baths<'_> {
    /// How long the present stage stands by itself.
    pub(super) fn stands_for(&mut self, day: &Day<'_>, tank: TankIx) -> Span {
        let Some(job) = self.tanks[tank].care else {
            return Span::ZERO;
        };
        match self.chore(tank, job.rule) {
            Chore::Condition { stays, .. } => stays,
            Chore::Stop(stop) if job.stage == 1 => self.settles_for(day, tank, &stop, job.rule),
            Chore::Stop(stop) => self.filters_for(tank, &stop),
            _ => Span::ZERO,
        }
    }

    /// How long a bath settles in a stop. It has settled since its heater went off: `until 5 %` counts all of that, a
    /// time counts it where the bath was cold already when the stop began.
    pub(super) fn settles_for(&self, day: &Day<'_>, tank: TankIx, stop: &Stop, rule: usize) -> Span {
        let over_night = self.plan.rules.care[rule].when.contains(&Trigger::Overnight) && !day.on_duty();
        let t = &self.tanks[tank];
        let began = t.care.map_or(day.now(), |j| j.began);
        let since_off = day.now() - t.heater.off_since;
        let asked = self.settles(tank, stop);
        let settled = match stop.settle {
            Settle::For(_) if began != day.now() => Span::ZERO,
            Settle::For(_) | Settle::ClearTo(_) => since_off,
        };
        if over_night {
            asked.max(day.back_on_duty() - day.now())
        } else {
            (asked - settled).max(Span::ZERO)
        }
    }

    fn filters_for(&mut self, tank: TankIx, stop: &Stop) -> Span {
        let t = &self.tanks[tank];
        let Some(bath) = t.chemistry else {
            return Span::ZERO;
        };
        let (time, media, after) = self.heel_through(&bath, t.heat.volume(), t.heat.temperature(), stop);
        self.medium = Some(after);
        if let Some(job) = &mut self.tanks[tank].care {
            job.used.media += media;
        }
        time
    }

    /// The heel goes through the filter by Ruth's equation; its medium clogs, and is changed when spent. Says how long
    /// that takes, how many media it uses up, and how the medium is then.
    pub(super) fn heel_through(
        &self,
        bath: &Chemistry,
        volume: Volume,
        at: Temperature,
        stop: &Stop,
    ) -> (Span, u32, Medium) {
        let heel = volume * stop.heel.in_fraction();
        let solids = bath.settled() + bath.suspended() * stop.heel.in_fraction();
        let liquid = Liquid::water(at);
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
        (time, media, medium.after(stop.cake, solids, stop.area))
    }

    /// Whether a chore has anything to do at a tank: nobody adds 0.0 g or filters a clear bath.
    pub(super) fn has_work(&self, tank: TankIx, rule: usize) -> bool {
        let (recipe, full) = (self.recipe(tank).chemistry, self.full(tank));
        let Some(mut bath) = self.tanks[tank].chemistry else {
            return false;
        };
        match self.chore(tank, rule) {
            Chore::Replenish { to, .. } => {
                bath.concentrate_to(&recipe, to, full.max(bath.volume())) >= LEAST_VOLUME
            }
            Chore::Trim { by, to, .. } => {
                let pure = bath.trim(means(by), bath.total_acid() / to);
                match by {
                    Trimming::PhosphoricAcid(bottle) => bottle.holds(pure) >= LEAST_VOLUME,
                    _ => pure >= LEAST_MASS,
                }
            }
            Chore::Condition { to, .. } => {
                fresh::conditioning(&recipe, &bath, to / self.filled(tank)).wool >= LEAST_MASS
            }
            Chore::Stop(_) => held(&bath) >= LEAST_MASS,
            Chore::Renew { .. } => true,
        }
    }

    /// What the stage that is over has done.
    pub(super) fn stage_done(&mut self, day: &mut Day<'_>, tank: TankIx) {
        let Some(job) = self.tanks[tank].care else {
            return;
        };
        let chore = self.chore(tank, job.rule);
        match (chore, self.stage_of(tank)) {
            (Chore::Stop(_), Some(Stage::Stands)) if job.stage != 1 => self.filter = None,
            (_, Some(Stage::Hands(kind))) => self.hands_done(day, tank, &chore, kind),
            _ => {}
        }
    }

    fn hands_done(&mut self, day: &mut Day<'_>, tank: TankIx, chore: &Chore, kind: TaskKind) {
        match (*chore, kind) {
            (Chore::Replenish { to, .. }, _) => self.replenish(day, tank, to),
            (Chore::Trim { by, to, .. }, _) => self.trim(tank, by, to),
            (Chore::Condition { to, .. }, TaskKind::TakeWoolOut) => self.condition(tank, to),
            (Chore::Stop(stop), TaskKind::Exchange) => self.exchange(day, tank, &stop),
            (Chore::Stop(stop), TaskKind::FillBack) => self.fill_back(day, tank, &stop),
            (Chore::Renew { share, .. }, _) => self.make_up(day, tank, share),
            _ => {}
        }
    }

    /// Concentrate for the strength asked for once the water is made good, as its trigger is read; a second helping makes good
    /// what the first one's own volume thinned.
    fn replenish(&mut self, day: &mut Day<'_>, tank: TankIx, to: Strength) {
        let (recipe, full) = (self.recipe(tank).chemistry, self.full(tank));
        let bath = self.tanks[tank].chemistry.as_mut();
        let added = bath.map_or(Volume::ZERO, |bath| {
            let full = full.max(bath.volume());
            replenished(bath, &recipe, to, full)
        });
        self.pour_in(day, tank, added);
        if let Some(job) = &mut self.tanks[tank].care {
            job.used.concentrate += added;
        }
    }

    /// Cold liquid goes into the bath's heat.
    pub(super) fn pour_in(&mut self, day: &mut Day<'_>, tank: TankIx, volume: Volume) {
        let room = self.shop.air.temperature;
        self.tanks[tank].heat.top_up(volume, room);
        self.renew(day, tank);
    }

    fn trim(&mut self, tank: TankIx, by: Trimming, to: f64) {
        let means = means(by);
        let t = &mut self.tanks[tank];
        let (Some(bath), Some(job)) = (&mut t.chemistry, &mut t.care) else {
            return;
        };
        job.used.chemical += trimmed(bath, means, to);
    }

    /// Wool dissolves until the bath holds so much iron once its water is made good, as its trigger is read; or as much of
    /// it as the free acid lets.
    fn condition(&mut self, tank: TankIx, to: Concentration) {
        let recipe = self.recipe(tank).chemistry;
        let to = to / self.filled(tank);
        let t = &mut self.tanks[tank];
        let (Some(bath), Some(job)) = (&mut t.chemistry, &mut t.care) else {
            return;
        };
        if let Some((wool, hydrogen)) = conditioned(bath, &recipe, to) {
            job.used.chemical += wool;
            job.used.hydrogen += hydrogen;
        }
    }

    /// Filtered, or decanted from its heel, and its volume made good with water.
    fn fill_back(&mut self, day: &mut Day<'_>, tank: TankIx, stop: &Stop) {
        let full = self.full(tank);
        let t = &mut self.tanks[tank];
        let (Some(bath), Some(job)) = (&mut t.chemistry, &mut t.care) else {
            return;
        };
        let before = t.heat.volume();
        let water = cleared(bath, stop, full, &mut job.used);
        t.heat.remove(before * gone(stop).in_fraction());
        self.pour_in(day, tank, water);
    }

    /// A share of it, from the bottom, is thrown away and made up anew.
    fn make_up(&mut self, day: &mut Day<'_>, tank: TankIx, share: Share) {
        let (full, recipe) = (self.full(tank), self.recipe(tank).chemistry);
        let t = &mut self.tanks[tank];
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
        self.pour_in(day, tank, poured);
    }
}

/// Concentrate for a strength at a volume; a second helping makes good what the first one's own volume thinned.
pub(crate) fn replenished(bath: &mut Chemistry, recipe: &Recipe, to: Strength, full: Volume) -> Volume {
    let mut added = Volume::ZERO;
    for _ in 0..3 {
        let more = bath.concentrate_to(recipe, to, full.max(bath.volume()));
        bath.replenish(recipe, more);
        added += more;
    }
    added
}

/// The free acid is brought where total by free acid is this: says how much of the means that took, pure. Trimming moves the
/// total acid with the free acid: a few rounds meet the ratio.
pub(crate) fn trimmed(bath: &mut Chemistry, means: Trim, to: f64) -> Mass {
    let rounds = (0..8).map(|_| bath.trim(means, bath.total_acid() / to));
    rounds.fold(Mass::ZERO, |all, more| all + more)
}

/// Wool dissolves until the bath holds so much iron, or as much of it as the free acid lets: says how much, and the hydrogen
/// set free. None where the bath dissolves none.
pub(crate) fn conditioned(
    bath: &mut Chemistry,
    recipe: &Recipe,
    to: Concentration,
) -> Option<(Mass, Volume)> {
    let mut wool = fresh::conditioning(recipe, bath, to).wool;
    for _ in 0..20 {
        let before = bath.account().hydrogen;
        if bath.condition(recipe, wool).is_ok() {
            return Some((wool, bath.account().hydrogen - before));
        }
        wool = wool * 0.7;
    }
    None
}

pub(crate) const fn means(by: Trimming) -> Trim {
    match by {
        Trimming::ManganeseCarbonate => Trim::ManganeseCarbonate,
        Trimming::SodaAsh => Trim::SodaAsh,
        Trimming::PhosphoricAcid(_) => Trim::PhosphoricAcid,
    }
}

/// What is lost of a bath in a stop.
fn gone(stop: &Stop) -> Share {
    if stop.filtered { stop.lost } else { stop.heel }
}

/// A bath that is decanted from its sludge, its heel filtered or thrown away, and made good to a volume. Says how much
/// water that took.
pub(super) fn cleared(bath: &mut Chemistry, stop: &Stop, to: Volume, used: &mut CareUse) -> Volume {
    let sludge = held(bath);
    let gone = bath.volume() * gone(stop).in_fraction();
    let kept = if stop.filtered {
        bath.filter_heel(stop.heel, gone)
    } else {
        bath.discard(gone, Share::percent(100.0))
    };
    debug_assert!(kept.is_ok(), "{kept:?}");
    let water = (to - bath.volume()).max(Volume::ZERO);
    bath.top_up(water);
    used.sludge += sludge - held(bath);
    used.wasted += gone;
    used.water += water;
    water
}

/// Time in which half of the stirred-up sludge settles in a bath of a depth.
pub(super) fn half_life(recipe: &Recipe, depth: Length) -> Span {
    if recipe.settles_by_depth {
        settle::half_life(depth)
    } else {
        recipe.settling_half
    }
}

/// All the sludge in a bath.
fn held(bath: &Chemistry) -> Mass {
    bath.suspended() + bath.settled()
}

//! What comes to a bath, goes in and comes out.

use super::Baths;
use super::tank::Inside;
use crate::cargo::Cargo;
use crate::day::{Day, Event};
use crate::ids::{LoadIx, Of, TankIx};
use crate::kernel::STARTS;
use tankday_base::bath::{Bath, TankHeat};
use tankday_base::random::Spread;
use tankday_base::shop::{BathId, BathRecipe, CoatRule, CoatsFrom, HeatOff, OrderId, Trigger};
use tankday_base::units::{Moment, Span, Volume};
use tankday_record::LoadNo;

/// A load that leaves a bath.
pub(crate) struct Lifted<'l> {
    pub(crate) load: LoadIx,
    pub(crate) no: LoadNo,
    pub(crate) cargo: &'l Cargo,
    /// Liquid that it carries along.
    pub(crate) drag: Volume,
    pub(crate) stay: Span,
    /// Its number in a plan, if there is one.
    pub(crate) lot: u32,
}

impl<'a> Baths<'a> {
    /// A load goes into the bath: lid off, its cold is mixed in. Returns how long it is to stay: a time that was drawn, or as
    /// long as its coating needs.
    pub(crate) fn enter_bath(
        &mut self,
        day: &mut Day<'_>,
        tank: TankIx,
        load: LoadIx,
        cargo: &Cargo,
        drawn: Option<Span>,
    ) -> Span {
        self.touch(day, tank);
        self.sample(day, tank);
        let room = self.shop.air.temperature;
        let growth = self.growth(tank);
        let t = &mut self.tanks[tank];
        t.heat.add_load(&cargo.work(), room);
        t.heat.set_growth(Some(&growth));
        t.inside.push(Inside {
            load,
            heat: cargo.heat,
            entered: CoatsFrom::ALL.map(|from| t.heat.conversion_on(from)),
        });
        self.set_lid(day, tank);
        self.supply_moved = true;
        self.share_supply(day);
        let stay = self.dwell(tank, cargo, drawn);
        self.renew(day, tank);
        stay
    }

    /// The spread of the stay in a bath that has no target.
    pub(crate) fn dwell_drawn(&self, tank: TankIx) -> Option<&'a Spread> {
        let shop = self.shop;
        match &shop.baths[self.tanks[tank].bath.index()].coat {
            CoatRule::Time(spread) => Some(spread),
            CoatRule::Target(_) => None,
        }
    }

    fn dwell(&self, tank: TankIx, cargo: &Cargo, drawn: Option<Span>) -> Span {
        let (heat, table) = (&self.tanks[tank].heat, &self.heat[tank]);
        stay(self.recipe(tank), (heat, table), cargo, drawn)
    }

    pub(crate) fn lift_from_bath(&mut self, day: &mut Day<'_>, tank: TankIx, lifted: &Lifted<'_>) {
        self.touch(day, tank);
        let entered = self.taken_out(tank, lifted.load);
        self.book_coating(day, tank, lifted, entered);
        let t = &mut self.tanks[tank];
        t.heat.remove_load(&lifted.cargo.work());
        if t.inside.is_empty() {
            t.heat.set_growth(None);
        }
        self.set_lid(day, tank);
        let t = &self.tanks[tank];
        let done_for_today = t.inside.is_empty() && !self.expects_load(day, tank);
        let last = self.plan.rules.heat.off == HeatOff::AfterLast
            && (done_for_today || t.inside.is_empty() && self.keeps_all_back(day, tank));
        // As at closing: it stays on only where the rules never switch it off, and only if it may be left alone or somebody stays.
        let rules = &self.plan.rules.heat;
        let goes_on = rules.off == HeatOff::Never && (rules.unattended || day.away().is_none());
        let closed = t.inside.is_empty() && !day.on_duty() && day.is_over() && !goes_on;
        if done_for_today {
            self.call_care(tank, |w| w == Trigger::AfterLast);
        }
        if closed {
            self.call_care(tank, |w| w == Trigger::Overnight);
        }
        self.call_planned(tank, lifted.lot);
        let t = &self.tanks[tank];
        let (on, idle) = (t.is_on(), t.inside.is_empty() && t.care.is_none());
        if (last || closed) && on {
            self.switch_off(day, tank);
        } else if on && idle && self.rests(day, tank) {
            // It is heated again for the next loads.
        } else if on && self.is_cut_off(tank) {
            // What the load carries out was the last that the heater had over it.
            self.cut_off(day, tank);
        } else {
            self.renew(day, tank);
        }
        self.leave(day, tank);
        self.stand_idle(day, Some(tank));
    }

    /// A load is in it no longer; says what the bath had summed when it went in.
    fn taken_out(&mut self, tank: TankIx, load: LoadIx) -> [f64; 2] {
        let inside = &mut self.tanks[tank].inside;
        let at = inside.iter().position(|i| i.load == load);
        at.map_or([0.0; 2], |at| inside.remove(at).entered)
    }

    /// The last load of the day was lifted here, or nothing more goes in today: tanks that stand hot for it are switched off too.
    pub(crate) fn stand_idle(&mut self, day: &mut Day<'_>, here: Option<TankIx>) {
        if self.plan.rules.heat.off != HeatOff::AfterLast {
            return;
        }
        for other in self.tanks.ids() {
            let t = &self.tanks[other];
            let busy = !t.inside.is_empty() || t.care.is_some() || t.hands.topping || t.hands.filling > 0;
            if Some(other) != here && t.is_on() && !busy && !self.expects_load(day, other) {
                self.touch(day, other);
                self.call_care(other, |w| w == Trigger::AfterLast);
                self.switch_off(day, other);
            }
        }
    }

    /// Whether more loads may come to this tank for which those in line could wait.
    pub(crate) fn may_more_come(&self, day: &Day<'_>, tank: TankIx, in_line: usize) -> bool {
        self.tanks[tank].coming.loads > in_line as i32 || self.more_soon(day, tank)
    }

    /// Whether orders may still come soon that use this tank.
    fn more_soon(&self, day: &Day<'_>, tank: TankIx) -> bool {
        let soon = day.now() + self.plan.rules.fill.wait_at_most;
        let after = day.now() + Span::micros(1);
        self.plan.arrivals[tank].come_between(after, soon)
    }

    /// Looks again at a moment whether a load has waited long enough for company.
    pub(crate) fn look_for_company(&mut self, day: &mut Day<'_>, tank: TankIx, at: Moment) {
        let t = &mut self.tanks[tank];
        if t.coming.look != at {
            t.coming.look = at;
            day.schedule(at, STARTS, Event::Look(t.station));
        }
    }

    /// So many loads more will come to a bath, or fewer, at the tanks that take them.
    pub(crate) fn coming_to(
        &mut self,
        day: &mut Day<'_>,
        bath: BathId,
        takes: &Of<TankIx, bool>,
        scrap: bool,
        change: i32,
    ) {
        for tank in self.tanks.ids() {
            let t = &mut self.tanks[tank];
            if t.bath == bath && takes[tank] {
                t.coming.loads += change;
                t.coming.scrap += if scrap { change } else { 0 };
                if change > 0 {
                    self.light_again(day, tank);
                }
            }
        }
    }

    /// Whether a source of orders will still bring something.
    pub(crate) fn stream_goes_on(&mut self, source: OrderId, goes_on: bool) {
        self.streams[source] = goes_on;
    }

    /// Hands put a load in, or are done with that.
    pub(crate) fn putting_in(&mut self, tank: TankIx, begins: bool) {
        let filling = &mut self.tanks[tank].hands.filling;
        *filling = if begins {
            *filling + 1
        } else {
            filling.saturating_sub(1)
        };
    }
}

/// How long a load, just put in, is to stay: the time drawn, or the time that the coating needs as the bath
/// recovers; never less than the least nor more than the most.
pub(crate) fn stay(
    recipe: &BathRecipe,
    (heat, table): (&Bath, &TankHeat),
    cargo: &Cargo,
    drawn: Option<Span>,
) -> Span {
    let stay = match &recipe.coat {
        CoatRule::Time(_) => drawn.unwrap_or_default(),
        CoatRule::Target(weight) => {
            let needs = cargo.needs(&recipe.growth, *weight).into_iter();
            let time = |(from, need)| {
                heat.time_until_conversion_on(from, table, need)
                    .unwrap_or(recipe.most)
            };
            needs.map(time).fold(Span::ZERO, Span::max)
        }
    };
    let (least, most) = window(recipe, cargo);
    stay.max(least).min(most)
}

/// The shortest and the longest stay that bath and parts allow.
pub(crate) fn window(recipe: &BathRecipe, cargo: &Cargo) -> (Span, Span) {
    (recipe.least.max(cargo.window.0), recipe.most.min(cargo.window.1))
}

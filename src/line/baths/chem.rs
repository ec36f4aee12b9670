//! The chemistry of a bath in step with its heat: what evaporates, what a load does to it, whether it may take another.

use super::Baths;
use super::charge::Lifted;
use super::tank::Tank;
use crate::cargo::Cargo;
use crate::day::Day;
use crate::ids::TankIx;
use tankday_base::bath::chemistry::{Chemistry, Gravity, Readings, pace};
use tankday_base::bath::{Bath, Growth, water};
use tankday_base::shop::{BathRecipe, CoatRule, CoatsFrom, Recipe};
use tankday_base::units::{Area, CoatWeight, Concentration, Mass, Quantity, Share, Span, Volume};
use tankday_record::{Coated, LogEntry};

/// The chemistry of a bath at its start; none where it does not wear, or reads as no bath can.
pub(crate) fn start(recipe: &BathRecipe, heat: &Bath) -> Option<Chemistry> {
    let now = Readings {
        volume: heat.volume(),
        total_acid: recipe.now.total_acid,
        free_acid: recipe.now.free_acid,
        iron: recipe.now.iron,
        sludge: recipe.now.sludge,
    };
    let area = recipe.now.area.base() * heat.volume().base();
    let mut chemistry = Chemistry::new(&recipe.chemistry, &now).ok()?;
    chemistry.contaminants = recipe.now.contaminants;
    recipe
        .wears
        .then(|| chemistry.with_history(Area::from_base(area), recipe.now.uses, Span::ZERO))
}

/// Filtered solution of a bath as it is at its start; none where it does not wear.
pub(super) fn filtered(recipe: &BathRecipe, volume: Volume) -> Option<Chemistry> {
    let now = Readings {
        volume,
        total_acid: recipe.now.total_acid,
        free_acid: recipe.now.free_acid,
        iron: recipe.now.iron,
        sludge: Concentration::ZERO,
    };
    let area = recipe.now.area.base() * volume.base();
    let chemistry = Chemistry::new(&recipe.chemistry, &now).ok()?;
    recipe
        .wears
        .then(|| chemistry.with_history(Area::from_base(area), recipe.now.uses, Span::ZERO))
}

impl Tank {
    /// Brings the chemistry up to the moment of the heat, `passed` after the last time. While the heater is on the
    /// bath convects and keeps its sludge up; else that settles.
    pub(super) fn follow(&mut self, recipe: &BathRecipe, passed: Span) {
        let evaporated = self.heat.ledger().evaporated;
        let lost = (evaporated - self.evaporated) / water::measuring_density();
        self.evaporated = evaporated;
        let on = self.is_on();
        let Some(chemistry) = &mut self.chemistry else {
            return;
        };
        // The heat model never gives off water that is not there.
        let kept = if on {
            chemistry.hot_for(&recipe.chemistry, passed, lost)
        } else {
            let gone = chemistry.evaporate(lost);
            let recipe = Recipe {
                settling_half: self.settling_half,
                ..recipe.chemistry
            };
            chemistry.idle_for(&recipe, passed);
            gone
        };
        debug_assert!(kept.is_ok(), "{kept:?}");
        self.closes_up();
    }

    /// Iron, manganese, phosphorus and water balance to rounding.
    pub(super) fn closes_up(&self) {
        debug_assert!(
            self.chemistry
                .as_ref()
                .is_none_or(|c| c.residuals().largest(c.account()) < 1e-9),
            "{:?}",
            self.chemistry.as_ref().map(Chemistry::residuals)
        );
    }
}

impl Baths<'_> {
    pub(super) fn recipe(&self, tank: TankIx) -> &BathRecipe {
        &self.shop.baths[self.tanks[tank].bath.index()]
    }

    /// The growth law of the bath as it is.
    pub(super) fn growth(&self, tank: TankIx) -> Growth {
        let recipe = self.recipe(tank);
        match &self.tanks[tank].chemistry {
            Some(chemistry) => recipe.growth.paced(pace(&recipe.chemistry, chemistry)),
            None => recipe.growth,
        }
    }

    /// What the shop would reckon with before the load is in: the bath at its holding temperature.
    pub(crate) fn expected_dwell(&self, tank: TankIx, cargo: &Cargo) -> Span {
        let recipe = self.recipe(tank);
        let stay = match &recipe.coat {
            CoatRule::Time(spread) => spread.mean(),
            CoatRule::Target(weight) => {
                let growth = self.growth(tank);
                let needs = cargo.needs(&growth, *weight).into_iter();
                let time = |(from, need): (CoatsFrom, f64)| growth.tau_on(from, recipe.band.hold).times(need);
                needs.map(time).fold(Span::ZERO, Span::max)
            }
        };
        stay.max(recipe.least.max(cargo.window.0))
            .min(recipe.most.min(cargo.window.1))
    }

    /// A load leaves the bath: what it took and gave.
    pub(super) fn book_coating(
        &mut self,
        day: &mut Day<'_>,
        tank: TankIx,
        lifted: &Lifted<'_>,
        entered: [f64; 2],
    ) {
        let growth = self.growth(tank);
        let heat = &self.tanks[tank].heat;
        let mut conversion = CoatsFrom::ALL.map(|from| heat.conversion_on(from));
        for (now, before) in conversion.iter_mut().zip(entered) {
            *now -= before;
        }
        let recipe = self.shop.baths[self.tanks[tank].bath.index()].chemistry;
        let t = &mut self.tanks[tank];
        let bath = (&mut t.heat, t.chemistry.as_mut());
        let (done, area) = leaves((&growth, &recipe), bath, lifted, conversion);
        t.worked(area);
        t.closes_up();
        let (no, station) = (lifted.no, t.station);
        day.note(|| LogEntry::Coated {
            load: no,
            tank: station,
            coated: Box::new(done),
        });
    }

    /// Whether the bath holds too little iron for work whose looks matter, and the rules keep that back.
    pub(crate) fn takes_scrap_only(&self, tank: TankIx) -> bool {
        let bath = self.tanks[tank].chemistry.as_ref();
        let least = self.recipe(tank).limits.iron.warn_below;
        self.plan.rules.hold_back && bath.is_some_and(|b| b.iron() * self.filled(tank) < least)
    }

    /// The volume by the fill, up to 1: readings are taken as they are once the water is made good, since what evaporates
    /// only seems to make a bath stronger.
    pub(super) fn filled(&self, tank: TankIx) -> f64 {
        (self.tanks[tank].heat.volume() / self.full(tank)).min(1.0)
    }

    /// Whether its readings and its level allow another load: none goes in outside the limits.
    pub(super) fn within_limits(&self, tank: TankIx) -> bool {
        let t = &self.tanks[tank];
        let level = Share::fraction(t.heat.volume() / self.full(tank));
        let passed = self.recipe(tank).limits.level.check(level);
        let too_low = t.chemistry.is_some() && matches!(passed, Some((Gravity::Stop, _)));
        !too_low && self.is_fit_to_coat(tank)
    }

    /// Whether what is in it allows another load.
    pub(super) fn is_fit_to_coat(&self, tank: TankIx) -> bool {
        let t = &self.tanks[tank];
        let recipe = self.recipe(tank);
        let Some(chemistry) = &t.chemistry else {
            return !recipe.now.contaminants.any();
        };
        let limits = &recipe.limits;
        let filled = self.filled(tank);
        let stops = |found: Option<(Gravity, _)>| matches!(found, Some((Gravity::Stop, _)));
        !(stops(limits.strength.check(chemistry.total_acid() * filled))
            || stops(limits.ratio.check(chemistry.ratio()))
            || stops(limits.iron.check(chemistry.iron() * filled))
            || stops(
                limits
                    .sludge
                    .check(chemistry.sludge_volume(&recipe.chemistry) * filled),
            )
            || chemistry.contaminants.any())
    }
}

/// A load leaves a bath after so much conversion on each kind of surface: what it took and gave, and the surface coated.
pub(crate) fn leaves(
    (growth, recipe): (&Growth, &Recipe),
    (heat, chemistry): (&mut Bath, Option<&mut Chemistry>),
    lifted: &Lifted<'_>,
    conversion: [f64; 2],
) -> (Coated, Area) {
    let [steel, iron] = conversion;
    let (mut coating, mut area) = (Mass::ZERO, Area::ZERO);
    for (on, size) in lifted.cargo.surfaces() {
        coating += growth.weight(on_kind(conversion, on.from), on) * size;
        area += size;
    }
    let mut done = Coated {
        conversion: steel,
        on_cast_iron: iron,
        coating,
        ..Coated::default()
    };
    if let Some(chemistry) = chemistry {
        let mean =
            CoatWeight::grams_per_square_metre(coating.in_grams() / area.in_square_metres().max(1e-12));
        let made = chemistry.coat(recipe, mean, area);
        let over = chemistry.overstay(recipe, lifted.stay, area);
        for turnover in [&made, &over].into_iter().flatten() {
            done.metal += turnover.metal();
            done.hydrogen += turnover.hydrogen();
        }
        done.exhausted = made.is_err() || over.is_err();
        done.dragged_out = drag_away(heat, chemistry, lifted.drag);
    }
    (done, area)
}

/// Of conversions on each kind of surface, in the order of [`CoatsFrom::ALL`], that on one.
pub(crate) const fn on_kind([steel, iron]: [f64; 2], from: CoatsFrom) -> f64 {
    match from {
        CoatsFrom::Steel => steel,
        CoatsFrom::CastIron => iron,
    }
}

/// Bath leaves on work; never the last of it.
fn drag_away(heat: &mut Bath, chemistry: &mut Chemistry, drag: Volume) -> Volume {
    let drag = drag.min(heat.volume() * 0.5);
    match chemistry.drag_out(drag) {
        Ok(()) => heat.remove(drag),
        Err(_) => Volume::ZERO,
    }
}

//! `--refine`: more points, one after the other, where the curve bends most.

use super::Told;
use crate::exit::Failure;
use crate::planned::{Plans, asked};
use crate::sampling::{Sampling, in_pool};
use crate::settings::Saying;
use std::sync::atomic::AtomicBool;
use tankday_base::shop::Shop;
use tankday_plan::planned::{Following, Planned, Shops, by_itself, exchange};
use tankday_scenario::Draft;
use tankday_study::sweep::{Point, Setting, Sweep, neighbours, scenario_at};
use tankday_study::{Days, Reading};

/// A sweep that grows.
pub(super) struct Growing<'a> {
    /// What is varied.
    pub(super) draft: &'a Draft,
    /// The shops of the points that can be, in their order.
    pub(super) shops: Vec<Shop>,
    /// What they follow.
    pub(super) plans: Plans,
    /// How many days, under which luck.
    pub(super) sampling: &'a Sampling,
}

impl Growing<'_> {
    /// Adds one point, with as many replications as the others have. A plan that was found for it may be better at
    /// others, too.
    ///
    /// # Errors
    /// When the work cannot be done.
    pub(super) fn add(&mut self, told: &mut Told, setting: Setting) -> Result<(), Failure> {
        let place = place(&told.sweep, &setting);
        let settings = vec![setting];
        let many = told.sweep.replications() as u32;
        let mut point = Point {
            settings: settings.clone(),
            outcome: Ok(Vec::new()),
        };
        match scenario_at(self.draft, &told.sweep.keys, &settings) {
            Ok(scenario) => {
                let before = told.sweep.points.iter().take(place);
                let at = before.filter(|p| p.outcome.is_ok()).count();
                self.shops.insert(at, scenario.shop);
                told.insert(place, &point);
                let new = self.planned_at(at, &told.sweep)?;
                self.run(told, &new, many)
            }
            Err(found) => {
                point.outcome = Err(found.first());
                told.insert(place, &point);
                Ok(())
            }
        }
    }

    /// What the points follow now.
    pub(super) fn following(&self) -> Following {
        let shops: Vec<&Shop> = self.shops.iter().collect();
        self.plans.following(&shops, self.sampling)
    }

    /// Plans the new shop, and returns every shop whose days are to be run: the new one, and those that follow
    /// another plan than before.
    fn planned_at(&mut self, at: usize, sweep: &Sweep) -> Result<Vec<usize>, Failure> {
        let (Some(planned), Some(asked)) = (&mut self.plans.planned, asked(self.sampling)) else {
            return Ok(vec![at]);
        };
        let shops: Vec<&Shop> = self.shops.iter().collect();
        let sound: Vec<bool> = sweep.points.iter().map(|p| p.outcome.is_ok()).collect();
        let mut keys = sweep.keys.clone();
        for key in &mut keys {
            key.values = sweep
                .points
                .iter()
                .filter_map(|p| p.settings.first().cloned())
                .collect();
        }
        let beside = neighbours(&keys, &sound);
        let shops = Shops {
            all: &shops,
            neighbours: &beside,
        };
        in_pool(self.sampling.threads, || {
            for one in planned.iter_mut().filter(|p| p.from >= at) {
                one.from += 1;
            }
            if let Some(shop) = shops.all.get(at) {
                planned.insert(at, by_itself(shop, at, asked, &AtomicBool::new(false)));
            }
            let before: Vec<_> = planned.iter().map(followed).collect();
            exchange(shops, asked, planned);
            let now = planned.iter().map(followed).zip(before).enumerate();
            Ok(now
                .filter(|(i, (now, before))| *i == at || now != before)
                .map(|(i, _)| i)
                .collect())
        })
    }

    /// Runs the days of these shops, and puts them at their points.
    fn run(&self, told: &mut Told, these: &[usize], many: u32) -> Result<(), Failure> {
        let shops: Vec<&Shop> = self.shops.iter().collect();
        let all = self.plans.days(&shops);
        let behind = all.len() - shops.len();
        // By plans, and behind them by rules; by rules alone where nothing is planned.
        let mut from = vec![0, behind];
        from.dedup();
        let places = from.iter().flat_map(|from| these.iter().map(move |i| from + i));
        let days: Vec<Days<'_>> = places.filter_map(|at| all.get(at).copied()).collect();
        let mut readings = self
            .sampling
            .exactly(many)
            .run(&days, Saying::Little)?
            .readings
            .into_iter();
        let sweeps = std::iter::once(&mut told.sweep).chain(told.by_rules.as_mut());
        for sweep in sweeps {
            for (at, readings) in these.iter().zip(readings.by_ref().take(these.len())) {
                put(sweep, *at, readings);
            }
        }
        Ok(())
    }
}

/// What tells that another plan is followed.
fn followed(planned: &Planned) -> (usize, u64) {
    (planned.from, planned.judged.cost.to_bits())
}

/// Puts readings at the point that is so many among those that can be.
fn put(sweep: &mut Sweep, at: usize, readings: Vec<Reading>) {
    let mut sound = sweep.points.iter_mut().filter(|p| p.outcome.is_ok());
    if let Some(point) = sound.nth(at) {
        point.outcome = Ok(readings);
    }
}

/// Where a new point comes.
fn place(sweep: &Sweep, setting: &Setting) -> usize {
    let at = |p: &Point| p.settings.first().map_or(0.0, |s| s.at);
    let after = sweep.points.iter().position(|p| at(p) > setting.at);
    after.unwrap_or(sweep.points.len())
}

//! Rinses on the line: what loads bring into them, what they leave with, when their water is renewed.
//!
//! # Known and left
//!
//! - Rinses are clean at the start of a run; their tap runs while a load is in; a load carries as much out of each
//!   tub as it brought into the first. The audit follows the water by steps in time, and checks the chance of a
//!   defect only from below.

use super::Baths;
use crate::cargo::Wet;
use crate::day::Day;
use crate::ids::Of;
use tankday_base::bath::Tubs;
use tankday_base::shop::{Mishap, Mishaps, RinseLimit, Shop, StationId};
use tankday_base::units::{Moment, Span, Strength};
use tankday_record::{LoadNo, LogEntry};

/// The water of one rinse under way.
#[derive(Debug, Clone)]
pub(super) struct RinseRun {
    tubs: Tubs,
    /// The moment up to which `tubs` is advanced.
    at: Moment,
    /// Loads in it: its water runs while there are any.
    inside: u32,
    /// Loads since its water was renewed.
    loads: u32,
    /// Its water is to be renewed.
    due: bool,
    /// Hands renew it.
    renewing: bool,
}

/// Every rinse of a shop, clean, by its station; empty where no station is one.
pub(super) fn rinses(shop: &Shop) -> Of<StationId, Option<RinseRun>> {
    if shop.stations.iter().all(|s| s.rinse.is_none()) {
        return Of::new();
    }
    let run = |rinse: tankday_base::shop::Rinse| RinseRun {
        tubs: Tubs::clean(rinse.fill, rinse.tubs),
        at: Moment::ZERO,
        inside: 0,
        loads: 0,
        due: false,
        renewing: false,
    };
    shop.stations.iter().map(|s| s.rinse.map(run)).collect()
}

impl Baths<'_> {
    fn rinse(
        &mut self,
        day: &Day<'_>,
        station: StationId,
    ) -> Option<(&mut RinseRun, tankday_base::shop::Rinse)> {
        let run = self.rinses.find_mut(station)?.as_mut()?;
        let plan = self.shop.stations[station.index()].rinse?;
        if run.inside > 0 {
            run.tubs.run(plan.flow, day.now() - run.at);
        }
        run.at = day.now();
        Some((run, plan))
    }

    /// A load begins a step: if that is a rinse, it passes the tubs, and this is what happens to it; none anywhere else.
    pub(crate) fn dip(
        &mut self,
        day: &mut Day<'_>,
        station: StationId,
        no: LoadNo,
        wet: &Wet,
    ) -> Option<Mishaps> {
        let (run, plan) = self.rinse(day, station)?;
        let spent = run.due && wet.bath > Strength::ZERO;
        let leaves = run.tubs.dip(wet.volume, wet.strength);
        run.inside += 1;
        run.loads += 1;
        let limit = match plan.renewal.at {
            Some(RinseLimit::Points(points)) => Some(points),
            Some(RinseLimit::OfBath(share)) if wet.bath > Strength::ZERO => {
                Some(wet.bath * share.in_fraction())
            }
            _ => None,
        };
        let strong = limit.is_some_and(|limit| leaves >= limit);
        let many = plan.renewal.after.is_some_and(|loads| run.loads >= loads);
        run.due |= strong || many;
        let first = run.tubs.first();
        let mut met = Mishaps::default();
        if spent {
            met.add(Mishap::SpentRinse);
        }
        if plan.is_hot() && wet.bath > Strength::ZERO {
            met.add(Mishap::HotRinse);
        }
        day.note(|| LogEntry::Rinsed {
            load: no,
            station,
            brought: wet.volume,
            strength: wet.strength,
            first,
            last: leaves,
        });
        Some(met)
    }

    /// A load leaves a station: if that is a rinse, with the water of its last tub, which is so strong.
    pub(crate) fn out_of_rinse(&mut self, day: &Day<'_>, station: StationId) -> Option<Strength> {
        let (run, _) = self.rinse(day, station)?;
        run.inside = run.inside.saturating_sub(1);
        Some(run.tubs.last())
    }

    /// Whether the water of a rinse is being renewed, so that nothing can go in.
    pub(crate) fn is_renewed(&self, station: StationId) -> bool {
        let run = self.rinses.find(station).and_then(Option::as_ref);
        run.is_some_and(|r| r.renewing)
    }

    /// Rinses that hands should renew now, with the time that it takes: due, and nothing in them.
    pub(crate) fn spent_rinses(&self) -> Vec<(StationId, Span)> {
        let wants = |(station, run): (StationId, &Option<RinseRun>)| {
            let run = run.as_ref()?;
            let plan = self.shop.stations[station.index()].rinse?;
            let now = run.due && run.inside == 0 && !run.renewing;
            now.then_some((station, plan.renewal.takes))
        };
        self.rinses.ids().zip(&self.rinses).filter_map(wants).collect()
    }

    /// Hands begin to renew a rinse; says how long that takes.
    pub(crate) fn renew_rinse(&mut self, day: &Day<'_>, station: StationId) -> Option<Span> {
        let (run, plan) = self.rinse(day, station)?;
        run.renewing = true;
        Some(plan.renewal.takes)
    }

    /// The water of a rinse has been renewed.
    pub(crate) fn rinse_renewed(&mut self, day: &mut Day<'_>, station: StationId) {
        let Some((run, _)) = self.rinse(day, station) else {
            return;
        };
        run.tubs.renew();
        run.loads = 0;
        run.due = false;
        run.renewing = false;
        let volume = run.tubs.water();
        day.note(|| LogEntry::Renewed { station, volume });
    }

    /// At an opening, water that was used and is renewed by the clock falls due.
    pub(crate) fn rinses_at_opening(&mut self, day: &Day<'_>) {
        for station in self.rinses.ids() {
            if let Some((run, plan)) = self.rinse(day, station) {
                run.due |= plan.renewal.at_opening && run.loads > 0;
            }
        }
    }
}

//! Loads meet, and go in at a station.

use super::found::FaultKind;
use super::life::Follow;
use super::stage::{Stage, Visit};
use tankday_base::shop::{Combine, StationId, StepRef};
use tankday_base::units::{Moment, Span};
use tankday_record::LoadNo;

impl Follow<'_, '_, '_> {
    pub(super) fn joins(&mut self, at: Moment, no: LoadNo, into: LoadNo) {
        let Some(load) = self.load_in(at, no, Stage::Waiting, "joins another load") else {
            return;
        };
        load.stage = Stage::Joined;
        let (lots, waits) = (load.lots.clone(), load.waits.clone());
        let Some(holder) = self.load_in(at, into, Stage::Waiting, "takes another load in") else {
            return;
        };
        let together = holder.waits.iter().any(|s| waits.contains(s));
        holder.company.push((at, no));
        if !together || !self.may_join(no, into) {
            self.found.of_load(
                at,
                FaultKind::Room,
                no,
                "joins a load with which it may not share a tank",
            );
        }
        if let Some(holder) = self.story.loads.get_mut(into.0 as usize) {
            holder.lots.extend(lots);
        }
    }

    fn may_join(&self, a: LoadNo, b: LoadNo) -> bool {
        let order = |no| self.story.load(no).and_then(|l| self.order_of(l));
        let (Some(a), Some(b)) = (order(a), order(b)) else {
            return false;
        };
        match self.shop.rules.combine {
            Combine::Never => false,
            Combine::SamePart => a.route == b.route && a.part == b.part,
            Combine::SameRoute => a.route == b.route,
        }
    }

    pub(super) fn set_in(&mut self, at: Moment, no: LoadNo, step: StepRef, station: StationId) {
        let Some(load) = self.load_in(at, no, Stage::Waiting, "is set in") else {
            return;
        };
        load.stage = Stage::PuttingIn;
        load.since = at;
        let waits = std::mem::take(&mut load.waits);
        let company = std::mem::take(&mut load.company);
        let late = company.iter().any(|c| c.0 != at);
        let (lots, begun_before) = (load.lots.clone(), load.last.is_some());
        let members = std::iter::once(no).chain(company.iter().map(|c| c.1));
        let members: Vec<LoadNo> = members.collect();
        for member in &members {
            self.goes_in(at, *member, station);
        }
        let waited_from = members.into_iter().map(|l| (l, self.end_before(l))).collect();
        self.check_set_in(at, no, step, station, &waits);
        let tank = self
            .shop
            .stations
            .get(station.index())
            .is_some_and(|s| s.tank.is_some());
        if late || (!tank && !company.is_empty()) {
            self.found.of_load(
                at,
                FaultKind::Life,
                no,
                "took others in but does not go into a tank with them at once",
            );
        }
        let index = self.story.visits.len();
        self.story.visits.push(Visit {
            load: no,
            lots,
            step,
            station,
            set_in: at,
            begins: None,
            planned: Span::ZERO,
            most: None,
            pauses: Vec::new(),
            ends: None,
            lift: None,
            free: None,
            done: None,
            waited_from,
            begun_before,
        });
        self.story.moves.push((at, index, true));
        if let Some(load) = self.story.loads.get_mut(no.0 as usize) {
            load.visit = Some(index);
        }
    }

    fn check_set_in(&mut self, at: Moment, no: LoadNo, step: StepRef, station: StationId, waits: &[StepRef]) {
        let (name, place) = (self.found.step(step), self.found.station(station));
        let Some(written) = self.step(step) else { return };
        let (can, at_once) = (written.stations.contains(&station), written.at_once);
        if !can {
            self.found.of_load(
                at,
                FaultKind::Way,
                no,
                &format!("is set in for {name} at {place}, which cannot do it"),
            );
        }
        if !waits.contains(&step) {
            self.found.of_load(
                at,
                FaultKind::Life,
                no,
                &format!("is set in for {name}, for which it did not wait"),
            );
        }
        if !self.is_open(no, step) {
            self.found.of_load(
                at,
                FaultKind::Way,
                no,
                &format!("is set in for {name}, which is not its next step"),
            );
        }
        let open = self.story.load(no).map_or(0, |l| self.story.open(l).len());
        if !at_once && waits.len() < open {
            self.found.of_load(
                at,
                FaultKind::Life,
                no,
                "did not wait for all of the steps that were open to it",
            );
        }
    }

    /// The end of the step that the load passed before, if there was one.
    fn end_before(&self, no: LoadNo) -> Option<Moment> {
        Some(self.story.load(no)?.last?.0)
    }
}

//! Lids: on each day the sheet says when a hot bath is covered for a while, and when for good.

use super::act::{Act, Doing};
use super::rows::Maker;
use super::{Row, RowKind};
use std::collections::BTreeMap;
use tankday_base::bath::HOT;
use tankday_base::print::capital;
use tankday_base::shop::StationId;
use tankday_base::units::{Moment, Span};
use tankday_record::{BathSample, HeaterState, LogEntry};

/// A lid that is off again sooner is not worth a word. A choice.
const A_WHILE: Span = Span::whole_minutes(15);

/// What is known of one tank while its samples are read.
#[derive(Default)]
struct Seen {
    lid: bool,
    on: bool,
    /// When its lid went on over a hot bath, and whether its heater went off just then; none while it is open.
    covered: Option<(Moment, bool)>,
}

impl Maker<'_> {
    /// A row for each day and tank on which a lid goes on over a hot bath and stays on, where no row of its heater says so.
    pub(super) fn lids(&self) -> Vec<Row> {
        let left = |at: Moment, id: StationId| {
            let left = |e: &LogEntry| matches!(*e, LogEntry::Left { tank, .. } if tank == id);
            self.record.entries.iter().any(|e| e.at == at && left(&e.event))
        };
        // What is said of a bath that is left to cool for its care says nothing of its lid.
        let cools = |at: Moment, id: StationId| {
            let stops = self.cares.iter().filter(|c| c.kind.is_stop() && !c.outside);
            stops.into_iter().any(|c| (c.tank, c.from) == (id, at))
        };
        let mut rows = Vec::new();
        for (id, _, _) in self.shop.tanks().filter(|(id, ..)| self.has_lid(*id)) {
            for (at, said) in self.covered(id) {
                if (!said || cools(at, id)) && !left(at, id) {
                    rows.push(self.lid(at, id));
                }
            }
        }
        rows
    }

    /// Whether the lid goes on over a hot bath as a load comes out, between these moments, and stays on for a while, where no
    /// row of its own says so.
    pub(super) fn is_covered_behind(&self, id: StationId, (from, to): (Moment, Moment)) -> bool {
        let mut samples = self.samples(id).skip_while(|(at, _)| *at < from);
        let goes_on = |(at, s): &(Moment, &BathSample)| *at <= to && s.lid && s.temperature > HOT;
        let Some((at, _)) = samples.find(goes_on).filter(|(at, _)| *at <= to) else {
            return false;
        };
        let off = samples.find(|(_, s)| !s.lid).map_or(Moment::NEVER, |(at, _)| at);
        off - at >= A_WHILE && !self.covered(id).iter().any(|(own, _)| *own == at)
    }

    /// Whether a hot bath stands open from a moment on.
    pub(super) fn is_open_at(&self, id: StationId, when: Moment) -> bool {
        let read = self.samples(id).take_while(|(at, _)| *at <= when);
        self.has_lid(id) && read.last().is_some_and(|(_, s)| !s.lid && s.temperature > HOT)
    }

    fn samples(&self, id: StationId) -> impl Iterator<Item = (Moment, &BathSample)> {
        self.record.entries.iter().filter_map(move |e| match &e.event {
            LogEntry::Bath { tank, sample } if *tank == id => Some((e.at, &**sample)),
            _ => None,
        })
    }

    /// The last time on each day that a lid goes on over a hot bath and stays on, and whether its heater goes off then.
    fn covered(&self, id: StationId) -> Vec<(Moment, bool)> {
        let mut days: BTreeMap<i64, Option<(Moment, bool)>> = BTreeMap::new();
        let mut seen = Seen::default();
        for (at, sample) in self.samples(id) {
            let on = sample.heater != HeaterState::Off;
            if sample.lid && !seen.lid && sample.temperature > HOT {
                seen.covered = Some((at, false));
            }
            if let Some((since, off)) = &mut seen.covered {
                *off |= *since == at && seen.on && !on;
            }
            seen.covered = seen.covered.filter(|_| sample.lid);
            (seen.lid, seen.on) = (sample.lid, on);
            let day = at.day_and_time().0;
            let own = seen.covered.filter(|(at, _)| at.day_and_time().0 == day);
            let last = days.entry(day).or_default();
            // What stays on since the day before was said then.
            *last = if sample.lid { own.or(*last) } else { None };
        }
        days.into_values().flatten().collect()
    }

    fn lid(&self, at: Moment, id: StationId) -> Row {
        let name = self.station(id);
        let words = format!("{}: lid on for the rest of the day", capital(&name));
        Row {
            at_bath: true,
            ..Row::plain(at, RowKind::SheetTask, words, Doing::at(Act::Care, &name))
        }
    }
}

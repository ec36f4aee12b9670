//! Where the shop says that somebody stays in sight of the tanks: the sheet says so whenever that is needed.

use super::act::{Act, Doing};
use super::rows::Maker;
use super::{Row, RowKind};
use tankday_base::bath::HOT;
use tankday_base::print::list;
use tankday_base::shop::StationId;
use tankday_base::units::{Moment, Span};
use tankday_record::{BathSample, HeaterState, LogEntry};

impl Maker<'_> {
    /// Tanks by which somebody must stay from a moment to another: heated, with a load in, or hot and open.
    fn needing(&self, at: Moment, until: Moment) -> Vec<StationId> {
        let needs = |id: &StationId| {
            let inside = self.figures.loads.iter();
            let mut inside = inside.filter(|l| l.tank == *id && l.set_in < until);
            let loaded = inside.any(|l| l.out.is_none_or(|out| out > at));
            let turns = |e: &tankday_record::Entry| match &e.event {
                LogEntry::Bath { tank, sample } => *tank == *id && is_open_or_heated(sample),
                _ => false,
            };
            let mut within = self.record.entries.iter().filter(|e| at < e.at && e.at < until);
            loaded || self.sample(*id, at).is_some_and(is_open_or_heated) || within.any(turns)
        };
        self.shop.tanks().map(|(id, ..)| id).filter(needs).collect()
    }

    fn sample(&self, id: StationId, until: Moment) -> Option<&BathSample> {
        let seen = self.record.entries.iter().rev().filter(|e| e.at <= until);
        seen.filter_map(|e| match &e.event {
            LogEntry::Bath { tank, sample } if *tank == id => Some(&**sample),
            _ => None,
        })
        .next()
    }

    /// `somebody stays by the pot`, in a break for which the shop says so; none where nobody need stay.
    pub(super) fn stays_in_break(&self, from: Moment) -> Option<String> {
        let mut breaks = self.shop.calendar.days.iter().flat_map(|d| &d.breaks);
        let stays = breaks.find(|b| b.from == from && b.stays);
        let tanks = stays.map_or(Vec::new(), |b| self.needing(from, b.until));
        let names: Vec<String> = tanks.iter().map(|t| self.station(*t)).collect();
        (!names.is_empty()).then(|| format!("somebody stays by the {}", list(&names)))
    }

    /// `L1 is in the pot: somebody must stay`, in a break that nobody stays for and that begins with a load in a bath.
    pub(super) fn must_stay_in_break(&self, from: Moment) -> Vec<String> {
        let mut breaks = self.shop.calendar.days.iter().flat_map(|d| &d.breaks);
        if breaks.any(|b| b.from == from && b.stays) {
            return Vec::new();
        }
        let inside = self.figures.loads.iter();
        let inside = inside.filter(|l| l.set_in < from && l.out.is_none_or(|out| out > from));
        inside
            .map(|l| {
                let load = self.labels.at(l.load, from);
                format!("{load} is in the {}: somebody must stay", self.station(l.tank))
            })
            .collect()
    }

    /// After closing, where the shop says that somebody stays.
    pub(super) fn stays_after_closing(&self) -> Vec<Row> {
        let days = &self.shop.calendar.days;
        let opens = days.iter().skip(1).map(|d| d.open).chain([Moment::NEVER]);
        let row = |(at, opens): (Moment, Moment)| {
            let names: Vec<String> = self
                .needing(at, at + Span::micros(1))
                .iter()
                .map(|t| self.station(*t))
                .collect();
            if names.is_empty() {
                return None;
            }
            let until = if opens == Moment::NEVER {
                "for as long as it is hot".to_owned()
            } else {
                format!("until {}", self.clock(opens, at))
            };
            let words = format!("Closed; somebody stays by the {} {until}", list(&names));
            Some(Row {
                doings: names.iter().map(|name| Doing::at(Act::Note, name)).collect(),
                calls: true,
                ..Row::plain(at, RowKind::Note, words, Doing::at(Act::Note, ""))
            })
        };
        let nights = days
            .iter()
            .zip(opens)
            .filter(|(d, _)| d.stays && d.close < Moment::NEVER);
        nights.filter_map(|(d, opens)| row((d.close, opens))).collect()
    }
}

fn is_open_or_heated(sample: &BathSample) -> bool {
    sample.heater != HeaterState::Off || (sample.temperature > HOT && !sample.lid)
}

//! Rinses: how strong their water grew, how often it was renewed, what water went through.

use crate::analysis::Analysis;
use crate::event::{LoadNo, LogEntry};
use std::collections::BTreeSet;
use tankday_base::shop::{Rinse, RinseLimit, Shop, StationId};
use tankday_base::units::{Moment, Quantity, Span, Strength, Volume};

/// A rinse as it went.
#[derive(Debug, Clone, PartialEq)]
pub struct RinseFigure {
    /// The station.
    pub station: StationId,
    /// Loads rinsed.
    pub loads: u32,
    /// Total acid of its last tub after the last load, none if it was renewed since.
    pub strength: Strength,
    /// The strongest that its last tub ever was.
    pub strongest: Strength,
    /// Times that its water was renewed.
    pub renewals: u32,
    /// Clean water that went in: by renewal and running. What it held at the start does not count.
    pub water: Volume,
    /// Loads rinsed in water that was already spent, with the moment.
    pub spent: Vec<(Moment, LoadNo)>,
}

pub(super) fn of(read: &Analysis<'_>) -> Vec<RinseFigure> {
    let followed = read.watched.rinses.iter().cloned();
    followed.map(|rinse| rinse.figure(read.end)).collect()
}

/// Every rinse, to be followed.
pub(super) fn all(shop: &Shop) -> Vec<Following> {
    let stations = (0..).map(StationId).zip(&shop.stations);
    let rinses = stations.filter_map(|(id, s)| Some(Following::of(id, s.rinse?)));
    rinses.collect()
}

/// What is followed along the record.
#[derive(Debug, Clone)]
pub(super) struct Following {
    figure: RinseFigure,
    rinse: Rinse,
    inside: BTreeSet<LoadNo>,
    since: Moment,
    running: Span,
    spent: bool,
    /// Strength of the bath that the last load came from.
    bath: Strength,
}

impl Following {
    fn of(station: StationId, rinse: Rinse) -> Self {
        Self {
            figure: RinseFigure {
                station,
                loads: 0,
                strength: Strength::ZERO,
                strongest: Strength::ZERO,
                renewals: 0,
                water: Volume::ZERO,
                spent: Vec::new(),
            },
            rinse,
            inside: BTreeSet::new(),
            since: Moment::ZERO,
            running: Span::ZERO,
            spent: false,
            bath: Strength::ZERO,
        }
    }

    fn figure(mut self, end: Moment) -> RinseFigure {
        self.turn(end);
        let ran = Volume::from_base(self.rinse.flow.base() * self.running.in_seconds());
        self.figure.water += ran;
        self.figure
    }

    fn turn(&mut self, at: Moment) {
        if !self.inside.is_empty() {
            self.running += at - self.since;
        }
        self.since = at;
    }

    pub(super) fn note(&mut self, at: Moment, event: &LogEntry) {
        match *event {
            LogEntry::Rinsed {
                load,
                station,
                strength,
                last,
                ..
            } if station == self.figure.station => {
                self.turn(at);
                self.inside.insert(load);
                self.bath = self.bath.max(strength);
                let figure = &mut self.figure;
                figure.loads += 1;
                figure.strength = last;
                figure.strongest = figure.strongest.max(last);
                if self.spent {
                    figure.spent.push((at, load));
                }
                let limit = match self.rinse.renewal.at {
                    Some(RinseLimit::Points(points)) => Some(points),
                    Some(RinseLimit::OfBath(share)) => Some(self.bath * share.in_fraction()),
                    None => None,
                };
                self.spent |= limit.is_some_and(|limit| last >= limit && last > Strength::ZERO);
            }
            LogEntry::LiftBegins { load, station, .. } if station == self.figure.station => {
                self.turn(at);
                self.inside.remove(&load);
            }
            LogEntry::Renewed { station, volume } if station == self.figure.station => {
                self.figure.renewals += 1;
                self.figure.water += volume;
                self.figure.strength = Strength::ZERO;
                self.spent = false;
            }
            _ => {}
        }
    }
}

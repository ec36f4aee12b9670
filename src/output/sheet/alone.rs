//! Where nobody is by what is hot: at closing a tank whose heater stays on, in a break an oven or a tank with its wool in.

use super::act::{Act, Doing};
use super::rows::Maker;
use super::{Row, RowKind};
use tankday_base::print::capital;
use tankday_base::shop::{STAYS, StationId};
use tankday_base::units::Moment;
use tankday_record::{LogEntry, WarningKind};

impl Maker<'_> {
    /// Whether somebody is there at a moment, or stays in sight.
    pub(super) fn somebody_is_there(&self, at: Moment) -> bool {
        let days = &self.shop.calendar.days;
        let in_break = |d: &tankday_base::shop::Day| d.breaks.iter().any(|b| b.holds(at) && !b.stays);
        let open = days.iter().any(|d| d.open <= at && at < d.close && !in_break(d));
        let closed = days.iter().rfind(|d| d.close <= at);
        let opened = days.iter().any(|d| d.open <= at && at < d.close);
        open || (!opened && closed.is_some_and(|d| d.stays))
    }

    /// Tanks that are left hot and alone from a moment on, each with the moment until when.
    fn left_alone(&self, from: Moment) -> impl Iterator<Item = (StationId, Moment)> {
        let here = self.record.entries.iter().filter(move |e| e.at == from);
        here.filter_map(|e| match e.event {
            LogEntry::LeftAlone { tank, until } => Some((tank, until)),
            _ => None,
        })
    }

    /// A row for each tank that stays hot when the shop closes and nobody stays.
    pub(super) fn alone_after_closing(&self) -> Vec<Row> {
        let closings = self.shop.calendar.days.iter().map(|d| d.close);
        let rows = closings.flat_map(|at| self.left_alone(at).map(move |(tank, until)| (at, tank, until)));
        rows.filter(|(at, tank, _)| !self.works_after(*at) || self.is_warned_of(*at, *tank))
            .map(|(at, tank, until)| self.stays_hot(at, tank, until))
            .collect()
    }

    /// Whether hands are still at work after closing: a heater may be off before they go.
    fn works_after(&self, close: Moment) -> bool {
        let mut later = self
            .record
            .entries
            .iter()
            .filter(|e| close < e.at && e.at <= close + STAYS);
        later.any(|e| matches!(e.event, LogEntry::HandsFree { .. }))
    }

    /// Whether a tank is warned of as left alone from a closing on, or from when the last hands are gone.
    fn is_warned_of(&self, close: Moment, tank: StationId) -> bool {
        let warned = self.figures.warnings.iter();
        let mut alone = warned
            .filter(|w| w.kind == WarningKind::HotTankAlone)
            .flat_map(|w| &w.at);
        alone.any(|c| c.station == Some(tank) && close <= c.at && c.at <= close + STAYS)
    }

    fn stays_hot(&self, at: Moment, tank: StationId, until: Moment) -> Row {
        let name = self.station(tank);
        let until = match until {
            Moment::NEVER => "and nobody comes".to_owned(),
            until => format!("nobody there until {}", self.clock(until, at)),
        };
        let words = format!(
            "{} stays hot, {until}: somebody must stay in sight of it",
            capital(&name)
        );
        Row {
            calls: true,
            ..Row::plain(at, RowKind::Note, words, Doing::at(Act::Note, &name))
        }
    }

    /// `pot stays hot with its wool in, nobody there` and `oven on with L2 in it, nobody there`, in a break.
    pub(super) fn alone_in_break(&self, from: Moment) -> Vec<String> {
        let tanks = self.left_alone(from).map(|(tank, _)| tank);
        let mut said: Vec<String> = tanks
            .map(|tank| format!("{} stays hot, nobody there", self.station(tank)))
            .collect();
        let ovens = self.figures.ovens_alone.iter().filter(|c| c.at == from);
        said.extend(ovens.filter_map(|c| {
            let label = self.labels.at(c.load?, from);
            Some(format!(
                "{} on with {label} in it, nobody there",
                self.station(c.station?)
            ))
        }));
        said
    }
}

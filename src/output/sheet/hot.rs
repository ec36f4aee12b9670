//! When a bath is hot enough after its heater went on: for the next load that goes in, or for steel wool.

use super::notes::Turn;
use super::rows::Maker;
use tankday_base::shop::{Chore, StationId};
use tankday_base::units::{Moment, TempDiff, Temperature};
use tankday_record::{Entry, LogEntry, Task, TaskKind};

/// What is missed of a temperature by less is met: a bath is looked at just as it gets there.
const NEARLY: TempDiff = TempDiff::kelvin(1e-3);

/// When a bath is hot enough after its heater went on.
enum Hot {
    Already,
    At(Moment),
    /// Only as warm as steel wool wants it, since nothing else goes in before the heater goes off; at once where no time is.
    ForWool(Option<Moment>),
    /// Not before the heater goes off again, or the record ends.
    Never(Option<Moment>),
}

impl Maker<'_> {
    /// `; hot enough about 08:04`: of this heating-up, tank by tank where there are several.
    pub(super) fn when_hot(&self, these: &[Turn], turns: &[Turn]) -> String {
        let several = these.len() > 1;
        let one = |turn: &Turn| {
            let words = self.hot_words(turn, turns);
            match several {
                true => format!("{} {words}", self.station(turn.tank)),
                false => words,
            }
        };
        let said: Vec<String> = these.iter().map(one).collect();
        format!("; {}", said.join(", "))
    }

    fn hot_words(&self, turn: &Turn, turns: &[Turn]) -> String {
        let clock = |at| self.clock(at, turn.at);
        match self.hot(turn, turns) {
            Hot::Already => "hot enough already".to_owned(),
            Hot::At(hot) => format!("hot enough about {}", clock(hot)),
            Hot::ForWool(None) => "warm enough for the wool already".to_owned(),
            Hot::ForWool(Some(warm)) => format!("warm enough for the wool about {}", clock(warm)),
            Hot::Never(Some(off)) => format!("not hot enough before it goes off at {}", clock(off)),
            Hot::Never(None) => "does not get hot enough".to_owned(),
        }
    }

    fn hot(&self, turn: &Turn, turns: &[Turn]) -> Hot {
        let off = turns
            .iter()
            .find(|t| t.tank == turn.tank && !t.on && t.at > turn.at)
            .map(|t| t.at);
        if let Some(since) = self
            .next_load(turn, off)
            .and_then(|at| self.usable_since(turn, at))
        {
            return if since <= turn.at {
                Hot::Already
            } else {
                Hot::At(since)
            };
        }
        if turn.in_band {
            return Hot::Already;
        }
        let reached = |e: &&Entry| {
            let own = e.event == LogEntry::InBand { tank: turn.tank };
            own && e.at >= turn.at && off.is_none_or(|off| e.at <= off)
        };
        match (
            self.record.entries.iter().find(reached),
            self.warm_for_wool(turn, off),
        ) {
            (Some(entry), _) => Hot::At(entry.at),
            (None, Some(warm)) => Hot::ForWool((warm > turn.at).then_some(warm)),
            (None, None) => Hot::Never(off),
        }
    }

    /// When the next load goes in, before a heater goes off again.
    fn next_load(&self, turn: &Turn, off: Option<Moment>) -> Option<Moment> {
        let own = self.figures.loads.iter().filter(|l| l.tank == turn.tank);
        let later = own.map(|l| l.set_in).filter(|at| *at >= turn.at);
        later.min().filter(|at| off.is_none_or(|off| *at < off))
    }

    /// From when on a bath is hot enough without a gap up to a moment, from when its heater goes on at the earliest: cold water
    /// and cold concentrate take it below its band once more. None where it is not so at that moment.
    fn usable_since(&self, turn: &Turn, until: Moment) -> Option<Moment> {
        let least = self.least(turn.tank)? - NEARLY;
        let mut since = None;
        for (at, temperature) in self.read_between(turn.tank, turn.at, until) {
            since = match temperature >= least {
                true => since.or(Some(at)),
                false => None,
            };
        }
        since
    }

    /// When a bath is as warm as its steel wool wants it, where that goes in before the heater goes off.
    fn warm_for_wool(&self, turn: &Turn, off: Option<Moment>) -> Option<Moment> {
        let wool = |e: &&Entry| {
            let own = |t: &Task| t.station == turn.tank && t.kind == TaskKind::PutWoolIn;
            let put_in = matches!(&e.event, LogEntry::HandsTake { task, .. } if own(task));
            put_in && turn.at <= e.at && off.is_none_or(|off| e.at < off)
        };
        let put_in = self.record.entries.iter().find(wool)?.at;
        let mut rules = self.shop.rules.care.iter();
        let wants = rules.find_map(|rule| match rule.chore {
            Chore::Condition { at, .. } => Some(at - NEARLY),
            _ => None,
        })?;
        let mut read = self.read_between(turn.tank, turn.at, put_in);
        Some(read.find(|(_, t)| *t >= wants).map_or(put_in, |(at, _)| at))
    }

    /// How hot a bath is from a moment to another, as far as it was looked at.
    fn read_between(
        &self,
        id: StationId,
        from: Moment,
        until: Moment,
    ) -> impl Iterator<Item = (Moment, Temperature)> {
        let within = self
            .record
            .entries
            .iter()
            .filter(move |e| from <= e.at && e.at <= until);
        within.filter_map(move |e| match &e.event {
            LogEntry::Bath { tank, sample } if *tank == id => Some((e.at, sample.temperature)),
            _ => None,
        })
    }
}

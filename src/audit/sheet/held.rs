//! Holds every row of the sheet against the acts of the record: which acts it tells, and whether each of its cells says
//! what they were.

use super::acts::Done;
use super::names::Names;
use super::table::{Act, BETWEEN, Row, places};
use tankday_base::shop::Shop;
use tankday_base::units::{Moment, Span};

/// What is held against what.
pub(super) struct Held<'a> {
    pub(super) shop: &'a Shop,
    pub(super) names: &'a Names,
    pub(super) acts: &'a [Done],
    /// Whether each act was told by a row.
    pub(super) told: Vec<bool>,
}

/// The minute that a sheet says for a moment.
pub(super) fn minute(at: Moment) -> Moment {
    const MINUTE: i64 = 60_000_000;
    Moment::micros(at.in_micros().div_euclid(MINUTE) * MINUTE)
}

impl<'a> Held<'a> {
    /// The acts that a row tells, marked as told; none if the record knows no such acts at that minute.
    pub(super) fn tells(&mut self, row: &Row) -> Option<Vec<&'a Done>> {
        let mut best: Option<(usize, Vec<usize>)> = None;
        let first = self.acts.partition_point(|d| minute(d.at) < row.at);
        for at in first..self.acts.len() {
            let Some(done) = self.acts.get(at).filter(|d| minute(d.at) == row.at) else {
                break;
            };
            if self.is_told(at) || Some(&done.act) != row.acts.first() || done.is_late() != says_late(row) {
                continue;
            }
            if let Some(chain) = self.chain(at, row) {
                let wrong = self.wrong_cells(row, &self.all(&chain)).len();
                if best.as_ref().is_none_or(|b| wrong < b.0) {
                    best = Some((wrong, chain));
                }
            }
        }
        let chain = best?.1;
        for at in &chain {
            if let Some(told) = self.told.get_mut(*at) {
                *told = true;
            }
        }
        Some(self.all(&chain))
    }

    fn is_told(&self, at: usize) -> bool {
        self.told.get(at).copied().unwrap_or(true)
    }

    fn all(&self, chain: &[usize]) -> Vec<&'a Done> {
        chain.iter().filter_map(|i| self.acts.get(*i)).collect()
    }

    /// With an act, those that a row's other acts can be: of the same hands, each where the one before ends; where no hands
    /// are needed, at the same moment.
    fn chain(&self, first: usize, row: &Row) -> Option<Vec<usize>> {
        let mut chain = vec![first];
        let places = places(self.shop, row.cell("station"));
        for (nth, want) in row.acts.iter().enumerate().skip(1) {
            let last = self.acts.get(*chain.last()?)?;
            let fits = |i: &usize| {
                let fits = |d: &Done| {
                    d.act == *want && d.hand == last.hand && d.is_late() == last.is_late() && d.at == last.to
                };
                !chain.contains(i) && !self.is_told(*i) && self.acts.get(*i).is_some_and(fits)
            };
            let then = self.acts.partition_point(|d| d.at < last.to);
            let all: Vec<usize> = (then..self.acts.len())
                .take_while(|i| self.acts.get(*i).is_some_and(|d| d.at == last.to))
                .filter(fits)
                .collect();
            // Several of one moment may stand in any order: the place that the row names tells which is meant.
            let here = |i: &&usize| {
                let place = self.acts.get(**i).map(|d| self.station(d));
                places.get(nth).is_some_and(|p| place.as_deref() == Some(*p))
            };
            chain.push(*all.iter().find(here).or(all.first())?);
        }
        Some(chain)
    }

    /// Cells that say something else than the acts, with what they should say.
    pub(super) fn wrong_cells(&self, row: &Row, acts: &[&Done]) -> Vec<(&'static str, String)> {
        self.cells(acts)
            .into_iter()
            .filter(|(name, should)| row.cell(name) != should)
            .collect()
    }

    fn cells(&self, acts: &[&Done]) -> Vec<(&'static str, String)> {
        let amounts = || acts.iter().flat_map(|d| &d.amounts);
        let joined = |all: Vec<&str>| all.join(BETWEEN);
        let by_hand = acts.iter().any(|d| d.hand.is_some());
        let hands: Span = acts.iter().map(|d| d.hands).sum();
        let steps: Vec<String> = acts.iter().filter_map(|d| d.step).map(minutes).collect();
        let pieces = |d: &&Done| {
            if d.pieces > 0 {
                d.pieces.to_string()
            } else {
                String::new()
            }
        };
        let names: Vec<String> = acts.iter().map(|d| self.name(d)).collect();
        let pieces: Vec<String> = acts.iter().map(pieces).collect();
        // Equal numbers of one load stand once, of several as often as they count.
        let one = names.iter().all(|n| Some(n) == names.first());
        vec![
            ("load", column(names)),
            ("pieces", if one { column(pieces) } else { pieces.join(BETWEEN) }),
            ("station", column(acts.iter().map(|d| self.station(d)).collect())),
            ("hands_min", if by_hand { minutes(hands) } else { String::new() }),
            ("step_min", steps.join(BETWEEN)),
            ("latest", self.latest(acts)),
            ("amount", joined(amounts().map(|a| a.0.as_str()).collect())),
            ("unit", joined(amounts().map(|a| a.1).collect())),
        ]
    }

    fn name(&self, done: &Done) -> String {
        match done.load {
            Some((load, _)) => self.names.load(load, done.at).to_owned(),
            None => done.name.clone(),
        }
    }

    fn station(&self, done: &Done) -> String {
        let station = done.station.and_then(|s| self.shop.stations.get(s.index()));
        station.map_or(String::new(), |s| s.name.clone())
    }

    /// A clock time, with its date where that is another than the row's.
    fn latest(&self, acts: &[&Done]) -> String {
        let (Some(latest), Some(first)) = (acts.iter().filter_map(|d| d.latest).min(), acts.first()) else {
            return String::new();
        };
        if latest.day_and_time().0 == first.at.day_and_time().0 {
            return latest.clock();
        }
        format!("{} {}", self.shop.calendar.date(latest), latest.clock())
    }

    /// What no row tells.
    pub(super) fn left(&self) -> impl Iterator<Item = &'a Done> {
        let acts = self.acts.iter().zip(&self.told);
        acts.filter(|(done, told)| !**told && !done.optional)
            .map(|(done, _)| done)
    }

    /// An act in words, for a fault.
    pub(super) fn words(&self, done: &Done) -> String {
        let (act, name, station) = (done.act.word(), self.name(done), self.station(done));
        let name = if name.is_empty() { name } else { format!(" {name}") };
        let station = if station.is_empty() {
            station
        } else {
            format!(" at the {station}")
        };
        format!("{act}{name}{station}")
    }
}

fn says_late(row: &Row) -> bool {
    row.cell("what") == "ready late"
}

/// One value where it is the same for all, else one for each.
fn column(all: Vec<String>) -> String {
    match all.first() {
        Some(first) if all.iter().all(|v| v == first) => first.clone(),
        _ => all.join(BETWEEN),
    }
}

fn minutes(span: Span) -> String {
    format!("{:.1}", span.in_minutes())
}

/// What stands first among rows of one moment: breaks, what must not wait, what needs no hands, other tasks, notes, and
/// what is ready.
pub(super) fn rank(row: &Row, acts: &[&Done]) -> u8 {
    let by_hand = acts.iter().any(|d| d.hand.is_some());
    match (row.cell("what"), row.acts.first()) {
        ("break", _) => 0,
        ("must not wait", _) => 1,
        ("note", _) | (_, Some(Act::Note)) => 4,
        (_, Some(Act::Ready)) => 5,
        _ if by_hand => 3,
        _ => 2,
    }
}

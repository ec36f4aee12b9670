//! Stations: in hand, working by itself, held up.

use super::Read;
use std::collections::BTreeMap;
use tankday_base::shop::{Frees, Hands, StationId};
use tankday_base::units::Moment;
use tankday_record::Visit;

/// What a station is doing. Of several loads in it, the one that is most in hand is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum StationState {
    /// Somebody works at it.
    InHand,
    /// It works by itself.
    ByItself,
    /// The work is done or lies still, and the load is still there.
    HeldUp,
}

/// A stretch of one state with one load.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StationBar {
    /// Its beginning.
    pub from: Moment,
    /// Its end.
    pub to: Moment,
    /// State.
    pub state: StationState,
}

/// One station.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StationLane {
    /// Its name.
    pub name: String,
    /// Bars in order, not overlapping.
    pub bars: Vec<StationBar>,
}

pub(super) fn of(read: &Read<'_>) -> Vec<StationLane> {
    let end = read.all.end;
    let mut found: BTreeMap<StationId, Vec<StationBar>> = BTreeMap::new();
    for visit in read.all.ways.values().flat_map(|way| &way.visits) {
        let bars = found.entry(visit.station).or_default();
        bars.extend(bars_of(read, visit, end).into_iter().filter(|b| b.from < b.to));
    }
    let lane = |(id, bars): (StationId, Vec<StationBar>)| {
        let station = read.shop.stations.get(id.index())?;
        (station.tank.is_none() && !bars.is_empty()).then(|| StationLane {
            name: station.name.clone(),
            bars: flattened(bars),
        })
    };
    found.into_iter().filter_map(lane).collect()
}

fn bars_of(read: &Read<'_>, visit: &Visit, end: Moment) -> Vec<StationBar> {
    let hands = read.shop.find_step(visit.step).map_or(Hands::None, |s| s.hands);
    let frees = read.shop.stations.get(visit.station.index()).map(|s| s.frees);
    let bar = |from, to, state| StationBar { from, to, state };
    let begins = visit.begins.unwrap_or(end);
    let ends = visit.ends.unwrap_or(end);
    let done = visit.done.unwrap_or(end);
    let working = if hands == Hands::Throughout {
        StationState::InHand
    } else {
        StationState::ByItself
    };
    let mut bars = vec![bar(visit.set_in, begins, StationState::InHand)];
    let mut since = begins;
    for (from, to) in &visit.pauses {
        let to = (*to).min(end);
        bars.push(bar(since, *from, working));
        bars.push(bar(*from, to, StationState::HeldUp));
        since = to;
    }
    bars.push(bar(since, ends, working));
    if frees == Some(Frees::WhenEmptied) {
        let lift = visit.lift.unwrap_or(done);
        bars.push(bar(ends, lift, StationState::HeldUp));
        bars.push(bar(lift, done, StationState::InHand));
    }
    bars
}

/// Bars of several loads as one row: where they overlap, the one most in hand is shown, of two alike the earlier.
fn flattened(mut bars: Vec<StationBar>) -> Vec<StationBar> {
    bars.sort_by_key(|b| (b.from, b.to, b.state));
    let mut cuts: Vec<Moment> = bars.iter().flat_map(|b| [b.from, b.to]).collect();
    cuts.sort_unstable();
    cuts.dedup();
    let mut row: Vec<(usize, StationBar)> = Vec::new();
    let mut open: Vec<usize> = Vec::new();
    let mut next = 0;
    for pair in cuts.windows(2) {
        let &[from, to] = pair else { continue };
        while bars.get(next).is_some_and(|b| b.from <= from) {
            open.push(next);
            next += 1;
        }
        open.retain(|i| bars.get(*i).is_some_and(|b| b.to > from));
        let shown = open.iter().filter_map(|i| Some((*i, bars.get(*i)?)));
        if let Some((i, bar)) = shown.min_by_key(|(i, b)| (b.state, *i)) {
            match row.last_mut() {
                Some((last, shown)) if *last == i && shown.to == from => shown.to = to,
                _ => row.push((i, StationBar { from, to, ..*bar })),
            }
        }
    }
    row.into_iter().map(|(_, bar)| bar).collect()
}

//! Hands: what each pair does.

use super::{DayHours, Read};
use std::collections::BTreeMap;
use tankday_base::units::Moment;
use tankday_record::{Handled, TaskKind};

/// A task of hands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HandBar {
    /// Its beginning.
    pub from: Moment,
    /// Its end.
    pub to: Moment,
    /// The name of the step, or of the care.
    pub step: String,
    /// The load, as called at that moment.
    pub load: Option<String>,
}

/// One pair of hands.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct HandLane {
    /// Tasks in order.
    pub bars: Vec<HandBar>,
    /// Breaks, as far as they were kept.
    pub breaks: Vec<(Moment, Moment)>,
}

pub(super) fn of(read: &Read<'_>) -> Vec<HandLane> {
    let mut lanes: BTreeMap<u32, HandLane> = (0..read.shop.hands.min(MOST_LANES))
        .map(|hand| (hand, HandLane::default()))
        .collect();
    for task in &read.all.tasks {
        if let Some(lane) = lanes.get_mut(&task.hand) {
            lane.bars.push(bar(read, task));
        }
    }
    for lane in lanes.values_mut() {
        lane.bars.retain(|b| b.from < b.to);
    }
    lanes.into_values().collect()
}

/// More pairs of hands than this are not drawn.
const MOST_LANES: u32 = 24;

fn bar(read: &Read<'_>, &Handled { from, to, task, .. }: &Handled) -> HandBar {
    let step = match (task.kind, task.load) {
        (TaskKind::Renew, _) => Some("fresh rinse"),
        (kind, _) if kind.is_care() => Some(kind.words()),
        (_, None) => None,
        (_, Some((_, at))) => read.shop.find_step(at).map(|s| s.name.as_str()),
    };
    HandBar {
        from,
        to,
        step: step.unwrap_or_default().to_owned(),
        load: task.load.map(|(load, _)| read.labels.at(load, from).to_owned()),
    }
}

/// A break is what is left of it between the tasks.
pub(super) fn add_breaks(lanes: &mut [HandLane], days: &[DayHours]) {
    for lane in lanes {
        for (from, to) in days.iter().flat_map(|d| &d.breaks) {
            let mut since = *from;
            let first = lane.bars.partition_point(|b| b.to <= *from);
            for bar in lane.bars.iter().skip(first).take_while(|b| b.from < *to) {
                if bar.from > since {
                    lane.breaks.push((since, bar.from));
                }
                since = bar.to;
            }
            if since < *to {
                lane.breaks.push((since, *to));
            }
        }
    }
}

//! Orders come as the scenario says, and every piece is accounted for from arrival to ready, or to where it stands at the end.

use super::found::{FaultKind, Findings};
use super::stage::{Stage, Story};
use tankday_base::shop::{Arrival, OrderId, Shop};
use tankday_base::units::Moment;
use tankday_record::{LogEntry, Record};

pub(super) fn check(shop: &Shop, record: &Record, story: &Story, found: &mut Findings<'_>) {
    arrivals(shop, story, found);
    absent(shop, story, found);
    lots(record, story, found);
    ready(story, found);
    places_at_end(record, story, found);
}

fn arrivals(shop: &Shop, story: &Story, found: &mut Findings<'_>) {
    let mut come = vec![0u32; shop.orders.len()];
    for (no, came) in story.orders.iter().enumerate() {
        let (Some(order), Some(count)) = (
            shop.orders.get(came.source.index()),
            come.get_mut(came.source.index()),
        ) else {
            continue;
        };
        *count += 1;
        let fewest = match order.arrival {
            Arrival::At(_) => order.count,
            Arrival::Every { fewest, .. } => fewest,
        };
        if !(fewest..=order.count).contains(&came.pieces) {
            let text = format!(
                "order {no} comes with {} pieces where `{}` has {}",
                came.pieces, order.id, order.count
            );
            found.say(came.at, FaultKind::Pieces, text);
        }
        let sound = came.nth == *count
            && match &order.arrival {
                Arrival::At(at) => came.at == *at && *count == 1,
                Arrival::Every {
                    from,
                    until,
                    most,
                    only,
                    ..
                } => {
                    let within = |(a, b): &(Moment, Moment)| (*a..=*b).contains(&came.at);
                    let then = only.is_empty() || only.iter().any(within);
                    then && came.at >= *from && came.at < *until && *count <= *most
                }
            };
        if !sound {
            found.say(
                came.at,
                FaultKind::Pieces,
                format!("`{}` comes at another time or more often than stated", order.id),
            );
        }
    }
}

/// Orders stated for a time before the run stops must have come.
fn absent(shop: &Shop, story: &Story, found: &mut Findings<'_>) {
    for (i, order) in shop.orders.iter().enumerate() {
        let Arrival::At(at) = order.arrival else { continue };
        let came = story.orders.iter().any(|c| c.source == OrderId(i as u32));
        if at < shop.rules.stop && !came {
            found.say(at, FaultKind::Pieces, format!("`{}` never comes", order.id));
        }
    }
}

/// The lots of an order are made when it comes and hold all of its pieces.
fn lots(record: &Record, story: &Story, found: &mut Findings<'_>) {
    let mut left: Vec<i64> = story.orders.iter().map(|o| i64::from(o.pieces)).collect();
    for entry in &record.entries {
        let LogEntry::LoadMade { load, order, pieces } = entry.event else {
            continue;
        };
        let came = story.orders.get(order.0 as usize);
        if came.is_some_and(|c| c.at != entry.at) {
            found.of_load(
                entry.at,
                FaultKind::Pieces,
                load,
                "is made at another time than its order comes",
            );
        }
        if let Some(left) = left.get_mut(order.0 as usize) {
            *left -= i64::from(pieces);
        }
    }
    for (no, left) in left.iter().enumerate().filter(|(_, left)| **left != 0) {
        let at = story.orders.get(no).map_or(Moment::ZERO, |o| o.at);
        found.say(
            at,
            FaultKind::Pieces,
            format!("the loads of order {no} are short of its pieces by {left}"),
        );
    }
}

/// An order is ready when the last of its lots is, and only then.
fn ready(story: &Story, found: &mut Findings<'_>) {
    for (no, order) in story.orders.iter().enumerate() {
        let lots = story.lots.iter().enumerate().filter(|(_, lot)| lot.order == no);
        let ends: Option<Vec<Moment>> = lots.map(|(i, _)| story.ready.get(&i).copied()).collect();
        let last = ends.and_then(|e| e.into_iter().max());
        if order.ready != last {
            let at = order.ready.or(last).unwrap_or(order.at);
            found.say(
                at,
                FaultKind::Pieces,
                format!("order {no} is called ready when it is not, or not when it is"),
            );
        }
    }
}

/// At the end every load is ready, part of another, at a station, or waits for something.
fn places_at_end(record: &Record, story: &Story, found: &mut Findings<'_>) {
    let end = record.entries.last().map_or(Moment::ZERO, |e| e.at);
    for load in story.loads.iter().filter(|l| !l.lost) {
        if load.stage == Stage::Waiting && load.waits.is_empty() {
            found.of_load(end, FaultKind::Pieces, load.no, "stands nowhere at the end");
        }
        if load.stage == Stage::Waiting && !load.company.is_empty() {
            found.of_load(
                end,
                FaultKind::Life,
                load.no,
                "took others in and never went into a tank",
            );
        }
    }
}

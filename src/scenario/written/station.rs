//! Stations as written, and the water in those that rinse.

use super::Given;
use crate::defaults::{NEUTRAL, OURS};
use crate::fields::Fields;
use crate::finding::{Code, Finding};
use crate::node::{Node, SourceSpan, Value};
use crate::reader::{AS_AIR, NAME, SPAN, YES, count, positive, quantity};
use crate::thing::{Kind, Reader, Thing, thing, words};
use crate::value;
use crate::walk::Walk;
use tankday_base::shop::{Frees, RinseLimit};
use tankday_base::units::{Share, Span, Strength, Temperature, Volume, VolumeFlow, read_quantity};

/// How many have room at once.
const PLACES: Reader<u32> = Reader::new(
    Kind::Or(&[Kind::Count, Kind::Word(&["unlimited"])]),
    |node, walk| {
        Some(value::or_word(node, walk, "unlimited", value::count::<1, 1_000_000>)?.unwrap_or(u32::MAX))
    },
);

thing! {
    /// A station that is no tank.
    Station "stations", "a station" {
        must "name" name: String = NAME, "what it is called, such as rinse bucket";
        or "loads" loads: u32 = PLACES, "loads it has room for at once, such as 2", {"1": OURS};
        or "together" together: u32 = count::<1, 1_000_000>(),
            "loads that start and end together in one place, such as 6", {"1": NEUTRAL};
        or "frees" frees: Frees = words!("when done" => Frees::WhenDone, "when emptied" => Frees::WhenEmptied),
            "when a place is free again", {"when emptied": OURS};
        /// Absent where nobody counts its water.
        may "fill" fill: Volume = positive(),
            "a rinse: volume of each of its tubs, such as 15 L; its water is counted then";
        or "tubs" tubs: u32 = count::<1, 20>(),
            "tubs of a rinse that work passes one after the other", {"1": NEUTRAL};
        or "flow" flow: VolumeFlow = quantity(),
            "clean water that runs while work is in, from the last tub to the first, such as 2 L/min",
            {"0 L/min": "a still rinse"};
        /// None inside stands for the room's temperature.
        or "temperature" temperature: Option<Temperature> = AS_AIR,
            "temperature of the water of a rinse, such as 30 °C", {"as the air": NEUTRAL};
        may own "renew" renew: Option<Renew> = RENEW => |f| Renew::of_station(f),
            "when the water of a rinse is renewed";
    }
}

const NEVER: Reader<()> = words!("never" => ());
const RENEW: Kind = Kind::Or(&[NEVER.kind, Kind::Thing(FreshWater::TABLE)]);

/// When its water is renewed; nothing inside for never.
#[derive(Debug)]
pub(crate) struct Renew {
    pub(crate) rule: Option<FreshWater>,
    /// Where the rule is written; none for the default.
    pub(crate) written: Option<SourceSpan>,
}

impl Renew {
    fn of_station(f: &mut Fields) -> Option<Self> {
        if let Some(Value::Text(_)) = f.node(&Station::renew).map(|n| &n.value) {
            f.value(&Station::renew, NEVER.read)?;
            return Some(Self {
                rule: None,
                written: None,
            });
        }
        let written = f.place(&Station::renew);
        let rule = Some(f.thing(&Station::renew)?);
        Some(Self { rule, written })
    }
}

thing! {
    /// When the water of a rinse is renewed.
    FreshWater "stations.renew", "a rule for fresh water" {
        or own "at" at: Given<RinseLimit> = LIMIT.kind => |f| limit(f),
            "when its last tub is so strong: 1 points, or 3 % of the bath that the load comes from",
            {"1 points": "assumption: titrated every shift in a handbook chapter on phosphate coatings, which gives no limit"};
        may "after" after: u32 = count::<1, 1_000_000>(), "after so many loads, such as 20";
        may "at opening" at_opening: bool = YES, "every morning, if it was used";
        or "takes" takes: Span = SPAN, "hands' time for it, such as 10 min", {"10 min": OURS};
    }
}

const LIMIT: Reader<RinseLimit> = Reader::new(
    Kind::Or(&[Kind::of::<Strength>(), Kind::of::<Share>()]),
    read_limit,
);

/// The limit as written; the usual one where nothing else renews it.
fn limit(f: &mut Fields) -> Given<RinseLimit> {
    if f.has(&FreshWater::after) || f.has(&FreshWater::at_opening) {
        return f.value(&FreshWater::at, LIMIT.read);
    }
    f.value_or(&FreshWater::at, "", LIMIT.read)
}

/// `1 points` or `3 %`, more than nothing.
fn read_limit(node: &Node, walk: &mut Walk) -> Option<RinseLimit> {
    let text = value::scalar(node, walk, "a strength or a share")?;
    if !text.contains('%') {
        return value::positive(node, walk).map(RinseLimit::Points);
    }
    let share: Share = value::refuse(read_quantity(text), node, walk, "a share of the bath")?;
    if share.in_fraction() > 0.0 && share.in_fraction() < 1.0 {
        return Some(RinseLimit::OfBath(share));
    }
    let finding =
        Finding::error(Code::Range, node.at).says("no rinse is renewed at such a share of the bath");
    walk.refuse(finding.help("write a share between 0 and 100 %, such as 3 %"))
}

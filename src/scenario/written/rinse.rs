//! The water of a rinse as written.

use super::Got;
use crate::finding::{Code, Finding};
use crate::keys;
use crate::node::{Node, Place, Value};
use crate::time;
use crate::value;
use crate::walk::{Fields, Walk};
use tankday_base::shop::RinseLimit;
use tankday_base::units::{Span, Temperature, Volume, VolumeFlow, read_quantity};

/// The water of a station.
#[derive(Debug)]
pub(crate) struct Rinse {
    /// Absent where nobody counts its water.
    pub(crate) fill: Got<Volume>,
    pub(crate) tubs: Got<u32>,
    pub(crate) flow: Got<VolumeFlow>,
    /// None inside stands for the room's temperature.
    pub(crate) temperature: Got<Option<Temperature>>,
    pub(crate) renew: Option<Renew>,
    /// Where it says something that makes sense only beside a fill.
    pub(crate) idle: Option<Place>,
}

/// When it is renewed; nothing inside for never.
#[derive(Debug)]
pub(crate) struct Renew {
    pub(crate) at: Got<RinseLimit>,
    pub(crate) after: Got<u32>,
    pub(crate) at_opening: Got<bool>,
    pub(crate) takes: Got<Span>,
    /// Where the rule is written; none for the default.
    pub(crate) written: Option<Place>,
}

impl Rinse {
    pub(super) fn of(f: &mut Fields) -> Self {
        let others = ["tubs", "flow", "temperature", "renew"]
            .into_iter()
            .find_map(|key| f.place(key));
        Self {
            idle: others.filter(|_| !f.has("fill")),
            fill: f.get("fill", value::positive),
            tubs: f.or("tubs", value::count::<1, 20>),
            flow: f.or("flow", value::quantity),
            temperature: f.or("temperature", |n, w| {
                value::or_word(n, w, "as the air", value::temperature)
            }),
            renew: Renew::of(f),
        }
    }
}

impl Renew {
    fn of(f: &mut Fields) -> Option<Self> {
        let written = f.place("renew");
        if let Some(Value::Text(_)) = f.node("renew").map(|n| &n.value) {
            f.get("renew", |n, w| value::word(n, w, &[("never", ())]))?;
            return Some(Self {
                at: None,
                after: None,
                at_opening: None,
                takes: None,
                written: None,
            });
        }
        let mut f = f.inner("renew", &keys::FRESH_WATER)?;
        let otherwise = f.has("after") || f.has("at opening");
        Some(Self {
            at: if otherwise {
                f.get("at", limit)
            } else {
                f.or("at", limit)
            },
            after: f.get("after", value::count::<1, 1_000_000>),
            at_opening: f.get("at opening", value::yes),
            takes: f.or("takes", time::span),
            written,
        })
    }
}

/// `1 points` or `3 %`, more than nothing.
fn limit(node: &Node, walk: &mut Walk) -> Option<RinseLimit> {
    let text = value::scalar(node, walk, "a strength or a share")?;
    if !text.contains('%') {
        return value::positive(node, walk).map(RinseLimit::Points);
    }
    let share: tankday_base::units::Share =
        value::refuse(read_quantity(text), node, walk, "a share of the bath")?;
    if share.in_fraction() > 0.0 && share.in_fraction() < 1.0 {
        return Some(RinseLimit::OfBath(share));
    }
    let finding = Finding::new(
        Code::Range,
        node.at,
        "no rinse is renewed at such a share of the bath",
    );
    walk.add(finding.help("write a share between 0 and 100 %, such as 3 %"));
    None
}

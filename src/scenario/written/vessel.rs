//! Storage vessels as written.

use super::Got;
use crate::scenario::keys;
use crate::scenario::node::Node;
use crate::scenario::value;
use crate::scenario::walk::{Fields, Walk};
use crate::units::Volume;

/// A storage vessel.
#[derive(Debug)]
pub(in crate::scenario) struct Vessel {
    pub(in crate::scenario) name: Got<String>,
    pub(in crate::scenario) bath: Got<String>,
    pub(in crate::scenario) holds: Got<Volume>,
    /// None inside stands for one filling of its tanks.
    pub(in crate::scenario) filtered: Got<Option<Volume>>,
}

impl Vessel {
    pub(super) fn read(node: &Node, walk: &mut Walk) -> Option<Self> {
        let mut f = Fields::new(node, &keys::VESSELS, walk)?;
        Some(Self {
            name: f.get("name", value::name),
            bath: f.get("bath", value::name),
            holds: f.get("holds", value::positive),
            filtered: f.or("filtered", |n, w| {
                value::or_word(n, w, "as the tank", value::positive::<Volume>)
            }),
        })
    }
}

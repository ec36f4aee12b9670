//! Storage vessels as written.

use super::Got;
use crate::keys;
use crate::node::Node;
use crate::value;
use crate::walk::{Fields, Walk};
use tankday_base::units::Volume;

/// A storage vessel.
#[derive(Debug)]
pub(crate) struct Vessel {
    pub(crate) name: Got<String>,
    pub(crate) bath: Got<String>,
    pub(crate) holds: Got<Volume>,
    /// None inside stands for one filling of its tanks.
    pub(crate) filtered: Got<Option<Volume>>,
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

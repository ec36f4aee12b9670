//! Which name stands for which number in the shop.

use super::written::File;
use std::collections::BTreeMap;
use tankday_base::shop::{Material, built_in_materials, hard_materials, other_names};

/// Names of one kind, each with its number.
pub(super) type Index = BTreeMap<String, u32>;

/// All names of a scenario.
#[derive(Debug, Default)]
pub(super) struct Names {
    pub(super) baths: Index,
    /// Tanks first, in the order written, then the other stations.
    pub(super) stations: Index,
    pub(super) vessels: Index,
    /// Built-in materials first, hardened steel under its other names last among them.
    pub(super) materials: Index,
    pub(super) parts: Index,
    pub(super) routes: Index,
    /// The built-in materials.
    pub(super) built_in: Vec<Material>,
}

impl Names {
    /// Of a file.
    pub(super) fn of(file: &File) -> Self {
        let tanks = file.tanks.iter().map(|t| t.name.as_ref());
        let stations = tanks.chain(file.stations.iter().map(|s| s.name.as_ref()));
        let own = |m: &Material| file.materials.iter().any(|own| own.name.value == m.name);
        let mut built_in = built_in_materials();
        let others = hard_materials().into_iter().chain(other_names());
        built_in.extend(others.filter(|m| !own(m)));
        let materials = built_in
            .iter()
            .map(|m| m.name.clone())
            .chain(file.materials.iter().map(|m| m.name.value.clone()));
        Self {
            baths: index(file.baths.iter().map(|b| b.name.value.clone())),
            vessels: index(
                file.vessels
                    .iter()
                    .map(|v| v.name.as_ref().map_or_else(String::new, |n| n.value.clone())),
            ),
            stations: index(stations.map(|n| n.map_or_else(String::new, |n| n.value.clone()))),
            materials: index(materials),
            parts: index(file.parts.iter().map(|p| p.name.value.clone())),
            routes: index(file.routes.iter().map(|r| r.name.value.clone())),
            built_in,
        }
    }
}

/// Numbers in the order given; of two alike the first counts. A name that could not be read keeps its number but is
/// not found.
fn index(names: impl Iterator<Item = String>) -> Index {
    let mut index = Index::new();
    for (i, name) in names.enumerate() {
        if !name.is_empty() {
            index.entry(name).or_insert(i as u32);
        }
    }
    index
}

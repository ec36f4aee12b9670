//! Storage vessels as meant.

use super::Context;
use tankday_base::shop::{self, BathId};
use tankday_base::units::Volume;

pub(super) fn vessels(c: Context) -> Option<Vec<shop::Vessel>> {
    c.file.vessels.iter().map(|v| vessel(v, c)).collect()
}

fn vessel(written: &crate::written::Vessel, c: Context) -> Option<shop::Vessel> {
    let bath = &written.bath.as_ref()?.value;
    let holds = written.holds.as_ref()?.value;
    let filling = |t: &crate::written::Tank| {
        let same = t.bath.as_ref()?.value == *bath;
        same.then(|| t.fill.as_ref().map(|f| f.value))?
    };
    let one_filling = || -> Volume { c.file.tanks.iter().find_map(filling).unwrap_or(holds) };
    Some(shop::Vessel {
        name: written.name.as_ref()?.value.clone(),
        bath: BathId(*c.names.baths.get(bath)?),
        holds,
        filtered: written.filtered.as_ref()?.value.unwrap_or_else(one_filling),
    })
}

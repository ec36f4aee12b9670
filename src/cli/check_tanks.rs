//! What `tankday check` says of the tanks: what is taken of them that the fume exhaust and the legs of a real one make untrue.

use tankday_base::print::list;
use tankday_base::shop::{Shop, Tank};
use tankday_base::units::HeatTransfer;

/// Tanks that are reckoned in still air though hot acid needs an exhaust, and tanks that lose nothing through the bottom; nothing
/// where the scenario has other figures.
pub(super) fn lines(shop: &Shop) -> String {
    let mut text = String::new();
    if let Some(names) = named(shop, |tank| tank.draught <= 1.0) {
        text.push_str(&format!(
            "  reckoned in still air: {names}; with the exhaust that hot acid needs write `draught: 1.2` to 1.5, beside a fan 2\n"
        ));
    }
    if let Some(names) = named(shop, |tank| tank.wall.bottom_loss <= HeatTransfer::ZERO) {
        text.push_str(&format!(
            "  reckoned without loss through the bottom: {names}; on legs write `wall: {{bottom: 4 W/m2K}}` to 8\n"
        ));
    }
    text
}

/// The names of the tanks that are so; none where none is.
fn named(shop: &Shop, is_so: impl Fn(&Tank) -> bool) -> Option<String> {
    let so = shop.tanks().filter(|(.., tank)| is_so(tank));
    let names: Vec<String> = so.map(|(_, station, _)| station.name.clone()).collect();
    (!names.is_empty()).then(|| list(&names))
}

//! How an order is divided into lots that fit a tank.

use tankday_base::shop::{Shop, Split, Tank};
use tankday_base::units::Quantity;

pub(super) fn room_of(shop: &Shop, tank: &Tank) -> [f64; 3] {
    let room = shop.baths[tank.bath.index()].room;
    let basket = tank.basket.base();
    [
        (room.area * tank.fill).base(),
        (room.mass * tank.fill).base(),
        if basket > 0.0 { basket } else { f64::INFINITY },
    ]
}

/// Pieces that fit a room; a hair of rounding is forgiven.
pub(super) fn pieces_in(room: [f64; 3], piece: [f64; 3]) -> u32 {
    let least = room
        .iter()
        .zip(piece)
        .map(|(r, p)| if p > 0.0 { r / p } else { f64::INFINITY })
        .fold(f64::INFINITY, f64::min);
    if least >= f64::from(u32::MAX) {
        u32::MAX
    } else {
        (least * (1.0 + 1e-9)) as u32
    }
}

/// Ways to divide an order: evenly, full lots first, and evenly into one lot more than need be.
pub(super) fn cuts(count: u32, most: u32) -> Vec<Vec<u32>> {
    let number = count.div_ceil(most).max(1);
    let one_more = count.div_ceil(number + 1).max(1);
    vec![
        lots(count, most, Split::Evenly),
        lots(count, most, Split::FillFirst),
        lots(count, one_more, Split::Evenly),
    ]
}

pub(super) fn lots(count: u32, most: u32, split: Split) -> Vec<u32> {
    let number = count.div_ceil(most).max(1);
    match split {
        Split::Evenly => (0..number)
            .map(|i| count / number + u32::from(i < count % number))
            .collect(),
        Split::FillFirst => (0..number).map(|i| (count - i * most).min(most)).collect(),
    }
}

//! Lots outside of all loads whose pieces are noted.

use super::Reader;
use tankday_base::print::pieces_of;
use tankday_scenario::{Code, Finding, Spanned};

/// A lot outside of all loads whose pieces are said: its order, which of its lots it is, how many pieces it has.
pub(super) type SaidLot = (u32, u32, Spanned<u32>);

impl Reader<'_> {
    /// Lots whose pieces are said are counted on from those in the loads.
    pub(super) fn said_lots(&mut self, pieces: &mut [Vec<u32>], said: &[SaidLot]) {
        let mut said: Vec<&SaidLot> = said.iter().collect();
        said.sort_by_key(|(order, nth, _)| (*order, *nth));
        for (order, nth, own) in said {
            let lots = &mut pieces[*order as usize];
            let known = lots.get((*nth - 1) as usize).copied();
            let finding = match known {
                Some(same) if same == own.value => continue,
                Some(other) => format!("lot {nth} has {}", pieces_of(other, "piece")),
                None if lots.len() as u32 + 1 < *nth => {
                    format!("lot {} comes before it: how many pieces has it?", lots.len() + 1)
                }
                None => {
                    let count = self.shop.orders[*order as usize].count;
                    let sum = lots.iter().fold(own.value, |sum, p| sum.saturating_add(*p));
                    if sum <= count {
                        lots.push(own.value);
                        continue;
                    }
                    format!(
                        "the order has {}, the notes speak of {sum}",
                        pieces_of(count, "piece")
                    )
                }
            };
            let name = self.order_name(*order);
            let message = format!("these are not the pieces of {name}, lot {nth}");
            self.add(
                Finding::new(Code::Order, own.at, message)
                    .label(finding)
                    .help("lots are counted through the loads first, then as they are noted"),
            );
        }
    }
}

//! Water that was made good, as noted.

use super::Reader;
use super::noted::{Noted, outside};
use tankday_base::shop::StationId;
use tankday_base::units::{Moment, Volume};
use tankday_scenario::{Code, Finding, NotedWater};

impl Noted<'_> {
    /// All water that was made good, in the order of its times.
    pub(super) fn watered(&self, reader: &mut Reader<'_>) -> Vec<(StationId, Volume, Moment)> {
        let all = self.notes.water.iter();
        let mut watered: Vec<_> = all.filter_map(|note| self.one_watered(reader, note)).collect();
        watered.sort_by_key(|(.., at)| *at);
        watered
    }

    fn one_watered(&self, reader: &mut Reader<'_>, note: &NotedWater) -> Option<(StationId, Volume, Moment)> {
        let id = reader.tank(&note.tank)?;
        let fill = reader.shop.tank(id)?.fill;
        let (at, amount) = (note.at, note.amount);
        let finding = if let Some(why) = outside(reader.shop, at.value) {
            Finding::new(Code::Time, at.at, why).label("nothing is topped up then")
        } else if at.value > self.at {
            Finding::new(Code::Time, at.at, format!("it is only {}", self.at.clock()))
                .label("this has not happened yet")
                .help("note only what was done")
        } else if amount.value > fill {
            let message = format!(
                "{} holds {:.1} L when it is full",
                note.tank.value,
                fill.in_litres()
            );
            Finding::new(Code::Range, amount.at, message)
                .label("more than that")
                .help("correct the amount, such as `amount: 0.6 L`")
        } else {
            return Some((id, amount.value, at.value));
        };
        reader.add(finding);
        None
    }
}

//! What the line says of durations goes back into the timetable: how long loads stayed, and when baths were hot.

use super::compile::{Compiled, secs};
use super::model::{FAR, Secs, Timetable};
use crate::model::{Evaluated, SearchContext, Solution};
use tankday_base::units::Moment;

/// By so many seconds at most a bath is taken to be hot later than was thought, each time that the line is asked.
const LATER: Secs = 15 * 60;

impl Compiled {
    /// How long the loads of a day stayed.
    pub(super) fn learn_dwells(&mut self, world: &SearchContext<'_>, g: &Solution, tried: &Evaluated) {
        for head in (0..world.lots() as u32).filter(|&l| g.head[l as usize] == l) {
            if let Some(stay) = world.stayed(g, tried, head) {
                let name = world
                    .members(g, head)
                    .into_iter()
                    .fold(0u64, |n, l| n.wrapping_add(Timetable::name_of(l as u16)));
                self.table.seen.insert(name, stay);
            }
        }
    }

    /// When baths were hot for the first load of each stretch, if that load waited for its bath.
    pub(super) fn learn_hot(&mut self, world: &SearchContext<'_>, g: &Solution, tried: &Evaluated) {
        for (p, tanks) in self.tanks.iter().enumerate() {
            for (q, tank) in tanks.iter().enumerate() {
                let mut charges: Vec<(Secs, Secs)> = (0..world.lots() as u32)
                    .filter(|&l| g.head[l as usize] == l && g.tank[l as usize] == tank.0)
                    .filter_map(|l| world.charged(g, tried, l))
                    .collect();
                charges.sort_unstable();
                for window in &mut self.table.pools[p].hot[q] {
                    let first = charges.iter().find(|c| c.0 >= window.0 && c.0 < window.1);
                    if let Some(&(at, ready)) = first
                        && ready <= window.0
                        && at < window.1
                    {
                        // Ready, and not charged when the window opened: the bath was not hot.
                        window.0 = window.0.max(at.min(window.0 + LATER));
                    }
                }
            }
        }
    }
}

impl SearchContext<'_> {
    /// When a load was charged, and when all of it stood before the bath.
    fn charged(&self, g: &Solution, tried: &Evaluated, head: u32) -> Option<(Secs, Secs)> {
        let step = self.blank.lots[head as usize].bath_step?;
        let at = tried.begun[self.blank.task(head, step) as usize];
        if at == Moment::NEVER {
            return None;
        }
        let mut ready = 0;
        for lot in self.members(g, head) {
            let last = self.own[lot as usize][0].last();
            let over = last.map_or(0, |op| {
                let (begun, over) = (tried.ended[op.task as usize], tried.ended[op.task as usize + 1]);
                let at = if over < Moment::NEVER { over } else { begun };
                if at < Moment::NEVER {
                    secs(at.in_micros())
                } else {
                    FAR
                }
            });
            ready = ready.max(over).max(secs(self.there(lot)));
        }
        Some((secs(at.in_micros()), ready))
    }
}

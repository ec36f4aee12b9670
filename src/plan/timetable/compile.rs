//! A timetable from a shop: hours of hands, tanks, lots, orders; `stages.rs` knows their way.

use super::model::{Duty, FAR, Lot, Pool, Secs, Timetable, Weights};
use super::stages::{Places, Stages};
use crate::model::SearchContext;
use std::collections::HashMap;
use tankday_base::shop::StationId;
use tankday_base::units::Moment;

/// Room is counted in parts of so many of a tank's.
const PARTS: f64 = 1e8;
/// And so many are left for rounding.
const ROUNDING: u32 = 50;
/// More tanks of one kind, and more kinds, than a timetable knows.
const MOST_TANKS: usize = 16;
/// Whole seconds in microseconds.
const SECOND: i64 = 1_000_000;

/// A task of the plan that begins so long after the beginning of a stage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Begins {
    pub(super) step: u32,
    pub(super) out: bool,
    pub(super) after: Secs,
}

/// A timetable, and what its stages are in a plan.
#[derive(Debug, Clone)]
pub(super) struct Compiled {
    pub(super) table: Timetable,
    /// For each stage the tasks that begin in it.
    pub(super) begins: Vec<Vec<Begins>>,
    /// For each pool the stations of its tanks.
    pub(super) tanks: Vec<Vec<StationId>>,
}

/// Rounded up: nothing takes less than it does.
pub(super) fn secs(micros: i64) -> Secs {
    Secs::try_from((micros.min(crate::gaps::FAR) + SECOND - 1).div_euclid(SECOND)).map_or(FAR, |s| s.min(FAR))
}

/// A moment of the timetable.
pub(super) fn moment(at: Secs) -> Moment {
    if at >= FAR {
        Moment::NEVER
    } else {
        Moment::micros(i64::from(at) * SECOND)
    }
}

impl SearchContext<'_> {
    /// The shop as a timetable; none where it says nothing: no hands, no tank, or more tanks than it knows. Of a day that is
    /// under way it is the rest: `free` says from when on each lot is free of what was begun, and `hot` from when on tanks
    /// are.
    pub(super) fn compiled(
        &self,
        dwells: &[Secs],
        hot: &[Vec<(Secs, Secs)>],
        free: &[Secs],
    ) -> Option<Compiled> {
        let duty = self.duty();
        if self.shop.hands == 0 || self.tanks.is_empty() || duty.is_empty() || self.lots() > 4_000 {
            return None;
        }
        let mut places = Places::new(self);
        let (tanks, pools) = self.pools(hot)?;
        let mut stages = Stages::default();
        let mut lots = Vec::with_capacity(self.lots());
        let mut goes_on: Vec<(u16, u16)> =
            vec![(0, 0); self.class.iter().max().map_or(0, |c| *c as usize + 1)];
        for l in 0..self.lots() as u32 {
            let mut lot = self.lot(l, dwells, &tanks, &mut stages, &mut places)?;
            lot.there = lot.there.max(free.get(l as usize).copied().unwrap_or(0));
            let tail = &mut goes_on[lot.class as usize];
            if *tail == (0, 0) && lot.pools != 0 {
                *tail = self.stages(l, true, &mut stages, &mut places)?;
            }
            lots.push(lot);
        }
        let due = |d: &Moment| {
            if *d == Moment::NEVER {
                FAR
            } else {
                secs(d.in_micros())
            }
        };
        let aim = self.shop.aim;
        Some(Compiled {
            table: Timetable {
                hands: self.shop.hands as usize,
                duty,
                rooms: places.rooms,
                pools,
                stages: stages.stages,
                lots,
                goes_on,
                due: self.dues.iter().map(due).collect(),
                matters: self.shop.orders.iter().map(|o| o.weight).collect(),
                weights: Weights {
                    late_order: aim.late_order,
                    late_minute: aim.late_minute,
                    finish_minute: aim.finish_minute,
                },
                seen: HashMap::new(),
            },
            begins: stages.begins,
            tanks,
        })
    }

    /// When hands work.
    pub(super) fn duty(&self) -> Vec<Duty> {
        let mut duty = Vec::new();
        for day in &self.shop.calendar.days {
            let (opens, closes) = (secs(day.open.in_micros()), secs(day.close.in_micros()));
            let mut from = opens;
            for pause in &day.breaks {
                duty.push(Duty {
                    from,
                    until: secs(pause.from.in_micros()),
                    opens,
                    closes,
                });
                from = secs(pause.until.in_micros());
            }
            duty.push(Duty {
                from,
                until: closes,
                opens,
                closes,
            });
        }
        let now = secs(self.now.in_micros().max(0));
        if self.now > Moment::ZERO {
            duty.iter_mut().for_each(|d| d.from = d.from.max(now));
        }
        duty.retain(|d| d.from < d.until);
        duty
    }

    /// Tanks that are alike, and what each kind holds.
    fn pools(&self, hot: &[Vec<(Secs, Secs)>]) -> Option<(Vec<Vec<StationId>>, Vec<Pool>)> {
        let mut tanks: Vec<Vec<StationId>> = Vec::new();
        let largest = self.largest_room();
        let mut pools: Vec<Pool> = Vec::new();
        let same_lots = |a: usize, b: usize| {
            self.fits
                .iter()
                .all(|f| f.contains(&(a as u32)) == f.contains(&(b as u32)))
        };
        let bath = |id: StationId| self.shop.stations[id.index()].tank.map(|t| t.bath);
        for (i, (id, room)) in self.tanks.iter().enumerate() {
            let like = tanks.iter().position(|p| {
                let first = p.first().and_then(|f| self.tanks.iter().position(|t| t.0 == *f));
                first.is_some_and(|f| {
                    self.tanks[f].1 == *room && bath(self.tanks[f].0) == bath(*id) && same_lots(f, i)
                })
            });
            match like {
                Some(p) => {
                    tanks[p].push(*id);
                    pools[p].hot.push(hot[i].clone());
                }
                None => {
                    tanks.push(vec![*id]);
                    let parts = parts_of(*room, largest).map(|p| p.saturating_add(ROUNDING));
                    pools.push(Pool {
                        room: parts,
                        hot: vec![hot[i].clone()],
                        recovers: 0,
                    });
                }
            }
        }
        let known = tanks.len() <= MOST_TANKS && tanks.iter().all(|t| t.len() <= MOST_TANKS);
        known.then_some((tanks, pools))
    }

    fn lot(
        &self,
        l: u32,
        dwells: &[Secs],
        tanks: &[Vec<StationId>],
        stages: &mut Stages,
        places: &mut Places<'_>,
    ) -> Option<Lot> {
        let planned = &self.blank.lots[l as usize];
        let mut mask = 0u32;
        for (p, own) in tanks.iter().enumerate() {
            let fits = self.fits[l as usize]
                .iter()
                .any(|&t| own.contains(&self.tanks[t as usize].0));
            mask |= u32::from(fits) << p;
        }
        // What went in as noted has no bath before it any more: what comes behind it is all that is left.
        let went_in = self.fixed[l as usize];
        if planned.bath_step.is_some() && mask == 0 && !went_in {
            return None;
        }
        let prepares = self.stages(l, went_in, stages, places)?;
        let own = self.own[l as usize][1].first().filter(|op| op.coats);
        let most = own.map_or(FAR, |op| secs(op.put.min(0) + op.most));
        let least = dwells[l as usize];
        Some(Lot {
            name: Timetable::name_of(u16::try_from(l).ok()?),
            order: u16::try_from(planned.order).ok()?,
            class: u16::try_from(self.class[l as usize]).ok()?,
            bulk: parts_of(planned.bulk, self.largest_room()),
            pieces: planned.pieces,
            dwell: (least, most.max(least)),
            pools: mask,
            there: secs(self.there(l)),
            prepares,
            waits: own.filter(|_| !went_in).map_or(FAR, |op| secs(op.within)),
        })
    }

    fn largest_room(&self) -> [f64; 3] {
        let mut largest = [0.0f64; 3];
        for (_, room) in &self.tanks {
            for (most, r) in largest.iter_mut().zip(room) {
                *most = most.max(*r);
            }
        }
        largest
    }
}

/// Bulk or room in parts of the largest room.
fn parts_of(bulk: [f64; 3], largest: [f64; 3]) -> [u32; 3] {
    let mut parts = [0u32; 3];
    for ((part, b), l) in parts.iter_mut().zip(bulk).zip(largest) {
        if l > 0.0 {
            *part = libm::round(PARTS * b / l).clamp(0.0, 2e9) as u32;
        }
    }
    parts
}

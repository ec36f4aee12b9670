//! Whether everything that a record names exists, and its times never decrease.

use super::found::{FaultKind, Findings};
use tankday_base::shop::{Shop, StationId, StepRef, VesselId};
use tankday_base::units::{Moment, Span};
use tankday_record::{LoadNo, LogEntry, OrderNo, Record, Task};

pub(super) fn check(shop: &Shop, record: &Record, found: &mut Findings<'_>) {
    let mut seen = Seen {
        shop,
        orders: 0,
        loads: 0,
    };
    let mut now = Moment::micros(i64::MIN);
    for entry in &record.entries {
        if entry.at < now {
            let back = (now - entry.at).in_micros();
            found.say(
                entry.at,
                FaultKind::Time,
                format!("time runs back by {back} microseconds"),
            );
        }
        now = now.max(entry.at);
        if let Some(what) = seen.unknown(&entry.event) {
            found.say(entry.at, FaultKind::Unknown, what);
        }
    }
}

/// What has been named so far.
struct Seen<'a> {
    shop: &'a Shop,
    orders: u32,
    loads: u32,
}

type Wrong = Option<String>;

impl Seen<'_> {
    fn unknown(&mut self, event: &LogEntry) -> Wrong {
        match *event {
            LogEntry::Opens | LogEntry::Closes | LogEntry::BreakBegins | LogEntry::BreakEnds => None,
            LogEntry::OrderArrives { order, source, .. } => {
                let new = order.0 == self.orders;
                self.orders += u32::from(new);
                let known = source.index() < self.shop.orders.len();
                wrong(new && known, || {
                    format!("order {} is not the next one, or not of this shop", order.0)
                })
            }
            LogEntry::LoadMade { load, order, pieces } => {
                let new = load.0 == self.loads;
                self.loads += u32::from(new);
                let sound = new && pieces > 0;
                self.order(order).or_else(|| {
                    wrong(sound, || {
                        format!("load {} is not the next one, or has no pieces", load.0)
                    })
                })
            }
            LogEntry::LoadNamed { load, ref name } => self
                .load(load)
                .or_else(|| wrong(!name.is_empty(), || format!("load {} is named nothing", load.0))),
            LogEntry::Joins { load, into } => self
                .load(load)
                .or_else(|| self.load(into))
                .or_else(|| wrong(load != into, || format!("load {} joins itself", load.0))),
            LogEntry::OrderReady { order } => self.order(order),
            LogEntry::HandsTake { hand, task } => self
                .hand(hand)
                .or_else(|| self.task(&task))
                .or_else(|| task.vessel.and_then(|v| self.vessel(v))),
            LogEntry::HandsFree { hand } => self.hand(hand),
            LogEntry::Bath { tank, .. }
            | LogEntry::InBand { tank }
            | LogEntry::ToppedUp { tank, .. }
            | LogEntry::CareBegins { tank, .. }
            | LogEntry::CareEnds { tank, .. }
            | LogEntry::Allowed { tank, .. }
            | LogEntry::Left { tank, .. }
            | LogEntry::CutOff { tank }
            | LogEntry::LeftAlone { tank, .. } => self.tank(tank),
            LogEntry::VesselBegins { vessel, tank } | LogEntry::VesselEnds { vessel, tank, .. } => {
                self.vessel(vessel).or_else(|| self.tank(tank))
            }
            LogEntry::Rinsed { load, station, .. } => self.load(load).or_else(|| self.rinse(station)),
            LogEntry::Renewed { station, .. } => self.rinse(station),
            LogEntry::Coated { load, tank, .. } => self.load(load).or_else(|| self.tank(tank)),
            ref of_a_load => self.unknown_of_load(of_a_load),
        }
    }

    fn unknown_of_load(&self, event: &LogEntry) -> Wrong {
        match *event {
            LogEntry::Waits { load, step }
            | LogEntry::Breaks { load, step, .. }
            | LogEntry::Found { load, step, .. } => self.load(load).or_else(|| self.step(step)),
            LogEntry::SetIn { load, step, station }
            | LogEntry::WorkEnds { load, step, station }
            | LogEntry::LiftBegins { load, step, station }
            | LogEntry::StepDone { load, step, station } => self.place(load, step, station),
            LogEntry::WorkBegins {
                load,
                step,
                station,
                planned,
                most,
            } => {
                let sound = planned >= Span::ZERO && most.is_none_or(|m| m >= Span::ZERO);
                let time = || wrong(sound, || format!("load {} is to stay less than no time", load.0));
                self.place(load, step, station).or_else(time)
            }
            LogEntry::KeptBack { load, step, behind } | LogEntry::NobodyThen { load, step, behind } => self
                .load(load)
                .or_else(|| self.step(step))
                .or_else(|| self.step(behind)),
            LogEntry::Fails { load, step, back_to } => self
                .load(load)
                .or_else(|| self.step(step))
                .or_else(|| self.step(back_to)),
            LogEntry::PlaceFree { load, station } => self.load(load).or_else(|| self.station(station)),
            LogEntry::WorkPauses { load } | LogEntry::WorkResumes { load } | LogEntry::LoadReady { load } => {
                self.load(load)
            }
            _ => None,
        }
    }

    fn place(&self, load: LoadNo, step: StepRef, station: StationId) -> Wrong {
        self.load(load)
            .or_else(|| self.step(step))
            .or_else(|| self.station(station))
    }

    fn task(&self, task: &Task) -> Wrong {
        let load = task
            .load
            .and_then(|(load, step)| self.load(load).or_else(|| self.step(step)));
        load.or_else(|| self.station(task.station))
    }

    fn load(&self, load: LoadNo) -> Wrong {
        wrong(load.0 < self.loads, || {
            format!("there is no load {} so far", load.0)
        })
    }

    fn order(&self, order: OrderNo) -> Wrong {
        wrong(order.0 < self.orders, || {
            format!("there is no order {} so far", order.0)
        })
    }

    fn hand(&self, hand: u32) -> Wrong {
        let all = self.shop.hands;
        wrong(hand < all, || {
            format!("hands {hand} are not among the {all} of the shop")
        })
    }

    fn station(&self, station: StationId) -> Wrong {
        wrong(station.index() < self.shop.stations.len(), || {
            format!("there is no station {}", station.0)
        })
    }

    fn tank(&self, tank: StationId) -> Wrong {
        let bath = self.shop.stations.get(tank.index()).and_then(|s| s.tank);
        wrong(bath.is_some(), || format!("station {} is no tank", tank.0))
    }

    fn vessel(&self, vessel: VesselId) -> Wrong {
        wrong(vessel.index() < self.shop.vessels.len(), || {
            format!("there is no vessel {}", vessel.0)
        })
    }

    fn rinse(&self, station: StationId) -> Wrong {
        let rinse = self.shop.stations.get(station.index()).and_then(|s| s.rinse);
        wrong(rinse.is_some(), || format!("station {} is no rinse", station.0))
    }

    fn step(&self, at: StepRef) -> Wrong {
        let steps = self
            .shop
            .routes
            .get(at.route.index())
            .map_or(0, |r| r.steps.len());
        wrong(at.step.index() < steps, || {
            format!("route {} has no step {}", at.route.0, at.step.0)
        })
    }
}

fn wrong(sound: bool, text: impl FnOnce() -> String) -> Wrong {
    if sound { None } else { Some(text()) }
}

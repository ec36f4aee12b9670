//! Follows every load through its events: each must be possible where the load is.

use super::found::{FaultKind, Findings};
use super::stage::{Came, Load, Lot, Stage, Story, Visit};
use super::ways::{Ways, bit};
use tankday_base::shop::{Frees, Hands, Order, Shop, StationId, Step, StepRef};
use tankday_base::units::{Moment, Span};
use tankday_record::{LoadNo, LogEntry, OrderNo, Record};

/// Retells a record load by load.
pub(super) fn follow(shop: &Shop, record: &Record, found: &mut Findings<'_>) -> Story {
    let mut follow = Follow {
        shop,
        ways: Ways::of(shop),
        story: Story::default(),
        found,
    };
    for entry in &record.entries {
        follow.event(entry.at, &entry.event);
    }
    follow.story
}

pub(super) struct Follow<'a, 'f, 's> {
    pub(super) shop: &'a Shop,
    ways: Ways,
    pub(super) story: Story,
    pub(super) found: &'f mut Findings<'s>,
}

impl Follow<'_, '_, '_> {
    fn event(&mut self, at: Moment, event: &LogEntry) {
        match *event {
            LogEntry::OrderArrives {
                source, nth, pieces, ..
            } => {
                self.story.orders.push(Came {
                    source,
                    nth,
                    pieces,
                    at,
                    ready: None,
                });
            }
            LogEntry::LoadMade { load, order, pieces } => self.made(at, load, order, pieces),
            LogEntry::Joins { load, into } => self.joins(at, load, into),
            LogEntry::Waits { load, step } => self.waits(at, load, step),
            LogEntry::SetIn { load, step, station } => self.set_in(at, load, step, station),
            LogEntry::WorkBegins {
                load,
                step,
                station,
                planned,
                most,
            } => {
                if let Some(visit) = self.turn(
                    at,
                    load,
                    Stage::PuttingIn,
                    Stage::Working,
                    Some((step, station)),
                    "begins",
                ) {
                    (visit.begins, visit.planned, visit.most) = (Some(at), planned, most);
                }
            }
            LogEntry::WorkPauses { load } => {
                if let Some(visit) = self.turn(at, load, Stage::Working, Stage::Paused, None, "is laid down")
                {
                    visit.pauses.push((at, None));
                }
            }
            LogEntry::WorkResumes { load } => {
                let visit = self.turn(at, load, Stage::Paused, Stage::Working, None, "is taken up again");
                if let Some(pause) = visit.and_then(|v| v.pauses.last_mut()) {
                    pause.1 = Some(at);
                }
            }
            LogEntry::WorkEnds { load, step, station } => {
                if let Some(visit) = self.turn(
                    at,
                    load,
                    Stage::Working,
                    Stage::Done,
                    Some((step, station)),
                    "ends its work",
                ) {
                    visit.ends = Some(at);
                }
            }
            LogEntry::LiftBegins { load, step, station } => {
                if let Some(visit) = self.turn(
                    at,
                    load,
                    Stage::Done,
                    Stage::TakingOut,
                    Some((step, station)),
                    "is lifted",
                ) {
                    visit.lift = Some(at);
                }
            }
            LogEntry::PlaceFree { load, station } => self.place_free(at, load, station),
            LogEntry::StepDone { load, step, station } => self.step_done(at, load, step, station),
            LogEntry::Fails { load, step, back_to } => self.fails(at, load, step, back_to),
            LogEntry::LoadReady { load } => self.ready(at, load),
            LogEntry::OrderReady { order } => self.order_ready(at, order),
            _ => {}
        }
    }

    /// The load, unless it is lost; with a fault if it is not in the stage that the event needs.
    pub(super) fn load_in(&mut self, at: Moment, no: LoadNo, stage: Stage, doing: &str) -> Option<&mut Load> {
        let load = self.story.loads.get_mut(no.0 as usize).filter(|l| !l.lost)?;
        if load.stage != stage {
            load.lost = true;
            let text = format!("{doing} while it {}", load.stage.words());
            self.found.of_load(at, FaultKind::Life, no, &text);
            return None;
        }
        Some(load)
    }

    /// From one stage of a stay to the next, at the step and station of the stay.
    fn turn(
        &mut self,
        at: Moment,
        no: LoadNo,
        from: Stage,
        to: Stage,
        place: Option<(StepRef, StationId)>,
        doing: &str,
    ) -> Option<&mut Visit> {
        let load = self.load_in(at, no, from, doing)?;
        load.stage = to;
        load.since = at;
        let index = load.visit?;
        let visit = self.story.visits.get_mut(index)?;
        if place.is_some_and(|p| p != (visit.step, visit.station)) {
            self.found.of_load(
                at,
                FaultKind::Life,
                no,
                &format!("{doing} at another step or station than it was set in"),
            );
        }
        Some(visit)
    }

    fn made(&mut self, at: Moment, no: LoadNo, order: OrderNo, pieces: u32) {
        let came = self.story.orders.get(order.0 as usize);
        let Some(stated) = came.and_then(|c| self.shop.orders.get(c.source.index())) else {
            return;
        };
        let Some(way) = self.ways.get(stated.route, stated.part) else {
            return;
        };
        self.story.lots.push(Lot {
            order: order.0 as usize,
            part: stated.part,
            pieces,
            way: way.clone(),
            done: 0,
        });
        self.story.loads.push(Load {
            no,
            lots: vec![no.0 as usize],
            stage: Stage::Waiting,
            since: at,
            waits: Vec::new(),
            visit: None,
            failed_at: None,
            last: None,
            company: Vec::new(),
            lost: false,
        });
    }

    fn waits(&mut self, at: Moment, no: LoadNo, step: StepRef) {
        let Some(load) = self.load_in(at, no, Stage::Waiting, "waits for a step") else {
            return;
        };
        let (since, again) = (load.since, load.waits.contains(&step));
        load.waits.push(step);
        let name = self.found.step(step);
        if again {
            self.found
                .of_load(at, FaultKind::Life, no, &format!("waits twice for {name}"));
        }
        if at != since {
            let text = format!("waits for {name} later than it is free to");
            self.found.of_load(at, FaultKind::Life, no, &text);
        }
        if !self.is_open(no, step) {
            self.found.of_load(
                at,
                FaultKind::Way,
                no,
                &format!("waits for {name}, which is not its next step"),
            );
        }
    }

    pub(super) fn is_open(&self, no: LoadNo, step: StepRef) -> bool {
        let Some(load) = self.story.load(no) else {
            return false;
        };
        let route = self.order_of(load).map(|o| o.route);
        route == Some(step.route) && self.story.open(load).contains(&step.step)
    }

    pub(super) fn order_of(&self, load: &Load) -> Option<&Order> {
        let lot = self.story.lots.get(*load.lots.first()?)?;
        self.shop
            .orders
            .get(self.story.orders.get(lot.order)?.source.index())
    }

    pub(super) fn step(&self, at: StepRef) -> Option<&Step> {
        self.shop.routes.get(at.route.index())?.steps.get(at.step.index())
    }

    fn place_free(&mut self, at: Moment, no: LoadNo, station: StationId) {
        let Some(load) = self.story.load(no).filter(|l| !l.lost) else {
            return;
        };
        let stage = load.stage;
        let visit = load.visit.and_then(|v| Some((v, self.story.visits.get_mut(v)?)));
        let Some((index, visit)) = visit.filter(|(_, v)| v.free.is_none() && v.station == station) else {
            let text = format!(
                "gives back a place at {} that it does not have",
                self.found.station(station)
            );
            return self.found.of_load(at, FaultKind::Places, no, &text);
        };
        visit.free = Some(at);
        let (ended, lift) = (visit.ends, visit.lift);
        self.story.moves.push((at, index, false));
        let frees = self.shop.stations.get(station.index()).map(|s| s.frees);
        let sound = match frees {
            Some(Frees::WhenDone) => ended == Some(at),
            _ => stage == Stage::TakingOut && lift.is_some(),
        };
        if !sound {
            self.found.of_load(
                at,
                FaultKind::Places,
                no,
                "gives its place back too early or too late",
            );
        }
    }

    fn step_done(&mut self, at: Moment, no: LoadNo, step: StepRef, station: StationId) {
        let place = Some((step, station));
        let Some(visit) = self.turn(at, no, Stage::TakingOut, Stage::Waiting, place, "leaves") else {
            return;
        };
        visit.done = Some(at);
        let kept = visit.free.is_none();
        let late = visit.free.is_some_and(|f| f != at);
        let lots = visit.lots.clone();
        let frees = self.shop.stations.get(station.index()).map(|s| s.frees);
        if kept || (late && frees == Some(Frees::WhenEmptied)) {
            self.found.of_load(
                at,
                FaultKind::Places,
                no,
                "leaves a station without giving its place back",
            );
        }
        for lot in lots {
            if let Some(lot) = self.story.lots.get_mut(lot) {
                lot.done |= bit(step.step) & lot.way.all;
            }
        }
        if let Some(load) = self.story.loads.get_mut(no.0 as usize) {
            load.visit = None;
            load.last = Some((at, step));
        }
    }

    fn fails(&mut self, at: Moment, no: LoadNo, step: StepRef, back_to: StepRef) {
        let Some(load) = self.load_in(at, no, Stage::Waiting, "fails inspection") else {
            return;
        };
        let just_done = load.last == Some((at, step)) && load.waits.is_empty() && load.failed_at != Some(at);
        load.failed_at = Some(at);
        let lots = load.lots.clone();
        let retry = self.step(step).and_then(|s| s.retry);
        let may = retry
            .is_some_and(|r| (r.share.in_fraction() > 0.0 || r.odds.is_some()) && r.back_to == back_to.step);
        if !just_done || !may || back_to.route != step.route {
            self.found
                .of_load(at, FaultKind::Way, no, "is sent back where no inspection does so");
        }
        for lot in lots {
            if let Some(lot) = self.story.lots.get_mut(lot) {
                lot.done &= !lot.way.onward(back_to.step);
            }
        }
    }

    fn ready(&mut self, at: Moment, no: LoadNo) {
        let Some(load) = self.load_in(at, no, Stage::Waiting, "is called ready") else {
            return;
        };
        load.stage = Stage::Ready;
        let (free, lots, idle) = (load.since, load.lots.clone(), load.waits.is_empty());
        let left = self.story.load(no).map_or(0, |l| self.story.pending(l));
        if left != 0 {
            self.found
                .of_load(at, FaultKind::Way, no, "is called ready with steps left to do");
        }
        if at != free || !idle {
            self.found.of_load(
                at,
                FaultKind::Life,
                no,
                "is called ready at another time than it is",
            );
        }
        self.story.ready.extend(lots.into_iter().map(|l| (l, at)));
    }

    fn order_ready(&mut self, at: Moment, order: OrderNo) {
        if let Some(came) = self.story.orders.get_mut(order.0 as usize) {
            if came.ready.is_some() {
                self.found
                    .say(at, FaultKind::Pieces, format!("order {} is ready twice", order.0));
            }
            came.ready = Some(at);
        }
    }
}

/// Time of putting in and of taking out, under hands; none but for steps with hands at their ends.
pub(super) fn transfer(step: &Step) -> (Span, Span) {
    if step.hands == Hands::Ends {
        (step.put_in, step.take_out)
    } else {
        (Span::ZERO, Span::ZERO)
    }
}

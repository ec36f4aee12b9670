//! Storage vessels: a tank is refilled at once with filtered solution, and what was drawn off settles and is filtered
//! while the tank works on.
//!
//! As long as a vessel is not ready the tanks that it serves work on; the exchange is made as soon as it is.

use super::Baths;
use super::care_hands::pouring;
use super::tend::{cleared, half_life};
use crate::day::{Day, Event};
use crate::ids::TankIx;
use crate::kernel::ENDS;
use tankday_base::bath::chemistry::Chemistry;
use tankday_base::bath::settle::time_to_share;
use tankday_base::shop::{Chore, Recipe, Settle, StationId, Stop, VesselId};
use tankday_base::units::{Length, Moment, Quantity, Span, Volume};
use tankday_record::{CareUse, LogEntry, TaskKind};

/// Who has the filter, which is one for the shop.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Filtering {
    Tank(TankIx),
    Vessel(VesselId),
}

/// One vessel under way.
#[derive(Debug, Clone)]
pub(super) struct VesselRun {
    /// What it keeps; none where its bath does not wear.
    bath: Option<Chemistry>,
    /// The moment up to which that is followed.
    at: Moment,
    /// Settling and filtering under way.
    work: Option<Work>,
}

/// Settling and filtering in a vessel.
#[derive(Debug, Clone, Copy)]
struct Work {
    /// The tank that it came from.
    tank: TankIx,
    stop: Stop,
    stage: Stage,
    until: Moment,
    under_hands: bool,
    used: CareUse,
}

/// The stages in their order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Stage {
    Settles,
    Decant,
    SetUpFilter,
    Filters,
    FillBack,
}

impl Stage {
    pub(super) fn task(self) -> Option<TaskKind> {
        match self {
            Self::Settles | Self::Filters => None,
            Self::Decant => Some(TaskKind::Decant),
            Self::SetUpFilter => Some(TaskKind::SetUpFilter),
            Self::FillBack => Some(TaskKind::FillBack),
        }
    }

    fn next(self) -> Option<Self> {
        match self {
            Self::Settles => Some(Self::Decant),
            Self::Decant => Some(Self::SetUpFilter),
            Self::SetUpFilter => Some(Self::Filters),
            Self::Filters => Some(Self::FillBack),
            Self::FillBack => None,
        }
    }
}

impl Baths<'_> {
    pub(crate) fn make_vessels(&mut self, day: &Day<'_>) {
        for vessel in &self.shop.vessels {
            let recipe = &self.shop.baths[vessel.bath.index()];
            self.vessels.push(VesselRun {
                bath: super::chem::filtered(recipe, vessel.filtered),
                at: day.now(),
                work: None,
            });
        }
    }

    /// Whether a rule of care that needs a vessel finds it ready.
    pub(super) fn can_exchange(&self, tank: TankIx, rule: usize) -> bool {
        match self.chore(tank, rule) {
            Chore::Stop(Stop { into: Some(v), .. }) => self.vessels[v].work.is_none() && !self.is_promised(v),
            _ => true,
        }
    }

    /// Whether another tank is being cooled for this vessel.
    fn is_promised(&self, vessel: VesselId) -> bool {
        let waits = |(tank, t): (TankIx, &super::tank::Tank)| {
            let chore = t.care.map(|job| self.chore(tank, job.rule));
            matches!(chore, Some(Chore::Stop(Stop { into: Some(v), .. })) if v == vessel)
        };
        self.tanks.ids().zip(&self.tanks).any(waits)
    }

    pub(super) fn filter_is_taken(&self, by: Filtering) -> bool {
        self.filter.is_some_and(|has| has != by)
    }

    /// The tank is drawn off into the vessel and refilled with what that kept, its volume made good with water.
    pub(super) fn exchange(&mut self, day: &mut Day<'_>, tank: TankIx, stop: &Stop) {
        let Some(into) = stop.into else { return };
        let vessel = into;
        self.follow_vessel(day, vessel);
        let full = self.full(tank);
        let t = &mut self.tanks[tank];
        let kept = &mut self.vessels[vessel].bath;
        let (Some(bath), Some(kept), Some(job)) = (&mut t.chemistry, kept, &mut t.care) else {
            return;
        };
        std::mem::swap(bath, kept);
        // What is foreign stays on walls and in hoses: both hold it from here on.
        let foreign = bath.contaminants.with(kept.contaminants);
        (bath.contaminants, kept.contaminants) = (foreign, foreign);
        let (drawn, refilled) = (t.heat.volume(), bath.volume());
        let water = (full - refilled).max(Volume::ZERO);
        bath.top_up(water);
        t.heat.remove(drawn);
        job.used.drawn_off += drawn;
        job.used.refilled += refilled;
        job.used.water += water;
        let station = t.station;
        self.pour_in(day, tank, refilled + water);
        self.vessels[vessel].work = Some(Work {
            tank,
            stop: *stop,
            stage: Stage::Settles,
            until: Moment::NEVER,
            under_hands: false,
            used: CareUse::default(),
        });
        day.note(|| LogEntry::VesselBegins {
            vessel: into,
            tank: station,
        });
        self.enter_vessel_stage(day, vessel);
    }

    /// What is kept stands closed and cold: it settles, and a little of its iron oxidises.
    fn follow_vessel(&mut self, day: &Day<'_>, vessel: VesselId) {
        let (now, shop) = (day.now(), self.shop);
        let recipe = shop.baths[shop.vessels[vessel.index()].bath.index()].chemistry;
        let v = &mut self.vessels[vessel];
        if let Some(bath) = &mut v.bath {
            let recipe = Recipe {
                settling_half: half_life(&recipe, depth(bath.volume())),
                ..recipe
            };
            bath.idle_for(&recipe, now - v.at);
        }
        v.at = now;
    }

    fn enter_vessel_stage(&mut self, day: &mut Day<'_>, vessel: VesselId) {
        let (stage, stop) = match &self.vessels[vessel].work {
            Some(work) => (work.stage, work.stop),
            None => return,
        };
        let stands = match stage {
            Stage::Settles => self.vessel_settles(vessel, &stop),
            Stage::Filters => self.vessel_filters(day, vessel, &stop),
            Stage::Decant | Stage::SetUpFilter | Stage::FillBack => return,
        };
        let until = day.now() + stands;
        if let Some(work) = &mut self.vessels[vessel].work {
            work.until = until;
        }
        day.schedule(until, ENDS, Event::Vessel(vessel));
    }

    fn vessel_settles(&self, vessel: VesselId, stop: &Stop) -> Span {
        let v = &self.vessels[vessel];
        let recipe = &self.shop.baths[self.shop.vessels[vessel.index()].bath.index()].chemistry;
        match (stop.settle, &v.bath) {
            (Settle::For(time), _) => time,
            (Settle::ClearTo(left), Some(bath)) => {
                time_to_share(half_life(recipe, depth(bath.volume())), left)
            }
            (Settle::ClearTo(_), None) => Span::ZERO,
        }
    }

    fn vessel_filters(&mut self, day: &Day<'_>, vessel: VesselId, stop: &Stop) -> Span {
        self.follow_vessel(day, vessel);
        let Some(bath) = self.vessels[vessel].bath else {
            return Span::ZERO;
        };
        let room = self.shop.air.temperature;
        let (time, media, after) = self.heel_through(&bath, bath.volume(), room, stop);
        self.medium = Some(after);
        if let Some(work) = &mut self.vessels[vessel].work {
            work.used.media += media;
        }
        time
    }

    /// A stage in a vessel is over.
    pub(crate) fn vessel_goes_on(&mut self, day: &mut Day<'_>, vessel: VesselId) {
        self.follow_vessel(day, vessel);
        let Some(work) = self.vessels[vessel].work else {
            return;
        };
        self.vessel_stage_done(vessel, &work);
        let Some(next) = work.stage.next() else {
            return self.vessel_ready(day, vessel);
        };
        if let Some(work) = &mut self.vessels[vessel].work {
            work.stage = next;
            work.under_hands = false;
            work.until = Moment::NEVER;
        }
        self.enter_vessel_stage(day, vessel);
    }

    fn vessel_stage_done(&mut self, vessel: VesselId, work: &Work) {
        let full = self.full(work.tank);
        let v = &mut self.vessels[vessel];
        let (Some(bath), Some(job)) = (&mut v.bath, &mut v.work) else {
            return;
        };
        match work.stage {
            Stage::Filters => self.filter = None,
            Stage::FillBack => {
                cleared(bath, &work.stop, full, &mut job.used);
            }
            Stage::Settles | Stage::Decant | Stage::SetUpFilter => {}
        }
    }

    fn vessel_ready(&mut self, day: &mut Day<'_>, vessel: VesselId) {
        let Some(work) = self.vessels[vessel].work.take() else {
            return;
        };
        let tank = self.plan.tanks[work.tank];
        day.note(|| LogEntry::VesselEnds {
            vessel,
            tank,
            used: Box::new(work.used),
        });
    }

    /// The task that a vessel waits for, and how long it takes.
    fn wants_vessel_care(&self, vessel: VesselId) -> Option<(TaskKind, Span)> {
        let v = &self.vessels[vessel];
        let work = v.work.as_ref().filter(|w| !w.under_hands)?;
        let kind = work.stage.task()?;
        if kind == TaskKind::SetUpFilter && self.filter_is_taken(Filtering::Vessel(vessel)) {
            return None;
        }
        let volume = v.bath.as_ref().map_or(0.0, |b| b.volume().base());
        let flow = work.stop.pour.base();
        let takes = match kind {
            TaskKind::SetUpFilter => work.stop.set_up,
            TaskKind::Decant => pouring(volume * (1.0 - work.stop.heel.in_fraction()), flow),
            _ => pouring(volume, flow),
        };
        Some((kind, takes))
    }

    /// How long hands take for what is to be done at a vessel, if that would be done before closing.
    pub(crate) fn vessel_in_time(&self, day: &Day<'_>, vessel: VesselId) -> Option<Span> {
        let (_, takes) = self.wants_vessel_care(vessel)?;
        (day.now() + takes <= day.closes()).then_some(takes)
    }

    /// Hands turn to a vessel: with what, at which tank, and until when.
    pub(crate) fn take_vessel(
        &mut self,
        day: &Day<'_>,
        vessel: VesselId,
    ) -> Option<(TaskKind, StationId, Moment)> {
        let (kind, takes) = self.wants_vessel_care(vessel)?;
        let until = day.now() + takes;
        let work = self.vessels[vessel].work.as_mut()?;
        work.under_hands = true;
        work.until = until;
        let station = self.plan.tanks[work.tank];
        if kind == TaskKind::SetUpFilter {
            self.filter = Some(Filtering::Vessel(vessel));
        }
        Some((kind, station, until))
    }
}

/// Depth of a volume in a container as high as it is wide.
fn depth(volume: Volume) -> Length {
    Length::metres(libm::cbrt(volume.base() * 4.0 / std::f64::consts::PI))
}

//! What the loop lends its parts: the time, the hours, the calendar of what is due, and the record that is told of it all.

pub(super) use super::shifts::Away;
use super::shifts::{Roster, ShiftBoundary, Shifts};
use crate::ids::{HandIx, LineIx, LoadIx, Of, TankIx};
use crate::kernel::{ENDS, EventCalendar, Handle};
use tankday_base::shop::{OrderId, StationId, VesselId};
use tankday_base::units::{Moment, Span};
use tankday_record::{LogEntry, Looks, Observer};

/// What can be due.
#[derive(Debug, Clone, Copy)]
pub(super) enum Event {
    /// An order of this source comes.
    Arrival(OrderId),
    /// A load has been put in.
    PutIn(LoadIx),
    /// The work on a load, or on the group that it leads, is over.
    Work(LoadIx),
    /// A load has been taken out.
    TakenOut(LoadIx),
    /// A tank has been topped up by these hands.
    ToppedUp(TankIx, HandIx),
    /// The water of a rinse has been renewed by these hands.
    Renewed(StationId, HandIx),
    /// A stage of a tank's care is over that stands by itself.
    Care(TankIx),
    /// Hands are done with a stage of a tank's care.
    Tended(TankIx, HandIx),
    /// A vessel has settled or is filtered.
    Vessel(VesselId),
    /// Hands are done with a stage in a vessel.
    VesselTended(VesselId, HandIx),
    /// A time of day at which care is called for.
    CareClock,
    /// A bath comes to a threshold.
    Bath(TankIx),
    /// A heater is to be switched on.
    HeatOn(TankIx),
    /// The shop opens, closes, or a break begins or ends.
    Hours,
    /// Time to look whether a load has waited long enough for company.
    Look(StationId),
    /// A load has been held back long enough in this line, or hands have walked.
    Hold(Option<LineIx>),
    /// A load that was kept back for want of a place behind the bath may start at this station.
    Kept(StationId),
    /// A bath is from now on as it was read.
    Reading(u32),
    /// Care of a bath is over, as noted.
    Cared(u32),
    /// Water has been made good, as noted.
    Watered(u32),
    /// A load is ready that was so before anything was simulated.
    Ready(LoadIx),
    /// A bath is looked at for the record; changes nothing.
    Sample(TankIx),
}

/// Looking for the record comes last of all at an instant.
pub(super) const LOOKS: u8 = 255;

/// The present moment of a run. Parts read the time and the hours, put things on the calendar, tell the record, and
/// mark stations at which something may start; only the loop moves it on.
pub(super) struct Day<'a> {
    now: Moment,
    agenda: EventCalendar<Event>,
    shifts: Shifts<'a>,
    /// Events pending that move a load.
    moving: u32,
    /// Stations where something may start without hands, and for each whether it is among them.
    marked: Vec<StationId>,
    is_marked: Of<StationId, bool>,
    watcher: &'a mut dyn Observer,
    /// What the watcher wants to see, asked once.
    looks: Looks,
    /// When hands' work or a step was over last.
    last_work: Moment,
}

/// The loop's own side of it.
impl<'a> Day<'a> {
    pub(super) fn new(roster: &'a Roster, stations: usize, watcher: &'a mut dyn Observer) -> Self {
        Self {
            now: Moment::ZERO,
            agenda: EventCalendar::new(),
            shifts: Shifts::new(roster),
            moving: 0,
            marked: Vec::new(),
            is_marked: Of::same(false, stations),
            looks: watcher.looks(),
            watcher,
            last_work: Moment::ZERO,
        }
    }

    /// When the next thing is due.
    #[inline]
    pub(super) fn next_time(&mut self) -> Option<Moment> {
        self.agenda.peek_time()
    }

    #[inline]
    pub(super) fn move_to(&mut self, at: Moment) {
        self.now = at;
    }

    /// What is due next at the present moment.
    #[inline]
    pub(super) fn next_due(&mut self) -> Option<Event> {
        self.agenda.next_until(self.now).map(|(_, due)| due)
    }

    /// An event that moves a load has come.
    #[inline]
    pub(super) fn moved(&mut self) {
        self.moving -= 1;
    }

    #[inline]
    pub(super) fn watcher_has_enough(&self) -> bool {
        self.watcher.has_enough()
    }

    #[inline]
    pub(super) fn watcher_pauses(&self) -> bool {
        self.watcher.pauses()
    }

    /// Puts the next mark of the hours on the calendar.
    #[inline]
    pub(super) fn expect_hours(&mut self) {
        if let Some(at) = self.shifts.next().filter(|at| *at < Moment::NEVER) {
            self.schedule(at, ENDS, Event::Hours);
        }
    }

    /// The shop opens, closes, or a break begins or ends.
    #[inline]
    pub(super) fn pass_mark(&mut self) -> Option<ShiftBoundary> {
        let mark = self.shifts.pass(self.now)?;
        self.expect_hours();
        self.note(|| mark.event());
        Some(mark)
    }

    /// Whether no mark of the hours is to come.
    #[inline]
    pub(super) fn hours_are_over(&self) -> bool {
        self.shifts.next().is_none_or(|at| at == Moment::NEVER)
    }

    /// A station where something may start.
    #[inline]
    pub(super) fn take_marked(&mut self) -> Option<StationId> {
        let station = self.marked.pop()?;
        self.is_marked[station] = false;
        Some(station)
    }

    #[inline]
    pub(super) fn any_marked(&self) -> bool {
        !self.marked.is_empty()
    }

    #[inline]
    pub(super) fn last_work(&self) -> Moment {
        self.last_work
    }
}

/// The time, the calendar, the record.
impl Day<'_> {
    #[inline]
    pub(super) fn now(&self) -> Moment {
        self.now
    }

    #[inline]
    pub(super) fn schedule(&mut self, at: Moment, class: u8, due: Event) -> Handle {
        self.agenda.schedule(at, class, due)
    }

    /// Puts an event that moves a load on the calendar.
    #[inline]
    pub(super) fn move_at(&mut self, at: Moment, due: Event) -> Handle {
        self.moving += 1;
        self.agenda.schedule(at, ENDS, due)
    }

    #[inline]
    pub(super) fn cancel(&mut self, handle: Handle) -> Option<Event> {
        self.agenda.cancel(handle)
    }

    /// Whether any event is pending that moves a load.
    #[inline]
    pub(super) fn any_moving(&self) -> bool {
        self.moving > 0
    }

    /// Remembers that something may start at a station.
    #[inline]
    pub(super) fn mark(&mut self, station: StationId) {
        if !std::mem::replace(&mut self.is_marked[station], true) {
            self.marked.push(station);
        }
    }

    /// Hands' work or a step is over.
    #[inline]
    pub(super) fn work_is_over(&mut self) {
        self.last_work = self.now;
    }

    #[inline]
    pub(super) fn note(&mut self, event: impl FnOnce() -> LogEntry) {
        if self.looks != Looks::Nothing {
            self.watcher.note(self.now, event());
        }
    }

    /// Whether the record is told anything.
    #[inline]
    pub(super) fn is_told(&self) -> bool {
        self.looks != Looks::Nothing
    }

    /// Whether the record wants to see how baths stand.
    #[inline]
    pub(super) fn sees_baths(&self) -> bool {
        self.looks == Looks::EventsAndBaths
    }
}

/// The hours.
impl<'a> Day<'a> {
    /// Whether it is working time.
    #[inline]
    pub(super) fn on_duty(&self) -> bool {
        self.shifts.on_duty()
    }

    /// Whether the shop is closed for the day.
    #[inline]
    pub(super) fn is_over(&self) -> bool {
        self.shifts.is_over(self.now)
    }

    /// When the present day closes.
    #[inline]
    pub(super) fn closes(&self) -> Moment {
        self.shifts.closes()
    }

    /// Whether the shop has opened since then.
    #[inline]
    pub(super) fn opened_since(&self, then: Moment) -> bool {
        self.shifts.opened_since(then)
    }

    /// Whether the shop has closed since then.
    #[inline]
    pub(super) fn closed_since(&self, then: Moment) -> bool {
        self.shifts.closed_since(then)
    }

    /// Whether the mark passed before the last one was an opening.
    #[inline]
    pub(super) fn opened_before(&self) -> bool {
        self.shifts.opened_before()
    }

    /// The first moment from one on at which somebody works.
    #[inline]
    pub(super) fn next_opening(&self, at: Moment) -> Option<Moment> {
        self.shifts.next_opening(at)
    }

    /// The last moment up to one at which somebody works.
    #[inline]
    pub(super) fn works_until(&self, at: Moment) -> Moment {
        self.shifts.works_until(at)
    }

    /// When somebody is back at work.
    #[inline]
    pub(super) fn back_on_duty(&self) -> Moment {
        self.next_opening(self.now).unwrap_or(Moment::NEVER)
    }

    /// In a break, and for a while after closing.
    #[inline]
    pub(super) fn somebody_stays(&self) -> bool {
        self.shifts.somebody_stays(self.now)
    }

    /// The time without anybody that is now, or comes next.
    #[inline]
    pub(super) fn coming_away(&self) -> Option<Away> {
        self.shifts.coming_away(self.now)
    }

    /// Whether nobody is there now, by the hours alone.
    #[inline]
    pub(super) fn away(&self) -> Option<Away> {
        self.coming_away().filter(|a| a.from <= self.now)
    }

    /// Whether somebody is there now, as far as the hours have passed.
    #[inline]
    pub(super) fn stays(&self) -> bool {
        self.shifts.stays(self.now)
    }

    /// Breaks that nobody stays for, in order.
    #[inline]
    pub(super) fn alone_in_breaks(&self) -> impl Iterator<Item = &'a Away> + Clone {
        self.shifts.alone_in_breaks()
    }

    /// The first break that began in a stretch and that nobody stayed for.
    #[inline]
    pub(super) fn first_break_within(&self, from: Moment, until: Moment) -> Option<&'a Away> {
        self.shifts.first_break_within(from, until)
    }

    /// Before what moment a load must be out of its bath: a break that nobody stays for.
    #[inline]
    pub(super) fn out_before(&self) -> Option<Moment> {
        self.coming_away().filter(|a| a.in_break).map(|a| a.from)
    }

    /// The latest moment at which a load must be lifted that can be lifted from `over` on: before the next break that nobody
    /// stays for, if it can be.
    #[inline]
    pub(super) fn lifted_by(&self, over: Moment, latest: Moment, take_out: Span) -> Moment {
        let by = self.out_before().map(|from| from - take_out);
        by.filter(|by| *by >= over).map_or(latest, |by| by.min(latest))
    }
}

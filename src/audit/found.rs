//! What an audit finds.

use tankday_base::shop::{Shop, StationId, StepRef};
use tankday_base::units::Moment;
use tankday_record::{Labels, LoadNo, Record};

/// What sort of thing is wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FaultKind {
    /// Time runs backwards.
    Time,
    /// Something is named that does not exist.
    Unknown,
    /// The shop's hours are not those of its calendar, or hands work outside of them.
    Hours,
    /// An order, or pieces of it, came, went or vanished without reason.
    Pieces,
    /// A load does what it cannot do where it is.
    Life,
    /// A step out of order, or done twice, or left out.
    Way,
    /// A step, a dwell, putting in or taking out takes another time than it should.
    Duration,
    /// More loads at a station than it has places.
    Places,
    /// A load too large for its tank.
    Room,
    /// Hands in two places, work without hands, or hands without work.
    Hands,
    /// A limit not kept and not reported, or reported without reason.
    Limit,
    /// A load went into a bath outside its band.
    Band,
    /// Heat does not add up.
    Energy,
    /// Water does not add up.
    Water,
    /// The water of a rinse does not have the strength that follows from what was brought in.
    Rinse,
    /// Inspection finds what it cannot find, or does not say what it finds.
    Inspection,
    /// A heater gives what it cannot give.
    Heater,
    /// Something that was due was left undone.
    Undone,
    /// The written day sheet says something else than the record.
    Sheet,
    /// A rule that keeps people from harm was broken, and the day does not say so.
    Safety,
}

/// One thing in a record that cannot be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// When.
    pub at: Moment,
    /// What sort of thing.
    pub kind: FaultKind,
    /// A plain sentence, ready to be shown.
    pub text: String,
}

/// Faults so far, and the names of things for their sentences.
pub(super) struct Findings<'a> {
    shop: &'a Shop,
    labels: Labels,
    faults: Vec<Fault>,
}

impl<'a> Findings<'a> {
    pub(super) fn new(shop: &'a Shop, record: &Record) -> Self {
        Self {
            shop,
            labels: Labels::of(shop, record),
            faults: Vec::new(),
        }
    }

    pub(super) fn say(&mut self, at: Moment, kind: FaultKind, text: impl Into<String>) {
        self.faults.push(Fault {
            at,
            kind,
            text: text.into(),
        });
    }

    /// A fault of a load: `text` goes on behind its name.
    pub(super) fn of_load(&mut self, at: Moment, kind: FaultKind, load: LoadNo, text: &str) {
        let text = format!("load {} ({}) {text}", load.0, self.labels.lot(load));
        self.say(at, kind, text);
    }

    pub(super) fn station(&self, station: StationId) -> String {
        self.shop
            .stations
            .get(station.index())
            .map_or_else(|| format!("station {}", station.0), |s| s.name.clone())
    }

    pub(super) fn step(&self, at: StepRef) -> String {
        let route = self.shop.routes.get(at.route.index());
        let step = route.and_then(|r| r.steps.get(at.step.index()));
        step.map_or_else(|| format!("step {}", at.step.0), |s| s.name.clone())
    }

    pub(super) fn is_empty(&self) -> bool {
        self.faults.is_empty()
    }

    pub(super) fn sorted(mut self) -> Vec<Fault> {
        self.faults.sort_by_key(|f| f.at);
        self.faults
    }
}

//! Care of the baths, row by row.

use super::act::{Act, Doing};
use super::caution::StepCaution;
use super::rows::Maker;
use super::stages::Stage;
use super::tasks::SheetTask;
use super::to_note::ToNote;
use super::{Row, RowKind};
use tankday_base::bath::HOT;
use tankday_base::print::{capital, clock_or_date, how_long};
use tankday_base::shop::{Chore, StationId, Trimming, VesselId};
use tankday_base::units::Moment;
use tankday_record::{
    CareKind, CareUse, HeaterState, LogEntry, Record, Task, TaskKind, Warning, WarningKind,
};

/// Care of a tank from beginning to end; never-ending where the record ends before.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cared {
    pub(super) tank: StationId,
    pub(super) kind: CareKind,
    pub(super) from: Moment,
    pub(super) to: Moment,
    pub(super) used: CareUse,
    /// The vessel that it needs, or in which it goes on.
    pub(super) vessel: Option<VesselId>,
    /// Whether it goes on in the vessel, while the tank works.
    pub(super) outside: bool,
}

/// All of a record, in order of beginning.
pub(super) fn cares(record: &Record) -> Vec<Cared> {
    let mut cares: Vec<Cared> = Vec::new();
    for entry in &record.entries {
        match &entry.event {
            LogEntry::CareBegins { tank, care } => cares.push(begun(*tank, *care, entry.at)),
            LogEntry::CareEnds { tank, used, .. } => {
                let own = |c: &&mut Cared| c.tank == *tank && !c.outside;
                if let Some(open) = cares.iter_mut().rev().find(own) {
                    (open.to, open.used) = (entry.at, **used);
                }
            }
            LogEntry::VesselBegins { vessel, tank } => {
                let own = |c: &&mut Cared| c.tank == *tank && !c.outside;
                if let Some(exchange) = cares.iter_mut().rev().find(own) {
                    exchange.vessel = Some(*vessel);
                }
                cares.push(Cared {
                    vessel: Some(*vessel),
                    outside: true,
                    ..begun(*tank, CareKind::Exchange, entry.at)
                });
            }
            LogEntry::VesselEnds { vessel, used, .. } => {
                let same = |c: &&mut Cared| c.outside && c.vessel == Some(*vessel);
                if let Some(open) = cares.iter_mut().rev().find(same) {
                    (open.to, open.used) = (entry.at, **used);
                }
            }
            _ => {}
        }
    }
    cares
}

fn begun(tank: StationId, kind: CareKind, from: Moment) -> Cared {
    Cared {
        tank,
        kind,
        from,
        to: Moment::NEVER,
        used: CareUse::default(),
        vessel: None,
        outside: false,
    }
}

impl Maker<'_> {
    /// What hands do in the care of a bath.
    pub(super) fn care(&self, deed: &SheetTask, task: &Task) -> Row {
        let name = self.station(task.station);
        let care = self.care_of(deed, task);
        let used = care.map(|c| c.used).unwrap_or_default();
        let vessel = care.and_then(|c| c.vessel).map(|v| self.vessel(v));
        // What stands in a vessel beside the tank has cooled.
        let hot = vessel.is_none() && self.is_hot(task.station, deed.from);
        let goes_on = self.next_stage(deed, task, care);
        // A filter that is through some time in the night has no length that anybody could tell.
        let is_told = task.kind != TaskKind::SetUpFilter || goes_on.is_some_and(|at| same_day(at, deed.to));
        let stage = Stage {
            hot,
            name: &name,
            kind: task.kind,
            care: care.map(|c| c.kind),
            used: &used,
            lasts: goes_on.map_or(deed.takes, |at| at - deed.to),
            runs: self.runs(deed, goes_on),
            hands: deed.takes,
        };
        let said = match &vessel {
            Some(vessel) => stage.in_vessel(vessel),
            None => stage.in_tank(self.chemical(task.kind, care)),
        };
        let doing = Doing {
            amounts: said.amounts,
            ..Doing::at(said.act, &name).lasting(is_told.then_some(stage.lasts))
        };
        let mut cautions = vec![match said.caution {
            StepCaution::Waste if hot => StepCaution::HotHandled,
            other => other,
        }];
        cautions.extend(self.too_hot(task.station, deed.from));
        let adds = matches!(
            task.kind,
            TaskKind::AddConcentrate | TaskKind::TrimRatio | TaskKind::PutWoolIn
        );
        if adds && self.is_hot(task.station, deed.from) {
            cautions.push(StepCaution::TopUp);
        }
        let to_note = care.and_then(|care| of_note(task, care, &name));
        Row {
            cautions,
            at_bath: true,
            to_note: to_note.into_iter().collect(),
            ..self.by_hand(deed, said.words, doing)
        }
    }

    /// How long a filter runs, as far as it can be told: when hands fill back on another day it was through some time before.
    fn runs(&self, deed: &SheetTask, goes_on: Option<Moment>) -> String {
        match goes_on {
            None => "and is not through when the days are over".to_owned(),
            Some(at) if !same_day(at, deed.to) => {
                format!("and is through by {}", clock_or_date(&self.shop.calendar, at))
            }
            Some(at) => how_long(at - deed.to),
        }
    }

    /// When hands go on with care where a stage of it goes on by itself: the wool lasts until what is left of it is taken out,
    /// the filter until the bath is filled back. None for other stages, and where the record ends before.
    fn next_stage(&self, deed: &SheetTask, task: &Task, care: Option<&Cared>) -> Option<Moment> {
        let next = match task.kind {
            TaskKind::PutWoolIn => TaskKind::TakeWoolOut,
            TaskKind::SetUpFilter => TaskKind::FillBack,
            _ => return None,
        };
        let until = care.map_or(Moment::NEVER, |c| c.to);
        let later = self
            .record
            .entries
            .iter()
            .filter(|e| e.at >= deed.to && e.at <= until);
        let mut begins = later.filter_map(|e| match e.event {
            LogEntry::HandsTake { task: t, .. } if t == Task { kind: next, ..*task } => Some(e.at),
            _ => None,
        });
        begins.next()
    }

    /// What is added to trim a bath, as the shop's rules have it.
    fn chemical(&self, kind: TaskKind, care: Option<&Cared>) -> Option<Trimming> {
        let lowers = care.is_some_and(|c| c.kind == CareKind::LowerRatio);
        let mut all = self.shop.rules.care.iter().filter_map(|rule| match rule.chore {
            Chore::Trim { by, .. } => Some(by),
            _ => None,
        });
        let fits = |by: &Trimming| matches!(by, Trimming::PhosphoricAcid(_)) == lowers;
        all.find(|by| kind == TaskKind::TrimRatio && fits(by))
    }

    /// The care that a task belongs to: of the tank itself, or of what was drawn off it into a vessel.
    fn care_of(&self, deed: &SheetTask, task: &Task) -> Option<&Cared> {
        let fits = |c: &&Cared| {
            let meanwhile = c.tank == task.station && c.from <= deed.from && deed.to <= c.to;
            let here = c.outside == task.vessel.is_some() && (!c.outside || c.vessel == task.vessel);
            meanwhile && here && belongs(task.kind, c)
        };
        self.cares.iter().find(fits)
    }

    /// What is warned of where something is added to a bath that is too hot for it.
    fn too_hot(&self, tank: StationId, when: Moment) -> Option<StepCaution> {
        let here = |w: &&Warning| w.at.iter().any(|c| c.station == Some(tank) && c.at == when);
        let caution = |kind| match kind {
            WarningKind::HotSolids => Some(StepCaution::HotSolids),
            WarningKind::HotConcentrate => Some(StepCaution::HotConcentrate),
            _ => None,
        };
        let mut warnings = self.figures.warnings.iter().filter(here);
        warnings.find_map(|w| caution(w.kind))
    }

    fn vessel(&self, id: VesselId) -> String {
        let vessel = self.shop.vessels.get(id.index());
        vessel.map_or(String::new(), |v| v.name.clone())
    }

    /// Whether a bath scalds at a moment, by what was last read of it.
    fn is_hot(&self, id: StationId, when: Moment) -> bool {
        let until = self.record.entries.iter().take_while(|e| e.at <= when);
        let read = until.filter_map(|e| match &e.event {
            LogEntry::Bath { tank, sample } if *tank == id => Some(sample.temperature),
            _ => None,
        });
        read.last().is_some_and(|t| t > HOT)
    }

    /// Whether a heater is on just before a moment.
    fn is_on_before(&self, id: StationId, when: Moment) -> bool {
        let before = self.record.entries.iter().filter(|e| e.at < when).rev();
        let state = before.filter_map(|e| match &e.event {
            LogEntry::Bath { tank, sample } if *tank == id => Some(sample.heater),
            _ => None,
        });
        state.take(1).any(|heater| heater != HeaterState::Off)
    }

    /// A bath that is to cool is left to it.
    pub(super) fn stops(&self) -> Vec<Row> {
        let stops = self.cares.iter().filter(|c| c.kind.is_stop() && !c.outside);
        stops.map(|c| self.stop(c)).collect()
    }

    fn stop(&self, care: &Cared) -> Row {
        let name = self.station(care.tank);
        let (what, aim) = match care.kind {
            CareKind::Filter => ("cools and settles for the filter", "filtered"),
            CareKind::Settle => ("cools and settles", "settled"),
            CareKind::Exchange => ("cools to be exchanged", "exchanged"),
            _ => ("cools to be renewed", "renewed"),
        };
        let was_on = self.is_on_before(care.tank, care.from);
        let lid = match self.is_open_at(care.tank, care.from) {
            true => ", lid off while somebody is there, then on",
            false => "",
        };
        let mut words = if was_on {
            format!("heater off{lid}, nothing more goes in; it {what}")
        } else {
            format!("heater stays off{lid}, nothing goes in until it is {aim}")
        };
        // Where they begin at once nothing is left alone.
        let hands = self.hands_come(care).filter(|at| *at > care.from);
        if let Some(at) = hands {
            let left = if was_on { "" } else { "; left alone" };
            words.push_str(&format!("{left} until {}", self.clock(at, care.from)));
        }
        let waits = Doing::at(Act::Care, &name).lasting(hands.map(|at| at - care.from));
        let off = was_on.then(|| Doing::at(Act::HeaterOff, &name));
        Row {
            doings: off.into_iter().chain([waits.clone()]).collect(),
            cautions: vec![StepCaution::Waste],
            at_bath: true,
            ..Row::plain(
                care.from,
                RowKind::SheetTask,
                format!("{}: {words}", capital(&name)),
                waits,
            )
        }
    }

    /// When hands come for the first stage of a stop.
    fn hands_come(&self, care: &Cared) -> Option<Moment> {
        let own = |t: &Task| t.station == care.tank && t.vessel.is_none() && is_stage(t.kind);
        let later = self
            .record
            .entries
            .iter()
            .filter(|e| e.at >= care.from && e.at <= care.to);
        later
            .filter_map(|e| match e.event {
                LogEntry::HandsTake { task, .. } if own(&task) => Some(e.at),
                _ => None,
            })
            .next()
    }
}

fn same_day(a: Moment, b: Moment) -> bool {
    a.day_and_time().0 == b.day_and_time().0
}

/// Whether a task can be a stage of a care: one may end at the moment at which the next begins.
fn belongs(task: TaskKind, care: &Cared) -> bool {
    use CareKind::{
        Condition, Exchange, Filter, LowerRatio, RaiseRatio, Renew, RenewHalf, Replenish, Settle,
    };
    let inside: &[CareKind] = match task {
        TaskKind::AddConcentrate => &[Replenish],
        TaskKind::TrimRatio => &[RaiseRatio, LowerRatio],
        TaskKind::PutWoolIn | TaskKind::TakeWoolOut => &[Condition],
        TaskKind::Exchange => &[Exchange],
        TaskKind::MakeUpAnew => &[RenewHalf, Renew],
        TaskKind::Decant | TaskKind::SetUpFilter | TaskKind::FillBack if care.outside => return true,
        TaskKind::Decant | TaskKind::SetUpFilter | TaskKind::FillBack => &[Filter, Settle],
        _ => &[],
    };
    !care.outside && inside.contains(&care.kind)
}

/// What a stage of care adds to the notes: with its last stage the care is done, and wool that is in is not put in again.
/// Nothing of the other stages, and of what goes on in a vessel: notes have no word for them.
fn of_note(task: &Task, care: &Cared, tank: &str) -> Option<ToNote> {
    let last = match care.kind {
        CareKind::Condition => TaskKind::TakeWoolOut,
        CareKind::Filter | CareKind::Settle => TaskKind::FillBack,
        _ => task.kind,
    };
    let begun = task.kind == TaskKind::PutWoolIn;
    (!care.outside && (begun || task.kind == last)).then(|| ToNote::Care {
        tank: tank.to_owned(),
        what: care.kind.words(),
        begun,
    })
}

/// Whether a task is a stage of a stop.
fn is_stage(kind: TaskKind) -> bool {
    matches!(
        kind,
        TaskKind::Decant
            | TaskKind::SetUpFilter
            | TaskKind::FillBack
            | TaskKind::MakeUpAnew
            | TaskKind::Exchange
    )
}

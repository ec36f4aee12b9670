//! What hands do, line by line.

use super::act::{Act, Amount, Doing};
use super::caution::StepCaution;
use super::rows::Maker;
use super::tasks::{SheetTask, Taken, is_tank};
use super::to_note::ToNote;
use super::{Row, RowKind};
use crate::narrative::look_for;
use tankday_base::print::{capital, how_long, list, litres, number, pieces_of};
use tankday_base::shop::Hands;
use tankday_base::units::{Area, Mass, Moment, Span};
use tankday_record::{Breach, DwellRange, LoadNo, TankLoad, Task, TaskKind, Visit, WarningKind};

/// A step longer than this leaves hands free: the line then says how long they are busy, too.
const LONG: Span = Span::whole_minutes(90);

/// A minute in microseconds.
const MINUTE: i64 = 60_000_000;

/// The number of the minute in which a moment lies.
fn minute(at: Moment) -> i64 {
    at.in_micros().div_euclid(MINUTE)
}

/// The first whole minute from which a load may come out; none where that is the minute of its line anyhow.
fn earliest(may: Moment, out: Moment) -> Option<Moment> {
    let minute = -(-may.in_micros()).div_euclid(MINUTE);
    (minute < out.in_micros().div_euclid(MINUTE)).then(|| Moment::micros(minute * MINUTE))
}

impl Maker<'_> {
    /// The row of deeds that stand in one line; none if there are none.
    pub(super) fn line(&self, line: &[SheetTask]) -> Option<Row> {
        let (deed, rest) = line.split_first()?;
        let first = deed.tasks().next()?;
        Some(match (deed.load(), first.kind) {
            _ if !rest.is_empty() => self.handling(line),
            (Some(load), TaskKind::PutIn) if is_tank(self.shop, first) => self.charge(deed, load),
            (Some(load), TaskKind::TakeOut) if is_tank(self.shop, first) => self.out_of_tank(deed, load),
            (Some(_), _) => self.handling(line),
            (None, TaskKind::Renew) => self.renew(deed),
            (None, TaskKind::TopUp) => self.top_up(deed),
            (None, _) => self.care(deed, first),
        })
    }

    /// A row with what every deed with a load has.
    fn row(&self, line: &[SheetTask], words: String, doings: Vec<Doing>) -> Row {
        let from = line.iter().map(|d| d.from).min().unwrap_or_default();
        let mut cautions: Vec<StepCaution> = line.iter().flat_map(|d| self.cautions(d)).collect();
        StepCaution::in_order(&mut cautions);
        Row {
            at: from,
            until: line.iter().map(|d| d.to).max(),
            kind: RowKind::SheetTask,
            deed: words,
            doings,
            hands: Some(line.iter().map(|d| d.takes).sum()),
            earliest: None,
            latest: None,
            cautions,
            hydrogen: line
                .iter()
                .any(|d| d.load().is_some_and(|l| self.hydrogen(l, d.from))),
            at_bath: false,
            calls: false,
            to_note: line.iter().flat_map(|d| self.noted(d, from)).collect(),
        }
    }

    /// What a deed adds to the notes, counted from the beginning of its line.
    fn noted(&self, deed: &SheetTask, from: Moment) -> Vec<ToNote> {
        let mut notes = self.to_note(deed);
        for note in &mut notes {
            if let ToNote::Step { after, .. } = note {
                *after += deed.from - from;
            }
        }
        notes
    }

    /// The act of a task with a load.
    fn doing(&self, deed: &SheetTask, taken: &Taken) -> Option<Doing> {
        let task = &taken.task;
        let (load, _) = task.load?;
        let act = match (task.kind, is_tank(self.shop, task)) {
            (TaskKind::TakeOut, true) => Act::TakeOut,
            (TaskKind::TakeOut, false) => Act::Take,
            (TaskKind::PutIn, true) => Act::PutIn,
            _ => Act::Start,
        };
        let begins = matches!(act, Act::PutIn | Act::Start);
        let visit = self.visit_of(taken).filter(|v| begins && v.begins.is_some());
        Some(Doing {
            load: self.labels.at(load, deed.from).to_owned(),
            part: self.parts(load, deed.from),
            pieces: self.cargo.pieces_at(load, deed.from),
            step: visit.map(|v| v.planned),
            ..Doing::at(act, &self.station(task.station))
        })
    }

    fn doings(&self, deed: &SheetTask) -> Vec<Doing> {
        deed.taken.iter().filter_map(|t| self.doing(deed, t)).collect()
    }

    /// The stay that a task begins or ends. The same step may be done twice in one deed, where inspection sends a load back.
    fn visit_of(&self, taken: &Taken) -> Option<&Visit> {
        let (load, step) = taken.task.load?;
        let mut visits = self.ways.get(&load)?.visits.iter().filter(|v| v.step == step);
        match taken.task.kind {
            TaskKind::TakeOut => visits.find(|v| v.lift == Some(taken.at)),
            _ => visits.find(|v| v.set_in == taken.at),
        }
    }

    fn charge(&self, deed: &SheetTask, load: LoadNo) -> Row {
        let doings = self.doings(deed);
        let (tank, dwell) = doings
            .first()
            .map_or((String::new(), None), |d| (d.station.clone(), d.step));
        let kinds = self.cargo.parts_at(self.shop, load, deed.from);
        let counts: Vec<String> = kinds.iter().map(|(_, p, n)| pieces_of(*n, &p.name)).collect();
        let area: Area = kinds.iter().map(|(_, p, n)| p.area * f64::from(*n)).sum();
        let mass: Mass = kinds.iter().map(|(_, p, n)| p.mass * f64::from(*n)).sum();
        let words = format!(
            "{} into the {tank}{}, {}, {} dm², {} kg",
            self.labels.at(load, deed.from),
            dwell.map_or(String::new(), |d| format!(" for {}", how_long(d))),
            list(&counts),
            number(area.in_square_decimetres(), 1),
            number(mass.in_kilograms(), 1),
        );
        let known = self.before.get(&load).into_iter().flatten().copied();
        let mut cautions: Vec<StepCaution> = std::iter::once(StepCaution::Foam).chain(known).collect();
        cautions.extend(self.of_lift(load));
        cautions.extend(self.turned(deed, load));
        let steps = deed.tasks().filter_map(|t| t.load);
        cautions.extend(steps.flat_map(|(load, s)| self.of_step(load, s)));
        // What has waited too long is told before what its bath calls for.
        let waited: Vec<StepCaution> = deed.tasks().filter_map(|t| self.breached(t)).collect();
        cautions.splice(0..0, waited);
        StepCaution::in_order(&mut cautions);
        Row {
            at_bath: true,
            cautions,
            ..self.row(std::slice::from_ref(deed), words, doings)
        }
    }

    /// `L1 out, when the fizzing has all but stopped, not before 08:12, at the latest 08:36; rinse 2 min`.
    fn out_of_tank(&self, deed: &SheetTask, load: LoadNo) -> Row {
        let mut words = format!("{} out", self.labels.at(load, deed.from));
        let doings = self.doings(deed);
        let range = self.range(deed, load);
        let earliest = range.and_then(|(begins, range)| earliest(begins + range.quick, deed.from));
        let latest = deed.taken.first().and_then(|t| self.latest(t));
        // What should be out already waits for no sign of its gas.
        let passed = latest.filter(|at| minute(*at) < minute(deed.from));
        let earliest = earliest.filter(|_| passed.is_none());
        let when = match passed {
            Some(at) => [
                Some(format!("at once: the latest was {}", self.clock(at, deed.from))),
                None,
                None,
            ],
            None => [
                range.map(|(_, range)| look_for(range).to_owned()),
                earliest.map(|at| format!("not before {}", self.clock(at, deed.from))),
                latest.map(|at| format!("at the latest {}", self.clock(at, deed.from))),
            ],
        };
        for words_of in when.iter().flatten() {
            words.push_str(&format!(", {words_of}"));
        }
        let gap = if when.iter().any(Option::is_some) {
            "; "
        } else {
            ", "
        };
        for (nth, task) in deed.taken.iter().skip(1).enumerate() {
            words.push_str(if nth == 0 { gap } else { ", " });
            words.push_str(&self.begins(deed, task, ""));
        }
        if deed.taken.iter().any(|t| self.leaves_free(t)) {
            words.push_str(&format!("; you: {}", how_long(deed.takes)));
        }
        let tank = deed.taken.first().map(|t| t.task.station);
        if tank.is_some_and(|t| self.has_lid(t) && self.is_covered_behind(t, (deed.from, deed.to))) {
            words.push_str("; lid on");
        }
        Row {
            kind: RowKind::Pressing,
            at_bath: true,
            earliest,
            latest,
            ..self.row(std::slice::from_ref(deed), words, doings)
        }
    }

    /// When the stay that a deed ends began, and between which times its load is done.
    fn range(&self, deed: &SheetTask, load: LoadNo) -> Option<(Moment, &DwellRange)> {
        let own = |l: &&TankLoad| l.load == load && l.out == Some(deed.from);
        let stay = self.figures.loads.iter().find(own)?;
        Some((stay.begins, stay.range.as_ref()?))
    }

    /// Work away from baths: each task in its turn, and who it is about where that changes.
    fn handling(&self, line: &[SheetTask]) -> Row {
        let mut clauses: Vec<String> = Vec::new();
        let (mut named, mut last, mut free) = (Vec::new(), None, false);
        for (deed, taken) in line.iter().flat_map(|d| d.taken.iter().map(move |t| (d, t))) {
            let task = &taken.task;
            let Some((load, _)) = task.load else { continue };
            let label = self.labels.at(load, deed.from);
            let who = match () {
                () if last == Some(load) => String::new(),
                () if named.contains(&load) => format!(" {label}"),
                () => format!(" {label}, {}", self.parts(load, deed.from)),
            };
            named.push(load);
            clauses.push(if task.kind == TaskKind::TakeOut {
                let comma = if who.contains(", ") { "," } else { "" };
                let who = if who.is_empty() { " it" } else { who.as_str() };
                let by = self.latest(taken).map(|at| self.by(at, deed.from));
                let by = by.unwrap_or_default();
                format!("take{who}{comma} from the {}{by}", self.station(task.station))
            } else {
                self.begins(deed, taken, &who)
            });
            free |= self.leaves_free(taken);
            last = Some(load);
        }
        let hands: Span = line.iter().map(|d| d.takes).sum();
        if free {
            clauses.push(format!("you: {}", how_long(hands)));
        }
        let doings = line.iter().flat_map(|d| self.doings(d)).collect();
        Row {
            latest: line
                .iter()
                .flat_map(|d| &d.taken)
                .filter_map(|t| self.latest(t))
                .min(),
            ..self.row(line, capital(&clauses.join("; ")), doings)
        }
    }

    fn by(&self, latest: Moment, now: Moment) -> String {
        let at = self.clock(latest, now);
        match minute(latest) < minute(now) {
            true => format!(" at once, the latest was {at}"),
            false => format!(" by {at}"),
        }
    }

    /// Until when a load may stay at a station that it is taken from, where its route says so: in acid, say.
    fn latest(&self, taken: &Taken) -> Option<Moment> {
        let visit = self
            .visit_of(taken)
            .filter(|_| taken.task.kind == TaskKind::TakeOut)?;
        Some(visit.begins? + visit.most?)
    }

    /// `dry A1, wood screws, 5 min at the bench`: the step that a task begins, how long it lasts, and where it stays by
    /// itself; on which day it comes out, if that is another.
    fn begins(&self, deed: &SheetTask, taken: &Taken, who: &str) -> String {
        let task = &taken.task;
        let step = task.load.and_then(|(_, s)| self.shop.find_step(s));
        let visit = self.visit_of(taken);
        let name = step.map_or("", |s| s.name.as_str());
        let mut words = format!("{name}{who}");
        if let Some(visit) = visit.filter(|v| v.begins.is_some()) {
            let gap = if who.is_empty() { " " } else { ", " };
            words.push_str(&format!("{gap}{}", how_long(visit.planned)));
        }
        let alone = step.is_some_and(|s| s.hands == Hands::Ends);
        if alone && !is_tank(self.shop, deed.tasks().next().unwrap_or(task)) {
            words.push_str(&format!(" at the {}", self.station(task.station)));
        }
        if let Some(heat) = step.and_then(|s| s.relief?.heat) {
            words.push_str(&format!(", {} °C", number(heat.in_celsius(), 0)));
        }
        let out = visit.and_then(|v| v.lift).filter(|_| alone);
        if let Some(out) = out.filter(|out| out.day_and_time().0 != deed.from.day_and_time().0) {
            words.push_str(&format!(", out {}", self.clock(out, deed.from)));
        }
        words
    }

    /// Whether a task begins a long step in which hands are free.
    fn leaves_free(&self, taken: &Taken) -> bool {
        taken.task.kind == TaskKind::PutIn && self.visit_of(taken).is_some_and(|v| v.planned > LONG)
    }

    fn renew(&self, deed: &SheetTask) -> Row {
        let name = self.station_of(deed);
        let rinse = deed
            .tasks()
            .next()
            .and_then(|t| self.shop.stations.get(t.station.index())?.rinse);
        let water = rinse.map(|r| Amount::litres(r.fill * f64::from(r.tubs)));
        let words = match &water {
            Some(water) => format!(
                "Renew the {name}: drain {water} into the waste drum, fill with {water} of clean water, {}",
                how_long(deed.takes)
            ),
            None => format!("Renew the {name}, {}", how_long(deed.takes)),
        };
        let doing = Doing {
            amounts: water.into_iter().flat_map(|w| [w.clone(), w]).collect(),
            ..Doing::at(Act::RenewRinse, &name).lasting(Some(deed.takes))
        };
        Row {
            cautions: vec![StepCaution::SpentRinse],
            ..self.by_hand(deed, words, doing)
        }
    }

    /// A row of care, with no load.
    pub(super) fn by_hand(&self, deed: &SheetTask, words: String, doing: Doing) -> Row {
        Row {
            until: Some(deed.to),
            hands: Some(deed.takes),
            ..Row::plain(deed.from, RowKind::SheetTask, words, doing)
        }
    }

    fn top_up(&self, deed: &SheetTask) -> Row {
        let tank = deed.tasks().next().map(|t| t.station);
        let done = self
            .top_ups
            .iter()
            .find(|t| Some(t.tank) == tank && t.from >= deed.from && t.to <= deed.to);
        let water = done.map_or(String::new(), |t| {
            format!(", {} of distilled water", litres(t.volume))
        });
        let name = tank.map_or(String::new(), |t| self.station(t));
        let words = format!("Top up the {name}{water}, {}", how_long(deed.takes));
        let doing = Doing {
            amounts: done.map(|t| Amount::litres(t.volume)).into_iter().collect(),
            ..Doing::at(Act::TopUp, &name).lasting(Some(deed.takes))
        };
        let to_note = done.map(|t| ToNote::TopUp {
            tank: name,
            litres: number(t.volume.in_litres(), 1),
        });
        Row {
            cautions: vec![StepCaution::TopUp],
            at_bath: true,
            to_note: to_note.into_iter().collect(),
            ..self.by_hand(deed, words, doing)
        }
    }

    fn cautions(&self, deed: &SheetTask) -> Vec<StepCaution> {
        let done = deed.tasks().filter(|t| t.kind != TaskKind::TakeOut);
        let steps = done.filter_map(|t| t.load);
        let mut cautions: Vec<StepCaution> = steps.flat_map(|(load, s)| self.of_step(load, s)).collect();
        cautions.extend(deed.tasks().filter_map(|t| self.breached(t)));
        let left = deed.tasks().any(|t| self.left_hot(t));
        cautions.extend(left.then_some(StepCaution::HotAlone));
        StepCaution::in_order(&mut cautions);
        cautions
    }

    /// Whether a task begins a step in something hot that goes on when nobody is there.
    fn left_hot(&self, task: &Task) -> bool {
        let warned = self.figures.warnings.iter();
        let mut warned = warned
            .filter(|w| w.kind == WarningKind::HotStepAlone)
            .flat_map(|w| &w.at);
        let begins = task.kind != TaskKind::TakeOut;
        begins && warned.any(|c| c.load.zip(c.step) == task.load)
    }

    /// What was not kept: a wait where the step begins, a stay where it ends.
    fn breached(&self, task: &Task) -> Option<StepCaution> {
        let (load, step) = task.load?;
        let out = task.kind == TaskKind::TakeOut;
        match self.breaches.get(&(load, step))? {
            Breach::StayedTooLong { .. } if task.kind != TaskKind::PutIn => {
                Some(match is_tank(self.shop, task) {
                    true => StepCaution::StayedTooLong,
                    false => StepCaution::StayedElsewhere,
                })
            }
            Breach::WaitedTooLong { .. } if !out => Some(StepCaution::WaitedTooLong),
            Breach::InAtBreak { .. } if !out => Some(StepCaution::InAtBreak),
            _ => None,
        }
    }

    fn station_of(&self, deed: &SheetTask) -> String {
        deed.tasks()
            .next()
            .map_or(String::new(), |t| self.station(t.station))
    }
}

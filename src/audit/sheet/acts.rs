//! What hands and heaters did, read off a record act by act: what the sheet must tell, no more and no less.

use super::cared::{Cared, cared};
use super::names::Names;
use super::table::Act;
use std::collections::{BTreeMap, BTreeSet};
use tankday_base::shop::{Hands, Shop, StationId, StepRef};
use tankday_base::units::{Moment, Span, Volume};
use tankday_record::{HeaterState, LoadNo, LogEntry, Record, Task, TaskKind};

/// One act.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Done {
    pub(super) at: Moment,
    /// When hands are through with it; the same moment where it needs none.
    pub(super) to: Moment,
    pub(super) act: Act,
    pub(super) task: Option<Task>,
    pub(super) hand: Option<u32>,
    pub(super) load: Option<(LoadNo, StepRef)>,
    pub(super) station: Option<StationId>,
    /// Time under hands, pauses left out.
    pub(super) hands: Span,
    /// How long the step lasts that starts with it; none where none starts.
    pub(super) step: Option<Span>,
    /// At the latest.
    pub(super) latest: Option<Moment>,
    /// What the row calls it, where that is no load: an order.
    pub(super) name: String,
    pub(super) pieces: u32,
    /// Numbers with their units.
    pub(super) amounts: Vec<(String, &'static str)>,
    /// Whether a sheet may leave it out.
    pub(super) optional: bool,
}

impl Done {
    /// Whether an order is ready after it was due.
    pub(super) fn is_late(&self) -> bool {
        self.act == Act::Ready && self.latest.is_some_and(|due| due < self.at)
    }

    pub(super) fn plain(at: Moment, act: Act) -> Self {
        Self {
            at,
            to: at,
            act,
            task: None,
            hand: None,
            load: None,
            station: None,
            hands: Span::ZERO,
            step: None,
            latest: None,
            name: String::new(),
            pieces: 0,
            amounts: Vec::new(),
            optional: false,
        }
    }
}

/// Litres as the sheet states them.
fn litres(volume: Volume) -> (String, &'static str) {
    (format!("{:.1}", volume.in_litres().max(0.0)), "L")
}

/// All acts of hands, in order of their beginning.
pub(super) fn of_hands(shop: &Shop, record: &Record, names: &Names) -> Vec<Done> {
    let mut busy: BTreeMap<u32, (Moment, Task)> = BTreeMap::new();
    let mut done: Vec<Done> = Vec::new();
    let mut filled: BTreeMap<(StationId, Moment), Volume> = BTreeMap::new();
    let mut taken_up: BTreeSet<LoadNo> = BTreeSet::new();
    for entry in &record.entries {
        match entry.event {
            LogEntry::HandsTake { hand, task } => {
                busy.insert(hand, (entry.at, task));
            }
            LogEntry::HandsFree { hand } => {
                if let Some((from, task)) = busy.remove(&hand) {
                    let resumed = task.load.is_some_and(|l| taken_up.remove(&l.0));
                    add(shop, &mut done, hand, (from, entry.at), (task, resumed));
                }
            }
            LogEntry::WorkResumes { load } => {
                taken_up.insert(load);
            }
            LogEntry::SetIn { load, step, station } if takes_no_time(shop, step) => {
                let task = Task {
                    kind: TaskKind::PutIn,
                    station,
                    load: Some((load, step)),
                    vessel: None,
                };
                let last = done.iter().rev().find(|d| d.load.is_some_and(|l| l.0 == load));
                let same = last.filter(|d| d.to == entry.at).and_then(|d| d.hand);
                let hand = same.unwrap_or(u32::MAX);
                add(shop, &mut done, hand, (entry.at, entry.at), (task, false));
            }
            LogEntry::ToppedUp { tank, volume } => {
                filled.insert((tank, entry.at), volume);
            }
            _ => {}
        }
    }
    let (stays, cares) = (stays(record), cared(record));
    for act in &mut done {
        let water = act.station.and_then(|s| filled.get(&(s, act.to)));
        match act.act {
            Act::TopUp => act.amounts.extend(water.map(|w| litres(*w))),
            Act::RenewRinse => act.amounts = rinse(shop, act.station),
            _ => {}
        }
        match act.load {
            Some((load, step)) => of_load(act, (load, step), &stays, names),
            None => of_care(shop, record, act, &cares),
        }
    }
    done.sort_by_key(|d| (d.at, d.hand));
    done
}

/// Whether a load goes in at a step without a task of hands in the record, since that takes no time.
fn takes_no_time(shop: &Shop, at: StepRef) -> bool {
    let step = shop
        .routes
        .get(at.route.index())
        .and_then(|r| r.steps.get(at.step.index()));
    step.is_some_and(|s| s.hands == Hands::Ends && s.put_in <= Span::ZERO)
}

/// All water of a rinse is drained, and as much put in.
fn rinse(shop: &Shop, station: Option<StationId>) -> Vec<(String, &'static str)> {
    let rinse = station.and_then(|s| shop.stations.get(s.index())?.rinse);
    let all = rinse.map(|r| litres(r.fill * f64::from(r.tubs)));
    all.into_iter().flat_map(|water| [water.clone(), water]).collect()
}

fn of_load(act: &mut Done, (load, step): (LoadNo, StepRef), stays: &[Stay], names: &Names) {
    act.pieces = names.inside(load, act.at).iter().map(|k| k.1).sum();
    let own = |s: &&Stay| s.load == load && s.step == step;
    match act.act {
        Act::PutIn | Act::Start => {
            let begun = stays.iter().find(|s| own(s) && s.set_in == act.at);
            act.step = begun.and_then(|s| s.begins.map(|_| s.planned));
        }
        Act::TakeOut | Act::Take => {
            let stay = stays.iter().rev().find(|s| own(s) && s.set_in <= act.at);
            act.latest = stay.and_then(|s| Some(s.begins? + s.most?));
        }
        _ => {}
    }
}

fn of_care(shop: &Shop, record: &Record, act: &mut Done, cares: &[Cared]) {
    act.step = Some(act.hands);
    let Some(task) = act.task else { return };
    let kind = task.kind;
    if !matches!(act.act, Act::Add | Act::Care) {
        return;
    }
    let care = super::cared::of_task(cares, task, (act.at, act.to));
    act.amounts = super::cared::amounts(shop, kind, care);
    let next = match kind {
        TaskKind::PutWoolIn => TaskKind::TakeWoolOut,
        TaskKind::SetUpFilter => TaskKind::FillBack,
        _ => return,
    };
    let until = care.map_or(Moment::NEVER, |c| c.to);
    let begins = record.entries.iter().find(|e| {
        let here = |t: Task| t.kind == next && t.station == task.station && t.vessel == task.vessel;
        matches!(e.event, LogEntry::HandsTake { task, .. } if here(task)) && act.to <= e.at && e.at <= until
    });
    let until = begins.map(|e| e.at);
    let today = |at: &Moment| at.day_and_time().0 == act.to.day_and_time().0;
    // How long a filter ran that was through in the night, or never, nobody saw.
    act.step = match (kind, until) {
        (TaskKind::SetUpFilter, until) => until.filter(today).map(|at| at - act.to),
        (_, until) => Some(until.map_or(act.hands, |at| at - act.to)),
    };
}

/// Work that is taken up again goes on with the act that it was laid down in.
fn add(
    shop: &Shop,
    done: &mut Vec<Done>,
    hand: u32,
    (from, to): (Moment, Moment),
    (task, resumed): (Task, bool),
) {
    let load = task.load.map(|l| l.0);
    let last = done
        .iter_mut()
        .rev()
        .find(|d| load.is_some() && d.load.map(|l| l.0) == load);
    let again = |d: &&mut Done| d.load == task.load && d.task.is_some_and(|t| t.kind == TaskKind::Work);
    if let (true, Some(begun)) = (resumed, last.filter(again)) {
        begun.to = to;
        begun.hands += to - from;
        return;
    }
    done.push(Done {
        to,
        task: Some(task),
        hand: Some(hand),
        load: task.load,
        station: Some(task.station),
        hands: to - from,
        ..Done::plain(from, act(shop, &task))
    });
}

fn act(shop: &Shop, task: &Task) -> Act {
    let station = shop.stations.get(task.station.index());
    let tank = station.is_some_and(|s| s.tank.is_some());
    match task.kind {
        TaskKind::PutIn if tank => Act::PutIn,
        TaskKind::TakeOut if tank => Act::TakeOut,
        TaskKind::PutIn | TaskKind::Work => Act::Start,
        TaskKind::TakeOut => Act::Take,
        TaskKind::TopUp => Act::TopUp,
        TaskKind::Renew => Act::RenewRinse,
        TaskKind::AddConcentrate | TaskKind::TrimRatio | TaskKind::PutWoolIn => Act::Add,
        _ => Act::Care,
    }
}

/// Heaters that are switched, in order; and baths that are left to cool for care.
pub(super) fn of_heaters(record: &Record) -> Vec<Done> {
    let mut on: BTreeMap<StationId, bool> = BTreeMap::new();
    let mut turns = Vec::new();
    for entry in &record.entries {
        let LogEntry::Bath { tank, sample } = &entry.event else {
            continue;
        };
        let now = sample.heater != HeaterState::Off;
        if on.insert(*tank, now).unwrap_or(false) != now {
            let same = |d: &Done| d.station == Some(*tank) && d.act == Act::HeaterOn && d.at == entry.at;
            let own = turns.iter().rposition(|d: &Done| d.station == Some(*tank));
            if let Some(i) = own.filter(|i| !now && turns.get(*i).is_some_and(same)) {
                // What is on for no time is not switched.
                turns.remove(i);
                continue;
            }
            let act = if now { Act::HeaterOn } else { Act::HeaterOff };
            turns.push(Done {
                station: Some(*tank),
                ..Done::plain(entry.at, act)
            });
        }
    }
    turns
}

/// Tanks that nobody stays by in a break or after closing: where their heaters are off already, the sheet says so once more.
pub(super) fn of_absences(record: &Record, heaters: &[Done]) -> Vec<Done> {
    let left = record.entries.iter().filter_map(|e| match e.event {
        LogEntry::Left { tank, .. } => Some((e.at, tank)),
        _ => None,
    });
    let said = |(at, tank)| {
        let goes_off = |d: &Done| d.at == at && d.station == Some(tank) && d.act == Act::HeaterOff;
        let switched = heaters.iter().any(goes_off);
        [Act::HeaterOff, Act::Note].map(|act| Done {
            station: Some(tank),
            optional: switched || act == Act::Note,
            ..Done::plain(at, act)
        })
    };
    left.flat_map(said).collect()
}

/// Baths that are left to cool for care: until hands come for its first stage, or not at all where they begin it at once.
pub(super) fn of_stops(record: &Record) -> Vec<Done> {
    let stops = cared(record);
    let stage = |kind| {
        use TaskKind::{Decant, Exchange, FillBack, MakeUpAnew, SetUpFilter};
        matches!(kind, Decant | SetUpFilter | FillBack | MakeUpAnew | Exchange)
    };
    let row = |care: &Cared| {
        let own = |t: &Task| t.station == care.tank && t.vessel.is_none() && stage(t.kind);
        let first = record.entries.iter().find(|e| {
            let here = matches!(e.event, LogEntry::HandsTake { task, .. } if own(&task));
            here && care.from <= e.at && e.at <= care.to
        });
        Done {
            station: Some(care.tank),
            step: first.map(|e| e.at - care.from).filter(|left| *left > Span::ZERO),
            ..Done::plain(care.from, Act::Care)
        }
    };
    stops
        .iter()
        .filter(|c| c.kind.is_stop() && !c.outside)
        .map(row)
        .collect()
}

/// Orders that are ready, breaks, and loads that inspection sends back.
pub(super) fn of_news(shop: &Shop, record: &Record, names: &Names) -> Vec<Done> {
    let (mut news, mut ready) = (Vec::new(), Vec::new());
    let mut came: BTreeMap<_, (Moment, Option<Span>)> = BTreeMap::new();
    for entry in &record.entries {
        match entry.event {
            LogEntry::OrderArrives { order, source, .. } => {
                let due = shop.orders.get(source.index()).and_then(|o| o.due_after);
                came.insert(order, (entry.at, due));
            }
            LogEntry::OrderReady { order } => {
                let Some((name, _, pieces)) = names.order(order) else {
                    continue;
                };
                let due = came.get(&order).and_then(|(at, due)| Some(*at + (*due)?));
                let row = Done {
                    name: name.clone(),
                    pieces: *pieces,
                    latest: due,
                    ..Done::plain(entry.at, Act::Ready)
                };
                ready.push((entry.at, order, row));
            }
            LogEntry::Fails { load, .. } => news.push(Done {
                name: names.load(load, entry.at).to_owned(),
                ..Done::plain(entry.at, Act::Note)
            }),
            _ => {}
        }
    }
    // Those of one moment in the order in which they came.
    ready.sort_by_key(|(at, order, _)| (*at, *order));
    news.extend(ready.into_iter().map(|(.., row)| row));
    news
}

/// A stay of a load at a station.
struct Stay {
    load: LoadNo,
    step: StepRef,
    set_in: Moment,
    begins: Option<Moment>,
    planned: Span,
    most: Option<Span>,
}

fn stays(record: &Record) -> Vec<Stay> {
    let mut all: Vec<Stay> = Vec::new();
    let mut last: BTreeMap<LoadNo, usize> = BTreeMap::new();
    for entry in &record.entries {
        match entry.event {
            LogEntry::SetIn { load, step, .. } => {
                last.insert(load, all.len());
                all.push(Stay {
                    load,
                    step,
                    set_in: entry.at,
                    begins: None,
                    planned: Span::ZERO,
                    most: None,
                });
            }
            LogEntry::WorkBegins {
                load, planned, most, ..
            } => {
                if let Some(stay) = last.get(&load).and_then(|i| all.get_mut(*i)) {
                    (stay.begins, stay.planned, stay.most) = (Some(entry.at), planned, most);
                }
            }
            _ => {}
        }
    }
    all
}

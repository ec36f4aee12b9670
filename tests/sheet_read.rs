//! The day sheet that the program writes of a scenario, read back, and the record of the same day beside it: what loads are
//! called and what hands did, with code of its own.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;
use tankday::line::Line;
use tankday::record::{LoadNo, LogEntry, Record, Task, TaskKind};
use tankday::scenario;
use tankday::shop::{Shop, StepRef};
use tankday::units::{Moment, Span};

/// The files that the program writes of a scenario, and the record of the same day.
pub(crate) struct Day {
    pub(crate) shop: Shop,
    pub(crate) record: Record,
    pub(crate) rows: Vec<Row>,
    pub(crate) text: String,
    pub(crate) calendar: String,
    pub(crate) page: String,
}

/// A line of the CSV.
#[derive(Debug)]
pub(crate) struct Row(BTreeMap<String, String>);

impl Row {
    pub(crate) fn get(&self, key: &str) -> &str {
        self.0.get(key).map_or("", String::as_str)
    }

    /// One value for each act: a value that is the same for all stands once.
    pub(crate) fn each(&self, key: &str, acts: usize) -> Vec<String> {
        let all: Vec<String> = self.get(key).split(" + ").map(str::to_owned).collect();
        match all.len() {
            1 => vec![all[0].clone(); acts],
            n if n == acts => all,
            n => panic!("{key}: {n} values for {acts} acts in {self:?}"),
        }
    }

    pub(crate) fn acts(&self) -> Vec<&str> {
        self.get("act").split(" + ").collect()
    }

    pub(crate) fn when(&self) -> (String, String) {
        (self.get("date").to_owned(), self.get("time").to_owned())
    }
}

pub(crate) fn day(path: &str) -> Day {
    let text = fs::read_to_string(path).unwrap();
    let shop = scenario::read(path, &text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop;
    let mut record = Record::default();
    Line::new(&shop).run(None, &mut record);
    let home = tempfile::tempdir().unwrap();
    let done = Command::new(env!("CARGO_BIN_EXE_tankday"))
        .args(["run", path, "--quiet", "--out"])
        .arg(home.path())
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap();
    assert!(matches!(done.status.code(), Some(0 | 3)), "{done:?}");
    let file = |name: &str| fs::read_to_string(Path::new(home.path()).join(name)).unwrap();
    let csv = file("day-sheet.csv");
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let head: Vec<String> = reader.headers().unwrap().iter().map(str::to_owned).collect();
    assert_eq!(
        head.join(","),
        "date,time,what,act,task,load,part,pieces,station,hands_min,step_min,earliest,latest,amount,unit,caution"
    );
    let row = |r: csv::StringRecord| {
        Row(head
            .iter()
            .cloned()
            .zip(r.iter().map(|c| tankday::print::text_of(c).to_owned()))
            .collect())
    };
    let rows = reader.records().map(|r| row(r.unwrap())).collect();
    Day {
        shop,
        record,
        rows,
        text: file("day-sheet.txt"),
        calendar: file("day-sheet.ics").replace("\r\n ", ""),
        page: file("day-sheet.html"),
    }
}

/// Date and clock time of a moment, the first day being 2026-03-09.
pub(crate) fn stamp(shop: &Shop, at: Moment) -> (String, String) {
    let minutes = at.in_micros().div_euclid(60_000_000);
    let date = shop.calendar.first + jiff::Span::new().days(minutes.div_euclid(1_440));
    let left = minutes.rem_euclid(1_440);
    (date.to_string(), format!("{:02}:{:02}", left / 60, left % 60))
}

/// A task of hands from the record.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Done {
    pub(crate) from: Moment,
    pub(crate) to: Moment,
    pub(crate) task: Task,
}

/// Tasks by hand, in order.
pub(crate) fn by_hand(record: &Record) -> BTreeMap<u32, Vec<Done>> {
    let mut all: BTreeMap<u32, Vec<Done>> = BTreeMap::new();
    for entry in &record.entries {
        match entry.event {
            LogEntry::HandsTake { hand, task } => all.entry(hand).or_default().push(Done {
                from: entry.at,
                to: entry.at,
                task,
            }),
            LogEntry::HandsFree { hand } => {
                if let Some(last) = all.get_mut(&hand).and_then(|t| t.last_mut()) {
                    last.to = entry.at;
                }
            }
            _ => {}
        }
    }
    all
}

/// What loads are called and what they hold, followed by hand through the record.
pub(crate) struct Loads {
    /// Pieces by kind of part, since when.
    pub(crate) lots: BTreeMap<LoadNo, Vec<(Moment, String, u32)>>,
    lot: BTreeMap<LoadNo, String>,
    charges: BTreeMap<LoadNo, Vec<(Moment, String)>>,
}

impl Loads {
    pub(crate) fn of(shop: &Shop, record: &Record) -> Self {
        let mut orders = BTreeMap::new();
        let mut made: BTreeMap<String, Vec<LoadNo>> = BTreeMap::new();
        let mut loads = Self {
            lots: BTreeMap::new(),
            lot: BTreeMap::new(),
            charges: BTreeMap::new(),
        };
        let (mut set, mut charged) = (BTreeMap::new(), Vec::new());
        for entry in &record.entries {
            match entry.event {
                LogEntry::OrderArrives { order, source, .. } => {
                    orders.insert(order, &shop.orders[source.index()]);
                }
                LogEntry::LoadMade { load, order, pieces } => {
                    let order = orders[&order];
                    let part = shop.parts[order.part.index()].name.clone();
                    loads.lots.entry(load).or_default().push((entry.at, part, pieces));
                    made.entry(order.id.clone()).or_default().push(load);
                }
                LogEntry::Joins { load, into } => {
                    let moved = loads.lots[&load].clone();
                    let moved = moved.into_iter().map(|(_, part, n)| (entry.at, part, n));
                    loads.lots.entry(into).or_default().extend(moved);
                }
                LogEntry::SetIn { load, .. } => {
                    set.insert(load, entry.at);
                }
                LogEntry::WorkBegins { load, station, .. }
                    if shop.stations[station.index()].tank.is_some() =>
                {
                    charged.push((entry.at, station, load, set[&load]));
                }
                _ => {}
            }
        }
        charged.sort();
        for (i, (_, _, load, at)) in charged.into_iter().enumerate() {
            loads
                .charges
                .entry(load)
                .or_default()
                .push((at, format!("L{}", i + 1)));
        }
        for (id, all) in made {
            for (i, load) in all.iter().enumerate() {
                let name = if all.len() == 1 {
                    id.clone()
                } else {
                    format!("{id}, {} of {}", i + 1, all.len())
                };
                loads.lot.insert(*load, name);
            }
        }
        loads
    }

    pub(crate) fn label(&self, load: LoadNo, at: Moment) -> &str {
        let charges = self.charges.get(&load).map_or(&[][..], Vec::as_slice);
        let last = charges.iter().rev().find(|(since, _)| *since <= at);
        last.map_or(&self.lot[&load], |(_, label)| label)
    }

    pub(crate) fn pieces(&self, load: LoadNo, at: Moment) -> u32 {
        let lots = self.lots[&load].iter().filter(|(since, ..)| *since <= at);
        lots.map(|(_, _, n)| n).sum()
    }
}

/// How long the step was planned that a load began at a moment or soon after, and how long it might stay.
pub(crate) fn step_of(
    record: &Record,
    load: LoadNo,
    step: StepRef,
    from: Moment,
) -> (Span, Option<Span>, Moment) {
    record
        .entries
        .iter()
        .filter(|e| e.at >= from)
        .find_map(|e| match e.event {
            LogEntry::WorkBegins {
                load: l,
                step: s,
                planned,
                most,
                ..
            } if (l, s) == (load, step) => Some((planned, most, e.at)),
            _ => None,
        })
        .unwrap()
}

pub(crate) fn word(shop: &Shop, task: &Task) -> &'static str {
    let tank = shop.stations[task.station.index()].tank.is_some();
    match (task.kind, tank) {
        (TaskKind::PutIn, true) => "put in",
        (TaskKind::TakeOut, true) => "take out",
        (TaskKind::PutIn | TaskKind::Work, _) => "start",
        (TaskKind::TakeOut, false) => "take",
        (TaskKind::TopUp, _) => "top up",
        (TaskKind::Renew, _) => "renew rinse",
        (TaskKind::AddConcentrate | TaskKind::TrimRatio | TaskKind::PutWoolIn, _) => "add",
        _ => "care",
    }
}

/// A span as the sheet must say it.
pub(crate) fn said(span: Span) -> String {
    let minutes = span.in_minutes().round() as i64;
    match minutes {
        0 => "under 1 min".to_owned(),
        1..=90 => format!("{minutes} min"),
        91..=2_880 if minutes % 60 == 0 => format!("{} h", minutes / 60),
        91..=2_880 => format!("{} h {:02} min", minutes / 60, minutes % 60),
        _ => {
            let hours = (minutes as f64 / 60.0).round() as i64;
            let rest = if hours % 24 == 0 {
                String::new()
            } else {
                format!(" {} h", hours % 24)
            };
            format!("{} d{rest}", hours / 24)
        }
    }
}

pub(crate) fn minutes(span: Span) -> String {
    format!("{:.1}", span.in_minutes())
}

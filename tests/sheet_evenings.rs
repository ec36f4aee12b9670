//! Every line of a day sheet held against the record of its day: time, length, place, load, pieces, amounts, and that no
//! act is missing. What stands here shares nothing with what writes the sheet. The shop and its story: `tests/sheets`.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;
use tankday::line::Line;
use tankday::record::{Event, HeaterState, LoadNo, Record, Task, TaskKind};
use tankday::scenario;
use tankday::shop::{Shop, StationId, StepRef};
use tankday::units::{Moment, Span};

const SHOP: &str = "tests/sheets/evenings.yaml";

/// The files that the program writes of a scenario, and the record of the same day.
struct Day {
    shop: Shop,
    record: Record,
    rows: Vec<Row>,
    text: String,
    calendar: String,
    page: String,
}

/// A line of the CSV.
#[derive(Debug)]
struct Row(BTreeMap<String, String>);

impl Row {
    fn get(&self, key: &str) -> &str {
        self.0.get(key).map_or("", String::as_str)
    }

    /// One value for each act: a value that is the same for all stands once.
    fn each(&self, key: &str, acts: usize) -> Vec<String> {
        let all: Vec<String> = self.get(key).split(" + ").map(str::to_owned).collect();
        match all.len() {
            1 => vec![all[0].clone(); acts],
            n if n == acts => all,
            n => panic!("{key}: {n} values for {acts} acts in {self:?}"),
        }
    }

    fn acts(&self) -> Vec<&str> {
        self.get("act").split(" + ").collect()
    }

    fn when(&self) -> (String, String) {
        (self.get("date").to_owned(), self.get("time").to_owned())
    }
}

fn day(path: &str) -> Day {
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
        "date,time,what,act,task,load,part,pieces,station,hands_min,step_min,latest,amount,unit,caution"
    );
    let row = |r: csv::StringRecord| Row(head.iter().cloned().zip(r.iter().map(str::to_owned)).collect());
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
fn stamp(shop: &Shop, at: Moment) -> (String, String) {
    let minutes = at.in_micros().div_euclid(60_000_000);
    let date = shop.calendar.first + jiff::Span::new().days(minutes.div_euclid(1_440));
    let left = minutes.rem_euclid(1_440);
    (date.to_string(), format!("{:02}:{:02}", left / 60, left % 60))
}

/// A task of hands from the record.
#[derive(Debug, Clone, Copy)]
struct Done {
    from: Moment,
    to: Moment,
    task: Task,
}

/// Tasks by hand, in order.
fn by_hand(record: &Record) -> BTreeMap<u32, Vec<Done>> {
    let mut all: BTreeMap<u32, Vec<Done>> = BTreeMap::new();
    for entry in &record.entries {
        match entry.event {
            Event::HandsTake { hand, task } => all.entry(hand).or_default().push(Done {
                from: entry.at,
                to: entry.at,
                task,
            }),
            Event::HandsFree { hand } => {
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
struct Loads {
    /// Pieces by kind of part, since when.
    lots: BTreeMap<LoadNo, Vec<(Moment, String, u32)>>,
    lot: BTreeMap<LoadNo, String>,
    charges: BTreeMap<LoadNo, Vec<(Moment, String)>>,
}

impl Loads {
    fn of(shop: &Shop, record: &Record) -> Self {
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
                Event::OrderArrives { order, source, .. } => {
                    orders.insert(order, &shop.orders[source.index()]);
                }
                Event::LoadMade { load, order, pieces } => {
                    let order = orders[&order];
                    let part = shop.parts[order.part.index()].name.clone();
                    loads.lots.entry(load).or_default().push((entry.at, part, pieces));
                    made.entry(order.id.clone()).or_default().push(load);
                }
                Event::Joins { load, into } => {
                    let moved = loads.lots[&load].clone();
                    let moved = moved.into_iter().map(|(_, part, n)| (entry.at, part, n));
                    loads.lots.entry(into).or_default().extend(moved);
                }
                Event::SetIn { load, .. } => {
                    set.insert(load, entry.at);
                }
                Event::WorkBegins { load, station, .. } if shop.stations[station.index()].tank.is_some() => {
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

    fn label(&self, load: LoadNo, at: Moment) -> &str {
        let charges = self.charges.get(&load).map_or(&[][..], Vec::as_slice);
        let last = charges.iter().rev().find(|(since, _)| *since <= at);
        last.map_or(&self.lot[&load], |(_, label)| label)
    }

    fn pieces(&self, load: LoadNo, at: Moment) -> u32 {
        let lots = self.lots[&load].iter().filter(|(since, ..)| *since <= at);
        lots.map(|(_, _, n)| n).sum()
    }
}

/// How long the step was planned that a load began at a moment or soon after, and how long it might stay.
fn step_of(record: &Record, load: LoadNo, step: StepRef, from: Moment) -> (Span, Option<Span>, Moment) {
    record
        .entries
        .iter()
        .filter(|e| e.at >= from)
        .find_map(|e| match e.event {
            Event::WorkBegins {
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

fn word(shop: &Shop, task: &Task) -> &'static str {
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
fn said(span: Span) -> String {
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

fn minutes(span: Span) -> String {
    format!("{:.1}", span.in_minutes())
}

/// The tasks of one hand behind a row: they begin at its time and match its acts one by one.
fn behind(day: &Day, hands: &BTreeMap<u32, Vec<Done>>, used: &[(u32, usize)], row: &Row) -> (u32, usize) {
    let acts = row.acts();
    let stations = row.each("station", acts.len());
    let fits = |tasks: &[Done]| {
        let named = |d: &Done| day.shop.stations[d.task.station.index()].name.clone();
        tasks.len() == acts.len()
            && stamp(&day.shop, tasks[0].from) == row.when()
            && tasks
                .iter()
                .zip(acts.iter().zip(&stations))
                .all(|(d, (act, station))| word(&day.shop, &d.task) == *act && named(d) == *station)
            && tasks.windows(2).all(|w| w[0].to == w[1].from)
    };
    for (hand, tasks) in hands {
        for first in 0..tasks.len() {
            let end = (first + acts.len()).min(tasks.len());
            if !used.contains(&(*hand, first)) && fits(&tasks[first..end]) {
                return (*hand, first);
            }
        }
    }
    panic!("nothing in the record stands behind {row:?}");
}

fn is_by_hand(row: &Row) -> bool {
    !row.get("hands_min").is_empty()
}

/// Every row that hands do, against the tasks of the record; and every task stands in exactly one row.
fn holds_every_task(day: &Day) -> usize {
    let (hands, loads) = (by_hand(&day.record), Loads::of(&day.shop, &day.record));
    let mut used: Vec<(u32, usize)> = Vec::new();
    for row in day.rows.iter().filter(|r| is_by_hand(r)) {
        let (hand, first) = behind(day, &hands, &used, row);
        let tasks = &hands[&hand][first..first + row.acts().len()];
        used.extend((first..first + tasks.len()).map(|i| (hand, i)));
        let busy: Span = tasks.iter().map(|d| d.to - d.from).sum();
        assert_eq!(row.get("hands_min"), minutes(busy), "{row:?}");
        holds_loads(day, &loads, row, tasks);
        holds_steps(day, row, tasks);
    }
    let all: usize = hands.values().map(Vec::len).sum();
    assert_eq!(used.len(), all, "tasks of hands that stand in no row");
    all
}

fn holds_loads(day: &Day, loads: &Loads, row: &Row, tasks: &[Done]) {
    let (labels, pieces) = (row.each("load", tasks.len()), row.each("pieces", tasks.len()));
    for (task, (label, pieces)) in tasks.iter().zip(labels.iter().zip(&pieces)) {
        match task.task.load {
            Some((load, _)) => {
                assert_eq!(label, loads.label(load, tasks[0].from), "{row:?}");
                assert_eq!(*pieces, loads.pieces(load, tasks[0].from).to_string(), "{row:?}");
                assert!(row.get("task").contains(label.as_str()), "{row:?}");
            }
            None => assert_eq!(label, "", "{row:?}"),
        }
    }
    if row.get("act") == "put in" {
        let (load, _) = tasks[0].task.load.unwrap();
        let mut kinds: BTreeMap<&str, u32> = BTreeMap::new();
        for (_, part, n) in &loads.lots[&load] {
            *kinds.entry(part).or_default() += n;
        }
        let part = |name: &str| day.shop.parts.iter().find(|p| p.name == name).unwrap();
        let sum = |of: &dyn Fn(&tankday::shop::Part) -> f64| -> f64 {
            kinds.iter().map(|(name, n)| of(part(name)) * f64::from(*n)).sum()
        };
        let (area, mass) = (
            sum(&|p| p.area.in_square_metres() * 100.0),
            sum(&|p| p.mass.in_kilograms()),
        );
        let end = format!(", {area:.1} dm², {mass:.1} kg");
        assert!(row.get("task").ends_with(&end), "{end}: {row:?}");
        for n in kinds.values() {
            assert!(row.get("task").contains(&format!("{n} ")), "{row:?}");
        }
    }
}

/// Lengths: in the column, and in the words of the line in their order.
fn holds_steps(day: &Day, row: &Row, tasks: &[Done]) {
    let mut lengths = Vec::new();
    for done in tasks {
        let begins = !matches!(done.task.kind, TaskKind::TakeOut);
        match done.task.load {
            Some((load, step)) if begins => {
                let (planned, _, began) = step_of(&day.record, load, step, done.from);
                assert!(began >= done.from && began <= done.to, "{row:?}");
                lengths.push(planned);
            }
            Some((load, step)) => holds_latest(day, row, load, step, done),
            None => {
                let stands = match done.task.kind {
                    TaskKind::PutWoolIn => next(day, done, TaskKind::TakeWoolOut) - done.to,
                    TaskKind::SetUpFilter => next(day, done, TaskKind::FillBack) - done.to,
                    _ => done.to - done.from,
                };
                lengths.push(stands);
            }
        }
    }
    let column: Vec<String> = lengths.iter().map(|l| minutes(*l)).collect();
    let same = column.iter().all(|c| *c == column[0]);
    let column = if same {
        column.first().cloned().unwrap_or_default()
    } else {
        column.join(" + ")
    };
    assert_eq!(row.get("step_min"), column, "{row:?}");
    let mut rest = row.get("task");
    for length in lengths {
        let words = said(length);
        let at = rest.find(&words);
        assert!(at.is_some(), "`{words}` is missing in {row:?}");
        rest = &rest[at.unwrap() + words.len()..];
    }
}

fn next(day: &Day, after: &Done, kind: TaskKind) -> Moment {
    let tasks = by_hand(&day.record);
    let mut later = tasks
        .values()
        .flatten()
        .filter(|d| d.from >= after.to && d.task.kind == kind && d.task.station == after.task.station);
    later.next().unwrap().from
}

/// What must not wait says until when.
fn holds_latest(day: &Day, row: &Row, load: LoadNo, step: StepRef, out: &Done) {
    if word(&day.shop, &out.task) != "take out" {
        return;
    }
    let began = day.record.entries.iter().rev().filter(|e| e.at <= out.from);
    let latest = began.into_iter().find_map(|e| match e.event {
        Event::WorkBegins {
            load: l,
            step: s,
            most,
            ..
        } if (l, s) == (load, step) => Some(e.at + most?),
        _ => None,
    });
    let clock = stamp(&day.shop, latest.unwrap()).1;
    assert_eq!(row.get("latest"), clock, "{row:?}");
    assert!(
        row.get("task").contains(&format!("at the latest {clock}")),
        "{row:?}"
    );
    assert_eq!(row.get("what"), "must not wait", "{row:?}");
}

/// Every change of a heater has its row at its time, and what it says of getting hot is of that heating-up.
fn holds_heaters(day: &Day) -> usize {
    let mut changes: Vec<(Moment, StationId, bool)> = Vec::new();
    let mut on: BTreeMap<StationId, bool> = BTreeMap::new();
    for entry in &day.record.entries {
        if let Event::Bath { tank, sample } = &entry.event {
            let now = sample.heater != HeaterState::Off;
            if on.insert(*tank, now).unwrap_or(false) != now {
                changes.push((entry.at, *tank, now));
            }
        }
    }
    let mut seen = 0;
    for row in &day.rows {
        let acts = row.acts();
        for (act, station) in acts.iter().zip(row.each("station", acts.len())) {
            let Some(goes_on) = act.strip_prefix("heater ").map(|w| w == "on") else {
                continue;
            };
            let own = |c: &&(Moment, StationId, bool)| {
                day.shop.stations[c.1.index()].name == station && stamp(&day.shop, c.0) == row.when()
            };
            let Some(change) = changes.iter().find(own) else {
                // Where a bath is left in a break, what is off already and only covered is said, too.
                let left = |e: &tankday::record::Entry| matches!(e.event, Event::Left { tank, .. } if day.shop.stations[tank.index()].name == station);
                let at = |e: &&tankday::record::Entry| stamp(&day.shop, e.at) == row.when();
                assert!(
                    !goes_on && day.record.entries.iter().filter(at).any(left),
                    "{row:?}"
                );
                continue;
            };
            assert_eq!(change.2, goes_on, "{row:?}");
            seen += 1;
            if goes_on {
                holds_hot(day, row, &station, change, &changes);
            }
        }
    }
    assert_eq!(seen, changes.len(), "changes of heaters that stand in no row");
    seen
}

fn holds_hot(
    day: &Day,
    row: &Row,
    name: &str,
    change: &(Moment, StationId, bool),
    all: &[(Moment, StationId, bool)],
) {
    let off = all.iter().find(|c| c.1 == change.1 && !c.2 && c.0 > change.0);
    let hot = day.record.entries.iter().find(|e| {
        e.event == Event::InBand { tank: change.1 } && e.at >= change.0 && off.is_none_or(|off| e.at <= off.0)
    });
    let words = match (hot, off) {
        (Some(hot), _) => format!("{name} hot enough about {}", stamp(&day.shop, hot.at).1),
        (None, Some(off)) => format!(
            "{name} not hot enough before it goes off at {}",
            stamp(&day.shop, off.0).1
        ),
        (None, None) => format!("{name} does not get hot enough"),
    };
    assert!(
        row.get("task").contains(&words),
        "`{words}` is missing in {row:?}"
    );
}

/// Orders that are ready, at the moment that the record has, with their pieces.
fn holds_ready(day: &Day) -> usize {
    let mut orders = BTreeMap::new();
    let mut seen = 0;
    for entry in &day.record.entries {
        match entry.event {
            Event::OrderArrives {
                order,
                source,
                pieces,
                ..
            } => {
                orders.insert(order, (day.shop.orders[source.index()].id.clone(), pieces));
            }
            Event::OrderReady { order } => {
                let (id, pieces) = &orders[&order];
                let row = day.rows.iter().find(|r| {
                    let acts = r.acts();
                    let here = r
                        .each("load", acts.len())
                        .into_iter()
                        .zip(r.each("pieces", acts.len()));
                    acts.contains(&"ready") && here.into_iter().any(|h| h == (id.clone(), pieces.to_string()))
                });
                assert_eq!(row.unwrap().when(), stamp(&day.shop, entry.at), "{id}");
                seen += 1;
            }
            _ => {}
        }
    }
    let said: usize = day
        .rows
        .iter()
        .flat_map(Row::acts)
        .filter(|a| *a == "ready")
        .count();
    assert_eq!(said, seen);
    seen
}

/// Amounts of what goes into baths, against what the record says was used; in the column and in the words.
fn holds_amounts(day: &Day) -> usize {
    let mut wanted: Vec<(StationId, Moment, String)> = Vec::new();
    for entry in &day.record.entries {
        match &entry.event {
            Event::ToppedUp { tank, volume } => {
                wanted.push((*tank, entry.at, format!("{:.1} L", volume.in_litres())));
            }
            Event::CareEnds { tank, used, .. } if used.chemical.in_grams() > 0.0 => {
                let grams = used.chemical.in_grams();
                // Wool as it is; acid from a bottle with 75 % of it by mass and 1.575 kg/L.
                let wool = format!("{grams:.1} g").replace(".0 g", " g");
                let acid = format!("{:.0} mL", grams / 0.75 / 1.575);
                let is_wool = used.hydrogen.in_litres() > 0.0;
                wanted.push((*tank, entry.at, if is_wool { wool } else { acid }));
            }
            _ => {}
        }
    }
    let rows: Vec<&Row> = day.rows.iter().filter(|r| !r.get("amount").is_empty()).collect();
    assert_eq!(rows.len(), wanted.len(), "{wanted:?}");
    for (tank, at, words) in &wanted {
        let name = &day.shop.stations[tank.index()].name;
        let own = |r: &&&Row| {
            r.get("station") == name
                && r.when() <= stamp(&day.shop, *at)
                && format!("{} {}", r.get("amount"), r.get("unit")) == *words
        };
        let row = rows
            .iter()
            .find(own)
            .unwrap_or_else(|| panic!("no row for {words} into the {name}"));
        assert!(row.get("task").contains(words.as_str()), "{row:?}");
    }
    wanted.len()
}

#[test]
fn every_line_of_the_evenings_holds_against_its_record() {
    let day = day(SHOP);
    assert!(holds_every_task(&day) > 60);
    assert!(holds_heaters(&day) >= 8);
    assert!(holds_ready(&day) >= 9);
    assert!(holds_amounts(&day) >= 5);
    for row in &day.rows {
        let known = matches!(
            row.get("what"),
            "do" | "must not wait" | "ready" | "ready late" | "break" | "note"
        );
        assert!(known && !row.get("act").is_empty(), "{row:?}");
    }
}

/// The lines that once stated how long hands were busy.
#[test]
fn the_evenings_state_how_long_steps_last() {
    let day = day(SHOP);
    let has = |words: &str| {
        let found = day.rows.iter().any(|r| r.get("task").contains(words));
        assert!(found, "{words}\n{}", day.text);
    };
    has("dry 5 min at the bench");
    has("12 h at the oil tray");
    has("out Sat ");
    has("5 d at the shelf");
    has("rinse 1 min, dry 5 min");
    has("vice bodies");
    has("knobs with brass insert");
    has("phosphoric acid 75 %");
    has("due Sat 13:00");
    for never in ["2 min at the oil tray", "bodys", "as pure acid", "promised"] {
        assert!(!day.text.contains(never), "{never}");
    }
}

/// Text, calendar and page say what the CSV says, row by row in the same order.
#[test]
fn text_calendar_and_page_are_the_rows_of_the_csv() {
    let day = day(SHOP);
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let text = words(&day.text.replace("____ °C", "").replace("__:__", ""));
    let page = day
        .page
        .replace("<b>", "")
        .replace("</b>", "")
        .replace("<span>", "")
        .replace("</span>", "");
    let (mut in_text, mut in_page) = (text.as_str(), page.as_str());
    for row in &day.rows {
        let task = row.get("task");
        in_text = after(in_text, row.get("time"), &words(task));
        in_page = after(
            in_page,
            row.get("time"),
            &task.replace('&', "&amp;").replace('>', "&gt;"),
        );
        if matches!(row.get("what"), "do" | "must not wait") {
            let escaped = task.replace(';', "\\;").replace(',', "\\,");
            assert!(day.calendar.contains(&format!("DESCRIPTION:{escaped}")), "{task}");
        }
    }
    let boxes = day.text.matches("[ ]").count();
    let to_do = day
        .rows
        .iter()
        .filter(|r| matches!(r.get("what"), "do" | "must not wait"));
    assert_eq!(boxes, to_do.count());
}

/// What stands behind a time and words that follow each other.
fn after<'a>(text: &'a str, time: &str, words: &str) -> &'a str {
    let at = text
        .find(time)
        .unwrap_or_else(|| panic!("{time} {words} is missing"));
    let rest = &text[at + time.len()..];
    let found = rest
        .find(words)
        .unwrap_or_else(|| panic!("{time} {words} is missing"));
    &rest[found + words.len()..]
}

/// A load with a hydrogen risk carries its box from the bath on, until it is relieved, and no other load does.
#[test]
fn springs_carry_their_box() {
    let day = day(SHOP);
    let boxed: Vec<&Row> = day
        .rows
        .iter()
        .filter(|r| r.get("caution").contains("Hydrogen risk"))
        .collect();
    // From the bath on a load has a number.
    let own = |r: &Row| {
        let acts = r.acts().len();
        let mut here = r.each("load", acts).into_iter().zip(r.each("part", acts));
        here.any(|(load, part)| load.starts_with('L') && part == "lock springs")
    };
    let relieved = |r: &Row| r.get("act") == "take" && r.get("station") == "shelf";
    assert!(boxed.len() >= 4, "{boxed:?}");
    assert!(boxed.iter().all(|r| own(r)), "{boxed:?}");
    let all = day.rows.iter().filter(|r| own(r) && !relieved(r)).count();
    assert_eq!(boxed.len(), all);
    assert_eq!(day.page.matches("class=\"h\"").count(), boxed.len());
}

//! The arrows between rooms go one way.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// Crates with the rooms in them, each in an order in which nobody knows what comes later. A crate and the room of its name
/// are one: the rooms before it are known to it, not the other way round.
const HOUSE: [(&str, &[&str]); 10] = [
    (
        "base",
        &[
            "units",
            "random",
            "shape",
            "shop",
            "stats",
            "fingerprint",
            "print",
            "route",
            "bath",
        ],
    ),
    ("record", &["record"]),
    ("audit", &["audit"]),
    ("line", &["kernel", "line"]),
    ("scenario", &["scenario"]),
    ("plan", &["plan", "plan_file", "planned"]),
    (
        "study",
        &["study", "compare", "sweep", "shard", "what_if", "quote"],
    ),
    ("chart", &["chart"]),
    ("output", &["narrative", "sheet", "report"]),
    ("cli", &["cli"]),
];

fn src() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

fn sources(dir: &Path, all: &mut Vec<PathBuf>) {
    let mut entries: Vec<PathBuf> = fs::read_dir(dir).unwrap().map(|e| e.unwrap().path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            sources(&path, all);
        } else if path.extension().is_some_and(|e| e == "rs") {
            all.push(path);
        }
    }
}

/// The room of a file: the folder under its crate, if that is a room, or the crate's own.
fn room<'a>(name: &'a str, rooms: &[&'a str], within: &Path) -> &'a str {
    let first = within.components().next().unwrap();
    let first = first.as_os_str().to_str().unwrap().trim_end_matches(".rs");
    rooms
        .iter()
        .copied()
        .find(|r| *r == first && *r != name)
        .unwrap_or(name)
}

/// Names behind a prefix, each up to what cannot be part of a name.
fn after<'a>(text: &'a str, prefix: &'a str) -> impl Iterator<Item = &'a str> {
    text.match_indices(prefix).map(|(at, _)| {
        let rest = &text[at + prefix.len()..];
        rest.split(|c: char| !c.is_ascii_alphanumeric() && c != '_')
            .next()
            .unwrap()
    })
}

/// Whom a file of a crate names, by room.
fn named<'a>(own: &'a str, rooms: &[&'a str], text: &str) -> Vec<&'a str> {
    let code: String = text
        .lines()
        .filter(|l| !l.trim_start().starts_with("//"))
        .collect::<Vec<_>>()
        .join("\n");
    let mut all: Vec<&str> = after(&code, "crate::")
        .filter_map(|n| rooms.iter().copied().find(|r| *r == n))
        .collect();
    for (name, rooms) in HOUSE.iter().filter(|(name, _)| *name != own) {
        let krate = format!("tankday_{name}");
        for (at, _) in code.match_indices(&krate) {
            let rest = &code[at + krate.len()..];
            let next = rest.strip_prefix("::").and_then(|r| after(r, "").next());
            all.push(
                next.and_then(|n| rooms.iter().copied().find(|r| *r == n))
                    .unwrap_or(name),
            );
        }
    }
    all
}

fn orders() -> BTreeMap<&'static str, usize> {
    let rooms = HOUSE.iter().flat_map(|(name, rooms)| {
        let own = (!rooms.contains(name)).then_some(*name);
        rooms.iter().copied().chain(own)
    });
    rooms.enumerate().map(|(i, room)| (room, i)).collect()
}

#[test]
fn no_room_knows_one_that_comes_later() {
    let order = orders();
    let (mut files, mut arrows) = (Vec::new(), 0);
    for (name, rooms) in HOUSE {
        let dir = src().join(name);
        files.clear();
        sources(&dir, &mut files);
        for path in &files {
            let within = path.strip_prefix(&dir).unwrap();
            let own = room(name, rooms, within);
            // The door of a crate shows its rooms.
            if within == Path::new("lib.rs") && !rooms.contains(&name) {
                continue;
            }
            for other in named(name, rooms, &fs::read_to_string(path).unwrap()) {
                arrows += usize::from(other != own);
                assert!(order[other] <= order[own], "{} knows `{other}`", path.display());
            }
        }
    }
    assert!(arrows > 1000, "only {arrows} arrows were found");
}

#[test]
fn what_points_the_wrong_way_is_seen() {
    let text = "use crate::plan_file::Reader;\n// tankday_cli::run\nlet x: tankday_base::bath::Bath = tankday_record::new();";
    assert_eq!(named("plan", HOUSE[5].1, text), ["plan_file", "bath", "record"]);
    assert_eq!(
        room("plan", HOUSE[5].1, Path::new("plan_file/say.rs")),
        "plan_file"
    );
    assert_eq!(room("plan", HOUSE[5].1, Path::new("plan.rs")), "plan");
}

#[test]
fn every_crate_is_in_its_place() {
    for entry in fs::read_dir(src()).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap().to_owned();
        assert!(
            !path.is_dir() || HOUSE.iter().any(|(n, _)| *n == name),
            "{name} has no place in the order"
        );
    }
}

/// The audit is a second opinion: neither it nor the record, which it reads, may call what made the record.
#[test]
fn the_audit_knows_nothing_of_the_line() {
    for name in ["audit", "record", "base"] {
        let text = fs::read_to_string(src().join(name).join("Cargo.toml")).unwrap();
        let own = text.split("[dev-dependencies]").next().unwrap();
        for other in after(own, "tankday-").filter(|o| *o != name) {
            assert!(["base", "record"].contains(&other), "{name} depends on {other}");
        }
    }
}

/// The parts of the line, and what each may not name.
const PARTS: [(&str, &[&str]); 4] = [
    (
        "shifts.rs",
        &["baths", "flow", "dispatch", "floor", "engine", "day"],
    ),
    (
        "baths",
        &["flow", "dispatch", "floor", "engine", "shifts", "life", "start"],
    ),
    (
        "flow",
        &["baths", "dispatch", "floor", "engine", "shifts", "life", "start"],
    ),
    (
        "dispatch",
        &["engine", "shifts", "life", "start", "baths", "flow"],
    ),
];

#[test]
fn the_parts_of_the_line_know_nothing_of_one_another() {
    for (part, others) in PARTS {
        let path = src().join("line").join(part);
        let mut files = Vec::new();
        if path.is_dir() {
            sources(&path, &mut files);
        } else {
            files.push(path);
        }
        assert!(!files.is_empty(), "{part}");
        for file in files {
            let text = fs::read_to_string(&file).unwrap();
            let code: Vec<&str> = text
                .lines()
                .filter(|l| !l.trim_start().starts_with("//"))
                .collect();
            let code = code.join("\n");
            for prefix in ["crate::", "super::super::"] {
                let named = after(&code, prefix).find(|name| others.contains(name));
                assert_eq!(named, None, "{}", file.display());
            }
        }
    }
}

//! Plans as files: written, read back, changed by hand, refused with words, mended.

use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;
use tankday::line::Line;
use tankday::plan::{Effort, judged, plan};
use tankday::plan_file::{delays, repair, understand, write};
use tankday::random::Streams;
use tankday::record::{LogEntry, Record};
use tankday::scenario::{PlanFile, read};
use tankday::shop::Shop;
use tankday::units::{Moment, Span};

fn shop(path: &str) -> Shop {
    let text = std::fs::read_to_string(path).unwrap();
    read(path, &text).unwrap().shop
}

fn small() -> Shop {
    shop("tests/plans/shop.yaml")
}

#[test]
fn a_written_plan_is_read_back_as_it_was() {
    for path in [
        "tests/plans/shop.yaml",
        "scenarios/mixed-day.yaml",
        "scenarios/filter-week.yaml",
    ] {
        let shop = shop(path);
        let line = Line::new(&shop);
        let found = plan(&shop, 1, Effort::Days(60), &AtomicBool::new(false), &|_| ()).unwrap();
        let text = write(&shop, &line, &found.plan);
        let file = PlanFile::read("plan.yaml", &text, &shop.calendar).unwrap();
        let meant = understand(&shop, &line, &file).unwrap_or_else(|f| panic!("{}", f.render(false)));
        assert_eq!(meant.plan.lots, found.plan.lots, "{path}");
        assert_eq!(meant.plan.head.len(), found.plan.head.len());
        let again = judged(&shop, &line, &meant.plan);
        assert_eq!(
            (again.unready, again.late_orders),
            (found.judged.unready, found.judged.late_orders)
        );
        let apart = (again.finish - found.judged.finish).in_minutes();
        assert!(apart.abs() < 1.0, "{path}: {apart} min");
        // What is written of it is the same again.
        assert_eq!(write(&shop, &line, &meant.plan), text, "{path}");
    }
}

#[test]
fn a_plan_is_followed_soundly_under_luck() {
    let shop = shop("scenarios/mixed-day.yaml");
    let line = Line::new(&shop);
    let found = plan(&shop, 3, Effort::Days(60), &AtomicBool::new(false), &|_| ()).unwrap();
    let text = write(&shop, &line, &found.plan);
    let file = PlanFile::read("plan.yaml", &text, &shop.calendar).unwrap();
    let meant = understand(&shop, &line, &file).unwrap();
    for n in 0..5 {
        let mut record = Record::default();
        line.follow(&meant.plan, Some(Streams::new(1, n)), &mut record);
        let faults = tankday::audit::check(&shop, &record);
        assert!(faults.is_empty(), "{faults:?}");
    }
}

/// An order may be divided otherwise than the rule would.
#[test]
fn orders_are_divided_as_the_plan_says() {
    let shop = small();
    let line = Line::new(&shop);
    let text = std::fs::read_to_string("tests/plans/good.yaml").unwrap();
    let text = text.replace("[200 of A1, 100 of A2]", "[150 of A1, 100 of A2, 50 of A1]");
    let file = PlanFile::read("plan.yaml", &text, &shop.calendar).unwrap();
    let meant = understand(&shop, &line, &file).unwrap_or_else(|f| panic!("{}", f.render(false)));
    let mut record = Record::default();
    line.follow(&meant.plan, None, &mut record);
    let made: Vec<u32> = record
        .entries
        .iter()
        .filter_map(|e| match e.event {
            LogEntry::LoadMade { pieces, .. } => Some(pieces),
            _ => None,
        })
        .collect();
    assert_eq!(made, [150, 50, 100, 2, 2, 6]);
    let faults = tankday::audit::check(&shop, &record);
    assert!(faults.is_empty(), "{faults:?}");
    let joins = record
        .entries
        .iter()
        .filter(|e| matches!(e.event, LogEntry::Joins { .. }));
    assert_eq!(joins.count(), 2);
}

/// Nothing begins before its time, and the first thing that cannot begin at its time is told.
#[test]
fn times_are_kept_or_told() {
    let shop = small();
    let line = Line::new(&shop);
    let text = std::fs::read_to_string("tests/plans/good.yaml").unwrap();
    let file = PlanFile::read("plan.yaml", &text, &shop.calendar).unwrap();
    let meant = understand(&shop, &line, &file).unwrap();
    let mut record = Record::default();
    line.follow(&meant.plan, None, &mut record);
    let polish = record.entries.iter().find(|e| match e.event {
        LogEntry::SetIn { step, .. } => shop.step(step).name == "polish",
        _ => false,
    });
    assert_eq!(polish.unwrap().at.clock(), "09:00");
    let early = text.replace("at: 08:30, do: coat", "at: 07:45, do: coat");
    let early = early.replace("at: 08:41", "at: 07:56");
    let file = PlanFile::read("plan.yaml", &early, &shop.calendar).unwrap();
    let meant = understand(&shop, &line, &file).unwrap_or_else(|f| panic!("{}", f.render(false)));
    let told = delays(&shop, &line, &file, &meant).render(false);
    assert!(told.contains("this can begin only at"), "{told}");
    assert!(told.contains("plan.yaml:13:"), "{told}");
}

#[test]
fn care_is_held_back_as_the_plan_says() {
    let shop = shop("scenarios/filter-week.yaml");
    let line = Line::new(&shop);
    let mut found = plan(&shop, 1, Effort::Days(40), &AtomicBool::new(false), &|_| ()).unwrap();
    let stops = |found: &tankday::line::Plan| -> Vec<Moment> {
        let mut record = Record::default();
        line.follow(found, None, &mut record);
        let begins = record
            .entries
            .iter()
            .filter(|e| matches!(e.event, LogEntry::CareBegins { .. }));
        begins.map(|e| e.at).collect()
    };
    let before = stops(&found.plan);
    let first = *before.first().expect("the week has care");
    let text = write(&shop, &line, &found.plan);
    let file = PlanFile::read("plan.yaml", &text, &shop.calendar).unwrap();
    found.plan = understand(&shop, &line, &file).unwrap().plan;
    found.plan.care[0].2 = first + Span::whole_minutes(30);
    let later = stops(&found.plan);
    assert!(
        later
            .first()
            .is_none_or(|at| *at >= first + Span::whole_minutes(30)),
        "{later:?}"
    );
}

fn files(dir: &str) -> Vec<PathBuf> {
    let paths = std::fs::read_dir(dir).unwrap().map(|e| e.unwrap().path());
    let plain = |p: &PathBuf| {
        let name = p.file_stem().unwrap().to_str().unwrap();
        p.extension().is_some_and(|e| e == "yaml") && !["shop", "good"].contains(&name)
    };
    let mut all: Vec<PathBuf> = paths.filter(plain).collect();
    all.sort();
    all
}

/// Compares what files get to hear with what is kept beside them; `TANKDAY_BLESS=1` keeps it anew.
fn hear(dir: &str, least: usize, words: impl Fn(&Path) -> String) {
    let bless = std::env::var_os("TANKDAY_BLESS").is_some();
    let all = files(dir);
    assert!(all.len() >= least, "only {} files", all.len());
    let mut differ = Vec::new();
    for path in all {
        let (kept, now) = (path.with_extension("txt"), words(&path));
        if bless {
            std::fs::write(&kept, &now).unwrap();
        } else if std::fs::read_to_string(&kept).ok().as_deref() != Some(now.as_str()) {
            differ.push(format!("{}:\n{now}", path.display()));
        }
    }
    assert!(differ.is_empty(), "{}", differ.join("\n"));
}

#[test]
fn broken_plans_get_the_words_kept_beside_them() {
    let shop = small();
    let line = Line::new(&shop);
    hear("tests/plans", 14, |path| {
        let name = path.file_name().unwrap().to_str().unwrap();
        let text = std::fs::read_to_string(path).unwrap();
        let refused = PlanFile::read(name, &text, &shop.calendar)
            .and_then(|file| understand(&shop, &line, &file).map(|_| ()))
            .expect_err(name);
        refused.render(false)
    });
}

#[test]
fn notes_that_contradict_get_the_words_kept_beside_them() {
    let shop = small();
    hear("tests/notes", 11, |path| {
        let name = path.file_name().unwrap().to_str().unwrap();
        let text = std::fs::read_to_string(path).unwrap();
        crate::plan_midday::refused(&shop, name, &text)
    });
}

#[test]
fn what_is_mended_can_be_followed() {
    let shop = small();
    let line = Line::new(&shop);
    let mut mended = 0;
    for path in files("tests/plans") {
        let name = path.file_stem().unwrap().to_str().unwrap();
        let text = std::fs::read_to_string(&path).unwrap();
        let Ok(file) = PlanFile::read(name, &text, &shop.calendar) else {
            continue;
        };
        // Neither another scenario nor an unknown care can be mended.
        if ["another-scenario", "no-such-care"].contains(&name) {
            continue;
        }
        let (file, changes) = repair(&shop, &line, &file);
        assert!(!changes.is_empty(), "{name}: nothing is told");
        let meant =
            understand(&shop, &line, &file).unwrap_or_else(|f| panic!("{name}:\n{}", f.render(false)));
        let mut record = Record::default();
        line.follow(&meant.plan, None, &mut record);
        let faults = tankday::audit::check(&shop, &record);
        assert!(faults.is_empty(), "{name}: {faults:?}");
        let ready = record
            .entries
            .iter()
            .filter(|e| matches!(e.event, LogEntry::OrderReady { .. }));
        assert_eq!(ready.count(), 4, "{name}");
        mended += 1;
    }
    assert!(mended >= 10, "{mended}");
    let good = std::fs::read_to_string("tests/plans/good.yaml").unwrap();
    let file = PlanFile::read("good", &good, &shop.calendar).unwrap();
    assert_eq!(repair(&shop, &line, &file).1, [] as [String; 0]);
}

//! Planning from the command line: what it writes, how it ends, what it says.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

fn tankday(words: &[&str], home: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_tankday"));
    command.args(words).current_dir(home);
    command.env_clear().env("LC_ALL", "C.UTF-8");
    command
}

fn run(words: &[&str], home: &Path) -> (i32, String, String) {
    let Output {
        status,
        stdout,
        stderr,
    } = tankday(words, home).output().unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    let status = status.code().unwrap();
    if status == 0 {
        crate::audited::assert_folder_sound(words, home);
    }
    (status, text(stdout), text(stderr))
}

/// What is told on standard error but for what was written.
fn written(error: &str) -> &str {
    let only = error.starts_with("Written into ") && !error.contains("warning") && !error.contains("error");
    if only { "" } else { error }
}

/// A folder with a small shop, its plan and its notes.
fn home() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    for (from, to) in [
        ("tests/plans/shop.yaml", "shop.yaml"),
        ("tests/plans/good.yaml", "plan.yaml"),
        ("tests/plans/too-large.yaml", "large.yaml"),
        ("tests/notes/good.yaml", "notes.yaml"),
        ("scenarios/mixed-day.yaml", "mixed-day.yaml"),
    ] {
        fs::copy(
            Path::new(env!("CARGO_MANIFEST_DIR")).join(from),
            home.path().join(to),
        )
        .unwrap();
    }
    home
}

#[test]
fn a_plan_is_written_and_can_be_run_again() {
    let home = home();
    let plan = ["plan", "shop.yaml", "--effort", "60", "--out", "out"];
    let (status, told, error) = run(&plan, home.path());
    assert_eq!((status, written(&error)), (0, ""));
    for rule in [
        "due first",
        "longest dwell first",
        "best fit by area",
        "slack against load time",
    ] {
        assert!(told.contains(rule), "{told}");
    }
    assert!(told.replace('\n', " ").contains("no plan can end"), "{told}");
    for file in ["plan.yaml", "day-sheet.ics", "day-sheet.csv", "record.csv"] {
        assert!(home.path().join("out").join(file).exists(), "{file}");
    }
    let (status, again, error) = run(
        &["run", "shop.yaml", "--plan", "out/plan.yaml", "--out", "again"],
        home.path(),
    );
    assert_eq!((status, error.as_str()), (0, ""), "{again}");
    for file in ["plan.yaml", "record.csv", "day-sheet.ics"] {
        let read = |dir: &str| fs::read(home.path().join(dir).join(file)).unwrap();
        assert_eq!(read("out"), read("again"), "{file}");
    }
    assert_eq!(run(&["audit", "again"], home.path()).0, 0);
    let (status, lucky, _) = run(
        &[
            "run",
            "shop.yaml",
            "--plan",
            "out/plan.yaml",
            "--replications",
            "5",
            "--audit",
            "--report",
        ],
        home.path(),
    );
    assert_eq!(status, 0);
    assert!(lucky.contains("WHAT EACH ORDER WAITS FOR"), "{lucky}");
}

#[test]
fn a_plan_that_breaks_a_limit_is_refused_or_mended() {
    let home = home();
    let (status, _, error) = run(&["run", "shop.yaml", "--plan", "large.yaml", "-q"], home.path());
    assert_eq!(status, 2);
    assert!(
        error.contains("large.yaml:6:") && error.contains("is too large"),
        "{error}"
    );
    let (status, _, error) = run(
        &[
            "run",
            "shop.yaml",
            "--plan",
            "large.yaml",
            "--repair",
            "--out",
            "out",
        ],
        home.path(),
    );
    assert_eq!(status, 0, "{error}");
    assert!(error.contains("Fixed in the plan:\n  L2 is too large"), "{error}");
    assert_eq!(
        run(
            &["run", "shop.yaml", "--plan", "out/plan.yaml", "-q"],
            home.path()
        )
        .0,
        0
    );
    let (status, _, error) = run(&["run", "mixed-day.yaml", "--plan", "out/plan.yaml"], home.path());
    assert_eq!(status, 2);
    assert!(
        error.contains("was made for `A small shop with a plan`, not for"),
        "{error}"
    );
}

#[test]
fn strictly_a_promise_that_breaks_is_told_with_its_minutes() {
    let home = home();
    let early = fs::read_to_string(home.path().join("shop.yaml")).unwrap();
    let early = early.replacen("due: 12:00", "due: 07:40", 1);
    fs::write(home.path().join("early.yaml"), early).unwrap();
    let words = ["plan", "early.yaml", "--effort", "60", "-q"];
    assert_eq!(run(&words, home.path()).0, 0);
    let (status, _, error) = run(&[&words[..], &["--strict"]].concat(), home.path());
    assert_eq!(status, 3);
    assert!(
        error.contains(
            "no plan keeps all due times: at least 1 order is late in any; by this one:\n  A1 cannot be kept, no plan has it \
             ready before 0"
        ),
        "{error}"
    );
    assert!(error.contains(" min late."), "{error}");
}

/// What was proved holds for plans that get everything ready, and the rules say what they leave.
#[test]
fn of_a_day_that_is_overfull_no_distance_is_claimed() {
    let home = home();
    let full = fs::read_to_string(home.path().join("shop.yaml")).unwrap();
    let full = full.replacen("close: 16:00, breaks: [12:00 to 12:30]", "close: 08:20", 1);
    fs::write(home.path().join("full.yaml"), full).unwrap();
    let words = ["plan", "full.yaml", "--effort", "60"];
    let (status, told, error) = run(&words, home.path());
    // As a run of such a day ends.
    assert_eq!((status, error.as_str()), (3, ""), "{told}");
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(!told.contains("no plan can end"), "{told}");
    assert!(told.contains("is to the best possible is not known"), "{told}");
    let (_, json, _) = run(&[&words[..], &["--json"]].concat(), home.path());
    let object: serde_json::Value = serde_json::from_str(&json).unwrap();
    let undone = object["unready_orders"].as_u64().unwrap();
    assert!(undone > 0 && object["gap_min"].is_null(), "{object}");
    assert!(told.contains(&format!("{undone} order")), "{told}");
    for rule in object["rules"].as_array().unwrap() {
        // The plan is never worse than a rule of thumb.
        assert!(rule["unready_orders"].as_u64().unwrap() >= undone, "{rule}");
        assert!(rule["finish"].is_null() && rule["late_min"].is_number(), "{rule}");
        let name = rule["name"].as_str().unwrap();
        let said = format!("{name} leaves {} order", rule["unready_orders"]);
        assert!(told.contains(&said), "{said}: {told}");
    }
}

/// A rule that comes to something better than the plan by breaking limits says so: else it would seem to beat the plan.
#[test]
fn a_rule_that_breaks_limits_says_so() {
    let home = home();
    fs::copy("tests/data/garage.yaml", home.path().join("garage.yaml")).unwrap();
    let words = ["plan", "garage.yaml", "--effort", "60"];
    let (_, told, _) = run(&words, home.path());
    // A day and more late is not told in minutes.
    let late = told
        .lines()
        .find(|l| l.starts_with("S1 is not kept: ready at Sat 09:"));
    assert!(late.is_some_and(|l| l.contains(", 36 h ")), "{told}");
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    let (_, json, _) = run(&[&words[..], &["--json"]].concat(), home.path());
    let object: serde_json::Value = serde_json::from_str(&json).unwrap();
    let mut broke = 0;
    for rule in object["rules"].as_array().unwrap() {
        let (name, broken) = (
            rule["name"].as_str().unwrap(),
            rule["limits_broken"].as_u64().unwrap(),
        );
        let row = &told[told.find(name).unwrap()..];
        let row = &row[..row.find("late").unwrap() + "late, and breaks 99 limits".len()];
        assert_eq!(row.contains("breaks"), broken > 0, "{name}: {row}");
        broke += u64::from(broken > 0);
    }
    assert!(broke > 0, "{object}");
}

#[test]
fn the_rest_of_a_day_and_a_promise() {
    let home = home();
    let rest = [
        "plan",
        "shop.yaml",
        "--at",
        "09:00",
        "--done",
        "notes.yaml",
        "--effort",
        "60",
        "--out",
        "rest",
    ];
    let (status, told, error) = run(&rest, home.path());
    assert_eq!((status, written(&error)), (0, ""), "{told}");
    assert!(
        !told.contains("  08:"),
        "what is past stands on the sheet: {told}"
    );
    assert!(home.path().join("rest/day-sheet.ics").exists());
    for note in [
        "TAKEN FROM THE NOTES\n  L1: 200 wood screws of A1, in the black tank from 08:30 to 08:42\n",
        "  A4 comes at 11:00, not at ",
    ] {
        assert!(told.contains(note), "{note}: {told}");
    }
    let page = fs::read_to_string(home.path().join("rest/day-sheet.html")).unwrap();
    assert!(
        page.contains("L1: 200 wood screws of A1, in the black tank from 08:30"),
        "{page}"
    );
    let (status, told, _) = run(
        &[
            "promise",
            "shop.yaml",
            "--order",
            "20 x wood screw",
            "--effort",
            "60",
            "--replications",
            "10",
        ],
        home.path(),
    );
    assert_eq!(status, 0);
    assert!(told.starts_with("20 wood screws can be promised for "), "{told}");
    let words = [
        "promise",
        "shop.yaml",
        "--order",
        "20 x wood screw",
        "--effort",
        "60",
        "--replications",
        "10",
        "--json",
    ];
    let (_, json, _) = run(&words, home.path());
    let object: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(object["order"]["pieces"], 20);
    assert!(object["promise"].as_str().unwrap().starts_with("2026-03-05T"));
    assert_eq!(object["orders"].as_array().unwrap().len(), 4);
    assert_eq!(
        run(&["promise", "shop.yaml", "--order", "20 x nothing"], home.path()).0,
        2
    );
    assert_eq!(run(&["plan", "shop.yaml", "--at", "teatime"], home.path()).0, 2);
}

/// The plan of the rest is a plan of the whole day: what was done stands in it, too, and nothing of the morning's is left.
#[test]
fn the_plan_of_the_rest_can_be_run_and_audited() {
    let home = home();
    let morning = ["plan", "shop.yaml", "--effort", "60", "--out", "day"];
    assert_eq!(run(&morning, home.path()).0, 0);
    let plan = || fs::read_to_string(home.path().join("day/plan.yaml")).unwrap();
    let of_the_morning = plan();
    let rest = [
        "plan",
        "shop.yaml",
        "--at",
        "09:00",
        "--done",
        "notes.yaml",
        "--effort",
        "60",
        "--out",
        "day",
        "-q",
    ];
    let (status, told, error) = run(&rest, home.path());
    assert_eq!(status, 0, "{told}{error}");
    let of_the_rest = plan();
    assert_ne!(of_the_morning, of_the_rest);
    for words in [
        "at: 08:30, do: coat, load: L1",
        "at: 08:42, take out: coat, load: L1",
    ] {
        assert!(of_the_rest.contains(words), "{words}: {of_the_rest}");
    }
    let mut left: Vec<String> = fs::read_dir(home.path().join("day"))
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    left.sort();
    assert_eq!(
        left,
        [
            "day-sheet.csv",
            "day-sheet.html",
            "day-sheet.ics",
            "day-sheet.txt",
            "plan.yaml",
            "summary.json",
            "tankday-files.txt"
        ]
    );
    let (status, told, error) = run(
        &[
            "run",
            "shop.yaml",
            "--plan",
            "day/plan.yaml",
            "--audit",
            "--out",
            "whole",
        ],
        home.path(),
    );
    assert_eq!((status, error.as_str()), (0, ""), "{told}\n{of_the_rest}");
    assert_eq!(run(&["audit", "whole"], home.path()).0, 0);
    // What is to come comes when the sheet of the rest says so.
    let rows = |dir: &str| {
        let csv = fs::read_to_string(home.path().join(dir).join("day-sheet.csv")).unwrap();
        let late = csv
            .lines()
            .filter(|l| l.contains(",take out,") && l[11..16] >= *"09:00");
        late.map(|l| l[..16].to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(rows("day"), rows("whole"));
}

/// What a run warns of, every plan of the same day warns of too, on the terminal, in the data and in what is written.
#[test]
fn plans_and_promises_warn_as_a_run_does() {
    let home = home();
    let shop = fs::read_to_string(home.path().join("shop.yaml")).unwrap();
    assert!(shop.contains("fill: 12 L"));
    fs::write(
        home.path().join("full.yaml"),
        shop.replacen("fill: 12 L", "fill: 14 L", 1),
    )
    .unwrap();
    let promise = [
        "promise",
        "full.yaml",
        "--order",
        "20 x wood screw",
        "--effort",
        "60",
        "--replications",
        "10",
    ];
    let commands: [&[&str]; 4] = [
        &["run", "full.yaml"],
        &["plan", "full.yaml", "--effort", "60"],
        &["plan", "full.yaml", "--at", "07:35", "--effort", "60"],
        &promise,
    ];
    for (number, words) in commands.iter().enumerate() {
        let out = format!("out{number}");
        let (status, told, error) = run(&[words, &["--out", &out][..]].concat(), home.path());
        assert_eq!((status, written(&error)), (0, ""), "{words:?}: {told}");
        assert!(
            told.contains("\nWATCH\n") && told.contains("of headroom for froth."),
            "{words:?}: {told}"
        );
        let (_, json, _) = run(&[words, &["--json"][..]].concat(), home.path());
        let object: serde_json::Value = serde_json::from_str(&json).unwrap();
        let whole = if object["run"].is_object() {
            &object["run"]
        } else {
            &object
        };
        let codes: Vec<&str> = whole["warnings"]
            .as_array()
            .unwrap()
            .iter()
            .filter_map(|w| w["code"].as_str())
            .collect();
        assert!(codes.contains(&"foam-room"), "{words:?}: {codes:?}");
        let written = fs::read_to_string(home.path().join(&out).join("summary.json")).unwrap();
        assert!(written.contains("\"foam-room\""), "{words:?}");
        let sheet = fs::read_to_string(home.path().join(&out).join("day-sheet.txt")).unwrap();
        assert!(
            sheet.contains("Face shield, gloves, apron, boots"),
            "{words:?}: {sheet}"
        );
    }
}

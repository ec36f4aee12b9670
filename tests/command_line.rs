//! The program from outside: what it prints, how it ends, what it leaves on the disk.

use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};

/// The program in a known environment.
fn tankday(words: &[&str], home: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_tankday"));
    command.args(words).current_dir(home);
    command.env_clear().env("LC_ALL", "C.UTF-8");
    command
}

pub(crate) fn run(words: &[&str], home: &Path) -> Output {
    let done = tankday(words, home).output().unwrap();
    if done.status.success() {
        crate::audited::assert_folder_sound(words, home);
    }
    done
}

fn status(output: &Output) -> i32 {
    output.status.code().unwrap()
}

pub(crate) fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// A folder with the three scenarios.
pub(crate) fn home() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    for name in ["first-day", "mixed-day", "two-day"] {
        let file = format!("{name}.yaml");
        let from = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("scenarios")
            .join(&file);
        fs::copy(from, home.path().join(&file)).unwrap();
    }
    home
}

fn names(dir: &Path) -> Vec<String> {
    let name = |e: Result<fs::DirEntry, _>| e.unwrap().file_name().into_string().unwrap();
    let mut names: Vec<String> = fs::read_dir(dir).unwrap().map(name).collect();
    names.sort();
    names
}

/// Run with `TRYCMD=overwrite` to accept what is printed now.
#[test]
fn as_printed() {
    trycmd::TestCases::new()
        .env("LC_ALL", "C.UTF-8")
        .env("NO_COLOR", "1")
        .case("tests/cli/*.trycmd")
        .case("README.md");
}

#[test]
fn the_starter_runs_as_it_is() {
    let home = tempfile::tempdir().unwrap();
    assert_eq!(status(&run(&["new", "shop.yaml"], home.path())), 0);
    assert_eq!(status(&run(&["check", "shop.yaml"], home.path())), 0);
    let done = run(&["run", "--audit", "shop.yaml"], home.path());
    assert_eq!((status(&done), text(&done.stderr)), (0, String::new()));
    let again = run(&["new", "shop.yaml"], home.path());
    assert_eq!(status(&again), 1);
    assert!(text(&again.stderr).contains("exists already"), "{again:?}");
}

#[test]
fn what_was_written_passes_its_audit_and_what_was_edited_does_not() {
    let home = home();
    let done = run(&["run", "two-day.yaml", "--out", "out", "--quiet"], home.path());
    assert_eq!(status(&done), 0, "{done:?}");
    let audit = || run(&["audit", "out"], home.path());
    assert_eq!(status(&audit()), 0);
    let path = home.path().join("out/record.csv");
    let whole = fs::read_to_string(&path).unwrap();
    // A later lift by hand; a line lost; a line twice; half a file.
    let lines: Vec<&str> = whole.lines().collect();
    let lift = lines.iter().position(|l| l.contains("lift begins")).unwrap();
    let without: Vec<&str> = [&lines[..lift], &lines[lift + 1..]].concat();
    let twice: Vec<&str> = [&lines[..=lift], &lines[lift..]].concat();
    for edited in [
        without.join("\n"),
        twice.join("\n"),
        lines[..lines.len() / 2].join("\n"),
    ] {
        fs::write(&path, edited + "\n").unwrap();
        let refused = audit();
        assert_eq!(status(&refused), 1, "{refused:?}");
        assert!(!refused.stderr.is_empty());
    }
    fs::write(&path, &whole).unwrap();
    let sheet = home.path().join("out/day-sheet.csv");
    fs::write(
        &sheet,
        fs::read_to_string(&sheet).unwrap().replace("07:30", "07:20"),
    )
    .unwrap();
    assert!(text(&audit().stderr).contains("does not follow from the record"));
}

#[test]
fn the_same_bytes_on_any_number_of_threads() {
    let home = home();
    let with = |threads: &str| {
        let words = [
            "run",
            "mixed-day.yaml",
            "--json",
            "--replications",
            "12",
            "--seed",
            "7",
            "--threads",
            threads,
        ];
        let done = run(&words, home.path());
        assert_eq!(status(&done), 0);
        done.stdout
    };
    assert_eq!(with("1"), with("3"));
}

#[test]
fn the_object_is_json_and_says_what_the_summary_says() {
    let home = home();
    let done = run(&["run", "mixed-day.yaml", "--json"], home.path());
    let object: serde_json::Value = serde_json::from_slice(&done.stdout).unwrap();
    assert_eq!(object["orders"].as_array().unwrap().len(), 12);
    let causes = object["sets_the_end"].as_array().unwrap();
    let sum: f64 = causes.iter().map(|c| c["minutes"].as_f64().unwrap()).sum();
    // From 07:30 to the end; each cause is rounded to a millionth of a minute.
    let end = object["last_ready"].as_str().unwrap();
    let clock: Vec<f64> = end[11..].split(':').map(|n| n.parse().unwrap()).collect();
    let span = clock[0] * 60.0 + clock[1] + clock[2] / 60.0 - 450.0;
    assert!((sum - span).abs() < 1e-4, "{sum} {span}");
    assert!(done.stderr.is_empty());
}

#[test]
fn a_closed_pipe_is_no_error() {
    let home = home();
    let mut child = tankday(&["run", "mixed-day.yaml"], home.path())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let done = child.wait_with_output().unwrap();
    assert_eq!((status(&done), text(&done.stderr)), (0, String::new()));
}

#[test]
fn no_sign_beyond_ascii_where_the_locale_has_none() {
    let home = home();
    let mut command = tankday(&["run", "first-day.yaml"], home.path());
    let done = command.env("LC_ALL", "C").output().unwrap();
    assert!(done.stdout.is_ascii());
}

#[test]
fn a_folder_that_cannot_be_written_is_told_and_left_alone() {
    let home = home();
    fs::write(home.path().join("out"), "a file").unwrap();
    let done = run(&["run", "first-day.yaml", "--out", "out"], home.path());
    assert_eq!(status(&done), 1);
    assert!(
        text(&done.stderr).contains("--out names a folder, and out is a file"),
        "{done:?}"
    );
    assert_eq!(fs::read_to_string(home.path().join("out")).unwrap(), "a file");
}

#[test]
fn where_one_file_cannot_be_written_none_is() {
    let home = home();
    fs::create_dir_all(home.path().join("out/day.svg")).unwrap();
    let done = run(&["run", "first-day.yaml", "--out", "out"], home.path());
    assert_eq!(status(&done), 1);
    assert_eq!(names(&home.path().join("out")), ["day.svg"]);
}

/// `/dev/full` refuses every byte, as a full disk does.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_told() {
    let home = home();
    let full = fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let done = tankday(&["run", "first-day.yaml"], home.path())
        .stdout(full)
        .output()
        .unwrap();
    assert_eq!(status(&done), 1);
    assert!(
        text(&done.stderr).contains("no room is left on the disk"),
        "{done:?}"
    );
}

/// What is true of all days stands at the top, what is true of one of them in `drawn_day`; the keys of the contract stand at
/// the top, too, and each entry says of which day it is.
#[test]
fn figures_of_one_day_are_not_among_those_of_many() {
    let home = home();
    let of = |words: &[&str]| -> serde_json::Value {
        let done = run(
            &[&["run", "mixed-day.yaml", "--json"], words].concat(),
            home.path(),
        );
        serde_json::from_slice(&done.stdout).unwrap()
    };
    let many = of(&["--replications", "6"]);
    let keys =
        |value: &serde_json::Value| -> Vec<String> { value.as_object().unwrap().keys().cloned().collect() };
    let told = ["loads", "sets_the_end", "warnings"];
    let alone = ["would_help", "stations", "waste", "rinses", "reworks", "hands"];
    let one_day = [&told[..], &alone[..]].concat();
    assert!(
        keys(&many).iter().all(|key| !alone.contains(&key.as_str())),
        "{:?}",
        keys(&many)
    );
    for key in told {
        let entries = many[key].as_array().unwrap();
        assert!(!entries.is_empty(), "{key}");
        assert!(entries.iter().all(|e| e["figures_of"] == "drawn_day"), "{key}");
    }
    let drawn = &many["drawn_day"];
    assert!(
        one_day.iter().all(|key| drawn.get(key).is_some()),
        "{:?}",
        keys(drawn)
    );
    assert!((1..=6).contains(&drawn["replication"].as_u64().unwrap()));
    assert_eq!(many["figures_of"], "all 6 simulated days");
    for order in many["orders"].as_array().unwrap() {
        assert!(
            order.get("cost").is_none() && order["ready"].get("p90").is_some(),
            "{order}"
        );
    }
    for order in drawn["orders"].as_array().unwrap() {
        assert!(
            order.get("on_time_chance").is_none() && !order["ready"].is_object(),
            "{order}"
        );
    }
    // A mean with its interval above, one number below; the one day is among the six.
    let total = &many["cost"]["total"];
    assert!(total["low"].as_f64().unwrap() < total["high"].as_f64().unwrap());
    assert!(drawn["cost"]["total"].is_number());
    // One day with average times has no other days to be told from, and keeps its keys.
    let one = of(&[]);
    assert!(one_day.iter().all(|key| one.get(key).is_some()) && one.get("drawn_day").is_none());
    assert_eq!(one["figures_of"], "one day, worked out with average times");
}

/// Hands are paid to the end of their work or to closing, as the shop says, and either way both figures are shown.
#[test]
fn hands_are_paid_as_the_shop_says() {
    let home = home();
    let paid = |until: &str| -> (f64, f64, String) {
        let text = format!("extends: mixed-day.yaml\nshop: {{hands paid: {until}}}\n");
        fs::write(home.path().join("paid.yaml"), text).unwrap();
        let json = run(&["run", "paid.yaml", "--json"], home.path());
        let object: serde_json::Value = serde_json::from_slice(&json.stdout).unwrap();
        let cost = |key: &str| object["cost"][key].as_f64().unwrap();
        let told = text_of(&run(&["run", "paid.yaml"], home.path()));
        (cost("hands"), cost("hands_paid_otherwise"), told)
    };
    let (work, otherwise, told) = paid("to the end of their work");
    let line =
        format!("Hands are paid to the end of their work: {work:.2}; paid to closing: {otherwise:.2}.");
    assert!(told.contains(&line), "{line}: {told}");
    let (closing, otherwise_now, told) = paid("to closing");
    assert_eq!((closing, otherwise_now), (otherwise, work));
    let line = format!("Hands are paid to closing: {closing:.2}; paid to the end of their work: {work:.2}.");
    assert!(told.contains(&line) && closing > work, "{line}: {told}");
}

/// What was printed, in one line.
fn text_of(output: &Output) -> String {
    text(&output.stdout)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

/// A scenario of `tests/data` with something put for something else, in a folder of its own.
fn changed(name: &str, from: &str, to: &str) -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    let text = fs::read_to_string(Path::new("tests/data").join(name)).unwrap();
    assert!(text.contains(from), "{from}");
    fs::write(home.path().join("day.yaml"), text.replacen(from, to, 1)).unwrap();
    home
}

/// Status 3 says of every command that an order that is stated does not get ready; of those that come by chance some are
/// under way at the end of any day.
#[test]
fn a_day_that_cannot_be_done_ends_so_whoever_says_it() {
    let home = changed("pot.yaml", "count: 16", "count: 400");
    for words in [
        &["run", "day.yaml"][..],
        &["plan", "day.yaml", "--effort", "20"],
        &["plan", "day.yaml", "--effort", "20", "--at", "13:15"],
    ] {
        let done = run(words, home.path());
        let told = String::from_utf8_lossy(&done.stdout).into_owned();
        assert!(told.contains("won't be finished"), "{words:?}: {told}");
        assert_eq!(status(&done), 3, "{words:?}");
    }
    let by_chance = "orders:\n  - {id: J, part: jaw, count: 8, route: black, \
                     arrives: {every: exponential 30 min, up to: 12, fewest: 8}}";
    let home = changed("pot.yaml", "orders:", by_chance);
    let done = run(&["run", "day.yaml"], home.path());
    let told = String::from_utf8_lossy(&done.stdout).into_owned();
    assert!(told.contains("Won't be finished: J"), "{told}");
    assert_eq!(status(&done), 0);
}

#[test]
fn where_the_day_is_over_that_is_said() {
    let home = changed("pot.yaml", "tankday: 1", "tankday: 1");
    let words = ["plan", "day.yaml", "--effort", "20", "--at", "14:30"];
    let done = run(&words, home.path());
    let told = String::from_utf8_lossy(&done.stdout).into_owned();
    let said = "Nothing more can be done from 14:30 on: the last day closed at 14:00.";
    assert!(told.starts_with(said), "{told}");
}

/// Nothing that is to be watched stands only in a file that may not be written.
#[test]
fn all_that_is_to_be_watched_is_told() {
    let home = changed("trays.yaml", "tankday: 1", "tankday: 1");
    let told = String::from_utf8_lossy(&run(&["run", "day.yaml"], home.path()).stdout).into_owned();
    let json = run(&["run", "day.yaml", "--json"], home.path()).stdout;
    let json: serde_json::Value = serde_json::from_slice(&json).unwrap();
    let warnings = json["warnings"].as_array().unwrap().len();
    assert!(warnings > 5, "{warnings}");
    assert_eq!(told.matches("\n  ! ").count(), warnings, "{told}");
}

/// Every command that writes into a folder says which files, on one stream or the other, unless it is to be quiet.
#[test]
fn every_command_says_what_it_wrote() {
    let home = home();
    let fill = "tanks.pot.fill=3 L..4 L/2";
    let commands: [(&[&str], &str); 5] = [
        (&["run", "first-day.yaml"], "report.html"),
        (&["plan", "first-day.yaml", "--effort", "20"], "plan.yaml"),
        (
            &["promise", "first-day.yaml", "--order", "2 x brace chuck"],
            "day-sheet.txt",
        ),
        (
            &["sweep", "first-day.yaml", "--vary", fill, "--replications", "2"],
            "sweep.svg",
        ),
        (
            &["check", "first-day.yaml", "--route", "black and oil"],
            "route-black-and-oil.svg",
        ),
    ];
    for (words, file) in commands {
        let said = |more: &[&str]| {
            let done = run(&[words, &["--out", "out", "--force"], more].concat(), home.path());
            assert_eq!(status(&done), 0, "{words:?}: {}", text(&done.stderr));
            let all = text(&done.stdout) + &text(&done.stderr);
            all.split_whitespace().collect::<Vec<_>>().join(" ")
        };
        let told = said(&[]);
        let list = told
            .split("Written into out: ")
            .nth(1)
            .unwrap_or_else(|| panic!("{words:?}: {told}"));
        assert!(list.contains(file), "{words:?}: {list}");
        assert!(home.path().join("out").join(file).exists());
        assert!(!said(&["--quiet"]).contains("Written into"), "{words:?}");
    }
}

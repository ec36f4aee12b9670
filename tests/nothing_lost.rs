//! Nothing of the user's is lost: no command writes over what it reads, over what it did not write, or over what was
//! edited since it wrote it. It names all such files and stops before anything is written, unless `--force` is said.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

pub(crate) const LIST: &str = "tankday-files.txt";

/// Runs the program there: status, what it says on standard error.
pub(crate) fn run(words: &[&str], home: &Path) -> (i32, String) {
    let done = Command::new(env!("CARGO_BIN_EXE_tankday"))
        .args(words)
        .arg("--quiet")
        .current_dir(home)
        .env_clear()
        .env("LC_ALL", "C.UTF-8")
        .output()
        .unwrap();
    if done.status.success() {
        crate::audited::assert_folder_sound(words, home);
    }
    (
        done.status.code().unwrap(),
        String::from_utf8(done.stderr).unwrap(),
    )
}

fn copy(from: &str, to: &Path) {
    fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join(from), to).unwrap();
}

/// A folder with a small shop and a scenario that extends it.
pub(crate) fn home() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    copy("tests/plans/shop.yaml", &home.path().join("shop.yaml"));
    copy("tests/notes/good.yaml", &home.path().join("notes.yaml"));
    fs::write(
        home.path().join("scenario.yaml"),
        "extends: shop.yaml\ntitle: Ours\n",
    )
    .unwrap();
    home
}

/// All files of a folder with their bytes, links by where they lead.
pub(crate) fn held(dir: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut held = BTreeMap::new();
    for entry in fs::read_dir(dir).unwrap() {
        let entry = entry.unwrap();
        let name = entry.file_name().into_string().unwrap();
        let about = fs::symlink_metadata(entry.path()).unwrap();
        let bytes = if about.is_file() {
            fs::read(entry.path()).unwrap()
        } else {
            b"no file".to_vec()
        };
        held.insert(name, bytes);
    }
    held
}

/// Runs what must be refused: status 1, each of these files named, nothing on the disk changed.
fn refused(words: &[&str], home: &Path, dir: &str, files: &[&str]) -> String {
    let before = (
        held(home),
        fs::metadata(home.join(dir))
            .is_ok()
            .then(|| held(&home.join(dir))),
    );
    let (status, error) = run(words, home);
    assert_eq!(status, 1, "{words:?}: {error}");
    for file in files {
        assert!(error.contains(&format!("{file}: ")), "{words:?}: {file}: {error}");
    }
    assert!(error.contains("--force"), "{error}");
    let after = (
        held(home),
        fs::metadata(home.join(dir))
            .is_ok()
            .then(|| held(&home.join(dir))),
    );
    assert!(before == after, "{words:?} wrote something");
    error
}

/// As reported: an eight-line scenario that extends another was replaced by all of both.
#[test]
fn a_run_into_its_own_folder_leaves_its_scenario() {
    let home = home();
    let home = home.path();
    let error = refused(
        &["run", "scenario.yaml", "--out", "."],
        home,
        ".",
        &["scenario.yaml"],
    );
    assert!(error.contains("this command reads it"), "{error}");
    // A file of its own is not written over by itself: its bytes stay, and it stays the user's.
    let alone = home.join("alone");
    fs::create_dir(&alone).unwrap();
    copy("tests/plans/shop.yaml", &alone.join("scenario.yaml"));
    let text = fs::read(alone.join("scenario.yaml")).unwrap();
    assert_eq!(
        run(&["run", "scenario.yaml", "--out", "."], &alone),
        (0, String::new())
    );
    assert_eq!(fs::read(alone.join("scenario.yaml")).unwrap(), text);
    assert!(
        !fs::read_to_string(alone.join(LIST))
            .unwrap()
            .contains("scenario.yaml")
    );
}

/// Parents, plans, notes and orders are read, too; and a file is the same by whatever path.
#[cfg(unix)]
#[test]
fn all_that_is_read_is_kept_by_whatever_name() {
    let home = home();
    let home = home.path();
    fs::create_dir(home.join("out")).unwrap();
    // The parent lies in the folder, under a name that would be written.
    fs::rename(home.join("shop.yaml"), home.join("out/scenario.yaml")).unwrap();
    fs::write(home.join("day.yaml"), "extends: out/scenario.yaml\ntitle: Ours\n").unwrap();
    refused(
        &["run", "day.yaml", "--out", "out"],
        home,
        "out",
        &["out/scenario.yaml"],
    );
    std::os::unix::fs::symlink("out", home.join("detour")).unwrap();
    refused(
        &["run", "day.yaml", "--out", "detour"],
        home,
        "out",
        &["detour/scenario.yaml"],
    );
    refused(
        &[
            "plan",
            "day.yaml",
            "--effort",
            "quick",
            "--out",
            "./detour/../out",
        ],
        home,
        "out",
        &["scenario.yaml"],
    );
    // A plan that is followed and would be written in other words; it hangs in the folder by a second name.
    let plan =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/plans/good.yaml")).unwrap();
    fs::create_dir(home.join("plans")).unwrap();
    fs::write(home.join("mine.yaml"), format!("# Edited by hand.\n{plan}")).unwrap();
    fs::hard_link(home.join("mine.yaml"), home.join("plans/plan.yaml")).unwrap();
    copy("tests/plans/shop.yaml", &home.join("whole.yaml"));
    let words = ["run", "whole.yaml", "--plan", "mine.yaml", "--out", "plans"];
    let error = refused(&words, home, "plans", &["plans/plan.yaml"]);
    assert!(error.contains("this command reads it"), "{error}");
    // Notes under the name of a sheet.
    fs::create_dir(home.join("rest")).unwrap();
    fs::copy(home.join("notes.yaml"), home.join("rest/day-sheet.txt")).unwrap();
    let words = [
        "plan",
        "whole.yaml",
        "--effort",
        "quick",
        "--at",
        "09:00",
        "--done",
        "rest/day-sheet.txt",
        "--out",
        "rest",
    ];
    refused(&words, home, "rest", &["rest/day-sheet.txt"]);
}

/// As reported: the second plan deleted the hand edits of the first.
#[test]
fn an_edited_plan_stays_and_every_edited_file_is_named_at_once() {
    let home = home();
    let home = home.path();
    let plan = ["plan", "shop.yaml", "--effort", "40", "--out", "out"];
    assert_eq!(run(&plan, home), (0, String::new()));
    // Unedited, it is written again without a word.
    assert_eq!(run(&plan, home), (0, String::new()));
    for (file, more) in [("plan.yaml", "# mine\n"), ("day-sheet.txt", "call the client\n")] {
        let path = home.join("out").join(file);
        let text = fs::read_to_string(&path).unwrap();
        fs::write(&path, text + more).unwrap();
    }
    fs::write(home.join("out/bill.txt"), "paid\n").unwrap();
    let error = refused(&plan, home, "out", &["out/plan.yaml", "out/day-sheet.txt"]);
    assert!(
        error.contains("changed since tankday wrote it") && !error.contains("bill.txt"),
        "{error}"
    );
    let (status, _) = run(&[plan.as_slice(), &["--force"]].concat(), home);
    assert_eq!(status, 0);
    assert!(
        !fs::read_to_string(home.join("out/plan.yaml"))
            .unwrap()
            .contains("# mine")
    );
    assert_eq!(fs::read_to_string(home.join("out/bill.txt")).unwrap(), "paid\n");
}

/// A file that was there before, and a folder of an earlier version without a list.
#[test]
fn what_the_program_did_not_write_is_not_replaced_by_any_command() {
    let home = home();
    let home = home.path();
    copy("tests/plans/shop.yaml", &home.join("other.yaml"));
    let commands: [(&[&str], &str); 6] = [
        (&["run", "shop.yaml"], "record.csv"),
        (&["plan", "shop.yaml", "--effort", "20"], "plan.yaml"),
        (
            &["plan", "shop.yaml", "--effort", "20", "--at", "09:00"],
            "day-sheet.ics",
        ),
        (
            &["compare", "shop.yaml", "other.yaml", "--replications", "2"],
            "report.html",
        ),
        (
            &[
                "sweep",
                "shop.yaml",
                "--vary",
                "shop.hands=1..2",
                "--replications",
                "2",
            ],
            "sweep.json",
        ),
        (&["check", "shop.yaml", "--route", "ROUTE"], "route-ROUTE.dot"),
    ];
    let shop = fs::read_to_string(home.join("shop.yaml")).unwrap();
    let route = shop
        .lines()
        .skip_while(|l| !l.starts_with("routes:"))
        .nth(1)
        .unwrap()
        .trim()
        .trim_end_matches(':')
        .to_owned();
    for (i, (words, file)) in commands.iter().enumerate() {
        let words: Vec<String> = words.iter().map(|w| w.replace("ROUTE", &route)).collect();
        let plain = |c: char| if c.is_alphanumeric() { c } else { '-' };
        let file = file.replace("ROUTE", &route.chars().map(plain).collect::<String>());
        let out = format!("out{i}");
        fs::create_dir(home.join(&out)).unwrap();
        fs::write(home.join(&out).join(&file), "mine").unwrap();
        let mut words: Vec<&str> = words.iter().map(String::as_str).collect();
        words.extend(["--out", out.as_str()]);
        let error = refused(&words, home, &out, &[&format!("{out}/{file}")]);
        assert!(error.contains("tankday did not write it"), "{error}");
        words.push("--force");
        let (status, error) = run(&words, home);
        assert_eq!(status, 0, "{words:?}: {error}");
        assert_ne!(fs::read(home.join(&out).join(&file)).unwrap(), b"mine");
    }
}

/// The morning's page, plan and pictures do not stay beside the sheet of the afternoon; what was edited does, and blocks.
#[test]
fn the_rest_of_a_day_takes_the_place_of_its_morning() {
    let home = home();
    let home = home.path();
    let morning = ["plan", "shop.yaml", "--effort", "40", "--out", "out"];
    assert_eq!(run(&morning, home).0, 0);
    fs::write(
        home.join("out/notes.yaml"),
        fs::read(home.join("notes.yaml")).unwrap(),
    )
    .unwrap();
    let rest = [
        "plan",
        "shop.yaml",
        "--effort",
        "quick",
        "--at",
        "09:00",
        "--done",
        "out/notes.yaml",
        "--out",
        "out",
    ];
    let of_the_morning = fs::read(home.join("out/plan.yaml")).unwrap();
    let sheet = home.join("out/report.html");
    let text = fs::read_to_string(&sheet).unwrap();
    fs::write(&sheet, text.clone() + "<!-- mine -->").unwrap();
    refused(&rest, home, "out", &["out/report.html"]);
    fs::write(&sheet, text).unwrap();
    let (status, error) = run(&rest, home);
    assert_eq!(status, 0, "{error}");
    let left = held(&home.join("out"));
    assert_ne!(
        left.get("plan.yaml"),
        Some(&of_the_morning),
        "the plan is the morning's"
    );
    for gone in ["report.html", "scenario.yaml", "record.csv", "day.svg", "day.png"] {
        assert!(
            !left.contains_key(gone),
            "{gone} stays beside the sheet of the rest"
        );
    }
    for stays in ["notes.yaml", "plan.yaml", "day-sheet.txt", "day-sheet.ics", LIST] {
        assert!(left.contains_key(stays), "{stays} is gone");
    }
    let page = fs::read_to_string(home.join("out/day-sheet.html")).unwrap();
    assert!(page.contains("From <b>09:00</b> on"));
    assert!(!page.contains("report.html"), "a link to what is not there");
    assert_eq!(run(&["audit", "out"], home), (0, String::new()));
}

/// A promise is refused before its search, and the parts of a study are read like any other file.
#[test]
fn promises_and_joined_parts_are_no_exception() {
    let home = home();
    let home = home.path();
    copy("tests/plans/shop.yaml", &home.join("other.yaml"));
    fs::create_dir(home.join("out")).unwrap();
    fs::write(home.join("out/plan.yaml"), "mine").unwrap();
    let words = [
        "promise",
        "shop.yaml",
        "--order",
        "20 x wood screw, screws",
        "--out",
        "out",
    ];
    refused(&words, home, "out", &["out/plan.yaml"]);
    let part = Command::new(env!("CARGO_BIN_EXE_tankday"))
        .args([
            "compare",
            "shop.yaml",
            "other.yaml",
            "--replications",
            "2",
            "--part",
            "1/1",
            "-q",
        ])
        .current_dir(home)
        .output()
        .unwrap();
    assert!(part.status.success(), "{part:?}");
    fs::write(home.join("compare.json"), &part.stdout).unwrap();
    let error = refused(
        &["join", "compare.json", "--out", "."],
        home,
        ".",
        &["compare.json"],
    );
    assert!(error.contains("this command reads it"), "{error}");
}

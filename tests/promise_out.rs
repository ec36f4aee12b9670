//! What `promise --out` writes is a scenario with the new order and a plan for it, and runs as it is.

use std::path::Path;
use std::process::Command;

fn tankday(words: &[&str], home: &Path) -> (i32, String, String) {
    let done = Command::new(env!("CARGO_BIN_EXE_tankday"))
        .args(words)
        .current_dir(home)
        .env_clear()
        .env("LC_ALL", "C.UTF-8")
        .output()
        .unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (done.status.code().unwrap(), text(done.stdout), text(done.stderr))
}

#[track_caller]
fn runs_as_written(scenario: &str, order: &str) {
    let home = tempfile::tempdir().unwrap();
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join(scenario);
    let file = file.to_str().unwrap();
    let words = [
        "promise",
        file,
        "--order",
        order,
        "--effort",
        "60",
        "--replications",
        "20",
        "--out",
        "out",
    ];
    let (status, told, error) = tankday(&words, home.path());
    assert_eq!(status, 0, "{told}{error}");
    let words = [
        "run",
        "out/scenario.yaml",
        "--plan",
        "out/plan.yaml",
        "--out",
        "again",
        "-q",
    ];
    let (status, _, error) = tankday(&words, home.path());
    assert_eq!((status, error.as_str()), (0, ""), "{scenario}: {order}");
    // The day is the same: what was promised is on it.
    let sheet = |dir: &str| std::fs::read_to_string(home.path().join(dir).join("day-sheet.csv")).unwrap();
    assert_eq!(sheet("out"), sheet("again"), "{scenario}: {order}");
    let (status, _, error) = tankday(&["audit", "again"], home.path());
    assert_eq!(status, 0, "{error}");
}

#[test]
fn what_a_promise_writes_runs_as_it_is() {
    runs_as_written("tests/plans/shop.yaml", "20 x wood screw");
    runs_as_written(
        "tests/data/mixed-day-first.yaml",
        "8 x vise jaw, castings, arrives: 09:00",
    );
}

#[test]
fn what_is_promised_on_a_further_day_runs_as_it_is() {
    runs_as_written("tests/plans/shop.yaml", "100 x vise jaw");
    runs_as_written("scenarios/two-day.yaml", "30 x drawbolt, soaked, arrives: 09:00");
}

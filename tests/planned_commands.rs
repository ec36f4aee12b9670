//! `compare --planned` and `sweep --planned` from the command line: what is said, and the same bytes on any number of threads.

use serde_json::Value;
use std::path::Path;
use std::process::{Command, Output};

fn tankday(words: &[&str], home: &Path) -> Output {
    Command::new(env!("CARGO_BIN_EXE_tankday"))
        .args(words)
        .current_dir(home)
        .output()
        .unwrap()
}

#[track_caller]
fn said(words: &[&str], home: &Path) -> String {
    let done = tankday(words, home);
    assert!(done.status.success(), "{words:?}: {done:?}");
    String::from_utf8(done.stdout).unwrap()
}

/// A small shop, the same with another pair of hands, and one whose orders come by chance.
fn home() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    // With more time to the rinse there is something to plan even for a search of 60 days.
    let shop = std::fs::read_to_string("tests/plans/shop.yaml").unwrap();
    let shop = shop.replace(
        "for: 3 min, hands: throughout}",
        "for: 3 min, hands: throughout, within: 30 min}",
    );
    std::fs::write(home.path().join("shop.yaml"), shop).unwrap();
    std::fs::copy("scenarios/one-large-tank.yaml", home.path().join("chance.yaml")).unwrap();
    let hands = "extends: shop.yaml\nshop: {hands: 2}\n";
    std::fs::write(home.path().join("two-hands.yaml"), hands).unwrap();
    home
}

const COMPARE: [&str; 7] = [
    "compare",
    "shop.yaml",
    "two-hands.yaml",
    "--replications",
    "10",
    "--planned",
    "60",
];
const SWEEP: [&str; 8] = [
    "sweep",
    "shop.yaml",
    "--vary",
    "shop.hands=1..3",
    "--replications",
    "10",
    "--planned",
    "60",
];

fn json(words: &[&str], home: &Path) -> Value {
    serde_json::from_str(&said(&[words, &["--json"]].concat(), home)).unwrap()
}

#[test]
fn rules_and_plans_are_said_wherever_a_choice_is_told() {
    let home = home();
    let by_rules = said(&COMPARE[..5], home.path());
    assert!(
        by_rules.contains("By the shop's rules; a plan may change this (--planned)."),
        "{by_rules}"
    );
    let planned = said(&COMPARE, home.path());
    assert!(
        planned.contains("Each planned, effort 60; the plan is the same on all days."),
        "{planned}"
    );
    assert!(
        planned.contains("By the shop's rules alone the answer"),
        "{planned}"
    );
    let swept = said(&SWEEP, home.path());
    assert!(swept.contains("Each planned, effort 60"), "{swept}");
    assert!(swept.contains("By the shop's rules alone"), "{swept}");
    for words in [&COMPARE[..], &SWEEP[..]] {
        said(&[words, &["--out", "out", "--force"]].concat(), home.path());
        let page = std::fs::read_to_string(home.path().join("out/report.html")).unwrap();
        assert!(page.contains("Each planned, effort 60"));
        assert!(page.contains("--planned 60 --seed 1"));
    }
}

/// The day by the rules ends at least as late as the planned one; both stand in the data.
#[test]
fn the_data_hold_both_days() {
    let home = home();
    let compared = json(&COMPARE, home.path());
    assert_eq!(compared["following"]["by"], "plans");
    assert_eq!(compared["following"]["effort"], "60");
    let finish = |of: &Value| of["figures"]["finish_min"]["mean"].as_f64().unwrap();
    for i in 0..2 {
        let (planned, rules) = (
            &compared["alternatives"][i],
            &compared["by_rules"]["alternatives"][i],
        );
        assert!(finish(planned) <= finish(rules), "{planned} {rules}");
        assert!(planned["follows"].as_str().unwrap().contains("plan"));
    }
    assert!(finish(&compared["alternatives"][0]) < finish(&compared["by_rules"]["alternatives"][0]));
    let swept = json(&SWEEP, home.path());
    let planned: Vec<f64> = swept["points"].as_array().unwrap().iter().map(finish).collect();
    assert!(planned.windows(2).all(|w| w[1] <= w[0]), "{planned:?}");
    assert_eq!(swept["by_rules"]["points"].as_array().unwrap().len(), 3);
    let by_rules = json(&COMPARE[..5], home.path());
    assert_eq!(by_rules["following"]["by"], "rules");
    assert_eq!(by_rules["alternatives"][1]["follows"], "its own rules");
}

#[test]
fn any_number_of_threads_and_shares_give_the_same_bytes() {
    let home = home();
    for words in [&COMPARE[..], &SWEEP[..]] {
        let one = said(&[words, &["--threads", "1"]].concat(), home.path());
        let three = said(&[words, &["--threads", "3"]].concat(), home.path());
        assert_eq!(one, three);
        let shares = ["1/2", "2/2"].map(|share| {
            let name = format!("{}.json", &share[..1]);
            let part = said(&[words, &["--part", share]].concat(), home.path());
            std::fs::write(home.path().join(&name), part).unwrap();
            name
        });
        let joined = said(&["join", &shares[0], &shares[1]], home.path());
        assert_eq!(joined, one);
    }
}

#[test]
fn a_refined_sweep_and_assumptions_are_planned_too() {
    let home = home();
    let vary = "tanks.black tank.fill=11 L..13 L/2";
    let words = [
        "sweep",
        "shop.yaml",
        "--vary",
        vary,
        "--refine",
        "2",
        "--replications",
        "5",
        "--planned",
        "60",
    ];
    let swept = json(&words, home.path());
    let points = swept["points"].as_array().unwrap();
    assert!(points.len() > 2, "{swept}");
    assert!(
        points
            .iter()
            .all(|p| p["follows"].is_string() && p["figures"].is_object())
    );
    assert_eq!(
        swept["by_rules"]["points"].as_array().unwrap().len(),
        points.len()
    );
    let words = [
        &COMPARE[..],
        &[
            "--assume",
            "a stronger heater: tanks.black tank.heater.power=5 kW",
        ],
    ]
    .concat();
    let done = tankday(&words, home.path());
    let text = String::from_utf8_lossy(&done.stdout);
    assert!(done.status.success(), "{done:?}");
    assert!(text.contains("IF IT WERE OTHERWISE"), "{text}");
}

#[test]
fn what_cannot_be_planned_is_said() {
    let home = home();
    let done = tankday(
        &["compare", "--planned", "shop.yaml", "two-hands.yaml"],
        home.path(),
    );
    assert_eq!(done.status.code(), Some(2));
    let error = String::from_utf8(done.stderr).unwrap();
    assert!(error.contains("a file stands before --planned"), "{error}");
}

/// Where orders come by chance each day is planned by itself: how much that takes is said before, the answer is the same on
/// any number of threads, and said wherever it is told.
#[test]
fn orders_that_come_by_chance_are_planned_as_they_come() {
    let home = home();
    for (name, hands) in [("mixed.yaml", 1), ("mixed-two.yaml", 2)] {
        let chance = format!(
            "extends: shop.yaml\nshop: {{hands: {hands}}}\norders:\n  - {{id: walk-in, part: wood screw, count: 90, route: \
             screws, due after: 2 h, arrives: {{every: exponential 90 min, from: 08:00, until: 13:00, fewest: 20}}}}\n"
        );
        std::fs::write(home.path().join(name), chance).unwrap();
    }
    let words = [
        "compare",
        "mixed.yaml",
        "mixed-two.yaml",
        "--replications",
        "4",
        "--planned",
        "60",
    ];
    let done = tankday(&words, home.path());
    let (told, error) = (
        String::from_utf8(done.stdout).unwrap(),
        String::from_utf8(done.stderr).unwrap(),
    );
    let flat = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        flat.contains(
            "a day is planned each morning and again at each such order, with only what is known then."
        ),
        "{told}"
    );
    assert!(flat.contains("By the shop's rules alone the answer is"), "{told}");
    assert!(
        error.starts_with("orders come by chance: about ")
            && error.contains(" plans for 4 days of each, about "),
        "{error}"
    );
    let one = said(&[&words[..], &["--threads", "1", "--json"]].concat(), home.path());
    let three = said(&[&words[..], &["--threads", "3", "--json"]].concat(), home.path());
    assert_eq!(one, three);
    let data: Value = serde_json::from_str(&one).unwrap();
    assert_eq!(data["following"]["random_orders"], true);
    assert_eq!(data["alternatives"][0]["follows"], "a plan of each day");
    // A plan of one day says what it leaves out, on the terminal and on the page.
    let plan = ["plan", "mixed.yaml", "--effort", "60", "--out", "out"];
    let told = said(&plan, home.path())
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    let page = std::fs::read_to_string(home.path().join("out/report.html")).unwrap();
    for text in [told, page] {
        assert!(
            text.contains("Orders that come by chance are not in this plan"),
            "{text}"
        );
    }
    let alone = said(&words[..5], home.path());
    assert!(
        alone.contains("By the shop's rules; a plan may change this (--planned)."),
        "{alone}"
    );
}

/// A plan says what it gains against the rules; what would help then, if that is asked for: never less than nothing, the best
/// first, and no more than a plan could gain in a shop with that made easier.
#[test]
fn what_would_help_is_told_after_planning() {
    let home = home();
    let plan = ["plan", "shop.yaml", "--effort", "60"];
    let told = said(&plan, home.path());
    assert!(told.contains("Planning alone: "), "{told}");
    let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        flat(&told).contains("What would help beyond that: --what-helps plans the day"),
        "{told}"
    );
    assert!(json(&plan, home.path())["helps_then"].is_null());
    let asked = [&plan[..], &["--what-helps"]].concat();
    let told = flat(&said(&asked, home.path()));
    assert!(
        told.contains(" than by the shop's own rules.") && told.contains("Beyond planning: "),
        "{told}"
    );
    let data = json(&asked, home.path());
    assert!(data["planning_alone"]["earlier_min"].as_f64().unwrap() >= 0.0);
    let gains = data["helps_then"].as_array().unwrap();
    let earlier: Vec<f64> = gains.iter().map(|g| g["earlier_min"].as_f64().unwrap()).collect();
    assert!(gains.len() >= 8 && earlier.iter().all(|m| *m >= 0.0), "{data}");
    assert!(
        earlier[0] >= 1.0 && earlier.windows(2).all(|w| w[0] >= w[1]),
        "{earlier:?}"
    );
    let end = |words: &[&str]| {
        let time = json(words, home.path())["run"]["last_ready"]
            .as_str()
            .unwrap()
            .to_owned();
        let part = |from: usize| time[from..from + 2].parse::<f64>().unwrap();
        60.0 * part(11) + part(14) + part(17) / 60.0
    };
    let hands = gains
        .iter()
        .find(|g| g["what"] == "one more pair of hands")
        .unwrap();
    let two = end(&["plan", "two-hands.yaml", "--effort", "60"]);
    let gained = hands["earlier_min"].as_f64().unwrap();
    assert!(gained >= end(&plan) - two - 0.1, "{gained} {two}");
    said(&[&asked[..], &["--out", "out"]].concat(), home.path());
    let page = std::fs::read_to_string(home.path().join("out/report.html")).unwrap();
    assert!(page.contains("Planning alone: ") && page.contains("planning the day again, effort quick"));
}

/// What a plan gives up is said beside what it has for that, in the same words on terminal and page.
#[test]
fn what_was_traded_for_what_is_said() {
    let home = home();
    let scenario = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/fresh-bath.yaml");
    let told = said(
        &["plan", scenario, "--effort", "quick", "--out", "out"],
        home.path(),
    );
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    let from = told.find("Planning alone: ").unwrap();
    let sentence = told[from..].split_inclusive(". ").next().unwrap().trim();
    assert!(
        sentence.contains(" min later than by the shop's own rules, for "),
        "{sentence}"
    );
    assert!(sentence.contains(" less"), "{sentence}");
    let page = std::fs::read_to_string(home.path().join("out/report.html")).unwrap();
    assert!(page.contains(sentence), "{sentence}");
    let data = json(&["plan", scenario, "--effort", "quick"], home.path());
    let considered = data["considered"].as_array().unwrap();
    assert_eq!(considered.iter().filter(|c| c["chosen"] == true).count(), 1);
}

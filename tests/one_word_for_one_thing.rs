//! One key for one thing: the keys of every JSON object and the headings of every CSV file that the program writes.

use crate::command_line::{home, run};
use std::collections::BTreeSet;
use std::path::Path;

/// Every key of an object, at any depth. Names of parts that stand as keys are no keys of ours.
fn keys(value: &serde_json::Value, all: &mut BTreeSet<String>) {
    match value {
        serde_json::Value::Object(map) => {
            for (key, inner) in map {
                all.insert(key.clone());
                if key != "coating_g_per_m2" {
                    keys(inner, all);
                }
            }
        }
        serde_json::Value::Array(items) => items.iter().for_each(|i| keys(i, all)),
        _ => {}
    }
}

fn printed(words: &[&str], home: &Path) -> serde_json::Value {
    let done = run(words, home);
    serde_json::from_slice(&done.stdout).unwrap_or_else(|e| panic!("{words:?}: {e}"))
}

/// What every command prints with `--json`, and the headings of what `run` writes as CSV.
fn all_keys(home: &Path) -> BTreeSet<String> {
    let sweep = [
        "sweep",
        "mixed-day.yaml",
        "--vary",
        "tanks.black tank.fill=18 L..20 L/2",
        "--replications",
        "2",
        "--json",
    ];
    let objects = [
        printed(&["run", "mixed-day.yaml", "--json"], home),
        printed(&["run", "mixed-day.yaml", "--replications", "3", "--json"], home),
        printed(
            &[
                "compare",
                "mixed-day.yaml",
                "mixed-day.yaml",
                "--replications",
                "2",
                "--json",
            ],
            home,
        ),
        printed(&sweep, home),
        printed(&["plan", "first-day.yaml", "--effort", "quick", "--json"], home),
        printed(
            &[
                "promise",
                "first-day.yaml",
                "--order",
                "4 x brace chuck",
                "--json",
            ],
            home,
        ),
    ];
    let mut all = BTreeSet::new();
    objects.iter().for_each(|o| keys(o, &mut all));
    run(&["run", "first-day.yaml", "--out", "out"], home);
    for file in ["out/record.csv", "out/day-sheet.csv"] {
        let text = std::fs::read_to_string(home.join(file)).unwrap();
        all.extend(text.lines().next().unwrap().trim().split(',').map(str::to_owned));
    }
    all
}

#[test]
fn keys_say_the_words_of_the_trade() {
    let home = home();
    let all = all_keys(home.path());
    assert!(all.len() > 150, "{all:?}");
    for key in &all {
        let words: Vec<&str> = key.split('_').collect();
        // Total acid and acid ratio are called so, and never by half of their names.
        assert!(!words.contains(&"strength"), "{key}");
        assert!(
            !words.contains(&"ratio") || key.contains("acid_ratio") || key == "von_neumann_ratio",
            "{key}"
        );
        // One way of writing a unit by another: `g_per_l`, not `g_l`.
        for pair in words.windows(2) {
            let units = ["g", "kg", "mg", "dm2", "m2", "l"];
            assert!(!(units.contains(&pair[0]) && units.contains(&pair[1])), "{key}");
        }
        assert!(!words.contains(&"kwh") || words.contains(&"energy"), "{key}");
        assert!(!["undone", "promised"].iter().any(|w| words.contains(w)), "{key}");
    }
}

#[test]
fn no_second_key_says_when_the_last_hands_are_done() {
    let home = home();
    let day = printed(&["run", "mixed-day.yaml", "--json"], home.path());
    assert!(day["finish"].is_string() && day["end"].is_null());
    // When the last load is ready is another time where it drains in the oil with nobody beside it.
    assert!(day["last_ready"].is_string());
    let plan = printed(
        &["plan", "first-day.yaml", "--effort", "quick", "--json"],
        home.path(),
    );
    let considered = plan["considered"].as_array().unwrap();
    for way in considered.iter().chain(plan["rules"].as_array().unwrap()) {
        assert!(
            way["finish"].is_string() && way["unready_orders"].is_number(),
            "{way}"
        );
    }
}

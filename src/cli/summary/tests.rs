use super::lines;
use crate::json;
use crate::reckon::Reckoned;
use crate::terminal::Terminal;
use tankday_base::print::{Line, Paper};
use tankday_record::made::shop;

fn text(lines: &[Line], paper: Paper) -> String {
    lines.iter().map(|l| l.write(paper) + "\n").collect()
}

fn page(replications: Option<u32>, columns: usize, paper: Paper) -> String {
    let shop = shop();
    let reckoned = Reckoned::of(&shop, None, 1, replications, true).ok().unwrap();
    text(
        &lines(&reckoned.results(&shop), Terminal { paper, columns }),
        paper,
    )
}

/// Escapes taken out.
fn bare(coloured: &str) -> String {
    let mut bare = String::new();
    let mut inside = false;
    for c in coloured.chars() {
        match c {
            '\u{1b}' => inside = true,
            'm' if inside => inside = false,
            _ if !inside => bare.push(c),
            _ => {}
        }
    }
    bare
}

#[test]
fn never_wider_than_the_page_and_colour_changes_no_word() {
    for replications in [None, Some(3)] {
        let plain = page(replications, 80, Paper::FILE);
        assert!(plain.lines().all(|l| l.chars().count() <= 80), "{plain}");
        let coloured = page(
            replications,
            80,
            Paper {
                colour: true,
                unicode: true,
            },
        );
        assert!(coloured.contains('\u{1b}'));
        assert_eq!(bare(&coloured), plain);
    }
    let narrow = page(None, 60, Paper::FILE);
    let (table, _) = narrow.split_once("WHAT SETS THE END").unwrap();
    let (_, table) = table.split_once("ORDERS").unwrap();
    assert!(
        table
            .lines()
            .filter(|l| !l.contains("  / heating"))
            .all(|l| l.chars().count() <= 60),
        "{table}"
    );
}

#[test]
fn the_answer_stands_first() {
    let page = page(None, 80, Paper::FILE);
    let third = page.lines().nth(2).unwrap();
    assert_eq!(
        third,
        "Both orders will be ready on time; last hands-on work done by 08:49."
    );
}

#[test]
fn the_keys_of_the_object_are_those_promised() {
    let shop = shop();
    for replications in [None, Some(3)] {
        let reckoned = Reckoned::of(&shop, None, 1, replications, true).ok().unwrap();
        let object = json::object(&reckoned.results(&shop));
        let has = |value: &serde_json::Value, keys: &[&str]| {
            for key in keys {
                assert!(value.get(key).is_some(), "{key} is missing in {value:#}");
            }
        };
        has(
            &object,
            &[
                "title",
                "seed",
                "replications",
                "finish",
                "orders",
                "loads",
                "tanks",
                "baths",
                "cost",
            ],
        );
        has(&object, &["sets_the_end", "warnings"]);
        has(
            &object["orders"][0],
            &["id", "pieces", "ready", "due", "late_min", "on_time_chance"],
        );
        has(
            &object["loads"][0],
            &[
                "id",
                "tank",
                "in",
                "out",
                "dwell_min",
                "area_dm2",
                "mass_kg",
                "orders",
            ],
        );
        has(
            &object["tanks"][0],
            &[
                "name",
                "heat_up_min",
                "lowest_in_band_c",
                "share",
                "energy_kwh",
                "top_up_l",
            ],
        );
        let shares = ["heating", "waiting", "coating", "recovering", "care", "off"];
        has(&object["tanks"][0]["share"], &shares);
        let bath = [
            "name",
            "area_dm2_per_l",
            "iron_g_per_l",
            "total_acid_points",
            "acid_ratio",
            "sludge_g_per_l",
            "life_left",
        ];
        has(&object["baths"][0], &bath);
        has(
            &object["cost"],
            &["power", "water", "chemicals", "hands", "total", "currency"],
        );
        has(&object["sets_the_end"][0], &["what", "minutes"]);
        has(&object["warnings"][0], &["code", "text", "where"]);
    }
}

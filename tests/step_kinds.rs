//! What a step is decides which cautions stand beside it, never the letters of its name.

use tankday::line::Line;
use tankday::record::{Figures, Record};
use tankday::scenario::{self, Scenario};
use tankday::sheet::{ALWAYS, DaySheet, NEAR, Row, StepCaution, WEAR, sheets};
use tankday::shop::StepKind;

/// A route of five steps, the second and the last in words of a test's own.
fn text(before: &str, after: &str, part: &str, tank: &str) -> String {
    format!(
        "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-03-02, open: 08:00, close: 18:00}}]
tanks: [{{name: pot, bath: manganese, inside: 35 cm x 25 cm x 35 cm, fill: 20 L, {tank}heater: {{power: 3 kW}}}}]
baths: {{manganese: {{coat: {{target: 13 g/m2}}}}}}
stations: [{{name: bench, loads: 4}}]
parts: {{cap: {{mass: 40 g, area: 80 cm2{part}}}}}
routes:
  way:
    - {{do: degrease, at: bench, for: 5 min}}
    - {{do: {before}, at: bench, for: 5 min, hands: ends}}
    - {{do: coat, in: manganese}}
    - {{do: rinse, at: bench, for: 1 min}}
    - {{do: {after}, at: bench, for: 5 min, hands: ends}}
orders: [{{id: A, part: cap, count: 10, route: way}}]
"
    )
}

fn read(text: &str) -> Scenario {
    scenario::read("kinds", text).unwrap_or_else(|f| panic!("{}", f.render(false)))
}

fn day(scenario: &Scenario) -> Vec<DaySheet> {
    let mut record = Record::default();
    Line::new(&scenario.shop).run(None, &mut record);
    let figures = Figures::of(&scenario.shop, &record);
    sheets(&scenario.shop, &record, &figures)
}

fn rows(sheets: &[DaySheet]) -> impl Iterator<Item = &Row> {
    sheets.iter().flat_map(|s| &s.rows)
}

fn says(sheets: &[DaySheet], caution: StepCaution) -> bool {
    rows(sheets).any(|r| r.cautions.contains(&caution))
}

/// All cautions that go by the kind of a step.
const BY_KIND: [StepCaution; 10] = [
    StepCaution::Blast,
    StepCaution::HotCaustic,
    StepCaution::Pickle,
    StepCaution::Bake,
    StepCaution::Seal,
    StepCaution::Hexavalent,
    StepCaution::CompressedAir,
    StepCaution::HotOil,
    StepCaution::Oil,
    StepCaution::NoAcid,
];

/// Names in which the letters of a kind stand, and names without them: a caution goes by whole words that are known.
#[test]
fn cautions_go_by_kind_not_by_letters() {
    use StepCaution::{
        Bake, Blast, CompressedAir, Hexavalent, HotCaustic, HotOil, Oil, Pickle, Seal, Solvent,
    };
    let table: &[(&str, StepKind, &[StepCaution], bool)] = &[
        ("boil out", StepKind::Other, &[], false),
        ("oven-fresh", StepKind::Other, &[], true),
        ("toil", StepKind::Other, &[], true),
        ("spoil check", StepKind::Other, &[], true),
        ("coil spring", StepKind::Other, &[], true),
        ("foil wrap", StepKind::Other, &[], true),
        ("covenant", StepKind::Other, &[], true),
        ("ablaster", StepKind::Other, &[], true),
        ("placid", StepKind::Other, &[], true),
        ("bakelite knob", StepKind::Other, &[], true),
        ("blast", StepKind::Blast, &[Blast], false),
        ("Shot-Blast", StepKind::Blast, &[Blast], false),
        ("blst", StepKind::Blast, &[Blast], true),
        ("grit the faces", StepKind::Blast, &[Blast], true),
        ("faces, bead blast", StepKind::Blast, &[Blast], true),
        ("whirl, kind: blast", StepKind::Blast, &[Blast], false),
        ("blast, kind: other", StepKind::Other, &[], false),
        ("tumble", StepKind::Tumble, &[], false),
        ("wire brush", StepKind::Brush, &[], false),
        ("hot caustic", StepKind::DegreaseHotAlkaline, &[HotCaustic], false),
        (
            "boil out, kind: degrease hot alkaline",
            StepKind::DegreaseHotAlkaline,
            &[HotCaustic],
            false,
        ),
        ("acid dip", StepKind::Pickle, &[Pickle], false),
        ("solvent wipe", StepKind::DegreaseSolvent, &[Solvent], false),
        ("wipe with acetone", StepKind::DegreaseSolvent, &[Solvent], true),
        (
            "dunk, kind: degrease solvent",
            StepKind::DegreaseSolvent,
            &[Solvent],
            false,
        ),
        ("preheat", StepKind::Preheat, &[Bake], false),
        ("bake", StepKind::Relieve, &[Bake], false),
        ("oven dry", StepKind::DryByOven, &[Bake], false),
        ("seal", StepKind::Seal, &[Seal], false),
        ("chromic rinse", StepKind::SealHexavalent, &[Hexavalent], false),
        ("blow off", StepKind::DryByAir, &[CompressedAir], false),
        ("oil", StepKind::Oil, &[Oil], false),
        ("hot oil", StepKind::OilHot, &[HotOil, Oil], true),
        ("wipe", StepKind::Wipe, &[], false),
        ("inspect", StepKind::Inspect, &[], false),
        ("rest", StepKind::Rest, &[], false),
        ("oild", StepKind::Oil, &[Oil], true),
        ("oill", StepKind::Oil, &[Oil], true),
        ("oily rags", StepKind::Other, &[], true),
        ("dyr", StepKind::DryByAir, &[CompressedAir], true),
        ("insepct", StepKind::Inspect, &[], true),
        ("rset", StepKind::Rest, &[], true),
        ("ohter", StepKind::Other, &[], true),
        ("wire the caps", StepKind::Other, &[], true),
    ];
    for (name, kind, cautions, asked) in table {
        // `a, kind: b` is written as two keys; a name with a comma in it is quoted.
        let name = if name.contains(", bead") {
            format!("\"{name}\"")
        } else {
            (*name).to_owned()
        };
        let scenario = read(&text("pause", &name, "", ""));
        assert_eq!(scenario.shop.routes[0].steps[4].kind, *kind, "{name}");
        assert_eq!(
            !scenario.warnings.is_empty(),
            *asked,
            "{name}: {}",
            scenario.warnings.render(false)
        );
        let sheets = day(&scenario);
        for caution in BY_KIND {
            assert_eq!(
                says(&sheets, caution),
                cautions.contains(&caution),
                "{name}: {caution:?}"
            );
        }
    }
}

/// The row on which a caution of a step stands is the row of that step.
#[test]
fn a_caution_stands_on_the_line_of_its_step() {
    let sheets = day(&read(&text("acid dip", "oil", "", "")));
    for (words, caution) in [("acid dip", StepCaution::Pickle), ("oil", StepCaution::Oil)] {
        let row = rows(&sheets).find(|r| r.cautions.contains(&caution)).unwrap();
        assert!(row.deed.to_lowercase().contains(words), "{}", row.deed);
    }
}

/// Of hardened pieces no acid is said before the pickle, where it can still be heeded, not at the bath after it.
#[test]
fn no_acid_is_said_before_the_pickle() {
    let hard = read(&text("pickle", "hold", ", material: spring steel", ""));
    assert!(
        !hard.warnings.is_empty(),
        "a route that pickles hard pieces is warned of"
    );
    let sheets = day(&hard);
    let all: Vec<&Row> = rows(&sheets).collect();
    let at = |is: &dyn Fn(&Row) -> bool| all.iter().position(|r| is(r)).unwrap();
    let first = at(&|r| r.cautions.contains(&StepCaution::NoAcid));
    let pickle = at(&|r| r.cautions.contains(&StepCaution::Pickle));
    let bath = at(&|r| r.deed.contains("into the pot"));
    assert!(first < pickle && pickle < bath, "{first} {pickle} {bath}");
    assert!(all[pickle].cautions.contains(&StepCaution::NoAcid));
    assert!(!all[bath].cautions.contains(&StepCaution::NoAcid));
    assert!(all[bath].cautions.contains(&StepCaution::NotRelieved));
    let soft = day(&read(&text("pickle", "hold", "", "")));
    assert!(!says(&soft, StepCaution::NoAcid) && says(&soft, StepCaution::Pickle));
}

/// Hot work is not put into oil: after an oven it cools first.
#[test]
fn hot_work_into_oil_is_warned_of() {
    let way = |steps: &str| {
        let text = text("pause", "bake", "", "").replace("orders:", &format!("{steps}\norders:"));
        day(&read(&text))
    };
    let oil = "    - {do: oil, at: bench, for: 5 min}";
    assert!(says(&way(oil), StepCaution::HotOil));
    let cooled = format!("    - {{do: cool, at: bench, for: 30 min}}\n{oil}");
    assert!(!says(&way(&cooled), StepCaution::HotOil));
    // Rags are oily after oil, not before it.
    let wiped = format!("{oil}\n    - {{do: wipe, at: bench, for: 2 min}}");
    let sheets = way(&wiped);
    assert!(says(&sheets, StepCaution::Oil));
}

/// Lifting, wires, heaters and lids: each caution only where it holds.
#[test]
fn what_is_lifted_and_heated_has_its_cautions() {
    let with = |part: &str, tank: &str| day(&read(&text("blast", "oil", part, tank)));
    let plain = with("", "");
    let lid = with("", "lid: {leak: 0 %}, ");
    let wired = with(", held: wire", "");
    let heavy = day(&read(
        &text("blast", "oil", "", "")
            .replace("mass: 40 g, area: 80 cm2", "mass: 10 kg, area: 9 dm2, held: wire")
            .replace(
                "35 cm x 25 cm x 35 cm, fill: 20 L",
                "60 cm x 50 cm x 50 cm, fill: 100 L",
            )
            .replace("power: 3 kW", "power: 15 kW")
            .replace("count: 10", "count: 2"),
    ));
    let light = day(&read(
        &text("blast", "oil", "", "")
            .replace("mass: 40 g, area: 80 cm2", "mass: 9 kg, area: 9 dm2, held: wire")
            .replace(
                "35 cm x 25 cm x 35 cm, fill: 20 L",
                "60 cm x 50 cm x 50 cm, fill: 100 L",
            )
            .replace("power: 3 kW", "power: 15 kW")
            .replace("count: 10", "count: 2"),
    ));
    let plate = day(&read(
        &text("blast", "oil", "", "").replace("power: 3 kW", "power: 3 kW, kind: hot plate"),
    ));
    for (caution, yes, no) in [
        (StepCaution::ResidualCurrent, &plain, &plate),
        (StepCaution::TightLid, &lid, &plain),
        (StepCaution::PlainWire, &wired, &plain),
        (StepCaution::HeavyLift, &heavy, &light),
    ] {
        assert!(says(yes, caution), "{caution:?}");
        assert!(!says(no, caution), "{caution:?}");
    }
}

/// What is added to a hot bath has its caution on its own line, each time.
#[test]
fn additions_to_a_hot_bath_have_their_caution() {
    let text = text("blast", "oil", "", "lid: none, ").replace("count: 10", "count: 120")
        + "rules: {top up: {below: 98 %, takes: 3 min}, care: {replenish: {when: after 2 loads, to: 40 points, takes: 5 min}}}\n";
    let sheets = match scenario::read("kinds", &text) {
        Ok(read) => day(&read),
        Err(found) => panic!("{}", found.render(false)),
    };
    let touched: Vec<&Row> = rows(&sheets)
        .filter(|r| r.deed.starts_with("Top up") || r.deed.starts_with("Add "))
        .collect();
    for words in ["Top up", "Add "] {
        let hot = |r: &&&Row| r.deed.starts_with(words) && r.cautions.contains(&StepCaution::TopUp);
        assert!(touched.iter().any(|r| hot(&r)), "{words}: {touched:?}");
    }
}

/// What to wear is declared once: the sheet, the report and the README say the same.
#[test]
fn what_to_wear_is_the_same_everywhere() {
    let readme = std::fs::read_to_string("README.md").unwrap();
    assert!(readme.contains(WEAR) && readme.contains(NEAR));
    assert!(ALWAYS.contains(WEAR) && ALWAYS.contains(NEAR));
    let scenario = read(&text("blast", "oil", "", ""));
    let sheet = tankday::sheet::to_text(&day(&scenario))
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert!(sheet.contains(WEAR) && sheet.contains(NEAR), "{sheet}");
}

/// Hard and sprung steel under the names that it is bought by: always hardened, so that its hydrogen is not forgotten.
#[test]
fn hard_steel_is_hard_under_every_name() {
    for material in [
        "hardened steel",
        "spring steel",
        "music wire",
        "piano wire",
        "hardened screws",
        "case-hardened steel",
        "tool steel",
        "high-tensile screws",
    ] {
        let scenario = read(&text("blast", "hold", &format!(", material: {material}"), ""));
        let part = &scenario.shop.parts[0];
        assert!(
            scenario.shop.materials[part.material.index()].hardened,
            "{material}"
        );
        assert!(says(&day(&scenario), StepCaution::NotRelieved), "{material}");
    }
    for material in [
        "sprung steel",
        "Spring Steel",
        "musik wire",
        "hardened pins",
        "sheet-spring steel",
    ] {
        let found = scenario::read(
            "kinds",
            &text("blast", "hold", &format!(", material: {material}"), ""),
        )
        .unwrap_err();
        let words = found.render(false);
        assert!(!words.contains("did you mean `plain steel`?"), "{words}");
        assert!(!words.contains("did you mean `sheet steel`?"), "{words}");
        assert!(words.contains("hydrogen matters"), "{words}");
    }
}

/// A shop with one pair of hands and a hoist lifts what is heavy with it.
#[test]
fn a_hoist_lifts_what_one_person_should_not() {
    let text = std::fs::read_to_string("tests/broken/424-heavy-for-one.yaml").unwrap();
    let warned = |text: &str| {
        let read = scenario::read("heavy.yaml", text).unwrap_or_else(|f| panic!("{}", f.render(false)));
        read.warnings
            .render(false)
            .matches("is a lift for two people or a hoist")
            .count()
    };
    let with = |hoist: &str| text.replacen("hands: 1", &format!("hands: 1, hoist: {hoist}"), 1);
    assert_eq!(
        [warned(&text), warned(&with("no")), warned(&with("yes"))],
        [3, 3, 0]
    );
}

//! Materials that take the coating, take it after a trial piece, or stay out, under the names by which people call them; and
//! pieces that hold something else besides.

use tankday::scenario::{Findings, read};

fn text(part: &str) -> String {
    format!(
        "tankday: 1
shop: {{hands: 1}}
days: [{{date: 2026-03-09, open: 08:00, close: 16:00}}]
baths: {{mn: {{}}}}
tanks: [{{name: pot, bath: mn, inside: round 30 cm x 40 cm, fill: 16 L, heater: {{power: 2 kW}}}}]
stations: [{{name: sink}}]
parts: {{knob: {{{part}, mass: 120 g, area: 0.6 dm2}}}}
routes: {{black: [{{do: degrease, at: sink, for: 5 min}}, {{do: coat, in: mn}}, {{do: rinse, at: sink, for: 1 min}}]}}
orders: [{{id: A1, part: knob, count: 4, route: black}}]
"
    )
}

/// What is said of a part of a material, whether it may go in, and all that was said.
fn said(part: &str) -> (bool, String) {
    let all = |found: &Findings| found.render(false);
    match read("shop.yaml", &text(part)) {
        Ok(scenario) => (true, all(&scenario.warnings)),
        Err(found) => (false, all(&found)),
    }
}

#[test]
fn what_takes_the_coating_goes_in_without_a_word() {
    for name in [
        "plain steel",
        "low-alloy steel",
        "mild steel",
        "ductile iron",
        "cast iron",
    ] {
        let (may, words) = said(&format!("material: {name}"));
        assert!(may && !words.contains("knob"), "{name}: {words}");
    }
}

#[test]
fn what_may_come_out_bare_is_tried_with_one_piece() {
    for name in [
        "alloy steel",
        "nitrided steel",
        "free-cutting steel",
        "leaded steel",
    ] {
        let (may, words) = said(&format!("material: {name}"));
        let told = words.contains(&format!("`knob` ({name}) may come out of `mn` with a poor coat"));
        assert!(
            may && told && words.contains("put one piece in before a load"),
            "{name}: {words}"
        );
    }
}

#[test]
fn what_the_bath_must_not_touch_stays_out() {
    for (name, why) in [
        ("galvanised steel", "strip it elsewhere first"),
        ("zinc-plated", "strip it elsewhere first"),
        ("nickel-plated", "strip and blast it first"),
        ("chrome-plated", "strip and blast it first"),
        ("stainless steel", "does not react with the bath"),
        ("copper", "copper takes no coating"),
        ("bronze", "bronze takes no coating"),
        ("brass", "brass takes no coating"),
        ("magnesium", "the bath attacks magnesium"),
        ("aluminum", "the bath attacks aluminium"),
    ] {
        let (may, words) = said(&format!("material: {name}"));
        let told = words.contains(&format!("`knob` ({name}) must stay out of `mn`"));
        assert!(!may && told && words.contains(why), "{name}: {words}");
    }
}

#[test]
fn hydrogen_matters_in_what_is_mostly_hard() {
    for name in [
        "alloy steel",
        "nitrided steel",
        "case-hardened steel",
        "silver steel",
    ] {
        let shop = read("shop.yaml", &text(&format!("material: {name}")))
            .unwrap()
            .shop;
        let material = &shop.materials[shop.parts[0].material.index()];
        assert!(material.hardened, "{name}");
    }
    let shop = read("shop.yaml", &text("material: free-cutting steel"))
        .unwrap()
        .shop;
    assert!(!shop.materials[shop.parts[0].material.index()].hardened);
}

#[test]
fn an_insert_goes_in_with_its_piece() {
    let (may, words) = said("material: plain steel, insert: brass");
    assert!(
        !may && words.contains("`knob` holds an insert of brass, which must stay out of `mn`"),
        "{words}"
    );
    for part in [
        "material: plain steel, insert: brass, plugged: yes",
        "material: plain steel, insert: cast iron",
    ] {
        let (may, words) = said(part);
        assert!(may, "{part}: {words}");
    }
}

#[test]
fn a_shops_own_material_says_why_it_is_tried() {
    let own = |more: &str| {
        let text = text("material: odd steel");
        let materials = format!("materials: {{odd steel: {{{more}}}}}\nparts:");
        read("shop.yaml", &text.replace("parts:", &materials))
    };
    let warned = own("trial: nobody has coated it yet")
        .unwrap()
        .warnings
        .render(false);
    assert!(
        warned.contains("nobody has coated it yet: put one piece in"),
        "{warned}"
    );
    let warned = own("like: alloy steel").unwrap().warnings.render(false);
    assert!(warned.contains("`knob` (odd steel) may come out"), "{warned}");
    let sure = own("like: alloy steel, coats: yes")
        .unwrap()
        .warnings
        .render(false);
    assert!(!sure.contains("poor coat"), "{sure}");
}

/// The measures of a spring say that it is sprung, whatever its name and its material say.
#[test]
fn a_spring_is_not_soft() {
    let spring = |material: &str| {
        let measures = "spring: 1.5 mm x 12 mm x 40 mm, coils: 8";
        let text = text("X").replace("X, mass: 120 g, area: 0.6 dm2", &format!("{measures}{material}"));
        read("shop.yaml", &text).unwrap().warnings.render(false)
    };
    for material in ["", ", material: plain steel"] {
        let words = spring(material);
        assert!(
            words.contains("`knob` is a spring of plain steel, which is soft"),
            "{words}"
        );
    }
    assert!(!spring(", material: spring steel").contains("which is soft"));
}

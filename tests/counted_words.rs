//! One of a thing and several: what is counted is said as a colleague would say it, and nothing is said twice.

use crate::command_line::{home, run as tankday, text as words};
use crate::told_of::with_results;
use tankday::line::Line;
use tankday::print::Paper;
use tankday::record::Record;
use tankday::scenario::read;

fn text(orders: &str, close: &str) -> String {
    format!(
        "tankday: 1\nshop: {{hands: 1}}\ndays: [{{date: 2026-03-05, open: 08:00, close: {close}}}]\n\
         baths: {{mn: {{coat: {{time: 15 min}}}}}}\n\
         tanks: [{{name: tank, bath: mn, inside: 40 cm x 30 cm x 30 cm, fill: 20 L, heater: {{power: 3 kW}}}}]\n\
         stations: [{{name: sink}}, {{name: oil pan}}]\n\
         parts: {{foot: {{mass: 80 g, area: 90 cm2}}, lever cap: {{mass: 80 g, area: 90 cm2}},\n  \
         bar: {{mass: 4 kg, area: 8 dm2, size: 300 x 100 x 17 mm}}}}\nroutes:\n  r:\n    \
         - {{do: degrease, at: sink, for: 6 min}}\n    - {{do: coat, in: mn}}\n    \
         - {{do: rinse, at: sink, for: 1 min}}\n    - {{do: oil, at: oil pan, for: 30 min}}\norders:\n{orders}\n"
    )
}

/// The lines of the answer for one order that is late.
fn answer(id: &str, part: &str, count: u32) -> String {
    let order = format!("  - {{id: {id}, part: {part}, count: {count}, route: r, due: 08:30}}");
    let shop = read("feet.yaml", &text(&order, "17:00"))
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop;
    let mut record = Record::default();
    Line::new(&shop).run(None, &mut record);
    with_results(&shop, &record, |results| {
        let lines = tankday::narrative::answer(results);
        lines.iter().map(|l| l.write(Paper::FILE) + "\n").collect()
    })
}

#[test]
fn an_order_that_is_called_as_its_part_is_said_once() {
    for (id, part, count, should) in [
        ("feet 6", "foot", 6, "feet 6 will be late"),
        ("foot", "foot", 1, "foot will be late"),
        ("Feet", "foot", 2, "Feet will be late"),
        ("cap", "lever cap", 1, "cap (lever cap) will be late"),
        ("caps", "lever cap", 4, "caps (lever caps) will be late"),
        ("A3", "foot", 2, "A3 feet will be late"),
        ("footing", "foot", 2, "footing feet will be late"),
    ] {
        let said = answer(id, part, count);
        assert!(said.contains(&format!("\n{should}")), "{should}: {said}");
    }
}

#[test]
fn one_piece_fits_and_minus_one_is_too_few() {
    let warned = |text: &str| match read("few.yaml", text) {
        Ok(read) => read.warnings.render(false),
        Err(found) => found.render(false),
    };
    let many = warned(&text("  - {id: A, part: bar, count: 400, route: r}", "17:00"));
    assert!(many.contains("1 piece fits one load"), "{many}");
    for (count, message) in [
        ("-1", "-1 is too few"),
        ("-20", "-20 is too few"),
        ("0", "at least one piece"),
    ] {
        let few = warned(&text(
            &format!("  - {{id: A, part: foot, count: {count}, route: r}}"),
            "17:00",
        ));
        assert!(
            few.contains(message) && !few.contains("not a whole number"),
            "{few}"
        );
    }
    let hands = warned(
        &text("  - {id: A, part: foot, count: 2, route: r}", "17:00").replace("hands: 1", "hands: -1"),
    );
    assert!(
        hands.contains("-1 is too few") && hands.contains("at least"),
        "{hands}"
    );
    let odd = warned(&text("  - {id: A, part: foot, count: 1.5, route: r}", "17:00"));
    assert!(odd.contains("`1.5` is not a whole number"), "{odd}");
}

/// No command counts one of a thing as several.
#[test]
fn nothing_is_one_several() {
    let home = home();
    let order = "  - {id: A, part: foot, count: 1, route: r, due: 12:00}";
    std::fs::write(home.path().join("one.yaml"), text(order, "17:00")).unwrap();
    let mut said = String::new();
    for line in [
        "run one.yaml --replications 1 --report --verbose",
        "run one.yaml --replications 2 --out out --force",
        "audit out",
        "check one.yaml",
        "plan one.yaml --effort low",
        "promise one.yaml --order foot --replications 1",
    ] {
        let typed: Vec<&str> = line.split(' ').collect();
        let done = tankday(&typed, home.path());
        said += &(words(&done.stdout) + &words(&done.stderr));
    }
    said += &std::fs::read_to_string(home.path().join("out/report.html")).unwrap();
    let said: Vec<&str> = said
        .split_whitespace()
        .map(|w| w.trim_matches([',', '.', ';', '(', ')']))
        .collect();
    let several = [
        "pieces",
        "loads",
        "days",
        "orders",
        "plans",
        "minutes",
        "files",
        "events",
        "replications",
        "steps",
        "values",
    ];
    let wrong = said
        .windows(3)
        .filter(|w| w[1] == "1" && w[0] != "of" && several.contains(&w[2]));
    assert_eq!(
        wrong.map(|w| w.join(" ")).collect::<Vec<_>>(),
        Vec::<String>::new()
    );
    assert!(
        said.windows(2)
            .any(|w| w == ["1", "piece"] || w == ["1", "order"] || w == ["1", "foot"])
    );
}

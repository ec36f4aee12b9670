//! Orders from a spreadsheet, and results back to it.

use crate::command_line::{run, text};
use std::fs;
use std::path::Path;
use tankday::scenario::{Draft, File, OrderTable};

const SHOP: &str = include_str!("broken/below/two-routes.yaml");

fn draft(orders: &str) -> Draft {
    let file = File {
        name: "day.yaml".to_owned(),
        id: "day.yaml".to_owned(),
        text: format!("{SHOP}{orders}"),
    };
    Draft::open(file, &|_, _| Err("there is no other file".to_owned())).unwrap()
}

fn route(name: &str) -> Vec<(String, String)> {
    vec![("route".to_owned(), name.to_owned())]
}

/// The orders that a table makes: name, part, pieces, route and due.
fn read(table: &str) -> Vec<String> {
    let mut draft = draft("");
    let added = draft.add_table("t.csv", table, &route("black and oil"));
    added.unwrap_or_else(|found| panic!("{}", found.render(false)));
    let scenario = draft
        .scenario()
        .unwrap_or_else(|found| panic!("{}", found.render(false)));
    let shop = scenario.shop;
    let told = shop.orders.iter().map(|o| {
        let due = o
            .due_after
            .map_or(String::new(), |d| format!(" {}", d.in_minutes()));
        format!(
            "{} {} {} {}{due}",
            o.id,
            o.count,
            shop.parts[o.part.index()].name,
            shop.routes[o.route.index()].name
        )
    });
    told.collect()
}

#[test]
fn a_table_is_the_same_however_it_was_saved() {
    let expected = [
        "A1 1200 wood screw black and oil 450",
        "A2 7 lateral lever black only",
    ];
    for table in [
        "order,part,count,due,route\nA1,wood screw,1200,15:00,\nA2,lateral lever,7,,black only\n",
        "order;part;count;due;route\r\nA1;wood screw;1.200;15:00;\r\nA2;lateral lever;7;;black only",
        "\u{feff}Order No\tItem\tQty\tPromised\tFinish\nA1\t\"wood screw\"\t1,200\t3:00 pm\t\n\nA2\tlateral lever\t7.0\t\tblack only\n",
        "due;note;QUANTITY;Route;Article;ID\n05.03.2026 15:00;\"say \"\"now\"\"\";1 200;;wood screw;A1\n;;7,00;black only;lateral lever;A2\n",
    ] {
        assert_eq!(read(table), expected, "{table:?}");
    }
}

#[test]
fn a_row_that_describes_its_part_makes_one() {
    let read =
        read("part;count;material;mass;area\nbrace chuck;4;plain steel;180 g;1.1 dm2\nbrace chuck;2;;;\n");
    assert_eq!(
        read,
        [
            "row 1 4 brace chuck black and oil",
            "row 2 2 brace chuck black and oil"
        ]
    );
}

#[test]
fn what_is_in_the_file_stays_and_a_day_stands_alone_afterwards() {
    let mut draft = draft("orders: [{id: Z, part: wood screw, count: 3, route: black only}]\n");
    let table = draft
        .add_table(
            "t.csv",
            "order,part,count\nA1,wood screw,40\n",
            &route("black and oil"),
        )
        .unwrap();
    let rows = vec![(
        "A1".to_owned(),
        ["A1", "wood screw", "40"].map(str::to_owned).to_vec(),
    )];
    let headings = ["order", "part", "count"].map(str::to_owned).to_vec();
    assert_eq!(table, OrderTable { headings, rows });
    let alone = tankday::scenario::read("alone.yaml", &draft.text()).unwrap();
    assert_eq!(alone.shop.orders, draft.scenario().unwrap().shop.orders);
    assert_eq!(alone.shop.orders.len(), 2);
}

/// Two thousand rows are read; each mistake in them stands at its own row.
#[test]
fn a_long_table_is_read_to_its_end() {
    let mut table = String::from("order,part,count\n");
    for n in 1..=2000 {
        table.push_str(&format!(
            "A{n},{},{n}\n",
            if n % 500 == 0 { "wod screw" } else { "wood screw" }
        ));
    }
    let found = draft("")
        .add_table("t.csv", &table, &route("black only"))
        .unwrap_err();
    let lines: Vec<usize> = found.list.iter().map(|f| found.line_and_column(f.at).0).collect();
    assert_eq!(lines, [501, 1001, 1501, 2001]);
    assert_eq!(read(&table.replace("wod", "wood")).len(), 2000);
}

#[test]
fn results_go_back_with_the_same_numbers_and_no_formula() {
    let home = tempfile::tempdir().unwrap();
    fs::copy(
        "tests/data/mixed-day-first.yaml",
        home.path().join("mixed-day.yaml"),
    )
    .unwrap();
    fs::copy("tests/data/bestellungen.csv", home.path().join("b.csv")).unwrap();
    let columns = ["id=Auftrag", "part=Artikel", "count=Anzahl", "due=Termin"];
    let mut words = vec![
        "orders",
        "b.csv",
        "--into",
        "mixed-day.yaml",
        "--route",
        "small steel",
        "--quiet",
    ];
    words.extend([
        "--numbers",
        "decimal comma",
        "--dates",
        "day first",
        "--out",
        "out",
        "--replications",
        "20",
    ]);
    words.extend(columns.iter().flat_map(|c| ["--column", *c]));
    let done = run(&words, home.path());
    assert!(done.status.success(), "{}", text(&done.stderr));
    let results = fs::read_to_string(home.path().join("out/results.csv")).unwrap();
    let mut reader = csv::Reader::from_reader(results.as_bytes());
    let heads = reader.headers().unwrap().clone();
    assert_eq!(
        heads.iter().take(5).collect::<Vec<_>>(),
        ["Auftrag", "Artikel", "Anzahl", "Termin", "Kunde"]
    );
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 2);
    // Windows-1252, and nothing that a spreadsheet would run.
    assert_eq!((&rows[0][0], &rows[0][4]), ("'=K1", "Bürkle"));
    assert_eq!(&rows[1][4], "'=2+3");
    for row in &rows {
        assert!(row[5].starts_with("2026-03-0"), "{row:?}");
        assert!(!row[6].is_empty() && row[7].ends_with(" %"), "{row:?}");
    }
    let again = run(&["run", "out/scenario.yaml", "--quiet"], home.path());
    assert!(again.status.success(), "{}", text(&again.stderr));
}

#[test]
fn the_shipped_table_is_read() {
    let shop = crate::shipped::shop("scenarios/evening-orders.yaml");
    assert_eq!(shop.orders.len(), 40);
    assert!(
        shop.orders.iter().any(|o| o.count == 1200),
        "1.200 are twelve hundred"
    );
    assert!(Path::new("scenarios/evening-orders.csv").exists());
}

/// What a table was meant to say: a part in the plural or with other capitals, a count that says it counts pieces; a date alone is
/// the closing of that day for what is due and its opening for what comes, and not midnight.
#[test]
fn a_table_says_it_as_people_do() {
    let table = "order,part,count,due,arrives\n\
                 A1,wood screws,100 pcs,2026-03-05,2026-03-05\n\
                 A2,Wood Screw,1 piece,2026-03-05 14:00,2026-03-05 09:00\n";
    let mut draft = draft("");
    draft
        .add_table("t.csv", table, &route("black and oil"))
        .unwrap_or_else(|f| panic!("{}", f.render(false)));
    let shop = draft
        .scenario()
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop;
    let of = |n: usize| {
        let o = &shop.orders[n];
        let tankday::shop::Arrival::At(comes) = o.arrival else {
            panic!("{o:?}")
        };
        (o.count, comes, comes + o.due_after.unwrap())
    };
    let day = &shop.calendar.days[0];
    assert_eq!(of(0), (100, day.open, day.close));
    assert_eq!(
        (of(1).0, of(1).1.clock(), of(1).2.clock()),
        (1, "09:00".to_owned(), "14:00".to_owned())
    );
    assert!(
        shop.orders
            .iter()
            .all(|o| shop.parts[o.part.index()].name == "wood screw")
    );
    // The scenario that is written of it says the same.
    let again = tankday::scenario::read("again.yaml", &draft.text())
        .unwrap_or_else(|f| panic!("{}", f.render(false)));
    assert_eq!(again.shop.orders, shop.orders);
    assert!(
        draft.text().contains("2026-03-05 closing") && draft.text().contains("2026-03-05 opening"),
        "{}",
        draft.text()
    );
}

/// Columns that are not read are named once, as a warning at the first of them; a table that is read whole warns of nothing.
#[test]
fn columns_that_are_not_read_are_named() {
    let warned = |table: &str| {
        let mut draft = draft("");
        draft
            .add_table("t.csv", table, &route("black and oil"))
            .unwrap_or_else(|f| panic!("{}", f.render(false)));
        let scenario = draft.scenario().unwrap_or_else(|f| panic!("{}", f.render(false)));
        let said = scenario.warnings.list.iter().map(|f| f.message.clone());
        said.filter(|m| m.contains("not read")).collect::<Vec<_>>()
    };
    assert_eq!(
        warned("Customer;part;count;Notes\nbench 3;wood screw;20;\n"),
        ["the columns `Customer` and `Notes` are not read"]
    );
    assert_eq!(
        warned("part;count;Colour\nwood screw;20;\n"),
        ["the column `Colour` is not read"]
    );
    assert!(warned("part;count\nwood screw;20\n").is_empty());
}

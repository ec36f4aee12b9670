//! Pages: whole in themselves, true to what was typed, and the same each time. What needs a browser to be seen is checked
//! in `tests/pages`.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Runs the program in the folder of the repository; its pages stand in the folder that it gives back.
pub(crate) fn written(words: &[&str]) -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    let run = Command::new(env!("CARGO_BIN_EXE_tankday"))
        .args(words)
        .args(["--quiet", "--out"])
        .arg(home.path())
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap();
    // 3: not every order gets ready; the report is written all the same.
    assert!(matches!(run.status.code(), Some(0 | 3)), "{run:?}");
    home
}

pub(crate) fn page(home: &tempfile::TempDir, name: &str) -> String {
    fs::read_to_string(home.path().join(name)).unwrap()
}

/// What stands between two marks, each time they occur.
pub(crate) fn between<'a>(text: &'a str, start: &str, end: &str) -> Vec<&'a str> {
    text.split(start)
        .skip(1)
        .map(|rest| rest.split(end).next().unwrap())
        .collect()
}

/// All kinds of page that are written, from shipped scenarios.
pub(crate) fn all() -> Vec<(String, String)> {
    let kinds: [(&[&str], &[&str]); 4] = [
        (
            &["run", "scenarios/mixed-day.yaml"],
            &["report.html", "day-sheet.html"],
        ),
        (
            &["run", "scenarios/two-day.yaml", "--replications", "5"],
            &["report.html", "day-sheet.html"],
        ),
        (
            &[
                "compare",
                "scenarios/one-large-tank.yaml",
                "scenarios/with-lid.yaml",
                "--replications",
                "4",
            ],
            &["report.html"],
        ),
        (
            &[
                "sweep",
                "scenarios/mixed-day.yaml",
                "--vary",
                "tanks.black tank.fill=12 L..20 L/3",
                "--replications",
                "4",
            ],
            &["report.html"],
        ),
    ];
    let mut pages = Vec::new();
    for (words, names) in kinds {
        let home = written(words);
        for name in names {
            pages.push((format!("{} {name}", words.join(" ")), page(&home, name)));
        }
    }
    pages
}

#[test]
fn a_page_is_whole_in_itself() {
    for (name, html) in all() {
        // The name of the SVG language is no address.
        let bare = html.replace("http://www.w3.org/2000/svg", "");
        for outside in [
            "http:", "https:", "url(\"", "url(http", "@import", " src=", "<link", "<iframe", "fetch(",
        ] {
            assert!(!bare.contains(outside), "{name}: {outside}");
        }
        let mut ids = between(&html, " id=\"", "\"");
        for link in between(&html, "href=\"#", "\"") {
            assert!(ids.contains(&link), "{name}: nothing has the id {link}");
        }
        for named in between(&html, "aria-labelledby=\"", "\"") {
            assert!(named.split(' ').all(|n| ids.contains(&n)), "{name}: {named}");
        }
        let many = ids.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), many, "{name}: an id stands twice");
    }
}

#[test]
fn every_picture_has_words_and_a_table() {
    for (name, html) in all() {
        for part in html.split("<section").skip(1) {
            let part = part.split("</section>").next().unwrap();
            let pictures = part.matches("<figure").count();
            if pictures == 0 {
                continue;
            }
            let drawn = between(part, "role=\"img\"", "</desc>");
            assert!(drawn.len() >= 2 * pictures, "{name}: a picture for each width");
            for words in drawn {
                let title = between(words, "<title", "<")[0].split('>').nth(1).unwrap();
                let desc = words.rsplit('>').next().unwrap();
                assert!(title.len() > 2 && desc.len() > 20, "{name}: {words}");
            }
            assert!(part.contains("<table"), "{name}: no table beside {}", &part[..80]);
        }
    }
}

#[test]
fn tables_are_whole_and_times_are_told_in_full() {
    for (name, html) in all() {
        for table in between(&html, "<table", "</table>") {
            let heads = between(between(table, "<thead>", "</thead>")[0], "<th ", ">").len();
            for row in between(between(table, "<tbody>", "</tbody>")[0], "<tr", "</tr>") {
                let spans = between(row, "colspan=\"", "\"").into_iter();
                let more: usize = spans.map(|s| s.parse::<usize>().unwrap() - 1).sum();
                let cells = row.matches("<td").count() + row.matches("<th").count() + more;
                assert_eq!(cells, heads, "{name}: {row}");
            }
        }
        for time in between(&html, "datetime=\"", "\"") {
            let parts: Vec<&str> = time.split('T').collect();
            assert!(
                parts.len() == 2 && parts[0].len() == 10 && parts[1].len() == 5,
                "{name}: {time}"
            );
        }
    }
}

#[test]
fn the_answer_comes_first_and_is_that_of_the_terminal() {
    let home = tempfile::tempdir().unwrap();
    let run = Command::new(env!("CARGO_BIN_EXE_tankday"))
        .args(["run", "scenarios/mixed-day.yaml", "--quiet", "--out"])
        .arg(home.path())
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap();
    let said = String::from_utf8(run.stdout).unwrap();
    let html = page(&home, "report.html");
    // Lines of the terminal are one text on the page, in which what is late is set off.
    let bare = |text: &str| text.replace("<em>", "").replace("</em>", "");
    let first: Vec<String> = between(&html, "<h1>", "</h1>").iter().map(|h| bare(h)).collect();
    assert_eq!(first, [said.trim().replace('\n', " ")]);
    let before = html.split("<h1>").next().unwrap();
    assert!(!before.contains("<table") && !before.contains("<figure"));
}

/// A copy of a shipped scenario with some words changed.
fn changed(home: &Path, changes: &[(&str, &str)]) -> PathBuf {
    let shipped = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/mixed-day.yaml");
    let mut text = fs::read_to_string(shipped).unwrap();
    for (from, to) in changes {
        assert!(text.contains(from), "{from}");
        text = text.replace(from, to);
    }
    let path = home.join("day.yaml");
    fs::write(&path, text).unwrap();
    path
}

#[test]
fn what_was_typed_is_shown_and_never_obeyed() {
    let home = tempfile::tempdir().unwrap();
    let path = changed(
        home.path(),
        &[
            (
                "title: Mixed screws and castings, one 20-litre tank",
                "title: \"</title><script>alert(1)</script>\"",
            ),
            ("wood screw", "screw <b>&'</script><!--"),
            ("id: A1", "id: \"<i>A&1\""),
        ],
    );
    let home = written(&["run", path.to_str().unwrap()]);
    for name in ["report.html", "day-sheet.html"] {
        let html = page(&home, name);
        assert!(!html.contains("<script>alert"), "{name}");
        assert!(!html.contains("<b>&'"), "{name}");
        assert!(!html.contains("<i>A&"), "{name}");
        assert!(html.contains("&lt;i&gt;A&amp;1"), "{name}");
        // Only our own scripts begin and end.
        let scripts = html.matches("<script").count();
        assert_eq!(html.matches("</script>").count(), scripts, "{name}");
        assert_eq!(scripts, 2, "{name}");
        assert!(!html.contains("<!--"), "{name}");
    }
}

#[test]
fn what_was_left_out_is_named_with_its_source() {
    let html = page(&written(&["run", "scenarios/mixed-day.yaml"]), "report.html");
    let worked_out = html.split("id=\"worked-out\"").nth(1).unwrap();
    // Stated in the file, and not.
    assert!(!worked_out.contains("<code>shop.hands</code>"));
    assert!(!worked_out.contains("<code>shop.air.humidity</code>"));
    assert!(
        worked_out.contains("<code>tanks.lid.leak</code>")
            || worked_out.contains("<code>tanks.draught</code>")
    );
    assert!(worked_out.contains("no source"));
    assert!(worked_out.contains("tankday run scenarios/mixed-day.yaml --seed 1 --out out"));
    assert!(worked_out.contains(env!("CARGO_PKG_VERSION")));
}

#[test]
fn all_files_of_a_scenario_are_told() {
    let html = page(
        &written(&["run", "scenarios/with-lid.yaml", "--replications", "2"]),
        "report.html",
    );
    for file in ["scenarios/with-lid.yaml", "scenarios/one-large-tank.yaml"] {
        assert!(
            html.contains(&format!("The scenario as written: {file}")),
            "{file}"
        );
    }
    assert!(html.contains("all files together"));
}

#[test]
fn the_same_bytes_whatever_the_threads() {
    let run = |threads: &str| {
        let home = written(&[
            "run",
            "scenarios/two-day.yaml",
            "--replications",
            "6",
            "--threads",
            threads,
        ]);
        (page(&home, "report.html"), page(&home, "day-sheet.html"))
    };
    assert_eq!(run("1"), run("3"));
}

#[test]
fn pages_stay_small() {
    let size = |words: &[&str]| page(&written(words), "report.html").len();
    let mixed = size(&["run", "scenarios/mixed-day.yaml", "--replications", "200"]);
    assert!(mixed < 600_000, "{mixed}");
    let ten = size(&["run", "tests/pages/ten-days.yaml"]);
    assert!(ten < 5_000_000, "{ten}");
}

/// What is said beside the answer of many days is what the table of costs adds up to, and what the terminal says.
#[test]
fn costs_of_many_days_are_told_alike_everywhere() {
    let home = tempfile::tempdir().unwrap();
    let run = Command::new(env!("CARGO_BIN_EXE_tankday"))
        .args(["run", "scenarios/mixed-day.yaml", "--replications", "7", "--out"])
        .arg(home.path())
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .output()
        .unwrap();
    let said = String::from_utf8(run.stdout).unwrap();
    let html = page(&home, "report.html");
    let first = between(&html, "<dt>cost, EUR</dt><dd>", "</dd>")[0].to_owned();
    let table = html.split("<caption>Costs by kind").nth(1).unwrap();
    let sum = between(
        table.split("</tfoot>").next().unwrap(),
        "<td class=\"r\">",
        "</td>",
    );
    assert!(sum.contains(&first.as_str()), "{first}: {sum:?}");
    let finding = between(&html, "What does it cost?</h2>", "</p>")[0];
    assert!(
        finding.contains(&format!("{first} EUR, the mean of 7 days (95 % sure: ")),
        "{finding}"
    );
    assert!(said.contains("COST, EUR  mean of 7 days"), "{said}");
    assert!(
        said.contains(&format!("  {first} together (95 % sure: ")),
        "{said}"
    );
    assert!(said.contains("by order, on the day drawn ("), "{said}");
}

/// How many sheets of paper that is in a browser, `tests/pages` asserts; 75 lines of text stand on one sheet of A4 at 9
/// points. Of its hundred acts those that belong together stand in one line: 65 lines at most, and none is lost.
#[test]
fn a_day_of_a_hundred_deeds_takes_two_sheets() {
    let home = written(&["run", "tests/pages/hundred-deeds.yaml"]);
    let text = page(&home, "day-sheet.txt");
    let deeds = text.matches("[ ]").count();
    assert!((40..=65).contains(&deeds), "{deeds}");
    let csv = page(&home, "day-sheet.csv");
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let acts: Vec<String> = reader
        .records()
        .map(|r| r.unwrap())
        .filter(|r| matches!(&r[2], "do" | "must not wait"))
        .map(|r| r[3].to_owned())
        .collect();
    assert_eq!(acts.len(), deeds);
    let all = acts
        .iter()
        .flat_map(|a| a.split(" + "))
        .filter(|a| !a.starts_with("heater"));
    let record = page(&home, "record.csv");
    // What was laid down and taken up again is one act.
    let begun = record.matches(",hands take,").count() - record.matches(",work resumes,").count();
    assert_eq!(all.count(), begun);
    let lines = text.lines().count();
    assert!(lines <= 176, "{lines}");
    assert!(text.lines().all(|l| l.chars().count() <= 80));
}

#[test]
fn every_deed_of_the_sheet_has_its_box() {
    let home = written(&["run", "scenarios/mixed-day.yaml"]);
    let html = page(&home, "day-sheet.html");
    let text = page(&home, "day-sheet.txt");
    let boxes = text.matches("[ ]").count();
    assert!(boxes > 20);
    assert_eq!(html.matches("type=\"checkbox\"").count(), boxes);
    assert_eq!(
        html.matches("class=\"pressing\"").count(),
        text.matches(">[ ]").count()
    );
    let words: String = html
        .split('<')
        .map(|tag| tag.split_once('>').map_or(tag, |(_, words)| words))
        .collect();
    let cautions = text.lines().filter_map(|l| l.trim().strip_prefix("! "));
    for caution in cautions.flat_map(|l| l.split(" ! ")) {
        let first: String = caution.split('\'').next().unwrap().to_owned();
        assert!(words.contains(&first), "{caution}");
    }
}

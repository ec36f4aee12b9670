//! The page of a sweep shows what it says: its headline figure first, axes with words, captions of what is there.

use super::chart_svg::corners;
use super::report_pages::{between, page, written};

const SERVER: &str = "tests/queues/first-hundred-one-fast.yaml";
const BENCH: &str = "tests/data/mixed-day-first.yaml";

/// The page of a sweep.
fn swept(file: &str, vary: &[&str], days: &str) -> String {
    let mut words = vec!["sweep", file, "--replications", days];
    words.extend(vary.iter().flat_map(|v| ["--vary", v]));
    page(&written(&words), "report.html")
}

/// The part with the curves.
fn curve(html: &str) -> &str {
    between(html, "<section class=\"part beside\" id=\"curve\"", "</section>")[0]
}

/// Words of the picture laid out for a page, each with its look.
fn texts(html: &str) -> Vec<(&str, &str)> {
    let picture = between(curve(html), "<div class=\"p\">", "</svg>")[0];
    let texts = between(picture, "<text ", "</text>").into_iter();
    let texts = texts.filter_map(|t| t.split_once('>'));
    texts.map(|(look, words)| (look, words.trim())).collect()
}

/// All of these words.
fn drawn(html: &str) -> Vec<&str> {
    texts(html).into_iter().map(|(_, words)| words).collect()
}

/// Those in bold: titles of figures, the places where they turn, the best cells.
fn bold(html: &str) -> Vec<&str> {
    let texts = texts(html).into_iter();
    let bold: Vec<&str> = texts
        .filter(|(look, _)| look.contains("font-weight=\"700\""))
        .map(|(_, words)| words)
        .collect();
    assert!(!bold.is_empty());
    bold
}

/// The words that say how to read it.
fn read(html: &str) -> &str {
    between(curve(html), "<p class=\"read\">", "</p>")
        .first()
        .copied()
        .unwrap_or("")
}

#[test]
fn the_figure_of_the_headline_is_drawn_first() {
    let end = ("End of the work", "The work ends earliest");
    let cost = ("Cost a m²", "A m² costs least");
    let sweeps: [(&str, &[&str], _); 5] = [
        (BENCH, &["shop.prices.hands=20 per h..40 per h/5"], cost),
        (BENCH, &["tanks.black tank.fill=12 L..24 L/5"], end),
        (BENCH, &["rules.next load=due first, arrived first"], end),
        (
            BENCH,
            &["tanks.black tank.fill=12 L..24 L/3", "shop.hands=1..3"],
            end,
        ),
        (SERVER, &["stations.server.loads=1..5"], end),
    ];
    for (file, vary, (title, said)) in sweeps {
        let html = swept(file, vary, "6");
        let headline = between(&html, "<h1>", "</h1>")[0];
        let bold = bold(&html);
        assert!(
            headline.starts_with(title) || headline.starts_with(said),
            "{vary:?}: {headline}"
        );
        assert!(
            bold[0].starts_with(title),
            "{vary:?}: {headline} is not of {bold:?}"
        );
    }
}

#[test]
fn both_axes_have_words() {
    let html = swept(BENCH, &["tanks.black tank.fill=12 L..24 L/5"], "6");
    let words = drawn(&html);
    for title in ["End of the work, min", "Fill of the black tank, L"] {
        assert!(words.contains(&title), "{title}: {words:?}");
    }
    let html = swept(
        BENCH,
        &["tanks.black tank.fill=12 L..24 L/3", "shop.hands=1..3"],
        "6",
    );
    let words = drawn(&html);
    for title in [
        "End of the work, min",
        "Downwards: fill of the black tank, L",
        "To the right: hands of the shop",
    ] {
        assert!(words.contains(&title), "{title}: {words:?}");
    }
    assert!(!html.contains("tried for tanks."), "a key as typed in a sentence");
}

/// Marks of single days have a caption only where they are drawn, and so has everything else.
#[test]
fn captions_tell_what_is_there() {
    let vary: &[&str] = &["stations.server.loads=1..5"];
    let (few, many) = (swept(SERVER, vary, "20"), swept(SERVER, vary, "251"));
    let dots = |html: &str| curve(html).matches("<circle").count();
    assert!(read(&few).contains("Each dot is one simulated day") && dots(&few) > 0);
    assert!(
        !read(&many).contains("Each dot") && dots(&many) == 0,
        "{}",
        read(&many)
    );
    assert!(read(&few).contains("95 %") && read(&many).contains("95 %"));
    // Words have no line; a map has cells and no dots.
    let words = swept(BENCH, &["rules.next load=due first, arrived first"], "6");
    assert!(
        !read(&words).contains("line") && !read(&words).contains("Grey"),
        "{}",
        read(&words)
    );
    let map = swept(
        BENCH,
        &["tanks.black tank.fill=12 L..24 L/3", "shop.hands=1..3"],
        "6",
    );
    assert!(read(&map).starts_with("Each cell is the mean of 6 simulated days"));
    for html in [&few, &many, &words, &map] {
        assert!(!read(html).contains("replication"));
    }
}

/// The number of an attribute.
fn at(text: &str, name: &str) -> f64 {
    between(text, &format!("{name}=\""), "\"")[0].parse().unwrap()
}

/// An interval is drawn to both its ends, which may lie beyond all single days; marks of single days stand nearer to their
/// own value than to the next.
#[test]
fn intervals_are_whole_and_marks_stand_at_their_value() {
    let vary = "tanks.black tank.fill=12 L..24 L/41";
    let home = written(&["sweep", BENCH, "--vary", vary, "--replications", "3"]);
    let picture = page(&home, "sweep.svg");
    let is_bar = |l: &&str| l.contains(" width=\"4\"") && l.contains("fill=\"#1B2126\"");
    let bars: Vec<&str> = picture.lines().filter(is_bar).collect();
    let line = picture
        .lines()
        .find(|l| l.contains("stroke-width=\"2\""))
        .unwrap();
    let means = corners(between(line, " d=\"", "\"")[0]);
    assert!(
        means.len() == 41 && bars.len() >= 41,
        "{} {}",
        means.len(),
        bars.len()
    );
    for ((x, y), bar) in means.iter().zip(&bars) {
        let middle = (at(bar, " x") + 2.0, at(bar, " y") + 0.5 * at(bar, " height"));
        assert!(
            (middle.0 - x).abs() <= 1.0 && (middle.1 - y).abs() <= 1.0,
            "{bar}: {x} {y}"
        );
    }
    let gap = (means[40].0 - means[0].0) / 40.0;
    let dots = picture.lines().filter(|l| l.starts_with("<circle")).take(3 * 41);
    for (i, dot) in dots.enumerate() {
        let own = means[i / 3].0;
        assert!((at(dot, "cx") - own).abs() < 0.5 * gap, "{dot}: {own}");
    }
}

/// A comparison says the same of its marks.
#[test]
fn a_comparison_has_a_caption_of_what_is_drawn() {
    let compared = |days| {
        let two = "tests/queues/first-hundred-two-slow.yaml";
        let home = written(&["compare", SERVER, two, "--replications", days]);
        let html = page(&home, "report.html");
        let part = between(&html, "id=\"apart\"", "</section>")[0];
        between(part, "<p class=\"read\">", "</p>")[0].to_owned()
    };
    assert!(compared("20").contains("Each hair is one simulated day"));
    assert!(!compared("251").contains("hair") && compared("251").contains("Each dot"));
}

/// What does not change is said with its value, and not drawn; where nothing changes, there is no picture.
#[test]
fn what_does_not_change_is_said_in_a_line() {
    let html = swept(SERVER, &["stations.server.loads=1..5"], "20");
    let found = between(curve(&html), "<p class=\"find\">", "</p>")[0];
    assert!(
        found.contains("The same at every value: coated a day 0 m² and power a day 0 kWh."),
        "{found}"
    );
    assert!(
        bold(&html)
            .iter()
            .all(|w| !w.starts_with("Coated") && !w.starts_with("Power"))
    );
    // No tank coats here: there is no time of tanks to divide.
    assert!(!html.contains("id=\"lost\"") && !html.contains("href=\"#lost\""));
    let still = swept(SERVER, &["stations.server.loads=7..9"], "20");
    assert!(!curve(&still).contains("<figure") && read(&still).is_empty());
    let found = between(curve(&still), "<p class=\"find\">", "</p>")[0];
    assert!(found.contains("The same at every value: "), "{found}");
    assert!(found.contains("end of the work"), "{found}");
}

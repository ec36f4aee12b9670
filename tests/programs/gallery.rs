//! Renders the shipped scenarios into `reports/`, byte for byte the same each time:
//!
//! ```console
//! $ cargo run --release --example gallery
//! ```
//!
//! Each story is one command of the program; of what it writes, the pages and a few pictures are kept.

use std::ffi::OsString;
use std::path::Path;
use std::process::ExitCode;
use tankday::cli::{Exit, run};

/// A story: its folder, what is typed, what is kept.
type Story = (&'static str, &'static [&'static str], &'static [&'static str]);

const STORIES: [Story; 12] = [
    (
        "mixed-day",
        &["run", "scenarios/mixed-day.yaml", "--replications", "200"],
        &[
            "report.html",
            "day-sheet.html",
            "day-sheet.ics",
            "day-sheet.txt",
            "day.svg",
            "temperature.svg",
            "output.svg",
        ],
    ),
    (
        "choosing",
        &[
            "compare",
            "scenarios/one-large-tank.yaml",
            "scenarios/two-small-tanks.yaml",
            "--replications",
            "200",
            "--assume",
            "two pairs of hands: shop.hands=2",
            "--assume",
            "the room at 5 °C: shop.air.temperature=5 °C",
            "--assume",
            "charged at 70 % full only: rules.fill.at least=70 %",
            "--assume",
            "charged at once: rules.fill.at least=1 %",
            "--assume",
            "loads never combined: rules.combine=never",
            "--assume",
            "half the orders: orders.screws.arrives.every=exponential 5 h; orders.levers.arrives.every=exponential 6 h; \
             orders.chucks.arrives.every=exponential 8 h; orders.jaws.arrives.every=exponential 8 h",
            "--assume",
            "twice the orders: orders.screws.arrives.every=exponential 75 min; \
             orders.levers.arrives.every=exponential 90 min; orders.chucks.arrives.every=exponential 2 h; \
             orders.jaws.arrives.every=exponential 2 h",
            "--assume",
            "3 kW for each small tank: tanks.left tank.heater.power=3 kW; tanks.right tank.heater.power=3 kW",
            "--assume",
            "power at 1.20 per kWh: shop.prices.power=1.20 per kWh",
        ],
        &["report.html", "compare.svg", "lost.svg"],
    ),
    (
        "filling",
        &[
            "sweep",
            "scenarios/mixed-day.yaml",
            "--vary",
            "tanks.black tank.fill=8 L..24 L/9",
            "--refine",
            "4",
            "--replications",
            "100",
        ],
        &["report.html", "sweep.svg"],
    ),
    (
        "filtering",
        &[
            "sweep",
            "scenarios/filter-week.yaml",
            "--vary",
            "rules.care.filter=after 2..12 loads",
            "--replications",
            "50",
        ],
        &["report.html", "sweep.svg"],
    ),
    (
        "fresh-bath",
        &["run", "scenarios/fresh-bath.yaml", "--replications", "50"],
        &["report.html", "day-sheet.html", "day-sheet.ics", "bath-wear.svg"],
    ),
    (
        "mixed-day-planned",
        &["plan", "scenarios/mixed-day.yaml", "--effort", "quick"],
        &["report.html", "day-sheet.html", "plan.yaml", "day.svg"],
    ),
    (
        "fill-and-heater",
        &[
            "sweep",
            "scenarios/mixed-day.yaml",
            "--vary",
            "tanks.black tank.fill=12 L..24 L/4",
            "--vary",
            "tanks.black tank.heater.power=1 kW..3 kW/5",
            "--replications",
            "50",
        ],
        &["report.html", "sweep.svg"],
    ),
    (
        "evenings",
        &["run", "scenarios/evenings.yaml", "--replications", "200"],
        &["report.html", "day-sheet.html", "day-sheet.ics", "day.svg"],
    ),
    (
        "one-load",
        &[
            "load",
            "scenarios/mixed-day.yaml",
            "--load",
            "250 wood screws + 25 lateral levers",
            "--at",
            "88 °C",
        ],
        &["load.html"],
    ),
    (
        "new-bath",
        &[
            "mix",
            "scenarios/fresh-bath.yaml",
            "--from",
            "carbonate",
            "--iron",
            "0.5 g/L",
        ],
        &["mix.html"],
    ),
    (
        "quote",
        &[
            "quote",
            "scenarios/quoted-day.yaml",
            "--order",
            "60 wood screws, small steel",
        ],
        &["quote.html"],
    ),
    (
        "quotes",
        &["quote", "scenarios/quoted-day.yaml"],
        &["quote.html", "quotes.csv"],
    ),
];

fn main() -> ExitCode {
    match STORIES.iter().try_for_each(tell) {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("{why}");
            ExitCode::FAILURE
        }
    }
}

/// Runs one story into a passing folder, and keeps what it shows.
fn tell((name, words, kept): &Story) -> Result<(), String> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    std::env::set_current_dir(root).map_err(|e| format!("{}: {e}", root.display()))?;
    let passing = tempfile::tempdir().map_err(|e| e.to_string())?;
    let typed = ["tankday"].iter().chain(*words).chain(&["--quiet", "--out"]);
    let mut typed: Vec<OsString> = typed.map(OsString::from).collect();
    typed.push(passing.path().into());
    println!("{name}: {}", words.join(" "));
    if run(typed) != Exit::Done {
        return Err(format!("{name} could not be told"));
    }
    let folder = root.join("reports").join(name);
    if folder.exists() {
        std::fs::remove_dir_all(&folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    }
    std::fs::create_dir_all(&folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    for file in *kept {
        let (from, to) = (passing.path().join(file), folder.join(file));
        std::fs::copy(&from, &to).map_err(|e| format!("{}: {e}", to.display()))?;
    }
    Ok(())
}

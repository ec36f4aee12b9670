//! `tankday sweep`: one or two values varied.

mod data;
mod print;
mod refine;

use super::args;
use super::exit::{Exit, Failure};
use super::join::{self, Setup};
use super::load::{draft, rendered};
use super::pictures;
use super::planned::Plans;
use super::sampling::{Sampling, Telling, in_pool, whole};
use super::settings::Saying;
use super::terminal::{self, Terminal};
use refine::Growing;
use serde::{Deserialize, Serialize};
use tankday_base::print::Replication;
use tankday_base::shop::Shop;
use tankday_chart as chart;
use tankday_output::report;
use tankday_plan::planned::{Following, Shops};
use tankday_scenario::{Draft, Findings, Scenario};
use tankday_study::shard::Shard;
use tankday_study::sweep::{
    Depth, Idle, MOST_POINTS, Point, Setting, Sweep, Varied, grid, idle, neighbours, next_setting, reach,
    scenario_at, varied,
};
use tankday_study::{Days, Reading, sample};

/// What is told beside the readings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct Swept {
    /// Keys and values as typed.
    vary: Vec<String>,
    /// Why points of the grid cannot be; none for those that can.
    errors: Vec<Option<String>>,
    /// The least and the greatest value that can be.
    reach: Option<(f64, f64)>,
    /// From where on and up to where what is varied does nothing.
    idle: (Option<f64>, Option<f64>),
    /// Opening days of one replication.
    days: usize,
    /// Seed.
    seed: u64,
    /// How the currency is written.
    currency: String,
    /// What became of a wanted precision.
    reached: Option<String>,
    /// The name of the file that is varied, without the folder, which may be another elsewhere; its text, standing alone.
    scenario: (String, String),
    /// What the points follow.
    following: Following,
}

/// What is told.
pub(super) struct Told {
    /// The points as they were run.
    sweep: Sweep,
    /// The same by the shop's own rules, where plans were followed.
    by_rules: Option<Sweep>,
    /// What is told beside it.
    setting: Swept,
}

impl Told {
    fn insert(&mut self, place: usize, point: &Point) {
        for sweep in std::iter::once(&mut self.sweep).chain(self.by_rules.as_mut()) {
            sweep.points.insert(place, point.clone());
        }
    }
}

impl Swept {
    /// The sweep with the readings of the points that can be; where plans are followed, those by rules stand behind.
    pub(super) fn told(self, mut readings: Vec<Vec<Reading>>) -> Told {
        let sound = self.errors.iter().filter(|e| e.is_none()).count();
        let rest = readings.split_off(sound.min(readings.len()));
        Told {
            sweep: self.sweep(readings),
            by_rules: self.following.planned().then(|| self.sweep(rest)),
            setting: self,
        }
    }

    fn sweep(&self, readings: Vec<Vec<Reading>>) -> Sweep {
        let keys: Vec<Varied> = self.vary.iter().filter_map(|v| varied(v).ok()).collect();
        let mut readings = readings.into_iter();
        let points = grid(&keys)
            .into_iter()
            .zip(&self.errors)
            .map(|(settings, error)| Point {
                settings,
                outcome: match error {
                    Some(why) => Err(why.clone()),
                    None => Ok(readings.next().unwrap_or_default()),
                },
            });
        Sweep {
            points: points.collect(),
            keys,
            reach: self.reach,
            idle: Idle {
                from: self.idle.0,
                to: self.idle.1,
            },
            each: Replication::of_days(self.days),
        }
    }
}

/// Varies what is asked for.
///
/// # Errors
/// When the scenario or a key is wrong, when no point at all can be, when the work cannot be done.
pub(super) fn sweep(typed: &args::Sweep, saying: Saying) -> Result<Exit, Failure> {
    let keys = keys(typed)?;
    let draft = draft(&typed.file, &typed.set)?;
    // What is wrong everywhere is told once, with its place.
    let plain = draft
        .scenario()
        .map_err(|found| Failure::input(rendered(&found)))?;
    let settings = grid(&keys);
    if settings.len() > MOST_POINTS {
        return Err(Failure::input(format!(
            "{} points are more than the {MOST_POINTS} that are tried",
            settings.len()
        )));
    }
    let tried: Vec<Tried> = settings.iter().map(|s| scenario_at(&draft, &keys, s)).collect();
    if let (true, Some(Err(found))) = (tried.iter().all(Result::is_err), tried.first()) {
        return Err(Failure::input(format!(
            "none of the points can be; the first:\n{}",
            rendered(found)
        )));
    }
    let telling = Telling {
        json: typed.json,
        out: typed.out.clone(),
        force: typed.force,
        saying,
    };
    telling.would_take(&["sweep.json", "report.html"], &["sweep", "lost"])?;
    let shops: Vec<Shop> = tried
        .iter()
        .filter_map(|s| s.as_ref().ok())
        .map(|s| s.shop.clone())
        .collect();
    let all: Vec<&Shop> = shops.iter().collect();
    let sound: Vec<bool> = tried.iter().map(Result::is_ok).collect();
    let planned = Shops {
        all: &all,
        neighbours: &neighbours(&keys, &sound),
    };
    let plans = Plans::of(planned, usize::from(typed.refine), &typed.sampling, saying)?;
    let sampled = typed.sampling.run(&plans.days(&all), saying)?;
    let far = far(&draft, &keys, &settings, &tried);
    let many = match typed.sampling.part {
        Some(_) => typed.sampling.fixed(),
        None => sampled.readings.first().map_or(0, Vec::len) as u32,
    };
    let idle = match (&keys[..], far) {
        ([key], Some(far)) if !plans.following(&all, &typed.sampling).planned() => nothing_done(
            &draft,
            key,
            &tried_settings(&settings, &tried),
            far,
            &typed.sampling.exactly(many),
        )?,
        _ => Idle::default(),
    };
    let swept = Swept {
        vary: typed.vary.clone(),
        errors: tried
            .iter()
            .map(|s| s.as_ref().err().map(Findings::first))
            .collect(),
        reach: far,
        idle: (idle.from, idle.to),
        days: plain.shop.calendar.days.len(),
        seed: typed.sampling.seed,
        currency: plain.shop.prices.currency.clone(),
        reached: sampled.reached,
        scenario: (name(&typed.file), draft.text()),
        following: plans.following(&all, &typed.sampling),
    };
    if let Some(share) = typed.sampling.part {
        let text = draft.text();
        let texts = std::iter::once(text.as_str()).chain(typed.vary.iter().map(String::as_str));
        let study = typed.sampling.fingerprint("sweep", texts);
        let part = Shard::new(
            share,
            study,
            typed.sampling.fixed(),
            Setup::Sweep(swept),
            &sampled.readings,
        );
        join::print(&part)?;
        return Ok(Exit::Done);
    }
    let mut told = swept.told(sampled.readings);
    let mut growing = Growing {
        draft: &draft,
        shops,
        plans,
        sampling: &typed.sampling,
    };
    for _ in 0..typed.refine {
        let Some(setting) = next_setting(&told.sweep) else {
            break;
        };
        growing.add(&mut told, setting)?;
    }
    told.setting.following = growing.following();
    tell(&telling, &told)?;
    Ok(Exit::Done)
}

/// The name of a file without its folder.
fn name(file: &std::path::Path) -> String {
    file.file_name()
        .map_or_else(String::new, |n| n.to_string_lossy().into_owned())
}

/// How far a single key can be taken.
fn far(draft: &Draft, keys: &[Varied], settings: &[Vec<Setting>], tried: &[Tried]) -> Option<(f64, f64)> {
    let [key] = keys else { return None };
    reach(key, &tried_settings(settings, tried), |setting| {
        scenario_at(draft, keys, std::slice::from_ref(setting)).is_ok()
    })
}

/// The values of a single key that can be.
fn tried_settings(settings: &[Vec<Setting>], tried: &[Tried]) -> Vec<Setting> {
    let sound = settings.iter().zip(tried).filter(|(_, t)| t.is_ok());
    sound.filter_map(|(s, _)| s.first().cloned()).collect()
}

/// Where a single key does nothing on any of the days: these are run again there, by the shop's rules.
fn nothing_done(
    draft: &Draft,
    key: &Varied,
    tried: &[Setting],
    far: (f64, f64),
    sampling: &Sampling,
) -> Result<Idle, Failure> {
    let readings = |setting: &Setting, depth: Depth| {
        let shop = scenario_at(draft, std::slice::from_ref(key), std::slice::from_ref(setting))
            .ok()?
            .shop;
        let days = match depth {
            Depth::First => 0..1,
            Depth::All => 0..sampling.fixed(),
        };
        let all = sample(&[Days::by_rules(&shop)], sampling.seed, days, || ());
        whole(all.into_iter().next()?).ok()
    };
    in_pool(sampling.threads, || Ok(idle(key, tried, far, readings)))
}

type Tried = Result<Scenario, Findings>;

fn keys(typed: &args::Sweep) -> Result<Vec<Varied>, Failure> {
    let keys: Vec<Varied> = typed
        .vary
        .iter()
        .map(|v| varied(v).map_err(|why| Failure::input(format!("--vary: {why}"))))
        .collect::<Result<_, _>>()?;
    if keys.len() > 2 {
        return Err(Failure::input("--vary stands once or twice"));
    }
    match keys.as_slice() {
        [one, two] if one.path == two.path => {
            Err(Failure::input(format!("--vary: `{}` is varied twice", one.path)))
        }
        [_, _] if typed.refine > 0 => Err(Failure::input("--refine goes with one key")),
        _ => Ok(keys),
    }
}

/// Tells it: prints it, and writes its files where some are asked for.
///
/// # Errors
/// When it cannot be written.
pub(super) fn tell(telling: &Telling, told: &Told) -> Result<(), Failure> {
    telling.write(|| {
        let text = |name: &str, text: String| (name.to_owned(), text.into_bytes());
        let mut set = vec![
            text("sweep.json", data::text(told)),
            text("report.html", page(told)),
        ];
        set.extend(charts(&told.sweep)?);
        Ok(set)
    })?;
    if telling.json {
        return terminal::print(&data::text(told));
    }
    let paper = Terminal::standard_output();
    let lines = match telling.saying {
        Saying::Little => print::answer(told, paper.columns),
        _ => print::lines(told, paper.columns),
    };
    terminal::print_lines(&lines, paper.paper)
}

/// The report.
fn page(told: &Told) -> String {
    let swept = &told.setting;
    report::sweep(&report::Sweep {
        sweep: &told.sweep,
        by_rules: told.by_rules.as_ref(),
        following: &swept.following,
        scenario: (&swept.scenario.0, &swept.scenario.1),
        vary: &swept.vary,
        seed: swept.seed,
        reached: swept.reached.as_deref(),
    })
}

/// The pictures as files.
fn charts(sweep: &Sweep) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    let sound = sweep.points.iter().filter(|p| p.outcome.is_ok());
    let bars: Vec<chart::Bar> = sound.map(|p| chart::Bar::of(&p.name(), |m| p.mean(m))).collect();
    let mut set = pictures::files("sweep", &chart::sweep(sweep, chart::Width::Page))?;
    set.extend(pictures::files("lost", &chart::lost(&bars, chart::Width::Page))?);
    Ok(set)
}

//! `tankday mix`: what a new bath is made of.

use super::card;
use super::exit::{Exit, Failure};
use super::given::Given;
use super::json::round;
use super::load::load;
use super::one_load::{breaches, readings, tank};
use super::sets::Sets;
use super::settings::Saying;
use super::terminal::{self, Terminal};
use clap::{Args, ValueEnum};
use serde_json::{Value, json};
use std::path::PathBuf;
use tankday_base::bath::chemistry::mix::MadeFrom;
use tankday_base::shop::{AcidBought, Chore, Shop, Trimming};
use tankday_base::units::{Concentration, Quantity, Share, Strength, Volume, read_quantity};
use tankday_line::{Mixing, Unmixable, new_bath as mixed};
use tankday_output::narrative::{Card, new_bath_told};
use tankday_output::report;
use tankday_record::one_load::NewBath;

/// Phosphoric acid is sold with 75 and with 85 % by mass: common practice, no source.
const BOTTLE: Share = Share::percent(75.0);
/// The page, and the figures as data.
const PAGE: &str = "mix.html";
const DATA: &str = "mix.json";
/// Columns of the name of a figure.
const NAME: usize = 20;

/// What a new bath is made from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum From {
    /// A bought concentrate, by its label.
    Concentrate,
    /// Phosphoric acid and manganese carbonate.
    Carbonate,
    /// Phosphoric acid and manganese dioxide, with as much steel wool.
    Dioxide,
}

/// `tankday mix`.
#[derive(Debug, Args)]
pub(super) struct Typed {
    /// The scenario.
    file: PathBuf,
    /// What is put in place of what is written.
    #[command(flatten)]
    set: Sets,
    /// How much of it: `20 L`; without it what the tank holds to its mark.
    #[arg(long, value_name = "VOLUME", value_parser = volume)]
    fill: Option<Volume>,
    /// What its manganese comes from.
    #[arg(long, value_name = "SOURCE", default_value = "concentrate")]
    from: From,
    /// The tank; without it the first.
    #[arg(long, value_name = "TANK")]
    tank: Option<String>,
    /// Total acid wanted, in points; without it as the scenario makes up its baths.
    #[arg(long, value_name = "POINTS", value_parser = points)]
    total_acid: Option<Strength>,
    /// Total acid by free acid wanted; a concentrate has its own.
    #[arg(long, value_name = "RATIO", value_parser = ratio)]
    acid_ratio: Option<f64>,
    /// Iron wanted, from steel wool: `1 g/L`, `0 g/L` for none.
    #[arg(long, value_name = "CONTENT", value_parser = iron)]
    iron: Option<Concentration>,
    /// Strength of the phosphoric acid in the bottle, by mass, from 10 % to 85 %; without it as the scenario says, or 75 %.
    #[arg(long, value_name = "SHARE", value_parser = bottle)]
    acid: Option<AcidBought>,
    /// How it is given.
    #[command(flatten)]
    given: Given,
}

fn quantity<Q: Quantity>(text: &str) -> Result<Q, String> {
    read_quantity(text).map_err(|e| format!("{}; {}", e.message, e.help))
}

fn volume(text: &str) -> Result<Volume, String> {
    let volume = quantity::<Volume>(text)?;
    let litres = volume.in_litres();
    if (0.1..=100_000.0).contains(&litres) {
        Ok(volume)
    } else {
        Err("a bath has from 0.1 L to 100000 L".to_owned())
    }
}

fn points(text: &str) -> Result<Strength, String> {
    let read = match text.trim().parse::<f64>() {
        Ok(points) => Strength::points(points),
        Err(_) => quantity::<Strength>(text)?,
    };
    if (1.0..=200.0).contains(&read.in_points()) {
        Ok(read)
    } else {
        Err("total acid is from 1 to 200 points".to_owned())
    }
}

fn ratio(text: &str) -> Result<f64, String> {
    let ratio: f64 = text
        .trim()
        .parse()
        .map_err(|_| "a plain number such as `6`".to_owned())?;
    if ratio > 2.0 && ratio <= 50.0 {
        Ok(ratio)
    } else {
        Err("free acid counts twice in the total acid, so the ratio is above 2, and 50 at most".to_owned())
    }
}

fn iron(text: &str) -> Result<Concentration, String> {
    let read = quantity::<Concentration>(text)?;
    if (0.0..=20.0).contains(&read.in_grams_per_litre()) {
        Ok(read)
    } else {
        Err("iron is from 0 to 20 g/L".to_owned())
    }
}

fn bottle(text: &str) -> Result<AcidBought, String> {
    let share = quantity::<Share>(text)?;
    AcidBought::of(share).ok_or_else(|| "the bottle holds from 10 % to 85 %".to_owned())
}

/// Says what a new bath is made of.
///
/// # Errors
/// When the scenario is wrong, when no bath can read so or it does not go into the tank, when something cannot be written.
pub(super) fn new_bath(typed: &Typed, saying: Saying) -> Result<Exit, Failure> {
    let loaded = load(&typed.file, &typed.set, saying)?;
    let shop = &loaded.scenario.shop;
    let asked = Mixing {
        tank: tank(shop, typed.tank.as_deref(), &[])?,
        from: match typed.from {
            From::Concentrate => MadeFrom::Concentrate,
            From::Carbonate => MadeFrom::Carbonate,
            From::Dioxide => MadeFrom::Dioxide,
        },
        fill: typed.fill,
        total_acid: typed.total_acid,
        ratio: typed.acid_ratio,
        iron: typed.iron,
    };
    if asked.from == MadeFrom::Concentrate && asked.ratio.is_some() {
        return Err(Failure::input(
            "--acid-ratio: a concentrate has its own; say it as `concentrate ratio` of the bath, or make the bath `--from carbonate`",
        ));
    }
    let bath = mixed(shop, &asked).map_err(|e| refused(&e))?;
    let bottle = typed
        .acid
        .or_else(|| own(shop))
        .or_else(|| AcidBought::of(BOTTLE));
    let bottle = bottle.ok_or_else(|| Failure::input("no phosphoric acid is known of that strength"))?;
    let told = new_bath_told(shop, &bath, bottle);
    let data = format!("{:#}\n", object(shop, (&bath, bottle), &told));
    typed.given.write(saying, || {
        let page = report::one_load(&report::OneLoadPage {
            shop,
            load: None,
            told: &told,
            units: report::Units::of(&loaded.text),
        });
        vec![
            (PAGE.to_owned(), page.into_bytes()),
            (DATA.to_owned(), data.clone().into_bytes()),
        ]
    })?;
    if typed.given.json {
        terminal::print(&data)?;
    } else {
        let screen = Terminal::standard_output();
        let set = card::Setting {
            columns: screen.columns,
            name: NAME,
            saying,
        };
        terminal::print_lines(&card::lines(&told, set, |_| Vec::new()), screen.paper)?;
    }
    Ok(if told.may { Exit::Done } else { Exit::CannotBeDone })
}

fn refused(why: &Unmixable) -> Failure {
    let option = match why {
        Unmixable::NoBath => "--tank",
        Unmixable::TooMuch { .. } => "--fill",
        Unmixable::Reads(_) => "--total-acid, --acid-ratio, --iron",
    };
    Failure::input(format!("{option}: {why}"))
}

/// The acid that the shop's own care adds.
fn own(shop: &Shop) -> Option<AcidBought> {
    shop.rules.care.iter().find_map(|care| match care.chore {
        Chore::Trim {
            by: Trimming::PhosphoricAcid(bottle),
            ..
        } => Some(bottle),
        _ => None,
    })
}

/// Everything that is said of it, with every figure behind it.
fn object(shop: &Shop, (bath, bottle): (&NewBath, AcidBought), told: &Card) -> Value {
    let takes = &bath.takes;
    json!({
        "title": shop.title,
        "tank": shop.station_name(bath.tank),
        "can_be_done": told.may,
        "answer": told.answer,
        "warnings": told.watch,
        "takes": {
            "concentrate_l": round(takes.concentrate.in_litres()),
            "phosphoric_acid_g_pure": round(takes.acid.in_grams()),
            "phosphoric_acid_bottle_l": round(bottle.holds(takes.acid).in_litres()),
            "phosphoric_acid_bottle": bottle.words(),
            "manganese_carbonate_g": round(takes.carbonate.in_grams()),
            "manganese_dioxide_g": round(takes.dioxide.in_grams()),
            "steel_wool_g": round(takes.wool.in_grams()),
        },
        "gives_off": {
            "carbon_dioxide_l": round(takes.carbon_dioxide.in_litres()),
            "hydrogen_l": round(takes.hydrogen.in_litres()),
        },
        "free_space_l": round(bath.free.in_litres()),
        "headroom_mm": round(bath.headroom.in_millimetres()),
        "reads": readings(&takes.reads),
        "total_acid_believed_points": takes.believed.map(|(least, most)| json!([round(least.in_points()), round(most.in_points())])),
        "heats_min": bath.heats.map(|span| round(span.in_minutes())),
        "clears_min": round(bath.clears.in_minutes()),
        "passes": breaches(&bath.passes),
        "blocks": super::one_load::blocks(&told.blocks),
    })
}

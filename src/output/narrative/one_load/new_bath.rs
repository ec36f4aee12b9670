//! What to buy and weigh for a new bath, in which order it goes together, what to mind, and how it reads then.

use super::super::{Block, Card};
use super::set_right::grams;
use super::{celsius, little as measured};
use tankday_base::bath::chemistry::fresh::has_foam_room;
use tankday_base::bath::chemistry::mix::{Ingredients, MadeFrom};
use tankday_base::bath::chemistry::{Gravity, Readings};
use tankday_base::print::{how_long, list, number};
use tankday_base::shop::{AcidBought, BathRecipe, Shop};
use tankday_base::units::{Mass, Volume};
use tankday_record::one_load::NewBath;

/// Tells of a new bath that is made with acid from a bottle of this strength.
#[must_use]
pub fn new_bath_told(shop: &Shop, bath: &NewBath, bottle: AcidBought) -> Card {
    let told = Telling { shop, bath, bottle };
    let blocks = [told.buy(), told.acts(), told.times(), told.gas(), told.after()];
    Card {
        place: format!(
            "{} for the {}, from {}",
            little(told.reads().volume),
            shop.station_name(bath.tank),
            source(bath.from)
        ),
        about: reads(told.reads(), ""),
        may: told.may(),
        answer: told.answer(),
        blocks: blocks.into_iter().filter(|b| !b.rows.is_empty()).collect(),
        watch: told.watch(),
    }
}

/// `20 L`, `3.42 L`, `350 mL`.
fn little(volume: Volume) -> String {
    let litres = volume.in_litres();
    if (0.9995..10.0).contains(&litres) {
        let text = number(litres, 2);
        return format!("{} L", text.trim_end_matches('0').trim_end_matches('.'));
    }
    measured(volume).replace(".0 L", " L")
}

const fn source(from: MadeFrom) -> &'static str {
    match from {
        MadeFrom::Concentrate => "concentrate",
        MadeFrom::Carbonate => "manganese carbonate",
        MadeFrom::Dioxide => "manganese dioxide",
    }
}

/// `total acid 36 points, free acid 6 points, iron 1 g/L`, as a scenario says it with colons.
fn reads(r: &Readings, colon: &str) -> String {
    let plain = |value: f64, places: usize| {
        let text = number(value, places);
        match text.contains('.') {
            true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
            false => text,
        }
    };
    format!(
        "total acid{colon} {} points, free acid{colon} {} points, iron{colon} {} g/L",
        plain(r.total_acid.in_points(), 1),
        plain(r.free_acid.in_points(), 1),
        plain(r.iron.in_grams_per_litre(), 2)
    )
}

struct Telling<'a> {
    shop: &'a Shop,
    bath: &'a NewBath,
    bottle: AcidBought,
}

impl Telling<'_> {
    fn takes(&self) -> &Ingredients {
        &self.bath.takes
    }

    fn reads(&self) -> &Readings {
        &self.bath.takes.reads
    }

    fn recipe(&self) -> Option<&BathRecipe> {
        let tank = self.shop.tank(self.bath.tank)?;
        self.shop.baths.get(tank.bath.index())
    }

    fn may(&self) -> bool {
        let stops = self.bath.passes.iter().any(|b| b.gravity == Gravity::Stop);
        !stops && self.takes().acid_lasts
    }

    /// Everything but water, in the order in which it goes in.
    fn items(&self) -> Vec<(String, String)> {
        let takes = self.takes();
        let liquids = [
            ("concentrate".to_owned(), takes.concentrate),
            (
                format!("phosphoric acid {}", self.bottle.words()),
                self.bottle.holds(takes.acid),
            ),
        ];
        let solids = [
            ("manganese carbonate", takes.carbonate),
            ("manganese dioxide", takes.dioxide),
            ("steel wool", takes.wool),
        ];
        let liquids = liquids.into_iter().filter(|l| l.1 > Volume::ZERO);
        let solids = solids.into_iter().filter(|s| s.1 > Mass::ZERO);
        liquids
            .map(|(name, volume)| (name, little(volume)))
            .chain(solids.map(|(name, mass)| (name.to_owned(), grams(mass))))
            .collect()
    }

    fn answer(&self) -> Vec<String> {
        let items: Vec<String> = self
            .items()
            .iter()
            .map(|(name, much)| format!("{much} of {name}"))
            .collect();
        let mut answer = vec![format!(
            "Take {}, and distilled water up to {}.",
            list(&items),
            little(self.reads().volume)
        )];
        if !self.takes().acid_lasts {
            answer.insert(
                0,
                "The bath holds too little free acid for so much steel wool.".to_owned(),
            );
        }
        for breach in &self.bath.passes {
            answer.push(format!(
                "As mixed, {}: `tankday load` says what to add, as below.",
                breach.what.sentence(breach.side)
            ));
        }
        answer.push(self.how_sure());
        answer
    }

    fn how_sure(&self) -> String {
        match self.takes().believed {
            Some((least, most)) => format!(
                "Total acid may come to {} to {} points, as much as such amounts are believed to read: titrate before the first load.",
                number(least.in_points(), 0),
                number(most.in_points(), 0)
            ),
            None => "It is as strong as the label of the concentrate says: titrate before the first load."
                .to_owned(),
        }
    }

    fn buy(&self) -> Block {
        let mut rows = self.items();
        rows.push((
            "distilled water".to_owned(),
            format!("what is missing to {}", little(self.reads().volume)),
        ));
        let prices = &self.shop.prices;
        if self.takes().concentrate > Volume::ZERO && prices.stated.contains(&"concentrate") {
            let cost = self.takes().concentrate.in_litres() * prices.concentrate_per_litre;
            rows.push((
                "cost".to_owned(),
                format!("{} {} for the concentrate", number(cost, 2), prices.currency),
            ));
        }
        Block {
            heading: "What to weigh and measure",
            caption: "What the bath takes",
            columns: ["what", "how much"],
            rows,
        }
    }

    fn acts(&self) -> Block {
        let takes = self.takes();
        let acid = self.bottle.holds(takes.acid);
        let water = (self.reads().volume * 0.75).max(Volume::ZERO);
        let mut acts = vec![format!(
            "put about {} of distilled water into the clean tank, cold",
            little(water)
        )];
        let diluted = takes.concentrate > Volume::ZERO;
        let mut when = |is: bool, act: String| {
            if is {
                acts.push(act);
            }
        };
        when(
            diluted,
            format!("stir in {} of concentrate, slowly", little(takes.concentrate)),
        );
        when(
            takes.acid > Mass::ZERO && !diluted,
            format!(
                "pour {} of phosphoric acid {} into the water, slowly, stirring",
                little(acid),
                self.bottle.words()
            ),
        );
        when(
            takes.carbonate > Mass::ZERO,
            format!(
                "add {} of manganese carbonate by spoons; wait until each has stopped fizzing",
                grams(takes.carbonate)
            ),
        );
        when(
            takes.dioxide > Mass::ZERO,
            format!("stir in {} of manganese dioxide, damp", grams(takes.dioxide)),
        );
        when(true, self.heat_act());
        when(
            takes.wool > Mass::ZERO,
            format!(
                "dissolve {} of steel wool in it, degreased, in small lots, no flame near",
                grams(takes.wool)
            ),
        );
        when(
            takes.acid > Mass::ZERO && diluted,
            format!(
                "pour in {} of phosphoric acid {}, slowly: so much the steel wool used up",
                little(acid),
                self.bottle.words()
            ),
        );
        when(
            true,
            "heater off; let it stand until it is clear, decant, filter what is left".to_owned(),
        );
        when(
            true,
            format!(
                "make it up with distilled water to {}, and titrate",
                little(self.reads().volume)
            ),
        );
        Block {
            heading: "In this order",
            caption: "What to do, step by step",
            columns: ["step", "what to do"],
            rows: acts
                .into_iter()
                .enumerate()
                .map(|(i, act)| (format!("{}", i + 1), act))
                .collect(),
        }
    }

    fn heat_act(&self) -> String {
        let to = self.recipe().map_or(String::new(), |recipe| {
            format!(" to {}", celsius(recipe.band.least.in_celsius()))
        });
        format!("heat it{to}, stirring now and then")
    }

    fn times(&self) -> Block {
        let heats = self.bath.heats.map_or_else(
            || "this heater doesn't get it hot enough".to_owned(),
            |span| format!("about {}, from the temperature of the room", how_long(span)),
        );
        let mut rows = vec![("heating".to_owned(), heats)];
        let slow = self.takes().dioxide > Mass::ZERO || self.takes().wool > Mass::ZERO;
        let dissolves = match (self.takes().carbonate > Mass::ZERO, slow) {
            (true, true) => "carbonate within minutes, steel wool within hours (assumed)",
            (true, false) => "carbonate within minutes (assumed)",
            (false, true) => "within hours (assumed)",
            (false, false) => "at once",
        };
        rows.push(("dissolving".to_owned(), dissolves.to_owned()));
        rows.push((
            "standing".to_owned(),
            format!(
                "about {}, cold and still; a jug clears in two to three hours",
                how_long(self.bath.clears)
            ),
        ));
        Block {
            heading: "How long",
            caption: "How long it takes",
            columns: ["what", "how long"],
            rows,
        }
    }

    fn gas(&self) -> Block {
        let takes = self.takes();
        let mut rows = Vec::new();
        let mut gas = |name: &str, volume: Volume| {
            if volume > Volume::ZERO {
                rows.push((name.to_owned(), format!("{} in all", little(volume))));
            }
        };
        gas("carbon dioxide", takes.carbon_dioxide);
        gas("hydrogen", takes.hydrogen);
        if rows.is_empty() {
            return Block {
                heading: "Gas and froth",
                caption: "Gas that it gives off",
                columns: ["what", "how much"],
                rows,
            };
        }
        rows.push((
            "free space".to_owned(),
            format!(
                "{} above the bath, {} mm",
                little(self.bath.free),
                number(self.bath.headroom.in_millimetres(), 0)
            ),
        ));
        if takes.carbonate > Mass::ZERO {
            let spoon = Ingredients::spoonful(self.bath.free).min(takes.carbonate);
            rows.push((
                "spoons".to_owned(),
                format!(
                    "of {} at most: the gas of one fills the free space once",
                    grams(spoon)
                ),
            ));
        }
        Block {
            heading: "Gas and froth",
            caption: "Gas that it gives off",
            columns: ["what", "how much"],
            rows,
        }
    }

    fn after(&self) -> Block {
        let reads = self.reads();
        let more = self.for_one_point();
        let mut rows = vec![("one point stronger".to_owned(), format!("{} more", list(&more)))];
        rows.push((
            "reads otherwise".to_owned(),
            format!(
                "`tankday load FILE --bath \"{}\"`, with your readings, says what to add",
                self::reads(reads, "")
            ),
        ));
        rows.push((
            "first in it".to_owned(),
            "scrap of the same steel, until its coat is even (common practice, no source)".to_owned(),
        ));
        rows.push((
            "in the scenario".to_owned(),
            format!("now: {{{}}}", self::reads(reads, ":")),
        ));
        Block {
            heading: "When it is made",
            caption: "What comes then",
            columns: ["what", "what to do"],
            rows,
        }
    }

    /// What makes it stronger by one point of total acid, at the same ratio.
    fn for_one_point(&self) -> Vec<String> {
        let takes = self.takes();
        let point = 1.0 / takes.reads.total_acid.in_points().max(f64::MIN_POSITIVE);
        let label = self
            .recipe()
            .map_or(0.0, |r| r.chemistry.concentrate_per_point.in_fraction());
        let plain = if takes.concentrate > Volume::ZERO {
            0.0
        } else {
            point
        };
        let concentrate = match takes.concentrate > Volume::ZERO {
            true => takes.reads.volume * label,
            false => Volume::ZERO,
        };
        let liquids = [
            ("concentrate", concentrate),
            ("phosphoric acid", self.bottle.holds(takes.acid) * plain),
        ];
        let solids = [
            ("manganese carbonate", takes.carbonate * point),
            ("manganese dioxide", takes.dioxide * point),
        ];
        let liquids = liquids.into_iter().filter(|l| l.1 > Volume::ZERO);
        let solids = solids.into_iter().filter(|s| s.1 > Mass::ZERO);
        liquids
            .map(|(name, v)| format!("{} of {name}", little(v)))
            .chain(solids.map(|(name, m)| format!("{} of {name}", grams(m))))
            .collect()
    }

    fn watch(&self) -> Vec<String> {
        let takes = self.takes();
        let mut watch = vec![
            "Water first, then acid into the water, never water into acid: it heats up and spits.".to_owned(),
        ];
        if !has_foam_room(self.bath.headroom) {
            watch.push(format!(
                "Only {} mm of headroom for froth, and it takes a hand's breadth: mix less at once, or in a larger vessel.",
                number(self.bath.headroom.in_millimetres(), 0)
            ));
        }
        if takes.carbonate > Mass::ZERO {
            watch.push(
                "Carbonate froths with acid, and its gas takes the place of the air: by spoons, with the windows open."
                    .to_owned(),
            );
        }
        if takes.wool > Mass::ZERO {
            watch.push(
                "Steel wool froths and gives off hydrogen: small lots, no flame, no spark, and air."
                    .to_owned(),
            );
        }
        if takes.dioxide > Mass::ZERO || takes.carbonate > Mass::ZERO {
            watch.push(
                "Dust of manganese must not be breathed in: a respirator, and damp rather than dry."
                    .to_owned(),
            );
        }
        watch.push(
            "A vessel of stainless steel, or one that the acid leaves alone; nothing galvanised, no aluminium, no copper."
                .to_owned(),
        );
        watch.push("The safety data sheets of what you bought come before all of this.".to_owned());
        watch
    }
}

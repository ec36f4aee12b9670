//! A load came out other than it should: the likely causes, and what stripping, doing it again or shipping it costs.

use super::super::Block;
use super::short;
use tankday_base::print::{list, number};
use tankday_base::shop::{BathRecipe, CoatRule, Defect, Mishap, Odds, Route, Shop, StepKind, StepTime};
use tankday_base::units::{Share, Span};

/// How people call what they see, and what it is.
const SEEN: [(&str, Defect); 26] = [
    ("blotchy", Defect::Blotchy),
    ("mottled", Defect::Blotchy),
    ("uneven", Defect::Blotchy),
    ("grey", Defect::Thin),
    ("gray", Defect::Thin),
    ("light", Defect::Thin),
    ("thin", Defect::Thin),
    ("sooty", Defect::Sooty),
    ("dusty", Defect::Sooty),
    ("loose", Defect::Sooty),
    ("coarse", Defect::Coarse),
    ("grainy", Defect::Coarse),
    ("rough", Defect::Stained),
    ("white", Defect::Stained),
    ("whitish", Defect::Stained),
    ("stained", Defect::Stained),
    ("streaky", Defect::Stained),
    ("rust", Defect::Rusty),
    ("rusty", Defect::Rusty),
    ("bleeding", Defect::Rusty),
    ("etched", Defect::Etched),
    ("pitted", Defect::Etched),
    ("bare", Defect::Bare),
    ("spots", Defect::Spots),
    ("spotty", Defect::Spots),
    ("bare spots", Defect::Spots),
];

/// Reads `grey, blotchy`.
///
/// # Errors
/// A word for nothing that is known to go wrong.
pub fn seen(text: &str) -> Result<Vec<Defect>, String> {
    let mut found = Vec::new();
    for word in text.split(',').map(|w| w.trim().to_lowercase()) {
        let known = SEEN
            .iter()
            .find(|(name, _)| *name == word)
            .map(|(_, defect)| *defect);
        match known {
            Some(defect) if found.contains(&defect) => {}
            Some(defect) => found.push(defect),
            None => {
                let words: Vec<String> = SEEN.iter().map(|(name, _)| format!("`{name}`")).collect();
                return Err(format!(
                    "`{word}` is no way in which a coating comes out; write one of {}",
                    list(&words)
                ));
            }
        }
    }
    Ok(found)
}

/// What to know for it.
#[derive(Debug, Clone, Copy)]
pub struct CameOut<'a> {
    /// The shop.
    pub shop: &'a Shop,
    /// The bath.
    pub recipe: &'a BathRecipe,
    /// Share of loads that fail although nothing happened to them, and by how much each cause multiplies the odds.
    pub odds: (Share, &'a Odds),
    /// The route of the load; none where nobody knows it.
    pub route: Option<&'a Route>,
}

impl CameOut<'_> {
    /// For each thing that was seen its causes, the likeliest first; then what can be done.
    #[must_use]
    pub fn told(&self, seen: &[Defect]) -> Vec<Block> {
        let causes: Vec<(String, String)> = seen.iter().flat_map(|defect| self.causes(*defect)).collect();
        vec![
            Block {
                heading: "Why it may have come out so",
                caption: "Likely causes with their odds",
                columns: ["cause", "how likely, and what to do"],
                rows: causes,
            },
            Block {
                heading: "Strip, do it again, or ship it",
                caption: "What each way costs",
                columns: ["way", "what it takes"],
                rows: self.ways(seen),
            },
        ]
    }

    fn causes(&self, defect: Defect) -> Vec<(String, String)> {
        let (base, odds) = self.odds;
        let mut all: Vec<(f64, Mishap)> = Mishap::ALL
            .into_iter()
            .filter(|m| m.defect() == defect)
            .map(|m| (odds.factor(m), m))
            .collect();
        all.sort_by(|a, b| b.0.total_cmp(&a.0));
        let row = |(factor, cause): (f64, Mishap)| {
            let mut with = tankday_base::shop::Mishaps::default();
            with.add(cause);
            let fails = number(odds.chance(base, with).in_percent(), 0);
            let how_often = match factor.is_finite() {
                true => format!("odds x {}, {fails} of 100 loads fail so", number(factor, 0)),
                false => "certain".to_owned(),
            };
            let now = if self.reads_so(cause) {
                "; the bath reads so"
            } else {
                ""
            };
            (
                defect.words().to_owned(),
                format!("{}: {how_often}{now}", words(cause)),
            )
        };
        all.into_iter().map(row).collect()
    }

    /// Whether the readings say that this was so.
    fn reads_so(&self, cause: Mishap) -> bool {
        let (now, limits) = (&self.recipe.now, &self.recipe.limits);
        match cause {
            Mishap::WithoutIron => now.iron < limits.iron.warn_below,
            Mishap::MuchIron => now.iron > limits.iron.warn_above,
            Mishap::Sludge => {
                Share::fraction(now.sludge / self.recipe.chemistry.sludge_bed) > limits.sludge.warn_above
            }
            _ => false,
        }
    }

    fn ways(&self, seen: &[Defect]) -> Vec<(String, String)> {
        let CoatRule::Target(weight) = self.recipe.coat else {
            return Vec::new();
        };
        let coat = weight.in_grams_per_square_metre();
        let lost = coat / self.recipe.chemistry.attack_ratio;
        // 2.5 g/m2 for each micrometre of coating (a supplier data sheet: above 2 µm goes with above 5 g/m2); steel 7.85.
        let (deep, grows) = (lost / 7.85, coat / 2.5 - lost / 7.85);
        let again = format!(
            "takes {} g/m² of steel more, {} µm off each face{}",
            number(lost, 1),
            number(deep, 1),
            self.time_again()
        );
        let mut rows = vec![("strip and redo".to_owned(), again)];
        rows.push((
            "before that".to_owned(),
            format!(
                "check threads and fits: each coat builds up {} µm a face",
                number(grows, 1)
            ),
        ));
        let harmless = seen.iter().all(|d| matches!(d, Defect::Blotchy | Defect::Thin));
        let ship = match harmless {
            true => {
                "thin or uneven colour alone of hard, cold-worked or alloy steel isn't a reason to reject; the customer decides"
            }
            false => "not as it is: loose, rough, rusty, etched or bare work goes back",
        };
        rows.push(("ship it".to_owned(), ship.to_owned()));
        rows
    }

    /// From the cleaning to the end of the route, and what hands cost for it.
    fn time_again(&self) -> String {
        let Some(route) = self.route else {
            return String::new();
        };
        let retry = route
            .steps
            .iter()
            .find_map(|s| s.retry)
            .map(|r| r.back_to.index());
        let strips = |kind: StepKind| matches!(kind, StepKind::Blast | StepKind::Brush | StepKind::Tumble);
        let from = retry
            .or_else(|| route.steps.iter().position(|s| strips(s.kind)))
            .unwrap_or(0);
        let steps = route.steps.iter().skip(from);
        let mean = |step: &tankday_base::shop::Step| match &step.time {
            StepTime::Work { load, .. } => load.mean() + step.put_in + step.take_out,
            StepTime::Coat => self.recipe.least + step.put_in + step.take_out,
        };
        let hands = |step: &tankday_base::shop::Step| match (step.hands, &step.time) {
            (tankday_base::shop::Hands::Throughout, StepTime::Work { load, .. }) => load.mean(),
            (tankday_base::shop::Hands::Ends, _) => step.put_in + step.take_out,
            _ => Span::ZERO,
        };
        let all = steps.clone().map(mean).fold(Span::ZERO, |a, b| a + b);
        let own = steps.map(hands).fold(Span::ZERO, |a, b| a + b);
        let name = route.steps.get(from).map_or("", |s| s.name.as_str());
        let prices = &self.shop.prices;
        let cost = match prices.given() && prices.hands_per_hour > 0.0 {
            true => format!(
                ", {} {}",
                number(own.in_hours() * prices.hands_per_hour, 2),
                prices.currency
            ),
            false => String::new(),
        };
        format!(
            "; {} at least from `{name}` on, {} of it hands{cost}",
            short(all),
            short(own)
        )
    }
}

fn words(cause: Mishap) -> &'static str {
    match cause {
        Mishap::TooCold => "a bath at 82 °C or colder",
        Mishap::Overloaded => "more than 2 dm² of area for each litre, touching pieces",
        Mishap::Underfired => "a tank heated from below, cold spots",
        Mishap::WithoutIron => "a bath without enough iron",
        Mishap::MuchIron => "much iron in the bath",
        Mishap::Sludge => "stirred-up sludge",
        Mishap::TooHot => "a bath hotter than its band",
        Mishap::TooShort => "out before it had its weight",
        Mishap::TooLong => "too long in the bath",
        Mishap::SpentRinse => "rinse water that should have been renewed",
        Mishap::Waited => "too long from the rinse to the oil",
        Mishap::HotRinse => "a first rinse above 50 °C",
        Mishap::DriedOn => "the bath dried on before the rinse",
        Mishap::Greasy => "oil or fingerprints left",
        Mishap::Pickled => "strong acid before the bath",
        Mishap::HolesDown => "blind holes down, gas stays in them",
        Mishap::Crevices => "seams that hold acid",
    }
}

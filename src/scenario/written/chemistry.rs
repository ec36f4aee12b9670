//! Growth, chemistry and limits of a bath as written.

use super::Given;
use crate::defaults::{INSIDE, recipe};
use crate::node::Spanned;
use crate::reader::{ABOVE_ZERO, NUMBERS, SHARE, SPAN, positive, quantity, range};
use crate::thing::{Kind, Reader, or_word, thing};
use crate::value;
use tankday_base::units::{CoatWeight, Concentration, MassFlux, Quantity, Share, Span, Strength};

thing! {
    /// The growth law.
    Growth "baths.growth", "a growth law" {
        or "full" full: CoatWeight = positive(),
            "weight that a long stay approaches on blasted plain steel, such as 18 g/m2",
            {"18 g/m2": "derived from published windows of weight, time and temperature: 16 to 21 g/m2; weigh coupons after 10, 20 and 40 min"};
        or "time constant" tau95: Span = SPAN,
            "time to 63 % of it at 95 °C, such as 4.5 min",
            {"4.5 min": "derived from the same windows: 1.8 to 6.2 min; the same coupons give it"};
        or "faster by 10 °C" q10: f64 = ABOVE_ZERO,
            "how many times faster 10 °C more make it, such as 2",
            {"2": "assumption; the published windows allow 1 to 3.5; the same coupons at 88 and at 95 °C give it"};
    }
}

/// Two plain factors.
const PACE: Reader<(f64, f64)> = Reader::new(Kind::Pattern(r"^\s*[\d.]+\s+to\s+[\d.]+\s*$"), value::numbers);

thing! {
    /// The constants of the chemistry.
    Chemistry "baths.chemistry", "a chemistry" {
        or "make-up" make_up: Strength = positive(),
            "total acid of a fresh bath, such as 36 points", {"36 points": recipe(0)};
        or "coating by metal" attack_ratio: f64 = ABOVE_ZERO,
            "coating formed for each gram of metal dissolved, such as 2", {"2": recipe(1)};
        or "iron in coating" iron_in_coat: Share = SHARE,
            "iron's share of the coating's metal, such as 20 %", {"20 %": recipe(2)};
        or "iron oxidised with a load" by_load: Share = SHARE,
            "share of a load's iron that becomes sludge, such as 30 %", {"30 %": recipe(3)};
        or "iron oxidised hot" hot: Share = SHARE,
            "instead: share of the iron that becomes sludge in a hot hour, such as 1 %", {"1 %": recipe(4)};
        or "iron oxidised idle" idle: Share = SHARE,
            "and in an idle hour, such as 0.1 %", {"0.1 %": recipe(5)};
        or "hydrolysed" hydrolysed: Share = SHARE,
            "share of the free acid used that the bath gives back, such as 40 %", {"40 %": recipe(6)};
        or "acid by metal" metal_counts: f64 = ABOVE_ZERO,
            "equivalents that a mole of dissolved metal counts in the total acid, 2 to 2.67",
            {"2.4": recipe(8)};
        or "concentrate for a point" concentrate_per_point: Share = SHARE,
            "concentrate by volume that raises the bath by one point, such as 0.475 %",
            {"0.475 %": recipe(9)};
        or "concentrate ratio" concentrate_ratio: f64 = ABOVE_ZERO,
            "acid ratio of the concentrate: total acid divided by free acid, such as 6", {"6": recipe(10)};
        or "sludge stirred up" suspended: Share = SHARE,
            "share of new sludge that stays stirred up, such as 50 %", {"50 %": recipe(11)};
        /// None inside stands for that which the depth of the tank gives.
        or "sludge half-life" settling_half: Option<Span> = or_word!("by the depth", SPAN),
            "time in which half of it settles in an idle bath, such as 4 h; `by the depth` of the tank",
            {"by the depth": recipe(12)};
        or "sludge bed" sludge_bed: Concentration = positive(),
            "dry solids in settled sludge, such as 100 g/L", {"100 g/L": recipe(13)};
        or "attack when done" residual_attack: MassFlux = quantity(),
            "metal lost under a finished coating, such as 0.02 g/m2min", {"0.02 g/m2min": recipe(14)};
        or "done after" finished_after: Span = SPAN,
            "stay after which it is finished, such as 45 min", {"45 min": recipe(15)};
        or "pace by strength" pace: (f64, f64) = PACE,
            "bounds of make-up strength by strength as a factor on the time, such as 0.7 to 1.5",
            {"0.7 to 1.5": recipe(16)};
        or "slow below" slow_below: Concentration = quantity(),
            "iron below which the bath is slow, such as 0.5 g/L; the effect fades from 20 % below it to 20 % above it",
            {"0.5 g/L": recipe(18)};
        or "slower by" slower: f64 = ABOVE_ZERO,
            "factor on the time below that iron, such as 1.3", {"1.3": recipe(19)};
    }
}

/// Ranges of the readings: what each is called stands once for both sets of them.
macro_rules! readings {
    (
        $(#[$about:meta])* $name:ident $path:literal, $what:literal,
        $strength:tt, $ratio:tt, $iron:tt, $sludge:tt, $level:tt
    ) => {
        thing! {
            $(#[$about])*
            $name $path, $what {
                or "strength" strength: (Strength, Strength) = range(), "total acid, such as 30 to 50 points", $strength;
                or "ratio" ratio: (f64, f64) = NUMBERS, "acid ratio: total acid divided by free acid, such as 5.5 to 7", $ratio;
                or "iron" iron: (Concentration, Concentration) = range(), "ferrous iron, such as 0.2 to 4 g/L", $iron;
                or "sludge" sludge: (Share, Share) = range(), "settled sludge by volume, such as 0 to 5 %", $sludge;
                or "level" level: (Share, Share) = range(), "volume by the fill, such as 85 to 110 %", $level;
            }
        }

        impl $name {
            /// Where each of them stands, if both are read; the whole of a range that is a default stands at its bath.
            pub(crate) fn spans(&self) -> Vec<(&'static str, Spanned<(f64, f64)>)> {
                let ratio = self.ratio.as_ref().map(|r| (Self::ratio.name, Spanned::new(r.value, r.at)));
                let all = [
                    span(Self::strength.name, &self.strength),
                    ratio,
                    span(Self::iron.name, &self.iron),
                    span(Self::sludge.name, &self.sludge),
                    span(Self::level.name, &self.level),
                ];
                all.into_iter().flatten().collect()
            }
        }
    };
}

fn span<Q: Quantity>(name: &'static str, got: &Given<(Q, Q)>) -> Option<(&'static str, Spanned<(f64, f64)>)> {
    let got = got.as_ref()?;
    Some((
        name,
        Spanned::new((got.value.0.base(), got.value.1.base()), got.at),
    ))
}

readings! {
    /// Readings outside which no load goes in.
    Limits "baths.limits", "a set of limits",
    {"30 to 50 points": "a supplier's product page; the product's own sheet decides"},
    {"5.5 to 7": "a supplier's trade article of May 2025; the product's own sheet decides"},
    {"0 to 4 g/L": "at most 4 g/L: two supplier sheets; too little iron stops nothing, it is warned of"},
    {"0 to 5 %": "a trade figure for zinc baths: filter or replace at 5 % by volume"},
    {"85 to 110 %": "the work must be covered: assumption"}
}

readings! {
    /// Readings outside which it is warned.
    Warn "baths.warn", "a set of warnings",
    {"31 to 48 points": INSIDE},
    {"5.7 to 6.8": INSIDE},
    {"0.5 to 3 g/L": "above 3 g/L one step inside the stop; below 0.5 g/L coats are doubtful, below 0.2 thin and patchy: assumption"},
    {"0 to 4 %": INSIDE},
    {"90 to 105 %": "one step inside the limit, and above it what replenishing adds: assumption"}
}

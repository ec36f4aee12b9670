//! The shop and its days as written.

use super::{File, MOST_DAYS, OpenDays, Rates};
use crate::defaults::{ALONE, CARRIED, NEUTRAL, OURS};
use crate::fields::Fields;
use crate::node::{Node, Spanned, Value};
use crate::reader::{
    CLOCK, DATE, EACH, NAME, PER_HOUR, PER_KWH, PER_LITRE, SHARE, SPAN, TEMPERATURE, YES, count, positive,
    quantity,
};
use crate::thing::{Key, Kind, Reader, Thing, or_word, thing, words};
use crate::walk::Walk as Walker;
use crate::{time, value};
use jiff::civil::Date;
use tankday_base::shop::HandsPaid;
use tankday_base::units::{Length, Power, Pressure, Share, Span, Temperature};

const HANDS: Reader<u32> = Reader::new(Kind::Or(&[Kind::Count, Kind::Word(&["none"])]), |node, walk| {
    Some(value::or_word(node, walk, "none", value::count::<0, 1_000>)?.unwrap_or(0))
});
const HANDS_PAID: Reader<HandsPaid> = words!(
    "to the end of their work" => HandsPaid::ToEndOfWork,
    "to closing" => HandsPaid::ToClosing,
);
/// Most walks that are written.
const MOST_WALKS: usize = 10_000;

thing! {
    /// The shop.
    Shop "shop", "a shop" {
        or "hands" hands: u32 = HANDS, "pairs of hands, such as 1, or `none`", {"1": OURS};
        or "hands paid" hands_paid: HandsPaid = HANDS_PAID,
            "until when hands are paid on a day", {"to the end of their work": OURS};
        may part "air" air: Air, "the air of the room";
        /// None inside stands for a supply that nobody exhausts.
        or "supply" supply: Option<Power> = or_word!("unlimited", positive::<Power>()),
            "what all heaters together may draw, such as 6 kW, or `unlimited`", {"unlimited": NEUTRAL};
        or "pump" pump: bool = YES,
            "whether a pump moves a hot bath, so that it may be decanted and filtered above 60 °C",
            {"no": CARRIED};
        or "hoist" hoist: bool = YES,
            "whether a hoist lifts heavy work into the tanks and out of them", {"no": OURS};
        may part "prices" prices: Prices, "what power, water, concentrate and hands cost";
        may part "rates" rates: Rates, "what a quote is made of beside prices: what steps use up, overhead, margin";
        may list "walks" walks: Walk = MOST_WALKS,
            "how long hands that carry nothing take from one place to another; no time where none is named";
    }
}

thing! {
    /// A walk of hands that carry nothing.
    Walk "shop.walks", "a walk" {
        must "from" from: String = NAME, "the tank or station that hands leave";
        must "to" to: String = NAME,
            "the one that they go to; the way back takes as long unless it is named, too";
        must "takes" takes: Span = SPAN, "how long, such as 20 s";
    }
}

thing! {
    /// The air of the room.
    Air "shop.air", "the air" {
        or "temperature" temperature: Temperature = TEMPERATURE,
            "temperature of the room, such as 19 °C", {"20 °C": OURS};
        or "humidity" humidity: Share = SHARE, "relative humidity, such as 50 %", {"50 %": OURS};
        or "altitude" altitude: Length = quantity(),
            "height above the sea, such as 300 m",
            {"0 m": "standard pressure at sea level, 101.325 kPa (ISO 2533)"};
        may "pressure" pressure: Pressure = positive(),
            "pressure of the air instead of the altitude, such as 98 kPa";
    }
}

thing! {
    /// Prices.
    Prices "shop.prices", "a list of prices" {
        or "currency" currency: String = NAME, "how the currency is written, such as EUR", {"EUR": OURS};
        or "power" power: f64 = PER_KWH, "power, such as 0.30 per kWh", {"0 per kWh": NEUTRAL};
        or "hands" hands: f64 = PER_HOUR, "one pair of hands, such as 28 per h", {"0 per h": NEUTRAL};
        or "distilled water" water: f64 = PER_LITRE,
            "distilled or deionised water, such as 0.80 per L", {"0 per L": NEUTRAL};
        or "concentrate" concentrate: f64 = PER_LITRE,
            "concentrate for the bath, such as 12 per L", {"0 per L": NEUTRAL};
        or "rinse water" rinse_water: f64 = PER_LITRE,
            "water for rinses, such as 0.004 per L", {"0 per L": NEUTRAL};
        or "filter medium" filter: f64 = EACH,
            "one filter medium, such as 1.50 per piece", {"0 per piece": NEUTRAL};
        or "waste" waste: f64 = PER_LITRE,
            "spent rinse and bath taken away, such as 0.60 per L", {"0 per L": NEUTRAL};
    }
}

/// Most breaks in one day.
pub(super) const MOST_BREAKS: usize = 48;
const BREAKS: Kind = Kind::Some(&Kind::Or(&[BREAK.kind, Kind::Thing(Break::TABLE)]));

thing! {
    /// A day, or several alike, or a shop that never closes.
    Days "days", "a day" {
        may "date" date: Date = DATE,
            "its date, such as 2026-03-05; else the day after the one before",
            {"2026-01-05": "a Monday that stands for any day"};
        or "open" open: Span = CLOCK, "when the shop opens, such as 07:30", {"08:00": OURS};
        or "close" close: Span = CLOCK, "when the shop closes, such as 17:00", {"17:00": OURS};
        may own "breaks" breaks: Vec<Break> = BREAKS => |f| f.list(&Self::breaks, MOST_BREAKS, Break::read),
            "breaks, such as [12:00 to 12:30], or with `stays` as [{at: 12:00 to 12:30, stays: yes}]", after "stays";
        or "stays" stays: bool = YES,
            "whether somebody stays in sight of the tanks after closing, until the shop opens again",
            {"no": ALONE}, after "repeat";
        or "repeat" repeat: u32 = count::<1, 5_000>(), "so many days in a row like this one", {"1": NEUTRAL};
        may "hands" hands: u32 = count::<1, 1_000>(),
            "pairs of hands on this day, such as 2; else those of the shop";
        may "around the clock" around_the_clock: Span = SPAN,
            "a shop that never closes, watched for so long, such as 365 days";
    }
}

impl Days {
    /// Its keys that have no meaning beside `around the clock`.
    pub(crate) const HOURS: [&Key; 5] = [
        &Self::open.key(),
        &Self::close.key(),
        &Self::breaks,
        &Self::stays.key(),
        &Self::repeat.key(),
    ];

    /// The days of a file; one with all its defaults where none is written.
    pub(super) fn of_file(f: &mut Fields) -> Vec<OpenDays> {
        match f.node(&File::days) {
            Some(node) if !f.walk.items(node).is_empty() => {
                f.walk.list(node, "days", MOST_DAYS, OpenDays::read)
            }
            _ => vec![OpenDays::Dated(Self::absent(f.at, f.walk))],
        }
    }
}

const BREAK: Reader<(Span, Span)> = Reader::new(
    Kind::Pattern(r"^\s*\d{1,2}:\d{2}\s+to\s+\d{1,2}:\d{2}\s*$"),
    time::break_time,
);

thing! {
    /// A break, and whether somebody stays.
    Break "days.breaks", "a break" {
        must "at" at: (Span, Span) = BREAK, "from when to when, such as 12:00 to 12:30";
        or "stays" stays: bool = YES,
            "whether somebody stays in sight of the tanks; if not, loads are out, heaters off and lids on",
            {"no": ALONE};
    }
}

impl Break {
    /// Its times alone, or with its keys; none if either is not known.
    pub(super) fn read(node: &Node, walk: &mut Walker) -> Option<Self> {
        let all = match node.value {
            Value::Map(_) => <Self as Thing>::read(node, walk)?,
            _ => Self {
                at: Some(Spanned::new(time::break_time(node, walk)?, node.at)),
                ..Self::absent(node.at, walk)
            },
        };
        (all.at.is_some() && all.stays.is_some()).then_some(all)
    }
}

//! Keys of materials, parts, steps and orders.

use super::{Kind, Table, may, must};
use tankday_base::shop::StepKind;
use tankday_base::units::{Area, Density, HeatCapacity, Length, Mass, Share, Volume, VolumePerArea};

/// A material.
pub(crate) static MATERIALS: Table = Table {
    path: "materials",
    what: "a material",
    keys: &[
        may(
            "like",
            Kind::Text,
            "a built-in material that it is like but for what follows",
        ),
        may("coats", Kind::Yes, "whether it takes the coating"),
        may("because", Kind::Text, "why not, if it does not"),
        may(
            "heat capacity",
            Kind::of::<HeatCapacity>(),
            "mean heat capacity, such as 463 J/kgK",
        ),
        may("density", Kind::of::<Density>(), "density, such as 7850 kg/m3"),
        may(
            "slower",
            Kind::Number,
            "how many times longer its coating takes than on blasted plain steel",
        ),
        may(
            "heavier",
            Kind::Number,
            "how many times heavier its full coating is than on blasted plain steel",
        ),
        may(
            "hardened",
            Kind::Yes,
            "hardened above about HRC 39, or a spring: hydrogen matters",
        ),
        may(
            "tempered",
            Kind::Degrees,
            "its tempering temperature, such as 300 °C: stress relief must not exceed it",
        ),
    ],
};

/// A kind of part.
pub(crate) static PARTS: Table = Table {
    path: "parts",
    what: "a part",
    keys: &[
        may("material", Kind::Text, "what it is made of, such as plain steel"),
        may(
            "dwell",
            Kind::Pattern(super::bath::WINDOW),
            "its own shortest and longest time in the bath, such as 10 to 14 min",
        ),
        may("mass", Kind::of::<Mass>(), "mass of one piece, such as 2.4 g"),
        may(
            "area",
            Kind::of::<Area>(),
            "surface of one piece, such as 4.8 cm2",
        ),
        may(
            "bulk",
            Kind::Or(&[Kind::of::<Volume>(), Kind::Word(&["any"])]),
            "room of one piece in a basket, air included, such as 3 mL",
        ),
        may(
            "held",
            Kind::Word(&["basket", "wire"]),
            "in a basket, or one by one on wires",
        ),
        may(
            "size",
            Kind::Pattern(SIZE),
            "the box around one piece: its length, such as 3 m, or 600 x 40 x 20 mm; where a shape gives it, only if it is bent",
        ),
        may(
            "turned",
            Kind::Yes,
            "a long part coated in two halves, turned end for end: a mark stays where they meet",
        ),
        may(
            "tank",
            Kind::Some(&Kind::Text),
            "the tank that it is meant for, or several",
        ),
        may(
            "screw",
            Kind::Pattern(SCREW),
            "thread and length, such as M6 x 20, instead of mass and area",
        ),
        may(
            "head",
            Kind::Word(&["socket", "hexagon"]),
            "head of the screw: socket (ISO 4762) or hexagon (ISO 4017)",
        ),
        may(
            "sheet",
            Kind::Pattern(THREE),
            "length, width and thickness, such as 80 mm x 40 mm x 2 mm, instead of mass and area",
        ),
        may(
            "bar",
            Kind::Pattern(TWO),
            "diameter and length of a round bar, such as 10 mm x 60 mm, instead of mass and area",
        ),
        may(
            "tube",
            Kind::Pattern(THREE),
            "outer diameter, wall and length, such as 20 mm x 2 mm x 60 mm, instead of mass and area",
        ),
        may(
            "cast wall",
            Kind::of::<Length>(),
            "mean wall of a casting, such as 6 mm: with its mass it gives the area",
        ),
        may(
            "face",
            Kind::Word(&["smooth", "blasted", "as cast"]),
            "how rough it is, where a shape gives the area",
        ),
        may(
            "drains",
            Kind::Word(&["well", "poorly", "very poorly"]),
            "how well it drains over the bath",
        ),
        may(
            "hangs",
            Kind::Word(&["upright", "flat", "cup"]),
            "how it hangs; cup: its open side up",
        ),
        may(
            "drag out",
            Kind::of::<VolumePerArea>(),
            "liquid that leaves on its surface after 10 s of dripping, such as 80 mL/m2, if measured",
        ),
        may(
            "thick",
            Kind::of::<Length>(),
            "its greatest thickness, such as 6 mm: what stress relief goes by",
        ),
        may(
            "tempered",
            Kind::Degrees,
            "its tempering temperature, such as 300 °C, if other than its material's",
        ),
        may(
            "worked cold",
            Kind::Yes,
            "ground, cold formed or straightened after hardening",
        ),
        may(
            "greasy",
            Kind::Yes,
            "oil or grease may be left on it, in corners that no cleaning reaches",
        ),
        may("pickled", Kind::Yes, "cleaned in strong acid before the bath"),
        may(
            "holes down",
            Kind::Yes,
            "it has blind holes that hang down in the bath, so that gas stays in them",
        ),
        may(
            "crevices",
            Kind::Yes,
            "it has seams or rolled edges that hold liquid",
        ),
    ],
};

const SCREW: &str = r"^\s*M\s*\d+\s*[x×]\s*[\d.]+\s*(mm)?\s*$";
const SIZE: &str = r"^\s*[\d.]+[^x×]*([x×]\s*[\d.]+[^x×]*){0,2}$";
const TWO: &str = r"^\s*[\d.]+[^x×]*[x×]\s*[\d.]+[^x×]*$";
const THREE: &str = r"^\s*[\d.]+[^x×]*[x×]\s*[\d.]+[^x×]*[x×]\s*[\d.]+[^x×]*$";

/// One step of a route.
pub(crate) static STEPS: Table = Table {
    path: "steps",
    what: "a step",
    keys: &[
        must("do", Kind::Text, "what is done, such as blast"),
        may(
            "kind",
            Kind::Word(&KINDS),
            "what kind of step it is, where `do` says it in words of your own: cautions go by it",
        ),
        may(
            "as",
            Kind::Text,
            "its name on this route, if something is done twice",
        ),
        may(
            "at",
            Kind::Some(&Kind::Text),
            "the station, or several in the order of preference",
        ),
        may(
            "in",
            Kind::Text,
            "the bath that coats, instead of a station and a time",
        ),
        may("bath", Kind::Text, "another word for `in`"),
        may(
            "tank",
            Kind::Some(&Kind::Text),
            "the tank that coats, or several, instead of a bath: their bath coats",
        ),
        may(
            "for",
            Kind::Spread,
            "how long, such as 8 min, 4 to 7 min, about 5 min ± 1 min",
        ),
        may(
            "each piece",
            Kind::Time,
            "so much more for each piece, such as 20 s",
        ),
        may(
            "hands",
            Kind::Word(&["none", "ends", "throughout"]),
            "whether hands are needed: none, ends (put in, take out) or throughout",
        ),
        may(
            "put in",
            Kind::Time,
            "hands' time to put a load in, such as 1 min",
        ),
        may(
            "take out",
            Kind::Time,
            "hands' time to take a load out, such as 1 min",
        ),
        may(
            "drip",
            Kind::Time,
            "how long a load drips over the bath while it is taken out, such as 20 s",
        ),
        may(
            "at most",
            Kind::Time,
            "longest stay before the work suffers, such as 30 min",
        ),
        may(
            "within",
            Kind::Time,
            "longest wait after the step before, such as 1 min",
        ),
        may(
            "at once",
            Kind::Yes,
            "yes: the same hands go on from the step before without laying the load down",
        ),
        may(
            "at a break",
            Kind::Word(&["finish first", "pause", "start again"]),
            "what becomes of work under hands when a break begins",
        ),
        may(
            "or",
            Kind::Word(&["overnight"]),
            "overnight: may stay in until the next opening",
        ),
        may(
            "after",
            Kind::Some(&Kind::Text),
            "steps that must be done before, by name, or `nothing`; else the one above",
        ),
        may(
            "dries",
            Kind::Word(&["still air", "fan"]),
            "drying by the air of the room, instead of a time: it follows from the air and the part",
        ),
        may(
            "film",
            Kind::of::<VolumePerArea>(),
            "water that is on the work when it begins to dry, such as 15 mL/m2 after blowing off",
        ),
        may(
            "relieves",
            Kind::Word(&["stress", "hydrogen"]),
            "what a long step without hands relieves: stress, before coating, or hydrogen, after it",
        ),
        may(
            "heat",
            Kind::Or(&[Kind::Degrees, Kind::Word(&["as the air"])]),
            "temperature of the work in this step, such as 102 °C",
        ),
        may("only", Kind::Some(&Kind::Text), "only these parts pass it"),
        may(
            "fails",
            Kind::Or(&[Kind::of::<Share>(), Kind::Word(&["by cause"])]),
            "share of loads that fail here, such as 2 %, or by cause: what happened to a load counts",
        ),
        may("back to", Kind::Text, "the step that a failed load goes back to"),
    ],
};

/// The words of [`StepKind::ALL`].
const KINDS: [&str; StepKind::ALL.len()] = {
    let mut words = [""; StepKind::ALL.len()];
    let mut i = 0;
    while i < words.len() {
        words[i] = StepKind::ALL[i].0;
        i += 1;
    }
    words
};

/// An order.
pub(crate) static ORDERS: Table = Table {
    path: "orders",
    what: "an order",
    keys: &[
        must("id", Kind::Text, "its name, such as A1"),
        must("part", Kind::Text, "which part"),
        must("route", Kind::Text, "which way through the shop"),
        may("count", Kind::Count, "pieces, such as 400"),
        may(
            "arrives",
            Kind::Or(&[Kind::Clock, Kind::Word(&["at opening"]), Kind::Thing(&ARRIVES)]),
            "when it comes: 07:30, 2026-03-06 08:00, at opening, or again and again",
        ),
        may(
            "due",
            Kind::Clock,
            "when it is promised: 15:00, or 2026-03-06 15:00",
        ),
        may(
            "due after",
            Kind::Time,
            "promised so long after its arrival, such as 4 h",
        ),
        may(
            "tank",
            Kind::Some(&Kind::Text),
            "the tank that it is meant for, or several",
        ),
        may(
            "looks",
            Kind::Word(&["matter", "do not matter"]),
            "whether its looks matter; scrap and hidden pieces may go through a fresh bath first",
        ),
        may(
            "late counts",
            Kind::Number,
            "how much its being late counts, 0.1 to 10 times as much as that of another",
        ),
    ],
};

/// The days of a week.
pub(crate) const WEEKDAYS: [&str; 7] = [
    "Monday",
    "Tuesday",
    "Wednesday",
    "Thursday",
    "Friday",
    "Saturday",
    "Sunday",
];

/// Orders that come again and again.
pub(crate) static ARRIVES: Table = Table {
    path: "orders.arrives",
    what: "a stream of orders",
    keys: &[
        must(
            "every",
            Kind::Spread,
            "time from one to the next, such as exponential 45 min",
        ),
        may(
            "from",
            Kind::Or(&[Kind::Clock, Kind::Word(&["at opening"])]),
            "when counting starts",
        ),
        may("until", Kind::Clock, "none comes at or after it"),
        may("up to", Kind::Count, "at most so many orders"),
        may(
            "only",
            Kind::Word(&["opening hours"]),
            "opening hours: the time between orders runs only while the shop is open",
        ),
        may(
            "on",
            Kind::Some(&Kind::Word(&WEEKDAYS)),
            "only on these weekdays, in opening hours, such as [Monday, Thursday]",
        ),
        may(
            "fewest",
            Kind::Count,
            "pieces vary evenly from so many to the order's count, such as 20",
        ),
    ],
};

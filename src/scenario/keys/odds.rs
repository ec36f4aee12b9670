//! Keys of what makes loads fail more often.

use super::{Kind, Table, may};
use tankday_base::units::Share;

/// How often loads fail, and by how much each cause multiplies the odds.
pub(crate) static ODDS: Table = Table {
    path: "rules.odds",
    what: "a set of odds",
    keys: &[
        may(
            "base",
            Kind::of::<Share>(),
            "share of loads that fail although nothing happened to them, such as 2 %",
        ),
        may(
            "overloaded",
            Kind::Number,
            "more than 2 dm2 of surface for each litre",
        ),
        may("underfired", Kind::Number, "the tank is heated from below"),
        may(
            "without iron",
            Kind::Number,
            "the bath holds less iron than its warning limit",
        ),
        may(
            "much iron",
            Kind::Number,
            "the bath holds more iron than its warning limit",
        ),
        may(
            "sludge",
            Kind::Number,
            "the bath holds more sludge than its warning limit",
        ),
        may("too hot", Kind::Number, "the bath is hotter than its band"),
        may("too short", Kind::Number, "the coating does not reach its weight"),
        may(
            "too long",
            Kind::Number,
            "longer in the bath than 45 min, or than it allows",
        ),
        may(
            "spent rinse",
            Kind::Number,
            "rinsed in water that should have been renewed",
        ),
        may(
            "waited",
            Kind::Number,
            "waited longer than allowed between rinse and oil",
        ),
        may("hot rinse", Kind::Number, "rinsed in water above 50 °C"),
        may(
            "dried on",
            Kind::Number,
            "waited longer than allowed between bath and rinse",
        ),
        may("greasy", Kind::Number, "some of its parts are greasy"),
        may("pickled", Kind::Number, "some of its parts are pickled"),
        may(
            "holes down",
            Kind::Number,
            "blind holes hang down in some of its parts",
        ),
        may("crevices", Kind::Number, "some of its parts have crevices"),
    ],
};

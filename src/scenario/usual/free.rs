//! Keys whose numbers have no usual range of their own: whole things, or single keys.

pub(super) const FREE: &[(&str, &str)] = &[
    ("scenario.tankday", "the version of the format"),
    ("scenario.outlay", "as much as a shop pays"),
    (
        "days.breaks",
        "held against the hours of their day in `rules::hours`",
    ),
    ("days.repeat", "days for statistics are no slip"),
    ("days.every.for", "days for statistics are no slip"),
    (
        "days.every.breaks",
        "held against the hours of their day in `rules::hours`",
    ),
    ("days.around the clock", "days for statistics are no slip"),
    (
        "baths.chemistry",
        "each constant has its believable range in `bath::chemistry::CONSTANTS`",
    ),
    (
        "tanks.inside",
        "held against the fill in `rules::tank` and `rules::level`",
    ),
    (
        "tanks.now.volume",
        "held against fill and heater in `rules::level`",
    ),
    (
        "tanks.now.temperature",
        "held against the band in `rules::liquid`",
    ),
    (
        "tanks.heater.power",
        "held against the tank in `rules::believe` and `rules::warms`",
    ),
    ("vessels.holds", "held against its tanks in `rules::vessel`"),
    ("vessels.filtered", "held against its tanks in `rules::vessel`"),
    ("parts.screw", "a table of threads; its length in `rules::fits`"),
    ("orders.arrives.up to", "as many as come"),
    (
        "orders.arrives.fewest",
        "held against the count in `rules::orders`",
    ),
    (
        "orders.late counts",
        "a weight against those of other orders, 0.1 to 10",
    ),
    ("rules.fill.at least", "any share means something"),
    (
        "rules.care",
        "a mark alone, held against limits and work in `rules::care`",
    ),
    (
        "rules.care.replenish.when",
        "marks are held against limits and work in `rules::care`",
    ),
    ("rules.care.raise ratio.when", "the same"),
    ("rules.care.lower ratio.when", "the same"),
    ("rules.care.condition.when", "the same"),
    ("rules.care.filter.when", "the same"),
    ("rules.care.settle.when", "the same"),
    ("rules.care.renew half.when", "the same"),
    ("rules.care.renew.when", "the same"),
    (
        "rules.care.lower ratio.acid",
        "bought with 10 to 85 %, anything else is an error",
    ),
    (
        "rules.heat.switch on",
        "a time of day, held against the hours in `rules::heat`",
    ),
    ("shop.rates.minimum", "as much as a shop asks"),
    (
        "shop.rates.degreaser",
        "by the hour, the load, the piece, the area or the mass: no one range holds for all",
    ),
    ("shop.rates.acid", "the same"),
    ("shop.rates.blast media", "the same"),
    ("shop.rates.tumble media", "the same"),
    ("shop.rates.rags", "the same"),
    ("shop.rates.sealer", "the same"),
    ("shop.rates.oil", "the same"),
    ("shop.rates.oven", "the same"),
    ("aim", "weights against each other"),
];

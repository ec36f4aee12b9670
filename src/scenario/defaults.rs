//! Everything that a scenario may leave out, as it would be written, and where it comes from. Reading takes its values
//! from this table and from nowhere else, so that what `check --defaults` prints is what is used.

use crate::bath::chemistry::{CONSTANTS, Constant};

/// One default.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DefaultValue {
    /// Where it would stand: `tanks.heater.swing`.
    pub key: &'static str,
    /// As it would be written.
    pub value: &'static str,
    /// Where it comes from.
    pub source: &'static str,
}

/// All defaults, in the order of a scenario.
#[must_use]
pub const fn defaults() -> &'static [DefaultValue] {
    TABLE
}

/// The default of a key.
pub(super) fn find(key: &str) -> Option<&'static DefaultValue> {
    TABLE.iter().find(|d| d.key == key)
}

const fn of(key: &'static str, value: &'static str, source: &'static str) -> DefaultValue {
    DefaultValue { key, value, source }
}

const CUSTOM: &str = "common practice, no source";
const OURS: &str = "assumption of this program, no source";
const AIM: &str =
    "assumption of this program, no source: promised times first, then an early finish, then the rest";
const NEUTRAL: &str = "nothing is assumed";
const TWO_SUPPLIERS: &str =
    "supplier data sheets (95-98 °C; 90-95 °C and never under 90 °C); an encyclopaedia entry has 88-99 °C";
const INSIDE: &str = "one step inside the limit: assumption";
const LOADING: &str = "assumption, from a barrel line in a handbook chapter on phosphate coatings (ASM Handbook vol. 5, attribution from memory)";

/// Where a constant of the chemistry comes from stands with its range in the table of constants.
const fn recipe(constant: usize) -> &'static str {
    CONSTANTS[constant].source
}

/// The keys of the chemistry and their places in the table of constants.
const CHEMISTRY: [(&str, usize); 18] = [
    ("make-up", 0),
    ("coating by metal", 1),
    ("iron in coating", 2),
    ("iron oxidised with a load", 3),
    ("iron oxidised hot", 4),
    ("iron oxidised idle", 5),
    ("hydrolysed", 6),
    ("acid by metal", 8),
    ("concentrate for a point", 9),
    ("concentrate ratio", 10),
    ("sludge stirred up", 11),
    ("sludge half-life", 12),
    ("sludge bed", 13),
    ("attack when done", 14),
    ("done after", 15),
    ("pace by strength", 16),
    ("slow below", 18),
    ("slower by", 19),
];

/// The constant of the chemistry behind a key of `baths.chemistry`, with its range and how to measure it.
#[must_use]
pub fn constant(key: &str) -> Option<&'static Constant> {
    let key = key.strip_prefix("baths.chemistry.").unwrap_or(key);
    let at = CHEMISTRY.iter().find(|(name, _)| *name == key)?.1;
    CONSTANTS.get(at)
}

const TABLE: &[DefaultValue] = &[
    of("scenario.title", "A day in the shop", OURS),
    of("shop.hands", "1", OURS),
    of("shop.air.temperature", "20 °C", OURS),
    of("shop.air.humidity", "50 %", OURS),
    of(
        "shop.air.altitude",
        "0 m",
        "standard pressure at sea level, 101.325 kPa (ISO 2533)",
    ),
    of("shop.prices.currency", "EUR", OURS),
    of("shop.prices.power", "0 per kWh", NEUTRAL),
    of("shop.prices.hands", "0 per h", NEUTRAL),
    of("shop.prices.distilled water", "0 per L", NEUTRAL),
    of("shop.prices.concentrate", "0 per L", NEUTRAL),
    of("shop.prices.rinse water", "0 per L", NEUTRAL),
    of("shop.prices.filter medium", "0 per piece", NEUTRAL),
    of("shop.prices.waste", "0 per L", NEUTRAL),
    of("days.date", "2026-01-05", "a Monday that stands for any day"),
    of("days.open", "08:00", OURS),
    of("days.close", "17:00", OURS),
    of("days.repeat", "1", NEUTRAL),
    of("baths.band.least", "88 °C", TWO_SUPPLIERS),
    of("baths.band.hold", "95 °C", TWO_SUPPLIERS),
    of("baths.band.most", "98 °C", TWO_SUPPLIERS),
    of("baths.room.area", "1 dm2/L", LOADING),
    of("baths.room.mass", "0.25 kg/L", LOADING),
    of(
        "baths.coat.target",
        "16 g/m2",
        "least weight for type M in MIL-DTL-16232G (from memory)",
    ),
    of(
        "baths.dwell",
        "5 to 45 min",
        "encyclopaedia entry on the process: 5-45 min; supplier data sheets lie inside",
    ),
    of(
        "baths.now.total acid",
        "36 points",
        "between the windows of two supplier data sheets (30-50, 28-42 points); the product's own sheet decides",
    ),
    of(
        "baths.now.free acid",
        "6 points",
        "a supplier's trade article: 5-9 points; the product's own sheet decides",
    ),
    of(
        "baths.now.iron",
        "1 g/L",
        "US 9,506,151 B2, claim 1: a working bath",
    ),
    of("baths.now.sludge", "0 g/L", NEUTRAL),
    of("baths.now.uses", "0", NEUTRAL),
    of("baths.now.area treated", "0 dm2/L", NEUTRAL),
    of(
        "baths.growth.full",
        "18 g/m2",
        "derived from published windows of weight, time and temperature: 16 to 21 g/m2; weigh coupons after 10, 20 and 40 min",
    ),
    of(
        "baths.growth.time constant",
        "4.5 min",
        "derived from the same windows: 1.8 to 6.2 min",
    ),
    of(
        "baths.growth.faster by 10 °C",
        "2",
        "assumption; the published windows allow 1 to 3.5",
    ),
    of("baths.chemistry.make-up", "36 points", recipe(0)),
    of("baths.chemistry.coating by metal", "2", recipe(1)),
    of("baths.chemistry.iron in coating", "20 %", recipe(2)),
    of("baths.chemistry.iron oxidised with a load", "30 %", recipe(3)),
    of("baths.chemistry.iron oxidised hot", "1 %", recipe(4)),
    of("baths.chemistry.iron oxidised idle", "0.1 %", recipe(5)),
    of("baths.chemistry.hydrolysed", "40 %", recipe(6)),
    of("baths.chemistry.acid by metal", "2.4", recipe(8)),
    of("baths.chemistry.concentrate for a point", "0.475 %", recipe(9)),
    of("baths.chemistry.concentrate ratio", "6", recipe(10)),
    of("baths.chemistry.sludge stirred up", "50 %", recipe(11)),
    of("baths.chemistry.sludge half-life", "4 h", recipe(12)),
    of("baths.chemistry.sludge bed", "100 g/L", recipe(13)),
    of("baths.chemistry.attack when done", "0.02 g/m2min", recipe(14)),
    of("baths.chemistry.done after", "45 min", recipe(15)),
    of("baths.chemistry.pace by strength", "0.7 to 1.5", recipe(16)),
    of("baths.chemistry.slow below", "0.5 g/L", recipe(18)),
    of("baths.chemistry.slower by", "1.3", recipe(19)),
    of(
        "baths.limits.strength",
        "30 to 50 points",
        "a supplier's product page; the product's own sheet decides",
    ),
    of(
        "baths.limits.ratio",
        "5.5 to 7",
        "a supplier's trade article of May 2025; the product's own sheet decides",
    ),
    of(
        "baths.limits.iron",
        "0 to 4 g/L",
        "at most 4 g/L: two supplier sheets; too little iron stops nothing, it is warned of",
    ),
    of(
        "baths.limits.sludge",
        "0 to 5 %",
        "a trade figure for zinc baths: filter or replace at 5 % by volume",
    ),
    of(
        "baths.limits.level",
        "85 to 110 %",
        "the work must be covered: assumption",
    ),
    of("baths.warn.strength", "31 to 48 points", INSIDE),
    of("baths.warn.ratio", "5.7 to 6.8", INSIDE),
    of(
        "baths.warn.iron",
        "0.5 to 3 g/L",
        "above 3 g/L one step inside the stop; below 0.5 g/L coats are doubtful, below 0.2 thin and patchy: assumption",
    ),
    of("baths.warn.sludge", "0 to 4 %", INSIDE),
    of("baths.warn.level", "90 to 103 %", INSIDE),
    of("baths.wears", "yes", "every load changes a bath"),
    of("tanks.now.temperature", "as the air", NEUTRAL),
    of("tanks.now.volume", "full", NEUTRAL),
    of(
        "tanks.wall.material",
        "stainless",
        "a supplier's product page: 316 stainless for tank and coils",
    ),
    of("tanks.wall.insulation", "none", NEUTRAL),
    of(
        "tanks.wall.insulation, conductivity",
        "0.04 W/mK",
        "mineral wool, common practice, no source",
    ),
    of("tanks.wall.vessel", "1 mm thick", OURS),
    of(
        "tanks.wall.vessel, density",
        "7900 kg/m3",
        "stainless steel, from memory",
    ),
    of(
        "tanks.wall.bottom",
        "0 W/m2K",
        "stands on something that does not conduct: assumption",
    ),
    of("tanks.lid", "loose", OURS),
    of("tanks.lid.leak", "5 %", CUSTOM),
    of("tanks.lid.leak, fitted", "2 %", CUSTOM),
    of("tanks.lid.material", "stainless", "as the wall"),
    of("tanks.lid.insulation", "none", NEUTRAL),
    of("tanks.heater.kind", "immersion", OURS),
    of(
        "tanks.heater.efficiency, immersion",
        "100 %",
        "all of it is in the bath",
    ),
    of(
        "tanks.heater.efficiency, hot plate",
        "70 %",
        "abstract of Sweeney, Dols, Fortenbery and Sharp on cooking: about 74 % at best; 4 to 10 L pots: assumption",
    ),
    of(
        "tanks.heater.efficiency, induction",
        "80 %",
        "same abstract: up to 90 % at best; for a day's use: assumption",
    ),
    of(
        "tanks.heater.swing",
        "2 °C",
        "electronic thermostat 1-2 K, common practice, no source; a bimetal one swings 6.7 K",
    ),
    of("tanks.basket", "any", NEUTRAL),
    of("tanks.loads", "1", OURS),
    of("tanks.draught", "1", NEUTRAL),
    of("stations.loads", "1", OURS),
    of("stations.together", "1", NEUTRAL),
    of("stations.frees", "when emptied", OURS),
    of("stations.tubs", "1", NEUTRAL),
    of("stations.flow", "0 L/min", "a still rinse"),
    of(
        "stations.renew.at",
        "1 points",
        "assumption: titrated every shift in a handbook chapter on phosphate coatings, which gives no limit",
    ),
    of("stations.renew.takes", "10 min", OURS),
    of("materials.like", "plain steel", OURS),
    of(
        "materials.because",
        "the scenario says that it does not take the coating",
        NEUTRAL,
    ),
    of("parts.material", "plain steel", OURS),
    of(
        "parts.mass",
        "0 g",
        "only for parts that no bath sees; else as stated, or from the shape",
    ),
    of(
        "parts.area",
        "0 cm2",
        "only for parts that no bath sees; else as stated, or from the shape",
    ),
    of("parts.bulk", "any", NEUTRAL),
    of("parts.held", "basket", OURS),
    of(
        "parts.head",
        "socket",
        "ISO 4762: area within 5 %, mass within 12 % of published masses",
    ),
    of(
        "parts.face",
        "smooth",
        "machined, drawn or rolled: 1 to 1.1 times the area of the shape; blasted 1.2 (1 to 2), as cast 1.5 (1.2 to 2): common practice, no source",
    ),
    of(
        "parts.face, casting",
        "as cast",
        "common practice, no source; the area of a casting is within 30 % besides",
    ),
    of("parts.hangs", "upright", OURS),
    of(
        "parts.drains, basket",
        "very poorly",
        "163 mL/m2, usually credited to US EPA handbooks (from memory): weigh a load before and after a rinse to have your own",
    ),
    of(
        "parts.drains, wire",
        "well",
        "16 mL/m2, as above; a free-draining film of hot water gives 9 to 17",
    ),
    of(
        "parts.thick",
        "0 mm",
        "not known: stress relief then takes its least time",
    ),
    of("parts.worked cold", "no", NEUTRAL),
    of("steps.for", "0 min", "only beside `each piece`"),
    of("steps.each piece", "0 s", NEUTRAL),
    of("steps.hands", "ends", OURS),
    of("steps.put in", "1 min", CUSTOM),
    of("steps.take out", "1 min", CUSTOM),
    of(
        "steps.drip",
        "10 s",
        "common practice, no source; weighed panels gain nothing beyond 40 s (Rinsing Manual, Appendix D)",
    ),
    of(
        "steps.dries, still air",
        "0 m/s",
        "a film at the wet bulb's temperature; pool equation of ASHRAE",
    ),
    of("steps.dries, fan", "2 m/s", "common practice, no source"),
    of(
        "steps.heat, stress",
        "190 °C",
        "DOD-P-16232F, 3.3: 177 to 204 °C, 1 h for each inch of thickness, at least half an hour",
    ),
    of(
        "steps.heat, hydrogen",
        "102 °C",
        "98 to 107 °C for 8 h, or 120 h at room temperature (`as the air`): from memory, the paragraphs of DOD-P-16232F and MIL-DTL-16232G were not seen",
    ),
    of(
        "steps.within, hydrogen",
        "4 h",
        "common practice, no source; an old rule said 24 h; where it is held at room temperature no limit",
    ),
    of("steps.at once", "no", NEUTRAL),
    of("steps.at a break", "finish first", CUSTOM),
    of("orders.count", "1", NEUTRAL),
    of("orders.arrives", "at opening", OURS),
    of("orders.looks", "matter", OURS),
    of("orders.arrives.from", "at opening", OURS),
    of("rules.next load", "due first", CUSTOM),
    of("rules.hands first", "urgent", CUSTOM),
    of("rules.look ahead", "yes", OURS),
    of("rules.split", "evenly", OURS),
    of("rules.combine", "same part", OURS),
    of("rules.fill.at least", "60 %", OURS),
    of("rules.fill.wait at most", "20 min", OURS),
    of("rules.heat.switch on", "at opening", CUSTOM),
    of("rules.heat.switch off", "after the last load", CUSTOM),
    of("rules.heat.lid", "between loads", CUSTOM),
    of(
        "rules.heat.unattended",
        "no",
        "no hot acid is left alone: common practice, no source",
    ),
    of(
        "rules.top up.below",
        "95 %",
        "common practice, no source; never where there are no hands",
    ),
    of("rules.top up.takes", "3 min", OURS),
    of("rules.care.fresh bath", "takes all work", OURS),
    of(
        "rules.care.replenish.when",
        "below 31 points",
        "a supplier's product page: add below 30; one point earlier, since below it no load goes in",
    ),
    of("rules.care.replenish.to", "36 points", "the make-up strength"),
    of("rules.care.replenish.takes", "5 min", OURS),
    of(
        "rules.care.raise ratio.when",
        "ratio below 5.7",
        "one step before the limit below which no load goes in",
    ),
    of(
        "rules.care.raise ratio.by",
        "manganese carbonate",
        "a supplier's data sheet",
    ),
    of(
        "rules.care.raise ratio.to",
        "6",
        "the make-up ratio, 36 by 6 points",
    ),
    of("rules.care.raise ratio.takes", "5 min", OURS),
    of(
        "rules.care.lower ratio.when",
        "ratio above 6.8",
        "one step before the limit above which no load goes in",
    ),
    of(
        "rules.care.lower ratio.to",
        "6",
        "the make-up ratio, 36 by 6 points",
    ),
    of("rules.care.lower ratio.takes", "5 min", OURS),
    of("rules.care.condition.when", "never", NEUTRAL),
    of(
        "rules.care.condition.to",
        "1 g/L",
        "US 9,506,151 B2, claim 1: a working bath; 0.5 to 1.5 assumed",
    ),
    of(
        "rules.care.condition.at",
        "65 °C",
        "a supplier's product page: 60 to 70 °C",
    ),
    of(
        "rules.care.condition.for",
        "40 min",
        "the same page: 30 to 50 min",
    ),
    of("rules.care.condition.takes", "10 min", OURS),
    of("rules.care.filter.when", "never", NEUTRAL),
    of("rules.care.filter.cool to", "45 °C", OURS),
    of(
        "rules.care.filter.settles",
        "2 h",
        "a jug clears in two to three hours: common practice, no source",
    ),
    of("rules.care.filter.heel", "20 %", OURS),
    of("rules.care.filter.lost", "2 %", "1 to 3 %: assumption"),
    of("rules.care.filter.pour", "4 L/min", OURS),
    of("rules.care.filter.area", "6 dm2", OURS),
    of("rules.care.filter.head", "20 cm", OURS),
    of(
        "rules.care.filter.medium",
        "3e8 1/m",
        "thirty filter papers at 3.9e7 to 1.3e9 (Herzberg W., Papierprüfung)",
    ),
    of(
        "rules.care.filter.cake",
        "2e11 m/kg",
        "between calcium carbonate and metal hydroxides, 5e10 to 2e12: common practice, no source",
    ),
    of("rules.care.filter.set up", "5 min", OURS),
    of("rules.care.settle.when", "never", NEUTRAL),
    of("rules.care.settle.cool to", "45 °C", OURS),
    of(
        "rules.care.settle.settles",
        "8 h",
        "a handbook chapter: 8 h idle and cool",
    ),
    of("rules.care.settle.heel", "4 %", "2 to 5 % lost: assumption"),
    of("rules.care.settle.pour", "4 L/min", OURS),
    of("rules.care.renew half.when", "never", NEUTRAL),
    of("rules.care.renew half.cool to", "45 °C", OURS),
    of("rules.care.renew half.takes", "20 min", OURS),
    of("rules.care.renew.when", "never", NEUTRAL),
    of("rules.care.renew.cool to", "45 °C", OURS),
    of("rules.care.renew.takes", "30 min", OURS),
    of(
        "rules.odds.base",
        "2 %",
        "assumption, no source: count your own rejects",
    ),
    of(
        "rules.odds.overloaded",
        "3",
        "times the odds: assumption, no source; the cause itself: crowded and touching parts come out blotchy (supplier's trade article)",
    ),
    of(
        "rules.odds.underfired",
        "2",
        "times the odds: assumption, no source; the cause itself: cold spots (a handbook chapter on phosphate coatings wants even heat)",
    ),
    of(
        "rules.odds.without iron",
        "4",
        "times the odds: assumption, no source; the cause itself: a bath without iron coats thin and grey (a supplier's product page)",
    ),
    of(
        "rules.odds.much iron",
        "2",
        "times the odds: assumption, no source; the cause itself: white floating dust (a machine-translated process note)",
    ),
    of(
        "rules.odds.sludge",
        "4",
        "times the odds: assumption, no source; the cause itself: stirred sludge gives dusty coats (a supplier's product page)",
    ),
    of(
        "rules.odds.too hot",
        "2",
        "times the odds: assumption, no source; the cause itself: coarse (Products Finishing 2023)",
    ),
    of(
        "rules.odds.too short",
        "4",
        "times the odds: assumption, no source; the cause itself: light and thin (Products Finishing 2023)",
    ),
    of(
        "rules.odds.too long",
        "3",
        "times the odds: assumption, no source; the cause itself: etched (Products Finishing 2023, an encyclopaedia entry)",
    ),
    of(
        "rules.odds.spent rinse",
        "3",
        "times the odds: assumption, no source; the cause itself: rough, whitish residues (a handbook chapter); the factor is that of a hot rinse",
    ),
    of(
        "rules.odds.waited",
        "4",
        "times the odds: assumption, no source; the cause itself: rust bleeds through after slow drying and late oil (trade letters)",
    ),
    of("rules.stop, after the last closing", "12 h", OURS),
    of("aim.late order", "1000", AIM),
    of("aim.late minute", "100", AIM),
    of("aim.finish minute", "1", AIM),
    of("aim.kWh", "0.1", AIM),
    of("aim.litre of water", "0.1", AIM),
    of("aim.minute of hands", "0.01", AIM),
    of("aim.overtaking", "yes", NEUTRAL),
];

#[cfg(test)]
mod tests {
    use super::{TABLE, find};
    use crate::scenario::keys;

    /// All tables that take defaults, by their path.
    fn tables() -> Vec<&'static keys::Table> {
        vec![
            &keys::SCENARIO,
            &keys::SHOP,
            &keys::AIR,
            &keys::PRICES,
            &keys::DAYS,
            &keys::BATHS,
            &keys::BAND,
            &keys::ROOM,
            &keys::COAT,
            &keys::BATH_NOW,
            &keys::GROWTH,
            &keys::CHEMISTRY,
            &keys::LIMITS,
            &keys::WARN,
            &keys::TANKS,
            &keys::TANK_NOW,
            &keys::WALL,
            &keys::LID,
            &keys::HEATER,
            &keys::STATIONS,
            &keys::FRESH_WATER,
            &keys::MATERIALS,
            &keys::PARTS,
            &keys::STEPS,
            &keys::ORDERS,
            &keys::ARRIVES,
            &keys::RULES,
            &keys::ODDS,
            &keys::FILL,
            &keys::HEAT,
            &keys::TOP_UP,
            &keys::CARE,
            &keys::REPLENISH,
            &keys::RAISE,
            &keys::LOWER,
            &keys::CONDITION,
            &keys::FILTER_STOP,
            &keys::SETTLE,
            &keys::RENEW_HALF,
            &keys::RENEW,
            &keys::AIM,
        ]
    }

    #[test]
    fn each_default_belongs_to_a_key_that_may_be_left_out() {
        for default in TABLE {
            let key = default.key.split(", ").next().unwrap_or_default();
            let known = tables().iter().any(|t| {
                let own = key.strip_prefix(t.path).and_then(|k| k.strip_prefix('.'));
                own.is_some_and(|own| t.keys.iter().any(|k| k.name == own && !k.required))
            });
            assert!(known, "{}", default.key);
        }
    }

    #[test]
    fn each_is_found_by_its_key() {
        assert_eq!(find("tanks.loads").map(|d| d.value), Some("1"));
        assert_eq!(find("tanks.colour"), None);
    }
}

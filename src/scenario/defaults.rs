//! Everything that a scenario may leave out, as it would be written, and where it comes from. Reading takes its values
//! from this table and from nowhere else, so that what `check --defaults` prints is what is used.

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
const NEUTRAL: &str = "nothing is assumed";
const TWO_SUPPLIERS: &str =
    "supplier data sheets (95-98 °C; 90-95 °C and never under 90 °C); an encyclopaedia entry has 88-99 °C";
const LOADING: &str = "assumption, from a barrel line in a handbook chapter on phosphate coatings (ASM Handbook vol. 5, attribution from memory)";

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
    of("steps.at once", "no", NEUTRAL),
    of("steps.at a break", "finish first", CUSTOM),
    of("orders.count", "1", NEUTRAL),
    of("orders.arrives", "at opening", OURS),
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
    of("rules.stop, after the last closing", "12 h", OURS),
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
            &keys::TANKS,
            &keys::TANK_NOW,
            &keys::WALL,
            &keys::LID,
            &keys::HEATER,
            &keys::STATIONS,
            &keys::MATERIALS,
            &keys::PARTS,
            &keys::STEPS,
            &keys::ORDERS,
            &keys::ARRIVES,
            &keys::RULES,
            &keys::FILL,
            &keys::HEAT,
            &keys::TOP_UP,
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

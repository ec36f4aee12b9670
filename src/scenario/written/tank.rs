//! Tanks as written.

use crate::defaults::{CUSTOM, NEUTRAL, OURS};
use crate::fields::Fields;
use crate::measure::{self, Layer, Vessel};
use crate::node::Value;
use crate::reader::{AS_AIR, DIFFERENCE, NAME, SHARE, count, factor, positive, quantity};
use crate::thing::{Kind, Reader, Thing, or_word, thing, words};
use tankday_base::shop::{HeaterKind, Inside, WallMaterial};
use tankday_base::units::{HeatTransfer, Mass, Power, Share, TempDiff, Temperature, Volume};

const INSIDE: Reader<Inside> = Reader::new(
    Kind::Pattern(r"^\s*(round\s+)?[\d.]+.*[x×].*\d.*$"),
    measure::inside,
);

thing! {
    /// A tank.
    Tank "tanks", "a tank" {
        must "name" name: String = NAME, "what it is called, such as black tank";
        must "bath" bath: String = NAME, "the bath in it, by its name";
        must "inside" inside: Inside = INSIDE,
            "inside measures: 35 cm x 25 cm x 30 cm (length, width, height), or round 20 cm x 18 cm (diameter, height)";
        must "fill" fill: Volume = positive(), "volume when full to its mark, such as 20 L";
        must thing "heater" heater: Heater, "its heater", after "lid";
        may thing "now" now: TankNow, "how it stands at the start";
        may thing "wall" wall: Wall, "its walls";
        or own "lid" lid: Option<Lid> = LID => |f| Lid::of(f),
            "what covers it: none, loose or fitted", {"loose": OURS};
        /// None inside stands for a basket that nobody measured.
        or "basket" basket: Option<Volume> = or_word!("any", positive::<Volume>()),
            "inside of its basket, such as 6 L; `any` where nobody cares", {"any": NEUTRAL};
        or "loads" loads: u32 = count::<1, 100>(), "loads that may be in at once", {"1": OURS};
        or "draught" draught: f64 = factor::<1, 30>(),
            "factor on evaporation, 0.7 to 1.5 (2 beside a fan)",
            {"1": "still air, no fan: with the exhaust that a hot acid bath needs write 1.2 to 1.5, beside a fan 2 (a fan can double the loss: US DOE, Steam Tip Sheet 19; the rest is common practice, no source). Your own: water topped up in a day by what is worked out here"};
    }
}

thing! {
    /// How a tank stands at the start.
    TankNow "tanks.now", "the start of a tank" {
        /// None inside stands for the room's temperature.
        or "temperature" temperature: Option<Temperature> = AS_AIR,
            "temperature, such as 20 °C", {"as the air": NEUTRAL};
        /// None inside stands for full.
        or "volume" volume: Option<Volume> = or_word!("full", positive::<Volume>()),
            "volume, such as 19 L", {"full": NEUTRAL};
    }
}

pub(crate) const FACE: Reader<WallMaterial> = words!(
    "stainless" => WallMaterial::Stainless,
    "dull" => WallMaterial::Dull,
);
const LAYER: Reader<Layer> = Reader::new(
    Kind::Pattern(r"^\s*(none|[\d.]+\s*(mm|cm|m|in|inch|ft)(\s+of\s+[\d.]+\s*W/.*)?)\s*$"),
    measure::layer,
);
const VESSEL: Reader<Vessel> = Reader::new(
    Kind::Or(&[
        Kind::of::<Mass>(),
        Kind::Pattern(r"^\s*[\d.]+\s*(mm|cm|m|in|inch)\s+thick\s*$"),
    ]),
    measure::vessel,
);

thing! {
    /// Its walls.
    Wall "tanks.wall", "a wall" {
        or "material" material: WallMaterial = FACE,
            "`stainless` if bright, `dull` if painted, enamelled, oxidised or plastic",
            {"stainless": "a supplier's product page: 316 stainless for tank and coils"};
        or "insulation" insulation: Layer = LAYER,
            "none, or its thickness, such as 25 mm, or 25 mm of 0.04 W/mK", {
            "none": NEUTRAL,
            "0.04 W/mK" for "conductivity": "mineral wool, common practice, no source",
        };
        or "vessel" vessel: Vessel = VESSEL,
            "mass of the empty tank, such as 6 kg, or how thick it is, such as 1 mm thick", {
            "1 mm thick": OURS,
            "7900 kg/m3" for "density": "stainless steel, from memory",
        };
        or "bottom" bottom: HeatTransfer = quantity(),
            "heat lost through the bottom, such as 2 W/m2K",
            {"0 W/m2K": "the tank stands on a dry board or on foam: assumption; on legs over open air write 4 to 8 W/m2K, the still air and the radiation under a hot metal face: common practice, no source"};
    }
}

/// Its lid.
#[derive(Debug)]
pub(crate) enum Lid {
    /// None.
    None,
    /// One of the usual lids, by the case of its leak.
    Usual(&'static str),
    /// One that is described.
    Own(OwnLid),
}

const USUAL_LID: Reader<Option<&str>> =
    words!("none" => None, "loose" => Some(""), "fitted" => Some("fitted"));
const LID: Kind = Kind::Or(&[USUAL_LID.kind, Kind::Thing(OwnLid::TABLE)]);

impl Lid {
    fn of(f: &mut Fields) -> Option<Self> {
        if let Some(Value::Map(_)) = f.node(&Tank::lid).map(|n| &n.value) {
            return f.thing(&Tank::lid).map(Self::Own);
        }
        let lid = f.value_or(&Tank::lid, "", USUAL_LID.read)?;
        Some(lid.value.map_or(Self::None, Self::Usual))
    }
}

thing! {
    /// A lid that is described.
    OwnLid "tanks.lid", "a lid" {
        or "leak" leak: Share = SHARE,
            "share of the opening that stays open, such as 5 %", {
            "5 %": CUSTOM,
            "2 %" for "fitted": CUSTOM,
        };
        or "material" material: WallMaterial = FACE, "its outer face", {"stainless": "as the wall"};
        or "insulation" insulation: Layer = LAYER, "none, or its thickness, such as 25 mm", {"none": NEUTRAL};
    }
}

const HEATER_KIND: Reader<HeaterKind> = words!(
    "immersion" => HeaterKind::Immersion,
    "hot plate" => HeaterKind::HotPlate,
    "induction" => HeaterKind::Induction,
);

thing! {
    /// Its heater.
    Heater "tanks.heater", "a heater" {
        must "power" power: Power = positive(), "rated power, such as 2.5 kW";
        or "kind" kind: HeaterKind = HEATER_KIND, "immersion, hot plate or induction", {"immersion": OURS};
        may "efficiency" efficiency: Share = SHARE,
            "share of the power that reaches the bath, such as 70 %", {
            "100 %" for "immersion": "all of it is in the bath",
            "70 %" for "hot plate": "abstract of Sweeney, Dols, Fortenbery and Sharp on cooking: about 74 % at best; 4 to 10 L pots: assumption",
            "80 %" for "induction": "same abstract: up to 90 % at best; for a day's use: assumption",
        };
        or "swing" swing: TempDiff = DIFFERENCE,
            "the thermostat's differential, top to bottom, such as 2 °C",
            {"2 °C": "electronic thermostat 1-2 K, common practice, no source; a bimetal one swings 6.7 K"};
        or "low-level cut-off" cut_off: Share = SHARE,
            "share of the fill below which the heater switches itself off, such as 70 %",
            {"70 %": "that there is one is common practice, no source; its level is an assumption; none where there are no hands"};
    }
}

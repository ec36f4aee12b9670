//! Usual ranges of baths and of the parts that go into them.

use super::{PRACTICE, Rows, of, plain, temperature, time, usual};
use tankday_base::units::{
    Area, AreaPerVolume, CoatWeight, Concentration, Length, Mass, MassPerVolume, Share, Strength, Volume,
    VolumePerArea,
};

const SHEETS: &str = "supplier data sheets have 88 to 98 °C; cast iron coats from 70 °C";
const STAYS: &str = "encyclopaedia entry on the process; supplier data sheets lie inside";
const LAW: &str = "derived from published windows of weight, time and temperature";

pub(super) const ROWS: &[Rows] = usual! {
    "baths" {
        "dwell": time, "5 min" to "45 min", STAYS, even_zero;
    }
    "baths.band" {
        "least": temperature, "60 °C" to "98 °C", SHEETS;
        "hold": temperature, "65 °C" to "99 °C", SHEETS;
        "most": temperature, "70 °C" to "105 °C", SHEETS;
    }
    "baths.room" {
        "area": of::<AreaPerVolume>, "0.05 dm2/L" to "4 dm2/L", "1 dm2/L is a good load; assumption, no source";
        "mass": of::<MassPerVolume>, "0.005 kg/L" to "0.5 kg/L", "0.25 kg/L is a good load; assumption, no source";
    }
    "baths.coat" {
        "target": of::<CoatWeight>, "3 g/m2" to "35 g/m2", "16 g/m2 is the least of type M in MIL-DTL-16232G, from memory";
        "time": time, "5 min" to "45 min", STAYS, even_zero;
    }
    "baths.now" {
        "total acid": of::<Strength>, "5 points" to "100 points", "supplier data sheets have 28 to 50 points";
        "free acid": of::<Strength>, "1 points" to "20 points", "a supplier's trade article has 5 to 9 points";
        "iron": of::<Concentration>, "0 g/L" to "10 g/L", "two supplier sheets have at most 4 g/L";
        "sludge": of::<Concentration>, "0 g/L" to "20 g/L", PRACTICE;
        "uses": plain, "0" to "10000", PRACTICE;
        "area treated": of::<AreaPerVolume>, "0 dm2/L" to "1000 dm2/L", PRACTICE;
    }
    "baths.growth" {
        "full": of::<CoatWeight>, "5 g/m2" to "40 g/m2", LAW;
        "time constant": time, "1 min" to "20 min", LAW;
        "faster by 10 °C": plain, "1" to "3.5", LAW;
    }
    "parts" {
        "dwell": time, "5 min" to "45 min", STAYS, even_zero;
        "mass": of::<Mass>, "0.01 g" to "50 kg", PRACTICE;
        "area": of::<Area>, "0.05 cm2" to "3 m2", PRACTICE;
        "bulk": of::<Volume>, "0.01 mL" to "100 L", PRACTICE;
        "size": of::<Length>, "0.1 mm" to "6 m", PRACTICE;
        "sheet": of::<Length>, "0.1 mm" to "3 m", PRACTICE;
        "bar": of::<Length>, "0.3 mm" to "6 m", PRACTICE;
        "tube": of::<Length>, "0.2 mm" to "6 m", PRACTICE;
        "ring": of::<Length>, "0.2 mm" to "1 m", PRACTICE;
        "spring": of::<Length>, "0.1 mm" to "1 m", PRACTICE;
        "coils": plain, "1" to "200", PRACTICE;
        "cast wall": of::<Length>, "1 mm" to "60 mm", PRACTICE;
        "drag out": of::<VolumePerArea>, "5 mL/m2" to "400 mL/m2",
            "16 mL/m2 drained well, 163 mL/m2 poorly: usually credited to US EPA handbooks, from memory";
        "thick": of::<Length>, "0.1 mm" to "100 mm", PRACTICE;
        "tempered": temperature, "100 °C" to "720 °C", "tempering of steel; from memory";
    }
    "baths.limits" {
        "strength": of::<Strength>, "5 points" to "100 points", "supplier data sheets have 28 to 50 points";
        "ratio": plain, "2.5" to "12", "a supplier's trade article has 5.5 to 7";
        "iron": of::<Concentration>, "0 g/L" to "10 g/L", "two supplier sheets have at most 4 g/L";
        "sludge": of::<Share>, "0 %" to "20 %", "a trade figure for zinc baths: filter or replace at 5 %";
        "level": of::<Share>, "50 %" to "120 %", "the work must be covered; common practice, no source", even_zero;
    }
    "baths.warn" {
        "strength": of::<Strength>, "5 points" to "100 points", "supplier data sheets have 28 to 50 points";
        "ratio": plain, "2.5" to "12", "a supplier's trade article has 5.5 to 7";
        "iron": of::<Concentration>, "0 g/L" to "10 g/L", "two supplier sheets have at most 4 g/L";
        "sludge": of::<Share>, "0 %" to "20 %", "a trade figure for zinc baths: filter or replace at 5 %";
        "level": of::<Share>, "50 %" to "120 %", "the work must be covered; common practice, no source", even_zero;
    }
};

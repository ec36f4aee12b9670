//! Usual ranges of what a shop is and has.

use super::{
    PRACTICE, Rows, by_hour, by_kwh, by_litre, difference, each, of, plain, temperature, time, usual,
};
use tankday_base::units::{
    Density, HeatCapacity, HeatTransfer, Length, Mass, Power, Pressure, Share, Strength, Volume, VolumeFlow,
};

pub(super) const ROWS: &[Rows] = usual! {
    "shop" {
        "hands": plain, "1" to "20", "for a small line; common practice, no source";
        "supply": of::<Power>, "1 kW" to "200 kW", PRACTICE;
    }
    "days" {
        "hands": plain, "1" to "20", "for a small line; common practice, no source";
    }
    "days.every.hours" {
        "hands": plain, "1" to "20", "for a small line; common practice, no source";
    }
    "shop.walks" {
        "takes": time, "1 s" to "10 min", PRACTICE;
    }
    "shop.air" {
        "temperature": temperature, "5 °C" to "40 °C", "of a room that people work in; common practice, no source";
        "humidity": of::<Share>, "15 %" to "95 %", PRACTICE, even_zero;
        "altitude": of::<Length>, "0 m" to "4000 m", PRACTICE;
        "pressure": of::<Pressure>, "60 kPa" to "108 kPa", "sea level to about 4000 m; from memory";
    }
    "shop.prices" {
        "power": by_kwh, "0.05 per kWh" to "1 per kWh", "mostly 0.1 to 0.6; left out it is not counted; common practice, no source",
            even_zero;
        "hands": by_hour, "5 per h" to "200 per h", "left out they are not counted; common practice, no source", even_zero;
        "distilled water": by_litre, "0.02 per L" to "5 per L", "left out it is not counted; common practice, no source",
            even_zero;
        "concentrate": by_litre, "1 per L" to "100 per L", "left out it is not counted; common practice, no source", even_zero;
        "rinse water": by_litre, "0.0005 per L" to "0.1 per L",
            "0.5 to 100 for a cubic metre; left out it is not counted; common practice, no source", even_zero;
        "filter medium": each, "0.05 per piece" to "100 per piece",
            "left out it is not counted; common practice, no source", even_zero;
        "waste": by_litre, "0.01 per L" to "20 per L", "left out it is not counted; common practice, no source", even_zero;
    }
    "shop.rates" {
        "margin": of::<Share>, "5 %" to "80 %", PRACTICE, even_zero;
        "tank hour": by_hour, "0.5 per h" to "200 per h", PRACTICE, even_zero;
    }
    "tanks" {
        "fill": of::<Volume>, "1 L" to "1000 L", "for a small line; common practice, no source";
        "basket": of::<Volume>, "0.1 L" to "1000 L", PRACTICE;
        "loads": plain, "1" to "12", PRACTICE;
        "draught": plain, "0.7" to "2", "1 in still air, 1.2 to 1.5 under an exhaust, 2 beside a fan; common practice, no source";
    }
    "tanks.wall" {
        "insulation": of::<Length>, "5 mm" to "200 mm", PRACTICE;
        "vessel": of::<Mass>, "0.2 kg" to "500 kg", PRACTICE;
        "vessel": of::<Length>, "0.4 mm" to "15 mm", PRACTICE;
        "bottom": of::<HeatTransfer>, "0 W/m2K" to "20 W/m2K", PRACTICE;
    }
    "tanks.lid" {
        "leak": of::<Share>, "1 %" to "40 %", "a lid must vent hydrogen; common practice, no source";
        "insulation": of::<Length>, "5 mm" to "200 mm", PRACTICE;
    }
    "tanks.heater" {
        "efficiency": of::<Share>, "40 %" to "100 %", PRACTICE;
        "swing": difference, "0.2 °C" to "10 °C", "electronic thermostat 1 to 2 °C, a bimetal one 6.7 °C; common practice, no source";
        "low-level cut-off": of::<Share>, "40 %" to "95 %", PRACTICE, even_zero;
    }
    "stations" {
        "loads": plain, "1" to "100", "a place that is never full is `unlimited`; common practice, no source";
        "together": plain, "1" to "100", PRACTICE;
        "fill": of::<Volume>, "1 L" to "1000 L", PRACTICE;
        "tubs": plain, "1" to "5", PRACTICE;
        "flow": of::<VolumeFlow>, "0.05 L/min" to "50 L/min", PRACTICE;
        "temperature": temperature, "5 °C" to "95 °C", PRACTICE;
    }
    "stations.renew" {
        "at": of::<Strength>, "0.1 points" to "10 points", PRACTICE;
        "at": of::<Share>, "0.2 %" to "30 %", PRACTICE;
        "after": plain, "1" to "1000", PRACTICE;
        "takes": time, "30 s" to "2 h", PRACTICE;
    }
    "materials" {
        "heat capacity": of::<HeatCapacity>, "300 J/kgK" to "1000 J/kgK", "metals; from memory";
        "density": of::<Density>, "1700 kg/m3" to "12000 kg/m3", "metals; from memory";
        "slower": plain, "0.3" to "5", PRACTICE;
        "heavier": plain, "0.3" to "3", PRACTICE;
        "tempered": temperature, "100 °C" to "720 °C", "tempering of steel; from memory";
    }
};

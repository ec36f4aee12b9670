//! Usual ranges of steps, orders and rules.

use super::{PRACTICE, Rows, of, plain, temperature, time, usual};
use tankday_base::units::{
    Area, CakeResistance, Concentration, Length, MediumResistance, Share, Strength, VolumeFlow, VolumePerArea,
};

const PAGE: &str = "a supplier's product page: 60 to 70 °C";

pub(super) const ROWS: &[Rows] = usual! {
    "steps" {
        "for": time, "2 s" to "200 h", PRACTICE;
        "each piece": time, "0.1 s" to "4 h", PRACTICE;
        "put in": time, "1 s" to "60 min", PRACTICE;
        "take out": time, "1 s" to "60 min", PRACTICE;
        "drip": time, "1 s" to "3 min", "nothing is gained beyond 40 s: Rinsing Manual, Appendix D";
        "at most": time, "5 s" to "60 days", PRACTICE;
        "within": time, "5 s" to "60 days", PRACTICE;
        "film": of::<VolumePerArea>, "1 mL/m2" to "400 mL/m2", PRACTICE;
        "heat": temperature, "10 °C" to "720 °C", PRACTICE;
        "fails": of::<Share>, "0 %" to "60 %", PRACTICE;
    }
    "orders" {
        "count": plain, "1" to "100000", PRACTICE;
        "due after": time, "10 min" to "400 days", PRACTICE;
    }
    "orders.arrives" {
        "every": time, "10 s" to "400 days", PRACTICE;
    }
    "rules.fill" {
        "wait at most": time, "1 min" to "8 h", PRACTICE;
    }
    "rules.top up" {
        "below": of::<Share>, "70 %" to "98 %", "the work must be covered; common practice, no source";
        "takes": time, "20 s" to "60 min", PRACTICE;
    }
    "rules.care.replenish" {
        "to": of::<Strength>, "5 points" to "100 points", "supplier data sheets have 28 to 50 points";
        "takes": time, "30 s" to "2 h", PRACTICE;
    }
    "rules.care.raise ratio" {
        "to": plain, "2.5" to "12", "a supplier's trade article has 5.5 to 7";
        "takes": time, "30 s" to "2 h", PRACTICE;
    }
    "rules.care.lower ratio" {
        "to": plain, "2.5" to "12", "a supplier's trade article has 5.5 to 7";
        "takes": time, "30 s" to "2 h", PRACTICE;
    }
    "rules.care.condition" {
        "to": of::<Concentration>, "0.1 g/L" to "4 g/L", "two supplier sheets have at most 4 g/L";
        "at": temperature, "40 °C" to "95 °C", PAGE;
        "for": time, "15 min" to "3 h", "a supplier's product page: 30 to 50 min";
        "takes": time, "30 s" to "2 h", PRACTICE;
    }
    "rules.care.filter" {
        "cool to": temperature, "20 °C" to "60 °C", PRACTICE;
        "settles": time, "10 min" to "72 h", "a jug clears in two to three hours; common practice, no source";
        "heel": of::<Share>, "5 %" to "50 %", "mostly 10 to 30 %; common practice, no source", even_zero;
        "lost": of::<Share>, "0 %" to "10 %", "1 to 3 %; assumption, no source";
        "pour": of::<VolumeFlow>, "0.2 L/min" to "60 L/min", PRACTICE;
        "area": of::<Area>, "0.5 dm2" to "200 dm2", PRACTICE;
        "head": of::<Length>, "1 cm" to "3 m", PRACTICE;
        "medium": of::<MediumResistance>, "2.4e7 1/m" to "1.3e9 1/m", "filter papers: Herzberg W., Papierprüfung";
        "cake": of::<CakeResistance>, "1e10 m/kg" to "1e13 m/kg",
            "calcium carbonate to metal hydroxides are 5e10 to 2e12; common practice, no source";
        "set up": time, "30 s" to "2 h", PRACTICE;
    }
    "rules.care.settle" {
        "cool to": temperature, "20 °C" to "60 °C", PRACTICE;
        "settles": time, "10 min" to "72 h", "a handbook chapter: 8 h idle and cool";
        "heel": of::<Share>, "1 %" to "50 %", "mostly 2 to 5 %; assumption, no source", even_zero;
        "pour": of::<VolumeFlow>, "0.2 L/min" to "60 L/min", PRACTICE;
    }
    "rules.care.renew half" {
        "cool to": temperature, "20 °C" to "60 °C", PRACTICE;
        "takes": time, "2 min" to "4 h", PRACTICE;
    }
    "rules.care.renew" {
        "cool to": temperature, "20 °C" to "60 °C", PRACTICE;
        "takes": time, "2 min" to "4 h", PRACTICE;
    }
    "rules.odds" {
        "base": of::<Share>, "0 %" to "40 %", PRACTICE;
        "overloaded": plain, "1" to "20", PRACTICE;
        "underfired": plain, "1" to "20", PRACTICE;
        "without iron": plain, "1" to "20", PRACTICE;
        "much iron": plain, "1" to "20", PRACTICE;
        "sludge": plain, "1" to "20", PRACTICE;
        "too hot": plain, "1" to "20", PRACTICE;
        "too short": plain, "1" to "20", PRACTICE;
        "too long": plain, "1" to "20", PRACTICE;
        "spent rinse": plain, "1" to "20", PRACTICE;
        "waited": plain, "1" to "20", PRACTICE;
        "hot rinse": plain, "1" to "20", PRACTICE;
        "dried on": plain, "1" to "20", PRACTICE;
        "greasy": plain, "1" to "20", PRACTICE;
        "pickled": plain, "1" to "20", PRACTICE;
        "holes down": plain, "1" to "20", PRACTICE;
        "crevices": plain, "1" to "20", PRACTICE;
    }
};

//! Heat and water.

use super::{Between, Exactly, Fixed, NOTHING, Unknown, constants};
use tankday_base::bath::HIGHEST;
use tankday_base::bath::air::{
    GAS_CONSTANT, GRAVITY, MOLAR_MASS_AIR, MOLAR_MASS_WATER, PRANDTL, STEFAN_BOLTZMANN,
};
use tankday_base::bath::surface::{ACTIVITY, WATER_EMISSIVITY};
use tankday_base::bath::wall::emissivity;
use tankday_base::shop::WallMaterial;

const FACE: &str = "a contact thermometer beside an infrared one";

pub(super) fn constants() -> Vec<Fixed> {
    [surfaces(), nature()].concat()
}

fn surfaces() -> Vec<Fixed> {
    constants! {
        "emissivity of the open bath": WATER_EMISSIVITY.in_percent(), "%", "of a black body";
            Between(90.0, 98.0); "common practice, no source; its range from memory"; FACE;
        "emissivity of a stainless wall": emissivity(WallMaterial::Stainless).in_percent(), "%", "of a black body";
            Between(10.0, 50.0); "common practice, no source; its range from memory"; FACE;
        "emissivity of a painted, oxidised or plastic wall": emissivity(WallMaterial::Dull).in_percent(), "%", "of a black body";
            Between(80.0, 98.0); "common practice, no source; its range from memory"; FACE;
        "water activity of the bath": ACTIVITY.in_percent(), "%", "of pure water"; Between(95.0, 100.0);
            "assumption: a thin solution; its range is an estimate";
            "weigh what the tank loses in an hour, hot and open";
        "no bath is simulated warmer than": HIGHEST.in_celsius(), "°C", "or its boiling point"; Unknown;
            "a limit of the model, which knows no boiling"; "boil water at your place";
    }
}

fn nature() -> Vec<Fixed> {
    constants! {
        "gas constant": GAS_CONSTANT, "J/mol K"; Exactly; "SI, 2019"; NOTHING;
        "Stefan-Boltzmann constant": STEFAN_BOLTZMANN * 1e8, "x 10^-8 W/m2 K4"; Exactly; "SI, 2019"; NOTHING;
        "gravity": GRAVITY, "m/s2"; Exactly; "standard gravity, CGPM 1901"; NOTHING;
        "molar mass of water": MOLAR_MASS_WATER * 1e3, "g/mol"; Exactly; "from memory"; NOTHING;
        "molar mass of air": MOLAR_MASS_AIR * 1e3, "g/mol"; Exactly; "dry air, from memory"; NOTHING;
        "Prandtl number of air": PRANDTL, ""; Between(0.69, 0.71); "no source was noted; its range from memory";
            NOTHING;
    }
}

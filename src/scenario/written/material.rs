//! Materials as written.

use crate::defaults::{NEUTRAL, OURS};
use crate::node::Spanned;
use crate::reader::{NAME, TEMPERATURE, TEXT, YES, factor, positive};
use crate::thing::thing;
use tankday_base::units::{Density, HeatCapacity, Temperature};

thing! {
    /// A material.
    Material "materials", "a material" {
        or "like" like: String = NAME,
            "a built-in material that it is like but for what follows", {"plain steel": OURS};
        may "coats" coats: bool = YES, "whether it takes the coating";
        or "because" because: String = TEXT,
            "why not, if it does not", {"the scenario says that it does not take the coating": NEUTRAL};
        may "trial" trial: String = TEXT,
            "why a trial piece goes in before a load, if nobody is sure that it takes the coating";
        may "heat capacity" heat_capacity: HeatCapacity = positive(), "mean heat capacity, such as 463 J/kgK";
        may "density" density: Density = positive(), "density, such as 7850 kg/m3";
        may "slower" slower: f64 = factor::<1, 100>(),
            "how many times longer its coating takes than on blasted plain steel";
        may "heavier" heavier: f64 = factor::<1, 100>(),
            "how many times heavier its full coating is than on blasted plain steel";
        may "hardened" hardened: bool = YES, "hardened above about HRC 39, or a spring: hydrogen matters";
        may "tempered" tempered: Temperature = TEMPERATURE,
            "its tempering temperature, such as 300 °C: stress relief must not exceed it";
    }
    plus {
        name: Spanned<String> = |f| Spanned::new(f.name.to_owned(), f.at);
    }
}

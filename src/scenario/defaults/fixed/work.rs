//! Loads, dripping, waiting, drying.

use super::{Between, Fixed, OURS, PRACTICE, Unknown, constants};
use tankday_base::bath::PACKED_BASKET;
use tankday_base::bath::dry::FLASH_ENDS;
use tankday_base::shop::{
    DRIPPED, DRIPS_UNTIL, HEAVY_LIFT, HEAVY_PIECE, HEAVY_SHARE, Rinse, SHORT_WAIT, STAYS,
};

pub(super) fn constants() -> Vec<Fixed> {
    constants! {
        "drag-out is stated for a drip of": DRIPPED.in_seconds(), "s"; Between(1.0, DRIPS_UNTIL.in_seconds());
            "a film that drains freely thins with the square root of time";
            "weigh a load before and after it drips";
        "dripping gains nothing beyond": DRIPS_UNTIL.in_seconds(), "s"; Between(30.0, 40.0);
            "weighed panels (Rinsing Manual, Appendix D)"; "the same, after 10, 20, 40 s";
        "a hot first rinse is one above": Rinse::HOTTEST.in_celsius(), "°C"; Between(20.0, 50.0);
            "a handbook chapter on phosphate coatings; a supplier's page asks for a hot rinse";
            "rinse trial pieces";
        "the heat of the work dries it down to": FLASH_ENDS.in_celsius(), "°C"; Between(35.0, 50.0);
            PRACTICE; "watch when it is dry, by a contact thermometer";
        "pieces in the middle of a packed basket follow": PACKED_BASKET, "times", "slower"; Between(1.0, 5.0);
            PRACTICE; "a thermometer in the basket";
        "hands stay by a load that may wait no longer than": SHORT_WAIT.in_minutes(), "min"; Unknown;
            PRACTICE; "time what you get done meanwhile";
        "after closing somebody sees to what cannot wait for": STAYS.in_minutes(), "min"; Unknown;
            OURS; "say what you would come back for";
        "a lift over a bath is for two, or for a hoist, from": HEAVY_LIFT.in_kilograms(), "kg";
            Between(5.0, 23.0); "23 kg near the body, 25/63 of it at arm's length: revised NIOSH lifting equation, from memory";
            "ask whoever lifts";
        "a piece on its wire is heavy from": HEAVY_PIECE.in_kilograms(), "kg"; Unknown;
            OURS; "weigh what you lower with both hands";
        "a load with a heavy piece is warned of from": HEAVY_SHARE.in_percent(), "%", "of the tank's room by mass";
            Unknown; OURS; "read the bath before and after such a load";
    }
}

//! Storage vessels as written.

use crate::defaults::OURS;
use crate::reader::{NAME, positive};
use crate::thing::{or_word, thing};
use tankday_base::units::Volume;

thing! {
    /// A storage vessel.
    Vessel "vessels", "a vessel" {
        must "name" name: String = NAME, "what it is called, such as storage jug";
        must "bath" bath: String = NAME, "the bath whose solution it keeps, by its name";
        must "holds" holds: Volume = positive(), "what each of its two containers holds, such as 25 L";
        /// None inside stands for one filling of its tanks.
        or "filtered" filtered: Option<Volume> = or_word!("as the tank", positive::<Volume>()),
            "filtered solution in it at the start, such as 20 L; `as the tank` for one filling",
            {"as the tank": OURS};
    }
}

//! What a quote is made of beside prices, as written.

use super::Given;
use crate::reader::{MONEY, PER_HOUR, RATE, SHARE};
use crate::thing::thing;
use tankday_base::shop::{Rate, Supplies};
use tankday_base::units::Share;

thing! {
    /// Rates.
    Rates "shop.rates", "a list of rates" {
        may "margin" margin: Share = SHARE, "share of a price that is not cost, such as 35 %";
        may "minimum" minimum: f64 = MONEY, "the least that an order costs, in the shop's currency, such as 25";
        may "tank hour" tank_hour: f64 = PER_HOUR,
            "overhead for each hour that a load is in a tank, such as 6 per h";
        may "degreaser" degreaser: Rate = RATE, "solvent or cleaner, such as 0.50 per load";
        may "acid" acid: Rate = RATE, "acid for pickling, such as 0.02 per dm2";
        may "blast media" blast_media: Rate = RATE, "grit, bead or shot, such as 2.40 per h";
        may "tumble media" tumble_media: Rate = RATE, "chips and compound of a barrel, such as 1.20 per h";
        may "rags" rags: Rate = RATE, "rags for wiping, such as 0.20 per load";
        may "sealer" sealer: Rate = RATE, "sealer, such as 0.01 per dm2";
        may "oil" oil: Rate = RATE, "oil that leaves on the pieces, such as 0.02 per dm2";
        may "oven" oven: Rate = RATE, "power of the oven in which work is dried, warmed or baked, such as 0.60 per h";
    }
}

impl Rates {
    /// What steps use up, each with its rate.
    pub(crate) fn supplies(&self) -> [(Supplies, &Given<Rate>); 8] {
        [
            (Supplies::Degreaser, &self.degreaser),
            (Supplies::Acid, &self.acid),
            (Supplies::BlastMedia, &self.blast_media),
            (Supplies::TumbleMedia, &self.tumble_media),
            (Supplies::Rags, &self.rags),
            (Supplies::Sealer, &self.sealer),
            (Supplies::Oil, &self.oil),
            (Supplies::Oven, &self.oven),
        ]
    }
}

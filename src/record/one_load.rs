//! What one load would do to one bath, without a day around it: found by the line, told by whoever is asked.

use tankday_base::bath::chemistry::mix::{Ingredients, MadeFrom};
use tankday_base::bath::chemistry::{Breach, Life, Readings};
use tankday_base::shop::{Lies, PartId, RouteId, StationId, Trimming};
use tankday_base::units::{
    Area, CoatWeight, Energy, Length, Mass, Share, Span, Temperature, Volume, VolumeFlow,
};

/// What a load brings, or a tank has room for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Takes {
    /// Surface.
    pub area: Area,
    /// Mass, without a basket.
    pub mass: Mass,
    /// Room in a basket; none where the tank has no basket that anybody measured.
    pub basket: Option<Volume>,
}

/// Pieces of one part in a load.
#[derive(Debug, Clone, PartialEq)]
pub struct Pieces {
    /// Which part.
    pub part: PartId,
    /// How many.
    pub count: u32,
    /// How one lies under the solution; none if it does not go under.
    pub lies: Option<Lies>,
    /// Why it stays out of any bath; none if it takes the coating.
    pub refused: Option<String>,
}

/// A look at a load in the bath.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Look {
    /// Since it went in.
    pub after: Span,
    /// The bath.
    pub temperature: Temperature,
    /// Coating of the surface that is furthest behind, as a share of what it is to reach.
    pub coat: Share,
    /// Gas that still rises, as a share of what rose at first at the same temperature, from the surface that gasses longest.
    pub gas: Share,
    /// Gas that rises, at 20 °C.
    pub rises: VolumeFlow,
}

/// How a coating ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ends {
    /// At the target, or after the time that the bath is given.
    Done,
    /// Below the target: the longest stay is over.
    OutOfTime,
    /// Below the target: this material never gets so heavy; it leaves when the gas has all but ceased.
    Full,
    /// Nothing worth the name has grown.
    Nothing,
}

/// How a load goes that goes in at one temperature.
#[derive(Debug, Clone, PartialEq)]
pub struct Course {
    /// The bath before.
    pub at: Temperature,
    /// The bath at its coldest with the load in it.
    pub lowest: Temperature,
    /// Until the bath is back where no load goes in below; none if it does not get there while the load is in.
    pub in_band: Option<Span>,
    /// Until it is as hot as before.
    pub recovered: Option<Span>,
    /// How long the load stays.
    pub stay: Span,
    /// Between which stays it is done, by what is believed of growth; none where a time is set.
    pub range: Option<(Span, Span)>,
    /// How the coating ends.
    pub ends: Ends,
    /// Coating of each kind of piece at the end, in their order.
    pub coated: Vec<CoatWeight>,
    /// Looks, a minute apart and once as it comes out.
    pub looks: Vec<Look>,
    /// Drawn from the mains while it is in.
    pub drawn: Energy,
    /// Evaporated while it is in.
    pub evaporated: Volume,
    /// Carried out on the pieces.
    pub dragged_out: Volume,
    /// What the bath's chemistry says; none where the bath does not wear.
    pub chemistry: Option<Gave>,
}

/// What a load takes from a bath and gives it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gave {
    /// Readings before.
    pub before: Readings,
    /// Readings after, the water made good.
    pub after: Readings,
    /// Metal dissolved from the pieces.
    pub metal: Mass,
    /// New sludge, dry.
    pub sludge: Mass,
    /// Hydrogen set free, at 20 °C.
    pub hydrogen: Volume,
    /// Concentrate that brings the total acid back.
    pub concentrate: Volume,
    /// The bath was too weak for it: what was left ran out.
    pub exhausted: bool,
}

/// The same load, put in when the bath is hot.
#[derive(Debug, Clone, PartialEq)]
pub struct Later {
    /// How long the bath takes to its holding temperature.
    pub waits: Span,
    /// Drawn from the mains until then.
    pub drawn: Energy,
    /// How it goes then.
    pub course: Course,
}

/// A part that does not go in with this load.
#[derive(Debug, Clone, PartialEq)]
pub struct Apart {
    /// Which.
    pub part: PartId,
    /// Why.
    pub why: String,
}

/// One load in one tank.
#[derive(Debug, Clone, PartialEq)]
pub struct OneLoad {
    /// The tank.
    pub tank: StationId,
    /// What is in the load.
    pub pieces: Vec<Pieces>,
    /// What it brings.
    pub takes: Takes,
    /// What the tank has room for.
    pub room: Takes,
    /// Free height above the bath with the load in it.
    pub headroom: Length,
    /// Limits that the bath passes as it is.
    pub breaches: Vec<Breach>,
    /// How it goes now.
    pub now: Course,
    /// How it goes when the bath is hot, where it is colder now.
    pub later: Option<Later>,
    /// How many such loads are left to each limit; none where the bath does not wear, or nothing grows.
    pub life: Option<Life>,
    /// Parts of the shop that do not go in with it.
    pub apart: Vec<Apart>,
    /// Parts in it that may not go in together.
    pub clashes: Vec<Clash>,
}

/// Two parts of a load that may not go in together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clash {
    /// One.
    pub one: PartId,
    /// The other.
    pub other: PartId,
    /// What forbids it.
    pub why: Forbids,
}

/// What forbids two parts in one load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Forbids {
    /// The shop's rule of what is combined.
    Rule(Ruled),
    /// The shortest and the longest dwell of each: no time lies in both.
    Dwells((Span, Span), (Span, Span)),
}

/// What a shop's rule of what is combined says against two parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ruled {
    /// Each lot is a load of its own.
    NothingTogether,
    /// Only pieces of one part go in together.
    OnePart,
    /// Only work of one route does, and these two have none in common; the usual route of each, none where none leads there.
    OneRoute(Option<RouteId>, Option<RouteId>),
}

impl Takes {
    /// What a load brings as shares of this room: area, mass, basket.
    #[must_use]
    pub fn shares(&self, load: &Self) -> [Option<Share>; 3] {
        let basket = self.basket.zip(load.basket);
        [
            Some(Share::fraction(load.area / self.area)),
            Some(Share::fraction(load.mass / self.mass)),
            basket.map(|(room, takes)| Share::fraction(takes / room)),
        ]
    }
}

impl OneLoad {
    /// Whether it fits by area, mass and basket; a hair of rounding is forgiven.
    #[must_use]
    pub fn fits(&self) -> bool {
        let shares = self.room.shares(&self.takes);
        shares.iter().flatten().all(|s| s.in_fraction() <= 1.0 + 1e-9)
    }

    /// Whether any of it does not go under the solution.
    #[must_use]
    pub fn sticks_out(&self) -> bool {
        self.pieces.iter().any(|p| p.lies.is_none())
    }

    /// Whether any of it must stay out of the bath.
    #[must_use]
    pub fn has_refused(&self) -> bool {
        self.pieces.iter().any(|p| p.refused.is_some())
    }
}

impl Course {
    /// When the gas is first down to a share; none while the load is in.
    #[must_use]
    pub fn gas_down_to(&self, share: Share) -> Option<&Look> {
        self.looks.iter().find(|l| l.gas <= share)
    }

    /// The look as it comes out.
    #[must_use]
    pub fn out(&self) -> Option<&Look> {
        self.looks.last()
    }
}

/// One thing that is put into a bath to set it right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PutIn {
    /// Distilled water, to the mark.
    Water(Volume),
    /// Steel wool, degreased; it sets so much hydrogen free, at 20 °C.
    Wool(Mass, Volume),
    /// Concentrate.
    Concentrate(Volume),
    /// What moves the free acid, as pure substance.
    Trim(Trimming, Mass),
}

/// How a bath is set right.
#[derive(Debug, Clone, PartialEq)]
pub struct SetRight {
    /// How it reads.
    pub before: Readings,
    /// What to put in, in this order; nothing where it is left alone.
    pub put_in: Vec<PutIn>,
    /// How it reads then.
    pub after: Readings,
    /// Limits that it passes as it reads.
    pub passes: Vec<Breach>,
    /// Limits that it still passes then: nothing that is put in mends them.
    pub still: Vec<Breach>,
}

/// A new bath, mixed in its tank.
#[derive(Debug, Clone, PartialEq)]
pub struct NewBath {
    /// Its tank.
    pub tank: StationId,
    /// What its manganese comes from.
    pub from: MadeFrom,
    /// What it takes and how it reads.
    pub takes: Ingredients,
    /// From the temperature of the room into its band; none where the heater is too weak for that.
    pub heats: Option<Span>,
    /// Until it is clear, cold and at rest.
    pub clears: Span,
    /// Free space over the bath.
    pub free: Volume,
    /// Free height over the bath.
    pub headroom: Length,
    /// Limits of the bath that it passes.
    pub passes: Vec<Breach>,
}

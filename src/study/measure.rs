//! What alternatives are measured by: one number of each kind for every replication.

use tankday_base::bath::chemistry::Watched;
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::{Moment, Span};
use tankday_record::{Figures, Record, TankHours, tank_hours};

/// Which way a figure is better.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Better {
    /// The lower the better.
    Lower,
    /// The higher the better.
    Higher,
    /// It explains others and is not judged.
    Neither,
}

macro_rules! measures {
    ($($(#[$doc:meta])* $name:ident $key:literal $words:literal $unit:literal $decimals:literal $better:ident $headline:literal,)+) => {
        /// A figure of one replication.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Measure { $($(#[$doc])* $name,)+ }

        impl Measure {
            /// All of them.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];
            /// How many there are.
            pub const COUNT: usize = Self::ALL.len();

            /// Its name in data; the unit is its ending.
            #[must_use]
            pub const fn key(self) -> &'static str { match self { $(Self::$name => $key),+ } }

            /// In words.
            #[must_use]
            pub const fn words(self) -> &'static str { match self { $(Self::$name => $words),+ } }

            /// Its unit in print; empty for a plain count.
            #[must_use]
            pub const fn unit(self) -> &'static str { match self { $(Self::$name => $unit),+ } }

            /// Decimals in print.
            #[must_use]
            pub const fn decimals(self) -> usize { match self { $(Self::$name => $decimals),+ } }

            /// Which way it is better.
            #[must_use]
            pub const fn better(self) -> Better { match self { $(Self::$name => Better::$better),+ } }

            /// Whether a wanted precision is judged by it.
            #[must_use]
            pub const fn is_headline(self) -> bool { match self { $(Self::$name => $headline),+ } }
        }
    };
}

measures! {
    /// From the first opening to the end of the last work under hands.
    Finish "finish_min" "end of the work" "min" 0 Lower true,
    /// Promised orders that are late or not ready at all, sound or not: see [`Measure::Bare`].
    LateOrders "late_orders" "orders late" "" 2 Lower false,
    /// Orders that are not sound: some of it lay bare, stripped or behind a bath, longer than it may, or took no coat.
    Bare "bare_orders" "orders bare or uncoated" "" 2 Lower false,
    /// Mean lateness of the promised orders, zero for those on time; what is not ready counts up to the last closing.
    Lateness "late_min" "lateness of an order" "min" 1 Lower true,
    /// Orders that are not ready at the end.
    Unready "unready_orders" "orders left over" "" 2 Lower false,
    /// From arrival to ready, mean over the orders that are ready.
    InShop "in_shop_min" "time of an order in the shop" "min" 0 Lower true,
    /// Pieces ready for each day that the shop opens.
    Pieces "pieces_per_day" "pieces a day" "" 0 Higher false,
    /// Surface coated for each day.
    Area "area_m2_per_day" "coated a day" "m2" 3 Higher true,
    /// Hands at work for each day, all pairs together.
    Hands "hands_min_per_day" "hands at work a day" "min" 0 Lower false,
    /// Power for each day.
    Power "energy_kwh_per_day" "power a day" "kWh" 2 Lower false,
    /// Water topped up for each day.
    Water "water_l_per_day" "water a day" "L" 2 Lower false,
    /// All that is paid for, for each day: power, water, chemicals, hands.
    Cost "cost_per_day" "cost a day" "" 2 Lower false,
    /// What is left undone in the baths, at what doing it would cost, for each day; below nothing where they are better at
    /// the end than at the start. See [`tankday_record::LeftBehind`].
    LeftBehind "left_behind_per_day" "left behind a day" "" 2 Lower false,
    /// All that is paid for and what is left behind, for each square metre coated.
    CostPerArea "cost_per_m2" "cost a m2" "" 2 Lower true,
    /// Surface treated for each litre of the hardest-used bath.
    BathUsed "area_dm2_per_l" "bath life used" "dm2/L" 2 Lower false,
    /// Surface that the shop still coats before the bath that is nearest to it is too weak, all tanks of a bath together;
    /// see [`tankday_base::bath::chemistry::Life`].
    LeftStrength "left_total_acid_m2" "left before too weak" "m2" 2 Neither false,
    /// The same before total by free acid is off.
    LeftRatio "left_acid_ratio_m2" "left before ratio off" "m2" 2 Neither false,
    /// The same before there is too much iron.
    LeftIron "left_iron_m2" "left before iron high" "m2" 2 Neither false,
    /// The same before there is too much sludge.
    LeftSludge "left_sludge_m2" "left before sludge high" "m2" 2 Neither false,
    /// Time for each day in which the tanks coat, all together.
    Coating "coating_min_per_day" "coating" "min" 0 Neither false,
    /// Time lost to heat-up for each day, all tanks together.
    LostHeatUp "lost_heat_up_min_per_day" "lost to heat-up" "min" 0 Neither false,
    /// Time lost while the bath came back to temperature.
    LostRecovery "lost_recovery_min_per_day" "lost to recovery" "min" 0 Neither false,
    /// Time lost to care: filter stops, top-ups.
    LostCare "lost_care_min_per_day" "lost to care of the bath" "min" 0 Neither false,
    /// Time lost while a load waited for hands.
    LostHands "lost_hands_min_per_day" "lost waiting for hands" "min" 0 Neither false,
    /// Time lost while the work was still at the steps before, waiting for its places there.
    LostPlaces "lost_places_min_per_day" "lost to the steps before" "min" 0 Neither false,
}

impl Measure {
    /// What tanks that coat lose time to.
    pub const LOST: [Self; 5] = [
        Self::LostHeatUp,
        Self::LostRecovery,
        Self::LostCare,
        Self::LostHands,
        Self::LostPlaces,
    ];

    /// What is left of the baths, limit by limit.
    pub const LEFT: [(Self, Watched); 4] = [
        (Self::LeftStrength, Watched::Strength),
        (Self::LeftRatio, Watched::Ratio),
        (Self::LeftIron, Watched::Iron),
        (Self::LeftSludge, Watched::Sludge),
    ];

    /// The one of this key.
    #[must_use]
    pub fn of_key(key: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|m| m.key() == key)
    }

    const fn place(self) -> usize {
        self as usize
    }
}

/// All figures of one replication; one that it does not have is not a number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading(pub [f64; Measure::COUNT]);

impl Reading {
    /// A reading in which nothing is told.
    pub const EMPTY: Self = Self([f64::NAN; Measure::COUNT]);

    /// One figure.
    #[must_use]
    pub fn get(&self, measure: Measure) -> f64 {
        self.0.get(measure.place()).copied().unwrap_or(f64::NAN)
    }

    /// Keeps nine decimals, so that sums of the same things in another order are the same.
    fn set(&mut self, measure: Measure, value: f64) {
        const KEPT: f64 = 1e9;
        if let Some(place) = self.0.get_mut(measure.place()) {
            *place = (value * KEPT).round() / KEPT;
        }
    }

    /// Of a record.
    #[must_use]
    pub fn of(shop: &Shop, record: &Record) -> Self {
        let figures = Figures::of(shop, record);
        let mut reading = Self::EMPTY;
        reading.orders(shop, record, &figures);
        reading.work(shop, &figures);
        reading.hours(shop, record);
        reading
    }

    fn orders(&mut self, shop: &Shop, record: &Record, figures: &Figures) {
        let last = record.entries.last().map_or(Moment::ZERO, |e| e.at);
        let end = if figures.closing == Moment::NEVER {
            last
        } else {
            last.max(figures.closing)
        };
        let mut late = (0.0, 0.0, 0.0);
        let mut pieces = 0.0;
        let mut unready = 0.0;
        for order in &figures.orders {
            match order.ready {
                Some(_) => pieces += f64::from(order.pieces),
                None => unready += 1.0,
            }
            if let Some(due) = order.due {
                let over = (order.ready.unwrap_or(end.max(due)) - due).max(Span::ZERO);
                late.0 += 1.0;
                late.1 += f64::from(u8::from(!order.in_time()));
                late.2 += over.in_minutes();
            }
        }
        if late.0 > 0.0 {
            self.set(Measure::LateOrders, late.1);
            self.set(Measure::Lateness, late.2 / late.0);
        }
        self.set(Measure::Unready, unready);
        let bare = figures.orders.iter().filter(|o| !o.is_sound()).count();
        self.set(Measure::Bare, bare as f64);
        self.set(Measure::Pieces, pieces / days(shop));
        if let Some(mean) = figures.in_system.mean() {
            self.set(Measure::InShop, mean.in_minutes());
        }
    }

    fn work(&mut self, shop: &Shop, figures: &Figures) {
        let days = days(shop);
        let area: f64 = figures.loads.iter().map(|l| l.area.in_square_metres()).sum();
        if let Some(finish) = figures.finish {
            self.set(Measure::Finish, (finish - figures.opening).in_minutes());
        }
        let power: f64 = figures.tanks.iter().map(|t| t.energy.in_kilowatt_hours()).sum();
        let water: f64 = figures.tanks.iter().map(|t| t.top_up.in_litres()).sum();
        let (cost, with_left) = (figures.cost.total(), figures.cost.with_left());
        self.set(Measure::Area, area / days);
        self.set(Measure::Power, power / days);
        self.set(Measure::Water, water / days);
        self.set(Measure::Hands, hands_minutes(shop, figures) / days);
        if cost > 0.0 {
            self.set(Measure::Cost, cost / days);
            self.set(Measure::LeftBehind, figures.cost.left.total() / days);
            if area > 0.0 {
                self.set(Measure::CostPerArea, with_left / area);
            }
        }
        let used = shop.tanks().map(|(id, _, tank)| {
            let litres = tank.fill.in_litres();
            if litres > 0.0 {
                area_of(figures, id) * 100.0 / litres
            } else {
                0.0
            }
        });
        self.set(Measure::BathUsed, used.fold(0.0, f64::max));
        for (measure, what) in Measure::LEFT {
            if let Some(left) = left(figures, what) {
                self.set(measure, left);
            }
        }
    }

    /// Time of the tanks that coat anything: coating, and lost to each cause.
    fn hours(&mut self, shop: &Shop, record: &Record) {
        type Part = fn(&TankHours) -> Span;
        let parts: [(Measure, Part); 6] = [
            (Measure::Coating, |h| h.coating),
            (Measure::LostHeatUp, |h| h.heat_up),
            (Measure::LostRecovery, |h| h.recovery),
            (Measure::LostCare, |h| h.care),
            (Measure::LostHands, |h| h.hands),
            (Measure::LostPlaces, |h| h.upstream),
        ];
        let mut all = tank_hours(shop, record);
        all.retain(|(_, hours)| hours.coating > Span::ZERO);
        for (measure, part) in parts {
            let sum: f64 = all.iter().map(|(_, hours)| part(hours).in_minutes()).sum();
            self.set(measure, sum / days(shop));
        }
    }
}

/// Days that the shop opens.
fn days(shop: &Shop) -> f64 {
    shop.calendar.days.len().max(1) as f64
}

/// Surface coated in one tank, in m2.
fn area_of(figures: &Figures, tank: StationId) -> f64 {
    let loads = figures.loads.iter().filter(|l| l.tank == tank);
    loads.map(|l| l.area.in_square_metres()).sum()
}

/// Surface, in m2, that the shop still coats until the first of its baths is at a limit in all its tanks: work that finds
/// one of two tanks at its limit goes into the other. None where no work leads there.
fn left(figures: &Figures, what: Watched) -> Option<f64> {
    let coated: f64 = figures.baths.iter().map(|b| b.coated.in_square_metres()).sum();
    let mut baths: Vec<_> = figures.baths.iter().map(|b| b.bath).collect();
    baths.sort_unstable();
    baths.dedup();
    let one = |bath| {
        let tanks = figures.baths.iter().filter(|b| b.bath == bath);
        let (mut area, mut own) = (0.0, 0.0);
        for tank in tanks {
            let life = tank.life.as_ref().or(tank.spare.as_ref());
            let Some(life) = life else { continue };
            area += life.to(what)?.area.in_square_metres();
            own += tank.coated.in_square_metres();
        }
        (own > 0.0).then(|| area * coated / own)
    };
    baths.into_iter().filter_map(one).reduce(f64::min)
}

/// Hands at work, all pairs together.
fn hands_minutes(shop: &Shop, figures: &Figures) -> f64 {
    let hours = tankday_record::hours_open(shop, figures.closing).in_minutes();
    figures
        .hands
        .iter()
        .map(|share| share.in_fraction() * hours)
        .sum()
}

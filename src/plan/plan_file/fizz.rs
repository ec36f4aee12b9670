//! What was seen of the gas of loads that came out, and what it says of how fast a bath coats.
//!
//! Gas fades as the surface is covered: after a conversion c the share exp(-c / slower) of it is left, which is how the
//! model tells when a coating is done. A load that had all but stopped although the model leaves it gas says that the bath
//! coats faster than its figures; one that still fizzed although it should have stopped says that it coats more slowly. The
//! bath's time constant is then moved as little as what was seen asks for, within what is believed of such baths.
//!
//! # Known and left
//!
//! - What was seen of a load moves one constant of its bath, the time constant, for all tanks with that recipe
//!   (`plan_file/fizz.rs`); the page of the day sheet has no field for it. The plan of the rest, run by itself, does
//!   the steps of the past as early as it can and knows no late orders and no readings.

use tankday_base::print::number;
use tankday_base::shop::{BathId, Shop};
use tankday_base::units::Span;
use tankday_line::{Line, Plan};
use tankday_record::{ALL_BUT_STOPPED, Figures, Record, TankLoad};
use tankday_scenario::{NotedLoad, Notes, Seen};

/// A bath that coats otherwise than its figures say, or as they say.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Pace {
    bath: BathId,
    /// How many times faster it coats than the shop says.
    faster: f64,
    /// Whether what was seen asks for more than is believed of such baths.
    beyond: bool,
    /// Whether loads say opposite things.
    torn: bool,
    /// The loads by which it is known.
    loads: Vec<String>,
}

impl Pace {
    /// Puts it into a shop.
    pub(super) fn adopt(&self, shop: &mut Shop) {
        if let Some(bath) = shop.baths.get_mut(self.bath.index()) {
            bath.growth.tau95 = bath.growth.tau95.times(1.0 / self.faster);
        }
    }

    /// What follows from what was seen.
    pub(super) fn words(&self, shop: &Shop) -> String {
        let name = shop.baths.get(self.bath.index()).map_or("", |b| b.name.as_str());
        let by = self.loads.join(", ");
        if self.torn {
            return format!("{name}: what was seen of {by} does not go together, so nothing follows from it");
        }
        let percent = number((self.faster - 1.0).abs() * 100.0, 0);
        if percent == "0" {
            return format!("{name}: coats as its figures say, by what was seen of {by}");
        }
        let way = if self.faster > 1.0 {
            "faster"
        } else {
            "more slowly"
        };
        let beyond = if self.beyond {
            "; what was seen asks for more than is known of such baths: check its readings"
        } else {
            ""
        };
        format!(
            "{name}: coats {percent} % {way} than its figures say, by what was seen of {by}; the rest is planned so{beyond}"
        )
    }
}

/// What was seen, bath by bath; nothing of baths whose dwell is a set time, since no weight is asked of them.
pub(super) fn paces(shop: &Shop, line: &Line<'_>, notes: &Notes, settled: &Plan) -> Vec<Pace> {
    if notes.loads.iter().all(|l| l.seen.is_none()) {
        return Vec::new();
    }
    let mut record = Record::default();
    line.follow(settled, None, &mut record);
    let figures = Figures::of(shop, &record);
    let baths = (0..shop.baths.len() as u32).map(BathId);
    let seen_in = |bath: BathId| {
        let seen: Vec<(&NotedLoad, Seen, f64)> = notes
            .loads
            .iter()
            .filter_map(|load| {
                let stay = stay(shop, &figures, load).filter(|s| bath_of(shop, s) == Some(bath))?;
                Some((load, load.seen?.value, stay.range?.fizz.in_fraction()))
            })
            .collect();
        (!seen.is_empty()).then(|| pace(shop, bath, &seen))
    };
    baths.filter_map(seen_in).collect()
}

/// The stay of a noted load in the record of what is settled: that at its tank which began nearest to its time.
fn stay<'f>(shop: &Shop, figures: &'f Figures, load: &NotedLoad) -> Option<&'f TankLoad> {
    let here = |l: &&TankLoad| {
        let station = shop.stations.get(l.tank.index());
        station.is_some_and(|s| s.name == load.tank.value) && l.range.is_some()
    };
    let off = |l: &&TankLoad| (l.begins - load.into.value).in_micros().abs();
    figures.loads.iter().filter(here).min_by_key(off)
}

fn bath_of(shop: &Shop, stay: &TankLoad) -> Option<BathId> {
    Some(shop.stations.get(stay.tank.index())?.tank.as_ref()?.bath)
}

fn pace(shop: &Shop, bath: BathId, seen: &[(&NotedLoad, Seen, f64)]) -> Pace {
    // A bath that is so many times faster has exactly so little gas left as counts for all but stopped.
    let needs = |gas: f64| libm::log(ALL_BUT_STOPPED.in_fraction()) / libm::log(gas.clamp(1e-9, 1.0 - 1e-9));
    let (mut least, mut most) = (0.0_f64, f64::INFINITY);
    for (_, what, gas) in seen {
        match what {
            Seen::Stopped => least = least.max(needs(*gas)),
            Seen::StillFizzing => most = most.min(needs(*gas)),
        }
    }
    let torn = least > most;
    let asked = if torn { 1.0 } else { 1.0_f64.clamp(least, most) };
    let faster = believed(shop, bath, asked);
    Pace {
        bath,
        faster,
        beyond: (asked - faster).abs() > 0.005,
        torn,
        loads: seen.iter().map(|(l, ..)| l.id.value.clone()).collect(),
    }
}

/// A pace within what is believed of a bath's time constant; a shop that has measured its own is believed.
fn believed(shop: &Shop, bath: BathId, faster: f64) -> f64 {
    let Some(recipe) = shop.baths.get(bath.index()) else {
        return 1.0;
    };
    let [quick, slow] = recipe.growth.believed(recipe.band.hold);
    let times = |tau: Span| recipe.growth.tau95.in_seconds() / tau.in_seconds();
    faster.clamp(times(slow.tau95), times(quick.tau95))
}

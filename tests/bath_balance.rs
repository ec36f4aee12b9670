//! Whatever is done to a bath, heat and water add up, and its temperature stays where it can be.

use crate::bath_tanks::{geometries, still_air, tank_of};
use crate::kept_cases::keeping;
use proptest::prelude::*;
use tankday::bath::{Bath, Growth, Heater, Heating, Lid, Load, SolidHeat, TankHeat};
use tankday::units::{HeatCapacity, Length, Mass, Quantity, Span, Temperature, Volume};

#[derive(Debug, Clone)]
enum Act {
    Wait(f64),
    Keep(f64),
    Off,
    Lid(bool),
    Load(f64, f64),
    Unload,
    TopUp(f64, f64),
    Remove(f64),
}

fn acts() -> impl Strategy<Value = Vec<Act>> {
    let act = prop_oneof![
        4 => (0.0..50_000.0f64).prop_map(Act::Wait),
        2 => (25.0..120.0f64).prop_map(Act::Keep),
        1 => Just(Act::Off),
        1 => any::<bool>().prop_map(Act::Lid),
        2 => (0.01..1.0f64, 5.0..95.0f64).prop_map(|(share, t)| Act::Load(share, t)),
        1 => Just(Act::Unload),
        1 => (0.0..0.3f64, 5.0..60.0f64).prop_map(|(share, t)| Act::TopUp(share, t)),
        1 => (0.0..0.3f64).prop_map(Act::Remove),
    ];
    prop::collection::vec(act, 1..25)
}

struct World {
    heat: TankHeat,
    bath: Bath,
    fill: Volume,
    inside: Vec<Load>,
}

impl World {
    fn new(which: usize, air: f64, humidity: f64, pressure: f64) -> Self {
        let all = geometries();
        let tank = tank_of(&all[which % all.len()]);
        let mut air = still_air(air, humidity);
        air.pressure = tankday::bath::air::pressure_at(Length::metres(pressure));
        let heat = TankHeat::new(&tank, &air);
        let mut bath = Bath::new(&heat, tank.fill, air.temperature);
        bath.set_growth(Some(&Growth::DEFAULT));
        Self {
            heat,
            bath,
            fill: tank.fill,
            inside: Vec::new(),
        }
    }

    fn act(&mut self, act: &Act) {
        let Self {
            heat,
            bath,
            fill,
            inside,
        } = self;
        let c = Temperature::celsius;
        match *act {
            Act::Wait(seconds) => bath.advance(heat, Span::seconds(seconds)),
            Act::Keep(t) => bath.switch(Heater::Keep(c(t))),
            Act::Off => bath.switch(Heater::Off),
            Act::Lid(on) => bath.set_lid(if on { Lid::On } else { Lid::Off }),
            Act::Load(share, t) => {
                let solid = SolidHeat::constant(HeatCapacity::joules_per_kilogram_kelvin(490.0));
                let heat = if share > 0.5 { SolidHeat::STEEL } else { solid };
                let load = Load {
                    mass: Mass::kilograms(share * fill.in_litres()),
                    heat,
                };
                bath.add_load(&load, c(t));
                inside.push(load);
            }
            Act::Unload => {
                if let Some(load) = inside.pop() {
                    bath.remove_load(&load);
                }
            }
            Act::TopUp(share, t) => bath.top_up(*fill * share, c(t)),
            Act::Remove(share) => {
                bath.remove(*fill * share);
            }
        }
    }
}

proptest! {
    #![proptest_config(keeping(128))]

    /// Heat and water close to rounding after every act; temperature stays between the coldest thing that came in
    /// and the limit; what only grows only grows.
    #[test]
    fn heat_and_water_add_up(which in 0usize..7, air in 5.0..35.0f64, humidity in 0.1..0.95f64, height in 0.0..3_000.0f64, acts in acts()) {
        let mut world = World::new(which, air, humidity, height);
        let mut turned = world.bath.ledger().heat_at_start.base().abs();
        let mut coldest = air;
        for act in &acts {
            let before = world.bath;
            world.act(act);
            if let Act::Load(_, t) | Act::TopUp(_, t) = act { coldest = coldest.min(*t); }
            let (now, old) = (world.bath.ledger(), before.ledger());
            turned += (now.heater - old.heater).base() + (now.lost - old.lost).base().abs() + now.load_heat_in.base() - old.load_heat_in.base();
            let off = world.bath.balance();
            prop_assert!(off.heat.base().abs() <= 1e-11 * turned, "heat {off:?} of {turned} after {act:?}");
            prop_assert!(off.water.base().abs() <= 1e-11 * now.water_at_start.base(), "water {off:?}");
            let t = world.bath.temperature();
            prop_assert!(t <= world.heat.limit() && t.in_celsius() >= coldest - 1e-3, "{t:?} after {act:?}");
            prop_assert!(now.heater >= old.heater && now.evaporated >= old.evaporated);
            prop_assert!(world.bath.conversion() >= before.conversion() && world.bath.water() >= Mass::ZERO);
        }
    }

    /// A prediction is what then happens.
    #[test]
    fn predictions_come_true(which in 0usize..7, acts in acts(), share in 0.01..0.99f64) {
        let mut world = World::new(which, 20.0, 0.5, 0.0);
        acts.iter().for_each(|a| world.act(a));
        let World { heat, bath, fill: world_fill, .. } = world;
        let goal = match bath.heater() { Heater::Keep(set) => set, Heater::Off => Temperature::celsius(20.0) };
        let target = bath.temperature() + (goal - bath.temperature()) * share;
        if let Some(span) = bath.time_until_temperature(&heat, target) {
            let mut then = bath;
            then.advance(&heat, span);
            let off = (then.temperature() - target).in_kelvin().abs();
            prop_assert!(off < 0.02, "{off} K off after {span:?}");
        }
        let level = bath.volume() * (1.0 - 0.1 * share);
        if let Some(span) = bath.time_until_volume(&heat, level) {
            let mut then = bath;
            then.advance(&heat, span);
            let off = (then.volume() - level) / world_fill;
            prop_assert!(off.abs() < 1e-5, "{off} of a tank off after {span:?}");
        }
    }

    /// Hotter loses more; a lid saves.
    #[test]
    fn losses_rise_with_temperature(which in 0usize..7, air in 5.0..35.0f64, t in 36.0..97.0f64) {
        let World { heat, .. } = World::new(which, air, 0.5, 0.0);
        let at = |t: f64, lid| heat.leaving(Temperature::celsius(t), lid);
        for lid in [Lid::Off, Lid::On] {
            prop_assert!(at(t + 0.3, lid).heat > at(t, lid).heat);
            prop_assert!(at(t + 0.3, lid).evaporation > at(t, lid).evaporation);
        }
        prop_assert!(at(t, Lid::On).heat < at(t, Lid::Off).heat);
    }
}

/// A bath left alone for ever comes to rest in the room without end of work, dry or not.
#[test]
fn left_alone_for_ever() {
    for which in 0..7 {
        for set in [None, Some(60.0), Some(98.0)] {
            let mut world = World::new(which, 20.0, 0.5, 0.0);
            world.act(&set.map_or(Act::Off, Act::Keep));
            world.bath.advance(&world.heat, Span::FOREVER);
            let t = world.bath.temperature().in_celsius();
            assert!((t - 20.0).abs() < 0.1, "tank {which} told {set:?} ends at {t}");
            assert_eq!(world.bath.is_dry(&world.heat), set.is_some());
            assert_eq!(world.bath.heating(&world.heat), Heating::Idle);
        }
    }
}

/// A heater too weak for an open tank comes to an equilibrium below its set point and never holds.
#[test]
fn too_weak_a_heater() {
    let mut tank = tank_of(&geometries()[3]);
    tank.heater.power = tankday::units::Power::watts(600.0);
    let heat = TankHeat::new(&tank, &still_air(20.0, 0.5));
    let mut bath = Bath::new(&heat, tank.fill, Temperature::celsius(20.0));
    bath.switch(Heater::Keep(Temperature::celsius(93.0)));
    assert_eq!(
        bath.time_until_temperature(&heat, Temperature::celsius(93.0)),
        None
    );
    bath.advance(&heat, Span::hours(30.0));
    let leaving = heat.leaving(bath.temperature(), Lid::Off).heat.in_watts();
    assert!((leaving - 600.0).abs() < 0.1, "{leaving} W");
    assert_eq!((bath.heating(&heat), bath.cycle(&heat)), (Heating::Full, None));
}

//! What the bath costs: a table of losses, single calls, and a whole day of one tank.

#![allow(missing_docs)]

use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;
use tankday::bath::{Bath, Growth, Heater, Lid, Load, SolidHeat, Substrate, TankHeat};
use tankday::shop::{Air, BathId, HeaterKind, Inside, Insulation, LidKind, Tank, Wall, WallMaterial};
use tankday::units::{
    CoatWeight, Conductivity, HeatTransfer, Length, Mass, Power, Pressure, Share, Span, TempDiff,
    Temperature, Volume,
};

fn room() -> Air {
    Air {
        temperature: Temperature::celsius(18.0),
        humidity: Share::percent(55.0),
        pressure: Pressure::pascals(99_000.0),
        altitude: Length::metres(200.0),
    }
}

fn tank() -> Tank {
    let bare = Insulation {
        thickness: Length::ZERO,
        conductivity: Conductivity::watts_per_metre_kelvin(0.04),
    };
    Tank {
        bath: BathId(0),
        inside: Inside::Box {
            length: Length::millimetres(350.0),
            width: Length::millimetres(250.0),
            height: Length::millimetres(300.0),
        },
        fill: Volume::litres(20.0),
        volume: Volume::litres(20.0),
        temperature: Temperature::celsius(18.0),
        wall: Wall {
            material: WallMaterial::Stainless,
            insulation: Insulation {
                thickness: Length::millimetres(25.0),
                ..bare
            },
            vessel: Mass::kilograms(6.0),
            bottom_loss: HeatTransfer::watts_per_square_metre_kelvin(2.0),
        },
        lid: LidKind::Lid {
            leak: Share::percent(5.0),
            material: WallMaterial::Stainless,
            insulation: bare,
        },
        heater: tankday::shop::Heater {
            power: Power::kilowatts(2.5),
            kind: HeaterKind::Immersion,
            efficiency: Share::fraction(1.0),
            swing: TempDiff::kelvin(2.0),
            cut_off: Share::ZERO,
        },
        basket: Volume::ZERO,
        draught: 1.0,
    }
}

/// A heat-up, twenty loads with their chill, recovery and dwell by growth, top-ups, and the night after.
fn day(heat: &TankHeat, need: f64) -> Bath {
    let set = Temperature::celsius(93.0);
    let mut bath = Bath::new(heat, Volume::litres(20.0), Temperature::celsius(18.0));
    bath.set_growth(Some(&Growth::DEFAULT));
    bath.set_lid(Lid::On);
    bath.switch(Heater::Keep(set));
    let warm = bath.time_until_temperature(heat, set).unwrap_or(Span::ZERO);
    bath.advance(heat, warm);
    let load = Load {
        mass: Mass::kilograms(1.2),
        heat: SolidHeat::STEEL,
    };
    for i in 0..20 {
        bath.set_lid(Lid::Off);
        bath.add_load(&load, Temperature::celsius(18.0));
        bath.advance(heat, Span::seconds(30.0));
        bath.set_lid(Lid::On);
        black_box(bath.time_until_temperature(heat, set));
        let dwell = bath.time_until_conversion(heat, need).unwrap_or(Span::ZERO);
        bath.advance(heat, dwell);
        bath.set_lid(Lid::Off);
        bath.remove_load(&load);
        bath.remove(Volume::millilitres(20.0));
        bath.advance(heat, Span::seconds(60.0));
        if i % 5 == 4 {
            bath.top_up(Volume::litres(0.5), Temperature::celsius(18.0));
            let back = bath.time_until_temperature(heat, set).unwrap_or(Span::ZERO);
            bath.advance(heat, back);
        }
    }
    bath.switch(Heater::Off);
    bath.set_lid(Lid::On);
    bath.advance(heat, Span::hours(14.0));
    bath
}

fn whole(c: &mut Criterion) {
    let heat = TankHeat::new(&tank(), &room());
    let target = CoatWeight::grams_per_square_metre(14.0);
    let need = Growth::DEFAULT
        .conversion_for(target, Substrate::PLAIN)
        .unwrap_or(1.0);
    c.bench_function("bath/table of losses", |b| {
        b.iter(|| TankHeat::new(black_box(&tank()), &room()))
    });
    c.bench_function("bath/day of twenty loads", |b| {
        b.iter(|| day(black_box(&heat), need))
    });
}

fn single(c: &mut Criterion) {
    let heat = TankHeat::new(&tank(), &room());
    let set = Temperature::celsius(93.0);
    let at = |celsius: f64, heater: Heater| {
        let mut bath = Bath::new(&heat, Volume::litres(20.0), Temperature::celsius(celsius));
        bath.switch(heater);
        bath
    };
    c.bench_function("bath/look-up", |b| {
        b.iter(|| heat.leaving(black_box(Temperature::celsius(77.7)), Lid::Off));
    });
    for (name, bath, hours) in [
        ("bath/heat-up", at(18.0, Heater::Keep(set)), 2.0),
        ("bath/recovery", at(90.5, Heater::Keep(set)), 0.2),
        ("bath/holding", at(93.0, Heater::Keep(set)), 1.0),
        ("bath/night", at(93.0, Heater::Off), 14.0),
    ] {
        c.bench_function(name, |b| {
            b.iter(|| {
                let mut bath = black_box(bath);
                bath.advance(&heat, Span::hours(hours));
                bath
            });
        });
    }
    let warm = at(90.5, Heater::Keep(set));
    c.bench_function("bath/predict a temperature", |b| {
        b.iter(|| black_box(&warm).time_until_temperature(&heat, set));
    });
}

criterion_group!(benches, whole, single);
criterion_main!(benches);

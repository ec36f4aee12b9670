//! Tanks for the tests of heat and water: the seven geometries of `data/bath/trajectories.json`.

use serde_json::Value;
use tankday::shop::{Air, BathId, Heater, HeaterKind, Inside, Insulation, LidKind, Tank, Wall, WallMaterial};
use tankday::units::{
    Conductivity, HeatTransfer, Length, Mass, Power, Pressure, Share, TempDiff, Temperature, Volume,
};

pub(crate) fn geometries() -> Vec<Value> {
    let all: Value = serde_json::from_str(include_str!("data/bath/trajectories.json")).unwrap();
    all["geometries"].as_array().unwrap().clone()
}

pub(crate) fn geometry(short: &str) -> Value {
    let named = |g: &Value| g["id"].as_str().unwrap().starts_with(short);
    geometries().into_iter().find(named).unwrap()
}

pub(crate) fn number(v: &Value) -> f64 {
    v.as_f64().unwrap_or_else(|| panic!("{v} is no number"))
}

pub(crate) fn still_air(celsius: f64, humidity: f64) -> Air {
    Air {
        temperature: Temperature::celsius(celsius),
        humidity: Share::fraction(humidity),
        pressure: Pressure::pascals(101_325.0),
        altitude: Length::ZERO,
    }
}

pub(crate) fn air_of(g: &Value) -> Air {
    let i = &g["inputs"];
    Air {
        pressure: Pressure::pascals(number(&i["pressure_Pa"])),
        ..still_air(number(&i["air_t_C"]), number(&i["air_rh"]))
    }
}

fn insulation(i: &Value, thickness: &str) -> Insulation {
    Insulation {
        thickness: Length::metres(number(&i[thickness])),
        conductivity: Conductivity::watts_per_metre_kelvin(number(&i["ins_k_W_mK"])),
    }
}

fn material(emissivity: f64) -> WallMaterial {
    match emissivity {
        0.3 => WallMaterial::Stainless,
        0.9 => WallMaterial::Dull,
        other => panic!("no wall radiates {other}"),
    }
}

pub(crate) fn tank_of(g: &Value) -> Tank {
    let i = &g["inputs"];
    let metres = |key: &str| Length::metres(number(&i[key]));
    let height = Length::metres(0.5);
    let inside = match i["shape"].as_str().unwrap() {
        "cylinder" => Inside::Round {
            diameter: metres("diameter_m"),
            height,
        },
        _ => Inside::Box {
            length: metres("length_m"),
            width: metres("width_m"),
            height,
        },
    };
    let fill = Volume::cubic_metres(number(&i["volume_m3"]));
    Tank {
        bath: BathId(0),
        inside,
        fill,
        volume: fill,
        temperature: Temperature::celsius(number(&i["fill_t_C"])),
        wall: Wall {
            material: material(number(&i["wall_emissivity"])),
            insulation: insulation(i, "wall_ins_m"),
            vessel: Mass::kilograms(number(&i["vessel_mass_kg"])),
            bottom_loss: HeatTransfer::watts_per_square_metre_kelvin(number(&i["bottom_U_W_m2K"])),
        },
        lid: LidKind::Lid {
            leak: Share::fraction(number(&i["lid_leak_fraction"])),
            material: material(number(&i["lid_emissivity"])),
            insulation: insulation(i, "lid_ins_m"),
        },
        heater: Heater {
            power: Power::watts(number(&i["heater_W"])),
            kind: HeaterKind::Immersion,
            efficiency: Share::fraction(number(&i["heater_efficiency"])),
            swing: TempDiff::kelvin(2.0),
            cut_off: Share::ZERO,
        },
        basket: Volume::ZERO,
        draught: 1.0,
    }
}

/// Fails unless `got` lies within `share` of `want`.
#[track_caller]
pub(crate) fn near(got: f64, want: f64, share: f64, what: &str) {
    let off = (got - want).abs();
    assert!(
        off <= share * want.abs(),
        "{what}: {got}, expected {want} within {} %",
        share * 100.0
    );
}

//! Heat-up, hold, cool-down, cold loads and top-ups of seven tanks against frozen trajectories.
//!
//! Source: `data/bath/trajectories.json`, made by an implementation of its own of the same lumped balance,
//! integrated by LSODA at 1e-9 (numpy 2.4.6, scipy 1.17.1). The numbers T26 to T44 are those of the list of
//! checks that came with it; the tolerances too.

use crate::bath_tanks::{air_of, geometries, geometry, near, number, tank_of};
use serde_json::Value;
use tankday::bath::{Bath, Heater, Lid, Load, SolidHeat, TankHeat, water};
use tankday::units::{Energy, Mass, Power, Quantity, Span, Temperature};

fn ready(g: &Value) -> (TankHeat, Bath) {
    let tank = tank_of(g);
    let heat = TankHeat::new(&tank, &air_of(g));
    let bath = Bath::new(&heat, tank.fill, tank.temperature);
    (heat, bath)
}

/// A full bath at a temperature under a lid setting.
fn at(g: &Value, heat: &TankHeat, celsius: f64, lid: Lid) -> Bath {
    let mut bath = Bath::new(heat, tank_of(g).fill, Temperature::celsius(celsius));
    bath.set_lid(lid);
    bath
}

fn lid_of(v: &Value) -> Lid {
    if v["lid"].as_bool().unwrap() {
        Lid::On
    } else {
        Lid::Off
    }
}

fn start_of(g: &Value, heat: &TankHeat, run: &Value) -> Bath {
    let mut bath = at(g, heat, number(&run["from_C"]), lid_of(run));
    if number(&run["net_power_W"]) > 0.0 {
        bath.switch(Heater::Keep(Temperature::celsius(number(&run["to_C"]))));
    }
    bath
}

fn reached(g: &Value) -> Vec<Value> {
    let runs = g["runs"].as_array().unwrap();
    runs.iter()
        .filter(|r| r["reached"].as_bool().unwrap())
        .cloned()
        .collect()
}

/// T26 to T28, T40: predicted times of every listed temperature.
#[test]
fn every_crossing_is_predicted() {
    let mut checked = 0;
    for g in geometries() {
        let (heat, _) = ready(&g);
        for run in reached(&g) {
            let bath = start_of(&g, &heat, &run);
            let what = format!("{} {}", g["id"], run["name"]);
            let mut crossings: Vec<(f64, f64)> = run["time_s_at_T"]
                .as_object()
                .unwrap()
                .iter()
                .map(|(t, s)| (t.parse().unwrap(), number(s)))
                .collect();
            crossings.push((number(&run["to_C"]), number(&run["t_end_s"])));
            for (t, seconds) in crossings {
                let span = bath
                    .time_until_temperature(&heat, Temperature::celsius(t))
                    .unwrap();
                near(span.in_seconds(), seconds, 0.003, &format!("{what} at {t}"));
                checked += 1;
            }
        }
    }
    assert!(checked > 250, "only {checked} crossings");
}

/// T26 to T28, T40: temperature and water along every run, advanced from sample to sample.
#[test]
fn every_trajectory_is_followed() {
    for g in geometries() {
        let (heat, _) = ready(&g);
        for run in reached(&g) {
            let mut bath = start_of(&g, &heat, &run);
            let series = |key: &str| {
                run[key]
                    .as_array()
                    .unwrap()
                    .iter()
                    .map(number)
                    .collect::<Vec<_>>()
            };
            let (times, temperatures, waters) = (series("t_s"), series("T_C"), series("m_water_kg"));
            let mut before = 0.0;
            for ((t, celsius), kilograms) in times.iter().zip(&temperatures).zip(&waters) {
                bath.advance(&heat, Span::seconds(t - before));
                before = *t;
                let what = format!("{} {} after {t} s", g["id"], run["name"]);
                let off = (bath.temperature().in_celsius() - celsius).abs();
                assert!(off < 0.1, "{what}: {off} K off");
                near(bath.water().in_kilograms(), *kilograms, 0.001, &what);
            }
            let lost = bath.ledger().evaporated.in_kilograms();
            near(lost, number(&run["water_lost_kg"]), 0.02, "water lost");
        }
    }
}

/// A heater with a twentieth less than a tank loses at 90 °C never brings it there, one with a twentieth more does.
#[test]
fn what_the_heater_cannot_reach_is_not_reached() {
    for g in geometries() {
        let steady = g["steady"].as_array().unwrap();
        let open = steady.iter().find(|r| r["t_C"] == 90 && r["lid"] == false);
        let holds = number(&open.unwrap()["hold_power_W"]);
        let reached = |share: f64| {
            let mut tank = tank_of(&g);
            tank.heater.power = Power::watts(share * holds) / tank.heater.efficiency.in_fraction();
            let heat = TankHeat::new(&tank, &air_of(&g));
            let mut bath = at(&g, &heat, 85.0, Lid::Off);
            bath.switch(Heater::Keep(Temperature::celsius(95.0)));
            bath.time_until_temperature(&heat, Temperature::celsius(90.0))
        };
        assert_eq!(reached(0.95), None, "{}", g["id"]);
        assert!(reached(1.05).is_some(), "{}", g["id"]);
    }
}

/// T29, T30: heat and water that leave at 50 to 98 °C, from the table that simulations use.
#[test]
fn holding_power_and_evaporation() {
    for g in geometries() {
        let (heat, _) = ready(&g);
        for row in g["steady"].as_array().unwrap() {
            let t = Temperature::celsius(number(&row["t_C"]));
            let leaving = heat.leaving(t, lid_of(row));
            let what = format!("{} at {t:?} {:?}", g["id"], lid_of(row));
            near(
                leaving.heat.in_watts(),
                number(&row["hold_power_W"]),
                0.001,
                &what,
            );
            near(
                leaving.evaporation.in_kilograms_per_hour(),
                number(&row["evap_kg_h"]),
                0.003,
                &what,
            );
        }
    }
}

/// T29 as printed in the list: W and kg/h at 93 °C with the surface open.
#[test]
fn holding_open_as_listed() {
    for (short, watts, kilograms) in [
        ("S1", 425.0, 0.528),
        ("S4", 1258.0, 1.38),
        ("S6", 2227.0, 3.06),
        ("S7", 5617.0, 6.11),
    ] {
        let g = geometry(short);
        let (heat, _) = ready(&g);
        let mut bath = at(&g, &heat, 93.0, Lid::Off);
        bath.switch(Heater::Keep(Temperature::celsius(93.0)));
        bath.advance(&heat, Span::hours(0.5));
        near(bath.ledger().heater.in_joules() / 1800.0, watts, 0.02, short);
        near(
            bath.ledger().evaporated.in_kilograms() * 2.0,
            kilograms,
            0.03,
            short,
        );
        assert_eq!(bath.temperature(), Temperature::celsius(93.0));
    }
}

/// The no-loss time: heat content over power.
#[test]
fn heat_content_over_power() {
    for g in geometries() {
        let (heat, bath) = ready(&g);
        let warm = at(&g, &heat, number(&g["inputs"]["set_t_C"]), Lid::Off);
        let need = warm.ledger().heat_at_start - bath.ledger().heat_at_start;
        near(
            (need / heat.net_power()).in_seconds(),
            number(&g["checks"]["heat_no_loss_s"]),
            0.001,
            "no loss",
        );
    }
}

/// T31: on and off times of a thermostat with a 2 K differential, lid on.
#[test]
fn thermostat_cycle() {
    for g in geometries() {
        let (heat, _) = ready(&g);
        let set = number(&g["inputs"]["set_t_C"]);
        let mut bath = at(&g, &heat, set, Lid::On);
        bath.switch(Heater::Keep(Temperature::celsius(set)));
        let cycle = bath.cycle(&heat).unwrap();
        let listed = &g["thermostat_2K_band_lid_on"];
        near(cycle.on.in_seconds(), number(&listed["on_s"]), 0.03, "on");
        near(cycle.off.in_seconds(), number(&listed["off_s"]), 0.03, "off");
    }
}

/// T32: an hour's evaporation replaced at once by water of 20 °C.
#[test]
fn top_up_chills() {
    for g in geometries() {
        let (heat, _) = ready(&g);
        let listed = &g["top_up_after_1h_open_at_set"];
        let set = number(&g["inputs"]["set_t_C"]);
        let mut bath = at(&g, &heat, set, Lid::Off);
        bath.switch(Heater::Keep(Temperature::celsius(set)));
        bath.advance(&heat, Span::hours(1.0));
        near(
            bath.ledger().evaporated.in_kilograms(),
            number(&listed["water_kg"]),
            0.001,
            "evaporated in 1 h",
        );
        let volume = bath.ledger().evaporated / water::measuring_density();
        bath.top_up(volume, Temperature::celsius(number(&listed["water_t_C"])));
        let drop = set - bath.temperature().in_celsius();
        near(drop, number(&listed["drop_K"]), 0.005, &format!("{}", g["id"]));
    }
}

/// T34, T35: cold steel chills the bath, and the heater brings it back under the lid.
#[test]
fn cold_loads_chill_and_recover() {
    let mut recovered = 0;
    for g in geometries() {
        let (heat, _) = ready(&g);
        for row in g["load_chill"].as_array().unwrap() {
            let set = Temperature::celsius(number(&row["bath_t_C"]));
            let mut bath = at(&g, &heat, set.in_celsius(), Lid::On);
            bath.switch(Heater::Keep(set));
            let load = Load {
                mass: Mass::kilograms(number(&row["steel_kg"])),
                heat: SolidHeat::STEEL,
            };
            bath.add_load(&load, Temperature::celsius(number(&row["steel_t_C"])));
            let drop = (set - bath.temperature()).in_kelvin();
            let what = format!("{} {} kg", g["id"], row["steel_kg"]);
            near(drop, number(&row["drop_K"]), 0.001, &what);
            match row["recover_lid_on_s"].as_f64() {
                Some(seconds) => {
                    let span = bath.time_until_temperature(&heat, set).unwrap();
                    near(span.in_seconds(), seconds, 0.01, &what);
                    bath.advance(&heat, span);
                    assert_eq!(bath.temperature(), set, "{what}");
                    recovered += 1;
                }
                None => assert_eq!(bath.time_until_temperature(&heat, set), None),
            }
        }
    }
    assert!(recovered >= 24);
}

/// T44: cooling under the lid against the integral of C dT / Q at constant water, within 1 %.
#[test]
fn cooling_against_quadrature() {
    let g = geometry("S1");
    let (heat, _) = ready(&g);
    let bath = at(&g, &heat, 93.0, Lid::On);
    let ode = bath
        .time_until_temperature(&heat, Temperature::celsius(50.0))
        .unwrap();
    let content = |t: f64| {
        Bath::new(&heat, tank_of(&g).fill, Temperature::celsius(t))
            .ledger()
            .heat_at_start
    };
    let strip = |i: i32| {
        let t = 50.0 + f64::from(i) * 0.043;
        let change: Energy = content(t + 0.043) - content(t);
        change / heat.leaving(Temperature::celsius(t + 0.0215), Lid::On).heat
    };
    let quadrature: Span = (0..1000).map(strip).sum();
    near(
        quadrature.in_seconds(),
        number(&g["checks"]["cool_lid_on_quadrature_constant_mass_s"]),
        0.001,
        "T44",
    );
    near(ode.in_seconds(), 14_128.0, 0.001, "T44");
    near(quadrature.in_seconds(), ode.in_seconds(), 0.01, "T44");
}

/// How fast a bath comes to 60 °C does not hang on how the way there is cut.
#[test]
fn cut_spans_end_alike() {
    let g = geometry("S4");
    let (heat, _) = ready(&g);
    let run = |pieces: i64| {
        let mut bath = at(&g, &heat, 20.0, Lid::Off);
        bath.switch(Heater::Keep(Temperature::celsius(93.0)));
        for _ in 0..pieces {
            bath.advance(&heat, Span::micros(7_200_000_000 / pieces));
        }
        bath
    };
    let (whole, cut) = (run(1), run(720));
    assert_eq!(whole.temperature(), cut.temperature());
    near(
        cut.ledger().heater.base(),
        whole.ledger().heater.base(),
        1e-5,
        "heater",
    );
    near(
        cut.ledger().evaporated.base(),
        whole.ledger().evaporated.base(),
        5e-5,
        "evaporated",
    );
    let mut holding = whole;
    let mut pieces = whole;
    holding.advance(&heat, Span::hours(3.0));
    (0..1080).for_each(|_| pieces.advance(&heat, Span::seconds(10.0)));
    near(
        pieces.ledger().heater.base(),
        holding.ledger().heater.base(),
        1e-12,
        "holding, heater",
    );
    near(
        pieces.water().base(),
        holding.water().base(),
        1e-12,
        "holding, water",
    );
}

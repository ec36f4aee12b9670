//! What open surfaces, walls and lids lose, against published tables and frozen figures.
//!
//! `data/bath/open_surface.csv` and `walls_and_lid.csv`: an implementation of its own of the same equations
//! (numpy 2.4.6, scipy 1.17.1, walls checked against ht 1.2.0).

use crate::bath_tanks::{geometries, near, still_air, tank_of};
use tankday::bath::surface::{Bulk, open_surface};
use tankday::bath::tank::losses;
use tankday::bath::wall::{Face, lid_loss, wall_loss};
use tankday::bath::{Lid, TankHeat};
use tankday::shop::{Air, Insulation};
use tankday::units::{
    Area, Conductivity, Energy, Length, MassFlux, Pressure, Quantity, Share, Span, Temperature, read_quantity,
};

const LENGTH: Length = Length::metres(0.125);

fn rows(text: &str) -> Vec<Vec<f64>> {
    let numbers = |l: &str| l.split(',').map(|x| x.parse().unwrap()).collect();
    text.lines().skip(2).map(numbers).collect()
}

fn face(emissivity: f64, metres: f64, conductivity: f64) -> Face {
    Face {
        emissivity: Share::fraction(emissivity),
        insulation: Insulation {
            thickness: Length::metres(metres),
            conductivity: Conductivity::watts_per_metre_kelvin(conductivity),
        },
    }
}

/// W/m2 of so many Btu/(h ft2).
fn btu(value: f64) -> f64 {
    let energy: Energy = read_quantity(&format!("{value} Btu")).unwrap();
    let area: Area = read_quantity("1 ft2").unwrap();
    energy.in_joules() / Span::hours(1.0).in_seconds() / area.in_square_metres()
}

fn hourly(flux: MassFlux) -> f64 {
    flux.in_kilograms_per_square_metre_hour()
}

/// T7: the model grid, 1 % and 0.05 K.
#[test]
fn open_surface_grid() {
    let air = still_air(20.0, 0.5);
    let rows = rows(include_str!("data/bath/open_surface.csv"));
    assert_eq!(rows.len(), 39);
    for row in rows {
        let loss = open_surface(
            Temperature::celsius(row[0]),
            &air,
            Length::metres(row[1]),
            &Bulk::default(),
        );
        assert!(
            (loss.skin.in_celsius() - row[2]).abs() < 0.002,
            "skin at {}",
            row[0]
        );
        near(hourly(loss.evaporation), row[3], 1e-3, "evaporation");
        near(loss.latent.base(), row[4], 1e-3, "latent");
        near(loss.convection.base(), row[5], 1e-3, "convection");
        near(loss.radiation.base(), row[6], 1e-3, "radiation");
        near(loss.heat().base(), row[7], 1e-3, "all");
    }
}

/// Sensitivity of the open surface at 90 °C, same source as T7: kg/m2h.
#[test]
fn open_surface_sensitivity() {
    let still = Bulk::default();
    let thin = Air {
        pressure: Pressure::pascals(83_400.0),
        ..still_air(20.0, 0.5)
    };
    let salty = Bulk {
        activity: Share::fraction(0.95),
        ..still
    };
    let stirred = |times: f64| Bulk {
        stirring: times,
        ..still
    };
    for (air, bulk, want) in [
        (still_air(20.0, 0.5), still, 13.2069),
        (still_air(10.0, 0.5), still, 13.5467),
        (still_air(30.0, 0.5), still, 12.7954),
        (still_air(20.0, 0.2), still, 13.3317),
        (still_air(20.0, 0.8), still, 13.0817),
        (thin, still, 15.0917),
        (still_air(20.0, 0.5), stirred(2.0), 16.1350),
        (still_air(20.0, 0.5), stirred(10.0), 21.4746),
        (still_air(20.0, 0.5), salty, 12.4643),
    ] {
        let got = open_surface(Temperature::celsius(90.0), &air, LENGTH, &bulk);
        near(hourly(got.evaporation), want, 1e-3, "evaporation");
    }
}

/// T8: Heat Loss from Open Water Tanks, table (engineeringtoolbox.com, undated), air 60 °F, 120 to 200 °F.
#[test]
fn open_surface_against_the_open_tank_table() {
    let air = Air {
        temperature: Temperature::fahrenheit(60.0),
        ..still_air(0.0, 0.5)
    };
    let listed = [
        1483.0, 1940.0, 2587.0, 3281.0, 4133.0, 5095.0, 6309.0, 7729.0, 9464.0,
    ];
    for (i, want) in (0u32..).zip(listed) {
        let bath = Temperature::fahrenheit(120.0 + 10.0 * f64::from(i));
        near(
            open_surface(bath, &air, LENGTH, &Bulk::default()).heat().base(),
            want,
            0.20,
            "open tank table",
        );
    }
}

/// T9, T10: US DOE Steam Tip Sheet 19, Cover Heated, Open Vessels, Table 1 and example; dry air of 75 °F.
#[test]
fn evaporation_against_the_steam_tip_sheet() {
    let air = Air {
        temperature: Temperature::fahrenheit(75.0),
        ..still_air(0.0, 0.0)
    };
    let latent = |f: f64| open_surface(Temperature::fahrenheit(f), &air, LENGTH, &Bulk::default()).latent;
    for (f, listed) in [(130.0, 452.0), (150.0, 856.0), (170.0, 1566.0), (190.0, 2845.0)] {
        near(latent(f).base(), btu(listed), 0.20, "tip sheet");
    }
    let area: Area = read_quantity("40 ft2").unwrap();
    near(
        (latent(170.0) * area).in_watts(),
        18_360.0,
        0.20,
        "tip sheet example",
    );
}

/// T11, T12: walls of the table of T8; its insulation fits k 0.07.
#[test]
fn walls_against_the_open_tank_table() {
    let air = Air {
        temperature: Temperature::fahrenheit(60.0),
        ..still_air(0.0, 0.5)
    };
    let height = Length::metres(0.6);
    for (f, listed) in [(140.0, 160.0), (170.0, 235.0), (200.0, 320.0)] {
        let got = wall_loss(Temperature::fahrenheit(f), &air, height, &face(0.9, 0.0, 0.04));
        near(got.base(), btu(listed), 0.04, "bare wall");
    }
    for (inches, listed) in [(1.0, 53.0), (2.0, 29.0), (3.0, 20.0)] {
        let layer = face(0.9, 0.0254 * inches, 0.07);
        let got = wall_loss(Temperature::fahrenheit(200.0), &air, height, &layer);
        near(got.base(), btu(listed), 0.06, "insulated wall");
    }
}

/// Walls and lids of the frozen table.
#[test]
fn walls_and_lids() {
    let air = still_air(20.0, 0.5);
    let height = Length::metres(0.3);
    for row in rows(include_str!("data/bath/walls_and_lid.csv")) {
        let bath = Temperature::celsius(row[0]);
        let wall = |e: f64, s: f64| wall_loss(bath, &air, height, &face(e, s, 0.04)).base();
        let lid = |e: f64, s: f64| lid_loss(bath, &air, LENGTH, &face(e, s, 0.04)).base();
        let got = [
            wall(0.9, 0.0),
            wall(0.3, 0.0),
            wall(0.9, 0.025),
            wall(0.9, 0.05),
            lid(0.3, 0.0),
            lid(0.9, 0.0),
            lid(0.9, 0.025),
        ];
        for (got, want) in got.iter().zip(&row[1..]) {
            near(*got, *want, 1e-3, "wall or lid");
        }
    }
}

/// T14: example of T8: 10 ft2 of surface, 50 ft2 of bare wall, 150 °F: 19 400 Btu/h.
#[test]
fn open_tank_example() {
    let air = Air {
        temperature: Temperature::fahrenheit(60.0),
        ..still_air(0.0, 0.5)
    };
    let bath = Temperature::fahrenheit(150.0);
    let (top, side): (Area, Area) = (read_quantity("10 ft2").unwrap(), read_quantity("50 ft2").unwrap());
    let surface = open_surface(bath, &air, LENGTH, &Bulk::default()).heat() * top;
    let wall = wall_loss(bath, &air, Length::metres(0.6), &face(0.9, 0.0, 0.04)) * side;
    let want = read_quantity::<tankday::units::Power>("19400 Btu/h").unwrap();
    near((surface + wall).in_watts(), want.in_watts(), 0.12, "example");
}

/// T24: Technical Information: Determining Heat Energy Requirements, Heating Liquids (undated): 550 W/ft2 from an
/// open surface at 180 °F, air 60 % moving at 2 ft/s; the list of checks has 6538 W/m2 for still air (of 70 °F).
#[test]
fn heating_liquids_sheet() {
    let got = open_surface(
        Temperature::fahrenheit(180.0),
        &still_air(21.11, 0.6),
        LENGTH,
        &Bulk::default(),
    )
    .heat();
    near(got.base(), 5_920.0, 0.20, "sheet");
    near(got.base(), 6_538.0, 1e-3, "list of checks");
}

/// The table that simulations use against the models it was made from, between its nodes, lid on and off.
#[test]
fn table_of_losses() {
    for (g, celsius) in geometries().iter().zip([20.0, 5.0, 35.0, 18.3, 20.0, 27.0, 12.0]) {
        let (tank, air) = (tank_of(g), still_air(celsius, 0.4));
        let heat = TankHeat::new(&tank, &air);
        for i in 0..1_700 {
            let bath = Temperature::celsius(celsius + 2.0 + 0.037 * f64::from(i));
            if bath > heat.limit() {
                break;
            }
            for lid in [Lid::Off, Lid::On] {
                let exact = losses(&tank, &air, bath, lid);
                let got = heat.leaving(bath, lid);
                near(
                    got.heat.base(),
                    exact.heat().base(),
                    5e-4,
                    &format!("heat at {bath:?}"),
                );
                near(
                    got.evaporation.base(),
                    exact.evaporation.base(),
                    5e-4,
                    &format!("water at {bath:?}"),
                );
            }
        }
    }
}

/// The draught factor scales evaporation and its heat alone; nothing leaves a bath as warm as the room.
#[test]
fn draught_scales_evaporation() {
    let mut tank = tank_of(&geometries()[3]);
    let air = still_air(20.0, 0.5);
    let bath = Temperature::celsius(90.0);
    let still = losses(&tank, &air, bath, Lid::Off);
    tank.draught = 1.5;
    let windy = losses(&tank, &air, bath, Lid::Off);
    near(
        windy.evaporation.base(),
        1.5 * still.evaporation.base(),
        1e-12,
        "evaporation",
    );
    assert_eq!(windy.wall, still.wall);
    let rise = windy.top.base() / still.top.base();
    assert!(rise > 1.4 && rise < 1.5, "{rise}");
    assert_eq!(losses(&tank, &air, air.temperature, Lid::Off).heat().base(), 0.0);
}

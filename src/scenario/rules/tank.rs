//! Tanks: what goes into them and how they start.

use super::bath::celsius;
use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::written::{Lid, Tank};
use tankday_base::bath::{HIGHEST, water};
use tankday_base::shop::Inside;
use tankday_base::units::{Quantity, Temperature, Volume};

pub(super) const ALL: &[Rule] = &[
    Rule::Tank(fill_fits),
    Rule::Tank(room_for_foam),
    Rule::Tank(lid_vents),
    Rule::Tank(start_level),
    Rule::Tank(basket_fits),
    Rule::Tank(some_heat),
    Rule::Tank(swings_in_band),
];

/// Volume to the rim.
pub(super) fn inside(tank: &Tank) -> Option<Volume> {
    Some(Volume::cubic_metres(match tank.inside.as_ref()?.value {
        Inside::Box {
            length,
            width,
            height,
        } => length.base() * width.base() * height.base(),
        Inside::Round { diameter, height } => {
            std::f64::consts::FRAC_PI_4 * diameter.base() * diameter.base() * height.base()
        }
    }))
}

pub(super) fn litres(volume: Volume) -> String {
    format!("{} L", (volume.in_litres() * 10.0).round() / 10.0)
}

/// The fill fits the tank.
fn fill_fits(_: &Facts, t: &Tank) -> Option<Finding> {
    let (fill, inside_at, holds) = (t.fill.as_ref()?, t.inside.as_ref()?.at, inside(t)?);
    (fill.value > holds).then(|| {
        let message = format!(
            "{} do not fit: the tank holds {} to its rim",
            litres(fill.value),
            litres(holds)
        );
        Finding::new(Code::Capacity, fill.at, message)
            .label("too much")
            .and(inside_at, format!("holds {}", litres(holds)))
            .help("leave room for foam and for the work: three quarters of the inside is a good fill")
    })
}

/// Share of the inside above which foam and work have no room left; common practice, no source.
const FULLEST: f64 = 0.92;

/// As hot as such a bath works at most; a choice of ours.
const HOT_BATH: Temperature = Temperature::celsius(95.0);

/// A tank is not filled to its rim; and hot solution stands higher than cold.
fn room_for_foam(_: &Facts, t: &Tank) -> Option<Finding> {
    let (fill, holds) = (t.fill.as_ref()?, inside(t)?);
    let hot = fill.value * (water::measuring_density() / water::density(HOT_BATH));
    let (share, runs_over) = (fill.value / holds, hot > holds);
    (share > FULLEST && share <= 1.0).then(|| {
        let full = format!("the tank is {:.0} % full", share * 100.0);
        let message = match runs_over {
            true => format!("{full}: hot, it takes {} and runs over its rim", litres(hot)),
            false => format!("{full}: hot acid may foam over its rim"),
        };
        let finding = match runs_over {
            true => Finding::new(Code::Capacity, fill.at, message),
            false => Finding::warning(Code::Capacity, fill.at, message),
        };
        finding
            .label("little room")
            .help(format!("fill {} or less", litres(holds * FULLEST)))
    })
}

/// Least share of the opening that vents; common practice, no source.
const VENTS: f64 = 0.005;

/// A lid that closes tight keeps hydrogen in, which burns and can explode (NIOSH, CCOHS on phosphoric acid).
fn lid_vents(_: &Facts, t: &Tank) -> Option<Finding> {
    let Some(Lid::Own(lid)) = &t.lid else {
        return None;
    };
    let leak = lid.leak.as_ref()?;
    (leak.value.in_fraction() < VENTS).then(|| {
        Finding::warns(Code::Bath, leak.at)
            .says("a tight lid keeps hydrogen over the bath, which can explode")
            .label("must vent")
            .help(
                "leave a gap, such as `leak: 2 %`; steel in the bath gives off hydrogen as long as it is in",
            )
    })
}

/// At the start there is not more in a tank than it is filled to.
fn start_level(_: &Facts, t: &Tank) -> Option<Finding> {
    let (fill, volume) = (t.fill.as_ref()?, t.now.as_ref()?.volume.as_ref()?);
    (volume.value? > fill.value).then(|| {
        Finding::new(Code::Capacity, volume.at, "the tank starts fuller than its fill")
            .label("now")
            .and(fill.at, "fill")
    })
}

/// The basket goes into the tank.
fn basket_fits(_: &Facts, t: &Tank) -> Option<Finding> {
    let (basket, inside_at, holds) = (t.basket.as_ref()?, t.inside.as_ref()?.at, inside(t)?);
    (basket.value? > holds).then(|| {
        Finding::new(Code::Capacity, basket.at, "the basket is larger than the tank")
            .label("basket")
            .and(inside_at, format!("holds {}", litres(holds)))
    })
}

/// Some of the heater's power reaches the bath.
fn some_heat(_: &Facts, t: &Tank) -> Option<Finding> {
    let efficiency = t.heater.as_ref()?.efficiency.as_ref()?;
    (efficiency.value.in_fraction() <= 0.0).then(|| {
        Finding::error(Code::Range, efficiency.at).says("none of the heater's power reaches the bath")
    })
}

/// The thermostat swings within the band of the bath.
fn swings_in_band(f: &Facts, t: &Tank) -> Option<Finding> {
    let swing = t.heater.as_ref()?.swing.as_ref()?;
    let band = f.bath(&t.bath.as_ref()?.value)?.band.as_ref()?;
    let (least, hold, most) = (band.least.as_ref()?, band.hold.as_ref()?, band.most.as_ref()?);
    let half = swing.value.in_kelvin() / 2.0;
    let (down, up) = (hold.value.in_celsius() - half, hold.value.in_celsius() + half);
    let inside = down >= least.value.in_celsius() - 1e-9 && up <= most.value.in_celsius() + 1e-9;
    let sound = least.value <= hold.value && hold.value <= most.value && hold.value <= HIGHEST;
    (sound && !inside).then(|| {
        let message = format!(
            "a thermostat that swings {} °C around {} leaves the band of {} to {}",
            swing.value.in_kelvin(),
            celsius(hold.value),
            celsius(least.value),
            celsius(most.value)
        );
        Finding::warning(Code::Bath, swing.at, message)
            .label("swings out")
            .help("an electronic thermostat swings 1 to 2 °C, a bimetal one 6.7 °C (common practice, no source)")
    })
}

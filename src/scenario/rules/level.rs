//! How full a tank is: at the start, when it is topped up, when its heater switches itself off.

use super::fits::{Sized, each, lies, lies_at, measures, mm, name_of};
use super::tank::{inside, litres};
use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::{SourceSpan, Spanned};
use crate::resolve::chemistry;
use crate::thing::Thing;
use crate::written::{Bath, Heater, Part, Tank, TopUp};
use tankday_base::shop::{Chore, depth};
use tankday_base::units::{Length, Quantity, Share, Volume};

pub(super) const ALL: &[Rule] = &[
    Rule::Tank(filled_at_all),
    Rule::Once(topped_up_for_ever),
    Rule::Whole(topped_up_in_time),
    Rule::Tank(starts_low),
    Rule::Whole(|f| each(f, covered_when_low)),
];

/// Share of the inside below which a tank is hardly filled; common practice, no source.
const HARDLY: f64 = 0.2;

/// A fill goes with its tank.
fn filled_at_all(_: &Facts, t: &Tank) -> Option<Finding> {
    let (fill, holds) = (t.fill.as_ref()?, inside(t)?);
    let share = fill.value / holds;
    (share < HARDLY).then(|| {
        let message = format!(
            "{} are {:.0} % of this tank, which holds {} to its rim",
            litres(fill.value),
            share * 100.0,
            litres(holds)
        );
        Finding::warning(Code::Capacity, fill.at, message)
            .label("as little as that?")
            .and(
                t.inside.as_ref().map_or(fill.at, |i| i.at),
                format!("holds {}", litres(holds)),
            )
            .help("usual are 50 to 90 % (common practice, no source): is a digit or the unit wrong?")
    })
}

/// Down to which share of its fill a tank goes, and where that is written; none where nobody tops up.
fn below<'a>(f: &Facts<'a>) -> Option<&'a Spanned<Share>> {
    match f.file.rules.as_ref()?.top_up.as_ref()? {
        TopUp::Below(rule, _) => rule.below.as_ref(),
        TopUp::Never => None,
    }
}

fn is_written(f: &Facts) -> bool {
    let rule = f.file.rules.as_ref().and_then(|r| r.top_up.as_ref());
    matches!(rule, Some(TopUp::Below(_, true)))
}

fn percent(share: f64) -> String {
    format!("{} %", (share * 1e3).round() / 10.0)
}

fn bath<'a>(f: &Facts<'a>, tank: &Tank) -> Option<&'a Bath> {
    f.bath(&tank.bath.as_ref()?.value)
}

/// Least share of the fill with which a tank takes a load.
fn least_level(f: &Facts, tank: &Tank) -> Option<(f64, SourceSpan)> {
    let bath = bath(f, tank).filter(|b| b.wears.as_ref().is_some_and(|w| w.value))?;
    let level = bath.limits.as_ref()?.level.as_ref()?;
    Some((level.value.0.in_fraction(), level.at))
}

/// A full tank needs no water.
fn topped_up_for_ever(f: &Facts) -> Option<Finding> {
    let below = below(f).filter(|b| b.value.in_fraction() >= 1.0)?;
    f.no_hands().is_none().then(|| {
        Finding::error(Code::Contradiction, below.at)
            .says(
                "topping up never ends: a tank that was just filled counts as low at once, and takes no load",
            )
            .label("never full")
            .help("usual are 90 to 98 % (common practice, no source)")
    })
}

/// A tank is topped up before it takes no load any more, and before its heater switches itself off.
fn topped_up_in_time(f: &Facts) -> Vec<Finding> {
    if f.no_hands().is_some() {
        return Vec::new();
    }
    let Some(below) = below(f) else {
        return Vec::new();
    };
    let share = below.value.in_fraction();
    let too_late = |tank: &Tank| {
        let cut_off = tank.heater.as_ref()?.cut_off.as_ref()?;
        let (least, limit) = least_level(f, tank).unwrap_or((0.0, cut_off.at));
        let own = tank.heater.as_ref()?.place(&Heater::cut_off).map(|_| cut_off.at);
        let at = if is_written(f) { below.at } else { own? };
        let (message, other, label) = if share >= 1.0 {
            return None;
        } else if share <= cut_off.value.in_fraction() {
            (
                format!(
                    "topped up below {} of the fill: the heater has switched itself off by then",
                    percent(share)
                ),
                if is_written(f) { cut_off.at } else { at },
                format!("off below {}", percent(cut_off.value.in_fraction())),
            )
        } else if share < least {
            (
                format!(
                    "topped up below {} of the fill: the tank takes no load long before",
                    percent(share)
                ),
                limit,
                format!("no load below {}", percent(least)),
            )
        } else {
            return None;
        };
        Some(
            Finding::warning(Code::Contradiction, at, message)
                .label("too late")
                .and(other, label)
                .help("usual are 90 to 98 % (common practice, no source): the work must be covered, and a heater that runs dry burns out"),
        )
    };
    f.file.tanks.iter().find_map(too_late).into_iter().collect()
}

/// A tank that starts so low that it takes no load, or cannot even be heated.
fn starts_low(f: &Facts, t: &Tank) -> Option<Finding> {
    let (fill, now) = (t.fill.as_ref()?, t.now.as_ref()?.volume.as_ref()?);
    let volume = now.value?;
    let share = volume / fill.value;
    let cut_off = t.heater.as_ref()?.cut_off.as_ref()?.value.in_fraction();
    let (least, _) = least_level(f, t).unwrap_or((0.0, now.at));
    if f.no_hands().is_some() || share >= least.max(cut_off) {
        return None;
    }
    let why = if share < cut_off {
        format!("its heater stays off below {}", litres(fill.value * cut_off))
    } else {
        format!("it takes no load below {}", litres(fill.value * least))
    };
    let message = format!(
        "the tank starts with {} of {}: {why}",
        litres(volume),
        litres(fill.value)
    );
    Some(
        Finding::warning(Code::Capacity, now.at, message)
            .label("now")
            .and(fill.at, "fill")
            .help(format!(
                "is a digit wrong? if not, {}",
                first_morning(f, t, share)?
            )),
    )
}

/// What becomes of a tank that starts low, and what would be better.
fn first_morning(f: &Facts, t: &Tank, share: f64) -> Option<String> {
    let bath = bath(f, t)?;
    let missing = t.fill.as_ref()?.value * (1.0 - share);
    if below(f).is_none_or(|b| b.value.in_fraction() <= share) {
        return Some("nothing fills it up: write `top up: {below: 95 %}`".to_owned());
    }
    let strength = bath.now.as_ref()?.reads().and_then(|n| n.acids());
    let recipe = chemistry(bath.chemistry.as_ref()?)?;
    let points = strength.map_or(recipe.make_up, |(total, _)| total);
    let replenish = f.acts().find_map(|a| match a.chore {
        Some(Chore::Replenish { to, .. }) if !a.when.is_empty() => Some(to),
        _ => None,
    });
    let Some(to) = replenish else {
        return Some(format!(
            "{} of water fill it up and thin it to {:.1} points: make the bath up to its fill before",
            litres(missing),
            points.in_points() * share
        ));
    };
    let lacks = (to.in_points() - points.in_points() * share).max(0.0);
    let concentrate = t.fill.as_ref()?.value * (lacks * recipe.concentrate_per_point.in_fraction());
    let water = Volume::from_base((missing - concentrate).base().max(0.0));
    Some(format!(
        "the first morning about {} of water and {} of concentrate fill it up, and its iron is thinned to {}: \
         make the bath up to its fill before",
        litres(water),
        litres(concentrate),
        percent(share)
    ))
}

/// The least share of its fill with which a tank takes a load: the mark of its bath, and that below which it is topped up
/// first.
fn lowest(f: &Facts, tank: &Tank) -> f64 {
    let bath = least_level(f, tank).map_or(0.0, |(share, _)| share);
    let water = below(f).filter(|_| f.no_hands().is_none());
    let water = water.map_or(0.0, |b| b.value.in_fraction());
    let cut_off = tank.heater.as_ref().and_then(|h| h.cut_off.as_ref());
    let off = cut_off.map_or(0.0, |c| c.value.in_fraction());
    bath.max(water).max(off).min(1.0)
}

/// Whether work lies under what is left of a tank's fill as it does under all of it: nobody hangs it otherwise because some
/// water is gone.
fn stays_covered(part: &Part, tank: &Tank, share: f64) -> bool {
    match lies(part, tank, Length::ZERO) {
        Some(full) => lies_at(part, tank, share).is_some_and(|low| low <= full),
        None => true,
    }
}

/// Work that a full tank covers and one from which water has boiled away does not. By the level of a cold bath without work: by
/// how much heat and work raise it is left as a reserve.
fn covered_when_low(f: &Facts, (part, _, tanks, at): Sized) -> Option<Finding> {
    let bare = |t: &&Tank| !stays_covered(part, t, lowest(f, t));
    let tank = tanks.into_iter().find(bare)?;
    let (share, fill, inside) = (lowest(f, tank), tank.fill.as_ref()?, tank.inside.as_ref()?);
    let deep = |share: f64| mm(depth(inside.value, fill.value * share));
    let keeps = (1..100).map(|p| f64::from(p) / 100.0);
    let keeps = keeps
        .filter(|s| *s > share)
        .find(|s| stays_covered(part, tank, *s));
    let message = format!(
        "`{}` ({}) lies under the solution of `{}` only when it is full: loads go in down to {} of the fill, {} deep",
        part.name.value,
        measures(part),
        name_of(tank),
        percent(share),
        deep(share)
    );
    let help = match keeps {
        Some(share) => format!(
            "write `top up: {{below: {}}}`, or fill more; what sticks out stays bare",
            percent(share)
        ),
        None => "fill more, or use a deeper tank; what sticks out stays bare".to_owned(),
    };
    Some(
        Finding::warning(Code::Capacity, at, message)
            .label("sticks out when the level is low")
            .and(fill.at, format!("{} deep when full", deep(1.0)))
            .help(help),
    )
}

//! What may and may not go into a coating bath.

use super::bath::celsius;
use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::SourceSpan;
use crate::resolve::growth;
use crate::thing::Thing;
use crate::written::{Material, Part, Step};
use tankday_base::bath::Substrate;
use tankday_base::shop::Coats;

pub(super) const ALL: &[Rule] = &[
    Rule::Coating(stays_out),
    Rule::Coating(insert_stays_out),
    Rule::Coating(tried_first),
    Rule::Whole(measured),
    Rule::Coating(reaches_target),
    Rule::Coating(goes_in_hot),
    Rule::Material(has_reason),
    Rule::Part(plug_of_nothing),
];

/// Where the material of a part is written, or the part.
pub(super) fn material_place(part: &Part) -> SourceSpan {
    part.material.as_ref().map_or(part.name.at, |m| m.at)
}

/// Aluminium, zinc plate, brass and stainless stay out.
fn stays_out(f: &Facts, part: &Part, step: &Step) -> Option<Finding> {
    let Coats::No(reason) = f.material(part)?.coats else {
        return None;
    };
    let (bath, material) = (step.bath.as_ref()?, &part.material.as_ref()?.value);
    let message = format!(
        "`{}` ({material}) must stay out of `{}`",
        part.name.value, bath.value
    );
    Some(
        Finding::new(Code::Material, material_place(part), message)
            .label("stays out")
            .and(bath.at, "would go in here")
            .help(format!("{reason}; send the part another way")),
    )
}

/// What a piece holds besides goes into the bath with it.
fn insert_stays_out(f: &Facts, part: &Part, step: &Step) -> Option<Finding> {
    let (insert, bath) = (part.insert.as_ref()?, step.bath.as_ref()?);
    let Coats::No(reason) = f.material_called(&insert.value)?.coats else {
        return None;
    };
    if part.plugged.as_ref()?.value {
        return None;
    }
    let message = format!(
        "`{}` holds an insert of {}, which must stay out of `{}`",
        part.name.value, insert.value, bath.value
    );
    Some(
        Finding::new(Code::Material, insert.at, message)
            .label("stays out")
            .and(bath.at, "would go in here")
            .help(format!(
                "{reason}; take it out first, write `plugged: yes` if nothing of the bath gets to it, or send the part another way"
            )),
    )
}

/// What may come out bare is tried with one piece.
fn tried_first(f: &Facts, part: &Part, step: &Step) -> Option<Finding> {
    let Coats::AfterTrial(reason) = f.material(part)?.coats else {
        return None;
    };
    let (bath, material) = (step.bath.as_ref()?, &part.material.as_ref()?.value);
    let message = format!(
        "`{}` ({material}) may come out of `{}` with a poor coat",
        part.name.value, bath.value
    );
    Some(
        Finding::warning(Code::Material, material_place(part), message)
            .label("a trial piece first")
            .help(format!(
                "{reason}: put one piece in before a load, and promise nothing before you have seen it"
            )),
    )
}

/// Whether a shape is written that says nothing, which is told elsewhere.
fn unshaped(f: &Facts, part: &Part) -> bool {
    if part.has_unread_shape() {
        return true;
    }
    let estimate = f.material(part).and_then(|m| part.estimate(m.density));
    part.is_shaped() && estimate.is_none() && part.place(&Part::mass).is_none()
}

/// Parts that a bath coats have a mass and a surface.
fn measured(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for (part, step) in f.pairs() {
        let Some((mass, area)) = f.measures(part).filter(|_| !unshaped(f, part)) else {
            continue;
        };
        let unmeasured = [
            ("mass", mass.in_grams() <= 0.0),
            ("area", area.in_square_decimetres() <= 0.0),
        ];
        for (key, _) in unmeasured.iter().filter(|(_, missing)| *missing) {
            let message = format!(
                "`{}` goes into a bath, but its {key} is not known",
                part.name.value
            );
            let finding = Finding::new(Code::Missing, part.name.at, message)
                .label(format!("needs `{key}`, or a shape"));
            found.push(finding.and(
                step.bath.as_ref().map_or(step.places.at, |b| b.at),
                "goes in here",
            ));
        }
    }
    found
}

/// A target that the coating never reaches is seen before the day begins.
fn reaches_target(f: &Facts, part: &Part, step: &Step) -> Option<Finding> {
    let bath = f.bath(&step.bath.as_ref()?.value)?;
    let coat = bath.coat.as_ref()?;
    let (None, Some(target)) = (&coat.time, &coat.target) else {
        return None;
    };
    let material = f.material(part)?;
    let cannot = growth(bath)?
        .conversion_for(target.value, Substrate::of(&material))
        .err()?;
    let grams = |w: tankday_base::units::CoatWeight| (w.in_grams_per_square_metre() * 10.0).round() / 10.0;
    let message = format!("`{}` never reaches {} g/m2", part.name.value, grams(target.value));
    Some(
        Finding::warning(Code::Material, material_place(part), message)
            .label(format!("ends at {} g/m2", grams(cannot.full)))
            .and(target.at, "the target")
            .help("it comes out when 95 % of that is on it, at the longest dwell if not before; lower the target, or state a time"),
    )
}

/// Loads go in only where something grows on them: no coating forms at the limit of a material and below, though the
/// band lets its loads in.
fn goes_in_hot(f: &Facts, part: &Part, step: &Step) -> Option<Finding> {
    let least = f
        .bath(&step.bath.as_ref()?.value)?
        .band
        .as_ref()?
        .least
        .as_ref()?;
    let limit = f.material(part)?.from.limit();
    (least.value <= limit).then(|| {
        let message = format!(
            "loads of `{}` may go in at {}, where nothing grows on them",
            part.name.value,
            celsius(least.value)
        );
        Finding::warning(Code::Bath, least.at, message)
            .label(format!("its material takes no coating up to {}", celsius(limit)))
            .and(material_place(part), "this material")
            .help("write a band that begins above it: steel 82 °C, cast iron 70 °C; see the product sheet")
    })
}

/// A plug belongs to an insert.
fn plug_of_nothing(_: &Facts, part: &Part) -> Option<Finding> {
    let plugged = part.plugged.as_ref().filter(|p| p.value)?;
    part.insert.is_none().then(|| {
        Finding::new(
            Code::Contradiction,
            plugged.at,
            format!("`{}` has a plug without an insert", part.name.value),
        )
        .label("write `insert:` too: the material that is covered")
    })
}

/// A reason belongs to a material that stays out.
fn has_reason(_: &Facts, material: &Material) -> Option<Finding> {
    if let (Some(coats), Some(trial)) = (material.coats.as_ref().filter(|c| !c.value), &material.trial) {
        let finding = Finding::new(
            Code::Contradiction,
            trial.at,
            "what stays out needs no trial piece",
        );
        return Some(finding.label("a trial of what").and(coats.at, "it stays out"));
    }
    let coats = material.coats.as_ref().filter(|c| c.value)?;
    let because = material.because.as_ref().filter(|b| b.at != material.name.at)?;
    let finding =
        Finding::new(Code::Contradiction, because.at, "a reason is given for nothing").label("why not");
    Some(finding.and(coats.at, "it does"))
}

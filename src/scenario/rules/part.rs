//! Parts: shapes instead of measures, and how they drain.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::SourceSpan;
use crate::thing::Thing;
use crate::written::Part;
use tankday_base::shape::Estimate;
use tankday_base::shop::Coats;
use tankday_base::units::Area;

pub(super) const ALL: &[Rule] = &[
    Rule::Part(one_shape),
    Rule::Part(of_a_screw),
    Rule::Part(casting_weighs),
    Rule::Part(spring_is_coiled),
    Rule::Part(spring_is_sprung),
    Rule::Part(can_be),
    Rule::Part(area_as_measured),
    Rule::Part(mass_as_measured),
    Rule::Part(rough_shape),
    Rule::Part(drains_somehow),
];

/// A part has one shape.
fn one_shape(_: &Facts, part: &Part) -> Option<Finding> {
    let shapes = part.shapes();
    let [first, second, ..] = shapes.as_slice() else {
        return None;
    };
    let message = format!(
        "`{}` has two shapes, `{}` and `{}`",
        part.name.value, first.0, second.0
    );
    let finding = Finding::new(Code::Contradiction, second.1, message).label("one of the two");
    Some(finding.and(first.1, "or this"))
}

/// Only a screw has a head.
fn of_a_screw(_: &Facts, part: &Part) -> Option<Finding> {
    let at = part
        .place(&Part::head)
        .filter(|_| part.place(&Part::screw).is_none())?;
    Some(
        Finding::new(Code::Contradiction, at, "a head without a screw")
            .label("of what?")
            .help("write `screw: M6 x 20` beside it, or leave it out"),
    )
}

/// The area of a casting follows from its mass and its wall.
fn casting_weighs(_: &Facts, part: &Part) -> Option<Finding> {
    let wall = part.wall.as_ref()?;
    part.place(&Part::mass).is_none().then(|| {
        Finding::error(Code::Missing, wall.at)
            .says("a wall alone does not give the area of a casting")
            .label("and how heavy?")
            .help("write its mass beside it, `mass: 1.1 kg`, or its area")
    })
}

/// A spring has coils, and nothing else has.
fn spring_is_coiled(_: &Facts, part: &Part) -> Option<Finding> {
    match (part.place(&Part::spring), part.place(&Part::coils)) {
        (Some(spring), None) => Some(
            Finding::error(Code::Missing, spring)
                .says("a spring without its coils")
                .label("how many?")
                .help("write them beside it, `coils: 8.5`"),
        ),
        (None, Some(coils)) => Some(
            Finding::error(Code::Contradiction, coils)
                .says("coils without a spring")
                .label("of what?")
                .help("write `spring: 1.5 mm x 12 mm x 40 mm` beside it: wire, outer diameter, free length"),
        ),
        _ => None,
    }
}

/// A coiled spring is hard, whatever it is said to be made of: hydrogen matters in it.
fn spring_is_sprung(f: &Facts, part: &Part) -> Option<Finding> {
    let spring = part.spring.as_ref()?;
    let material = f.material(part)?;
    let soft = !material.hardened && !matches!(material.coats, Coats::No(_));
    soft.then(|| {
        let message = format!(
            "`{}` is a spring of {}, which is soft",
            part.name.value, material.name
        );
        Finding::warning(Code::Material, spring.at, message)
            .label("hydrogen matters in springs")
            .help("write `material: spring steel`, so that no acid and no missing relief goes by unsaid")
    })
}

/// The measures are those of something that can be made.
fn can_be(f: &Facts, part: &Part) -> Option<Finding> {
    let density = f.material(part)?.density;
    let hollow = [
        (
            &part.tube,
            "the wall of this tube leaves no bore",
            "outer diameter, wall, length",
            "write a solid bar as `bar: 10 mm x 60 mm`",
        ),
        (
            &part.ring,
            "this ring has no metal between its bore and its outside",
            "bore, outer diameter, thickness",
            "write a disc as `bar: 12 mm x 1 mm`",
        ),
        (
            &part.spring,
            "this spring has no room inside its coils",
            "wire, outer diameter, free length",
            "the wire is less than half as thick as the spring is wide",
        ),
    ];
    let (at, says, label, help) = hollow
        .into_iter()
        .find_map(|(shape, says, label, help)| Some((shape.as_ref()?.at, says, label, help)))?;
    let coiled = part.spring.is_none() || part.coils.is_some();
    (coiled && part.solid(density, None).is_none()).then(|| {
        Finding::error(Code::Contradiction, at)
            .says(says)
            .label(label)
            .help(help)
    })
}

/// What is measured beside a shape agrees with it.
fn area_as_measured(f: &Facts, part: &Part) -> Option<Finding> {
    let (stated, at) = (part.area.as_ref()?.value, part.places.of_value(&Part::area)?);
    let (least, most) = estimate(f, part)?.area_between;
    let cm2 = |a: Area| a.in_square_decimetres() * 100.0;
    let message = format!(
        "this area does not go with the shape, which has {:.1} to {:.1} cm2",
        cm2(least),
        cm2(most)
    );
    (stated < least || stated > most).then(|| disagree(part, at, message))
}

fn estimate(f: &Facts, part: &Part) -> Option<Estimate> {
    part.estimate(f.material(part)?.density)
}

fn mass_as_measured(f: &Facts, part: &Part) -> Option<Finding> {
    let (stated, at) = (part.mass.as_ref()?.value, part.places.of_value(&Part::mass)?);
    let estimate = estimate(f, part)?;
    let within = estimate.mass_within.in_fraction();
    let (least, most) = (estimate.mass * (1.0 - within), estimate.mass * (1.0 + within));
    let message = format!(
        "this mass does not go with the shape, which has {:.1} to {:.1} g",
        least.in_grams(),
        most.in_grams()
    );
    (stated < least || stated > most).then(|| disagree(part, at, message))
}

fn disagree(part: &Part, at: SourceSpan, message: String) -> Finding {
    let finding = Finding::new(Code::Contradiction, at, message).label("as measured");
    let finding = match part.shape_at() {
        Some(shape) => finding.and(shape, "the shape"),
        None => finding,
    };
    finding.help("keep what you have measured and leave the shape out, or correct the shape")
}

/// How rough something is matters where a shape gives its area.
fn rough_shape(_: &Facts, part: &Part) -> Option<Finding> {
    let at = part.place(&Part::face).filter(|_| !part.is_shaped())?;
    Some(
        Finding::error(Code::Contradiction, at)
            .says("the face matters only where a shape gives the area")
            .label("without effect"),
    )
}

/// How it hangs and drains is known.
fn drains_somehow(_: &Facts, part: &Part) -> Option<Finding> {
    let unknown = part.hangs.is_some() && part.drains.is_some() && part.drag_out().is_none();
    unknown.then(|| {
        let at = part.first(&[&Part::drains, &Part::hangs]).unwrap_or(part.name.at);
        Finding::new(Code::Missing, at, "no drag-out is known for work that hangs and drains so")
            .label("measure it")
            .help("known are upright: well, poorly, very poorly; flat: well, very poorly; cup: very poorly; or write `drag out: 80 mL/m2`")
    })
}

//! The colours of the pictures: unique, legible, told apart by colour-blind readers.

use crate::colour_science::{Eye, ciede2000, contrast, distance};
use tankday::chart::theme::{Look, Token};

const LOOKS: [Look; 3] = [Look::Light, Look::Dark, Look::Print];

#[test]
fn every_colour_is_unique_in_its_look() {
    for look in LOOKS {
        let mut values: Vec<u32> = Token::ALL.iter().map(|t| t.value(look)).collect();
        values.sort_unstable();
        values.dedup();
        assert_eq!(values.len(), Token::ALL.len(), "{look:?}");
    }
    assert_eq!(Token::Coat.hex(), "#0B4F7D");
    assert_eq!(Token::OnCoat.name(), "on-coat");
}

/// WCAG 2.2, success criterion 1.4.3: text at least 4.5; 1.4.11: marks at least 3.
#[test]
fn contrasts_are_those_that_wcag_asks_for() {
    use Token::*;
    let text = [
        (Ink, Paper),
        (Ink, Panel),
        (Ink2, Paper),
        (Ink2, Panel),
        (Link, Paper),
        (OnCoat, Coat),
        (OnHand, Hand),
        (Ink, Stat),
        (Ink, Alone),
        (Ink, Heat),
        (Ink, Care),
        (Ink, Rec),
        (Ok, Paper),
        (Late, Paper),
        (Tight, Paper),
        (Ink2, Band),
        (Paper, Ink),
        (Ink, Map0),
        (Ink, Map1),
        (Ink, Map2),
        (OnCoat, Map3),
        (OnCoat, Map4),
    ];
    let edges = [
        CoatE, HeatE, RecE, CareE, WaitE, StatE, Axis, Ok, Late, Tight, Rep,
    ];
    let hatches = [
        (HeatE, Heat),
        (RecE, Rec),
        (CareE, Care),
        (StatE, Stat),
        (StatE, Alone),
    ];
    let marks = edges.map(|edge| (edge, Paper)).into_iter().chain(hatches);
    let pairs = text
        .map(|pair| (pair, 4.5))
        .into_iter()
        .chain(marks.map(|pair| (pair, 3.0)));
    for ((a, b), least) in pairs {
        for look in LOOKS {
            let found = contrast(a.value(look), b.value(look));
            assert!(
                found >= least,
                "{} on {}, {look:?}: {found:.2}",
                a.name(),
                b.name()
            );
        }
    }
    assert_eq!(
        contrast(0x00_0000, 0xff_ffff),
        21.0,
        "black on white, by the definition"
    );
}

/// Distances are measured rightly here: Sharma, Wu and Dalal 2005, table 1, pairs 1, 17 and 20.
fn distances_are_those_of_sharma_wu_and_dalal() {
    let pairs = [
        ([50.0, 2.6772, -79.7751], [50.0, 0.0, -82.7485], 2.0425),
        ([22.7233, 20.0904, -46.6940], [23.0331, 14.9730, -42.5619], 2.0373),
        ([50.0, 2.5, 0.0], [73.0, 25.0, -18.0], 27.1492),
    ];
    for (a, b, stated) in pairs {
        assert!(
            (ciede2000(a, b) - stated).abs() < 1e-4,
            "{a:?} {b:?}: {}",
            ciede2000(a, b)
        );
    }
}

#[test]
fn states_of_a_group_are_told_apart_by_every_eye() {
    distances_are_those_of_sharma_wu_and_dalal();
    use Token::*;
    let groups: [&[Token]; 4] = [
        &[Heat, Wait, Coat, Rec, Care],
        &[Stat, Alone, Wait],
        &[Hand, Wait],
        &[Ok, Tight, Late],
    ];
    for (group, look) in groups.iter().flat_map(|g| LOOKS.map(|look| (g, look))) {
        for (i, a) in group.iter().enumerate() {
            for (b, eye) in group[i + 1..]
                .iter()
                .flat_map(|b| [Eye::Full, Eye::Protan, Eye::Deutan, Eye::Tritan].map(|eye| (b, eye)))
            {
                let found = distance(a.value(look), b.value(look), eye);
                assert!(
                    found >= 9.5,
                    "{} and {}, {look:?}, {eye:?}: {found:.1}",
                    a.name(),
                    b.name()
                );
            }
        }
    }
}

//! Faults in the heat and water of a bath are found.

use crate::audit_faults::{day, found};
use tankday::audit::{FaultKind, check};
use tankday::record::*;
use tankday::units::*;

fn sample(entries: &mut [Entry], nth: usize) -> &mut BathSample {
    let samples = entries.iter_mut().filter_map(|e| match &mut e.event {
        LogEntry::Bath { sample, .. } => Some(sample),
        _ => None,
    });
    samples.into_iter().nth(nth).expect("so many samples")
}

#[test]
fn a_load_in_a_bath_that_is_too_cold() {
    let (mut shop, record) = day();
    shop.baths[0].band.least = Temperature::celsius(97.5);
    let faults = check(&shop, &record);
    assert!(
        faults
            .iter()
            .any(|f| f.kind == FaultKind::Band && f.text.contains("goes into")),
        "{faults:?}"
    );
}

#[test]
fn heat_and_water_that_do_not_add_up() {
    found(FaultKind::Energy, |e| {
        for nth in 5..9 {
            sample(e, nth).lost += Energy::joules(20_000.0);
        }
    });
    found(FaultKind::Energy, |e| {
        let s = sample(e, 6);
        s.temperature = s.temperature + TempDiff::kelvin(0.5);
    });
    found(FaultKind::Energy, |e| {
        sample(e, 6).carried += Energy::joules(9_000.0)
    });
    found(FaultKind::Water, |e| sample(e, 6).evaporated += Mass::grams(1.0));
    found(FaultKind::Water, |e| sample(e, 6).water += Mass::grams(0.01));
    found(FaultKind::Water, |e| {
        let s = sample(e, 6);
        s.topped_up += Mass::grams(50.0);
        s.water += Mass::grams(50.0);
    });
    found(FaultKind::Water, |e| {
        sample(e, 6).volume += Volume::millilitres(100.0)
    });
    found(FaultKind::Water, |e| {
        sample(e, 0).temperature = Temperature::celsius(25.0)
    });
    found(FaultKind::Water, |e| {
        e.retain(|e| !matches!(e.event, LogEntry::Bath { .. }))
    });
}

#[test]
fn a_heater_stronger_than_it_is() {
    found(FaultKind::Heater, |e| {
        let s = sample(e, 6);
        (s.drawn, s.heated) = (s.drawn * 1.5, s.heated * 1.5);
    });
    found(FaultKind::Heater, |e| {
        let s = sample(e, 6);
        s.drawn = s.drawn * 1.1;
    });
}

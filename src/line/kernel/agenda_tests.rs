//! Tests of the event calendar against the plainest one there is: a list that is searched.

use super::*;

/// A calendar that keeps a list and searches it: slow and surely right.
#[derive(Default)]
struct PlainList {
    list: Vec<(i64, u8, u64, u32)>,
    serial: u64,
}

impl PlainList {
    fn schedule(&mut self, at: i64, class: u8, event: u32) {
        self.list.push((at, class, self.serial, event));
        self.serial += 1;
    }
    fn next(&mut self) -> Option<(i64, u32)> {
        let place = (0..self.list.len()).min_by_key(|&i| self.list[i])?;
        let (at, _, _, event) = self.list.remove(place);
        Some((at, event))
    }
    fn cancel(&mut self, event: u32) -> bool {
        let before = self.list.len();
        self.list.retain(|entry| entry.3 != event);
        self.list.len() < before
    }
}

fn noise(state: &mut u64) -> u64 {
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    *state
}

fn agrees_with_the_plain_list(steps: u32, target: usize, first_serial: u64) {
    let (mut agenda, mut plain) = (EventCalendar::new(), PlainList::default());
    agenda.serial = first_serial;
    let mut handles = Vec::new();
    let mut state = 88_172_645_463_325_252;
    for event in 0..steps {
        let dice = noise(&mut state);
        let grow = agenda.len() < target;
        match dice % 10 {
            0..=5 if grow => {
                let (at, class) = (
                    (noise(&mut state) % 50) as i64 + i64::from(event / 4),
                    (dice >> 8) as u8 % 3,
                );
                handles.push((event, agenda.schedule(Moment::micros(at), class, event)));
                plain.schedule(at, class, event);
            }
            6..=7 if !handles.is_empty() => {
                let (event, handle) = handles.swap_remove(dice as usize % handles.len());
                assert_eq!(agenda.is_pending(handle), plain.list.iter().any(|e| e.3 == event));
                assert_eq!(agenda.cancel(handle), plain.cancel(event).then_some(event));
                assert_eq!(agenda.cancel(handle), None);
            }
            _ => {
                let expected = plain.next();
                assert_eq!(agenda.peek_time(), expected.map(|(at, _)| Moment::micros(at)));
                assert_eq!(
                    agenda.next(),
                    expected.map(|(at, event)| (Moment::micros(at), event))
                );
            }
        }
        assert_eq!(agenda.len(), plain.list.len());
    }
    while let Some((at, event)) = plain.next() {
        assert_eq!(agenda.next(), Some((Moment::micros(at), event)));
    }
    assert!(agenda.is_empty());
}

#[test]
fn few_pending_events_come_in_order() {
    agrees_with_the_plain_list(20_000, 12, 0);
}

#[test]
fn many_pending_events_come_in_order() {
    agrees_with_the_plain_list(20_000, 400, 0);
}

#[test]
fn sizes_about_the_change_to_a_heap_come_in_order() {
    agrees_with_the_plain_list(20_000, ARRAY_MOST + 4, 0);
}

#[test]
fn serials_are_renewed_before_they_run_out() {
    agrees_with_the_plain_list(5_000, 12, SERIAL_END - 500);
    agrees_with_the_plain_list(5_000, 300, SERIAL_END - 1_500);
}

#[test]
fn a_handle_of_a_reused_slot_has_no_effect() {
    let mut agenda = EventCalendar::new();
    let old = agenda.schedule(Moment::ZERO, ENDS, 'a');
    assert_eq!(agenda.next(), Some((Moment::ZERO, 'a')));
    let new = agenda.schedule(Moment::ZERO, ENDS, 'b');
    assert_eq!(agenda.cancel(old), None);
    assert!(agenda.is_pending(new));
}

#[test]
fn renewing_a_far_event_for_ever_keeps_the_heap_small() {
    let mut agenda = EventCalendar::new();
    for i in 0..200 {
        agenda.schedule(Moment::micros(i), ENDS, i);
    }
    let mut far = agenda.schedule(Moment::micros(1_000), ENDS, -1);
    for _ in 0..10_000 {
        assert_eq!(agenda.cancel(far), Some(-1));
        far = agenda.schedule(Moment::micros(1_000), ENDS, -1);
    }
    assert_eq!(agenda.len(), 201);
    let Keys::Heap(heap) = &agenda.keys else {
        panic!("201 events stand in a heap");
    };
    assert!(heap.len() <= 402, "{} keys for 201 events", heap.len());
}

#[test]
fn far_moments_are_kept_apart_from_near_ones() {
    let mut agenda = EventCalendar::new();
    agenda.schedule(Moment::NEVER, ENDS, "never");
    agenda.schedule(Moment::micros(-7), STARTS, "before midnight");
    assert_eq!(agenda.next_until(Moment::micros(-8)), None);
    assert_eq!(
        agenda.next_until(Moment::micros(-7)),
        Some((Moment::micros(-7), "before midnight"))
    );
    assert_eq!(agenda.next(), Some((Moment::NEVER, "never")));
}

#[test]
fn a_shuffled_calendar_shuffles_only_ties_of_one_class() {
    let order_of = |seed: Option<u64>| -> Vec<u32> {
        let mut agenda = seed.map_or_else(EventCalendar::new, EventCalendar::shuffled);
        for event in 0..30 {
            agenda.schedule(
                Moment::micros(i64::from(event / 15)),
                (event / 5 % 3) as u8,
                event,
            );
        }
        std::iter::from_fn(|| agenda.next().map(|(_, event)| event)).collect()
    };
    let (plain, one, two) = (order_of(None), order_of(Some(1)), order_of(Some(2)));
    assert!(plain.is_sorted());
    assert!(one != plain && two != plain && one != two);
    for order in [one, two] {
        assert!(
            order.iter().map(|event| event / 5).is_sorted(),
            "groups of one time and class stay together"
        );
    }
}

#[test]
fn clearing_keeps_handles_harmless() {
    let mut agenda = EventCalendar::new();
    let handle = agenda.schedule(Moment::ZERO, ENDS, 1);
    agenda.clear();
    assert!(agenda.is_empty() && !agenda.is_pending(handle));
}

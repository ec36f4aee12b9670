//! The event calendar: what is due next, in an order that is fully stated.
//!
//! The order of events is (time, class, serial): first by time, then by class, smaller first, then in the order in
//! which they were scheduled. The caller numbers the classes, so that ends and returns ([`ENDS`]) come before
//! starts ([`STARTS`]).
//!
//! The key of an event is packed into 128 bits, so that one comparison settles the order: 60 bits of time, 8 of
//! class, 36 of serial, 24 of the slot that holds the event. Keys are kept inverted, the greatest being due next.
//! A few pending events stand in a sorted array and leave at its end; beyond [`ARRAY_MOST`] they move to a binary
//! heap of the same keys. See `benches/kernel.rs` for the figures behind that number.

use std::collections::BinaryHeap;
use tankday_base::units::Moment;

/// The class of ends and returns: what frees a person, a place or an item.
pub const ENDS: u8 = 0;
/// The class of starts: what takes them.
pub const STARTS: u8 = 128;
/// So many events may be pending at once; more are refused.
pub const MOST_PENDING: usize = (1 << SLOT_BITS) - 1;
/// Above so many pending events the calendar is a heap, below a sorted array.
pub const ARRAY_MOST: usize = 32;
/// A heap that has shrunk to this size becomes an array again; well below [`ARRAY_MOST`], so that it does not flutter.
const ARRAY_AGAIN: usize = ARRAY_MOST / 4;

const SLOT_BITS: u32 = 24;
const SERIAL_BITS: u32 = 36;
const SERIAL_END: u64 = 1 << SERIAL_BITS;
/// Half the range of packed time: 18,000 years either way.
const FAR: i64 = 1 << 59;

/// Names a scheduled event, for [`EventCalendar::cancel`]. Of no effect once the event has happened or was cancelled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Handle {
    slot: u32,
    generation: u32,
}

/// The place of one pending event.
#[derive(Debug, Clone)]
struct Slot<E> {
    key: u128,
    generation: u32,
    event: Option<E>,
}

/// Pending keys, inverted: the greatest is due next.
#[derive(Debug, Clone)]
enum Keys {
    /// In rising order, so that the next one leaves at the end.
    Array(Vec<u128>),
    Heap(BinaryHeap<u128>),
}

/// An event calendar over the caller's own type of event.
///
/// Scheduling, taking the next event and cancelling allocate nothing once the calendar has reached its size.
///
/// ```
/// use tankday_line::kernel::{EventCalendar, ENDS, STARTS};
/// use tankday_base::units::Moment;
///
/// let mut calendar = EventCalendar::new();
/// let noon = Moment::micros(12 * 3_600_000_000);
/// calendar.schedule(noon, STARTS, "soak starts");
/// let end = calendar.schedule(noon, ENDS, "rinse ends");
/// calendar.schedule(noon, ENDS, "oil ends");
/// assert!(calendar.cancel(end).is_some());
/// assert_eq!(calendar.next(), Some((noon, "oil ends")));
/// assert_eq!(calendar.next(), Some((noon, "soak starts")));
/// assert_eq!(calendar.next(), None);
/// ```
#[derive(Debug, Clone)]
pub struct EventCalendar<E> {
    keys: Keys,
    slots: Vec<Slot<E>>,
    free: Vec<u32>,
    serial: u64,
    /// Keys in the heap whose event was cancelled; they are dropped when they reach the top.
    stale: usize,
    shuffle: Option<u64>,
}

impl<E> Default for EventCalendar<E> {
    fn default() -> Self {
        Self::new()
    }
}

impl<E> EventCalendar<E> {
    /// An empty calendar.
    #[must_use]
    pub fn new() -> Self {
        Self {
            keys: Keys::Array(Vec::with_capacity(ARRAY_MOST + 1)),
            slots: Vec::with_capacity(ARRAY_MOST + 1),
            free: Vec::with_capacity(ARRAY_MOST + 1),
            serial: 0,
            stale: 0,
            shuffle: None,
        }
    }

    /// A calendar for tests: events of one time and class come in an order shuffled by `seed`, which shows what
    /// results hang on the order of scheduling.
    #[must_use]
    pub fn shuffled(seed: u64) -> Self {
        Self {
            shuffle: Some(seed),
            ..Self::new()
        }
    }

    /// Puts an event on the calendar. A time more than 18,000 years off is taken as [`Moment::NEVER`] (or as that
    /// far back). With [`MOST_PENDING`] events pending the event is refused: its handle is not pending.
    #[inline]
    pub fn schedule(&mut self, at: Moment, class: u8, event: E) -> Handle {
        if self.serial >= SERIAL_END {
            self.renumber();
        }
        let Some(slot) = self.take_slot() else {
            return Handle {
                slot: u32::MAX,
                generation: 0,
            };
        };
        let serial = self
            .shuffle
            .map_or(self.serial, |seed| shuffled_serial(self.serial, seed));
        let key = pack(at, class, serial, slot);
        self.serial += 1;
        let generation = self.fill(slot, key, event);
        self.insert(key);
        Handle { slot, generation }
    }

    /// Takes the next event off the calendar, with its time.
    #[inline]
    #[expect(
        clippy::should_implement_trait,
        reason = "a calendar that is scheduled upon is no iterator"
    )]
    pub fn next(&mut self) -> Option<(Moment, E)> {
        let key = match &mut self.keys {
            Keys::Array(array) => array.pop()?,
            Keys::Heap(heap) => {
                let key = heap.pop()?;
                self.after_heap_shrank();
                key
            }
        };
        let event = self.empty_slot(slot_of(key))?;
        Some((time_of(key), event))
    }

    /// Takes the next event only if it is due at or before `until`.
    #[inline]
    pub fn next_until(&mut self, until: Moment) -> Option<(Moment, E)> {
        if self.peek_time()? > until {
            return None;
        }
        self.next()
    }

    /// The time of the next event.
    #[inline]
    #[must_use]
    pub fn peek_time(&self) -> Option<Moment> {
        match &self.keys {
            Keys::Array(array) => array.last(),
            Keys::Heap(heap) => heap.peek(),
        }
        .map(|&key| time_of(key))
    }

    /// Takes a pending event off the calendar and hands it back; `None` when it has happened or was cancelled before.
    pub fn cancel(&mut self, handle: Handle) -> Option<E> {
        if !self.is_pending(handle) {
            return None;
        }
        let key = self.slots.get(handle.slot as usize)?.key;
        let event = self.empty_slot(handle.slot);
        match &mut self.keys {
            Keys::Array(array) => {
                if let Ok(place) = array.binary_search(&key) {
                    array.remove(place);
                }
            }
            Keys::Heap(_) => {
                self.stale += 1;
                self.after_heap_shrank();
            }
        }
        event
    }

    /// Whether the event of this handle is still to come.
    #[inline]
    #[must_use]
    pub fn is_pending(&self, handle: Handle) -> bool {
        self.slots
            .get(handle.slot as usize)
            .is_some_and(|slot| slot.generation == handle.generation && slot.event.is_some())
    }

    /// How many events are pending.
    #[must_use]
    pub fn len(&self) -> usize {
        match &self.keys {
            Keys::Array(array) => array.len(),
            Keys::Heap(heap) => heap.len() - self.stale,
        }
    }

    /// Whether nothing is pending.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Removes every event and keeps the memory. Handles of removed events stay without effect.
    pub fn clear(&mut self) {
        while self.next().is_some() {}
        self.serial = 0;
    }

    #[inline]
    fn take_slot(&mut self) -> Option<u32> {
        if let Some(slot) = self.free.pop() {
            return Some(slot);
        }
        if self.slots.len() >= MOST_PENDING {
            return None;
        }
        self.slots.push(Slot {
            key: 0,
            generation: 0,
            event: None,
        });
        u32::try_from(self.slots.len() - 1).ok()
    }

    #[inline]
    fn fill(&mut self, slot: u32, key: u128, event: E) -> u32 {
        self.slots.get_mut(slot as usize).map_or(0, |place| {
            place.key = key;
            place.event = Some(event);
            place.generation
        })
    }

    #[inline]
    fn empty_slot(&mut self, slot: u32) -> Option<E> {
        let place = self.slots.get_mut(slot as usize)?;
        place.generation = place.generation.wrapping_add(1);
        self.free.push(slot);
        place.event.take()
    }

    #[inline]
    fn insert(&mut self, key: u128) {
        match &mut self.keys {
            Keys::Array(array) if array.len() < ARRAY_MOST => insert_sorted(array, key),
            Keys::Array(array) => {
                array.push(key);
                self.keys = Keys::Heap(BinaryHeap::from(std::mem::take(array)));
            }
            Keys::Heap(heap) => heap.push(key),
        }
    }

    /// Drops cancelled keys from the top, sweeps them out when they are the greater part, and returns to an array
    /// when few events are left.
    #[inline]
    fn after_heap_shrank(&mut self) {
        let Keys::Heap(heap) = &mut self.keys else {
            return;
        };
        if self.stale > 0 {
            while let Some(&key) = heap.peek() {
                if is_live(&self.slots, key) {
                    break;
                }
                heap.pop();
                self.stale -= 1;
            }
            if self.stale > heap.len() / 2 {
                let slots = &self.slots;
                heap.retain(|&key| is_live(slots, key));
                self.stale = 0;
            }
        }
        if heap.len() <= ARRAY_AGAIN && self.stale == 0 {
            self.keys = Keys::Array(std::mem::take(heap).into_sorted_vec());
        }
    }

    /// Gives the pending events new serials from 0 in their order, once in 2^36 events, so that serials never wrap.
    #[cold]
    fn renumber(&mut self) {
        let sorted = match std::mem::replace(&mut self.keys, Keys::Array(Vec::new())) {
            Keys::Array(array) => array,
            Keys::Heap(heap) => heap.into_sorted_vec(),
        };
        let mut renewed = Vec::with_capacity(sorted.len().max(ARRAY_MOST + 1));
        self.serial = 0;
        for key in sorted.into_iter().rev() {
            if !is_live(&self.slots, key) {
                continue;
            }
            let slot = slot_of(key);
            let fresh = pack(time_of(key), class_of(key), self.serial, slot);
            if let Some(place) = self.slots.get_mut(slot as usize) {
                place.key = fresh;
            }
            renewed.push(fresh);
            self.serial += 1;
        }
        renewed.reverse();
        self.stale = 0;
        self.keys = if renewed.len() <= ARRAY_MOST {
            Keys::Array(renewed)
        } else {
            Keys::Heap(BinaryHeap::from(renewed))
        };
    }
}

/// Whether the event of this key is still in its slot; the key of a reused slot differs in its serial.
#[inline]
fn is_live<E>(slots: &[Slot<E>], key: u128) -> bool {
    slots
        .get(slot_of(key) as usize)
        .is_some_and(|place| place.key == key && place.event.is_some())
}

/// Puts a key in its place from the end, where near events stand: most are due soon. Moving the keys one by one is
/// faster here than a search and a block move.
#[inline]
fn insert_sorted(array: &mut Vec<u128>, key: u128) {
    array.push(key);
    let mut rest = array.as_mut_slice();
    while let [head @ .., last] = rest
        && let Some(before) = head.last_mut()
        && *before > key
    {
        *last = *before;
        *before = key;
        rest = head;
    }
}

#[inline]
fn pack(at: Moment, class: u8, serial: u64, slot: u32) -> u128 {
    let time = (at.in_micros().clamp(-FAR, FAR - 1) + FAR) as u128;
    let low = (u128::from(class) << (SERIAL_BITS + SLOT_BITS))
        | (u128::from(serial) << SLOT_BITS)
        | u128::from(slot);
    !((time << 68) | low)
}

#[inline]
fn time_of(key: u128) -> Moment {
    let micros = (!key >> 68) as i64 - FAR;
    if micros == FAR - 1 {
        Moment::NEVER
    } else {
        Moment::micros(micros)
    }
}

#[inline]
fn class_of(key: u128) -> u8 {
    (!key >> (SERIAL_BITS + SLOT_BITS)) as u8
}

#[inline]
fn slot_of(key: u128) -> u32 {
    (!key as u32) & ((1 << SLOT_BITS) - 1)
}

/// Another serial in place of this one, spread by multiplication so that neighbours land far apart.
fn shuffled_serial(serial: u64, seed: u64) -> u64 {
    let mut z = (serial ^ seed).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    z = (z ^ (z >> 32)).wrapping_mul(0xd6e8_feb8_6659_fd93);
    (z ^ (z >> 32)) >> (64 - SERIAL_BITS)
}

#[cfg(test)]
#[path = "agenda_tests.rs"]
mod tests;

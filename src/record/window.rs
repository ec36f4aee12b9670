//! Slots for things numbered in the order of their coming that leave in nearly the same order: memory follows how many
//! are there at once, not how many there have been.

use std::collections::VecDeque;

/// Numbers that skip further ahead than this belong to no run of ours and are not kept.
const FURTHEST_SKIP: usize = 1 << 20;

/// A window over things with rising numbers.
#[derive(Debug, Clone)]
pub(crate) struct Window<T> {
    first: u32,
    slots: VecDeque<Option<T>>,
}

impl<T> Default for Window<T> {
    fn default() -> Self {
        Self {
            first: 0,
            slots: VecDeque::new(),
        }
    }
}

impl<T> Window<T> {
    /// Puts a thing at its number; numbers before the window are forgotten and stay so.
    pub(crate) fn insert(&mut self, no: u32, thing: T) {
        if self.slots.is_empty() {
            self.first = self.first.max(no);
        }
        let Some(at) = no.checked_sub(self.first).map(|i| i as usize) else {
            return;
        };
        if at > self.slots.len() + FURTHEST_SKIP {
            return;
        }
        while self.slots.len() <= at {
            self.slots.push_back(None);
        }
        if let Some(slot) = self.slots.get_mut(at) {
            *slot = Some(thing);
        }
    }

    /// The thing at a number, if it is still there.
    pub(crate) fn get_mut(&mut self, no: u32) -> Option<&mut T> {
        let at = no.checked_sub(self.first)? as usize;
        self.slots.get_mut(at)?.as_mut()
    }

    /// Takes the thing at a number out.
    pub(crate) fn remove(&mut self, no: u32) -> Option<T> {
        let at = no.checked_sub(self.first)? as usize;
        let gone = self.slots.get_mut(at)?.take();
        while matches!(self.slots.front(), Some(None)) {
            self.slots.pop_front();
            self.first += 1;
        }
        gone
    }

    /// What is still there, in order of number.
    pub(crate) fn iter(&self) -> impl Iterator<Item = &T> {
        self.slots.iter().flatten()
    }

    /// Slots held at present.
    #[cfg(test)]
    pub(crate) fn held(&self) -> usize {
        self.slots.len()
    }
}

#[cfg(test)]
mod tests {
    use super::Window;

    #[test]
    fn memory_follows_what_is_there_at_once() {
        let mut w = Window::default();
        for no in 0..100_000u32 {
            w.insert(no, no);
            if let Some(old) = no.checked_sub(10) {
                assert_eq!(w.remove(old), Some(old));
            }
        }
        assert_eq!(w.held(), 10);
        assert_eq!(w.get_mut(99_999), Some(&mut 99_999));
        assert_eq!(w.get_mut(5), None);
    }

    #[test]
    fn a_number_out_of_all_proportion_is_not_kept() {
        let mut w = Window::default();
        w.insert(0, 'a');
        w.insert(u32::MAX, 'b');
        assert_eq!(w.held(), 1);
    }
}

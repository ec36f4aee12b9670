//! Batch service: one that takes several at once.

use super::waiting::{Waiting, WaitingLine};

/// A server that takes up to `most` items at once, and starts when at least `least` of them wait.
///
/// The caller keeps its clock: the batch says what is inside, the calendar when it ends.
///
/// ```
/// use tankday_line::kernel::{Batch, WaitingLine};
/// use tankday_base::units::Moment;
///
/// let mut line = WaitingLine::first_come();
/// for item in 0..5 {
///     line.join(item, Moment::ZERO);
/// }
/// let mut tank = Batch::new(1, 3);
/// assert_eq!(tank.start(&mut line), 3);
/// assert_eq!(tank.start(&mut line), 0, "nobody joins a running batch");
/// assert_eq!(tank.finish().map(|w| w.item).collect::<Vec<_>>(), [0, 1, 2]);
/// ```
#[derive(Debug, Clone)]
pub struct Batch<T> {
    least: usize,
    most: usize,
    inside: Vec<Waiting<T>>,
}

impl<T> Batch<T> {
    /// An empty server. `most` counts at least as 1, `least` as 1 to `most`.
    #[must_use]
    pub fn new(least: usize, most: usize) -> Self {
        let most = most.max(1);
        Self {
            least: least.clamp(1, most),
            most,
            inside: Vec::new(),
        }
    }

    /// Whether a batch is inside.
    #[inline]
    #[must_use]
    pub fn is_running(&self) -> bool {
        !self.inside.is_empty()
    }

    /// Whether a batch could start now with those who wait.
    #[inline]
    #[must_use]
    pub fn can_start(&self, waiting: usize) -> bool {
        !self.is_running() && waiting >= self.least
    }

    /// Starts a batch if one can start, taking as many as fit in the line's order; returns how many it took.
    #[inline]
    pub fn start(&mut self, line: &mut WaitingLine<T>) -> usize {
        if !self.can_start(line.len()) {
            return 0;
        }
        while self.inside.len() < self.most
            && let Some(next) = line.take()
        {
            self.inside.push(next);
        }
        self.inside.len()
    }

    /// Lets one more into a running batch, for services that allow it.
    ///
    /// # Errors
    /// Hands it back when nothing runs or the batch is full.
    pub fn join_running(&mut self, one: Waiting<T>) -> Result<(), Waiting<T>> {
        if !self.is_running() || self.inside.len() >= self.most {
            return Err(one);
        }
        self.inside.push(one);
        Ok(())
    }

    /// Those inside, in the order in which they went in.
    #[must_use]
    pub fn inside(&self) -> &[Waiting<T>] {
        &self.inside
    }

    /// Ends the batch and hands out its items.
    #[inline]
    pub fn finish(&mut self) -> impl Iterator<Item = Waiting<T>> + '_ {
        self.inside.drain(..)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tankday_base::units::Moment;

    fn line_of(count: u32) -> WaitingLine<u32> {
        let mut line = WaitingLine::first_come();
        for item in 0..count {
            line.join(item, Moment::ZERO);
        }
        line
    }

    #[test]
    fn waits_for_the_least_number() {
        let mut tank = Batch::new(2, 4);
        assert_eq!(tank.start(&mut line_of(1)), 0);
        assert_eq!(tank.start(&mut line_of(3)), 3);
    }

    #[test]
    fn a_running_batch_admits_only_while_there_is_room() {
        let mut line = line_of(2);
        let mut late = line_of(2);
        let mut tank = Batch::new(1, 3);
        let (first, second) = (late.take().unwrap(), late.take().unwrap());
        assert!(tank.join_running(first).is_err(), "nothing runs yet");
        tank.start(&mut line);
        assert!(tank.join_running(first).is_ok());
        assert!(tank.join_running(second).is_err(), "full");
        assert_eq!(tank.finish().count(), 3);
        assert!(!tank.is_running());
    }

    #[test]
    fn senseless_sizes_become_the_nearest_sensible_ones() {
        let mut tank = Batch::new(9, 0);
        assert_eq!(tank.start(&mut line_of(2)), 1);
    }
}

//! What the line numbers for itself, and vectors that only their own number indexes.

use std::marker::PhantomData;
use std::ops::{Deref, DerefMut, Index, IndexMut};
use tankday_base::shop::{OrderId, PartId, RouteId, StationId, StepIx, VesselId};

/// A number that stands for one thing of a kind.
pub(super) trait Id: Copy {
    fn at(number: u32) -> Self;
    fn place(self) -> usize;
}

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident),+ $(,)?) => { $(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub(super) struct $name(pub(super) u32);

        impl Id for $name {
            #[inline]
            fn at(number: u32) -> Self { Self(number) }
            #[inline]
            fn place(self) -> usize { self.0 as usize }
        }
    )+ };
}

macro_rules! ids_of_the_shop {
    ($($name:ident),+) => { $(
        impl Id for $name {
            #[inline]
            fn at(number: u32) -> Self { Self(number) }
            #[inline]
            fn place(self) -> usize { self.0 as usize }
        }
    )+ };
}

ids!(
    /// A tank: stations that are tanks, in their order.
    TankIx,
    /// A waiting line.
    LineIx,
    /// A pair of hands.
    HandIx,
    /// A load under way; used again when it is gone.
    LoadIx,
    /// An order under way; used again when it is ready.
    ComeIx,
);

ids_of_the_shop!(OrderId, PartId, RouteId, StationId, StepIx, VesselId);

/// The bit of a step in a set of steps of its route.
#[inline]
pub(super) const fn bit(step: StepIx) -> u64 {
    1 << step.0
}

impl LoadIx {
    /// No load.
    pub(super) const NONE: Self = Self(u32::MAX);
}

impl HandIx {
    /// No hands.
    pub(super) const NONE: Self = Self(u32::MAX);
}

/// Something for each of a kind, by number.
#[derive(Debug, Clone)]
pub(super) struct Of<I, T> {
    all: Vec<T>,
    by: PhantomData<I>,
}

impl<I: Id, T> Of<I, T> {
    pub(super) const fn new() -> Self {
        Self {
            all: Vec::new(),
            by: PhantomData,
        }
    }

    pub(super) fn push(&mut self, thing: T) {
        self.all.push(thing);
    }

    /// Every number that indexes it.
    pub(super) fn ids(&self) -> impl Iterator<Item = I> + use<I, T> {
        (0..self.all.len() as u32).map(I::at)
    }

    /// What has this number, if anything does.
    pub(super) fn find(&self, id: I) -> Option<&T> {
        self.all.get(id.place())
    }

    pub(super) fn find_mut(&mut self, id: I) -> Option<&mut T> {
        self.all.get_mut(id.place())
    }
}

impl<I: Id, T: Clone> Of<I, T> {
    /// The same for so many.
    pub(super) fn same(thing: T, many: usize) -> Self {
        Self {
            all: vec![thing; many],
            by: PhantomData,
        }
    }
}

impl<I, T> FromIterator<T> for Of<I, T> {
    fn from_iter<A: IntoIterator<Item = T>>(things: A) -> Self {
        Self {
            all: things.into_iter().collect(),
            by: PhantomData,
        }
    }
}

impl<I, T> Deref for Of<I, T> {
    type Target = [T];
    #[inline]
    fn deref(&self) -> &[T] {
        &self.all
    }
}

impl<I, T> DerefMut for Of<I, T> {
    #[inline]
    fn deref_mut(&mut self) -> &mut [T] {
        &mut self.all
    }
}

impl<I: Id, T> Index<I> for Of<I, T> {
    type Output = T;
    #[inline]
    fn index(&self, id: I) -> &T {
        &self.all[id.place()]
    }
}

impl<I: Id, T> IndexMut<I> for Of<I, T> {
    #[inline]
    fn index_mut(&mut self, id: I) -> &mut T {
        &mut self.all[id.place()]
    }
}

impl<'o, I, T> IntoIterator for &'o Of<I, T> {
    type Item = &'o T;
    type IntoIter = std::slice::Iter<'o, T>;
    fn into_iter(self) -> Self::IntoIter {
        self.all.iter()
    }
}

//! Ids that index the vectors of a [`Shop`](super::Shop): cheap, ordered, and not to be mixed up.

macro_rules! id {
    ($($(#[$doc:meta])* $name:ident),+ $(,)?) => { $(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
        pub struct $name(pub u32);

        impl $name {
            /// As an index into the vector that it belongs to.
            #[must_use]
            pub const fn index(self) -> usize { self.0 as usize }
        }
    )+ };
}

id!(
    /// Indexes [`Shop::stations`](super::Shop::stations); tanks are stations.
    StationId,
    /// Indexes [`Shop::baths`](super::Shop::baths).
    BathId,
    /// Indexes [`Shop::vessels`](super::Shop::vessels).
    VesselId,
    /// Indexes [`Shop::materials`](super::Shop::materials).
    MaterialId,
    /// Indexes [`Shop::parts`](super::Shop::parts).
    PartId,
    /// Indexes [`Shop::routes`](super::Shop::routes).
    RouteId,
    /// Indexes [`Shop::orders`](super::Shop::orders).
    OrderId,
    /// Indexes [`Route::steps`](super::Route::steps) of one route.
    StepIx,
);

/// One step of one route.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct StepRef {
    /// The route.
    pub route: RouteId,
    /// The step on it.
    pub step: StepIx,
}

//! How property tests run. A case that failed is kept in `tests/data/regressions`, in a file named after its test's, and is
//! tried first at every later run. Nothing is written where nothing fails; what is written belongs into the repository.

use proptest::prelude::ProptestConfig;
use proptest::test_runner::{FileFailurePersistence, RngSeed};

/// So many cases, others at every run.
pub(crate) fn keeping(cases: u32) -> ProptestConfig {
    // Seen from the folder that holds tests/.
    let kept = FileFailurePersistence::SourceParallel("tests/data/regressions");
    ProptestConfig {
        failure_persistence: Some(Box::new(kept)),
        ..ProptestConfig::with_cases(cases)
    }
}

/// So many cases, the same at every run.
pub(crate) fn the_same(cases: u32, seed: u64) -> ProptestConfig {
    ProptestConfig {
        rng_seed: RngSeed::Fixed(seed),
        ..keeping(cases)
    }
}

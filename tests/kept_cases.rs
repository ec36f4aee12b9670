//! How property tests run: on the same cases at every run, so that what is green stays green until something changes; on
//! others with `PROPTEST_RNG_SEED=7 cargo test`. A case that failed is kept in `tests/data/regressions`, in a file named after
//! its test's, and is tried first at every later run. Nothing is written where nothing fails; what is written belongs into the
//! repository.

use proptest::prelude::ProptestConfig;
use proptest::test_runner::{FileFailurePersistence, RngSeed};

/// So many cases.
pub(crate) fn keeping(cases: u32) -> ProptestConfig {
    the_same(cases, 2026)
}

/// So many cases, drawn with this seed unless the environment names another.
pub(crate) fn the_same(cases: u32, seed: u64) -> ProptestConfig {
    // Seen from the folder that holds tests/.
    let kept = FileFailurePersistence::SourceParallel("tests/data/regressions");
    let config = ProptestConfig {
        failure_persistence: Some(Box::new(kept)),
        ..ProptestConfig::with_cases(cases)
    };
    match config.rng_seed {
        RngSeed::Random => ProptestConfig {
            rng_seed: RngSeed::Fixed(seed),
            ..config
        },
        RngSeed::Fixed(_) => config,
    }
}

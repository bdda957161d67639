//! How many cases a property is tried with, said in one place.

use proptest::test_runner::{Config, RngSeed};

/// A thousand cases, or as many as proptest's own `PROPTEST_CASES` says: 100 000 in the long run. From a seed of its own, so that
/// a run can be repeated; `PROPTEST_RNG_SEED` gives another. `Config::with_cases` would ignore the first of them.
pub fn sampling(seed: u64) -> Config {
    let asked = Config { failure_persistence: None, ..Config::default() };
    let cases = if std::env::var_os("PROPTEST_CASES").is_some() { asked.cases } else { 1000 };
    let rng_seed = if asked.rng_seed == RngSeed::Random { RngSeed::Fixed(seed) } else { asked.rng_seed };
    Config { cases, rng_seed, ..asked }
}

/// The same for a property whose single case is that many times as much work as others': so many times fewer of them.
pub fn sampling_each(seed: u64, work: u32) -> Config {
    let asked = sampling(seed);
    Config { cases: (asked.cases / work).max(1), ..asked }
}

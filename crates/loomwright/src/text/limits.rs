//! How much of a text is read: the one list of bounds that keep a hostile file from taking memory or time.
//!
//! Bounds of what is computed stand with the study that has them: samples, steps and threads in `forecast` and `tolerance`,
//! edited plans in `remedy`, the work of one judgement in `judge`.

/// Largest plan file in bytes.
pub const LARGEST_PLAN: usize = 1 << 20;
/// Largest readings file in bytes.
pub const LARGEST_READINGS: usize = 1 << 20;
/// Largest weather file in bytes: ten years of hours.
pub const LARGEST_WEATHER: usize = 16 << 20;

/// Most mistakes told of one plan or readings file.
pub(super) const MOST_MISTAKES: usize = 100;
/// The same of weather, whose lines are made by a machine and go wrong alike.
pub(super) const MOST_WEATHER_MISTAKES: usize = 20;
/// Most mistakes of TOML itself that are gathered of a readings file, whose rest is then told by its number.
pub(super) const MOST_BROKEN: usize = 10_000;
/// Most characters of a mistake, and of its key: what was given may be as long as the file.
pub(super) const LONGEST_MISTAKE: usize = 2000;
pub(super) const LONGEST_KEY: usize = 100;

/// Most entries of one section, and most values of one list.
pub(super) const MOST_ENTRIES: usize = 300;
/// Most batteries: the lowest fault of each fuse is sought for every one of them.
pub(super) const MOST_BATTERIES: usize = 24;
/// Most characters of a name, and of any other text.
pub(super) const LONGEST_NAME: usize = 40;
pub(super) const LONGEST_TEXT: usize = 200;
/// The same of one value of a list, such as a spell with its dates.
pub(super) const LONGEST_LISTED: usize = 1000;
/// Most cases of a plan's own, and most of those in which one load starts.
pub(super) const MOST_CASES: usize = 24;
pub(super) const MOST_STARTS: usize = 24;
/// Most stays, the days of one, and spells of one key.
pub(super) const MOST_STAYS: usize = 60;
pub(super) const LONGEST_STAY_DAYS: u32 = 366;
pub(super) const MOST_SPELLS: usize = 40;

/// Most readings of one file; `reconcile` takes as many of all files together.
pub(super) const MOST_READINGS: usize = 5000;

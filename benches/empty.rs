//! The benches of this package need no library.

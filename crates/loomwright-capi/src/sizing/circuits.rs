//! One circuit, and arrays of them on several threads.

use std::sync::atomic::{AtomicUsize, Ordering};

use loomwright::study::cable::size;

use super::query::{LEAST_QUERY, lw_circuit_query, read_query};
use super::refused;
use super::result::{LEAST_RESULT, lw_circuit_result, result_size, write_result};
use crate::border::{Failure, lw_status, run, usable, writable};

/// Sizes one circuit: the smallest standard conductor, with its fuse, that satisfies every check at once.
///
/// Returns `LW_OK` also where no size passes: `result.status` is then `LW_NO_VALUE`. A query of another size than this
/// library's is refused with `LW_BAD_SIZE`; of a larger result only the known fields are written.
///
/// # Safety
/// `query` is null or points to a struct of the size that it says; so does `result`, which may be written.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_size_circuit(query: *const lw_circuit_query, result: *mut lw_circuit_result) -> i32 {
    run(|| {
        // SAFETY: the caller's promises are passed on unchanged.
        let (query, stated) = unsafe { (read_query(query)?, result_size(result)?) };
        let sized = size(&query.read()?).map_err(|error| refused(&error))?;
        // SAFETY: checked above, and as large as it says.
        unsafe { write_result(result, stated, lw_circuit_result::of(&sized)) };
        Ok(())
    })
}

/// Rows that a thread takes at a time.
const ROWS_AT_A_TIME: usize = 64;
/// Most threads that are started.
const MOST_THREADS: i32 = 256;

/// Pointers that threads share: each row is read and written by one thread only.
#[derive(Clone, Copy)]
struct Rows {
    queries: *const u8,
    query_stride: usize,
    results: *mut u8,
    result_stride: usize,
}

// SAFETY: the caller promises that all rows may be read and written from any thread until the call returns, and each row is
// taken by one thread.
unsafe impl Send for Rows {}
// SAFETY: as above.
unsafe impl Sync for Rows {}

impl Rows {
    /// Sizes one row; its status says what went wrong there.
    ///
    /// # Safety
    /// `row` is below the count for which the caller promised rows of both strides.
    unsafe fn size(&self, row: usize) {
        // SAFETY: the caller promises that many rows of these strides, so both stay within their arrays.
        let (query, result) = unsafe {
            let query = self.queries.add(row * self.query_stride).cast::<lw_circuit_query>();
            (query, self.results.add(row * self.result_stride).cast::<lw_circuit_result>())
        };
        // SAFETY: both stay within their arrays, and strides keep them aligned.
        let Ok(stated) = (unsafe { result_size(result) }) else { return };
        let work = || {
            // SAFETY: as above.
            let query = unsafe { read_query(query) }?;
            #[cfg(feature = "panic-on-purpose")]
            assert!((query.current_a - 12345.0).abs() > 0.5, "on purpose");
            size(&query.read()?).map(|sized| lw_circuit_result::of(&sized)).map_err(|error| refused(&error))
        };
        let outcome = std::panic::catch_unwind(std::panic::AssertUnwindSafe(work));
        let found = match outcome {
            Ok(Ok(found)) => found,
            Ok(Err(failure)) => lw_circuit_result::blank(failure.status),
            Err(_) => lw_circuit_result::blank(lw_status::LW_INTERNAL),
        };
        // SAFETY: as above.
        unsafe { write_result(result, stated, found) };
    }
}

fn stride(what: &str, given: usize, least: usize, align: usize) -> Result<usize, Failure> {
    if given >= least && given.is_multiple_of(align) {
        return Ok(given);
    }
    let message = format!("{what} {given} is below {least} or no multiple of {align}");
    Err(Failure::new(lw_status::LW_BAD_SIZE, message))
}

/// Sizes an array of circuits on so many threads; the results are the same on any number of them.
///
/// Query `i` stands `i * query_stride` bytes after `queries`, result `i` `i * result_stride` bytes after `results`. Every
/// row has its own status and, before the call, the `struct_size` of its result set; a row whose result has none is left as
/// it is. `threads`: 1 to 256. Returns `LW_OK` when all rows were gone through.
///
/// # Safety
/// `queries` and `results` are null or hold `count` rows of those strides, which no other thread touches until the call
/// returns.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_size_circuits(
    queries: *const lw_circuit_query,
    query_stride: usize,
    results: *mut lw_circuit_result,
    result_stride: usize,
    count: usize,
    threads: i32,
) -> i32 {
    run(|| {
        if count == 0 {
            return Ok(());
        }
        let rows = Rows {
            queries: usable(queries, "queries")?.cast(),
            query_stride: stride("query_stride", query_stride, LEAST_QUERY, align_of::<lw_circuit_query>())?,
            results: writable(results, "results")?.cast(),
            result_stride: stride("result_stride", result_stride, LEAST_RESULT, align_of::<lw_circuit_result>())?,
        };
        let fits = |stride: usize| count.checked_mul(stride).is_some_and(|bytes| isize::try_from(bytes).is_ok());
        if !fits(rows.query_stride) || !fits(rows.result_stride) {
            return Err(Failure::new(lw_status::LW_OUT_OF_RANGE, format!("{count} rows are more than there can be")));
        }
        if !(1..=MOST_THREADS).contains(&threads) {
            return Err(Failure::new(
                lw_status::LW_OUT_OF_RANGE,
                format!("threads {threads} is outside 1 to {MOST_THREADS}"),
            ));
        }
        let next = AtomicUsize::new(0);
        let work = || {
            let rows = &rows;
            loop {
                let first = next.fetch_add(ROWS_AT_A_TIME, Ordering::Relaxed);
                if first >= count {
                    return;
                }
                for row in first..count.min(first + ROWS_AT_A_TIME) {
                    // SAFETY: below the count, and taken by this thread alone.
                    unsafe { rows.size(row) };
                }
            }
        };
        std::thread::scope(|scope| {
            for _ in 1..threads {
                // Where no more threads can be had, those there are do it all.
                let _ = std::thread::Builder::new().spawn_scoped(scope, work);
            }
            work();
        });
        Ok(())
    })
}

//! What every function shares: status, message per thread, and the border that no panic crosses.

use std::cell::RefCell;
use std::ffi::{CStr, c_char};
use std::panic::AssertUnwindSafe;

/// Status that every function returns; numbers are never reused.
#[repr(i32)]
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(non_camel_case_types, reason = "the names are those of the C header")]
pub enum lw_status {
    /// The result was written.
    LW_OK = 0,
    /// A pointer was null or misaligned.
    LW_BAD_POINTER = 1,
    /// A number was not finite or lay outside its range; the message tells which.
    LW_OUT_OF_RANGE = 2,
    /// An enumerated number that is not known.
    LW_UNKNOWN_VALUE = 3,
    /// No conductor of that kind comes in that material or size; the message names what exists.
    LW_NO_SUCH_CONDUCTOR = 4,
    /// A fault inside the library was caught; please report it.
    LW_INTERNAL = 99,
}

thread_local! {
    static MESSAGE: RefCell<String> = const { RefCell::new(String::new()) };
}

/// A failure with its message.
pub(crate) struct Failure {
    pub(crate) status: lw_status,
    pub(crate) message: String,
}

impl Failure {
    pub(crate) fn new(status: lw_status, message: impl Into<String>) -> Self {
        Self { status, message: message.into() }
    }
}

/// Runs `work`, writes its number to `out`, and turns failures and panics into a status and a message.
///
/// # Safety
/// `out` is null or valid for writing one `double`.
pub(crate) unsafe fn write_number(out: *mut f64, work: impl FnOnce() -> Result<f64, Failure>) -> i32 {
    let outcome = if out.is_null() || !out.is_aligned() {
        Err(Failure::new(lw_status::LW_BAD_POINTER, "the result pointer is null or misaligned"))
    } else {
        std::panic::catch_unwind(AssertUnwindSafe(work))
            .unwrap_or_else(|_| Err(Failure::new(lw_status::LW_INTERNAL, "a fault inside the library was caught")))
    };
    let status = match outcome {
        Ok(number) if number.is_finite() => {
            // SAFETY: `out` is not null and aligned, and the caller promises that it may be written.
            unsafe { out.write(number) };
            set_message(String::new());
            lw_status::LW_OK
        }
        Ok(_) => {
            set_message("the result is not a finite number".into());
            lw_status::LW_OUT_OF_RANGE
        }
        Err(failure) => {
            set_message(failure.message);
            failure.status
        }
    };
    code(status)
}

#[allow(clippy::as_conversions, reason = "a field-less repr(i32) enum has no other conversion")]
fn code(status: lw_status) -> i32 {
    status as i32
}

fn set_message(message: String) {
    // A thread that is being torn down has no message left to set.
    let _ = MESSAGE.try_with(|slot| slot.replace(message));
}

/// Version of this interface: it grows when anything in the header changes its meaning.
#[unsafe(no_mangle)]
pub extern "C" fn lw_abi_version() -> i32 {
    1
}

/// Version of the library, such as "0.1.0": static text, never freed.
#[unsafe(no_mangle)]
pub extern "C" fn lw_version() -> *const c_char {
    static VERSION: &str = concat!(env!("CARGO_PKG_VERSION"), "\0");
    VERSION.as_ptr().cast()
}

/// A status in words: static text, never freed. An unknown number gives "unknown status".
#[unsafe(no_mangle)]
pub extern "C" fn lw_status_text(status: i32) -> *const c_char {
    let text: &'static CStr = match status {
        0 => c"ok",
        1 => c"a pointer is null or misaligned",
        2 => c"a number is not finite or out of range",
        3 => c"an enumerated number is not known",
        4 => c"no such conductor",
        99 => c"a fault inside the library was caught",
        _ => c"unknown status",
    };
    text.as_ptr()
}

/// Copies the message of this thread's last call into `buffer` and returns its whole length in bytes
/// without the terminator; 0 when that call succeeded.
///
/// Call with a null `buffer` and `capacity` 0 to ask for the length. The copy is always terminated, and
/// shorter than the returned length when `capacity` was too small.
///
/// # Safety
/// `buffer` is null or valid for writing `capacity` bytes.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lw_last_message(buffer: *mut c_char, capacity: usize) -> usize {
    MESSAGE
        .try_with(|slot| {
            let message = slot.borrow();
            if !buffer.is_null() && capacity > 0 {
                let mut end = message.len().min(capacity - 1);
                // Never cut through a character.
                while !message.is_char_boundary(end) {
                    end -= 1;
                }
                // SAFETY: the caller promises `capacity` bytes at `buffer`; `end` is below it, and the
                // message is this thread's own, so the two do not overlap.
                unsafe {
                    std::ptr::copy_nonoverlapping(message.as_ptr().cast::<c_char>(), buffer, end);
                    buffer.add(end).write(0);
                }
            }
            message.len()
        })
        .unwrap_or(0)
}

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
    /// A text is not UTF-8.
    LW_BAD_TEXT = 5,
    /// A struct's stated size or an array's stride is not one that this library knows.
    LW_BAD_SIZE = 6,
    /// There is no such number: a fuse that may never open, a current that nothing carries.
    LW_NO_VALUE = 7,
    /// The plan has mistakes; ask for them. Those of measured weather, and of readings of which none can be used, are in the
    /// message.
    LW_REFUSED = 8,
    /// The report has no such field, or it is of another kind.
    LW_NO_FIELD = 9,
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

/// Runs `work`, and turns failures and panics into a status and a message.
pub(crate) fn run(work: impl FnOnce() -> Result<(), Failure>) -> i32 {
    let outcome = std::panic::catch_unwind(AssertUnwindSafe(work))
        .unwrap_or_else(|_| Err(Failure::new(lw_status::LW_INTERNAL, "a fault inside the library was caught")));
    let status = match outcome {
        Ok(()) => {
            set_message(String::new());
            lw_status::LW_OK
        }
        Err(failure) => {
            set_message(failure.message);
            failure.status
        }
    };
    code(status)
}

/// A pointer that may be used: not null, and aligned.
pub(crate) fn usable<T>(pointer: *const T, what: &str) -> Result<*const T, Failure> {
    if pointer.is_null() || !pointer.is_aligned() {
        return Err(Failure::new(lw_status::LW_BAD_POINTER, format!("{what} is null or misaligned")));
    }
    Ok(pointer)
}

/// As [`usable`], to write through.
pub(crate) fn writable<T>(pointer: *mut T, what: &str) -> Result<*mut T, Failure> {
    usable(pointer.cast_const(), what).map(<*const T>::cast_mut)
}

/// Runs `work` and writes its number to `out`.
///
/// # Safety
/// `out` is null or valid for writing one `double`.
pub(crate) unsafe fn write_number(out: *mut f64, work: impl FnOnce() -> Result<f64, Failure>) -> i32 {
    run(|| {
        let out = writable(out, "the result pointer")?;
        let number = work()?;
        if !number.is_finite() {
            return Err(Failure::new(lw_status::LW_NO_VALUE, "the result is not a finite number"));
        }
        // SAFETY: `out` is not null and aligned, and the caller promises that it may be written.
        unsafe { out.write(number) };
        Ok(())
    })
}

/// A terminated text of the caller's.
///
/// # Safety
/// `text` is null or points to a terminated text.
pub(crate) unsafe fn terminated<'a>(text: *const c_char, what: &str) -> Result<&'a str, Failure> {
    let text = usable(text, what)?;
    // SAFETY: not null, and the caller promises a terminator.
    let bytes = unsafe { CStr::from_ptr(text) };
    bytes.to_str().map_err(|_| Failure::new(lw_status::LW_BAD_TEXT, format!("{what} is not UTF-8")))
}

/// A text of the caller's with its length.
///
/// # Safety
/// `text` is null or valid for reading `length` bytes.
pub(crate) unsafe fn counted<'a>(text: *const c_char, length: usize, what: &str) -> Result<&'a str, Failure> {
    if length == 0 {
        return Ok("");
    }
    let text = usable(text, what)?;
    if isize::try_from(length).is_err() {
        return Err(Failure::new(lw_status::LW_OUT_OF_RANGE, format!("{length} bytes are more than there can be")));
    }
    // SAFETY: not null, no longer than an object may be, and the caller promises so many readable bytes.
    let bytes = unsafe { std::slice::from_raw_parts(text.cast::<u8>(), length) };
    std::str::from_utf8(bytes).map_err(|error| {
        let at = error.valid_up_to();
        Failure::new(lw_status::LW_BAD_TEXT, format!("{what} is not UTF-8: the byte at {at} does not belong"))
    })
}

/// A text of the caller's with its length, or none: null with length 0.
///
/// # Safety
/// `text` is null or valid for reading `length` bytes.
pub(crate) unsafe fn perhaps<'a>(text: *const c_char, length: usize, what: &str) -> Result<Option<&'a str>, Failure> {
    if text.is_null() && length == 0 {
        return Ok(None);
    }
    // SAFETY: the caller's promise is passed on unchanged.
    unsafe { counted(text, length, what) }.map(Some)
}

/// Copies a text into a buffer, terminated and never cut through a character; its whole length.
///
/// # Safety
/// `buffer` is null or valid for writing `capacity` bytes.
pub(crate) unsafe fn copy_text(text: &str, buffer: *mut c_char, capacity: usize) -> usize {
    if !buffer.is_null() && capacity > 0 {
        let mut end = text.len().min(capacity - 1);
        while !text.is_char_boundary(end) {
            end -= 1;
        }
        // SAFETY: the caller promises `capacity` bytes at `buffer` and `end` is below it; `text` is the library's own, so
        // the two do not overlap.
        unsafe {
            std::ptr::copy_nonoverlapping(text.as_ptr().cast::<c_char>(), buffer, end);
            buffer.add(end).write(0);
        }
    }
    text.len()
}

#[allow(clippy::as_conversions, reason = "a field-less repr(i32) enum has no other conversion")]
pub(crate) fn code(status: lw_status) -> i32 {
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
        5 => c"a text is not UTF-8",
        6 => c"a struct size or stride is not known",
        7 => c"there is no such number",
        8 => c"the plan, the weather or the readings cannot be used",
        9 => c"the report has no such field",
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
    // SAFETY: the caller's promise is passed on unchanged.
    MESSAGE.try_with(|slot| unsafe { copy_text(&slot.borrow(), buffer, capacity) }).unwrap_or(0)
}

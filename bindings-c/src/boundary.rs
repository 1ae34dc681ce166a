//! What stands between C and the core: pointers, text, panics and ownership.
//!
//! All the unsafe code of the library is here, for columns in [`arrays`](crate::arrays), and in the
//! one line of each export that calls it.

use std::ffi::{CStr, CString, c_char};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::{ptr, slice, str};

use lixivium_core::fault::Faults;
use lixivium_core::wire;

use crate::{LXV_BAD_ARGUMENT, LXV_FAULTS, LXV_INTERNAL, LXV_NOT_UTF8, LXV_OK, LXV_TOO_LARGE};

// With aborting panics the status LXV_INTERNAL would be an empty promise.
#[cfg(not(panic = "unwind"))]
compile_error!("the C library needs unwinding panics: build it without panic = \"abort\"");

/// A status and the JSON text that goes with it.
pub struct Outcome {
    pub status: i32,
    pub json: String,
}

impl Outcome {
    /// An error answer in the form that the core gives its own.
    pub fn fault(status: i32, code: &'static str, at: &str, says: String) -> Self {
        Self {
            status,
            ..Self::faults(&Faults::one(code, at, says))
        }
    }

    /// An error answer with faults of a request.
    pub fn faults(faults: &Faults) -> Self {
        Self {
            status: LXV_FAULTS,
            json: serde_json::to_string(faults).expect("text serialises as JSON"),
        }
    }

    fn internal(says: &str) -> Self {
        let says = format!("a defect of the library: {says}; please report it with the request");
        Self::fault(LXV_INTERNAL, "internal", "", says)
    }
}

/// Text of the caller that ends in NUL; `name` is the parameter's, for the fault.
///
/// # Safety
/// `text` is NULL, or points to bytes that end in NUL and do not change during `'a`.
pub unsafe fn terminated<'a>(text: *const c_char, name: &str) -> Result<&'a str, Outcome> {
    if text.is_null() {
        return Err(null(name));
    }
    // SAFETY: not NULL, so it ends in NUL and does not change, as the caller vouches; that makes
    // as many bytes as counted.
    unsafe { counted(text, CStr::from_ptr(text).count_bytes(), name) }
}

/// Text of the caller with its length; `name` is the parameter's, for the fault.
///
/// # Safety
/// `text` is NULL, or points to `bytes` bytes that do not change during `'a`.
pub unsafe fn counted<'a>(
    text: *const c_char,
    bytes: usize,
    name: &str,
) -> Result<&'a str, Outcome> {
    if text.is_null() {
        return Err(null(name));
    }
    // Before the bytes are looked at: a negative length of the caller arrives as a huge one.
    if bytes > wire::MAX_REQUEST_BYTES {
        return Err(too_large(name));
    }
    // SAFETY: not NULL, so there are as many bytes as stated and they do not change, as the
    // caller vouches.
    let text = unsafe { slice::from_raw_parts(text.cast(), bytes) };
    str::from_utf8(text).map_err(|e| not_utf8(name, e.valid_up_to()))
}

fn not_utf8(name: &str, valid: usize) -> Outcome {
    let says = format!("{name} is not UTF-8: its first {valid} bytes are, what follows is not");
    Outcome::fault(LXV_NOT_UTF8, "not_utf8", name, says)
}

fn null(name: &str) -> Outcome {
    let says = format!("{name} is NULL; it must point to UTF-8 text");
    Outcome::fault(LXV_BAD_ARGUMENT, "null_argument", name, says)
}

fn too_large(name: &str) -> Outcome {
    let says = format!(
        "{name} is longer than {} bytes, which is the most that is read",
        wire::MAX_REQUEST_BYTES
    );
    Outcome::fault(LXV_TOO_LARGE, "request_too_large", name, says)
}

/// Has the core carry out one operation.
pub fn call(operation: &str, request: &str) -> Outcome {
    let reply = wire::call(operation, request);
    Outcome {
        status: if reply.ok { LXV_OK } else { LXV_FAULTS },
        json: reply.json,
    }
}

/// Runs `work`, hands its JSON text to the caller and returns its status.
///
/// # Safety
/// `place` and `length` are each NULL or point to room for one value.
pub unsafe fn answer(
    place: *mut *mut c_char,
    length: *mut usize,
    work: impl FnOnce() -> Result<Outcome, Outcome>,
) -> i32 {
    // SAFETY: `hand_over` has the conditions of this function.
    let hand_over = |text, bytes| unsafe {
        if !place.is_null() {
            place.write(text);
        }
        if !length.is_null() {
            length.write(bytes);
        }
    };
    hand_over(ptr::null_mut(), 0);
    if place.is_null() {
        return LXV_BAD_ARGUMENT;
    }
    let outcome = guarded(work);
    let bytes = outcome.json.len();
    // JSON escapes NUL, so there is none inside.
    let Ok(text) = CString::new(outcome.json) else {
        return LXV_INTERNAL;
    };
    hand_over(text.into_raw(), bytes);
    outcome.status
}

/// Runs `work`; a panic becomes the status LXV_INTERNAL and does not reach the caller.
fn guarded(work: impl FnOnce() -> Result<Outcome, Outcome>) -> Outcome {
    // Nothing outlives a call, so nothing can be left half done.
    match catch_unwind(AssertUnwindSafe(work)) {
        Ok(Ok(outcome) | Err(outcome)) => outcome,
        Err(panic) => Outcome::internal(
            panic
                .downcast_ref::<&str>()
                .copied()
                .or_else(|| panic.downcast_ref::<String>().map(String::as_str))
                .unwrap_or("no reason given"),
        ),
    }
}

/// Runs `work` and hands its figure to the caller: NaN with any status but LXV_OK.
///
/// # Safety
/// `place` is NULL or points to room for one double.
pub unsafe fn figure(place: *mut f64, work: impl FnOnce() -> Result<f64, i32>) -> i32 {
    if place.is_null() {
        return LXV_BAD_ARGUMENT;
    }
    // Nothing outlives a call, so nothing can be left half done.
    let found = catch_unwind(AssertUnwindSafe(work)).unwrap_or(Err(LXV_INTERNAL));
    // SAFETY: not NULL, so there is room for a double, as the caller vouches.
    unsafe { place.write(found.unwrap_or(f64::NAN)) };
    found.err().unwrap_or(LXV_OK)
}

/// The figure that `work` writes to the place it is given.
pub fn or_nan(work: impl FnOnce(*mut f64) -> i32) -> f64 {
    let mut figure = f64::NAN;
    work(&raw mut figure);
    figure
}

/// Releases what [`answer`] handed over.
///
/// # Safety
/// `text` is NULL or comes from [`answer`] and has not been released.
pub unsafe fn release(text: *mut c_char) {
    if !text.is_null() {
        // SAFETY: it comes from `CString::into_raw` in `answer`, and only this call takes it back.
        drop(unsafe { CString::from_raw(text) });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_panic_becomes_an_internal_fault() {
        for panicking in [
            (|| panic!("plain")) as fn() -> Result<Outcome, Outcome>,
            || panic!("{}", "formatted"),
        ] {
            let outcome = guarded(panicking);
            assert_eq!(outcome.status, LXV_INTERNAL);
            assert!(
                outcome
                    .json
                    .starts_with(r#"{"error":{"faults":[{"code":"internal""#)
            );
            assert!(outcome.json.contains("plain") || outcome.json.contains("formatted"));
        }
    }

    #[test]
    fn a_panic_becomes_an_internal_status_and_nan() {
        let mut place = 1.0;
        // SAFETY: the place is a double.
        let status = unsafe { figure(&raw mut place, || panic!("on purpose")) };
        assert_eq!(status, LXV_INTERNAL);
        assert!(place.is_nan());
    }

    #[test]
    fn the_version_is_the_cores() {
        // SAFETY: the library's own text, which ends in NUL.
        let version = unsafe { CStr::from_ptr(crate::lxv_version()) };
        assert_eq!(version.to_str(), Ok(lixivium_core::VERSION));
    }
}

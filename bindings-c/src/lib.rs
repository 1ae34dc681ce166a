//! C library of Lixivium: what `liblixivium` exports, one thin function each.
//!
//! The comments on the exported items are written for a reader of C: `include/lixivium.h` is
//! generated from them. How pointers, text and panics are handled is in [`boundary`].

#![allow(
    clippy::missing_safety_doc,
    reason = "the header's conventions say what every pointer must be"
)]

mod arrays;
mod boundary;

// In the order in which the header has them; the first brings a macro for the others.
#[macro_use]
mod reasons;

mod scalars;

mod columns;

use std::ffi::{CStr, c_char};
use std::ptr;

/// Version of the ABI that this header describes; it is the number in the name of the shared
/// library, liblixivium.so.1. A new operation or a new function does not change it. A program
/// that loads the library by itself compares it with lxv_abi_version().
pub const LXV_ABI_VERSION: u32 = 1;

/// The answer is the one asked for.
pub const LXV_OK: i32 = 0;

/// The request has faults; the answer lists all of them.
pub const LXV_FAULTS: i32 = 1;

/// A pointer that must not be NULL is NULL.
pub const LXV_BAD_ARGUMENT: i32 = 2;

/// A text is not UTF-8.
pub const LXV_NOT_UTF8: i32 = 3;

/// A text is longer than the library reads; the answer names the limit.
pub const LXV_TOO_LARGE: i32 = 4;

/// The library has a defect, which it survived. Later calls work.
pub const LXV_INTERNAL: i32 = 5;

/// Carries out one operation: JSON in, JSON out.
///
/// operation: its name, such as "plan".
/// request: a JSON object, as the operation describes it.
/// answer: where the answer goes; it is set to NULL first, then to the answer.
///
/// NULL: a NULL operation or request gives LXV_BAD_ARGUMENT and an answer that says so; a NULL
/// answer gives LXV_BAD_ARGUMENT alone.
/// Owner: the caller owns the answer and releases it with lxv_free().
/// Returns: LXV_OK, or another status with an error answer.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lxv_call(
    operation: *const c_char,
    request: *const c_char,
    answer: *mut *mut c_char,
) -> i32 {
    // SAFETY: the caller keeps to the conventions of the header: each pointer is NULL, or points
    // to text that ends in NUL or to room for a pointer.
    unsafe {
        boundary::answer(answer, ptr::null_mut(), || {
            let operation = boundary::terminated(operation, "operation")?;
            let request = boundary::terminated(request, "request")?;
            Ok(boundary::call(operation, request))
        })
    }
}

/// The same as lxv_call(), for text that has a length and need not end in NUL.
///
/// operation, operation_bytes: the operation's name and how many bytes it has.
/// request, request_bytes: a JSON object and how many bytes it has.
/// answer: where the answer goes; it is set to NULL first, then to the answer, which ends in NUL.
/// answer_bytes: where the answer's length goes, without the NUL; 0 if there is no answer.
///
/// NULL: a NULL operation or request gives LXV_BAD_ARGUMENT and an answer that says so; a NULL
/// answer gives LXV_BAD_ARGUMENT alone; answer_bytes may be NULL.
/// Owner: the caller owns the answer and releases it with lxv_free().
/// Returns: LXV_OK, or another status with an error answer.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lxv_call_n(
    operation: *const c_char,
    operation_bytes: usize,
    request: *const c_char,
    request_bytes: usize,
    answer: *mut *mut c_char,
    answer_bytes: *mut usize,
) -> i32 {
    // SAFETY: the caller keeps to the conventions of the header: each pointer is NULL, or points
    // to as many bytes as stated or to room for a pointer or a size.
    unsafe {
        boundary::answer(answer, answer_bytes, || {
            let operation = boundary::counted(operation, operation_bytes, "operation")?;
            let request = boundary::counted(request, request_bytes, "request")?;
            Ok(boundary::call(operation, request))
        })
    }
}

/// Releases an answer.
///
/// answer: what lxv_call() or lxv_call_n() gave, not released before. C's free() must not be
/// used on it, nor this function on anything else.
///
/// NULL: does nothing.
/// Threads: any.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn lxv_free(answer: *mut c_char) {
    // SAFETY: the caller passes NULL or an answer that has not been released.
    unsafe { boundary::release(answer) }
}

/// The version of the library, such as "0.1.0".
///
/// Owner: the library; the text is never released.
/// Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn lxv_version() -> *const c_char {
    const VERSION: &CStr =
        match CStr::from_bytes_with_nul(concat!(env!("CARGO_PKG_VERSION"), "\0").as_bytes()) {
            Ok(version) => version,
            Err(_) => panic!("a version has no NUL inside"),
        };
    VERSION.as_ptr()
}

/// The version of the ABI that the library has: LXV_ABI_VERSION of the header it was built with.
///
/// Threads: any.
#[unsafe(no_mangle)]
pub extern "C" fn lxv_abi_version() -> u32 {
    LXV_ABI_VERSION
}

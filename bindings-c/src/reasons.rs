//! What each status means, as text that lives as long as the library.

use std::ffi::{CStr, c_char};

use crate::{LXV_BAD_ARGUMENT, LXV_FAULTS, LXV_INTERNAL, LXV_NOT_UTF8, LXV_OK, LXV_TOO_LARGE};
use crate::{columns, scalars};

/// What a status means: what is wrong, and what is accepted instead. For a cell, a log, a message.
///
/// status: what a function of this library returned.
///
/// Owner: the library; the text is never released. It is UTF-8 and never NULL; for a status that
/// is not known it says so.
/// Threads: any, at the same time too.
#[unsafe(no_mangle)]
pub extern "C" fn lxv_reason(status: i32) -> *const c_char {
    reason(status).as_ptr()
}

fn reason(status: i32) -> &'static CStr {
    match status {
        LXV_OK => c"nothing is wrong",
        LXV_FAULTS => c"the request has faults; the answer lists all of them",
        LXV_BAD_ARGUMENT => c"a pointer that must not be NULL is NULL",
        LXV_NOT_UTF8 => c"a text is not UTF-8",
        LXV_TOO_LARGE => c"a text is longer than the library reads",
        LXV_INTERNAL => c"a defect of the library; please report it",
        _ => scalars::reason(status)
            .or_else(|| columns::reason(status))
            .unwrap_or(c"this version of the library has no such status"),
    }
}

/// The status of each variant of a type of the core, and its sentence as text of C.
macro_rules! statuses {
    ($kind:ident: $( $status:ident = $name:ident, )*) => {
        fn status_of(kind: $kind) -> i32 {
            match kind {
                $( $kind::$name => $status, )*
                _ => crate::LXV_INTERNAL,
            }
        }

        /// What a status means, if it is one of these.
        pub fn reason(status: i32) -> Option<&'static std::ffi::CStr> {
            match status {
                $( $status => {
                    const SAYS: &str = $kind::$name.says();
                    const TEXT: &[u8; SAYS.len() + 1] = &$crate::reasons::with_nul(SAYS);
                    Some($crate::reasons::terminated_by_nul(TEXT))
                } )*
                _ => None,
            }
        }
    };
}

pub const fn with_nul<const BYTES: usize>(text: &str) -> [u8; BYTES] {
    let mut with_nul = [0; BYTES];
    let mut i = 0;
    while i + 1 < BYTES {
        with_nul[i] = text.as_bytes()[i];
        i += 1;
    }
    with_nul
}

pub const fn terminated_by_nul(text: &'static [u8]) -> &'static CStr {
    match CStr::from_bytes_with_nul(text) {
        Ok(text) => text,
        Err(_) => panic!("a NUL only at the end"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_status_that_is_not_known_has_a_reason_too() {
        for status in [-1, 6, 100, 117, 200, 209, i32::MIN, i32::MAX] {
            assert!(reason(status).to_bytes().starts_with(b"this version"));
        }
        assert_eq!(reason(LXV_OK), c"nothing is wrong");
    }
}

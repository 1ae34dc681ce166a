//! Columns between C and the core: pointers, lengths and what must not overlap.

use std::ops::Range;
use std::slice;

use crate::boundary::Outcome;
use crate::{LXV_BAD_ARGUMENT, LXV_TOO_LARGE};

/// Columns as the caller gives them.
pub struct Given {
    pub rows: usize,
    pub fats: *const *const f64,
    pub superfat: *const f64,
    pub outputs: *const *mut f64,
    pub row_status: *mut i32,
}

/// The same columns, looked at.
pub struct Taken<'a> {
    pub fats: Vec<&'a [f64]>,
    pub superfat: Option<&'a [f64]>,
    pub outputs: Vec<&'a mut [f64]>,
    /// Empty if the caller does not want it.
    pub row_status: &'a mut [i32],
}

impl Given {
    /// Looks at the columns: none is NULL, and none that is written overlaps with another.
    ///
    /// # Safety
    /// `fats` and `outputs` are each NULL or point to as many pointers as stated. Each column is
    /// NULL or has as many numbers as there are rows, which nobody else uses during `'a`.
    pub unsafe fn take<'a>(&self, fats: usize, outputs: usize) -> Result<Taken<'a>, Outcome> {
        if self.rows > isize::MAX as usize / size_of::<f64>() {
            let says = format!("{} rows do not fit in the memory of a computer", self.rows);
            return Err(Outcome::fault(LXV_TOO_LARGE, "too_many_rows", "rows", says));
        }
        // SAFETY: each is NULL or points to so many pointers, as the caller vouches.
        let (fats, outputs) = unsafe {
            (
                pointers(self.fats, fats, "fats")?,
                pointers(self.outputs, outputs, "outputs")?,
            )
        };
        let mut spans = Spans(Vec::new());
        for (i, column) in fats.iter().enumerate() {
            spans.read(format!("fats[{i}]"), *column, self.rows)?;
        }
        if !self.superfat.is_null() {
            spans.read("superfat".to_owned(), self.superfat, self.rows)?;
        }
        for (i, column) in outputs.iter().enumerate() {
            spans.write(format!("outputs[{i}]"), *column, self.rows)?;
        }
        let statuses = if self.row_status.is_null() {
            0
        } else {
            self.rows
        };
        spans.write("row_status".to_owned(), self.row_status, statuses)?;

        // SAFETY: unless there are none, so many numbers are there, as the caller vouches; those
        // that are written overlap with no others, as was just found.
        unsafe {
            Ok(Taken {
                fats: fats
                    .iter()
                    .map(|column| numbers(*column, self.rows))
                    .collect(),
                superfat: (!self.superfat.is_null()).then(|| numbers(self.superfat, self.rows)),
                outputs: outputs
                    .iter()
                    .map(|column| numbers_to_write(*column, self.rows))
                    .collect(),
                row_status: numbers_to_write(self.row_status, statuses),
            })
        }
    }
}

/// Pointers of the caller; `name` is the parameter's, for the fault.
///
/// # Safety
/// `list` is NULL or points to `count` pointers, which do not change during `'a`.
unsafe fn pointers<'a, T>(list: *const T, count: usize, name: &str) -> Result<&'a [T], Outcome> {
    match (count, list.is_null()) {
        (0, _) => Ok(&[]),
        (_, true) => Err(null(name)),
        // SAFETY: not NULL, so there are so many pointers, as the caller vouches.
        (_, false) => Ok(unsafe { slice::from_raw_parts(list, count) }),
    }
}

/// # Safety
/// There are so many numbers, which nobody changes during `'a`; or `count` is 0.
unsafe fn numbers<'a, T>(column: *const T, count: usize) -> &'a [T] {
    if count == 0 {
        return &[];
    }
    // SAFETY: as the caller vouches.
    unsafe { slice::from_raw_parts(column, count) }
}

/// # Safety
/// There is room for so many numbers, which nobody else uses during `'a`; or `count` is 0.
unsafe fn numbers_to_write<'a, T>(column: *mut T, count: usize) -> &'a mut [T] {
    if count == 0 {
        return &mut [];
    }
    // SAFETY: as the caller vouches.
    unsafe { slice::from_raw_parts_mut(column, count) }
}

/// Where the columns lie that were looked at so far.
struct Spans(Vec<Span>);

struct Span {
    name: String,
    bytes: Range<usize>,
    is_written: bool,
}

impl Spans {
    fn read<T>(&mut self, name: String, column: *const T, count: usize) -> Result<(), Outcome> {
        self.add(name, column, count, false)
    }

    fn write<T>(&mut self, name: String, column: *mut T, count: usize) -> Result<(), Outcome> {
        self.add(name, column.cast_const(), count, true)
    }

    fn add<T>(
        &mut self,
        name: String,
        column: *const T,
        count: usize,
        is_written: bool,
    ) -> Result<(), Outcome> {
        if count == 0 {
            return Ok(());
        }
        if column.is_null() {
            return Err(null(&name));
        }
        if !column.is_aligned() {
            let says = format!("{name} does not lie where such a number may lie in memory");
            return Err(Outcome::fault(
                LXV_BAD_ARGUMENT,
                "unaligned_column",
                &name,
                says,
            ));
        }
        let bytes = column.addr()..column.addr().saturating_add(count * size_of::<T>());
        let overlaps = |other: &&Span| {
            let apart = other.bytes.end <= bytes.start || bytes.end <= other.bytes.start;
            !apart && (is_written || other.is_written)
        };
        if let Some(other) = self.0.iter().find(overlaps) {
            let says = format!(
                "{name} overlaps with {}; accepted: a column of its own for each that is written",
                other.name
            );
            return Err(Outcome::fault(
                LXV_BAD_ARGUMENT,
                "columns_overlap",
                &name,
                says,
            ));
        }
        self.0.push(Span {
            name,
            bytes,
            is_written,
        });
        Ok(())
    }
}

fn null(name: &str) -> Outcome {
    let says = format!("{name} is NULL; it must point to as many numbers as there are rows");
    Outcome::fault(LXV_BAD_ARGUMENT, "null_argument", name, says)
}

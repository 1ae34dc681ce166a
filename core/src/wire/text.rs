//! Answers as JSON text.

use super::write::Writer;
use crate::exact::{Rational, quotient};

/// JSON text, with a comma after each value.
pub(super) struct Text {
    bytes: Vec<u8>,
}

impl Text {
    /// Nothing yet of a text that is about as long as `length`.
    pub(super) fn of_about(length: usize) -> Self {
        Self {
            bytes: Vec::with_capacity(length),
        }
    }

    /// The text, when the answer is complete.
    pub(super) fn complete(mut self) -> String {
        // A comma stands after the last value too.
        self.bytes.pop();
        // Names, digits and what serde_json writes are UTF-8.
        String::from_utf8(self.bytes).unwrap_or_default()
    }

    fn push(&mut self, text: &str) {
        self.bytes.extend_from_slice(text.as_bytes());
    }

    /// Ends a list or an object, without the comma of its last value.
    fn end(&mut self, bracket: &str) {
        if self.bytes.last() == Some(&b',') {
            self.bytes.pop();
        }
        self.push(bracket);
    }

    fn push_whole(&mut self, number: i128) {
        let mut digits = itoa::Buffer::new();
        self.push(match i64::try_from(number) {
            Ok(short) => digits.format(short),
            Err(_) => digits.format(number),
        });
    }

    /// The double nearest to a fraction in lowest terms, in its shortest digits.
    fn push_nearest(&mut self, num: i128, den: i128) {
        match (i64::try_from(num), u64::try_from(den)) {
            (Ok(num), Ok(den)) if num.unsigned_abs() < 1_000_000_000_000 && 1000 % den == 0 => {
                self.push_thousandths(num, num.unsigned_abs() * (1000 / den));
            }
            _ => self.push_json(&quotient(num, den)),
        }
    }

    /// A decimal of at most 15 digits is the shortest text of the double nearest to it.
    fn push_thousandths(&mut self, sign: i64, thousandths: u64) {
        if sign < 0 {
            self.push("-");
        }
        self.push(itoa::Buffer::new().format(thousandths / 1000));
        let digits = [100, 10, 1].map(|place| b'0' + (thousandths / place % 10) as u8);
        let places = digits.iter().rposition(|digit| *digit != b'0');
        self.push(".");
        self.bytes
            .extend_from_slice(&digits[..=places.unwrap_or(0)]);
    }

    fn push_json(&mut self, value: &(impl serde::Serialize + ?Sized)) {
        // A text or a finite number always has a JSON text.
        serde_json::to_writer(&mut self.bytes, value).unwrap_or_default();
    }
}

impl Writer for Text {
    fn begin_object(&mut self) {
        self.push("{");
    }
    fn name(&mut self, name: &'static str) {
        self.push("\"");
        self.push(name);
        self.push("\":");
    }
    fn end_object(&mut self) {
        self.end("},");
    }
    fn begin_list(&mut self) {
        self.push("[");
    }
    fn end_list(&mut self) {
        self.end("],");
    }
    fn put_null(&mut self) {
        self.push("null,");
    }
    fn put_flag(&mut self, flag: bool) {
        self.push(if flag { "true," } else { "false," });
    }
    fn put_count(&mut self, count: u32) {
        self.push(itoa::Buffer::new().format(count));
        self.push(",");
    }
    fn put_text(&mut self, text: &str) {
        // Looked at as a whole, which is faster than byte by byte.
        let escapes = |b: u8| (b < b' ') | (b == b'"') | (b == b'\\');
        if text.bytes().fold(false, |any, b| any | escapes(b)) {
            self.push_json(text);
        } else {
            self.push("\"");
            self.push(text);
            self.push("\"");
        }
        self.push(",");
    }
    fn put_number(&mut self, number: &Rational) {
        self.push("{\"value\":");
        match number.in_lowest_terms() {
            Some((num, den)) => {
                self.push_nearest(num, den);
                self.push(",\"exact\":\"");
                self.push_whole(num);
                if den != 1 {
                    self.push("/");
                    self.push_whole(den);
                }
            }
            None => {
                self.push_json(&number.to_f64());
                self.push(",\"exact\":\"");
                self.push(&number.to_string());
            }
        }
        self.push("\"},");
    }
}

#[cfg(test)]
mod tests {
    use super::Text;
    use crate::exact::quotient;

    #[test]
    fn decimals_are_written_as_serde_json_writes_the_nearest_double() {
        let written = |write: &dyn Fn(&mut Text)| {
            let mut text = Text::of_about(0);
            write(&mut text);
            String::from_utf8(text.bytes).unwrap()
        };
        let large = [999_999_999_999, 1_000_000_000_000, 123_456_789_012];
        for num in (-2_500..2_500).chain(large) {
            for den in [
                1, 2, 3, 4, 5, 8, 10, 20, 25, 40, 50, 100, 125, 200, 250, 500, 1000, 2000,
            ] {
                assert_eq!(
                    written(&|text| text.push_nearest(num, den)),
                    written(&|text| text.push_json(&quotient(num, den))),
                    "{num}/{den}"
                );
            }
        }
    }
}

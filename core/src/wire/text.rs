//! Answers as JSON text.

use super::write::{Sink, Write};
use crate::exact::{Rational, quotient};

/// The JSON text of an answer, which is about as long as `length`.
pub(super) fn json(answer: &impl Write, length: usize) -> String {
    let mut text = Text {
        bytes: Vec::with_capacity(length),
    };
    answer.write(&mut text);
    // A comma stands after the last value too.
    text.bytes.pop();
    // Names, digits and what serde_json writes are UTF-8.
    String::from_utf8(text.bytes).unwrap_or_default()
}

/// JSON text, with a comma after each value.
struct Text {
    bytes: Vec<u8>,
}

impl Text {
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

    fn push_json(&mut self, value: &(impl serde::Serialize + ?Sized)) {
        // A text or a finite number always has a JSON text.
        serde_json::to_writer(&mut self.bytes, value).unwrap_or_default();
    }
}

impl Sink for Text {
    fn object(&mut self) {
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
    fn list(&mut self) {
        self.push("[");
    }
    fn end_list(&mut self) {
        self.end("],");
    }
    fn null(&mut self) {
        self.push("null,");
    }
    fn flag(&mut self, flag: bool) {
        self.push(if flag { "true," } else { "false," });
    }
    fn count(&mut self, count: u32) {
        self.push(itoa::Buffer::new().format(count));
        self.push(",");
    }
    fn text(&mut self, text: &str) {
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
    fn number(&mut self, number: &Rational) {
        self.push("{\"value\":");
        match number.in_lowest_terms() {
            Some((num, den)) => {
                self.push_json(&quotient(num, den));
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

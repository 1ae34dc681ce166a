//! Texts that hold several names.

/// What stands in a text before the first such byte, and what after it, if there is one. (The
/// standard library's search is for long texts, and five times the code.)
pub(crate) fn cut(text: &str, at: u8) -> (&str, &str) {
    let place = text.bytes().position(|byte| byte == at);
    let (before, after) = text.split_at(place.unwrap_or(text.len()));
    (before, after.get(1..).unwrap_or_default())
}

/// The names of one thing: the first, if it stands apart, and those of a list, with `|` between
/// them.
pub(crate) struct Spellings {
    pub first: Option<&'static str>,
    pub others: &'static str,
}

impl Iterator for Spellings {
    type Item = &'static str;

    #[cfg_attr(target_family = "wasm", inline(never))]
    fn next(&mut self) -> Option<&'static str> {
        if self.first.is_some() {
            return self.first.take();
        }
        if self.others.is_empty() {
            return None;
        }
        let name;
        (name, self.others) = cut(self.others, b'|');
        Some(name)
    }
}

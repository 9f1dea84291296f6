//! Writing XML: elements, attributes and text, with whatever must be escaped.

use std::fmt::Write as _;

/// An XML document as it is written.
pub(super) struct Xml {
    text: String,
    open: Vec<&'static str>,
}

/// Attributes of an element, by name.
pub(super) type Attributes<'a> = &'a [(&'static str, String)];

impl Xml {
    pub(super) fn new() -> Self {
        let text = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n".to_owned();
        Self { text, open: Vec::new() }
    }

    /// Opens an element; what follows lies within it.
    pub(super) fn open(&mut self, name: &'static str, attributes: Attributes<'_>) {
        self.begin(name, attributes);
        self.text.push_str(">\n");
        self.open.push(name);
    }

    /// Closes the element that was opened last.
    pub(super) fn close(&mut self) {
        let Some(name) = self.open.pop() else { return };
        self.indent();
        self.text.push_str(&format!("</{name}>\n"));
    }

    /// An element that holds text.
    pub(super) fn text(&mut self, name: &'static str, attributes: Attributes<'_>, text: &str) {
        self.begin(name, attributes);
        self.text.push_str(&format!(">{}</{name}>\n", escaped(text)));
    }

    /// An element that holds nothing.
    pub(super) fn empty(&mut self, name: &'static str, attributes: Attributes<'_>) {
        self.begin(name, attributes);
        self.text.push_str("/>\n");
    }

    /// The document; every element is closed.
    pub(super) fn finish(mut self) -> String {
        while !self.open.is_empty() {
            self.close();
        }
        self.text
    }

    fn begin(&mut self, name: &str, attributes: Attributes<'_>) {
        self.indent();
        self.text.push('<');
        self.text.push_str(name);
        for (name, value) in attributes {
            // Writing to a string does not fail.
            let _ = write!(self.text, " {name}=\"{}\"", escaped(value));
        }
    }

    fn indent(&mut self) {
        self.text.push_str(&"  ".repeat(self.open.len()));
    }
}

/// Text without what XML takes for itself, and without the control characters it cannot hold.
fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => escaped.push_str("&amp;"),
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '"' => escaped.push_str("&quot;"),
            '\n' | '\t' | '\r' => escaped.push(' '),
            control if control.is_control() => escaped.push('\u{fffd}'),
            '\u{fffe}' | '\u{ffff}' => escaped.push('\u{fffd}'),
            other => escaped.push(other),
        }
    }
    escaped
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_xml_takes_for_itself_is_escaped() {
        let mut xml = Xml::new();
        xml.open("A", &[("b", "1\"<2>&\u{1}".to_owned())]);
        xml.text("C", &[], "x\ny");
        xml.empty("D", &[]);
        let expected = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
            <A b=\"1&quot;&lt;2&gt;&amp;\u{fffd}\">\n  <C>x y</C>\n  <D/>\n</A>\n";
        assert_eq!(xml.finish(), expected);
    }
}

//! The tokens of a source's code, so that a law does not depend on where a line is broken.

/// One token: a word, a number, `::`, one sign, or a literal (shown as one double quote).
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Token {
    /// The line, from 1.
    pub(crate) line: usize,
    /// What stands there.
    pub(crate) text: String,
}

impl Token {
    /// Whether it is a word or a number.
    pub(crate) fn is_word(&self) -> bool {
        self.text.starts_with(is_word_char)
    }

    /// Whether it is a number.
    pub(crate) fn is_number(&self) -> bool {
        self.text.starts_with(|first: char| first.is_ascii_digit())
    }
}

/// Whether a character can stand in a word.
fn is_word_char(char: char) -> bool {
    char.is_alphanumeric() || char == '_'
}

/// The tokens of the code view's lines.
pub(crate) fn tokens(code: &[String]) -> Vec<Token> {
    let mut found = Vec::new();
    for (index, line) in code.iter().enumerate() {
        let mut rest = line.trim_start();
        while !rest.is_empty() {
            let (text, after) = rest.split_at(first_length(rest));
            let text = if text.starts_with('"') { "\"" } else { text };
            found.push(Token { line: index + 1, text: text.to_owned() });
            rest = after.trim_start();
        }
    }
    found
}

/// The bytes of the first token of a line that is not empty.
fn first_length(rest: &str) -> usize {
    let run = |fits: fn(char) -> bool| rest.find(|c| !fits(c)).unwrap_or(rest.len());
    match rest.chars().next() {
        Some('"') => run(|c| c == '"'),
        Some(':') if rest.starts_with("::") => 2,
        Some(first) if first.is_ascii_digit() => number_length(rest),
        Some(first) if is_word_char(first) => run(is_word_char),
        first => first.map_or(0, char::len_utf8),
    }
}

/// The bytes of a number: a point belongs to it only where a digit follows.
fn number_length(rest: &str) -> usize {
    let bytes = rest.as_bytes();
    let digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    let part = |at: usize| {
        let byte = bytes.get(at).copied().unwrap_or(b' ');
        byte == b'_' || byte.is_ascii_alphanumeric() || (byte == b'.' && digit(at + 1))
    };
    (0..).take_while(|&at| part(at)).count()
}

/// Whether the tokens at `at` read as `wanted`.
pub(crate) fn reads(tokens: &[Token], at: usize, wanted: &[&str]) -> bool {
    let here = tokens.iter().skip(at).map(|token| token.text.as_str());
    here.take(wanted.len()).eq(wanted.iter().copied())
}

/// The index of the bracket that closes the one at `open`; the last token where none does.
pub(crate) fn closing(tokens: &[Token], open: usize) -> usize {
    let mut depth = 0_usize;
    for (at, token) in tokens.iter().enumerate().skip(open) {
        match token.text.as_str() {
            "{" | "(" | "[" => depth += 1,
            "}" | ")" | "]" => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return at;
        }
    }
    tokens.len().saturating_sub(1)
}

#[cfg(test)]
pub(crate) fn tokens_of(source: &str) -> Vec<Token> {
    tokens(&crate::lexer::Views::of(source).code)
}

#[test]
fn tokens_are_words_numbers_and_signs() {
    let found = tokens_of("std ::\n fs(1.5e3, 0..2, \"a b\")");
    let texts: Vec<&str> = found.iter().map(|token| token.text.as_str()).collect();
    let wanted = ["std", "::", "fs", "(", "1.5e3", ",", "0", ".", ".", "2", ",", "\"", ")"];
    assert_eq!(texts, wanted);
    assert_eq!((found[0].line, found[2].line), (1, 2));
    assert!(reads(&found, 0, &["std", "::", "fs"]) && !reads(&found, 11, &["\"", ")", "x"]));
    assert_eq!(closing(&found, 3), 12);
}

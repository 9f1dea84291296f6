//! Parts a Rust source into code, comments and literal text, line by line.
//!
//! It knows nested block comments, escapes, raw strings, and a character from a lifetime. That is
//! all a tidy check needs: a brace in a string must not count as a brace.

/// What one character of a source is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Code,
    Comment,
    Text,
}

/// The three views of one source. Each has as many lines as the source, with what belongs to the
/// other views blanked out.
#[derive(Clone, Debug, Default)]
pub(crate) struct Views {
    /// The code; every character of a literal stands as a double quote.
    pub(crate) code: Vec<String>,
    /// The comments with their slashes.
    pub(crate) comments: Vec<String>,
    /// The literals with their quotes.
    pub(crate) texts: Vec<String>,
}

impl Views {
    /// Parts a source.
    pub(crate) fn of(source: &str) -> Self {
        let chars: Vec<char> = source.chars().collect();
        let kinds = Lexer { chars: &chars, kinds: Vec::with_capacity(chars.len()) }.run();
        let view = |keep, blank| lines(&chars, &kinds, keep, blank);
        Self {
            code: view(Kind::Code, '"'),
            comments: view(Kind::Comment, ' '),
            texts: view(Kind::Text, ' '),
        }
    }
}

/// One view: what is of the kind `keep`, with `text` in place of every character of a literal.
fn lines(chars: &[char], kinds: &[Kind], keep: Kind, text: char) -> Vec<String> {
    let shown = |(&char, &kind): (&char, &Kind)| match kind {
        _ if char == '\n' || kind == keep => char,
        Kind::Text => text,
        Kind::Code | Kind::Comment => ' ',
    };
    let view: String = chars.iter().zip(kinds).map(shown).collect();
    view.lines().map(|line| line.trim_end().to_owned()).collect()
}

/// The scanner. Where it stands is how many kinds it has given out.
struct Lexer<'a> {
    chars: &'a [char],
    kinds: Vec<Kind>,
}

impl Lexer<'_> {
    fn run(mut self) -> Vec<Kind> {
        while self.kinds.len() < self.chars.len() {
            self.step();
        }
        self.kinds
    }

    fn step(&mut self) {
        match (self.peek(0), self.peek(1)) {
            ('/', '/') => self.line_comment(),
            ('/', '*') => self.block_comment(),
            ('"', _) => self.text(),
            ('r', '"' | '#') if self.raw_hashes().is_some() => self.raw_text(),
            ('\'', '\\') => self.escaped_char(),
            ('\'', _) if self.peek(2) == '\'' => self.take(3, Kind::Text),
            _ => self.take(1, Kind::Code),
        }
    }

    /// The character so many places on, or NUL past the end.
    fn peek(&self, ahead: usize) -> char {
        self.chars.get(self.kinds.len() + ahead).copied().unwrap_or('\0')
    }

    fn take(&mut self, count: usize, kind: Kind) {
        let end = (self.kinds.len() + count).min(self.chars.len());
        self.kinds.resize(end, kind);
    }

    fn is_over(&self) -> bool {
        self.kinds.len() >= self.chars.len()
    }

    fn line_comment(&mut self) {
        while !self.is_over() && self.peek(0) != '\n' {
            self.take(1, Kind::Comment);
        }
    }

    fn block_comment(&mut self) {
        let mut depth = 0;
        while !self.is_over() {
            match (self.peek(0), self.peek(1)) {
                ('/', '*') => depth += 1,
                ('*', '/') => depth -= 1,
                _ => {
                    self.take(1, Kind::Comment);
                    continue;
                }
            }
            self.take(2, Kind::Comment);
            if depth == 0 {
                return;
            }
        }
    }

    fn text(&mut self) {
        self.take(1, Kind::Text);
        while !self.is_over() && self.peek(0) != '"' {
            let step = if self.peek(0) == '\\' { 2 } else { 1 };
            self.take(step, Kind::Text);
        }
        self.take(1, Kind::Text);
    }

    /// How many hashes open the raw string that starts here; nothing where none starts.
    fn raw_hashes(&self) -> Option<usize> {
        let hashes = (1..).take_while(|&ahead| self.peek(ahead) == '#').count();
        (self.peek(1 + hashes) == '"').then_some(hashes)
    }

    fn raw_text(&mut self) {
        let hashes = self.raw_hashes().unwrap_or(0);
        self.take(2 + hashes, Kind::Text);
        let closes = |lexer: &Self| {
            lexer.peek(0) == '"' && (1..=hashes).all(|ahead| lexer.peek(ahead) == '#')
        };
        while !self.is_over() && !closes(self) {
            self.take(1, Kind::Text);
        }
        self.take(1 + hashes, Kind::Text);
    }

    fn escaped_char(&mut self) {
        self.take(3, Kind::Text);
        while !self.is_over() && self.peek(0) != '\'' {
            self.take(1, Kind::Text);
        }
        self.take(1, Kind::Text);
    }
}

#[test]
fn braces_in_text_and_comments_are_not_code() {
    let views =
        Views::of("let a = \"{\\\"{\"; // {\nlet b = '{'; /* { /* { */ { */ let c = '\\'';\n");
    assert!(!views.code.join("").contains('{'), "{:?}", views.code);
    assert_eq!(views.code.len(), 2);
    assert_eq!(views.comments[0].trim(), "// {");
    assert!(views.code[1].contains("let c"), "{:?}", views.code);
}

#[test]
fn raw_strings_end_at_their_own_hashes() {
    let views = Views::of("let a = r##\"x\"# fn y() { \"##; let b = br\"\\\"; let c = r#type;");
    assert!(views.texts[0].contains("fn y() {"));
    assert!(!views.code[0].contains("fn y"));
    assert!(views.code[0].contains("let c = r#type;"));
}

#[test]
fn a_lifetime_is_code_and_a_character_is_text() {
    let views = Views::of("fn f<'a>(x: &'a str) -> char { 'a' }");
    assert!(views.code[0].contains("<'a>(x: &'a str)"));
    assert_eq!(views.texts[0].trim(), "'a'");
}

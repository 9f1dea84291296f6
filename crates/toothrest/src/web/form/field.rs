//! One thing to fill in.

use geometry::System;
use shop::record::Named;

/// What is to be filled in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A length; a bare number counts in the unit of the page.
    Length,
    /// An angle; a bare number counts as degrees.
    Angle,
    /// A whole number.
    Count,
    /// A line of text.
    Text,
    /// Several lines of text.
    Lines,
    /// A secret.
    Secret,
    /// Yes or no.
    Flag,
    /// One of a few.
    Choice(Vec<Choice>),
    /// Any of a few.
    Several(Vec<Choice>),
    /// Whole numbers in a row.
    Counts,
    /// Angles in a row; bare numbers count as degrees.
    Angles,
    /// Something that the page itself knows.
    Hidden,
}

/// One choice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Choice {
    pub(crate) value: String,
    pub(crate) label: String,
}

/// What a file has for the answers of [`Field::looked`].
pub(super) const YES: &str = "true";
pub(super) const NO: &str = "false";

/// Up to so many choices are shown side by side, to be tapped; more stand in a list.
const TAPPED_MAX: usize = 5;

/// One thing to fill in, with what stands in it and what is wrong with that.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Field {
    pub(crate) name: String,
    pub(crate) label: String,
    pub(crate) kind: Kind,
    pub(crate) value: String,
    pub(crate) hint: String,
    /// What may be written as it stands, where anything may be written.
    pub(crate) offered: Vec<&'static str>,
    pub(crate) problem: String,
    pub(crate) is_needed: bool,
    /// Whether it stands there beforehand and says nothing by itself.
    pub(crate) is_given: bool,
}

impl Field {
    pub(crate) fn new(kind: Kind, name: impl Into<String>, label: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            label: label.into(),
            kind,
            value: String::new(),
            hint: String::new(),
            offered: Vec::new(),
            problem: String::new(),
            is_needed: false,
            is_given: false,
        }
    }

    pub(crate) fn length(name: impl Into<String>, label: impl Into<String>) -> Self {
        Self::new(Kind::Length, name, label)
    }

    pub(crate) fn angle(name: impl Into<String>, label: impl Into<String>) -> Self {
        Self::new(Kind::Angle, name, label)
    }

    pub(crate) fn count(name: impl Into<String>, label: impl Into<String>) -> Self {
        Self::new(Kind::Count, name, label)
    }

    pub(crate) fn text(name: impl Into<String>, label: impl Into<String>) -> Self {
        Self::new(Kind::Text, name, label)
    }

    /// A yes or a no that somebody has to have looked for; left open it says neither.
    pub(crate) fn looked(
        name: impl Into<String>,
        label: impl Into<String>,
        [yes, no]: [&'static str; 2],
    ) -> Self {
        let choices =
            vec![Choice::new("", "nobody looked"), Choice::new(NO, no), Choice::new(YES, yes)];
        Self::choice(name, label, choices)
    }

    pub(crate) fn flag(name: impl Into<String>, label: impl Into<String>) -> Self {
        Self::new(Kind::Flag, name, label)
    }

    /// A choice among the names of a closed list.
    pub(crate) fn named<T: Named>(name: impl Into<String>, label: impl Into<String>) -> Self {
        let names = T::ALL.iter().map(|member| Choice::plain(member.name())).collect();
        Self::new(Kind::Choice(names), name, label)
    }

    /// A choice among values with a label each.
    pub(crate) fn choice(
        name: impl Into<String>,
        label: impl Into<String>,
        choices: Vec<Choice>,
    ) -> Self {
        Self::new(Kind::Choice(choices), name, label)
    }

    pub(crate) fn hidden(name: impl Into<String>, value: impl Into<String>) -> Self {
        Self::new(Kind::Hidden, name, "").value(value)
    }

    pub(crate) fn value(self, value: impl Into<String>) -> Self {
        Self { value: value.into(), ..self }
    }

    /// A value that stands there beforehand.
    pub(crate) fn given(self, value: impl Into<String>) -> Self {
        Self { value: value.into(), is_given: true, ..self }
    }

    pub(crate) fn hint(self, hint: impl Into<String>) -> Self {
        Self { hint: hint.into(), ..self }
    }

    /// Words to choose from, or to write something else than.
    pub(crate) fn offered(self, offered: Vec<&'static str>) -> Self {
        Self { offered, ..self }
    }

    pub(crate) fn needed(self) -> Self {
        Self { is_needed: true, ..self }
    }

    /// What a page's form element is called, without brackets and dots.
    pub(crate) fn id(&self) -> String {
        let plain = |c: char| if c.is_ascii_alphanumeric() { c } else { '-' };
        format!("f-{}", self.name.chars().map(plain).collect::<String>())
    }

    /// The choices, where there are some.
    pub(crate) fn choices(&self) -> &[Choice] {
        match &self.kind {
            Kind::Choice(choices) | Kind::Several(choices) => choices,
            _ => &[],
        }
    }

    pub(crate) fn is_tapped(&self) -> bool {
        matches!(&self.kind, Kind::Choice(choices) if choices.len() <= TAPPED_MAX)
    }

    pub(crate) fn is_several(&self) -> bool {
        matches!(self.kind, Kind::Several(_))
    }

    pub(crate) fn is_flag(&self) -> bool {
        self.kind == Kind::Flag
    }

    pub(crate) fn is_hidden(&self) -> bool {
        self.kind == Kind::Hidden
    }

    pub(crate) fn is_lines(&self) -> bool {
        self.kind == Kind::Lines
    }

    /// Whether a choice is taken.
    pub(crate) fn has(&self, choice: &Choice) -> bool {
        match self.kind {
            Kind::Several(_) => self.value.lines().any(|line| line == choice.value),
            _ => self.value == choice.value,
        }
    }

    /// The type of an input element.
    pub(crate) fn input_type(&self) -> &'static str {
        if self.kind == Kind::Secret { "password" } else { "text" }
    }

    /// Which keys a tablet offers. Fractions need a slash, so lengths and angles get all of them.
    pub(crate) fn input_mode(&self) -> &'static str {
        match self.kind {
            Kind::Count => "numeric",
            _ => "text",
        }
    }

    /// The unit that a bare number has here.
    pub(crate) fn unit(&self, system: System) -> &'static str {
        match (&self.kind, system) {
            (Kind::Length, System::Inch) => "in",
            (Kind::Length, System::Millimetre) => "mm",
            (Kind::Angle, _) => "deg",
            _ => "",
        }
    }

    /// Whether the unit of a bare number stands beside it: not where a unit is written already.
    pub(crate) fn shows_unit(&self) -> bool {
        self.value.is_empty() || is_bare(&self.value)
    }

    /// The angles that stand here in a row, each with its unit.
    pub(crate) fn angles(&self) -> Vec<String> {
        let typed = self.value.trim();
        let is_row = is_bare(typed) && !typed.contains([',', ';']);
        let pieces: Vec<&str> = if is_row {
            typed.split_whitespace().collect()
        } else {
            typed.split([',', ';', '\n']).map(str::trim).collect()
        };
        let with_unit = |piece: &str| {
            if is_bare(piece) { format!("{piece} deg") } else { piece.to_owned() }
        };
        pieces.into_iter().filter(|piece| !piece.is_empty()).map(with_unit).collect()
    }

    /// What stands here with the unit that it was typed under.
    pub(crate) fn with_unit(&self, system: System) -> String {
        let typed = self.value.trim();
        let unit = self.unit(system);
        // A fraction without a unit on a page in millimetres is most often meant in inches, so it
        // is asked about and not guessed.
        let is_doubtful = unit == "mm" && typed.contains('/');
        if unit.is_empty() || typed.is_empty() || !is_bare(typed) || is_doubtful {
            typed.to_owned()
        } else {
            format!("{typed} {unit}")
        }
    }
}

/// Whether a typed quantity is a number or a fraction without a unit.
fn is_bare(typed: &str) -> bool {
    typed.chars().any(|c| c.is_ascii_digit())
        && typed.chars().all(|c| c.is_ascii_digit() || " .,/+-⁄".contains(c))
}

impl Choice {
    pub(crate) fn new(value: impl Into<String>, label: impl Into<String>) -> Self {
        Self { value: value.into(), label: label.into() }
    }

    pub(crate) fn plain(name: &str) -> Self {
        Self::new(name, name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bare_numbers_get_the_unit_of_the_page() {
        for (typed, inch, mm) in [
            ("0.4905", "0.4905 in", "0.4905 mm"),
            ("1-1/4", "1-1/4 in", "1-1/4"),
            (" 12.7 mm ", "12.7 mm", "12.7 mm"),
            ("3/8\"", "3/8\"", "3/8\""),
            ("", "", ""),
            ("-", "-", "-"),
        ] {
            let field = Field::length("d", "diameter").value(typed);
            assert_eq!(field.with_unit(System::Inch), inch);
            assert_eq!(field.with_unit(System::Millimetre), mm);
        }
        assert_eq!(Field::angle("a", "helix").value("30").with_unit(System::Inch), "30 deg");
        for typed in ["0 88 180", "0, 88, 180", "0 deg, 88 deg, 180 deg", "0 deg; 88; 180"] {
            let field = Field::new(Kind::Angles, "i", "places").value(typed);
            assert_eq!(field.angles(), ["0 deg", "88 deg", "180 deg"], "{typed}");
        }
        assert_eq!(Field::text("t", "work").value("4140").with_unit(System::Inch), "4140");
    }
}

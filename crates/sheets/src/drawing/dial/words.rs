//! What a dial's picture says in words: the turns, the mark, what the figures are.

use geometry::System;
use shop::plan::DialMark;

use super::super::leaf::counted;
use super::face::{Course, Face};

impl Face {
    /// Whole turns and the mark, in lines for the dial's middle.
    pub(super) fn turns_words(&self) -> Vec<String> {
        match self.turns {
            None => Vec::new(),
            Some(0) => vec!["less than one turn".to_owned(), "from 0".to_owned()],
            Some(turns) if turns > 0 => {
                let turns = u32::try_from(turns).unwrap_or(u32::MAX);
                vec![counted(turns, "whole turn", "whole turns"), "from 0, then on".to_owned()]
            }
            Some(turns) => {
                let back = u32::try_from(turns.unsigned_abs() - 1).unwrap_or(u32::MAX);
                let whole = match back {
                    0 => "less than one turn".to_owned(),
                    _ => counted(back, "whole turn", "whole turns"),
                };
                vec![whole, "back from 0".to_owned()]
            }
        }
    }

    /// What stands under the index.
    pub(super) fn under(&self) -> String {
        if let Some(mark) = self.whole_mark() {
            return format!("mark {}", self.figure(mark));
        }
        let (mark, past) = self.past_mark();
        let mark = self.figure(mark);
        match self.vernier {
            Some(lines) => format!("mark {mark}, vernier line {:.0}", past * lines),
            None if (past - 0.5).abs() < 0.05 => format!("mark {mark} and a half"),
            None => format!("past mark {mark}"),
        }
    }

    fn unit_words(&self) -> &'static str {
        match self.system {
            None => "degrees",
            Some(System::Inch) if self.figure_unit < 1.0 => "thou",
            Some(System::Inch) => "inches",
            Some(System::Millimetre) => "millimetres",
        }
    }

    /// One division as it is written.
    fn division_words(&self) -> String {
        let text = format!("{:.6}", self.division);
        let number = text.trim_end_matches('0').trim_end_matches('.');
        match self.system {
            None => format!("{number}°"),
            Some(system) => format!("{number} {}", system.unit()),
        }
    }

    /// What to know about the dial, below it.
    pub(super) fn notes(&self, mark: &DialMark) -> Vec<String> {
        let shown = match self.course {
            Course::Ring { .. } => "",
            _ => " A part of it is drawn.",
        };
        let figures = format!(
            "Figures in {}, one division {}.{shown} They are drawn growing {}; the dial itself \
             may run the other way.",
            self.unit_words(),
            self.division_words(),
            if self.course == Course::Rule { "to the right" } else { "clockwise" },
        );
        let mut notes = vec![format!("The reading grows {}.", mark.positive.trim())];
        if mark.on_diameter {
            notes.push("This dial counts on diameter.".to_owned());
        }
        notes.push(figures);
        notes
    }

    pub(super) fn description(&self, mark: &DialMark) -> String {
        let turns = self.turns_words().join(" ");
        let turns = if turns.is_empty() { turns } else { format!("{turns}; ") };
        format!(
            "The dial of {} with its index at the top: set {}. {turns}{} under the index. {}",
            mark.axis,
            self.reading,
            self.under(),
            self.notes(mark).join(" "),
        )
    }
}

//! Words broken into lines, with nothing of them lost.

use crate::scene::Face;

/// A text in lines no wider than a room. A word that is wider by itself is broken where the line
/// is full. Room for nothing is taken for room for one letter.
pub(super) fn wrapped(text: &str, face: Face, size_mm: f64, room_mm: f64) -> Vec<String> {
    let fits = |text: &str| face.width_mm(text, size_mm) <= room_mm + 1e-9;
    let mut lines: Vec<String> = vec![String::new()];
    for word in text.split_whitespace() {
        for (at, piece) in pieces(word, &fits).into_iter().enumerate() {
            let Some(line) = lines.last_mut() else { break };
            let joined = format!("{line} {piece}");
            if line.is_empty() {
                *line = piece;
            } else if at == 0 && fits(&joined) {
                *line = joined;
            } else {
                lines.push(piece);
            }
        }
    }
    lines
}

/// A word in pieces that each fit.
fn pieces(word: &str, fits: &impl Fn(&str) -> bool) -> Vec<String> {
    let mut pieces = vec![String::new()];
    for letter in word.chars() {
        let Some(piece) = pieces.last_mut() else { break };
        let longer = format!("{piece}{letter}");
        if piece.is_empty() || fits(&longer) {
            *piece = longer;
        } else {
            pieces.push(letter.to_string());
        }
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_too_wide_and_no_letter_is_lost() {
        let text = "Hold the tooth on its rest. K-117-OF-THE-VERY-LONG-NUMBER-000000000001 stays.";
        for room_mm in [12.0, 30.0, 90.0] {
            let lines = wrapped(text, Face::Plain, 3.0, room_mm);
            assert!(lines.iter().all(|line| Face::Plain.width_mm(line, 3.0) <= room_mm + 1e-6));
            let bare = |text: &str| text.chars().filter(|l| !l.is_whitespace()).collect::<String>();
            assert_eq!(bare(&lines.concat()), bare(text));
        }
        assert_eq!(wrapped("", Face::Plain, 3.0, 10.0), [""]);
        assert_eq!(wrapped("ab", Face::Plain, 3.0, 0.0), ["a", "b"]);
    }
}

//! No text at all makes a reader stumble: it reads, or it names what is wrong.

use proptest::prelude::*;

use super::Noun;

/// A reader that refuses must say why, in the order of lines, on lines that exist.
fn reads_or_says_why(noun: Noun, text: &str) {
    let Err(problems) = noun.read(text) else { return };
    let problems = problems.problems();
    assert!(!problems.is_empty(), "{noun:?} refused without a word: {text:?}");
    let lines: Vec<_> = problems.iter().map(|problem| problem.line.unwrap()).collect();
    assert!(lines.is_sorted(), "{lines:?}");
    let line_max = text.split('\n').count();
    assert!(lines.iter().all(|line| (1..=line_max).contains(line)), "{lines:?} of {line_max}");
    for problem in problems {
        let shown = problem.to_string();
        assert!(!shown.contains('\n'), "{shown:?}");
        assert!(!problem.message.is_empty() && !problem.right.is_empty(), "{shown:?}");
    }
}

/// Pieces that make up such files, so that spoilt ones stay close to sound ones.
fn piece() -> impl Strategy<Value = String> {
    prop_oneof![
        Just("\n".to_owned()),
        Just("[wear]\n".to_owned()),
        Just("[[wear.tooth]]\n".to_owned()),
        Just("[[axis]]\n".to_owned()),
        Just("[[wheel]]\n".to_owned()),
        Just("[[grind]]\nafter = \"1 mm\"\n".to_owned()),
        Just("[[wheel_grind]]\nentry = 1979-05-27\n".to_owned()),
        Just("wear = [1, {tooth = 2}]\n".to_owned()),
        Just("[[a.b]]\n[a]\nb.c = 1\n".to_owned()),
        "[a-z_.]{1,12} = [-0-9a-z_.\"'\\[\\]{}, ]{0,12}\n",
        "\"[0-9./ -]{0,6} ?(mm|in|deg|min|um|thou)?\"",
        "[\\[\\]{}=\"'#.,\\\\\n\r\t\u{feff}\u{0}é⅜ ]{1,6}",
    ]
}

proptest! {
    #[test]
    fn any_text_at_all(text in any::<String>()) {
        for noun in Noun::ALL {
            reads_or_says_why(noun, &text);
        }
    }

    #[test]
    fn any_pieces(pieces in prop::collection::vec(piece(), 0..20)) {
        let text = pieces.concat();
        for noun in Noun::ALL {
            reads_or_says_why(noun, &text);
        }
    }

    #[test]
    fn a_sound_file_with_a_piece_replaced(
        noun in prop::sample::select(Noun::ALL.to_vec()),
        start in any::<prop::sample::Index>(),
        length in 0_usize..40,
        pieces in prop::collection::vec(piece(), 0..3),
    ) {
        // Sound files are plain ASCII, so that every offset falls between characters.
        let sound = noun.sound();
        let start = start.index(sound.len());
        let end = (start + length).min(sound.len());
        let text = format!("{}{}{}", &sound[..start], pieces.concat(), &sound[end..]);
        reads_or_says_why(noun, &text);
    }

    #[test]
    fn a_sound_file_with_its_lines_in_disorder(
        noun in prop::sample::select(Noun::ALL.to_vec()),
        first in any::<prop::sample::Index>(),
        second in any::<prop::sample::Index>(),
    ) {
        let mut lines: Vec<_> = noun.sound().lines().collect();
        let (first, second) = (first.index(lines.len()), second.index(lines.len()));
        lines.swap(first, second);
        reads_or_says_why(noun, &lines.join("\n"));
    }
}

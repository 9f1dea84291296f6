//! No text at all makes a reader stumble: it reads, or it names what is wrong.

use proptest::prelude::*;
use shop::record::Cutter;
use toothrest::files::read_readings;

use super::pages::{GRID, ROWS, SECTIONS, Sound};
use super::plans::cutter;

const SOUNDS: [Sound; 3] = [SECTIONS, ROWS, GRID];

thread_local! {
    static CUTTER: Cutter = cutter(SECTIONS.cutter);
}

/// A reader that refuses must say why, in the order of lines, on lines that exist.
fn reads_or_says_why(file: &str, text: &str) {
    let read = CUTTER.with(|cutter| read_readings(file, text, cutter));
    let Err(problems) = read else { return };
    let problems = problems.problems();
    assert!(!problems.is_empty(), "{file} refused without a word: {text:?}");
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
        Just("kind,how,tooth,from_end,reading,resolution\n".to_owned()),
        Just("tooth (mm);3 mm;25 mm\n".to_owned()),
        Just("[[lands]]\n[[lands.at]]\n".to_owned()),
        Just("[[diameters]]\nat = [1, {reading = \"-\"}]\n".to_owned()),
        "(land|drop|sign|diameter|edge runout),[a-z ]{0,4},[0-9]{0,2},[0-9a-z. ]{0,6},",
        "# (resolution|stage|cutter|stge|ground order)[:=] ?[0-9a-z. ]{0,9}\n",
        "[a-z_.]{1,12} = [-0-9a-z_.\"'\\[\\]{}, ]{0,12}\n",
        "\"?[0-9.,/ -]{0,6} ?(mm|in|deg|um|thou)?\"?[,;]?",
        "[\\[\\]{}()=\"'#.,;\\\\\n\r\t\u{feff}\u{0}é⅜– ]{1,6}",
    ]
}

proptest! {
    #[test]
    fn any_text_at_all(text in any::<String>()) {
        reads_or_says_why("a.toml", &text);
        reads_or_says_why("a.csv", &text);
    }

    #[test]
    fn any_pieces(pieces in prop::collection::vec(piece(), 0..20)) {
        let text = pieces.concat();
        reads_or_says_why("a.toml", &text);
        reads_or_says_why("a.csv", &text);
    }

    #[test]
    fn a_sound_file_with_a_piece_replaced(
        sound in prop::sample::select(SOUNDS.to_vec()),
        start in any::<prop::sample::Index>(),
        length in 0_usize..40,
        pieces in prop::collection::vec(piece(), 0..3),
    ) {
        // Sound files are plain ASCII, so that every offset falls between characters.
        let start = start.index(sound.text.len());
        let end = (start + length).min(sound.text.len());
        let text = format!("{}{}{}", &sound.text[..start], pieces.concat(), &sound.text[end..]);
        reads_or_says_why(sound.file, &text);
    }

    #[test]
    fn a_sound_file_with_its_lines_in_disorder(
        sound in prop::sample::select(SOUNDS.to_vec()),
        first in any::<prop::sample::Index>(),
        second in any::<prop::sample::Index>(),
    ) {
        let mut lines: Vec<_> = sound.text.lines().collect();
        let (first, second) = (first.index(lines.len()), second.index(lines.len()));
        lines.swap(first, second);
        reads_or_says_why(sound.file, &lines.join("\n"));
    }
}

//! Prose as people read it, in a page or in a comment.

/// A line with its inline code blanked out.
pub(crate) fn without_code(text: &str) -> String {
    text.split('`').step_by(2).collect::<Vec<_>>().join(" ")
}

#[test]
fn inline_code_is_blanked_out() {
    assert_eq!(without_code("a `b` c [`d`]"), "a   c [ ]");
    assert_eq!(without_code("plain"), "plain");
}

//! Text of somebody else's as a message repeats it.

/// A text of at most so many characters, and one for the middle that was taken out of a longer one.
pub fn shortened(text: &str, characters_max: usize) -> String {
    let count = text.chars().count();
    if count <= characters_max {
        return text.to_owned();
    }
    let (start, end) = (characters_max.div_ceil(2), characters_max / 2);
    let start: String = text.chars().take(start).collect();
    let end: String = text.chars().skip(count - end).collect();
    format!("{start}…{end}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_middle_of_a_long_text_is_left_out() {
        assert_eq!(shortened("3/8 in", 6), "3/8 in");
        assert_eq!(shortened("½½3/8 in", 5), "½½3…in");
        assert_eq!(shortened("½", 0), "…");
    }
}

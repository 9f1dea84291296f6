//! Spoiling: a sound file with something done to it, the same for the same seed.

/// Pieces that have made readers stumble elsewhere.
const ODD: [&str; 34] = [
    "\0",
    "\u{feff}",
    "\r\n",
    "\r",
    "\u{202e}",
    "\u{1b}[2J",
    "½",
    "⅜ in",
    "𝟙",
    "é",
    "\"",
    "'''",
    "\"\"\"",
    "\\u0000",
    "[",
    "]",
    "[[",
    "{",
    "}",
    "=",
    "#",
    ",",
    ";",
    "&",
    "%00",
    "%FF",
    "+",
    "<zq>",
    "1e308",
    "-1e-320",
    "99999999999999999999",
    "nan",
    "-inf",
    "0x7fffffff",
];

/// Even draws, one after another.
pub(crate) struct Draws(u64);

impl Draws {
    pub(crate) const fn of(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        // Source: the mixing steps of SplitMix64, from memory; any even generator would do.
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A whole number below another, or 0.
    pub(crate) fn below(&mut self, end: usize) -> usize {
        let end = end.max(1) as u64;
        usize::try_from(self.next() % end).unwrap_or(0)
    }
}

/// The words that make up sound files, to be put where they do not belong.
pub(crate) fn words_of(seeds: &[Vec<u8>]) -> Vec<Vec<u8>> {
    let is_part = |byte: &u8| byte.is_ascii_alphanumeric() || b"_.-%".contains(byte);
    let mut words: Vec<Vec<u8>> = seeds
        .iter()
        .flat_map(|seed| seed.split(|byte| !is_part(byte)))
        .filter(|word| (1..40).contains(&word.len()))
        .map(<[u8]>::to_vec)
        .collect();
    words.extend(ODD.map(|odd| odd.as_bytes().to_vec()));
    words.sort();
    words.dedup();
    words
}

/// One of the seeds, spoilt in one to eight ways.
pub(crate) fn spoilt(draws: &mut Draws, seeds: &[Vec<u8>], words: &[Vec<u8>]) -> Vec<u8> {
    let mut bytes = seeds.get(draws.below(seeds.len())).cloned().unwrap_or_default();
    for _ in 0..=draws.below(8) {
        let at = draws.below(bytes.len() + 1);
        let end = (at + draws.below(40)).min(bytes.len());
        match draws.below(9) {
            0 if at < bytes.len() => bytes[at] ^= 1 << draws.below(8),
            1 => drop(bytes.drain(at..end)),
            2 => {
                let again = bytes[at..end].to_vec();
                bytes.splice(at..at, again);
            }
            3 => bytes.insert(at, u8::try_from(draws.below(256)).unwrap_or(0)),
            4 => drop(bytes.splice(at..end, words[draws.below(words.len())].clone())),
            5 => {
                let other = &seeds[draws.below(seeds.len())];
                let from = draws.below(other.len());
                let until = (from + draws.below(200)).min(other.len());
                bytes.splice(at..end, other[from..until].iter().copied());
            }
            6 => swap_lines(draws, &mut bytes),
            7 => bytes = nested(draws, &bytes, at),
            _ => drop(bytes.splice(at..at, words[draws.below(words.len())].clone())),
        }
    }
    bytes
}

fn swap_lines(draws: &mut Draws, bytes: &mut Vec<u8>) {
    let mut lines: Vec<Vec<u8>> = bytes.split(|byte| *byte == b'\n').map(<[u8]>::to_vec).collect();
    let (one, other) = (draws.below(lines.len()), draws.below(lines.len()));
    lines.swap(one, other);
    *bytes = lines.join(&b'\n');
}

/// Brackets in brackets, most often a few and sometimes very many.
fn nested(draws: &mut Draws, bytes: &[u8], at: usize) -> Vec<u8> {
    let deep = if draws.below(20) == 0 { 5_000 } else { 1 + draws.below(5) };
    let bracket = [b'[', b'{', b'(', b'"'][draws.below(4)];
    let (before, behind) = bytes.split_at(at);
    [before, &vec![bracket; deep], behind].concat()
}

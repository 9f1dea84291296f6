//! The commands behind `toothrest book`.

use super::Topic;

pub(super) const TOPICS: &[Topic] = &[
    Topic {
        path: "book",
        examples: &[
            ("Begin one: a machine", "toothrest book keep machine machine.toml --by AB"),
            ("What it holds", "toothrest book look"),
            (
                "Another than the usual one",
                "toothrest book --book shop.sqlite keep machine machine.toml --by AB",
            ),
        ],
        notes: &["The book is what --book names, else TOOTHREST_BOOK, else a file in your data \
             directory. A server's password is better kept in TOOTHREST_BOOK than on a command \
             line that others can see."],
    },
    Topic {
        path: "book keep",
        examples: &[
            ("A machine", "toothrest book keep machine machine.toml --by AB"),
            ("A wheel, or a rack of them", "toothrest book keep wheel wheel.toml --by AB"),
            (
                "A dull cutter that came in, into a tray",
                "toothrest book keep cutter cutter.toml --tray blue --by AB",
            ),
            (
                "Another",
                "toothrest book keep cutter examples/cutters/k-121-corner-radius.toml --tray blue \
                 --by AB",
            ),
            (
                "One that is sharp, onto the shelf",
                "toothrest book keep cutter examples/cutters/k-126-one-inch-powder.toml --shelf \
                 --by AB",
            ),
            (
                "Your own prices",
                "toothrest book keep prices examples/prices/bench-rates.toml --by AB",
            ),
        ],
        notes: &["What is in the book already as it is here is not written again."],
    },
    Topic {
        path: "book take-in",
        examples: &[
            (
                "What each column is taken for; nothing is kept",
                "toothrest book take-in examples/lists/drawer.csv --all hand=right \
                 --all helix_hand=right --all rake=10 --all profile=plain --all end=square",
            ),
            (
                "The same, kept in a tray",
                "toothrest book take-in examples/lists/drawer.csv --all hand=right \
                 --all helix_hand=right --all rake=10 --all profile=plain --all end=square \
                 --tray drawer --keep --by AB",
            ),
        ],
        notes: &["While a list has a problem nothing of it is kept: exit code 2."],
    },
    Topic {
        path: "book look",
        examples: &[
            ("Where it lies and what it holds", "toothrest book look"),
            ("For another program", "toothrest book look --json"),
        ],
        notes: &[],
    },
    Topic {
        path: "book history",
        examples: &[
            ("All that happened to a cutter", "toothrest book history K-117"),
            ("Its record card", "toothrest book history K-117 --pdf card.pdf"),
            ("Of a wheel, for another program", "toothrest book history W-02 --json"),
        ],
        notes: &[],
    },
    Topic {
        path: "book find",
        examples: &[
            ("By words", "toothrest book find cobalt"),
            ("Cutters alone, those that are done with too", "toothrest book find k --kind cutter"),
        ],
        notes: &[],
    },
    Topic {
        path: "book check",
        examples: &[("Through the whole book", "toothrest book check")],
        notes: &["A book with faults is exit code 1; with --json the faults are the answer."],
    },
    Topic {
        path: "book backup",
        examples: &[
            ("While it is in use", "toothrest book backup monday.sqlite"),
            ("For another program", "toothrest book backup tuesday.sqlite --json"),
        ],
        notes: &["A book on a PostgreSQL server is copied into a new folder of files."],
    },
    Topic {
        path: "book restore",
        examples: &[(
            "To where no book is",
            "toothrest book --book restored.sqlite restore monday.sqlite",
        )],
        notes: &[],
    },
    Topic {
        path: "book export",
        examples: &[("Into a new folder", "toothrest book export everything")],
        notes: &["Files that a person can read, and \"book import\" takes in, on either engine."],
    },
    Topic {
        path: "book import",
        examples: &[("Into a new book", "toothrest book --book second.sqlite import everything")],
        notes: &[],
    },
    Topic {
        path: "book pin",
        examples: &[("Whoever signs in", "toothrest book pin AB")],
        notes: &[
            "It is asked for twice and not shown; where standard input is no terminal, its first \
             line is taken.",
        ],
    },
    Topic {
        path: "book token",
        examples: &[
            (
                "For a program that reads from the bench",
                "toothrest book token CRIB --name \"the crib's program\"",
            ),
            ("Withdraw it", "toothrest book token CRIB --withdraw"),
        ],
        notes: &["It is shown once. The program sends it as \"Authorization: Bearer …\" to \
             /interface/v1."],
    },
];

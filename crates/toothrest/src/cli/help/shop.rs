//! The commands that work on the shop's book: trays, quotes, labels, delivery notes.

use super::Topic;

pub(super) const TOPICS: &[Topic] = &[
    Topic {
        path: "tray",
        examples: &[("What to grind after what", "toothrest tray order --tray blue")],
        notes: &[],
    },
    Topic {
        path: "tray order",
        examples: &[
            ("All that waits", "toothrest tray order"),
            (
                "One tray, on one of several machines",
                "toothrest tray order --tray blue --machine \"left bench\"",
            ),
            (
                "Written into the tray's history, and on paper",
                "toothrest tray order --tray blue --keep --by AB --pdf tray.pdf",
            ),
            ("For another program", "toothrest tray order --json"),
        ],
        notes: &[
            "Ctrl-C stops the search with the best order so far, which is then the answer. Head \
             and relief are those of practice and of the cutter's record; its plan may move them \
             by a mark.",
        ],
    },
    Topic {
        path: "quote",
        examples: &[
            ("For a tray, by the prices in the book", "toothrest quote --tray blue"),
            (
                "For cutters in files, by a file of prices",
                "toothrest quote --cutters cutter.toml --prices examples/prices/bench-rates.toml",
            ),
            ("On paper", "toothrest quote --tray blue --pdf quote.pdf"),
            ("For another program", "toothrest quote --tray blue --json"),
        ],
        notes: &["No price is bundled; examples/prices has one to start from."],
    },
    Topic {
        path: "tag",
        examples: &[
            ("On a roll of labels", "toothrest tag K-126 --pdf tag.pdf"),
            (
                "On a sheet of which seven labels are gone",
                "toothrest tag K-126 --labels a4 --first 8 --pdf tags.pdf",
            ),
            (
                "On labels of your own",
                "toothrest tag K-126 --labels examples/labels/roll-62.toml --pdf own.pdf",
            ),
        ],
        notes: &[
            "Print at full size, not fitted to the page.",
            "Only of a cutter that lies ground: hand back first what is at the bench.",
        ],
    },
    Topic {
        path: "deliver",
        examples: &[(
            "What goes back, with its sizes",
            "toothrest deliver K-126 --lot \"blue tray\" --to \"mill 2\" --pdf note.pdf",
        )],
        notes: &[],
    },
];

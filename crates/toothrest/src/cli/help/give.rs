//! The commands behind `toothrest give`.

use super::Topic;

pub(super) const TOPICS: &[Topic] = &[
    Topic {
        path: "give",
        examples: &[("What every cutter really measures", "toothrest give list sizes --units mm")],
        notes: &["A file that is there already is never overwritten."],
    },
    Topic {
        path: "give list",
        examples: &[
            ("A workbook", "toothrest give list cutters --units in -o cutters.xlsx"),
            ("CSV", "toothrest give list records --units mm -o records.csv"),
            ("JSON", "toothrest give list trays --units mm --json"),
        ],
        notes: &[],
    },
    Topic {
        path: "give symbols",
        examples: &[
            ("Of a file", "toothrest give symbols --cutter cutter.toml"),
            ("Of the whole book, as CSV", "toothrest give symbols --csv -o symbols.csv"),
        ],
        notes: &[],
    },
    Topic {
        path: "give assets",
        examples: &[("Of the whole book", "toothrest give assets -o assets.xml")],
        notes: &[],
    },
    Topic {
        path: "give offsets",
        examples: &[
            (
                "Old beside new; nothing is written",
                "toothrest give offsets K-121=12:0.3750 \
                 --cutter examples/cutters/k-121-corner-radius.toml \
                 --control examples/controls/window-mill.toml",
            ),
            (
                "The lines for the control",
                "toothrest give offsets K-121=12:0.3750 \
                 --cutter examples/cutters/k-121-corner-radius.toml \
                 --control examples/controls/window-mill.toml -o offsets.nc",
            ),
        ],
        notes: &[
            "Read old and new and the cautions before the lines are run; the control decides what \
             they do.",
        ],
    },
    Topic {
        path: "give section",
        examples: &[(
            "The tooth as it will be ground",
            "toothrest give section --plan plan.json --units mm -o tooth.dxf",
        )],
        notes: &[],
    },
    Topic {
        path: "give outline",
        examples: &[(
            "Of a file",
            "toothrest give outline --cutter cutter.toml --units in -o outline.dxf",
        )],
        notes: &[],
    },
    Topic {
        path: "give solid",
        examples: &[
            ("As it came in", "toothrest give solid --plan plan.json --state before -o k-117.stl"),
            ("As the plan leaves it", "toothrest give solid --plan plan.json -o k-117.glb"),
        ],
        notes: &[],
    },
];

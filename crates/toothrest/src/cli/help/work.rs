//! The commands that need no book: planning, checking, studying, predicting, and the program's own.

use super::Topic;

pub(super) const TOPICS: &[Topic] = &[
    Topic {
        path: "",
        examples: &[
            ("See a set-up sheet at once, of a cutter that is built in", "toothrest example"),
            ("Write files to start from into a new folder", "toothrest example --write bench"),
            (
                "Plan a regrind from three files",
                "toothrest plan --cutter cutter.toml --machine machine.toml --wheel wheel.toml",
            ),
            ("Open the bench for a browser on this machine", "toothrest serve"),
            ("Learn a command, with examples", "toothrest help plan"),
        ],
        notes: &[
            "Answers go to standard output and messages to standard error. With --json an answer \
             is one JSON object whose \"schema\" is the version of its shape. Where a text file \
             is read, - is standard input: toothrest plan … --json | toothrest study -",
            "Toothrest never calls a wheel safe: the makers of wheel and machine, the rules of \
             your place and qualified people go before anything it prints.",
        ],
    },
    Topic {
        path: "serve",
        examples: &[
            ("On this machine alone, at port 8817", "toothrest serve"),
            ("With an invented shop beside the book, to look round", "toothrest serve --demo"),
            (
                "For a tablet on the same network; then everybody signs in",
                "toothrest serve --listen 0.0.0.0 --name bench.local",
            ),
            (
                "As one of several benches that share a book",
                "toothrest serve --book postgres://bench@server/shop",
            ),
        ],
        notes: &[
            "Without a command the program does the same as serve. It runs until Ctrl-C or a \
             signal to end, and ends with 0 then. Unless it is told to listen wider, only this \
             machine reaches it. It speaks plain HTTP: put it behind a proxy with TLS where the \
             network is not your own.",
        ],
    },
    Topic {
        path: "example",
        examples: &[
            ("Its set-up sheet", "toothrest example"),
            ("All files to start from, into a new folder", "toothrest example --write shop"),
            ("Its plan, for check, study and give", "toothrest example --json > example.json"),
        ],
        notes: &[
            "--write makes cutter.toml, machine.toml and wheel.toml to be changed, and beside \
             them a folder examples with every kind of file. Nothing is overwritten.",
        ],
    },
    Topic {
        path: "plan",
        examples: &[
            (
                "From a dull cutter to a set-up sheet",
                "toothrest plan --cutter cutter.toml --machine machine.toml --wheel wheel.toml",
            ),
            (
                "In millimetres, with inches beside them",
                "toothrest plan --cutter cutter.toml --machine machine.toml --wheel wheel.toml \
                 --units mm --both",
            ),
            (
                "To a size of your own, smaller than the largest that cleans up",
                "toothrest plan --cutter cutter.toml --machine machine.toml --wheel wheel.toml \
                 --to-size \"0.475 in\"",
            ),
            (
                "Learning from what earlier grinds took",
                "toothrest plan --cutter cutter.toml --machine machine.toml --wheel wheel.toml \
                 --history examples/history/k-117.toml",
            ),
            (
                "A page for the printer and pictures",
                "toothrest plan --cutter cutter.toml --machine machine.toml --wheel wheel.toml \
                 --pdf sheet.pdf --svg pictures",
            ),
            (
                "The answer that check, study and give read",
                "toothrest plan --cutter cutter.toml --machine machine.toml --wheel wheel.toml \
                 --json > plan.json",
            ),
            ("The corrective grind after a check", "toothrest plan --after check.json"),
            (
                "The same, where the feed's dial really stood elsewhere; for the next check",
                "toothrest plan --after check.json --fed \"0.0035 in\" --json > again.json",
            ),
        ],
        notes: &[
            "Every length and angle in a file carries its unit. All that is wrong is said at \
             once, with file, line, and what would be right.",
        ],
    },
    Topic {
        path: "check",
        examples: &[
            (
                "A form to fill in at the bench",
                "toothrest check --plan plan.json --template -o readings.toml",
            ),
            (
                "What the readings say, and what to do next",
                "toothrest check --plan plan.json --readings \
                 examples/readings/k-117-as-planned.toml",
            ),
            (
                "Readings from a spreadsheet, with pictures",
                "toothrest check --plan plan.json --readings \
                 examples/readings/k-117-half-empty.csv --svg pictures",
            ),
            (
                "The answer that \"plan --after\" reads",
                "toothrest check --plan plan.json --readings \
                 examples/readings/k-117-heavy-toward-shank.toml --json > check.json",
            ),
        ],
        notes: &[
            "Readings that can hardly be meant are asked about, and nothing is weighed until that \
             is settled: exit code 2. With --json the questions are the answer.",
        ],
    },
    Topic {
        path: "study",
        examples: &[
            ("Which setting of a plan matters", "toothrest study plan.json --samples 512"),
            (
                "With pictures, as an answer for other programs",
                "toothrest study plan.json --samples 512 --seed 7 --svg pictures --json",
            ),
        ],
        notes: &[
            "How far a hand is ordinarily off stands in the topic habits of the tables; a shop's \
             own table goes above it. The same plan, number and seed give the same answer.",
        ],
    },
    Topic {
        path: "section",
        examples: &[
            ("What a set-up leaves on the tooth", "toothrest section examples/settings/cup.toml"),
            (
                "The same for another program",
                "toothrest section examples/settings/worn-corner.toml --json",
            ),
        ],
        notes: &[],
    },
    Topic {
        path: "swivel",
        examples: &[
            (
                "An end tooth: its dish and its relief",
                "toothrest swivel --machine examples/machines/universal-bench.toml \
                 --dish \"1 deg\" --relief \"7 deg\"",
            ),
            (
                "A chamfered corner",
                "toothrest swivel --machine examples/machines/universal-bench.toml \
                 --surface corner --relief \"8 deg\"",
            ),
            (
                "One scale stands elsewhere, another shall stay",
                "toothrest swivel --machine examples/machines/universal-bench.toml \
                 --relief \"7 deg\" --keep \"table top\"",
            ),
            (
                "An angle between wheel face and shank",
                "toothrest swivel --machine examples/machines/universal-bench.toml \
                 --spindles \"60 deg\" --json",
            ),
        ],
        notes: &[
            "Every set-up that moves as few scales as will do, or one more, the handiest first. \
             The machine's file must say where each swivel reads 0 and which way it grows. Only \
             angles are told: bring the wheel to the tooth by the slides, by sight and touch.",
        ],
    },
    Topic {
        path: "sources",
        examples: &[
            ("The topics there are", "toothrest sources"),
            ("Every row on relief, chosen or not", "toothrest sources relief"),
            ("Every source", "toothrest sources bibliography"),
            ("A topic for another program", "toothrest sources shrink --json"),
        ],
        notes: &[],
    },
    Topic {
        path: "completions",
        examples: &[
            ("For bash, for yourself", "toothrest completions bash > toothrest.bash"),
            ("For zsh, into a folder of your fpath", "toothrest completions zsh > _toothrest"),
            ("For fish", "toothrest completions fish > toothrest.fish"),
        ],
        notes: &["bash reads it where you write \"source\" and its path into ~/.bashrc, or from \
             ~/.local/share/bash-completion/completions under the name toothrest."],
    },
    Topic {
        path: "man",
        examples: &[("One page for each command, into a folder", "toothrest man man1")],
        notes: &["Read one with: man ./man1/toothrest-plan.1"],
    },
    Topic {
        path: "licences",
        examples: &[
            ("What is inside, and under which licence", "toothrest licences"),
            ("The texts of all of them", "toothrest licences --texts"),
            ("For another program", "toothrest licences --json"),
        ],
        notes: &[],
    },
];

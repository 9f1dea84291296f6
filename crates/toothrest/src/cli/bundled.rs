//! The example that travels with the program.

/// A dull half-inch end mill.
pub(super) const CUTTER: (&str, &str) = (
    "examples/cutters/k-117-half-inch-dull.toml",
    include_str!("../../../../examples/cutters/k-117-half-inch-dull.toml"),
);

/// The bench it is ground on.
pub(super) const MACHINE: (&str, &str) = (
    "examples/machines/left-bench.toml",
    include_str!("../../../../examples/machines/left-bench.toml"),
);

/// The wheels on the rack beside it.
pub(super) const WHEELS: [(&str, &str); 2] = [
    (
        "examples/wheels/w-05-flaring-cup-cbn.toml",
        include_str!("../../../../examples/wheels/w-05-flaring-cup-cbn.toml"),
    ),
    (
        "examples/wheels/w-02-straight-cup-oxide.toml",
        include_str!("../../../../examples/wheels/w-02-straight-cup-oxide.toml"),
    ),
];

/// Every example, by its path in the folder of examples: gathered by the build script.
pub(super) const EXAMPLES: &[(&str, &[u8])] = include!(concat!(env!("OUT_DIR"), "/examples.rs"));

/// What a first plan of one's own is changed from, each with the example that it is a copy of.
pub(super) const TO_CHANGE: [(&str, &str); 3] = [
    ("cutter.toml", "cutters/k-117-half-inch-dull.toml"),
    ("machine.toml", "machines/left-bench.toml"),
    ("wheel.toml", "wheels/w-02-straight-cup-oxide.toml"),
];

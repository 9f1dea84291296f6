//! The cutters, wheels and machines of the demo shop: the examples that travel with the program.

/// Cutters as they arrive today, each with its file.
pub(super) const CUTTERS: [(&str, &str); 15] = [
    ("k-101-eighth-inch.toml", include_str!("../../../../examples/cutters/k-101-eighth-inch.toml")),
    (
        "k-104-three-mm-carbide.toml",
        include_str!("../../../../examples/cutters/k-104-three-mm-carbide.toml"),
    ),
    (
        "k-107-quarter-inch.toml",
        include_str!("../../../../examples/cutters/k-107-quarter-inch.toml"),
    ),
    (
        "k-112-three-tooth-cobalt.toml",
        include_str!("../../../../examples/cutters/k-112-three-tooth-cobalt.toml"),
    ),
    (
        "k-117-half-inch-dull.toml",
        include_str!("../../../../examples/cutters/k-117-half-inch-dull.toml"),
    ),
    (
        "k-121-corner-radius.toml",
        include_str!("../../../../examples/cutters/k-121-corner-radius.toml"),
    ),
    (
        "k-126-one-inch-powder.toml",
        include_str!("../../../../examples/cutters/k-126-one-inch-powder.toml"),
    ),
    (
        "k-130-two-inch-chipped.toml",
        include_str!("../../../../examples/cutters/k-130-two-inch-chipped.toml"),
    ),
    ("k-134-left-hand.toml", include_str!("../../../../examples/cutters/k-134-left-hand.toml")),
    (
        "k-138-unequal-index.toml",
        include_str!("../../../../examples/cutters/k-138-unequal-index.toml"),
    ),
    ("k-141-rougher.toml", include_str!("../../../../examples/cutters/k-141-rougher.toml")),
    (
        "k-145-straight-tooth.toml",
        include_str!("../../../../examples/cutters/k-145-straight-tooth.toml"),
    ),
    ("k-149-hopeless.toml", include_str!("../../../../examples/cutters/k-149-hopeless.toml")),
    ("k-152-fifty-mm.toml", include_str!("../../../../examples/cutters/k-152-fifty-mm.toml")),
    ("k-156-ball.toml", include_str!("../../../../examples/cutters/k-156-ball.toml")),
];

/// The wheels on its rack.
pub(super) const WHEELS: [(&str, &str); 8] = [
    ("rack-other.toml", include_str!("../../../../examples/wheels/rack-other.toml")),
    (
        "w-01-flaring-cup-oxide.toml",
        include_str!("../../../../examples/wheels/w-01-flaring-cup-oxide.toml"),
    ),
    (
        "w-02-straight-cup-oxide.toml",
        include_str!("../../../../examples/wheels/w-02-straight-cup-oxide.toml"),
    ),
    (
        "w-03-straight-oxide.toml",
        include_str!("../../../../examples/wheels/w-03-straight-oxide.toml"),
    ),
    (
        "w-04-flaring-cup-silicon-carbide.toml",
        include_str!("../../../../examples/wheels/w-04-flaring-cup-silicon-carbide.toml"),
    ),
    (
        "w-05-flaring-cup-cbn.toml",
        include_str!("../../../../examples/wheels/w-05-flaring-cup-cbn.toml"),
    ),
    (
        "w-06-straight-cup-cbn.toml",
        include_str!("../../../../examples/wheels/w-06-straight-cup-cbn.toml"),
    ),
    (
        "w-07-flaring-cup-diamond.toml",
        include_str!("../../../../examples/wheels/w-07-flaring-cup-diamond.toml"),
    ),
];

/// Its machines, by name.
pub(super) const MACHINES: [(&str, &str); 4] = [
    ("corner bench", include_str!("../../../../examples/machines/corner-bench.toml")),
    ("left bench", include_str!("../../../../examples/machines/left-bench.toml")),
    ("right bench", include_str!("../../../../examples/machines/right-bench.toml")),
    ("universal bench", include_str!("../../../../examples/machines/universal-bench.toml")),
];

/// Its prices.
pub(super) const PRICES: &str = include_str!("../../../../examples/prices/bench-rates.toml");

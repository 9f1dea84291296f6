//! The questions about the dials and swivels of a machine, to somebody who stands in front of it.

use shop::record::{AxisRole, HeadZero, Reads, Side};

use crate::web::form::{Choice, Entries, Field, Group};

/// What is asked of an axis beforehand.
struct Talk {
    role: AxisRole,
    about: &'static str,
    side: Side,
    zero: &'static str,
    positive: &'static str,
}

/// Every role, in the order in which machines are usually built: first what carries the wheel, then
/// what carries the work, then the rest.
const TALKS: [Talk; 16] = [
    Talk {
        role: AxisRole::WheelHeadHeight,
        about: "Raises and lowers the wheel. Relief can be set by it.",
        side: Side::Wheel,
        zero: "wheel axis level with the work centres",
        positive: "up",
    },
    Talk {
        role: AxisRole::ColumnSwivel,
        about: "The circle on which the whole column of the wheel head swings, seen from above.",
        side: Side::Wheel,
        zero: "column straight",
        positive: "clockwise seen from above",
    },
    Talk {
        role: AxisRole::HeadSwivel,
        about: "The circle on which the wheel head swings, seen from above.",
        side: Side::Wheel,
        zero: "",
        positive: "clockwise seen from above",
    },
    Talk {
        role: AxisRole::HeadTilt,
        about: "Tips the wheel spindle out of the level.",
        side: Side::Wheel,
        zero: "wheel spindle level",
        positive: "wheel end down",
    },
    Talk {
        role: AxisRole::CrossFeed,
        about: "The dial you feed by: it brings wheel and cutter together.",
        side: Side::Work,
        zero: "slide full back",
        positive: "work toward the wheel",
    },
    Talk {
        role: AxisRole::TableTravel,
        about: "Carries the cutter along past the wheel.",
        side: Side::Work,
        zero: "left stop",
        positive: "table to the right",
    },
    Talk {
        role: AxisRole::TableSwivel,
        about: "Swings the table top, for taper.",
        side: Side::Work,
        zero: "table top along the travel",
        positive: "right end away from the wheel",
    },
    Talk {
        role: AxisRole::WorkHeadSwivel,
        about: "Swings the work head, seen from above.",
        side: Side::Work,
        zero: "work spindle along the table",
        positive: "collet toward the wheel",
    },
    Talk {
        role: AxisRole::WorkHeadTilt,
        about: "Tips the work head out of the level.",
        side: Side::Work,
        zero: "work spindle level",
        positive: "collet down",
    },
    Talk {
        role: AxisRole::WorkHeadUpperSwivel,
        about: "A second circle on a universal work head, above its tilt.",
        side: Side::Work,
        zero: "work spindle along the table",
        positive: "collet toward the wheel",
    },
    Talk {
        role: AxisRole::ReliefDial,
        about: "A dial on the fixture that turns the tooth below centre. Relief can be set by it.",
        side: Side::Work,
        zero: "tooth on centre",
        positive: "tooth at the rest down",
    },
    Talk {
        role: AxisRole::RestHeight,
        about: "Raises and lowers the tooth rest. Relief can be set by it.",
        side: Side::Wheel,
        zero: "finger level with the work spindle",
        positive: "down",
    },
    Talk {
        role: AxisRole::RestAlong,
        about: "Moves the tooth rest along the cutter.",
        side: Side::Wheel,
        zero: "finger at the wheel's corner",
        positive: "into the face",
    },
    Talk {
        role: AxisRole::WorkSpindleIndex,
        about: "An index plate or divided circle that turns the cutter from tooth to tooth.",
        side: Side::Work,
        zero: "notch 1",
        positive: "clockwise seen from the tip",
    },
    Talk {
        role: AxisRole::LongFeed,
        about: "A fine screw that carries the cutter along past the wheel, beside the table's own.",
        side: Side::Work,
        zero: "left stop",
        positive: "table to the right",
    },
    Talk {
        role: AxisRole::SpindleDial,
        about: "A graduated dial that turns the cutter about its own axis.",
        side: Side::Work,
        zero: "tooth on centre",
        positive: "tooth at the rest down",
    },
];

/// Whether every machine has it, so that its questions stand open.
const fn is_always_there(role: AxisRole) -> bool {
    matches!(role, AxisRole::CrossFeed | AxisRole::HeadSwivel)
}

/// More axes than any machine has.
const AXES_MAX: usize = 40;

/// The order of axes that begins with these: a file may build a machine in another order than the
/// usual one, or with two swivels of a kind, and keeps it.
pub(super) fn order(first: impl Iterator<Item = AxisRole>) -> Vec<AxisRole> {
    let mut order: Vec<AxisRole> = Vec::new();
    for role in first {
        if role.may_stand_twice() || !order.contains(&role) {
            order.push(role);
        }
    }
    let missing = TALKS.iter().map(|talk| talk.role).filter(|role| !order.contains(role));
    let missing: Vec<AxisRole> = missing.collect();
    order.extend(missing);
    order
}

/// The order in which a page sent its axes.
pub(super) fn order_sent(entries: &Entries) -> Vec<AxisRole> {
    use shop::record::Named;
    let sent = (0..AXES_MAX).map(|at| entries.get(&format!("axis[{at}].role")).to_owned());
    let roles: Vec<_> = sent.filter_map(|name| AxisRole::from_name(&name)).collect();
    order(roles.into_iter())
}

/// The groups of questions, those of every machine first.
pub(super) fn groups(order: &[AxisRole]) -> Vec<Group> {
    let group = |(at, role): (usize, &AxisRole)| {
        let talk = TALKS.iter().find(|talk| talk.role == *role)?;
        let is_second = order[..at].contains(role);
        Some((is_always_there(*role), group(at, talk, is_second)))
    };
    let mut groups: Vec<_> = order.iter().enumerate().filter_map(group).collect();
    groups.sort_by_key(|(always, _)| !always);
    groups.into_iter().map(|(_, group)| group).collect()
}

fn group(at: usize, talk: &Talk, is_second: bool) -> Group {
    let key = |name: &str| format!("axis[{at}].{name}");
    let mut fields = vec![Field::hidden(key("role"), talk.role.name())];
    fields.extend(if talk.role.turns() { swivel(&key) } else { slide(&key, talk.role) });
    fields.push(Field::flag(key("halves"), "I can split a mark by eye"));
    fields.push(zero(key("zero"), talk));
    fields.push(
        Field::text(key("positive"), "Which way does it grow?")
            .given(talk.positive)
            .offered(talk.role.growing_phrases())
            .hint(IN_WORDS),
    );
    fields.push(Field::named::<Side>(key("side"), "It moves the").value(talk.side.name()));
    if is_always_there(talk.role) {
        for field in fields.iter_mut().filter(|field| is_asked_always(&field.name)) {
            field.is_needed = true;
        }
    }
    let mut title = capital(talk.role.name());
    if is_second {
        title.push_str(", the second");
    }
    let group = Group::new(title, fields).words(talk.about);
    if is_always_there(talk.role) { group } else { group.folded() }
}

fn is_asked_always(name: &str) -> bool {
    name.ends_with(".name") || name.ends_with(".graduation")
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters
        .next()
        .map(|first| first.to_ascii_uppercase().to_string() + letters.as_str())
        .unwrap_or_default()
}

fn name(key: String) -> Field {
    Field::text(key, "What do you call it?").hint("as you would say it at this machine")
}

fn slide(key: &impl Fn(&str) -> String, role: AxisRole) -> Vec<Field> {
    let reads = Field::choice(
        key("reads"),
        "Does its dial count on the radius or the diameter?",
        vec![
            Choice::new(Reads::Radius.name(), "radius: the way the slide moves"),
            Choice::new(Reads::Diameter.name(), "diameter: twice that way"),
        ],
    );
    let reads = if role == AxisRole::CrossFeed {
        reads.hint("try it: feed by one turn and measure how far the slide went")
    } else {
        reads.value(Reads::Radius.name())
    };
    vec![
        Field::hidden(key("motion"), "slide"),
        name(key("name")),
        Field::length(key("graduation"), "What does one mark mean?").hint("as the dial counts it"),
        Field::length(key("per_turn"), "What does one whole turn move?")
            .hint("as the dial counts it; open on a plain rule"),
        reads,
        Field::length(key("vernier"), "One mark of its vernier").hint("open where it has none"),
        Field::length(key("backlash"), "Lost motion when you turn back")
            .hint("as the dial counts it; open where there is none"),
        Field::length(key("range[0]"), "Lowest reading").hint("at the stop; both or none"),
        Field::length(key("range[1]"), "Highest reading"),
    ]
}

fn swivel(key: &impl Fn(&str) -> String) -> Vec<Field> {
    vec![
        Field::hidden(key("motion"), "swivel"),
        name(key("name")),
        Field::angle(key("graduation"), "What does one mark mean?").hint("1 deg, 30 min"),
        Field::angle(key("vernier"), "One mark of its vernier")
            .hint("5 min; open where it has none"),
        Field::angle(key("backlash"), "Lost motion when you turn back")
            .hint("open where there is none"),
        Field::angle(key("range[0]"), "Lowest reading").hint("at the stop; both or none"),
        Field::angle(key("range[1]"), "Highest reading"),
    ]
}

/// What is said of words that may be free, and are worth more where they are not.
const IN_WORDS: &str =
    "in words; one that is offered lets Toothrest say how to set an angle on this machine";

/// Where an axis reads 0. Of the head swivel it must be one that settings can be counted from.
fn zero(key: String, talk: &Talk) -> Field {
    if talk.role != AxisRole::HeadSwivel {
        return Field::text(key, "Where does it read 0?")
            .given(talk.zero)
            .offered(talk.role.zero_phrases())
            .hint(IN_WORDS);
    }
    let choices = vec![
        Choice::new(HeadZero::ParallelToTravel.name(), "spindle along the table's travel"),
        Choice::new(HeadZero::SquareToTravel.name(), "spindle square to the table's travel"),
    ];
    Field::choice(key, "Where does it read 0?", choices)
}

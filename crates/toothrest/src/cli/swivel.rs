//! `toothrest swivel`: the scales of one machine for a wanted angle.

use std::fmt::Write;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use geometry::Angle;
use geometry::chain::{Relation, Settings};
use shop::ShopError;
use shop::plan::{DialMark, Quantity};
use shop::pose::{MachineChain, SetUp, Surface, SurfaceAngles, set_ups};
use shop::record::Hand;

use super::columns::Columns;
use super::failure::Failure;
use crate::files::{load, read_machine};
use crate::wire;

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum SurfaceName {
    /// The relief of an end tooth
    End,
    /// The relief of a chamfered corner
    Corner,
    /// The relief of a straight tooth on the periphery
    Periphery,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum HandName {
    /// A right-hand cutter, its shank to the right
    Right,
    /// A left-hand cutter, its shank to the left
    Left,
}

#[derive(Debug, Args)]
pub(super) struct SwivelArguments {
    /// The machine's file
    #[arg(long, value_name = "FILE")]
    machine: PathBuf,
    /// What the wheel's face is to leave
    #[arg(
        long,
        value_enum,
        ignore_case = true,
        default_value = "end",
        conflicts_with = "spindles"
    )]
    surface: SurfaceName,
    /// Its relief, measured square to the edge
    #[arg(
        long,
        value_name = "ANGLE",
        allow_hyphen_values = true,
        required_unless_present = "spindles"
    )]
    relief: Option<String>,
    /// Of an end tooth: how much its edge falls toward the centre [usual: 0 deg]
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true, conflicts_with = "spindles")]
    dish: Option<String>,
    /// Of a corner: between its edge and the end [usual: 45 deg]
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true, conflicts_with = "spindles")]
    chamfer: Option<String>,
    /// Of the periphery: between its edge and the cutter's axis, smaller at the tip being positive
    /// [usual: 0 deg]
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true, conflicts_with = "spindles")]
    taper: Option<String>,
    /// Instead of a surface: the angle between the way the wheel's face looks and the shank
    #[arg(long, value_name = "ANGLE", allow_hyphen_values = true, conflicts_with = "relief")]
    spindles: Option<String>,
    /// The cutter's hand, which says to which side its shank lies
    #[arg(long, value_enum, ignore_case = true, default_value = "right")]
    hand: HandName,
    /// Where a scale stands now, where that is not straight; may be given more than once
    #[arg(long, value_name = "NAME=READING")]
    stands: Vec<String>,
    /// A scale that shall stay where it stands; may be given more than once
    #[arg(long, value_name = "NAME")]
    keep: Vec<String>,
    /// The wheel only plunges: its face need not lie along the table's travel
    #[arg(long)]
    plunge: bool,
    /// How many set-ups to show
    #[arg(long, value_name = "COUNT", default_value_t = 6)]
    most: usize,
    /// Answer in JSON
    #[arg(long)]
    pub(super) json: bool,
}

/// What was asked for, read.
pub(crate) struct SwivelWish {
    pub(crate) machine: String,
    pub(crate) hand: Hand,
    pub(crate) surface: Option<SurfaceAngles>,
    pub(crate) spindles: Option<Angle>,
    pub(crate) carried_past: bool,
}

pub(super) fn run(arguments: &SwivelArguments) -> Result<String, Failure> {
    let machine = load(&arguments.machine, read_machine)?;
    let hand = match arguments.hand {
        HandName::Right => Hand::Right,
        HandName::Left => Hand::Left,
    };
    let wish = SwivelWish {
        machine: machine.name().to_owned(),
        hand,
        surface: surface(arguments)?,
        spindles: maybe_angle("--spindles", arguments.spindles.as_deref())?,
        carried_past: !arguments.plunge,
    };
    let chain = MachineChain::of(&machine, hand);
    let stand = stand(&chain, &arguments.stands)?;
    let free = free(&chain, &arguments.keep)?;
    let mut found = set_ups(&chain, &relations(&wish), &stand, &free)?;
    let count = found.len();
    found.truncate(arguments.most.max(1));
    if arguments.json {
        let answer = wire::swivel(&wish, &chain, &found, count);
        return Ok(serde_json::to_string_pretty(&answer)? + "\n");
    }
    Ok(as_text(&wish, &chain, &found, count))
}

fn relations(wish: &SwivelWish) -> Vec<Relation> {
    let surface = wish.surface.map(|surface| surface.relations(wish.hand, wish.carried_past));
    let spindles = wish.spindles.map(|angle| vec![Relation::axes_at(angle)]);
    surface.or(spindles).unwrap_or_default()
}

fn surface(arguments: &SwivelArguments) -> Result<Option<SurfaceAngles>, Failure> {
    let Some(relief) = maybe_angle("--relief", arguments.relief.as_deref())? else {
        return Ok(None);
    };
    let own = [
        ("--dish", &arguments.dish, SurfaceName::End),
        ("--chamfer", &arguments.chamfer, SurfaceName::Corner),
        ("--taper", &arguments.taper, SurfaceName::Periphery),
    ];
    for (argument, given, of) in own {
        if let Some(value) = given.as_ref().filter(|_| of != arguments.surface) {
            let message = format!("only {} has one", article(of));
            return Err(Failure::Argument { argument, value: value.clone(), message });
        }
    }
    let usual = |argument, text: &Option<String>, usual: f64| {
        let given = maybe_angle(argument, text.as_deref())?;
        Ok::<_, Failure>(given.unwrap_or(Angle::from_degrees(usual)))
    };
    let surface = match arguments.surface {
        SurfaceName::End => Surface::End { dish: usual("--dish", &arguments.dish, 0.0)? },
        SurfaceName::Corner => {
            Surface::Corner { chamfer: usual("--chamfer", &arguments.chamfer, 45.0)? }
        }
        SurfaceName::Periphery => {
            Surface::Periphery { taper: usual("--taper", &arguments.taper, 0.0)? }
        }
    };
    in_domain(arguments, SurfaceAngles { surface, relief }).map(Some)
}

const fn article(surface: SurfaceName) -> &'static str {
    match surface {
        SurfaceName::End => "an end tooth (--surface end)",
        SurfaceName::Corner => "a corner (--surface corner)",
        SurfaceName::Periphery => "the periphery (--surface periphery)",
    }
}

/// Refuses angles that no tooth has.
fn in_domain(arguments: &SwivelArguments, angles: SurfaceAngles) -> Result<SurfaceAngles, Failure> {
    let (argument, given, low, high) = match angles.surface {
        Surface::End { .. } => ("--dish", &arguments.dish, -30.0, 30.0),
        Surface::Corner { .. } => ("--chamfer", &arguments.chamfer, 0.0, 90.0),
        Surface::Periphery { .. } => ("--taper", &arguments.taper, -60.0, 60.0),
    };
    let asked = [
        (argument, given, angles.surface.angle(), low, high),
        ("--relief", &arguments.relief, angles.relief, -45.0, 60.0),
    ];
    for (argument, given, angle, low, high) in asked {
        if !(low..=high).contains(&angle.degrees()) {
            let message = format!("outside {low:.0} to {high:.0} deg");
            let value = given.clone().unwrap_or_default();
            return Err(Failure::Argument { argument, value, message });
        }
    }
    Ok(angles)
}

fn maybe_angle(argument: &'static str, text: Option<&str>) -> Result<Option<Angle>, Failure> {
    text.map(|text| angle(argument, text)).transpose()
}

fn angle(argument: &'static str, text: &str) -> Result<Angle, Failure> {
    text.parse::<Angle>().map_err(|error| Failure::Argument {
        argument,
        value: text.to_owned(),
        message: error.to_string(),
    })
}

/// Where the swivels stand before anything is set.
fn stand(chain: &MachineChain, told: &[String]) -> Result<Settings, Failure> {
    let mut stand = chain.linkage().home();
    for text in told {
        let Some((name, reading)) = text.split_once('=') else {
            let message = "write the scale's name, = and its reading: \"head circle=90 deg\"";
            let (argument, value) = ("--stands", text.clone());
            return Err(Failure::Argument { argument, value, message: message.to_owned() });
        };
        let joint = named(chain, "--stands", name)?;
        let reading = angle("--stands", reading.trim())?;
        stand = stand.with_turn(joint, chain.stand(joint, reading));
    }
    Ok(stand)
}

fn free(chain: &MachineChain, keep: &[String]) -> Result<Vec<usize>, Failure> {
    let kept: Vec<usize> =
        keep.iter().map(|name| named(chain, "--keep", name)).collect::<Result<_, _>>()?;
    Ok(chain.swivels().into_iter().filter(|joint| !kept.contains(joint)).collect())
}

/// The swivel of a name that was written on the command line.
fn named(chain: &MachineChain, argument: &'static str, name: &str) -> Result<usize, Failure> {
    chain.swivel(name).map_err(|error| match error {
        ShopError::Invalid { field, reason } => {
            Failure::Argument { argument, value: field, message: reason }
        }
        other => other.into(),
    })
}

fn as_text(wish: &SwivelWish, chain: &MachineChain, found: &[SetUp], count: usize) -> String {
    let mut text = format!("{}: {}\n", wish.machine, asked(wish));
    for (at, set_up) in found.iter().enumerate() {
        let _ = write!(text, "\n{}", one(at + 1, wish, chain, set_up));
    }
    if count > found.len() {
        let _ = write!(text, "\n{} more; --most shows them.\n", count - found.len());
    }
    text.push_str("\nOnly angles are told. Stop the wheel before a swivel is loosened.\n");
    text
}

fn asked(wish: &SwivelWish) -> String {
    let hand = wish.hand.name();
    match (wish.surface, wish.spindles) {
        (Some(SurfaceAngles { surface, relief }), _) => format!(
            "{}, {} {}, relief {}, {hand}-hand cutter",
            surface.name(),
            surface.angle_name(),
            surface.angle().show(),
            relief.show()
        ),
        (None, Some(angle)) => format!("spindles at {}, {hand}-hand cutter", angle.show()),
        (None, None) => hand.to_owned(),
    }
}

fn one(number: usize, wish: &SwivelWish, chain: &MachineChain, set_up: &SetUp) -> String {
    if set_up.moved.is_empty() {
        return format!("{number}  every scale as it stands\n");
    }
    let mut columns = Columns::new([""; 5]);
    for (at, moved) in set_up.moved.iter().enumerate() {
        let number = if at == 0 { number.to_string() } else { String::new() };
        let exact = format!("exactly {}", moved.exact.show_to(Angle::from_degrees(0.001)));
        let grows = format!("grows {}", moved.mark.positive);
        columns.row([number, moved.mark.axis.clone(), reading(&moved.mark), exact, grows]);
    }
    format!("{}   {}\n", columns.text(), leaves(wish, chain, set_up))
}

fn reading(mark: &DialMark) -> String {
    match (mark.reading, mark.finest) {
        (Quantity::Angle(reading), Quantity::Angle(finest)) => reading.show_to(finest).to_string(),
        (Quantity::Angle(reading), _) => reading.show().to_string(),
        (Quantity::Length(reading), _) => reading.show(geometry::System::Millimetre).to_string(),
    }
}

/// What the marks really give, and how the set-up behaves.
fn leaves(wish: &SwivelWish, chain: &MachineChain, set_up: &SetUp) -> String {
    let off = format!("the marks are {} off", set_up.miss.show_to(Angle::from_degrees(0.001)));
    let weak = if set_up.gain_least < WEAK {
        "; these swivels work against each other: a small error of one is a large one of the tooth"
    } else {
        ""
    };
    match wish.surface {
        Some(surface) => {
            let SurfaceAngles { surface, relief } = surface.as_set(chain, &set_up.set);
            let thousandth = Angle::from_degrees(0.001);
            format!(
                "leaves {} {}, relief {}; {off}{weak}",
                surface.angle_name(),
                surface.angle().show_to(thousandth),
                relief.show_to(thousandth)
            )
        }
        None => format!("{off}{weak}"),
    }
}

/// The least gain below which a set-up is warned about (own choice, no source).
const WEAK: f64 = 0.05;

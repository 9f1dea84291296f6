//! The collector that drafts report their violated facts to.

use geometry::{Angle, Length};

use super::error::{RecordError, RecordErrors};

/// The longest name or number a record accepts, in characters, so that it fits a tag.
const NAME_CHARACTERS_MAX: usize = 60;

/// Violated facts found so far.
#[derive(Default)]
pub(super) struct Faults {
    found: Vec<RecordError>,
}

/// A violated fact before its field and value are attached.
pub(super) struct Fault {
    pub(super) fact: String,
    pub(super) right: String,
}

/// A fact and what would be right instead.
pub(super) fn fault(fact: impl Into<String>, right: impl Into<String>) -> Fault {
    Fault { fact: fact.into(), right: right.into() }
}

impl Faults {
    /// Adds a fault when `holds` is false.
    pub(super) fn require(
        &mut self,
        holds: bool,
        field: &str,
        value: impl ToString,
        fault: impl FnOnce() -> Fault,
    ) {
        if !holds {
            self.add(field, &[], value.to_string(), fault());
        }
    }

    /// Adds a fault that depends on other fields too.
    pub(super) fn require_with(
        &mut self,
        holds: bool,
        (field, others): (&str, &[&str]),
        value: impl ToString,
        fault: impl FnOnce() -> Fault,
    ) {
        if !holds {
            self.add(field, others, value.to_string(), fault());
        }
    }

    fn add(&mut self, field: &str, others: &[&str], value: String, fault: Fault) {
        self.found.push(RecordError {
            field: field.to_owned(),
            depends_on: others.iter().map(|&other| other.to_owned()).collect(),
            value,
            fact: fault.fact,
            right: fault.right,
        });
    }

    /// Takes over what another check found.
    pub(super) fn absorb<T>(&mut self, outcome: Result<T, RecordErrors>) -> Option<T> {
        match outcome {
            Ok(value) => Some(value),
            Err(errors) => {
                self.found.extend(errors);
                None
            }
        }
    }

    /// A length from `low` to `high`, both included.
    pub(super) fn length(&mut self, field: &str, value: Length, low: Length, high: Length) {
        self.require((low..=high).contains(&value), field, shown(value), || {
            fault(
                beyond(value.mm(), low.mm(), &shown(low), &shown(high)),
                format!("write a length from {} to {}", shown(low), shown(high)),
            )
        });
    }

    /// A length above nothing and up to `high`.
    pub(super) fn length_over_zero(&mut self, field: &str, value: Length, high: Length) {
        let holds = value > Length::ZERO && value <= high;
        self.require(holds, field, shown(value), || {
            let fact = if value > high {
                format!("more than {}", shown(high))
            } else {
                "not more than 0".to_owned()
            };
            fault(fact, format!("write a length over 0 and up to {}", shown(high)))
        });
    }

    /// An angle from `low` to `high`, both included.
    pub(super) fn angle(&mut self, field: &str, value: Angle, low: Angle, high: Angle) {
        self.require((low..=high).contains(&value), field, degrees(value), || {
            fault(
                beyond(value.radians(), low.radians(), &degrees(low), &degrees(high)),
                format!("write an angle from {} to {}", degrees(low), degrees(high)),
            )
        });
    }

    /// An angle above nothing and up to `high`.
    pub(super) fn angle_over_zero(&mut self, field: &str, value: Angle, high: Angle) {
        let holds = value > Angle::ZERO && value <= high;
        self.require(holds, field, degrees(value), || {
            let fact = if value > high {
                format!("more than {}", degrees(high))
            } else {
                "not more than 0".to_owned()
            };
            fault(fact, format!("write an angle over 0 and up to {}", degrees(high)))
        });
    }

    /// A whole number from `low` to `high`, both included.
    pub(super) fn count(&mut self, field: &str, value: u32, low: u32, high: u32) {
        self.require((low..=high).contains(&value), field, value, || {
            fault(
                beyond(f64::from(value), f64::from(low), &low.to_string(), &high.to_string()),
                format!("write a whole number from {low} to {high}"),
            )
        });
    }

    /// A text that names something: not empty, one line, short enough for a tag.
    pub(super) fn name(&mut self, field: &str, text: &str) {
        let length = text.chars().count();
        self.require(!text.trim().is_empty(), field, quoted(text), || {
            fault("empty", "write at least one letter or digit")
        });
        self.require(length <= NAME_CHARACTERS_MAX, field, quoted(text), || {
            fault(
                format!("{length} characters long"),
                format!("write at most {NAME_CHARACTERS_MAX} characters"),
            )
        });
        self.require(!text.chars().any(char::is_control), field, quoted(text), || {
            fault("holds a line break or control character", "write it on one line")
        });
    }

    /// The verdict: nothing found, or everything found.
    pub(super) fn verdict(self) -> Result<(), RecordErrors> {
        if self.found.is_empty() { Ok(()) } else { Err(self.into_errors()) }
    }

    /// Everything found, for whoever knows that something was.
    pub(super) fn into_errors(self) -> RecordErrors {
        RecordErrors::from_found(self.found)
    }
}

/// Says on which side of a range a value lies. Works for what is not a number at all too.
fn beyond(value: f64, low: f64, low_text: &str, high_text: &str) -> String {
    if value.is_nan() {
        "not a number".to_owned()
    } else if value < low {
        format!("less than {low_text}")
    } else {
        format!("more than {high_text}")
    }
}

/// A length in both systems, without idle zeros, since a shop keeps cutters of both.
pub(super) fn shown(length: Length) -> String {
    if length == Length::ZERO {
        return "0 mm".to_owned();
    }
    format!("{} mm ({} in)", plain(length.mm()), plain(length.inches()))
}

/// An angle in degrees, without idle zeros.
pub(super) fn degrees(angle: Angle) -> String {
    format!("{} deg", plain(angle.degrees()))
}

/// A text in quotation marks, as files write it.
pub(super) fn quoted(text: &str) -> String {
    format!("{text:?}")
}

fn plain(number: f64) -> String {
    let text = format!("{number:.4}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn only(faults: Faults) -> String {
        faults.verdict().unwrap_err().to_string()
    }

    #[test]
    fn ranges_include_their_ends_and_refuse_beyond() {
        let mut faults = Faults::default();
        faults.length("a", Length::from_mm(1.0), Length::from_mm(1.0), Length::from_mm(2.0));
        faults.length("b", Length::from_mm(2.0), Length::from_mm(1.0), Length::from_mm(2.0));
        assert!(faults.verdict().is_ok());

        let mut faults = Faults::default();
        faults.length("a", Length::from_mm(2.5), Length::from_mm(1.0), Length::from_mm(2.0));
        assert_eq!(
            only(faults),
            "a = 2.5 mm (0.0984 in): more than 2 mm (0.0787 in); \
             write a length from 1 mm (0.0394 in) to 2 mm (0.0787 in)"
        );
    }

    #[test]
    fn what_is_not_a_number_is_refused_everywhere() {
        let mut faults = Faults::default();
        faults.length("a", Length::from_mm(f64::NAN), Length::ZERO, Length::from_mm(2.0));
        faults.length_over_zero("b", Length::from_mm(f64::NAN), Length::from_mm(2.0));
        faults.angle("c", Angle::from_degrees(f64::NAN), Angle::ZERO, Angle::from_degrees(9.0));
        assert_eq!(faults.verdict().unwrap_err().errors().len(), 3);
    }

    #[test]
    fn a_name_fits_a_tag() {
        for (name, sound) in [
            ("K-1", true),
            (" ", false),
            ("a\nb", false),
            (&"x".repeat(60), true),
            (&"x".repeat(61), false),
        ] {
            let mut faults = Faults::default();
            faults.name("number", name);
            assert_eq!(faults.verdict().is_ok(), sound, "{name:?}");
        }
    }
}

//! What is known of the cutter, in words.

use geometry::Length;
use shop::record::{Hand, Profile, ToothWear, Wear};

use super::super::figure;
use super::super::leaf::{counted, listed, size};
use super::CutterView;

const fn hand(hand: Hand) -> &'static str {
    match hand {
        Hand::Right => "right-hand",
        Hand::Left => "left-hand",
    }
}

impl CutterView<'_> {
    fn length(&self, value: Length) -> String {
        figure::length(value, self.system)
    }

    /// The line below the heading.
    pub(super) fn headline(&self) -> String {
        let coating = self.cutter.coating().map_or(String::new(), |name| format!(", {name}"));
        let (material, end) = (self.cutter.material().name(), self.cutter.end().name());
        let nominal = size(self.cutter.diameter(), self.system);
        format!("{nominal} {material}{coating}, {end} end, for {}", self.work())
    }

    fn work(&self) -> String {
        match self.cutter.work() {
            "any" => "any work".to_owned(),
            work => work.to_owned(),
        }
    }

    /// All that the words below the views say, each on lines of its own.
    pub(super) fn words(&self) -> Vec<String> {
        let mut words = vec![self.teeth_words(), self.helix_words()];
        words.extend(self.exceptions());
        words.extend(self.cutter.wear().map_or_else(
            || vec!["Wear: nobody has looked yet.".to_owned()],
            |wear| self.wear_words(wear),
        ));
        words
    }

    fn teeth_words(&self) -> String {
        let way = if self.heel_sign() > 0.0 { "clockwise" } else { "counterclockwise" };
        let middle = if self.cutter.centre_cutting() { "cuts" } else { "does not cut" };
        format!(
            "{}, {} cut; counted {way} seen from the tip, toward the heels. The end {middle} to \
             its centre.",
            counted(self.cutter.teeth(), "tooth", "teeth"),
            hand(self.cutter.hand()),
        )
    }

    fn helix_words(&self) -> String {
        let helix = match (self.cutter.helix_hand(), self.cutter.lead()) {
            (Some(helix_hand), Some(lead)) => {
                let angle = figure::angle(self.cutter.helix());
                format!("Helix {angle} {}, lead {}", hand(helix_hand), self.length(lead))
            }
            _ => "Straight teeth".to_owned(),
        };
        let rake = figure::angle(self.cutter.rake());
        format!("{helix}; rake {rake}; {}.", self.regrinds())
    }

    fn regrinds(&self) -> String {
        match self.cutter.regrinds() {
            0 => "not reground yet".to_owned(),
            count => format!("reground {}", counted(count, "time", "times")),
        }
    }

    /// What the picture shows otherwise than it is.
    fn exceptions(&self) -> Vec<String> {
        let mut words = Vec::new();
        if self.cutter.unequal_index() {
            words.push("Its teeth are spaced unequally; they are drawn equal.".to_owned());
        }
        match self.cutter.profile() {
            Profile::Plain => {}
            Profile::Rougher => words.push("A rougher; its waves are not drawn.".to_owned()),
            Profile::FormRelieved => {
                words.push("Form relieved; its form is not drawn.".to_owned());
            }
        }
        words
    }

    fn wear_words(&self, wear: &Wear) -> Vec<String> {
        let mut words = vec![self.seen_words(wear)];
        let mut told: Vec<(String, Vec<String>)> = Vec::new();
        let mut teeth: Vec<&ToothWear> = wear.teeth().iter().collect();
        teeth.sort_by_key(|tooth| tooth.tooth);
        for tooth in teeth {
            let what = self.tooth_words(tooth);
            let number = tooth.tooth.to_string();
            match told.iter_mut().find(|(other, _)| *other == what) {
                Some((_, teeth)) => teeth.push(number),
                None => told.push((what, vec![number])),
            }
        }
        words.extend(told.into_iter().map(|(what, teeth)| {
            let noun = if teeth.len() == 1 { "Tooth" } else { "Teeth" };
            format!("{noun} {}: {what}.", listed(&teeth))
        }));
        words
    }

    fn seen_words(&self, wear: &Wear) -> String {
        let mut seen: Vec<String> =
            wear.signs().iter().map(|sign| sign.name().to_owned()).collect();
        if let Some(over) = wear.measured_diameter() {
            seen.push(format!("⌀ {} over the dull edges", self.length(over)));
        }
        if let Some(runout) = wear.shank_runout() {
            seen.push(format!("shank runs out {}", self.length(runout)));
        }
        match seen.is_empty() {
            true => "Wear as seen:".to_owned(),
            false => format!("Wear as seen: {}.", seen.join(", ")),
        }
    }

    /// What was seen on one tooth.
    fn tooth_words(&self, tooth: &ToothWear) -> String {
        let mut words = Vec::new();
        let mut add = |value: Length, tell: &dyn Fn(String) -> String| {
            if value > Length::ZERO {
                words.push(tell(self.length(value)));
            }
        };
        add(tooth.wear_land, &|value| format!("wear land {value}"));
        let height = match tooth.chip_from_end > Length::ZERO {
            true => format!(", up to {} from the end", size(tooth.chip_from_end, self.system)),
            false => " at the end".to_owned(),
        };
        add(tooth.chip_depth, &|value| format!("chip {value} deep{height}"));
        add(tooth.corner_wear, &|value| format!("corner gone over {value}"));
        if let Some(runout) = tooth.runout {
            add(runout, &|value| format!("edge stands {value} in from the highest"));
        }
        if let Some(reach) = tooth.wear_from_end {
            add(reach, &|value| format!("worn up to {value} from the end"));
        }
        if words.is_empty() { "no wear".to_owned() } else { words.join("; ") }
    }

    /// The whole picture for whoever cannot see it.
    pub(super) fn description(&self) -> String {
        let [diameter, nominal] = self.diameter_words();
        let flute = size(self.cutter.flute_length(), self.system);
        let overall = size(self.cutter.overall_length(), self.system);
        let shank = size(self.cutter.shank_diameter(), self.system);
        let broken = match self.body.left_out_mm {
            Some(_) => ", the shank broken off",
            None => "",
        };
        format!(
            "A cutter from its side at {}{broken}, tip on the left, and from its tip at {}. \
             {diameter}, {nominal}. Flutes {flute}, overall {overall}, shank ⌀ {shank}. {}",
            self.scale.name(),
            self.end_scale.name(),
            self.words().join(" "),
        )
    }
}

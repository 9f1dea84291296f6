//! The columns that a list of cutters can have, and the headings by which they are known.

/// What stands in a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holds {
    /// Words, or one of a few words.
    Words,
    /// A whole number.
    Count,
    /// Lengths, with a unit of their own or that of the heading or the list.
    Length,
    /// Angles; degrees where nothing else is written.
    Angle,
    /// Angles, one for each tooth, with semicolons between them; degrees where nothing else is
    /// written.
    Angles,
    /// Yes or no.
    Flag,
}

macro_rules! columns {
    ($(
        $(#[$note:meta])*
        $member:ident = $field:literal, $holds:ident, [$($other:literal),*]
    );+ $(;)?) => {
        /// A fact of a cutter that a column can hold.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum CutterColumn {
            $($(#[$note])* $member),+
        }

        impl CutterColumn {
            /// Every column, in the order in which lists are written.
            pub const ALL: &'static [Self] = &[$(Self::$member),+];

            /// The name of the fact, as cutter files have it.
            pub const fn field(self) -> &'static str {
                match self { $(Self::$member => $field),+ }
            }

            /// What stands in it.
            pub const fn holds(self) -> Holds {
                match self { $(Self::$member => Holds::$holds),+ }
            }

            /// Other headings by which it is known: trade words, and symbols of ISO 13399.
            pub const fn others(self) -> &'static [&'static str] {
                match self { $(Self::$member => &[$($other),*]),+ }
            }
        }
    };
}

columns! {
    /// The shop's number.
    Number = "number", Words, ["no", "cutter", "cutter number", "tool number", "id"];
    /// Nominal diameter.
    Diameter = "diameter", Length, ["dc", "dia", "nominal diameter", "cutting diameter", "d"];
    /// Number of teeth.
    Teeth = "teeth", Count, ["nof", "zefp", "zeff", "flutes", "z", "number of teeth"];
    /// Hand of cut.
    Hand = "hand", Words, ["hand of cut", "cut"];
    /// Helix angle.
    Helix = "helix", Angle, ["fha", "helix angle"];
    /// Hand of helix.
    HelixHand = "helix_hand", Words, ["hand of helix"];
    /// Radial rake.
    Rake = "rake", Angle, ["radial rake", "rake angle"];
    /// Material.
    Material = "material", Words, ["substrate", "tool material"];
    /// Form of the end.
    End = "end", Words, ["end form", "form of end"];
    /// Corner radius.
    CornerRadius = "corner_radius", Length, ["re", "radius"];
    /// Profile of the teeth.
    Profile = "profile", Words, [];
    /// Length of the flutes.
    FluteLength = "flute_length", Length, ["apmx", "lcf", "length of cut", "loc", "flutes length"];
    /// Length of the whole cutter.
    OverallLength = "overall_length", Length, ["oal", "length", "overall"];
    /// Diameter of the shank.
    ShankDiameter = "shank_diameter", Length, ["dmm", "dcon", "dconms", "shank", "shank dia"];
    /// Diameter of the core.
    CoreDiameter = "core_diameter", Length, ["core"];
    /// Width of a tooth's back.
    ToothThickness = "tooth_thickness", Length, ["tooth width"];
    /// Whether end teeth reach the centre.
    CentreCutting = "centre_cutting", Flag, ["center cutting"];
    /// Coating.
    Coating = "coating", Words, [];
    /// The group of work it is kept for.
    Work = "work", Words, ["kept for"];
    /// How often it was reground.
    Regrinds = "regrinds", Count, ["reground", "times reground"];
    /// Whether its teeth are spaced unequally.
    UnequalIndex = "unequal_index", Flag, ["unequal spacing"];
    /// Diameter over the sharp edges, when it was last ground.
    GroundDiameter = "as_ground.diameter", Length, ["ground diameter", "diameter as ground"];
    /// Primary relief, then.
    GroundPrimary = "as_ground.primary", Angle, ["primary", "relief", "primary relief"];
    /// Secondary clearance, then.
    GroundSecondary = "as_ground.secondary", Angle, ["secondary", "clearance"];
    /// Width of the primary land, then.
    GroundLand = "as_ground.land", Length, ["land", "land width"];
    /// Where the edge of each tooth stands at the tip, from the first on.
    Index = "index", Angles, ["tooth places", "places of teeth"];
    /// The helix of each tooth.
    ToothHelix = "tooth_helix", Angles, ["helix of teeth", "tooth helices"];
    /// How far the side of a tapered cutter leans from its axis.
    Taper = "taper", Angle, ["taper a side", "taper per side"];
}

/// The heading under which a list of a book says where each cutter stands.
pub(super) const STANDS: &str = "stands";

/// Symbols of ISO 13399 that are known and for which a cutter's record has no place.
/// The last three stand in this program's own lists.
const NOT_KEPT: [&str; 16] = [
    "lu",
    "lux",
    "ls",
    "lh",
    "lf",
    "dn",
    "lgr",
    "chw",
    "kch",
    "sig",
    "psir",
    "kapr",
    "dcx",
    STANDS,
    "tray",
    "last written",
];

impl CutterColumn {
    /// The column that a heading names, in whatever way its words are joined.
    pub fn from_heading(heading: &str) -> Option<Self> {
        let wanted = spaced(heading);
        Self::ALL.iter().copied().find(|column| {
            spaced(column.field()) == wanted || column.others().contains(&wanted.as_str())
        })
    }

    /// Whether no cutter can be entered without it.
    pub const fn is_needed(self) -> bool {
        matches!(
            self,
            Self::Number
                | Self::Diameter
                | Self::Teeth
                | Self::Hand
                | Self::Helix
                | Self::Rake
                | Self::Material
                | Self::Profile
                | Self::FluteLength
                | Self::OverallLength
                | Self::ShankDiameter
        )
    }

    /// Whether one value can be meant for every cutter of a list.
    pub const fn may_be_said_once(self) -> bool {
        !matches!(self, Self::Number)
    }

    /// The name, in words.
    pub fn words(self) -> String {
        spaced(self.field())
    }
}

/// Whether a heading is known and there is no place for what stands under it.
pub(super) fn is_not_kept(heading: &str) -> bool {
    NOT_KEPT.contains(&spaced(heading).as_str())
}

/// A name in small letters with single spaces, in whatever way its words were joined.
pub(super) fn spaced(name: &str) -> String {
    let parts = name.split(|letter: char| letter.is_whitespace() || "_-.".contains(letter));
    let words: Vec<_> = parts.filter(|word| !word.is_empty()).map(str::to_lowercase).collect();
    words.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_heading_names_two_columns() {
        let mut all: Vec<String> = Vec::new();
        for column in CutterColumn::ALL {
            all.push(spaced(column.field()));
            all.extend(column.others().iter().map(|other| (*other).to_owned()));
        }
        all.extend(NOT_KEPT.map(str::to_owned));
        assert!(all.iter().all(|name| *name == spaced(name)));
        let count = all.len();
        all.sort();
        all.dedup();
        assert_eq!(all.len(), count);
    }

    #[test]
    fn headings_are_known_by_trade_words_and_by_symbols() {
        for (heading, column) in [
            ("DC", Some(CutterColumn::Diameter)),
            ("Overall Length", Some(CutterColumn::OverallLength)),
            ("APMX", Some(CutterColumn::FluteLength)),
            ("as_ground.land", Some(CutterColumn::GroundLand)),
            ("DCONMS", Some(CutterColumn::ShankDiameter)),
            ("price", None),
        ] {
            assert_eq!(CutterColumn::from_heading(heading), column, "{heading}");
        }
        assert!(is_not_kept("LU") && !is_not_kept("DC"));
    }
}

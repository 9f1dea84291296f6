//! What a dull cutter is worth: every route, and the one to take.

use geometry::{Angle, Length};

use super::face::face_stock;
use super::route::{Route, RouteView};
use super::stock::Stock;
use super::wanted::Wanted;
use crate::context::{Cited, Ctx};
use crate::learn::Lives;
use crate::record::{Cutter, EndForm, Profile, ToothWear};

/// The verdict on one cutter.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// The route to take.
    pub route: Route,
    /// Every route with what it would make of the cutter.
    pub routes: Vec<RouteView>,
    /// Smallest useful diameter, where a source gives one.
    pub smallest: Option<Cited<Length>>,
    /// How much to cut off the end, on the routes that do.
    pub cut_back: Length,
    /// What a reader should know.
    pub remarks: Vec<String>,
}

impl Verdict {
    /// The view of the chosen route.
    pub fn chosen(&self) -> Option<&RouteView> {
        self.view(self.route)
    }

    fn view(&self, route: Route) -> Option<&RouteView> {
        self.routes.iter().find(|view| view.route == route)
    }

    /// The route with its reason, for a line of a list. Of a cutter to be scrapped it is the reason
    /// why the periphery cannot be ground.
    pub fn in_words(&self) -> String {
        let asked = if self.route == Route::Scrap { Route::Diameter } else { self.route };
        let reason = self.view(asked).map_or("", |view| view.reason.as_str());
        format!("{}: {reason}", self.route.name())
    }

    /// Regrinds left on the chosen route, with their range and where they come from.
    pub fn lives(&self) -> Option<&Lives> {
        self.chosen()?.lives.as_ref()
    }
}

/// A flute shallower than this share of the diameter no longer clears its chips (own choice, no
/// source).
const FLUTE_DEPTH_SHARE_MIN: f64 = 0.08;

/// Cut off this much more than the damage reaches (own choice, no source).
const CUT_BACK_MARGIN_MM: f64 = 0.25;

/// After cutting back, at least this many diameters of flute must remain (own choice, no source).
const FLUTE_DIAMETERS_MIN: f64 = 1.0;

/// A cutter smaller than this share of its nominal size has too little body to flute again
/// (own choice, no source).
const FLUTED_SHARE_MIN: f64 = 0.75;

/// A rake-face regrind may leave no less than this share of the tooth's back (own choice, no
/// source).
const BACK_SHARE_MIN: f64 = 0.6;

/// Below this a cutter maker's sheet holds a regrind not worth its cost.
const WORTH_FROM_IN: f64 = 0.25;

struct Scales<'a> {
    cutter: &'a Cutter,
    stock: &'a Stock,
    wanted: &'a Wanted,
    smallest: Option<Cited<Length>>,
}

/// Weighs every route.
pub(crate) fn verdict(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    wanted: &Wanted,
    stock: &Stock,
    to_size: Option<Length>,
) -> Verdict {
    let smallest = ctx
        .tables
        .smallest_diameter(cutter.diameter())
        .map(|found| Cited::new(found.diameter, &found.lookup.chosen.source));
    let scales = Scales { cutter, stock, wanted, smallest: smallest.clone() };
    let routes = vec![
        scales.diameter(to_size),
        scales.face(),
        scales.end_only(),
        scales.cut_back(),
        scales.reflute(),
        RouteView { possible: true, ..RouteView::no(Route::Scrap, "when no other route is left") },
    ];
    let route = scales.choose(&routes, to_size.is_some());
    let cut_back = if route == Route::CutBack { scales.chips_reach() } else { Length::ZERO };
    Verdict { route, routes, smallest, cut_back, remarks: scales.remarks() }
}

impl Scales<'_> {
    fn remarks(&self) -> Vec<String> {
        let mut remarks = Vec::new();
        if self.cutter.unequal_index() {
            let remark = if self.cutter.special().index.is_empty() {
                "unequal index: teeth do not stand opposite, so read size tooth by tooth"
            } else {
                "unequal index: read size over the pairs of teeth that the sheet names"
            };
            remarks.push(remark.to_owned());
        }
        if self.cutter.end() != EndForm::Square {
            let form = self.cutter.end().name();
            remarks.push(format!("{form}: grind the end form anew after the periphery"));
        }
        if self.cutter.diameter().inches() < WORTH_FROM_IN - 1e-9 {
            remarks.push(
                "under 1/4 in: a maker's sheet (tips-051302) says worth it from 1/4 in up"
                    .to_owned(),
            );
        }
        let corner =
            self.wear().iter().map(|tooth| tooth.corner_wear).fold(Length::ZERO, Length::max);
        if corner > Length::ZERO {
            remarks.push(format!(
                "corners gone up to {} from the end: grind the end past that",
                corner.show_both(geometry::quantity::System::Inch)
            ));
        }
        if self.smallest.is_none() {
            remarks.push(
                "no source gives a smallest useful size here: no lives counted (shop table, shrink)"
                    .to_owned(),
            );
        }
        remarks
    }

    fn wear(&self) -> &[ToothWear] {
        self.cutter.wear().map(|wear| wear.teeth()).unwrap_or_default()
    }

    /// How far up from the end chips and broken corners reach.
    fn chips_reach(&self) -> Length {
        let reach = |tooth: &ToothWear| {
            let chip =
                if tooth.chip_depth > Length::ZERO { tooth.chip_from_end } else { Length::ZERO };
            chip.max(tooth.corner_wear)
        };
        let farthest = self.wear().iter().map(reach).fold(Length::ZERO, Length::max);
        let margin = Length::from_mm(CUT_BACK_MARGIN_MM);
        if farthest > Length::ZERO { farthest + margin } else { farthest }
    }

    /// Regrinds left below a diameter, at the stock that this cutter's own grinds lead to expect
    /// and the table's while there are none.
    fn lives(&self, diameter: Length) -> Option<Lives> {
        self.stock.lives(diameter, self.smallest.as_ref()?)
    }

    fn count(&self, diameter: Length) -> Option<u32> {
        self.lives(diameter).map(|lives| lives.expected)
    }

    /// Why a diameter cannot be ground to, if it cannot.
    fn too_small(&self, diameter: Length) -> Option<String> {
        if let Some(core) = self.cutter.core_diameter() {
            let depth = (diameter - core) / 2.0;
            if depth < diameter * FLUTE_DEPTH_SHARE_MIN {
                return Some("the flutes would be too shallow to clear their chips".to_owned());
            }
        }
        let smallest = self.smallest.as_ref()?.value;
        (diameter < smallest).then(|| "it would be below the smallest useful diameter".to_owned())
    }

    fn diameter(&self, to_size: Option<Length>) -> RouteView {
        let clean = self.stock.clean_diameter;
        let after = to_size.unwrap_or(clean);
        let too_small = self.too_small(after);
        let unequal = self.cutter.profile() == Profile::FormRelieved;
        let reason = match (&too_small, unequal) {
            (Some(reason), _) => reason.clone(),
            (None, true) => "a form-relieved tooth keeps its form only on the face".to_owned(),
            (None, false) => self.governing_words(),
        };
        RouteView {
            route: Route::Diameter,
            possible: too_small.is_none() && !unequal,
            diameter_after: Some(after),
            flute_after: Some(self.cutter.flute_length()),
            lives_left: self.count(after),
            lives: self.lives(after),
            reason,
        }
    }

    fn governing_words(&self) -> String {
        match self.stock.governing {
            Some(tooth) => {
                let chip = self
                    .stock
                    .teeth
                    .iter()
                    .any(|stock| stock.tooth == tooth && stock.chip_depth > stock.wear_depth);
                let what = if chip { "chip" } else { "wear land" };
                format!("tooth {tooth} decides, by its {what}")
            }
            None if self.stock.per_grind.own > 0 => {
                "no wear recorded: what its own grinds took".to_owned()
            }
            None => "no wear recorded: the ordinary stock".to_owned(),
        }
    }

    fn face(&self) -> RouteView {
        let stock = face_stock(self.cutter, self.wanted, self.stock);
        let (back, taken) = (self.wanted.tooth_thickness.value, stock.behind);
        let after = stock.diameter_after();
        let left = (back - taken) / back;
        let possible = left >= BACK_SHARE_MIN;
        let own = self.cutter.profile() != Profile::Plain;
        let reason = match (possible, own) {
            (false, _) => "too little of the tooth's back would be left".to_owned(),
            (true, true) => "keeps form and size; the way for this profile".to_owned(),
            (true, false) => "thins the tooth; a set-up in the flute".to_owned(),
        };
        let lives = ((left - BACK_SHARE_MIN) * back.mm() / taken.mm()).max(0.0).floor() as u32;
        RouteView {
            route: Route::Face,
            possible,
            diameter_after: Some(after),
            flute_after: Some(self.cutter.flute_length()),
            lives_left: Some(lives),
            lives: None,
            reason,
        }
    }

    fn end_only(&self) -> RouteView {
        let wear = self.wear();
        let periphery =
            |tooth: &ToothWear| tooth.wear_land > Length::ZERO || tooth.chip_depth > Length::ZERO;
        let corner = wear.iter().map(|tooth| tooth.corner_wear).fold(Length::ZERO, Length::max);
        if corner == Length::ZERO || wear.iter().any(periphery) {
            let reason =
                if wear.is_empty() { "no wear recorded" } else { "the periphery is worn too" };
            return RouteView::no(Route::EndOnly, reason);
        }
        RouteView {
            route: Route::EndOnly,
            possible: true,
            diameter_after: Some(self.stock.sharp_diameter.value),
            flute_after: Some(self.cutter.flute_length() - corner - self.stock.allowance.value),
            lives_left: self.count(self.stock.sharp_diameter.value),
            lives: self.lives(self.stock.sharp_diameter.value),
            reason: "only the corners are gone; the diameter is kept".to_owned(),
        }
    }

    fn cut_back(&self) -> RouteView {
        let reach = self.chips_reach();
        let unplaced = |tooth: &ToothWear| {
            tooth.chip_depth > Length::ZERO && tooth.chip_from_end == Length::ZERO
        };
        if self.wear().iter().any(unplaced) {
            return RouteView::no(Route::CutBack, "how far up a chip reaches was not read");
        }
        if reach == Length::ZERO {
            return RouteView::no(Route::CutBack, "no damage is confined to the end");
        }
        if self.cutter.taper() > Angle::ZERO {
            let why = "farther up a taper is another size: cut it off, measure and plan it anew";
            return RouteView::no(Route::CutBack, why);
        }
        let flute = self.cutter.flute_length() - reach;
        let after = self.stock.clean_diameter_without_chips;
        if after <= self.stock.clean_diameter + Length::from_um(1.0) {
            return RouteView::no(Route::CutBack, "it would save no diameter");
        }
        let short = flute < self.cutter.diameter() * FLUTE_DIAMETERS_MIN;
        let too_small = self.too_small(after);
        let reason = match (&too_small, short) {
            (Some(reason), _) => reason.clone(),
            (None, true) => "less than one diameter of flute would be left".to_owned(),
            (None, false) => "less off the diameter; gash and end teeth anew".to_owned(),
        };
        RouteView {
            route: Route::CutBack,
            possible: too_small.is_none() && !short,
            diameter_after: Some(after),
            flute_after: Some(flute),
            lives_left: self.count(after),
            lives: self.lives(after),
            reason,
        }
    }

    fn reflute(&self) -> RouteView {
        let whole = self.cutter.diameter() * FLUTED_SHARE_MIN;
        if self.stock.clean_diameter < whole {
            return RouteView::no(Route::Reflute, "too little of the body is left to flute again");
        }
        if !self.is_worth_fluting() {
            return RouteView::no(Route::Reflute, "too small to be worth fluting again");
        }
        RouteView {
            route: Route::Reflute,
            possible: true,
            diameter_after: Some(self.stock.clean_diameter),
            flute_after: Some(self.cutter.flute_length()),
            lives_left: None,
            lives: None,
            reason: "weigh it against a new cutter".to_owned(),
        }
    }

    fn choose(&self, routes: &[RouteView], sized: bool) -> Route {
        let can = |route: Route| routes.iter().any(|view| view.route == route && view.possible);
        let lives = |route: Route| {
            routes.iter().find(|view| view.route == route).and_then(|view| view.lives_left)
        };
        if self.cutter.profile() != Profile::Plain && can(Route::Face) {
            return Route::Face;
        }
        if can(Route::EndOnly) && !sized {
            return Route::EndOnly;
        }
        match (can(Route::Diameter), can(Route::CutBack)) {
            (true, true) if lives(Route::CutBack) > lives(Route::Diameter) && !sized => {
                Route::CutBack
            }
            (true, _) => Route::Diameter,
            (false, true) => Route::CutBack,
            (false, false) if can(Route::Reflute) => Route::Reflute,
            (false, false) => Route::Scrap,
        }
    }

    /// Refluting pays on cutters that were large to begin with (own choice, no source).
    fn is_worth_fluting(&self) -> bool {
        self.cutter.diameter().inches() >= 0.5 - 1e-9
    }
}

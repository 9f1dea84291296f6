//! The plan of one regrind: a dull cutter, a machine and wheels go in, a set-up that can be
//! carried to the bench comes out.

mod caution;
mod clearance;
mod dial;
mod expect;
mod feed;
mod head;
mod order;
mod pass;
mod refusal;
mod regrind;
mod rest;
mod rotation;
mod rough;
mod route;
mod secondary;
mod setting;
mod stance;
mod stock;
mod truing;
mod verdict;
mod wanted;
mod wheel;

pub use caution::{PlanCaution, PlanStep};
pub use clearance::NextClearance;
pub(crate) use clearance::next_clearance;
pub use dial::{DialMark, Quantity, system_of};
pub use expect::{Expected, ExpectedDrop};
pub use feed::Feed;
pub(crate) use head::grows_clockwise;
pub use pass::{GrindPass, Grinding, PassKind};
pub use regrind::{Peripheral, PlanRegrind, RegrindPlan, plan_regrind};
pub use rotation::{Fastening, Hold, TurnDirection};
pub(crate) use rough::{RoughSetup, rough_setup};
pub use route::{Route, RouteView};
pub use secondary::SecondaryGrind;
pub use setting::{SetupItem, SetupLine, primary_setup};
pub use stance::{ReliefBy, Stanced};
pub use stock::{Stock, ToothStock};
pub use truing::Truing;
pub use verdict::{Verdict, verdict_of};
pub use wanted::{ReliefKind, Wanted};
pub use wheel::{WheelChoice, WheelRefusal};

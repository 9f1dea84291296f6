//! The plan of one regrind: a dull cutter, a machine and wheels go in, a set-up that can be
//! carried to the bench comes out.

mod aslant;
mod caution;
mod clear;
mod clearance;
mod cone;
mod corrective;
mod dial;
mod doubt;
mod end;
mod expect;
mod face;
mod feed;
mod fit;
mod group;
mod head;
mod held;
mod known;
mod order;
mod part;
mod pass;
mod refusal;
mod regrind;
mod rest;
mod room;
mod rotation;
mod rough;
mod route;
mod secondary;
mod setting;
mod stance;
mod steps;
mod stock;
mod tried;
mod truing;
mod unlike;
mod verdict;
mod wanted;
mod wheel;

pub use caution::{PlanCaution, PlanStep, wheel_cautions};
pub use clear::{DRAW_CLEAR, READ_PRIMARY};
pub use clearance::NextClearance;
pub(crate) use clearance::next_clearance;
pub use cone::{ConeGrind, ConeStation};
pub use corrective::{
    Carried, Chosen, CorrectivePlan, CorrectiveWish, FeedFrom, SecondaryNext, ToothFound, WhyLeft,
    corrective_steps, plan_corrective,
};
pub use dial::{DialMark, Quantity, system_of};
pub use doubt::{SizesLeft, teeth_doubt};
pub use end::{
    BallExpected, BallPlan, ChamferGrind, CornerGrind, CornerWanted, CornerWear, EndExpected,
    EndGrind, EndPlan, EndSecondary, EndStep, EndStock, EndWanted, EndWork, FeelerReading,
    GashGrind, GashPlan, GashWanted, PivotReading, RoundGrind, RoundPlace, RoundRelief, RoundSet,
    Stops, Swung, SwungMark, asks_for_end, ball_bench_steps, chamfer_setup, cuts_end,
    end_bench_steps, end_first_steps, end_secondary_setup, end_setup, gash_setup, is_end_step,
    pivot_readings, plan_ball, plan_end, without_finished_end,
};
pub use expect::{Expected, ExpectedDrop};
pub use face::{
    FaceExpected, FaceGrind, FacePass, FacePlan, FaceStock, asks_for_face, face_setup, plan_face,
};
pub use feed::Feed;
pub(crate) use fit::in_words;
pub use fit::{machine_alone, wheel_on_machine};
pub use group::HelixGroup;
pub(crate) use head::grows_clockwise;
pub use held::Held;
pub use known::WheelKnown;
pub use part::{GroundPart, PartStock, end_wanted, ground_parts};
pub use pass::{GrindPass, Grinding, PassKind};
pub use regrind::{Judged, Peripheral, PlanRegrind, RegrindPlan, judge_cutter, plan_regrind};
pub(crate) use rest::fine_rest_along;
pub use room::{Beside, Room, RoomFound};
pub use rotation::{Fastening, Hold, TurnDirection, WhyLifts};
pub use rough::PlannedSetup;
pub(crate) use rough::{RoughSetup, rough_setup};
pub use route::{Route, RouteView};
pub use secondary::SecondaryGrind;
pub(crate) use setting::RELIEF_SLACK_DEG;
pub use setting::{SetupItem, SetupLine, primary_setup};
pub(crate) use stance::reaches_far_side;
pub use stance::{ReliefBy, Stanced};
pub use steps::{BenchStep, READ_PRIMARY_STEP, bench_steps, first_touch};
pub use stock::{Stock, ToothStock};
pub use tried::{SetOtherwise, Tried, tried};
pub use truing::Truing;
pub use unlike::{EachTooth, UnlikeTeeth};
pub use verdict::Verdict;
pub(crate) use wanted::{LAND_OF_GREATEST, work_group};
pub use wanted::{ReliefKind, Wanted};
pub use wheel::{WheelChoice, WheelRefusal};

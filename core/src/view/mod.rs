//! What each screen shows, as plain structs with ready text. Pure functions of
//! the folded job; a screen prints them and computes nothing.
mod add;
mod advice;
mod audit;
mod cautions;
mod chips;
mod choices;
mod count;
mod due;
mod fixing_page;
mod fixing_row;
mod fluid;
mod handover;
mod job;
mod log;
mod offers;
mod order;
mod part;
mod photo;
mod picture;
mod put_back;
mod put_right;
mod second;
mod shut;
mod sign_off;
mod tighten;
mod to_buy;
mod way_in;
mod what_bolt;

pub use add::{AddPage, add_page, forgotten, free_tags, other_seats, secure};
pub use advice::{MissingRow, PermitRow, ResumeCard, missing, permits, resume_card};
pub use audit::{AuditGroup, AuditPage, AuditRow, ExceptedRow, audit_page, part_of};
pub use cautions::cautions;
pub use chips::{Chips, NextTag, SizeChip, chips};
pub use choices::{Choice, narrowed, needed};
pub use count::{LineCount, line_count, lines_short, openings, stray_fits};
pub use due::{CureRow, DuePage, DueRow, MeterAsk, check_is_due, due_page, meter_ask};
pub use fixing_page::{
    FixingPage, HoleText, More, ReuseText, SizeRow, StageText, came_with, fixing_page, hole_text,
};
pub use fixing_row::{ExtraRow, FixingRow, NextAct, PlaceCell, fixing_row};
pub use fluid::{
    DrainOffer, FluidPage, JointRow, VOLUME_STEPS, drain_offers, fluid_page, volume_step,
};
pub use handover::{Block, BlockKind, HandoverPage, handover_page};
pub use job::{
    BuyRow, CareAct, CareRow, ContainerRow, Counts, JobCard, JobPage, JobRest, StepRow, containers,
    counts, job_card, job_page, job_rest,
};
pub use log::{LogRow, Undoing, entry_text, log, made, undoing};
pub use offers::{ThreadOffer, class_offers, thread_offers, usual_marks};
pub use order::{Group, HeldRow};
pub use part::{
    ConnectionRow, ContainerShare, EndRow, FindingRow, ItemRow, PartPage, TreatmentRow, part_page,
};
pub use photo::{
    PhotoMark, PhotoPage, PhotoRow, mark_number, photo_page, photo_rows, photos_of_all,
};
pub use picture::{NodeState, PictureLine, PictureNode, PicturePage, picture_page};
pub use put_back::{PutBackPage, Row, RowState, put_back_page};
pub use put_right::{Word, WordRow, hole_numbers, put_right, words_of};
pub use second::{
    AgainRow, CheckAsk, HiddenRow, Hides, again_rows, check_ask, hides, mark_stays, people,
};
pub use shut::{ShutOver, WaysOn, shut_over, ways_on};
pub use sign_off::{AgainstRow, SignOffPage, SignedRow, sign_off_page};
pub use tighten::{
    Adapter, Before, Disc, Drawing, Loosening, MadeStages, OrderOffer, PassCaution, PlaceStep,
    RingChoice, RingHole, RoundStep, SelfLocking, Setting, StageRow, Standing as PlaceStanding,
    TightenPage, TooLittle, Tools, TypedStages, Wrench, WrenchPage, all_the_same, chosen_layout,
    drawing, loosen_again, loosen_planned, marks_said, pass_cautions, pass_page, photo_offers,
    read_as, set_up, split, splits, stages_said, tighten_page, tolerances, type_figure, type_stage,
    type_torque, typed_doubt, typed_stages, with_running, wrench_page,
};
pub use to_buy::{BuyLine, ToBuyPage, to_buy_page};
pub use what_bolt::{
    OriginRow, StrayRow, ThreadRow, WhatBolt, keep_readings, measured_again, read_with, same_stray,
    strays, what_bolt,
};

pub use way_in::{
    EarlierGroup, GoalGroup, GoalRow, OtherWay, WayAnswer, WayStep, earlier_groups, way_answer,
    way_answer_earlier, way_in_page,
};

use crate::words::Style;

/// What a view needs besides the job.
#[derive(Clone, Copy, Debug)]
pub struct At {
    /// Milliseconds since 1970.
    pub now: i64,
    /// Since when the app is open, in the same: what ended before that, this
    /// phone's clock alone says.
    pub open_since: i64,
    pub style: Style,
}

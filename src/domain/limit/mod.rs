//! How long a made thing keeps: rule rows with their sources, and the profile a school works by.
//!
//! Two kinds of day are never mixed. A rule-book row counts calendar days with the day of making
//! as day 1; a card's figure and a school's row are elapsed, `n` x 24 hours. The earlier end holds.

mod base;
mod calendar;
mod clock;
mod kind;
mod own;
mod profile;
mod room;
mod row;
mod traits;

pub use base::Base;
pub use calendar::{
    Begun, DateMark, DateMarkError, FreezeDay, FrozenDays, bought, date_mark, make_window, pack,
};
pub use clock::{
    Age, AgeError, Clock, Frozen, day_start, elapsed_end, last_day, span_words, used_days,
};
pub use kind::{Content, Heated, KindOfFood, Waiting, kinds_of};
pub use own::{Bound, Chosen, LimitError, Tighter};
pub use profile::{InForce, Profile, ROOM};
pub use room::{RoomClock, Stretch, reheats_left, room_clock};
pub use row::{Basis, Code, Figure, Row, Sense, Status};
pub use traits::{Trait, traits_of};

//! A class, its links, and the quiet class that carries a menu published without a lesson.

use jiff::civil::{Date, DateTime};
use jiff::{Span, Timestamp};
use uuid::Uuid;

use super::kitchen::KitchenId;
use super::menu::{MenuId, PublicationId};
use super::moment::ServiceTime;
use super::quantity::Portions;

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ClassId(pub Uuid);

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LinkId(pub Uuid);

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Class {
    pub id: ClassId,
    pub menu: MenuId,
    /// What its links show; none while nothing is published.
    pub publication: Option<PublicationId>,
    /// When it is at the table.
    pub serve: ServiceTime,
    /// None when the menu goes out without a lesson.
    pub lesson: Option<Lesson>,
    pub kitchen: Option<KitchenId>,
    /// For how many the class cooks; what a new home is offered as its number of guests.
    pub seats: Portions,
    /// In the smallest coin of the school's currency.
    pub fee_minor: Option<u32>,
    /// On this day its homes and what they told are deleted.
    pub purge_on: Date,
}

impl Class {
    /// From here on its links open nothing: on that day its homes are deleted, and who joined then
    /// would lose everything within the hour.
    pub fn closes_at(&self) -> Timestamp {
        let local = self.purge_on.to_datetime(jiff::civil::Time::midnight());
        ServiceTime { local, zone: self.serve.zone.clone() }.instant()
    }
}

/// Wall time in the zone of the class; the end may lie past midnight.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Lesson {
    pub from: DateTime,
    pub to: DateTime,
}

impl Lesson {
    /// A lesson ends after it begins, and on that or the next day.
    pub fn new(from: DateTime, to: DateTime) -> Option<Self> {
        let longest = from.checked_add(Span::new().hours(24)).ok()?;
        (from < to && to <= longest).then_some(Self { from, to })
    }
}

/// Days after serving until homes, events and allergies of a class are deleted, unless it says otherwise.
pub const KEPT_DAYS: i32 = 30;
/// Days after serving until a class's links stop, unless they say otherwise.
pub const LINK_DAYS: i32 = 30;

/// The day on which the homes of a class that serves on `serves_on` are deleted. A class that is made
/// after its day keeps them as long from `made_on`.
pub fn purge_day(serves_on: Date, made_on: Date) -> Date {
    serves_on.max(made_on).saturating_add(Span::new().days(KEPT_DAYS))
}

/// A private address of a class.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Link {
    pub id: LinkId,
    pub token: String,
    /// For whom it was made, in the instructor's words; may be empty.
    pub note: String,
    pub made_at: Timestamp,
    pub expires_at: Timestamp,
    pub revoked_at: Option<Timestamp>,
}

impl Link {
    pub fn opens_at(&self, now: Timestamp) -> bool {
        self.revoked_at.is_none() && now < self.expires_at
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lesson_ends_after_it_begins_within_a_day() {
        let at = |day: i8, hour: i8| jiff::civil::date(2027, 6, day).at(hour, 0, 0, 0);
        assert!(Lesson::new(at(16, 18), at(16, 21)).is_some());
        assert!(Lesson::new(at(16, 18), at(17, 1)).is_some());
        assert!(Lesson::new(at(16, 18), at(16, 18)).is_none());
        assert!(Lesson::new(at(16, 18), at(18, 1)).is_none());
    }

    #[test]
    fn homes_go_thirty_days_after_serving() {
        let day = |month, day| jiff::civil::date(2027, month, day);
        assert_eq!(purge_day(day(6, 16), day(6, 1)), day(7, 16));
        assert_eq!(purge_day(day(6, 16), day(9, 1)), day(10, 1), "made after its day");
    }
}

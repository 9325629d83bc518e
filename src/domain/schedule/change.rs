//! A problem with one thing changed: the ways out of a refusal, before they are tried.

use std::collections::BTreeSet;

use super::conflict::Change;
use super::plan::minutes;
use super::problem::{Gap, Next, Problem, Window};

impl Problem {
    /// The same problem with this change; none where it changes nothing.
    pub fn changed(&self, change: &Change) -> Option<Self> {
        let mut other = self.clone();
        match change {
            Change::Offers(offers) => {
                for offer in offers {
                    let it = self.offers.get(*offer)?;
                    other.jobs[it.job].ways = vec![it.way.clone()];
                }
                let taken: Vec<usize> = offers.iter().map(|it| self.offers[*it].job).collect();
                other.offers.retain(|it| !taken.contains(&it.job));
            }
            Change::ServeWarm { job, minutes } => {
                let gap = other
                    .gaps
                    .iter_mut()
                    .find(|gap| gap.before == *job && matches!(gap.next, Next::Table(_)))?;
                if gap.most_minutes.is_none_or(|most| most >= *minutes) {
                    return None;
                }
                gap.most_minutes = Some(*minutes);
                gap.because = format!("it is served warm, within {minutes} min");
            }
            Change::CookDay { days_before } => other.add_day(*days_before)?,
            Change::Oven => {
                let mut oven = self.ovens.first()?.clone();
                oven.name = format!("Oven {}", self.ovens.len() + 1);
                other.ovens.push(oven);
            }
            Change::Hands => other.hands += 1,
            Change::LeaveOut { dish } => return self.without(*dish),
            Change::EatLater { minutes } => other.eat_later(*minutes),
        }
        Some(other)
    }

    /// One more day before the serving day, in the hours of a day of which only the date is known.
    fn add_day(&mut self, days_before: u32) -> Option<()> {
        let serving = self.windows.last()?.clone();
        let date = serving.date.checked_sub(jiff::Span::new().days(i64::from(days_before))).ok()?;
        if self.windows.iter().any(|it| it.date == date) {
            return None;
        }
        let zone = self.zone.clone();
        let at = |hour| {
            let local = date.at(hour, 0, 0, 0);
            self.minute(crate::domain::moment::ServiceTime { local, zone: zone.clone() }.instant())
        };
        let (from_minute, to_minute) = (at(8), at(22));
        if from_minute < self.now_minute {
            return None;
        }
        let all = u32::try_from(to_minute - from_minute).ok()?.saturating_mul(self.hands);
        let place = self.windows.partition_point(|it| it.date < date);
        self.windows.insert(place, Window { date, from_minute, to_minute, hands_minutes: all });
        for job in &mut self.jobs {
            let had_all = job.windows.len() > 1;
            for window in &mut job.windows {
                *window += usize::from(*window >= place);
            }
            if had_all {
                job.windows.push(place);
                job.windows.sort_unstable();
            }
        }
        let from = self.midnights.first().copied()?;
        if from_minute < from {
            let mut day = from - 1_440;
            while day > from_minute - 1_440 {
                self.midnights.insert(0, day);
                day -= 1_440;
            }
        }
        Some(())
    }

    /// Everything at the table so much later; the days and their other ends stay.
    fn eat_later(&mut self, later: u32) {
        let later = minutes(later);
        for dish in &mut self.dishes {
            dish.table_minute += later;
        }
        for job in &mut self.jobs {
            job.end_by_minute += later;
            if job.end_from_minute > 0 {
                job.end_from_minute += later;
            }
        }
        for gap in &mut self.gaps {
            if let Next::Table(minute) = &mut gap.next {
                *minute += later;
            }
        }
        for keep in &mut self.keeps {
            keep.until_minute += later;
        }
        let hands = self.hands;
        if let Some(serving) = self.windows.last_mut() {
            serving.to_minute += later;
            serving.hands_minutes += later.unsigned_abs() * hands;
        }
    }

    /// Without a dish, and without the bases that only it used.
    fn without(&self, dish: usize) -> Option<Self> {
        let mut gone: BTreeSet<usize> = [dish].into();
        for _ in 0..self.dishes.len() {
            for base in (0..self.dishes.len()).filter(|it| self.dishes[*it].is_base) {
                let used = self.gaps.iter().any(|gap| match gap.next {
                    Next::Job(next) => {
                        let user = self.jobs[next].dish;
                        self.jobs[gap.before].dish == base && user != base && !gone.contains(&user)
                    }
                    Next::Table(_) => false,
                });
                if !used {
                    gone.insert(base);
                }
            }
        }
        let left: Vec<usize> =
            (0..self.jobs.len()).filter(|job| !gone.contains(&self.jobs[*job].dish)).collect();
        if left.is_empty() || self.dishes.get(dish).is_none_or(|it| it.is_base) {
            return None;
        }
        Some(self.only(&left))
    }

    /// The problem of these jobs alone; dishes keep their places.
    fn only(&self, left: &[usize]) -> Self {
        let place = |job: usize| left.iter().position(|it| *it == job);
        let mut other = self.clone();
        other.jobs = left.iter().map(|job| self.jobs[*job].clone()).collect();
        let mut gap_places = Vec::new();
        other.gaps = Vec::new();
        for gap in &self.gaps {
            let next = match gap.next {
                Next::Job(job) => place(job).map(Next::Job),
                table @ Next::Table(_) => Some(table),
            };
            let kept = place(gap.before).zip(next);
            gap_places.push(kept.map(|_| other.gaps.len()));
            other.gaps.extend(kept.map(|(before, next)| Gap { before, next, ..gap.clone() }));
        }
        self.limits_of(&mut other, left, &gap_places);
        other
    }

    /// The limits that speak of these jobs alone, with the jobs at their new places.
    fn limits_of(&self, other: &mut Self, left: &[usize], gap_places: &[Option<usize>]) {
        let place = |job: usize| left.iter().position(|it| *it == job);
        let some = |jobs: &[usize]| jobs.iter().map(|job| place(*job)).collect::<Option<Vec<_>>>();
        other.keeps = self
            .keeps
            .iter()
            .filter_map(|it| {
                let mut keep = it.clone();
                keep.from = place(it.from)?;
                if let Some((job, hold)) = it.held {
                    keep.held = Some((place(job)?, hold));
                }
                keep.frozen = it.frozen.iter().filter_map(|job| place(*job)).collect();
                Some(keep)
            })
            .collect();
        other.spans = self
            .spans
            .iter()
            .filter_map(|it| {
                let ends = (place(it.from_end_of)?, place(it.to_end_of)?);
                Some(super::problem::Span { from_end_of: ends.0, to_end_of: ends.1, ..it.clone() })
            })
            .collect();
        other.rooms = self
            .rooms
            .iter()
            .filter_map(|it| {
                let gaps =
                    it.gaps.iter().map(|gap| gap_places[*gap]).collect::<Option<Vec<_>>>()?;
                Some(super::problem::RoomClock { jobs: some(&it.jobs)?, gaps, ..it.clone() })
            })
            .collect();
        other.orders = self
            .orders
            .iter()
            .filter_map(|it| {
                let ends = (place(it.before)?, place(it.after)?);
                Some(super::problem::Order { before: ends.0, after: ends.1, ..it.clone() })
            })
            .collect();
        other.kept_machines = self
            .kept_machines
            .iter()
            .filter_map(|it| {
                let ends = (place(it.from)?, place(it.to)?);
                Some(super::problem::KeptMachine { from: ends.0, to: ends.1, ..*it })
            })
            .collect();
        other.offers = self
            .offers
            .iter()
            .filter_map(|it| Some(super::problem::Offer { job: place(it.job)?, ..it.clone() }))
            .collect();
    }
}

//! What to say back to an author whose figure is looser than a rule.

use super::stop::minutes_allowed;
use super::{StopKeeps, Whose, keeps};
use crate::domain::card::Place;
use crate::domain::limit::{Basis, Clock, span_words};
use crate::domain::menu::{Laid, Sitting};
use crate::domain::remark::{Place as Where, Remark};

/// One remark a stop whose figure a rule or the school shortens, by line of the first dish laid.
pub fn limit_remarks(laid: &Laid, sitting: &Sitting) -> Vec<Remark> {
    let Some(dish) = keeps(laid, sitting).into_iter().next() else { return Vec::new() };
    let said = |stop: &StopKeeps| Some(Remark::note(Where::Line(stop.line), looser_words(stop)?));
    dish.stops.iter().filter_map(said).collect()
}

/// `You wrote 3 days; this rule allows 1 day (source). The plan uses 1 day.`
pub fn looser_words(stop: &StopKeeps) -> Option<String> {
    if stop.place == Place::Freezer {
        return None;
    }
    let written = stop.limits.iter().find(|limit| limit.whose == Whose::Card)?;
    let Clock::Elapsed(wrote) = written.clock else { return None };
    let rules = stop.limits.iter().filter(|it| it.whose != Whose::Card && it.by == Basis::Safety);
    let (allowed, rule) = rules.map(|it| (minutes_allowed(it.clock), it)).min_by_key(|it| it.0)?;
    if wrote <= allowed {
        return None;
    }
    let counted = match rule.clock {
        Clock::Days(_) => format!("{}; ", rule.clock.words()),
        Clock::Elapsed(_) => String::new(),
    };
    let whose = if rule.whose == Whose::School { "the school" } else { "this rule" };
    Some(format!(
        "You wrote {}; {whose} allows {} ({counted}{}; {}). The plan uses {}.",
        span_words(wrote),
        span_words(allowed),
        rule.because,
        rule.source,
        span_words(allowed),
    ))
}

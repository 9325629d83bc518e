//! How often a secret may be tried: pure counting, kept by storage so that a restart forgets nothing.

/// What is tried.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TryKind {
    /// Signing in under one name, from wherever.
    Login,
    /// Signing in from one address, under whatever name.
    Address,
    /// Opening links that do not exist, from one address.
    Link,
}

impl TryKind {
    pub const fn word(self) -> &'static str {
        match self {
            Self::Login => "login",
            Self::Address => "address",
            Self::Link => "link",
        }
    }
}

/// The tries of one subject so far, in Unix seconds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tries {
    pub count: i64,
    /// Login: the last try. Address and link: the first try of the window.
    pub since_at: i64,
    /// Before this nothing is tried.
    pub free_at: i64,
}

const FREE_TRIES: i64 = 5;
const DELAY_MAX_SECONDS: i64 = 900;
/// A name that nobody tried for a day starts afresh.
const FORGET_SECONDS: i64 = 24 * 3_600;
const WINDOW_SECONDS: i64 = 600;
/// A whole class may sit behind one address.
const ADDRESS_TRIES: i64 = 30;
const LINK_TRIES: i64 = 60;

impl Tries {
    /// Counts one more try at `now`. Refused with the seconds to wait when it comes too early.
    pub fn one_more(kept: Option<Self>, kind: TryKind, now: i64) -> Result<Self, i64> {
        if let Some(Self { free_at, .. }) = kept
            && now < free_at
        {
            return Err(free_at - now);
        }
        Ok(match kind {
            TryKind::Login => {
                let fresh = kept.filter(|it| now - it.since_at < FORGET_SECONDS);
                let count = fresh.map_or(1, |it| it.count + 1);
                Self { count, since_at: now, free_at: now + delay_seconds(count) }
            }
            TryKind::Address => Self::in_window(kept, ADDRESS_TRIES, now),
            TryKind::Link => Self::in_window(kept, LINK_TRIES, now),
        })
    }

    fn in_window(kept: Option<Self>, tries_max: i64, now: i64) -> Self {
        let open = kept.filter(|it| now - it.since_at < WINDOW_SECONDS);
        let (count, since_at) = open.map_or((1, now), |it| (it.count + 1, it.since_at));
        let free_at = if count < tries_max { now } else { since_at + WINDOW_SECONDS };
        Self { count, since_at, free_at }
    }
}

/// None for the first tries, then one second, doubled with each try.
fn delay_seconds(count: i64) -> i64 {
    match u32::try_from(count - FREE_TRIES) {
        Err(_) => 0,
        Ok(late) => {
            2_i64.checked_pow(late).map_or(DELAY_MAX_SECONDS, |it| it.min(DELAY_MAX_SECONDS))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Tries at each of the hours; what each came to: the seconds to wait, zero when it was let try.
    fn waits(kind: TryKind, hours: &[i64]) -> Vec<i64> {
        let mut kept = None;
        let mut waits = Vec::new();
        for now in hours {
            match Tries::one_more(kept, kind, *now) {
                Ok(next) => {
                    kept = Some(next);
                    waits.push(0);
                }
                Err(wait) => waits.push(wait),
            }
        }
        waits
    }

    #[test]
    fn a_login_waits_longer_after_each_try_but_never_for_good() {
        assert_eq!(waits(TryKind::Login, &[0; 7]), [0, 0, 0, 0, 0, 1, 1]);
        assert_eq!(waits(TryKind::Login, &[0, 0, 0, 0, 0, 1, 2, 3]), [0, 0, 0, 0, 0, 0, 1, 0]);
        assert_eq!([5, 6, 8, 14, 15, 200].map(delay_seconds), [1, 2, 8, 512, 900, 900]);
        assert_eq!(waits(TryKind::Login, &[0, 0, 0, 0, 0, 90_000, 90_000]), [0; 7]);
    }

    #[test]
    fn an_address_has_thirty_tries_in_ten_minutes() {
        let mut hours = vec![0; 31];
        hours.extend([599, 600]);
        let waits = waits(TryKind::Address, &hours);
        assert!(waits[..30].iter().all(|wait| *wait == 0));
        assert_eq!(waits[30..], [600, 1, 0]);
    }
}

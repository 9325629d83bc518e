//! Instants, and the civil time that a school reads off its wall.

use jiff::Timestamp;
use jiff::tz::TimeZone;

/// A time zone by its public name. The zone data is the program's own, never the host's.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Zone {
    name: String,
    rules: TimeZone,
}

impl Zone {
    pub fn parse(typed: &str) -> Result<Self, ZoneError> {
        let name = typed.trim();
        let rules = TimeZone::get(name).map_err(|_| ZoneError { typed: name.to_owned() })?;
        Ok(Self { name: name.to_owned(), rules })
    }

    pub fn name(&self) -> &str {
        &self.name
    }

    /// Wall time at an instant.
    pub fn local(&self, at: Timestamp) -> jiff::civil::DateTime {
        self.rules.to_datetime(at)
    }

    /// The civil date of an instant, as printed: `25 November 2026`.
    pub fn date_of(&self, at: Timestamp) -> String {
        self.rules.to_datetime(at).strftime("%-d %B %Y").to_string()
    }
}

/// The hour a meal is at the table: civil time and zone, as written on the invitation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ServiceTime {
    pub local: jiff::civil::DateTime,
    pub zone: Zone,
}

impl ServiceTime {
    /// Reads `2027-06-26T13:00`, as a browser's field for day and hour writes it.
    pub fn parse(typed: &str, zone: Zone) -> Result<Self, ServiceTimeError> {
        let typed = typed.trim();
        if typed.is_empty() {
            return Err(ServiceTimeError::Missing);
        }
        let unread = || ServiceTimeError::Unread { typed: typed.to_owned() };
        let local: jiff::civil::DateTime = typed.parse().map_err(|_| unread())?;
        if !(2000..=2199).contains(&local.year()) {
            return Err(ServiceTimeError::FarAway { year: local.year() });
        }
        Ok(Self {
            local: local.with().second(0).subsec_nanosecond(0).build().map_err(|_| unread())?,
            zone,
        })
    }

    /// As [`ServiceTime::parse`] reads it.
    pub fn local_text(&self) -> String {
        self.local.strftime("%Y-%m-%dT%H:%M").to_string()
    }

    /// `Saturday 26 June 2027, 13:00`.
    pub fn in_words(&self) -> String {
        self.local.strftime("%A %-d %B %Y, %H:%M").to_string()
    }

    /// The one place where civil time becomes an instant. In a gap of the clocks it is the later
    /// wall time, in a fold the earlier instant.
    ///
    /// # Panics
    /// Never for years 1 to 9998, which is all that forms and documents let in.
    pub fn instant(&self) -> Timestamp {
        let instant = self.zone.rules.to_timestamp(self.local);
        instant.expect("years are bounded at the edge")
    }
}

#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("Name a time zone like Europe/Oslo; “{typed}” is not one")]
pub struct ZoneError {
    typed: String,
}

#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ServiceTimeError {
    #[error("Give the day and the hour at the table")]
    Missing,
    #[error("Write day and hour like 2027-06-26T13:00; “{typed}” is not read")]
    Unread { typed: String },
    #[error("The year {year} is too far away; give one from 2000 to 2199")]
    FarAway { year: i16 },
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_instant_has_two_dates() {
        let at = Timestamp::from_second(1_795_563_000).unwrap();
        assert_eq!(Zone::parse("America/Halifax").unwrap().date_of(at), "24 November 2026");
        assert_eq!(Zone::parse("Europe/Oslo").unwrap().date_of(at), "25 November 2026");
        assert!(Zone::parse("Kitchen").is_err());
    }
}

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

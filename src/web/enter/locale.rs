//! What a browser says about where it stands, and the settings that follow from it.

use axum::http::{HeaderMap, header};

use crate::domain::moment::Zone;
use crate::domain::quantity::Spoons;
use crate::domain::school::{Currency, Measures, Paper, SchoolSettings};

/// Region, currency, and the zone of its largest city: a first guess that the school may change
/// (MEMORY).
const REGIONS: [(&str, &str, &str); 40] = [
    ("AE", "AED", "Asia/Dubai"),
    ("AR", "ARS", "America/Argentina/Buenos_Aires"),
    ("AT", "EUR", "Europe/Vienna"),
    ("AU", "AUD", "Australia/Sydney"),
    ("BE", "EUR", "Europe/Brussels"),
    ("BR", "BRL", "America/Sao_Paulo"),
    ("CA", "CAD", "America/Toronto"),
    ("CH", "CHF", "Europe/Zurich"),
    ("CL", "CLP", "America/Santiago"),
    ("CN", "CNY", "Asia/Shanghai"),
    ("CZ", "CZK", "Europe/Prague"),
    ("DE", "EUR", "Europe/Berlin"),
    ("DK", "DKK", "Europe/Copenhagen"),
    ("ES", "EUR", "Europe/Madrid"),
    ("FI", "EUR", "Europe/Helsinki"),
    ("FR", "EUR", "Europe/Paris"),
    ("GB", "GBP", "Europe/London"),
    ("GR", "EUR", "Europe/Athens"),
    ("HU", "HUF", "Europe/Budapest"),
    ("IE", "EUR", "Europe/Dublin"),
    ("IL", "ILS", "Asia/Jerusalem"),
    ("IN", "INR", "Asia/Kolkata"),
    ("IS", "ISK", "Atlantic/Reykjavik"),
    ("IT", "EUR", "Europe/Rome"),
    ("JP", "JPY", "Asia/Tokyo"),
    ("KR", "KRW", "Asia/Seoul"),
    ("MX", "MXN", "America/Mexico_City"),
    ("NL", "EUR", "Europe/Amsterdam"),
    ("NO", "NOK", "Europe/Oslo"),
    ("NZ", "NZD", "Pacific/Auckland"),
    ("PL", "PLN", "Europe/Warsaw"),
    ("PT", "EUR", "Europe/Lisbon"),
    ("RO", "RON", "Europe/Bucharest"),
    ("SE", "SEK", "Europe/Stockholm"),
    ("SG", "SGD", "Asia/Singapore"),
    ("TH", "THB", "Asia/Bangkok"),
    ("TR", "TRY", "Europe/Istanbul"),
    ("UA", "UAH", "Europe/Kyiv"),
    ("US", "USD", "America/New_York"),
    ("ZA", "ZAR", "Africa/Johannesburg"),
];

/// Regions where printers hold Letter (MEMORY).
const LETTER: [&str; 4] = ["US", "CA", "MX", "CL"];

/// The first guess for a new school.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Guess {
    pub zone: Zone,
    pub settings: SchoolSettings,
}

impl Guess {
    pub fn of(headers: &HeaderMap) -> Self {
        let languages = headers.get(header::ACCEPT_LANGUAGE).and_then(|it| it.to_str().ok());
        let region = languages.and_then(region_in).unwrap_or_default();
        let known = REGIONS.iter().find(|(it, ..)| *it == region);
        let (currency, zone) = known.map_or(("EUR", "Etc/UTC"), |(_, money, zone)| (*money, *zone));
        let is_us = region == "US";
        let settings = SchoolSettings {
            paper: if LETTER.contains(&region.as_str()) { Paper::Letter } else { Paper::A4 },
            measures: if is_us { Measures::Us } else { Measures::Metric },
            currency: Currency::parse(currency).unwrap_or_default(),
            spoons: if is_us { Spoons::Customary } else { Spoons::Round },
            prices_shown: false,
        };
        Self { zone: Zone::parse(zone).expect("the zones of the table are known"), settings }
    }
}

/// The first region named: `en-GB,en;q=0.9` stands in GB, `nb` in no region of its own.
fn region_in(languages: &str) -> Option<String> {
    let mut tags = languages.split(',').filter_map(|tag| tag.split(';').next());
    let is_region = |part: &&str| part.len() == 2 && part.chars().all(|c| c.is_ascii_alphabetic());
    tags.find_map(|tag| tag.trim().split('-').skip(1).find(is_region)).map(str::to_uppercase)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_region_brings_its_paper_money_and_measures() {
        let guess = |languages: &str| {
            let mut headers = HeaderMap::new();
            headers.insert(header::ACCEPT_LANGUAGE, languages.parse().unwrap());
            let Guess { zone, settings } = Guess::of(&headers);
            (
                settings.paper.word(),
                settings.measures.word(),
                settings.currency.code(),
                zone.name().to_owned(),
            )
        };
        assert_eq!(guess("en-US,en;q=0.9"), ("Letter", "US", "USD", "America/New_York".to_owned()));
        assert_eq!(guess("fr-CA"), ("Letter", "metric", "CAD", "America/Toronto".to_owned()));
        assert_eq!(guess("en, nb-NO;q=0.8"), ("A4", "metric", "NOK", "Europe/Oslo".to_owned()));
        assert_eq!(guess("zh-Hans-CN"), ("A4", "metric", "CNY", "Asia/Shanghai".to_owned()));
        assert_eq!(guess("de"), ("A4", "metric", "EUR", "Etc/UTC".to_owned()));
    }

    #[test]
    fn every_region_of_the_table_has_a_known_zone_and_currency() {
        for (region, currency, zone) in REGIONS {
            assert!(Currency::parse(currency).is_ok(), "{region}");
            assert!(Zone::parse(zone).is_ok(), "{region}");
        }
    }
}

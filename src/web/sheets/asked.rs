//! How a sheet is asked for: paper, type, units and guests, in the address alone.

use axum::http::Uri;

use crate::domain::handout::Measures;
use crate::domain::quantity::Portions;
use crate::domain::school::Paper;
use crate::print::{Around, Choice, Type, paper_word};
use crate::web::paths::Paths;

/// What the address says; a word that is not known is as if it were not there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Asked {
    pub paper: Paper,
    pub size: Type,
    pub measures: Measures,
    /// What is shown when the address asks for none.
    pub own: Measures,
    pub guests: Option<Portions>,
    /// Labels on a page: 21 or 24.
    pub grid: u32,
}

impl Asked {
    /// The paper of the school is the default.
    pub fn of(uri: &Uri, paper: Paper) -> Self {
        let query = uri.query().unwrap_or_default();
        let value = |name: &str| {
            let pairs = query.split('&').filter_map(|pair| pair.split_once('='));
            pairs.filter(|(key, _)| *key == name).map(|(_, value)| value).next_back()
        };
        let known = |typed: &str| {
            [Paper::A4, Paper::Letter].into_iter().find(|it| paper_word(*it) == typed)
        };
        Self {
            paper: value("paper").and_then(known).unwrap_or(paper),
            size: value("type").and_then(Type::parse).unwrap_or_default(),
            measures: value("units").and_then(Measures::parse).unwrap_or_default(),
            own: Measures::default(),
            guests: value("guests").and_then(|it| Portions::parse(it).ok()),
            grid: if value("grid") == Some("24") { 24 } else { 21 },
        }
    }

    /// The same at a table that thinks in units of its own; the address may ask for others.
    pub fn of_table(uri: &Uri, paper: Paper, measures: Measures) -> Self {
        let asked = Self::of(uri, paper);
        let is_asked = uri.query().is_some_and(|query| query.contains("units="));
        Self { measures: if is_asked { asked.measures } else { measures }, own: measures, ..asked }
    }

    fn query(self) -> String {
        let mut query = format!("?paper={}&type={}", paper_word(self.paper), self.size.word());
        if self.measures != self.own {
            query.push_str(&format!("&units={}", self.measures.word()));
        }
        if let Some(guests) = self.guests {
            query.push_str(&format!("&guests={}", guests.count()));
        }
        if self.grid != 21 {
            query.push_str(&format!("&grid={}", self.grid));
        }
        query
    }

    /// The styles of this paper and type, and the ways to ask for others.
    pub fn around(self, paths: &Paths, back: Option<(String, String)>) -> Around {
        let file = |name: &str| paths.file(&format!("css/{name}.css"));
        let styles = ["tokens", "components", "sheets", paper_word(self.paper), self.size.word()];
        let choice =
            |words, other: Self| Choice { words, address: other.query(), is_taken: other == self };
        let papers =
            [Paper::A4, Paper::Letter].map(|paper| choice(paper.word(), Self { paper, ..self }));
        let sizes = [("Normal", Type::Normal), ("Large", Type::Large)]
            .map(|(words, size)| choice(words, Self { size, ..self }));
        let units = [
            ("As written", Measures::Written),
            ("Metric", Measures::Metric),
            ("US", Measures::American),
        ]
        .map(|(words, measures)| choice(words, Self { measures, ..self }));
        Around {
            styles: styles.map(file).to_vec(),
            choices: vec![
                ("Paper", papers.to_vec()),
                ("Type", sizes.to_vec()),
                ("Units", units.to_vec()),
            ],
            back,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_known_is_as_if_it_were_not_there() {
        let ask = |query: &str| Asked::of(&query.parse().unwrap(), Paper::Letter);
        let asked = ask("/sheet?paper=a4&type=large&units=us&guests=9&grid=24");
        assert_eq!((asked.paper, asked.size), (Paper::A4, Type::Large));
        assert_eq!((asked.measures, asked.grid), (Measures::American, 24));
        let table = Asked::of_table(&"/sheet".parse().unwrap(), Paper::A4, Measures::Metric);
        assert_eq!(table.measures, Measures::Metric);
        let other = "/sheet?units=written".parse().unwrap();
        assert_eq!(
            Asked::of_table(&other, Paper::A4, Measures::Metric).measures,
            Measures::Written
        );
        assert_eq!(asked.query(), "?paper=a4&type=large&units=us&guests=9&grid=24");
        let strange = ask("/sheet?paper=a3&type=%3Cb%3E&guests=0&grid=9");
        assert_eq!(strange, ask("/sheet"));
        assert_eq!(strange.paper, Paper::Letter);
    }
}

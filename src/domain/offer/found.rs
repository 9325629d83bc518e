//! Times and heats in one sentence, and which work each belongs to.

use std::ops::Range;

use super::doing::{DOINGS, Doing};
use crate::domain::card::Place;
use crate::domain::card::words::{Cursor, MINUTES_IN_DAY, MINUTES_IN_HOUR};
use crate::domain::heat::{Degrees, Scale};
use crate::domain::spoken;

/// Longer sentences are not searched: nobody can follow them either.
const LENGTH_MAX: usize = 1_000;

/// A sentence of a line, letters folded byte for byte, notes blanked.
pub struct Sentence {
    folded: String,
    /// Where it begins in the line.
    start: usize,
}

/// Cuts a line into sentences; a full stop inside a figure cuts nothing.
pub fn sentences(raw: &str) -> Vec<Sentence> {
    let mut folded = raw.to_ascii_lowercase();
    while let Some(open) = folded.find('[') {
        let Some(close) = folded[open..].find(']') else { break };
        folded.replace_range(open..=open + close, &" ".repeat(close + 1));
    }
    let mut found = Vec::new();
    let mut start = 0;
    let bytes = folded.as_bytes();
    for at in 0..bytes.len() {
        let ends = matches!(bytes[at], b'.' | b';' | b'!' | b'?')
            && bytes.get(at + 1).is_none_or(u8::is_ascii_whitespace);
        if ends {
            found.push(Sentence { folded: folded[start..at].to_owned(), start });
            start = at + 1;
        }
    }
    found.push(Sentence { folded: folded[start..].to_owned(), start });
    found.retain(|sentence| {
        !sentence.folded.trim().is_empty() && sentence.folded.len() <= LENGTH_MAX
    });
    found
}

impl Sentence {
    /// The first of these words at the start of a word, as bytes of the line.
    pub fn find(&self, words: &[&str]) -> Option<Range<usize>> {
        let hits = words.iter().filter_map(|word| {
            let at = self.starts_of(word).next()?;
            Some(self.start + at..self.start + at + word.len())
        });
        hits.min_by_key(|hit| hit.start)
    }

    pub fn says(&self, words: &[&str]) -> bool {
        self.find(words).is_some()
    }

    fn starts_of<'a>(&'a self, word: &'a str) -> impl Iterator<Item = usize> + 'a {
        self.folded
            .match_indices(word)
            .map(|(at, _)| at)
            .filter(|at| !self.folded[..*at].ends_with(|c: char| c.is_alphanumeric()))
    }

    /// From the nearest of the words to the figure, both included.
    pub fn around(&self, words: &[&str], figure: &Range<usize>) -> Range<usize> {
        self.find(words)
            .map_or(figure.clone(), |it| it.start.min(figure.start)..it.end.max(figure.end))
    }

    /// The place named nearest to these bytes of the line.
    pub fn place_near(&self, bytes: &Range<usize>) -> Option<Place> {
        const PLACES: [(&[&str], Place); 4] = [
            (&["fridge", "refrigerat", "chill"], Place::Fridge),
            (&["freezer", "freeze", "frozen"], Place::Freezer),
            (
                &["cool place", "larder", "airtight", "in a tin", "biscuit tin", "in the tin"],
                Place::Cool,
            ),
            (&["room temperature", "worktop", "counter"], Place::Counter),
        ];
        let from = bytes.start.saturating_sub(self.start);
        let end = bytes.end.saturating_sub(self.start);
        // `three months in the freezer`: what stands right behind counts first.
        let is_behind = |at: usize| at >= end && self.folded[end..at].trim() == "in the";
        // `three days in the fridge and it freezes for a month`: a place beyond a join is another time's.
        let is_beyond = |at: usize| {
            let between = self.folded.get(at.min(end)..at.max(from)).unwrap_or_default();
            [" and ", ", ", "; ", " or "].iter().any(|it| between.contains(it))
        };
        let hits = PLACES.iter().flat_map(|(words, place)| {
            words.iter().flat_map(|word| self.starts_of(word)).map(|at| {
                let far = if is_behind(at) { 0 } else { at.abs_diff(from) };
                ((is_beyond(at), far), *place)
            })
        });
        hits.min_by_key(|hit| hit.0).map(|hit| hit.1)
    }

    /// The words from a place in the line to the end of the clause: `scatter the crumb`.
    pub fn after(&self, end: usize) -> Option<(String, Range<usize>)> {
        let from = end - self.start;
        let rest = &self.folded[from..];
        let skipped = rest.len() - rest.trim_start_matches([' ', ',']).len();
        let clause = rest[skipped..].split([',', ':', '(']).next().unwrap_or_default().trim_end();
        let fits = clause.split_whitespace().count() <= 8 && !clause.is_empty();
        let start = end + skipped;
        fits.then(|| (clause.trim().to_owned(), start..start + clause.len()))
    }

    /// The first of these verbs, as said in a note: `turning` is `turn`.
    pub fn verb(&self, verbs: &[&str]) -> Option<(String, Range<usize>)> {
        let hit = self.find(verbs)?;
        let word = &self.folded[hit.start - self.start..hit.end - self.start];
        Some((word.to_owned(), hit))
    }
}

/// A length of time with its place in the line.
#[derive(Clone, Debug)]
pub struct Time {
    pub bytes: Range<usize>,
    pub least_minutes: u32,
    pub most_minutes: Option<u32>,
    /// `up to`, `at most`.
    pub is_most: bool,
    /// `after 20 minutes`.
    pub is_after: bool,
    /// `10 more`, `add 10 minutes`.
    pub is_extra: bool,
    /// `give it 10 minutes`: extra if it is from the fridge, else just how long.
    pub is_given: bool,
    /// `every ten minutes`.
    pub is_every: bool,
    /// `half an hour before serving`.
    pub is_before_serving: bool,
    pub is_month: bool,
}

/// A heat with its place in the line.
#[derive(Clone, Debug)]
pub struct Heat {
    pub bytes: Range<usize>,
    pub degrees: Degrees,
    /// No scale was written.
    pub is_guessed: bool,
    pub is_fan: bool,
}

/// Everything with a figure in one sentence.
pub struct Finder<'a> {
    pub sentence: &'a Sentence,
    pub times: Vec<Time>,
    pub heats: Vec<Heat>,
}

impl<'a> Finder<'a> {
    pub fn of(sentence: &'a Sentence) -> Self {
        let mut finder = Self { sentence, times: Vec::new(), heats: Vec::new() };
        let folded = sentence.folded.as_str();
        let mut at = 0;
        while at < folded.len() {
            let is_start = !folded[..at].ends_with(|c: char| c.is_alphanumeric() || c == '.');
            let taken = if is_start { finder.figure(at) } else { 0 };
            at += taken.max(folded[at..].chars().next().map_or(1, char::len_utf8));
        }
        finder
    }

    /// Reads a heat or a time that begins at `at`; gives the bytes it took.
    fn figure(&mut self, at: usize) -> usize {
        let rest = &self.sentence.folded[at..];
        if rest.starts_with(char::is_whitespace) {
            return 0;
        }
        let line_at = self.sentence.start + at;
        if let Some((degrees, is_guessed, length)) = self.heat(at) {
            let bytes = line_at..line_at + length;
            let near = &rest[length..];
            let near: String = near.chars().take(8).collect();
            let is_fan = near.trim_start().starts_with("fan")
                || self.sentence.folded[..at].trim_end().ends_with("fan");
            self.heats.push(Heat { bytes, degrees, is_guessed, is_fan });
            return length;
        }
        let Some(spoken) = spoken(rest) else { return 0 };
        let before = self.sentence.folded[..at].trim_end();
        let after = rest[spoken.length..].trim_start();
        let before = trimmed(before, &["about", "roughly", "around", "maybe", "say", "a good"]);
        let another = before.ends_with("another");
        let before = trimmed(before, &["another"]);
        let ends = |words: &[&str]| words.iter().any(|word| before.ends_with(word));
        let is_given = ends(&["allow", "give it", "give them", "wants", "needs", "takes"]);
        let is_extra = another
            || ends(&["add", "adding", "an extra"])
            || ["more", "longer", "extra"].iter().any(|it| after.starts_with(it));
        // `add three spoons` is no time: a bare figure is one where something is said of the cold.
        let of_cold = self.sentence.says(&["from ", "fridge", "frozen", "out of the fr"]);
        if spoken.is_bare && !((is_extra || is_given) && of_cold && is_clause_end(after)) {
            return 0;
        }
        // `five minutes on each side` are ten.
        let sides = ["on each side", "each side", "a side", "per side", "on both sides"];
        let times = 1 + u32::from(sides.iter().any(|it| after.starts_with(it)));
        self.times.push(Time {
            bytes: line_at..line_at + spoken.length,
            least_minutes: spoken.least.saturating_mul(times),
            most_minutes: spoken.most.map(|most| most.saturating_mul(times)),
            is_most: ends(&["up to", "at most", "no more than", "maximum"]),
            is_after: ends(&["after"]),
            is_extra,
            is_given,
            is_every: ends(&["every"]),
            is_before_serving: BEFORE_SERVING.iter().any(|it| after.starts_with(it)),
            is_month: spoken.is_month,
        });
        spoken.length
    }

    /// `200C`, `200 degrees`, or `at 200` in a sentence about the oven.
    fn heat(&self, at: usize) -> Option<(Degrees, bool, usize)> {
        let rest = &self.sentence.folded[at..];
        let mut cursor = Cursor::new(rest);
        if let Some(degrees) = cursor.degrees() {
            return Some((degrees, false, taken(rest, cursor)));
        }
        let (figure, mut length) = whole_figure(rest)?;
        let mut cursor = Cursor::new(&rest[length..]);
        let has_sign = cursor.sign(&['°', 'º']) || cursor.any(&["degrees", "degree"]);
        if has_sign {
            length += taken(&rest[length..], cursor);
            let mut scaled = cursor;
            let scale = if scaled.any(&["c", "celsius", "centigrade"]) {
                Some(Scale::Celsius)
            } else if scaled.any(&["f", "fahrenheit"]) {
                Some(Scale::Fahrenheit)
            } else {
                None
            };
            if let Some(scale) = scale.filter(|_| (30..=600).contains(&figure)) {
                let length = rest.trim_end().len() - scaled.rest().len();
                let figure = i32::try_from(figure).ok()?;
                return Some((Degrees { figure, scale }, false, rest[..length].trim_end().len()));
            }
        }
        let before = self.sentence.folded[..at].trim_end();
        let led = |words: &[&str]| words.iter().any(|word| before.ends_with(word));
        let about_oven = self.sentence.says(&["oven", "bake", "baking", "roast", "preheat"]);
        let is_time = spoken(rest).is_some_and(|it| !it.is_bare);
        let led_oven = led(&["at", "to", "oven", "about", "around"]);
        if is_time
            || !(has_sign || led_oven && about_oven || self.is_probe(before, &rest[length..]))
        {
            return None;
        }
        let is_probe = self.is_probe(before, &rest[length..]) && figure <= 212;
        let is_round = figure.is_multiple_of(5) && (100..=600).contains(&figure);
        if !(is_probe && (50..=212).contains(&figure) || is_round) {
            return None;
        }
        // Dials in Celsius end at 250 to 300, and water boils at 100 (MEMORY); what is hotter was
        // meant in Fahrenheit.
        let hottest = if is_probe { 100 } else { 280 };
        let scale = if figure > hottest { Scale::Fahrenheit } else { Scale::Celsius };
        let figure = i32::try_from(figure).ok()?;
        Some((Degrees { figure, scale }, true, length))
    }

    /// `the thermometer reads 74`: a figure that somebody measures.
    fn is_probe(&self, before: &str, after: &str) -> bool {
        const LEADS: [&str; 14] = [
            "reads", "says", "hits", "reaches", "gets to", "get to", "is", "shows", "reading",
            "be", "say", "read", "hit", "reach",
        ];
        let before = trimmed(before, &["about", "around", "at least"]);
        let measured = ["thermometer", "probe", "middle", "centre", "center", "thickest", "inside"];
        let is_inside = ["inside", "in the middle", "in the centre", "in the center"]
            .iter()
            .any(|it| after.trim_start().starts_with(it));
        // `it comes back up to 74 C`: only something measured comes up.
        let is_up = ["up to", "back to", "reheat to", "reheat it to"];
        is_inside
            || self.sentence.says(&measured) && LEADS.iter().any(|it| before.ends_with(it))
            || is_up.iter().any(|it| before.ends_with(it))
                && self.sentence.find(&["oven"]).is_none()
    }

    /// The nearest work before the time, else the first after it, with the words from it to there.
    pub fn doing(&self, time: &Time) -> Option<(Doing, Range<usize>)> {
        let mut hits: Vec<(usize, usize, Doing)> = Vec::new();
        for (words, doing) in DOINGS {
            for word in words {
                for at in self.sentence.starts_of(word) {
                    let rest = &self.sentence.folded[at + word.len()..];
                    // `boiling water` boils nothing.
                    let liquid = ["ing water", "ing stock", "ing milk"];
                    let is_liquid = *word == "boil" && liquid.iter().any(|it| rest.starts_with(it));
                    let is_noun = is_liquid || *word == "rest" && self.is_the_rest(at, rest);
                    if !is_noun {
                        let start = self.sentence.start + at;
                        hits.push((start, start + word.len(), doing));
                    }
                }
            }
        }
        let before = hits.iter().filter(|hit| hit.0 < time.bytes.start).max_by_key(|hit| hit.0);
        let after = || hits.iter().min_by_key(|hit| hit.0);
        let Some((start, end, doing)) = before.or_else(after) else {
            // `three days in the fridge` says it without a verb.
            let bytes = time.bytes.clone();
            let behind = self.sentence.folded[bytes.end - self.sentence.start..].trim_start();
            let is_kept = behind.starts_with("in the ") || behind.starts_with("in a ");
            let place = self.sentence.place_near(&bytes).filter(|_| is_kept);
            return place.map(|_| (Doing::Keep, bytes));
        };
        Some((*doing, (*start).min(time.bytes.start)..(*end).max(time.bytes.end)))
    }

    /// `the rest of the oil` is no resting.
    fn is_the_rest(&self, at: usize, rest: &str) -> bool {
        self.sentence.folded[..at].trim_end().ends_with("the")
            || rest.trim_start().starts_with("of")
    }

    pub fn is_core_heat(&self, heat: &Heat) -> bool {
        let middle = ["middle", "centre", "center", "core", "internal", "inside", "thickest"];
        self.sentence.says(&middle) && !self.is_oven_heat(heat)
    }

    /// The heat stands nearer to the oven or the baking than to a middle that is measured.
    pub fn is_oven_heat(&self, heat: &Heat) -> bool {
        let oven = self.sentence.find(&["oven", "bake", "baking", "roast"]);
        let probes = [
            "middle", "centre", "center", "core", "internal", "inside", "thickest", "probe",
            "until",
        ];
        let middle = self.sentence.find(&probes);
        match (oven, middle) {
            (Some(_), None) => true,
            (Some(oven), Some(middle)) => {
                heat.bytes.start.abs_diff(oven.start) < heat.bytes.start.abs_diff(middle.start)
            }
            (None, _) => false,
        }
    }
}

struct Spoken {
    least: u32,
    most: Option<u32>,
    length: usize,
    is_month: bool,
    /// A number without a unit.
    is_bare: bool,
}

const BEFORE_SERVING: [&str; 12] = [
    "before serving",
    "before you serve",
    "before it is served",
    "before you eat",
    "before eating",
    "before you want",
    "before dinner",
    "before supper",
    "before lunch",
    "before people eat",
    "before everyone",
    "before you need it",
];

/// Nothing, or nothing but `more`, stands before the end of the clause.
fn is_clause_end(after: &str) -> bool {
    let after =
        ["more", "longer", "extra"].iter().find_map(|it| after.strip_prefix(it)).unwrap_or(after);
    after.trim_start().is_empty() || after.trim_start().starts_with([',', '.', ';'])
}

/// Without one of these words at its end.
fn trimmed<'a>(before: &'a str, words: &[&str]) -> &'a str {
    words.iter().find_map(|it| before.strip_suffix(it)).unwrap_or(before).trim_end()
}

/// `200`, `two hundred`, `one eighty`.
fn whole_figure(rest: &str) -> Option<(u32, usize)> {
    let figure = spoken::number(rest).filter(|it| !it.is_article)?;
    Some((figure.whole()?, figure.length))
}

/// `40 minutes`, `40-45 min`, `an hour and a half`, `twenty minutes`, `a month`, `10` before `more`.
fn spoken(rest: &str) -> Option<Spoken> {
    let mut cursor = Cursor::new(rest);
    if let Some(stretch) = cursor.stretch() {
        let most = stretch.most_minutes().filter(|most| *most > stretch.least_minutes());
        let length = taken(rest, cursor);
        let least = stretch.least_minutes();
        return Some(Spoken { least, most, length, is_month: false, is_bare: false });
    }
    let (low, high) = spoken::range(rest)?;
    let length = high.length.max(low.length);
    let mut cursor = Cursor::new(&rest[length..]);
    let Some(unit) = unit_minutes(&mut cursor) else {
        let least = low.whole().filter(|_| !low.is_article)?;
        return Some(Spoken { least, most: None, length, is_month: false, is_bare: true });
    };
    let mut length = length + taken(&rest[length..], cursor);
    let is_month =
        rest[..length].trim_end().ends_with("month") || rest[..length].ends_with("months");
    let minutes = |figure: spoken::Spoken| {
        let product = u64::from(figure.numerator) * u64::from(unit);
        u32::try_from(product / u64::from(figure.denominator)).ok()
    };
    let mut least = minutes(low)?;
    let mut most = minutes(high).filter(|most| *most > least);
    let behind = &rest[length..];
    if let Some(part) = spoken::and_part(behind).filter(|_| most.is_none()) {
        least = least.checked_add(minutes(part)?)?;
        length += part.length;
    } else if let Some((more, used)) = smaller_part(behind, unit).filter(|_| most.is_none()) {
        least = least.checked_add(more)?;
        length += used;
    } else if let Some(more) = behind.strip_prefix(" or two").filter(|_| low.is_article) {
        most = Some(unit * 2);
        length = rest.len() - more.len();
    }
    let is_sane = (1..=800 * MINUTES_IN_DAY).contains(&least);
    is_sane.then_some(Spoken { least, most, length, is_month, is_bare: false })
}

/// ` and twenty minutes` behind an hour.
fn smaller_part(behind: &str, unit: u32) -> Option<(u32, usize)> {
    let trimmed = behind.trim_start();
    let trimmed = trimmed.strip_prefix("and ").unwrap_or(trimmed);
    let skipped = behind.len() - trimmed.len();
    let figure = spoken::number(trimmed).filter(|it| !it.is_article)?;
    let mut cursor = Cursor::new(&trimmed[figure.length..]);
    let smaller = unit_minutes(&mut cursor).filter(|it| *it < unit && *it <= MINUTES_IN_HOUR)?;
    let length = skipped + figure.length + taken(&trimmed[figure.length..], cursor);
    Some((figure.whole()?.checked_mul(smaller)?, length))
}

fn unit_minutes(cursor: &mut Cursor<'_>) -> Option<u32> {
    let units = [
        (["minutes", "minute"], 1),
        (["mins", "min"], 1),
        (["hours", "hour"], MINUTES_IN_HOUR),
        (["hrs", "hr"], MINUTES_IN_HOUR),
        (["days", "day"], MINUTES_IN_DAY),
        (["weeks", "week"], 7 * MINUTES_IN_DAY),
        (["months", "month"], 30 * MINUTES_IN_DAY),
    ];
    units.into_iter().find_map(|(words, minutes)| cursor.any(&words).then_some(minutes))
}

/// Bytes between the start of `rest` and where the cursor stands, without the space before it.
fn taken(rest: &str, cursor: Cursor<'_>) -> usize {
    let left = rest.trim_end().len() - cursor.rest().len();
    rest[..left].trim_end().len()
}

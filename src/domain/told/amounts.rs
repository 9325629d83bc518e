//! Amounts inside a sentence, each with its food, as a card's `+` line would write them.
//!
//! A figure counts only where a measure or a food of the larder stands behind it. `half the butter`
//! and `the rest of it` point back and give nothing.

use std::ops::Range;

use super::name::{self, Name};
use super::words::{self, Measure};
use crate::domain::larder::Larder;
use crate::domain::spoken::{self, Spoken};

/// One amount as it was said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Said {
    /// Bytes of the text that say it.
    pub bytes: Range<usize>,
    /// Figure and measure as a card writes them: `1 1/2 cup`; empty where none is given.
    pub figure: String,
    /// The food with what is done to it: `onions, finely chopped`.
    pub food: String,
    /// `the two onions`: perhaps named before.
    pub is_pointing: bool,
    /// The figure says how much; `some`, and nothing at all, do not.
    pub is_counted: bool,
}

impl Said {
    /// What stands behind the `+`.
    pub fn line(&self) -> String {
        format!("{} {}", self.figure, self.food).trim().to_owned()
    }
}

/// Every amount of one sentence, in order.
pub fn amounts(text: &str, sentence: Range<usize>, larder: &Larder) -> Vec<Said> {
    let folded = text[sentence.clone()].to_ascii_lowercase();
    let folded = folded.replace('\n', " ");
    let reader = Reader { folded: &folded, raw: &text[sentence.clone()], larder };
    let mut found: Vec<Said> = Vec::new();
    let mut measure = None;
    let mut at = 0;
    while at < folded.len() {
        let is_start = !folded[..at].ends_with(|c: char| c.is_alphanumeric() || c == '.');
        let is_sign =
            folded[at..].starts_with(|c: char| c.is_alphanumeric() || "½⅓⅔¼¾⅛".contains(c));
        let taken = if is_start && is_sign { reader.at(at, measure) } else { Taken::default() };
        reader.put(taken.said, &mut found);
        measure = taken.measure.or(measure);
        let step = folded[at..].chars().next().map_or(1, char::len_utf8);
        at = taken.end.max(at + step);
    }
    for said in &mut found {
        said.bytes = said.bytes.start + sentence.start..said.bytes.end + sentence.start;
    }
    found
}

/// What was read at one place.
#[derive(Default)]
struct Taken {
    said: Vec<Said>,
    end: usize,
    measure: Option<&'static str>,
}

/// A figure with its measure, before the food is known.
struct Figure {
    words: String,
    measure: Option<(&'static str, Measure)>,
    end: usize,
    is_article: bool,
}

struct Reader<'a> {
    folded: &'a str,
    raw: &'a str,
    larder: &'a Larder,
}

impl Reader<'_> {
    fn at(&self, at: usize, last: Option<&'static str>) -> Taken {
        self.of_fruit(at)
            .or_else(|| self.counted(at, last))
            .or_else(|| self.bare_measure(at))
            .or_else(|| self.vague(at))
            .or_else(|| self.salt_and_pepper(at))
            .unwrap_or_default()
    }

    /// Adds what was said; `two, no, three onions` and `sorry, 250 grams` put right what went before.
    fn put(&self, said: Vec<Said>, found: &mut Vec<Said>) {
        for new in said {
            if let Some(last) = found.last()
                && let Some(between) = self.folded.get(last.bytes.end..new.bytes.start)
                && is_correction(between)
            {
                if new.food.is_empty() {
                    let food = last.food.clone();
                    let start = last.bytes.start;
                    // `no, two fifty`: of the same measure.
                    let measure = last.figure.split_once(' ').map(|it| it.1);
                    let figure = match measure.filter(|_| !new.figure.contains(' ')) {
                        Some(measure) => format!("{} {measure}", new.figure),
                        None => new.figure.clone(),
                    };
                    found.pop();
                    found.push(Said { food, figure, bytes: start..new.bytes.end, ..new });
                    continue;
                }
                if name::stem(&last.food) == name::stem(&new.food) {
                    found.pop();
                }
            }
            if !new.food.is_empty() {
                found.push(new);
            }
        }
    }

    fn word(&self, at: usize) -> Option<(&str, Range<usize>)> {
        name::word(self.folded, at)
    }

    fn before(&self, at: usize) -> &str {
        let before = self.folded[..at].trim_end();
        before.rsplit(|c: char| !(c.is_alphanumeric() || c == '\'')).next().unwrap_or_default()
    }

    /// `the juice of two limes`, `zest and juice of half an orange`.
    fn of_fruit(&self, at: usize) -> Option<Taken> {
        const PARTS: &[&str] = &["juice", "zest", "rind", "peel", "juices", "zests"];
        let (first, bytes) = self.word(at).filter(|(word, _)| PARTS.contains(word))?;
        let mut part = first.to_owned();
        let mut end = bytes.end;
        if let Some(("and", and)) = self.word(end)
            && let Some((second, bytes)) = self.word(and.end)
            && (PARTS.contains(&second))
        {
            part = format!("{first} and {second}");
            end = bytes.end;
        }
        let (joins, bytes) = self.word(end).filter(|(word, _)| matches!(*word, "of" | "from"))?;
        let _ = joins;
        let start = next_start(self.folded, bytes.end);
        let figure = self.figure(start)?;
        let food = self.name(figure.end).filter(|it| it.is_known)?;
        let words = format!("{part} of {}", figure.words);
        let said = self.said(at..food.end, words, food.words, true);
        Some(Taken { said: vec![said], end: food.end, measure: None })
    }

    /// A figure, its measure and the food behind.
    fn counted(&self, at: usize, last: Option<&'static str>) -> Option<Taken> {
        let figure = self.figure(at)?;
        if is_behind_a_thing(self.before(at)) {
            return None;
        }
        let about = ["about", "roughly", "around", "approximately"].contains(&self.before(at));
        let words = if about { format!("about {}", figure.words) } else { figure.words.clone() };
        let behind = self.word(figure.end);
        if let Some(("each", each)) = &behind
            && figure.measure.is_some()
            && let Some(("of", of)) = self.word(each.end)
        {
            return Some(self.each_of(at, &words, of.end));
        }
        let mut start = figure.end;
        let mut is_of = false;
        if let Some(("of", bytes)) = &behind {
            start = bytes.end;
            is_of = true;
        }
        let measured = figure.measure.map(|it| it.1);
        // `one of coriander` behind `a teaspoon of cumin` is a teaspoon too.
        let lent = last.filter(|_| is_of && measured.is_none() && !figure.is_article);
        let Some(food) = self.name(start) else {
            return Some(self.figure_alone(at, words, &figure));
        };
        let fits = match measured {
            Some(Measure::Measured) => is_of || food.is_known || !words::is_no_food(&food.last),
            Some(Measure::Container) => is_of && !food.words.contains("water"),
            Some(Measure::Part | Measure::Loose) => is_of || food.is_known,
            None if is_of => lent.is_some() && food.is_known,
            None => food.is_known && (!figure.is_article || self.may_have_article(at)),
        };
        if !fits || self.is_for_each(food.end) || self.is_drink(at, &food) {
            return None;
        }
        let words = lent.map_or(words.clone(), |measure| format!("{words} {measure}"));
        let measure = figure.measure.filter(|it| it.1 == Measure::Measured).map(|it| it.0);
        let said = self.said(at..food.end, words, food.words, true);
        Some(Taken { said: vec![said], end: food.end, measure: measure.or(lent) })
    }

    fn said(&self, bytes: Range<usize>, figure: String, food: String, is_counted: bool) -> Said {
        const POINTING: &[&str] = &["the", "those", "these", "other", "remaining", "that"];
        let is_pointing = POINTING.contains(&self.before(bytes.start));
        Said { bytes, figure, food, is_pointing, is_counted }
    }

    /// A figure without a food: it may put the one before it right.
    fn figure_alone(&self, at: usize, words: String, figure: &Figure) -> Taken {
        let said = match figure.measure {
            None if figure.is_article => Vec::new(),
            _ => vec![self.said(at..figure.end, words, String::new(), true)],
        };
        Taken { said, end: 0, measure: None }
    }

    /// `a teaspoon each of cumin and coriander`: one amount for every name.
    fn each_of(&self, at: usize, words: &str, start: usize) -> Taken {
        let mut said = Vec::new();
        let mut from = start;
        let mut end = start;
        while let Some(food) = self.name(from) {
            end = food.end;
            let start = if said.is_empty() { at } else { next_start(self.folded, from) };
            said.push(self.said(start..food.end, words.to_owned(), food.words, true));
            let rest = &self.folded[end..];
            let Some(join) = [", and ", " and ", ", "].iter().find(|it| rest.starts_with(**it))
            else {
                break;
            };
            from = end + join.len();
            if said.len() > 6 || spoken::number(&self.folded[from..]).is_some() {
                break;
            }
        }
        Taken { said, end, measure: None }
    }

    /// `some parsley`, `a few sprigs of thyme`, `a little oil`: said without a figure.
    fn vague(&self, at: usize) -> Option<Taken> {
        const VAGUE: &[(&str, &str)] = &[
            ("some ", "some"),
            ("a little bit of ", "a little"),
            ("a little ", "a little"),
            ("a bit of ", "a little"),
            ("a few ", "a few"),
            ("a couple of handfuls of ", "2 handfuls"),
            ("plenty of ", ""),
            ("lots of ", ""),
            ("a lot of ", ""),
            ("a good lot of ", ""),
            ("a scattering of ", ""),
            ("a spoonful of ", ""),
        ];
        let rest = &self.folded[at..];
        let (said, figure) = VAGUE.iter().find(|(said, _)| rest.starts_with(said))?;
        let mut start = at + said.len();
        let mut figure = (*figure).to_owned();
        if let Some((word, bytes)) = self.word(start)
            && let Some((measure, _)) = words::measure(word)
            && let Some(("of", of)) = self.word(bytes.end)
        {
            figure = format!("{figure} {measure}");
            start = of.end;
        }
        let food = self.name(start).filter(|it| it.is_known)?;
        let said = self.said(at..food.end, figure, food.words, false);
        Some(Taken { said: vec![said], end: food.end, measure: None })
    }

    /// `Knob of butter`: one of a measure that nobody weighs, at the front or behind a comma.
    fn bare_measure(&self, at: usize) -> Option<Taken> {
        let before = self.folded[..at].trim_end();
        if !(before.is_empty() || before.ends_with([',', ':', '.'])) {
            return None;
        }
        let (word, bytes) = self.word(at)?;
        let (measure, _) = words::measure(word).filter(|it| it.1 == Measure::Loose)?;
        let (_, of) = self.word(bytes.end).filter(|it| it.0 == "of")?;
        let food = self.name(of.end).filter(|it| it.is_known)?;
        let is_many = measure.ends_with('s') && !matches!(measure, "splash");
        let figure = if is_many { measure.to_owned() } else { format!("1 {measure}") };
        let said = self.said(at..food.end, figure, food.words, !is_many);
        Some(Taken { said: vec![said], end: food.end, measure: None })
    }

    fn salt_and_pepper(&self, at: usize) -> Option<Taken> {
        const WORDS: &[&str] = &["salt and black pepper", "salt and pepper"];
        let words = WORDS.iter().find(|it| self.folded[at..].starts_with(**it))?;
        let end = at + words.len();
        let said = self.said(at..end, String::new(), (*words).to_owned(), false);
        Some(Taken { said: vec![said], end, measure: None })
    }

    /// A figure or two ends, a pack, a measure, and the half behind it.
    fn figure(&self, at: usize) -> Option<Figure> {
        if let Some(rest) = self.folded[at..].strip_prefix("a ")
            && spoken::number(rest).is_some_and(|it| !it.is_article)
            && spoken::number(&self.folded[at..]).is_some_and(|it| it.is_article)
            && let Some(one) = self.weighed(at + 2)
        {
            return Some(one);
        }
        let (low, high) = spoken::range(&self.folded[at..])?;
        let words =
            if low == high { low.words() } else { format!("{}-{}", low.words(), high.words()) };
        let mut end = at + high.length.max(low.length);
        if low == high
            && low.whole().is_some()
            && let Some(pack) = self.pack(low, end)
        {
            return Some(pack);
        }
        let Some((measure, kind, behind)) = self.measure(end) else {
            return Some(Figure { words, measure: None, end, is_article: low.is_article });
        };
        end = behind;
        // `a 400 gram tin` has been read as a pack; `400 g tin of beans` names its own.
        if kind == Measure::Measured
            && let Some((container, Measure::Container, behind)) = self.measure(end)
            && matches!(self.word(behind), Some(("of", _)))
        {
            let words = format!("{words} {measure} {container}");
            let measure = Some((container, Measure::Container));
            return Some(Figure { words, measure, end: behind, is_article: false });
        }
        let part = spoken::and_part(&self.folded[end..]).filter(|_| low == high);
        let words = match part {
            Some(part) if low.denominator == 1 => {
                end += part.length;
                let whole = if low.numerator > 0 { low.words() } else { String::new() };
                format!("{whole} {}", part.words()).trim().to_owned()
            }
            _ => words,
        };
        let or_two = self.folded[end..].strip_prefix(" or two").filter(|_| low.is_article);
        end += or_two.map_or(0, |_| " or two".len());
        let words = if or_two.is_some() { "1-2".to_owned() } else { words };
        let mut words = format!("{words} {measure}");
        if measure == "lb"
            && let Some(ounces) = spoken::number(self.folded[end..].trim_start())
            && let start = next_start(self.folded, end)
            && let Some(("oz", _, behind)) = self.measure(start + ounces.length)
        {
            words = format!("{words} {} oz", ounces.words());
            end = behind;
        }
        Some(Figure { words, measure: Some((measure, kind)), end, is_article: low.is_article })
    }

    /// `a two kilo chicken` weighs two kilos; of `a 400 gram tin` the tin is counted.
    fn weighed(&self, at: usize) -> Option<Figure> {
        let figure =
            self.figure(at).filter(|it| matches!(it.measure, Some((_, Measure::Measured))));
        figure.filter(|it| !self.measure(it.end).is_some_and(|it| it.1 == Measure::Container))
    }

    /// `two 400 gram tins`, `a 14-ounce can`.
    fn pack(&self, count: Spoken, at: usize) -> Option<Figure> {
        let start = next_start(self.folded, at);
        let size = spoken::number(self.folded.get(start..)?).filter(|it| !it.is_article)?;
        let (unit, kind, end) = self.measure(start + size.length)?;
        let (container, holds, end) = self.measure(end).filter(|_| kind == Measure::Measured)?;
        (holds == Measure::Container).then(|| Figure {
            words: format!("{} x {} {unit} {container}", count.words(), size.words()),
            measure: Some((container, Measure::Container)),
            end,
            is_article: false,
        })
    }

    /// A measure, perhaps behind words of size: `heaped teaspoon`, `fluid ounces`.
    fn measure(&self, at: usize) -> Option<(&'static str, Measure, usize)> {
        let mut at = at;
        for _ in 0..3 {
            let (word, bytes) = self.word(at)?;
            if matches!(word, "fl" | "fluid") {
                let (_, bytes) = self.word(bytes.end).filter(|it| it.0.starts_with("ou"))?;
                return Some(("fl oz", Measure::Measured, bytes.end));
            }
            if let Some((measure, kind)) = words::measure(word) {
                return Some((measure, kind, bytes.end));
            }
            if !words::is_size(word) {
                return None;
            }
            at = bytes.end;
        }
        None
    }

    fn name(&self, at: usize) -> Option<Name> {
        name::read(self.folded, self.raw, at, self.larder)
    }

    /// `make a mayonnaise`, `like a custard`: what becomes of it, not what goes in.
    fn may_have_article(&self, at: usize) -> bool {
        const NOT: &[&str] = &[
            "make", "makes", "making", "like", "into", "as", "is", "it's", "be", "having", "doing",
            "called", "such", "want", "need's", "become", "becomes", "for",
        ];
        !NOT.contains(&self.before(at))
    }

    /// `an egg per person`: how many that makes nobody has said.
    fn is_for_each(&self, end: usize) -> bool {
        let rest = self.folded[end..].trim_start();
        ["per person", "per head", "a head", "apiece", "each", "a person", "per guest"]
            .iter()
            .any(|it| rest.starts_with(it))
            && !rest.starts_with("each of")
    }

    /// A cup of tea for the cook.
    fn is_drink(&self, at: usize, food: &Name) -> bool {
        const TAKES: &[&str] =
            &["have", "having", "yourself", "pour", "for", "grab", "with", "drink", "over"];
        let is_one = ["tea", "coffee", "wine"].contains(&food.words.as_str());
        is_one && TAKES.contains(&self.before(at)) && !matches!(self.before(at), "pour" | "with")
    }
}

/// `gas mark 6`, `number 2`, `step 3`, `size 8 tin`.
fn is_behind_a_thing(before: &str) -> bool {
    ["mark", "number", "step", "gas", "no", "size", "chapter", "page", "shelf"].contains(&before)
}

fn is_correction(between: &str) -> bool {
    const MARKS: &[&str] =
        &["no wait", ", no,", "sorry", "i mean", "make that", "or rather", "no, ", "i tell a lie"];
    between.len() <= 40 && MARKS.iter().any(|it| between.contains(it))
}

/// Where the next word begins.
fn next_start(folded: &str, at: usize) -> usize {
    let rest = &folded[at..];
    at + rest.len() - rest.trim_start_matches([' ', '-']).len()
}

//! The figures at the front of a line: counts, ranges, packs, and the same amount said twice.
//!
//! ```text
//! amount  = opener* (length unit? | range counted | vague) ["each"] ["of"]
//! opener  = "about" | "~" | "up to" | "at least" | size
//! counted = "x" pack container?                     2 x 400 g tins
//!         | "(" pack ")" container? | pack "-"? container   1 (14 oz) can
//!         | ["or" number size] length? size* "dozen"? unit? ["-" | "to" amount]
//! length  = number ["-"] ("inch" | "cm" | "mm")      never how much
//! vague   = ["a"] ("few" | "some" | …) size* unit?   the quantity stays open
//! then    : "(" amount ")" | ("/" | "or" | "=") amount   the same said another way
//!           ("plus" | "+" | "and") amount            more of it
//! ```

use num_rational::BigRational;

use super::figure::{self, Range, is_dash, is_mark, is_number, lone, word};
use super::token::Token;
use super::units::{self, is_container, is_loose, is_measured};
use super::words;
use super::{Marks, SpanKind};
use crate::domain::quantity::{Amount, Unit};

/// What was found, and the token after it.
#[derive(Debug, Default)]
pub(super) struct Figures {
    pub amount: Option<Amount>,
    pub unit: Option<Unit>,
    pub is_up_to: bool,
    pub is_approximate: bool,
    pub packs: Vec<Amount>,
    pub equivalents: Vec<Amount>,
    pub plus: Vec<Amount>,
    /// `each cumin, coriander and turmeric`: what follows is several foods.
    pub is_each: bool,
    pub next: usize,
}

/// Reads the figures that open `tokens` at `start`, marking their bytes.
pub(super) fn read(tokens: &[Token], start: usize, marks: &mut Marks) -> Figures {
    let mut reader = Reader { tokens, at: start, marks, found: Figures::default() };
    reader.openers();
    reader.main();
    reader.or_more();
    reader.another_way();
    reader.plus();
    reader.each();
    reader.found.next = reader.at;
    reader.found
}

/// `1 onion`, `1 tsp coriander`; not `2 cm thick`, which is a length.
pub(super) fn counts_food(tokens: &[Token]) -> bool {
    let mut marks = Marks::none();
    let reader = Reader { tokens, at: 0, marks: &mut marks, found: Figures::default() };
    reader.length_at(0).is_none()
}

struct Reader<'a> {
    tokens: &'a [Token<'a>],
    at: usize,
    marks: &'a mut Marks,
    found: Figures,
}

impl Reader<'_> {
    fn word(&self, ahead: usize) -> &str {
        word(self.tokens, self.at + ahead)
    }

    fn is_mark(&self, ahead: usize, mark: char) -> bool {
        is_mark(self.tokens, self.at + ahead, mark)
    }

    fn take(&mut self, count: usize, kind: SpanKind) {
        self.take_to(self.at + count, kind);
    }

    fn take_to(&mut self, next: usize, kind: SpanKind) {
        let next = next.min(self.tokens.len());
        self.marks.mark_tokens(&self.tokens[self.at..next], kind);
        self.at = next;
    }

    fn take_unit(&mut self) -> Option<Unit> {
        let (unit, next) = units::unit_at(self.tokens, self.at)?;
        self.take_to(next, SpanKind::Unit);
        Some(unit)
    }

    fn of(&mut self) {
        if self.word(0) == "of" {
            self.take(1, SpanKind::Between);
        }
    }

    /// `about`, `~`, `up to`, `generous`: words that do not change the figure.
    fn openers(&mut self) {
        loop {
            let two = (self.word(0), self.word(1));
            let approximate = figure::past_approximate(self.tokens, self.at);
            let number_next = is_number(self.tokens, self.at + 1);
            if matches!(two, ("up", "to") | ("at", "most")) {
                self.found.is_up_to = true;
                self.take(2, SpanKind::Amount);
            } else if two == ("at", "least") {
                self.found.is_approximate = true;
                self.take(2, SpanKind::Amount);
            } else if approximate > self.at && self.figures_follow(approximate) {
                self.found.is_approximate = true;
                self.take_to(approximate, SpanKind::Amount);
            } else if number_next && (words::is_size(two.0) || two.0 == "some") {
                self.take(1, SpanKind::Size);
            } else {
                return;
            }
        }
    }

    /// `a good 200 g` opens an amount, `a good pinch` does not; nor does `around`, the word.
    fn figures_follow(&self, at: usize) -> bool {
        let is_article = words::is_article(self.word(0));
        if is_article {
            is_number(self.tokens, at)
        } else {
            figure::range(self.tokens, at).is_some()
        }
    }

    fn main(&mut self) {
        // `2 cm piece of ginger`, `a thumb-sized piece`: one piece, however long.
        let article = usize::from(words::is_article(self.word(0)) || self.word(0) == "one");
        let length = self.length_at(self.at + article);
        if let Some(next) = length {
            self.take(article, SpanKind::Amount);
            self.take_to(next, SpanKind::Size);
            self.skip_sizes();
            let unit = self.take_unit().unwrap_or(Unit::Piece);
            self.found.unit = Some(unit);
            self.found.amount = Some(Amount::of(figure::whole(1), unit));
            self.of();
            return;
        }
        match figure::range(self.tokens, self.at) {
            Some(range) => self.counted(range),
            None => self.without_figure(),
        }
    }

    /// What follows the first figures: packs, the unit, the end of a range behind its unit.
    fn counted(&mut self, range: Range) {
        let Range { low, high, next } = range;
        let is_one_figure = low == high;
        self.take_to(next, SpanKind::Amount);
        let (mut low, mut high) = (low, high);
        if self.times() {
            // `2 x 400 g tins`: a count, the pack, then the container or the food.
            self.pack_behind_times();
        } else if !(is_one_figure && self.sized_container()) {
            self.or_of_another_size();
            if let Some(next) = self.length_at(self.at) {
                self.take_to(next, SpanKind::Size);
            }
            self.skip_sizes();
            if matches!(self.word(0), "dozen" | "dozens") {
                self.take(1, SpanKind::Unit);
                let dozen = figure::whole(12);
                (low, high) = (low * &dozen, high * dozen);
                self.of();
            }
            self.found.unit = Some(self.take_unit().unwrap_or(Unit::Each));
            self.or_another_container();
            if is_one_figure && let Some(end) = self.end_of_range() {
                high = end;
            }
        }
        let unit = self.found.unit.unwrap_or(Unit::Each);
        let amount = Amount::between(low, high, unit);
        self.found.amount = Some(amount.clone());
        if is_one_figure && self.found.packs.is_empty() && self.container_behind() {
            self.found.packs.push(amount);
        }
        self.of();
    }

    /// `1 can or jar of artichoke hearts`
    fn or_another_container(&mut self) {
        let is_one = self.found.unit.is_some_and(is_container) && self.word(0) == "or";
        let other = units::unit_at(self.tokens, self.at + 1);
        if let Some((_, next)) = other.filter(|it| is_one && is_container(it.0)) {
            self.take_to(next, SpanKind::Unit);
        }
    }

    fn times(&mut self) -> bool {
        let times = self.word(0) == "x" || self.is_mark(0, '×');
        if times {
            self.take(1, SpanKind::Pack);
        }
        times
    }

    fn pack_behind_times(&mut self) {
        let open = usize::from(self.is_mark(0, '('));
        let pack = lone(self.tokens, self.at + open).filter(|it| is_measured(it.amount.unit()));
        if let Some(pack) = pack {
            self.found.packs.push(pack.amount);
            self.take_to(pack.next, SpanKind::Pack);
            self.pack_another_way();
            if open > 0 && self.is_mark(0, ')') {
                self.take(1, SpanKind::Pack);
            }
        }
        self.skip_sizes();
        self.found.unit = Some(self.take_unit().unwrap_or(Unit::Each));
    }

    /// `400g/14oz tins`: the second is the same pack.
    fn pack_another_way(&mut self) {
        if self.is_mark(0, '/')
            && let Some(again) = lone(self.tokens, self.at + 1)
        {
            self.take_to(again.next, SpanKind::Pack);
        }
    }

    /// `(14 oz) can`, `14-ounce can`, `(6 oz) salmon fillets`, behind a count.
    fn sized_container(&mut self) -> bool {
        let open = usize::from(self.is_mark(0, '('));
        let Some(pack) = lone(self.tokens, self.at + open) else { return false };
        if !is_measured(pack.amount.unit()) || (open > 0 && pack.is_about && !pack.is_each) {
            return false;
        }
        let mut next = pack.next;
        if open > 0 && is_mark(self.tokens, next, '/') {
            next = lone(self.tokens, next + 1).map_or(next, |it| it.next);
        }
        if open > 0 && !is_mark(self.tokens, next, ')') {
            return false;
        }
        next += open;
        // Something must be packed: `1 (14 oz)` alone says nothing, nor does `2 5 g`.
        if word(self.tokens, next).is_empty() {
            return false;
        }
        self.found.packs.push(pack.amount);
        self.take_to(next, SpanKind::Pack);
        self.pack_another_way();
        self.skip_sizes();
        self.found.unit = Some(self.take_unit().unwrap_or(Unit::Each));
        true
    }

    /// `400 g tin of tomatoes`: one tin, of that size. A word must stand behind.
    fn container_behind(&mut self) -> bool {
        let measured = self.found.unit.is_some_and(is_measured);
        // `400g/14oz tin`
        let mut next = self.at;
        if is_mark(self.tokens, next, '/') {
            next = lone(self.tokens, next + 1).map_or(next, |it| it.next);
        }
        let Some((container, behind)) = units::unit_at(self.tokens, next) else { return false };
        let stands = measured && is_container(container) && !word(self.tokens, behind).is_empty();
        if stands {
            self.take_to(next, SpanKind::Pack);
            self.take_to(behind, SpanKind::Unit);
            self.found.unit = Some(container);
            self.found.amount = Some(Amount::of(figure::whole(1), container));
        }
        stands
    }

    /// `200 g-250 g`, `200 g to 250 g`: the far end, behind the unit of the near one.
    fn end_of_range(&mut self) -> Option<BigRational> {
        if !(is_dash(self.tokens, self.at) || matches!(self.word(0), "to" | "or")) {
            return None;
        }
        let end = lone(self.tokens, self.at + 1)?;
        let fits = Some(end.amount.unit()) == self.found.unit && !end.amount.is_range();
        fits.then(|| {
            self.take_to(end.next, SpanKind::Amount);
            end.amount.high().clone()
        })
    }

    /// `3-inch`, `2 cm`, `1"`, `1/2-inch-thick`, `thumb-sized`: how long, never how much. The token
    /// behind it.
    fn length_at(&self, at: usize) -> Option<usize> {
        if word(self.tokens, at).starts_with("thumb-") {
            return Some(at + 1);
        }
        let range = figure::range(self.tokens, at).filter(|_| is_number(self.tokens, at))?;
        let dash = usize::from(is_dash(self.tokens, range.next));
        let measure = range.next + dash;
        let is_sign = ['"', '″', '”'].iter().any(|it| is_mark(self.tokens, measure, *it));
        if !is_sign && !is_length(word(self.tokens, measure)) {
            return None;
        }
        let mut next = measure + 1;
        next += usize::from(is_mark(self.tokens, next, '.'));
        while is_dash(self.tokens, next)
            || matches!(word(self.tokens, next), "long" | "thick" | "wide" | "square")
        {
            next += 1;
        }
        Some(next)
    }

    /// `1 large or 2 small`: the first stands, the other is the same said another way.
    fn or_of_another_size(&mut self) {
        let is_sized = words::is_size(self.word(0)) && self.word(1) == "or";
        let other = figure::figure(self.tokens, self.at + 2);
        let Some((other, next)) = other.filter(|_| is_sized) else { return };
        if words::is_size(word(self.tokens, next)) {
            self.found.equivalents.push(Amount::of(other, Unit::Each));
            self.take(1, SpanKind::Size);
            self.take_to(next + 1, SpanKind::Equivalent);
        }
    }

    /// `1 cup or more`: the figure stands.
    fn or_more(&mut self) {
        let says_more = self.word(0) == "or" && matches!(self.word(1), "more" | "less" | "so");
        if self.found.amount.is_some() && says_more {
            self.take(2, SpanKind::Amount);
            self.of();
        }
    }

    /// `pinch of`, `a few sprigs of`, `handfuls of`.
    fn without_figure(&mut self) {
        let article = usize::from(words::is_article(self.word(0)));
        let size = usize::from(words::is_size(self.word(article)));
        let vague = article + if words::is_vague(self.word(article + size)) { size } else { 0 };
        let is_vague = words::is_vague(self.word(vague));
        let has_of = self.word(vague + 1) == "of";
        let skipped = if is_vague { vague + 1 + usize::from(has_of) } else { article };
        let at = self.at + skipped;
        let sizes = (at..at + 3).take_while(|it| words::is_size(word(self.tokens, *it))).count();
        let Some((unit, next)) = units::unit_at(self.tokens, at + sizes) else {
            if is_vague && (has_of || words::is_vague_alone(self.word(vague))) {
                self.take(skipped, SpanKind::Amount);
                // Counted, and nobody knows how many.
                self.found.unit = Some(Unit::Each);
            }
            return;
        };
        // `leaves of 3 sprigs`: a part of what is counted behind it.
        if word(self.tokens, next) == "of" && figure::range(self.tokens, next + 1).is_some() {
            return;
        }
        let named = word(self.tokens, at + sizes);
        let plural = named.ends_with('s') && unit != Unit::Gram;
        let opens = is_vague || word(self.tokens, next) == "of";
        if !(opens || is_loose(unit)) || named.len() < 3 {
            return;
        }
        self.take(skipped, SpanKind::Amount);
        self.take(sizes, SpanKind::Size);
        self.take_to(next, SpanKind::Unit);
        self.found.unit = Some(unit);
        if !is_vague && !plural {
            self.found.amount = Some(Amount::of(figure::whole(1), unit));
        }
        self.of();
    }

    fn skip_sizes(&mut self) {
        let count = (0..3).take_while(|it| is_size_or_manner(self.word(*it))).count();
        let stands = count > 0 && units::unit_at(self.tokens, self.at + count).is_some();
        if stands {
            self.take(count, SpanKind::Size);
        }
    }

    /// `(250 g)`, `/9 oz`, `or 240 ml` behind the amount: the same said another way, or the pack.
    fn another_way(&mut self) {
        let Some(unit) = self.found.unit.filter(|_| self.found.amount.is_some()) else { return };
        loop {
            let open = self.is_mark(0, '(');
            let opens =
                open || self.is_mark(0, '/') || self.is_mark(0, '=') || self.word(0) == "or";
            if !opens {
                // `1 pack 400 g spaghetti`
                if is_container(unit) && self.found.packs.is_empty() {
                    self.pack_beside();
                }
                return;
            }
            let close = self.tokens[self.at..].iter().position(|it| it.is_mark(')'));
            let end = close.filter(|_| open).map_or(self.tokens.len(), |it| self.at + it);
            if open && (close.is_none() || !self.bracket(end)) {
                return;
            }
            if !open {
                let Some(other) = lone(&self.tokens[..end], self.at + 1) else { return };
                self.found.equivalents.push(other.amount);
                self.take_to(other.next, SpanKind::Equivalent);
            }
            self.of();
        }
    }

    /// The amounts inside brackets that end before `close`; false when there is anything else.
    fn bracket(&mut self, close: usize) -> bool {
        let inside = &self.tokens[..close];
        let start = self.at + 1;
        if self.length_at(start).is_some_and(|next| next >= close) {
            self.take_to(close + 1, SpanKind::Size);
            return true;
        }
        if close == start + 1 && words::is_size(word(inside, start)) {
            self.take_to(close + 1, SpanKind::Size);
            return true;
        }
        let mut found = Vec::new();
        let mut at = start;
        while at < close {
            let Some(other) = lone(inside, at) else { return false };
            at = other.next;
            found.push(other);
            let joins = ['/', ',', ';'].iter().any(|it| is_mark(inside, at, *it));
            if at < close && !(joins || matches!(word(inside, at), "or" | "to")) {
                return false;
            }
            at += 1;
        }
        let unit = self.found.unit.unwrap_or(Unit::Each);
        let is_pack = found
            .first()
            .is_some_and(|it| is_measured(it.amount.unit()) && (it.is_each || is_container(unit)));
        if is_pack && self.found.packs.is_empty() {
            self.found.packs.push(found.remove(0).amount);
            self.take_to(close + 1, SpanKind::Pack);
        } else {
            self.found.equivalents.extend(found.into_iter().map(|it| it.amount));
            self.take_to(close + 1, SpanKind::Equivalent);
        }
        true
    }

    fn pack_beside(&mut self) {
        let pack = lone(self.tokens, self.at).filter(|it| is_measured(it.amount.unit()));
        if let Some(pack) = pack.filter(|_| is_number(self.tokens, self.at)) {
            self.found.packs.push(pack.amount);
            self.take_to(pack.next, SpanKind::Pack);
            self.of();
        }
    }

    /// `plus 2 tbsp`, `and 2 tbsp`, `2 lb 6 oz`: the same use, in another unit.
    fn plus(&mut self) {
        let comma = usize::from(self.is_mark(0, ','));
        let said = self.word(comma) == "plus" || self.is_mark(comma, '+');
        let and = comma == 0 && (self.word(0) == "and" || self.is_mark(0, '&'));
        let Some(unit) = self.found.unit.filter(|_| self.found.amount.is_some()) else { return };
        let skip = comma + usize::from(said || and);
        let Some(more) = lone(self.tokens, self.at + skip) else { return };
        let other = more.amount.unit();
        let fits = if said || and {
            said || other.kind() == unit.kind() && is_measured(unit)
        } else {
            matches!(
                (unit, other),
                (Unit::Pound, Unit::Ounce)
                    | (Unit::Kilogram, Unit::Gram)
                    | (Unit::Litre, Unit::Millilitre)
                    | (Unit::Cup, Unit::Tablespoon)
            )
        };
        // `plus 1 tbsp for the tin` is another use: it is read with the words that say so.
        let other_use = matches!(word(self.tokens, more.next), "for" | "to");
        if !fits || other_use {
            return;
        }
        self.found.plus.push(more.amount);
        self.take_to(more.next, SpanKind::Plus);
        self.of();
        if comma > 0 && self.is_mark(0, ',') {
            self.take(1, SpanKind::Between);
        }
    }

    fn each(&mut self) {
        if self.word(0) == "each" && !self.word(1).is_empty() {
            self.found.is_each = self.found.amount.is_some();
            self.take(1, SpanKind::Between);
            self.of();
        }
    }
}

fn is_size_or_manner(word: &str) -> bool {
    words::is_size(word) || matches!(word, "firmly" | "loosely" | "lightly" | "tightly" | "very")
}

fn is_length(word: &str) -> bool {
    ["inch", "inches", "cm", "cms", "mm", "centimetre", "centimetres", "centimeter", "centimeters"]
        .iter()
        .any(|it| {
            word.strip_prefix(it).is_some_and(|rest| rest.is_empty() || rest.starts_with('-'))
        })
}

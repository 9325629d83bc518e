//! The figures at the front of a line: counts, ranges, packs, and the same amount said twice.

use num_rational::BigRational;

use super::token::{Token, TokenKind};
use super::words;
use super::{Marks, SpanKind};
use crate::domain::quantity::{Amount, Kind, Unit};

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
    pub next: usize,
}

/// Reads the figures that open `tokens`, marking their bytes.
pub(super) fn read(tokens: &[Token], marks: &mut Marks) -> Figures {
    let mut reader = Reader { tokens, at: 0, marks, found: Figures::default() };
    reader.openers();
    reader.main();
    reader.or_more();
    reader.bracketed();
    reader.another_way();
    reader.plus();
    reader.found.next = reader.at;
    reader.found
}

/// One amount anywhere, such as `about 2 kg` behind a comma: the whole of `tokens` or nothing.
pub(super) fn lone(tokens: &[Token]) -> Option<(Amount, usize)> {
    let mut marks = Marks::none();
    let mut reader = Reader { tokens, at: 0, marks: &mut marks, found: Figures::default() };
    reader.openers();
    let (low, high) = reader.range()?;
    let unit = reader.unit()?;
    let amount = Amount::between(low, high, unit);
    Some((reader.with_ounces(amount), reader.at))
}

struct Reader<'a> {
    tokens: &'a [Token],
    at: usize,
    marks: &'a mut Marks,
    found: Figures,
}

impl Reader<'_> {
    fn word(&self, ahead: usize) -> Option<&str> {
        match &self.tokens.get(self.at + ahead)?.is {
            TokenKind::Word(word) => Some(word),
            _ => None,
        }
    }

    fn is_mark(&self, ahead: usize, mark: char) -> bool {
        self.tokens.get(self.at + ahead).is_some_and(|token| token.is == TokenKind::Mark(mark))
    }

    fn take(&mut self, count: usize, kind: SpanKind) {
        for token in &self.tokens[self.at..self.at + count] {
            self.marks.mark(token.bytes.clone(), kind);
        }
        self.at += count;
    }

    /// `about`, `~`, `up to`, `generous`: words that do not change the figure.
    fn openers(&mut self) {
        loop {
            let word = self.word(0);
            if word == Some("up") && self.word(1) == Some("to") {
                self.found.is_up_to = true;
                self.take(2, SpanKind::Amount);
            } else if word == Some("at") && self.word(1) == Some("least")
                || word == Some("just") && self.word(1) == Some("under")
            {
                self.found.is_approximate = true;
                self.take(2, SpanKind::Amount);
            } else if word.is_some_and(words::is_approximate) || self.is_mark(0, '~') {
                self.found.is_approximate = true;
                self.take(1, SpanKind::Amount);
            } else if matches!(word, Some("generous" | "scant" | "heaped"))
                && matches!(self.tokens.get(self.at + 1).map(|t| &t.is), Some(TokenKind::Number(_)))
            {
                self.take(1, SpanKind::Size);
            } else {
                return;
            }
        }
    }

    fn main(&mut self) {
        let start = self.at;
        if self.length() {
            // `2 cm piece of ginger` is one piece, however long.
            let unit = self.unit().unwrap_or(Unit::Piece);
            self.found.unit = Some(unit);
            self.found.amount = Some(Amount::of(one(), unit));
            self.of();
            return;
        }
        match self.range() {
            Some((low, high)) => self.counted(low, high),
            None => self.without_figure(start),
        }
    }

    /// What follows the first figures: packs, the unit, the end of a range behind its unit.
    fn counted(&mut self, low: BigRational, high: BigRational) {
        let mut each = one();
        let mut high = high;
        let is_one_figure = low == high;
        if self.times() {
            // `2 x 400 g tins`: a count, the pack, then the container or the food.
            let pack = self.pack();
            let container = self.unit();
            self.found.packs.extend(pack);
            self.found.unit = Some(container.unwrap_or(Unit::Each));
        } else if is_one_figure && self.sized_container() {
            // The pack has been taken by `sized_container`.
        } else {
            self.or_of_another_size();
            self.length();
            self.skip_sizes();
            if matches!(self.word(0), Some("dozen" | "dozens")) {
                self.take(1, SpanKind::Unit);
                each = BigRational::from_integer(12.into());
            }
            self.found.unit = Some(self.unit().unwrap_or(Unit::Each));
            if is_one_figure && let Some(end) = self.end_of_range() {
                high = end;
            }
        }
        let unit = self.found.unit.unwrap_or(Unit::Each);
        let amount = Amount::between(low * &each, high * each, unit);
        self.found.amount = Some(amount.clone());
        if is_one_figure && self.found.packs.is_empty() && self.container_behind() {
            self.found.packs.push(amount);
        }
        self.of();
    }

    /// `200 g-250 g`, `200 g to 250 g`: the far end, behind the unit of the near one.
    fn end_of_range(&mut self) -> Option<BigRational> {
        let dash = ['-', '–', '—'].iter().any(|mark| self.is_mark(0, *mark));
        if !(dash || self.word(0) == Some("to")) {
            return None;
        }
        let (end, used) = lone(&self.tokens[self.at + 1..])?;
        let fits = Some(end.unit()) == self.found.unit && !end.is_range();
        fits.then(|| {
            self.take(used + 1, SpanKind::Amount);
            end.high().clone()
        })
    }

    /// `400 g tin of tomatoes`: one tin, of that size.
    fn container_behind(&mut self) -> bool {
        let measured = self.found.unit.is_some_and(is_measured);
        let Some(container) = self.word(0).filter(|_| measured).and_then(words::unit) else {
            return false;
        };
        let holds = matches!(
            container,
            Unit::Can
                | Unit::Jar
                | Unit::Pack
                | Unit::Bottle
                | Unit::Carton
                | Unit::Tub
                | Unit::Bag
                | Unit::Ball
                | Unit::Block
        );
        // The word must stand before a food: `500 g pot` alone says nothing.
        let stands = holds && self.word(1).is_some();
        if stands {
            self.take(1, SpanKind::Unit);
            self.found.unit = Some(container);
            self.found.amount = Some(Amount::of(one(), container));
        }
        stands
    }

    /// `3-inch`, `2 cm`, `1/2-inch-thick`: how long or thick, never how much.
    fn length(&mut self) -> bool {
        let is_number =
            matches!(self.tokens.get(self.at).map(|it| &it.is), Some(TokenKind::Number(_)));
        let dash = usize::from(self.is_mark(1, '-'));
        let measure = self.word(1 + dash).unwrap_or_default();
        let measures =
            ["inch", "inches", "cm", "mm", "centimetre", "centimeter"].iter().any(|it| {
                measure == *it || measure.strip_prefix(it).is_some_and(|it| it.starts_with('-'))
            });
        let is_length = is_number && measures;
        if is_length {
            self.take(2 + dash, SpanKind::Size);
            while self.is_mark(0, '-') || matches!(self.word(0), Some("long" | "thick" | "wide")) {
                self.take(1, SpanKind::Size);
            }
        }
        is_length
    }

    /// `1 large or 2 small`: the first stands, the other is the same said another way.
    fn or_of_another_size(&mut self) {
        let is_sized = self.word(0).is_some_and(words::is_size) && self.word(1) == Some("or");
        let Some(TokenKind::Number(other)) = self.tokens.get(self.at + 2).map(|it| &it.is) else {
            return;
        };
        if is_sized && self.word(3).is_some_and(words::is_size) {
            self.found.equivalents.push(Amount::of(other.clone(), Unit::Each));
            self.take(1, SpanKind::Size);
            self.take(3, SpanKind::Equivalent);
        }
    }

    /// `1 cup or more`: the figure stands.
    fn or_more(&mut self) {
        if self.found.amount.is_some()
            && self.word(0) == Some("or")
            && matches!(self.word(1), Some("more" | "less" | "so"))
        {
            self.take(2, SpanKind::Amount);
            self.of();
        }
    }

    /// `pinch of`, `a few sprigs of`, `handfuls of`.
    fn without_figure(&mut self, start: usize) {
        let article = self.word(0) == Some("a") && self.word(1).is_some_and(words::is_vague);
        let vague = article || self.word(0).is_some_and(words::is_vague);
        let skipped = usize::from(article) + usize::from(vague);
        let sizes = (skipped..skipped + 2)
            .take_while(|&n| self.word(n).is_some_and(words::is_size))
            .count();
        let Some(word) = self.word(skipped + sizes) else { return };
        let Some(unit) = words::unit(word) else {
            if vague {
                self.take(skipped, SpanKind::Amount);
                self.of();
            }
            return;
        };
        let plural = word.ends_with('s') && !matches!(unit, Unit::Gram);
        let opens = vague || self.word(skipped + sizes + 1) == Some("of");
        let bare = matches!(
            unit,
            Unit::Pinch
                | Unit::Dash
                | Unit::Splash
                | Unit::Drizzle
                | Unit::Knob
                | Unit::Handful
                | Unit::Dollop
        );
        if !(opens || bare) || self.at != start || word.len() < 3 {
            return;
        }
        self.take(skipped, SpanKind::Amount);
        self.take(sizes, SpanKind::Size);
        self.take(1, SpanKind::Unit);
        self.found.unit = Some(unit);
        if !vague && !plural {
            self.found.amount = Some(Amount::of(BigRational::from_integer(1.into()), unit));
        }
        self.of();
    }

    fn of(&mut self) {
        if self.word(0) == Some("of") {
            self.take(1, SpanKind::Between);
        }
    }

    /// A figure, or two with `-`, `to`, `or` or an en dash between them.
    fn range(&mut self) -> Option<(BigRational, BigRational)> {
        let low = self.figure()?;
        let dash = ['-', '–', '—'].iter().any(|mark| self.is_mark(0, *mark));
        let joins = dash || matches!(self.word(0), Some("to" | "or"));
        if joins {
            let before = self.at;
            let kept = self.marks.clone();
            self.take(1, SpanKind::Amount);
            if let Some(high) = self.figure() {
                return Some((low, high));
            }
            self.at = before;
            *self.marks = kept;
        }
        Some((low.clone(), low))
    }

    /// A number, or a number word that stands for one.
    fn figure(&mut self) -> Option<BigRational> {
        if let Some(TokenKind::Number(value)) = self.tokens.get(self.at).map(|t| &t.is) {
            let value = value.clone();
            self.take(1, SpanKind::Amount);
            return Some(value);
        }
        let word = self.word(0)?;
        if word == "a" && self.word(1).is_some_and(words::is_vague) {
            return None;
        }
        let (above, below) = words::number_word(word)?;
        if matches!(word, "half" | "quarter")
            && !matches!(self.word(1), Some("a" | "an" | "of" | "the"))
            && self.word(1).is_none_or(|next| words::unit(next).is_none())
        {
            return None;
        }
        let mut value = BigRational::new(above.into(), below.into());
        self.take(1, SpanKind::Amount);
        if below == 1 && matches!(self.word(0), Some("half" | "quarter" | "couple" | "dozen")) {
            return self.figure().or(Some(value));
        }
        if below > 1 && matches!(self.word(0), Some("a" | "an" | "of" | "the")) {
            self.take(1, SpanKind::Amount);
            if self.word(0) == Some("a") {
                self.take(1, SpanKind::Amount);
            }
        }
        if word_is_couple(&value) {
            self.of();
        }
        if self.word(0) == Some("dozen") && below > 1 {
            self.take(1, SpanKind::Unit);
            value *= BigRational::from_integer(12.into());
        }
        Some(value)
    }

    fn times(&mut self) -> bool {
        let times = self.word(0) == Some("x") || self.is_mark(0, '×');
        if times {
            self.take(1, SpanKind::Pack);
        }
        times
    }

    /// `400 g` in the place of a pack.
    fn pack(&mut self) -> Option<Amount> {
        let (low, high) = self.range()?;
        let unit = self.unit().unwrap_or(Unit::Each);
        Some(Amount::between(low, high, unit))
    }

    /// `(14 oz) can`, `14-ounce can`, behind a count.
    fn sized_container(&mut self) -> bool {
        let before = (self.at, self.marks.clone());
        let open = self.is_mark(0, '(');
        if open {
            self.take(1, SpanKind::Pack);
        }
        let pack = self.range().and_then(|(low, high)| {
            if self.is_mark(0, '-') {
                self.take(1, SpanKind::Pack);
            }
            let unit = self.unit().filter(|unit| is_measured(*unit))?;
            Some(Amount::between(low, high, unit))
        });
        if open && self.is_mark(0, ')') {
            self.take(1, SpanKind::Pack);
        }
        let container = pack.as_ref().and_then(|_| self.unit());
        let fits = pack.is_some() && (container.is_some() || open || self.word(0).is_some());
        if !fits || (open && container.is_none()) {
            (self.at, *self.marks) = before;
            return false;
        }
        self.found.packs.extend(pack);
        self.found.unit = Some(container.unwrap_or(Unit::Each));
        true
    }

    fn skip_sizes(&mut self) {
        while self.word(0).is_some_and(words::is_size)
            && self.word(1).is_some_and(|next| words::unit(next).is_some() || words::is_size(next))
        {
            self.take(1, SpanKind::Size);
        }
    }

    /// A unit word, `fl oz` among them; its dot goes with it.
    fn unit(&mut self) -> Option<Unit> {
        let word = self.word(0)?;
        if matches!(word, "fl" | "fluid") {
            let dots = usize::from(self.is_mark(1, '.'));
            let ounce =
                self.word(1 + dots).is_some_and(|next| words::unit(next) == Some(Unit::Ounce));
            if ounce {
                self.take(2 + dots, SpanKind::Unit);
                return Some(Unit::FluidOunce);
            }
        }
        if words::is_shape(word) && self.word(1) == Some("of") {
            self.take(1, SpanKind::Unit);
            return Some(Unit::Piece);
        }
        let unit = words::unit(word)?;
        // `cloves` at the end of the line are the spice; so is any unit with nothing behind it.
        let alone = self.tokens.len() == self.at + 1;
        if alone && !is_measured(unit) {
            return None;
        }
        self.take(1, SpanKind::Unit);
        if self.is_mark(0, '.') {
            self.take(1, SpanKind::Unit);
        }
        Some(unit)
    }

    /// `(250 g)` directly behind the amount.
    fn bracketed(&mut self) {
        if self.found.amount.is_none() || !self.is_mark(0, '(') {
            return;
        }
        let close = self.tokens[self.at..].iter().position(|t| t.is == TokenKind::Mark(')'));
        let Some(close) = close else { return };
        let inside = &self.tokens[self.at + 1..self.at + close];
        if let Some((amount, used)) = lone(inside)
            && used == inside.len()
        {
            self.found.equivalents.push(amount);
            self.take(close + 1, SpanKind::Equivalent);
        }
    }

    /// `/9 oz` and `/ 450 g`.
    fn another_way(&mut self) {
        if self.found.amount.is_none() || !self.is_mark(0, '/') {
            return;
        }
        if let Some((amount, used)) = lone(&self.tokens[self.at + 1..]) {
            self.found.equivalents.push(amount);
            self.take(used + 1, SpanKind::Equivalent);
        }
    }

    /// `plus 2 tbsp`, `and 2 tbsp`, `2 lb 6 oz`: the same use, in another unit.
    fn plus(&mut self) {
        let comma = usize::from(self.is_mark(0, ','));
        let said = self.word(comma) == Some("plus") || self.is_mark(comma, '+');
        let and = comma == 0 && matches!(self.word(0), Some("and" | "&"));
        let pounds = self.found.unit == Some(Unit::Pound);
        let Some(unit) = self.found.unit.filter(|_| said || and || pounds) else { return };
        let skip = if said || and { comma + 1 } else { comma };
        let Some((amount, used)) = lone(self.tokens.get(self.at + skip..).unwrap_or_default())
        else {
            return;
        };
        let fits = if said || and {
            said || amount.unit().kind() == unit.kind() && is_measured(unit)
        } else {
            amount.unit() == Unit::Ounce
        };
        // `plus 1 tbsp for the tin` is another use: it is read with the words that say so.
        let next = self.tokens.get(self.at + skip + used).map(|it| &it.is);
        let other_use =
            matches!(next, Some(TokenKind::Word(word)) if word == "for" || word == "to");
        if self.found.amount.is_none() || !fits || other_use {
            return;
        }
        self.found.plus.push(amount);
        self.take(used + skip, SpanKind::Plus);
        self.of();
        if comma > 0 && self.is_mark(0, ',') {
            self.take(1, SpanKind::Between);
        }
    }

    /// `2 lb 4 oz` as one figure, in the first unit.
    fn with_ounces(&mut self, pounds: Amount) -> Amount {
        let Some(TokenKind::Number(ounces)) = self.tokens.get(self.at).map(|it| &it.is) else {
            return pounds;
        };
        let says_ounces = self.word(1).and_then(words::unit) == Some(Unit::Ounce);
        if pounds.unit() != Unit::Pound || pounds.is_range() || !says_ounces {
            return pounds;
        }
        let sum = pounds.high() + ounces / BigRational::from_integer(16.into());
        self.take(2, SpanKind::Equivalent);
        Amount::of(sum, Unit::Pound)
    }
}

fn one() -> BigRational {
    BigRational::from_integer(1.into())
}

/// By weight or volume.
fn is_measured(unit: Unit) -> bool {
    matches!(unit.kind(), Kind::Mass | Kind::Volume)
}

fn word_is_couple(value: &BigRational) -> bool {
    *value == BigRational::from_integer(2.into())
}

//! Figures as a cook types them: `38F`, `3 cm`, `1 1/4 in`, `3 lb`, `25x33 cm`.

use super::celsius;
use super::nonsense::Nonsense;

/// `60C`, `140 F`, `-18 °C`.
pub fn temperature(text: &str) -> Result<f64, Nonsense> {
    let bad = || Nonsense::Temperature(text.trim().to_owned());
    let (figure, unit) = figure_and_unit(text).ok_or_else(bad)?;
    match unit.trim_start_matches('°').trim() {
        "c" => Ok(figure),
        "f" => Ok(celsius(figure)),
        _ => Err(bad()),
    }
}

/// In metres.
pub fn length(text: &str) -> Result<f64, Nonsense> {
    let bad = || Nonsense::Length(text.trim().to_owned());
    let (figure, unit) = figure_and_unit(text).ok_or_else(bad)?;
    Ok(figure * metres(&unit).ok_or_else(bad)?)
}

/// `25x33 cm`: width and length in metres. One figure: a square one.
pub fn pan(text: &str) -> Result<(f64, f64), Nonsense> {
    let bad = || Nonsense::Length(text.trim().to_owned());
    let lower = text.trim().to_lowercase().replace('×', "x");
    let Some((first, second)) = lower.split_once('x') else {
        return length(text).map(|it| (it, it));
    };
    let (long, unit) = figure_and_unit(second).ok_or_else(bad)?;
    let metres = metres(&unit).ok_or_else(bad)?;
    // `10 in x 13 in` is as good as `10x13 in`.
    let (wide, _) = figure_and_unit(first).ok_or_else(bad)?;
    Ok((wide * metres, long * metres))
}

/// The first length in a sentence that may be the depth of a layer, as it stands there: `1.5 cm`.
#[must_use]
pub fn depth_in(sentence: &str) -> Option<String> {
    let words: Vec<&str> = sentence
        .split_whitespace()
        .map(|it| it.trim_matches(|c: char| ",;:.()".contains(c)))
        .collect();
    let pairs = words.windows(2).map(|two| format!("{} {}", two[0], two[1]));
    let all = words.iter().map(|it| (*it).to_owned()).chain(pairs);
    all.into_iter().find(|it| length(it).is_ok_and(|metres| (0.003..=0.15).contains(&metres)))
}

/// In kilograms.
pub fn weight(text: &str) -> Result<f64, Nonsense> {
    let bad = || Nonsense::Mass(text.trim().to_owned());
    let (figure, unit) = figure_and_unit(text).ok_or_else(bad)?;
    match unit.as_str() {
        "kg" => Ok(figure),
        "g" => Ok(figure / 1000.0),
        "lb" | "lbs" => Ok(figure * 0.453_592_37),
        "oz" => Ok(figure * 0.028_349_523_125),
        _ => Err(bad()),
    }
}

/// `90`, `90 min`, `1 1/2 h`: in minutes.
pub fn minutes(text: &str) -> Result<f64, Nonsense> {
    let bad = || Nonsense::Minutes(text.trim().to_owned());
    let (figure, unit) = figure_and_unit(text).ok_or_else(bad)?;
    let minutes = match unit.as_str() {
        "" | "min" | "minutes" => figure,
        "h" | "hours" => figure * 60.0,
        _ => return Err(bad()),
    };
    if (5.0..=720.0).contains(&minutes) { Ok(minutes) } else { Err(bad()) }
}

fn metres(unit: &str) -> Option<f64> {
    match unit {
        "mm" => Some(0.001),
        "cm" => Some(0.01),
        "m" => Some(1.0),
        "in" | "\"" | "inch" | "inches" => Some(0.0254),
        _ => None,
    }
}

/// A figure, perhaps with a fraction or a decimal comma, and what follows it in small letters.
fn figure_and_unit(text: &str) -> Option<(f64, String)> {
    let text = text.trim().to_lowercase().replace('\u{2212}', "-");
    let end = text
        .char_indices()
        .find(|(_, letter)| !(letter.is_ascii_digit() || " .,/-".contains(*letter)))
        .map_or(text.len(), |(at, _)| at);
    let (figures, unit) = text.split_at(end);
    let (sign, figures) = match figures.trim().strip_prefix('-') {
        Some(rest) => (-1.0, rest),
        None => (1.0, figures),
    };
    // `1-1/4` is one and a quarter; any other bar inside a figure is no figure.
    let figures = match figures.split_once('-') {
        Some((whole, part)) if part.contains('/') => format!("{whole} {part}"),
        Some(_) => return None,
        None => figures.to_owned(),
    };
    let mut sum = 0.0;
    let mut words = 0;
    for word in figures.split_whitespace() {
        sum += match word.split_once('/') {
            Some((over, under)) => {
                let under: f64 = under.parse().ok()?;
                let part = over.parse::<f64>().ok()? / under;
                part.is_finite().then_some(part)?
            }
            None => word.replace(',', ".").parse().ok()?,
        };
        words += 1;
    }
    (words > 0 && words < 3 && f64::is_finite(sum)).then(|| (sign * sum, unit.trim().to_owned()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64) -> bool {
        (a - b).abs() < 1e-9
    }

    #[test]
    fn figures_are_read_as_typed() {
        assert!(near(temperature("140F").unwrap(), 60.0));
        assert!(near(temperature(" −18 °C").unwrap(), -18.0));
        assert!(near(length("1 1/4 in").unwrap(), 0.03175));
        assert!(near(length("1-1/4 in").unwrap(), 0.03175));
        assert!(near(length("1,5cm").unwrap(), 0.015));
        assert!(near(pan("25x33 cm").unwrap().1, 0.33));
        assert!(near(pan("10 in x 13 in").unwrap().0, 0.254));
        assert!(near(weight("3 lb").unwrap(), 1.360_777_11));
        assert!(near(minutes("1 1/2 h").unwrap(), 90.0));
    }

    #[test]
    fn a_depth_is_found_in_a_sentence() {
        let found = |text| depth_in(text);
        assert_eq!(
            found("Spread in two wide dishes, at most 1.5 cm deep."),
            Some("1.5 cm".to_owned())
        );
        assert_eq!(found("Spread 15mm thin on trays"), Some("15mm".to_owned()));
        assert_eq!(found("Cool 2 l in a pan for 20 min"), None);
    }

    #[test]
    fn what_is_no_figure_is_said() {
        for text in ["", "warm", "60", "60 K", "1/0 C", "C", "1 2 3 C", "--4C"] {
            assert!(temperature(text).is_err(), "{text}");
        }
        for text in ["", "thick", "3", "3 miles", "x", "3x cm"] {
            assert!(length(text).is_err() && pan(text).is_err(), "{text}");
        }
        assert!(weight("3").is_err() && minutes("1 min").is_err());
    }
}

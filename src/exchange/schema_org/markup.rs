//! As much of HTML as stands around and inside a recipe.

/// What stands in every `script` of the kind for linked data.
pub fn scripts(page: &str) -> Vec<&str> {
    let folded = page.to_ascii_lowercase();
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(open) = folded[at..].find("<script").map(|it| at + it) {
        let Some(begin) = folded[open..].find('>').map(|it| open + it + 1) else { break };
        let end = folded[begin..].find("</script").map_or(page.len(), |it| begin + it);
        if folded[open..begin].contains("ld+json") {
            let body = page[begin..end].trim();
            let body = body.strip_prefix("<!--").unwrap_or(body);
            let body = body.strip_prefix("//<![CDATA[").unwrap_or(body);
            let body = body.strip_suffix("-->").unwrap_or(body);
            found.push(body.strip_suffix("//]]>").unwrap_or(body).trim());
        }
        at = end;
    }
    found
}

/// Text without tags, its entities read; the end of a paragraph or list item is a line end.
pub fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(['<', '&']) {
        out.push_str(&rest[..at]);
        rest = &rest[at..];
        let taken =
            if rest.starts_with('<') { tag(rest, &mut out) } else { entity(rest, &mut out) };
        rest = &rest[taken..];
    }
    out.push_str(rest);
    out
}

fn tag(rest: &str, out: &mut String) -> usize {
    let is_tag = rest[1..].starts_with(|c: char| c.is_ascii_alphabetic() || c == '/');
    let end = rest.find('>').filter(|_| is_tag);
    let Some(end) = end else {
        out.push('<');
        return 1;
    };
    let name = rest[1..end].to_ascii_lowercase();
    let breaks = ["br", "/p", "/li", "/div", "/h"].iter().any(|it| name.starts_with(it));
    if breaks {
        out.push('\n');
    }
    end + 1
}

const ENTITIES: [(&str, &str); 20] = [
    ("amp", "&"),
    ("lt", "<"),
    ("gt", ">"),
    ("quot", "\""),
    ("apos", "'"),
    ("nbsp", " "),
    ("deg", "°"),
    ("frac12", "½"),
    ("frac14", "¼"),
    ("frac34", "¾"),
    ("frac13", "⅓"),
    ("frac23", "⅔"),
    ("ndash", "–"),
    ("mdash", "—"),
    ("rsquo", "’"),
    ("lsquo", "‘"),
    ("ldquo", "“"),
    ("rdquo", "”"),
    ("eacute", "é"),
    ("times", "×"),
];

fn entity(rest: &str, out: &mut String) -> usize {
    let end = rest.find(';').filter(|end| *end <= 10);
    let read = end.and_then(|end| {
        let name = &rest[1..end];
        let number =
            name.strip_prefix('#').and_then(|number| match number.strip_prefix(['x', 'X']) {
                Some(hex) => u32::from_str_radix(hex, 16).ok(),
                None => number.parse().ok(),
            });
        let sign = number.and_then(char::from_u32).map(String::from);
        let named =
            || ENTITIES.iter().find(|(it, _)| *it == name).map(|(_, sign)| (*sign).to_owned());
        Some((sign.or_else(named)?, end + 1))
    });
    match read {
        Some((sign, length)) => {
            out.push_str(&sign);
            length
        }
        None => {
            out.push('&');
            1
        }
    }
}

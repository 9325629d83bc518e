//! The house rules that no compiler lint can state. `cargo test` is the only gate.
//!
//! Each rule prints the file, the line and what to do instead.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// Who may import whom. A room that is not listed here fails the test.
const ROOMS: &[(&str, &[&str])] = &[
    ("domain", &["domain"]),
    ("exchange", &["exchange", "domain"]),
    ("planner", &["planner", "domain"]),
    ("drawing", &["drawing", "domain"]),
    ("print", &["print", "drawing", "domain"]),
    ("storage", &["storage", "exchange", "domain"]),
    (
        "web",
        &["web", "storage", "print", "drawing", "planner", "exchange", "domain", "config", "clock"],
    ),
    (
        "cli",
        &[
            "cli", "web", "storage", "print", "drawing", "planner", "exchange", "domain", "config",
            "clock",
        ],
    ),
    ("config", &["config"]),
    ("clock", &["clock"]),
];

/// Words that belong to some rooms, and the reason, said to whoever broke it.
const RESERVED: &[(&[&str], &[&str], &str)] = &[
    (&["sqlx"], &["storage"], "SQL lives in src/storage; add a method to Storage"),
    (&["axum", "hyper", "tower_http"], &["web"], "HTTP lives in src/web"),
    (&["askama"], &["web", "print"], "templates are rendered in src/web and src/print"),
    (&["clap"], &["cli"], "the command line lives in src/cli"),
    (&["tokio", "async"], &["storage", "web", "cli"], "the rules and drawings are plain functions"),
    (
        &["tracing"],
        &["storage", "web", "cli"],
        "return what happened; the caller decides to log it",
    ),
    (
        &["serde", "serde_json", "Deserialize"],
        &["exchange", "web"],
        "domain types have no notation; give the document its own struct in src/exchange",
    ),
    (&["Serialize"], &["exchange"], "what leaves memory is written in src/exchange"),
    (
        &["::now(", "now_v7", "new_v4", "getrandom", "Instant", "SystemTime"],
        &["clock"],
        "time and chance are arguments; only src/clock.rs reads them",
    ),
    (&["env::var", "env::vars"], &["config"], "settings are given by cli and checked in config"),
];

/// Rooms and files that count exactly: no floating point.
const EXACT: &[&str] = &["src/domain/quantity", "src/domain/shopping", "src/domain/cost"];

/// The order inside `domain`, as DEVELOPERS.md gives it: a file may use those to its left.
const DOMAIN_ORDER: &str = "text check_word difference moment quantity remark heat search_small spoken warmth pan < trace < \
     school larder kitchen < account reading < card < dish offer < paste told < limit < caution < log < menu < choice < \
     shopping < allergen keeps class publication layout event < cost table home < schedule < progress logbook < handout";

/// The foreign code that the domain may know.
const DOMAIN_CRATES: &[&str] = &[
    "std",
    "thiserror",
    "num_bigint",
    "num_rational",
    "num_traits",
    "jiff",
    "unicode_normalization",
    "uuid",
];

const LINES_MAX: usize = 500;
const FUNCTION_LINES_MAX: usize = 60;

#[test]
fn rooms_only_use_what_the_table_allows() {
    let mut broken = Vec::new();
    for source in sources() {
        let Some(room) = source.room() else { continue };
        let Some((_, allowed)) = ROOMS.iter().find(|(name, _)| *name == room) else {
            broken.push(source.at(1, "the room is not in ROOMS"));
            continue;
        };
        for (number, line) in source.code_lines() {
            for used in imported_rooms(line) {
                if !allowed.contains(&used.as_str()) {
                    broken.push(source.at(number, &format!("{room} may not use {used}")));
                }
            }
            for hiding in ["crate::{", "super::super"] {
                if line.contains(hiding) {
                    broken.push(
                        source.at(
                            number,
                            &format!("`{hiding}` hides the room; write crate::room::..."),
                        ),
                    );
                }
            }
            for (words, homes, advice) in RESERVED {
                for word in words.iter().filter(|word| mentions(line, word)) {
                    if !homes.contains(&room.as_str()) {
                        broken.push(source.at(number, &format!("`{word}` here: {advice}")));
                    }
                }
            }
        }
    }
    assert_none(&broken);
}

#[test]
fn inside_the_domain_a_file_only_uses_those_before_it() {
    let ranks: Vec<Vec<&str>> =
        DOMAIN_ORDER.split('<').map(|rank| rank.split_whitespace().collect()).collect();
    let rank = |name: &str| ranks.iter().position(|names| names.contains(&name));
    let mut broken = Vec::new();
    for source in sources() {
        let Some(own) = source.domain_file() else { continue };
        let Some(own_rank) = rank(&own) else {
            broken.push(source.at(1, &format!("give `{own}` a place in DOMAIN_ORDER")));
            continue;
        };
        for (number, line) in source.code_lines() {
            for used in ["crate::domain::", "use super::"].iter().flat_map(|it| after(line, it)) {
                let later = rank(&used).is_some_and(|it| it > own_rank);
                let beside = rank(&used) == Some(own_rank) && used != own;
                if later || beside {
                    broken.push(source.at(number, &format!("{own} comes before {used}")));
                }
            }
        }
    }
    assert_none(&broken);
}

#[test]
fn the_domain_knows_few_crates() {
    let mut broken = Vec::new();
    for source in sources().iter().filter(|source| source.domain_file().is_some()) {
        for (number, line) in source.code_lines() {
            let Some(path) = line.trim_start().strip_prefix("use ") else { continue };
            let root = path.split([':', ';']).next().unwrap_or_default();
            if !["crate", "super", "self"].contains(&root) && !DOMAIN_CRATES.contains(&root) {
                broken.push(source.at(number, &format!("the domain may not know `{root}`")));
            }
        }
    }
    assert_none(&broken);
}

#[test]
fn every_file_opens_with_what_it_is_for() {
    let broken: Vec<_> = sources()
        .iter()
        .filter(|source| !source.text.starts_with("//! "))
        .map(|source| source.at(1, "start with one sentence: //! What this file is for."))
        .collect();
    assert_none(&broken);
}

#[test]
fn files_and_functions_fit_in_the_head() {
    let mut broken = Vec::new();
    for source in sources() {
        let lines = source.code_lines().count();
        if lines > LINES_MAX {
            broken.push(source.at(1, &format!("{lines} lines of code; split the file")));
        }
        let mut open: Option<(usize, usize)> = None;
        for (number, line) in source.code_lines() {
            let indent = line.len() - line.trim_start().len();
            if open.is_none() && is_function_start(line) {
                open = Some((number, indent));
            }
            if let Some((start, depth)) = open
                && line.trim_end() == format!("{}}}", " ".repeat(depth))
            {
                let length = number - start + 1;
                if length > FUNCTION_LINES_MAX {
                    broken.push(source.at(start, &format!("function of {length} lines")));
                }
                open = None;
            }
        }
    }
    assert_none(&broken);
}

#[test]
fn amounts_are_never_floating_point() {
    let mut broken = Vec::new();
    for source in sources() {
        if !EXACT.iter().any(|folder| source.path.starts_with(root().join(folder))) {
            continue;
        }
        for (number, line) in source.code_lines() {
            if mentions(line, "f64") || mentions(line, "f32") {
                broken.push(source.at(number, "amounts are exact; use BigRational"));
            }
        }
    }
    assert_none(&broken);
}

#[test]
fn every_template_is_used_and_none_carries_style_or_script() {
    let mut used = BTreeSet::new();
    for source in sources() {
        used.extend(quoted_after(&source.text, "path = \""));
    }
    let templates = files(&root().join("templates"), "html");
    for template in &templates {
        let text = fs::read_to_string(template).unwrap();
        for opening in ["extends \"", "import \"", "include \""] {
            used.extend(quoted_after(&text, opening));
        }
    }
    let mut broken = Vec::new();
    for template in &templates {
        let name = template.strip_prefix(root().join("templates")).unwrap();
        let name = name.to_str().unwrap().to_owned();
        if !used.contains(&name) {
            broken.push(format!("templates/{name}: no view model renders it; delete it"));
        }
        for (index, line) in fs::read_to_string(template).unwrap().lines().enumerate() {
            for banned in [" style=\"", "<style", "<script>", " onclick="] {
                if line.contains(banned) {
                    broken.push(format!("templates/{name}:{}: `{banned}`; use static/", index + 1));
                }
            }
            if mentions(line, "safe") {
                let advice = "say what the limit is and whose; escape what you print";
                broken.push(format!("templates/{name}:{}: `safe`; {advice}", index + 1));
            }
        }
    }
    assert_none(&broken);
}

#[test]
fn the_map_for_developers_names_every_room() {
    let map = fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let rooms: BTreeSet<_> = sources().iter().filter_map(Source::room).collect();
    let missing: Vec<_> = rooms
        .into_iter()
        .filter(|room| !map.contains(&format!("| `{room}` |")))
        .map(|room| format!("DEVELOPERS.md: say what `{room}` is for"))
        .collect();
    assert_none(&missing);
}

struct Source {
    path: PathBuf,
    text: String,
}

impl Source {
    /// The first folder (or file) under `src`; none for `lib.rs` and `main.rs`.
    fn room(&self) -> Option<String> {
        let inside = self.path.strip_prefix(root().join("src")).unwrap();
        let first = inside.components().next()?.as_os_str().to_str()?;
        let name = first.trim_end_matches(".rs").to_owned();
        (!["lib", "main"].contains(&name.as_str())).then_some(name)
    }

    /// The file or folder under `src/domain` that this belongs to.
    fn domain_file(&self) -> Option<String> {
        let inside = self.path.strip_prefix(root().join("src/domain")).ok()?;
        let name = inside.components().next()?.as_os_str().to_str()?.trim_end_matches(".rs");
        (name != "mod").then(|| name.to_owned())
    }

    /// Numbered lines without comments, up to the unit tests at the end of the file.
    fn code_lines(&self) -> impl Iterator<Item = (usize, &str)> {
        self.text
            .lines()
            .enumerate()
            .map(|(index, line)| (index + 1, line))
            .take_while(|(_, line)| line.trim() != "#[cfg(test)]")
            .filter(|(_, line)| !line.trim_start().starts_with("//"))
    }

    fn at(&self, line: usize, message: &str) -> String {
        format!("{}:{line}: {message}", self.path.strip_prefix(root()).unwrap().display())
    }
}

fn sources() -> Vec<Source> {
    files(&root().join("src"), "rs")
        .into_iter()
        .map(|path| Source { text: fs::read_to_string(&path).unwrap(), path })
        .collect()
}

fn files(folder: &Path, extension: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(files(&path, extension));
        } else if path.extension().is_some_and(|it| it == extension) {
            found.push(path);
        }
    }
    found.sort();
    found
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// The rooms that a line names as `crate::room`.
fn imported_rooms(line: &str) -> Vec<String> {
    let mut names = after(line, "crate::");
    names.retain(|name| ROOMS.iter().any(|(room, _)| room == name));
    names
}

/// The names that stand directly after `opening`.
fn after(line: &str, opening: &str) -> Vec<String> {
    line.split(opening)
        .skip(1)
        .map(|rest| rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect())
        .collect()
}

fn mentions(line: &str, word: &str) -> bool {
    line.match_indices(word).any(|(at, _)| {
        let before = line[..at].chars().next_back();
        let after = line[at + word.len()..].chars().next();
        let is_word = |c: char| c.is_alphanumeric() || c == '_';
        let joins = |edge: Option<char>, next: Option<char>| {
            edge.is_some_and(is_word) && next.is_some_and(is_word)
        };
        !joins(word.chars().next(), before) && !joins(word.chars().next_back(), after)
    })
}

fn is_function_start(line: &str) -> bool {
    let line = line.trim_start();
    [
        "fn ",
        "pub fn ",
        "async fn ",
        "pub async fn ",
        "pub(crate) fn ",
        "pub(super) fn ",
        "pub(crate) async fn ",
        "pub(super) async fn ",
        "pub const fn ",
        "const fn ",
    ]
    .iter()
    .any(|start| line.starts_with(start))
        && !line.ends_with(';')
        && !line.ends_with('}')
}

fn quoted_after(text: &str, opening: &str) -> Vec<String> {
    text.split(opening)
        .skip(1)
        .filter_map(|rest| Some(rest.split('"').next()?.to_owned()))
        .collect()
}

#[track_caller]
fn assert_none(broken: &[String]) {
    assert!(broken.is_empty(), "\n{}\n", broken.join("\n"));
}

//! Every address a person can open, looked at: narrow, wide, light and dark.
//!
//! The walk begins at the front door and follows the links of each page it reads. What it has to
//! reach is the table of addresses itself, so a page that no link leads to is found as well.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use browser::{Browser, House, project};
use dovetray::web::routes;
use thirtyfour::prelude::*;

/// The base stands before the dishes that need it.
const CARDS: [&str; 7] = [
    "a-green-sauce",
    "a-chilled-pea-and-lettuce-soup",
    "a-lemon-and-fennel-chicken-thighs",
    "a-courgette-and-tomato-bake",
    "a-roast-new-potatoes-and-carrots",
    "a-chickpea-flat-loaf",
    "a-two-colour-fruit-ice-loaf",
];

/// Addresses that are no page: files, health, and the front door that only leads on.
const NO_PAGES: [&str; 7] = [
    "/",
    "/static/{sum}/{*name}",
    "/healthz",
    "/readyz",
    "/classes/{id}/shopping.csv",
    "/join/{link}",
    "/new-password/{link}",
];

/// A school with dishes, a published menu, a class and a home; where its students begin.
async fn furnish(browser: &Browser) -> WebDriverResult<Vec<String>> {
    let mut dishes = Vec::new();
    for card in CARDS {
        let text =
            std::fs::read_to_string(project().join(format!("src/cli/demo/cards/{card}.txt")));
        let text = text.expect("a card");
        let to = browser.send("/dishes/new", &[("card", &text), ("do", "save")]).await?;
        dishes.push(to.rsplit('/').next().unwrap_or_default().to_owned());
    }
    browser.send(&format!("/dishes/{}/publish", dishes[0]), &[]).await?;
    let serve = ("serve", "2027-06-26T13:00");
    let mut new = vec![("name", "Midsummer lunch"), serve, ("guests", "9")];
    new.extend(dishes[1..].iter().map(|id| ("dish", id.as_str())));
    let menu = browser.send("/menus/new", &new).await?;
    browser.send(&format!("{menu}/publish"), &[]).await?;
    browser
        .send(&format!("{menu}/class"), &[serve, ("from", ""), ("to", ""), ("seats", "8")])
        .await?;
    browser.page.goto(format!("{menu}/links")).await?;
    let link = browser.page.query(By::Css(".private-link")).first().await?;
    let door = link.attr("href").await?.unwrap_or_default();
    let home = browser.send(&door, &[serve, ("guests", "4")]).await?;
    // What changes after somebody joined has a page of its own.
    browser.page.goto(format!("{}/dishes/{}/edit", origin_of(&menu), dishes[1])).await?;
    let version = browser.page.find(By::Css("input[name=version]")).await?;
    let version = version.attr("value").await?.unwrap_or_default();
    let soup =
        std::fs::read_to_string(project().join(format!("src/cli/demo/cards/{}.txt", CARDS[1])));
    let soup = soup.expect("a card").replace("boil 4 minutes", "boil 5 minutes");
    let edit = format!("/dishes/{}/edit", dishes[1]);
    browser.send(&edit, &[("card", &soup), ("version", &version), ("do", "save")]).await?;
    browser.send(&format!("{menu}/publish"), &[]).await?;
    // Only a dish that is cooled has a forecast, and the walk opens one page of a kind.
    let cooling = format!("{}/dishes/{}/cooling", origin_of(&home), dishes[1]);
    let roast = format!("{}/dishes/{}/roast?ask=1&across=5cm", origin_of(&home), dishes[2]);
    Ok(vec![door, home, cooling, roast])
}

/// The row of the table an address belongs to.
fn row_of(path: &str) -> Option<&'static str> {
    let parts: Vec<&str> = path.split('/').collect();
    let fits = |row: &str| {
        let row: Vec<&str> = row.split('/').collect();
        row.len() == parts.len()
            && row.iter().zip(&parts).all(|(row, part)| row.starts_with('{') || row == part)
    };
    // What is written out goes before a `{part}`.
    let rows = routes().filter(|route| route.method == "GET" && fits(route.path));
    rows.map(|route| route.path).min_by_key(|path| path.matches('{').count())
}

/// One of each kind of page, and every sheet of its own.
fn kind_of(path: &str) -> Option<String> {
    let row = row_of(path)?;
    let sheet = row.contains("/sheets/").then(|| path.rsplit('/').next()).flatten();
    let sheet = sheet.map(|it| if it.starts_with("recipe-") { "recipe" } else { it });
    Some(sheet.map_or_else(|| row.to_owned(), |sheet| row.replace("{name}", sheet)))
}

async fn links(browser: &Browser) -> WebDriverResult<Vec<String>> {
    let ask = "return [...document.querySelectorAll('a[href]')]
        .filter(it => it.origin === location.origin).map(it => it.pathname + it.search);";
    browser.page.execute(ask, vec![]).await?.convert()
}

/// What this page lacks of the look every page has.
const LACKS: &str = "const lacks = [], all = it => [...document.querySelectorAll(it)];
    if (document.body.classList.contains('paper')) return lacks;
    if (all('h1').length !== 1) lacks.push('one h1');
    if (all('main .row > .m').length === 0) lacks.push('a margin');
    if (all('.btn.main').length > 1) lacks.push('one filled button, has ' + all('.btn.main').length);
    if (all('main > .foot').length !== 1) lacks.push('a foot');
    const small = all('button, .btn, select, input:not([type=checkbox]):not([type=hidden])')
        .filter(it => it.offsetParent && it.getBoundingClientRect().height < 24);
    for (const it of small) lacks.push('a target of 24 px: ' + it.textContent.trim() + it.id);
    return lacks;";

const BADGED: [&str; 5] =
    ["/menus/{id}", "/classes/{id}/shopping", "/c/{token}", "/h/{key}/list", "/h/{key}/ahead"];

/// What is wrong with the page that is open now.
async fn look(browser: &Browser, kind: &str) -> WebDriverResult<Vec<String>> {
    let mut wrong = Vec::new();
    let name = kind.trim_start_matches('/').replace(['/', '{', '}', '?', '='], "-");
    for (width, colours) in [(1280, "light"), (390, "light"), (320, "light"), (320, "dark")] {
        browser.wish(colours).await?;
        browser.resize(width, 800).await?;
        if browser.overflows().await? {
            wrong.push(format!("{kind} at {width} scrolls sideways"));
        }
        if width == 320 {
            for fault in browser.faults().await? {
                wrong.push(format!("{kind}, {colours}: {fault}"));
            }
        } else if std::env::var_os("DOVETRAY_SHOTS").is_some() {
            let tall = "return document.documentElement.scrollHeight;";
            let tall: u32 = browser.page.execute(tall, vec![]).await?.convert()?;
            browser.resize(width, tall.clamp(800, 6000)).await?;
            browser.shot(&format!("walk-{name}-{width}")).await?;
        }
    }
    browser.wish("light").await?;
    let lacks: Vec<String> = browser.page.execute(LACKS, vec![]).await?.convert()?;
    wrong.extend(lacks.iter().map(|it| format!("{kind} lacks {it}")));
    let badges = browser.page.find_all(By::Css("main .dish")).await?.len();
    if BADGED.contains(&kind) && badges == 0 {
        wrong.push(format!("{kind} shows dishes without their badges"));
    }
    Ok(wrong)
}

fn origin_of(address: &str) -> &str {
    address.match_indices('/').nth(2).map_or(address, |(at, _)| &address[..at])
}

fn path_of(address: &str) -> String {
    address[origin_of(address).len()..].to_owned()
}

#[tokio::test(flavor = "multi_thread")]
async fn every_page_is_whole_on_every_screen() -> WebDriverResult<()> {
    let house = House::open();
    let browser = Browser::open(1280, 800).await?;
    browser.page.goto(house.address.as_str()).await?;
    browser.see("h1", "Sign in").await?;
    let mut wrong = look(&browser, "/enter").await?;
    browser.enter(&house).await?;
    let mut open: VecDeque<String> = VecDeque::from(["/dishes".to_owned()]);
    open.extend(furnish(&browser).await?.iter().map(|it| path_of(it)));
    let mut seen: BTreeMap<String, String> = BTreeMap::from([("/enter".to_owned(), String::new())]);
    let origin = house.address.trim_end_matches('/').to_owned();
    while let Some(address) = open.pop_front() {
        let path = address.split('?').next().unwrap_or_default();
        let Some(kind) = kind_of(path) else { continue };
        if seen.contains_key(&kind) || NO_PAGES.contains(&kind.as_str()) {
            continue;
        }
        browser.page.goto(format!("{origin}{address}")).await?;
        seen.insert(kind.clone(), address);
        open.extend(links(&browser).await?);
        wrong.extend(look(&browser, &kind).await?);
    }
    browser.page.goto(format!("{origin}/no-such-page")).await?;
    wrong.extend(look(&browser, "404").await?);
    browser.close().await?;

    let reached: BTreeSet<&str> =
        seen.values().filter_map(|it| row_of(it.split('?').next()?)).collect();
    for route in routes().filter(|route| route.method == "GET") {
        let is_known = NO_PAGES.contains(&route.path)
            || ["/enter", "/set-up/{link}"].contains(&route.path)
            || reached.contains(route.path);
        if !is_known {
            wrong.push(format!("no link leads to {}", route.path));
        }
    }
    assert!(wrong.is_empty(), "{} faults\n{}", wrong.len(), wrong.join("\n"));
    Ok(())
}

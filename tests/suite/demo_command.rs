//! `demo` as a visitor meets it: three lines, both doors open, nothing left behind.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::process::{Child, Command, Stdio};

fn demo(arguments: &[&str], temporary: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_dovetray"));
    command.args(["demo", "--listen", "127.0.0.1:0"]).args(arguments);
    command.env_remove("DOVETRAY_DATA").env_remove("DOVETRAY_PUBLIC_URL");
    command.env("TMPDIR", temporary).stdout(Stdio::piped()).stderr(Stdio::piped());
    command
}

/// The three lines without their names.
fn told(server: &mut Child) -> [String; 3] {
    let mut lines = BufReader::new(server.stdout.as_mut().unwrap()).lines();
    ["address: ", "instructor: ", "student: "].map(|name| {
        let line = lines.next().unwrap().unwrap();
        line.strip_prefix(name).unwrap().to_owned()
    })
}

fn ask(address: &str, method: &str, path: &str, cookie: &str, form: &str) -> String {
    let mut socket = TcpStream::connect(address).unwrap();
    let head = format!(
        "{method} {path} HTTP/1.1\r\nhost: {address}\r\norigin: http://{address}\r\n\
         cookie: {cookie}\r\ncontent-type: application/x-www-form-urlencoded\r\n\
         content-length: {}\r\nconnection: close\r\n\r\n{form}",
        form.len()
    );
    socket.write_all(head.as_bytes()).unwrap();
    let mut answer = String::new();
    socket.read_to_string(&mut answer).unwrap();
    answer
}

/// Follows every link that leads neither to the long lists of foods and rules nor to files; each
/// page must be there. The answer is how many were.
fn click_through(host: &str, cookie: &str, start: &str) -> usize {
    let mut asked = vec![start.to_owned()];
    let mut next = 0;
    while let Some(path) = asked.get(next).cloned() {
        next += 1;
        let page = ask(host, "GET", &path, cookie, "");
        if page.starts_with("HTTP/1.1 303") {
            let leads_to = page.lines().find_map(|line| line.strip_prefix("location: ")).unwrap();
            let leads_to = leads_to.to_owned();
            if !asked.contains(&leads_to) {
                asked.push(leads_to);
            }
            continue;
        }
        assert!(page.starts_with("HTTP/1.1 200"), "{path}: {page}");
        for rest in page.split("href=\"").skip(1) {
            let link = rest.split(['"', '#']).next().unwrap().replace("&amp;", "&");
            // Another paper or size of the same sheet.
            let here = path.split('?').next().unwrap();
            let link = if link.starts_with('?') { format!("{here}{link}") } else { link };
            let is_ours = link.starts_with('/') && !asked.contains(&link);
            if is_ours && !["/static", "/larder/", "/limits/"].iter().any(|it| link.starts_with(it))
            {
                asked.push(link);
            }
        }
    }
    next
}

#[test]
fn a_visitor_comes_in_by_both_doors_and_nothing_is_left_behind() {
    let temporary = tempfile::tempdir().unwrap();
    let mut server = demo(&[], temporary.path()).spawn().unwrap();
    let [address, instructor, student] = told(&mut server);
    let host = address.strip_prefix("http://").unwrap().trim_end_matches('/');

    let home = student.strip_prefix(address.trim_end_matches('/')).unwrap();
    let page = ask(host, "GET", home, "", "");
    assert!(page.starts_with("HTTP/1.1 200"), "{page}");
    assert!(page.contains("Midsummer lunch"));

    let (login, password) = instructor.split_once(' ').unwrap();
    let form = format!("login={login}&password={password}");
    let entered = ask(host, "POST", "/enter", "", &form);
    assert!(entered.starts_with("HTTP/1.1 303"), "{entered}");
    let cookies: Vec<_> =
        entered.lines().filter_map(|line| line.strip_prefix("set-cookie: ")).collect();
    let cookie = cookies.iter().filter_map(|it| it.split(';').next()).collect::<Vec<_>>();
    let menus = ask(host, "GET", "/menus", &cookie.join("; "), "");
    assert!(menus.contains("Midsummer lunch"), "{menus}");
    assert!(!menus.contains("Winter supper"), "the other school's menu is not shown");

    let cookie = cookie.join("; ");
    for (door, start, least) in [("", home, 20), (cookie.as_str(), "/menus", 60)] {
        let asked = click_through(host, door, start);
        assert!(asked >= least, "only {asked} pages are reached from {start}");
    }

    let left = std::fs::read_dir(temporary.path()).unwrap().map(Result::unwrap);
    let modes: Vec<_> = left.map(|it| it.metadata().unwrap().permissions().mode()).collect();
    assert_eq!(modes.iter().map(|mode| mode & 0o777).collect::<Vec<_>>(), [0o700]);
    let stopped = Command::new("kill").args(["-TERM", &server.id().to_string()]).status().unwrap();
    assert!(stopped.success());
    assert!(server.wait().unwrap().success());
    assert_eq!(std::fs::read_dir(temporary.path()).unwrap().count(), 0);
}

#[test]
fn a_house_that_holds_a_school_is_left_alone() {
    let data = tempfile::tempdir().unwrap();
    let folder = data.path().display().to_string();
    let mut first = demo(&["--data", &folder], data.path()).spawn().unwrap();
    told(&mut first);
    Command::new("kill").args(["-TERM", &first.id().to_string()]).status().unwrap();
    assert!(first.wait().unwrap().success());
    let before = std::fs::read(data.path().join("dovetray.db")).unwrap();

    let second = demo(&["--data", &folder], data.path()).output().unwrap();
    assert_eq!(second.status.code(), Some(1));
    let said = String::from_utf8_lossy(&second.stderr).into_owned();
    assert!(said.contains("empty"), "{said}");
    assert_eq!(std::fs::read(data.path().join("dovetray.db")).unwrap(), before);
}

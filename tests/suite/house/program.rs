//! The built program as its keeper runs it, and one request to it over a socket of its own.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Output, Stdio};

/// A command on a house of its own.
pub fn dovetray(data: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_dovetray"));
    command.args(arguments).env("DOVETRAY_DATA", data).env_remove("DOVETRAY_PUBLIC_URL");
    command
}

/// What a command said where problems are said.
pub fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// Starts a server on a free port; the second value is the address it names.
pub fn serve(data: &Path) -> (Child, String) {
    let mut command = dovetray(data, &["serve", "--listen", "127.0.0.1:0"]);
    let mut server = command.stdout(Stdio::piped()).stderr(Stdio::null()).spawn().unwrap();
    let mut line = String::new();
    BufReader::new(server.stdout.as_mut().unwrap()).read_line(&mut line).unwrap();
    let address = line.trim().strip_prefix("Dovetray is at http://").unwrap();
    (server, address.trim_end_matches('/').to_owned())
}

/// The answer with its head; none when the server went away before it had answered.
pub fn ask(address: &str, method: &str, path: &str, cookie: &str, form: &str) -> Option<String> {
    let mut socket = TcpStream::connect(address).ok()?;
    let length = form.len();
    let head = format!(
        "{method} {path} HTTP/1.1\r\nhost: {address}\r\norigin: http://{address}\r\n\
         cookie: {cookie}\r\ncontent-type: application/x-www-form-urlencoded\r\n\
         content-length: {length}\r\nconnection: close\r\n\r\n{form}"
    );
    socket.write_all(head.as_bytes()).ok()?;
    let mut answer = String::new();
    socket.read_to_string(&mut answer).ok()?;
    (!answer.is_empty()).then_some(answer)
}

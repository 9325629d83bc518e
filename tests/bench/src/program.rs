//! The program as it is installed: how soon it answers.

use std::io::{Read, Write};
use std::net::{SocketAddr, TcpListener, TcpStream};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use crate::Failure;
use crate::goal::Goal::AtMost;
use crate::goal::line;

const STARTS: usize = 5;
const PATIENCE: Duration = Duration::from_secs(5);

/// Prints how soon it answers, or why that is not known.
pub fn print(folder: &Path) {
    println!("\nthe program as installed");
    match first_answer_millis(folder) {
        Ok(Some(millis)) => line("start to first answer, ms", millis, AtMost(150.0)),
        Ok(None) => println!("not built beside this one: not measured"),
        Err(error) => println!("its start was not measured: {error}"),
    }
}

/// Milliseconds from the start of the program on a house that exists to its first whole answer;
/// the median of a few starts. None when the program was not built beside this one.
#[expect(clippy::disallowed_methods, reason = "a benchmark is about time")]
fn first_answer_millis(folder: &Path) -> Result<Option<f64>, Failure> {
    let program = std::env::current_exe()?.with_file_name("dovetray");
    if !program.exists() {
        return Ok(None);
    }
    let mut taken = Vec::new();
    for _ in 0..STARTS {
        let address = TcpListener::bind("127.0.0.1:0")?.local_addr()?;
        let begun = Instant::now();
        let mut child = Command::new(&program)
            .args(["serve", "--listen", &address.to_string(), "--data"])
            .arg(folder)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()?;
        let answered = wait_for_answer(address, begun);
        let millis = begun.elapsed().as_secs_f64() * 1e3;
        end(&mut child)?;
        answered?;
        taken.push(millis);
    }
    taken.sort_by(f64::total_cmp);
    Ok(taken.get(STARTS / 2).copied())
}

fn wait_for_answer(address: SocketAddr, begun: Instant) -> Result<(), Failure> {
    while begun.elapsed() < PATIENCE {
        if let Ok(mut socket) = TcpStream::connect(address) {
            let request =
                format!("GET /enter HTTP/1.1\r\nhost: {address}\r\nconnection: close\r\n\r\n");
            socket.write_all(request.as_bytes())?;
            let mut answer = String::new();
            socket.read_to_string(&mut answer)?;
            if answer.starts_with("HTTP/1.1 200") {
                return Ok(());
            }
            return Err(answer.into());
        }
        std::thread::sleep(Duration::from_micros(500));
    }
    Err("no answer within the time a person waits".into())
}

fn end(child: &mut Child) -> std::io::Result<()> {
    child.kill()?;
    child.wait().map(drop)
}

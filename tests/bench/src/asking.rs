//! The asking side: kept connections on one thread, and what the other process spent meanwhile.

use std::io;
use std::net::SocketAddr;
use std::time::{Duration, Instant};

use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::TcpStream;
use tokio::task::JoinSet;

/// Linux counts the time of a process in hundredths of a second.
const TICK_MICROS: f64 = 10_000.0;

const PATIENCE: Duration = Duration::from_secs(5);

/// One kind of request.
pub struct Case {
    pub name: &'static str,
    pub address: SocketAddr,
    pub request: String,
    pub status: &'static str,
    pub connections: usize,
}

/// What a round of asking came to.
#[derive(Clone, Copy, Debug, Default)]
pub struct Round {
    pub asks_a_second: f64,
    pub server_micros: f64,
    pub body_bytes: usize,
}

/// Asks for as long as `lasting`; every answer must have the status of the case.
#[expect(clippy::disallowed_methods, reason = "a benchmark is about time")]
pub async fn round(case: &Case, server: u32, lasting: Duration) -> io::Result<Round> {
    let before = processor_micros(server)?;
    let begun = Instant::now();
    let mut asking = JoinSet::new();
    for _ in 0..case.connections {
        let mut socket = TcpStream::connect(case.address).await?;
        socket.set_nodelay(true)?;
        let (request, status) = (case.request.clone(), case.status);
        asking.spawn(async move {
            let (mut answers, mut bytes, mut answer) = (0_u32, 0, Vec::with_capacity(64 * 1024));
            let start = format!("HTTP/1.1 {status} ");
            while begun.elapsed() < lasting {
                socket.write_all(request.as_bytes()).await?;
                // An answer like the one before is not taken apart again, so that asking costs
                // the same for every case.
                let whole = answer.len();
                answer.clear();
                while answer.len() < whole && socket.read_buf(&mut answer).await? > 0 {}
                if answer.is_empty() || answer.len() != whole {
                    bytes = read_answer(&mut socket, &mut answer, status).await?;
                } else if !answer.starts_with(start.as_bytes()) {
                    return Err(wrong(&String::from_utf8_lossy(&answer)));
                }
                answers += 1;
            }
            io::Result::Ok((answers, bytes))
        });
    }
    let (mut answers, mut body_bytes) = (0, 0);
    // A shorter answer than the one before would be waited for in vain.
    let all = tokio::time::timeout(lasting + PATIENCE, asking.join_all()).await;
    for each in all.map_err(|_| wrong("an answer did not end"))? {
        let (count, bytes) = each?;
        answers += count;
        body_bytes = bytes;
    }
    let answers = f64::from(answers);
    let asks_a_second = answers / begun.elapsed().as_secs_f64();
    let server_micros = (processor_micros(server)? - before) / answers;
    Ok(Round { asks_a_second, server_micros, body_bytes })
}

/// One answer's body.
pub async fn body(address: SocketAddr, path: &str) -> io::Result<String> {
    Ok(fetch(address, path).await?.1)
}

/// The tag that a page carries.
pub async fn tag(address: SocketAddr, path: &str) -> io::Result<String> {
    let (head, _) = fetch(address, path).await?;
    let tag = head.lines().find_map(|line| line.strip_prefix("etag: "));
    tag.map(str::to_owned).ok_or_else(|| wrong("no tag"))
}

async fn fetch(address: SocketAddr, path: &str) -> io::Result<(String, String)> {
    let mut socket = TcpStream::connect(address).await?;
    let request = format!("GET {path} HTTP/1.1\r\nhost: {address}\r\n\r\n");
    socket.write_all(request.as_bytes()).await?;
    let mut answer = Vec::new();
    let length = read_answer(&mut socket, &mut answer, "200").await?;
    let body = answer.split_off(answer.len() - length);
    let text = |bytes| String::from_utf8(bytes).map_err(|error| wrong(&error.to_string()));
    Ok((text(answer)?, text(body)?))
}

/// Reads the rest of an answer that may have begun; gives how long its body is.
async fn read_answer(
    socket: &mut TcpStream,
    answer: &mut Vec<u8>,
    status: &str,
) -> io::Result<usize> {
    loop {
        let Some(head) = answer.windows(4).position(|it| it == b"\r\n\r\n") else {
            more(socket, answer).await?;
            continue;
        };
        let text = std::str::from_utf8(&answer[..head]).map_err(|_| wrong("not a head"))?;
        if text.split(' ').nth(1) != Some(status) {
            return Err(wrong(text));
        }
        let length = text.lines().find_map(|line| line.strip_prefix("content-length: "));
        let length = match (length, status) {
            (Some(length), "200") => length.parse().map_err(|_| wrong(text))?,
            (None, "200") => return Err(wrong(text)),
            _ => 0,
        };
        while answer.len() < head + 4 + length {
            more(socket, answer).await?;
        }
        return Ok(length);
    }
}

async fn more(socket: &mut TcpStream, answer: &mut Vec<u8>) -> io::Result<()> {
    match socket.read_buf(answer).await? {
        0 => Err(wrong("the connection was closed")),
        _ => Ok(()),
    }
}

fn wrong(what: &str) -> io::Error {
    io::Error::new(io::ErrorKind::InvalidData, what.to_owned())
}

/// Time that a process spent on all cores, its own and the kernel's for it.
pub fn processor_micros(process: u32) -> io::Result<f64> {
    let stat = std::fs::read_to_string(format!("/proc/{process}/stat"))?;
    // After the name, which may hold anything, `utime` and `stime` are the 12th and 13th words.
    let words = stat.rsplit(')').next().unwrap_or_default().split_whitespace();
    let ticks: f64 = words.skip(11).take(2).filter_map(|it| it.parse::<f64>().ok()).sum();
    Ok(ticks * TICK_MICROS)
}

/// Resident memory in MiB.
pub fn resident_mib(process: u32) -> io::Result<f64> {
    let status = std::fs::read_to_string(format!("/proc/{process}/status"))?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:"));
    let kib = line.and_then(|it| it.trim().strip_suffix("kB")?.trim().parse::<f64>().ok());
    kib.map(|kib| kib / 1024.0).ok_or_else(|| wrong("no VmRSS"))
}

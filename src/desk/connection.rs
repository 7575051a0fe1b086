//! One connection of a browser: requests are read and answers written, one after the other (HTTP/1.1,
//! RFC 9112). Only requests without a body are understood: nothing can be changed here.

use std::io::{self, Read, Write};
use std::net::TcpStream;
use std::time::Duration;

/// The head of a request is never longer, bytes; a browser sends one or two thousand.
const LONGEST_HEAD: usize = 16 << 10;

/// More lines than this has no head of a browser's.
const MOST_LINES: usize = 64;

/// A connection on which nothing is said so long is closed: the browser opens another when it wants one.
const SILENCE: Duration = Duration::from_secs(30);

/// What is asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Asked {
    /// `GET` and the like.
    pub(super) method: String,
    /// Path and query.
    pub(super) target: String,
    /// The host that the browser believes it talks to.
    pub(super) host: Option<String>,
    /// Whether the connection ends with the answer.
    last: bool,
}

/// What is answered.
#[derive(Debug)]
pub(super) struct Answer {
    /// Status code and its words.
    pub(super) status: (u16, &'static str),
    /// Lines of the head besides those of the connection itself.
    pub(super) heads: Vec<(&'static str, &'static str)>,
    /// The content.
    pub(super) bytes: Vec<u8>,
}

/// What stands in the way of a request.
#[derive(Debug, PartialEq, Eq)]
enum Unread {
    /// The browser has gone, or says nothing.
    Gone,
    /// It is no request.
    Foreign,
}

/// Answers what is asked on `stream` until the browser has gone, is silent for long, or says what is no
/// request.
pub(super) fn converse(
    mut stream: TcpStream,
    answer: impl Fn(&Asked) -> Answer,
    refused: impl Fn() -> Answer,
) {
    let ready = stream
        .set_read_timeout(Some(SILENCE))
        .and_then(|()| stream.set_write_timeout(Some(SILENCE)))
        .and_then(|()| stream.set_nodelay(true));
    if ready.is_err() {
        return;
    }
    let mut heard = Vec::new();
    loop {
        let (given, head_only, last) = match request(&mut stream, &mut heard) {
            Ok(asked) => (answer(&asked), asked.method == "HEAD", asked.last),
            Err(Unread::Foreign) => (refused(), false, true),
            Err(Unread::Gone) => return,
        };
        // a browser that has gone away wants no answer
        if write(&mut stream, &given, head_only, last).is_err() || last {
            return;
        }
    }
}

/// The next request; what was heard beyond it stays in `heard`.
fn request(stream: &mut impl Read, heard: &mut Vec<u8>) -> Result<Asked, Unread> {
    let mut part = [0; 4 << 10];
    loop {
        if let Some((asked, length)) = asked(heard)? {
            heard.drain(..length);
            return Ok(asked);
        }
        if heard.len() > LONGEST_HEAD {
            return Err(Unread::Foreign);
        }
        match stream.read(&mut part) {
            Ok(0) => return Err(Unread::Gone),
            Ok(count) => heard.extend_from_slice(&part[..count]),
            Err(why) if why.kind() == io::ErrorKind::Interrupted => {}
            Err(_) => return Err(Unread::Gone),
        }
    }
}

/// The request at the beginning of `heard` and the length of its head; `None` if more is to come.
fn asked(heard: &[u8]) -> Result<Option<(Asked, usize)>, Unread> {
    let mut lines = [httparse::EMPTY_HEADER; MOST_LINES];
    let mut request = httparse::Request::new(&mut lines);
    let length = match request.parse(heard) {
        Ok(httparse::Status::Complete(length)) => length,
        Ok(httparse::Status::Partial) => return Ok(None),
        Err(_) => return Err(Unread::Foreign),
    };
    let value = |name: &str| {
        let named = |line: &&httparse::Header<'_>| line.name.eq_ignore_ascii_case(name);
        let line = request.headers.iter().find(named)?;
        std::str::from_utf8(line.value).ok().map(str::to_string)
    };
    let closes = value("Connection").is_some_and(|said| said.eq_ignore_ascii_case("close"));
    // a content is not read, and what comes after it is no request
    let content = value("Content-Length").is_some_and(|length| length.trim() != "0")
        || value("Transfer-Encoding").is_some();
    let (Some(method), Some(target)) = (request.method, request.path) else {
        return Err(Unread::Foreign);
    };
    let asked = Asked {
        method: method.to_string(),
        target: target.to_string(),
        host: value("Host"),
        last: closes || content || request.version != Some(1),
    };
    Ok(Some((asked, length)))
}

/// Writes an answer, without its content where only the head is asked for. It says no date: only the
/// command line reads the clock (RFC 9110, section 6.6.1, lets a server without one do so).
fn write(to: &mut impl Write, answer: &Answer, head_only: bool, last: bool) -> io::Result<()> {
    let (code, words) = answer.status;
    let mut text = format!("HTTP/1.1 {code} {words}\r\n");
    for (name, value) in &answer.heads {
        text.push_str(&format!("{name}: {value}\r\n"));
    }
    let length = answer.bytes.len();
    let then = if last { "close" } else { "keep-alive" };
    text.push_str(&format!(
        "Content-Length: {length}\r\nConnection: {then}\r\n\r\n"
    ));
    to.write_all(text.as_bytes())?;
    if !head_only {
        to.write_all(&answer.bytes)?;
    }
    to.flush()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Vec<Result<Asked, Unread>> {
        let (mut stream, mut heard) = (text.as_bytes(), Vec::new());
        let mut all = Vec::new();
        loop {
            let next = request(&mut stream, &mut heard);
            let ended = next.is_err();
            all.push(next);
            if ended {
                return all;
            }
        }
    }

    #[test]
    fn requests_are_read_one_after_the_other_as_rfc_9112_has_them() {
        // RFC 9112, section 3.2.1, the example of the origin form; and section 9.3, persistence
        let first = "GET /where?q=now HTTP/1.1\r\nHost: www.example.org\r\n\r\n";
        let second = "HEAD / HTTP/1.1\r\nhost:127.0.0.1:80\r\nConnection: close\r\n\r\n";
        let all = read(&format!("{first}{second}"));
        let [Ok(one), Ok(two), Err(Unread::Gone)] = &all[..] else {
            panic!("{all:?}");
        };
        assert_eq!((one.method.as_str(), one.last), ("GET", false));
        assert_eq!(one.target, "/where?q=now");
        assert_eq!(one.host.as_deref(), Some("www.example.org"));
        assert_eq!((two.method.as_str(), two.last), ("HEAD", true));
        assert_eq!(two.host.as_deref(), Some("127.0.0.1:80"));
        let old = read("GET / HTTP/1.0\r\n\r\n");
        assert!(matches!(&old[0], Ok(asked) if asked.last && asked.host.is_none()));
        let long = format!("GET / HTTP/1.1\r\nX: {}", "x".repeat(LONGEST_HEAD));
        for foreign in ["\u{16}\u{3}\u{1}", "GET /\r\n\r\n", long.as_str()] {
            assert_eq!(read(foreign), [Err(Unread::Foreign)]);
        }
        assert_eq!(read("GET / HT"), [Err(Unread::Gone)]);
    }

    #[test]
    fn an_answer_says_its_length_and_a_head_alone_has_no_content() {
        let answer = Answer {
            status: (200, "OK"),
            heads: vec![("Content-Type", "text/plain")],
            bytes: b"four".to_vec(),
        };
        let written = |head_only, last| {
            let mut all = Vec::new();
            write(&mut all, &answer, head_only, last).expect("written");
            String::from_utf8(all).expect("text")
        };
        let head = "HTTP/1.1 200 OK\r\nContent-Type: text/plain\r\nContent-Length: 4\r\n";
        let whole = format!("{head}Connection: keep-alive\r\n\r\nfour");
        assert_eq!(written(false, false), whole);
        assert_eq!(
            written(true, true),
            format!("{head}Connection: close\r\n\r\n")
        );
    }
}

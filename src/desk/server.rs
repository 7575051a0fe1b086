//! Answers browsers on this machine. Only requests that name this machine as their host are answered, so
//! that no page from elsewhere can read a design through a name that leads here; only what is listed is
//! given, whatever the path says; and nothing a browser asks changes a file.

use super::connection::{Answer, Asked, converse};
use super::files;
use super::job::Look;
use super::state::Desk;
use super::store::Kind;
use std::net::{TcpListener, TcpStream};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::Duration;

/// How long a request for the state waits for news: shorter than any browser's patience.
const WAIT: Duration = Duration::from_secs(20);

/// Connections that are open at a time: six for each of a few windows of a browser. One more is closed at
/// once, and the browser comes again.
const AT_ONCE: usize = 64;

/// How long no connection is accepted after one that could not be.
const BREATH: Duration = Duration::from_millis(20);

/// What the page may do: nothing but what it is served from here.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; \
    font-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/// What a page of a booklet may do: show its own pictures.
const DRAWING_POLICY: &str = "default-src 'none'; img-src data:; style-src 'unsafe-inline'";

/// Answers on `listener` until the program ends. Every connection has a thread of its own: one that waits
/// for news, or says nothing yet, keeps no other waiting.
///
/// # Errors
/// The system's reason why it cannot.
pub fn serve(desk: &Arc<Desk>, listener: TcpListener) -> Result<(), String> {
    let port = listener.local_addr().map_err(|why| why.to_string())?.port();
    let desk = desk.clone();
    let open = Arc::new(AtomicUsize::new(0));
    let answer_all = move || {
        for stream in listener.incoming() {
            let Ok(stream) = stream else {
                // it broke off before it began, or the system is short of something
                thread::sleep(BREATH);
                continue;
            };
            let place = Open::among(&open);
            if place.is_crowded() {
                continue;
            }
            let desk = desk.clone();
            let one = move || {
                talk(stream, &desk, port);
                drop(place);
            };
            // a thread that cannot be had closes the connection, and the browser comes again
            let _ = thread::Builder::new().name("answer".into()).spawn(one);
        }
    };
    let begun = thread::Builder::new().name("desk".into()).spawn(answer_all);
    begun.map(|_| ()).map_err(|why| why.to_string())
}

/// One of the connections that are open, as long as it is.
struct Open {
    all: Arc<AtomicUsize>,
    before: usize,
}

impl Open {
    fn among(all: &Arc<AtomicUsize>) -> Self {
        Self {
            before: all.fetch_add(1, Ordering::Relaxed),
            all: all.clone(),
        }
    }

    fn is_crowded(&self) -> bool {
        self.before >= AT_ONCE
    }
}

impl Drop for Open {
    fn drop(&mut self) {
        self.all.fetch_sub(1, Ordering::Relaxed);
    }
}

fn talk(stream: TcpStream, desk: &Desk, port: u16) {
    converse(
        stream,
        |asked| answer(asked, desk, port),
        || refusal((400, "Bad Request"), "This is no request."),
    );
}

fn answer(asked: &Asked, desk: &Desk, port: u16) -> Answer {
    if !asked.host.as_deref().is_some_and(|host| is_own(host, port)) {
        let words = "This is for a browser on the same machine.";
        return refusal((403, "Forbidden"), words);
    }
    if !["GET", "HEAD"].contains(&asked.method.as_str()) {
        return refusal((405, "Method Not Allowed"), "Nothing can be changed here.");
    }
    let url = asked.target.as_str();
    let (path, query) = url.split_once('?').unwrap_or((url, ""));
    let found = given(path, query, desk);
    found.unwrap_or_else(|| refusal((404, "Not Found"), "There is no such page."))
}

/// Whether a host is this machine, as a browser names it.
fn is_own(host: &str, port: u16) -> bool {
    ["127.0.0.1", "localhost", "[::1]"]
        .iter()
        .any(|name| host == format!("{name}:{port}"))
}

/// What is at `path`; paths are names in a list, and lead nowhere on the disk.
fn given(path: &str, query: &str, desk: &Desk) -> Option<Answer> {
    if path == "/desk.json" {
        let (look, after) = asked(query);
        let state = desk.state(&look, after, WAIT);
        return Some(with(state.into_bytes(), "application/json", POLICY, false));
    }
    if let Some(name) = path.strip_prefix("/kept/") {
        let (kind, bytes) = desk.content(name)?;
        let (kind, policy) = match kind {
            Kind::Svg => ("image/svg+xml", DRAWING_POLICY),
            Kind::Json => ("application/json", POLICY),
        };
        return Some(with(bytes.to_vec(), kind, policy, true));
    }
    let file = files::file(path)?;
    let lasting = path.starts_with("/faces/");
    Some(with(file.bytes.into_owned(), file.kind, POLICY, lasting))
}

/// What is looked at, and the version of the state that is known.
fn asked(query: &str) -> (Look, u64) {
    let mut look = Look::default();
    let mut after = 0;
    for pair in query.split('&') {
        let Some((key, value)) = pair.split_once('=') else {
            continue;
        };
        let text = Some(decoded(value)).filter(|text| !text.is_empty());
        match key {
            "design" => look.design = text,
            "paper" => look.paper = text,
            "language" => look.language = text,
            "after" => after = value.parse().unwrap_or(0),
            _ => {}
        }
    }
    (look, after)
}

/// A value of a query with its percent signs read (RFC 3986, section 2.1); what is no UTF-8 then is shown
/// as such.
fn decoded(value: &str) -> String {
    let mut bytes = Vec::with_capacity(value.len());
    let mut rest = value.as_bytes();
    while let Some((first, after)) = rest.split_first() {
        let figures = after.get(..2).and_then(|two| std::str::from_utf8(two).ok());
        let byte = figures.and_then(|two| u8::from_str_radix(two, 16).ok());
        match (first, byte) {
            (b'%', Some(byte)) => {
                bytes.push(byte);
                rest = &after[2..];
            }
            (b'+', _) => {
                bytes.push(b' ');
                rest = after;
            }
            _ => {
                bytes.push(*first);
                rest = after;
            }
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

fn with(bytes: Vec<u8>, kind: &'static str, policy: &'static str, lasting: bool) -> Answer {
    let keep = match lasting {
        true => "public, max-age=31536000, immutable",
        false => "no-store",
    };
    Answer {
        status: (200, "OK"),
        heads: vec![
            ("Content-Type", kind),
            ("Content-Security-Policy", policy),
            ("Cache-Control", keep),
            ("X-Content-Type-Options", "nosniff"),
            ("Referrer-Policy", "no-referrer"),
            ("Cross-Origin-Resource-Policy", "same-origin"),
        ],
        bytes,
    }
}

fn refusal(status: (u16, &'static str), words: &str) -> Answer {
    let text = format!("{words}\n").into_bytes();
    Answer {
        status,
        ..with(text, "text/plain; charset=utf-8", POLICY, false)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::{Read, Write};

    #[test]
    fn a_connection_that_says_nothing_keeps_no_other_waiting() {
        let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
        let address = listener.local_addr().expect("an address");
        serve(&Arc::new(Desk::new([])), listener).expect("it serves");
        let open = || TcpStream::connect(address).expect("connected");
        let mut all: Vec<TcpStream> = (0..24).map(|_| open()).collect();
        // as browsers do: opened at one moment, used in another order, and kept
        for stream in all.iter_mut().rev() {
            for _ in 0..2 {
                let patience = Some(Duration::from_secs(60));
                stream.set_read_timeout(patience).expect("set");
                write!(stream, "HEAD / HTTP/1.1\r\nHost: {address}\r\n\r\n").expect("asked");
                let mut head = Vec::new();
                while !head.ends_with(b"\r\n\r\n") {
                    let mut byte = [0];
                    stream.read_exact(&mut byte).expect("answered");
                    head.push(byte[0]);
                }
                assert!(head.starts_with(b"HTTP/1.1 200 "));
            }
        }
    }

    #[test]
    fn only_this_machine_at_this_port_is_the_host() {
        for own in ["127.0.0.1:4717", "localhost:4717", "[::1]:4717"] {
            assert!(is_own(own, 4717), "{own}");
        }
        for foreign in [
            "127.0.0.1",
            "localhost:80",
            "example.org:4717",
            "127.0.0.1:4717.example.org",
            "",
        ] {
            assert!(!is_own(foreign, 4717), "{foreign}");
        }
    }

    #[test]
    fn a_query_is_read_with_its_percent_signs() {
        let (look, after) = asked("design=hay%20bale&paper=13+in&after=7&language=&x");
        assert_eq!(look.design.as_deref(), Some("hay bale"));
        assert_eq!(look.paper.as_deref(), Some("13 in"));
        assert_eq!((look.language, after), (None, 7));
        // RFC 3986: a percent sign without two figures stands for nothing else
        assert_eq!(decoded("5%"), "5%");
        assert_eq!(decoded("%zz%C3%A4"), "%zzä");
    }

    #[test]
    fn paths_lead_nowhere_but_to_what_is_listed() {
        let desk = Desk::new([]);
        for path in [
            "/../Cargo.toml",
            "/kept/../desk.css",
            "/faces/../desk.css",
            "//desk.css",
            "/kept/",
            "/desk.css/",
            "/%2e%2e/Cargo.toml",
            "",
        ] {
            assert!(given(path, "", &desk).is_none(), "{path}");
        }
        assert!(given("/desk.css", "", &desk).is_some());
    }
}

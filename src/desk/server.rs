//! Answers browsers on this machine. Only requests that name this machine as their host are answered, so
//! that no page from elsewhere can read a design through a name that leads here; only what is listed is
//! given, whatever the path says; and nothing a browser asks changes a file.

use super::files;
use super::state::{Desk, Look};
use super::store::Kind;
use std::io::Cursor;
use std::net::TcpListener;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::Duration;
use tiny_http::{Header, Method, Request, Response, Server};

/// How long a request for the state waits for news: shorter than any browser's patience.
const WAIT: Duration = Duration::from_secs(20);

/// Requests that are answered at a time: six for each of a few windows of a browser.
const AT_ONCE: usize = 64;

/// What the page may do: nothing but what it is served from here.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; \
    font-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/// What a page of a booklet may do: show its own pictures.
const DRAWING_POLICY: &str = "default-src 'none'; img-src data:; style-src 'unsafe-inline'";

type Answer = Response<Cursor<Vec<u8>>>;

/// Answers on `listener` until the program ends, on threads of its own.
///
/// # Errors
/// The system's reason why it cannot.
pub fn serve(desk: &Arc<Desk>, listener: TcpListener) -> Result<(), String> {
    let port = listener.local_addr().map_err(|why| why.to_string())?.port();
    let server = Server::from_listener(listener, None).map_err(|why| why.to_string())?;
    let desk = desk.clone();
    let busy = Arc::new(AtomicUsize::new(0));
    let answer_all = move || {
        for request in server.incoming_requests() {
            if busy.fetch_add(1, Ordering::Relaxed) >= AT_ONCE {
                busy.fetch_sub(1, Ordering::Relaxed);
                respond(request, refusal(503, "Too much is asked at a time."));
                continue;
            }
            let (desk, busy) = (desk.clone(), busy.clone());
            let one = move || {
                let answer = answer(&request, &desk, port);
                respond(request, answer);
                busy.fetch_sub(1, Ordering::Relaxed);
            };
            // a thread that cannot be had leaves one request without an answer
            let _ = thread::Builder::new().name("answer".into()).spawn(one);
        }
    };
    let begun = thread::Builder::new().name("desk".into()).spawn(answer_all);
    begun.map(|_| ()).map_err(|why| why.to_string())
}

fn respond(request: Request, answer: Answer) {
    // a browser that has gone away wants no answer
    let _ = request.respond(answer);
}

fn answer(request: &Request, desk: &Desk, port: u16) -> Answer {
    let host = request
        .headers()
        .iter()
        .find(|header| header.field.equiv("Host"))
        .map(|header| header.value.as_str());
    if !host.is_some_and(|host| is_own(host, port)) {
        return refusal(403, "This is for a browser on the same machine.");
    }
    if !matches!(request.method(), Method::Get | Method::Head) {
        return refusal(405, "Nothing can be changed here.");
    }
    let url = request.url();
    let (path, query) = url.split_once('?').unwrap_or((url, ""));
    given(path, query, desk).unwrap_or_else(|| refusal(404, "There is no such page."))
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

fn with(bytes: Vec<u8>, kind: &str, policy: &str, lasting: bool) -> Answer {
    let keep = match lasting {
        true => "public, max-age=31536000, immutable",
        false => "no-store",
    };
    let heads = [
        ("Content-Type", kind),
        ("Content-Security-Policy", policy),
        ("Cache-Control", keep),
        ("X-Content-Type-Options", "nosniff"),
        ("Referrer-Policy", "no-referrer"),
        ("Cross-Origin-Resource-Policy", "same-origin"),
    ];
    let heads = heads
        .iter()
        .filter_map(|(name, value)| Header::from_bytes(*name, *value).ok());
    heads.fold(Response::from_data(bytes), Response::with_header)
}

fn refusal(code: u16, words: &str) -> Answer {
    let answer = with(
        format!("{words}\n").into_bytes(),
        "text/plain; charset=utf-8",
        POLICY,
        false,
    );
    answer.with_status_code(code)
}

#[cfg(test)]
mod tests {
    use super::*;

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

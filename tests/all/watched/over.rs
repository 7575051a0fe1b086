//! A `watch` over designs in a folder of their own, and the questions of a browser.

use serde_json::Value;
use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::thread;
use std::time::Duration;
use tempfile::{TempDir, tempdir};

/// So many answers in a row without any news are not waited for: each comes after 20 s.
const PATIENCE: usize = 15;

pub const DESIGN: &str = "title: Bale mat\nedition: 1.0.0\nabout: A mat for a doll.\npaper: [a4, letter]\n\
    by: A stall\ncontact: mat@example.org\nterms: Sew it.\nskill: first project\nage: for grown-ups\n\
    measures:\n  seam: 1/4 in\nsizes:\n  one: {title: One size}\ncloth:\n  \
    outer: {name: cotton, kind: woven, width: 44 in}\npieces:\n  mat:\n    \
    rectangle: {width: 120 mm, height: 90 mm, radius: 12 mm}\n    allowance: seam\n    \
    grain: lengthwise\n    cut: {outer: 2}\n";

const CHAPTER: &str = "---\ntitle: Making it\nkind: steps\n---\n\n## Sew round\n\nLay the two mats right \
    sides together and sew round, {{ measures.seam }} from the edge. Leave a gap to turn through.\n";

/// The design with these words on its cover.
pub fn about(words: &str) -> String {
    DESIGN.replace("A mat for a doll.", words)
}

/// Designs in a folder of their own, and a `watch` over them.
pub struct Watched {
    pub place: TempDir,
    child: Child,
    pub address: String,
    lines: Receiver<Value>,
    heard: Vec<Value>,
}

pub fn designs(names: &[&str]) -> TempDir {
    let place = tempdir().expect("a folder");
    for name in names {
        let root = place.path().join("designs").join(name);
        fs::create_dir_all(root.join("booklet")).expect("made");
        fs::write(root.join("design.yaml"), DESIGN).expect("written");
        fs::write(root.join("booklet/10-making.md"), CHAPTER).expect("written");
    }
    place
}

impl Watched {
    pub fn over(place: TempDir, more: &[&str]) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_pressfoot"))
            .current_dir(place.path())
            .env("SOURCE_DATE_EPOCH", "1790000000")
            .args(["watch", "--port", "0", "--format", "json"])
            .args(more)
            .stdout(Stdio::piped())
            .stderr(Stdio::inherit())
            .spawn()
            .expect("the program starts");
        let out = BufReader::new(child.stdout.take().expect("piped"));
        let (tell, lines) = channel();
        thread::spawn(move || {
            for line in out.lines().map_while(Result::ok) {
                let value = serde_json::from_str(&line).expect("a line is JSON");
                if tell.send(value).is_err() {
                    return;
                }
            }
        });
        let mut watched = Self {
            place,
            child,
            address: String::new(),
            lines,
            heard: Vec::new(),
        };
        let line = watched.hear("desk");
        let url = line["address"].as_str().expect("an address");
        let address = url.trim_start_matches("http://").trim_end_matches('/');
        watched.address = address.to_string();
        watched
    }

    /// The next line of this kind on standard output.
    pub fn hear(&mut self, kind: &str) -> Value {
        loop {
            let line = self.lines.recv_timeout(Duration::from_secs(600));
            let line = line.expect("the program says something");
            self.heard.push(line.clone());
            if line["kind"] == kind {
                return line;
            }
        }
    }

    pub fn heard(&self, kind: &str) -> usize {
        self.heard.iter().filter(|l| l["kind"] == kind).count()
    }

    pub fn design(&self, name: &str) -> PathBuf {
        self.place.path().join("designs").join(name)
    }

    pub fn get(&self, path: &str) -> (u16, Vec<u8>) {
        ask(&self.address, "GET", path, &self.address)
    }

    pub fn state(&self, design: &str, after: u64) -> Value {
        let (code, body) = self.get(&format!("/desk.json?design={design}&after={after}"));
        assert_eq!(code, 200);
        serde_json::from_slice(&body).expect("the state is JSON")
    }

    /// The state of a design, as soon as it is as wanted.
    pub fn until(&self, design: &str, wanted: impl Fn(&Value) -> bool) -> Value {
        let mut state = self.state(design, 0);
        let mut without_news = 0;
        while without_news < PATIENCE {
            if wanted(&state) {
                return state;
            }
            let version = state["version"].as_u64().expect("a number");
            state = self.state(design, version);
            match state["version"] == version {
                true => without_news += 1,
                false => without_news = 0,
            }
        }
        panic!("it never came: {state:#}");
    }

    /// Ends it as Ctrl-C does; its exit code.
    pub fn stop(mut self) -> (Option<i32>, TempDir) {
        let interrupt = Command::new("kill")
            .args(["-INT", &self.child.id().to_string()])
            .status();
        assert!(interrupt.expect("a signal is sent").success());
        let code = self.child.wait().expect("it ends").code();
        let place = std::mem::replace(&mut self.place, tempdir().expect("a folder"));
        (code, place)
    }
}

impl Drop for Watched {
    fn drop(&mut self) {
        // after a failed check; one that has ended is no fault
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

pub fn ask(address: &str, method: &str, path: &str, host: &str) -> (u16, Vec<u8>) {
    let mut stream = TcpStream::connect(address).expect("it answers");
    write!(stream, "{method} {path} HTTP/1.0\r\nHost: {host}\r\n\r\n").expect("asked");
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).expect("answered");
    let end = answer.windows(4).position(|four| four == b"\r\n\r\n");
    let (head, body) = answer.split_at(end.expect("a head") + 4);
    let head = String::from_utf8_lossy(head).into_owned();
    let code = head.split(' ').nth(1).and_then(|code| code.parse().ok());
    (code.expect("a code"), body.to_vec())
}

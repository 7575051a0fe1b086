//! `watch`: builds designs whenever they are saved, and shows their pages in the browser, until it is
//! stopped.

use super::args::{Selection, Watch};
use super::screen::Screen;
use super::unchanged::Origin;
use super::{Fault, build, chosen};
use crate::desk::{self, Desk, Said};
use crate::folder;
use crate::folder::watch::{Ear, Watchman};
use crate::pipeline::Options;
use serde_json::json;
use std::collections::BTreeMap;
use std::io;
use std::net::{Ipv4Addr, TcpListener};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;
use std::time::{Duration, Instant};

/// A design folder that is not there for so long was removed.
const AWAY: Duration = Duration::from_secs(5);

/// What the thread that prints and writes is told.
enum Word {
    /// Something of the work.
    Work(Said),
    /// These designs were saved.
    Saved(Vec<String>),
    /// The command is stopped.
    Over,
}

/// Watches until it is stopped. Always good then: what is wrong with a design was told.
pub(super) fn watch(wanted: &Watch, screen: &mut Screen) -> Result<bool, Fault> {
    let selection = &wanted.selection;
    let options = build::options(selection, false)?;
    let roots = build::distinct(chosen(&selection.designs, &selection.from)?)?;
    let listener = listener(wanted.port)?;
    let address = listener
        .local_addr()
        .map_err(|why| Fault(why.to_string()))?;
    let keyed = roots.iter().map(|root| (root.clone(), build::key(root)));
    let desk = Arc::new(Desk::new(keyed));
    let (tell, words) = channel();
    stop_by_hand(&desk, &tell)?;
    keep_watch(wanted, &roots, (&desk, &tell), screen)?;
    desk::serve(&desk, listener).map_err(Fault)?;
    let url = format!("http://{address}/");
    screen.answer(
        &format!("The pages are at {url} (end with Ctrl-C)"),
        &json!({"kind": "desk", "address": url}),
    );
    let written = start_work(&desk, options.clone(), selection, tell)?;
    print_and_write(&words, (selection, &options), &written, screen);
    // the one who works may be keeping a layout
    folder::write::close();
    Ok(true)
}

/// The port of this machine, to which no other has access.
fn listener(port: u16) -> Result<TcpListener, Fault> {
    TcpListener::bind((Ipv4Addr::LOCALHOST, port)).map_err(|why| {
        Fault(match why.kind() {
            io::ErrorKind::AddrInUse => format!(
                "port {port} is in use, perhaps by another ‘pressfoot watch’: end that one, or take \
                 another port with --port {}, or a free one with --port 0",
                port.checked_add(1).unwrap_or(4717)
            ),
            _ => format!("port {port} of this machine cannot be used ({why})"),
        })
    })
}

/// Ctrl-C, and being told to end, close the desk.
fn stop_by_hand(desk: &Arc<Desk>, tell: &Sender<Word>) -> Result<(), Fault> {
    let (desk, tell) = (desk.clone(), tell.clone());
    let stop = move || {
        desk.end();
        // the command may have ended meanwhile
        let _ = tell.send(Word::Over);
    };
    ctrlc::set_handler(stop).map_err(|why| Fault(why.to_string()))
}

/// Begins to watch over the folders, on a thread of its own.
fn keep_watch(
    wanted: &Watch,
    roots: &[PathBuf],
    (desk, tell): (&Arc<Desk>, &Sender<Word>),
    screen: &Screen,
) -> Result<(), Fault> {
    let selection = &wanted.selection;
    let ear = match wanted.poll {
        true => Ear::Looking,
        false => Ear::System,
    };
    let (mut watchman, deaf) = Watchman::new(roots.to_vec(), &selection.out, ear);
    if let Some(why) = deaf {
        let text = format!("the system does not tell of changes ({why}), so they are looked for");
        screen.print(&text);
    }
    let (desk, tell) = (desk.clone(), tell.clone());
    // where none is named, designs that come later are watched too
    let below = selection.designs.is_empty().then(|| selection.from.clone());
    let mut known = Known::new(roots, below);
    let watch = move || {
        loop {
            let changes = watchman.wait();
            let saved = desk.changed(&changes);
            if !saved.is_empty() && tell.send(Word::Saved(saved)).is_err() {
                return;
            }
            for root in known.gone() {
                watchman.remove(&root);
                desk.remove(&root);
            }
            for root in known.come() {
                watchman.add(root.clone());
                let key = build::key(&root);
                desk.add(root, key);
            }
        }
    };
    let begun = thread::Builder::new().name("watch".into()).spawn(watch);
    begun.map(|_| ()).map_err(|why| Fault(why.to_string()))
}

/// The design folders that are watched over.
struct Known {
    named: Vec<PathBuf>,
    /// Where all are watched over, the folder that holds them.
    below: Option<PathBuf>,
    /// Each with the moment since when it is not there.
    roots: BTreeMap<PathBuf, Option<Instant>>,
}

impl Known {
    fn new(named: &[PathBuf], below: Option<PathBuf>) -> Self {
        Self {
            named: named.to_vec(),
            below,
            roots: named.iter().map(|root| (root.clone(), None)).collect(),
        }
    }

    /// Folders that were removed for good, or renamed: not those that somebody moves away and back.
    fn gone(&mut self) -> Vec<PathBuf> {
        let mut gone = Vec::new();
        for (root, since) in &mut self.roots {
            let away = since.filter(|_| !root.is_dir());
            match away {
                Some(away) if away.elapsed() > AWAY => gone.push(root.clone()),
                Some(_) => {}
                None => *since = (!root.is_dir()).then(Instant::now),
            }
        }
        self.roots.retain(|root, _| !gone.contains(root));
        gone
    }

    /// Folders that came, or came back.
    fn come(&mut self) -> Vec<PathBuf> {
        let mut found = match &self.below {
            Some(from) => folder::find(from),
            None => self.named.clone(),
        };
        found.retain(|root| root.is_dir() && !self.roots.contains_key(root));
        let new = found.iter().map(|root| (root.clone(), None));
        self.roots.extend(new);
        found
    }
}

/// Begins to work, on a thread of its own. What was made waits until its files are written, and a word
/// comes through what is given back.
fn start_work(
    desk: &Arc<Desk>,
    options: Options,
    selection: &Selection,
    tell: Sender<Word>,
) -> Result<Sender<()>, Fault> {
    let (written, wait) = channel();
    let (out, sizes) = (selection.out.clone(), selection.size.clone());
    let desk = desk.clone();
    let work = move || {
        let directory = |root: &Path| build::directory(&out, &sizes, &build::key(root));
        let say = |said: Said| {
            let made = matches!(said, Said::Made(..));
            if tell.send(Word::Work(said)).is_ok() && made {
                // at the end nobody writes any more
                let _ = wait.recv();
            }
        };
        desk::work(&desk, &options, &directory, &say);
    };
    let begun = thread::Builder::new().name("work".into()).spawn(work);
    begun.map_err(|why| Fault(why.to_string()))?;
    Ok(written)
}

/// Prints what is said and writes what is made, until the word comes that it is over.
fn print_and_write(
    words: &Receiver<Word>,
    (selection, options): (&Selection, &Options),
    written: &Sender<()>,
    screen: &mut Screen,
) {
    for word in words {
        match word {
            Word::Over => return,
            Word::Saved(designs) => designs.iter().for_each(|design| screen.saved(design)),
            Word::Work(Said::Begun(root)) => screen.design(&build::key(&root)),
            Word::Work(Said::Stage(stage)) => screen.stage(&stage),
            Word::Work(Said::LeftOff | Said::Shown) => screen.pause(),
            Word::Work(Said::Made(root, made, folder)) => {
                screen.stage("write");
                let key = build::key(&root);
                let directory = build::directory(&selection.out, &selection.size, &key);
                let origin = folder.map(|folder| Origin::of(&folder, options));
                let origin = origin.unwrap_or_default();
                // a disk that is full now may have room for the next save
                if let Err(Fault(text)) = build::write(&root, *made, &origin, &directory, screen) {
                    screen.fault(&text);
                }
                screen.pause();
                // the one who works may have ended
                let _ = written.send(());
            }
        }
    }
}

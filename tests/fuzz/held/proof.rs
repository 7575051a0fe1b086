//! The proof of a finished booklet in which bytes were changed: it reports, and a booklet in which a piece is
//! not what was computed never passes.

use super::design::folder;
use lopdf::{Document, Object};
use pressfoot::diagnostic::Diagnostics;
use pressfoot::pipeline::{self, Looked, Options};
use pressfoot::proof::{self, Intended};
use std::path::Path;
use std::sync::OnceLock;

/// A small design.
const DESIGN: &str = include_str!("chapter.yaml");

/// Its chapter.
const CHAPTER: &str = "---\ntitle: Making\nkind: steps\n---\n\n## Sew round\n\nLay two mats right sides together \
    and sew round, {{ measures.seam }} from the edge. Leave a gap to turn through.\n";

/// Streams of more bytes than this stay packed.
const LARGEST: usize = 40_000;

/// A finished booklet and what it should hold.
struct Booklet {
    /// As it is written, and with nothing packed.
    files: [Vec<u8>; 2],
    intended: Intended,
}

/// Changes the booklet as `bytes` say, and proofs it. Each change is six bytes: what is done, how much of
/// it, where, and a value; the first byte of all chooses between the booklet as it is written and unpacked.
pub fn check(bytes: &[u8]) {
    static BOOKLET: OnceLock<Booklet> = OnceLock::new();
    let booklet = BOOKLET.get_or_init(made);
    let Some((first, changes)) = bytes.split_first() else {
        return;
    };
    let mut file = booklet.files[usize::from(first & 1)].clone();
    for change in changes.chunks_exact(6).take(200) {
        changed(&mut file, change);
    }
    let proof = proof::prove(&file, "held.pdf", &booklet.intended);
    assert!(!proof.checks.is_empty(), "nothing was looked at");
    for told in proof.diagnostics().iter() {
        assert!(told.message.len() > 1, "nothing is said by {}", told.code);
    }
}

fn changed(file: &mut Vec<u8>, change: &[u8]) {
    let [kind, count, high, middle, low, value] = *change else {
        return;
    };
    let at = u32::from_be_bytes([0, high, middle, low]) as usize;
    let at = at % file.len().max(1);
    let end = (at + usize::from(count) + 1).min(file.len());
    match kind % 6 {
        0 => file[at..end].fill(value),
        1 => file[at] ^= value | 1,
        2 => {
            file.drain(at..end);
        }
        3 => {
            let copy = file[at..end].to_vec();
            file.splice(at..at, copy);
        }
        4 => {
            // a figure becomes another one
            let digit = file[at..].iter().position(u8::is_ascii_digit);
            if let Some(digit) = digit {
                file[at + digit] = b'0' + value % 10;
            }
        }
        _ => file.truncate(at.max(file.len() / 2)),
    }
}

/// The booklet, made once.
fn made() -> Booklet {
    let file = |path: &str, text: &str| (path.to_string(), text.as_bytes().to_vec());
    let files = vec![
        file("design.yaml", DESIGN),
        file("booklet/10-making.md", CHAPTER),
    ];
    let (folder, options) = (folder(files), Options::default());
    let mut said = Diagnostics::default();
    let mut step = |_: &str| {};
    let computed = pipeline::compute(&folder, &options, &mut step, &mut said);
    let mut computed = computed.expect("the design can be computed");
    let place = Path::new("build-output");
    let made = pipeline::publish(
        &folder,
        &mut computed,
        &options,
        place,
        &mut step,
        &mut said,
    );
    let made = made.expect("the booklet can be set");
    let pdf = made
        .outputs
        .files()
        .find(|(name, _)| name.ends_with("-a4.pdf") && !name.contains("proof"));
    let (_, pdf) = pdf.unwrap_or_else(|| panic!("no booklet: {said:?}"));
    let looked = pipeline::preview(
        &folder,
        &mut computed,
        &options,
        Looked::default(),
        &mut step,
        &mut said,
    );
    let looked = looked.expect("the booklet can be looked at");
    let intended = pipeline::intended(&looked.sizes, &looked.plates, &looked.design);
    let proof = proof::prove(pdf, "held.pdf", &intended);
    assert!(proof.passed(), "{:?}", proof.diagnostics());
    Booklet {
        files: [pdf.to_vec(), unpacked(pdf)],
        intended,
    }
}

/// The file with nothing packed, so that a change of a byte is one of a number or a word.
fn unpacked(pdf: &[u8]) -> Vec<u8> {
    let mut document = Document::load_mem(pdf).expect("our own file can be read");
    for object in document.objects.values_mut() {
        if let Object::Stream(stream) = object {
            // fonts stay as they are, or hardly a change would meet anything else
            if stream
                .decompressed_content()
                .is_ok_and(|bytes| bytes.len() < LARGEST)
            {
                stream.decompress().expect("it was unpacked before");
            }
        }
    }
    let mut file = Vec::new();
    document
        .save_to(&mut file)
        .expect("writing to memory never fails");
    file
}

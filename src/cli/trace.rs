//! `trace`: the outline of a foot from a scan, a photograph or a drawing into `feet/NAME.yaml`.

use super::Fault;
use super::screen::Screen;
use super::trace_args::Trace;
use crate::design::{self, Dimension, Quantity};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::folder::{self, DESIGN_FILE, DesignFolder, Unreadable, write};
use crate::foot::Foot;
use crate::trace::foot_file::{Heading, OneFoot, text};
use crate::trace::replaced::replaced;
use crate::trace::side::Side;
use crate::trace::{self, Sheet, Traced, Wish, reference::Kind};
use serde_json::json;
use std::path::{Path, PathBuf};

/// The largest picture that is read, bytes.
const LARGEST: u64 = 200 * 1024 * 1024;

/// A design about nothing but a foot, to read a foot's file as every design does.
const AROUND_A_FOOT: &str = "title: Foot\nedition: 1.0.0\nabout: A foot.\nby: pressfoot\nskill: none\n\
     age: For display.\nterms: None.\ncontact: pressfoot@example.org\npaper: [a4]\nsizes:\n  one: {title: \
     One, foot: feet/foot.yaml}\ncloth:\n  c: {name: cotton}\npieces:\n  p:\n    rectangle: {width: 20 \
     mm, height: 40 mm}\n    allowance: none\n    cut: {c: 1}\n";

/// A foot's file, before it is written.
struct FootFile {
    name: String,
    text: String,
    /// Its feet: which, and as the program reads them.
    feet: Vec<(Side, usize, Foot)>,
}

/// Traces a picture and writes the feet in it. Whether something came of it.
pub(super) fn trace(wanted: &Trace, screen: &mut Screen) -> Result<bool, Fault> {
    let bytes = read(&wanted.picture)?;
    let directory = directory(wanted)?;
    let picture = file_name(&wanted.picture);
    screen.design(&picture);
    screen.stage("trace");
    let mut said = Diagnostics::default();
    let wish = Wish {
        dots_per_inch: wanted.dpi,
        card: wanted.card,
        toe: wanted.toe.map(super::trace_args::Way::toe),
    };
    let sheet = match is_drawing(&wanted.picture, &bytes) {
        true => trace::drawing::trace(&picture, &bytes, wish.toe, &mut said),
        false => trace::trace(&bytes, &wish, &mut said),
    };
    let files = sheet
        .as_ref()
        .and_then(|sheet| files(sheet, wanted, &picture, &mut said).transpose());
    let files = files.transpose()?;
    screen.stage("write");
    screen.messages("", &said);
    let (Some(sheet), Some(files)) = (sheet, files) else {
        return Ok(false);
    };
    write_all(&sheet, &files, &directory, wanted, screen)?;
    Ok(true)
}

fn read(path: &Path) -> Result<Vec<u8>, Fault> {
    folder::read_at_most(path, LARGEST).map_err(|why| {
        let remedy = match why {
            Unreadable::TooLarge { .. } => "scan it with 300 dots an inch",
            _ => "name a picture or a drawing that may be read",
        };
        Fault(format!("{}: {why}; {remedy}", path.display()))
    })
}

fn file_name(path: &Path) -> String {
    path.file_name()
        .map_or_else(|| "picture".into(), |n| n.to_string_lossy().into_owned())
}

fn is_drawing(path: &Path, bytes: &[u8]) -> bool {
    let named = path
        .extension()
        .is_some_and(|e| e.eq_ignore_ascii_case("svg"));
    let start = bytes.get(..512).unwrap_or(bytes);
    named || String::from_utf8_lossy(start).contains("<svg")
}

/// The folder that takes the files.
fn directory(wanted: &Trace) -> Result<PathBuf, Fault> {
    let Some(to) = &wanted.to else {
        return Ok(PathBuf::from("feet"));
    };
    let is_design = |path: &PathBuf| path.join(DESIGN_FILE).is_file();
    let candidates = [to.clone(), wanted.from.join(to)];
    if let Some(design) = candidates.iter().find(|path| is_design(path)) {
        return Ok(design.join("feet"));
    }
    // a new folder is made inside one that is there; a single name may be a design misspelt
    let parent = to.parent().filter(|parent| !parent.as_os_str().is_empty());
    let to_be_made = !to.exists() && parent.is_some_and(Path::is_dir);
    if to.is_dir() || to_be_made {
        return Ok(to.clone());
    }
    let shown = to.display();
    if to.exists() {
        return Err(Fault(format!(
            "--to {shown}: that is a file; name a design or a folder"
        )));
    }
    let designs = folder::find(&wanted.from);
    let designs: Vec<String> = designs.iter().map(|path| file_name(path)).collect();
    let known = match designs.is_empty() {
        true => format!("there is no design below {}", wanted.from.display()),
        false => format!("there are the designs {}", designs.join(", ")),
    };
    let make = match parent {
        Some(parent) => format!("the folder {} must be made first", parent.display()),
        None => format!("for a new folder write ./{shown}"),
    };
    Err(Fault(format!(
        "--to {shown}: there is neither a design nor a folder of this name; {known}; {make}"
    )))
}

/// The files of the feet, read back as a design reads them. `Ok(None)` if something was said against it.
fn files(
    sheet: &Sheet,
    wanted: &Trace,
    picture: &str,
    said: &mut Diagnostics,
) -> Result<Option<Vec<FootFile>>, Fault> {
    let pencil = wanted.pencil.as_deref();
    if let Some(text) = pencil {
        let length = Quantity::parse(text)
            .ok()
            .filter(|q| q.dimension == Dimension::Length);
        if length.is_none() {
            return Err(Fault(format!(
                "--pencil {text}: write a length such as 0.25 mm"
            )));
        }
    }
    let mut files = Vec::new();
    for (name, feet) in plan(sheet, wanted, picture, said)? {
        let one = |(side, index): &(Side, usize)| OneFoot {
            traced: &sheet.shapes[*index],
            side: *side,
        };
        let heading = Heading {
            name: &name,
            picture,
            kind: sheet.kind,
            pencil,
        };
        let Some(first) = feet.first().map(one) else {
            continue;
        };
        let text = text(&heading, first, feet.get(1).map(one));
        let Some(read_back) = read_back(&text, said) else {
            return Ok(None);
        };
        let feet = feet
            .iter()
            .zip(read_back)
            .map(|((side, index), foot)| (*side, *index, foot));
        files.push(FootFile {
            feet: feet.collect(),
            name,
            text,
        });
    }
    Ok((!files.is_empty() && !said.has_errors()).then_some(files))
}

/// Which shape goes into which file: names, and the feet in each.
type Plan = Vec<(String, Vec<(Side, usize)>)>;

fn plan(
    sheet: &Sheet,
    wanted: &Trace,
    picture: &str,
    said: &mut Diagnostics,
) -> Result<Plan, Fault> {
    for name in [&wanted.name, &wanted.left, &wanted.right]
        .into_iter()
        .flatten()
    {
        good_name(name)?;
    }
    let stem = Path::new(picture)
        .file_stem()
        .map(|s| s.to_string_lossy().into_owned());
    let stem = stem
        .unwrap_or_default()
        .to_lowercase()
        .replace([' ', '.', '_'], "-");
    let plan = match (
        sheet.shapes.len(),
        &wanted.left,
        &wanted.right,
        &wanted.name,
    ) {
        (1, Some(_), Some(_), _) => {
            said.push(names(
                "there is one shape in the picture, and two feet are named",
                &sheet.shapes,
            ));
            Vec::new()
        }
        (1, Some(name), None, _) => vec![(name.clone(), vec![(Side::Left, 0)])],
        (1, None, Some(name), _) | (1, None, None, Some(name)) => {
            vec![(name.clone(), vec![(side_of(sheet, 0), 0)])]
        }
        (1, None, None, None) => {
            let name = good_name(&stem).map_or_else(|_| "foot".to_string(), |()| stem);
            vec![(name, vec![(side_of(sheet, 0), 0)])]
        }
        (2, Some(left), Some(right), _) if left != right => vec![
            (right.clone(), vec![(Side::Right, 1)]),
            (left.clone(), vec![(Side::Left, 0)]),
        ],
        (2, Some(name), Some(_), _) | (2, None, None, Some(name)) => {
            vec![(name.clone(), vec![(Side::Right, 1), (Side::Left, 0)])]
        }
        (count, ..) => {
            let message = format!("there are {count} shapes in the picture, and not all are named");
            said.push(names(&message, &sheet.shapes));
            Vec::new()
        }
    };
    Ok(plan)
}

/// The foot that a single shape is: the field of the tracing sheet says it; a right one otherwise.
fn side_of(sheet: &Sheet, index: usize) -> Side {
    sheet.shapes[index].side.unwrap_or(Side::Right)
}

fn names(message: &str, shapes: &[Traced]) -> Diagnostic {
    let list: Vec<String> = shapes
        .iter()
        .map(|s| format!("{:.0} by {:.0} mm", s.length, s.width))
        .collect();
    let message = format!("{message}: from left to right {}", list.join(", "));
    Diagnostic::error("trace-names", None, message).remedy(
        "say --name NAME for both feet in one file, or --left NAME and --right NAME for two files; no more \
         than two feet are taken from one picture",
    )
}

fn good_name(name: &str) -> Result<(), Fault> {
    let fits = |c: char| c.is_alphanumeric() || c == '-' || c == '_';
    let begins = name.chars().next().is_some_and(char::is_alphanumeric);
    match begins && name.chars().all(fits) && name.len() < 80 {
        true => Ok(()),
        false => Err(Fault(format!(
            "‘{name}’ cannot be the name of a foot: write letters, digits and hyphens"
        ))),
    }
}

/// The feet in the text of a foot's file, as a design has them; what is wrong with them goes to `said`.
fn read_back(text: &str, said: &mut Diagnostics) -> Option<Vec<Foot>> {
    let files = [(DESIGN_FILE, AROUND_A_FOOT), ("feet/foot.yaml", text)];
    let folder = DesignFolder::from_memory("foot", files);
    let mut told = Diagnostics::default();
    let design = design::read(&folder, &mut told);
    let spec = design.and_then(|design| design.sizes.into_iter().next()?.foot);
    let mut feet = Vec::new();
    if let Some(spec) = &spec {
        feet.extend(Foot::new(spec, &mut told));
        if let Some(other) = &spec.other {
            feet.extend(Foot::new(other, &mut told));
        }
    }
    let wanted = 1 + usize::from(spec.as_ref().is_some_and(|s| s.other.is_some()));
    let mut without_place = told;
    // the place would be one in a file that is not written
    without_place.each(&mut |d| d.place = None);
    said.append(without_place);
    (spec.is_some() && feet.len() == wanted).then_some(feet)
}

fn write_all(
    sheet: &Sheet,
    files: &[FootFile],
    directory: &Path,
    wanted: &Trace,
    screen: &mut Screen,
) -> Result<(), Fault> {
    let shown = trace::shown::png(sheet);
    let mut outputs: Vec<(PathBuf, Vec<u8>)> = Vec::new();
    for file in files {
        let path = directory.join(format!("{}.yaml", file.name));
        let text = text_for(&path, file, wanted)?;
        outputs.push((path, text.into_bytes()));
    }
    if let (Some(bytes), Some(first)) = (shown, files.first()) {
        outputs.push((directory.join(format!("{}-traced.png", first.name)), bytes));
    }
    if let Some((path, _)) = outputs
        .iter()
        .find(|(path, _)| path.exists() && !wanted.replace)
    {
        return Err(Fault(format!(
            "{} is there already: say --replace to put this tracing in the place of its own, its measures \
             stay; or choose another name",
            path.display()
        )));
    }
    let written = match wanted.replace {
        true => write::write_all(&outputs),
        false => write::write_all_new(&outputs),
    };
    written.map_err(|e| Fault(e.to_string()))?;
    for file in files {
        for (side, index, foot) in &file.feet {
            tell(
                sheet,
                &sheet.shapes[*index],
                (&file.name, *side, foot),
                wanted.left.is_none() && wanted.right.is_none(),
                screen,
            );
        }
    }
    for (path, _) in &outputs {
        screen.file(path);
    }
    Ok(())
}

/// What is written to `path`: of a foot that is there already all but the outline stays.
fn text_for(path: &Path, file: &FootFile, wanted: &Trace) -> Result<String, Fault> {
    if !wanted.replace || !path.exists() {
        return Ok(file.text.clone());
    }
    let old = String::from_utf8_lossy(&read(path)?).into_owned();
    replaced(&old, &file.text).map_err(|why| {
        Fault(format!(
            "{}: {why}; or choose another name, and bring its measures over",
            path.display()
        ))
    })
}

fn tell(
    sheet: &Sheet,
    traced: &Traced,
    (name, side, foot): (&str, Side, &Foot),
    guessed: bool,
    screen: &Screen,
) {
    let side = side.word();
    let taken = match (traced.side, sheet.shapes.len(), guessed) {
        (None, 1, true) => " (taken as such; for a left one say --left NAME)",
        _ => "",
    };
    let text = format!(
        "{name}, {side} foot{taken}: {:.1} mm long, {:.1} mm wide at the ball, {:.1} mm at the heel; its length is \
         believed to be true to {:.1} mm",
        foot.length, foot.ball_width, foot.heel_width, traced.accuracy
    );
    let round = |mm: f64| (mm * 100.0).round() / 100.0;
    let (told_by, tilt) = match sheet.kind {
        Kind::Dots { .. } => ("resolution", None),
        Kind::Card { tilt } => ("card", Some(round(tilt))),
        Kind::Sheet { tilt } => ("tracing sheet", Some(round(tilt))),
        Kind::Drawing => ("drawing", None),
    };
    let object = json!({
        "kind": "traced", "name": name, "side": side,
        "length_mm": round(foot.length), "ball_width_mm": round(foot.ball_width),
        "heel_width_mm": round(foot.heel_width), "accuracy_mm": round(traced.accuracy),
        "line_mm": traced.line.map(round), "size_from": told_by, "tilt_degrees": tilt,
    });
    screen.answer(&text, &object);
}

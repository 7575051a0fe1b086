//! The way from a scan to a design's foot: the file that is written, what is told, what is refused.

use crate::support::{pressfoot, record};
use std::fs;
use std::path::Path;

/// Millimetres to a pixel of a scan of 150 pixels to the inch.
const PIXEL: f64 = 25.4 / 150.0;

/// A scan of 75 by 100 mm with one pen line for each of `feet`, the middles of their outlines in mm: an
/// egg of two half ellipses, 70 mm long and 26 mm wide, blunt end up.
fn scan(path: &Path, width: f64, feet: &[[f64; 2]]) {
    let size = [(width / PIXEL) as u32, (100.0 / PIXEL) as u32];
    let mut image = image::GrayImage::from_pixel(size[0], size[1], image::Luma([246]));
    for (x, y, pixel) in image.enumerate_pixels_mut() {
        // four by four points of each pixel
        let points = (0..16).map(|i| [f64::from(i % 4), f64::from(i / 4)]);
        let inked = points.filter(|[i, j]| {
            let x = (f64::from(x) + (i + 0.5) / 4.0) * PIXEL;
            let y = (f64::from(y) + (j + 0.5) / 4.0) * PIXEL;
            feet.iter()
                .any(|[left, top]| off_egg(x - left, y - top).abs() < 0.25)
        });
        let light = 1.0 - inked.count() as f64 / 16.0 * 0.9;
        pixel.0 = [(246.0 * light.powf(1.0 / 2.2)) as u8];
    }
    image.save(path).expect("the scan is written");
}

/// How far a place lies off the egg, to the first order, mm.
fn off_egg(x: f64, y: f64) -> f64 {
    let (a, b) = (13.0, if y < 0.0 { 30.0 } else { 40.0 });
    let value = (x / a).hypot(y / b);
    let slope = (x / (a * a)).hypot(y / (b * b)) / value.max(1e-9);
    (value - 1.0) / slope.max(1e-9)
}

fn traced(folder: &Path, arguments: &[&str]) -> (Option<i32>, String) {
    let output = pressfoot(folder, &[&["trace"], arguments].concat());
    (output.status.code(), record(&output))
}

#[test]
fn a_scan_becomes_the_foot_of_a_design() {
    let folder = tempfile::tempdir().expect("a folder");
    let here = folder.path();
    scan(&here.join("Anna foot.png"), 75.0, &[[36.0, 44.0]]);
    crate::command::boards(here, 1, "Sew it.");
    let arguments = [
        "Anna foot.png",
        "--dpi",
        "150",
        "--name",
        "anna",
        "--to",
        "boards",
        "--from",
        ".",
    ];
    let (code, told) = traced(here, &arguments);
    assert_eq!(code, Some(0), "{told}");
    assert!(
        told.contains("anna, right foot (taken as such; for a left one say --left NAME): 70.")
            || told
                .contains("anna, right foot (taken as such; for a left one say --left NAME): 69.9"),
        "{told}"
    );
    let file = here.join("boards/feet/anna.yaml");
    let text = fs::read_to_string(&file).expect("the foot is written");
    assert!(
        text.contains("Anna foot.png") && text.contains("inner side: left"),
        "{text}"
    );
    assert!(here.join("boards/feet/anna-traced.png").exists());
    // the same bytes again, and nothing is overwritten unasked
    let (code, told) = traced(here, &arguments);
    assert_eq!(code, Some(2), "{told}");
    assert!(told.contains("--replace"), "{told}");
    let (code, _) = traced(here, &[&arguments[..], &["--replace"]].concat());
    assert_eq!(
        (code, fs::read_to_string(&file).expect("it is there")),
        (Some(0), text)
    );
    // a design takes the file as it is
    let design = here.join("boards/design.yaml");
    let with_foot = fs::read_to_string(&design).expect("it was written");
    let with_foot = with_foot
        .replace(
            "one: {title: One}",
            "one: {title: One, foot: feet/anna.yaml}",
        )
        .replace("  two: {title: Two}\n", "")
        .replace(
            "rectangle: {width: 20 mm,",
            "rectangle: {width: foot.length,",
        );
    fs::write(&design, with_foot).expect("design written");
    let measured = record(&pressfoot(here, &["measure", "boards", "--from", "."]));
    assert!(measured.starts_with("exit 0"), "{measured}");
    assert!(
        measured.contains("70.0 by 40.0 mm")
            || measured.contains("69.9 by 40.0 mm")
            || measured.contains("70.1 by 40.0 mm"),
        "{measured}"
    );
}

#[test]
fn two_feet_want_names_and_stand_in_one_file_or_two() {
    let folder = tempfile::tempdir().expect("a folder");
    let here = folder.path();
    scan(&here.join("both.png"), 100.0, &[[28.0, 44.0], [70.0, 46.0]]);
    let common = ["both.png", "--dpi", "150", "--to", "."];
    let (code, told) = traced(here, &[&common[..], &["--format", "json"]].concat());
    assert_eq!(code, Some(1), "{told}");
    let said: serde_json::Value =
        serde_json::from_str(told.lines().nth(1).expect(&told)).expect(&told);
    assert_eq!(said["code"], "trace-names");
    let (code, told) = traced(here, &[&common[..], &["--name", "pair"]].concat());
    assert_eq!(code, Some(0), "{told}");
    let pair = fs::read_to_string(here.join("pair.yaml")).expect("the pair is written");
    assert!(
        pair.contains("other foot:") && pair.contains("inner side: right"),
        "{pair}"
    );
    let names = [
        "--left", "l-foot", "--right", "r-foot", "--pencil", "0.25 mm",
    ];
    let (code, told) = traced(here, &[&common[..], &names].concat());
    assert_eq!(code, Some(0), "{told}");
    for (name, inner) in [("l-foot", "right"), ("r-foot", "left")] {
        let text = fs::read_to_string(here.join(format!("{name}.yaml"))).expect("it is written");
        assert!(text.contains(&format!("inner side: {inner}")), "{text}");
        assert!(text.contains("pencil: 0.25 mm"), "{text}");
    }
}

#[test]
fn faults_of_the_command_and_of_the_picture_are_told_apart() {
    let folder = tempfile::tempdir().expect("a folder");
    let here = folder.path();
    scan(&here.join("foot.png"), 75.0, &[[36.0, 44.0]]);
    fs::write(here.join("notes.txt"), "no picture").expect("notes written");
    crate::command::boards(here, 1, "Sew it.");
    for (arguments, wanted, words) in [
        (vec!["gone.png"], 2, "gone.png"),
        (vec!["foot.png", "--to", "nowhere"], 2, "write ./nowhere"),
        (
            vec!["foot.png", "--to", "board", "--from", "."],
            2,
            "boards",
        ),
        (vec!["foot.png", "--to", "no/where"], 2, "folder no must"),
        (vec!["foot.png", "--to", "notes.txt"], 2, "a file"),
        (vec!["foot.png", "--dpi", "150", "--name", "a/b"], 2, "a/b"),
        (
            vec!["foot.png", "--dpi", "150", "--pencil", "0.25"],
            2,
            "0.25",
        ),
        (vec!["foot.png", "--dpi", "9"], 2, "--dpi"),
        (vec!["foot.png"], 1, "trace-no-scale"),
        (vec!["notes.txt"], 1, "trace-unreadable"),
    ] {
        let (code, told) = traced(here, &arguments);
        assert_eq!(code, Some(wanted), "{arguments:?}: {told}");
        assert!(told.contains(words), "{arguments:?}: {told}");
    }
    assert!(!here.join("feet").exists());
    let into = ["foot.png", "--dpi", "150", "--to", "./own", "--name", "egg"];
    let (code, told) = traced(here, &into);
    assert_eq!(code, Some(0), "{told}");
    assert!(here.join("own/egg.yaml").exists());
}

#[test]
fn a_drawing_in_true_size_keeps_its_curves() {
    let folder = tempfile::tempdir().expect("a folder");
    let here = folder.path();
    let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"8cm\" height=\"10cm\" viewBox=\"0 0 80 100\">\
         <g transform=\"translate(40 45)\"><path d=\"M -13 0 A 13 30 0 0 1 13 0 A 13 40 0 0 1 -13 0 Z\"/></g></svg>";
    fs::write(here.join("egg.svg"), svg).expect("drawing written");
    let (code, told) = traced(here, &["egg.svg", "--left", "egg", "--to", "."]);
    assert_eq!(code, Some(0), "{told}");
    assert!(told.contains("egg, left foot: 70.0 mm long"), "{told}");
    let text = fs::read_to_string(here.join("egg.yaml")).expect("it is written");
    assert!(
        text.contains("path: \"M") && text.contains("inner side: right"),
        "{text}"
    );
}

#[test]
fn the_tracing_sheet_is_made_for_both_papers_and_languages() {
    let folder = tempfile::tempdir().expect("a folder");
    let here = folder.path();
    for (paper, language, name) in [
        ("a4", "en", "tracing-sheet-a4.pdf"),
        ("letter", "de", "tracing-sheet-de-letter.pdf"),
    ] {
        let arguments = [
            "sheet",
            "tracing",
            "--paper",
            paper,
            "--language",
            language,
            "--out",
            ".",
        ];
        let told = record(&pressfoot(here, &arguments));
        assert!(told.starts_with("exit 0"), "{told}");
        let pdf = fs::read(here.join(name)).expect("the sheet is written");
        marks_stand_true(&pdf, paper);
    }
    let told = record(&pressfoot(here, &["sheet", "tracing", "--language", "xx"]));
    assert!(told.starts_with("exit 2"), "{told}");
}

/// The finished page, read as a stranger would: rings 180 by 240 mm apart round the middle of the paper (ISO
/// 216: 210 by 297 mm; ANSI Y14.1: 8 1/2 by 11 in), 72 dots, 10 mm from one to the next.
fn marks_stand_true(pdf: &[u8], paper: &str) {
    let reading = pressfoot::proof::reading::read(pdf).expect("the page can be read");
    let [page] = reading.sheets.as_slice() else {
        panic!("{} pages", reading.sheets.len());
    };
    let size = if paper == "a4" {
        [210.0, 297.0]
    } else {
        [215.9, 279.4]
    };
    assert!((page.width - size[0]).abs() < 0.02 && (page.height - size[1]).abs() < 0.02);
    let wide = |from: f64, to: f64| -> Vec<kurbo::Point> {
        let boxes = page.paint.iter().filter(|p| p.stroke.is_none());
        let boxes = boxes.map(|p| kurbo::Shape::bounding_box(&p.path));
        let wanted = boxes
            .filter(|b| (from..to).contains(&b.width()) && (b.width() - b.height()).abs() < 0.01);
        wanted.map(|b| b.center()).collect()
    };
    let rings = wide(10.39, 10.41);
    assert_eq!(rings.len(), 4);
    for (ring, [x, y]) in rings.iter().zip([
        [-90.0, -120.0],
        [90.0, -120.0],
        [90.0, 120.0],
        [-90.0, 120.0],
    ]) {
        let place = kurbo::Point::new(0.5 * size[0] + x, 0.5 * size[1] + y);
        assert!(ring.distance(place) < 0.02, "{ring:?} for {place:?}");
    }
    let intended = pressfoot::proof::IntendedText {
        page: size,
        smallest_points: None,
        black_only: false,
        bleed: None,
        thinnest_points: None,
        book: None,
    };
    let proof = pressfoot::proof::prove_text(pdf, "tracing-sheet.pdf", &intended);
    assert!(proof.passed(), "{:?}", proof.diagnostics());
    let dots = wide(1.59, 1.61);
    assert_eq!(dots.len(), 72);
    for dot in &dots {
        let others = dots.iter().filter(|other| *other != dot);
        let nearest = others
            .map(|o| o.distance(*dot))
            .fold(f64::INFINITY, f64::min);
        assert!((nearest - 10.0).abs() < 0.01, "{dot:?}: {nearest}");
    }
}

/// A page of A5 (ISO 216: 148 by 210 mm) scanned at 150 pixels to the inch, with lines 8 mm apart and a margin
/// line (common practice of writing pads) as light as `ruling`, of 246, an egg drawn on it by pen, and the grain of a scanner.
fn page(path: &Path, ruling: Option<f64>) {
    let size = [(148.0 / PIXEL) as u32, (210.0 / PIXEL) as u32];
    let mut state = 77_u32;
    let mut grain = || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        f64::from(state >> 16) / 65536.0 * 6.0 - 3.0
    };
    let image = image::GrayImage::from_fn(size[0], size[1], |column, row| {
        let points = (0..16).map(|i| {
            let place =
                |pixel: u32, i: u32| (f64::from(pixel) + (f64::from(i) + 0.5) / 4.0) * PIXEL;
            let (x, y) = (place(column, i % 4), place(row, i / 4));
            let on_line = (y - 20.0).rem_euclid(8.0) < 0.25 && y > 18.0 || (x - 25.0).abs() < 0.15;
            match ruling {
                _ if off_egg(x - 74.0, y - 100.0).abs() < 0.25 => 40.0,
                Some(light) if on_line => light,
                _ => 246.0,
            }
        });
        let light = points.sum::<f64>() / 16.0;
        image::Luma([(light + grain()).clamp(0.0, 255.0) as u8])
    });
    image.save(path).expect("the scan is written");
}

#[test]
fn a_whole_page_is_traced_and_one_of_ruled_paper_is_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let here = folder.path();
    page(&here.join("plain.png"), None);
    page(&here.join("ruled.png"), Some(150.0));
    let (code, told) = traced(here, &["plain.png", "--dpi", "150", "--to", "."]);
    assert_eq!(code, Some(0), "{told}");
    let length = told
        .split(": ")
        .nth(1)
        .and_then(|rest| rest.split(" mm long").next());
    let length: f64 = length.and_then(|mm| mm.parse().ok()).expect(&told);
    assert!((length - 70.0).abs() < 0.21, "{told}");
    let (code, told) = traced(here, &["ruled.png", "--dpi", "150", "--to", "."]);
    assert_eq!(code, Some(1), "{told}");
    assert!(
        told.contains("error trace-ruled") && told.contains("plain paper"),
        "{told}"
    );
    assert!(!here.join("ruled.yaml").exists());
}

#[cfg(target_os = "linux")]
#[test]
fn what_has_no_end_is_no_picture_and_no_foot() {
    let folder = tempfile::tempdir().expect("a folder");
    let (code, told) = traced(folder.path(), &["/dev/zero", "--to", "./feet"]);
    assert_eq!(code, Some(2), "{told}");
    assert!(told.contains("a device or a pipe"), "{told}");
    let output = pressfoot(folder.path(), &["new", "shoe", "--foot", "/dev/zero"]);
    let told = record(&output);
    assert!(told.contains("a device or a pipe"), "{told}");
    assert!(!folder.path().join("designs/shoe").exists());
}

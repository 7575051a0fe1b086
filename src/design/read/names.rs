//! Names that a designer gives, and what she may have meant by one that nobody knows.

use crate::design::quantity;

/// Words longer than this are not compared with others: they are no misspelt names.
const LONGEST: usize = 64;

/// A word is compared with at most this many names: enough for any design, and a file made to be
/// slow stays quick.
const COMPARED: usize = 300;

/// What follows the dot of a piece besides its edges, so that no edge may be called so.
pub(super) const OF_A_PIECE: [&str; 6] = [
    "width",
    "height",
    "perimeter",
    "area",
    "cut width",
    "cut height",
];

/// Why `name` cannot be the name of a measure, a size, a cloth, a piece, a point or an edge.
pub(super) fn fault(name: &str) -> Option<&'static str> {
    if name.chars().count() > LONGEST {
        return Some("names have at most 64 letters");
    }
    if !name.starts_with(char::is_alphabetic) {
        return Some("a name begins with a letter");
    }
    if name.ends_with(' ') || name.contains("  ") {
        return Some("the words of a name are joined by single spaces");
    }
    if name.contains('.') {
        return Some("a name has no dot: dots join a piece and its edge");
    }
    let fits = |c: char| c.is_alphanumeric() || c == ' ' || c == '-';
    if !name.chars().all(fits) {
        return Some("a name is made of letters, digits, single spaces and hyphens");
    }
    let characters: Vec<char> = name.chars().collect();
    let hyphen_fits = |w: &[char]| w[1] != '-' || w[0].is_alphanumeric() && w[2].is_alphabetic();
    if name.ends_with('-') || !characters.windows(3).all(hyphen_fits) {
        return Some("a hyphen stands between two letters");
    }
    quantity::unit(name).map(|_| "this is the name of a unit")
}

/// The file name that a name becomes, in the letters that tell files apart everywhere: some systems
/// do not tell capitals from small letters, and blanks become hyphens.
pub(super) fn file_name(name: &str) -> String {
    name.to_lowercase().replace(' ', "-")
}

/// The one of `options` that `word` most likely means, if any is near enough.
pub(super) fn nearest<'o>(
    word: &str,
    options: impl IntoIterator<Item = &'o str>,
) -> Option<&'o str> {
    let plain = |text: &str| text.to_lowercase().replace(['_', '-'], " ");
    if word.chars().count() > LONGEST {
        return None;
    }
    let wanted = plain(word.trim());
    let allowed = wanted.chars().count().div_ceil(3);
    options
        .into_iter()
        .take(COMPARED)
        .map(|option| (strsim::damerau_levenshtein(&wanted, &plain(option)), option))
        .filter(|(distance, _)| *distance <= allowed)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, option)| option)
}

/// A remedy for an unknown `word`: the nearest of `options`, or all of them if they are few.
pub(super) fn suggestion(word: &str, options: &[&str]) -> String {
    if let Some(near) = nearest(word, options.iter().copied()) {
        return format!("did you mean ‘{near}’?");
    }
    match options {
        [] => String::new(),
        [only] => format!("the only one is ‘{only}’"),
        few if few.len() <= 12 => format!("known are {}", listed(few)),
        many => format!(
            "known are {} and {} more",
            listed(&many[..12]),
            many.len() - 12
        ),
    }
}

/// Names in quotation marks, with commas.
pub(super) fn listed(names: &[&str]) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("‘{name}’")).collect();
    quoted.join(", ")
}

//! Changes of a text by its lines, words and values: bytes alone seldom make another design of a design.

use libfuzzer_sys::fuzzer_mutate;

/// Values that stand at the edge of what may be written.
const VALUES: [&str; 24] = [
    "0",
    "0 mm",
    "-3 mm",
    "1/0 in",
    "1e308",
    "1e-320",
    ".nan",
    "NaN",
    "9999999 mm",
    "0.000001 mm",
    "1 3/16 in",
    "120 %",
    "100 %",
    "0 %",
    "none",
    "yes",
    "[]",
    "{}",
    "''",
    "foot.length",
    "foot.length / 0",
    "&a [*a]",
    "{all: 3 mm, top: none}",
    "2 pairs",
];

/// A small generator: splitmix64 (Steele, Lea and Flood 2014).
struct Dice(u64);

impl Dice {
    fn below(&mut self, count: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) % count.max(1) as u64) as usize
    }
}

/// Changes the first `size` of `bytes`, and says how many there are now.
pub fn changed(bytes: &mut [u8], size: usize, most: usize, seed: u32) -> usize {
    let mut dice = Dice(u64::from(seed));
    let text = std::str::from_utf8(&bytes[..size]);
    let Some(text) = text.ok().filter(|_| dice.below(3) > 0) else {
        return fuzzer_mutate(bytes, size, most);
    };
    let mut lines: Vec<String> = text.split('\n').map(str::to_string).collect();
    for _ in 0..=dice.below(3) {
        change(&mut lines, &mut dice);
    }
    let text = lines.join("\n");
    let length = text.floor_char_boundary(most.min(bytes.len()));
    bytes[..length].copy_from_slice(&text.as_bytes()[..length]);
    length
}

fn change(lines: &mut Vec<String>, dice: &mut Dice) {
    let (at, other) = (dice.below(lines.len()), dice.below(lines.len()));
    match dice.below(9) {
        0 if lines.len() > 1 => {
            lines.remove(at);
        }
        1 => lines.insert(other, lines[at].clone()),
        2 => lines.swap(at, other),
        3 => {
            let words = lines[at].trim_start().to_string();
            lines[at] = format!("{:indent$}{words}", "", indent = 2 * dice.below(4));
        }
        4 | 5 => {
            let value = match dice.below(2) {
                0 => VALUES[dice.below(VALUES.len())].to_string(),
                _ => value(&lines[other]).to_string(),
            };
            let length = lines[at].len() - value_of(&lines[at]).len();
            lines[at].truncate(length);
            lines[at].push_str(&value);
        }
        6 => number(&mut lines[at], dice),
        _ => word(lines, at, other, dice),
    }
}

/// What stands after the first colon.
fn value_of(line: &str) -> &str {
    line.split_once(": ").map_or("", |(_, value)| value)
}

/// A value of a line: all of it, or that of one key between its braces.
fn value(line: &str) -> &str {
    let whole = value_of(line);
    let inner = whole
        .split([',', '{', '}'])
        .filter_map(|part| part.split_once(": "));
    inner.last().map_or(whole, |(_, value)| value)
}

/// A digit of the line becomes another one.
fn number(line: &mut String, dice: &mut Dice) {
    let places: Vec<usize> = line
        .match_indices(|c: char| c.is_ascii_digit())
        .map(|(i, _)| i)
        .collect();
    if let Some(place) = places.get(dice.below(places.len())) {
        let new = ["0", "9", "-1", "100", ".5", "1/3"][dice.below(6)];
        line.replace_range(*place..place + 1, new);
    }
}

/// A word of the line becomes one of another line.
fn word(lines: &mut [String], at: usize, other: usize, dice: &mut Dice) {
    let from: Vec<String> = lines[other]
        .split_whitespace()
        .map(str::to_string)
        .collect();
    let words: Vec<&str> = lines[at].split(' ').collect();
    if from.is_empty() || words.is_empty() {
        return;
    }
    let place = dice.below(words.len());
    let mut words: Vec<String> = words.into_iter().map(str::to_string).collect();
    words[place].clone_from(&from[dice.below(from.len())]);
    lines[at] = words.join(" ");
}

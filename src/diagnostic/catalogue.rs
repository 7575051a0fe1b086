//! Every code a diagnostic may carry, with what `pressfoot explain CODE` says of it. A code stands with
//! the stage that says it first.

mod editions;
mod pages;
mod pieces;
mod proof;
mod reading;
mod review;
mod sewn;
mod traced;

/// One code of the catalogue.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Entry {
    /// The code as printed, lower case with hyphens.
    pub code: &'static str,
    /// What it means and why it matters, a few sentences.
    pub why: &'static str,
}

const fn entry_of(code: &'static str, why: &'static str) -> Entry {
    Entry { code, why }
}

const STAGES: [&[Entry]; 8] = [
    reading::READING,
    pieces::PIECES,
    pages::PAGES,
    proof::PROOF,
    review::REVIEW,
    sewn::SEWN,
    editions::EDITIONS,
    traced::TRACED,
];

/// All codes, those of each stage in alphabetical order.
pub fn all() -> impl Iterator<Item = &'static Entry> {
    STAGES.into_iter().flatten()
}

/// The entry for `code`, if there is one.
pub fn entry(code: &str) -> Option<&'static Entry> {
    all().find(|e| e.code == code)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;
    use std::path::Path;

    #[test]
    fn codes_are_sorted_unique_and_explained() {
        for stage in STAGES {
            let sorted = stage.windows(2).find(|pair| pair[0].code >= pair[1].code);
            assert!(sorted.is_none(), "{sorted:?} are out of order");
        }
        let codes: BTreeSet<&str> = all().map(|entry| entry.code).collect();
        assert_eq!(codes.len(), all().count(), "a code stands twice");
        for entry in all() {
            let fits = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
            assert!(entry.code.chars().all(fits), "{}", entry.code);
            assert!(entry.why.len() > 40, "{} wants a few sentences", entry.code);
            assert!(entry.why.ends_with('.'), "{}", entry.code);
        }
    }

    #[test]
    fn every_code_of_the_sources_stands_here() {
        let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
        let mut used: BTreeSet<String> = BTreeSet::new();
        for entry in walkdir::WalkDir::new(source) {
            let entry = entry.unwrap();
            if entry.path().extension().is_some_and(|e| e == "rs") {
                let text = std::fs::read_to_string(entry.path()).unwrap();
                used.extend(codes(&text));
            }
        }
        assert!(used.contains("no-unit"), "the search finds nothing");
        for code in &used {
            assert!(
                entry(code).is_some(),
                "code {code} is missing from the catalogue"
            );
        }
    }

    #[test]
    fn every_error_and_warning_says_what_to_do() {
        let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
        let mut without: Vec<String> = Vec::new();
        for entry in walkdir::WalkDir::new(source) {
            let entry = entry.unwrap();
            let path = entry.path().display().to_string();
            if path.ends_with(".rs") && !path.contains("tests") {
                let text = std::fs::read_to_string(entry.path()).unwrap();
                let text = text.split("#[cfg(test)]\nmod tests").next().unwrap_or("");
                without.extend(told_bare(text).map(|line| format!("{path}:{line}")));
            }
        }
        assert!(without.is_empty(), "no remedy at\n{}", without.join("\n"));
    }

    /// Lines of calls after which, up to the end of the function, no remedy is given.
    fn told_bare(text: &str) -> impl Iterator<Item = usize> {
        let calls = ["Diagnostic::error(", "Diagnostic::warning(", "Fault::new("];
        let starts = calls
            .into_iter()
            .flat_map(move |call| text.match_indices(call));
        starts.filter_map(move |(at, _)| {
            if text[..at].ends_with("Refusal(") {
                // a type that cannot be used before its remedy is given
                return None;
            }
            let rest = &text[at..];
            let ends = ["\n}", "\n    }\n"];
            let end = ends
                .iter()
                .filter_map(|end| Some(rest[5..].find(end)? + 5))
                .min();
            let told = rest[..end.unwrap_or(rest.len())].contains("remedy(");
            (!told).then(|| text[..at].matches('\n').count() + 1)
        })
    }

    /// First argument of every call that makes a diagnostic, where it is a literal.
    fn codes(text: &str) -> Vec<String> {
        let calls = [
            "Diagnostic::error(",
            "Diagnostic::warning(",
            "Diagnostic::note(",
            "Fault::new(",
        ];
        let mut found = Vec::new();
        for call in calls {
            for after in text.split(call).skip(1) {
                if let Some(rest) = after.trim_start().strip_prefix('"') {
                    found.extend(rest.split('"').next().map(String::from));
                }
            }
        }
        for after in text
            .split("reading.error(")
            .chain(text.split("self.error("))
            .skip(1)
        {
            if let Some(rest) = after.trim_start().strip_prefix('"') {
                found.extend(rest.split('"').next().map(String::from));
            }
        }
        let code = |c: &String| c.chars().all(|c| c.is_ascii_lowercase() || c == '-');
        found.retain(code);
        found
    }
}

//! Finds the tags `{{ … }}`, `{% … %}` and `{# … #}` in a chapter, so that its plain text can be
//! marked with the place it comes from. Whether a tag is well formed is minijinja's to say.

/// What a tag does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TagKind {
    /// `{{ … }}` prints a value.
    Value,
    /// `{% … %}` chooses or repeats.
    Block,
    /// `{# … #}` is left out.
    Comment,
}

/// A tag in a text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tag {
    /// What it does.
    pub kind: TagKind,
    /// Byte offset of its first brace.
    pub start: usize,
    /// Byte offset after its last brace.
    pub end: usize,
    /// Takes the space before it away: `{{-`.
    pub trims_before: bool,
}

impl Tag {
    /// What stands between the braces, without `-` or `+`.
    pub fn inner<'a>(&self, text: &'a str) -> &'a str {
        let inner = text
            .get(self.start + 2..self.end.saturating_sub(2))
            .unwrap_or_default();
        inner
            .trim_start_matches(['-', '+'])
            .trim_end_matches(['-', '+'])
            .trim()
    }
}

/// All tags of `text` in order. A tag that is never closed ends the list; what stands inside
/// `{% raw %}` is plain text.
pub fn tags(text: &str) -> Vec<Tag> {
    let mut found: Vec<Tag> = Vec::new();
    let mut at = 0;
    let mut raw = false;
    while let Some(offset) = text[at..].find('{') {
        let start = at + offset;
        at = start + 1;
        let (kind, close) = match text.as_bytes().get(start + 1) {
            Some(b'{') => (TagKind::Value, "}}"),
            Some(b'%') => (TagKind::Block, "%}"),
            Some(b'#') => (TagKind::Comment, "#}"),
            _ => continue,
        };
        let Some(end) = end_of_tag(text, start + 2, close, kind != TagKind::Comment) else {
            if raw {
                continue;
            }
            break;
        };
        let trims_before = text.as_bytes().get(start + 2) == Some(&b'-');
        let tag = Tag {
            kind,
            start,
            end,
            trims_before,
        };
        let word = tag.inner(text);
        if raw && !(kind == TagKind::Block && word == "endraw") {
            continue;
        }
        raw = kind == TagKind::Block && word == "raw";
        at = end;
        found.push(tag);
    }
    found
}

/// Offset after `close`, looked for from `from` on; not inside quoted strings if `quotes`.
fn end_of_tag(text: &str, from: usize, close: &str, quotes: bool) -> Option<usize> {
    let bytes = text.as_bytes();
    let mut quote = None;
    let mut at = from;
    while at < bytes.len() {
        match (quote, bytes[at]) {
            (Some(_), b'\\') => at += 1,
            (Some(open), byte) if byte == open => quote = None,
            (None, byte @ (b'"' | b'\'')) if quotes => quote = Some(byte),
            (None, _) if bytes[at..].starts_with(close.as_bytes()) => return Some(at + 2),
            _ => {}
        }
        at += 1;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inners(text: &str) -> Vec<&str> {
        tags(text)
            .iter()
            .map(|tag| tag.inner(text))
            .collect::<Vec<_>>()
    }

    #[test]
    fn tags_are_found_with_their_braces_in_strings() {
        assert_eq!(
            inners("a {{ b }} c {%- if d -%} {# e #}"),
            ["b", "if d", "e"]
        );
        assert_eq!(inners("{{ \"}}\" }} x"), ["\"}}\""]);
        assert_eq!(inners("{{ '\\'}}' }}{{ü}}"), ["'\\'}}'", "ü"]);
    }

    #[test]
    fn raw_text_and_open_tags_hold_none() {
        assert_eq!(
            inners("{% raw %}{{ a }}{% endraw %}{{ b }}"),
            ["raw", "endraw", "b"]
        );
        assert_eq!(inners("{ {{ never closed"), Vec::<&str>::new());
        assert_eq!(inners("{"), Vec::<&str>::new());
    }
}

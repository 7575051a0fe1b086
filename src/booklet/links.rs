//! Where a link of the text may lead from a printed or opened booklet.

/// What becomes of a link.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Target {
    /// An address that a reader can open.
    Address(String),
    /// A path or an anchor: it leads nowhere from a booklet.
    Nowhere,
    /// A scheme that is refused.
    Refused(String),
}

/// Longest address, bytes.
const LONGEST: usize = 2_000;

/// Judges `url`: web and mail addresses are followed, other schemes refused.
pub fn target(url: &str) -> Target {
    let url = url.trim();
    let Some((scheme, rest)) = url.split_once(':') else {
        return Target::Nowhere;
    };
    let letters = |c: char| c.is_ascii_alphanumeric() || matches!(c, '+' | '-' | '.');
    if scheme.is_empty() || !scheme.chars().all(letters) {
        return Target::Nowhere;
    }
    let known = ["http", "https", "mailto"];
    if !known.contains(&scheme.to_ascii_lowercase().as_str()) {
        return Target::Refused(scheme.to_string());
    }
    let rest = rest.trim_start_matches('/');
    if rest.is_empty() || url.len() > LONGEST {
        return Target::Nowhere;
    }
    Target::Address(url.chars().map(percent_encoded).collect())
}

/// PDF addresses are plain ASCII (RFC 3986, section 2.1 for the encoding).
fn percent_encoded(character: char) -> String {
    if character.is_ascii_graphic() && !matches!(character, '<' | '>' | '"' | '\\') {
        return character.to_string();
    }
    let mut bytes = [0; 4];
    let encoded = character.encode_utf8(&mut bytes);
    encoded.bytes().map(|byte| format!("%{byte:02X}")).collect()
}

/// The address as it is printed after the words of the link.
pub fn printed(address: &str) -> &str {
    let bare = ["https://", "http://", "mailto:"]
        .iter()
        .find_map(|scheme| address.strip_prefix(scheme))
        .unwrap_or(address);
    bare.trim_end_matches('/')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn web_and_mail_addresses_are_followed() {
        let address = |url: &str| Target::Address(url.into());
        assert_eq!(
            target("https://fair.example/a"),
            address("https://fair.example/a")
        );
        assert_eq!(
            target("mailto:a@fair.example"),
            address("mailto:a@fair.example")
        );
        // RFC 3987, section 3.1: non-ASCII characters as percent-encoded UTF-8.
        assert_eq!(
            target("https://fair.example/é"),
            address("https://fair.example/%C3%A9")
        );
    }

    #[test]
    fn other_schemes_are_refused_and_paths_lead_nowhere() {
        assert_eq!(
            target("javascript:alert(1)"),
            Target::Refused("javascript".into())
        );
        assert_eq!(target("file:///etc/passwd"), Target::Refused("file".into()));
        for url in ["/url", "#foo", "a.html", "", "https://", "foo bar:baz"] {
            assert_eq!(target(url), Target::Nowhere, "{url}");
        }
    }
}

//! Warnings that the designer has looked at and lets stand. They become notes with her reason; an error
//! stays an error.

use crate::design::Accepted;
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::proof::Report;

/// Lowers what `accepted` names, in the report and in what is said besides. An entry that lowers nothing is
/// told.
pub fn apply(
    accepted: &[Accepted],
    report: &mut Report,
    (diagnostics, findings): (&mut Diagnostics, &mut Diagnostics),
) {
    let mut used = vec![false; accepted.len()];
    let mut pick = |code: &str, message: &str, file: &str| {
        let of = |entry: &Accepted| {
            let holds = |of: &String| {
                speaks_of(message, of) || file == of || file.ends_with(&format!("/{of}"))
            };
            entry.code == code && entry.of.as_ref().is_none_or(holds)
        };
        let number = accepted.iter().position(of)?;
        used[number] = true;
        Some(accepted[number].reason.clone())
    };
    report.accept(&mut |check| pick(check.code, &check.message, &check.file));
    for list in [&mut *diagnostics, findings] {
        list.lower(&mut |d| {
            let file = d
                .place
                .as_ref()
                .map_or("", |place| place.source.path.as_str());
            let reason = pick(d.code, &d.message, file)?;
            Some(format!("accepted: {reason}"))
        });
    }
    let mut unused = Diagnostics::default();
    for (entry, _) in accepted.iter().zip(&used).filter(|(_, used)| !**used) {
        let is_error = report
            .checks
            .iter()
            .any(|c| c.code == entry.code && c.forbids_sale());
        let message = match is_error {
            true => format!(
                "‘{}’ is an error here, and an error is never accepted",
                entry.code
            ),
            false => format!(
                "nothing is accepted by ‘{}’: no such warning is told",
                entry.code
            ),
        };
        let note = Diagnostic::note("accepted-unused", Some(&entry.place), message);
        unused.push(note.remedy("take it out of ‘accepted:’, or correct ‘of:’"));
    }
    report.add_diagnostics(&unused);
    diagnostics.append(unused);
}

/// Whether a message has the words, whole, in capitals or small letters.
fn speaks_of(message: &str, of: &str) -> bool {
    let [message, of] = [message, of].map(str::to_lowercase);
    let whole = |at: usize| {
        let [before, after] = [&message[..at], &message[at + of.len()..]];
        !before.ends_with(char::is_alphanumeric) && !after.starts_with(char::is_alphanumeric)
    };
    !of.is_empty() && message.match_indices(&of).any(|(at, _)| whole(at))
}

#[cfg(test)]
mod tests {
    use super::speaks_of;

    #[test]
    fn what_a_message_speaks_of_is_found_as_whole_words() {
        let message = "The list has the tool ‘ruler’, and the text never uses it.";
        assert!(speaks_of(message, "Ruler"));
        assert!(!speaks_of(message, "rule"));
        assert!(!speaks_of(message, ""));
    }
}

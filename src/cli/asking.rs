//! Questions on the terminal: what is answered wrongly is asked again, with what is wrong.

use super::screen::Screen;
use std::io::{self, BufRead, IsTerminal, Write};

/// The answer to a question on the terminal; `None` where there is none, or no more to be read.
pub(super) fn asked(question: &str, screen: &mut Screen) -> Option<String> {
    asked_for(question, &mut |answer| Ok(answer.to_string()), screen)
}

/// What `accept` makes of the answer to a question on the terminal. It is asked again after every answer that
/// is not accepted, with the words of the refusal above it. `None` where there is no terminal, or no more to
/// be read.
pub(super) fn asked_for<T>(
    question: &str,
    accept: &mut dyn FnMut(&str) -> Result<T, String>,
    screen: &mut Screen,
) -> Option<T> {
    let (input, mut out) = (io::stdin(), io::stderr());
    if !input.is_terminal() || !out.is_terminal() {
        return None;
    }
    screen.pause();
    answered(question, accept, (&mut input.lock(), &mut out))
}

/// The same for any lines that are read and any place to which the question is written.
fn answered<T>(
    question: &str,
    accept: &mut dyn FnMut(&str) -> Result<T, String>,
    (input, out): (&mut dyn BufRead, &mut dyn Write),
) -> Option<T> {
    loop {
        write!(out, "{question}").and_then(|()| out.flush()).ok()?;
        let mut line = String::new();
        if input.read_line(&mut line).ok()? == 0 {
            // the next words begin on a line of their own
            let _ = writeln!(out);
            return None;
        }
        match accept(line.trim()) {
            Ok(accepted) => return Some(accepted),
            Err(why) => writeln!(out, "{why}").ok()?,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::answered;

    fn small(answer: &str) -> Result<u8, String> {
        let number = answer.parse();
        number.map_err(|_| format!("‘{answer}’ is no small number"))
    }

    fn conversation(answers: &str) -> (Option<u8>, String) {
        let (mut input, mut out) = (answers.as_bytes(), Vec::new());
        let accepted = answered("How many? ", &mut small, (&mut input, &mut out));
        (accepted, String::from_utf8(out).unwrap())
    }

    #[test]
    fn a_wrong_answer_is_told_and_asked_for_again() {
        let (accepted, said) = conversation("many\n300\n 7 \n9\n");
        assert_eq!(accepted, Some(7));
        assert_eq!(
            said,
            "How many? ‘many’ is no small number\nHow many? ‘300’ is no small number\nHow many? "
        );
    }

    #[test]
    fn the_end_of_what_is_read_is_no_answer() {
        assert_eq!(conversation("").0, None);
        let (accepted, said) = conversation("many\n");
        assert_eq!(accepted, None);
        assert!(said.ends_with("How many? \n"), "{said}");
    }
}

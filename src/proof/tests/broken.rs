//! Damaged and hostile PDFs: an error, never a panic or a hang.

use super::press::{A4, Book, Style, cut, intended, toe};
use crate::proof::reading::Unreadable;
use crate::proof::{prove, reading};

/// Objects numbered from 1, with a table of their offsets (ISO 32000-1, 7.5).
pub fn assembled(objects: &[String]) -> Vec<u8> {
    let mut text = "%PDF-1.7\n".to_string();
    let mut table = "0000000000 65535 f \n".to_string();
    for (index, object) in objects.iter().enumerate() {
        table.push_str(&format!("{:010} 00000 n \n", text.len()));
        text.push_str(&format!("{} 0 obj\n{object}\nendobj\n", index + 1));
    }
    let (start, count) = (text.len(), objects.len() + 1);
    text.push_str(&format!(
        "xref\n0 {count}\n{table}trailer\n<< /Size {count} /Root 1 0 R >>\nstartxref\n{start}\n%%EOF\n"
    ));
    text.into_bytes()
}

/// Marsaglia's xorshift (2003): the same damage in every run.
struct Damage(u64);

impl Damage {
    fn next(&mut self, below: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % below as u64) as usize
    }
}

fn sound() -> Vec<u8> {
    Book::new(A4)
        .furniture()
        .line(&toe(), Style::Cut, 40.0, 40.0)
        .pdf()
}

#[test]
fn truncated_and_bit_flipped_files_never_panic() {
    let sound = sound();
    let wanted = intended(vec![cut("toe", &toe())]);
    let mut damage = Damage(0x5eed_0001);
    let mut unreadable = 0;
    for case in 0..300 {
        let mut bytes = sound.clone();
        if case % 3 == 0 {
            bytes.truncate(damage.next(bytes.len()));
        } else {
            for _ in 0..=damage.next(12) {
                let (place, bit) = (damage.next(bytes.len()), damage.next(8));
                bytes[place] ^= 1 << bit;
            }
        }
        let proof = prove(&bytes, "test.pdf", &wanted);
        unreadable += usize::from(proof.measured.pages == 0);
    }
    assert!(unreadable > 50, "{unreadable}");
}

#[test]
fn what_is_no_pdf_is_unreadable() {
    for bytes in [&b""[..], b"%PDF-1.7", b"words", &[0; 4096]] {
        let proof = prove(bytes, "test.pdf", &intended(Vec::new()));
        assert_eq!(super::failed(&proof), ["pdf-unreadable"]);
        assert!(!proof.passed());
    }
}

#[test]
fn forms_that_draw_each_other_without_end_are_refused() {
    // 30 forms, each drawing the next twice: 2^30 operations from two kilobytes.
    let mut objects = vec![
        "<< /Type /Catalog /Pages 2 0 R >>".to_string(),
        "<< /Type /Pages /Kids [3 0 R] /Count 1 >>".to_string(),
        "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 200 200] /Contents 4 0 R \
         /Resources << /XObject << /X 5 0 R >> >> >>"
            .to_string(),
        "<< /Length 5 >>\nstream\n/X Do\nendstream".to_string(),
    ];
    for index in 0..30 {
        let next = if index == 29 { 5 } else { index + 6 };
        objects.push(format!(
            "<< /Type /XObject /Subtype /Form /BBox [0 0 9 9] /Length 11 \
             /Resources << /XObject << /X {next} 0 R >> >> >>\nstream\n/X Do /X Do\nendstream"
        ));
    }
    let fault = reading::read(&assembled(&objects)).unwrap_err();
    assert!(matches!(
        fault,
        Unreadable::TooLarge {
            what: "drawing operations",
            ..
        }
    ));
}

#[test]
fn numbers_beyond_all_measure_are_survived() {
    let content = "1e300 0 0 1e300 0 0 cm 5 w 0 0 m 1e30 2e30 3e30 1e20 7 9 c h S \
                   99999999999999999999 0 m 4 4 l 5 9 l h S";
    let objects = [
        "<< /Type /Catalog /Pages 2 0 R >>".to_string(),
        "<< /Type /Pages /Kids [3 0 R] /Count 1 >>".to_string(),
        "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 1e9 -5] /Contents 4 0 R >>".to_string(),
        format!(
            "<< /Length {} >>\nstream\n{content}\nendstream",
            content.len()
        ),
    ];
    let proof = prove(
        &assembled(&objects),
        "test.pdf",
        &intended(vec![cut("toe", &toe())]),
    );
    assert!(!proof.passed());
}

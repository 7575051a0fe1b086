//! Where a filled text is written to: memory with a limit.

use std::io;

/// Longest text that filling may give, bytes.
const LONGEST: usize = 1 << 20;

/// Takes bytes up to a limit.
#[derive(Default)]
pub(super) struct Bounded {
    pub(super) bytes: Vec<u8>,
}

impl io::Write for Bounded {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if self.bytes.len() + bytes.len() > LONGEST {
            return Err(io::Error::other("the text grows too long"));
        }
        self.bytes.extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

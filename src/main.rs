//! The command `pressfoot`.

fn main() {}

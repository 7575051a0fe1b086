//! Diagnostics for programs: one JSON object a line.

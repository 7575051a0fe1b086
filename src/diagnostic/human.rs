//! Diagnostics for people: message, place, source excerpt, remedy.

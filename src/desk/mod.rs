//! The designs on the desk: what a browser shows of them while they are written.
//!
//! A [`Desk`] holds for every design whether it was saved since it was built, what was said of it, and the
//! pages that are looked at. [`work`] takes from it what is to be done next: first the booklet that is
//! looked at, set and drawn without a proof, then the whole build; a newer save stops what is older.
//! [`serve`] answers browsers on this machine: a short state ([`Desk::state`]) that waits until it is
//! news, and pages and figures under names made from what they hold ([`store`]), so that only what changed
//! is sent. Nothing here touches the disk but through [`crate::folder`], and nothing prints: what a
//! terminal shows goes through [`Said`].

mod changes;
mod connection;
mod facts;
mod files;
mod job;
mod kept;
mod server;
mod state;
pub mod store;
#[cfg(test)]
mod tests;
mod told;
mod view;
mod worker;

pub use job::{Job, Look, Task};
pub use server::serve;
pub use state::Desk;
pub use worker::{Said, work};

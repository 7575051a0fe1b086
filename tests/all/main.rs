//! Tests of the whole program. One binary, because linking the typesetter twice costs minutes.

mod begun;
mod broken;
mod circles;
mod command;
#[cfg(unix)]
mod completed;
mod corpus;
mod cut_files;
mod demos;
mod editions;
mod faults;
mod forms;
mod guide;
mod languages;
mod layered;
mod promised;
mod rebuilt;
mod released;
mod shoes;
mod sound;
mod sources;
mod support;
mod traced;
#[cfg(unix)]
mod watched;

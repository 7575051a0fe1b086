#![no_main]

mod lines;

use held::design::check;
use libfuzzer_sys::{fuzz_mutator, fuzz_target};
use std::panic::take_hook;

// a fault that pressfoot catches is none, so the fuzzer's own hook is taken away
fuzz_target!(init: drop(take_hook()), |bytes: &[u8]| check(bytes));

fuzz_mutator!(|bytes: &mut [u8], size: usize, most: usize, seed: u32| {
    lines::changed(bytes, size, most, seed)
});

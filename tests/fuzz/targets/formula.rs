#![no_main]

use held::formula::check;
use libfuzzer_sys::fuzz_target;
use std::panic::take_hook;

// a fault that pressfoot catches is none, so the fuzzer's own hook is taken away
fuzz_target!(init: drop(take_hook()), |bytes: &[u8]| check(bytes));

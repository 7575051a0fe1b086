//! Whether the shoe's closure is made of something.

use super::super::{Subject, warning};
use crate::design::ClosureSpec;
use crate::diagnostic::Diagnostics;

/// Ribbon and elastic are bought by the length: a closure that wants one, in a design whose trims have
/// none, is on no foot.
pub(in crate::review) fn is_bought(subject: &Subject, said: &mut Diagnostics) {
    let Some(shoe) = &subject.design.shoe else {
        return;
    };
    let (what, figure) = match shoe.closure {
        ClosureSpec::Open => return,
        ClosureSpec::ElasticStrap => ("an elastic", "shoe.strap elastic"),
        ClosureSpec::BackElastic => ("an elastic", "shoe.back elastic"),
        ClosureSpec::Tie => ("a ribbon", "shoe.tie ribbon"),
    };
    if subject
        .design
        .trims
        .iter()
        .any(|trim| trim.length.is_some())
    {
        return;
    }
    let words = shoe.closure.words();
    let message = format!("the closure ‘{words}’ wants {what}, and no trim has a length");
    let remedy = format!("add it to ‘trims:’, with ‘length: {figure}’, and let a step sew it in");
    let place = subject.place_below("shoe", "closure");
    said.push(warning("closure-not-bought", &place, message, &remedy));
}

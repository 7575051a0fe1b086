//! Whether the shoe's closure is made of something.

use super::super::{Subject, warning};
use crate::design::{ClosureSpec, Trim, TrimKind};
use crate::diagnostic::Diagnostics;

/// What a closure is made of.
struct Wanted {
    /// In words.
    what: &'static str,
    /// How a trim for it begins.
    example: &'static str,
    /// Whether a trim serves.
    serves: fn(&Trim) -> bool,
}

const STRAP: Wanted = Wanted {
    what: "an elastic with a length",
    example: "elastic: {name: flat elastic, width: 6 mm, length: shoe.strap elastic}",
    serves: is_elastic,
};
const BACK: Wanted = Wanted {
    what: "an elastic with a length",
    example: "elastic: {name: flat elastic, width: 3 mm, length: shoe.back elastic}",
    serves: is_elastic,
};
const TIE: Wanted = Wanted {
    what: "a ribbon with a length, or a hook, snap or buckle in its place",
    example: "ribbon: {name: satin ribbon, width: 6 mm, length: shoe.tie ribbon, count: 4}",
    serves: closes_a_slit,
};
const BUTTON: Wanted = Wanted {
    what: "a button",
    example: "button: {name: shank button, width: 14 L, count: 2}",
    serves: is_button,
};

/// Elastic is bought by the length; a trim of no known kind may be one, in the words of another language.
fn is_elastic(trim: &Trim) -> bool {
    trim.length.is_some() && matches!(trim.kind, TrimKind::Elastic | TrimKind::Other)
}

fn closes_a_slit(trim: &Trim) -> bool {
    use TrimKind::{BiasStrip, Buckle, Cord, Other, Ribbon, Snap};
    match trim.kind {
        Ribbon | Cord | BiasStrip => trim.length.is_some(),
        kind => matches!(kind, Snap | Buckle | Other),
    }
}

fn is_button(trim: &Trim) -> bool {
    matches!(trim.kind, TrimKind::Button | TrimKind::Other)
}

/// Every closure wants something of the trims: without it the shoe is on no foot.
pub(in crate::review) fn is_bought(subject: &Subject, said: &mut Diagnostics) {
    let Some(shoe) = &subject.design.shoe else {
        return;
    };
    let own = match shoe.closure {
        ClosureSpec::Open => None,
        ClosureSpec::ElasticStrap => Some(STRAP),
        ClosureSpec::BackElastic => Some(BACK),
        ClosureSpec::Tie => Some(TIE),
    };
    let words = shoe.closure.words();
    let closure = format!("the closure ‘{words}’ wants");
    let drawn = "the shoe is drawn with a button and wants".to_string();
    let own = own.map(|wanted| (closure, "closure", wanted));
    let button = shoe.look.button.then_some((drawn, "drawn with", BUTTON));
    for (who, key, wanted) in own.into_iter().chain(button) {
        if subject.design.trims.iter().any(wanted.serves) {
            continue;
        }
        let message = format!("{who} {}, and no trim is one", wanted.what);
        let remedy = format!(
            "add it to ‘trims:’, such as ‘{}’, and let a step sew it on",
            wanted.example
        );
        let place = subject.place_below("shoe", key);
        said.push(warning("closure-not-bought", &place, message, &remedy));
    }
}

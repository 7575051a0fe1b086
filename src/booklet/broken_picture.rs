//! Finding a picture over which the typesetter breaks off.

use super::world::BookletWorld;
use crate::diagnostic::guard::guarded;
use std::collections::BTreeMap;

/// Whether the typesetter breaks off over a page with nothing but the picture at `path`.
pub fn breaks_alone(path: &str, bytes: &[u8]) -> bool {
    let main = format!("#set document(title: \"A\")\n#image(\"/{path}\", alt: \"A\")\n");
    let files = BTreeMap::from([
        ("alone.typ".to_string(), main.into_bytes()),
        (path.to_string(), bytes.to_vec()),
    ]);
    let Some(world) = BookletWorld::new(&files, "alone.typ", None) else {
        return false;
    };
    let set = guarded(|| {
        let (document, _) = world.compile();
        document.map(|document| world.export(&document, "alone").is_ok())
    });
    set.is_err()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sound_picture_breaks_nothing() {
        let plain =
            "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 6 4'><rect width='6'/></svg>";
        assert!(!breaks_alone("pictures/1.svg", plain.as_bytes()));
    }
}

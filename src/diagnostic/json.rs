//! Diagnostics for programs: one JSON object a line, with the fields of the checks of a proof.

use super::{Diagnostic, Diagnostics, Level, Place, SourceText, entry};
use serde_json::{Value, json};
use std::sync::Arc;

/// A diagnostic as an object: `code`, `level` (`note`, `warning`, `error`), `passed`, `message`,
/// `file`, `line`, `column`, `page`, `remedy`; what is not known is null. A diagnostic is a check
/// that did not pass, except a note, which finds nothing wrong.
///
/// `folder` is put before the path of the file; it may be empty.
pub fn object(diagnostic: &Diagnostic, folder: &str) -> Value {
    let place = diagnostic.place.as_ref();
    let file = place.map(|place| match folder {
        "" => place.source.path.clone(),
        folder => format!("{}/{}", folder.trim_end_matches('/'), place.source.path),
    });
    json!({
        "code": diagnostic.code,
        "level": diagnostic.level.word(),
        "passed": diagnostic.level == Level::Note,
        "message": diagnostic.message,
        "file": file,
        "line": place.map(|place| place.line),
        "column": place.map(|place| place.column),
        "page": diagnostic.page,
        "remedy": diagnostic.remedy,
    })
}

/// The diagnostic that [`object`] wrote without a folder; `source` gives the text of a file. `None` if its
/// code is not known, or its file is not had.
pub fn read(
    object: &Value,
    source: impl Fn(&str) -> Option<Arc<SourceText>>,
) -> Option<Diagnostic> {
    let number = |key: &str| object[key].as_u64().and_then(|n| usize::try_from(n).ok());
    let place = match object["file"].as_str() {
        Some(path) => Some(Place {
            source: source(path)?,
            line: number("line")?,
            column: number("column")?,
        }),
        None => None,
    };
    let level = object["level"].as_str()?;
    let levels = [Level::Note, Level::Warning, Level::Error];
    Some(Diagnostic {
        code: entry(object["code"].as_str()?)?.code,
        level: levels.into_iter().find(|known| known.word() == level)?,
        message: object["message"].as_str()?.to_string(),
        remedy: object["remedy"].as_str()?.to_string(),
        place,
        page: number("page"),
    })
}

/// All diagnostics, sorted by place, one object a line.
pub fn lines(diagnostics: &Diagnostics, folder: &str) -> String {
    let sorted = diagnostics.sorted().into_iter();
    sorted.map(|d| format!("{}\n", object(d, folder))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_object_a_line_with_the_fields_of_a_check() {
        let place = Place {
            source: Arc::new(SourceText {
                path: "feet/small.yaml".into(),
                text: String::new(),
            }),
            line: 3,
            column: 7,
        };
        let mut all = Diagnostics::default();
        all.push(Diagnostic::error("no-unit", Some(&place), "A \"b\"\nc.").remedy("write 5 mm"));
        all.push(Diagnostic::note("no-unit", None, "N.").on_page(2));
        for told in all.iter() {
            let source = |path: &str| (path == "feet/small.yaml").then(|| place.source.clone());
            assert_eq!(read(&object(told, ""), source).as_ref(), Some(told));
        }
        assert_eq!(
            lines(&all, "designs/shoe"),
            "{\"code\":\"no-unit\",\"level\":\"error\",\"passed\":false,\
             \"message\":\"A \\\"b\\\"\\nc.\",\"file\":\"designs/shoe/feet/small.yaml\",\"line\":3,\
             \"column\":7,\"page\":null,\"remedy\":\"Write 5 mm.\"}\n\
             {\"code\":\"no-unit\",\"level\":\"note\",\"passed\":true,\"message\":\"N.\",\
             \"file\":null,\"line\":null,\"column\":null,\"page\":2,\"remedy\":\"\"}\n"
        );
    }
}

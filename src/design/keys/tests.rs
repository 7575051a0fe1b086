use super::*;

/// The guide for designers.
const GUIDE: &str = include_str!("../../../designs/README.md");

#[test]
fn the_guide_names_every_key_with_its_colon() {
    for entry in all() {
        let key = entry.key();
        let given_by_the_designer = key.chars().all(char::is_uppercase);
        // a block is named by its fence
        let with_colon = match entry.path {
            "figure" => "```figure".to_string(),
            _ => format!("{key}:"),
        };
        let mut told = GUIDE.match_indices(&with_colon);
        let named = told.any(|(at, _)| !GUIDE[..at].ends_with(char::is_alphabetic));
        assert!(named || given_by_the_designer, "{} is not told", entry.path);
    }
}

#[test]
fn paths_are_unique_and_every_group_is_told() {
    let paths: Vec<&str> = all().map(|entry| entry.path).collect();
    for (number, path) in paths.iter().enumerate() {
        assert!(!paths[..number].contains(path), "{path} stands twice");
        if let Some((group, _)) = path.rsplit_once('.') {
            assert!(
                entry(group).is_some() || matches!(group, "foot" | "booklet"),
                "{group}"
            );
        }
    }
}

#[test]
fn a_key_is_explained_by_its_name_or_its_path() {
    assert_eq!(explain("cloth.CLOTH.width").len(), 1);
    let paths: Vec<&str> = explain("width:").iter().map(|entry| entry.path).collect();
    assert_eq!(
        paths,
        [
            "picture.width",
            "cloth.CLOTH.width",
            "trims.TRIM.width",
            "pieces.PIECE.rectangle.width",
            "pieces.PIECE.ellipse.width"
        ]
    );
    assert!(explain("nothing").is_empty());
}

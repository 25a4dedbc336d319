//! File names made from what the maker calls things.

use std::fmt;

use design::Piece;

/// Most letters of a name that a file name keeps.
const LONGEST: usize = 40;

/// Names that some systems give to devices, whatever the extension.
const DEVICES: &[&str] = &["aux", "con", "nul", "prn"];

/// A file name without its extension: `a` to `z`, `0` to `9` and `-` only, neither empty nor long.
///
/// Whatever stands in the parameter file, a path built from these stays in its folder.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct FileName(String);

impl FileName {
    /// The name that is nearest to `text`, or `fallback` when no letter of it can be kept.
    pub(crate) fn of(text: &str, fallback: &str) -> Self {
        let name = Self::plain(text);
        let name = if name.is_empty() { Self::plain(fallback) } else { name };
        Self(if is_device(&name) { format!("{name}-file") } else { name })
    }

    /// `07-comb`: a number from the cut list before the name.
    pub(crate) fn numbered(number: &str, name: &str) -> Self {
        let number = Self::plain(number);
        let number = if number.is_empty() { "00" } else { &number };
        Self(format!("{number}-{}", Self::of(name, "part")))
    }

    /// Number and name of a piece.
    pub(crate) fn of_part(piece: &Piece) -> Self {
        Self::numbered(&piece.number, &piece.name)
    }

    fn plain(text: &str) -> String {
        let mut name = String::new();
        for letter in text.chars() {
            if letter.is_ascii_alphanumeric() {
                name.push(letter.to_ascii_lowercase());
            } else if let Some(plain) = plain_letters(letter) {
                name.push_str(plain);
            } else if !name.is_empty() && !name.ends_with('-') {
                name.push('-');
            }
        }
        name.truncate(LONGEST);
        name.trim_end_matches('-').to_owned()
    }
}

impl fmt::Display for FileName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

fn is_device(name: &str) -> bool {
    let numbered = |prefix| {
        name.strip_prefix(prefix).is_some_and(|rest| matches!(rest.as_bytes(), [b'1'..=b'9']))
    };
    DEVICES.contains(&name) || numbered("com") || numbered("lpt")
}

/// The letters that people write for a Latin letter with a mark when they have no marks.
fn plain_letters(letter: char) -> Option<&'static str> {
    Some(match letter.to_lowercase().next()? {
        'à' | 'á' | 'â' | 'ã' | 'ä' | 'å' | 'ā' | 'ă' | 'ą' => "a",
        'ç' | 'ć' | 'č' => "c",
        'ď' | 'đ' | 'ð' => "d",
        'è' | 'é' | 'ê' | 'ë' | 'ē' | 'ė' | 'ę' | 'ě' => "e",
        'ğ' => "g",
        'ì' | 'í' | 'î' | 'ï' | 'ī' | 'į' | 'ı' => "i",
        'ł' | 'ľ' | 'ĺ' => "l",
        'ñ' | 'ń' | 'ň' => "n",
        'ò' | 'ó' | 'ô' | 'õ' | 'ö' | 'ø' | 'ő' | 'ō' => "o",
        'ŕ' | 'ř' => "r",
        'ś' | 'š' | 'ş' | 'ș' => "s",
        'ť' | 'ţ' | 'ț' => "t",
        'ù' | 'ú' | 'û' | 'ü' | 'ů' | 'ű' | 'ū' | 'ų' => "u",
        'ý' | 'ÿ' => "y",
        'ź' | 'ż' | 'ž' => "z",
        'æ' => "ae",
        'œ' => "oe",
        'ß' => "ss",
        'þ' => "th",
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, expected: &str) {
        assert_eq!(FileName::of(text, "part").to_string(), expected);
    }

    #[test]
    fn names_become_plain() {
        check("Comb", "comb");
        check("sock holder, left", "sock-holder-left");
        check("Überlauf größe", "uberlauf-grosse");
        check("100 µm", "100-m");
        check("水槽", "part");
        check("", "part");
    }

    #[test]
    fn no_name_leads_out_of_its_folder() {
        check("../../etc/passwd", "etc-passwd");
        check("..", "part");
        check("/", "part");
        check(r"C:\windows", "c-windows");
        check("a\0b\nc\u{202e}d", "a-b-c-d");
        check("nul", "nul-file");
        check("COM1", "com1-file");
        check(&"long ".repeat(100), "long-long-long-long-long-long-long-long");
    }

    #[test]
    fn numbers_come_first_and_are_plain_too() {
        assert_eq!(FileName::numbered("07", "Comb").to_string(), "07-comb");
        assert_eq!(FileName::numbered("../7", "../x").to_string(), "7-x");
        assert_eq!(FileName::numbered("", "").to_string(), "00-part");
    }
}

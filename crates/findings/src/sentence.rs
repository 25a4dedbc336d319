//! Words of findings as sentences.

/// With a capital: what is found and what to do begin small, as they are told behind a grade or a name.
pub fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_letter_is_one() {
        assert_eq!(["über all", "", "8 mm"].map(capital), ["Über all", "", "8 mm"]);
    }
}

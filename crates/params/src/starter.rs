/// Which starter file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Starter {
    /// In inches, gallons and degrees Fahrenheit, else in millimetres, litres and degrees Celsius.
    pub us: bool,
}

/// The text of a small, complete, commented parameter file, to be changed into one's own. Its first
/// line lets editors find the schema, `sumpwright.schema.json`, beside it.
pub fn starter(starter: Starter) -> String {
    if starter.us { include_str!("starter/us.toml") } else { include_str!("starter/metric.toml") }
        .to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_are_read_without_a_finding() {
        for us in [false, true] {
            let read = crate::read(&starter(Starter { us }));
            assert_eq!(read.findings, [], "{}", read.findings[0]);
            assert!(read.file.is_some());
        }
    }

    #[test]
    fn both_walk_the_same_way() {
        let [metric, us] = [false, true].map(|us| crate::read(&starter(Starter { us })).spans);
        assert_eq!(metric.paths().collect::<Vec<_>>(), us.paths().collect::<Vec<_>>());
    }

    /// The examples for a table stand below it as notes; with their `#` taken away they are right there.
    #[test]
    fn examples_of_the_cabinet_and_of_bodies_are_right() {
        for us in [false, true] {
            let text = starter(Starter { us });
            let example = |key: &str| {
                let note = text.lines().find(|line| line.starts_with(&format!("# {key} = ")));
                note.expect("the example is there").trim_start_matches("# ").to_owned() + "\n"
            };
            let after = |text: &str, line: &str, keys: &[&str]| {
                let keys: String = keys.iter().map(|key| example(key)).collect();
                text.replacen(line, &format!("{line}{keys}"), 1)
            };
            let text = after(&text, "[cabinet]\n", &["post", "shelf", "fixture"]);
            let text = after(&text, "[[equipment]]\n", &["part", "stub"]);
            let read = crate::read(&text);
            assert_eq!(read.findings, [], "{}", read.findings[0]);
            assert!(read.spans.get("cabinet.fixture[0].pipe").is_some());
            assert!(read.spans.get("equipment[0].stub[0].length").is_some());
        }
    }

    #[test]
    fn the_first_line_points_editors_at_the_schema() {
        for us in [false, true] {
            assert!(starter(Starter { us }).starts_with("#:schema ./sumpwright.schema.json\n"));
        }
    }
}

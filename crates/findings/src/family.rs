//! What a finding is about at large, so that of one grade what is graver is read first.

/// A family of checks, the gravest first: our judgement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Family {
    /// Whether it holds: panels, seams, doors, sheet, what carries it.
    Strength,
    /// Whether water stays where it belongs, in flow and in every failure, and whether mains are safe from it.
    Flood,
    /// Whether sump and parts go in and come out again.
    WayOut,
    /// Whether it can be built and does what it is for: all that is in no other family.
    Work,
    /// How it is cut, ordered and glued.
    Shop,
}

impl Family {
    /// The family of a check, by its stable name.
    pub fn of(code: &str) -> Self {
        let lists = [(Self::Strength, STRENGTH), (Self::Flood, FLOOD), (Self::WayOut, WAY_OUT)];
        let all = lists.into_iter().chain([(Self::Shop, SHOP)]);
        let mut families = all.filter(|(_, codes)| codes.contains(&code));
        families.next().map_or(Self::Work, |(family, _)| family)
    }
}

const STRENGTH: &[&str] = &[
    "bottom-support",
    "corner-stress",
    "door-not-assessed",
    "door-pushed-off",
    "floor-load",
    "panel-bends",
    "panel-not-assessed",
    "panel-not-thin",
    "panel-strength",
    "seam-strength",
    "seams-not-assessed",
    "sheet-too-warm",
    "tips-over",
];

const FLOOD: &[&str] = &[
    "break-hole-blocked",
    "check-valve-fails",
    "cup-overflows",
    "display-freeboard",
    "display-runs-over",
    "door-off",
    "door-shut",
    "drain-blocked",
    "emergency-drain-wet",
    "failures",
    "failures-together",
    "freeboard-in-flow",
    "leaf-missing",
    "mains-near-water",
    "no-emergency-drain",
    "power-back",
    "power-cut",
    "rehearsal-band",
    "rehearsal-left-out",
    "seam-leaks",
    "sock-overflow",
    "socks-clogged",
    "strainer-downstream",
    "strainers-clogged",
    "top-up-stuck",
];

const WAY_OUT: &[&str] = &[
    "part-weight",
    "sump-enters",
    "sump-into-cabinet",
    "sump-larger-than-cabinet",
    "sump-out-of-cabinet",
    "sump-weight",
    "way-out",
    "way-out-order",
];

const SHOP: &[&str] = &[
    "bridge-in-glued-edge",
    "edge-leans",
    "edge-unheld-for-long",
    "gap-too-wide-for-solvent",
    "glue-up-order",
    "glued-edge-under-stress",
    "held-at-one-side",
    "hole-is-drilled",
    "inner-corner-sharper-than-tool",
    "no-room-for-bridges",
    "no-saw-plan",
    "not-for-a-saw",
    "part-larger-than-sheet",
    "pocket-under-laser",
    "poisonous-under-laser",
    "price-of-nothing",
    "sheet-thick-for-process",
    "sheets-cheapest",
    "small-part-under-vacuum",
    "square-end-in-round-groove",
    "strip-too-narrow-for-bridges",
    "too-few-sheets",
    "tool-path-not-made",
    "worked-from-both-faces",
];

#[cfg(test)]
mod tests {
    use std::fs;
    use std::path::Path;

    use super::*;

    /// All words of the crates' sources but those of this file.
    fn sources(folder: &Path) -> String {
        let mut all = String::new();
        for entry in fs::read_dir(folder).expect("the crates are there").flatten() {
            let path = entry.path();
            if path.is_dir() {
                all += &sources(&path);
            } else if path.extension().is_some_and(|e| e == "rs") && !path.ends_with("family.rs") {
                all += &fs::read_to_string(&path).expect("a source");
            }
        }
        all
    }

    #[test]
    fn every_check_that_is_named_here_is_made_somewhere() {
        let crates = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
        let all: String = fs::read_dir(crates)
            .expect("the crates are there")
            .flatten()
            .map(|entry| entry.path().join("src"))
            .filter(|src| src.is_dir())
            .map(|src| sources(&src))
            .collect();
        let gone: Vec<&&str> = [STRENGTH, FLOOD, WAY_OUT, SHOP]
            .iter()
            .flat_map(|codes| codes.iter())
            .filter(|code| !all.contains(&format!("\"{code}\"")))
            .collect();
        assert!(gone.is_empty(), "no check is called {gone:?}");
    }

    #[test]
    fn what_is_in_no_list_comes_before_the_shop_only() {
        let codes =
            ["panel-strength", "power-cut", "way-out", "hole-near-edge", "price-of-nothing"];
        let families = codes.map(Family::of);
        assert!(families.is_sorted());
        assert_eq!(families[3], Family::Work);
    }
}

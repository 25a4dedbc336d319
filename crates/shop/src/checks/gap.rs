//! Grooves and steps that are wider than the sheet glued into them by more than solvent fills.
//!
//! A groove is as wide as the thickest sheet of its band and the fit (`cutting.groove_fit`). Where the sheet comes out at
//! its thinnest, all the band is added to the fit: thin solvent is drawn into a narrow gap only, and what it does not fill
//! is no joint.

use std::collections::BTreeMap;

use design::{Design, JointKind, Sheet};
use findings::Finding;
use params::Material;
use units::Length;

/// Rounding, mm.
const SAME_MM: f64 = 1e-9;

/// One finding for each sheet and kind of joint.
pub(super) fn check(file: &params::File, design: &Design) -> Vec<Finding> {
    // Of each sheet that is glued into a groove or a step: the parts, by name.
    let mut groups: BTreeMap<(&str, JointKind), Vec<String>> = BTreeMap::new();
    for joint in &design.joints {
        if !matches!(joint.kind, JointKind::Dado | JointKind::Rabbet) {
            continue;
        }
        // The first of a joint is the part whose edge stands in the groove.
        let piece = &design.pieces[design.placed[joint.a].piece];
        let Some(sheet) = piece.sheet.as_deref() else { continue };
        let names = groups.entry((sheet, joint.kind)).or_default();
        let name = format!("{} {}", piece.number, piece.name);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let of_group = |((sheet, kind), names): (&(&str, JointKind), &Vec<String>)| {
        let sheet = design.sheets.get(*sheet)?;
        finding(file, design, sheet, *kind, &names.join(", "))
    };
    groups.iter().filter_map(of_group).collect()
}

/// Gap beside the thinnest sheet of a band in a groove or step that is cut for its thickest, mm.
pub(super) fn widest_gap_mm(sheet: &Sheet, groove_fit_mm: f64) -> f64 {
    let [least, most] = sheet.band_mm;
    most.max(sheet.thickness_mm()) + groove_fit_mm - least
}

fn finding(
    file: &params::File,
    design: &Design,
    sheet: &Sheet,
    kind: JointKind,
    names: &str,
) -> Option<Finding> {
    let gap = widest_gap_mm(sheet, file.cutting.groove_fit.to_mm());
    if gap <= Material::SOLVENT_FILLS_MM + SAME_MM {
        return None;
    }
    let show = |mm: f64| Length::mm(mm).show_fine(design.report);
    let what = if kind == JointKind::Dado { "grooves" } else { "steps" };
    let filled = if gap <= Material::THICKENED_FILLS_MM + SAME_MM {
        "thin solvent does not fill that, thickened cement does".to_owned()
    } else {
        format!(
            "thin solvent does not fill that, and thickened cement fills up to {}: where it is so wide there is no joint",
            show(Material::THICKENED_FILLS_MM)
        )
    };
    let message = format!(
        "the {what} are cut for the thickest of sheet `{}`, and leave up to {} beside the thinnest ({} of {}): {filled}; glued \
         there: {names}",
        sheet.name,
        show(gap),
        show(sheet.band_mm[0]),
        if sheet.is_measured { "what was measured" } else { "what its standard allows" },
    );
    let measure = if sheet.is_measured {
        "cut these parts and their grooves for the thickness found at these very edges (a narrower `measured`)"
    } else {
        "measure the sheet (`measured`)"
    };
    let pushed = if kind == JointKind::Rabbet {
        "; push a part against the side of its step, so that it is glued there"
    } else {
        ""
    };
    Some(
        Finding::tight("gap-too-wide-for-solvent", format!("sheet.{}.measured", sheet.name), message)
            .with_limit(gap, Material::SOLVENT_FILLS_MM, "mm")
            .with_source(
                "common practice: thin solvent runs into 0.05 to 0.2 mm, thickened cement into 0.5 mm (the latter from memory)",
            )
            .with_hint(format!(
                "{measure}, take butt joints (`joint = \"butt\"`), or glue with thickened cement{pushed}"
            )),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use params::Measured;
    use plate::Shape;

    fn file(demo: &str, change: impl Fn(&mut params::File)) -> (params::File, Design) {
        let path = format!("{}/../../params/{demo}.toml", env!("CARGO_MANIFEST_DIR"));
        let read = params::read(&std::fs::read_to_string(path).expect("the demo is there"));
        let mut file = read.file.expect("it reads");
        change(&mut file);
        let design = design::resolve(&file).design.expect("it resolves");
        (file, design)
    }

    fn told(band: Option<[f64; 2]>) -> Vec<Finding> {
        let (file, design) = file("mangrove", |file| {
            for sheet in file.sheet.values_mut() {
                let t = sheet.thickness.to_mm();
                sheet.measured =
                    band.map(|band| Measured::Band(band.map(|off| Length::mm(t + off))));
            }
        });
        check(&file, &design)
    }

    #[test]
    fn a_gap_is_told_by_what_fills_it() {
        // With the fit of 0.1 mm: gaps of 0.1, 0.2, 0.3, 0.5 and 0.6 mm.
        for (band, words) in [
            (0.0, None),
            (0.1, None),
            (0.2, Some("thickened cement does;")),
            (0.4, Some("thickened cement does;")),
            (0.5, Some("there is no joint")),
        ] {
            let told = told(Some([-band, 0.0]));
            assert_eq!(told.is_empty(), words.is_none(), "{band} {told:#?}");
            for finding in &told {
                assert_eq!(finding.code, "gap-too-wide-for-solvent");
                assert!(words.is_some_and(|words| finding.message.contains(words)), "{finding:#?}");
                let limit = finding.limit.as_ref().expect("it has one");
                assert!((limit.measured - band - 0.1).abs() < 1e-9);
            }
        }
    }

    /// A sheet that nobody measured may be as thin as its standard allows: ISO 7823-1, ±(0.4 + 0.1 t).
    #[test]
    fn an_unmeasured_sheet_is_to_be_measured() {
        let told = told(None);
        assert!(!told.is_empty());
        for finding in told {
            assert!(
                finding.hint.as_ref().is_some_and(|hint| hint.starts_with("measure the sheet"))
            );
            assert!(finding.limit.is_some_and(|limit| limit.measured > 2.0));
        }
    }

    /// The gap by the widths that are drawn: the narrowest side of every groove's floor, less the thinnest sheet.
    #[test]
    fn it_is_the_gap_of_what_is_drawn() {
        let (file, design) = file("mangrove", |_| ());
        let fit = file.cutting.groove_fit.to_mm();
        let mut seen = 0;
        for joint in design.joints.iter().filter(|joint| joint.kind == JointKind::Dado) {
            let of = |placed: usize| &design.pieces[design.placed[placed].piece];
            let sheet = &design.sheets[of(joint.a).sheet.as_ref().expect("it is sheet")];
            let Shape::Sheet(host) = &of(joint.b).shape else { panic!("it is sheet") };
            let expected = sheet.band_mm[0] + widest_gap_mm(sheet, fit);
            let widths = host.cuts.iter().filter(|cut| cut.depth < host.thickness);
            let widths = widths.filter_map(|cut| cut.contour.bounds());
            assert!(
                widths.map(|[lo, hi]| (hi - lo).min_element()).any(|w| (w - expected).abs() < 1e-9)
            );
            seen += 1;
        }
        assert!(seen > 0);
    }
}

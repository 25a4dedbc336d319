//! Guards what is laid for whole files.

use glam::DVec2;

use super::*;

const SEAHORSE: &str = include_str!("../../../../params/seahorse.toml");
const STOCK: &str = "stock = [
    { size = [2050, 1525], price = 148.0 },
    { size = [900, 600], own = true, quantity = 1 },
]";

struct Laying {
    file: File,
    design: Design,
    works: Vec<Work>,
    plans: Vec<StockPlan>,
    findings: Vec<Finding>,
}

fn laying(text: &str) -> Laying {
    let read = params::read(text);
    let file = read.file.unwrap_or_else(|| panic!("{:#?}", read.findings));
    let design = design::resolve(&file).design.expect("it resolves");
    let (works, _) = crate::works(&file, &design);
    let (plans, findings) = lay(&file, &design, &works);
    Laying { file, design, works, plans, findings }
}

fn with(from: &str, to: &str) -> Laying {
    assert!(SEAHORSE.contains(from), "the demo has it");
    laying(&SEAHORSE.replace(from, to))
}

/// A plan whose sheets are cut straight through.
pub(super) fn sawn_plan() -> StockPlan {
    with("[cutting]\n", "[cutting]\nstraight_through = true\n").plans.remove(0)
}

impl Laying {
    fn laid(&self) -> impl Iterator<Item = &Laid> {
        self.plans.iter().flat_map(|plan| &plan.sheets).flat_map(|sheet| &sheet.laid)
    }

    fn bounds(&self, laid: &Laid) -> [DVec2; 2] {
        let work = self.works.iter().find(|work| work.piece == laid.piece).unwrap();
        let corners = work.pattern.through[0].bounds().unwrap().map(|p| laid.point(p));
        [corners[0].min(corners[1]), corners[0].max(corners[1])]
    }

    fn found(&self, code: &str) -> Vec<&Finding> {
        self.findings.iter().filter(|finding| finding.code == code).collect()
    }

    #[track_caller]
    fn check(&self) {
        let wanted = self.design.pieces.iter().filter(|piece| piece.role.is_sheet());
        assert_eq!(self.laid().count(), wanted.map(|piece| piece.quantity).sum::<usize>());
        let (edge, between) =
            (gaps::edge_mm(&self.file.cutting), gaps::between_mm(&self.file.cutting));
        for sheet in self.plans.iter().flat_map(|plan| &plan.sheets) {
            for (k, laid) in sheet.laid.iter().enumerate() {
                let [lo, hi] = self.bounds(laid);
                assert!(edge - 1e-6 <= lo.min_element(), "{lo}");
                assert!(hi.cmple(sheet.size_mm - edge + 1e-6).all(), "{hi}");
                for other in sheet.laid[..k].iter().filter(|_| !laid.is_in_opening) {
                    let [other_lo, other_hi] = self.bounds(other);
                    let apart = (other_lo - hi).max(lo - other_hi).max_element();
                    assert!(other.is_in_opening || between - 1e-6 <= apart, "{apart}");
                }
            }
        }
    }
}

#[test]
fn every_copy_lies_once_and_as_far_from_others_as_it_must() {
    let laying = laying(SEAHORSE);
    laying.check();
    assert!(laying.laid().any(|laid| laid.is_in_opening), "the rim has room");
    assert!(laying.plans[0].is_proved);
    let [finding] = laying.found("sheets-cheapest")[..] else { panic!("one sheet, one finding") };
    assert_eq!(finding.grade, ::findings::Grade::Holds);
}

#[test]
fn the_same_file_is_laid_the_same() {
    assert_eq!(laying(SEAHORSE).plans, laying(SEAHORSE).plans);
}

#[test]
fn without_sizes_a_usual_one_is_taken_and_no_price_is_told() {
    let laying = with(STOCK, "");
    laying.check();
    let plan = &laying.plans[0];
    assert_eq!((plan.price, plan.least_price, plan.sheets[0].stock), (None, None, None));
    let [finding] = laying.found("sheets-cheapest")[..] else { panic!("one sheet, one finding") };
    assert_eq!(finding.grade, ::findings::Grade::NotChecked);
}

#[test]
fn a_part_larger_than_every_sheet_is_told_and_the_others_are_laid() {
    let laying = with(STOCK, "stock = [{ size = [1000, 600], price = 38.0 }]");
    let found = laying.found("part-larger-than-sheet");
    assert!(!found.is_empty());
    assert!(found.iter().all(|finding| finding.grade == ::findings::Grade::Fails));
    assert!(found[0].message.contains("1000 mm × 600 mm"), "{}", found[0].message);
    assert!(laying.laid().next().is_some());
}

#[test]
fn too_few_sheets_are_told() {
    let laying = with(STOCK, "stock = [{ size = [1250, 600], quantity = 1 }]");
    assert_eq!(laying.found("too-few-sheets").len(), 1);
    assert_eq!(laying.plans, []);
}

#[test]
fn nothing_is_turned_on_a_patterned_sheet() {
    let laying = with(STOCK, &format!("patterned = true\n{STOCK}"));
    laying.check();
    assert!(laying.laid().all(|laid| !laid.is_turned));
}

#[test]
fn openings_stay_empty_when_they_are_to() {
    let laying = with("[cutting]", "[cutting]\nnest_in_openings = false");
    laying.check();
    assert!(laying.laid().all(|laid| !laid.is_in_opening));
}

#[test]
fn a_saw_is_told_its_cuts() {
    let laying = with("[cutting]", "[cutting]\nstraight_through = true");
    laying.check();
    assert!(laying.laid().all(|laid| !laid.is_in_opening));
    for sheet in &laying.plans[0].sheets {
        // A part has four sides, and no cut makes more than one side of two parts.
        assert!(sheet.laid.len() < 1 + sheet.saw_cuts.len());
        assert_eq!(sheet.saw_cuts[0].depth, 0);
    }
}

#[test]
fn an_offcut_is_clear_of_parts_and_of_what_the_tool_takes() {
    for laying in [laying(SEAHORSE), with("[cutting]", "[cutting]\nstraight_through = true")] {
        let width = laying.file.cutting.cut_width().to_mm();
        let sheets = laying.plans.iter().flat_map(|plan| &plan.sheets);
        for (sheet, offcut) in sheets.flat_map(|s| s.offcuts.iter().map(move |offcut| (s, offcut)))
        {
            let [lo, hi] = offcut.corners_mm;
            assert!(lo.cmpge(DVec2::ZERO).all() && hi.cmple(sheet.size_mm + 1e-9).all());
            for laid in &sheet.laid {
                let [part_lo, part_hi] = laying.bounds(laid);
                let is_beside = width - 0.011 <= (part_lo - hi).max(lo - part_hi).max_element();
                let is_within = lo.cmpgt(part_lo).all() && hi.cmplt(part_hi).all();
                assert!(is_beside || is_within, "{offcut:?}");
            }
        }
    }
}

//! Where the work can hurt, and what to do about it.
//!
//! Usual cautions of the trade (common practice), written from general knowledge; the safety data
//! sheets of the makers, local codes and licensed people come before them.

use design::Design;
use params::Material;
use units::{System, Volume};

use study::InFlow;
use study::told::figures::Figures;
use study::told::reserve;

/// A caution: its title and what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Caution {
    pub(crate) title: &'static str,
    pub(crate) text: String,
}

/// The cautions that a design calls for, with its water in flow where that is known, and the names of leaves that must not
/// hold water on one side alone.
pub(crate) fn of(
    design: &Design,
    in_flow: Option<&InFlow<'_>>,
    not_alone: &[String],
) -> Vec<Caution> {
    let mut cautions = vec![cutting(design)];
    if design.joints.iter().any(|joint| joint.kind.is_glued()) {
        cautions.push(caution(
            "Gluing",
            "Solvent cements and their vapours harm and catch fire. Work under extraction or in the open, away \
             from flames and sparks, with the gloves and eye protection that the cement's safety data sheet \
             names. Cemented joints need days to reach their strength: wait as long as the maker says.",
        ));
    }
    if design.pieces.iter().any(|piece| piece.role.is_printed()) {
        cautions.push(caution(
            "Printing",
            "Air the room while printing. Filaments and their dyes may give off what harms animals: take one \
             that is known to be harmless in your water, and rinse the parts.",
        ));
    }
    cautions.push(caution(
        "Leak test before use",
        "Close every hole, fill the finished box in stages to just below the rim on a level place where a leak does \
         no harm, look at every seam for an hour at most, then lower the water to the highest level of use and leave it for a \
         day at least; the glue-up guide says how. Stay clear of the panels while it is full. Test again after every \
         change.",
    ));
    let both_sides = documents::both_sides(not_alone);
    cautions.extend(both_sides.map(|words| caution("Water on both sides", words)));
    cautions.push(floor_load(design));
    cautions.push(power_cut(design, in_flow));
    cautions.push(caution(
        "Heaters",
        "A heater that runs dry can burst, melt plastic and start a fire. Put it where water always covers it, and \
         have a low-water cut-off switch it off.",
    ));
    cautions.push(caution(
        "Mains near water",
        "Plug everything in through a residual-current device (ground-fault interrupter), let every cable hang \
         in a loop below its socket so that water drips off, and pull all plugs before you reach into the water. \
         Fixed wiring is for a licensed electrician.",
    ));
    cautions.push(caution(
        "Local codes come first",
        "Nothing here replaces the electrical, plumbing and building codes of the place, or the judgement of \
         the people licensed to work by them. Ask them where a failure could hurt somebody.",
    ));
    cautions
}

fn caution(title: &'static str, text: impl Into<String>) -> Caution {
    Caution { title, text: text.into() }
}

fn cutting(design: &Design) -> Caution {
    let has_pvc = design.sheets.values().any(|sheet| sheet.material == Material::Pvc);
    let laser = if has_pvc {
        "This design has parts of PVC: never cut PVC with a laser, for it gives off hydrogen chloride, which \
         harms people and machines."
    } else {
        "Never cut PVC with a laser, not even an offcut: it gives off hydrogen chloride."
    };
    let has_acrylic = design
        .sheets
        .values()
        .any(|sheet| matches!(sheet.material, Material::CastAcrylic | Material::ExtrudedAcrylic));
    let attend = if has_acrylic {
        " Acrylic may catch fire under a laser: stay with it, an extinguisher at hand. Cement makes fine cracks in \
         edges that a laser has cut unless the parts are annealed first (makers' guides, from memory)."
    } else {
        ""
    };
    caution(
        "Cutting",
        format!(
            "Clamp the sheet, wear eye and ear protection, and draw dust, chips and fumes off. {laser} Edges and \
             chips are sharp: break every edge that a hand can reach.{attend}"
        ),
    )
}

/// What comes down is an estimate at best; the test by hand is not.
fn power_cut(design: &Design, in_flow: Option<&InFlow<'_>>) -> Caution {
    let how_much = match in_flow {
        None => "How much is not computed, for the file does not tell enough.".to_owned(),
        Some(in_flow) => {
            let figures = Figures(design.report);
            let kept = &in_flow.report.reserve;
            let litres = figures.litres(kept.drain_back_l);
            let safe = match kept.highest_safe_m {
                Some(m) => format!(
                    " Never keep the return chamber above {}, the line `MAX` where its scale has one (decided by: {}). \
                     What may be added from the level that is kept up to there: {}.",
                    figures.length(m),
                    kept.decided_by,
                    reserve::room(in_flow, figures)
                ),
                None => String::new(),
            };
            format!("By estimate it is {litres}.{safe} Do not trust that before you have tried it.")
        }
    };
    caution(
        "Power cut",
        format!(
            "When the pump stops, water drains back from the display until air gets into the pipes. {how_much} With \
             the sump at its working level, unplug the pump by hand, watch how far the water rises and be ready to \
             plug it in again, before you leave it alone. Test again after every change of pump, pipe or valve."
        ),
    )
}

/// The outer size bounds what the box can hold from above, so nobody is told too little.
fn floor_load(design: &Design) -> Caution {
    let most = Volume::l(design.outside.element_product() * 1e-6);
    let each = match design.report {
        System::Metric => "a litre of water weighs about 1 kg, sea water a little more",
        System::UsCustomary => "a gallon of water weighs about 8⅓ lb, sea water a little more",
    };
    caution(
        "Weight",
        format!(
            "By its outer size the box cannot hold more than {}; {each}. Stand and floor must carry it filled to \
             the rim, on a level, even surface that supports the whole bottom. Empty it before moving it.",
            most.show(design.report)
        ),
    )
}

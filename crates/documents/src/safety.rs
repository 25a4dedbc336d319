//! Cautions, each said where it counts. All are common practice unless they say more.

use design::{people_to_lift, who_lifts_alone};
use paper::Block;
use params::{File, Material, Process};
use study::told::cautions;

use crate::prose::{capital, caution};

/// Before the first drop of solvent.
pub(crate) fn solvent() -> Block {
    caution(
        "Solvent: fumes, skin, fire",
        [
            "Read the safety data sheet of your cement first; it comes before anything told here.",
            "Work outdoors or with a fan that draws the air away from your face: the vapour is heavier than air and \
             gathers in the box, on the floor and in cellars. A dust mask does not stop it.",
            "Gloves that the data sheet names (thin nitrile holds for minutes only), goggles, long sleeves. Off the skin \
             at once with soap and water; into the eye: rinse for a quarter of an hour and see a doctor.",
            "No flame, spark, cigarette, heater or switch nearby. Close the bottle between joints; no children and no \
             animals in the room, and none in the next one with an open door.",
        ],
    )
}

/// Where a box begins to hold vapour.
pub(crate) fn vapour_in_box() -> Block {
    caution(
        "From here on the box holds vapour",
        [
            "With three walls or more standing, the vapour stays inside like water. Keep your head out of it, and let a fan \
          blow across the open side between joints.",
        ],
    )
}

/// Edges that will be glued.
pub(crate) fn edges(file: &File) -> Block {
    let mut words = vec![
        "Never polish an edge that will be glued, by flame or by buffing: the heat leaves stress, and solvent turns stress \
         into fine cracks (crazing), at once or after weeks.",
        "Scrape or sand it flat and square: 220 grit, then 320, on a flat block. Keep its corners sharp; a rounded corner \
         leaves a gap that solvent does not fill.",
        "Keep the protective film off the joint: peel it back by two fingers' width and fold it away. Solvent that creeps \
         under film stains what it touches.",
    ];
    if file.sheet.keys().any(|name| file.cutting_of(Some(name)).process == Process::Laser) {
        words.push(
            "These parts are cut by laser, which melts their edges and leaves stress. Scrape the glazed skin off every \
             edge that is glued, and let the shop anneal the parts, or anneal them by the sheet maker's schedule, before \
             any solvent comes near.",
        );
    }
    caution("Edges to be glued", words)
}

/// Feeding and holding.
pub(crate) fn feeding() -> Block {
    caution(
        "Feed it, do not force it",
        [
            "Thin solvent runs in by itself where both faces touch. A part that must be pressed into place hard is a part \
             to be mended first: clamps squeeze the solvent out and leave dry spots and stress. Its own weight, tape and \
             squares are enough.",
            "Start at one end and follow the wet front with the needle. A dry, silvery spot is fed from the other side \
             while the joint is still wet; after that leave it alone. Catch a drop on a face with nothing: do not wipe, \
             let it dry.",
        ],
    )
}

/// Filled or two-part adhesive.
pub(crate) fn printed(file: &File) -> Block {
    caution(
        "A printed part is not welded",
        [format!(
            "Solvent for sheet does not weld filament reliably. Roughen both faces and use an adhesive that is safe for animals \
             once cured and whose maker names both plastics (common practice). {} Try it on scrap.",
            filament_takes(file)
        )],
    )
}

/// What the filament of the file is glued with, in the words that are told where its parts are printed.
pub(crate) fn filament_takes(file: &File) -> String {
    let filament = design::filament(&file.printing);
    let about_glue = filament.advice().iter().find(|advice| advice.words.contains("glue"));
    match about_glue {
        Some(advice) => format!("{}: {} ({}).", filament.name(), advice.words, advice.source),
        None => format!("Of {} nothing is known here: ask its maker.", filament.name()),
    }
}

/// Two plastics.
pub(crate) fn mixed() -> Block {
    caution(
        "Two plastics meet here",
        [
            "A cement for one of them may not take hold of the other. Use one whose maker names both, and try it on scrap for \
          a day before you trust it.",
        ],
    )
}

/// What a material asks for.
pub(crate) fn material(material: Material) -> Option<Block> {
    match material {
        Material::Polycarbonate => Some(caution(
            "Polycarbonate and solvent",
            [
                "Solvent makes polycarbonate weaker and may cloud or crack it where it is under stress; makers of the sheet say \
              so. Use as little as runs in, on parts that lie without tension, and try all of it on scrap first.",
            ],
        )),
        Material::ExtrudedAcrylic => Some(caution(
            "Extruded sheet",
            [
                "It crazes more easily than cast sheet and sets more slowly: least solvent, no pressure, and no joint near an \
              edge that was heated.",
            ],
        )),
        Material::CastAcrylic | Material::Pvc => None,
    }
}

/// From this on it is said what is turned weighs, kg; our judgement.
pub(crate) const HEAVY_KG: f64 = 12.0;

/// What is done when more people than find room would have to lift it.
const NOT_BY_HAND: &str = "More than four people may lift together.";

/// `two people`, by [`people_to_lift`]; `None` for one, and for more than find room.
fn people(n: u8) -> String {
    let number = match n {
        2 => "two",
        3 => "three",
        _ => "four",
    };
    format!("{number} people")
}

/// A sentence on who lifts it alone.
fn alone(kg: f64, alone_kg: f64) -> String {
    format!("{}.", capital(who_lifts_alone(kg, alone_kg)))
}

/// A box that is turned over, every time it is. How to hold it is told the first time. `alone_kg` is what one person lifts.
pub(crate) fn heavy(kg: f64, alone_kg: f64, mass: &str, is_first: bool) -> Block {
    let mut words = vec![format!("What is turned here weighs about {mass}.")];
    let head = match people_to_lift(kg, alone_kg) {
        Some(1) => {
            words.push(alone(kg, alone_kg));
            "Heavy to turn".to_owned()
        }
        Some(n) => format!("Turn it by {}", people(n)),
        None => {
            words.push(format!(
                "{NOT_BY_HAND} Do not lift it to turn it: let lifting straps and a hoist bear it, or roll it over one edge on a \
                 thick mat, with people on every side to steady it. Nobody puts a hand or a foot under it."
            ));
            "Too heavy to be turned by hand alone".to_owned()
        }
    };
    if is_first {
        words.push(
            "Let every joint that is made set first, lift it by the bottom and by whole walls, never by a leaf, and set it \
             down on a flat bench with a cloth over it. Keep fingers from under its edges."
                .to_owned(),
        );
    }
    caution(&head, words)
}

/// Before the leak test: what is lifted, and what the floor bears. `alone_kg` is what one person lifts.
pub(crate) fn lifting(kg: f64, alone_kg: f64, empty: &str, water: &str, together: &str) -> Block {
    let (head, who) = match people_to_lift(kg, alone_kg) {
        Some(1) => ("Lift it empty only".to_owned(), format!(" {}", alone(kg, alone_kg))),
        Some(n) => (format!("Lift it by {}, and empty only", people(n)), String::new()),
        None => (
            "Too heavy to be lifted by hand".to_owned(),
            format!(
                " {NOT_BY_HAND} Move it on a trolley or with lifting straps, and empty only; or glue it together where it \
                 will stand, and test it there with the floor made safe."
            ),
        ),
    };
    caution(
        &head,
        [
            format!(
                "The empty box weighs about {empty}.{who} Lift it by the bottom and by whole walls, never by the rim or a leaf."
            ),
            format!(
                "The water of the last stage weighs about {water} more, {together} together. Test it on a flat floor that \
                 carries this, not on a bench, a table or a shelf that was not made for it."
            ),
        ],
    )
}

/// Scraping, sanding and carrying of cut parts. Common practice.
pub(crate) fn scraping() -> Block {
    caution(
        "Sharp edges, chips and dust",
        [
            "Freshly cut sheet and a scraper cut skin: carry parts by their faces, with gloves against cuts, and take these \
             off before solvent is near. Scrape away from yourself.",
            "Wear goggles whenever you scrape, sand or cut. For dust a mask of class FFP2 or N95, and sand wet or with \
             suction; wipe dust up, do not blow it about.",
        ],
    )
}

/// Mains near water.
pub(crate) fn mains() -> Block {
    caution("Mains and water", [cautions::MAINS, cautions::LOCAL])
}

/// Estimates of levels; the drain that carries most of the flow is named where it is known.
pub(crate) fn estimates(drain: Option<&str>) -> Block {
    let words = drain.map_or_else(|| cautions::ESTIMATES.to_owned(), cautions::estimates);
    caution("Estimates", [words])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guide::tests::text;

    /// By HSE L23 two people lift 33.3 kg together where one lifts 25 kg, three 37.5 kg and four 50 kg.
    #[test]
    fn who_lifts_it_is_told_alike_wherever_it_is_told() {
        for (kg, said) in [
            (30.0, "by two people"),
            (36.0, "by three people"),
            (40.0, "by four people"),
            (60.0, "Too heavy"),
        ] {
            for block in [heavy(kg, 25.0, "m", false), lifting(kg, 25.0, "e", "w", "t")] {
                let told = text(&[block]);
                assert!(told.contains(said), "{kg}: {told}");
            }
        }
        let all =
            [heavy(60.0, 25.0, "m", true), lifting(60.0, 25.0, "e", "w", "t")].map(|b| text(&[b]));
        assert!(
            all.iter()
                .all(|told| told.contains("More than four people") && told.contains("straps"))
        );
        assert!(all[1].contains("trolley") && all[1].contains("where it will stand"));
        for block in [heavy(20.0, 25.0, "m", false), lifting(20.0, 25.0, "e", "w", "t")] {
            assert!(text(&[block]).contains("One strong person lifts it at best"));
        }
        // Who lifts less alone needs more hands.
        assert!(text(&[heavy(20.0, 10.0, "m", false)]).contains("by four people"));
    }
}

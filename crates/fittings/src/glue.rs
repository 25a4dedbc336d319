//! With what a printed part is glued to a sheet, by its filament and the sheet's plastic: the one place that says it.

use crate::filament::{Advice, Filament};

/// What a sheet is made of, as far as glue goes by it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SheetPlastic {
    /// Poly(methyl methacrylate), cast or extruded.
    Acrylic,
    /// Unplasticised poly(vinyl chloride).
    Pvc,
    /// Polycarbonate.
    Polycarbonate,
}

/// How a filament is glued to a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Glue {
    /// By this, the best first.
    Takes(&'static [Advice]),
    /// It holds when it is new, and not for years under water: why.
    Loosens(Advice),
    /// No glue holds: why.
    Never(Advice),
}

impl Filament {
    /// How it is glued to a sheet. What is said of the two holds for faces that lie flat on each other, under water.
    pub const fn glue(self, sheet: SheetPlastic) -> Glue {
        match (self, sheet) {
            (Self::Pp, _) => Glue::Never(NOT_PP),
            (Self::Tpu, _) => Glue::Never(NOT_TPU),
            (Self::Nylon, _) => Glue::Loosens(NOT_NYLON),
            (Self::Petg | Self::Asa | Self::Abs | Self::Pla, SheetPlastic::Acrylic) => {
                Glue::Takes(&[EPOXY, ONLY_TO_HOLD, CRAZES_ACRYLIC])
            }
            (Self::Petg | Self::Asa | Self::Abs | Self::Pla, SheetPlastic::Pvc) => {
                Glue::Takes(&[EPOXY, ONLY_TO_HOLD])
            }
            (Self::Petg | Self::Asa | Self::Abs | Self::Pla, SheetPlastic::Polycarbonate) => {
                Glue::Takes(&[EPOXY, CRAZES_POLYCARBONATE])
            }
        }
    }
}

impl Glue {
    /// All that is to be known, in one sentence without its full stop.
    pub fn words(&self) -> String {
        match self {
            Self::Takes(all) => {
                all.iter().map(|advice| advice.words).collect::<Vec<_>>().join("; ")
            }
            Self::Loosens(why) | Self::Never(why) => why.words.to_owned(),
        }
    }
}

const EPOXY: Advice = Advice {
    words: "glue it with two-part epoxy that is safe for animals once cured and whose maker names both plastics: both faces \
            roughened and wiped clean, a film all over, pressed lightly until it is hard",
    source: "common practice",
};

const ONLY_TO_HOLD: Advice = Advice {
    words: "cyanoacrylate gel, a dot beside the epoxy, only holds it in place meanwhile: by itself it ages in warm salt water and \
            comes off",
    source: "from memory: cyanoacrylates lose strength in warm water, as their makers' data sheets tell",
};

const CRAZES_ACRYLIC: Advice = Advice {
    words: "cyanoacrylate and its vapour can craze acrylic, at bends, drilled holes and fresh cuts above all: try it on a scrap",
    source: "common practice; stress cracking of acrylic by monomers, from memory",
};

const CRAZES_POLYCARBONATE: Advice = Advice {
    words: "no cyanoacrylate and no solvent on polycarbonate, which crazes where it is stressed: hold it with tape meanwhile",
    source: "common practice; stress cracking of polycarbonate by solvents and monomers, from memory",
};

pub(crate) const NOT_PP: Advice = Advice {
    words: "no glue holds on it: its surface sheds them all; press it or screw it on",
    source: "common practice; a surface energy of about 30 mN/m, where glue wants about 40 or more, from memory",
};

pub(crate) const NOT_NYLON: Advice = Advice {
    words: "glue comes off it in time: it swells with water, and the sheet that it is glued to does not; press it or screw it on",
    source: "our judgement, by how much polyamides grow in water",
};

pub(crate) const NOT_TPU: Advice = Advice {
    words: "no stiff glue holds on it: it stretches and peels off; clamp it",
    source: "common practice",
};

#[cfg(test)]
mod tests {
    use super::*;

    const SHEETS: [SheetPlastic; 3] =
        [SheetPlastic::Acrylic, SheetPlastic::Pvc, SheetPlastic::Polycarbonate];

    #[test]
    fn epoxy_comes_first_and_cyanoacrylate_only_holds() {
        for filament in Filament::ALL {
            for sheet in SHEETS {
                let glue = filament.glue(sheet);
                let words = glue.words();
                let Glue::Takes(all) = glue else { continue };
                assert!(all[0].words.contains("epoxy") && !all[0].words.contains("cyanoacrylate"));
                assert!(words.contains("only holds") || words.contains("no cyanoacrylate"));
                let warns = words.contains("craze");
                assert_eq!(warns, sheet != SheetPlastic::Pvc, "{filament:?} {sheet:?}");
                assert!(all.iter().all(|a| a.source.len() > 10 && !a.words.contains("  ")));
            }
        }
    }

    #[test]
    fn what_sheds_glue_is_never_glued() {
        for sheet in SHEETS {
            assert!(matches!(Filament::Pp.glue(sheet), Glue::Never(_)));
            assert!(matches!(Filament::Tpu.glue(sheet), Glue::Never(_)));
            assert!(matches!(Filament::Nylon.glue(sheet), Glue::Loosens(_)));
            assert!(matches!(Filament::Petg.glue(sheet), Glue::Takes(_)));
        }
    }

    /// What is told of a filament, and what is told where it is glued, are one.
    #[test]
    fn advice_on_a_filament_says_how_it_is_glued() {
        for filament in Filament::ALL {
            let about = filament.advice().iter().find(|advice| advice.words.contains("glue"));
            let about = about.expect("it is told").words;
            match filament.glue(SheetPlastic::Acrylic) {
                Glue::Takes(_) => {
                    assert!(about.contains("epoxy") && !about.contains("cyano"), "{about}");
                }
                Glue::Loosens(why) | Glue::Never(why) => assert_eq!(about, why.words),
            }
        }
    }
}

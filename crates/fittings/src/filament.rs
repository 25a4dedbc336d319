//! What filaments do in salt water, in heat and under load, and what is never printed.

use crate::glue::{NOT_NYLON, NOT_PP, NOT_TPU};

/// A statement with where it comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Advice {
    /// What is so.
    pub words: &'static str,
    /// Where it comes from: a paper, a standard, `common practice`, or `from memory`.
    pub source: &'static str,
}

/// What is printed with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Filament {
    /// Poly(ethylene terephthalate), glycol-modified.
    Petg,
    /// Acrylonitrile styrene acrylate.
    Asa,
    /// Acrylonitrile butadiene styrene.
    Abs,
    /// Polypropylene.
    Pp,
    /// Polylactide.
    Pla,
    /// Polyamide 6 or 66.
    Nylon,
    /// Thermoplastic polyurethane.
    Tpu,
}

/// Whether a filament may stay in the water of a sump.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum UnderWater {
    /// For years, as far as is known.
    Fit,
    /// It works, with what is said.
    WithCare,
    /// Only for jigs and for trying out.
    Unfit,
}

impl Filament {
    /// All, the most usual for sumps first.
    pub const ALL: [Self; 7] =
        [Self::Petg, Self::Asa, Self::Abs, Self::Pp, Self::Pla, Self::Nylon, Self::Tpu];

    /// Its name in the trade.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Petg => "PETG",
            Self::Asa => "ASA",
            Self::Abs => "ABS",
            Self::Pp => "PP",
            Self::Pla => "PLA",
            Self::Nylon => "nylon",
            Self::Tpu => "TPU",
        }
    }

    /// Whether it may stay in the water of a sump. Our judgement of what [`Self::advice`] says.
    pub const fn under_water(self) -> UnderWater {
        match self {
            Self::Petg | Self::Asa | Self::Abs | Self::Pp => UnderWater::Fit,
            Self::Nylon => UnderWater::WithCare,
            Self::Pla | Self::Tpu => UnderWater::Unfit,
        }
    }

    /// Temperature of deflection under load of 0.45 MPa (ISO 75, method B), °C: least and greatest of makers' usual
    /// data sheets; none where the method says nothing, because the material is soft at any temperature.
    ///
    /// From memory of data sheets, except PETG: 76 °C is stated for the like copolyester PCTG (Essentium, ISO 75), 65 to
    /// 75 °C for PETG.
    pub const fn deflection_c(self) -> Option<[f64; 2]> {
        match self {
            Self::Petg => Some([65.0, 76.0]),
            Self::Asa => Some([86.0, 100.0]),
            Self::Abs => Some([82.0, 98.0]),
            Self::Pp => Some([60.0, 100.0]),
            Self::Pla => Some([50.0, 60.0]),
            Self::Nylon => Some([60.0, 180.0]),
            Self::Tpu => None,
        }
    }

    /// The warmest place where it keeps its shape with nothing but its own weight and a light hand on it, °C: 15 °C below the least temperature of
    /// deflection, for that is measured in minutes and a fitting stays for years. Our judgement.
    pub fn warmest_c(self) -> Option<f64> {
        self.deflection_c().map(|[least, _]| least - 15.0)
    }

    /// What to know of it, the most important first.
    pub const fn advice(self) -> &'static [Advice] {
        match self {
            Self::Petg => PETG,
            Self::Asa => ASA,
            Self::Abs => ABS,
            Self::Pp => PP,
            Self::Pla => PLA,
            Self::Nylon => NYLON,
            Self::Tpu => TPU,
        }
    }
}

const fn common(words: &'static str) -> Advice {
    Advice { words, source: "common practice" }
}

const fn memory(words: &'static str) -> Advice {
    Advice { words, source: "from memory" }
}

const PETG: &[Advice] = &[
    Advice {
        words: "takes up little water and keeps its shape in it: the usual choice for fittings under water",
        source: "compared with PLA in water: Moreno Nieto et al., Polymers 13 (2021) 1036, doi:10.3390/polym13071036",
    },
    Advice {
        words: "creeps under a lasting load, more across its layers than along them: let it guide and hold in place, not carry",
        source: "Polymers 17 (2025) 2075, doi:10.3390/polym17152075; tests of creep go by ISO 899",
    },
    Advice {
        words: "softens from 65 to 75 °C: not beside a lamp, a ballast or in a car in summer",
        source: "temperature of deflection under load, ISO 75, makers' data sheets in general terms",
    },
    common("is not dissolved by acrylic cement: glue it with two-part epoxy, or press it on"),
];

const ASA: &[Advice] = &[
    memory("stands light, heat and salt water; takes up little water"),
    common(
        "shrinks in printing: a warm chamber or a brim, and a coupon of its own for the clearance",
    ),
    common(
        "glue it with two-part epoxy: acrylic cement and acetone attack it, which welds it and spoils it where they drip",
    ),
    common("air the room while printing: styrene"),
];

const ABS: &[Advice] = &[
    memory(
        "stands heat and salt water; light makes it brittle in the end: inside a cabinet, not under lamps",
    ),
    common(
        "shrinks in printing: a warm chamber or a brim, and a coupon of its own for the clearance",
    ),
    common(
        "glue it with two-part epoxy: acrylic cement and acetone attack it, which welds it and spoils it where they drip",
    ),
    common("air the room while printing: styrene"),
];

const PP: &[Advice] = &[
    memory(
        "takes up next to no water, stands salt and acids, and bends many times without breaking: good for clips",
    ),
    memory("creeps early and much: nothing that must keep a force for long"),
    common(
        "sticks to no bed but polypropylene tape and warps: for those who have printed it before",
    ),
    NOT_PP,
];

const PLA: &[Advice] = &[
    Advice {
        words: "water takes it apart slowly, warm water faster",
        source: "Deroiné et al., Polym. Degrad. Stab. 108 (2014) 319, doi:10.1016/j.polymdegradstab.2014.01.020, in sea \
                 water and distilled water of 25 to 50 °C",
    },
    Advice {
        words: "printed of recycled polylactide it lost 37 % of its strength in nine months of sea water",
        source: "Michalska-Pożoga et al., Materials 18 (2025) 4917, doi:10.3390/ma18214917",
    },
    Advice {
        words: "creeps for months, far below the temperature at which it softens: clips of it go slack",
        source: "Fischbach and Weinberg (2023), arXiv:2302.11240",
    },
    Advice {
        words: "softens from 50 to 60 °C",
        source: "temperature of deflection under load, ISO 75, makers' data sheets from memory",
    },
    common("prints true and without warping: right for jigs, gauges and for trying out a fitting"),
    common("glue it with two-part epoxy, for as long as it lasts"),
];

const NYLON: &[Advice] = &[
    Advice {
        words: "polyamide 6 takes up 9 % of its weight under water and grows by about 2 % in length; PA 12 takes up 1.4 % \
                and grows by 0.2 %",
        source: "makers' data sheets for cast polyamides in water",
    },
    common(
        "so what slides or snaps sticks after weeks in water: choose PA 12, or soak a coupon for a month first",
    ),
    memory("tough and slippery; loses half its stiffness and more when wet"),
    NOT_NYLON,
    common("dry the filament for hours before printing"),
];

const TPU: &[Advice] = &[
    common("it is soft as rubber: good for pads and seals, and no fitting keeps its shape in it"),
    memory(
        "grades on a polyester base are taken apart by warm water; those on a polyether base stand it",
    ),
    NOT_TPU,
];

/// What holds for every filament, the most important first.
pub const ALWAYS: &[Advice] = &[
    Advice {
        words: "never print what carries the load of the water or keeps it in: no wall, no bottom, no brace, no bulkhead, \
                no pipe under pressure. Layers hold less than the plastic, creep is not known for years of load, and lines \
                leave ways for water between them",
        source: "our judgement, with the creep of printed parts in arXiv:2302.11240 and doi:10.3390/polym17152075",
    },
    Advice {
        words: "never liquid resin in the water: parts of it killed all embryos of zebrafish in seven days, and parts of \
                melted filament harmed them measurably too, less",
        source: "Oskui et al., Environ. Sci. Technol. Lett. 3 (2016) 1, doi:10.1021/acs.estlett.5b00249",
    },
    common(
        "no metal: no brass inserts, no steel nuts or screws, no filament filled with metal or glowing pigment. Salt \
            water dissolves them, and copper kills invertebrates. Screws and nuts of PA or titanium",
    ),
    common(
        "plain filament of one maker, undyed or of a dye known to be safe; no filler of carbon, wood or glass",
    ),
    common(
        "wash before use: warm water with a drop of detergent and a brush, rinse, then a week in fresh water with a change a day",
    ),
    common(
        "print fittings full (100 % or at least four walls): hollow ones fill with water that stands and rots, and float until then",
    ),
    common(
        "every nozzle of brass sheds a little; keep one of steel for fittings if corals are to be near",
    ),
    common(
        "look at every printed part once a year: white lines where it bends are the first cracks",
    ),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_line_says_where_it_comes_from() {
        let all = Filament::ALL.iter().flat_map(|f| f.advice()).chain(ALWAYS);
        for Advice { words, source } in all {
            assert!(words.len() > 15 && !words.ends_with('.'), "{words}");
            assert!(source.len() > 10 && !words.contains("  "), "{words}");
        }
    }

    #[test]
    fn what_water_takes_apart_is_not_fit_for_it() {
        assert_eq!(Filament::Pla.under_water(), UnderWater::Unfit);
        assert_eq!(Filament::Petg.under_water(), UnderWater::Fit);
        // Warm tropical water leaves room even with PLA: it is water that takes it apart, not heat.
        for filament in Filament::ALL {
            assert!(filament.warmest_c().is_none_or(|warmest| warmest > 32.0), "{filament:?}");
            assert!(filament.deflection_c().is_none_or(|[least, most]| least <= most));
        }
    }

    #[test]
    fn nothing_that_carries_water_is_printed_and_no_metal_goes_in() {
        assert!(ALWAYS[0].words.contains("load of the water"));
        assert!(ALWAYS.iter().any(|a| a.words.starts_with("no metal")));
        assert!(ALWAYS.iter().any(|a| a.words.starts_with("wash before use")));
    }
}

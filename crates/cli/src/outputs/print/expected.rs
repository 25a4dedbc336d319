//! What other programs must find in the files of all that is printed for a sump.

use export::expectations::{AssemblyFile, MeshFile};
use export::step;

use super::Prints;
use crate::file_name::FileName;
use crate::files::Files;
use crate::printed::expected::{self, as_text};
use crate::printed::thing::{Thing, prints};

impl Prints<'_> {
    /// In the 3MF of the beds.
    pub(in crate::outputs) fn assemblies(&self) -> Vec<AssemblyFile> {
        let things: Vec<Thing<'_>> = self.named().into_iter().map(|(thing, _)| thing).collect();
        // What cannot be arranged was refused when the files were added.
        let beds = self.titled_beds().unwrap_or_default();
        let file = |(title, bed): &(String, _)| -> AssemblyFile {
            let bed: &crate::printed::thing::Plate<'_> = bed;
            let path = self.path(&FileName::of(title, "plate"), "3mf");
            expected::assembly(path, &bed.items, &things)
        };
        beds.iter().map(file).collect()
    }

    /// In the STEP files of the coupons, which are no parts of the sump.
    pub(in crate::outputs) fn solids(&self) -> step::Expectations {
        self.solids_of("coupons", &self.coupons_named())
    }

    fn solids_of(&self, title: &str, named: &[(Thing<'_>, FileName)]) -> step::Expectations {
        let files: Vec<String> = named.iter().map(|(_, name)| self.path(name, "step")).collect();
        let things: Vec<Thing<'_>> = named.iter().map(|(thing, _)| *thing).collect();
        expected::solids(title, &things, &files)
    }

    /// In the STL of the coupons.
    pub(in crate::outputs) fn meshes(&self) -> Vec<MeshFile> {
        self.meshes_of(&self.coupons_named())
    }

    fn meshes_of(&self, named: &[(Thing<'_>, FileName)]) -> Vec<MeshFile> {
        let file = |(thing, name): &(Thing<'_>, _)| expected::mesh(thing, self.path(name, "stl"));
        named.iter().map(file).collect()
    }

    /// What a printer must find.
    pub(in crate::outputs) fn prints(&self) -> serde_json::Value {
        let named = self.named();
        let stl: Vec<String> = named.iter().map(|(_, name)| self.path(name, "stl")).collect();
        let beds = self.assemblies().into_iter().map(|file| file.threemf).collect();
        let mates = named
            .iter()
            .zip(&stl)
            .flat_map(|((thing, _), stl)| expected::mates(thing, stl, |mate| *mate));
        let mates = mates.collect();
        let mut found = prints(&self.printer, stl.clone(), beds);
        found["mates"] = mates;
        found
    }

    /// Adds `checks/*.json` for a folder that holds nothing else than what [`Prints::add_alone`] adds.
    pub(crate) fn add_checks(&self, files: &mut Files) {
        let named = self.named();
        let things: Vec<Thing<'_>> = named.iter().map(|(thing, _)| *thing).collect();
        let alone = named.iter().map(|(thing, name)| {
            expected::assembly(self.path(name, "3mf"), &[thing.alone()], &things)
        });
        let assemblies: Vec<AssemblyFile> = alone.chain(self.assemblies()).collect();
        let solids = self.solids_of("fittings", &named);
        let meshes = self.meshes_of(&named);
        let mut check = |path, purpose: &'static str, list: String| {
            files.add_fixed(path, purpose, list);
        };
        check("checks/solids.json", "what to find in the STEP files", as_text(&solids));
        check("checks/meshes.json", "what to find in the STL files", as_text(&meshes));
        check("checks/assemblies.json", "what to find in the 3MF files", as_text(&assemblies));
        check("checks/fittings.json", "what a printer must find", as_text(&self.prints()));
    }
}

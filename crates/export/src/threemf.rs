//! Assemblies as 3MF, with names, colours and poses, in millimetres.
//!
//! Source: 3MF Consortium, *3MF Core Specification*: one package with one model part; base
//! materials; the matrix of a build item is written row by row, translation last. Read back
//! strictly, without a warning, by `lib3mf` in `tests/outside/mesh_judge.py`.

use std::fmt::Write as _;

use glam::DAffine3;
use solid::Mesh;

use crate::decimal::decimal;
use crate::packed;
use crate::single::SingleMesh;
use crate::xml::escape;

/// One thing in its place.
#[derive(Clone, Copy, Debug)]
pub struct Item<'a> {
    /// Its name.
    pub name: &'a str,
    /// Its number in the cut list; equal things have the same.
    pub part_number: &'a str,
    /// What it is made of, in words.
    pub material: &'a str,
    /// Its colour: red, green, blue (sRGB).
    pub colour: [u8; 3],
    /// Its closed mesh, in its own frame.
    pub mesh: &'a Mesh,
    /// From its own frame to that of the whole: a rotation and a move.
    pub pose: DAffine3,
}

/// Why a 3MF file could not be written.
#[derive(Debug, thiserror::Error)]
#[error("the 3MF file could not be packed: {0}")]
pub struct Error(#[from] packed::Error);

/// All items, in this order, as the bytes of one 3MF file.
///
/// # Errors
/// Only if the packed model grows beyond 4 GiB.
pub fn write(title: &str, items: &[Item]) -> Result<Vec<u8>, Error> {
    let model = model(title, items);
    let entries = [
        ("[Content_Types].xml", CONTENT_TYPES.as_bytes()),
        ("_rels/.rels", RELATIONS.as_bytes()),
        ("3D/3dmodel.model", model.as_bytes()),
    ];
    Ok(packed::write(entries)?)
}

const CONTENT_TYPES: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>
</Types>
"#;

const RELATIONS: &str = r#"<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Target="/3D/3dmodel.model" Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>
</Relationships>
"#;

/// Identifier of the list of materials; objects follow.
const MATERIALS_ID: usize = 1;

fn model(title: &str, items: &[Item]) -> String {
    let looks = looks(items);
    let materials: String = looks.iter().map(|look| material(*look)).collect();
    let objects: String = items
        .iter()
        .enumerate()
        .map(|(i, item)| object(MATERIALS_ID + 1 + i, item, index_of(&looks, item)))
        .collect();
    let build: String =
        items.iter().enumerate().map(|(i, item)| build_item(MATERIALS_ID + 1 + i, item)).collect();
    // Materials stand before the objects that use them, or strict readers do not find them.
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
         <model unit=\"millimeter\" xml:lang=\"en\" \
         xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n\
         <metadata name=\"Title\">{}</metadata>\n\
         <resources>\n\
         <basematerials id=\"{MATERIALS_ID}\">\n{materials}</basematerials>\n\
         {objects}</resources>\n\
         <build>\n{build}</build>\n</model>\n",
        escape(title)
    )
}

/// Name and colour of a material.
type Look<'a> = (&'a str, [u8; 3]);

fn looks<'a>(items: &[Item<'a>]) -> Vec<Look<'a>> {
    let mut looks = Vec::new();
    for item in items {
        if !looks.contains(&(item.material, item.colour)) {
            looks.push((item.material, item.colour));
        }
    }
    looks
}

fn index_of(looks: &[Look], item: &Item) -> usize {
    let is_its = |look: &Look| *look == (item.material, item.colour);
    looks.iter().position(is_its).expect("every item's look was collected")
}

fn material((name, [r, g, b]): Look) -> String {
    format!("<base name=\"{}\" displaycolor=\"#{r:02X}{g:02X}{b:02X}\"/>\n", escape(name))
}

fn object(id: usize, item: &Item, look: usize) -> String {
    let mesh = SingleMesh::new(item.mesh, &DAffine3::IDENTITY);
    let mut text = format!(
        "<object id=\"{id}\" type=\"model\" name=\"{}\" partnumber=\"{}\" pid=\"{MATERIALS_ID}\" pindex=\"{look}\">\
         <mesh>\n<vertices>\n",
        escape(item.name),
        escape(item.part_number)
    );
    for p in &mesh.positions {
        // The shortest decimals that give the same number in single precision.
        writeln!(text, "<vertex x=\"{}\" y=\"{}\" z=\"{}\"/>", p.x, p.y, p.z)
            .expect("writing to a String does not fail");
    }
    text += "</vertices>\n<triangles>\n";
    for [a, b, c] in &mesh.triangles {
        writeln!(text, "<triangle v1=\"{a}\" v2=\"{b}\" v3=\"{c}\"/>")
            .expect("writing to a String does not fail");
    }
    text + "</triangles>\n</mesh></object>\n"
}

fn build_item(id: usize, item: &Item) -> String {
    let matrix = item.pose.to_cols_array().map(|value| decimal(value, 9)).join(" ");
    let number = escape(item.part_number);
    format!("<item objectid=\"{id}\" partnumber=\"{number}\" transform=\"{matrix}\"/>\n")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::single::tests::sliced_box;
    use glam::dvec3;

    fn items(mesh: &Mesh) -> [Item<'_>; 2] {
        let item = Item {
            name: "leaf <first>",
            part_number: "03",
            material: "cast acrylic",
            colour: [200, 220, 225],
            mesh,
            pose: DAffine3::IDENTITY,
        };
        let turned = DAffine3::from_translation(dvec3(10.0, 20.0, 30.5))
            * DAffine3::from_rotation_z(std::f64::consts::FRAC_PI_2);
        [item, Item { name: "leaf second", pose: turned, ..item }]
    }

    #[test]
    fn names_are_escaped_and_the_translation_comes_last() {
        let mesh = sliced_box(dvec3(3.0, 2.0, 1.0), &[]);
        let model = model("a & b", &items(&mesh));
        assert!(model.contains("<metadata name=\"Title\">a &amp; b</metadata>"));
        assert!(
            model.contains("name=\"leaf &lt;first&gt;\" partnumber=\"03\" pid=\"1\" pindex=\"0\"")
        );
        assert!(model.contains("transform=\"0 1 0 -1 0 0 0 0 1 10 20 30.5\""), "{model}");
        assert_eq!(model.matches("<base ").count(), 1);
    }

    #[test]
    fn equal_models_are_equal_files() {
        let mesh = sliced_box(dvec3(3.0, 2.0, 1.0), &[]);
        let write = || write("twice", &items(&mesh)).expect("small enough");
        assert_eq!(write(), write());
    }
}

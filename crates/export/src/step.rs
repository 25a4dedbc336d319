//! STEP (ISO 10303-21, application protocol 214): one assembly of named, coloured, exact solids.
//!
//! Millimetres and radians, said so in the file. Every product is a part of its own with its B-rep
//! in its own frame; an instance places it by a rigid motion. Lines are lines, arcs are circles,
//! walls are planes, cylinders and cones: no splines. The file is plain ASCII, and the same
//! assembly gives the same bytes.
//!
//! ```
//! use export::step::{Assembly, Product, write};
//! use plate::Turned;
//! use solid::Solid;
//!
//! let rod = Solid::of_turned(&Turned::cylinder(20.0, 7.0))?;
//! let text = write(&Assembly {
//!     title: "rod",
//!     time_stamp: "2000-01-01T00:00:00",
//!     products: vec![Product { name: "rod", colour: [204, 204, 204], solid: &rod }],
//!     instances: vec![],
//! })?;
//! assert!(text.contains("CYLINDRICAL_SURFACE"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod data;
mod expectations;
mod shape;

pub use expectations::{Expectations, Faces, Part as PartExpectations, Placed};

use data::{Data, Id, string};
use glam::{DAffine3, DVec3};
use shape::ShapeWriter;
use solid::Solid;

/// What goes into one file.
#[derive(Clone, Debug)]
pub struct Assembly<'a> {
    /// Name of the assembly and of the file's content.
    pub title: &'a str,
    /// When the content was made, `YYYY-MM-DDThh:mm:ss`. It is passed in so that bytes repeat.
    pub time_stamp: &'a str,
    /// The different parts.
    pub products: Vec<Product<'a>>,
    /// Where they stand. With none, the products stand side by side, each in its own frame: a file
    /// of one part.
    pub instances: Vec<Instance<'a>>,
}

/// One part.
#[derive(Clone, Copy, Debug)]
pub struct Product<'a> {
    /// What a reader shows.
    pub name: &'a str,
    /// Red, green and blue as a screen takes them (sRGB).
    pub colour: [u8; 3],
    /// Its exact geometry.
    pub solid: &'a Solid,
}

/// One placed part.
#[derive(Clone, Copy, Debug)]
pub struct Instance<'a> {
    /// Index into [`Assembly::products`].
    pub product: usize,
    /// What a reader shows in the tree.
    pub name: &'a str,
    /// From the part's frame to the assembly's: a rotation and a translation in mm.
    pub pose: DAffine3,
}

/// Why no file was written.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// An instance of a product that is not there.
    #[error("instance `{instance}` is of product {product}, but there are only {products}")]
    NoSuchProduct {
        /// Name of the instance.
        instance: String,
        /// The index it has.
        product: usize,
        /// How many products there are.
        products: usize,
    },
    /// A pose that stretches, shears or mirrors; the format has no word for it.
    #[error("the pose of instance `{instance}` is no rotation and translation")]
    NotRigid {
        /// Name of the instance.
        instance: String,
    },
}

/// The text of a STEP file.
///
/// # Errors
/// An instance of a missing product, or with a pose that is not rigid within 1e-9.
pub fn write(assembly: &Assembly) -> Result<String, Error> {
    for instance in &assembly.instances {
        check(instance, assembly.products.len())?;
    }
    let mut file =
        File::new(assembly.products.iter().map(|product| product.solid.brep().edges.len()).sum());
    let parts: Vec<Part> = assembly.products.iter().map(|product| file.part(product)).collect();
    if !assembly.instances.is_empty() {
        file.assembly(assembly, &parts);
    }
    file.styles();
    Ok(header(assembly) + &file.data.finish())
}

fn check(instance: &Instance, products: usize) -> Result<(), Error> {
    if instance.product >= products {
        let name = instance.name.to_owned();
        return Err(Error::NoSuchProduct { instance: name, product: instance.product, products });
    }
    let m = instance.pose.matrix3;
    let off = (m.transpose() * m - glam::DMat3::IDENTITY).to_cols_array().into_iter().map(f64::abs);
    let rigid =
        off.fold(0.0, f64::max) < 1e-9 && m.determinant() > 0.0 && instance.pose.is_finite();
    if rigid { Ok(()) } else { Err(Error::NotRigid { instance: instance.name.to_owned() }) }
}

fn header(assembly: &Assembly) -> String {
    let title = string(assembly.title);
    let time_stamp = string(assembly.time_stamp);
    format!(
        "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(('exact solids, lengths in mm'),'2;1');\n\
         FILE_NAME({title},{time_stamp},(''),(''),'sumpwright','sumpwright','');\n\
         FILE_SCHEMA(('AUTOMOTIVE_DESIGN {{ 1 0 10303 214 1 1 1 1 }}'));\nENDSEC;\nDATA;\n"
    )
}

/// What an assembly needs to know of a part.
struct Part {
    definition: Id,
    representation: Id,
}

/// The entities that everything in the file refers to, and those written so far.
struct File {
    data: Data,
    product_context: Id,
    definition_context: Id,
    /// Units and accuracy.
    context: Id,
    origin: Id,
    styled: Vec<Id>,
}

impl File {
    fn new(n_edges: usize) -> Self {
        let mut data = Data::with_capacity(500 * n_edges);
        let application = data.entity("APPLICATION_CONTEXT", |a| {
            a.string("core data for automotive mechanical design processes");
        });
        data.entity("APPLICATION_PROTOCOL_DEFINITION", |a| {
            a.string("international standard")
                .string("automotive_design")
                .integer(2000)
                .id(application);
        });
        let product_context = data.entity("PRODUCT_CONTEXT", |a| {
            a.string("").id(application).string("mechanical");
        });
        let definition_context = data.entity("PRODUCT_DEFINITION_CONTEXT", |a| {
            a.string("part definition").id(application).string("design");
        });
        let context = units(&mut data);
        let origin = ShapeWriter::new(&mut data).placement(DVec3::ZERO, DVec3::Z, DVec3::X);
        Self { data, product_context, definition_context, context, origin, styled: Vec::new() }
    }

    fn part(&mut self, product: &Product) -> Part {
        let shell = ShapeWriter::new(&mut self.data).shell(product.solid.brep());
        let solid = self.data.entity("MANIFOLD_SOLID_BREP", |a| {
            a.string(product.name).id(shell);
        });
        let (origin, context) = (self.origin, self.context);
        let representation = self.data.entity("ADVANCED_BREP_SHAPE_REPRESENTATION", |a| {
            a.string(product.name).ids(&[origin, solid]).id(context);
        });
        let definition = self.product(product.name, representation);
        self.style(solid, product.colour);
        Part { definition, representation }
    }

    /// The chain from a name to its shape; returns the product definition.
    fn product(&mut self, name: &str, representation: Id) -> Id {
        let (product_context, definition_context) = (self.product_context, self.definition_context);
        let data = &mut self.data;
        let product = data.entity("PRODUCT", |a| {
            a.string(name).string(name).string("").ids(&[product_context]);
        });
        data.entity("PRODUCT_RELATED_PRODUCT_CATEGORY", |a| {
            a.string("part").unset().ids(&[product]);
        });
        let formation = data.entity("PRODUCT_DEFINITION_FORMATION", |a| {
            a.string("").string("").id(product);
        });
        let definition = data.entity("PRODUCT_DEFINITION", |a| {
            a.string("design").string("").id(formation).id(definition_context);
        });
        let shape = data.entity("PRODUCT_DEFINITION_SHAPE", |a| {
            a.string("").string("").id(definition);
        });
        data.entity("SHAPE_DEFINITION_REPRESENTATION", |a| {
            a.id(shape).id(representation);
        });
        definition
    }

    /// Both sides of all faces of a solid in one colour.
    fn style(&mut self, solid: Id, colour: [u8; 3]) {
        let data = &mut self.data;
        let rgb = data.entity("COLOUR_RGB", |a| {
            a.string("");
            for channel in colour {
                a.real(f64::from(channel) / 255.0);
            }
        });
        let fill_colour = data.entity("FILL_AREA_STYLE_COLOUR", |a| {
            a.string("").id(rgb);
        });
        let fill = data.entity("FILL_AREA_STYLE", |a| {
            a.string("").ids(&[fill_colour]);
        });
        let fill_area = data.entity("SURFACE_STYLE_FILL_AREA", |a| {
            a.id(fill);
        });
        let side = data.entity("SURFACE_SIDE_STYLE", |a| {
            a.string("").ids(&[fill_area]);
        });
        let usage = data.entity("SURFACE_STYLE_USAGE", |a| {
            a.word("BOTH").id(side);
        });
        let assignment = data.entity("PRESENTATION_STYLE_ASSIGNMENT", |a| {
            a.ids(&[usage]);
        });
        let item = data.entity("STYLED_ITEM", |a| {
            a.string("colour").ids(&[assignment]).id(solid);
        });
        self.styled.push(item);
    }

    /// Says which of the file's items carry a colour.
    fn styles(&mut self) {
        let (styled, context) = (std::mem::take(&mut self.styled), self.context);
        self.data.entity("MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION", |a| {
            a.string("").ids(&styled).id(context);
        });
    }

    fn assembly(&mut self, assembly: &Assembly, parts: &[Part]) {
        let placements: Vec<Id> =
            assembly.instances.iter().map(|instance| self.placement(&instance.pose)).collect();
        let (origin, context) = (self.origin, self.context);
        let items = [&[origin], placements.as_slice()].concat();
        let representation = self.data.entity("SHAPE_REPRESENTATION", |a| {
            a.string(assembly.title).ids(&items).id(context);
        });
        let definition = self.product(assembly.title, representation);
        for (k, (instance, &placement)) in assembly.instances.iter().zip(&placements).enumerate() {
            let part = &parts[instance.product];
            let occurrence = self.data.entity("NEXT_ASSEMBLY_USAGE_OCCURRENCE", |a| {
                a.string(&(k + 1).to_string()).string(instance.name).string("");
                a.id(definition).id(part.definition).unset();
            });
            let shape = self.data.entity("PRODUCT_DEFINITION_SHAPE", |a| {
                a.string("placement").string("").id(occurrence);
            });
            let motion = self.data.entity("ITEM_DEFINED_TRANSFORMATION", |a| {
                a.string("").string("").id(origin).id(placement);
            });
            let (inner, outer) = (part.representation, representation);
            let relation = self.data.raw(format_args!(
                "(REPRESENTATION_RELATIONSHIP('','',{inner},{outer})\
                 REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION({motion})SHAPE_REPRESENTATION_RELATIONSHIP())"
            ));
            self.data.entity("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION", |a| {
                a.id(relation).id(shape);
            });
        }
    }

    fn placement(&mut self, pose: &DAffine3) -> Id {
        let DAffine3 { matrix3, translation } = *pose;
        ShapeWriter::new(&mut self.data).placement(translation, matrix3.z_axis, matrix3.x_axis)
    }
}

/// Millimetres, radians, and how close two points of the file are one: 1e-6 mm, as in the solids.
fn units(data: &mut Data) -> Id {
    let length = data.raw(format_args!("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))"));
    let angle = data.raw(format_args!("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))"));
    let solid_angle =
        data.raw(format_args!("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())"));
    let accuracy = data.raw(format_args!(
        "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-06),{length},'distance_accuracy_value','least distance of two points')"
    ));
    data.raw(format_args!(
        "(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT(({accuracy}))\
         GLOBAL_UNIT_ASSIGNED_CONTEXT(({length},{angle},{solid_angle}))REPRESENTATION_CONTEXT('',''))"
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::DMat3;
    use plate::Turned;

    fn file(name: &str, instances: Vec<Instance>) -> Result<String, Error> {
        let rod = Solid::of_turned(&Turned::cylinder(20.0, 7.0)).expect("sound");
        write(&Assembly {
            title: "rods",
            time_stamp: "2000-01-01T00:00:00",
            products: vec![Product { name, colour: [204, 0, 255], solid: &rod }],
            instances,
        })
    }

    fn placed(product: usize, pose: DAffine3) -> Instance<'static> {
        Instance { product, name: "left", pose }
    }

    #[test]
    fn numbers_count_up_and_every_reference_is_to_an_earlier_entity() {
        let text =
            file("rod", vec![placed(0, DAffine3::from_translation(DVec3::X))]).expect("written");
        let entities =
            text.split("DATA;\n").nth(1).expect("data").lines().take_while(|l| l.starts_with('#'));
        for (k, line) in entities.enumerate() {
            let (id, rest) = line[1..].split_once('=').expect("an entity");
            assert_eq!(id, (k + 1).to_string());
            for reference in rest.split('#').skip(1) {
                let digits: String = reference.chars().take_while(char::is_ascii_digit).collect();
                assert!(digits.parse::<usize>().expect("a number") <= k, "{line}");
            }
        }
    }

    #[test]
    fn names_survive_quotes_backslashes_and_other_alphabets() {
        let text = file(r"ö 'q' \ 水 𝄞", vec![]).expect("written");
        assert!(text.is_ascii());
        assert!(text.contains(r"'\X2\00F6\X0\ ''q'' \\ \X2\6C34\X0\ \X4\0001D11E\X0\'"), "{text}");
    }

    #[test]
    fn the_same_assembly_gives_the_same_bytes() {
        let text = || file("rod", vec![placed(0, DAffine3::IDENTITY)]).expect("written");
        assert_eq!(text(), text());
    }

    #[test]
    fn poses_that_mirror_or_stretch_are_refused() {
        for matrix in
            [DMat3::from_diagonal(DVec3::new(1., 1., -1.)), DMat3::IDENTITY * 2.0, DMat3::NAN]
        {
            let error =
                file("rod", vec![placed(0, DAffine3::from_mat3(matrix))]).expect_err("not rigid");
            assert_eq!(error, Error::NotRigid { instance: "left".into() });
        }
    }

    #[test]
    fn a_missing_product_is_refused() {
        let error = file("rod", vec![placed(1, DAffine3::IDENTITY)]).expect_err("no product 1");
        assert_eq!(error.to_string(), "instance `left` is of product 1, but there are only 1");
    }
}

//! The programs that draw, and the passes of a picture.

use fit::Rigid;
use glam::{DMat4, DVec3, dvec3};
use three_d::{
    Blend, BlendEquationType, BlendMultiplierType, Context, CoreError, Cull, DepthTest, Mat4,
    Program, RenderStates, Texture2D, Vec2, Vec3, Vec4, VertexBuffer, Viewport, WriteMask, vec2,
    vec3, vec4,
};

use super::Canvas;
use super::figure::{Figure, Lines, single};
use super::picture::{Picture, Pool};
use super::shaders;

/// Everything that was handed to the graphics driver once.
pub(super) struct Programs {
    faces: [Program; 3],
    waters: [Program; 3],
    line: Program,
    backdrop: Program,
    copy: Program,
    whole: VertexBuffer<Vec2>,
    cube: VertexBuffer<Vec3>,
    top: VertexBuffer<Vec3>,
}

/// What a pass does with what is there already.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Pass {
    Opaque,
    /// What is there is multiplied.
    Filter,
    /// Light over it, never more than white.
    Screen,
    /// As ink on paper.
    Ink,
}

impl Pass {
    fn states(self) -> RenderStates {
        use BlendMultiplierType::{
            One, OneMinusDstColor, OneMinusSrcAlpha, SrcAlpha, SrcColor, Zero,
        };
        let blend = |source, destination| RenderStates {
            write_mask: WriteMask::COLOR,
            depth_test: DepthTest::LessOrEqual,
            cull: Cull::None,
            blend: Blend::Enabled {
                source_rgb_multiplier: source,
                source_alpha_multiplier: Zero,
                destination_rgb_multiplier: destination,
                destination_alpha_multiplier: One,
                rgb_equation: BlendEquationType::Add,
                alpha_equation: BlendEquationType::Add,
            },
        };
        match self {
            Self::Opaque => RenderStates::default(),
            Self::Filter => blend(Zero, SrcColor),
            Self::Screen => RenderStates { cull: Cull::Back, ..blend(OneMinusDstColor, One) },
            Self::Ink => blend(SrcAlpha, OneMinusSrcAlpha),
        }
    }
}

impl Programs {
    pub(super) fn new(context: &Context) -> Result<Self, CoreError> {
        let face = |mode| Program::from_source(context, shaders::FACE_VERTEX, &shaders::face(mode));
        let water =
            |mode| Program::from_source(context, shaders::WATER_VERTEX, &shaders::water(mode));
        let whole = |source| Program::from_source(context, shaders::WHOLE_VERTEX, source);
        let (cube, top) = cube();
        Ok(Self {
            faces: [face(0)?, face(1)?, face(2)?],
            waters: [water(0)?, water(1)?, water(2)?],
            line: Program::from_source(context, shaders::LINE_VERTEX, shaders::LINE)?,
            backdrop: whole(shaders::BACKDROP)?,
            copy: whole(shaders::COPY)?,
            whole: VertexBuffer::new_with_data(
                context,
                &[vec2(-1.0, -1.0), vec2(3.0, -1.0), vec2(-1.0, 3.0)],
            ),
            cube: VertexBuffer::new_with_data(context, &cube),
            top: VertexBuffer::new_with_data(context, &top),
        })
    }

    /// A picture that was drawn onto the window.
    pub(super) fn copy(&self, picture: &Texture2D, viewport: Viewport) {
        self.copy.use_texture("picture", picture);
        self.copy.use_vertex_attribute("position", &self.whole);
        let states = RenderStates { depth_test: DepthTest::Always, ..flat() };
        self.copy.draw_arrays(states, viewport, 3);
    }
}

fn flat() -> RenderStates {
    RenderStates { write_mask: WriteMask::COLOR, ..RenderStates::default() }
}

/// A cube of side one by its sides and underside, seen from outside counter-clockwise, and its top.
fn cube() -> (Vec<Vec3>, Vec<Vec3>) {
    let face = |origin: DVec3, u: DVec3, v: DVec3| {
        let (a, b, c, d) = (origin, origin + u, origin + u + v, origin + v);
        [a, b, c, a, c, d].map(single)
    };
    let (x, y, z, o) = (DVec3::X, DVec3::Y, DVec3::Z, DVec3::ZERO);
    let top = face(z, x, y);
    let sides = [face(o, x, z), face(y, z, x), face(o, z, y), face(x, y, z), face(o, y, x), top];
    (sides.concat(), top.to_vec())
}

impl Canvas {
    /// All passes of a picture.
    pub(super) fn paint(&self, picture: &Picture, viewport: Viewport) {
        self.backdrop(picture, viewport);
        let faces = |pass: Pass, mode: usize| {
            for (figure, place, lit) in self.shown(picture) {
                if figure.is_clear == (mode > 0) && figure.faces.count() > 0 {
                    self.faces(picture, viewport, pass, mode, (figure, place, lit));
                }
            }
        };
        faces(Pass::Opaque, 0);
        for pool in &picture.pools {
            self.water(picture, viewport, Pass::Filter, 0, pool);
        }
        faces(Pass::Filter, 1);
        for pool in picture.pools.iter().filter(|pool| pool.has_surface) {
            self.water(picture, viewport, Pass::Filter, 1, pool);
        }
        self.lines(picture, viewport);
        faces(Pass::Screen, 2);
        for pool in picture.pools.iter().filter(|pool| pool.has_surface) {
            self.water(picture, viewport, Pass::Screen, 2, pool);
        }
    }

    /// What is drawn of a picture: where, and how much it is picked out, 0 to 1.
    fn shown<'a>(&'a self, picture: &'a Picture) -> impl Iterator<Item = (&'a Figure, Rigid, f32)> {
        let places = self.figures.iter().zip(&picture.places).enumerate();
        places.filter_map(|(thing, (figure, place))| {
            let lit = if picture.picked == Some(thing) {
                1.0
            } else if picture.moving.contains(&thing) {
                0.45
            } else {
                0.0
            };
            Some((figure, (*place)?, lit))
        })
    }

    fn backdrop(&self, picture: &Picture, viewport: Viewport) {
        let [above, below] = if picture.is_dark {
            [vec3(0.13, 0.15, 0.17), vec3(0.085, 0.10, 0.115)]
        } else {
            [vec3(0.985, 0.985, 0.98), vec3(0.905, 0.92, 0.93)]
        };
        let Programs { backdrop, whole, .. } = &self.programs;
        backdrop.use_uniform("above", above);
        backdrop.use_uniform("below", below);
        backdrop.use_vertex_attribute("position", whole);
        let states = RenderStates { depth_test: DepthTest::Always, ..flat() };
        backdrop.draw_arrays(states, viewport, 3);
    }

    fn faces(
        &self,
        picture: &Picture,
        viewport: Viewport,
        pass: Pass,
        mode: usize,
        (figure, place, lit): (&Figure, Rigid, f32),
    ) {
        let program = &self.programs.faces[mode];
        sight(program, picture);
        program.use_uniform_if_required("plane", plane(picture));
        program.use_uniform("place", matrix(place));
        program.use_uniform_if_required("colour", linear(figure.colour));
        program.use_uniform_if_required("lit", lit);
        program.use_uniform_if_required("night", night(picture));
        program.use_vertex_attribute("position", &figure.faces.positions);
        program.use_vertex_attribute("normal", &figure.faces.normals);
        if program.requires_attribute("rim") {
            program.use_vertex_attribute("rim", &figure.faces.rims);
        }
        program.draw_arrays(pass.states(), viewport, figure.faces.count());
    }

    fn water(&self, picture: &Picture, viewport: Viewport, pass: Pass, mode: usize, pool: &Pool) {
        // A hair smaller than its place, so that it does not lie in the faces of what holds it.
        let hair = DVec3::splat(0.3);
        let [least, greatest] = pool.corners;
        let (least, greatest) = (least + hair, greatest - hair);
        if !least.cmplt(greatest).all() {
            return;
        }
        let program = &self.programs.waters[mode];
        let corners = if mode == 0 { &self.programs.cube } else { &self.programs.top };
        sight(program, picture);
        program.use_uniform("least", single(least));
        program.use_uniform("greatest", single(greatest));
        program.use_uniform_if_required("takes", single(WATER / picture.box_mm.max(1.0)));
        program.use_uniform_if_required("night", night(picture));
        program.use_vertex_attribute("position", corners);
        // A surface is seen from below too.
        let states = RenderStates { cull: Cull::None, ..pass.states() };
        program.draw_arrays(states, viewport, corners.vertex_count());
    }

    fn lines(&self, picture: &Picture, viewport: Viewport) {
        for (figure, place, lit) in self.shown(picture) {
            let at = matrix(place);
            let [edge, engraved] = inks(figure, picture.is_dark, lit);
            let wider = 1.0 + 0.6 * lit;
            self.line(picture, viewport, &figure.edges, at, edge, wider);
            self.line(picture, viewport, &figure.engraved, at, engraved, 0.8);
        }
        let waterline = if picture.is_dark {
            vec4(0.42, 0.72, 0.92, 0.85)
        } else {
            vec4(0.13, 0.40, 0.62, 0.75)
        };
        for pool in picture.pools.iter().filter(|pool| pool.has_surface) {
            let [least, greatest] = pool.corners;
            let at = DMat4::from_translation(least) * DMat4::from_scale(greatest - least);
            let at = at.as_mat4().to_cols_array_2d().into();
            self.line(picture, viewport, &self.surface, at, waterline, 1.2);
        }
    }

    fn line(
        &self,
        picture: &Picture,
        viewport: Viewport,
        lines: &Lines,
        place: Mat4,
        ink: Vec4,
        wider: f32,
    ) {
        if lines.count() == 0 {
            return;
        }
        let program = &self.programs.line;
        sight(program, picture);
        let [width, height] = picture.size_px.map(|px| u16::try_from(px).unwrap_or(u16::MAX));
        program.use_uniform("size_px", vec2(f32::from(width), f32::from(height)));
        program.use_uniform("width_px", picture.line_px * wider);
        program.use_uniform("plane", plane(picture));
        program.use_uniform("place", place);
        program.use_uniform("ink", ink);
        program.use_vertex_attribute("start", &lines.starts);
        program.use_vertex_attribute("end", &lines.ends);
        program.use_vertex_attribute("corner", &lines.corners);
        program.draw_arrays(Pass::Ink.states(), viewport, lines.count());
    }
}

/// What water takes from light over the length of the box, as in the pictures.
const WATER: DVec3 = dvec3(1.75, 0.52, 0.20);

/// Where one looks from.
fn sight(program: &Program, picture: &Picture) {
    program.use_uniform("to_clip", Mat4::from(picture.to_clip()));
    program.use_uniform_if_required("eye", single(picture.eye()));
    program.use_uniform_if_required("forward", single(picture.forward()));
    program.use_uniform_if_required("parallel", if picture.is_parallel() { 1.0_f32 } else { 0.0 });
}

fn plane(picture: &Picture) -> Vec4 {
    let plane = picture.plane.inwards.extend(picture.plane.least);
    plane.as_vec4().to_array().into()
}

fn night(picture: &Picture) -> f32 {
    if picture.is_dark { 1.0 } else { 0.0 }
}

fn matrix(place: Rigid) -> Mat4 {
    let matrix = DMat4::from_rotation_translation(place.turn, place.shift);
    matrix.as_mat4().to_cols_array_2d().into()
}

/// From bytes to linear light, by the power that the shaders go back by.
fn linear(colour: [u8; 3]) -> Vec3 {
    colour.map(|byte| (f32::from(byte) / 255.0).powf(2.2)).into()
}

/// Ink of edges and of what is engraved.
fn inks(figure: &Figure, is_dark: bool, lit: f32) -> [Vec4; 2] {
    let [r, g, b] = figure.colour.map(|byte| f32::from(byte) / 255.0);
    let most = r.max(g).max(b).max(0.01);
    let edge = match (is_dark, figure.is_clear) {
        (false, true) => vec4(0.16 * r / most, 0.42 * g / most, 0.48 * b / most, 0.62),
        (false, false) => vec4(0.32 * r + 0.04, 0.32 * g + 0.04, 0.32 * b + 0.04, 0.66),
        (true, true) => vec4(0.52 * r / most, 0.80 * g / most, 0.84 * b / most, 0.70),
        (true, false) => vec4(0.08, 0.09, 0.10, 0.8),
    };
    let orange = vec4(0.85, 0.38, 0.03, 1.0);
    let engraved = if is_dark { vec4(0.75, 0.88, 0.9, 0.7) } else { vec4(0.12, 0.28, 0.33, 0.75) };
    [edge + (orange - edge) * lit, engraved]
}

// How sheet, bodies and water look. Clear things are drawn in two passes that do not depend on their order: a filter
// that multiplies what is behind, and a gloss that adds light.
import {
  AddEquation, CustomBlending, DoubleSide, FrontSide, LineBasicMaterial, OneFactor, OneMinusDstColorFactor,
  ShaderMaterial, SrcColorFactor, Color, Vector3, ZeroFactor,
} from 'three';

const VERTEX = `
varying vec3 at, normalOut;
void main() {
  vec4 world = modelMatrix * vec4(position, 1.0);
  at = world.xyz;
  normalOut = mat3(modelMatrix) * normal;
  gl_Position = projectionMatrix * viewMatrix * world;
}`;

const COMMON = `
varying vec3 at, normalOut;
uniform vec3 colour;
uniform float moved, picked, dark;
const vec3 LIGHT = normalize(vec3(-0.35, 0.76, 0.55));
vec3 toEye, n, halfway;
float facing;
bool isFront;
void prepare() {
  toEye = normalize(cameraPosition - at);
  n = normalize(normalOut);
  isFront = dot(n, toEye) > 0.0;
  if (!isFront) n = -n;
  facing = clamp(dot(n, toEye), 0.02, 1.0);
  halfway = normalize(LIGHT + toEye);
}
vec3 marked(vec3 c, vec3 move, vec3 pick) { return mix(mix(c, move, moved), pick, picked); }
`;

const SOLID = `${COMMON}
void main() {
  prepare();
  vec3 c = marked(colour, vec3(0.86, 0.38, 0.14), vec3(0.24, 0.40, 0.78));
  float light = 0.42 + 0.18 * (n.y * 0.5 + 0.5) + 0.52 * max(dot(n, LIGHT), 0.0);
  light *= mix(1.0, 0.86, dark);
  gl_FragColor = vec4(c * light + 0.18 * pow(max(dot(n, halfway), 0.0), 40.0), 1.0);
}`;

const FILTER = `${COMMON}
void main() {
  prepare();
  vec3 c = marked(colour, vec3(0.98, 0.70, 0.48), vec3(0.56, 0.68, 0.96));
  // The more glancing, the longer the way through.
  vec3 t = pow(c, vec3(min(1.0 / max(facing, 0.25), 3.0)));
  t *= 1.0 - 0.5 * (0.025 + 0.6 * pow(1.0 - facing, 5.0));
  gl_FragColor = vec4(mix(t, sqrt(t), dark), 1.0);
}`;

const GLOSS = `${COMMON}
void main() {
  prepare();
  float mirror = 0.025 + 0.6 * pow(1.0 - facing, 5.0);
  vec3 back = reflect(-toEye, n);
  vec3 sky = mix(vec3(0.60, 0.64, 0.68), vec3(1.0), clamp(back.y * 0.5 + 0.5, 0.0, 1.0));
  float spot = 0.4 * pow(max(dot(n, halfway), 0.0), 160.0);
  // On a dark ground a filter has nothing to take away: there the sheet's own colour is added.
  vec3 own = dark * (0.10 + 0.25 * max(moved, picked)) * marked(colour, vec3(1.0, 0.52, 0.22), vec3(0.45, 0.60, 1.0));
  gl_FragColor = vec4(isFront ? 0.5 * sky * mirror + spot + own : vec3(0.0), 1.0);
}`;

const WATER_FILTER = `${COMMON}
void main() {
  prepare();
  vec3 t = n.y > 0.5 ? vec3(0.68, 0.88, 0.95) : vec3(0.84, 0.94, 0.98);
  gl_FragColor = vec4(isFront ? mix(t, sqrt(t), dark) : vec3(1.0), 1.0);
}`;

const WATER_GLOSS = `${COMMON}
void main() {
  prepare();
  float mirror = 0.02 + 0.7 * pow(1.0 - facing, 5.0);
  vec3 own = dark * (n.y > 0.5 ? vec3(0.05, 0.16, 0.22) : vec3(0.01, 0.06, 0.10));
  gl_FragColor = vec4(isFront ? 0.5 * mirror * vec3(0.80, 0.92, 1.0) + own : vec3(0.0), 1.0);
}`;

const MULTIPLY = { blendSrc: ZeroFactor, blendDst: SrcColorFactor };
const SCREEN = { blendSrc: OneMinusDstColorFactor, blendDst: OneFactor };

/** In which order passes are drawn. */
export const ORDER = { solid: 0, filter: 1, line: 2, gloss: 3 };

const shared = { dark: { value: 0 } };
const white = new Vector3(1, 1, 1);

function shader(fragmentShader, colour, blending, side) {
  return new ShaderMaterial({
    vertexShader: VERTEX,
    fragmentShader,
    toneMapped: false,
    side,
    uniforms: { colour: { value: colour }, moved: { value: 0 }, picked: { value: 0 }, dark: shared.dark },
    ...(blending && {
      ...blending, blending: CustomBlending, blendEquation: AddEquation,
      blendSrcAlpha: ZeroFactor, blendDstAlpha: OneFactor, transparent: true, depthWrite: false,
    }),
  });
}

/** sRGB of a material of the model, as the shaders reckon. */
function displayed(material) {
  const c = new Color(material.color).convertLinearToSRGB();
  return new Vector3(c.r, c.g, c.b);
}

export const solid = (material) => shader(SOLID, displayed(material), null, FrontSide);

/** Filter and gloss of clear sheet; its edges gather light and show more colour. */
export function clear(material) {
  const c = displayed(material);
  const tint = c.lerp(white, material.name.startsWith('edge') ? 0.22 : 0.86);
  return [shader(FILTER, tint, MULTIPLY, DoubleSide), shader(GLOSS, tint, SCREEN, FrontSide)];
}

/** What stands around is a breath of itself, so that it never hides the sump. */
export const around = () => shader(FILTER, new Vector3(0.978, 0.972, 0.962), MULTIPLY, DoubleSide);

export const water = () => [
  shader(WATER_FILTER, white, MULTIPLY, DoubleSide), shader(WATER_GLOSS, white, SCREEN, FrontSide),
];

const line = (opacity) => new LineBasicMaterial({ transparent: true, opacity, depthWrite: false, toneMapped: false });
export const lines = { edge: line(0.62), moved: line(0.9), picked: line(1), around: line(0.3), surface: line(0.85) };

/** Colours of ground and lines for a light or a dark look. */
export function look(isDark, scene) {
  shared.dark.value = isDark ? 1 : 0;
  scene.background = new Color(isDark ? 0x25323a : 0xf6f1e6);
  lines.edge.color.set(isDark ? 0xa9d3d6 : 0x0e3a44);
  lines.around.color.set(isDark ? 0xbdb6a6 : 0x6d6250);
  lines.moved.color.set(isDark ? 0xffa066 : 0xa63d0c);
  lines.picked.color.set(isDark ? 0xa9c1f0 : 0x1b2f9a);
  lines.surface.color.set(isDark ? 0x7fd0ff : 0x1d6fa5);
}

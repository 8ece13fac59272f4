// What a lamp of several stretches and elements reads of the one that the ray is at. In its place for a plain lamp: oneLens.wgsl.

/// Rows of elements and stretches, where reading costs least (src/engine/gpu/assemblyTables.ts).
struct AssemblyRows {
  /// Of each element its row, and a vector of whole numbers: place of the first ring among all, number of rings, bits of 1/pitch.
  elements: array<vec4u, MOST_ELEMENTS * ELEMENT_QUADS>,
  params: array<vec4u, MOST_ELEMENTS * PARAM_QUADS>,
  /// Of each stretch all but its table of reflectances, which stands among `quads`; in its place whether there is a step
  /// at its upper end, and first, as whole numbers, how far the tunnel is convex: the last stretch upwards, and the last downwards.
  stretches: array<vec4u, MOST_STRETCHES * STRETCH_QUADS>,
}
@group(0) @binding(9) var<uniform> assemblyRows: AssemblyRows;

const ELEMENT_QUADS = ELEMENT_size / 4u + 1u;
const PARAM_QUADS = P_size / 4u;
const STRETCH_QUADS = (STRETCH_rhoTable + 4u) / 4u;

const PIECES = true;
override RECTANGULAR: bool = false;
/// Of the elements, from the lowest bits on: their kinds, three bits each; whether their frame is turned; whether their piece is round.
override ELEMENT_KINDS: u32 = 0u;
override TURNED: u32 = 0u;
override ROUND_PIECES: u32 = 0u;

/// The element and the stretch that the functions of the optics read.
var<private> elementNow: u32;
var<private> stretchNow: u32;

fn elementKind(element: u32) -> u32 {
  return (ELEMENT_KINDS >> (3u * element)) & 7u;
}

fn isTurned(element: u32) -> bool {
  return ((TURNED >> element) & 1u) != 0u;
}

fn elementRow(element: u32, part: u32) -> vec4f {
  return bitcast<vec4f>(assemblyRows.elements[ELEMENT_QUADS * element + part]);
}

/// One number of its row.
fn elementAt(element: u32, field: u32) -> f32 {
  return elementRow(element, field >> 2u)[field & 3u];
}

fn elementNumbers(element: u32) -> vec4u {
  return assemblyRows.elements[ELEMENT_QUADS * element + ELEMENT_size / 4u];
}

/// The axes of the element's frame, in the lamp: columns of the rotation.
struct Turn {
  x: vec3f,
  y: vec3f,
  z: vec3f,
}

fn elementTurn(element: u32) -> Turn {
  let a = elementRow(element, 1u); // r00 r01 r02 r10
  let b = elementRow(element, 2u); // r11 r12 r20 r21
  let c = elementRow(element, 3u); // r22 turned front back
  return Turn(vec3f(a.x, a.w, b.z), vec3f(a.y, b.x, b.w), vec3f(a.z, b.y, c.x));
}

/// Refractive index of its material at wavelength i and at the next.
fn indexCell(element: u32, i: u32) -> vec2f {
  return pairs[setup.indexPairsAt + u32(NM_COUNT) * element + i];
}

fn lensParam(i: u32) -> f32 {
  if (i == P_lensSquare) { return select(2.0, 3.0, ((ROUND_PIECES >> elementNow) & 1u) != 0u); }
  return bitcast<f32>(assemblyRows.params[PARAM_QUADS * elementNow + (i >> 2u)][i & 3u]);
}

fn stretchParam(stretch: u32, i: u32) -> f32 {
  return bitcast<f32>(assemblyRows.stretches[STRETCH_QUADS * stretch + (i >> 2u)][i & 3u]);
}

fn wallParam(i: u32) -> f32 {
  return stretchParam(stretchNow, i);
}

/// The farthest stretch that makes a convex body with this one and those between, upwards or downwards.
fn convexEnd(stretch: u32, up: bool) -> u32 {
  let ends = assemblyRows.stretches[STRETCH_QUADS * stretch].xy;
  return select(ends.y, ends.x, up);
}

/// Whether there is a step at the upper end of a stretch.
fn stepAbove(stretch: u32) -> bool {
  return stretchParam(stretch, STRETCH_rhoTable) > 0.0;
}

/// Reflectance i of the table of the stretch.
fn wallRhoAt(i: u32) -> f32 {
  let at = STRETCH_rhoTable + i;
  return bitcast<f32>(quads[setup.stretchQuadsAt + STRETCH_size / 4u * stretchNow + (at >> 2u)][at & 3u]);
}

fn lensRings() -> u32 {
  return elementNumbers(elementNow).y;
}

fn lensPerPitch() -> f32 {
  return bitcast<f32>(elementNumbers(elementNow).z);
}

/// Sine, cosine, tip and cotangent of a ring.
fn ringRow(ring: u32) -> vec4f {
  return bitcast<vec4f>(quads[setup.ringQuadsAt + elementNumbers(elementNow).x + ring]);
}

/// Where a waiting ray is, beside its steps (nine bits from the eighth on) in its flags.
fn placeBits() -> u32 {
  return (stretchNow << 17u) | (elementNow << 26u);
}

/// The same back; gives the steps.
fn takePlace(flags: u32) -> u32 {
  stretchNow = (flags >> 17u) & 511u;
  elementNow = flags >> 26u;
  return (flags >> 8u) & 511u;
}

/// Rays wait on three stacks: besides those in the cavity and those between grooves, those between two elements, on five rows of places of their
/// own above the others' seven. (No stack grows that is the fullest, and together they hold at most seven rows.)
const STACKS = 3u;
const GAPS = 2u;

fn stackOf(zone: u32) -> u32 {
  if (zone >= BEFORE_FLAT) { return GROOVES; }
  return select(CAVITY, GAPS, zone == GAP_ABOVE && elementNow > 0u);
}

fn placeOnStack(stack: u32, place: u32) -> u32 {
  if (stack == GAPS) { return 7u * WORKGROUP + place; }
  return select(place, 7u * WORKGROUP - 1u - place, stack == GROOVES);
}

/// The fullest stack, and how many wait there.
fn fullestStack() -> vec2u {
  let cavity = atomicLoad(&waits[CAVITY]);
  let grooves = atomicLoad(&waits[GROOVES]);
  let gaps = atomicLoad(&waits[GAPS]);
  if (gaps >= max(cavity, grooves)) { return vec2u(GAPS, gaps); }
  return vec2u(select(CAVITY, GROOVES, grooves > cavity), max(cavity, grooves));
}

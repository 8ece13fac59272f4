// What a lamp of several stretches and elements reads of the one that the ray is at. In its place for a plain lamp: oneLens.wgsl.

const PIECES = true;
override RECTANGULAR: bool = false;

/// The element and the stretch that the functions of the optics read.
var<private> elementNow: u32;
var<private> stretchNow: u32;

/// Vectors of an element: its row, and one of numbers as elementNumbers has them.
const ELEMENT_QUADS = ELEMENT_size / 4u + 1u;

fn elementRow(element: u32, part: u32) -> vec4f {
  return bitcast<vec4f>(quads[setup.elementQuadsAt + ELEMENT_QUADS * element + part]);
}

/// One number of its row.
fn elementAt(element: u32, field: u32) -> f32 {
  return elementRow(element, field >> 2u)[field & 3u];
}

/// Kind, place of the first ring among all, number of rings, bits of 1/pitch.
fn elementNumbers(element: u32) -> vec4u {
  return quads[setup.elementQuadsAt + ELEMENT_QUADS * element + ELEMENT_size / 4u];
}

/// The axes of the element's frame, in the lamp: columns of the rotation.
struct Turn {
  x: vec3f,
  y: vec3f,
  z: vec3f,
}

fn isTurned(element: u32) -> bool {
  return elementRow(element, 3u).y > 0.0;
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
  return bitcast<f32>(quads[setup.elementParamsAt + P_size / 4u * elementNow + (i >> 2u)][i & 3u]);
}

fn stretchParam(stretch: u32, i: u32) -> f32 {
  return bitcast<f32>(quads[setup.stretchQuadsAt + STRETCH_size / 4u * stretch + (i >> 2u)][i & 3u]);
}

fn wallParam(i: u32) -> f32 {
  return stretchParam(stretchNow, i);
}

fn lensRings() -> u32 {
  return elementNumbers(elementNow).z;
}

fn lensPerPitch() -> f32 {
  return bitcast<f32>(elementNumbers(elementNow).w);
}

/// Sine, cosine, tip and cotangent of a ring.
fn ringRow(ring: u32) -> vec4f {
  return bitcast<vec4f>(quads[setup.ringQuadsAt + elementNumbers(elementNow).y + ring]);
}

/// Where a waiting ray is, beside its steps (nine bits from the eighth on) in its flags: 401 stretches and 9 elements at most.
fn placeBits() -> u32 {
  return (stretchNow << 17u) | (elementNow << 26u);
}

/// The same back; gives the steps.
fn takePlace(flags: u32) -> u32 {
  stretchNow = (flags >> 17u) & 511u;
  elementNow = flags >> 26u;
  return (flags >> 8u) & 511u;
}

// Twin of src/optics/draws.ts: the same bits.
// References: [1] C. Wellons, "Hash Function Prospector" (2018), the constants of a two-round 32-bit mixer of low bias (public domain).

struct Stream {
  key: u32,
  step: u32,
  next: u32,
}
var<private> stream: Stream;

/// [1]. A bijection on 32-bit integers.
fn mix(of_: u32) -> u32 {
  var x = (of_ ^ (of_ >> 16u)) * 0x7feb352du;
  x = (x ^ (x >> 15u)) * 0x846ca68bu;
  return x ^ (x >> 16u);
}

const UNIT = 5.9604644775390625e-8; // 2⁻²⁴
const BELOW_ONE = 0.99999994;

/// The upper 24 bits to the middle of their cell in (0, 1). From one half on single precision has no such middle: it is rounded, but never to 1.
fn unit(bits: u32) -> f32 {
  return numberOf(bits >> 8u);
}

/// What all streams of a batch have in common.
fn runOf(seed: u32, batch: u32) -> u32 {
  return mix(seed ^ ((batch + 1u) * 0x9e3779b1u));
}

fn seedStream(run: u32, index: u32) {
  stream.key = mix(index ^ run);
  stream.step = mix(stream.key + 0x6a09e667u) | 1u; // a step of the ray's own: two streams don't run along each other
  stream.next = DRAW_firstBounce;
}

/// The next 24 random bits of the path.
fn draw24() -> u32 {
  let k = stream.next;
  stream.next = k + 1u;
  return mix(stream.key + k * stream.step) >> 8u;
}

/// The number in (0, 1) of 24 random bits, and what is left of 1: each to all its digits.
fn numberOf(bits24: u32) -> f32 {
  return min((f32(bits24) + 0.5) * UNIT, BELOW_ONE);
}
fn restOf(bits24: u32) -> f32 {
  return numberOf(0xffffffu - bits24);
}

/// The next number of the path, in (0, 1).
fn draw() -> f32 {
  return numberOf(draw24());
}

/// Draw number k of the path out of order, for the plain-random comparison: its bits.
fn drawAt(k: u32) -> u32 {
  return mix(stream.key + k * stream.step);
}

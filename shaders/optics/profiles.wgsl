// Twin of the samplers in src/optics/profiles.ts. Both give c = 1 − cosθ, which keeps its digits near the axis.
// Table layout: [nodes, guide cells, then c, I, share below, 2 dI/dc of the cell after (each `nodes`), then the guide].

/// c of a cosine power m (I ∝ cos^m θ): the share outside θ is cos^(m+1). `inverse` = 1/(m+1).
fn cosFromPower(bits: u32, inverse: f32) -> f32 {
  if (inverse == 0.5) { return restOf(bits >> 8u) / (1.0 + sqrt(unit(bits))); }
  let x = minusLn(bits >> 8u) * inverse;
  if (x < 0.1) { return x * (1.0 - x * (0.5 - x * (1.0 / 6.0 - x * (1.0 / 24.0 - x / 120.0)))); }
  return 1.0 - exp(-x);
}

/// −ln u of 24 random bits, by the series of atanh where u is near 1: the built-in is good to 2⁻²¹ there.
fn minusLn(bits24: u32) -> f32 {
  let v = restOf(bits24);
  if (v >= 0.5) { return -log(numberOf(bits24)); }
  return minusLnBeside(v);
}

/// −ln(1 − v), v up to one half.
fn minusLnBeside(v: f32) -> f32 {
  let t = v / (2.0 - v);
  let q = t * t;
  return 2.0 * t * (1.0 + q * (1.0 / 3.0 + q * (0.2 + q * (1.0 / 7.0 + q * (1.0 / 9.0 + q * (1.0 / 11.0 + q / 13.0))))));
}

/// c from a packed table at offset `at`: quadratic inside the cell, stable form. The draw is (n + ½)/2²⁴, one bit more than single precision
/// holds: its two parts are kept apart, for where a profile ends a little share is much angle.
fn cFromTable(bits24: u32, at: u32) -> f32 {
  let n = u32(tables[at]);
  let below = at + 2u + 2u * n;
  let u = f32(bits24) * UNIT;
  var cell = u32(tables[at + 2u + 4u * n + (bits24 >> 13u)]); // 2,048 cells: the upper eleven bits
  while (cell + 2u < n && tables[below + cell + 1u] <= u) { cell++; }
  let c0 = tables[at + 2u + cell];
  let width = tables[at + 3u + cell] - c0;
  let i0 = tables[at + 2u + n + cell];
  let need = max(0.0, (u - tables[below + cell]) + 0.5 * UNIT);
  let root = sqrt(max(0.0, i0 * i0 + tables[at + 2u + 3u * n + cell] * need));
  if (i0 + root > 0.0) { return c0 + min(2.0 * need / (i0 + root), width); }
  return c0 + width;
}

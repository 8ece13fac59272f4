// Twin of the samplers in src/optics/profiles.ts. Both give c = 1 − cosθ, which keeps its digits near the axis.
// Nodes are rows of quads: c, I, share below, 2 dI/dc of the cell after; the guide names rows, the last of a profile has a share that no draw
// reaches.

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

/// c from a table whose guide begins at `at`: quadratic inside the cell, stable form. The draw is (n + ½)/2²⁴, one bit more than single precision
/// holds: its two parts are kept apart, for where a profile ends a little share is much angle.
fn cFromTable(bits24: u32, at: u32) -> f32 {
  let u = f32(bits24) * UNIT;
  var row = whole(tables[at + (bits24 >> 13u)]); // 2,048 cells: the upper eleven bits
  var node = nodeRow(row);
  var after = nodeRow(row + 1u);
  while (after.z <= u) {
    row++;
    node = after;
    after = nodeRow(row + 1u);
  }
  let width = after.x - node.x;
  let need = max(0.0, (u - node.z) + 0.5 * UNIT);
  let root = sqrt(max(0.0, node.y * node.y + node.w * need));
  let sum = node.y + root;
  return node.x + select(width, min(2.0 * need / sum, width), sum > 0.0);
}

// Twin of src/optics/outline.ts. The outline of a lens with grooves: a circle or a square of half width lensHalf.

/// Beside the body: the grooves of a square lens reach to its corners.
fn outside(p: vec2f) -> bool {
  let half = param(P_lensHalf);
  return select(length(p) > half, abs(p.x) > half || abs(p.y) > half, param(P_lensSquare) > 0.0);
}

/// How far a ray outside has gone since it left the outline: light is absorbed in the lens alone.
fn pastRim(p: vec2f, d: vec2f) -> f32 {
  let half = param(P_lensHalf);
  let over = abs(p) - half;
  if (param(P_lensSquare) > 0.0) {
    return max(select(0.0, over.x / abs(d.x), over.x > 0.0), select(0.0, over.y / abs(d.y), over.y > 0.0));
  }
  let out = dot(p, d);
  let r = length(p);
  let c = (r - half) * (r + half);
  return c / (out + sqrt(max(0.0, out * out - dot(d, d) * c)));
}

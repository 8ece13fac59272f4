// Twin of src/optics/outline.ts. The outline of a piece of a lens: a circle or a square about the optical axis, or a circle or a rectangle with
// its middle anywhere. `PIECES`: whether a lamp can have the latter two; where it can't, they cost nothing.

/// Beside the body: the grooves of a square lens reach to its corners.
fn outside(p: vec2f) -> bool {
  let half = lensParam(P_lensHalf);
  if (PIECES && lensParam(P_lensSquare) > 1.0) { return besidePiece(p - vec2f(lensParam(P_lensMidX), lensParam(P_lensMidY))); }
  return select(length(p) > half, abs(p.x) > half || abs(p.y) > half, lensParam(P_lensSquare) > 0.0);
}

/// The same of a piece with its middle anywhere, from that middle.
fn besidePiece(p: vec2f) -> bool {
  let half = lensParam(P_lensHalf);
  return select(abs(p.x) > half || abs(p.y) > lensParam(P_lensHalfY), length(p) > half, lensParam(P_lensSquare) > 2.0);
}

/// How far a ray outside has gone since it left the outline: light is absorbed in the lens alone.
fn pastRim(at: vec2f, d: vec2f) -> f32 {
  let half = lensParam(P_lensHalf);
  let piece = lensParam(P_lensSquare);
  var p = at;
  var halves = vec2f(half);
  if (PIECES) {
    if (piece > 1.0) { p -= vec2f(lensParam(P_lensMidX), lensParam(P_lensMidY)); }
    if (piece == 2.0) { halves.y = lensParam(P_lensHalfY); }
  }
  let over = abs(p) - halves;
  if (select(piece > 0.0, piece == 1.0 || piece == 2.0, PIECES)) {
    return max(select(0.0, over.x / abs(d.x), over.x > 0.0), select(0.0, over.y / abs(d.y), over.y > 0.0));
  }
  let out = dot(p, d);
  let r = length(p);
  let c = (r - half) * (r + half);
  return c / (out + sqrt(max(0.0, out * out - dot(d, d) * c)));
}

/// From inside the outline: distance to where a ray leaves it.
fn toRim(at: vec2f, d: vec2f) -> f32 {
  let half = lensParam(P_lensHalf);
  let piece = lensParam(P_lensSquare);
  var p = at;
  if (PIECES && piece > 1.0) { p -= vec2f(lensParam(P_lensMidX), lensParam(P_lensMidY)); }
  if (!PIECES || piece == 0.0 || piece == 3.0) {
    let r = length(p);
    return coneOut(dot(d, d), dot(p, d), min((r - half) * (r + half), 0.0));
  }
  let halves = vec2f(half, select(half, lensParam(P_lensHalfY), piece == 2.0));
  let sx = select(select(-halves.x, halves.x, d.x > 0.0) - p.x, NEVER, d.x == 0.0) / select(d.x, 1.0, d.x == 0.0);
  let sy = select(select(-halves.y, halves.y, d.y > 0.0) - p.y, NEVER, d.y == 0.0) / select(d.y, 1.0, d.y == 0.0);
  return max(0.0, min(sx, sy));
}

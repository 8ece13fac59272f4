// Twin of src/optics/solidLens.ts. A solid lens: a flat side and a conic of revolution (ISO 10110-12). Local frame as for grooves: z = 0 at
// the vertex, flat side at z = −thickness. With w = −z the conic is c (r² + (1+K) w²) − 2 w = 0, negative inside.

/// Trace one passage; the ray stands in front of the flat side, or (fromCurved) in the vertex plane. Local frame in and out.
fn passSolid(fromCurved: bool) -> u32 {
  ray.path = 0.0;
  if (fromCurved) {
    let s = toConic(true);
    if (s >= NEVER) { return ENDS_AT_RIM; }
    ray.pos += s * ray.dir;
    if (beyond()) { return ENDS_AT_RIM; }
    if (!crossConic(1.0 / ray.index, true)) { return LEAVES_WORKED; }
  } else if (!crossPlane(1.0 / ray.index)) {
    return LEAVES_FLAT;
  }
  for (var step = 0u; step < LENS_STEP_LIMIT; step++) {
    let state = solidStep();
    if (state != 0u) { return state; }
  }
  return ENDS_AT_LIMIT;
}

/// Inside the glass: to the curved side, the flat side, or the rim. 0 while it stays inside.
fn solidStep() -> u32 {
  let thickness = lensParam(P_lensThickness);
  var s = toConic(false);
  var flat_ = false;
  if (ray.dir.z < 0.0) {
    let sFlat = max(0.0, (-thickness - ray.pos.z) / ray.dir.z);
    if (sFlat < s) {
      s = sFlat;
      flat_ = true;
    }
  }
  let sRim = toRim(ray.pos.xy, ray.dir.xy);
  if (sRim < s) {
    ray.path += sRim;
    ray.pos += sRim * ray.dir;
    return ENDS_AT_RIM;
  }
  if (s >= NEVER) { return ENDS_AT_RIM; }
  ray.pos += s * ray.dir;
  ray.path += s;
  if (flat_) {
    ray.pos.z = -thickness;
    return select(0u, LEAVES_FLAT, crossPlane(ray.index));
  }
  return select(0u, LEAVES_WORKED, crossConic(ray.index, false));
}

fn beyond() -> bool {
  if (PIECES) { return outside(ray.pos.xy); }
  let half = lensParam(P_lensHalf);
  return dot(ray.pos.xy, ray.pos.xy) > half * half;
}

fn toConic(fromOutside: bool) -> f32 {
  let c = lensParam(P_lensCurvature);
  let k = 1.0 + lensParam(P_lensConic);
  let w = -ray.pos.z;
  let dw = -ray.dir.z;
  let p = ray.pos.xy;
  let d = ray.dir.xy;
  let qa = c * (dot(d, d) + k * dw * dw);
  let qb = c * (dot(p, d) + k * w * dw) - dw;
  let qc = c * (dot(p, p) + k * w * w) - 2.0 * w;
  if (fromOutside) { return coneIn(qa, qb, max(qc, 0.0)); }
  return coneOut(qa, qb, min(qc, 0.0));
}

/// Refract or reflect at the conic.
fn crossConic(eta: f32, fromOutside: bool) -> bool {
  let c = lensParam(P_lensCurvature);
  let n = normalize(vec3f(c * ray.pos.xy, 1.0 + c * (1.0 + lensParam(P_lensConic)) * ray.pos.z));
  return cross(select(-n, n, fromOutside), eta);
}

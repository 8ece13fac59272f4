// Twin of src/optics/stretch.ts. A tunnel of several stretches: its sections, its walls' reflectance, and the steps where two stretches of
// different size meet.

/// True when (x, y) lies inside the stretch's section at height z.
fn insideStretch(p: vec2f, z: f32) -> bool {
  let along = z - wallParam(STRETCH_zIn);
  let half = wallParam(STRETCH_rIn) + along * wallParam(STRETCH_tanFlare);
  if (!RECTANGULAR) { return insideSection(p.x, p.y, half); }
  return abs(p.x) <= half && abs(p.y) <= wallParam(STRETCH_halfYIn) + along * wallParam(STRETCH_tanFlareY);
}

/// Reflectance of the stretch's finish at the ray's wavelength: one value, or linear between those of the spectral grid.
fn stretchReflectance() -> f32 {
  if (wallParam(STRETCH_rhoVaries) == 0.0) { return wallParam(STRETCH_wallRho); }
  let s = (ray.nm - NM_FIRST) / NM_STEP;
  let i = min(u32(max(s, 0.0)), u32(NM_COUNT) - 2u);
  let below = wallRhoAt(i);
  return below + clamp(s - f32(i), 0.0, 1.0) * (wallRhoAt(i + 1u) - below);
}

/// New direction after a step, a wall square to the axis, with the finish of the stretch that the ray is in, the wider of the two there.
fn leaveStep() {
  let up = select(-1.0, 1.0, ray.dir.z < 0.0);
  if (wallParam(STRETCH_wallSpecular) < 1.0) {
    if (draw() >= wallParam(STRETCH_wallSpecular)) {
      lambertian(vec3f(0.0, 0.0, up));
      return;
    }
  }
  let m = vec3f(ray.dir.xy, -ray.dir.z);
  let sigma = wallParam(STRETCH_wallScatter);
  ray.dir = m;
  if (sigma == 0.0) { return; }
  for (var tries = 0; tries < 16; tries++) {
    scatterAbout(m, sigma);
    if (ray.dir.z * up > 0.0) { return; }
  }
  ray.dir = m; // sixteen times across the wall: only at grazing light; keep the mirror direction
}

/// Half the section at height z: along x, or radius, or apothem; `odd`: of a rectangle along y.
fn halfAt(stretch: u32, z: f32, odd: bool) -> f32 {
  let along = z - stretchParam(stretch, STRETCH_zIn);
  if (odd) { return stretchParam(stretch, STRETCH_halfYIn) + along * stretchParam(stretch, STRETCH_tanFlareY); }
  return stretchParam(stretch, STRETCH_rIn) + along * stretchParam(stretch, STRETCH_tanFlare);
}

/// How far p on the step at the upper end of `below` lies from the section below to that above: on the outline that is so far between the two.
/// Of a rectangle by the pair of sides that comes last.
fn shareOfStep(below: u32, above: u32, p: vec2f) -> f32 {
  let z = stretchParam(below, STRETCH_zOut);
  let begin = halfAt(below, z, false);
  let end = halfAt(above, z, false);
  if (!RECTANGULAR) { return clamp((acrossSection(p) - begin) / (end - begin), 0.0, 1.0); }
  let beginY = halfAt(below, z, true);
  let endY = halfAt(above, z, true);
  // Beside the narrower in x, in y, or in both.
  let besideX = abs(p.x) > min(begin, end);
  let besideY = abs(p.y) > min(beginY, endY);
  let inX = (abs(p.x) - begin) / (end - begin);
  let inY = (abs(p.y) - beginY) / (endY - beginY);
  if (!besideY) { return clamp(inX, 0.0, 1.0); }
  if (!besideX) { return clamp(inY, 0.0, 1.0); }
  return clamp(select(max(inX, inY), min(inX, inY), begin > end && beginY > endY), 0.0, 1.0);
}

/// Radius, or the distance across a polygon's flats.
fn acrossSection(p: vec2f) -> f32 {
  if (ROUND) { return length(p); }
  var most = 0.0;
  let sides = setup.sides;
  for (var i = 0u; i < sides; i++) { most = max(most, dot(p, sideTurn(i))); }
  return most;
}

/// Share of the way round the section of the stretch that the ray is in, from the middle of the flat at +x anticlockwise: of the azimuth; on a
/// rectangle a quarter for each flat, even along it.
fn shareRound(p: vec2f, z: f32) -> f32 {
  if (!RECTANGULAR) { return shareOfTurn(p.x, p.y); }
  let u = p.x / halfAt(stretchNow, z, false);
  let v = p.y / halfAt(stretchNow, z, true);
  let au = abs(u);
  let av = abs(v);
  var share: f32;
  if (av > au) {
    share = select(0.75 + u / (8.0 * av), 0.25 - u / (8.0 * av), v > 0.0);
  } else {
    share = select(0.5 - v / (8.0 * au), v / (8.0 * au), u > 0.0);
  }
  return select(share, min(share + 1.0, 0.9999999), share < 0.0);
}

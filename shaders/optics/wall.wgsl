// Twin of src/optics/wall.ts. The tunnel: a frustum about the axis, round or a regular polygon, met from inside.
// References: [1] Box & Muller, Ann. Math. Statist. 29 (1958) 610, normal deviates.

/// Cosine and sine towards side i: a table made beside the scene, in double precision.
fn sideTurn(i: u32) -> vec2f {
  let at = setup.sidesAt + 2u * i;
  return vec2f(tables[at], tables[at + 1u]);
}

/// True when (x, y) lies inside the tunnel's section of half size `half` (radius or apothem).
fn insideSection(x: f32, y: f32, half: f32) -> bool {
  if (ROUND) { return x * x + y * y <= half * half; }
  let sides = setup.sides;
  var farthest = -NEVER;
  for (var i = 0u; i < sides; i++) { farthest = max(farthest, dot(vec2f(x, y), sideTurn(i))); }
  return farthest <= half;
}

/// Half size of the section at z.
fn sectionAt(z: f32) -> f32 {
  return wallParam(P_rIn) + (z - wallParam(P_zIn)) * wallParam(P_tanFlare);
}

/// Distance to the wall from inside, and its side, into their slots.
fn toWall() {
  if (RECTANGULAR) {
    toRectangle();
    return;
  }
  let half = sectionAt(ray.pos.z);
  let dHalf = ray.dir.z * wallParam(P_tanFlare);
  let p = ray.pos.xy;
  let d = ray.dir.xy;
  if (ROUND) {
    let r = length(p);
    ray.reach = coneOut(dot(d, d) - dHalf * dHalf, dot(p, d) - half * dHalf, (r - half) * (r + half));
    return;
  }
  var nearest = NEVER;
  let sides = setup.sides;
  for (var i = 0u; i < sides; i++) {
    let cs = sideTurn(i);
    let toward = dot(d, cs) - dHalf;
    if (toward <= 0.0) { continue; }
    let t = (half - dot(p, cs)) / toward;
    if (t < nearest) {
      nearest = t;
      ray.side = i;
    }
  }
  ray.reach = max(nearest, 0.0);
}

/// The same between two pairs of flat walls: each goes away from the axis by dz tanγ, and the ray towards it by its own share.
fn toRectangle() {
  let along = ray.pos.z - wallParam(STRETCH_zIn);
  let tan = vec2f(wallParam(STRETCH_tanFlare), wallParam(STRETCH_tanFlareY));
  let away = ray.dir.z * tan;
  let half = vec2f(wallParam(STRETCH_rIn), wallParam(STRETCH_halfYIn)) + along * tan;
  var nearest = NEVER;
  for (var i = 0u; i < 4u; i++) {
    let sign = select(-1.0, 1.0, i < 2u);
    let odd = (i & 1u) == 1u;
    let toward = sign * select(ray.dir.x, ray.dir.y, odd) - select(away.x, away.y, odd);
    if (toward <= 0.0) { continue; }
    let t = (select(half.x, half.y, odd) - sign * select(ray.pos.x, ray.pos.y, odd)) / toward;
    if (t < nearest) {
      nearest = t;
      ray.side = i;
    }
  }
  ray.reach = max(nearest, 0.0);
}

/// Tangent of the flare of the wall that was met.
fn flareAt() -> f32 {
  if (RECTANGULAR) { return select(wallParam(P_tanFlare), wallParam(STRETCH_tanFlareY), (ray.side & 1u) == 1u); }
  return wallParam(P_tanFlare);
}

/// New direction after the wall: mirror-like with scatter, or Lambertian. The ray stands on the wall.
fn leaveWall() {
  let tan = flareAt();
  let scale = 1.0 / sqrt(1.0 + tan * tan);
  var c: vec2f;
  if (ROUND) {
    c = ray.pos.xy / max(length(ray.pos.xy), 1e-12);
    let onWall = c * sectionAt(ray.pos.z); // back onto the wall exactly
    ray.pos = vec3f(onWall, ray.pos.z);
  } else {
    c = sideTurn(ray.side);
  }
  let n = vec3f(-c * scale, tan * scale);
  if (wallParam(P_wallSpecular) < 1.0) {
    if (draw() >= wallParam(P_wallSpecular)) {
      lambertian(n);
      return;
    }
  }
  let mirror = ray.dir - 2.0 * dot(ray.dir, n) * n;
  let m = mirror * (1.5 - 0.5 * dot(mirror, mirror));
  let sigma = wallParam(P_wallScatter);
  ray.dir = m;
  if (sigma == 0.0) { return; }
  for (var tries = 0; tries < 16; tries++) {
    let radius = sigma * sqrt(2.0 * minusLn(draw24())); // [1]
    let along = 1.0 / sqrt(1.0 + radius * radius);
    tilt(m, vec3f(turnOfDraw(draw24()) * radius * along, along));
    if (dot(ray.dir, n) > 0.0) { return; }
  }
  ray.dir = m; // sixteen times across the wall: only at grazing light; keep the mirror direction
}

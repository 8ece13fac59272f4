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
  return param(P_rIn) + (z - param(P_zIn)) * param(P_tanFlare);
}

/// Distance to the wall from inside, and its side, into their slots.
fn toWall() {
  let half = sectionAt(ray.pos.z);
  let dHalf = ray.dir.z * param(P_tanFlare);
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

/// New direction after the wall: mirror-like with scatter, or Lambertian. The ray stands on the wall.
fn leaveWall() {
  let tan = param(P_tanFlare);
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
  if (param(P_wallSpecular) < 1.0) {
    if (draw() >= param(P_wallSpecular)) {
      lambertian(n);
      return;
    }
  }
  let mirror = ray.dir - 2.0 * dot(ray.dir, n) * n;
  let m = mirror * (1.5 - 0.5 * dot(mirror, mirror));
  let sigma = param(P_wallScatter);
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

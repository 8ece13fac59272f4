// Twin of src/optics/wallBack.ts. The tunnel's wall for a ray traced backwards: leaveWall's direction, and the weight that makes it an estimate
// of the light that the forward tracer would send the other way.

/// Normal distribution (M. Abramowitz, I. A. Stegun, 26.2.17).
fn normalBelow(x: f32) -> f32 {
  let a = abs(x);
  if (a > 8.0) { return select(1.0, 0.0, x < 0.0); }
  let t = 1.0 / (1.0 + 0.2316419 * a);
  let poly = t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  let above = poly * exp(-0.5 * a * a) / sqrt(TURN);
  return select(1.0 - above, above, x < 0.0);
}

/// Chance that a scattered direction about a mirror direction with this cosine stays off the wall.
fn staysOff(cos: f32, sigma: f32) -> f32 {
  return normalBelow(cos / (sigma * sqrt(max(1e-30, 1.0 - cos * cos))));
}

/// Leave the wall backwards; the reflectance is the caller's. The ray stands on the wall.
fn leaveWallBack() {
  let sigma = wallParam(P_wallScatter);
  let specular = wallParam(P_wallSpecular);
  let before = ray.dir;
  leaveWall();
  if (sigma == 0.0 || specular == 0.0) { return; }
  // Normal as leaveWall has it.
  let tan = flareAt();
  let scale = 1.0 / sqrt(1.0 + tan * tan);
  var c: vec2f;
  if (ROUND) { c = ray.pos.xy / max(length(ray.pos.xy), 1e-12); } else { c = sideTurn(ray.side); }
  let n = vec3f(-c * scale, tan * scale);
  let cosO = max(1e-9, -dot(before, n));
  let cosI = max(0.0, dot(ray.dir, n));
  let aI = staysOff(cosI, sigma);
  let aO = staysOff(cosO, sigma);
  if (specular >= 1.0) {
    ray.w *= (cosI * aO) / (cosO * aI);
    return;
  }
  // cosδ between the new direction and the mirror of the old one; g(δ) = exp(−tan²δ/2σ²)/(2π σ² cos³δ)
  let mirror = before + 2.0 * cosO * n;
  let e = cross3(ray.dir, mirror);
  let cosDelta = dot(ray.dir, mirror);
  var g = 0.0;
  if (cosDelta > 0.0) {
    let tan2 = dot(e, e) / (cosDelta * cosDelta);
    g = specular * exp(-0.5 * tan2 / (sigma * sigma)) / (TURN * sigma * sigma * cosDelta * cosDelta * cosDelta);
  }
  // Both shares together: which of them was drawn need not be known, and the weight stays tame where the scattered one is unlikely.
  let diffuse = (1.0 - specular) * 2.0 / TURN;
  ray.w *= ((diffuse * cosO + g / aI) * cosI) / ((diffuse * cosI + g / aO) * cosO);
}

/// The built-in of this name is taken by interface.wgsl.
fn cross3(a: vec3f, b: vec3f) -> vec3f {
  return a.yzx * b.zxy - a.zxy * b.yzx;
}

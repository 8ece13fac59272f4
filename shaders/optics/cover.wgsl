// Twin of src/optics/cover.ts. A plane parallel plate. Local frame as of a solid lens: z = 0 on the side towards the target, the other at
// z = −thickness.
// References: [1] M. Born, E. Wolf, Principles of Optics, 7th ed., 1.5.2 (Fresnel formulae), 7.6.1 (multiple reflections).

/// Trace one passage; the ray stands on the side that it comes from, and goes to and fro between the two as often as its draws say [1].
/// `coated`: reflectance of a surface at every angle; below 0, by Fresnel. The absorption is the caller's.
fn passCover(coated: f32) -> u32 {
  let thickness = lensParam(P_lensThickness);
  ray.path = 0.0;
  let down = ray.dir.z < 0.0;
  if (!crossSurface(coated, 1.0 / ray.index)) { return select(LEAVES_FLAT, LEAVES_WORKED, down); }
  for (var step = 0u; step < LENS_STEP_LIMIT; step++) {
    let up = ray.dir.z > 0.0;
    let still = ray.dir.z == 0.0;
    let s = select((select(-thickness, 0.0, up) - ray.pos.z) / select(ray.dir.z, 1.0, still), 0.0, still);
    ray.pos += vec3f(s * ray.dir.xy, 0.0);
    ray.path += s;
    if (still || outside(ray.pos.xy)) {
      ray.path -= min(s, pastRim(ray.pos.xy, ray.dir.xy));
      return ENDS_AT_RIM;
    }
    ray.pos.z = select(-thickness, 0.0, up);
    if (crossSurface(coated, ray.index)) { return select(LEAVES_FLAT, LEAVES_WORKED, up); }
  }
  return ENDS_AT_LIMIT;
}

/// As crossPlane, or with a stated reflectance in place of Fresnel's; light that Snell's law lets through nowhere is reflected.
fn crossSurface(coated: f32, eta: f32) -> bool {
  if (coated < 0.0) { return crossPlane(eta); }
  let d = ray.dir;
  let sin2 = eta * eta * dot(d.xy, d.xy);
  if (sin2 < 1.0) {
    if (draw() >= coated) {
      let cosOut = sqrt(1.0 - sin2);
      ray.dir = vec3f(eta * d.xy, select(cosOut, -cosOut, d.z < 0.0));
      return true;
    }
  }
  ray.dir.z = -d.z;
  return false;
}

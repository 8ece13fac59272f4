// Twin of src/optics/groovesBack.ts. Rounded tips, for a ray traced backwards through the grooves: two ways back, by the tip and by the groove,
// of which the ray takes one about as often as it weighs.

/// The ray stands in the plane of the tips. True when it goes on down in the body, by way of a tip: it then stands in the plane of the valleys.
fn backThroughTip() -> bool {
  let share = lensParam(P_lensTipShare);
  if (lensParam(P_lensSquare) > 0.0 && outside(ray.pos.xy)) { return false; } // no body below
  let scattered = share * ray.index * ray.index;
  let groove = max(1.0 - share, 0.1); // all of it at the facets, none beside them: some rays must sample them
  let both = scattered + groove;
  if (draw() * both >= scattered) {
    ray.w *= both / groove; // into the body, grooves.wgsl takes the share off again
    return false;
  }
  ray.w *= both;
  lambertian(vec3f(0.0, 0.0, -1.0));
  ray.pos.z = 0.0;
  return true;
}

/// The ray comes up through the plane of the valleys, under ring `ring`. True when it goes on from the facet above, by way of its tip.
fn backOntoTip(ring: u32) -> bool {
  let row = ringRow(ring);
  let r = max(length(ray.pos.xy), 1e-12);
  let z = (f32(ring + 1u) * lensParam(P_lensPitch) - r) / row.w;
  if (z > row.z) { return false; } // the riser stands here
  let scattered = lensParam(P_lensTipShare) / (ray.index * ray.index * row.y);
  ray.w *= 1.0 + scattered;
  if (draw() * (1.0 + scattered) >= scattered) { return false; }
  lambertian(vec3f((row.x / r) * ray.pos.xy, row.y));
  ray.pos.z = max(0.0, z);
  return true;
}

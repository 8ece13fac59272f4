// Twin of src/optics/direct.ts. The way through a Fresnel lens that nine rays in ten take: in by the flat side, out by the facet they reach,
// and clear of the grooves. Every draw is the general walk's (grooves.wgsl), without its loop: lanes stay together. A ray that does anything
// else is left where it does so, in that state of the walk.

/// The ray stands before the flat side: how it has left the lens, or in which state it still is inside.
fn passDirect() -> u32 {
  ray.path = 0.0;
  ray.lensSteps = 3u * INTERFACE_STEPS;
  if (param(P_lensTipShare) > 0.0) { return BEFORE_FLAT; }
  let index = ray.index;

  // Flat side, normal (0, 0, −1).
  var d = ray.dir;
  let etaIn = 1.0 / index;
  let cosFlat = max(0.0, d.z);
  let cosGlass = sqrt(1.0 - etaIn * etaIn * (1.0 - cosFlat * cosFlat));
  if (!refracts(draw(), cosFlat, cosGlass, etaIn)) {
    ray.dir = reflectAt(d, cosFlat, vec3f(0.0, 0.0, -1.0));
    return LEAVES_FLAT;
  }
  d = vec3f(etaIn * d.xy, etaIn * d.z - (etaIn * cosFlat - cosGlass));
  d *= 1.5 - 0.5 * dot(d, d);

  // Body, to the plane of the valleys.
  let sBody = -ray.pos.z / d.z;
  var p = vec3f(ray.pos.xy + sBody * d.xy, 0.0);
  let r = length(p.xy);
  let pitch = param(P_lensPitch);
  let ring = u32(r * (1.0 / pitch));
  ray.dir = d;
  if (outside(p.xy) || ring >= u32(param(P_lensRings))) { return BODY; }
  ray.ring = ring;
  ray.pos = p;
  ray.path = sBody;
  if (ring == 0u) { return MATERIAL; }

  // Facet, and no riser before it.
  let dr2 = dot(d.xy, d.xy);
  let xd = dot(p.xy, d.xy);
  let outer = f32(ring + 1u) * pitch;
  let inner = f32(ring) * pitch;
  let dq = -d.z * ringRow(ring).w;
  let s = coneOut(dr2 - dq * dq, xd - outer * dq, min((r - outer) * (r + outer), 0.0));
  let dqr = d.z * param(P_lensTanDraft);
  let ra = dr2 - dqr * dqr;
  let rb = xd - inner * dqr;
  let rc = (r - inner) * (r + inner);
  let clear = select(rb >= 0.0, rc > 0.0 && (ra * s + 2.0 * rb) * s + rc > 0.0, ra < 0.0);
  if (!clear || s >= NEVER) { return MATERIAL; }
  p += s * d;
  ray.pos = p;
  ray.path = sBody + s;
  let sin = ringRow(ring).x / max(length(p.xy), 1e-12);
  let n = vec3f(-sin * p.xy, -ringRow(ring).y);
  let cosIn = max(0.0, -dot(d, n));
  let sin2 = index * index * (1.0 - cosIn * cosIn);
  let cosOut = sqrt(max(0.0, 1.0 - sin2));
  var out = false;
  if (sin2 < 1.0) { out = refracts(draw(), cosIn, cosOut, index); }
  if (!out) {
    ray.dir = reflectAt(d, cosIn, n);
    return MATERIAL;
  }
  d = index * d + (index * cosIn - cosOut) * n;
  d *= 1.5 - 0.5 * dot(d, d);
  ray.dir = d;

  // Clear of the grooves within its own ring.
  let layer = param(P_lensLayer);
  if (d.z <= 0.0) { return AIR_OFF_FACET; }
  let top = p.xy + ((layer - p.z) / d.z) * d.xy;
  let rTop = length(top);
  if (!(rTop <= outer && (dot(p.xy, d.xy) >= 0.0 || (rTop >= inner && dot(top, d.xy) <= 0.0)))) { return AIR_OFF_FACET; }
  ray.pos = vec3f(top, layer);
  return LEAVES_WORKED;
}

fn reflectAt(d: vec3f, cosIn: f32, n: vec3f) -> vec3f {
  let after = d + 2.0 * cosIn * n;
  return after * (1.5 - 0.5 * dot(after, after));
}

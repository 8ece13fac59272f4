// Twin of src/optics/direct.ts. The way through a Fresnel lens that nine rays in ten take: in by the flat side, out by the facet they reach,
// and clear of the grooves. Every draw is the general walk's (grooves.wgsl), without its loop: lanes stay together. A ray that does anything
// else is left as it was and walked in full.

/// True when the ray, before the flat side, has passed straight through; otherwise ray and stream are unchanged.
fn passDirect() -> bool {
  if (param(P_lensTipShare) > 0.0) { return false; }
  let firstDraw = stream.next;
  if (passedDirect()) { return true; }
  stream.next = firstDraw;
  return false;
}

fn passedDirect() -> bool {
  let index = ray.index;

  // Flat side, normal (0, 0, −1).
  var d = ray.dir;
  let etaIn = 1.0 / index;
  let cosFlat = max(0.0, d.z);
  let cosGlass = sqrt(1.0 - etaIn * etaIn * (1.0 - cosFlat * cosFlat));
  if (!refracts(draw(), cosFlat, cosGlass, etaIn)) { return false; }
  d = vec3f(etaIn * d.xy, etaIn * d.z - (etaIn * cosFlat - cosGlass));
  d *= 1.5 - 0.5 * dot(d, d);

  // Body, to the plane of the valleys.
  let sBody = -ray.pos.z / d.z;
  var p = vec3f(ray.pos.xy + sBody * d.xy, 0.0);
  let r = length(p.xy);
  let half = param(P_lensHalf);
  let pitch = param(P_lensPitch);
  let ring = u32(r * (1.0 / pitch));
  let outside = select(r > half, abs(p.x) > half || abs(p.y) > half, param(P_lensSquare) > 0.0);
  if (outside || ring >= u32(param(P_lensRings)) || ring == 0u) { return false; }

  // Facet, and no riser before it.
  let dr2 = dot(d.xy, d.xy);
  let xd = dot(p.xy, d.xy);
  let outer = f32(ring + 1u) * pitch;
  let inner = f32(ring) * pitch;
  let dq = -d.z * ringTable(ring, RING_cot);
  let s = coneOut(dr2 - dq * dq, xd - outer * dq, min((r - outer) * (r + outer), 0.0));
  let dqr = d.z * param(P_lensTanDraft);
  let ra = dr2 - dqr * dqr;
  let rb = xd - inner * dqr;
  let rc = (r - inner) * (r + inner);
  let clear = select(rb >= 0.0, rc > 0.0 && (ra * s + 2.0 * rb) * s + rc > 0.0, ra < 0.0);
  if (!clear || s >= NEVER) { return false; }
  p += s * d;
  let sin = ringTable(ring, RING_sin) / max(length(p.xy), 1e-12);
  let n = vec3f(-sin * p.xy, -ringTable(ring, RING_cos));
  let cosIn = max(0.0, -dot(d, n));
  let sin2 = index * index * (1.0 - cosIn * cosIn);
  if (sin2 >= 1.0) { return false; }
  let cosOut = sqrt(1.0 - sin2);
  if (!refracts(draw(), cosIn, cosOut, index)) { return false; }
  d = index * d + (index * cosIn - cosOut) * n;
  d *= 1.5 - 0.5 * dot(d, d);

  // Clear of the grooves within its own ring.
  let layer = param(P_lensLayer);
  if (d.z <= 0.0) { return false; }
  let top = p.xy + ((layer - p.z) / d.z) * d.xy;
  let rTop = length(top);
  if (!(rTop <= outer && (dot(p.xy, d.xy) >= 0.0 || (rTop >= inner && dot(top, d.xy) <= 0.0)))) { return false; }
  ray.pos = vec3f(top, layer);
  ray.dir = d;
  ray.path = sBody + s;
  return true;
}

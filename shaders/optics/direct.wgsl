// Twin of src/optics/direct.ts. The way through a Fresnel lens that nine rays in ten take: in by the flat side, out by the facet they reach,
// and clear of the grooves. Every draw is the general walk's (grooves.wgsl), without its loop: lanes stay together. A ray that does anything
// else is left where it does so, in that state of the walk.

/// The ray stands before the flat side: how it has left the lens, or in which state it still is inside. All of the way is worked out and then
/// taken as far as it holds: every early return would cost all lanes the moving of what it leaves behind.
fn passDirect() -> u32 {
  ray.path = 0.0;
  ray.lensSteps = 3u * INTERFACE_STEPS;
  if (lensParam(P_lensTipShare) > 0.0) { return BEFORE_FLAT; }
  let index = ray.index;

  // Flat side, normal (0, 0, −1).
  let before = ray.dir;
  let etaIn = 1.0 / index;
  let cosFlat = max(0.0, before.z);
  let cosGlass = sqrt(1.0 - etaIn * etaIn * (1.0 - cosFlat * cosFlat));
  let inGlass = refracts(draw(), cosFlat, cosGlass, etaIn);
  var d = vec3f(etaIn * before.xy, cosGlass);
  d *= 1.5 - 0.5 * dot(d, d);

  // Body, to the plane of the valleys.
  let sBody = -ray.pos.z / d.z;
  let p = vec3f(ray.pos.xy + sBody * d.xy, 0.0);
  let r = length(p.xy);
  let pitch = lensParam(P_lensPitch);
  let ring = u32(r * lensPerPitch());
  let inRing = inGlass && !outside(p.xy) && ring < lensRings();

  // Facet, and no riser before it.
  let row = ringRow(ring);
  let dr2 = dot(d.xy, d.xy);
  let xd = dot(p.xy, d.xy);
  let outer = f32(ring + 1u) * pitch;
  let inner = f32(ring) * pitch;
  let dq = -d.z * row.w;
  let s = coneOut(dr2 - dq * dq, xd - outer * dq, min((r - outer) * (r + outer), 0.0));
  let dqr = d.z * lensParam(P_lensTanDraft);
  let ra = dr2 - dqr * dqr;
  let rb = xd - inner * dqr;
  let rc = (r - inner) * (r + inner);
  let clear = select(rb >= 0.0, rc > 0.0 && (ra * s + 2.0 * rb) * s + rc > 0.0, ra < 0.0);
  let onFacet = inRing && ring > 0u && clear && s < NEVER;
  let f = p + s * d;
  let n = vec3f((-row.x * inverseSqrt(max(dot(f.xy, f.xy), 1e-24))) * f.xy, -row.y);
  let cosIn = max(0.0, -dot(d, n));
  let sin2 = index * index * (1.0 - cosIn * cosIn);
  let cosOut = sqrt(max(0.0, 1.0 - sin2));
  var out = false;
  if (onFacet && sin2 < 1.0) { out = refracts(draw(), cosIn, cosOut, index); }
  var after = index * d + (index * cosIn - cosOut) * n;
  if (!out) { after = d + 2.0 * cosIn * n; }
  after *= 1.5 - 0.5 * dot(after, after);

  // Clear of the grooves within its own ring.
  let layer = lensParam(P_lensLayer);
  let top = f.xy + ((layer - f.z) / after.z) * after.xy;
  let rTop = length(top);
  let within = rTop <= outer && (dot(f.xy, after.xy) >= 0.0 || (rTop >= inner && dot(top, after.xy) <= 0.0));
  let passed = out && after.z > 0.0 && within;

  ray.ring = ring;
  ray.path = select(select(0.0, sBody, inRing), sBody + s, onFacet);
  ray.pos = select(select(select(ray.pos, p, inRing), f, onFacet), vec3f(top, layer), passed);
  ray.dir = select(select(vec3f(before.xy, -before.z), d, inGlass), after, onFacet);
  return select(
    select(select(LEAVES_FLAT, select(BODY, MATERIAL, inRing), inGlass), AIR_OFF_FACET, out),
    LEAVES_WORKED,
    passed,
  );
}

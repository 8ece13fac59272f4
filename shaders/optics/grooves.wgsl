// Twin of src/optics/grooves.ts. The Fresnel lens, walked groove by groove. Local frame: z = 0 in the plane of the valleys, out of the body
// on the grooved side; flat side at z = −thickness. Ring k spans [k p, (k+1) p]: its facet falls outward to the valley,
// r = (k+1) p − z / tanα; its riser stands at the inner edge and leans by the draft, r = k p + z tanδ.
// Single precision: a radius and not its square is compared, c = (r − q)(r + q), and the ring comes from that radius.
// References: [1] M. Born, E. Wolf, Principles of Optics, 7th ed., 1.5.2 and 1.5.3 (Fresnel formulae, unpolarised light).

const BEFORE_FLAT = 10u;
const BODY = 11u;
const MATERIAL = 12u;
const AIR = 13u;
/// In air, having just left its own facet: such a ray can't meet it again, a cone is convex.
const AIR_OFF_FACET = 14u;
/// In air beyond the last whole ring, where the aperture's flat rest lies.
const BESIDE_RINGS = 15u;

const FACET = 1u;
const OWN_RISER = 2u;
const OUTER = 3u;
const INNER = 4u;
const TOP = 5u;
const FLOOR = 6u;

/// A surface met counts so many steps, a mere border one: a ray may cross thousands of grooves in the air, but not be reflected for ever.
const INTERFACE_STEPS = 50u;

/// How far rounding may put a ray off a riser that it has just left, as a share of r².
const ON_RISER = 5e-7;

/// A passage begins; the ray stands in front of the flat side, or (fromGrooves) in the plane of the tips. Local frame in and out. Gives the
/// state that stepFresnel takes further, until it is no state of the lens any more but the way the passage ended.
fn enterFresnel(fromGrooves: bool) -> u32 {
  ray.path = 0.0;
  ray.lensSteps = 0u;
  if (!fromGrooves) { return BEFORE_FLAT; }
  ray.ring = u32(length(ray.pos.xy) * lensPerPitch());
  if (BACK) {
    if (lensParam(P_lensTipShare) > 0.0 && ray.ring < lensRings() && ray.pos.z == lensParam(P_lensLayer)) {
      if (backThroughTip()) { return BODY; }
    }
  }
  return select(BESIDE_RINGS, AIR, ray.ring < lensRings());
}

/// One turn of the twin's loop: the ray moves to its next surface; a border between rings or regions is just passed, at an interface (normal n
/// on the ray's own side) the ray is reflected or refracted by a draw. The kernel's own loop turns it, so that lanes that have left the lens
/// take up other rays meanwhile.
fn stepFresnel(state: u32) -> u32 {
  if (ray.lensSteps >= LENS_STEP_LIMIT) { return ENDS_AT_LIMIT; }
  ray.lensSteps++;
  let index = ray.index;
  let pitch = lensParam(P_lensPitch);
  let perPitch = lensPerPitch();
  let count = lensRings();
  let tanDraft = lensParam(P_lensTanDraft);
  // Traced backwards, a tip is met where its light starts (groovesBack.wgsl).
  let backShare = select(0.0, lensParam(P_lensTipShare), BACK);
  let tipShare = select(lensParam(P_lensTipShare), 0.0, BACK);
  let layer = lensParam(P_lensLayer);
  let thickness = lensParam(P_lensThickness);
  let ring = ray.ring;
  let d = ray.dir;
  var p = ray.pos;
  var n = vec3f(0.0);
  var inGlass = true;
  var refracted = state;
  var reflected = state;
  var ringRefracted = ring; // of the rest of the aperture it means nothing

  if (state == MATERIAL) {
    let dr2 = dot(d.xy, d.xy);
    let xd = dot(p.xy, d.xy);
    let r = length(p.xy);
    let cot = ringRow(ring).w;
    let q = f32(ring + 1u) * pitch - p.z * cot;
    let dq = -d.z * cot;
    var s = coneOut(dr2 - dq * dq, xd - q * dq, min((r - q) * (r + q), 0.0));
    var hit = FACET;
    if (ring > 0u) {
      let qr = f32(ring) * pitch + p.z * tanDraft;
      let dqr = d.z * tanDraft;
      let a = dr2 - dqr * dqr;
      let b = xd - qr * dqr;
      let c = (r - qr) * (r + qr);
      // With a < 0 the distance from the riser's cone is concave along the ray: clear at both ends, it is clear between.
      var sRiser = NEVER;
      let clear = select(b >= 0.0, c > 0.0 && (a * s + 2.0 * b) * s + c > 0.0, a < 0.0);
      if (!clear) { sRiser = coneIn(a, b, c); }
      if (sRiser < s) {
        s = sRiser;
        hit = OWN_RISER;
      }
    }
    if (d.z < 0.0 && p.z < s * -d.z) {
      s = -p.z / d.z;
      hit = FLOOR;
    }
    if (s >= NEVER) {
      ray.pos = p;
      return ENDS_AT_LIMIT;
    }
    p += s * d;
    ray.path += s;
    if (hit == FLOOR) {
      // Under the grooves a square lens ends at its sides, from either end: upward the body's own check sees to it.
      p.z = 0.0;
      ray.pos = p;
      if (BACK) { ray.w *= 1.0 - backShare; }
      if (outside(p.xy)) {
        ray.path -= min(s, pastRim(p.xy, d.xy));
        return ENDS_AT_RIM;
      }
      return BODY;
    }
    if (hit == FACET) {
      let sin = ringRow(ring).x / max(length(p.xy), 1e-12);
      n = vec3f(-sin * p.xy, -ringRow(ring).y);
      refracted = AIR_OFF_FACET;
    } else {
      ray.riser = true;
      n = vec3f(p.xy / max(length(p.xy), 1e-12), -tanDraft) * inverseSqrt(1.0 + tanDraft * tanDraft);
      refracted = AIR;
      if (tanDraft == 0.0) { ringRefracted = ring - 1u; }
    }
  } else if (state == BODY) {
    let up = d.z > 0.0;
    if (abs(d.z) < 1e-9) {
      ray.pos = p; // runs along the slab
      return ENDS_AT_RIM;
    }
    let s = (select(-thickness, 0.0, up) - p.z) / d.z;
    p += s * d;
    ray.path += s;
    let r = length(p.xy);
    if (outside(p.xy)) {
      ray.pos = p;
      ray.path -= min(s, pastRim(p.xy, d.xy));
      return ENDS_AT_RIM;
    }
    if (up) {
      p.z = 0.0;
      ray.ring = u32(r * perPitch);
      if (ray.ring < count) {
        ray.pos = p;
        if (tipShare > 0.0) {
          if (draw() < tipShare) {
            ray.pos.z = layer;
            ray.dir = scatterAlong(true);
            return LEAVES_WORKED;
          }
        }
        if (BACK) {
          if (backShare > 0.0) {
            if (backOntoTip(ray.ring)) { return AIR_OFF_FACET; }
          }
        }
        return MATERIAL;
      }
      n = vec3f(0.0, 0.0, -1.0);
      refracted = BESIDE_RINGS;
    } else {
      p.z = -thickness;
      n = vec3f(0.0, 0.0, 1.0);
      refracted = LEAVES_FLAT;
    }
    reflected = BODY;
  } else if (state == BEFORE_FLAT) {
    inGlass = false;
    n = vec3f(0.0, 0.0, -1.0);
    refracted = BODY;
    reflected = LEAVES_FLAT;
  } else if (state == BESIDE_RINGS) {
    // Into the air of the last ring, out and away, or down onto the flat rest.
    let reach = f32(count) * pitch;
    let r = length(p.xy);
    var sIn = NEVER;
    if (count > 0u) { sIn = coneIn(dot(d.xy, d.xy), dot(p.xy, d.xy), max((r - reach) * (r + reach), 0.0)); }
    let s = (select(0.0, layer, d.z > 0.0) - p.z) / d.z;
    if (sIn < s) {
      ray.pos = p + sIn * d;
      ray.ring = count - 1u;
      return AIR;
    }
    p += s * d;
    if (d.z >= 0.0 || outside(p.xy)) {
      ray.pos = p;
      return select(ENDS_AT_RIM, LEAVES_WORKED, d.z > 0.0);
    }
    p.z = 0.0;
    inGlass = false;
    n = vec3f(0.0, 0.0, 1.0);
    refracted = BODY;
    reflected = BESIDE_RINGS;
  } else {
    // In air, in the cell of its ring. First the common case: it has left its facet and climbs out without leaving the ring.
    inGlass = false;
    let outer = f32(ring + 1u) * pitch;
    let inner = f32(ring) * pitch;
    let xd = dot(p.xy, d.xy);
    if (state == AIR_OFF_FACET && d.z > 0.0) {
      let top = p.xy + ((layer - p.z) / d.z) * d.xy;
      let rTop = length(top);
      if (rTop <= outer && (ring == 0u || xd >= 0.0 || (rTop >= inner && dot(top, d.xy) <= 0.0))) {
        ray.pos = vec3f(top, layer);
        return LEAVES_WORKED;
      }
    }
    let tip = ringRow(ring).z;
    let dr2 = dot(d.xy, d.xy);
    let r = length(p.xy);
    var s = coneOut(dr2, xd, min((r - outer) * (r + outer), 0.0));
    var hit = OUTER;
    if (ring > 0u) {
      let sInner = coneIn(dr2, xd, (r - inner) * (r + inner));
      if (sInner < s) {
        s = sInner;
        hit = INNER;
      }
    }
    if (d.z > 0.0) {
      let sTop = (layer - p.z) / d.z;
      if (sTop < s) {
        s = sTop;
        hit = TOP;
      }
    }
    if (state == AIR) {
      let cot = ringRow(ring).w;
      let q = outer - p.z * cot;
      let dq = -d.z * cot;
      let a = dr2 - dq * dq;
      let b = xd - q * dq;
      let c = (r - q) * (r + q);
      // The grooves farther out can be taller than this facet's cone: above its apex q < 0.
      var sFacet: f32;
      if (q < 0.0 && c < 0.0) { sFacet = coneAcross(a, b, c); } else { sFacet = coneIn(a, b, max(c, 0.0)); }
      if (sFacet < s && p.z + sFacet * d.z <= tip) {
        s = sFacet;
        hit = FACET;
      }
    }
    if (ring > 0u && tanDraft > 0.0) {
      let q = inner + p.z * tanDraft;
      let dq = d.z * tanDraft;
      let b = xd - q * dq;
      let c = (r - q) * (r + q);
      // From inside its cone, or by way of it from above the tip. A ray that has just left it stands on it: rounding decides the sign of c.
      if (c < 0.0 || b < 0.0) {
        let sRiser = coneOut(dr2 - dq * dq, b, select(c, min(c, 0.0), c < ON_RISER * r * r));
        let zRiser = p.z + sRiser * d.z;
        if (sRiser < s && zRiser <= tip && zRiser >= 0.0) {
          s = sRiser;
          hit = OWN_RISER;
        }
      }
    }
    if (d.z < 0.0 && p.z + s * d.z < 0.0) {
      s = -p.z / d.z; // rounding at a valley: the valley line belongs to the facet
      hit = FACET;
    }
    if (s >= NEVER) {
      ray.pos = p;
      return ENDS_AT_LIMIT;
    }
    p += s * d;
    reflected = AIR;
    refracted = MATERIAL;
    if (hit == TOP) {
      p.z = layer;
      ray.pos = p;
      return LEAVES_WORKED;
    }
    if (hit == INNER) {
      ray.ring = ring - 1u;
      ray.pos = p;
      return AIR;
    }
    let perR = 1.0 / max(length(p.xy), 1e-12);
    if (hit == FACET) {
      if (tipShare > 0.0) {
        if (draw() < tipShare) {
          p.z = 0.0;
          ray.pos = p;
          ray.dir = scatterAlong(false);
          return select(BODY, ENDS_AT_RIM, outside(p.xy));
        }
      }
      n = vec3f((ringRow(ring).x * perR) * p.xy, ringRow(ring).y);
      reflected = AIR_OFF_FACET;
    } else if (hit == OWN_RISER) {
      ray.riser = true;
      n = vec3f(-p.xy * perR, tanDraft) * inverseSqrt(1.0 + tanDraft * tanDraft);
    } else {
      if (ring + 1u >= count) {
        ray.pos = p; // past the last ring
        return select(select(ENDS_AT_RIM, BESIDE_RINGS, d.z < 0.0), LEAVES_WORKED, d.z > 0.0);
      }
      if (tanDraft > 0.0 || p.z >= ringRow(ring + 1u).z) {
        ray.ring = ring + 1u;
        ray.pos = p;
        return AIR;
      }
      ray.riser = true;
      n = vec3f(-p.xy * perR, 0.0);
      ringRefracted = ring + 1u;
    }
  }

  // The interface [1]: n on the ray's side.
  ray.lensSteps += INTERFACE_STEPS - 1u;
  ray.pos = p;
  let eta = select(1.0 / index, index, inGlass);
  let cosIn = max(0.0, -dot(d, n));
  let sin2 = eta * eta * (1.0 - cosIn * cosIn);
  var after = d + 2.0 * cosIn * n;
  var to = reflected;
  if (sin2 < 1.0) {
    let cosOut = sqrt(1.0 - sin2);
    if (refracts(draw(), cosIn, cosOut, eta)) {
      after = eta * d + (eta * cosIn - cosOut) * n;
      to = refracted;
      ray.ring = ringRefracted;
    }
  }
  if (BACK && to == AIR_OFF_FACET) { ray.w *= 1.0 - backShare; }
  ray.dir = after * (1.5 - 0.5 * dot(after, after)); // one Newton step keeps the length at 1
  return to;
}

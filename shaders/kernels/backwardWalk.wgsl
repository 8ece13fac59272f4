// Twin of src/engine/backward/walk.ts. A backward ray's way from the lamp's outermost opening down to the emitters. No ledger: the weight is all.

const ENDED = 0u;
const GAP_BELOW = 1u;
const TUNNEL = 2u;
const GAP_ABOVE = 3u;
const LENS_FROM_FACE = 4u;
const LENS_FROM_TARGET = 5u;
/// The ray has been through the lens's grooves.
const LENS_PASSED = 6u;
// From BEFORE_FLAT (10) on: in a Fresnel lens, in that state of its walk.
/// Under this weight the roulette begins; a survivor is doubled.
const SMALL = 0.01;
/// How far past an end of the tunnel rounding may put the place where a nearly parallel ray meets its wall, as a share of the length.
const WALL_END = 1e-3;

fn moveTo(z: f32) {
  ray.pos += ((z - ray.pos.z) / ray.dir.z) * ray.dir;
  ray.pos.z = z;
}

fn survives() -> bool {
  let w = ray.w;
  if (w >= SMALL) { return true; }
  if (w == 0.0) { return false; }
  if (draw() < 0.5) { return false; }
  ray.w = 2.0 * w;
  return true;
}

fn onLens() -> bool {
  let p = ray.pos.xy;
  let half = param(P_lensHalf);
  return select(dot(p, p) <= half * half, abs(p.x) <= half && abs(p.y) <= half, param(P_lensSquare) > 0.0);
}

fn hitFace() -> u32 {
  descend(0.0);
  moveTo(0.0);
  if (!insideFace(ray.pos.x, ray.pos.y, param(P_faceShape), param(P_faceHalf), param(P_faceHalfY))) { return ENDED; }
  ray.w *= param(P_faceRho);
  if (!survives()) { return ENDED; }
  lambertian(vec3f(0.0, 0.0, 1.0));
  return GAP_BELOW;
}

fn crossGapBelow() -> u32 {
  if (ray.dir.z < 0.0) { return hitFace(); }
  if (ray.dir.z == 0.0) { return ENDED; }
  if (!HAS_TUNNEL) { return reachLens(); }
  moveTo(param(P_zIn));
  return select(ENDED, TUNNEL, insideSection(ray.pos.x, ray.pos.y, param(P_rIn)));
}

fn reachLens() -> u32 {
  if (LENS_KIND == 0u) { return ENDED; } // out of the lamp: no light comes in there
  moveTo(param(P_lensFront));
  return select(ENDED, LENS_FROM_FACE, onLens());
}

fn crossTunnel() -> u32 {
  let d = ray.dir;
  if (d.z != 0.0) {
    let up = d.z > 0.0;
    let zEnd = select(param(P_zIn), param(P_zOut), up);
    let p = ray.pos.xy + ((zEnd - ray.pos.z) / d.z) * d.xy;
    if (insideSection(p.x, p.y, sectionAt(zEnd))) {
      if (!up) { descend(zEnd); }
      ray.pos = vec3f(p, zEnd);
      return select(GAP_BELOW, GAP_ABOVE, up);
    }
  }
  return meetWall();
}

fn meetWall() -> u32 {
  let zIn = param(P_zIn);
  let zOut = param(P_zOut);
  toWall();
  let z = ray.pos.z + ray.reach * ray.dir.z;
  let slack = WALL_END * (zOut - zIn);
  if (!(z >= zIn - slack && z <= zOut + slack)) { return ENDED; }
  let zWall = clamp(z, zIn, zOut);
  if (ray.dir.z < 0.0) { descend(zWall); }
  ray.pos = vec3f(ray.pos.xy + ray.reach * ray.dir.xy, zWall);
  ray.w *= param(P_wallRho);
  if (!survives()) { return ENDED; }
  leaveWallBack();
  return select(ENDED, TUNNEL, ray.w > 0.0);
}

fn crossGapAbove() -> u32 {
  if (ray.dir.z > 0.0) { return reachLens(); }
  if (ray.dir.z == 0.0) { return ENDED; }
  if (!HAS_TUNNEL) { return GAP_BELOW; }
  let zOut = param(P_zOut);
  descend(zOut);
  moveTo(zOut);
  return select(ENDED, TUNNEL, insideSection(ray.pos.x, ray.pos.y, sectionAt(zOut)));
}

/// Into the lens: through it, or the first state of the walk through its grooves, which the kernel's loop takes on.
fn crossLens(fromFace: bool) -> u32 {
  if (LENS_KIND == 1u) {
    if (fromFace) { return ENDED; }
    // The ideal lens maps slopes, not solid angles: L goes as cos⁴θ.
    let before = ray.dir.z;
    passIdeal();
    let ratio = ray.dir.z / before;
    ray.w *= ratio * ratio * ratio * ratio;
    return below();
  }
  let sign = param(P_lensSign);
  let worked = fromFace == (sign < 0.0);
  ray.dir.z *= sign;
  if (fromFace) {
    ray.pos.z = select(-param(P_lensThickness), select(0.0, param(P_lensLayer), LENS_KIND == 3u), worked);
  } else {
    ray.pos.z = heightInLens;
  }
  if (LENS_KIND == 2u) { return leaveLens(passSolid(worked)); }
  var to: u32;
  if (worked) { to = enterFresnel(worked); } else { to = passDirect(); }
  if (to >= BEFORE_FLAT) { return to; }
  return leaveLens(to);
}

/// Out of the lens.
fn leaveLens(outcome: u32) -> u32 {
  let sign = param(P_lensSign);
  ray.w *= absorb();
  ray.pos.z = param(P_lensZ) + sign * ray.pos.z;
  ray.dir.z *= sign;
  if (outcome != LEAVES_WORKED && outcome != LEAVES_FLAT) { return ENDED; }
  if ((outcome == LEAVES_WORKED) == (sign > 0.0) || !(ray.dir.z < 0.0)) { return ENDED; } // towards the target
  // Forward light comes in through the aperture in the front plane.
  moveTo(param(P_lensFront));
  if (!onLens()) { return ENDED; }
  return select(ENDED, below(), survives());
}

fn below() -> u32 {
  return select(GAP_BELOW, GAP_ABOVE, HAS_TUNNEL);
}

/// One zone further, outside the grooves.
fn crossZone(zone: u32) -> u32 {
  if (zone == TUNNEL) { return crossTunnel(); }
  if (zone == GAP_ABOVE) { return crossGapAbove(); }
  if (zone == GAP_BELOW) { return crossGapBelow(); }
  return crossLens(zone == LENS_FROM_FACE);
}

// Twin of the passage of an element in src/engine/forward/assembledWalk.ts and passElement.ts: onto one of its planes, through it, and out again.

/// The ray stands on a plane of element elementNow, in its frame; it came from the source or didn't.
const AT_ELEMENT = 16u;
var<private> fromSource: bool;
/// And it left the element towards the target or not.
var<private> towardsTarget: bool;

/// s ahead lies a plane of an element: into its frame there, or past its piece.
fn meetElement(s: f32, element: u32, isSource: bool) -> u32 {
  elementNow = element;
  fromSource = isSource;
  ray.pos += s * ray.dir;
  intoFrame(element);
  let planes = elementRow(element, 3u).zw;
  ray.pos.z = select(planes.y, planes.x, isSource);
  if (outside(ray.pos.xy + vec2f(lensParam(P_lensMidX), lensParam(P_lensMidY)))) {
    outOfFrame(element);
    if (element == 0u && isSource) { return endAtPart(FATE_outsideLens, PART_OUTSIDE); }
    return endAtPart(FATE_outsideLens, gapPart(select(element, element - 1u, isSource)));
  }
  if (isSource || setup.elements > 1u) { onPiece(element); }
  return AT_ELEMENT;
}

/// Into the element on one of whose planes the ray stands, as far as that goes at once: how it leaves, or the first state of the walk through its
/// grooves.
fn enterElement() -> u32 {
  let kind = elementKind(elementNow);
  ray.path = 0.0;
  intoLocal();
  if (kind == ELEMENT_IDEAL) {
    passIdeal();
    return select(LEAVES_FLAT, LEAVES_WORKED, fromSource);
  }
  if (kind == ELEMENT_DIFFUSER) {
    let e = elementNow;
    passFilm(elementAt(e, ELEMENT_transmits), elementAt(e, ELEMENT_reflects), elementAt(e, ELEMENT_spread));
    return select(LEAVES_FLAT, LEAVES_WORKED, ray.dir.z > 0.0);
  }
  setIndex(elementNow);
  let worked = fromSource == (lensParam(P_lensSign) < 0.0);
  if (!worked) { ray.pos.z = -lensParam(P_lensThickness); }
  if (kind == ELEMENT_COVER) { return passCover(elementAt(elementNow, ELEMENT_surfaceRho)); }
  if (kind == ELEMENT_SOLID) { return passSolid(worked); }
  if (!worked) { return passDirect(); }
  ray.pos.z = lensParam(P_lensLayer);
  return enterFresnel(true);
}

/// Out of the element; its absorption is booked here.
fn leaveElement(outcome: u32) -> u32 {
  let e = elementNow;
  let sign = lensParam(P_lensSign);
  outOfLocal();
  let along = ray.dir.z;
  outOfFrame(e);
  let kind = elementKind(e);
  var keeps = absorb();
  if (kind == ELEMENT_DIFFUSER) { keeps = min(1.0, elementAt(e, ELEMENT_transmits) + elementAt(e, ELEMENT_reflects)); }
  lose(FATE_lensAbsorbed, absorbedPart(e), onGrid(ray.w * keeps));
  // Between a film and a mirror light may go to and fro for long; lenses, as in the plain lamp, play no such game.
  if (kind >= ELEMENT_COVER) {
    if (!survives()) { return ENDS; }
  }
  if (outcome == ENDS_AT_RIM) { return endAtPart(FATE_lensRim, rimPart(e)); }
  if (outcome == ENDS_AT_LIMIT) { return endAt(FATE_limit); }
  towardsTarget = (outcome == LEAVES_WORKED) == (sign > 0.0);
  // Light scattered sideways by the outermost grooves may run past the lens; what heads back is no beam.
  if (select(along > 0.0, !(along > 0.0), towardsTarget)) { return endAtPart(FATE_lensRim, rimPart(e)); }
  if (towardsTarget) { return pastElement(e); }
  return backFrom(e);
}

fn pastElement(e: u32) -> u32 {
  elementNow = e + 1u;
  if (elementNow < setup.elements) { return GAP_ABOVE; }
  if (ray.dir.z > 0.0) { return deliver(); }
  return endAtPart(FATE_lensRim, gapPart(e));
}

fn backFrom(e: u32) -> u32 {
  if (!SUN) {
    ray.returned = true;
  } else if (e == 0u && !ray.entered) {
    ray.entered = true;
    enter();
  }
  return GAP_ABOVE;
}

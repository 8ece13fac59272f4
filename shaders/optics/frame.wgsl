// Twin of src/optics/frame.ts. Into an element's own frame and out of it. Local coordinates: x and y from the optical axis, z as the lens's
// functions want it, out of the body on the worked side; a ray arrives there in its own direction.

/// z of the ray in the frame of the element.
fn frameZ(element: u32) -> f32 {
  let p = ray.pos - elementRow(element, 0u).yzw;
  if (!isTurned(element)) { return p.z; }
  return dot(elementTurn(element).z, p);
}

/// The ray's direction along the frame's z: the cosine to the element's normal.
fn frameDz(element: u32) -> f32 {
  if (!isTurned(element)) { return ray.dir.z; }
  return dot(elementTurn(element).z, ray.dir);
}

/// The ray from the lamp's frame into the element's; x and y stay measured from the piece's middle.
fn intoFrame(element: u32) {
  let p = ray.pos - elementRow(element, 0u).yzw;
  ray.pos = p;
  if (!isTurned(element)) { return; }
  let turn = elementTurn(element);
  let d = ray.dir;
  ray.pos = vec3f(dot(turn.x, p), dot(turn.y, p), dot(turn.z, p));
  ray.dir = vec3f(dot(turn.x, d), dot(turn.y, d), dot(turn.z, d));
}

/// The way back. One Newton step keeps the direction's length at 1.
fn outOfFrame(element: u32) {
  if (isTurned(element)) {
    let turn = elementTurn(element);
    let d = ray.dir.x * turn.x + ray.dir.y * turn.y + ray.dir.z * turn.z;
    ray.pos = ray.pos.x * turn.x + ray.pos.y * turn.y + ray.pos.z * turn.z;
    ray.dir = d * (1.5 - 0.5 * dot(d, d));
  }
  ray.pos += elementRow(element, 0u).yzw;
}

/// From the frame to the local coordinates of the optics (solidLens.wgsl, grooves.wgsl): mirrored where the worked side faces the source.
fn intoLocal() {
  let sign = lensParam(P_lensSign);
  ray.pos = vec3f(ray.pos.xy + vec2f(lensParam(P_lensMidX), lensParam(P_lensMidY)), sign * (ray.pos.z - lensParam(P_lensZ)));
  ray.dir.z *= sign;
}

/// The way back.
fn outOfLocal() {
  let sign = lensParam(P_lensSign);
  ray.pos = vec3f(ray.pos.xy - vec2f(lensParam(P_lensMidX), lensParam(P_lensMidY)), lensParam(P_lensZ) + sign * ray.pos.z);
  ray.dir.z *= sign;
}

/// Index of the element's material at the ray's wavelength: linear between the values of the spectral grid.
fn setIndex(element: u32) {
  let s = (ray.nm - NM_FIRST) / NM_STEP;
  let i = min(u32(max(s, 0.0)), u32(NM_COUNT) - 2u);
  let cell = indexCell(element, i);
  ray.index = cell.x + (s - f32(i)) * (cell.y - cell.x);
}

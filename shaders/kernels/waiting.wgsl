// Rays that wait for their next step. A workgroup sorts its rays by what comes next, so that its lanes do the same at the same time: stacks in
// the device's memory, one for rays in the cavity, one for rays between the grooves of a lens, and what a lamp has besides (oneLensWaits.wgsl,
// assembly.wgsl).

const CAVITY = 0u;
const GROOVES = 1u;
/// Together they never hold more rays than the lanes times this: a turn that begins new ones is taken only when neither fills all lanes.
override ROOM: u32 = 6u;
const PARTS = 4u;

var<workgroup> waits: array<atomic<u32>, STACKS>;
/// Of this workgroup's room, the first vector. Before all rooms stand the numbers of those that wait, a vector a workgroup.
var<private> roomAt: u32;

fn slotOf(stack: u32, place: u32) -> u32 {
  return roomAt + placeOnStack(stack, place);
}

/// Set the ray aside, on the stack that its zone asks for.
fn setAside(zone: u32, steps: u32) {
  let stack = stackOf(zone);
  let at = slotOf(stack, atomicAdd(&waits[stack], 1u));
  let flags = zone | select(0u, 16u, ray.riser) | select(0u, 32u, ray.returned) | select(0u, 64u, ray.entered) | (steps << 8u) | placeBits();
  waiting[at] = vec4u(bitcast<vec3u>(ray.pos), rayIndex);
  waiting[at + ROOM * WORKGROUP] = vec4u(bitcast<vec3u>(ray.dir), flags);
  waiting[at + 2u * ROOM * WORKGROUP] = vec4u(bitcast<u32>(ray.w), ray.lm, bitcast<vec2u>(vec2f(ray.index, ray.lum)));
  waiting[at + 3u * ROOM * WORKGROUP] = vec4u(bitcast<vec2u>(vec2f(ray.nm, ray.path)), stream.next, ray.ring | (ray.lensSteps << 16u));
}

/// Take up a ray; gives its zone and the steps it has gone.
fn takeUp(stack: u32, place: u32) -> vec2u {
  let at = slotOf(stack, place);
  let a = waiting[at];
  let b = waiting[at + ROOM * WORKGROUP];
  let c = waiting[at + 2u * ROOM * WORKGROUP];
  let d = waiting[at + 3u * ROOM * WORKGROUP];
  ray.pos = bitcast<vec3f>(a.xyz);
  ray.dir = bitcast<vec3f>(b.xyz);
  ray.w = bitcast<f32>(c.x);
  ray.lm = c.y;
  ray.index = bitcast<f32>(c.z);
  ray.lum = bitcast<f32>(c.w);
  ray.nm = bitcast<f32>(d.x);
  ray.path = bitcast<f32>(d.y);
  ray.ring = d.w & 0xffffu;
  ray.lensSteps = d.w >> 16u;
  ray.riser = (b.w & 16u) != 0u;
  ray.returned = (b.w & 32u) != 0u;
  ray.entered = (b.w & 64u) != 0u;
  rayIndex = a.w;
  seedStream(streamRun, rayIndex);
  stream.next = d.z;
  return vec2u(b.w & 15u, takePlace(b.w));
}

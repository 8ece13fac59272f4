// The maps of all batches on their way out: 64-bit sums become single precision, half the bytes to read back and nothing left for the host to
// work out. Lines and profiles leave as they are, exact.

struct Maps {
  /// Numbers of a tally, the first that is a map's, and the first map of radiant weight (before it: lumens).
  size: u32,
  first: u32,
  radiant: u32,
  unused: u32,
}

@group(0) @binding(0) var<uniform> maps: Maps;
@group(0) @binding(1) var<storage, read> sums: array<u32>;
@group(0) @binding(2) var<storage, read_write> floats: array<f32>;

const W_STEP = 0x1p-23;
const LM_STEP = 0x1p-13;

@compute @workgroup_size(128)
fn mapResolve(@builtin(global_invocation_id) id: vec3u) {
  let count = maps.size - maps.first;
  if (id.x >= count) { return; }
  let at = maps.first + id.x;
  let word = 2u * (id.y * maps.size + at);
  let steps = f32(sums[word + 1u]) * 4294967296.0 + f32(sums[word]);
  floats[id.y * count + id.x] = steps * select(W_STEP, LM_STEP, at < maps.radiant);
}

// What the kernels read and write. `Setup` and the constants are written from the tables of src (npm run shaders).

@group(0) @binding(0) var<uniform> setup: Setup;
@group(0) @binding(1) var<uniform> chunk: Chunk;
/// Kinds of emitters, profiles, sides of a polygon: single numbers.
@group(0) @binding(2) var<storage, read> tables: array<f32>;
/// Scrambled direction numbers and shifts, 198 words a batch.
@group(0) @binding(3) var<storage, read> scrambles: array<u32>;
/// One tally a batch in the layout of src/run/layout.ts, two words a number: low, high.
@group(0) @binding(4) var<storage, read_write> tallies: array<atomic<u32>>;
/// Exit records, RECORD_VECTORS each, one slot a ray; a slot whose wavelength is 0 is empty.
@group(0) @binding(5) var<storage, read_write> records: array<vec4f>;
/// Rays that wait for their next step, by workgroup (waiting.wgsl).
@group(0) @binding(6) var<storage, read_write> waiting: array<vec4u>;
/// What every ray looks up, in the vectors that it takes them in (src/engine/gpu/sceneTables.ts): whole numbers, and single numbers by their bits.
@group(0) @binding(7) var<storage, read> quads: array<vec4u>;
/// Quantiles of the spectra, each with the one after it.
@group(0) @binding(8) var<storage, read> pairs: array<vec2f>;

const RECORD_VECTORS = 3u;

/// One pipeline for each make of lamp: what a lamp hasn't got costs no register.
override LENS_KIND: u32 = 3u;
override HAS_TUNNEL: bool = true;
override ROUND: bool = true;
override SUN: bool = false;
override CUPS: bool = false;
/// Emitters stand in frames of their own.
override TILTED: bool = false;
override PLAIN: bool = false;
/// Traced backwards (backward.wgsl).
override BACK: bool = false;
override WORKGROUP: u32 = 64u;
/// Numbers of the small segments of a tally: the ledger's lines, and the profile of all delivered light.
override LINES: u32 = 35u;
override BINS: u32 = 740u;

fn param(i: u32) -> f32 {
  return setup.params[i >> 2u][i & 3u];
}

const KIND_QUADS = KIND_size / 4u;

/// x, y, cosine and sine of an emitter.
fn emitterPlace(number: u32) -> vec4f {
  return bitcast<vec4f>(quads[number]);
}

/// Its kind, the alias method's share (by its bits) and alias, the alias's kind.
fn emitterChoice(number: u32) -> vec4u {
  return quads[setup.emitters + number];
}

fn kindRow(kind: u32, part: u32) -> vec4f {
  return bitcast<vec4f>(quads[setup.kindQuadsAt + kind * KIND_QUADS + part]);
}

/// What emission reads of a kind. First half sizes, disc or not, z; then which profile and where it is (of a power, the bits of 1/(m+1)), the
/// efficiency in steps of weight, the spectrum's beginning.
fn emissionRow(kind: u32, part: u32) -> vec4u {
  return quads[setup.emissionQuadsAt + 2u * kind + part];
}

/// Of the wavelengths i and i + 1: both indices of the lens, both efficacies.
fn colourRow(i: u32) -> vec4f {
  return bitcast<vec4f>(quads[setup.colourQuadsAt + i]);
}

/// Sine, cosine, tip and cotangent of a ring.
fn ringRow(ring: u32) -> vec4f {
  return bitcast<vec4f>(quads[setup.ringQuadsAt + ring]);
}

/// A row of the matrix that takes emitter `number` from its own frame to the lamp's, and the coordinate where it stands.
fn frameRow(number: u32, part: u32) -> vec4f {
  return bitcast<vec4f>(quads[setup.framesAt + 3u * number + part]);
}

/// Of a node of a profile c, intensity, share below, slope.
fn nodeRow(node: u32) -> vec4f {
  return bitcast<vec4f>(quads[node]);
}

/// A whole number below 2²³ that is stored as a single one, read from the bits of its sum with 2²³: a conversion would be clamped.
fn whole(x: f32) -> u32 {
  return bitcast<u32>(x + 8388608.0) - 0x4b000000u;
}

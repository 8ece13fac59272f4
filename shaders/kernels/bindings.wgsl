// What the kernels read and write. `Setup` and the constants are written from the tables of src (npm run shaders).

@group(0) @binding(0) var<uniform> setup: Setup;
@group(0) @binding(1) var<uniform> stretch: Stretch;
/// Emitters, kinds, profiles, quantiles, lens index, luminous efficacy, rings: the scene's arrays one after another, byte for byte.
@group(0) @binding(2) var<storage, read> tables: array<f32>;
/// Scrambled direction numbers and shifts, 198 words a batch.
@group(0) @binding(3) var<storage, read> scrambles: array<u32>;
/// One tally a batch in the layout of src/run/layout.ts, two words a number: low, high.
@group(0) @binding(4) var<storage, read_write> tallies: array<atomic<u32>>;
/// Exit records, RECORD_SIZE floats each, one slot a ray; a slot whose wavelength is 0 is empty.
@group(0) @binding(5) var<storage, read_write> records: array<vec4f>;

const RECORD_VECTORS = 3u;

/// One pipeline for each make of lamp: what a lamp hasn't got costs no register.
override LENS_KIND: u32 = 3u;
override HAS_TUNNEL: bool = true;
override ROUND: bool = true;
override SUN: bool = false;
override CUPS: bool = false;
override PLAIN: bool = false;
override WORKGROUP: u32 = 64u;
/// Words of the small segments of a tally, two a number: the ledger's lines, and the profiles.
override LINE_WORDS: u32 = 70u;
override HEAD_WORDS: u32 = 2960u;

fn param(i: u32) -> f32 {
  return setup.params[i >> 2u][i & 3u];
}

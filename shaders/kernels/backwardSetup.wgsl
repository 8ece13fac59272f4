// What the backward tracer reads and writes besides bindings.wgsl. `BackwardSetup` is written from the tables of src (npm run shaders).

@group(0) @binding(9) var<uniform> backwardSetup: BackwardSetup;
/// Two vectors a plane of emitters, two an emitter, one a cell of the drawn wavelengths (src/engine/gpu/backwardSetup.ts).
@group(0) @binding(10) var<storage, read> backwardQuads: array<vec4f>;
/// The planes' grids, the guide to the wavelengths, the mixture of several spectra (numbers as bits).
@group(0) @binding(11) var<storage, read> backwardWords: array<u32>;
/// Two vectors a workgroup: luminous and radiant sum, 64 bits each (low, high); hits, rays, the sum of squares (bits of a number).
@group(0) @binding(12) var<storage, read_write> partials: array<vec4u>;

var<private> first: array<u32, 6>;
var<private> rayIndex: u32;
var<private> batchNow: u32;

fn planePlace(plane: u32) -> vec4f {
  return backwardQuads[2u * plane];
}

/// Columns, rows, and where the grid's cells begin.
fn planeGrid(plane: u32) -> vec3u {
  return bitcast<vec4u>(backwardQuads[2u * plane + 1u]).xyz;
}

/// Axis of the cup or centre of the patch, radiance, number of the spectrum.
fn sourceLight(number: u32) -> vec4f {
  return backwardQuads[backwardSetup.sourcesAt + 2u * number];
}

/// Share of the watts, height of the plane that a ray meets, whether a cup stands in the way, whether the light leaves the lamp at once.
fn sourceKind(number: u32) -> vec4f {
  return backwardQuads[backwardSetup.sourcesAt + 2u * number + 1u];
}

// Twin of src/engine/backward/spectrum.ts: a wavelength from the mixture over all spectra. The cells come from the host; a row of the mixture
// holds, for an interval of wavelengths, each spectrum's density over the drawn one.

/// Row of the mixture at the wavelength drawn.
var<private> mixtureRow: u32;

fn chooseFromMixture() {
  let bits = first[DRAW_wavelength] >> 8u;
  let u = numberOf(bits);
  var c = backwardWords[backwardSetup.guideAt + (bits >> 13u)]; // 2,048 guide posts: the upper eleven bits
  var cell = backwardQuads[backwardSetup.cellsAt + c];
  var next = backwardQuads[backwardSetup.cellsAt + c + 1u].x;
  while (c + 1u < backwardSetup.cells && next <= u) {
    c++;
    cell = backwardQuads[backwardSetup.cellsAt + c];
    next = backwardQuads[backwardSetup.cellsAt + c + 1u].x;
  }
  let nm = cell.y + ((u - cell.x) / (next - cell.x)) * cell.z;
  let s = (nm - NM_FIRST) / NM_STEP;
  let i = u32(clamp(s, 0.0, NM_COUNT - 2.0));
  let f = s - f32(i);
  let row = colourRow(i);
  ray.nm = nm;
  ray.index = row.x + f * (row.y - row.x);
  ray.lum = row.z + f * (row.w - row.z);
  mixtureRow = bitcast<u32>(cell.w);
  if (mixtureRow != ELSEWHERE) { return; }
  var low = 0u;
  var high = backwardSetup.edges - 2u;
  while (low < high) {
    let mid = (low + high + 1u) >> 1u;
    if (bitcast<f32>(backwardWords[backwardSetup.edgesAt + mid]) <= nm) { low = mid; } else { high = mid - 1u; }
  }
  mixtureRow = low;
}

/// The cell's row depends on where in it the wavelength lies.
const ELSEWHERE = 0xffffffffu;

/// Density of a spectrum over the drawn density.
fn ratioOf(spectrum: u32) -> f32 {
  return bitcast<f32>(backwardWords[backwardSetup.mixtureAt + mixtureRow * backwardSetup.spectra + spectrum]);
}

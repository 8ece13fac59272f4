// Twin of choose in src/engine/backward/spectrum.ts: the same bits.
import * as C from './constants'
import { mixtureHost } from './host'
import { cells, count, double, guide, integer, lensIndex, lumPerWatt, own, ratio, set, single } from './memory'

const GUIDE: f64 = 2048

export function chooseWavelength(u: f64): void {
  const want = u * own(C.O_spectralTotal)
  let c = integer(guide, <i32>(u * GUIDE))
  const last = count(C.N_cells) - 1
  while (c < last && double(cells, (c + 1) * C.L_size + C.L_below) <= want) c++
  const at = c * C.L_size
  const span = double(cells, at + C.L_span)
  const nm = double(cells, at + C.L_from) + ((want - double(cells, at + C.L_below)) / double(cells, at + C.L_weight)) * span
  const s = (nm - <f64>C.NM_FIRST) / <f64>C.NM_STEP
  const i = max(0, min(C.NM_COUNT - 2, <i32>s))
  const f = s - <f64>i
  set(C.WAVELENGTH, nm)
  set(C.INDEX, single(lensIndex, i) + f * (single(lensIndex, i + 1) - single(lensIndex, i)))
  set(C.LUM, single(lumPerWatt, i) + f * (single(lumPerWatt, i + 1) - single(lumPerWatt, i)))
  if (count(C.N_spectra) == 1) store<f64>(ratio, double(cells, at + C.L_ratio))
  else mixtureHost(nm, span == 0 ? 1 : 0)
}

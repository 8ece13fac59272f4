// The common way of src/engine/backward in WebAssembly: a plain lamp, emitters on the face without cups. Every number has the reference's bits:
// tests/engine/backward/wasm.test.ts.
import { profileDensity } from '../../../optics/wasm/density'
import { draw, runKey, seedStream, turnOf, unit } from '../../../optics/wasm/draws'
import { whichEmitter } from '../../../optics/wasm/emission'
import { sobolStep } from '../../../optics/wasm/sobol'
import * as C from './constants'
import { addSum, count, double, emitters, integer, kinds, own, param, point, ratio, ray, set, single, spectrumOf } from './memory'
import { chooseOpening, leavesOpening, sampleAim } from './openings'
import { met, startScore } from './radiance'
import { chooseWavelength } from './spectrum'
import { startWalks, walk } from './walk'

export { place } from './memory'

/** Twin of traceOpen in estimator.ts: light that leaves the lamp as it leaves its emitter. */
function traceOpen(): f64 {
  const i = whichEmitter(draw(), <i32>param(C.P_emitters))
  const at = i * C.E_size
  const kind = <i32>single(emitters, at + C.E_kind) * C.K_size
  const z = single(kinds, kind + C.K_z)
  if (param(C.P_hasTunnel) > 0 && z < param(C.P_zOut)) return 0
  const cos = single(emitters, at + C.E_cos)
  const sin = single(emitters, at + C.E_sin)
  const pointU = unit(point(C.pointU))
  const pointV = unit(point(C.pointV))
  let u: f64
  let v: f64
  if (single(kinds, kind + C.K_disc) > 0) {
    turnOf(pointV)
    const r = Math.sqrt(pointU) * single(kinds, kind + C.K_halfX)
    u = r * ray(C.TX)
    v = r * ray(C.TY)
  } else {
    u = (2 * pointU - 1) * single(kinds, kind + C.K_halfX)
    v = (2 * pointV - 1) * single(kinds, kind + C.K_halfY)
  }
  set(C.X, single(emitters, at + C.E_x) + cos * u - sin * v)
  set(C.Y, single(emitters, at + C.E_y) + sin * u + cos * v)
  set(C.Z, z)
  const pointWeight = sampleAim()
  const dx = ray(C.DX)
  const dy = ray(C.DY)
  const dz = ray(C.DZ)
  if (!(dz > 0)) return 0
  const density = profileDensity(kind, cos * dx + sin * dy, cos * dy - sin * dx, dz)
  return pointWeight * single(kinds, kind + C.K_efficiency) * density * double(ratio, integer(spectrumOf, i))
}

/** Twin of traceOpening there. */
function traceOpening(): f64 {
  const area = chooseOpening()
  if (area == 0) return 0
  const pointWeight = sampleAim()
  const dz = ray(C.DZ)
  const cos = ray(C.DX) * ray(C.NX) + ray(C.DY) * ray(C.NY) + dz * ray(C.NZ)
  if (!(cos > 0) || !(dz > 0) || !leavesOpening()) return 0
  if (param(C.P_lensKind) == 2 && param(C.P_lensSign) > 0) {
    const vertexZ = param(C.P_lensZ)
    const s = (vertexZ - ray(C.Z)) / dz
    set(C.X, ray(C.X) + s * ray(C.DX))
    set(C.Y, ray(C.Y) + s * ray(C.DY))
    set(C.Z, vertexZ)
  }
  set(C.DX, -ray(C.DX))
  set(C.DY, -ray(C.DY))
  set(C.DZ, -dz)
  set(C.W, 1)
  startScore()
  walk()
  return pointWeight * cos * area * met
}

/** Rays [from, to) of a batch, added to the sums; the host has put point `from` in place. */
export function trace(seed: i32, batch: i32, from: i32, to: i32): void {
  const run = runKey(seed, batch)
  const perScore = own(C.O_perScore)
  const traced = count(C.N_planes) > 0
  const open = count(C.N_open) > 0
  startWalks()
  for (let j = from; j < to; j++) {
    if (j != from) sobolStep(j)
    seedStream(run, j)
    chooseWavelength(unit(point(C.wavelength)))
    let score = traced ? traceOpening() : 0
    if (open) score += traceOpen()
    if (score == 0) continue
    const lm = score * ray(C.LUM) * perScore
    addSum(C.M_SUM_LM, Math.round(lm))
    addSum(C.M_SUM_W, Math.round(score * perScore))
    addSum(C.M_SUM_HITS, 1)
    addSum(C.M_SUM_SQUARES, lm * lm)
  }
}

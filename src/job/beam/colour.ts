// Colour over the angle from the axis, from the wavelengths of the exit rays: lens and dispersion may part them.
import { matching1931 } from '../../library/colour.ts'
import { EXIT_STRIDE, type Run } from '../../run/types.ts'

/** CIE 1931 chromaticity of rings about the axis, from the inside out; the angle is that of each ring's middle ray. */
export interface BeamColour {
  thetaDeg: Float32Array
  x: Float32Array
  y: Float32Array
}

/** Rings hold so many rays at least: a spectrum's own spread then leaves about 0.003 in x and y. */
const RAYS_A_RING = 8000
const RINGS = 40
/** Bins that rings are put together from, even in the root of the angle: fine where a beam is. */
const BINS = 4096

/** Of a run's exit rays, which stay the same once as many are kept as there may be. */
const known = new WeakMap<Run['exits'], BeamColour | null>()

/** Null while there are too few rays to tell two rings apart. Made once of the same exit rays, and not to be written into. */
export function readBeamColour({ exits }: Pick<Run, 'exits'>): BeamColour | null {
  const before = known.get(exits)
  if (before !== undefined) return before
  const colour = colourOf(exits)
  known.set(exits, colour)
  return colour
}

/** Tristimulus values and rays of each bin: used again from run to run. */
const bins = new Float64Array(4 * BINS)

function colourOf({ data, count }: Run['exits']): BeamColour | null {
  if (count < 2 * RAYS_A_RING) return null
  const table = matchingTable()
  bins.fill(0)
  let out = 0
  for (let i = 0, at = 0; i < count; i++, at += EXIT_STRIDE) {
    const dz = data[at + 5]!
    if (!(dz > 1e-6)) continue
    const bin = 4 * binOf(Math.sqrt(data[at + 3]! ** 2 + data[at + 4]! ** 2), dz)
    const nm = 3 * Math.min(400, Math.max(0, Math.round(data[at + 8]! - 380)))
    const watts = data[at + 6]!
    bins[bin]! += watts * table[nm]!
    bins[bin + 1]! += watts * table[nm + 1]!
    bins[bin + 2]! += watts * table[nm + 2]!
    bins[bin + 3]! += 1
    out++
  }
  return ringsOf(bins, Math.max(RAYS_A_RING, Math.ceil(out / RINGS)))
}

const exactBin = (across: number, along: number): number =>
  Math.min(BINS - 1, Math.floor(Math.sqrt(Math.atan2(across, along) / Math.PI) * BINS))

/** Steps of √tan θ up to 45°, of which most lie in one bin altogether. */
const STEPS = 1 << 14
/** Far more than what rounding may move an edge by. */
const SLACK = 1e-9
let binOfStep: Int16Array | null = null

/** The bin of each step, −1 where it reaches over an edge: the arc tangent of each ray took longer than all else that is done with it. */
function stepBins(): Int16Array {
  const at = (root: number) => exactBin(Math.max(0, root) ** 2, 1)
  binOfStep ??= Int16Array.from({ length: STEPS }, (_, k) => {
    const [low, high] = [at(k / STEPS - SLACK), at((k + 1) / STEPS + SLACK)]
    return low === high ? low : -1
  })
  return binOfStep
}

/** By the parts of a direction across the axis and along it. */
function binOf(across: number, along: number): number {
  const step = Math.floor(Math.sqrt(across / along) * STEPS)
  const bin = step < STEPS ? (stepBins()[step] ?? -1) : -1
  return bin < 0 ? exactBin(across, along) : bin
}

function ringsOf(bins: Float64Array, raysARing: number): BeamColour | null {
  const rings: { thetaDeg: number; xyz: [number, number, number] }[] = []
  let xyz: [number, number, number] = [0, 0, 0]
  let rays = 0
  let turned = 0
  for (let b = 0; b < BINS; b++) {
    const here = bins[4 * b + 3]!
    for (let k = 0; k < 3; k++) xyz[k]! += bins[4 * b + k]!
    rays += here
    turned += here * 180 * ((b + 0.5) / BINS) ** 2
    if (rays < raysARing) continue
    rings.push({ thetaDeg: turned / rays, xyz })
    xyz = [0, 0, 0]
    rays = 0
    turned = 0
  }
  if (rings.length < 2) return null
  const share = (k: number) =>
    Float32Array.from(rings, (r) => r.xyz[k]! / Math.max(1e-300, r.xyz[0] + r.xyz[1] + r.xyz[2]))
  return { thetaDeg: Float32Array.from(rings, (r) => r.thetaDeg), x: share(0), y: share(1) }
}

let table: Float64Array | null = null

/** Colour matching functions at every nanometre from 380 to 780. */
function matchingTable(): Float64Array {
  if (table) return table
  table = new Float64Array(3 * 401)
  for (let i = 0; i <= 400; i++) table.set(matching1931(380 + i), 3 * i)
  return table
}

// Runs made by hand, filled as the contract of src/run says: from an intensity profile, or from rays that a test draws.
import { seededRandom } from '../../src/num/rng.ts'
import { type TallyLayout, tallyLayout } from '../../src/run/layout.ts'
import { BATCHES, EXIT_STRIDE, FATES, type Fate, type Run, type TallyShape } from '../../src/run/types.ts'

const RAD = Math.PI / 180

export const handShape = (over: Partial<TallyShape> = {}): TallyShape => ({
  fineHalfRad: 20 * RAD,
  fineBins: 400,
  coarseBins: 340,
  windowN: 128,
  sphereGamma: 180,
  sphereC: 24,
  axialConeHalfRad: 0.25 * RAD,
  target: { n: 1, zMm: 1e4, halfXMm: 500, halfYMm: 500, centreMm: 50 },
  lens: null,
  wall: null,
  face: { n: 128, halfMm: 100 },
  ...over,
})

/** Lumens to a watt of every hand-made ray. */
export const HAND_LM_PER_W = 300

const emptyRun = (shape: TallyShape, rays: number, emittedLm: number): Run => ({
  seed: 1,
  rays,
  shape,
  emittedLm,
  emittedW: emittedLm / HAND_LM_PER_W,
  tallies: Array.from({ length: BATCHES }, () => new Float64Array(tallyLayout(shape).size)),
  exits: { count: 0, fromRays: 0, data: new Float32Array(), batch: new Uint8Array() },
})

/** Few bins, so that all of them can be worked by hand. */
export const smallShape = (over: Partial<TallyShape> = {}): TallyShape =>
  handShape({
    fineHalfRad: 0.4,
    fineBins: 4,
    coarseBins: 2,
    windowN: 4,
    sphereGamma: 6,
    sphereC: 4,
    axialConeHalfRad: 0.02,
    face: { n: 4, halfMm: 20 },
    ...over,
  })

/** A run that the test fills itself, of so many rays that one of them counts for nothing; each batch has emitted `emitted` units of weight, 300 times as much luminous. */
export function filledRun(
  shape: TallyShape,
  fill: (tally: Float64Array, layout: TallyLayout, batch: number) => void,
  { rays = 2 ** 40, emittedLm = 4800, emitted = 1 } = {},
): Run {
  const run = emptyRun(shape, rays, emittedLm)
  const layout = tallyLayout(shape)
  for (const [b, tally] of run.tallies.entries()) {
    tally[layout.emitted] = emitted
    tally[layout.emitted + 1] = HAND_LM_PER_W * emitted
    fill(tally, layout, b)
  }
  return run
}

/** Exit rays as they are stored: x y z, direction, radiant and luminous weight. */
export function exitRays(
  rays: readonly (readonly number[])[],
  fromRays: number,
  batchOf = (ray: number): number => ray % BATCHES,
): Run['exits'] {
  const data = new Float32Array(rays.length * EXIT_STRIDE)
  for (const [i, ray] of rays.entries()) {
    data.set(ray, i * EXIT_STRIDE)
    data[i * EXIT_STRIDE + 8] = 555
  }
  return { count: rays.length, fromRays, data, batch: Uint8Array.from(rays, (_, i) => batchOf(i)) }
}

export interface Profiled {
  /** Intensity, cd, over θ and azimuth, both in radians. */
  cd: (theta: number, phi: number) => number
  shape?: Partial<TallyShape>
  /** Emitted flux; what is not delivered is booked on the wall. Absent: all is delivered. */
  emittedLm?: number
  /** Factor on everything in batch b, to make an error that is known. */
  batchFactor?: (batch: number) => number
}

/** All bins filled by quadrature of the intensity: no noise. No exit rays. */
export function profiledRun({ cd, shape: over, emittedLm, batchFactor = () => 1 }: Profiled): Run {
  const shape = handShape(over)
  const layout = tallyLayout(shape)
  const one = new Float64Array(layout.size)
  const azimuths = 48
  const ringLm = (a: number, b: number) => {
    // 8 points a bin in θ, even azimuths.
    let sum = 0
    for (let k = 0; k < 8; k++) {
      const t = a + ((k + 0.5) / 8) * (b - a)
      for (let m = 0; m < azimuths; m++)
        sum += cd(t, ((m + 0.5) / azimuths) * 2 * Math.PI) * Math.sin(t) * ((b - a) / 8) * ((2 * Math.PI) / azimuths)
    }
    return sum
  }
  const edge = (i: number) =>
    i <= shape.fineBins
      ? (i / shape.fineBins) * shape.fineHalfRad
      : shape.fineHalfRad + ((i - shape.fineBins) / shape.coarseBins) * (Math.PI - shape.fineHalfRad)
  let delivered = 0
  for (let i = 0; i < shape.fineBins + shape.coarseBins; i++) {
    one[layout.profileLm + i] = ringLm(edge(i), edge(i + 1))
    delivered += one[layout.profileLm + i]!
  }
  for (let k = 0; k < 16; k++)
    one[layout.axialLm]! += ringLm((k / 16) * shape.axialConeHalfRad, ((k + 1) / 16) * shape.axialConeHalfRad)
  fillWindow(one, layout.windowLm, shape, cd)
  fillSphere(one, layout.sphereLm, shape, cd)
  const total = emittedLm ?? delivered
  for (const [fate, lm] of [
    ['delivered', delivered],
    ['wall', total - delivered],
  ] as const) {
    one[layout.fateLm + FATES.indexOf(fate)] = lm
    one[layout.fateW + FATES.indexOf(fate)] = lm / HAND_LM_PER_W
  }
  const run = emptyRun(shape, 2 ** 40, total)
  for (const [b, tally] of run.tallies.entries()) {
    const factor = batchFactor(b)
    for (let i = 0; i < tally.length; i++) tally[i] = one[i]! * factor
    // What was emitted stays: the factor is light that the batch did not deliver.
    tally[layout.emitted] = total / HAND_LM_PER_W
    tally[layout.emitted + 1] = total
  }
  return run
}

function fillWindow(one: Float64Array, from: number, shape: TallyShape, cd: Profiled['cd']): void {
  const n = shape.windowN
  const cell = (2 * shape.fineHalfRad) / n
  const sub = 3
  for (let i = 0; i < n * n; i++) {
    for (let k = 0; k < sub * sub; k++) {
      const x = ((i % n) + ((k % sub) + 0.5) / sub - n / 2) * cell
      const y = (Math.floor(i / n) + (Math.floor(k / sub) + 0.5) / sub - n / 2) * cell
      const theta = Math.hypot(x, y)
      if (theta >= Math.PI) continue
      one[from + i]! += (cd(theta, Math.atan2(y, x)) * cell * cell * (Math.sin(theta) / theta)) / (sub * sub)
    }
  }
}

function fillSphere(one: Float64Array, from: number, shape: TallyShape, cd: Profiled['cd']): void {
  const { sphereGamma, sphereC } = shape
  for (let g = 0; g < sphereGamma; g++) {
    const [a, b] = [(g / sphereGamma) * Math.PI, ((g + 1) / sphereGamma) * Math.PI]
    const sr = ((Math.cos(a) - Math.cos(b)) * 2 * Math.PI) / sphereC
    for (let c = 0; c < sphereC; c++)
      one[from + g * sphereC + c] = cd((a + b) / 2, ((c + 0.5) / sphereC) * 2 * Math.PI) * sr
  }
}

/** One drawn ray: where it ends, and what it met on the way. Its weight is a share of what it started with. */
interface DrawnRay {
  fate: Fate
  weight?: number
  /** Where it left and which way; needed when it is delivered. Directions are made unit. */
  at?: [number, number, number]
  towards?: [number, number, number]
  lensAt?: [number, number]
  /** z and azimuth. */
  wallAt?: [number, number]
  faceAt?: [number, number]
}

export interface Drawn {
  rays: number
  /** `u(k)`: even numbers of dimension k, low-discrepancy within a batch, each batch with its own shift. */
  draw: (u: (k: number) => number, ray: number) => DrawnRay
  shape?: Partial<TallyShape>
  emittedLm?: number
  seed?: number
  /** Keep exit rays of the first so many started rays; absent: of all. */
  exitsFrom?: number
  /** Direction of exit rays that count as delivered: -1 for sunlight running into the lamp. */
  sense?: 1 | -1
}

export function drawnRun(options: Drawn): Run {
  const shape = handShape(options.shape)
  const rays = Math.ceil(options.rays / BATCHES) * BATCHES
  const run = emptyRun(shape, rays, options.emittedLm ?? 1000)
  const random = seededRandom(options.seed ?? 1)
  const shifts = Array.from({ length: BATCHES * 6 }, random)
  const steps = lowDiscrepancySteps(6)
  const exitsFrom = Math.min(rays, options.exitsFrom ?? rays)
  const exits: number[] = []
  const batches: number[] = []
  for (let i = 0; i < rays; i++) {
    const batch = i % BATCHES
    const j = Math.floor(i / BATCHES)
    const u = (k: number) => (shifts[batch * 6 + k]! + j * steps[k]!) % 1
    const ray = options.draw(u, i)
    book(run, batch, ray, options.sense ?? 1)
    if ((ray.fate === 'delivered' || ray.fate === 'deliveredViaRiser') && i < exitsFrom) {
      const d = ray.towards!
      const length = Math.hypot(...d)
      const w = ray.weight ?? 1
      exits.push(...ray.at!, d[0] / length, d[1] / length, d[2] / length, w, w * HAND_LM_PER_W, 555)
      batches.push(batch)
    }
  }
  run.exits = {
    count: batches.length,
    fromRays: exitsFrom,
    data: Float32Array.from(exits),
    batch: Uint8Array.from(batches),
  }
  return run
}

/** Powers of the inverse of the root of x^(d+1) = x + 1: Roberts' additive sequence (memory). */
function lowDiscrepancySteps(dimensions: number): number[] {
  let root = 1.5
  for (let i = 0; i < 60; i++) root = (1 + root) ** (1 / (dimensions + 1))
  return Array.from({ length: dimensions }, (_, k) => (1 / root) ** (k + 1) % 1)
}

function book(run: Run, batch: number, ray: DrawnRay, sense: 1 | -1): void {
  const { shape } = run
  const layout = tallyLayout(shape)
  const t = run.tallies[batch]!
  const w = ray.weight ?? 1
  t[layout.emitted]! += 1
  t[layout.emitted + 1]! += HAND_LM_PER_W
  t[layout.fateW + FATES.indexOf(ray.fate)]! += w
  t[layout.fateLm + FATES.indexOf(ray.fate)]! += w * HAND_LM_PER_W
  const rest = ray.fate === 'wall' ? 0 : 1 - w
  t[layout.fateW + FATES.indexOf('wall')]! += rest
  t[layout.fateLm + FATES.indexOf('wall')]! += rest * HAND_LM_PER_W
  const square = (from: number, n: number, half: number, [x, y]: [number, number], weight: number) => {
    const [c, r] = [Math.floor(((x + half) / (2 * half)) * n), Math.floor(((y + half) / (2 * half)) * n)]
    if (c >= 0 && c < n && r >= 0 && r < n) t[from + r * n + c]! += weight
  }
  if (ray.lensAt && shape.lens) square(layout.lensW, shape.lens.n, shape.lens.halfMm, ray.lensAt, 1)
  if (ray.faceAt) square(layout.faceW, shape.face.n, shape.face.halfMm, ray.faceAt, 1)
  if (ray.wallAt && shape.wall) bookWall(t, layout.wallW, shape.wall, ray.wallAt)
  if (ray.fate !== 'delivered' && ray.fate !== 'deliveredViaRiser') return
  const [dx, dy, dz] = ray.towards!
  const theta = Math.atan2(Math.hypot(dx, dy), dz * sense)
  const phi = Math.atan2(dy, dx)
  const lm = w * HAND_LM_PER_W
  const bin =
    theta < shape.fineHalfRad
      ? Math.floor((theta / shape.fineHalfRad) * shape.fineBins)
      : shape.fineBins +
        Math.min(
          shape.coarseBins - 1,
          Math.floor(((theta - shape.fineHalfRad) / (Math.PI - shape.fineHalfRad)) * shape.coarseBins),
        )
  t[layout.profileLm + bin]! += lm
  if (ray.fate === 'deliveredViaRiser') t[layout.profileRiserLm + bin]! += lm
  if (theta < shape.axialConeHalfRad) t[layout.axialLm]! += lm
  square(layout.windowLm, shape.windowN, shape.fineHalfRad, [theta * Math.cos(phi), theta * Math.sin(phi)], lm)
  const g = Math.min(shape.sphereGamma - 1, Math.floor((theta / Math.PI) * shape.sphereGamma))
  const turn = (phi / (2 * Math.PI) + 1) % 1
  t[layout.sphereLm + g * shape.sphereC + Math.min(shape.sphereC - 1, Math.floor(turn * shape.sphereC))]! += lm
}

function bookWall(
  t: Float64Array,
  from: number,
  wall: NonNullable<TallyShape['wall']>,
  [z, azimuth]: [number, number],
) {
  const along = Math.floor(((z - wall.zInMm) / (wall.zOutMm - wall.zInMm)) * wall.nAlong)
  const round = Math.floor(((azimuth / (2 * Math.PI) + 2) % 1) * wall.nRound)
  if (along >= 0 && along < wall.nAlong) t[from + along * wall.nRound + round]! += 1
}

/** Direction at polar angle θ and azimuth φ about +z. */
export const direction = (theta: number, phi: number): [number, number, number] => [
  Math.sin(theta) * Math.cos(phi),
  Math.sin(theta) * Math.sin(phi),
  Math.cos(theta),
]

/** θ of a beam of I ∝ exp(−4 ln2 (θ/FWHM)²) at small angles, from an even number. */
export const gaussianTheta = (u: number, fwhmRad: number): number =>
  fwhmRad * Math.sqrt(-Math.log(1 - u) / (4 * Math.LN2))

/** Even over a disc. */
export const onDisc = (u: number, v: number, radius: number): [number, number] => {
  const r = radius * Math.sqrt(u)
  return [r * Math.cos(2 * Math.PI * v), r * Math.sin(2 * Math.PI * v)]
}

// How evenly the lens and the face are lit: minimum over mean and coefficient of variation of cells a twentieth of the part wide.
import { pieceHalves } from '../lamp/assembly.ts'
import { halfExtents, isOnFace } from '../lamp/facePlate.ts'
import type { Lamp } from '../lamp/schema.ts'
import { cellAreas } from '../num/gridDisc.ts'
import { boundShare, type Folded, fold, jackknife, meanOf, ratioOf } from '../run/batches.ts'
import { betweenExtremes, rootOf } from '../run/extreme.ts'
import type { Figure, GridMap } from '../run/figure.ts'
import { wattsPerWeight } from '../run/scale.ts'
import type { Run } from '../run/types.ts'
import { midPerimeterMm, wallGrid } from '../run/wall.ts'
import { isProfiled, midProfilePerimeterMm, profileGrid } from '../run/wallProfile.ts'

export interface Evenness {
  evenness?: Figure
  variation?: Figure
  absent?: string
}

const CELLS = 20
/** A cell at the rim counts when so much of it lies on the part. */
const MIN_COVERAGE = 0.8

interface SquareMap {
  from: number
  n: number
  halfMm: number
}

/** W in a cell of a map in mm are so many kW/m² × mm². */
const KW_M2 = 1000

/**
 * Evenness of the light on the lens: minimum over mean, and coefficient of variation with the noise's own variance
 * taken off, of cells a twentieth of the lens wide. `absent`, in words, without lens or light. Common practice, no
 * source; cell size: our choice.
 */
export const readLensEvenness = (run: Run, lamp: Lamp): Evenness => {
  const folded = fold(run)
  const { lens } = run.shape
  if (!lens || !lamp.lens) return { absent: 'The lamp has no lens.' }
  const { round, xMm, yMm } = pieceHalves(lamp.lens)
  const on = (x: number, y: number) => (round ? Math.hypot(x, y) <= xMm : Math.abs(x) <= xMm && Math.abs(y) <= yMm)
  return readEvenness(
    folded,
    { from: folded.layout.lensW, ...lens },
    Math.max(xMm, yMm),
    { on, key: `${round} ${yMm / xMm}` },
    'No light reaches the lens.',
  )
}

/** The same for the light that comes back to the face. */
export const readFaceEvenness = (run: Run, lamp: Lamp): Evenness => {
  const folded = fold(run)
  const { shape, sizeMm } = lamp.face
  if (shape === 'rectangle' || shape === 'polygon') return readOwnFaceEvenness(folded, lamp)
  const half = sizeMm / 2
  const sides = shape === 'square' ? 4 : 6
  const on = (x: number, y: number) => {
    if (shape === 'round') return Math.hypot(x, y) <= half
    for (let k = 0; k < sides; k++) {
      const turn = (2 * Math.PI * k) / sides
      if (x * Math.cos(turn) + y * Math.sin(turn) > half) return false
    }
    return true
  }
  return readEvenness(
    folded,
    { from: folded.layout.faceW, ...run.shape.face },
    half,
    { on, key: shape },
    'No light comes back to the face.',
  )
}

const readOwnFaceEvenness = (folded: Folded, { face }: Lamp): Evenness =>
  readEvenness(
    folded,
    { from: folded.layout.faceW, ...folded.run.shape.face },
    Math.max(...halfExtents(face)),
    { on: (x, y) => isOnFace(face, x, y), key: JSON.stringify([face.sizeMm, face.heightMm, face.corners]) },
    'No light comes back to the face.',
  )

function readEvenness(folded: Folded, map: SquareMap, halfMm: number, part: Outline, dark: string): Evenness {
  const { run } = folded
  const block = getBlocks(map, halfMm, part)
  const n = block.area.length
  // Density of each block in each batch.
  const values = run.tallies.map((tally) => {
    const sum = new Float64Array(n)
    const scale = wattsPerWeight(run, tally)
    for (let k = 0; k < block.cells.length; k++) sum[block.of[k]!]! += tally[map.from + block.cells[k]!]!
    for (let k = 0; k < n; k++) sum[k]! *= scale / block.area[k]!
    return sum
  })
  const whole = values.map((v) => v.reduce((a, b) => a + b, 0) / Math.max(1, n))
  if (n === 0 || !(meanOf(whole).value > 0)) return { absent: dark }
  return {
    evenness: boundShare(readDarkestShare(values, whole), oneRayShare(run, block.area, meanOf(whole).value)),
    variation: readVariation(values),
  }
}

/** One ray in the smallest block, as a share of the mean density. */
const oneRayShare = (run: Run, areaMm2: readonly number[], meanWMm2: number): number =>
  run.emittedW / Math.max(1, run.rays) / Math.min(...areaMm2) / meanWMm2

interface Outline {
  on: (x: number, y: number) => boolean
  /** Tells outlines of one size apart. */
  key: string
}

interface Blocks {
  /** Map cells that lie in a block, and the block of each. */
  cells: Uint32Array
  of: Uint16Array
  /** mm² of each block that lies on the part. */
  area: number[]
}

const blocksCache = new Map<string, Blocks>()

/** A lookup, the same for the same map and part; the last few are cached. */
function getBlocks(map: SquareMap, halfMm: number, part: Outline): Blocks {
  const key = [map.n, map.halfMm, halfMm, part.key].join()
  const cached = blocksCache.get(key)
  if (cached) return cached
  if (blocksCache.size > 8) blocksCache.clear()
  const made = makeBlocks(map, halfMm, part.on)
  blocksCache.set(key, made)
  return made
}

function makeBlocks(map: SquareMap, halfMm: number, on: (x: number, y: number) => boolean): Blocks {
  const cell = (2 * map.halfMm) / map.n
  const side = Math.min(CELLS, Math.max(1, Math.floor((2 * halfMm) / cell)))
  const count = new Float64Array(side * side)
  const inside = new Float64Array(side * side)
  const raw = new Int16Array(map.n * map.n).fill(-1)
  for (let i = 0; i < raw.length; i++) {
    const x = ((i % map.n) + 0.5) * cell - map.halfMm
    const y = (Math.floor(i / map.n) + 0.5) * cell - map.halfMm
    const [c, r] = [Math.floor(((x / halfMm + 1) / 2) * side), Math.floor(((y / halfMm + 1) / 2) * side)]
    if (c < 0 || c >= side || r < 0 || r >= side) continue
    count[r * side + c]!++
    if (!on(x, y)) continue
    inside[r * side + c]!++
    raw[i] = r * side + c
  }
  const number = new Int16Array(side * side).fill(-1)
  const area: number[] = []
  for (let k = 0; k < side * side; k++) {
    if (count[k]! > 0 && inside[k]! >= MIN_COVERAGE * count[k]!) number[k] = area.push(inside[k]! * cell * cell) - 1
  }
  const cells: number[] = []
  for (let i = 0; i < raw.length; i++) if (raw[i]! >= 0 && number[raw[i]!]! >= 0) cells.push(i)
  return { cells: Uint32Array.from(cells), of: Uint16Array.from(cells, (i) => number[raw[i]!]!), area }
}

/** The darkest block of one half of the batches is measured in the other. */
function readDarkestShare(values: readonly Float64Array[], whole: readonly number[]): Figure {
  const darkest = [0, 1].map((parity) => {
    let best = 0
    let least = Number.POSITIVE_INFINITY
    for (let k = 0; k < values[0]!.length; k++) {
      let sum = 0
      for (let b = parity; b < values.length; b += 2) sum += values[b]![k]!
      if (sum < least) [best, least] = [k, sum]
    }
    return best
  })
  const dark = values.map((v, b) => v[darkest[1 - (b % 2)]!]!)
  const sum = (list: readonly number[]) => list.reduce((a, b) => a + b, 0)
  const [allDark, all] = [sum(dark), sum(whole)]
  const split = jackknife(
    ratioOf(allDark, all),
    dark.map((d, b) => ratioOf(allDark - d, all - whole[b]!)),
  )
  const inside = { value: Math.min(1, split.value), se: split.se }
  let own = inside.value
  for (let k = 0; k < values[0]!.length; k++) own = Math.min(own, ratioOf(sum(values.map((v) => v[k]!)), all))
  return betweenExtremes(inside, own)
}

/** Standard deviation over mean of the blocks, less the variance that noise alone makes. */
function readVariation(values: readonly Float64Array[]): Figure {
  const without = values.map((_, b) => relativeVariance(values.filter((_, i) => i !== b)))
  return rootOf(jackknife(relativeVariance(values), without))
}

/** Variance of the blocks over the square of their mean, less that of noise: below 0 where noise happens to be less than its own variance. */
function relativeVariance(values: readonly Float64Array[]): number {
  const [batches, n] = [values.length, values[0]!.length]
  let [mean, squares, noise] = [0, 0, 0]
  for (let k = 0; k < n; k++) {
    let sum = 0
    let sumSquares = 0
    for (const v of values) {
      sum += v[k]!
      sumSquares += v[k]! ** 2
    }
    const m = sum / batches
    mean += m / n
    squares += (m * m) / n
    noise += Math.max(0, sumSquares - batches * m * m) / (batches * (batches - 1) * n)
  }
  // Noise also adds to the spread about the mean; of n blocks the mean takes up one part.
  return ratioOf(squares - mean * mean - noise * (1 - 1 / n), mean * mean)
}

const makeSquareMap = (folded: Folded, map: SquareMap): GridMap => {
  const cell = (2 * map.halfMm) / map.n
  const scale = (folded.all.wPerWeight * KW_M2) / (cell * cell)
  const values = new Float32Array(map.n * map.n)
  const { data } = folded.all
  for (let i = 0; i < values.length; i++) values[i] = data[map.from + i]! * scale
  const h = map.halfMm
  return { columns: map.n, rows: map.n, fromX: -h, toX: h, fromY: -h, toY: h, unit: 'mm', values, of: 'kW/m2' }
}

/** Irradiance on the lens's front plane, kW/m², over mm; null without a lens. */
export function readLensMap(run: Run): GridMap | null {
  const folded = fold(run)
  return run.shape.lens ? makeSquareMap(folded, { from: folded.layout.lensW, ...run.shape.lens }) : null
}

/** The same on each further element, on both its faces together, in their order from the face. */
export function readElementMaps(run: Run): GridMap[] {
  const folded = fold(run)
  const { elements } = run.shape
  if (!elements) return []
  const { n, maps } = elements
  return maps.map(({ halfMm }, i) => makeSquareMap(folded, { from: folded.layout.elementsW + i * n * n, n, halfMm }))
}

/** Irradiance of returned light on the plane z = 0, kW/m², over mm. */
export function readFaceMap(run: Run): GridMap {
  const folded = fold(run)
  return makeSquareMap(folded, { from: folded.layout.faceW, ...run.shape.face })
}

/**
 * Irradiance on the tunnel's wall, kW/m², unrolled: x the way round at the mid radius (from the azimuth of +x), y
 * along the axis, mm; of an assembled tunnel along its walls and steps from the inlet. Null without a tunnel.
 */
export function readWallMap(run: Run): GridMap | null {
  const { wall } = run.shape
  if (!wall) return null
  const folded = fold(run)
  const profiled = isProfiled(wall)
  const grid = profiled ? profileGrid(wall) : wallGrid(wall)
  const values = new Float32Array(wall.nAlong * wall.nRound)
  const scale = folded.all.wPerWeight * KW_M2
  const areas = cellAreas(grid)
  const { data } = folded.all
  const from = folded.layout.wallW
  for (let i = 0; i < values.length; i++) values[i] = areas[i]! > 0 ? (data[from + i]! * scale) / areas[i]! : 0
  return {
    columns: wall.nRound,
    rows: wall.nAlong,
    fromX: 0,
    toX: profiled ? midProfilePerimeterMm(wall) : midPerimeterMm(wall),
    fromY: profiled ? 0 : wall.zInMm,
    toY: profiled ? wall.profile.lengthMm : wall.zOutMm,
    unit: 'mm',
    values,
    of: 'kW/m2',
  }
}

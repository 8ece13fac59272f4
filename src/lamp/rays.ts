// Rays of an emitter type in the document: what was left of a ray file, packed. Each ray takes seven 16-bit numbers, so that any text of the right
// length is rays: a place in a box, a unit direction, a wavelength, a weight. The same text gives everyone the same rays.
import { LIMITS } from './limits.ts'
import * as z from './zod.ts'

/** Numbers of a packed ray, little-endian: x, y, z over the box; direction, two; wavelength; weight. */
const WORDS = 7
const BYTES = 2 * WORDS
const MOST_CHARS = 4 * Math.ceil((LIMITS.rays * BYTES) / 3)
const BASE64 = /^[A-Za-z0-9+/]*={0,2}$/

const placeMm = z.number().min(-LIMITS.lengthMm).max(LIMITS.lengthMm)
const corner = z.tuple([placeMm, placeMm, placeMm])

export const emitterRays = z.strictObject({
  /** The file that they come from, how many rays it has, SHA-256 of its bytes. */
  fileName: z.string().min(1).max(200),
  fileRays: z.int().min(1).max(LIMITS.fileRays),
  fileSha256: z.string().regex(/^[0-9a-f]{64}$/, '64 digits of 0 to 9 and a to f'),
  /** What the file says that it emits, lm; null: not known. Not traced: the emitter's flux is its own. */
  fileLm: z.number().min(0).max(1e9).nullable(),
  /** Whether each ray has its wavelength; else all have the emitter's spectrum. */
  ownWavelengths: z.boolean(),
  /** Box that the rays start in, mm from the middle of the emitting surface, z along the emitter's axis. */
  fromMm: corner,
  toMm: corner,
  /**
   * Base64 of seven 16-bit numbers for each ray, little-endian, q from 0 to 65535. Place: from + q (to − from)/65535 along x, y, z. Direction:
   * a, b = √2 (q − 32767)/32767, r² = a² + b² (2 at the most), dx = a √(2 − r²), dy = b √(2 − r²), dz = 1 − r². Wavelength: 380 + 400 q/65535 nm.
   * Weight in radiant flux: 0 for q = 0, else 2^((q − 65535)/2048).
   */
  packed: z.string().max(MOST_CHARS).regex(BASE64, 'base64'),
})

type Rays = z.infer<typeof emitterRays>

/** Rays as numbers, RAY_SIZE each: x, y, z mm; direction; wavelength, nm; weight in radiant flux, relative. */
export const RAY_SIZE = 8
export const RAY_AT = { place: 0, direction: 3, nm: 6, weight: 7 } as const

const FROM_NM = 380
const SPAN_NM = 400
const TOP = 65_535
const HALF = 32_767
const WEIGHT_STEPS = 2048

export const rayCount = ({ packed }: Rays): number => Math.floor(base64Bytes(packed) / BYTES)

interface Box {
  fromMm: readonly number[]
  toMm: readonly number[]
}

/** From the emitter to the farthest corner of the box that the rays start in, mm; of its x and y alone: across the axis. */
export const farthestMm = ({ fromMm, toMm }: Box): number => Math.hypot(...reachOf(fromMm, toMm))
export const farthestAcrossMm = ({ fromMm, toMm }: Box): number => Math.hypot(...reachOf(fromMm, toMm).slice(0, 2))

const reachOf = (fromMm: readonly number[], toMm: readonly number[]): number[] =>
  fromMm.map((from, axis) => Math.max(Math.abs(from), Math.abs(toMm[axis] ?? 0)))

/** Whole groups of four characters; else 0. */
function base64Bytes(text: string): number {
  if (text.length % 4 !== 0) return 0
  return (3 * text.length) / 4 - (text.endsWith('==') ? 2 : text.endsWith('=') ? 1 : 0)
}

const REMEMBERED = 8

/**
 * What `make` gives of rays, made once: also for a copy of them, as each edit sends one to a worker. The last eight are remembered. Shared: not to be
 * written into.
 */
export function onceForRays<T>(make: (rays: Rays) => T): (rays: Rays) => T {
  const made: { rays: Rays; answer: T }[] = []
  return (rays) => {
    const at = made.findIndex((m) => m.rays === rays || sameRays(m.rays, rays))
    const entry = at < 0 ? { rays, answer: make(rays) } : made.splice(at, 1)[0]!
    made.unshift(entry)
    made.length = Math.min(made.length, REMEMBERED)
    return entry.answer
  }
}

const sameRays = (a: Rays, b: Rays): boolean =>
  a.packed === b.packed &&
  a.ownWavelengths === b.ownWavelengths &&
  [0, 1, 2].every((axis) => a.fromMm[axis] === b.fromMm[axis] && a.toMm[axis] === b.toMm[axis])

/** The rays of a document that `readLamp` accepts. */
export const raysOf = onceForRays(unpack)

function unpack({ packed, fromMm, toMm }: Rays): Float32Array {
  const text = atob(packed)
  const count = Math.floor(text.length / BYTES)
  const word = (i: number) => text.charCodeAt(2 * i) | (text.charCodeAt(2 * i + 1) << 8)
  const [x0, y0, z0] = fromMm
  const [x1, y1, z1] = toMm
  const rows = new Float32Array(count * RAY_SIZE)
  for (let i = 0; i < count; i++) {
    const at = i * WORDS
    const a = (Math.SQRT2 * (word(at + 3) - HALF)) / HALF
    const b = (Math.SQRT2 * (word(at + 4) - HALF)) / HALF
    const square = a * a + b * b
    // Beyond the circle lies the direction straight down.
    const long = Math.sqrt(Math.max(0, 2 - square))
    const to = i * RAY_SIZE
    rows[to] = x0 + (word(at) / TOP) * (x1 - x0)
    rows[to + 1] = y0 + (word(at + 1) / TOP) * (y1 - y0)
    rows[to + 2] = z0 + (word(at + 2) / TOP) * (z1 - z0)
    rows[to + 3] = a * long
    rows[to + 4] = b * long
    rows[to + 5] = 1 - Math.min(2, square)
    rows[to + 6] = FROM_NM + (SPAN_NM * word(at + 5)) / TOP
    const weight = word(at + 6)
    rows[to + 7] = weight === 0 ? 0 : 2 ** ((weight - TOP) / WEIGHT_STEPS)
  }
  return rows
}

/** A ray by its names, for what reads all of them once. */
export interface RayNumbers {
  x: number
  y: number
  z: number
  dx: number
  dy: number
  dz: number
  nm: number
  weight: number
}

/** Rows as `raysOf` gives them, one after another. */
export function* eachRay(rows: Float32Array): Generator<RayNumbers> {
  for (let at = 0; at < rows.length; at += RAY_SIZE) {
    const [x = 0, y = 0, z = 0, dx = 0, dy = 0, dz = 0, nm = 0, weight = 0] = rows.subarray(at, at + RAY_SIZE)
    yield { x, y, z, dx, dy, dz, nm, weight }
  }
}

/**
 * The document's form of rays (`RAY_SIZE` numbers each, directions unit vectors, wavelengths 380 to 780 nm or anything without, weights ≥ 0 in any
 * unit). Direction by Lambert's azimuthal projection of equal areas: within 7 · 10⁻⁵ in each cosine where it runs up; weights within 0.02 %, the least 2⁻³² of
 * the greatest.
 */
export function packRayRows(rows: Float32Array): Pick<Rays, 'fromMm' | 'toMm' | 'packed'> {
  const rays = [...eachRay(rows)]
  const span = (of: (ray: RayNumbers) => number): [number, number] =>
    rays.reduce(([from, to], ray) => [Math.min(from, of(ray)), Math.max(to, of(ray))], [Infinity, -Infinity])
  const [[x0, x1], [y0, y1], [z0, z1]] = [span((r) => r.x), span((r) => r.y), span((r) => r.z)]
  const [, most] = span((r) => r.weight)
  const clamped = (q: number) => Math.min(TOP, Math.max(0, Math.round(q)))
  const within = (v: number, from: number, to: number) => (to > from ? clamped((TOP * (v - from)) / (to - from)) : 0)
  const words = new Uint16Array(rays.length * WORDS)
  for (const [i, { x, y, z, dx, dy, dz, nm, weight }] of rays.entries()) {
    // Straight down lies all along the circle: any place of it.
    const scale = dz > -0.999_999 ? 1 / Math.sqrt(1 + dz) : 0
    const [a, b] = scale > 0 ? [dx * scale, dy * scale] : [Math.SQRT2, 0]
    const share = most > 0 ? weight / most : 0
    words.set(
      [
        within(x, x0, x1),
        within(y, y0, y1),
        within(z, z0, z1),
        clamped(HALF + (HALF * a) / Math.SQRT2),
        clamped(HALF + (HALF * b) / Math.SQRT2),
        clamped((TOP * (nm - FROM_NM)) / SPAN_NM),
        share > 0 ? clamped(TOP + WEIGHT_STEPS * Math.log2(share)) : 0,
      ],
      i * WORDS,
    )
  }
  return { fromMm: [x0, y0, z0], toMm: [x1, y1, z1], packed: toBase64(words) }
}

/** Low byte first, whatever the machine. */
function toBase64(words: Uint16Array): string {
  let text = ''
  for (let at = 0; at < words.length; at += 4096) {
    const part = words.subarray(at, at + 4096)
    text += String.fromCharCode(...Array.from(part, (w) => [w & 255, w >> 8]).flat())
  }
  return btoa(text)
}

/** A sentence for each fault that one entry can't show. */
export function findRayFaults(types: readonly { rays?: Rays | undefined }[]): string[] {
  const why: string[] = []
  let all = 0
  for (const [i, { rays }] of types.entries()) {
    if (!rays) continue
    const where = `emitterTypes[${i}].rays`
    const bytes = base64Bytes(rays.packed)
    all += bytes / BYTES
    if (bytes === 0 || bytes % BYTES !== 0)
      why.push(`${where}.packed: ${bytes} bytes of base64; expected ${BYTES} for each ray, and one ray at least.`)
    else if (!raysOf(rays).some((value, k) => k % RAY_SIZE === RAY_AT.weight && value > 0))
      why.push(`${where}.packed: no ray has any weight.`)
    const [x, y, z] = rays.toMm
    if ([x, y, z].some((to, axis) => to < (rays.fromMm[axis] ?? to)))
      why.push(`${where}.toMm: does not fit; expected no less than fromMm along x, y and z.`)
  }
  if (all > LIMITS.raysInAll)
    why.push(
      `emitterTypes: ${Math.round(all)} rays in all; at most ${LIMITS.raysInAll}, the rays of eight whole files.`,
    )
  return why
}

// Readings that stand out, and the slips that would explain them: a digit twice, a point in the wrong place, another unit. Nothing is left out.

/** Modified z-score from which a reading stands out: 3.5, B. Iglewicz and D. C. Hoaglin, How to Detect and Handle Outliers (1993); from memory. */
const STANDS_OUT = 3.5
/** Standard deviation over the median absolute deviation, of a normal distribution: 1/Φ⁻¹(¾). */
const MAD_TO_SD = 1.4826

export type Slip =
  | { kind: 'digit'; likely: number }
  | { kind: 'point'; likely: number }
  | { kind: 'swapped'; likely: number }

export interface StandsOut {
  index: number
  lx: number
  expectedLx: number
  /** Modified z-score, signed. */
  score: number
  /** How near a corrected value must come, by logarithm. */
  close: number
  slip: Slip | null
}

/**
 * Readings that stand out from what is expected of them, by the logarithm of their ratio: its distance from the median over 1.4826 times the median
 * absolute deviation, or over `least` (a share) where that is wider. Expected values > 0 in lx; a reading of 0 counts as a thousandth of what is expected.
 */
export function findOutliers(
  read: readonly number[],
  expected: readonly number[],
  least: readonly number[],
): StandsOut[] {
  const logs = read.map((lx, i) => Math.log(Math.max(lx, 1e-3 * (expected[i] ?? 1)) / (expected[i] ?? 1)))
  const middle = median(logs)
  const spread = MAD_TO_SD * median(logs.map((l) => Math.abs(l - middle)))
  return logs.flatMap((l, index) => {
    const score = (l - middle) / Math.max(spread, least[index] ?? 0, 1e-6)
    if (Math.abs(score) <= STANDS_OUT) return []
    const expectedLx = (expected[index] ?? 0) * Math.exp(middle)
    const lx = read[index] ?? 0
    const close = STANDS_OUT * Math.max(spread, least[index] ?? 0, 0.02)
    return [{ index, lx, expectedLx, score, close, slip: slipOf(lx, expectedLx, close) }]
  })
}

/** Median; NaN of an empty list. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  const half = sorted.length >> 1
  const [low, high] = [sorted[sorted.length % 2 === 1 ? half : half - 1], sorted[half]]
  return low === undefined || high === undefined ? Number.NaN : (low + high) / 2
}

/** The slip that turns a value near `expected` (within the share `close`, by logarithm) into `lx`; null: none does. */
export function slipOf(lx: number, expected: number, close: number): Slip | null {
  const fits = (value: number) => value > 0 && Math.abs(Math.log(value / expected)) <= close
  const text = String(lx)
  const typed = (kind: 'digit' | 'swapped', changed: string): Slip[] =>
    fits(Number(changed)) ? [{ kind, likely: Number(changed) }] : []
  const found: Slip[] = []
  for (let i = 0; i + 1 < text.length; i++) {
    const [a, b] = [text.charAt(i), text.charAt(i + 1)]
    const isDigits = /\d/.test(a) && /\d/.test(b)
    if (isDigits && a === b) found.push(...typed('digit', text.slice(0, i) + text.slice(i + 1)))
    if (isDigits && a !== b) found.push(...typed('swapped', text.slice(0, i) + b + a + text.slice(i + 2)))
  }
  for (const factor of [10, 0.1, 100, 0.01])
    if (fits(lx * factor)) found.push({ kind: 'point', likely: Number((lx * factor).toPrecision(12)) })
  // A factor of ten fits whatever a digit twice does: the rarer way to fit says more.
  const off = (slip: Slip) => Math.abs(Math.log(slip.likely / expected)) + (slip.kind === 'point' ? close : 0)
  return found.sort((a, b) => off(a) - off(b))[0] ?? null
}

/** A factor that units have between them, and which way a value is off by it. */
export interface UnitSlip {
  /** What was taken for what: read in `is`, entered as `taken`. */
  is: 'fc' | 'klx' | 'lx'
  taken: 'lx' | 'fc' | 'klx'
  factor: number
}

/** Lux in a footcandle: square feet in a square metre (0.3048 m exactly). */
const LX_IN_FC = 1 / 0.3048 ** 2

const LIGHT_UNITS: readonly UnitSlip[] = [
  { is: 'fc', taken: 'lx', factor: LX_IN_FC },
  { is: 'lx', taken: 'fc', factor: 1 / LX_IN_FC },
  { is: 'klx', taken: 'lx', factor: 1000 },
  { is: 'lx', taken: 'klx', factor: 1e-3 },
]

/** The unit that all readings would be right in: their median ratio to what is expected lies within 25 % of its factor. Null: none. */
export function unitSlip(read: readonly number[], expected: readonly number[]): UnitSlip | null {
  const ratio = median(read.map((lx, i) => lx / (expected[i] ?? Number.NaN)))
  return LIGHT_UNITS.find((slip) => Math.abs(Math.log(ratio * slip.factor)) < Math.log(1.25)) ?? null
}

export interface LengthSlip {
  is: 'in' | 'ft' | 'cm' | 'm' | 'mm'
  factor: number
}

/** What a length entered as mm may really be in, in mm. */
const LENGTHS: readonly LengthSlip[] = [
  { is: 'cm', factor: 10 },
  { is: 'in', factor: 25.4 },
  { is: 'ft', factor: 304.8 },
  { is: 'm', factor: 1000 },
]

/** The unit that places along a wall would be right in: how wide the readings fall to half, over how wide the beam does. Null: none. */
export const lengthSlip = (readMm: number, expectedMm: number): LengthSlip | null =>
  LENGTHS.find(({ factor }) => Math.abs(Math.log((readMm * factor) / expectedMm)) < Math.log(1.3)) ?? null

/** Along more readings than these nothing is looked for: each is left out once. */
const MOST_ALONG = 400

/**
 * The reading along a line that both neighbours speak against: by the logarithm it is off from the straight line through them by 3.5 times what is usual
 * along the line (1.4826 times the median of the others), what its neighbours are off by without it, or `least` (a share), whichever is most; so that the steep edge of a
 * beam is none. Null: none, fewer than six readings or more than 400, or one of 0. The ends have one neighbour and are not judged. Places rising.
 */
export function standingOut(
  places: readonly number[],
  lx: readonly number[],
  least: readonly number[],
): StandsOut | null {
  if (lx.length < 6 || lx.length > MOST_ALONG || lx.some((v) => !(v > 0))) return null
  const rows = lx.map((v, i) => ({ x: places[i] ?? 0, log: Math.log(v) }))
  let most: StandsOut | null = null
  for (const index of rows.keys()) {
    const off = offBy(rows, index)
    if (off === null) continue
    const rest = rows.toSpliced(index, 1)
    const beside = [index - 1, index].map((k) => Math.abs(offBy(rest, k) ?? 0))
    const usual =
      MAD_TO_SD * median(rest.flatMap((_, k) => Math.abs(offBy(rest, k) ?? Number.NaN)).filter(Number.isFinite))
    const spread = Math.max(usual, ...beside, least[index] ?? 0, 1e-6)
    const score = off / spread
    if (Math.abs(score) <= Math.max(STANDS_OUT, Math.abs(most?.score ?? 0))) continue
    const value = lx[index] ?? 0
    const [expectedLx, close] = [value * Math.exp(-off), STANDS_OUT * spread]
    most = { index, lx: value, expectedLx, score, close, slip: slipOf(value, expectedLx, close) }
  }
  return most
}

/** Above the straight line through the two rows beside it; null at the ends. */
function offBy(rows: readonly { x: number; log: number }[], k: number): number | null {
  const [a, row, b] = [rows[k - 1], rows[k], rows[k + 1]]
  if (!a || !row || !b || a.x === b.x) return null
  return row.log - a.log - ((row.x - a.x) / (b.x - a.x)) * (b.log - a.log)
}

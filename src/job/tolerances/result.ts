// What a run over built lamps says: the spread of every figure by percentiles, which tolerance it comes from, which to hold tighter.
import type { Lamp, ToleranceName } from '../../lamp/schema.ts'
import { risingOrder, weightedQuantile } from '../../num/quantile.ts'
import { seededRandom } from '../../num/rng.ts'
import type { Figure } from '../../run/figure.ts'
import { FEWEST_ROWS, placeOf, rowLength, type Varied, variedOf } from './design.ts'
import { type BuiltReading, isDanger, SPREAD_NAMES, type SpreadName, type TracedTwice } from './run.ts'
import { type ShareRow, type Shares, sharesOf, type Twice } from './shares.ts'

/** With its bootstrap interval at 95 %. */
export interface Interval {
  value: number
  low: number
  high: number
}

interface ToleranceShare {
  name: ToleranceName
  /** Of the variance of building: what it does alone, and with all that it does together with others. */
  first: Interval
  total: Interval
}

export interface FigureSpread {
  name: SpreadName
  /** The drawn lamp, ± of tracing alone. */
  drawn: Figure | null
  /** Lamps that have the figure. */
  lamps: number
  mean: Interval
  median: Interval
  p5: Interval
  p95: Interval
  least: number
  most: number
  /** Standard deviation of building, tracing taken off; NaN where tracing hides it. */
  sd: Interval
  /** What tracing adds to each lamp, as a standard deviation. */
  tracingSd: number
  /** Most important first. */
  shares: readonly ToleranceShare[]
  tighter: Tighter | null
}

/** The tolerance that is held to half: the one after which least of the spread is left. */
interface Tighter {
  name: ToleranceName
  /** Standard deviation that is then left, at most. */
  sd: number
  /** Others whose share can't be told apart from its own. */
  alike: readonly ToleranceName[]
}

interface SevereCount {
  rule: string
  title: string
  lamps: number
  /** Of the lamp as drawn too. */
  drawn: boolean
}

export interface Spread {
  /** Lamps that have been traced, the drawn one among them. */
  lamps: number
  /** Whole rows of the design. */
  rows: number
  figures: readonly FigureSpread[]
  severe: readonly SevereCount[]
  /** The most of the sun inside that any of the lamps can have, by geometry, kW/m²; null: none lets it in, or not computed. */
  sunMostKWm2: number | null
  /** Lamps that can't stand, with the reason of the first. */
  empty: { lamps: number; why: string } | null
}

const RESAMPLES = 200

/**
 * Reads whatever has been traced so far; only whole rows count for the spread. Percentiles: every lamp of A and those
 * with a tolerance from B share one lamp's weight, each lamp of B has its own. For figures that are no hazards they are
 * drawn towards the mean by √(V/(V + V_tracing)), so that their spread is that of building; hazards keep the noise of
 * tracing, on the hot side. Intervals: bootstrap over the rows, 2.5 and 97.5 %, B. Efron, R. J. Tibshirani, An
 * Introduction to the Bootstrap (1993), section 13.3; for points of Sobol's sequence rather too wide.
 */
export function spreadOf(lamp: Lamp, readings: readonly BuiltReading[]): Spread {
  const varied = variedOf(lamp)
  const byIndex = new Map(readings.map((reading) => [reading.index, reading]))
  const length = rowLength(varied)
  const rows: BuiltReading[][] = []
  const last = readings.reduce((most, { index }) => Math.max(most, index), 0)
  for (let start = 1; start + length - 1 <= last; start += length) {
    const row = Array.from({ length }, (_, i) => byIndex.get(start + i)).filter((r) => r !== undefined)
    if (row.length === length) rows.push(row)
  }
  const drawn = byIndex.get(0)
  const names = varied.length === 0 ? [] : SPREAD_NAMES
  const figures = names.flatMap((name) => {
    const spread = figureSpread(name, rows, varied, drawn)
    return spread ? [spread] : []
  })
  const empty = readings.filter((r) => r.why !== null)
  return {
    lamps: readings.length,
    rows: rows.length,
    figures,
    severe: severeCounts(readings, drawn),
    sunMostKWm2: readings.reduce((most, r) => Math.max(most, r.sunKWm2 ?? 0), 0) || null,
    empty: empty[0] ? { lamps: empty.length, why: empty[0].why ?? '' } : null,
  }
}

/** Standard deviation of building of one figure, tracing taken off. */
export interface FigureSd {
  name: SpreadName
  sd: Interval
}

/** The same from lamps of A and B alone. */
export function sdsOf(lamp: Lamp, readings: readonly BuiltReading[]): FigureSd[] {
  const varied = variedOf(lamp)
  const rows = new Map<number, Partial<Record<'a' | 'b', BuiltReading>>>()
  for (const reading of readings) {
    const { row, of } = placeOf(reading.index, varied)
    if (of === 'a' || of === 'b') rows.set(row, { ...rows.get(row), [of]: reading })
  }
  return SPREAD_NAMES.flatMap((name): FigureSd[] => {
    const pairs = [...rows.values()].flatMap(({ a, b }): ShareRow[] => {
      const [one, other] = [a?.figures[name], b?.figures[name]]
      return one && other ? [{ a: twice(one), b: twice(other), ab: [] }] : []
    })
    if (pairs.length < FEWEST_ROWS) return []
    const sdBy = (weights: Float64Array) => Math.sqrt(Math.max(0, sharesOf(pairs, weights).variance))
    const samples = resampledWeights(pairs.length).map(sdBy)
    return [{ name, sd: intervalOf(sdBy(new Float64Array(pairs.length).fill(1)), samples) }]
  })
}

const twice = ([a, , b]: TracedTwice): Twice => [a, b]
const middle = ([a, b]: Twice): number => (a + b) / 2

function figureSpread(
  name: SpreadName,
  all: readonly (readonly BuiltReading[])[],
  varied: readonly Varied[],
  drawn: BuiltReading | undefined,
): FigureSpread | null {
  const rows = all.flatMap((readings): ShareRow[] => {
    const [a, b, ...ab] = readings.flatMap(({ figures }) => {
      const traced = figures[name]
      return traced ? [twice(traced)] : []
    })
    return a && b && ab.length === varied.length ? [{ a, b, ab }] : []
  })
  if (rows.length < FEWEST_ROWS) return null
  const ones = new Float64Array(rows.length).fill(1)
  const shares = sharesOf(rows, ones)
  const noise = shares.tracingVariance
  const keep =
    isDanger(name) || !(shares.variance > 0) ? 1 : Math.sqrt(shares.variance / (shares.variance + Math.max(0, noise)))
  const places = placesOf(rows, keep, middle(shares.means))
  const samples = resampled(rows, places)
  const at = (pick: (s: Sample) => number): Interval =>
    intervalOf(pick(sampleOf(rows, places, ones)), samples.map(pick))
  const list = varied.map((v, i) => ({
    name: v.name,
    first: at((s) => s.shares.first[i] ?? Number.NaN),
    total: at((s) => s.shares.total[i] ?? Number.NaN),
  }))
  list.sort((x, y) => y.total.value - x.total.value)
  const sd = at((s) => Math.sqrt(Math.max(0, s.shares.variance)))
  const isSeen = sd.low > 0 && shares.variance > 0
  return {
    name,
    drawn: drawnFigure(drawn?.figures[name]),
    lamps: places.values.length,
    mean: at((s) => s.mean),
    median: at((s) => s.median),
    p5: at((s) => s.p5),
    p95: at((s) => s.p95),
    least: Math.min(...places.values),
    most: Math.max(...places.values),
    sd,
    tracingSd: Math.sqrt(Math.max(0, noise)),
    shares: isSeen ? list : [],
    tighter: isSeen ? tighterOf(list, varied, samples, shares) : null,
  }
}

const drawnFigure = (traced: TracedTwice | undefined): Figure | null =>
  traced ? { value: (traced[0] + traced[2]) / 2, se: Math.hypot(traced[1], traced[3]) / 2 } : null

/** Every lamp's figure with the row that it belongs to and its weight in it. */
interface Places {
  values: Float64Array
  row: Int32Array
  weight: Float64Array
  order: readonly number[]
}

function placesOf(rows: readonly ShareRow[], keep: number, mean: number): Places {
  const values: number[] = []
  const row: number[] = []
  const weight: number[] = []
  for (const [j, { a, b, ab }] of rows.entries()) {
    for (const [k, y] of [b, a, ...ab].entries()) {
      values.push(mean + keep * (middle(y) - mean))
      row.push(j)
      weight.push(k === 0 ? 1 : 1 / (ab.length + 1))
    }
  }
  const all = Float64Array.from(values)
  return { values: all, row: Int32Array.from(row), weight: Float64Array.from(weight), order: risingOrder(all) }
}

interface Sample {
  shares: Shares
  mean: number
  median: number
  p5: number
  p95: number
}

function sampleOf(rows: readonly ShareRow[], places: Places, weights: Float64Array): Sample {
  const { values, row, weight, order } = places
  const own = weight.map((w, i) => w * (weights[row[i] ?? 0] ?? 0))
  const at = (p: number) => weightedQuantile(values, own, order, p)
  let sum = 0
  let all = 0
  for (const [i, w] of own.entries()) {
    sum += w * (values[i] ?? 0)
    all += w
  }
  return { shares: sharesOf(rows, weights), mean: sum / all, median: at(0.5), p5: at(0.05), p95: at(0.95) }
}

const resampled = (rows: readonly ShareRow[], places: Places): Sample[] =>
  resampledWeights(rows.length).map((weights) => sampleOf(rows, places, weights))

/** Rows drawn with replacement, the same ones for every figure. */
function resampledWeights(rows: number): Float64Array[] {
  const random = seededRandom(20)
  return Array.from({ length: RESAMPLES }, () => {
    const weights = new Float64Array(rows)
    for (let k = 0; k < rows; k++) {
      const j = Math.floor(random() * rows)
      weights[j] = (weights[j] ?? 0) + 1
    }
    return weights
  })
}

function intervalOf(value: number, samples: readonly number[]): Interval {
  const known = samples.filter(Number.isFinite)
  const order = risingOrder(known)
  const ones = new Float64Array(known.length).fill(1)
  const at = (p: number) => weightedQuantile(known, ones, order, p)
  return { value, low: at(0.025), high: at(0.975) }
}

/**
 * Of a term of degree n in a deviation, halving it takes 1 − 4⁻ⁿ of the variance, three quarters or more; all terms with
 * it hold T of the variance: sd·√(1 − ¾ T) is left at most, of a figure that is a polynomial of the deviations about.
 */
function tighterOf(
  list: readonly ToleranceShare[],
  varied: readonly Varied[],
  samples: readonly Sample[],
  { variance }: Shares,
): Tighter | null {
  const [top] = list
  if (!top || !(top.total.low > 0)) return null
  const place = (name: ToleranceName) => varied.findIndex((v) => v.name === name)
  const at = place(top.name)
  const alike = list.slice(1).filter(({ name }) => {
    const other = place(name)
    const over = samples.filter(({ shares }) => (shares.total[other] ?? 0) >= (shares.total[at] ?? 0)).length
    return over > 0.025 * samples.length
  })
  const left = Math.max(0, variance * (1 - 0.75 * Math.min(1, top.total.value)))
  return { name: top.name, sd: Math.sqrt(left), alike: alike.map(({ name }) => name) }
}

function severeCounts(readings: readonly BuiltReading[], drawn: BuiltReading | undefined): SevereCount[] {
  const counts = new Map<string, SevereCount>()
  for (const { severe } of readings)
    for (const { rule, title } of severe) {
      const known = counts.get(rule)
      if (known) known.lamps++
      else counts.set(rule, { rule, title, lamps: 1, drawn: drawn?.severe.some((s) => s.rule === rule) ?? false })
    }
  return [...counts.values()].sort((a, b) => b.lamps - a.lamps)
}

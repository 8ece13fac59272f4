// How strong discs of rays on planes are.
import type { TimeSliced } from '../num/scheduler.ts'
import { T95 } from '../num/stats.ts'
import { type RayColumns, sampleSum } from '../run/exits.ts'
import { BATCHES } from '../run/types.ts'
import { findNear } from './nearPlanes.ts'
import { type Gathered, KW_M2, type PlanePlace, type Sample } from './planes.ts'

const GROWTH = 1.5
/** The disc grows to five times its size, and far out to this angle as seen from the lamp, rad: light is even over it there. */
const MOST_GROWTH = 5
const EVEN_RAD = 0.004

function growthFactors(discMm: number, distanceMm: number): number[] {
  const most = Math.max(MOST_GROWTH, (EVEN_RAD * distanceMm) / discMm)
  const out = [1]
  while (out.at(-1)! < most) out.push(Math.min(most, out.at(-1)! * GROWTH))
  return out
}

interface DiscOnPlane {
  kWm2: number
  se: number
  discMm: number
  /** On the disc. */
  rays: number
}

/** Where the disc may lie better: up to this share of its radius aside, the last step of the climb, in so many directions. */
const MOST_ASIDE = 1 / 16
const DIRECTIONS = 8
const BESIDE = [MOST_ASIDE / 2, MOST_ASIDE].flatMap((r) =>
  Array.from({ length: DIRECTIONS }, (_, k): [number, number] => {
    const turn = (2 * Math.PI * k) / DIRECTIONS
    return [r * Math.cos(turn), r * Math.sin(turn)]
  }),
)

/**
 * Irradiance of a disc about each of the places, kW/m² with its error, and the disc's diameter and rays. The disc
 * grows until it holds `enough` rays (0: it stays), fivefold or to 0.004 rad, so that the far field isn't all noise. The
 * error is at least one ray's watts, and of a disc that hasn't grown ± at 95 % is wider by what the hottest of those up to a sixteenth of its radius
 * aside holds more: where light ends at the rim, how well the disc was placed counts for more than what the batches differ by. Time-sliced.
 */
export function* measureDiscs(
  { rays, sample }: Gathered,
  places: readonly PlanePlace[],
  discMm: number,
  enough: number,
): TimeSliced<DiscOnPlane[]> {
  const out = yield* measureGrown({ rays, sample }, places, discMm, enough, () => [1])
  // Where there is much light most of it lies beyond the disc: wider ones are looked at only where they count.
  const few = out.flatMap(({ rays: held }, k) => (held < enough ? [k] : []))
  const wider = yield* measureGrown(
    { rays, sample },
    few.map((k) => places[k]!),
    discMm,
    enough,
    ({ distanceMm }) => growthFactors(discMm, distanceMm),
  )
  for (const [n, k] of few.entries()) out[k] = wider[n]!
  return out
}

/** The first of so many discs, each `grown` times as wide, that holds enough rays, or else the widest. */
function* measureGrown(
  { rays, sample }: Gathered,
  places: readonly PlanePlace[],
  discMm: number,
  enough: number,
  grown: (place: PlanePlace) => number[],
): TimeSliced<DiscOnPlane[]> {
  const discs = places.map((place) => makeGrowingDisc(rays, place, discMm, enough, grown(place)))
  yield* findNear(
    rays,
    discs.map(({ window }) => window),
    (q, near) => discs[q]?.add(near),
  )
  return discs.map((disc) => disc.read(sample))
}

function makeGrowingDisc(
  rays: RayColumns,
  { distanceMm, xMm: px, yMm: py }: PlanePlace,
  discMm: number,
  enough: number,
  grown: readonly number[],
) {
  const discs = grown.map((g) => ({
    discMm: g * discMm,
    square: ((g * discMm) / 2) ** 2,
    watts: new Float64Array(BATCHES),
    rays: 0,
  }))
  const fromWidest = discs.toReversed()
  const { xMm, yMm, slopeX, slopeY, batch } = rays
  const radius = discMm / 2
  const [well, barely] = [(radius * (1 - MOST_ASIDE)) ** 2, (radius * (1 + MOST_ASIDE)) ** 2]
  const reachMm = radius * Math.max(1 + MOST_ASIDE, ...grown)
  const beside = BESIDE.map(([x, y]) => ({ xMm: radius * x, yMm: radius * y, more: 0 }))
  /** Well within the disc a ray belongs to all of those beside it. */
  function addBeside(x: number, y: number, w: number) {
    const here = Number(x * x + y * y <= radius * radius)
    for (const disc of beside) {
      const isIn = (x - disc.xMm) ** 2 + (y - disc.yMm) ** 2 <= radius * radius
      disc.more += (Number(isIn) - here) * w
    }
  }
  return {
    // A hair wider: what lies on the edge is found whichever way it is rounded.
    window: { distanceMm, xMm: px, yMm: py, reachMm: reachMm * (1 + 1e-12) },
    add(near: Int32Array) {
      for (const i of near) {
        const x = xMm[i]! + slopeX[i]! * distanceMm - px
        const y = yMm[i]! + slopeY[i]! * distanceMm - py
        const w = rays.watts[i]!
        const square = x * x + y * y
        if (square > well && square <= barely) addBeside(x, y, w)
        for (const disc of fromWidest) {
          if (square > disc.square) break
          disc.watts[batch[i]!]! += w
          disc.rays++
        }
      }
    },
    read(sample: Sample): DiscOnPlane {
      const disc = discs.find((d) => d.rays >= enough) ?? fromWidest[0]!
      const { value, se } = sumSubset(disc.watts, sample)
      const scale = KW_M2 / (Math.PI * disc.square)
      // Batches that agree by chance, or are empty, make no figure certain: the error is at least one ray's watts.
      const oneRay = rays.wattsOfOne * sample.factor
      const more = disc === discs[0] ? (Math.max(0, ...beside.map(({ more }) => more)) * sample.factor) / T95 : 0
      return { kWm2: value * scale, se: (Math.max(se, oneRay) + more) * scale, discMm: disc.discMm, rays: disc.rays }
    },
  }
}

/** Sum and error of the sample as it stands for the whole: batches that are not in it hold zero and don't count. */
function sumSubset(watts: Float64Array, sample: Sample): { value: number; se: number } {
  if (sample.batches === BATCHES) {
    const { value, se } = sampleSum(watts)
    return { value: value * sample.factor, se: se * sample.factor }
  }
  const n = sample.batches
  const sum = watts.reduce((a, b) => a + b, 0)
  let squares = (BATCHES - n) * -((sum / n) ** 2)
  for (const w of watts) squares += (w - sum / n) ** 2
  return { value: sum * sample.factor, se: Math.sqrt(Math.max(0, (squares * n) / (n - 1))) * sample.factor }
}

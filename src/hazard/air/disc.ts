// A disc in the air that faces the light: its irradiance and its error.
import { sampleSum } from '../../run/exits.ts'
import type { Segments } from '../../run/segments.ts'
import { BATCHES } from '../../run/types.ts'
import { gatherNear, listCrossing, makeNearRoom, type Near, type Place, type V3 } from './near.ts'

const KW_M2 = 1000

/** A disc in the air and the direction that the light on it runs in. */
export interface FacingDisc {
  xMm: number
  yMm: number
  zMm: number
  /** Unit vector, power-weighted mean direction of the light through it. */
  dx: number
  dy: number
  dz: number
}

/** kW/m² on a disc, mean over it, and its standard error. */
export interface DiscReading {
  kWm2: number
  se: number
}

const room = makeNearRoom()

/**
 * kW/m² on a disc by all batches, by the even and by the odd ones, each with its standard error from its batches; the error is at least
 * that of counts, and at least one ray's.
 */
export function measureFacing(segments: Segments, disc: FacingDisc, discMm: number): HalvesReading {
  const near = gatherNear(segments, disc, (discMm / 2) * 1.0001, Number.POSITIVE_INFINITY, room)
  return readNear(near, [0, 0, 0], disc, discMm, segments.wattsOfOne)
}

/** As `measureFacing`, of several discs whose middles lie within `withinMm` of a place: its segments are gathered once. */
export function makeFacingReader(
  segments: Segments,
  about: Place,
  discMm: number,
  withinMm: number,
): (disc: FacingDisc) => HalvesReading {
  const near = gatherNear(segments, about, withinMm + (discMm / 2) * 1.0001)
  const { xMm, yMm, zMm } = about
  return (disc) => readNear(near, [disc.xMm - xMm, disc.yMm - yMm, disc.zMm - zMm], disc, discMm, segments.wattsOfOne)
}

interface HalvesReading {
  all: DiscReading
  even: DiscReading
  odd: DiscReading
}

function readNear(near: Near, c: V3, { dx, dy, dz }: FacingDisc, discMm: number, wattsOfOne: number): HalvesReading {
  const radius = discMm / 2
  const perBatch = new Float64Array(BATCHES)
  const squares = new Float64Array(2)
  const { count, index } = listCrossing(near, c, [dx, dy, dz], radius)
  for (let k = 0; k < count; k++) {
    const i = index[k]!
    const batch = near.batch[i]!
    perBatch[batch]! += near.watts[i]!
    squares[batch % 2]! += near.watts[i]! ** 2
  }
  const perArea = KW_M2 / (Math.PI * radius * radius)
  const reading = ({ value, se }: { value: number; se: number }, counts: number, times: number) => ({
    kWm2: value * times * perArea,
    se: Math.max(se, Math.sqrt(counts), wattsOfOne) * times * perArea,
  })
  return {
    all: reading(sampleSum(perBatch), squares[0]! + squares[1]!, 1),
    even: reading(halfSum(perBatch, 0), squares[0]!, 2),
    odd: reading(halfSum(perBatch, 1), squares[1]!, 2),
  }
}

/** Sum over the batches of one parity and its standard error. */
function halfSum(perBatch: Float64Array, parity: 0 | 1): { value: number; se: number } {
  const values = [...perBatch].filter((_, b) => b % 2 === parity)
  const n = values.length
  const value = values.reduce((a, b) => a + b, 0)
  const squares = values.reduce((a, b) => a + (b - value / n) ** 2, 0)
  return { value, se: Math.sqrt((squares * n) / (n - 1)) }
}

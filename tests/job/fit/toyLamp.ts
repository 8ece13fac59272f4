// A lamp in closed form that stands in for the tracer, so that a hundred fits cost no rays: every board a round Gaussian spot on the wall. Its place follows
// board and lens (a picture, upside down), its width the lens's distance and the optics; a tilted lens leans the light to one side. It has no noise.
import { inlinePredictor, type Prediction, type PredictOrder, type Predictor } from '../../../src/job/fit/predict.ts'
import type { LineSet, Readings } from '../../../src/lamp/readings.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { seededRandom } from '../../../src/num/rng.ts'
import { BATCHES } from '../../../src/run/types.ts'
import { lampWith } from '../../kit/lampWith.ts'

/** Seven boards; the lens 20 mm inside of where they would be in focus. */
export const toyLamp = (): Lamp => {
  const lamp = gannetHead()
  return lampWith({ tunnel: null, boards: lamp.boards.slice(0, 7) }, lamp)
}

export const toyPredictor: Predictor = { ...inlinePredictor(), predict: async (order) => toyLux(order) }

export function toyLux({ lamp, fluxLm, spots }: PredictOrder): Prediction {
  const { lens } = lamp
  if (!lens || lens.kind === 'solid') throw new Error('the toy lamp has a lens with a focal length')
  const optic = lamp.opticTypes.find((o) => o.id === lamp.optic)
  const spread = optic?.kind === 'collimator' ? optic.fwhmDeg / 12 : 1
  let first = 0
  const boards = lamp.boards.map((board) => {
    const from = first
    first += lamp.boardTypes.find((t) => t.id === board.type)?.sites.length ?? 1
    return { board, from, to: first }
  })
  const lx = spots.map((spot) => {
    const d = spot.distanceMm
    // Out of focus by so much of the focal length; the board itself is some 25 mm wide.
    const sigma = d * Math.hypot((25 * spread) / lens.focalMm, 1.2 * spread * (1 - lens.zMm / lens.focalMm))
    const lean = (at: number, deg: number) => 1 + 0.15 * deg * Math.tanh(at / sigma / 3)
    let sum = 0
    for (const { board, from, to } of boards) {
      const lm = fluxLm[spot.state]?.subarray(from, to).reduce((s, v) => s + v, 0) ?? 0
      const x = spot.xMm + ((board.xMm - (lens.decentreXMm ?? 0)) * d) / lens.focalMm
      const y = spot.yMm + ((board.yMm - (lens.decentreYMm ?? 0)) * d) / lens.focalMm
      sum += (lm / (2 * Math.PI * sigma ** 2)) * Math.exp(-(x * x + y * y) / (2 * sigma ** 2))
    }
    return 1e6 * sum * lean(spot.xMm, lens.tiltYDeg ?? 0) * lean(spot.yMm, lens.tiltXDeg ?? 0)
  })
  return { lx, se: lx.map(() => 0), batches: lx.map((v) => new Array<number>(BATCHES).fill(v)) }
}

const METER = { calibrationPct: 4, spectralPct: 0, cosinePct: 0, resolutionLx: 0 }
const PLACES = [-1500, -1200, -900, -600, -300, 0, 300, 600, 900, 1200, 1500]

/** Where to read, with nothing read yet: a line across, a line up, the axis. */
export function places(): Readings {
  const line = (along: LineSet['along']): LineSet => ({
    ...{ id: along, kind: 'line', along, faces: 'wall', aimed: 'axis', distanceM: 12 },
    ...{ placeDoubtMm: 2, distanceDoubtMm: 10 },
    rows: PLACES.map((atMm) => ({ atMm, lx: 1 })),
  })
  const rows = [6, 12, 24].map((distanceM) => ({ distanceM, lx: 1 }))
  return { meter: METER, sets: [line('across'), line('up'), { id: 'axis', kind: 'axis', distanceDoubtMm: 5, rows }] }
}

/**
 * Readings of true lux (in the order of the points), with what the sets say is open in them: the meter's scale (2 %, once), each reading's own 1 %. Places
 * and distances are exact: what the sets allow for those is left over.
 */
export function readAs(lx: readonly number[], seed: number, empty = places()): Readings {
  const random = seededRandom(seed)
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
  const scale = 1 + 0.02 * normal()
  let i = 0
  const read = () => (lx[i++] ?? 0) * scale * (1 + 0.01 * normal())
  return {
    ...empty,
    sets: empty.sets.map((set) => {
      if (set.kind === 'line') return { ...set, rows: set.rows.map((row) => ({ ...row, lx: read() })) }
      if (set.kind === 'axis') return { ...set, rows: set.rows.map((row) => ({ ...row, lx: read() })) }
      return set
    }),
  }
}

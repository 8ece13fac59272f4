// Readings of a lamp against its trace: processor time of a whole fit with the rays of page and terminal, in this thread, and how many times that of tracing
// the lamp's own readings once with the rays of one prediction. On two cores the fit takes half of it: its predictions are apart from one another.
import { fitPoints } from '../../src/job/fit/points.ts'
import { inlinePredictor, predictLux, statesFlux } from '../../src/job/fit/predict.ts'
import { makeQueue } from '../../src/job/fit/queue.ts'
import { runFit } from '../../src/job/fit/run.ts'
import type { LineSet, Readings } from '../../src/lamp/readings.ts'
import { gannetHead, stileLamp } from '../../src/library/demos.ts'

const RAYS = 1 << 15
const PLACES = [-900, -600, -400, -200, 0, 200, 400, 600, 900]

/** A line across, a line up, two places on the axis: 20 readings. */
function readingsAt(lx: readonly number[]): Readings {
  let i = 0
  const line = (along: LineSet['along']): LineSet => ({
    ...{ id: along, kind: 'line', along, faces: 'wall', aimed: 'axis', distanceM: 10 },
    rows: PLACES.map((atMm) => ({ atMm, lx: lx[i++] ?? 1 })),
  })
  const sets = [line('across'), line('up')]
  return {
    sets: [...sets, { id: 'axis', kind: 'axis', rows: [5, 20].map((distanceM) => ({ distanceM, lx: lx[i++] ?? 1 })) }],
  }
}

async function cpuSeconds<T>(work: () => Promise<T> | T): Promise<[number, T]> {
  const began = process.cpuUsage()
  const found = await work()
  const { user, system } = process.cpuUsage(began)
  return [(user + system) / 1e6, found]
}

export async function fitTimes() {
  const rows = []
  for (const lamp of [stileLamp(), gannetHead()]) {
    const { points, states } = fitPoints(readingsAt([]))
    const each = Math.round(RAYS / points.length)
    const order = { lamp, fluxLm: statesFlux(lamp, states), spots: points, seed: 1 }
    const trace = () => predictLux({ ...order, rays: points.map(() => each) })
    trace()
    const [one, { lx }] = await cpuSeconds(trace)
    // 6 % less than drawn.
    const readings = readingsAt(lx.map((v) => 0.94 * v))
    const fit = () => runFit(makeQueue([inlinePredictor()]), lamp, readings, { seed: 1, rays: RAYS })
    const [seconds, outcome] = await cpuSeconds(fit)
    rows.push({
      lamp: lamp.name,
      'fit, s of one core': Number(seconds.toPrecision(3)),
      predictions: outcome.ok ? outcome.result.traced : 0,
      'times one prediction': Math.round(seconds / one),
    })
  }
  return rows
}

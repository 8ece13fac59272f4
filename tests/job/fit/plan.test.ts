// A measuring plan against the danger sheet: where a hand and a wall may be. The light is one in closed form, so that nothing is traced.
import { expect, test } from 'vitest'
import { makePlan, type PlannedFigures } from '../../../src/job/fit/plan.ts'
import type { Predictor } from '../../../src/job/fit/predict.ts'
import { parseReadings } from '../../../src/readings/parse.ts'
import { planCsv, planWords } from '../../../src/report/measuringPlan.ts'
import { BATCHES } from '../../../src/run/types.ts'
import { toyLamp } from './toyLamp.ts'

const predict: Predictor['predict'] = async ({ spots }) => {
  const lx = spots.map((s) => (1e4 * 1e6) / s.distanceMm ** 2)
  return { lx, se: lx.map(() => 0), batches: lx.map((v) => new Array<number>(BATCHES).fill(v)) }
}
const risk = (material: string, clearDistanceMm: number) => ({
  material,
  criticalKWm2: 1,
  source: '',
  secondsAtWorst: 1,
  clearDistanceMm,
})
const sheet = (risks: PlannedFigures['risks']): PlannedFigures => ({ figures: {}, findings: [], risks })
async function planned(risks: PlannedFigures['risks'], wallM: number | null) {
  const made = await makePlan(predict, toyLamp(), sheet(risks), { wallM, mode: null, seed: 1, rays: 16 })
  if (!made.ok) throw new Error(made.why)
  return { plan: made.plan, safety: planWords(made.plan, toyLamp(), 'metric').safety.join(' ') }
}

test('a wall within the clear distance of what burns is warned of, and no hand is sent where skin hurts', async () => {
  const risks = [risk('Bare skin (pain)', 2600), risk('Newsprint', 5210), risk('Pine', 4000)]
  const { plan, safety } = await planned(risks, 5)
  expect(plan.burns).toEqual([{ material: 'Newsprint', toM: 5.21 }])
  // Half of 5 m is nearer than 2.6 m.
  expect(plan.axis.map((p) => p.distanceM)).toEqual([5, 10])
  expect(plan.tooNear).toBe(1)
  expect(safety).toMatch(/The wall may burn: at 5 m it stands within the clear distance of newsprint \(5\.3 m\)/)
  expect(safety).toMatch(/No hand in the beam nearer than 2\.6 m/)
})

test('a wall that the plan chooses stands beyond it', async () => {
  const { plan, safety } = await planned([risk('Bare skin (pain)', 0), risk('Newsprint', 13_200)], null)
  expect(plan.wallM).toBe(14)
  expect(plan.burns).toEqual([])
  expect(safety).not.toMatch(/may burn/)
})

test('date and air have their lines in the table to fill in, and are read back', async () => {
  const { plan } = await planned([risk('Bare skin (pain)', 0)], 5)
  const filled = planCsv(plan)
    .replace('when: ', 'when: 3 May, evening')
    .replace('ambient: ', 'ambient: 18')
    .replace(/^(-?[\d.]+),([\d.]+),$/gm, '$1,$2,$2')
  const read = parseReadings(filled)
  expect(read.ok && read.sets[0]).toMatchObject({ when: '3 May, evening', ambientC: 18 })
})

test('the same table with decimal commas, as a spreadsheet of such a language has it: parted by semicolons, and read back as the same numbers', async () => {
  const { plan } = await planned([risk('Bare skin (pain)', 0)], 5)
  const filled = (text: string) => text.replace(/^(-?[\d.,]+[;,])([\d.]+|[\d,]+(?=;))([;,])$/gm, '$1$2$3$2')
  const [points, commas] = [planCsv({ ...plan, wallM: 5.5 }), planCsv({ ...plan, wallM: 5.5 }, ',')]
  expect(commas).toMatch(/^wall: 5,5 m$/m)
  expect(commas).toMatch(/^distance m;expected;lx$/m)
  const [a, b] = [parseReadings(filled(points)), parseReadings(filled(commas))]
  expect(a.ok && a.sets.length).toBeGreaterThan(1)
  expect(b).toEqual(a)
})

// Temperatures, voltages and currents of the built lamp against its own run of heat and power: answers on paper, and recovery over seeds.
import { describe, expect, test } from 'vitest'
import { inlinePredictor } from '../../../src/job/fit/predict.ts'
import type { Explanation, RunningFit } from '../../../src/job/fit/result.ts'
import { withRunningCause } from '../../../src/job/fit/runningCauses.ts'
import { fitRunning, type PredictRun } from '../../../src/job/fit/runningFit.ts'
import type { RunningSet } from '../../../src/lamp/readings.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { powerOf } from '../../../src/library/typicalPower.ts'
import { seededRandom } from '../../../src/num/rng.ts'
import { amount } from '../../kit/amount.ts'
import { HEAT_J_KGK, KG, LIGHT_W, oneNode } from '../../kit/onePlate.ts'

const AIR_C = 20
/** 3 V and 4 A less a watt of light. */
const HEAT_W = 12 - LIGHT_W
const STORED_JK = KG * HEAT_J_KGK
const TIMES = [0, 300, 900, 1800, 3600, 7200]

/** One node of heat: its sink is one by its data sheet, and holds no heat itself. */
function node(resistanceKW = 1.5): Lamp {
  const lamp = oneNode()
  const sink = { kind: 'rated' as const, resistanceKW, heatCapacityJK: 0, flow: 'natural' as const }
  const { cooling, power } = lamp
  if (!cooling || !power) throw new Error('the plate has cooling and power')
  const main = { ...power.harness.main, gauge: { system: 'mm2' as const, mm2: 1 } }
  return {
    ...lamp,
    cooling: { ...cooling, sink, air: { kind: 'still' } },
    power: { ...power, harness: { ...power.harness, main } },
  }
}

/** Lumped capacitance: T = T_air + P R (1 − e^(−t/RC)) (Incropera and DeWitt, § 5.3; textbook rule). */
const lumpedC = (t: number, kelvinW: number) => AIR_C + HEAT_W * kelvinW * (1 - Math.exp(-t / (kelvinW * STORED_JK)))

const running = (rows: RunningSet['rows']): RunningSet => ({ id: 'run', kind: 'running', ambientC: AIR_C, rows })
/** The same runs serve several tests. */
const runs = new Map<string, ReturnType<PredictRun>>()
const run: PredictRun = (order) => {
  const key = JSON.stringify(order)
  const known = runs.get(key) ?? inlinePredictor().run(order)
  runs.set(key, known)
  return known
}
async function fitOf(kind: RunningFit['kind'], lamp: Lamp, rows: RunningSet['rows'], predict: PredictRun = run) {
  const fit = (await fitRunning(predict, lamp, { sets: [running(rows)] })).find((f) => f.kind === kind)
  if (!fit) throw new Error('no fit')
  return fit
}
const alone = ({ explanations }: RunningFit, key: string) =>
  explanations.find((e) => e.causes[0]?.key === key)?.causes[0]
const keys = (e: Explanation | undefined) => e?.causes.map((c) => c.key)

describe('a lumped plate on paper', () => {
  test('its own curve is called as drawn', async () => {
    const fit = await fitOf(
      'heat',
      node(),
      TIMES.map((atS) => ({ atS, plateC: lumpedC(atS, 1.5) })),
    )
    expect(keys(fit.explanations[0])).toEqual([])
    // The run's steps against the exponential.
    for (const p of fit.points) expect(Math.abs(p.value - p.predicted)).toBeLessThan(0.1)
  })

  test('a sink of 2.5 K/W instead of 1.5', async () => {
    const fit = await fitOf(
      'heat',
      node(),
      TIMES.map((atS) => ({ atS, plateC: lumpedC(atS, 2.5) })),
    )
    expect(keys(fit.explanations[0])).toEqual(['sinkResistance'])
    const sink = alone(fit, 'sinkResistance')
    expect(sink?.value).toBeCloseTo(2.5, 1)
    expect(sink?.low).toBeLessThan(2.5)
    expect(sink?.high).toBeGreaterThan(2.5)
  })

  test('air 9 K warmer than was written down', async () => {
    const fit = await fitOf(
      'heat',
      node(),
      TIMES.map((atS) => ({ atS, plateC: lumpedC(atS, 1.5) + 9 })),
    )
    expect(keys(fit.explanations[0])).toEqual(['ambient'])
    expect(alone(fit, 'ambient')?.value).toBeCloseTo(9, 1)
  })

  test('a joint of 40 K·cm²/W under 400 cm² of board: 0.1 K/W times 11 W', async () => {
    const board = (plateC: number) => plateC + (HEAT_W * 40) / 400
    const rows = TIMES.map((atS) => ({ atS, plateC: lumpedC(atS, 1.5), boardC: board(lumpedC(atS, 1.5)) }))
    const fit = await fitOf('heat', node(), rows)
    const joint = alone(fit, 'joint')
    expect(Math.abs((joint?.value ?? 0) - 40)).toBeLessThan(1)
    const made = withRunningCause(node(), 'joint', 40)
    if (!made.ok) throw new Error(made.why.join(' '))
    expect(made.lamp.boardTypes[0]?.thermal).toEqual({ padKW: 0, jointKcm2W: 40 })
  })
})

describe('Ohm’s law on paper', () => {
  /** A driver of 90 % takes 12 W / 0.9 whatever its voltage: V² − 12 V + R P = 0 where it stands. */
  const watts = 12 / 0.9
  const driverV = (ohm: number) => 6 + Math.sqrt(36 - ohm * watts)
  const rows = (supplyOhm: number, wireOhm: number) => {
    const lampV = driverV(supplyOhm + wireOhm)
    const packA = watts / lampV
    return TIMES.map((atS) => ({ atS, packV: 12 - packA * supplyOhm, packA, lampV }))
  }

  test('main wires of 250 mΩ', async () => {
    const fit = await fitOf('power', node(), rows(0, 0.25))
    expect(keys(fit.explanations[0])).toEqual(['mainWires'])
    const wires = alone(fit, 'mainWires')
    expect(Math.abs((wires?.value ?? 0) - 250)).toBeLessThan(3)
    const made = withRunningCause(node(), 'mainWires', 250)
    if (!made.ok) throw new Error(made.why.join(' '))
    // 1 mm² of copper at 90 °C (IEC 60028: 17.241 nΩm at 20 °C, 0.00393/K): 21.984 mΩ a metre, each way.
    expect(powerOf(made.lamp).value.harness.main.lengthMm).toBeCloseTo((0.125 / 0.021984) * 1000, -1)
  })

  test('a supply of 400 mΩ sags as one of less voltage would: both are found, and neither is called proven', async () => {
    const fit = await fitOf('power', node(), rows(0.4, 0))
    expect(Math.abs((alone(fit, 'supplyOhm')?.value ?? 0) - 400)).toBeLessThan(10)
    expect(Math.abs((alone(fit, 'supplyVolts')?.value ?? 0) - driverV(0.4))).toBeLessThan(0.03)
    expect(fit.explanations.slice(0, 2).flatMap(keys).sort()).toEqual(['supplyOhm', 'supplyVolts'])
  })
})

test('over seeds the interval covers the truth', async () => {
  // The lamp in closed form: the lumped plate above, so that a hundred fits cost nothing.
  const closed: PredictRun = async ({ lamp, atS }) => {
    const sink = lamp.cooling?.sink
    const kelvinW = sink?.kind === 'rated' ? sink.resistanceKW : 1
    const none = atS.map(() => 0)
    const plateC = atS.map((t) => lumpedC(t, kelvinW) + lamp.reading.ambientC - AIR_C)
    return { plateC, spreadK: none, boardC: none, packV: none, packA: none, lampV: none }
  }
  const [truth, seeds] = [2, amount(10, 100)]
  let covered = 0
  for (let seed = 1; seed <= seeds; seed++) {
    const random = seededRandom(seed)
    const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
    // As runningFit.ts states: a thermocouple anywhere within ± 2.5 K, 0.5 K of each reading, correlations known to 5 %, the air to 1 K.
    const [offset, rise, air] = [5 * random() - 2.5, 1 + 0.05 * normal(), normal()]
    const rows = TIMES.map((atS) => ({
      atS,
      plateC: AIR_C + (lumpedC(atS, truth) - AIR_C) * rise + offset + air + 0.5 * normal(),
    }))
    const sink = alone(await fitOf('heat', node(), rows, closed), 'sinkResistance')
    if (sink && sink.low <= truth && truth <= sink.high) covered++
  }
  // Of 95 %: three standard errors of the binomial below.
  expect(covered).toBeGreaterThanOrEqual(amount(8, 88))
})

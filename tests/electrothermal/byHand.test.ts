// A lamp simple enough for paper, held from outside: only what `lampwright heat --json` tells is read.
import { describe, expect, test } from 'vitest'
import { heatJson } from '../../src/cli/heat.ts'
import { makeModel } from '../../src/electrothermal/model.ts'
import { warmUpOf } from '../../src/electrothermal/warmUp.ts'
import { runPower } from '../../src/job/power/run.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { expectWithin } from '../kit/expect.ts'
import { once } from '../kit/once.ts'
import { HEAT_J_KGK, KG, LIGHT_W, onePlate, SIDE_M, THICK_M } from '../kit/onePlate.ts'

const runAsJson = (lamp: Lamp) => {
  const json = JSON.parse(JSON.stringify(heatJson(lamp, runPower(lamp)))) as ReturnType<typeof heatJson>
  return { json, mode: json.modes[0]! }
}
const at = (x: readonly number[], y: readonly number[], t: number): number => {
  const i = Math.max(
    1,
    x.findIndex((v) => v >= t),
  )
  return y[i - 1]! + ((t - x[i - 1]!) / (x[i]! - x[i - 1]!)) * (y[i]! - y[i - 1]!)
}

describe('one emitter on a plate', () => {
  const ran = once(() => runAsJson(onePlate()))
  const curves = () => ran().mode.curves as Record<string, number[]>

  test('the driver takes 12 W / 0.9 from 12 V: 1.1111 A', () => {
    const { mode } = ran()
    expectWithin(mode.driversAtStart[0]!.inA, 12 / 0.9 / 12, { rel: 1e-9, because: 'P / (η V)' })
    expectWithin(mode.curves['supplyA' as 'lm'][0]!, 12 / 0.9 / 12, { rel: 1e-9, because: 'nothing else draws' })
  })

  test('adiabatic at first: 11 W into 1.08 kg of 896 J/kgK is 11.367 mK/s', () => {
    const { json } = ran()
    const { tS, plateMeanC } = curves()
    expectWithin(json.sink.plateKg, KG, { rel: 1e-9, because: 'volume × density' })
    const rate = (at(tS!, plateMeanC!, 2) - 20) / 2
    expectWithin(rate, (12 - LIGHT_W) / (KG * HEAT_J_KGK), {
      rel: 0.005,
      because: 'hardly anything is given off in 2 s',
    })
  })

  test('it settles where Churchill and Chu’s upright plate and painted radiation give off 11 W', () => {
    const { mode } = ran()
    const { plateMeanC } = curves()
    const c = mode.steady!.plateMeanC
    const filmK = (c + 20) / 2 + 273.15
    // Air at the film by Sutherland's forms (US Standard Atmosphere 1976, memory), written out here once more.
    const mu = (1.458e-6 * filmK ** 1.5) / (filmK + 110.4)
    const k = (2.64638e-3 * filmK ** 1.5) / (filmK + 245.4 * 10 ** (-12 / filmK))
    const rho = 101_325 / (287.053 * filmK)
    const [nu, alpha] = [mu / rho, k / (rho * 1006)]
    const ra = (9.80665 * (c - 20) * SIDE_M ** 3) / (filmK * nu * alpha)
    const pr = nu / alpha
    const nusselt = (0.825 + (0.387 * ra ** (1 / 6)) / (1 + (0.492 / pr) ** (9 / 16)) ** (8 / 27)) ** 2
    const area = SIDE_M ** 2
    const inputs =
      area * ((nusselt * k) / SIDE_M) * (c - 20) + 0.9 * 5.670374e-8 * area * ((c + 273.15) ** 4 - 293.15 ** 4)
    expectWithin(inputs, 12 - LIGHT_W, { rel: 0.01, because: 'the sink’s table is straight between 4 K' })
    expectWithin(plateMeanC!.at(-1)! - 20, c - 20, { rel: 0.01, because: 'the run settles there too' })
  })

  test('the junction rides 0.5 K/W · 11 W over the plate under it', () => {
    const { mode } = ran()
    const last = mode.boards[0]!
    expectWithin(last.junctionC - last.plateC, 0.5 * (12 - LIGHT_W), { abs: 0.02, because: 'JESD51-51, real heat' })
  })

  test('at every step in = light + stored + lost, and light is 1 W', () => {
    const { mode } = ran()
    const { tS, plateMeanC } = curves()
    const e = mode.energy as Record<string, number[]>
    for (let i = 1; i < tS!.length; i++) {
      const out = ['lightJ', 'wallJ', 'storedJ', 'toAirJ', 'driverJ', 'wiresJ', 'cellsJ'].reduce(
        (s, n) => s + e[n]![i]!,
        0,
      )
      expectWithin(out, e['inJ']![i]!, { rel: 1e-3, because: 'required' })
      expectWithin(e['lightJ']![i]!, LIGHT_W * tS![i]!, { rel: 1e-3, because: '683 lm at 555 nm' })
      expectWithin(e['storedJ']![i]!, KG * HEAT_J_KGK * (plateMeanC![i]! - 20), { rel: 1e-3, because: 'm c ΔT' })
    }
  })
})

test('in moved air the rise is 1 − 1/e of its end after m c / (h A + radiation)', () => {
  const { json, mode } = runAsJson(onePlate({ air: { kind: 'moved', speedMS: 5 }, finish: 'bare' }))
  const { tS, plateMeanC } = mode.curves as Record<string, number[]>
  // Flat plate, laminar: Nu = 0.664 √Re Pr^⅓ (Incropera and DeWitt § 7.2), air near 25 °C (1.56e-5 m²/s, 0.0259 W/mK, 0.71; memory).
  const h = (0.664 * Math.sqrt((5 * SIDE_M) / 1.56e-5) * 0.71 ** (1 / 3) * 0.0259) / SIDE_M
  const radiated = 4 * 0.09 * 5.67e-8 * 300 ** 3
  const tau = (KG * HEAT_J_KGK) / ((h + radiated) * SIDE_M ** 2)
  expectWithin(json.sink.wattPerK / SIDE_M ** 2, h + radiated, { rel: 0.05, because: 'air 30 K warmer there' })
  const end = mode.steady!.plateMeanC - 20
  expectWithin(at(tS!, plateMeanC!, tau) - 20, (1 - 1 / Math.E) * end, {
    rel: 0.02,
    because: 'air’s table, straight between steps',
  })
})

describe('the readings of the power-up list', () => {
  test('a board as large as the plate: 11 W into 0.968 kJ/K are 0.68 K after a minute, less a little to the air', () => {
    const lamp = onePlate()
    const type = { ...lamp.boardTypes[0]!, outline: { shape: 'rectangle' as const, widthMm: 200, heightMm: 200 } }
    const readings = warmUpOf(makeModel({ ...lamp, boardTypes: [type] }, null)).get('B1')!
    expect(readings.map((r) => r.atS)).toEqual([1, 5, 10, 60])
    for (const { atS, plate, board } of readings) {
      const rise = ((12 - LIGHT_W) * atS) / (KG * HEAT_J_KGK)
      // Twice the current of a table with one row: twice the heat. The joint has no resistance, so the board is as warm.
      expectWithin(plate.twiceK / 2, rise, { rel: 0.03, because: 'a minute is 4 % of the time constant' })
      expectWithin(board.twiceK, plate.twiceK, { rel: 1e-9, because: 'nothing between them' })
      expect(plate.toK).toBeLessThan(plate.twiceK)
      expect(plate.fromK).toBeLessThan(plate.twiceK / 2)
    }
  })
  test('a small board: the plate beside it warms less than if its heat stayed under it, 0.161 K/s, and a run agrees', () => {
    const lamp = onePlate()
    const last = warmUpOf(makeModel(lamp, null)).get('B1')![2]!
    const rise = ((12 - LIGHT_W) * 10) / (Math.PI * 0.03 ** 2 * THICK_M * 2700 * HEAT_J_KGK)
    expect(last.plate.twiceK / 2).toBeLessThan(last.board.twiceK / 2)
    const { mode } = runAsJson(lamp)
    const { tS, plateMaxC } = mode.curves as Record<string, number[]>
    const real = at(tS!, plateMaxC!, 10) - 20
    expect(real).toBeLessThan(rise)
    // The board of the list is the mean under it, the run's the hottest place.
    expect(last.board.twiceK / 2).toBeLessThan(real)
    expect(last.board.twiceK / 2).toBeGreaterThan(0.6 * real)
  })
})

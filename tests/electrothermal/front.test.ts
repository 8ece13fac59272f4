// The front's own rise reaches junctions, the hottest place and the map.
import { describe, expect, test } from 'vitest'
import { makeModel } from '../../src/electrothermal/model.ts'
import { frontOf, readSiteTemperatures } from '../../src/electrothermal/plateOf.ts'
import { solveSteadyState } from '../../src/electrothermal/steady.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { benchCheck, gannetHead } from '../../src/library/demos.ts'
import { expectWithin } from '../kit/expect.ts'

function thick(thicknessMm: number): Lamp {
  const lamp = gannetHead()
  return { ...lamp, cooling: { ...lamp.cooling!, plate: { ...lamp.cooling!.plate, thicknessMm } } }
}

test('a plate of one temperature: sites and front lie above it by heat × K/W, from every board', () => {
  const model = makeModel(thick(100), null)
  const n = model.boards.length
  const even = new Float64Array(model.plate.areaM2.length).fill(50)
  const [site, hot] = [new Float64Array(n), new Float64Array(n)]
  readSiteTemperatures(model, even, new Float64Array(n), site, hot)
  for (const c of [...site, ...hot]) expectWithin(c, 50, { abs: 1e-9, because: 'no heat' })
  const heat = new Float64Array(n).fill(20)
  readSiteTemperatures(model, even, heat, site, hot)
  // 380 W into 0.031 m² of a metal of 160 W/mK: q t/2k = 3.8 K were they spread evenly; under boards, which cover half of it, more.
  const spread = (20 * n * 0.1) / (2 * 160 * model.plate.totalM2)
  for (const c of site) expect(c - 50).toBeGreaterThan(0.9 * spread)
  expect(Math.max(...site) - 50).toBeGreaterThan(1.2 * spread)
  const front = frontOf(model, even, heat)
  const mean = front.reduce((sum, c, i) => sum + c * model.plate.areaM2[i]!, 0) / model.plate.totalM2
  expectWithin(mean - 50, spread, { rel: 1e-6, because: 'heat evenly in at the front and out at the back' })
})

describe('a small board on a wide plate', () => {
  const bench = benchCheck()
  const wide: Lamp = {
    ...bench,
    face: { ...bench.face, sizeMm: 600 },
    boardTypes: bench.boardTypes.map((t) => ({ ...t, outline: { shape: 'disc', diameterMm: 16 } })),
    cooling: { ...bench.cooling!, plate: { ...bench.cooling!.plate, thicknessMm: 3 }, sink: { kind: 'none' } },
  }
  test('the settled rise of its hottest place over the mean hardly moves with cells a third as wide', () => {
    const rise = (refine: number) => {
      const model = makeModel(wide, null, refine)
      const steady = solveSteadyState(model, model.power.modes[0]!, 1)
      return steady!.plateMaxC - steady!.plateMeanC
    }
    expectWithin(rise(1), rise(3), { rel: 0.03, because: 'the grid is fine about the board' })
  })
})

// Distances to keep and times to harm at what small faults put in by hand got past: small discs, upper ends, warm air, a sheet that is judged again.
import { describe, expect, test } from 'vitest'
import type { Front } from '../../../src/hazard/front.ts'
import { foundElsewhere, readHazards } from '../../../src/job/beam/hazards.ts'
import { rejudge } from '../../../src/job/danger/rejudge.ts'
import { clearOf } from '../../../src/job/danger/run.ts'
import { frontZMm } from '../../../src/lamp/front.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { runToEnd } from '../../../src/num/scheduler.ts'
import { expectWithin } from '../../kit/expect.ts'
import { fakeDanger } from '../../kit/fakeDanger.ts'
import { filledRun, smallShape } from '../../kit/handRun.ts'

const lamp = gannetHead()
const warm = { ...lamp, reading: { ...lamp.reading, ambientC: 60 } }
const HAND = { rel: 1e-9, because: 'by hand' }
const curve = (...points: [distanceMm: number, kWm2: number, se?: number][]): Front => ({
  worst: null,
  curve: points.map(([distanceMm, kWm2, se = 0]) => ({ distanceMm, kWm2, se, discMm: 10 })),
})
const NONE: Front = { worst: null, curve: [] }

describe('bare skin, which 1 kW/m² hurts', () => {
  const skin = (front: Front, small = NONE, worstByDisc: { discMm: number; kWm2: number; se: number }[] = []) =>
    clearOf({ front, small, worstByDisc }, lamp).find((c) => c.id === 'skin')!
  test('is judged by its small disc: 2 kW/m² at 0.5 m, 0.5 at 1 m, so 833 mm, where the wide disc has 0.5 everywhere', () => {
    const found = skin(curve([1, 0.5], [1000, 0.5]), curve([1, 2], [500, 2], [1000, 0.5]))
    expectWithin(found.clearDistanceMm, 500 + (500 * 1) / 1.5, HAND)
    expectWithin(found.shareAtWorst, 2, HAND)
  })
  test('by the upper end: 0.9 + 2.131 · 0.1', () => {
    const found = skin(curve([1, 0.9, 0.1], [1000, 0.1]))
    expectWithin(found.shareAtWorst, 1.1131, HAND)
    expect(found.secondsAtWorst).not.toBeNull()
  })
  test('at the worst place by the smallest disc that was measured there, as far out as that place may lie', () => {
    const worst = { kWm2: 0.5, se: 0, xMm: 0, yMm: 0, zMm: frontZMm(lamp) + 300, discMm: 10 }
    const byDisc = [
      { discMm: 3.5, kWm2: 3, se: 0 },
      { discMm: 10, kWm2: 0.5, se: 0 },
    ]
    const found = skin({ ...curve([1, 0.5], [1000, 0.5]), worst }, NONE, byDisc)
    expectWithin(found.shareAtWorst, 3, HAND)
    // The wide disc is as bright at 1 m as at 0.3 m.
    expectWithin(found.clearDistanceMm, 1000, HAND)
  })
})

describe('a sheet that is judged again', () => {
  const sheet = fakeDanger(lamp)
  test('has the limits of its air: black plastic softens at 76 °C, 0.209 kW/m² in 60 °C', () => {
    const cover = rejudge({ ...sheet, ambientC: 60 }, warm).things.find((t) => t.name === 'A cover left on')!
    expect(cover.limitKWm2).toBe(0.209)
  })
  test('keeps what small discs have seen: a hand at 100 mm', () => {
    const palm = rejudge({ ...sheet, small: curve([1, 77], [1000, 77]) }, lamp).things.find(
      (t) => t.distanceMm === 100,
    )!
    expect([palm.material, palm.kWm2]).toEqual(['skin', 77])
  })
})

test('risks of a beam sheet are those of its air: paper from 3.49 kW/m² on in 60 °C', () => {
  const run = filledRun(smallShape({}), () => {}, { rays: 16 })
  const { risks } = runToEnd(readHazards(run, warm, 'settled', foundElsewhere(curve([100, 10])), { keepsFront: true }))
  expect(risks.find((r) => r.material.startsWith('Newspaper'))!.criticalKWm2).toBe(3.49)
})

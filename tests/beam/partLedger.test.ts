// What each part of an assembled lamp takes: names in the order that light meets them, shares that add up to the ledger's.
import { expect, test } from 'vitest'
import { readPartLedger } from '../../src/beam/partLedger.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { FATES_OF_PARTS } from '../../src/run/parts.ts'
import { expectWithin } from '../kit/expect.ts'
import { endShare, oneEmitter, traceHere, tube } from '../kit/traceHere.ts'

const lamp: Lamp = {
  ...oneEmitter({
    faceReflectance: 0.5,
    tunnel: {
      ...tube(15, 60, { reflectance: 0.6, zInMm: 5 }),
      joints: [{ zMm: 30, belowMm: 40, aboveMm: 20, reflectance: 0.7, specularShare: 1, scatterDeg: 0 }],
    },
    lens: { kind: 'ideal', zMm: 90, focalMm: 90, diameterMm: 40 },
  }),
  elements: [
    { kind: 'cover', name: 'Pane', zMm: 70, diameterMm: 36, aperture: 'round', thicknessMm: 5, material: 'crown' },
  ],
}

test('a tunnel with a step, a cover and a lens', () => {
  const run = traceHere(lamp, { rays: 1 << 12 })
  const rows = readPartLedger(run, lamp)
  expect(rows.map((r) => r.name)).toEqual([
    'Face',
    'Past the edge of the face',
    'Out between face and tunnel',
    'Wall from 5 to 30 mm',
    'Step at 30 mm',
    'Wall from 30 to 60 mm',
    'Out between tunnel and Pane',
    'Missed Pane',
    'Pane: absorbed',
    'Pane: ended on the rim',
    'Missed: from Pane past Lens',
  ])
  const watts = rows.reduce((sum, r) => sum + r.w, 0) / run.emittedW
  expectWithin(watts, endShare(run, ...FATES_OF_PARTS).value, { rel: 1e-9, because: 'the parts are the ledger' })
  for (const { share, lm } of rows) {
    expect(share.se).toBeGreaterThan(0)
    expectWithin(lm, share.value * run.emittedLm, { rel: 1e-12, because: 'rounding' })
  }
})

test('a plain lamp has no parts', () => {
  const plain = oneEmitter({ tunnel: tube(10, 20) })
  expect(readPartLedger(traceHere(plain, { rays: 64 }), plain)).toEqual([])
})

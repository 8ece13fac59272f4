// Where each segment of a batch starts, counted by hand.
import { expect, test } from 'vitest'
import { tallyLayout } from '../../src/run/layout.ts'
import { FATES } from '../../src/run/types.ts'
import { smallShape } from '../kit/handRun.ts'

const bare = smallShape({
  fineBins: 5,
  coarseBins: 3,
  windowN: 3,
  sphereGamma: 5,
  sphereC: 2,
  target: { n: 2, zMm: 1, halfXMm: 1, halfYMm: 1, centreMm: 1 },
  face: { n: 3, halfMm: 9 },
})

test('16 fates twice, 2 emitted, 1 axial, 1 in the target’s centre, 8 bins twice, 4 cells of the target, 9 of the window, 10 of the sphere, 9 of the face', () => {
  expect(FATES.length).toBe(16)
  expect(tallyLayout(bare)).toEqual({
    fateW: 0,
    fateLm: 16,
    emitted: 32,
    axialLm: 34,
    targetCentreLm: 35,
    profileLm: 36,
    targetLm: 44,
    profileRiserLm: 48,
    partsW: 56,
    partsLm: 56,
    windowLm: 56,
    sphereLm: 65,
    lensW: 75,
    wallW: 75,
    faceW: 75,
    elementsW: 84,
    size: 84,
  })
})

test('a lens of 4 × 4 and a wall of 3 × 5', () => {
  const wall = { nAlong: 3, nRound: 5, zInMm: 0, zOutMm: 1, inMm: 1, outMm: 1, sides: 0 }
  const { lensW, wallW, faceW, size } = tallyLayout({ ...bare, lens: { n: 4, halfMm: 1, zMm: 1 }, wall })
  expect([lensW, wallW, faceW, size]).toEqual([75, 91, 106, 115])
})

test('three further elements of 2 × 2 come last', () => {
  const map = { halfMm: 1, zMm: 1, frame: { originMm: [0, 0, 1], rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1] } } as const
  const { elementsW, size } = tallyLayout({ ...bare, elements: { n: 2, maps: [map, map, map] } })
  expect([elementsW, size]).toEqual([84, 96])
})

test('two stretches and three elements: 6 lines, 2 for a stretch, 3 for an element, twice', () => {
  const { partsW, partsLm, windowLm } = tallyLayout({ ...bare, parts: { stretches: 2, elements: 3 } })
  expect([partsW, partsLm, windowLm]).toEqual([56, 56 + 19, 56 + 38])
})

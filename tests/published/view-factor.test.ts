// A black tunnel delivers what its inlet sees of its outlet: the view factor of coaxial discs.
// J. R. Howell, A Catalog of Radiation Heat Transfer Configuration Factors, C-41 (formula second-hand): R1 = r1/h, R2 = r2/h,
// X = 1 + (1 + R2²)/R1², F12 = (X − √(X² − 4 (R2/R1)²))/2.
import { describe, test } from 'vitest'
import { expectWithin } from '../kit/expect.ts'
import { deliveredShare, oneEmitter, traceHere, tube } from '../kit/traceHere.ts'

const throughTube = (r1: number, r2: number, h: number) =>
  deliveredShare(
    traceHere(oneEmitter({ source: { shape: 'disc', diameterMm: 2 * r1 }, tunnel: tube(r2, h), faceSizeMm: 4 * r2 }), {
      rays: 1 << 16,
    }),
  )

test('Howell C-41, discs of radius 10 and 20 at distance 50: 0.1339313', () => {
  const share = throughTube(10, 20, 50)
  expectWithin(share.value, 0.1339313, { sigmas: 3, se: share.se })
})

describe('equal discs by the same formula', () => {
  test.each([
    [1, 0.381966],
    [2, 0.1715729],
    [4, 0.0557281],
    [10, 0.0098049],
  ])('distance %i radii: %f', (h, factor) => {
    const share = throughTube(10, 10, 10 * h)
    expectWithin(share.value, factor, { sigmas: 3, se: share.se })
  })
})

test('a Lambertian point on the axis of a disc, r²/(r² + h²): 0.2808989 for r 0.25, h 0.4', () => {
  const share = throughTube(0.01, 250, 400)
  expectWithin(share.value, 0.2808989, { sigmas: 3, se: share.se })
})

test('the same through the aperture of a thin ideal lens', () => {
  const lens = { kind: 'ideal' as const, zMm: 400, focalMm: 400, diameterMm: 500 }
  const share = deliveredShare(
    traceHere(oneEmitter({ source: { shape: 'disc', diameterMm: 0.02 }, lens }), { rays: 1 << 16 }),
  )
  expectWithin(share.value, 0.2808989, { sigmas: 3, se: share.se })
})

test('a square tunnel: unit cube, face to opposite face, 0.1998 (Howell C-11, value from memory)', () => {
  const lamp = oneEmitter({
    source: { shape: 'rectangle', widthMm: 20, heightMm: 20 },
    tunnel: tube(10, 20, { sides: 4 }),
  })
  const share = deliveredShare(traceHere(lamp, { rays: 1 << 16 }))
  expectWithin(share.value, 0.199825, {
    abs: 3 * share.se + 5e-6,
    because: 'three standard errors and the printed digits',
  })
})

// What a mirrored tunnel alone gathers of sunlight along its axis, against cones worked out by hand.
//
// A cone of half angle a throws a ray parallel to the axis back by 2a towards the axis. Here the wall rises 30 mm while it widens by 10: tan a = 1/3,
// tan 2a = 3/4. A ray at r meets it 3 (r − 20) above the cone's foot.
import { describe, expect, test } from 'vitest'
import { tunnelGain } from '../../src/hazard/tunnelSun.ts'
import type { Tunnel } from '../../src/lamp/schema.ts'
import { expectWithin } from '../kit/expect.ts'

const finish = { reflectance: 0.8, specularShare: 0.9, scatterDeg: 0 }
const cone = (over: Partial<Tunnel> = {}): Tunnel => ({
  ...finish,
  ...{ sides: 0, inMm: 40, outMm: 60, zInMm: 0, zOutMm: 30 },
  ...over,
})
const RHO = 0.8 * 0.9
const RINGS = { rel: 0.02, because: '256 rings, 128 heights' }

describe('a cone on the face', () => {
  // At z = 0 the ray from r stands at r − 3 (r − 20) · 3/4 = 45 − 1.25 r: from r = 28 on within 10 mm. Higher up fewer do.
  test('gathers the ring from 28 to 30 mm on a disc of 20 mm on the face', () => {
    const { gain, zMm } = tunnelGain(cone(), 20)
    expectWithin(gain, 1 + (RHO * (900 - 784)) / 100, RINGS)
    expect(zMm).toBe(0)
  })
  test('by the mirror’s best wavelength, and by its specular share alone', () => {
    const gathered = (over: Partial<Tunnel>) => tunnelGain(cone(over), 20).gain - 1
    const rows = [
      { nm: 400, reflectance: 0.3 },
      { nm: 700, reflectance: 0.95 },
    ]
    expectWithin(gathered({ reflectanceByNm: rows }), (0.95 * 0.9 * 116) / 100, { rel: 0.04, because: 'rings' })
    expect(gathered({ specularShare: 0 })).toBeLessThan(1e-9)
    expectWithin(gathered({ specularShare: 0.45 }), gathered({}) / 2, { rel: 0.02, because: 'rings' })
  })
  test('a straight one, and one that narrows towards the sun, gather nothing', () => {
    expectWithin(tunnelGain(cone({ inMm: 60 }), 20).gain, 1, { rel: 0.01, because: 'rings' })
    expectWithin(tunnelGain(cone({ inMm: 80 }), 20).gain, 1, { rel: 0.01, because: 'rings' })
  })
})

// Unfolded about its apex a cone lets a ray through whose straight way comes no farther from the apex than the neck's rim is: 5 / sin a = 67 mm, and rays
// along the axis pass it at 20 mm at most. They go from side to side (cone channel: Williamson, J. Opt. Soc. Am. 42 (1952) 712, from memory).
test('a long perfect cone brings all that falls in to its neck, from one side to the other', () => {
  const { gain, zMm } = tunnelGain(cone({ inMm: 10, outMm: 40, zOutMm: 200, reflectance: 1, specularShare: 1 }), 10)
  expectWithin(gain, (40 / 10) ** 2, { rel: 0.02, because: '256 rings' })
  expect(zMm).toBe(0)
})

describe('a cone on a black pipe', () => {
  const black = { reflectance: 0, specularShare: 1, scatterDeg: 0 }
  const joint = { zMm: 50, belowMm: 40, aboveMm: 40, ...finish }
  const tunnel = cone({ ...black, zOutMm: 80, joints: [joint] as NonNullable<Tunnel['joints']> })
  // At z the ray from r stands at 7.5 − 1.25 r + 0.75 z: within 5 mm for r from 2 + 0.6 z to 10 + 0.6 z, and r ends at 30: most at z = 100/3.
  test('the ring from 22 to 30 mm crosses a disc of 10 mm a third of a hundred above the face', () => {
    const { gain, zMm } = tunnelGain(tunnel, 10)
    expectWithin(gain, 1 + (RHO * (900 - 484)) / 25, { rel: 0.03, because: '256 rings' })
    expectWithin(zMm, 100 / 3, { abs: 1.3, because: 'two of 128 heights' })
  })
  test('each disc has its own answer, and the same one again', () => {
    const [small, wide] = [tunnelGain(tunnel, 10), tunnelGain(tunnel, 40)]
    expect(wide.gain).toBeLessThan(small.gain)
    expect(tunnelGain(tunnel, 10)).toEqual(small)
  })
})

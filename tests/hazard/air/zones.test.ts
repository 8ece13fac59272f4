// Where a place lies: before, inside or outside the lamp, by its drawing.
import { describe, expect, test } from 'vitest'
import { AIR_ZONES, makeZoneOf, searchedBall } from '../../../src/hazard/air/zones.ts'
import { frontZMm } from '../../../src/lamp/front.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { expectWithin } from '../../kit/expect.ts'

type Tunnel = NonNullable<Lamp['tunnel']>

/** Face of 200 mm, tube from 160 mm at z = 20 to 400 mm at z = 120; no lens. */
function drawn(tunnel: Partial<Tunnel> | null = {}, lensMm?: number, faceMm = 200): Lamp {
  const lamp = gannetHead()
  const [wide, face] = [lamp.tunnel, { ...lamp.face, sizeMm: faceMm }]
  if (!wide || !lamp.lens) throw new Error('the example has both')
  const own = { ...wide, sides: 0, inMm: 160, outMm: 400, zInMm: 20, zOutMm: 120, ...tunnel }
  const lens = lensMm === undefined ? null : { ...lamp.lens, diameterMm: lensMm }
  return { ...lamp, face, tunnel: tunnel && own, lens }
}

const FRONT = 0
const INSIDE = 1
const OUTSIDE = 2

/** The radius at a height within which a place counts as inside, by trying; towards +x and −y. */
function radiusAt(lamp: Lamp, zMm: number, discMm = 10): number {
  const zoneOf = makeZoneOf(lamp, discMm)
  let [inside, outside] = [0, 2000]
  while (outside - inside > 1e-6) {
    const r = (inside + outside) / 2
    const zone = zoneOf(0.6 * r, -0.8 * r, zMm)
    if (zone === INSIDE) inside = r
    else {
      expect(zone).toBe(OUTSIDE)
      outside = r
    }
  }
  return inside
}
const because = 'drawing'

test('names by number', () => {
  expect([AIR_ZONES[FRONT], AIR_ZONES[INSIDE], AIR_ZONES[OUTSIDE]]).toEqual(['front', 'inside', 'outside'])
})

describe('along the axis', () => {
  test('beyond the front it is before the lamp; half a disc behind the face it is outside', () => {
    const zoneOf = makeZoneOf(drawn(), 10)
    expect(frontZMm(drawn())).toBe(120)
    expect([120.001, 120, 0, -5, -5.001].map((z) => zoneOf(0, 0, z))).toEqual([FRONT, INSIDE, INSIDE, INSIDE, OUTSIDE])
    expect(zoneOf(900, 0, 121)).toBe(FRONT)
    expect(zoneOf(900, 0, -6)).toBe(OUTSIDE)
  })
  test('the disc is the reading’s where none is named', () => {
    const lamp = { ...drawn(), reading: { ...drawn().reading, hotDiscMm: 30 } }
    expect(makeZoneOf(lamp)(0, 0, -14.9)).toBe(INSIDE)
    expect(makeZoneOf(lamp)(0, 0, -15.1)).toBe(OUTSIDE)
  })
})

describe('with a tunnel', () => {
  test('its wall, half a disc wider', () => {
    // 80 + 120 (z − 20)/100.
    expectWithin(radiusAt(drawn(), 70), 140 + 5, { abs: 1e-5, because })
    expectWithin(radiusAt(drawn(), 45), 110 + 5, { abs: 1e-5, because })
    expectWithin(radiusAt(drawn(), 70, 40), 140 + 20, { abs: 1e-5, because })
  })
  test('up to its inlet the wider of face and inlet', () => {
    for (const z of [-4, 0, 10, 20]) expectWithin(radiusAt(drawn(), z), 100 + 5, { abs: 1e-5, because })
    expectWithin(radiusAt(drawn({ inMm: 240 }), 20), 120 + 5, { abs: 1e-5, because })
    expectWithin(radiusAt(drawn(), 20.001), 80 + 5, { abs: 0.01, because })
  })
  test('from its outlet on the wider of lens and outlet', () => {
    expectWithin(radiusAt(drawn(), 120), 200 + 5, { abs: 1e-5, because })
    for (const z of [120, 130]) expectWithin(radiusAt(drawn({}, 500), z), 250 + 5, { abs: 1e-5, because })
    expectWithin(radiusAt(drawn({}, 500), 119.999), 200 + 5, { abs: 0.01, because })
    expectWithin(radiusAt(drawn({}, 300), 130), 200 + 5, { abs: 1e-5, because })
  })
  test('a polygon reaches to its corners: a/cos(π/n)', () => {
    expectWithin(radiusAt(drawn({ sides: 4 }), 70), 140 * Math.SQRT2 + 5, { abs: 1e-5, because })
    expectWithin(radiusAt(drawn({ sides: 6 }), 70), (140 * 2) / Math.sqrt(3) + 5, { abs: 1e-5, because })
  })
})

describe('with joints, as a rectangle, with elements', () => {
  const finish = { reflectance: 0.9, specularShare: 0.9, scatterDeg: 1 }
  test('the wall of its own stretch, at a step the wider', () => {
    // 80 to 100 mm at z = 70, a step to 150, 200 at the outlet.
    const step = drawn({ joints: [{ zMm: 70, belowMm: 200, aboveMm: 300, ...finish }] })
    expectWithin(radiusAt(step, 45), 90 + 5, { abs: 1e-5, because })
    expectWithin(radiusAt(step, 70), 150 + 5, { abs: 1e-5, because })
    expectWithin(radiusAt(step, 95), 175 + 5, { abs: 1e-5, because })
    const bulge = drawn({ joints: [{ zMm: 70, belowMm: 700, aboveMm: 700, ...finish }] })
    expectWithin(searchedBall(bulge, 0).radiusMm, Math.hypot(120, 700) / 2, { abs: 1e-9, because })
  })
  test('a rectangle reaches to its corners', () => {
    const flat = drawn({ sides: 4, inHeightMm: 120, outHeightMm: 300 })
    expectWithin(radiusAt(flat, 120), Math.hypot(200, 150) + 5, { abs: 1e-5, because })
    expectWithin(radiusAt(flat, 70), Math.hypot(140, 105) + 5, { abs: 1e-5, because })
  })
  test('a pane before the lamp is its front, and as wide as it reaches', () => {
    const pane = {
      ...{ kind: 'cover' as const, name: 'Pane', zMm: 150, diameterMm: 500, thicknessMm: 4 },
      decentreXMm: 30,
    }
    const lamp: Lamp = { ...drawn(), elements: [{ ...pane, aperture: 'round', material: 'pmma' }] }
    expect(frontZMm(lamp)).toBe(154)
    expectWithin(radiusAt(lamp, 140), 280 + 5, { abs: 1e-5, because })
    expectWithin(searchedBall(lamp, 0).radiusMm, Math.hypot(154, 560) / 2, { abs: 1e-9, because })
  })
})

describe('without a tunnel', () => {
  test('the straight line from the face’s edge to the lens’s, at the face’s level behind it', () => {
    const lamp = drawn(null, 560)
    const front = frontZMm(lamp)
    expect(front).toBeGreaterThan(900)
    for (const share of [0, 0.25, 0.5, 1])
      expectWithin(radiusAt(lamp, share * front), 100 + 180 * share + 5, { abs: 1e-5, because })
    // 1 mm behind the face it would be 0.17 mm less.
    expectWithin(radiusAt(lamp, -1), 105, { abs: 1e-5, because })
  })
  test('and without a lens straight up', () => {
    const lamp = drawn(null)
    expect(frontZMm(lamp)).toBeGreaterThan(0)
    expectWithin(radiusAt(lamp, 0.9 * frontZMm(lamp)), 105, { abs: 1e-5, because })
  })
})

describe('the ball that is searched', () => {
  test.each([
    ['tunnel’s outlet', drawn(), 400],
    ['tunnel’s inlet', drawn({ inMm: 450 }), 450],
    ['lens', drawn({}, 600), 600],
    ['face', drawn({ outMm: 150 }, undefined, 700), 700],
    ['face alone', drawn(null), 200],
  ] as const)('half the diagonal of front and %s, and as much about it as asked', (_name, lamp, widest) => {
    const front = frontZMm(lamp)
    const { centre, radiusMm } = searchedBall(lamp, 1000)
    expect(centre).toEqual([0, 0, front / 2])
    expectWithin(radiusMm, Math.sqrt(front ** 2 + widest ** 2) / 2 + 1000, { abs: 1e-9, because })
  })
})

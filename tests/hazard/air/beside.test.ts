// Light beside the lamp, in shells about it; zones.
import { describe, expect, test } from 'vitest'
import { readBeside } from '../../../src/hazard/air/beside.ts'
import { makeZoneOf, searchedBall } from '../../../src/hazard/air/zones.ts'
import { clearDistanceMm } from '../../../src/hazard/front.ts'
import { gannetHead, stileLamp } from '../../../src/library/demos.ts'
import { runToEnd } from '../../../src/num/scheduler.ts'
import { LEAKED_SEGMENT } from '../../../src/run/segments.ts'
import { expectWithin } from '../../kit/expect.ts'
import { drawnSegments, evenDisc } from '../../kit/handSegments.ts'

const lamp = gannetHead()

/** A parallel beam of 20 mm radius that leaves sideways along +y through a gap at z = 7. */
const sideways = (flags: number) =>
  drawnSegments({ rays: 20_000, watts: 20 }, (u) => {
    const [a, b] = evenDisc(u, 20)
    return { from: [a, 0, 7 + b], towards: [0, 1, 0], lengthMm: Number.POSITIVE_INFINITY, flags }
  })

const read = (flags: number, floorKWm2 = 1) => runToEnd(readBeside(sideways(flags), lamp, { discMm: 10, floorKWm2 }))

describe('a beam out of a gap', () => {
  const EVEN = (20 / (Math.PI * 20 ** 2)) * 1000
  test('is as strong in every shell up to a metre from the lamp', () => {
    const { leakedW, worst, curve } = read(LEAKED_SEGMENT)
    expectWithin(leakedW, 20, { rel: 1e-5, because: 'all of it' })
    expect(curve.map((p) => p.distanceMm)).toEqual([30, 100, 200, 300, 500, 700, 1000])
    for (const p of curve)
      expectWithin(p.kWm2, EVEN, { rel: 0.12, because: 'some 1250 rays a disc, the luckiest place' })
    expect(worst!.zone).toBe('outside')
    expectWithin(worst!.dy, 1, { abs: 1e-3, because: 'it faces the beam' })
    // Within the lamp's widest part, 280 mm, nothing is outside.
    expect(worst!.yMm).toBeGreaterThan(100)
    expect(clearDistanceMm({ worst: null, curve }, 5)).toBeGreaterThan(1000)
  })
  test('counts only what leaks, and nothing under the floor', () => {
    expect(read(0)).toEqual({ leakedW: 0, worst: null, curve: [] })
    expect(read(LEAKED_SEGMENT, 100)).toMatchObject({ worst: null, curve: [] })
  })
})

describe('zones', () => {
  const zoneOf = makeZoneOf(lamp, 10)
  test.each([
    [[0, 0, 1055], 0],
    [[500, 0, 1055], 0],
    [[0, 0, 500], 1],
    // Behind the plate, and half a disc of it.
    [[0, 0, -4.9], 1],
    [[0, 0, -5.1], 2],
    // The mouth is 100 mm wide to each side, the outlet 280; at z 527 the wall stands at 190.
    [[104, 0, 5], 1],
    [[106, 0, 5], 2],
    [[194, 0, 527], 1],
    [[196, 0, 527], 2],
    [[0, 286, 1045], 2],
  ] as const)('%j lies in zone %i', ([x, y, z], zone) => expect(zoneOf(x, y, z)).toBe(zone))
  test('a polygon reaches to its corners, a lamp without a tunnel to the line from face to lens', () => {
    const square = makeZoneOf({ ...lamp, tunnel: { ...lamp.tunnel!, sides: 4 } }, 10)
    expect(square(260, 0, 527)).toBe(1)
    expect(square(280, 0, 527)).toBe(2)
    const open = makeZoneOf({ ...lamp, tunnel: null }, 10)
    expect(open(194, 0, 527)).toBe(1)
    expect(open(196, 0, 527)).toBe(2)
    const small = stileLamp()
    expect(makeZoneOf(small, 10)(small.face.sizeMm / 2 + 6, 0, 1)).toBe(2)
  })
  test('the ball that is searched holds the lamp and as much about it as is asked', () => {
    const { centre, radiusMm } = searchedBall(lamp, 1000)
    for (const corner of [
      [280, 0, 1054],
      [0, -280, 0],
    ] as const) {
      const away = Math.hypot(corner[0] - centre[0], corner[1] - centre[1], corner[2] - centre[2])
      expect(radiusMm - away).toBeGreaterThanOrEqual(999)
    }
    expect(radiusMm).toBeLessThan(1000 + Math.hypot(560, 1054))
  })
})

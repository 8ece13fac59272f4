// Light that leaves beside the lamp, as pencils: which shell, how hot, which is the worst.
import { describe, expect, test } from 'vitest'
import { readBeside } from '../../../src/hazard/air/beside.ts'
import type { Lamp } from '../../../src/lamp/schema.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { runToEnd } from '../../../src/num/scheduler.ts'
import { T95 } from '../../../src/num/stats.ts'
import { LEAKED_SEGMENT } from '../../../src/run/segments.ts'
import { expectWithin } from '../../kit/expect.ts'
import { type ListedSegment, listedSegments, type V3 } from '../../kit/handSegments.ts'

const ONE = 1000 / (25 * Math.PI)

type Tunnel = NonNullable<Lamp['tunnel']>

/** Face of 200 mm and a straight round tube of 300 mm, 120 mm high, unless told; no lens. */
function drawn(tunnel: Partial<Tunnel> | null = {}, lensMm?: number, faceMm = 200): Lamp {
  const lamp = gannetHead()
  if (!lamp.tunnel || !lamp.lens) throw new Error('the example has both')
  const own = { ...lamp.tunnel, sides: 0, inMm: 300, outMm: 300, zInMm: 0, zOutMm: 120, ...tunnel }
  const lens = lensMm === undefined ? null : { ...lamp.lens, diameterMm: lensMm }
  return { ...lamp, face: { ...lamp.face, sizeMm: faceMm }, tunnel: tunnel && own, lens }
}

/** 64 rays of together so many watts, 12 mm along y about (x, 0, z): hardly nearer or farther at their ends. */
const pencil = (x: number, z: number, watts = 1, flags = LEAKED_SEGMENT): ListedSegment[] =>
  Array.from({ length: 64 }, (_, i) => ({
    from: [x, -6, z] as V3,
    towards: [0, 1, 0] as V3,
    lengthMm: 12,
    watts: watts / 64,
    batch: i % 16,
    flags,
  }))
const read = (list: readonly ListedSegment[], lamp = drawn(), floorKWm2 = 0.1) =>
  runToEnd(readBeside(listedSegments(list), lamp, { discMm: 10, floorKWm2 }))
const shells = (list: readonly ListedSegment[], lamp = drawn()) => read(list, lamp).curve.map((p) => p.distanceMm)

describe('shells by distance from the cylinder about the lamp', () => {
  test.each([
    // Beside, level with it: 150 mm and so much more.
    [150 + 26, 60, 30],
    [150 + 36, 60, 100],
    [150 + 194, 60, 200],
    [150 + 206, 60, 300],
    [150 + 494, 60, 500],
    [150 + 694, 60, 700],
    [150 + 706, 60, 1000],
    [-150 - 994, 60, 1000],
    // Behind it, within its width.
    [100, -24, 30],
    [0, -36, 100],
    [0, -294, 300],
    // Behind and beside: 3, 4, 5.
    [150 + 177, -236, 300],
    [150 + 183, -244, 500],
  ])('x %d, z %d: up to %d mm', (x, z, shell) => expect(shells(pencil(x, z))).toEqual([shell]))
  test('beyond the last there are none, nor before the lamp, nor within it', () => {
    expect(shells(pencil(150 + 1010, 60))).toEqual([])
    expect(shells(pencil(400, 130))).toEqual([])
    expect(shells(pencil(100, 60))).toEqual([])
  })
  test.each([
    ['tunnel’s inlet', drawn({ inMm: 500 }), 250],
    ['tunnel’s outlet', drawn({ outMm: 500 }), 250],
    ['face', drawn({}, undefined, 600), 300],
    ['lens', drawn({}, 700), 350],
    ['face, without a tunnel', drawn(null, undefined, 600), 300],
  ] as const)('the widest part counts: the %s', (_name, lamp, half) => {
    expect(shells(pencil(half + 94, -8), lamp)).toEqual([100])
    expect(shells(pencil(half + 106, -8), lamp)).toEqual([200])
    // In the hollow beside what is narrower it is on the lamp.
    expect(shells(pencil(half - 10, -20), lamp)).toEqual([30])
  })
})

describe('what is read', () => {
  test('the disc of each shell, and the watts that leak at all', () => {
    const { leakedW, worst, curve } = read([...pencil(200, 60, 2), ...pencil(400, 60, 3), ...pencil(5000, 60, 7)])
    expectWithin(leakedW, 12, { rel: 1e-6, because: '2 + 3 + 7 W' })
    expect(curve.map((p) => [p.distanceMm, p.discMm])).toEqual([
      [100, 10],
      [300, 10],
    ])
    for (const [k, watts] of [2, 3].entries()) {
      expectWithin(curve[k]!.kWm2, watts * ONE, { rel: 1e-6, because: 'whole pencils' })
      expectWithin(curve[k]!.se, (watts / 8) * ONE, { rel: 1e-6, because: 'equal batches: √64 rays of 1/64' })
    }
    const { xMm, yMm, zMm, dx, dy, dz, ...rest } = worst!
    expect(rest).toEqual({ ...rest, discMm: 10, zone: 'outside', kWm2: curve[1]!.kWm2, se: curve[1]!.se })
    expect(Object.keys(rest).sort()).toEqual(['discMm', 'kWm2', 'se', 'spreadRad', 'zone'])
    expect(rest.spreadRad).toBe(0)
    expect([dx, dy, dz]).toEqual([0, 1, 0])
    expect(Math.hypot(xMm - 400, zMm - 60)).toBeLessThanOrEqual(5)
    expect(Math.abs(yMm)).toBeLessThanOrEqual(6)
  })
  test('of equal ones the nearest shell is the worst; of two in a shell the hotter stands for it', () => {
    expect(read([...pencil(200, 60, 2), ...pencil(400, 60, 2)]).worst!.xMm).toBeLessThan(210)
    expect(read([...pencil(200, 60, 3), ...pencil(400, 60, 2)]).worst!.xMm).toBeLessThan(210)
    const { worst, curve } = read([...pencil(200, 60, 2), ...pencil(-210, 60, 2.5), ...pencil(200, -30, 1.5)])
    expect(curve.length).toBe(1)
    expectWithin(curve[0]!.kWm2, 2.5 * ONE, { rel: 1e-6, because: 'the hottest' })
    expect(worst!.xMm).toBeLessThan(-200)
  })
  test('measured with the batches that did not find it', () => {
    const list = pencil(200, 60).map((s) => ({ ...s, watts: (s.batch! % 2 === 0 ? 4 : 1) / 64 }))
    expectWithin(read(list).worst!.kWm2, ONE, { rel: 1e-6, because: 'odd batches alone: 1 W' })
  })
  test('from an upper end of ± at the floor on', () => {
    const upper = (2 + (T95 * 2) / 8) * ONE
    expect(read(pencil(200, 60, 2), drawn(), upper * 0.999).curve.length).toBe(1)
    expect(read(pencil(200, 60, 2), drawn(), upper * 1.001)).toMatchObject({ worst: null, curve: [] })
  })
  test('a place whose rays end before every disc about it is passed over', () => {
    // A ray along (−0.6, 0, 0.8) ends just beyond the plane z = 60 of points. The first of these lies 5.6 mm from it towards −x: its ball
    // meets the ray, and discs across x, z or the ray don't. The next one is 10 mm from it.
    const ray = { towards: [-0.6, 0, 0.8] as V3, lengthMm: 3.05, flags: LEAKED_SEGMENT }
    const list = Array.from({ length: 16 }, () => ({ ...ray, from: [200 + 0.6 * 3, 0, 60 - 0.8 * 3] as V3 }))
    // Points lie 2.5 mm and 5 mm steps from the lowest light.
    const low: ListedSegment = { ...ray, from: [200 - 28.1, -28.5, 60 - 27.5], towards: [1, 0, 0], watts: 0 }
    const { worst, curve } = read([...list, low])
    expect(curve.length).toBe(1)
    expect(worst!.xMm).toBeGreaterThan(200)
  })
  test('weak ones over a low floor', () => {
    // 0.2 W: 2.5 kW/m².
    expect(read(pencil(200, 60, 0.2), drawn(), 0.1).curve.length).toBe(1)
  })
  test('only what leaks', () => {
    expect(read(pencil(200, 60, 2, 0))).toEqual({ leakedW: 0, worst: null, curve: [] })
    // A pencil that doesn't leak adds nothing where one does.
    const { leakedW, worst } = read([...pencil(200, 60, 2), ...pencil(200, 60, 5, 1)])
    expectWithin(leakedW, 2, { rel: 1e-6, because: 'the other stays in' })
    expectWithin(worst!.kWm2, 2 * ONE, { rel: 1e-6, because: 'the other stays in' })
  })
})

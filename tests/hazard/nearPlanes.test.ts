// Rays near places on planes, and the lattice, in WebAssembly against plain loops: the same rays, the same bits.
import { describe, expect, test } from 'vitest'
import { makePlaneFinder } from '../../src/hazard/air/planes.ts'
import { findNear, type PlaneWindow } from '../../src/hazard/nearPlanes.ts'
import { CALL_RAYS, CALL_WINDOWS, makePlanesMachine, planesMachine } from '../../src/hazard/wasm/instance.ts'
import { seededRandom } from '../../src/num/rng.ts'
import { runToEnd } from '../../src/num/scheduler.ts'
import type { RayColumns } from '../../src/run/exits.ts'
import { listedColumns } from '../kit/handSegments.ts'

/** No whole number of fours, nor of pieces. */
const RAYS = CALL_RAYS + 1234 + 3

function drawnColumns(seed: number, count = RAYS): RayColumns {
  const random = seededRandom(seed)
  const side = (half: number) => half * (2 * random() - 1)
  return listedColumns(
    Array.from({ length: count }, () => ({
      at: [side(250), side(250)],
      slope: [side(0.1), side(0.1)],
      watts: random() < 0.1 ? 0 : random(),
    })),
  )
}

function drawnWindows(seed: number, count: number): PlaneWindow[] {
  const random = seededRandom(seed)
  return Array.from({ length: count }, () => {
    const distanceMm = 60_000 * random() ** 4
    const reach = 250 + 0.1 * distanceMm
    return {
      distanceMm,
      xMm: reach * (random() - 0.5),
      yMm: reach * (random() - 0.5),
      reachMm: (5 + 0.02 * distanceMm) * (0.2 + random()),
    }
  })
}

/** All that a window was given, and how much of it is beyond the window. */
function listsOf(rays: RayColumns, windows: readonly PlaneWindow[], machine: ReturnType<typeof planesMachine>) {
  const lists = windows.map((): number[] => [])
  runToEnd(findNear(rays, windows, (q, some) => lists[q]?.push(...some), machine))
  const isIn = (i: number, { distanceMm, xMm, yMm, reachMm }: PlaneWindow) =>
    Math.abs(rays.xMm[i]! + rays.slopeX[i]! * distanceMm - xMm) <= reachMm &&
    Math.abs(rays.yMm[i]! + rays.slopeY[i]! * distanceMm - yMm) <= reachMm
  const within = lists.map((list, q) => list.filter((i) => isIn(i, windows[q]!)))
  expect(Math.max(-1, ...lists.flat())).toBeLessThan(rays.count)
  return { within, beyond: lists.flat().length - within.flat().length }
}

test('this thread has WebAssembly with SIMD, else the rest would compare plain loops with themselves', () => {
  expect(planesMachine()).not.toBeNull()
})

describe('rays near places', () => {
  test('the same as by plain loops, in their order, and hardly any from beyond', () => {
    const rays = drawnColumns(5)
    const windows = drawnWindows(6, 2 * CALL_WINDOWS + 3)
    const fast = listsOf(rays, windows, planesMachine())
    const plain = listsOf(rays, windows, null)
    expect(plain.beyond).toBe(0)
    expect(fast.within).toEqual(plain.within)
    expect(plain.within.flat().length).toBeGreaterThan(2000)
    expect(fast.beyond).toBeLessThan(20)
  })
  test('on the very edge of a window, where single precision errs', () => {
    const rays = drawnColumns(7, 300)
    // Each window's edge goes through a ray, to the last bit of double precision.
    const windows = Array.from({ length: 300 }, (_, i): PlaneWindow => {
      const distanceMm = 211.7 * (i + 1)
      const [x, y] = [rays.xMm[i]! + rays.slopeX[i]! * distanceMm, rays.yMm[i]! + rays.slopeY[i]! * distanceMm]
      return { distanceMm, xMm: x + (i % 2 ? 3 : -3), yMm: y, reachMm: Math.abs(x - (x + (i % 2 ? 3 : -3))) }
    })
    const { within } = listsOf(rays, windows, planesMachine())
    expect(within.filter((list, i) => list.includes(i)).length).toBe(300)
  })
  test('three sets of rays in turn, one growing the memory', () => {
    const sets = [drawnColumns(1, 50), drawnColumns(2), drawnColumns(3, 7), drawnColumns(4, 3 * RAYS)]
    const windows = [...drawnWindows(9, 4), { distanceMm: 1, xMm: 0, yMm: 0, reachMm: 80 }]
    const fresh = makePlanesMachine()
    for (const k of [0, 1, 0, 1, 2, 0, 3, 1, 2, 3, 0]) {
      const [fast, plain] = [fresh, null].map((machine) => listsOf(sets[k]!, windows, machine))
      expect(fast!.within, `set ${k}`).toEqual(plain!.within)
    }
  })
  test('without rays, without windows', () => {
    expect(listsOf(listedColumns([]), drawnWindows(1, 2), planesMachine()).within).toEqual([[], []])
    expect(listsOf(drawnColumns(1, 9), [], planesMachine()).within).toEqual([])
  })
})

test('the lattice: the same light on every plane, near and far, again and again', () => {
  const [few, many] = [drawnColumns(11, 333), drawnColumns(12)]
  const options = { discMm: 10, floorKWm2: 0, mostAcross: 300, factor: 2 }
  // Its memory grows on the way: where there were columns there are points then.
  const fresh = makePlanesMachine()
  const finders = [few, many].map((rays) => [
    makePlaneFinder(rays, options, fresh),
    makePlaneFinder(rays, options, null),
  ])
  for (const distanceMm of [1, 300, 4000, 60_000, 4000, 1])
    for (const [fast, plain] of finders) {
      const reachMm = 250 + 0.1 * distanceMm
      const light = fast!(distanceMm, reachMm)
      expect(light.top).not.toBeNull()
      expect(light).toEqual(plain!(distanceMm, reachMm))
      expect(fresh!.use(few).grid.every((watts) => watts === 0)).toBe(true)
    }
})

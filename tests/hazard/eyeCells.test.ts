import { describe, expect, test } from 'vitest'
import {
  brightestPlaces,
  type Crossings,
  crossAt,
  distanceFrom,
  type Hull,
  hullOf,
  oddStep,
} from '../../src/hazard/eyePlaces.ts'
import { weighRays } from '../../src/hazard/eyeRays.ts'
import { expectWithin } from '../kit/expect.ts'
import { drawnLight, eyeRaysOf, inCone, onDiscAt } from '../kit/leavingLight.ts'

const HULL: Hull = { radiusMm: 100, fromZMm: 0, toZMm: 300 }
const onAxis = (x: number, y: number, z: number) => ({ xMm: x, yMm: y, zMm: z })
const single = { abs: 1e-3, because: 'single precision, and where Newton’s rule stops' }

describe('the lamp as a cylinder', () => {
  test('holds where its rays start, and its front', () => {
    const rays = weighRays([
      drawnLight({
        rays: 2,
        watts: 1,
        draw: (u) => ({ at: u() < 0.5 ? [30, 40, 20] : [-30, 40, 20], towards: [0, 0, 1] }),
      }),
      drawnLight({ rays: 1, watts: 1, draw: () => ({ at: [0, 10, -5], towards: [0, 0, -1] }) }),
    ])
    expect(hullOf(rays, 120)).toEqual({ radiusMm: 50, fromZMm: -5, toZMm: 120 })
    expect(hullOf(rays, 10).toZMm).toBe(20)
    expect(hullOf(weighRays([]), 7)).toEqual({ radiusMm: 0, fromZMm: 7, toZMm: 7 })
  })
  test('distances: before it, beside it, behind it, past its edge (3, 4, 5), inside', () => {
    expect(distanceFrom(HULL, onAxis(50, 0, 340))).toBe(40)
    expect(distanceFrom(HULL, onAxis(0, 130, 200))).toBe(30)
    expect(distanceFrom(HULL, onAxis(0, 0, -25))).toBe(25)
    expect(distanceFrom(HULL, onAxis(130, 0, 340))).toBe(50)
    expect(distanceFrom(HULL, onAxis(-140, 0, -30))).toBe(50)
    expect(distanceFrom(HULL, onAxis(10, 10, 10))).toBe(0)
  })
  test('every so many rays: never an even step, which would leave out batches', () => {
    expect([0, 1, 2, 3, 4, 7, 8].map(oddStep)).toEqual([1, 1, 3, 3, 5, 7, 9])
  })
})

describe('where rays pass a distance', () => {
  test('each at that distance, on its own line, whichever way it goes', () => {
    const rays = weighRays([
      drawnLight({
        ...{ rays: 400, watts: 1 },
        draw: (u) => {
          const [x, y] = onDiscAt(u, 100)
          const way = [u() - 0.5, u() - 0.5, u() - 0.5] as const
          return { at: [x, y, 300 * u()], towards: way }
        },
      }),
    ])
    for (const d of [10, 200, 5000, 400_000]) {
      const at = crossAt(rays, HULL, d)
      expect(at.factor).toBe(1)
      for (let i = 0; i < rays.count; i++) {
        const place = onAxis(at.xMm[i]!, at.yMm[i]!, at.zMm[i]!)
        expectWithin(distanceFrom(HULL, place), d, { rel: 3e-4, because: 'where Newton’s rule stops' })
        const [x, y, z] = [place.xMm - rays.xMm[i]!, place.yMm - rays.yMm[i]!, place.zMm - rays.zMm[i]!]
        const along = (x * rays.dx[i]! + y * rays.dy[i]! + z * rays.dz[i]!) / Math.hypot(x, y, z)
        expectWithin(along, 1, { abs: 1e-6, because: 'single precision' })
        const off = Math.hypot(place.xMm, place.yMm, place.zMm - 300)
        expectWithin(at.cosOff[i]!, (place.zMm - 300) / off, { abs: 1e-5, because: 'single precision' })
      }
    }
  })
  test('of more than 65,536 rays every third, worth so much more', () => {
    const rays = weighRays([
      drawnLight({ rays: 70_000, watts: 7, draw: (u) => ({ at: onDiscAt(u, 50), towards: inCone(u, 0.2) }) }),
    ])
    const at = crossAt(rays, HULL, 500)
    expect(at.watts.length).toBe(Math.ceil(70_000 / 3))
    expectWithin(at.watts.reduce((a, b) => a + b, 0) * at.factor, 7, { rel: 1e-4, because: 'rounding' })
  })
  test('from the far side of a flat or a long lamp, and along its axis: past all of the lamp first', () => {
    const cross = (at: [number, number, number], towards: [number, number, number], hull: Hull, d: number) => {
      const { xMm, yMm, zMm } = crossAt(eyeRaysOf([{ at, towards }]), hull, d)
      return [xMm[0]!, yMm[0]!, zMm[0]!]
    }
    const expectAt = (got: number[], want: number[]) => {
      for (const [k, w] of want.entries()) expectWithin(got[k]!, w, { abs: 2e-3, because: 'where Newton’s rule stops' })
    }
    const flat = { radiusMm: 100, fromZMm: 0, toZMm: 0 }
    expectAt(cross([-100, 0, 0], [1, 0, 0], flat, 10), [110, 0, 0])
    expectAt(cross([0, 60, 0], [0, -1, 0], flat, 10), [0, -110, 0])
    const long = { radiusMm: 10, fromZMm: -150, toZMm: 150 }
    expectAt(cross([3, 4, -150], [0, 0, 1], long, 10), [3, 4, 160])
    expectAt(cross([3, 4, 150], [0, 0, -1], long, 10), [3, 4, -160])
    expectAt(cross([0, 0, 0], [0, 0, 1], long, 10), [0, 0, 160])
    // 100 mm on, (40, 190) is (30, 40) off the edge.
    expectAt(cross([-20, 0, 110], [3, 0, 4], long, 50), [40, 0, 190])
  })
  test('weighted watts, cosine off the axis, factor 1; nothing of nothing', () => {
    const at = crossAt(
      eyeRaysOf([
        { at: [0, 0, 0], towards: [0, 0, 1], watts: 2, thermal: 7 },
        { at: [0, 0, 0], towards: [1, 0, 0], watts: 2, thermal: 8 },
      ]),
      { radiusMm: 0, fromZMm: 0, toZMm: 0 },
      500,
    )
    expect([...at.watts]).toEqual([7, 8])
    expectWithin(at.cosOff[0]!, 1, single)
    expectWithin(at.cosOff[1]!, 0, single)
    expect([at.factor, at.distanceMm]).toEqual([1, 500])
    expect(crossAt(weighRays([]), HULL, 500)).toMatchObject({ factor: 1, distanceMm: 500 })
  })
})

interface Cluster {
  at: readonly [number, number, number]
  /** Crossings there; each of `watts`. */
  n: number
  watts?: number
}

const POINT: Hull = { radiusMm: 0, fromZMm: 0, toZMm: 0 }

/** Crossings at hand-made places, whatever their distance. */
function crossings(clusters: readonly Cluster[], { distanceMm = 500, factor = 1 } = {}): Crossings {
  const all = clusters.flatMap(({ at, n, watts = 1 }) => Array.from({ length: n }, () => ({ at, watts })))
  const column = (of: (c: (typeof all)[number]) => number) => Float32Array.from(all, of)
  return {
    ...{ distanceMm, factor, watts: column((c) => c.watts) },
    ...{ xMm: column((c) => c.at[0]), yMm: column((c) => c.at[1]), zMm: column((c) => c.at[2]) },
    ...{ dx: column(() => 0), dy: column(() => 0), dz: column(() => 1) },
    cosOff: column(({ at: [x, y, z] }) => z / Math.hypot(x, y, z)),
  }
}

describe('cells of 10, 40 and 240 mm', () => {
  const near = { abs: 1e-6, because: 'rounding' }
  const scaled = (at: readonly number[], to = 500) => at.map((x) => (x * to) / Math.hypot(...at))
  const expectPlace = (got: { xMm: number; yMm: number; zMm: number } | undefined, at: readonly number[]) => {
    expectWithin(got!.xMm, at[0]!, near)
    expectWithin(got!.yMm, at[1]!, near)
    expectWithin(got!.zMm, at[2]!, near)
  }
  test('one spot: where it is, in the narrowest cell and again in the widest', () => {
    const found = brightestPlaces(crossings([{ at: [3, 4, 500], n: 9 }], { factor: 3 }), POINT, 3)
    expect(found.map((f) => f.raysPerMm2)).toEqual([27 / 100, 27 / 57_600])
    for (const f of found) expectPlace(f, scaled([3, 4, 500]))
    expect(brightestPlaces(crossings([{ at: [3, 4, 500], n: 9 }]), POINT, 1)).toHaveLength(1)
  })
  test('cells grow with the distance: 0.4 % of it', () => {
    const found = brightestPlaces(crossings([{ at: [3, 4, 5000], n: 9 }], { distanceMm: 5000 }), POINT, 1)
    expect(found[0]!.raysPerMm2).toBe(9 / 400)
  })
  test('straight on the axis counts', () => {
    const [best] = brightestPlaces(crossings([{ at: [0, 0, 500], n: 9 }]), POINT, 1)
    expectPlace(best, [0, 0, 500])
  })
  test('four rays or fewer tell of nothing; five do', () => {
    expect(brightestPlaces(crossings([{ at: [3, 4, 500], n: 1, watts: 50 }]), POINT, 3)).toEqual([])
    expect(brightestPlaces(crossings([{ at: [3, 4, 500], n: 4, watts: 50 }]), POINT, 3)).toEqual([])
    expect(brightestPlaces(crossings([{ at: [3, 4, 500], n: 5 }]), POINT, 1)).toHaveLength(1)
    expect(brightestPlaces(crossings([]), POINT, 3)).toEqual([])
  })
  test('by the lower end of chance: 100 rays of 0.04 W are worth 3.2, nine of 1 W are worth 3', () => {
    const [a, b] = [
      { at: [-45, 5, 500], n: 9 },
      { at: [105, 5, 500], n: 100, watts: 0.04 },
    ] as const
    for (const order of [
      [a, b],
      [b, a],
    ])
      expectPlace(brightestPlaces(crossings(order), POINT, 1)[0], scaled(b.at))
    expectPlace(brightestPlaces(crossings([a, { ...b, watts: 0.03 }]), POINT, 1)[0], scaled(a.at))
  })
  test.each([
    ['x', [1, 0, 0]],
    ['y', [0, 1, 0]],
    ['z', [0, 0, 1]],
  ] as const)('two spots 80 mm apart along %s, either side of the middle, are two; 70 mm are one', (_, axis) => {
    const spot = (off: number): Cluster => ({ at: [15 + off * axis[0], 15 + off * axis[1], 495 + off * axis[2]], n: 9 })
    const third = (apart: number, from = 0) => {
      const [one, two] = [spot(from), spot(from + apart)]
      const found = brightestPlaces(crossings([one, { ...two, n: 8 }]), POINT, 3)
      return found.some((f) => f.raysPerMm2 === 8 / 100)
    }
    expect([third(80), third(70)]).toEqual([true, false])
    // Mirrored about zero.
    if (axis[2] === 0) expect(third(-90, 30)).toBe(true)
  })
  test('spots mirrored about the axis are apart, not near', () => {
    const four = [
      [-95, -95, 405],
      [95, 95, 405],
      [-95, 95, 405],
      [95, -95, -405],
    ] as const
    const found = brightestPlaces(crossings(four.map((at, k) => ({ at, n: 40 - k }))), POINT, 5)
    expect(found.filter((f) => f.raysPerMm2 > 0.1).map((f) => Math.round(100 * f.raysPerMm2))).toEqual([40, 39, 38, 37])
    expect(brightestPlaces(crossings(four.map((at, k) => ({ at, n: 40 - k }))), POINT, 3)).toHaveLength(3)
  })
  test('light that only the widest cell holds enough of: one place', () => {
    const spread = Array.from({ length: 5 }, (_, k): Cluster => ({ at: [20 + 45 * k, 120, 500], n: 1 }))
    const found = brightestPlaces(crossings(spread), POINT, 3)
    expect(found.map((f) => f.raysPerMm2)).toEqual([5 / 57_600])
    expectPlace(found[0], scaled([110, 120, 500]))
  })
  test('twelve cells are kept of each size: a spot behind eleven brighter cells of another is found as such, behind twelve no more', () => {
    const crowd = (n: number) => [
      ...Array.from(
        { length: n },
        (_, k): Cluster => ({ at: [5 + 10 * (k % 4), 5 + 10 * Math.floor(k / 4), 485], n: 100 }),
      ),
      { at: [-205, -205, 485] as const, n: 9 },
    ]
    const densities = (n: number) => brightestPlaces(crossings(crowd(n)), POINT, 3).map((f) => f.raysPerMm2)
    expect(densities(11)).toContain(9 / 100)
    expect(densities(12)).not.toContain(9 / 100)
    expect(densities(12)).toContain(9 / 1600)
    // The last of equals stays out, the later of them.
    const faint = [
      ...crowd(11)
        .slice(0, 11)
        .map((c) => ({ ...c, n: 9 })),
      crowd(11)[11]!,
      { at: [205, -205, 485] as const, n: 9 },
    ]
    const third = brightestPlaces(crossings(faint), POINT, 3).find((f) => f.xMm < 0)
    expect(third!.raysPerMm2).toBe(9 / 100)
  })
  test('so far off the axis only: the rest counts neither for the cell nor for its middle', () => {
    const at = (deg: number): [number, number, number] => [
      500 * Math.sin((deg * Math.PI) / 180),
      2,
      500 * Math.cos((deg * Math.PI) / 180),
    ]
    const both = crossings([
      { at: at(9.5), n: 100 },
      { at: at(10.5), n: 9 },
    ])
    const [aside] = brightestPlaces(both, POINT, 1, 10)
    expect(aside!.raysPerMm2).toBe(9 / 100)
    expectWithin(Math.atan2(aside!.xMm, aside!.zMm), (10.5 * Math.PI) / 180, { abs: 1e-6, because: 'single precision' })
    expect(brightestPlaces(both, POINT, 1)[0]!.raysPerMm2).toBe(1)
    expect(brightestPlaces(both, POINT, 1, 20)).toEqual([])
  })
})

describe('the middle of the light', () => {
  test('what lies just a cell’s edge from the middle belongs to it', () => {
    const [best] = brightestPlaces(
      crossings([
        { at: [5, 5, 505], n: 9 },
        { at: [15, 5, 505], n: 9 },
      ]),
      POINT,
      1,
    )
    // All of it about x = 10 in place of half.
    expectWithin(best!.xMm / best!.zMm, 10 / 505, { abs: 1e-9, because: 'rounding' })
  })
  test('the mean is by watts', () => {
    const spots = [
      { at: [2, 5, 505], n: 9, watts: 3 },
      { at: [6, 5, 505], n: 9, watts: 1 },
    ] as const
    expectWithin(brightestPlaces(crossings(spots), POINT, 1)[0]!.xMm * 505, 3 * 500 * (505 / Math.hypot(3, 5, 505)), {
      abs: 1e-3,
      because: 'rounding',
    })
  })
  // In the widest cell about 120 mm nine rays of 1 W, apart; then lone rays, each a hundred times as strong as the one before, too few for a
  // cell of their own.
  const chain = (axis: 0 | 1 | 2, along: readonly number[], last: readonly number[] = []) => {
    const at = (off: number, u = 120, v = 120) => {
      const place: [number, number, number] = [u, v, off]
      return [place[(2 - axis + 3) % 3]!, place[(3 - axis + 3) % 3]!, place[(4 - axis + 3) % 3]!] as const
    }
    const nine = [40, 120, 200].flatMap((u) => [40, 120, 200].map((v): Cluster => ({ at: at(along[0]!, u, v), n: 1 })))
    const lone = along.slice(1).map((off, k): Cluster => ({ at: at(off), n: 1, watts: 100 ** (k + 1) }))
    const beside = last.map((off): Cluster => ({ at: at(off, 320), n: 1, watts: 100 ** along.length }))
    const clusters = [...nine, ...lone, ...beside]
    const [best] = brightestPlaces(crossings(clusters), POINT, 1)
    const [x, y, z] = [best!.xMm, best!.yMm, best!.zMm]
    return (120 * [x, y, z][axis]!) / [y, z, x][axis]!
  }
  test.each([0, 1, 2] as const)('moves up to four times, axis %i', (axis) => {
    // By turns to the mean within 240 mm: 262, 406, 550, 694 and no more, though 838 would hold another, 200 mm aside.
    expectWithin(chain(axis, [120, 264, 408, 552, 696, 840], [840]), 694.5, {
      abs: 1.5,
      because: 'a hundredth pulls back 144 mm',
    })
  })
  test.each([0, 1, 2] as const)('over light within three cells’ edges of its middle, axis %i', (axis) => {
    // 720 mm from 120 the last one still counts: the fullest is about 658; without it, about 478.
    expectWithin(chain(axis, [120, 300, 480, 660, 840]), 658, { abs: 5, because: 'a hundredth pulls back' })
    expectWithin(chain(axis, [120, 300, 480, 660, 841]), 478, { abs: 5, because: 'a hundredth pulls back' })
  })
})

describe('moved to the distance asked for', () => {
  const pushed = (at: readonly [number, number, number], distanceMm: number) => {
    const [best] = brightestPlaces(crossings([{ at, n: 9 }], { distanceMm }), HULL, 1)
    return [best!.xMm, best!.yMm, best!.zMm].map((x) => Math.round(1e6 * x) / 1e6)
  }
  test('beside, before, behind, past the edge, and from inside to the front', () => {
    expect(pushed([250, 0, 150], 200)).toEqual([300, 0, 150])
    expect(pushed([0, -250, 150], 200)).toEqual([0, -300, 150])
    expect(pushed([50, 20, 400], 200)).toEqual([50, 20, 500])
    expect(pushed([50, 20, -100], 200)).toEqual([50, 20, -200])
    expect(pushed([130, 0, 340], 100)).toEqual([160, 0, 380])
    expect(pushed([20, 30, 150], 10)).toEqual([20, 30, 310])
  })
})

// Foci of cones made by hand: which of them are listed, where, how hot and how wide.
import { describe, expect, test } from 'vitest'
import { type FociOptions, searchFoci } from '../../src/hazard/foci.ts'
import { runToEnd } from '../../src/num/scheduler.ts'
import { T95 } from '../../src/num/stats.ts'
import { expectWithin } from '../kit/expect.ts'
import { type ListedRay, listedColumns, type V3 } from '../kit/handSegments.ts'

const because = 'by hand'
const Z = 500
const onDisc = (watts: number, discMm = 10) => (watts * 1000) / (Math.PI * (discMm / 2) ** 2)
const unit = (v: V3): V3 => v.map((x) => x / Math.hypot(...v)) as unknown as V3
const cross = (a: V3, b: V3): V3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]

interface Lit {
  rays?: number
  /** By the parity of the batch; both alike unless told. */
  odd?: number
}

/** The ray through a place (distance from the front) in a direction. */
const through = ([x, y, d]: V3, [dx, dy, dz]: V3): Pick<ListedRay, 'at' | 'slope'> => ({
  at: [x - (d * dx) / dz, y - (d * dy) / dz],
  slope: [dx / dz, dy / dz],
})
/** Axes across a direction. */
const axes = (n: V3): [V3, V3] => {
  const u = unit(cross([0, 1, 0], n))
  return [u, cross(n, u)]
}
/** Rays at this slope to the axis, one of each batch from every direction: where few of these cross by chance, fewer than 36 do. */
function cone(
  place: V3,
  watts: number,
  slope = 0.2,
  n: V3 = [0, 0, 1],
  { rays = 160, odd = watts }: Lit = {},
): ListedRay[] {
  const [u, v] = axes(n)
  return Array.from({ length: rays }, (_, i) => {
    const turn = (2 * Math.PI * Math.floor(i / 16)) / (rays / 16)
    const [a, b] = [slope * Math.cos(turn), slope * Math.sin(turn)]
    const d = [0, 1, 2].map((k) => n[k]! + a * u[k]! + b * v[k]!) as unknown as V3
    return { ...through(place, d), watts: (i % 2 === 0 ? watts : odd) / rays, batch: i % 16 }
  })
}
const pencil = (place: V3, watts: number, n: V3 = [0, 0, 1], lit: Lit = {}) => cone(place, watts, 0, n, lit)
const search = (list: readonly ListedRay[], over: Partial<FociOptions> = {}, wattsOfOne = 1e-3) =>
  runToEnd(searchFoci(listedColumns(list, { zMm: Z, wattsOfOne }), { discMm: 10, most: 3, ...over }))
const places = (found: ReturnType<typeof search>) =>
  found.map((f) => [f.xMm, f.yMm, f.distanceMm].map((x) => Math.round(x) + 0))

describe('one focus', () => {
  test('where, how hot, how sure, how wide', () => {
    const found = search(cone([12, -7, 400], 20))
    expect(found.length).toBe(1)
    const { xMm, yMm, zMm, distanceMm, kWm2, se, discMm, coneHalfRad, ...rest } = found[0]!
    expect(rest).toEqual({})
    expectWithin(Math.hypot(xMm - 12, yMm + 7, distanceMm - 400), 0, { abs: 0.05, because: 'its waist' })
    expect(zMm).toBe(Z + distanceMm)
    expectWithin(kWm2, onDisc(20), { rel: 1e-6, because })
    expectWithin(se, onDisc(20 / Math.sqrt(160)), { rel: 1e-6, because: 'counts' })
    expect(discMm).toBe(10)
    // All rays at one angle α to the axis: rms √(2 (1 − cos α)); of an even cone of half angle √2 times as wide.
    expectWithin(Math.tan(coneHalfRad), Math.SQRT2 * Math.sqrt(2 * (1 - 1 / Math.sqrt(1.04))), { rel: 1e-3, because })
  })
  test('along a slanting axis', () => {
    const n = unit([0.3, -0.2, 1])
    const found = search(cone([80, 40, 600], 20, 0.15, n))
    expect(places(found)).toEqual([[80, 40, 600]])
    expectWithin(found[0]!.kWm2, onDisc(20), { rel: 1e-6, because })
  })
  test('listed up to an upper end of ± at the floor; half a kW/m² unless told', () => {
    const upper = onDisc(20 + (T95 * 20) / Math.sqrt(160))
    expect(search(cone([12, -7, 400], 20), { floorKWm2: 0.999 * upper }).length).toBe(1)
    expect(search(cone([12, -7, 400], 20), { floorKWm2: 1.001 * upper })).toEqual([])
    const half = 0.5 / onDisc(1) / (1 + T95 / Math.sqrt(160))
    expect(search(cone([12, -7, 400], 1.001 * half), {}, 1e-5).length).toBe(1)
    expect(search(cone([12, -7, 400], 0.999 * half), {}, 1e-5)).toEqual([])
  })
  test('six standard deviations over what lies about it: 36 rays', () => {
    const of = (rays: number) => search(cone([0, 0, 400], 20, 0.2, [0, 0, 1], { rays }), {}, 1e-6).length
    expect(of(48)).toBe(1)
    expect(of(32)).toBe(0)
  })
  test('measured with the batches that did not find it', () => {
    // 20 W by the even, 10 W by the odd ones.
    const found = search(cone([0, 0, 400], 20, 0.2, [0, 0, 1], { odd: 10, rays: 640 }))
    expect(found.length).toBe(1)
    expectWithin(found[0]!.kWm2, onDisc(10), { rel: 1e-6, because })
  })
  test('as wide as other rays say', () => {
    const about = listedColumns([{ at: [0, 0] }])
    expect(search(cone([300, 0, 400], 20), { about })).toEqual([])
    expect(search(cone([5, 0, 400], 20), { about }).length).toBe(1)
  })
  test('searched on few rays it is measured with all', () => {
    const found = search(cone([12, -7, 400], 20, 0.2, [0, 0, 1], { rays: 1600 }), { lookRays: 300 })
    expect(found.length).toBe(1)
    expectWithin(found[0]!.kWm2, onDisc(20), { rel: 1e-6, because })
    expectWithin(found[0]!.se, onDisc(20 / Math.sqrt(1600)), { rel: 1e-6, because })
  })
})

describe('several', () => {
  const three = [...cone([-100, 0, 400], 10), ...cone([100, 0, 600], 30), ...cone([0, 120, 300], 20)]
  test('each, hottest first, as many as asked', () => {
    const found = search(three)
    expect(places(found)).toEqual([
      [100, 0, 600],
      [0, 120, 300],
      [-100, 0, 400],
    ])
    for (const [k, watts] of [30, 20, 10].entries()) expectWithin(found[k]!.kWm2, onDisc(watts), { rel: 1e-6, because })
    expect(places(search(three, { most: 2 }))).toEqual(places(found).slice(0, 2))
    // Planes are up to 30 mm apart, and 16 mm beyond a focus its cone is still whole in the disc 35 mm before: judged from its waist it stands out,
    // so that its first start is enough.
    expect(places(search(three, { most: 1 }))).toEqual(places(found).slice(0, 1))
  })
  test('of a slender one, whole in the disc on many planes, the nearest start is enough', () => {
    // Slope 0.02: ± 250 mm; the other makes the planes 30 mm apart. Eight starts hold both.
    const found = search([...cone([-60, 0, 600], 30, 0.02), ...cone([60, 0, 400], 20, 0.2, [0, 0, 1], { rays: 480 })], {
      most: 2,
    })
    expect(found.map((f) => [Math.round(f.xMm) + 0, Math.round(f.kWm2 / onDisc(1))])).toEqual([
      [-60, 30],
      [60, 20],
    ])
  })
  test('on planes beside one another, but apart', () => {
    expect(places(search([...cone([0, 0, 400], 20), ...cone([60, 0, 430], 10)]))).toEqual([
      [0, 0, 400],
      [60, 0, 430],
    ])
    expect(places(search([...cone([0, 0, 430], 20), ...cone([0, 60, 400], 10)]))).toEqual([
      [0, 0, 430],
      [0, 60, 400],
    ])
  })
  test('within one and a half discs across they are one', () => {
    const beside = (x: number) => places(search([...cone([0, 0, 400], 20), ...cone([x, 0, 400], 10)]))
    expect(beside(30)).toEqual([
      [0, 0, 400],
      [30, 0, 400],
    ])
    expect(beside(13).length).toBe(1)
  })
  test('along one axis they are one within the depth where the cone leaves the disc twice over', () => {
    // 2 · 10/0.28 = 71 mm.
    const behind = (d: number) =>
      places(search([...cone([0, 0, 400], 20), ...cone([0, 0, d], 15, 0.2, [0, 0, 1], { rays: 640 })]))
    const alone = [[0, 0, 400]]
    for (const d of [480, 320])
      expect(behind(d), `${d}`).toEqual([
        [0, 0, 400],
        [0, 0, d],
      ])
    for (const d of [462, 338]) expect(behind(d), `${d}`).toEqual(alone)
    // 40 mm apart one disc between them holds both.
    const both = search([...cone([0, 0, 400], 20), ...cone([0, 0, 440], 15)])
    expect(both.length).toBe(1)
    expectWithin(both[0]!.kWm2, onDisc(35), { rel: 1e-6, because })
  })
})

describe('no focus', () => {
  test('without light', () => expect(search([])).toEqual([]))
  test('a parallel pencil, as strong before and behind', () => {
    expect(search(pencil([10, 0, 0], 20))).toEqual([])
  })
  test('light that is whole in the disc at the front already', () => {
    // 25 mm before a focus a cone of slope 0.1 is 2.5 mm wide: 1 mm before the front all of it is in the disc. Slope 0.6 is 14 mm wide there.
    expect(search(cone([0, 0, 25], 20, 0.1))).toEqual([])
    expect(places(search(cone([0, 0, 25], 20, 0.6)))).toEqual([[0, 0, 25]])
  })
  test('light that runs apart', () => {
    const apart = cone([0, 0, -5], 20, 0.2)
    expect(search(apart)).toEqual([])
  })
  test('where a pencil through it holds nearly as much before and behind', () => {
    // A cone of 10 W about a pencil of P. 10/(√2 · spread) mm before and behind, the pencil alone is left: 10 + P against 1.25 P.
    const withPencil = (watts: number) =>
      places(
        search([
          ...cone([0, 0, 400], 10, 0.1, [0, 0, 1], { rays: 640 }),
          ...pencil([0, 0, 400], watts, [0, 0, 1], { rays: 1280 }),
        ]),
      )
    expect(withPencil(38)).toEqual([[0, 0, 400]])
    expect(withPencil(42)).toEqual([])
  })
  test('beside something hotter, at 1.3 of the disc that found it, in any direction', () => {
    // The even batches find it. Pencils of the odd ones alone: 11 W, 13 mm from a focus of 10 W; 30 W at 39 mm and 80 W at 117 mm, beside what
    // discs of 30 and 90 mm hold.
    for (const n of [unit([0.4, -0.3, 1]), unit([-0.5, 0.6, 1])]) {
      const [u, v] = axes(n)
      const focus: V3 = [40, -30, 500]
      const beside = (turn: number, nearest: number) => {
        const pencils = [
          [nearest, 22],
          [39, 60],
          [117, 160],
        ].flatMap(([radius, odd]) => {
          const [a, b] = [radius! * Math.cos(turn), radius! * Math.sin(turn)]
          const place = [0, 1, 2].map((k) => focus[k]! + a * u[k]! + b * v[k]!) as unknown as V3
          return pencil(place, 0, n, { odd: odd!, rays: 64 })
        })
        return search([...cone(focus, 10, 0.15, n), ...pencils])
      }
      const turns = n[0] > 0 ? [0.3, 1.5, 2.6, 3.8, 5.4] : [0.3, 2.6]
      for (const turn of turns) expect(places(beside(turn, 13)), `${n} ${turn}`).toEqual([])
      expect(places(beside(2, 25))).toEqual([[40, -30, 500]])
    }
  })
  test('where the ring about it holds four fifths of it on the mean', () => {
    // Eight pencils of the odd batches on the ring, together s times 8 · 10 W.
    const ring = (s: number) =>
      places(
        search([
          ...cone([0, 0, 400], 10, 0.2, [0, 0, 1], { rays: 640 }),
          ...Array.from({ length: 8 }, (_, k) => {
            const turn = (k * Math.PI) / 4
            return pencil([13 * Math.cos(turn), 13 * Math.sin(turn), 400], 0, [0, 0, 1], { odd: 20 * s, rays: 64 })
          }).flat(),
        ]),
      )
    expect(ring(0.7)).toEqual([[0, 0, 400]])
    expect(ring(0.85)).toEqual([])
  })
})

describe('a wide focus', () => {
  /** Even over a spot of this radius: 61 places, each the focus of a cone of its own. */
  const spot = (place: V3, radius: number, watts: number, slope: number): ListedRay[] => {
    const out: ListedRay[] = []
    const points: [number, number][] = [[0, 0]]
    for (let ring = 1; ring <= 4; ring++)
      for (let k = 0; k < 6 * ring; k++) {
        const turn = (2 * Math.PI * k) / (6 * ring)
        points.push([(ring / 4) * radius * Math.cos(turn), (ring / 4) * radius * Math.sin(turn)])
      }
    for (const [x, y] of points)
      out.push(...cone([place[0] + x, place[1] + y, place[2]], watts / points.length, slope, [0, 0, 1], { rays: 48 }))
    return out
  }
  test('of three discs is found as one', () => {
    const found = search(spot([20, -10, 400], 14, 60, 0.4), {}, 1e-4)
    expect(found.length).toBe(1)
    const [{ xMm, yMm, distanceMm, kWm2 }] = found as [(typeof found)[number]]
    expectWithin(Math.hypot(xMm - 20, yMm + 10), 0, { abs: 14, because: 'anywhere on it' })
    expectWithin(distanceMm, 400, { abs: 35, because: 'its flat top stays' })
    // Points 3.5 mm apart, 61 of them over 14 mm: from five to ten in a disc.
    expect(kWm2).toBeGreaterThan(onDisc((60 * 5) / 61))
    expect(kWm2).toBeLessThan(onDisc((60 * 10) / 61))
  })
  test('isn’t listed in the cone of a hotter focus', () => {
    // 400 mm beyond a focus of slope 0.1; its cone, half as wide again, is taken to be 99 mm wide there.
    const focus = cone([0, 0, 400], 30, 0.1, [0, 0, 1], { rays: 640 })
    const beyond = (x: number, watts: number) =>
      search([...focus, ...spot([x, 0, 800], 14, watts, 0.4)], {}, 1e-4).map((f) => Math.round(f.distanceMm / 100))
    expect(beyond(78, 60)).toEqual([4])
    expect(beyond(116, 60)).toEqual([4, 8])
    // A hotter one is: 400 W, of which a disc holds a tenth.
    expect(beyond(78, 400)).toEqual([8, 4])
  })
  test('of nine discs too, from a ninth of the rays', () => {
    const rays = spot([20, -10, 600], 40, 60, 0.4)
    const found = search(rays, { most: 8 }, 1e-4)
    expect(found.length).toBe(1)
    expectWithin(Math.hypot(found[0]!.xMm - 20, found[0]!.yMm + 10), 0, { abs: 42, because: 'anywhere on it' })
    // Of 300 rays a ninth are 33: not six standard deviations, √33. All 1464 of the even batches are.
    const one = 60 / rays.length
    expect(search(rays, { most: 8, lookRays: 300 }, one)).toEqual([])
    expect(search(rays, { most: 8 }, one).length).toBe(1)
  })
})

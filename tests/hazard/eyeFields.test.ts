import { describe, expect, test } from 'vitest'
import { findFullestField, type Seen, seeFrom, sharpPupilMm } from '../../src/hazard/eyeFields.ts'
import { expectWithin } from '../kit/expect.ts'
import { eyeRaysOf, type HandRay } from '../kit/leavingLight.ts'

const AWAY = 1000
const FIELD = 0.02
const PLACE = { xMm: 0, yMm: 0, zMm: AWAY }
const single = { abs: 2e-6, because: 'single precision' }

/** A ray whose start is seen at (u, v) rad from the place, small angles, and which passes (x, y) mm beside it. */
const ray = (u: number, v: number, over: Partial<HandRay> = {}, x = 0, y = 0): HandRay => ({
  ...{ at: [u * AWAY, v * AWAY, 0], towards: [x - u * AWAY, y - v * AWAY, AWAY] },
  ...over,
})
const see = (rays: readonly HandRay[], pupilMm = 3.5): Seen =>
  seeFrom(
    eyeRaysOf(rays),
    Uint32Array.from(rays, (_, i) => i),
    PLACE,
    pupilMm,
    1,
  )
/** Of both parities. */
const pair = (u: number, v: number, watts = 1): HandRay[] => [0, 1].map((batch) => ray(u, v, { watts, batch }))
const heldOf = (rays: readonly HandRay[]) => findFullestField(see(rays), FIELD).sort((a, b) => a - b)

describe('what is seen from a place', () => {
  test('as it was given, with the nearest start, retinal watts and the parity of batches', () => {
    const rays = [
      ray(0, 0, { thermal: 5, batch: 3 }),
      ray(0, 0, { at: [0, 0, 400], thermal: 6, batch: 4 }),
      ray(0, 0, { at: [0, 0, 100], thermal: 7, batch: 5 }),
    ]
    const index = Uint32Array.of(2, 1)
    const seen = seeFrom(eyeRaysOf(rays), index, PLACE, 9, 3)
    expect(seen).toMatchObject({ factor: 3, pupilMm: 9, nearestMm: 600 })
    expect(seen.index).toBe(index)
    expect([[...seen.watts], [...seen.half]]).toEqual([
      [7, 6],
      [1, 0],
    ])
    expect(see([]).nearestMm).toBe(Number.POSITIVE_INFINITY)
  })
  test('directions on a plane of equal areas: 2 sin(θ/2) from the middle, here 45° and 30°', () => {
    const [a, b] = [AWAY, AWAY * Math.tan(Math.PI / 6)]
    const rays = [
      [a, 0],
      [-a, 0],
      [0, b],
      [0, -b],
    ].map(([x, y]): HandRay => ({ at: [x!, y!, 0], towards: [-x!, -y!, AWAY] }))
    const [wide, narrow] = [2 * Math.sin(Math.PI / 8), 2 * Math.sin(Math.PI / 12)]
    // The first axis is y, the second x, for a lamp that is looked at along its axis.
    for (const depth of [0, 1, 2]) {
      const got = see(rays).towards(depth)
      for (const [k, want] of [0, wide, 0, -wide, narrow, 0, -narrow, 0].entries()) expectWithin(got[k]!, want, single)
    }
  })
  test('whichever way the light goes: middle, lengths and right angles stay', () => {
    const ahead = [2 / 7, 3 / 7, -6 / 7] as const
    const aside = [3 / Math.sqrt(13), -2 / Math.sqrt(13), 0] as const
    const cross = (p: readonly number[], q: readonly number[]) =>
      [0, 1, 2].map((k) => p[(k + 1) % 3]! * q[(k + 2) % 3]! - p[(k + 2) % 3]! * q[(k + 1) % 3]!)
    const other = cross(ahead, aside)
    const tan = Math.tan(0.4)
    for (const turn of [0, 1, 2]) {
      const way = (along: readonly number[], by: number) => {
        const to = [0, 1, 2].map((k) => ahead[k]! + by * along[k]!)
        return [0, 1, 2].map((k) => to[(k + turn) % 3]!)
      }
      const rays = [way(aside, tan), way(aside, -tan), way(other, tan), way(other, -tan)].map(
        ([x, y, z]): HandRay => ({
          at: [PLACE.xMm + 100 * x!, PLACE.yMm + 100 * y!, PLACE.zMm + 100 * z!],
          towards: [-x!, -y!, -z!],
        }),
      )
      const got = see(rays).towards(1)
      const at = (k: number) => [got[2 * k]!, got[2 * k + 1]!] as const
      for (let k = 0; k < 4; k++)
        expectWithin(Math.hypot(...at(k)), 2 * Math.sin(0.2), { abs: 1e-5, because: 'single' })
      for (const k of [0, 2]) {
        expectWithin(at(k)[0], -at(k + 1)[0], { abs: 1e-5, because: 'single' })
        expectWithin(at(k)[1], -at(k + 1)[1], { abs: 1e-5, because: 'single' })
      }
      expectWithin(at(0)[0] * at(2)[0] + at(0)[1] * at(2)[1], 0, { abs: 1e-5, because: 'single' })
    }
  })
  test('light straight along x has a frame of its own', () => {
    const rays: HandRay[] = [
      { at: [-AWAY, 0, AWAY], towards: [1, 0, 0] },
      { at: [-AWAY, 0, AWAY + 100], towards: [AWAY, 0, -100] },
      { at: [-AWAY, 0, AWAY - 100], towards: [AWAY, 0, 100] },
    ]
    const got = see(rays).towards(1)
    expectWithin(Math.hypot(got[0]!, got[1]!), 0, single)
    const angle = 2 * Math.sin(Math.atan(0.1) / 2)
    expectWithin(Math.hypot(got[2]!, got[3]!), angle, single)
    expectWithin(Math.hypot(got[2]! - got[4]!, got[3]! - got[5]!), 2 * angle, single)
  })
  test('the middle is the mean by retinal watts; of light without any, along the axis', () => {
    const got = see([ray(0.1, 0, { thermal: 3 }), ray(-0.1, 0, { thermal: 1 })]).towards(1)
    // Unit vectors at ±0.09967 rad, three to one: tan of the mean is 0.05.
    const mean = Math.atan(0.05)
    expectWithin(got[1]!, 2 * Math.sin((Math.atan(0.1) - mean) / 2), single)
    expectWithin(got[3]!, -2 * Math.sin((Math.atan(0.1) + mean) / 2), single)
    const dark = see([ray(0.1, 0, { thermal: 0 })]).towards(1)
    expectWithin(dark[1]!, 2 * Math.sin(Math.atan(0.1) / 2), single)
  })
  test('focused on a depth, a parallel ray 50 mm aside is seen that share of 50 mm aside', () => {
    const rays = [50, -50].flatMap((off): HandRay[] => [
      { at: [off, 0, 0], towards: [0, 0, 1] },
      { at: [0, off, 0], towards: [0, 0, 1] },
    ])
    for (const inverse of [0, 0.5, 1, 2]) {
      const got = see(rays).towards(inverse)
      const off = 2 * Math.sin(Math.atan((inverse * 50) / AWAY) / 2)
      for (const [k, want] of [0, off, off, 0, 0, -off, -off, 0].entries()) expectWithin(got[k]!, want, single)
    }
    const seen = see(rays)
    expect(seen.towards(0.5)).toBe(seen.towards(0.5))
  })
  test('a pupil may be as wide as two fields at the nearest start', () => {
    expect(sharpPupilMm(0.1, 300)).toBe(60)
  })
})

describe('the fullest field', () => {
  test('of two spots the stronger, both parities, wherever it is; of equal ones the first', () => {
    for (const [u, v] of [
      [0.06, 0.05],
      [-0.06, 0.05],
      [0.06, -0.05],
      [-0.06, -0.05],
    ] as const) {
      const [strong, weak] = [pair(u, v, 10), pair(-u, -v, 6)]
      expect(heldOf([...strong, ...weak])).toEqual([0, 1])
      expect(heldOf([...weak, ...strong])).toEqual([2, 3])
      expect(heldOf([...pair(u, v), ...pair(-u, -v)])).toEqual([0, 1])
    }
    expect(heldOf([])).toEqual([])
  })
  test('found with one parity, taken from the other', () => {
    const spot = (u: number, batch: number) => [0, 1, 2].map(() => ray(u, 0, { batch }))
    expect(heldOf([...spot(0.05, 0), ...spot(-0.05, 1)])).toEqual([])
    // Even batches find the spot at +, odd ones that at −; each then takes what the others have there.
    const mixed = [...spot(0.05, 0), ray(0.05, 0, { batch: 1 }), ...spot(-0.05, 1), ray(-0.05, 0, { batch: 2 })]
    expect(findFullestField(see(mixed), FIELD)).toEqual([7, 3])
  })
  test('what is taken doesn’t pull the field towards itself', () => {
    const far = 0.6 * FIELD
    const odd = [0, 1, 2].map(() => ray(0, 0, { batch: 1 }))
    const even = [ray(far, 0, { batch: 0, watts: 2 }), ray(-far, 0, { batch: 0, watts: 2 })]
    expect(heldOf([...odd, ...even])).toEqual([])
  })
  test('round: half a field from its middle and no farther, on every side', () => {
    for (const turn of [0, 0.5, 1, 2, 3, 4, 5]) {
      const at = (r: number) => {
        const [u, v] = [r * FIELD * Math.cos(turn), r * FIELD * Math.sin(turn)]
        return [...pair(u, v, 0.001), ...pair(-u, -v, 0.001)]
      }
      const middle = pair(0, 0, 100)
      expect(heldOf([...middle, ...at(0.49)])).toEqual([0, 1, 2, 3, 4, 5])
      expect(heldOf([...middle, ...at(0.51)])).toEqual([0, 1])
    }
  })
  test('a spot in the corner of a cell, with some light in the cell’s middle, is not missed', () => {
    const cell = (FIELD * Math.sqrt(Math.PI)) / 2
    // The third lies far off and brings the mean, where the grid begins, back to 0: 0.034 · 5 = 0.02 + 0.3 · 0.5.
    for (const [sx, sy] of [
      [1, 1],
      [-1, 1],
      [1, -1],
      [-1, -1],
    ] as const) {
      const at = (share: number, watts: number) => pair(sx * share * cell, sy * share * cell, watts)
      expect(heldOf([...at(0.02, 1), ...at(0.5, 0.3), ...at(-5, 0.034)])).toEqual([0, 1, 2, 3])
      // Spots beside the cell, each weaker than it, don't pull the field off: 0.215 · 10 = 0.02 + 0.15 + 0.9 · (1.7 + 0.5).
      const beside = (u: number, v: number) => pair(sx * u * cell, sy * v * cell, 0.9)
      const crowd = [...at(0.02, 1), ...at(0.5, 0.3), ...beside(1.7, 0.5), ...beside(0.5, 1.7), ...at(-10, 0.215)]
      expect(heldOf(crowd)).toEqual([0, 1, 2, 3])
    }
  })
  test('a disc that nearly fills the field is held as a whole, however it lies to the cells', () => {
    const points = Array.from({ length: 21 * 21 }, (_, i) => [(i % 21) - 10, Math.floor(i / 21) - 10] as const).filter(
      ([x, y]) => Math.hypot(x, y) <= 10,
    )
    const step = (0.47 * FIELD) / 10
    for (const [du, dv] of [
      [0, 0],
      [5.2, 5.2],
      [3, -7],
      [-9, 4],
    ] as const) {
      const disc = points.flatMap(([x, y]) => pair((x + du) * step, (y + dv) * step))
      const weight = disc.length / 2
      // Far off, to bring the mean back to 0.
      const other = pair(-10 * du * step, -10 * dv * step, weight / 10)
      const held = heldOf([...disc, ...other])
      expect(held.length).toBeGreaterThan(0.98 * disc.length)
    }
  })
})

describe('depths that the eye is focused on', () => {
  /**
   * Two spots 0.8 fields apart, each through both sides of a pupil of `inFields` fields, sharp at one inverse depth: a field holds all
   * of them there. A quarter of a field of blur leaves it half.
   */
  const shareAt = (inFields: number, sharpAt: number) => {
    const rays = [0, 1].flatMap((batch) =>
      [-1, 1].flatMap((side) =>
        [-0.4, 0.4].map((u): HandRay => {
          const off = side * inFields * FIELD * AWAY
          const slope = -(u - sharpAt * side * inFields) * FIELD
          return { at: [off - slope * AWAY, 0, 0], towards: [slope, 0, 1], batch }
        }),
      ),
    )
    const seen = see(rays)
    const exactly = { ...seen, pupilMm: inFields * (FIELD * seen.nearestMm) }
    return findFullestField(exactly, FIELD).length / rays.length
  }
  test('up to a quarter of a field: on the starts alone', () => {
    expect([shareAt(0.25, 1), shareAt(0.25, 0)]).toEqual([1, 0.5])
    expect(shareAt(0.2501, 0)).toBe(1)
  })
  test('up to half a field: on the starts, at infinity, at half the way', () => {
    expect([shareAt(0.5, 1), shareAt(0.5, 0), shareAt(0.5, 2), shareAt(0.5, 0.5)]).toEqual([1, 1, 1, 0.5])
    expect(shareAt(0.5001, 0.5)).toBe(1)
  })
  test('where several depths are as full, the starts’ own', () => {
    // Four corners that spread with the depth: ±0.18, ±0.3 and ±0.42 fields at 0, 1 and 2. A square holds all of these, the round field not the last.
    const rays = [0, 1].flatMap((batch) =>
      [-1, 1].flatMap((sx) =>
        [-1, 1].map((sy): HandRay => {
          const [ox, oy] = [sx * 0.12 * FIELD * AWAY, sy * 0.12 * FIELD * AWAY]
          const [slopeX, slopeY] = [-sx * 0.18 * FIELD, -sy * 0.18 * FIELD]
          return { at: [ox - slopeX * AWAY, oy - slopeY * AWAY, 0], towards: [slopeX, slopeY, 1], batch }
        }),
      ),
    )
    const seen = see(rays)
    expect(findFullestField({ ...seen, pupilMm: 0.5 * FIELD * seen.nearestMm }, FIELD).length).toBe(8)
  })
  test('up to one field: five depths', () => {
    expect([0, 0.5, 1, 1.5, 2].map((q) => shareAt(1, q))).toEqual([1, 1, 1, 1, 1])
    expect(shareAt(1, 0.75)).toBe(0.5)
    expect(shareAt(1.0001, 0.75)).toBe(1)
  })
  test('up to two fields: nine depths; through a wider pupil the starts alone', () => {
    expect([0, 0.25, 0.5, 0.75, 1, 1.25, 1.5, 1.75, 2].map((q) => shareAt(2, q))).toEqual(new Array(9).fill(1))
    expect(shareAt(2.0001, 1)).toBe(1)
    expect(shareAt(2.0001, 0.25)).toBeLessThan(0.6)
  })
})

// Exit rays carried to a plane, by geometry.
import { describe, expect, test } from 'vitest'
import { rayColumns, sampleSum } from '../../src/run/exits.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { expectWithin } from '../kit/expect.ts'
import { exitRays, filledRun, smallShape } from '../kit/handRun.ts'

const float32 = { rel: 1e-6, because: 'single precision' }
const shape = smallShape()
const layout = tallyLayout(shape)
const empty = () => filledRun(shape, () => {})

/** Two rays towards the target and one into the lamp; slopes of ¾. */
const three = () => {
  const run = empty()
  run.exits = exitRays(
    [
      [1, 2, 3, 0.6, 0, 0.8, 0.5, 150],
      [5, 6, 3, 0.6, 0, -0.8, 1, 300],
      [1, 2, 7, 0, -0.6, 0.8, 0.25, 30],
    ],
    8,
  )
  return run
}

describe('rays as columns', () => {
  test('positions, slopes, batches: towards the target', () => {
    const rays = rayColumns(three(), 11)
    expect([rays.count, rays.zMm]).toEqual([2, 11])
    // 8 mm on with a slope of 0.75; 4 mm on with −0.75 along y.
    const [first, second] = [0, 1].map((i) => [rays.xMm[i]!, rays.yMm[i]!, rays.slopeX[i]!, rays.slopeY[i]!])
    for (const [i, v] of [7, 2, 0.75, 0].entries()) expectWithin(first![i]!, v, float32)
    for (const [i, v] of [1, -1, 0, -0.75].entries()) expectWithin(second![i]!, v, float32)
    expect([...rays.batch.slice(0, 2)]).toEqual([0, 2])
  })
  test('into the lamp: against +z a slope is dx/dz all the same', () => {
    const rays = rayColumns(three(), 1, -1)
    expect(rays.count).toBe(1)
    // From z = 3 to z = 1 the ray goes on by 1.5 in x.
    expectWithin(rays.slopeX[0]!, -0.75, float32)
    expectWithin(rays.xMm[0]!, 6.5, float32)
    expectWithin(rays.yMm[0]!, 6, float32)
    expect(rays.batch[0]).toBe(1)
  })
  test('watts and lumens of a ray', () => {
    const rays = rayColumns(three(), 0)
    // 16 W of 8 rays; 4800 lm, of which a ray of luminous weight 300 is an eighth.
    expect(rays.wattsOfOne).toBe(2)
    expect([...rays.watts.slice(0, 2)]).toEqual([1, 0.5])
    expectWithin(rays.lumens[0]!, 300, float32)
    expectWithin(rays.lumens[1]!, 60, float32)
  })
  test('the luminous unit follows the mean weight of all batches', () => {
    const run = three()
    for (const [b, t] of run.tallies.entries()) t[layout.emitted + 1] = b < 8 ? 100 : 300
    // Mean luminous weight 200: a ray of 150 carries 150/200 of 4800 lm / 8.
    expectWithin(rayColumns(run, 0).lumens[0]!, 450, float32)
  })
  test('along the plane there is no crossing; none started or no lumens emitted: zero, not infinity', () => {
    const flat = empty()
    flat.exits = exitRays(
      [
        [0, 0, 0, 1, 0, 5e-7, 1, 300],
        [0, 0, 0, 1, 0, 2e-6, 1, 300],
      ],
      2,
    )
    expect(rayColumns(flat, 0).count).toBe(1)
    const none = three()
    none.exits.fromRays = 0
    const rays = rayColumns(none, 0)
    expect([rays.wattsOfOne, rays.watts[0], rays.lumens[0]]).toEqual([0, 0, 0])
    const dark = three()
    for (const t of dark.tallies) t[layout.emitted + 1] = 0
    expect(rayColumns(dark, 0).lumens[0]).toBe(0)
  })
  test('the last set is cached: the same exit rays, plane and sense', () => {
    const run = three()
    const cached = rayColumns(run, 11)
    expect(rayColumns(run, 11)).toBe(cached)
    expect(rayColumns(run, 11, 1)).toBe(cached)
    expect(rayColumns(run, 12).zMm).toBe(12)
    expect(rayColumns(run, 12, -1).count).toBe(1)
    expect(rayColumns(run, 12).count).toBe(2)
    run.exits = exitRays([[0, 0, 0, 0, 0, 1, 1, 300]], 8)
    expect(rayColumns(run, 12).count).toBe(1)
  })
})

test('sum of a sample and its error: √(16/15 Σ (s − s̄)²)', () => {
  // 0 … 15: sum 120, squares about 7.5 are 340.
  const { value, se } = sampleSum(Array.from({ length: 16 }, (_, i) => i))
  expect(value).toBe(120)
  expectWithin(se, Math.sqrt((340 * 16) / 15), { ulps: 2 })
})

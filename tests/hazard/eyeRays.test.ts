import { describe, expect, test } from 'vitest'
import { type EyeRays, leakedLightOf, leavingLightOf, thinned, weighRays } from '../../src/hazard/eyeRays.ts'
import { LEAKED_SEGMENT, makeSegments, RETURNED_SEGMENT } from '../../src/run/segments.ts'
import { expectWithin } from '../kit/expect.ts'
import { exitRays, filledRun, smallShape } from '../kit/handRun.ts'
import { drawnLight } from '../kit/leavingLight.ts'

const single = { rel: 1e-6, because: 'single precision' }

describe('light that leaves', () => {
  test('exit rays as they left; a unit of weight is worth emittedW / fromRays', () => {
    const run = filledRun(smallShape(), () => {}, { emittedLm: 3000 })
    run.exits = exitRays(
      [
        [1, 2, 3, 0, 0.6, 0.8, 0.5, 150],
        [4, 5, 6, -1, 0, 0, 1, 300],
      ],
      4,
    )
    const light = leavingLightOf(run)
    expect(light).toMatchObject({ count: 2 })
    expect([...(light.watts as Float32Array)]).toEqual([1.25, 2.5])
    const rays = weighRays([light])
    expect([rays.xMm[1], rays.yMm[1], rays.zMm[1], rays.dx[1], rays.dz[1]]).toEqual([4, 5, 6, -1, 0])
    expectWithin(rays.dy[0]!, 0.6, single)
    expect([...rays.batch]).toEqual([0, 1])
  })
  test('no exit rays kept: an empty set', () => {
    const run = filledRun(smallShape(), () => {})
    expect(weighRays([leavingLightOf(run)]).count).toBe(0)
  })
  test('several sets become one, each with its own weights: 450 nm has B 0.94, R 9.4, V 0.038 (rows 4.55, 4.56; CIE 1924)', () => {
    const one = (nm: number, watts: number) =>
      drawnLight({ rays: 1, watts, nm, draw: () => ({ at: [0, 0, 0], towards: [0, 0, -2] }) })
    const rays = weighRays([one(450, 2), one(555, 3), one(1500, 1)])
    expect(rays.count).toBe(3)
    expect(rays.dz[0]).toBe(-1)
    expectWithin(rays.blue[0]!, 2 * 0.94, single)
    expectWithin(rays.thermal[0]!, 2 * 9.4, single)
    expectWithin(rays.lumens[0]!, 2 * 683.002 * 0.038, single)
    expectWithin(rays.lumens[1]!, 3 * 683.002, single)
    expectWithin(rays.thermal[1]!, 3, single)
    expect([rays.watts[2], rays.blue[2], rays.thermal[2], rays.lumens[2]]).toEqual([1, 0, 0, 0])
  })
  test('every third of many rays, all batches alike, worth as much together; few rays stay', () => {
    const many = weighRays([
      drawnLight({ rays: 140_000, watts: 7, nm: 450, draw: (u) => ({ at: [u(), 0, 0], towards: [0, 0, 1] }) }),
    ])
    const third = thinned(many)
    expect(third.count).toBe(46_667)
    expect([third.xMm[1], third.dz[1]]).toEqual([many.xMm[3], 1])
    const sum = (of: Float32Array) => of.reduce((a, b) => a + b, 0)
    for (const key of ['watts', 'blue', 'thermal', 'lumens'] as const)
      expectWithin(sum(third[key]), sum(many[key]), { rel: 1e-3, because: 'single precision, summed' })
    const perBatch = new Array<number>(16).fill(0)
    for (const b of third.batch) perBatch[b]!++
    expect(Math.max(...perBatch) - Math.min(...perBatch)).toBeLessThanOrEqual(1)
    const few = weighRays([drawnLight({ rays: 20, watts: 1, draw: () => ({ at: [0, 0, 0], towards: [0, 0, 1] }) })])
    expect(thinned(few)).toBe(few)
  })
  test('of the segments in air those that leak and go on into the open', () => {
    const segments = makeSegments(5, 1)
    segments.lengthMm.set([10, Infinity, Infinity, Infinity, Infinity])
    segments.flags.set([LEAKED_SEGMENT, LEAKED_SEGMENT, LEAKED_SEGMENT | RETURNED_SEGMENT, RETURNED_SEGMENT, 0])
    segments.xMm.set([1, 2, 3, 4, 5])
    segments.dz.set([1, -1, 1, 1, 1])
    segments.watts.set([5, 6, 7, 8, 9])
    segments.wavelengthNm.set([500, 510, 520, 530, 540])
    segments.batch.set([0, 1, 2, 3, 4])
    const light = leakedLightOf(segments)
    expect(light.count).toBe(2)
    expect(Array.from(light.xMm)).toEqual([2, 3])
    expect(Array.from(light.dz)).toEqual([-1, 1])
    expect(Array.from(light.watts)).toEqual([6, 7])
    expect(Array.from(light.wavelengthNm)).toEqual([510, 520])
    expect(Array.from(light.batch)).toEqual([1, 2])
  })
  test('every column of the exits, the wavelength too', () => {
    const run = filledRun(smallShape(), () => {})
    run.exits = exitRays(
      [
        [1, 2, 3, 0, 0.5, 0.25, 1, 300],
        [4, 5, 6, -1, 0.125, 0.75, 2, 300],
      ],
      8,
    )
    run.exits.data[17] = 450
    const light = leavingLightOf(run)
    const rows = (['xMm', 'yMm', 'zMm', 'dx', 'dy', 'dz', 'watts', 'wavelengthNm', 'batch'] as const).map((key) => [
      ...(light[key] as Float32Array),
    ])
    // 16 W over 8 rays.
    expect(rows).toEqual([
      [1, 4],
      [2, 5],
      [3, 6],
      [0, -1],
      [0.5, 0.125],
      [0.25, 0.75],
      [2, 4],
      [555, 450],
      [0, 1],
    ])
  })
  test('the weights reach to 1400 nm: R is 0.02 there (row 4.55), taken at the nearest whole nanometre', () => {
    const one = (nm: number) =>
      drawnLight({ rays: 1, watts: 1, nm, draw: () => ({ at: [0, 0, 0], towards: [0, 0, 1] }) })
    const rays = weighRays([one(1400), one(1400.4), one(1400.6), one(449.6)])
    for (const [k, r] of [0.02, 0.02, 0, 9.4].entries())
      expectWithin(rays.thermal[k]!, r, { abs: 1e-6, because: 'single' })
  })
  test('131,072 rays stay, of one more every third is taken', () => {
    const of = (count: number): EyeRays => {
      const column = () => Float32Array.from({ length: count }, (_, i) => i)
      return {
        ...{ count, xMm: column(), yMm: column(), zMm: column(), dx: column(), dy: column(), dz: column() },
        ...{ watts: column(), blue: column(), thermal: column(), lumens: column() },
        batch: Uint8Array.from({ length: count }, (_, i) => i % 16),
      }
    }
    const rays = of(1 << 17)
    expect(thinned(rays)).toBe(rays)
    const third = thinned(of((1 << 17) + 1))
    expect(third.count).toBe(43_691)
    const worth = 131_073 / 43_691
    for (const key of ['xMm', 'yMm', 'zMm', 'dx', 'dy', 'dz'] as const) expect(third[key][5]).toBe(15)
    for (const key of ['watts', 'blue', 'thermal', 'lumens'] as const)
      expectWithin(third[key][5]!, 15 * worth, { rel: 1e-6, because: 'single precision' })
    expect(third.batch[5]).toBe(15)
    expect(third.batch[6]).toBe(2)
    expect(third.xMm.length).toBe(43_691)
  })
  test('of the leaked segments every column', () => {
    const segments = makeSegments(1, 1)
    segments.lengthMm[0] = Infinity
    segments.flags[0] = LEAKED_SEGMENT
    const keys = ['xMm', 'yMm', 'zMm', 'dx', 'dy', 'dz', 'watts', 'wavelengthNm', 'batch'] as const
    for (const [k, key] of keys.entries()) segments[key][0] = k + 1
    const light = leakedLightOf(segments)
    expect(keys.map((key) => light[key][0])).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9])
    expect(leakedLightOf(makeSegments(0, 1)).count).toBe(0)
  })
})

// Whether two figures differ, worked out by hand; and on lamps whose answer is known.
import { describe, expect, test } from 'vitest'
import { traceColumnLight } from '../../../src/job/compare/column.ts'
import { differenceOf, figureDifference, pairsSay } from '../../../src/job/compare/difference.ts'
import { benchCheck } from '../../../src/library/demos.ts'
import { lampWith } from '../../kit/lampWith.ts'

describe('by hand', () => {
  // √(3² + 4²) = 5; ± = 2.131 × 5 = 10.655 (Student's t of 15 degrees of freedom, two-sided 95 %, standard table).
  test('errors 3 and 4 join to ± 10.655: 110 and 121 differ, 110 and 120 don’t', () => {
    const a = { value: 110, se: 3 }
    const apart = differenceOf(a, { value: 121, se: 4 }, null)
    expect(apart).toMatchObject({ value: 11, by: 'joined', differs: true })
    expect(apart.pm).toBeCloseTo(10.655, 9)
    expect(differenceOf(a, { value: 120, se: 4 }, null).differs).toBe(false)
  })

  // 2.365 × 0.4 × 5 = 4.73 (t of 7 degrees of freedom, the same table).
  test('pairs that narrow it to 0.4 of that: ± 4.73', () => {
    const d = differenceOf({ value: 110, se: 3 }, { value: 115, se: 4 }, { narrowing: 0.4, mean: 5.5 })
    expect(d).toMatchObject({ by: 'pairs', differs: true })
    expect(d.pm).toBeCloseTo(4.73, 9)
  })

  test('what is the same in every pair to the last bits is the same', () => {
    const d = differenceOf({ value: 100, se: 3 }, { value: 100 + 1e-12, se: 3 }, { narrowing: 1e-13, mean: 0 })
    expect(d).toEqual({ value: 0, pm: 0, by: 'pairs', differs: false })
  })

  // A crossing that lies on the edge of a bin jumps in one trace of ten: eight pairs may all show 0, and that is not certainty.
  test('pairs that all differ by 0 don’t mark a jump of the whole traces; pairs that show the same jump do', () => {
    const [a, b] = [
      { value: 100, se: 0.1 },
      { value: 100.04, se: 0.1 },
    ]
    expect(differenceOf(a, b, { narrowing: 0, mean: 0 })).toMatchObject({ differs: false, by: 'pairs' })
    expect(differenceOf(a, b, { narrowing: 0, mean: 0.04 }).differs).toBe(true)
  })

  test('without noise only the values count, and rounding is no difference', () => {
    expect(differenceOf({ value: 0.1 + 0.2, se: 0 }, { value: 0.3, se: 0 }, null).differs).toBe(false)
    expect(differenceOf({ value: 100, se: 0 }, { value: 101, se: 0 }, null)).toMatchObject({
      by: 'exact',
      pm: 0,
      differs: true,
    })
  })

  // a: ±1 about 10, s² = 8/7. b = 1.2 a, s² = 1.44 × 8/7, b − a: 0.04 × 8/7. Share: √(0.04 / 2.44).
  test('pairs: b is always 1.2 a, so the difference scatters by √(0.04/2.44) of what it would', () => {
    const of = (times: number, signs: readonly number[]) => signs.map((s) => ({ value: times * (10 + s), se: 1 }))
    const signs = [1, -1, 1, -1, 1, -1, 1, -1]
    expect(pairsSay(of(1, signs), of(1.2, signs))?.narrowing).toBeCloseTo(Math.sqrt(0.04 / 2.44), 9)
    // Their mean difference: 12 − 10.
    expect(pairsSay(of(1, signs), of(1.2, signs))?.mean).toBeCloseTo(2, 9)
    // Nothing in common: cov = 0, share 1, and so none; nor from seven pairs, nor where nothing scatters.
    expect(pairsSay(of(1, signs), of(1, [1, 1, -1, -1, 1, 1, -1, -1]))).toBeNull()
    expect(pairsSay(of(1, signs.slice(1)), of(1, signs.slice(1)))).toBeNull()
    expect(pairsSay(of(1, Array(8).fill(1)), of(1, Array(8).fill(1)))).toBeNull()
  })
})

describe('of lamps', () => {
  test('alike: nothing differs; 1 % less current: every lumen follows, the angle of the beam does not', async () => {
    const lamp = benchCheck()
    const boards = lamp.boards.map((b) => ({ ...b, currentA: 0.99 * b.currentA }))
    const options = { seed: 5, rays: 1024 }
    const light = await traceColumnLight(lamp, options)
    const dimmer = await traceColumnLight(lampWith({ boards }, lamp), options)
    for (const name of Object.keys(light.figures) as (keyof typeof light.figures)[]) {
      const same = figureDifference(light, light, name)
      expect([same?.value, same?.differs], name).toEqual([0, false])
    }
    const lux = figureDifference(light, dimmer, 'targetMeanLx')
    expect(lux).toMatchObject({ by: 'pairs', differs: true })
    // Optics are linear: every lux follows the lumens that are emitted.
    const emitted = (dimmer.figures.emittedLm?.value ?? 0) / (light.figures.emittedLm?.value ?? 0)
    expect(lux?.value).toBeCloseTo((emitted - 1) * (light.figures.targetMeanLx?.value ?? 0), 6)
    // The joined ± of so few rays can't tell them apart; the same random numbers can.
    const both = Math.hypot(light.figures.targetMeanLx?.se ?? 0, dimmer.figures.targetMeanLx?.se ?? 0)
    expect(Math.abs(lux?.value ?? 0)).toBeLessThan(2.131 * both)
    expect(figureDifference(light, dimmer, 'beamAngleDeg')?.differs).toBe(false)
    // Of a hazard never the narrower ±.
    expect(figureDifference(light, dimmer, 'hot.lens')?.by).toBe('joined')
  })
})

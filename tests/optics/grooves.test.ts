import assert from 'node:assert/strict'
import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../src/num/rng.ts'
import { seedStream } from '../../src/optics/draws.ts'
import * as P from '../../src/optics/params.ts'
import { DX, ENDS_AT_LIMIT, ENDS_AT_RIM, LEAVES_FLAT, LEAVES_WORKED, X } from '../../src/optics/records.ts'
import { slopeToSource, slopeToTarget } from '../../src/optics/slopes.ts'
import { amount } from '../kit/amount.ts'
import { expectWithin, seeds } from '../kit/expect.ts'
import { type Grooves, grooveTables, type LensTables, pass, rayAt, type Vec } from '../kit/lensBench.ts'
import { slowGrooves } from '../kit/slowGrooves.ts'

const N = 1.49
const RAYS = 400

/** Twelve coarse rings, f/0.8 at the rim. */
function coarse(grooves: 'target' | 'source', over: Partial<Grooves> = {}): LensTables {
  const pitch = 4
  return grooveTables({
    halfMm: 48,
    thicknessMm: 3,
    pitchMm: pitch,
    slopes: Array.from({ length: 12 }, (_, k) =>
      grooves === 'target' ? slopeToTarget((k + 0.5) * pitch, 75, 3, N) : slopeToSource((k + 0.5) * pitch, 75, N),
    ),
    ...over,
  })
}

/** A ray that meets the flat side, or the plane of the tips, within the aperture; half of them as from the lamp, half from anywhere. */
function randomRay(random: () => number, lens: LensTables, fromGrooves: boolean): Float64Array {
  const r = (lens.p[P.lensHalf]! - 0.1) * Math.sqrt(random())
  const phi = 2 * Math.PI * random()
  const x = r * Math.cos(phi)
  const y = r * Math.sin(phi)
  const sign = fromGrooves ? -1 : 1
  const z = fromGrooves ? lens.p[P.lensLayer]! : -lens.p[P.lensThickness]!
  const lamp = random() < 0.5
  const cos = lamp ? 0 : Math.sqrt(random())
  const sin = Math.sqrt(1 - cos * cos)
  const turn = 2 * Math.PI * random()
  const towards: Vec = lamp
    ? [x + 20 * (random() - 0.5), y + 20 * (random() - 0.5), 75 * sign]
    : [sin * Math.cos(turn), sin * Math.sin(turn), cos * sign]
  return rayAt([x, y, z], towards, N)
}

const CASES = (['target', 'source'] as const).flatMap((grooves) =>
  [0, 4].flatMap((draftDeg) =>
    [0, 0.1].flatMap((tipShare) => [0, 3].map((rest) => ({ grooves, draftDeg, tipShare, rest }))),
  ),
)

describe.each(CASES)(
  'grooves to the $grooves, draft $draftDeg°, tips $tipShare, flat rest $rest mm',
  ({ grooves, draftDeg, tipShare, rest }) => {
    const lens = coarse(grooves, {
      draftRad: (draftDeg * Math.PI) / 180,
      tipShare,
      absorption: 0.02,
      halfMm: 48 + rest,
    })

    test.each(seeds(amount(3, 12)))('every ray walks as in the slow walker, seed %i', (seed) => {
      const random = seededRandom(seed * 101)
      const ends = new Map<number, number>()
      for (let i = 0; i < RAYS; i++) {
        const fromGrooves = random() < 0.5
        const ray = randomRay(random, lens, fromGrooves)
        const start = { at: [...ray.subarray(X, X + 3)], towards: [...ray.subarray(DX, DX + 3)] }
        const stream = new Int32Array(3)
        seedStream(stream, seed, 0, i)
        const slow = slowGrooves(
          lens,
          { at: start.at as [number, number, number], towards: start.towards as [number, number, number], index: N },
          stream,
          fromGrooves,
        )
        const fast = pass(lens, ray, fromGrooves, seed, i)
        const which = `ray ${i}: ${fromGrooves ? 'from the grooves' : 'from the flat side'} at ${start.at}, towards ${start.towards}`
        assert.equal(fast.outcome, slow.outcome, which)
        assert.equal(fast.riser, slow.riser, which)
        for (const k of [0, 1, 2] as const) {
          // At the rim the walker stands on the plane that it found itself outside of; only the place across matters.
          if (k < 2 || fast.outcome !== ENDS_AT_RIM)
            expectWithin(fast.at[k], slow.at[k], { abs: 1e-6, because: 'rounding over some tens of crossings' })
          expectWithin(fast.towards[k], slow.towards[k], { abs: 1e-6, because: 'rounding over some tens of crossings' })
        }
        expectWithin(fast.pathMm, slow.pathMm, { abs: 1e-6, because: 'rounding over some tens of crossings' })
        ends.set(fast.outcome, (ends.get(fast.outcome) ?? 0) + 1)
      }
      expect(ends.get(ENDS_AT_LIMIT) ?? 0).toBe(0)
      for (const outcome of [LEAVES_WORKED, LEAVES_FLAT, ENDS_AT_RIM]) expect(ends.get(outcome) ?? 0).toBeGreaterThan(0)
    })
  },
)

describe('every ray gets out of the grooves', () => {
  test.each(seeds(amount(3, 10)))('fine rings, single precision, seed %i', (seed) => {
    const random = seededRandom(seed)
    const pitch = 0.3
    const toTarget = seed % 2 === 0
    const made = grooveTables({
      halfMm: 60,
      thicknessMm: 2,
      pitchMm: pitch,
      draftRad: seed % 3 === 0 ? 0 : 0.05,
      slopes: Array.from({ length: 200 }, (_, k) =>
        toTarget ? slopeToTarget((k + 0.5) * pitch, 70, 2, N) : slopeToSource((k + 0.5) * pitch, 70, N),
      ),
    })
    const lens = { p: Float32Array.from(made.p), rings: Float32Array.from(made.rings) }
    let trapped = 0
    for (let i = 0; i < 5000; i++) {
      const fromGrooves = random() < 0.5
      const out = pass(lens, randomRay(random, lens, fromGrooves), fromGrooves, seed, i)
      if (out.outcome === ENDS_AT_LIMIT) trapped++
      else assert.ok([LEAVES_WORKED, LEAVES_FLAT, ENDS_AT_RIM].includes(out.outcome), `ends by ${out.outcome}`)
      expectWithin(Math.hypot(...out.towards), 1, {
        abs: 1e-6,
        because: 'normals of single precision: each reflection may stretch by 1e-7',
      })
      if (out.outcome === LEAVES_FLAT) assert.ok(out.towards[2] < 0)
      assert.equal(out.weight, 1) // no absorption here
    }
    // Total reflection can hold light between teeth and flat side for ever: one ray in some 50,000 of these wide directions.
    expect(trapped).toBeLessThanOrEqual(1)
  })
})

test('absorption: exp(−a · path), the path being that in the glass', () => {
  const clear = coarse('target', { absorption: 0.001 })
  const dim = coarse('target', { absorption: 0.05 })
  const random = seededRandom(5)
  for (let i = 0; i < 500; i++) {
    const ray = randomRay(random, clear, false)
    const a = pass(clear, ray.slice(), false, 1, i)
    const b = pass(dim, ray, false, 1, i)
    expect(b.at).toEqual(a.at)
    expect(b.weight).toBeLessThanOrEqual(a.weight)
    expectWithin(b.pathMm, a.pathMm, {
      abs: 1e-5,
      because: 'the short series for the exponential, 3e-9, over 0.001 /mm; and a logarithm',
    })
  }
})

test('beyond the last whole ring the lens is flat: light passes straight', () => {
  const lens = coarse('target', { halfMm: 50 })
  for (let i = 0; i < 200; i++) {
    const out = pass(lens, rayAt([49, 0.5, -3], [0, 0, 1], N), false, 2, i)
    expect(Math.abs(out.towards[2])).toBe(1)
    expect(out.at[2]).toBe(out.outcome === LEAVES_WORKED ? lens.p[P.lensLayer] : -3)
  }
})

test('a square aperture ends at its sides, not at a circle', () => {
  const lens = coarse('target', { halfMm: 30, square: true })
  // Inside the glass towards a corner, and out over a side.
  const corner = pass(lens, rayAt([28, 28, -3], [0, 0, 1], N), false, 4, 1)
  expect(corner.outcome).not.toBe(ENDS_AT_RIM)
  let rims = 0
  for (let i = 0; i < 50; i++) {
    const out = pass(lens, rayAt([29.5, 0, -3], [0.9, 0, 0.435], N), false, 4, i)
    if (out.outcome === ENDS_AT_RIM) rims++
  }
  expect(rims).toBeGreaterThan(30)
})

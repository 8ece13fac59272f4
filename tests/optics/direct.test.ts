import assert from 'node:assert/strict'
import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../src/num/rng.ts'
import { passDirect } from '../../src/optics/direct.ts'
import { seedStream } from '../../src/optics/draws.ts'
import { passFresnel } from '../../src/optics/grooves.ts'
import { LEAVES_WORKED } from '../../src/optics/records.ts'
import { slopeToTarget } from '../../src/optics/slopes.ts'
import { amount } from '../kit/amount.ts'
import { seeds } from '../kit/expect.ts'
import { grooveTables, rayAt } from '../kit/lensBench.ts'

describe.each([0, 0.05, 0.3])('draft %f rad', (draftRad) => {
  test.each(seeds(amount(2, 6)))(
    'the short way gives the full walk’s bits, or leaves all as it was; seed %i',
    (seed) => {
      const random = seededRandom(seed)
      const pitch = seed % 2 ? 0.4 : 6
      const tables = grooveTables({
        halfMm: 60,
        thicknessMm: 3,
        pitchMm: pitch,
        draftRad,
        absorption: 0.004,
        square: seed % 3 === 0,
        slopes: Array.from({ length: Math.floor(60 / pitch) }, (_, k) => slopeToTarget((k + 0.5) * pitch, 80, 3, 1.49)),
      })
      const p = Float32Array.from(tables.p)
      const rings = Float32Array.from(tables.rings)
      let taken = 0
      const n = 4000
      for (let i = 0; i < n; i++) {
        const r = 62 * Math.sqrt(random())
        const phi = 2 * Math.PI * random()
        const [x, y] = [r * Math.cos(phi), r * Math.sin(phi)]
        const spread = random() < 0.7 ? 30 : 400
        const ray = rayAt([x, y, -3], [x + spread * (random() - 0.5), y + spread * (random() - 0.5), 80], 1.49)
        const full = ray.slice()
        const before = ray.slice()
        const stream = new Int32Array(3)
        seedStream(stream, seed, 0, i)
        const begun = stream.slice()
        const went = passDirect(ray, stream, p, rings)
        if (!went) {
          assert.deepEqual(ray, before)
          assert.deepEqual(stream, begun)
          continue
        }
        taken++
        const outcome = passFresnel(full, begun, p, rings, false)
        assert.equal(outcome, LEAVES_WORKED)
        assert.deepEqual(stream, begun)
        assert.deepEqual(ray, full)
      }
      expect(taken).toBeGreaterThan(0.4 * n)
    },
  )
})
